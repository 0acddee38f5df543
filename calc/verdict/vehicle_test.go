package verdict

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

func place(s string) layout.Position { return layout.MustParse(s) }

// whole is the invented car with all four wheels read at so many psi, cold.
func whole(psi ...float64) visit.Visit {
	v := car(psi[0])
	w := v.Wheels[0]
	v.Wheels = nil
	for i, at := range []string{"1L", "1R", "2L", "2R"} {
		w.Position = place(at)
		if w.Pressure.Of = unit.MustPressure(psi[0], unit.PSI); i < len(psi) {
			w.Pressure.Of = unit.MustPressure(psi[i], unit.PSI)
		}
		v.Wheels = append(v.Wheels, w)
	}
	return v
}

func sensed(psi float64, shown string) visit.Sensed {
	r := &sensor.Reading{Answering: finding.Yes, In: unit.PSI,
		Pressure: inflation.GaugeOf(inflation.TPMS, measure.Gauge[unit.Pressure]{}).Read(unit.MustPressure(psi, unit.PSI))}
	if shown != "" {
		r.ShownAt = place(shown)
	}
	return visit.Sensed{Sensor: r, Hand: car(33).Wheels[0].Pressure}
}

func has(v Verdict, named string) bool {
	return slices.ContainsFunc(v.Findings, func(f finding.Finding) bool { return f.String() == named })
}

// idOf is the id of a finding without a rule.
func idOf(code finding.Code, at ...string) string {
	f := finding.Finding{Code: code}
	for _, p := range at {
		f.Positions = append(f.Positions, place(p))
	}
	return f.ID()
}

func working(v Verdict, code finding.Work, at string) bool {
	return slices.ContainsFunc(v.Work, func(w order.Work) bool {
		return w.Code == code && (at == "" || slices.Contains(w.Positions, place(at)))
	})
}

// A lamp that is on at the end is a finding of its own only when it was not so
// before; off, it closes what the lamp said, and nothing is said of it (common
// practice).
func TestLampAsLeft(t *testing.T) {
	for _, c := range []struct {
		found, left inflation.Lamp
		new, closed bool
	}{
		{inflation.LampOn, inflation.LampOff, false, true},
		{inflation.LampOn, inflation.LampOn, false, false},
		{inflation.LampOn, inflation.LampNotTold, false, false},
		{inflation.LampOn, inflation.LampFlashing, true, false},
		{inflation.LampOff, inflation.LampOn, true, false},
		{inflation.LampOff, inflation.LampOff, false, false},
	} {
		v := whole(33)
		v.Lamp, v.LampLeft = c.found, c.left
		r := Judge(v)
		f, _ := find(r, finding.InflationLampOnPressuresRight)
		if _, closed := r.Done[f.ID()]; closed != c.closed || has(r, string(finding.SensorLampAsLeft)) != c.new {
			t.Errorf("lamp %d, then %d: closed %v, new %v", c.found, c.left, closed, has(r, string(finding.SensorLampAsLeft)))
		}
	}
}

// Places are known again when each sensor is shown where it is, or learned and
// nothing shown speaks against it. A reset alone learns none (common practice).
func TestPlacesLearned(t *testing.T) {
	for _, c := range []struct {
		name   string
		reset  visit.Reset
		done   []visit.Done
		left   [2]string // where the vehicle shows 1L and 1R at the end
		closed bool
	}{
		{"nothing told", visit.ResetNotTold, nil, [2]string{}, false},
		{"learned", visit.Relearned, nil, [2]string{}, true},
		{"learned, as work", visit.ResetNotTold, []visit.Done{{Kind: "sensor-relearned"}}, [2]string{}, true},
		{"reset only", visit.ResetOnly, nil, [2]string{}, false},
		{"shown right", visit.ResetNotTold, nil, [2]string{"1L", "1R"}, true},
		{"one shown right", visit.ResetNotTold, nil, [2]string{"1L", ""}, false},
		{"learned, one shown wrong", visit.Relearned, nil, [2]string{"1L", "1L"}, false},
		{"learned as work, and told not to be", visit.ResetNotDone, []visit.Done{{Kind: "sensor-relearned"}}, [2]string{}, false},
	} {
		v := whole(33)
		v.Monitoring, v.Reset, v.Done = sensor.Direct, c.reset, c.done
		v.Wheels[0].Sensed, v.Wheels[1].Sensed = sensed(33, "1R"), sensed(33, "1L")
		for i, shown := range c.left {
			if shown != "" {
				v.Wheels[i].SensedLeft = sensed(33, shown)
			}
		}
		r := Judge(v)
		if _, closed := r.Done[idOf("sensor.not-learned", "1L", "1R")]; closed != c.closed || !has(r, "sensor.not-learned:1L,1R") {
			t.Errorf("%s: closed %v", c.name, closed)
		}
		if working(r, finding.WorkSensorRelearn, "") == c.closed {
			t.Errorf("%s: to be learned %v", c.name, working(r, finding.WorkSensorRelearn, ""))
		}
	}
}

