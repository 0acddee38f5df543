package book

import (
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

func TestTheShopStandsInForWhatIsNotTold(t *testing.T) {
	gauges := []*pb.Gauge{{Kind: pb.GaugeKind_GAUGE_KIND_STICK}}
	onEach(t, func(t *testing.T, d *desk) {
		settings := &pb.Shop{
			TimeZone: "America/Denver", Place: &pb.Jurisdiction{Country: "US", State: "CO"}, Gauges: &pb.ShopGauges{Gauges: gauges}, Language: "en",
			Units:    &pb.ReaderUnits{Pressure: pb.PressureUnit_PRESSURE_UNIT_BAR},
			Altitude: &pb.Height{AsRead: &pb.Height_Meters{Meters: 1609}},
		}
		if _, err := d.UpdateShop(t.Context(), shop, settings, nil); err != nil {
			t.Fatal(err)
		}
		v := d.keepVehicle(car())
		in := newVisit(v)
		in.TakenTime = at(2026, 3, 2, 15, 0)
		received := proto.CloneOf(in)
		kept := d.keep(in)
		req := d.lastJudged()
		want := &pb.AssessVisitRequest{
			Vehicle: func() *pb.Vehicle {
				v := bare(v)
				v.Use = driven("US", "CO")
				return v
			}(),
			Inspection: func() *pb.Inspection {
				in := proto.CloneOf(received)
				in.Wheels[0].TireId = req.GetInspection().GetWheels()[0].GetTireId()
				in.Gauges = gauges
				in.LocalDate = &pb.CalendarDate{Year: 2026, Month: 3, Day: 2}
				in.Conditions = &pb.Conditions{Atmosphere: &pb.Conditions_Altitude{Altitude: settings.GetAltitude()}}
				return in
			}(),
		}
		sameMessage(t, "judged", req, want)
		sameMessage(t, "kept", kept.GetInspection(), received)
		sameMessage(t, "the vehicle", d.vehicle(v).GetVehicle(), v)
	})
}

func TestWhatIsToldCountsBeforeTheShop(t *testing.T) {
	shopsOwn := &pb.Shop{
		Place: &pb.Jurisdiction{Country: "US", State: "CO"}, TimeZone: "America/Denver", Gauges: &pb.ShopGauges{Gauges: []*pb.Gauge{{Kind: 1}}}, Altitude: &pb.Height{},
	}
	told := &pb.Inspection{
		TakenTime: at(2026, 3, 2, 15, 0), LocalDate: &pb.CalendarDate{Year: 2025, Month: 1, Day: 1}, Gauges: []*pb.Gauge{{Kind: 2}},
		Conditions: &pb.Conditions{Atmosphere: &pb.Conditions_Barometer{Barometer: &pb.AirPressure{}}},
	}
	sameMessage(t, "visit", withDefaults(shopsOwn, &pb.Vehicle{}, told).GetInspection(), told)
	for _, row := range []struct{ told, want *pb.VehicleUse }{
		{nil, driven("US", "CO")},
		{&pb.VehicleUse{Tows: pb.Answer_ANSWER_YES}, &pb.VehicleUse{DrivenIn: driven("US", "CO").GetDrivenIn(), Tows: pb.Answer_ANSWER_YES}},
		{driven("US", ""), driven("US", "CO")},
		{driven("US", "CA"), driven("US", "CA")},
		{driven("DE", ""), driven("DE", "")},
		{driven("US", "", "US", "NV"), driven("US", "CO", "US", "NV")},
		{driven("DE", "", "US", ""), driven("DE", "", "US", "")},
		{&pb.VehicleUse{RegisteredIn: &pb.Jurisdiction{Country: "US", State: "CA"}}, &pb.VehicleUse{RegisteredIn: &pb.Jurisdiction{Country: "US", State: "CA"}}},
		{&pb.VehicleUse{RegisteredIn: &pb.Jurisdiction{Country: "US"}}, &pb.VehicleUse{RegisteredIn: &pb.Jurisdiction{Country: "US", State: "CO"}}},
	} {
		sameMessage(t, "use", withDefaults(shopsOwn, &pb.Vehicle{Use: row.told}, told).GetVehicle().GetUse(), row.want)
	}
	sameMessage(t, "nothing told at all", withDefaults(&pb.Shop{}, &pb.Vehicle{}, &pb.Inspection{}),
		&pb.AssessVisitRequest{Vehicle: &pb.Vehicle{}, Inspection: &pb.Inspection{}})
}

// driven is the use of a vehicle in countries and states, one after the other.
func driven(places ...string) *pb.VehicleUse {
	use := &pb.VehicleUse{}
	for i := 0; i < len(places); i += 2 {
		use.DrivenIn = append(use.DrivenIn, &pb.Jurisdiction{Country: places[i], State: places[i+1]})
	}
	return use
}

// Offsets and their changes are those of the IANA time zone database: Denver is
// at UTC-7, from the second Sunday of March at UTC-6; Kiritimati at UTC+14;
// Kathmandu at UTC+5:45.
func TestTheDayIsThatOfTheWallCalendarAtTheShop(t *testing.T) {
	for _, row := range []struct {
		zone    string
		at      *timestamppb.Timestamp
		y, m, d int32
	}{
		{"America/Denver", at(2026, 3, 2, 6, 59), 2026, 3, 1},
		{"America/Denver", at(2026, 3, 2, 7, 0), 2026, 3, 2},
		{"America/Denver", at(2026, 3, 9, 5, 59), 2026, 3, 8}, // summer time since the day before
		{"America/Denver", at(2026, 3, 9, 6, 0), 2026, 3, 9},
		{"America/Denver", at(2027, 1, 1, 6, 59), 2026, 12, 31},
		{"Pacific/Kiritimati", at(2026, 2, 28, 10, 0), 2026, 3, 1},
		{"Asia/Kathmandu", at(2028, 2, 28, 18, 14), 2028, 2, 28},
		{"Asia/Kathmandu", at(2028, 2, 28, 18, 15), 2028, 2, 29},
		{"UTC", at(2026, 3, 2, 23, 59), 2026, 3, 2},
	} {
		want := &pb.CalendarDate{Year: row.y, Month: row.m, Day: row.d}
		sameMessage(t, row.zone, localDate(row.at, row.zone), want)
	}
	for _, zone := range []string{"", "Nowhere/Invented"} {
		if day := localDate(at(2026, 3, 2, 0, 0), zone); day != nil {
			t.Errorf("zone %q: %v", zone, day)
		}
	}
	if day := localDate(nil, "UTC"); day != nil {
		t.Errorf("%v", day)
	}
}
