package book

import (
	"time"
	_ "time/tzdata" // zones of shops on machines that have none

	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// localDate is the day on the shop's wall at a moment; nil when moment or zone
// are not known. Laws and seasons go by it, never by UTC.
func localDate(moment *timestamppb.Timestamp, zone string) *pb.CalendarDate {
	if moment == nil || zone == "" {
		return nil
	}
	place, err := time.LoadLocation(zone)
	if err != nil {
		return nil
	}
	y, m, d := moment.AsTime().In(place).Date()
	return &pb.CalendarDate{Year: int32(y), Month: int32(m), Day: int32(d)}
}
