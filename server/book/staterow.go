package book

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// row is what is open as a row has it. The vehicle is not named in it.
func (s state) row(texts *rows.Strings) *rows.VehicleState {
	out := &rows.VehicleState{LastInspectionId: texts.Number(s.lastID), LastSeenTime: s.lastSeen}
	if s.headline != nil {
		out.Headline = &rows.Headline{}
		texts.Keep(out.GetHeadline(), s.headline)
	}
	for _, f := range s.open {
		out.Open = append(out.Open, &rows.OpenFinding{
			OpenId: texts.Number(f.openID), InspectionId: texts.Number(f.visitID), FindingId: texts.Number(f.findingID),
			SinceInspectionId: texts.Number(f.sinceID), SinceTime: f.sinceTime, VisitsOpen: f.visits,
			Code: texts.Number(f.code), Urgency: f.urgency, Positions: texts.Numbers(f.positions), Comparison: f.comparison, Candidate: f.candidate,
		})
	}
	return out
}

// stateOf reads what is open from a row.
func stateOf(row *rows.VehicleState, texts *rows.Strings) state {
	s := state{lastID: texts.Text(row.GetLastInspectionId()), lastSeen: row.GetLastSeenTime()}
	if row.GetHeadline() != nil {
		s.headline = &pb.Headline{}
		texts.Give(s.headline, row.GetHeadline())
	}
	for _, f := range row.GetOpen() {
		s.open = append(s.open, openFinding{
			openID: texts.Text(f.GetOpenId()), visitID: texts.Text(f.GetInspectionId()), findingID: texts.Text(f.GetFindingId()),
			sinceID: texts.Text(f.GetSinceInspectionId()), sinceTime: f.GetSinceTime(), visits: f.GetVisitsOpen(),
			code: texts.Text(f.GetCode()), urgency: f.GetUrgency(), positions: texts.TextsOf(f.GetPositions()), comparison: f.GetComparison(), candidate: f.GetCandidate(),
		})
	}
	return s
}

// state puts what visits have made of a vehicle.
func (d *drafting) state(vehicle string, s state) { d.put(stateKey(vehicle), d.whole(s)) }

// stateAfter puts what a visit and those before it have made of its vehicle.
func (d *drafting) stateAfter(visit string, s state) { d.put(afterKey(visit), d.whole(s)) }

func (d *drafting) whole(s state) *rows.Vehicle {
	texts := rows.NewStrings(nil)
	row := &rows.Vehicle{State: s.row(texts), Tires: d.tiresSent(s.tires), RootsTime: s.roots, RecordedTime: s.recorded}
	row.Strings = texts.Texts()
	return row
}

// state reads what visits have made of a vehicle; nothing where there is no such row.
func (v view) state(k history.Key) (s state, version history.Number, err error) {
	row := &rows.Vehicle{}
	if version, _, err = v.get(k, row); err != nil {
		return s, version, err
	}
	s = stateOf(row.GetState(), rows.NewStrings(row.GetStrings()))
	s.roots, s.recorded = row.GetRootsTime(), row.GetRecordedTime()
	s.tires, err = tiresRead(row.GetTires())
	return s, version, err
}

// stateAfter reads what a visit and those before it have made of its vehicle.
func (v view) stateAfter(visit string) (s state, found bool, err error) {
	s, version, err := v.state(afterKey(visit))
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
