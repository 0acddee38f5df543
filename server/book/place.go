package book

import (
	"time"

	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// place is where a visit stands in its vehicle's record: in the order in which visits
// were taken, and of one moment in that in which they were recorded, where a correction
// has the time of the first visit that it corrects.
type place struct {
	counted  *timestamppb.Timestamp // when it counts as taken
	root     string                 // the first visit that it corrects, or itself
	rootTime *timestamppb.Timestamp // when that was recorded
	former   bool                   // a former program recorded it, which told no places apart
}

// key is that of the covering row of a visit.
func (p place) key(vehicle string, recorded *timestamppb.Timestamp, id string) history.Key {
	if p.former {
		return formerKey(vehicle, nanos(recorded), id)
	}
	return historyKey(vehicle, nanos(p.counted), nanos(p.rootTime), nanos(recorded), id)
}

func nanos(t *timestamppb.Timestamp) int64 {
	if t == nil {
		return 0
	}
	return t.AsTime().UnixNano()
}

// counted is when a visit counts as taken: when the phone says so, as far as its clock
// was right when it sent; without a time at the end of its day at the shop; without a
// day when it was recorded. Nothing is taken after it was recorded.
func counted(in *pb.Inspection, settings *pb.Shop, sent, recorded time.Time) time.Time {
	taken := recorded
	switch {
	case in.GetTakenTime() != nil:
		taken = in.GetTakenTime().AsTime()
		if !sent.IsZero() {
			taken = taken.Add(recorded.Sub(sent))
		}
	case in.GetLocalDate() != nil:
		taken = endOf(in.GetLocalDate(), settings.GetTimeZone())
	}
	if taken.After(recorded) {
		return recorded
	}
	return taken
}

// endOf is the last moment of a day at the shop; of a shop of unknown zone, as in UTC.
func endOf(day *pb.CalendarDate, zone string) time.Time {
	at, err := time.LoadLocation(zone)
	if err != nil {
		at = time.UTC
	}
	return time.Date(int(day.GetYear()), time.Month(day.GetMonth()), int(day.GetDay())+1, 0, 0, 0, 0, at).Add(-time.Nanosecond)
}

// next is the server's time, later than that of the last record of a vehicle: a clock
// that is set back reorders nothing.
func next(now time.Time, last *timestamppb.Timestamp) *timestamppb.Timestamp {
	if last != nil && !now.After(last.AsTime()) {
		now = last.AsTime().Add(time.Nanosecond)
	}
	return timestamppb.New(now)
}
