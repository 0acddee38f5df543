package translate

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

var answerEnum = pb.Answer(0).Descriptor()

// sidewallOf joins what this visit read on the sidewall with what the tire's
// record holds; what was read today wins. It is not to be changed.
func sidewallOf(m *pb.WheelReport, t *pb.Tire) *pb.Sidewall {
	switch {
	case t.GetSidewall() == nil:
		return m.GetSidewall()
	case m.GetSidewall() == nil:
		return t.GetSidewall()
	}
	s := proto.CloneOf(t.GetSidewall())
	proto.Merge(s, m.GetSidewall())
	for fd, known := range t.GetSidewall().ProtoReflect().Range {
		if r := s.ProtoReflect(); fd.Enum() == answerEnum && pb.Answer(r.Get(fd).Enum()) == pb.Answer_ANSWER_UNKNOWN {
			r.Set(fd, known) // that nobody could tell today takes nothing away
		}
	}
	return s
}

// fitmentWheel is what one wheel tells of its fitment beside what tire tells.
func fitmentWheel(m *pb.WheelReport, t *pb.Tire, asOf unit.Date) (found fitment.Wheel, left visit.AsLeft) {
	s := sidewallOf(m, t)
	found.Tire = fitment.Tire{
		Codes: designCodes(s.GetIdentification(), asOf), Fitted: Date(t.GetFittedDate()), ReplaceAfter: int(t.GetMakerPolicy().GetReplaceAfterYears()),
		Directional: seen(s.GetDirectional()), Asymmetric: seen(s.GetAsymmetric()), Retread: seen(s.GetRetread()),
		Regrooved: seen(s.GetRegrooved()), NotForHighway: seen(s.GetNotForHighway()),
	}
	found.Taped = taped(m.GetTaped())
	for _, k := range m.GetMarks() {
		if k.GetPhase() == pb.Phase_PHASE_AS_LEFT {
			left.Marks = marks(k)
		} else {
			found.Marks = marks(k)
		}
	}
	found.Valve = valve(m.GetValve())
	if now := m.GetValveWork().GetValveNow(); now != nil {
		v := valve(now)
		left.Valve = &v
	}
	return found, left
}

// designCodes are the codes of an identification number that was read whole and
// without doubt: plant, and the maker's own code where it tells more than the
// size (49 CFR 574.5).
func designCodes(tin string, asOf unit.Date) string {
	id, problems := sidewall.Identify(tin, asOf)
	whole := id.Form == sidewall.NewTire || id.Form == sidewall.Earlier
	if !whole || len(id.Code) <= 2 || len(problems) > 0 {
		return ""
	}
	return id.Plant + " " + id.Code
}

func taped(m *pb.TapedSize) *fitment.Taped {
	t := fitment.Taped{SamePressure: answers[m.GetSamePressure()], DayBefore: answers[m.GetInflatedADayBefore()]}
	if l, _, ok := of(unit.LengthOf, m.GetCircumference()); ok {
		t.Circumference = fitment.TapedRound(l)
		return &t
	}
	if l, _, ok := of(unit.LengthOf, m.GetDiameter()); ok {
		t.Circumference = fitment.TapedAcross(l)
		return &t
	}
	return nil
}

func marks(m *pb.MountingMarks) fitment.Marks {
	arrows := map[pb.DirectionArrow]fitment.Arrow{
		pb.DirectionArrow_DIRECTION_ARROW_AGREES: fitment.ArrowAgrees, pb.DirectionArrow_DIRECTION_ARROW_OPPOSES: fitment.ArrowOpposes,
		pb.DirectionArrow_DIRECTION_ARROW_NONE: fitment.NoArrow,
	}
	faces := map[pb.MarkFaces]fitment.Faces{
		pb.MarkFaces_MARK_FACES_OUT: fitment.FacesOut, pb.MarkFaces_MARK_FACES_IN: fitment.FacesIn, pb.MarkFaces_MARK_FACES_NONE: fitment.NoMark,
	}
	return fitment.Marks{Arrow: arrows[m.GetArrow()], Outside: faces[m.GetOutsideMark()], Date: faces[m.GetFullIdentification()]}
}

func valve(m *pb.Valve) fitment.Valve {
	v := fitment.Valve{
		RubberSnapIn:  m.GetKind() == pb.ValveKind_VALVE_KIND_RUBBER_SNAP_IN,
		AluminumStem:  m.GetStem() == pb.ValveMetal_VALVE_METAL_ALUMINUM,
		BrassCoreBare: m.GetCore() == pb.ValveMetal_VALVE_METAL_BRASS,
	}
	v.Rating, v.RatingUnit, _ = of(unit.PressureOf, m.GetRating())
	return v
}

func makerFigures(m *pb.VehicleMakerFigures) fitment.MakerFigures {
	f := fitment.MakerFigures{Source: m.GetSource()}
	if d, u, ok := of(unit.DepthOf, m.GetDepthDifference()); ok {
		f.Depth, f.DepthUnit = &d, u
	}
	if l, u, ok := of(unit.LengthOf, m.GetCircumferenceDifference()); ok {
		f.Circumference, f.LengthUnit = &l, u
	}
	return f
}

// Fits gives each tire against the label.
func Fits(fits []questions.Fit) []*pb.WheelFit {
	var out []*pb.WheelFit
	for _, f := range fits {
		m := &pb.WheelFit{Position: f.At.String(), Canonical: f.Tire.String(), LabelCanonical: f.Label.String()}
		if f.Diameter.Of != 0 {
			m.DiameterDifferencePercent = new((f.Diameter.Of - 1).Amount().Rounded().Number)
			m.ShownSpeed, m.TrueSpeed = fill(&pb.Speed{}, f.Shown), fill(&pb.Speed{}, f.True.Rounded())
		}
		m.RatedLoad, m.SupportedLoad = massIn(f.Rated, f.LabelUnit), massIn(f.Supported, f.LabelUnit)
		if f.ForLabel > 0 {
			m.PressureForLabelLoad = pressureMessage(f.ForLabel, f.LabelUnit)
		}
		out = append(out, m)
	}
	return out
}

// AxleLoads gives what the tires of each axle support.
func AxleLoads(axles []questions.AxleLoad) []*pb.AxleLoad {
	var out []*pb.AxleLoad
	for _, a := range axles {
		m := &pb.AxleLoad{Axle: int32(a.Axle), Supported: massIn(a.Supported, a.Unit)}
		if a.Needed > 0 {
			shown := a.Unit
			if shown == unit.None {
				shown = unit.PSI
			}
			m.PressureNeeded = pressureMessage(a.Needed, shown)
		}
		out = append(out, m)
	}
	return out
}

// massIn is a mass in pounds where the label is in psi or tells no unit, else in
// kilograms; nil when it is not known.
func massIn(m unit.Mass, label unit.Unit) *pb.Mass {
	switch {
	case m == 0:
		return nil
	case label == unit.PSI || label == unit.None:
		return Mass(m, unit.Pounds)
	}
	return Mass(m, unit.Kilograms)
}