// What a sensor says at the end closes what it said before.
func TestSensorAsLeft(t *testing.T) {
	v := whole(33)
	v.Monitoring = sensor.Direct
	v.Wheels[0].Sensed, v.Wheels[0].SensedLeft = sensed(26, ""), sensed(34, "")
	v.Wheels[1].Sensed, v.Wheels[1].SensedLeft = sensed(26, ""), sensed(27, "")
	v.Wheels[2].Sensed = visit.Sensed{Sensor: &sensor.Reading{Answering: finding.No}}
	v.Wheels[2].SensedLeft = sensed(33, "")
	low := sensed(33, "")
	low.Sensor.BatteryLow = true
	v.Wheels[3].Sensed, v.Wheels[3].SensedLeft = low, low
	r := Judge(v)
	if got := r.Closed[idOf("sensor.differs", "1L")]; got != (unit.Amount{Number: 34, Unit: unit.PSI}) {
		t.Errorf("1L left at %v", got)
	}
	_, open := r.Closed[idOf("sensor.differs", "1R")]
	_, silent := r.Done[idOf("sensor.not-answering", "2L")]
	_, battery := r.Done[idOf("sensor.battery-low", "2R")]
	if open || !silent || battery || working(r, finding.WorkSensorCheck, "2L") {
		t.Errorf("closed: 1R %v, 2L %v, 2R %v; %v", open, silent, battery, r.Work)
	}
}

// Work cures what it names, at the wheel it names, unless it is seen again
// (common practice).
func TestCured(t *testing.T) {
	for _, c := range []struct {
		seen, work string
		at         []string
		left       finding.Observation
		closed     bool
	}{
		{"bearing-play", "bearing-work", []string{"2R"}, "", true},
		{"bearing-play", "bearing-work", []string{"2L"}, "", false},
		{"bearing-play", "bearing-work", nil, "", false},
		{"bearing-play", "brake-work", []string{"2R"}, "", false},
		{"bearing-play", "bearing-work", []string{"2R"}, "bearing-play", false},
		{"brake-dragging", "brake-work", []string{"2R"}, "", true},
		{"steering-play", "steering-part-renewed", []string{"2R"}, "", true},
		{"steering-play", "alignment-set", []string{"2R"}, "", false},
		{"part-bent", "suspension-part-renewed", []string{"2R"}, "", true},
		{"valve-cracked", "valve-renewed", []string{"2R"}, "", true},
		{"valve-under-rated", "valve-renewed", []string{"2R"}, "", false}, // by another of the same kind, perhaps
		{"bulge", "bearing-work", []string{"2R"}, "", false},
	} {
		v := car(33)
		v.Wheels[0].Observations = []visit.Observation{{Kind: finding.Observation(c.seen)}}
		if c.left != "" {
			v.Wheels[0].ObservationsLeft = []visit.Observation{{Kind: c.left}}
		}
		d := visit.Done{Kind: finding.Done(c.work)}
		for _, at := range c.at {
			d.At = append(d.At, place(at))
		}
		v.Done = []visit.Done{d}
		r := Judge(v)
		f, ok := find(r, finding.ObservationOf(finding.Observation(c.seen)).Means)
		_, closed := r.Done[f.ID()]
		if !ok || closed != c.closed || working(r, finding.KindOf(finding.ObservationOf(finding.Observation(c.seen)).Means).Work, "2R") == c.closed {
			t.Errorf("%s, %s at %v, left %q: closed %v, %v", c.seen, c.work, c.at, c.left, closed, r.Work)
		}
		if working(r, finding.WorkVehicleHold, "2R") != (f.Urgency == finding.BeforeDriving && !c.closed) {
			t.Errorf("%s, %s: held %v", c.seen, c.work, working(r, finding.WorkVehicleHold, "2R"))
		}
	}
}

