package report

import (
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/words"
)

// due is a line of work, with the distances of those after it that are the same but for
// when they fall due.
type due struct {
	item *pb.WorkItem
	also []*pb.Distance
}

// once are lines of work, each that falls due several times once.
func once(work []*pb.WorkItem) (all []due) {
	for _, w := range work {
		if n := len(all); n > 0 && w.GetDueByDistance() != nil && w.GetCode() == all[n-1].item.GetCode() && slices.Equal(w.GetPositions(), all[n-1].item.GetPositions()) {
			all[n-1].also = append(all[n-1].also, w.GetDueByDistance())
			continue
		}
		all = append(all, due{item: w})
	}
	return all
}

// told is what is told of the line, with all its distances in place of the first.
func (d due) told(text string, by *words.Teller) string {
	if len(d.also) == 0 {
		return text
	}
	first := by.Value(shown(d.item.GetDueByDistance()))
	each := []string{first}
	for _, m := range d.also {
		each = append(each, by.Value(shown(m)))
	}
	all := strings.Join(each, ", ")
	if !strings.Contains(text, first) {
		return text + " " + all + "."
	}
	return strings.Replace(text, first, all, 1)
}
