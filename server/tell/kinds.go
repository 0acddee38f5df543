package tell

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/words"
)

// Kinds gives kinds of findings or of work their titles.
func (t *Teller) Kinds(rows []*pb.KindRow) {
	for _, r := range rows {
		r.Title = t.text(words.Titles, r.GetCode())
	}
}
