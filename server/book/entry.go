package book

import (
	"strconv"

	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// entry is where a record stands in the shop's book.
type entry struct {
	number history.Number // Absent: there is no such record
	time   *timestamppb.Timestamp
	stood  *timestamppb.Timestamp // of what was imported, when it stood in the record it comes from; nil: it was recorded here
}

// imported tells that it is history that was imported: nothing of it is open.
func (e entry) imported() bool { return e.stood != nil }

// at is where it stands in the book: when it was recorded, here or where it comes from.
func (e entry) at() *timestamppb.Timestamp {
	if e.imported() {
		return e.stood
	}
	return e.time
}

// there tells whether there is such a record.
func (e entry) there() bool { return e.number != history.Absent }

// recorded is how callers see it. revision is that of the record now, Absent for
// what never changes.
func (e entry) recorded(repeated bool, revision history.Number) *pb.Recorded {
	return &pb.Recorded{Number: decimal(e.number), RecordedTime: e.time, RepeatedCall: repeated, Revision: decimal(revision)}
}

// decimal is a number as callers see it; "" of a record that is not there.
func decimal(n history.Number) string {
	if n == history.Absent {
		return ""
	}
	return strconv.FormatUint(uint64(n), 10)
}
