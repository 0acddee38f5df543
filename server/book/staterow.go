package book

import (
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// row is what is open as a row has it. The vehicle is not named in it.
func (s state) row(texts *rows.Strings) *rows.VehicleState {
	out := &rows.VehicleState{LastInspectionId: texts.Number(s.lastID), LastSeenTime: s.lastSeen, Left: s.left}
	if s.headline != nil {
		out.Headline = &rows.Headline{}
		texts.Keep(out.GetHeadline(), s.headline)
	}
	for _, f := range s.open {
		out.Open = append(out.Open, f.row(texts))
	}
	for _, w := range s.off {
		out.WheelsOff = append(out.WheelsOff, &rows.WheelOff{
			Position: texts.Number(w.at), OffBy: texts.Number(w.by), OffTime: w.time, TorquedBy: texts.Number(w.torquedBy), TorquedTime: w.torqued,
		})
	}
	return out
}

func (f openFinding) row(texts *rows.Strings) *rows.OpenFinding {
	return &rows.OpenFinding{
		OpenId: texts.Number(f.openID), InspectionId: texts.Number(f.visitID), FindingId: texts.Number(f.findingID),
		SinceInspectionId: texts.Number(f.sinceID), SinceTime: f.sinceTime, VisitsOpen: f.visits,
		Code: texts.Number(f.code), Urgency: f.urgency, Positions: texts.Numbers(f.positions), Comparison: f.comparison, Candidate: f.candidate,
		Outcomes: texts.Numbers(f.outcomes), UntilDate: f.until,
		Rule: texts.Number(f.rule), LaterId: texts.Number(f.laterID), Also: texts.Numbers(f.also), Protects: f.protects,
	}
}

func openFindingOf(f *rows.OpenFinding, texts *rows.Strings) openFinding {
	return openFinding{
		openID: texts.Text(f.GetOpenId()), visitID: texts.Text(f.GetInspectionId()), findingID: texts.Text(f.GetFindingId()),
		sinceID: texts.Text(f.GetSinceInspectionId()), sinceTime: f.GetSinceTime(), visits: f.GetVisitsOpen(),
		code: texts.Text(f.GetCode()), urgency: f.GetUrgency(), positions: texts.TextsOf(f.GetPositions()), comparison: f.GetComparison(), candidate: f.GetCandidate(),
		outcomes: texts.TextsOf(f.GetOutcomes()), until: f.GetUntilDate(),
		rule: texts.Text(f.GetRule()), laterID: texts.Text(f.GetLaterId()), also: texts.TextsOf(f.GetAlso()), protects: f.GetProtects() || f.GetUrgency() == pb.Urgency_URGENCY_BEFORE_DRIVING,
	}
}

// stateOf reads what is open from a row.
func stateOf(row *rows.VehicleState, texts *rows.Strings) state {
	s := state{lastID: texts.Text(row.GetLastInspectionId()), lastSeen: row.GetLastSeenTime(), left: row.GetLeft()}
	if row.GetHeadline() != nil {
		s.headline = &pb.Headline{}
		texts.Give(s.headline, row.GetHeadline())
	}
	for _, f := range row.GetOpen() {
		s.open = append(s.open, openFindingOf(f, texts))
	}
	for _, w := range row.GetWheelsOff() {
		s.off = append(s.off, wheelOff{texts.Text(w.GetPosition()), texts.Text(w.GetOffBy()), w.GetOffTime(), texts.Text(w.GetTorquedBy()), w.GetTorquedTime()})
	}
	return s
}

// state puts what visits have made of a vehicle.
func (d *drafting) state(vehicle string, s state) { d.put(stateKey(vehicle), d.whole(vehicle, s)) }

// keptEach is of every how many-th visit of a vehicle the state after it is kept.
const keptEach = 4

// statesAfter puts what each of some visits, the oldest first, and those before it have
// made of their vehicle: of every keptEach-th, and not of those far behind the first.
func (d *drafting) statesAfter(vehicle string, steps []step) {
	for i, step := range steps {
		if step.visit == nil {
			continue
		}
		id, s := step.inspection.GetId(), step.take()
		switch {
		case i < keptStates && s.visits%keptEach == 0:
			d.put(afterKey(id), d.whole(vehicle, s))
		case !step.isNew:
			d.delete(afterKey(id))
		}
	}
}

func (d *drafting) whole(vehicle string, s state) *rows.Vehicle {
	texts := rows.NewStrings(nil)
	row := &rows.Vehicle{State: s.row(texts), Tires: d.tiresSent(renamed(vehicle, s.tires, "")), RootsTime: s.roots, RecordedTime: s.recorded, CountedTime: s.counted, Visits: s.visits}
	row.Strings = texts.Texts()
	return row
}

// renamed puts another name of the vehicle, or none, to tires that are on it.
func renamed(vehicle string, tires []*pb.Tire, as string) []*pb.Tire {
	all := slices.Clone(tires)
	for i, t := range all {
		if m := t.GetPlace().GetMounted(); m != nil && m.GetVehicleId() == vehicle {
			all[i] = proto.CloneOf(t)
			all[i].GetPlace().GetMounted().VehicleId = as
		}
	}
	return all
}

// state reads what visits have made of a vehicle; nothing where there is no such row.
func (v view) state(vehicle string, k history.Key) (s state, version history.Number, err error) {
	row := &rows.Vehicle{}
	if version, _, err = v.get(k, row); err != nil {
		return s, version, err
	}
	s = stateOf(row.GetState(), rows.NewStrings(row.GetStrings()))
	s.roots, s.recorded, s.counted, s.visits = row.GetRootsTime(), row.GetRecordedTime(), row.GetCountedTime(), row.GetVisits()
	tires, err := tiresRead(row.GetTires())
	s.tires = renamed("", tires, vehicle)
	return s, version, err
}

// stateAfter reads what a visit and those before it have made of its vehicle.
func (v view) stateAfter(vehicle, visit string) (s state, found bool, err error) {
	s, version, err := v.state(vehicle, afterKey(visit))
	return s, version != history.Absent, err
}

func (d *drafting) tiresSent(tires []*pb.Tire) (all [][]byte) {
	for _, t := range tires {
		all = append(all, d.sent(t))
	}
	return all
}

func tiresRead(sent [][]byte) (all []*pb.Tire, err error) {
	for _, data := range sent {
		t := &pb.Tire{}
		if err := proto.Unmarshal(data, t); err != nil {
			return nil, err
		}
		all = append(all, t)
	}
	return all, nil
}