// What is seen as the vehicle leaves is there, whatever was seen before; and a
// loose fastener seen again was not put right.
func TestSeenAsLeft(t *testing.T) {
	v := car(33)
	v.Wheels[0].ObservationsLeft = []visit.Observation{{Kind: "fastener-loose"}}
	r := Judge(v)
	if _, told := find(r, "fastener.loose"); !told || !working(r, finding.WorkVehicleHold, "2R") {
		t.Errorf("%v", r.Findings)
	}
	right := &fastener.Work{
		Counted: new(5), Damaged: new(0), Replaced: new(0), FacesCleaned: finding.Yes, Staged: finding.Yes, Named: true,
		Torque: unit.Amount{Number: 100, Unit: unit.PoundFeet}, Tool: fastener.HandWrench,
	}
	for again, closed := range map[bool]bool{false: true, true: false} {
		v := car(33)
		v.Wheels[0].Fastening = right
		v.Wheels[0].Observations = []visit.Observation{{Kind: "fastener-loose"}, {Kind: "fastener-wrong-seat"}}
		if again {
			v.Wheels[0].ObservationsLeft = []visit.Observation{{Kind: "fastener-loose"}}
		}
		r := Judge(v)
		foundLoose, _ := find(r, "fastener.loose")
		wrongSeat, _ := find(r, "fastener.wrong-seat")
		_, loose := r.Done[foundLoose.ID()]
		_, seat := r.Done[wrongSeat.ID()]
		if loose != closed || seat {
			t.Errorf("seen again %v: loose closed %v, wrong seat closed %v", again, loose, seat)
		}
	}
}

// told gives the finding of one complaint.
func told(t *testing.T, v visit.Visit, c visit.Complaint) finding.Finding {
	t.Helper()
	v.Complaints = []visit.Complaint{c}
	f, ok := find(Judge(v), finding.Code("complaint."+c.Kind))
	if !ok {
		t.Fatalf("%s is not told", c.Kind)
	}
	return f
}

func evidenceOf(f finding.Finding, code finding.Fact) (found, against bool) {
	for _, e := range f.Evidence {
		if e.Code == code {
			return true, e.Against
		}
	}
	return false, false
}

// A vehicle pulls to the side of the softer front tire (common practice).
func TestPulls(t *testing.T) {
	for _, c := range []struct {
		kind           finding.Complaint
		left, right    float64
		found, against bool
	}{
		{"pulls-left", 25, 33, true, false},
		{"pulls-left", 33, 25, true, true},
		{"pulls-right", 33, 25, true, false},
		{"pulls-right", 25, 33, true, true},
		{"pulls-left", 32, 33, false, false}, // one psi is the gauge's
	} {
		f := told(t, whole(c.left, c.right), visit.Complaint{Kind: c.kind})
		if found, against := evidenceOf(f, "complaint.softer-side"); found != c.found || against != c.against {
			t.Errorf("%s at %v and %v psi: %v, against %v", c.kind, c.left, c.right, found, against)
		}
	}
}

// Where a vibration is felt, and from what speed, says where to begin (common
// practice, from memory).
func TestVibration(t *testing.T) {
	at := func(n float64, u unit.Unit) unit.Amount { return unit.Amount{Number: n, Unit: u} }
	for _, c := range []struct {
		complaint visit.Complaint
		settle    finding.Settle
	}{
		{visit.Complaint{}, "settle.vibration"},
		{visit.Complaint{Front: true}, "settle.vibration-front"},
		{visit.Complaint{Rear: true}, "settle.vibration-rear"},
		{visit.Complaint{Front: true, Rear: true}, "settle.vibration"},
		{visit.Complaint{Rear: true, From: at(20, unit.MilesPerHour)}, "settle.vibration-slow"},
		{visit.Complaint{Rear: true, From: at(55, unit.MilesPerHour)}, "settle.vibration-rear"},
		{visit.Complaint{From: at(40, unit.KilometersPerHour)}, "settle.vibration-slow"},
		{visit.Complaint{From: at(50, unit.KilometersPerHour)}, "settle.vibration"},
	} {
		c.complaint.Kind = "vibration"
		if f := told(t, whole(33), c.complaint); f.ToSettle != c.settle || f.Urgency != finding.ThisVisit {
			t.Errorf("%+v: %s", c.complaint, f.ToSettle)
		}
	}
}

// What was found at another wheel does not speak for a complaint that names one,
// and a cause that is not among the likeliest speaks for none.
func TestWhatSpeaksForAComplaint(t *testing.T) {
	v := whole(33)
	v.Wheels[0].Observations = []visit.Observation{{Kind: "wheel-bent-inner-lip"}}
	for at, want := range map[string]bool{"": true, "1L": true, "1R": false} {
		c := visit.Complaint{Kind: "vibration"}
		if at != "" {
			c.At = place(at)
		}
		if found, _ := evidenceOf(told(t, v, c), finding.FactComplaintBentWheel); found != want {
			t.Errorf("at %q: %v", at, found)
		}
	}
	less := []questions.Cause{{Code: finding.WearToeIn, At: []layout.Position{place("1L"), place("1R")}, Rank: 2}}
	offCenter := questions.ComplaintIn{Complaints: []visit.Complaint{{Kind: finding.NoticedSteeringWheelOffCenter}}, Vehicle: v.Vehicle, Causes: less}
	if es := questions.Complaints(offCenter).Findings[0].Evidence; len(es) != 0 {
		t.Errorf("%v", es)
	}
}

