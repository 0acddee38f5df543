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

// today is the day at the shop; of a shop of unknown zone the one that it is in UTC.
func today(now time.Time, settings *pb.Shop) *pb.CalendarDate {
	if day := localDate(timestamppb.New(now), settings.GetTimeZone()); day != nil {
		return day
	}
	return localDate(timestamppb.New(now), time.UTC.String())
}
