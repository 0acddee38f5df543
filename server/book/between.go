package book

import (
	"slices"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// happenings are what happened between the visits that are evidence and a place, as far as it
// bears on what they say.
type happenings struct {
	moves     []*pb.TireMoves
	odometers []otherOdometer
}

// otherOdometer is an odometer that was replaced.
type otherOdometer struct {
	key  history.Key
	when *timestamppb.Timestamp
	by   float64 // kilometers that the new one shows more than the old one
}

// around gives the visits that are evidence at a place, oldest first, with what happened
// between them and it: their odometers are told from the one that is on the vehicle then.
// What a tire had before it left the vehicle and ran nobody knows how far is no evidence of it
// any more: until nil, or as far as that was known then.
func (v view) around(vehicle string, newestFirst []covered, here history.Key, until *timestamppb.Timestamp) (earlier []*pb.Inspection, b happenings, err error) {
	if len(newestFirst) == 0 {
		return nil, b, nil
	}
	first := newestFirst[len(newestFirst)-1].key
	if b, err = v.betweenOf(vehicle, first, here); err != nil {
		return nil, b, err
	}
	lost, err := v.lost(vehicle, first, here, until)
	if err != nil {
		return nil, b, err
	}
	for _, c := range slices.Backward(newestFirst) {
		in := withoutLost(c.inspection, func(tire string) bool { return lost[tire] > spotOf(c.key) })
		if by := b.shift(func(r otherOdometer) bool { return r.key > c.key }); by != 0 {
			in = shifted(in, by)
		}
		earlier = append(earlier, in)
	}
	return earlier, b, nil
}

// lost tells where tires left the vehicle last, between two places, and ran nobody knows how
// far: all but those that were put into store at an odometer that was told.
func (v view) lost(vehicle string, from, to history.Key, until *timestamppb.Timestamp) (map[string]history.Key, error) {
	last := map[string]history.Key{}
	page, err := v.s.Scan(v.ctx, history.Range{Prefix: leftOf(vehicle), After: leftOf(vehicle) + spotOf(from)})
	if err != nil {
		return nil, err
	}
	for _, r := range page.Rows {
		spot := spotOf(r.Key)
		if spot > spotOf(to) || until != nil && spot[8:].FirstInt64() > nanos(until) {
			continue
		}
		row := &rows.Event{}
		if err := decode(r.Value, row); err != nil {
			return nil, err
		}
		m, err := v.moves(spot.Texts(placeSize)[0])
		if err != nil {
			return nil, err
		}
		if m == nil || m.moves.GetOdometer() == nil || m.gone(row.GetDeparted()) != finding.ClosedTireOff {
			last[row.GetDeparted()] = spot
		}
	}
	return last, nil
}

// withoutLost is a visit without what it read of some tires; what was done about the wheel's
// fasteners is the vehicle's.
func withoutLost(in *pb.Inspection, lost func(tire string) bool) *pb.Inspection {
	if !slices.ContainsFunc(in.GetWheels(), func(w *pb.WheelReport) bool { return lost(w.GetTireId()) }) {
		return in
	}
	in = proto.CloneOf(in)
	for i, w := range in.GetWheels() {
		if lost(w.GetTireId()) {
			in.Wheels[i] = &pb.WheelReport{Position: w.GetPosition(), FastenerWork: w.GetFastenerWork(), TorqueRecheck: w.GetTorqueRecheck()}
		}
	}
	return in
}

// betweenOf reads what happened between two places.
func (v view) betweenOf(vehicle string, from, to history.Key) (b happenings, err error) {
	type told struct {
		key   history.Key
		moves *pb.TireMoves
	}
	var moves []told
	err = v.eventRows(vehicle, from, to, func(k history.Key, row *rows.Event) error {
		if id := row.GetMoves(); id != "" {
			m, err := v.moves(id)
			if err == nil && m != nil && m.moves.GetOdometer() != nil && m.vehicle == vehicle {
				moves = append(moves, told{k, onVehicle(m.moves, vehicle)})
			}
			return err
		}
		if id := row.GetEvent(); id != "" {
			h, err := v.happening(id)
			if o := h.odometer(); err == nil && o != nil {
				b.odometers = append(b.odometers, otherOdometer{k, h.when(), kilometers(o.GetNewReading()) - kilometers(o.GetOldReading())})
			}
			return err
		}
		return nil
	})
	for _, m := range moves {
		if by := b.shift(func(r otherOdometer) bool { return r.key > m.key }); by != 0 {
			m.moves.Odometer = plus(m.moves.GetOdometer(), by)
		}
		b.moves = append(b.moves, m.moves)
	}
	return b, err
}

// shift is by how many kilometers readings are told otherwise by the odometers that were
// replaced after them.
func (b happenings) shift(after func(otherOdometer) bool) (by float64) {
	for _, r := range b.odometers {
		if after(r) {
			by += r.by
		}
	}
	return by
}

// tires are tires with the odometer at which they were fitted as the one on the vehicle now
// tells it.
func (b happenings) tires(on []*pb.Tire) []*pb.Tire {
	all := slices.Clone(on)
	for i, t := range all {
		if t.GetFittedOdometer() == nil || t.GetFittedDate() == nil {
			continue
		}
		if by := b.shift(func(r otherOdometer) bool { return after(localDate(r.when, "UTC"), t.GetFittedDate()) }); by != 0 {
			all[i] = proto.CloneOf(t)
			all[i].FittedOdometer = plus(t.GetFittedOdometer(), by)
		}
	}
	return all
}

// odometer is what an event says of an odometer that was replaced; nil: nothing.
func (h *happening) odometer() *pb.OdometerReplaced {
	if h == nil {
		return nil
	}
	return h.said.GetOdometerReplaced()
}

// onVehicle are moves as one vehicle sees them: what went elsewhere went off it.
func onVehicle(m *pb.TireMoves, vehicle string) *pb.TireMoves {
	m = proto.CloneOf(m)
	for _, t := range m.GetMoves() {
		if t.GetTo().GetMounted().GetVehicleId() != vehicle {
			t.To = nil
		}
	}
	return m
}

// shifted is a visit with its odometers told otherwise.
func shifted(in *pb.Inspection, by float64) *pb.Inspection {
	in = proto.CloneOf(in)
	in.Odometer = plus(in.GetOdometer(), by)
	for _, d := range in.GetWorkDone() {
		d.Odometer = plus(d.GetOdometer(), by)
	}
	for _, w := range in.GetWheels() {
		if c := w.GetTorqueRecheck(); c != nil {
			c.Odometer = plus(c.GetOdometer(), by)
		}
	}
	return in
}

// kilometersOfMile is exact by definition (international mile, NIST SP 811).
const kilometersOfMile = 1.609344

func kilometers(d *pb.Distance) float64 {
	if m, miles := d.GetAsRead().(*pb.Distance_Miles); miles {
		return m.Miles * kilometersOfMile
	}
	return d.GetKilometers()
}

// plus adds kilometers to a distance, in its own unit; nil: none.
func plus(d *pb.Distance, by float64) *pb.Distance {
	switch at := d.GetAsRead().(type) {
	case *pb.Distance_Miles:
		return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: at.Miles + by/kilometersOfMile}}
	case *pb.Distance_Kilometers:
		return &pb.Distance{AsRead: &pb.Distance_Kilometers{Kilometers: at.Kilometers + by}}
	}
	return d
}