// The same thing told twice is told once; the kinds that the table has are those
// of the contract that have a meaning.
func TestComplaintsToldTwice(t *testing.T) {
	v := whole(33)
	slow := visit.Complaint{Kind: "vibration", From: unit.Amount{Number: 10, Unit: unit.MilesPerHour}}
	v.Complaints = []visit.Complaint{{Kind: "vibration", Front: true}, slow, {Kind: "vibration", At: place("1L")}}
	var ids []string
	for _, f := range Judge(v).Findings {
		if f.Code == "complaint.vibration" {
			ids = append(ids, f.String()+" "+string(f.ToSettle))
		}
	}
	if want := []string{"complaint.vibration settle.vibration-slow", "complaint.vibration:1L settle.vibration"}; !slices.Equal(ids, want) {
		t.Errorf("%v", ids)
	}
}

// A temporary spare on the road is told by its marking, once, whatever was said of
// the spare; in its own place, or on the label alone, it is not in service.
func TestSpareInServiceByItsMarking(t *testing.T) {
	temporary := sidewall.Parse("T125/70D15 95M")
	for _, c := range []struct {
		name  string
		shape func(v *visit.Visit)
		want  int
	}{
		{"nobody looked at the spare", func(*visit.Visit) {}, 1},
		{"said to be elsewhere", func(v *visit.Visit) { v.SpareReport = &visit.SpareReport{InService: place("2L")} }, 2},
		{"said to be there, and to match", func(v *visit.Visit) {
			v.Spare.Matching, v.SpareReport = true, &visit.SpareReport{InService: place("1L")}
		}, 1},
		{"its size was not read on the tire", func(v *visit.Visit) { v.Wheels[0].Tire.Size = "" }, 0},
		{"in its own place", func(v *visit.Visit) { v.Wheels[0].Position = layout.Position{Spare: true} }, 0},
	} {
		v := whole(33)
		v.Wheels[0].Tire.Size, v.Wheels[0].Tire.Marking = "T125/70D15 95M", temporary
		c.shape(&v)
		found, back := 0, 0
		out := Judge(v)
		for _, f := range out.Findings {
			if f.Code == "spare.in-service" {
				found++
			}
		}
		for _, w := range out.Work {
			if w.Code == finding.WorkSparePutBack {
				back += len(w.Positions)
			}
		}
		if found != c.want || back != c.want {
			t.Errorf("%s: found %d, put back %d, want %d", c.name, found, back, c.want)
		}
	}
}

// A compact spare on a driven axle, and one in all-wheel drive (common practice).
func TestSpareInService(t *testing.T) {
	for _, c := range []struct {
		drive layout.Drive
		at    string
		want  finding.Fact
	}{
		{layout.FrontDrive, "1L", "spare.on-driven-axle"},
		{layout.FrontDrive, "2L", ""},
		{layout.AllDrive, "2L", "spare.all-axles-driven"},
	} {
		v := whole(33)
		v.Vehicle.Drive, v.SpareReport = c.drive, &visit.SpareReport{InService: place(c.at)}
		f, ok := find(Judge(v), "spare.in-service")
		var got finding.Fact
		if len(f.Evidence) > 0 {
			got = f.Evidence[0].Code
		}
		if !ok || got != c.want {
			t.Errorf("drive %d, at %s: %v", c.drive, c.at, f)
		}
	}
}

// Every cause of every complaint speaks for it, and a cause of wear is told of the
// complaint in turn.
func TestEveryCauseSpeaks(t *testing.T) {
	for kind := range finding.ComplaintKinds() {
		for _, cause := range kind.Causes {
			found := questions.Cause{Finding: "found", Code: cause.Code, At: []layout.Position{place("1L")}}
			out := questions.Complaints(questions.ComplaintIn{
				Complaints: []visit.Complaint{{Kind: kind.Kind}}, Vehicle: whole(33).Vehicle, Causes: []questions.Cause{found},
			})
			if says, _ := evidenceOf(out.Findings[0], cause.As); !says {
				t.Errorf("%s does not speak for %s", cause.Code, kind.Kind)
			}
			wear := finding.KindOf(cause.Code).Again == finding.AgainAcross
			told := slices.Equal(out.Beside, []questions.Beside{{Finding: "found", Evidence: finding.Evidence{Code: kind.Told}}})
			if told != wear {
				t.Errorf("%s is told of %s: %v", cause.Code, kind.Kind, told)
			}
		}
	}
}
