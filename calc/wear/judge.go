package wear

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Result is what is said about the wear of a vehicle.
type Result struct {
	Findings []finding.Finding
	Even     []layout.Position // read across, and no shape called
	Unread   []layout.Position // not read across: no shape can be told
}

// Judge finds the wear shapes of a vehicle's tires and ranks their causes.
func Judge(v Vehicle) Result {
	v.Tires = slices.DeleteFunc(slices.Clone(v.Tires), func(t Tire) bool { return t.At.Spare })
	slices.SortFunc(v.Tires, func(a, b Tire) int { return a.At.Compare(b.At) })
	j := &trial{Vehicle: v}
	for _, t := range v.Tires {
		j.round(t)
		j.edges(t)
		j.marks(t)
	}
	j.flatSpots()
	for axle := range len(v.Layout.Axles) {
		j.axle(axle + 1)
	}
	j.homeless()
	j.newPattern()
	j.oddTires()
	j.driven()
	j.rotation()
	j.tally()
	return j.Result
}

// trial gathers the result.
type trial struct {
	Vehicle
	Result
	flat map[layout.Position]bool // a flat spot was found: its other shapes follow from it
}

func (j *trial) add(fs ...finding.Finding) { j.Findings = append(j.Findings, fs...) }

func note(code finding.Code, settle finding.Code, at ...layout.Position) finding.Finding {
	return finding.Finding{
		Code: code, Urgency: finding.Note, Positions: at, ToSettle: settle,
		Rule: finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory},
	}
}

// round judges shapes round the tire that are no flat spot. Three stations
// prove only that a tire is not round: a hand or a high-and-low pair names it.
func (j *trial) round(t Tire) {
	if t.Felt.Scalloped || slices.ContainsFunc(t.HighLow, func(p HighLow) bool { return called(p.High.Minus(p.Low)) }) {
		f := note(Scalloped, CheckDampers, t.At)
		f.Urgency = finding.Plan
		for _, p := range t.HighLow {
			if v := p.High.Minus(p.Low); called(v) {
				f = shapeOf(v, t)
				f.Code, f.ToSettle = Scalloped, CheckDampers
			}
		}
		j.add(f)
		return
	}
	if _, spot := t.lowRing(j.Gauge); spot || t.Felt.FlatSpot {
		return
	}
	if v, ok := t.roundRange(j.Gauge); ok && called(v) && j.wholeRings(t) {
		f := shapeOf(v, t)
		f.Code, f.ToSettle, f.Urgency = NotRound, HighLowPair, finding.Plan
		j.add(f)
	}
}

// wholeRings: more than one groove swings round the tire; one groove alone may
// be a misreading, which the depth judgement asks to be measured again.
func (j *trial) wholeRings(t Tire) bool {
	swinging := 0
	for k := 0; ; k++ {
		var ds []unit.Depth
		for _, ring := range t.Rings {
			if k < len(ring) {
				ds = append(ds, ring[k])
			}
		}
		if len(ds) == 0 {
			return swinging > 1
		}
		if called(j.Gauge.Read(slices.Max(ds)).Minus(j.Gauge.Read(slices.Min(ds)))) {
			swinging++
		}
	}
}

// edges: grooves end before the edge of the tread does, so an edge may be gone
// while every groove is deep.
func (j *trial) edges(t Tire) {
	for side, gone := range t.EdgeGone {
		if !gone {
			continue
		}
		f := note(EdgeBeyondGrooves, AlignmentRack, t.At)
		f.Urgency = finding.Plan
		f.Place.Across = [...]layout.Across{layout.Inboard, layout.Outboard}[side]
		j.add(f)
	}
}

func (j *trial) marks(t Tire) {
	if t.Felt.HeelAndToe {
		j.add(note(HeelAndToe, "", t.At))
	}
	if t.Felt.Diagonal {
		f := note(DiagonalDips, AlignmentRack, t.At)
		f.Urgency = finding.Plan
		j.add(f)
	}
}

// flatSpots: one place where all grooves drop together. On both wheels of an
// axle it was braked with the wheels locked; an event needs no miles.
func (j *trial) flatSpots() {
	j.flat = map[layout.Position]bool{}
	drops := map[layout.Position]depth{}
	for _, t := range j.Tires {
		if v, ok := t.lowRing(j.Gauge); ok {
			j.flat[t.At], drops[t.At] = true, v
		} else if t.Felt.FlatSpot {
			j.flat[t.At] = true
		}
	}
	for _, t := range j.Tires {
		if !j.flat[t.At] {
			continue
		}
		mate := t.At.Mirror()
		f := note(FlatSpot, CheckBrakes, t.At)
		if v, ok := drops[t.At]; ok {
			f = shapeOf(v, t)
			f.Code, f.ToSettle = FlatSpot, CheckBrakes
		}
		if j.flat[mate] {
			if t.At.Side == layout.Right {
				continue
			}
			f.Code, f.Positions = FlatSpotLocked, []layout.Position{t.At, mate}
			if slices.ContainsFunc(j.Tires, func(o Tire) bool { return o.At == mate && len(o.Rings) > 0 }) && drops[mate].Of > drops[t.At].Of {
				g := shapeOf(drops[mate], t)
				f.Measured, f.Margin = g.Measured, g.Margin
			}
		}
		f.Urgency = finding.Plan
		j.add(f)
	}
}

// axle judges the tires whose wear was made on one axle.
func (j *trial) axle(n int) {
	var at []Tire
	for _, t := range j.Tires {
		if t.Wore.Axle == n && !j.flat[t.At] && t.Across != nil {
			at = append(at, t)
		}
	}
	if len(at) == 0 {
		return
	}
	j.tilted(n, at)
	j.crowned(n, at)
	for _, t := range at {
		if t.recent() && !t.even() && t.Wore != t.At {
			f := note(FormerPosition, "", t.At)
			f.Evidence = []finding.Evidence{{Code: "wear.miles-here", Amount: t.Here.Amount(unit.Miles).Rounded()}}
			j.add(f)
		}
	}
}

// homeless: a shape on a tire that has not run long enough where it is, and
// whose former position nobody recorded, is named but blamed on no axle.
func (j *trial) homeless() {
	for _, t := range j.Tires {
		if t.Wore != (layout.Position{}) || t.even() || t.Across == nil || j.flat[t.At] || j.molded(t) {
			continue
		}
		f := note(FormerPosition, "", t.At)
		if t.Here != nil {
			f.Evidence = []finding.Evidence{{Code: "wear.miles-here", Amount: t.Here.Amount(unit.Miles).Rounded()}}
		}
		f.Evidence = append(f.Evidence, finding.Evidence{Code: "wear.former-position-not-recorded"})
		j.add(f)
	}
}

func (j *trial) tilted(n int, at []Tire) {
	left, right := bySide(at, layout.Left), bySide(at, layout.Right)
	var worn []Tire
	for _, t := range at {
		if v, _ := t.tilt(); called(v) {
			worn = append(worn, t)
		}
	}
	switch {
	case len(worn) == 0:
		j.almost(left, right)
	case left != nil && right != nil && len(worn) == 2 && sameSign(*left, *right):
		j.mirrored(n, *left, *right)
	case left != nil && right != nil && len(worn) == 2:
		j.sameSide(n, *left, *right)
	default:
		for _, t := range worn {
			j.alone(n, t)
		}
	}
}

// bySide gives the one tire of a side; nil on duals and where there is none.
func bySide(at []Tire, s layout.Side) *Tire {
	var found *Tire
	for i := range at {
		if at[i].Wore.Side == s {
			if found != nil {
				return nil
			}
			found = &at[i]
		}
	}
	return found
}

func sameSign(a, b Tire) bool {
	x, _ := a.tilt()
	y, _ := b.tilt()
	return (x.Of > 0) == (y.Of > 0)
}

// almost: one step mirrored on both tires is provable of the pair and still no
// fault: look again next time.
func (j *trial) almost(left, right *Tire) {
	if left == nil || right == nil || j.molded(*left) {
		return
	}
	a, okA := left.tilt()
	b, okB := right.tilt()
	if !okA || !okB || (a.Of > 0) != (b.Of > 0) || a.Of == 0 || b.Of == 0 {
		return
	}
	if mean := measure.Mean(a, b); provable(mean) {
		f := shapeOf(mean, *left, *right)
		f.Code, f.Urgency, f.ToSettle, f.Outcome = LookAgain, finding.Note, ReadAgain, measure.Below
		j.add(f)
	}
}

// tiltOf is the larger tilt of the tires, as a finding, and whether the inboard
// edge is the worn one.
func tiltOf(ts ...Tire) (f finding.Finding, inboard bool) {
	var worst depth
	for _, t := range ts {
		if v, _ := t.tilt(); size(v) > size(worst) {
			worst = v
		}
	}
	f = shapeOf(worst, ts...)
	f.Place.Across = layout.Outboard
	if worst.Of < 0 {
		f.Place.Across = layout.Inboard
	}
	return f, worst.Of < 0
}

// mirrored: the same edge worn on both tires of an axle. Depth cannot tell toe
// from camber; the hand, the rack and the work done can.
func (j *trial) mirrored(n int, left, right Tire) {
	f, inboard := tiltOf(left, right)
	toe, camber, corner := j.alignment(n, inboard, left, right)
	suspects := []*suspect{toe, camber}
	if !inboard {
		suspects = append(suspects, corner)
	}
	j.add(ranked(f, suspects...)...)
}

// alignment tries toe, camber and cornering on what is known of the axle.
func (j *trial) alignment(n int, inboard bool, ts ...Tire) (toe, camber, corner *suspect) {
	toe, camber, corner = &suspect{code: ToeIn, settle: FeelRibs}, &suspect{code: CamberPositive, settle: FeelRibs}, &suspect{code: Cornering, settle: FeelRibs}
	if inboard {
		toe.code, camber.code = ToeOut, CamberNegative
	}
	toward, away, smooth, rounded, scuffs := false, false, false, false, false
	for _, t := range ts {
		toward, away = toward || t.Felt.SharpToward, away || t.Felt.SharpAway
		smooth, rounded, scuffs = smooth || t.Felt.Smooth, rounded || t.Felt.EdgeRounded, scuffs || t.Felt.SlantScuffs
	}
	sharp := toward
	sharpCode := finding.Code("wear.felt-sharp-toward")
	if inboard {
		sharp, sharpCode = away, "wear.felt-sharp-away"
	}
	toe.say(3, sharpCode, sharp)
	camber.say(-2, sharpCode, sharp)
	corner.say(-2, sharpCode, sharp)
	toe.say(-2, "wear.felt-smooth", smooth && !sharp)
	camber.say(2, "wear.felt-smooth", smooth && !sharp && !rounded)
	front := j.Layout.Axles[n-1].Steered
	corner.say(2, "wear.edge-rounded", rounded)
	corner.say(1, "wear.slant-scuffs", scuffs)
	camber.say(-1, "wear.edge-rounded", rounded)
	toe.say(-1, "wear.edge-rounded", rounded)
	corner.say(-1, "wear.no-rounded-edge", !rounded && !scuffs)
	corner.say(-2, "wear.not-a-steered-axle", !front)
	for _, w := range j.Work {
		if !w.on(n) || !w.sinceWorn(ts[0]) {
			continue
		}
		switch w.Kind {
		case AlignmentMeasured:
			good := w.InRange == finding.Yes
			toe.say(-3, "wear.alignment-in-range", good)
			camber.say(-3, "wear.alignment-in-range", good)
			corner.say(1, "wear.alignment-in-range", good)
			toe.say(2, "wear.alignment-out-of-range", w.InRange == finding.No)
			camber.say(2, "wear.alignment-out-of-range", w.InRange == finding.No)
		case SteeringPart:
			toe.say(2, "wear.steering-part-no-alignment", !j.alignedAfter(w, n))
		case SuspensionPart:
			toe.say(1, "wear.suspension-part-no-alignment", !j.alignedAfter(w, n))
			camber.say(1, "wear.suspension-part-no-alignment", !j.alignedAfter(w, n))
		case Lowered:
			camber.say(2, "wear.lowered", inboard)
		}
	}
	if toe.settle == FeelRibs && (sharp || smooth) {
		toe.settle, camber.settle, corner.settle = AlignmentRack, AlignmentRack, AlignmentRack
	}
	return toe, camber, corner
}

// on tells whether the work was done on the axle; work without positions is of
// the whole vehicle.
func (w Work) on(axle int) bool {
	return len(w.At) == 0 || slices.ContainsFunc(w.At, func(p layout.Position) bool { return p.Axle == axle })
}

// sinceWorn tells whether a measurement or change can bear on the shape. An
// alignment measured counts whenever it was in the tire's life; one set only
// lately neither explains nor clears what was worn before.
func (w Work) sinceWorn(t Tire) bool {
	return t.OnTire == nil || w.Ago == nil || *w.Ago <= *t.OnTire
}

// alignedAfter tells whether the alignment was set or found right after the work.
func (j *trial) alignedAfter(w Work, axle int) bool {
	return slices.ContainsFunc(j.Work, func(a Work) bool {
		good := a.Kind == AlignmentSet || a.Kind == AlignmentMeasured && a.InRange == finding.Yes
		return good && a.on(axle) && (a.Ago == nil || w.Ago == nil || *a.Ago <= *w.Ago)
	})
}

// sameSide: the left tire's one edge and the right tire's other. That is not
// toe: look behind the steer axle, or at constant one-sided cornering.
func (j *trial) sameSide(n int, left, right Tire) {
	if !j.Layout.Axles[n-1].Steered {
		j.alone(n, left)
		j.alone(n, right)
		return
	}
	f, _ := tiltOf(left, right)
	f.Code, f.ToSettle, f.Place.Across = AxleNotSquare, LookBehindAxle, layout.AcrossNotTold
	f.Rank = 1
	j.add(f)
}

// alone: one tire of the axle worn at an edge. The two ends of a steered axle
// share their toe, so one alone is camber or a bent part on that corner; look
// for the bend before any alignment. Independent rear toe can be single.
func (j *trial) alone(n int, t Tire) {
	f, inboard := tiltOf(t)
	toe, camber, _ := j.alignment(n, inboard, t)
	if j.Layout.Axles[n-1].Steered {
		camber.code, camber.settle = OneCorner, LookForBend
		j.add(ranked(f, camber)...)
		return
	}
	bend := &suspect{code: OneCorner, settle: LookForBend, score: min(toe.score, camber.score)}
	j.add(ranked(f, toe, camber, bend)...)
}

func (j *trial) crowned(n int, at []Tire) {
	var edges, center []Tire
	for _, t := range at {
		v, _ := t.crown()
		switch {
		case j.molded(t) || !called(v):
		case v.Of > 0:
			edges = append(edges, t)
		default:
			center = append(center, t)
		}
	}
	if len(edges) > 0 {
		j.bothEdges(n, edges)
	}
	if len(center) > 0 {
		j.centerWorn(n, center)
	}
}

func crownOf(ts ...Tire) finding.Finding {
	var worst depth
	for _, t := range ts {
		if v, _ := t.crown(); size(v) > size(worst) {
			worst = v
		}
	}
	f := shapeOf(worst, ts...)
	if worst.Of < 0 {
		f.Place.Across = layout.Center
	}
	return f
}

// history counts the earlier visits at which the tires were found low, at their
// label, or high.
func history(ts []Tire) (low, right, high int) {
	lowAt, highAt := advice.Limit("found-low").Ratio(), advice.Limit("found-high").Ratio()
	for _, t := range ts {
		l, r, h := 0, 0, 0
		for _, p := range t.Earlier {
			switch {
			case measure.AtMost(measure.Exact(p.Share.Of), lowAt).Outcome == measure.Below:
				l++
			case measure.AtLeast(measure.Exact(p.Share.Of), highAt).Outcome == measure.Above:
				h++
			default:
				r++
			}
		}
		low, right, high = max(low, l), max(right, r), max(high, h)
	}
	return low, right, high
}

// otherAxle tells how the other axle of a two-axle vehicle is worn: whether its
// tires show the same sign of crown, and whether they are flat across.
func (j *trial) otherAxle(n int, sign int) (same, flat bool) {
	flat = true
	seen := false
	for _, t := range j.Tires {
		if t.Wore.Axle == n || t.Wore.Axle == 0 || t.Across == nil || j.flat[t.At] {
			continue
		}
		seen = true
		v, _ := t.crown()
		if called(v) && !j.molded(t) {
			flat = false
			same = same || (v.Of > 0) == (sign > 0)
		}
	}
	return same, flat && seen
}

// bothEdges: pressure, load or cornering.
func (j *trial) bothEdges(n int, at []Tire) {
	under := &suspect{code: UnderinflatedLong, settle: ComparePressure}
	over := &suspect{code: Overloaded, settle: AskLoad}
	corner := &suspect{code: Cornering, settle: FeelRibs}
	low, right, _ := history(at)
	same, flat := j.otherAxle(n, +1)
	rounded := slices.ContainsFunc(at, func(t Tire) bool { return t.Felt.EdgeRounded || t.Felt.SlantScuffs })
	felt := slices.ContainsFunc(at, func(t Tire) bool { return t.Felt.Any })
	steered := j.Layout.Axles[n-1].Steered

	under.say(3, "wear.found-low-earlier", low > 0)
	under.say(1, "wear.found-low-more-than-once", low > 1)
	under.say(-3, "wear.found-right-earlier", low == 0 && right > 1)
	under.say(2, "wear.other-axle-the-same", same)
	under.say(-1, "wear.other-axle-flat", flat)
	over.say(1, "wear.found-right-earlier", low == 0 && right > 1)
	over.say(2, "wear.runs-loaded", j.Loaded == finding.Yes)
	over.say(-1, "wear.does-not-run-loaded", j.Loaded == finding.No)
	corner.say(2, "wear.edge-rounded", rounded)
	corner.say(-1, "wear.no-rounded-edge", felt && !rounded)
	corner.say(1, "wear.other-axle-flat", flat && steered)
	corner.say(-2, "wear.other-axle-the-same", same)
	corner.say(-3, "wear.not-a-steered-axle", !steered)
	j.add(ranked(crownOf(at...), under, over, corner)...)
}

// centerWorn: light load at full-load pressure, torque of a driven axle, or too
// much air. Nobody is told to go below the label.
func (j *trial) centerWorn(n int, at []Tire) {
	light := &suspect{code: LightLoad, settle: AskLoad}
	torque := &suspect{code: DriveTorque, settle: ComparePressure}
	over := &suspect{code: OverinflatedLong, settle: ComparePressure}
	_, right, high := history(at)
	axle := j.Layout.Axles[n-1]
	_, flat := j.otherAxle(n, -1)

	over.say(3, "wear.found-high-earlier", high > 0)
	over.say(-3, "wear.found-right-earlier", high == 0 && right > 0)
	over.say(-1, "wear.only-one-axle", flat)
	light.say(2, "wear.found-right-earlier", high == 0 && right > 0)
	light.say(-2, "wear.found-high-earlier", high > 0)
	light.say(1, "wear.only-the-driven-axle", flat && axle.Driven)
	light.say(1, "wear.label-for-a-load", j.carriesLoad())
	light.say(1, "wear.does-not-run-loaded", j.Loaded == finding.No)
	light.say(-2, "wear.runs-loaded", j.Loaded == finding.Yes)
	torque.say(1, "wear.only-the-driven-axle", flat && axle.Driven)
	torque.say(-3, "wear.not-a-driven-axle", !axle.Driven)
	j.add(ranked(crownOf(at...), light, torque, over)...)
}

// carriesLoad: the label is made for a load that is not always there.
func (j *trial) carriesLoad() bool {
	switch j.Layout.Class {
	case layout.LightTruck, layout.Heavy, layout.Bus, layout.Motorhome, layout.Trailer:
		return true
	}
	return false
}

// newPattern: the same shape on all tires that have hardly run is the mold's.
func (j *trial) newPattern() {
	var at []layout.Position
	for _, t := range j.Tires {
		if v, ok := t.crown(); ok && called(v) && j.molded(t) {
			at = append(at, t.At)
		}
	}
	if len(at) > 0 {
		j.add(note(NoPatternNew, "", at...))
	}
}

// oddTires: one tire lower than its mate and even across. First ask whether it
// is the same age; a different tire comes before a dragging brake.
func (j *trial) oddTires() {
	for _, t := range j.Tires {
		mate := j.tire(t.At.Mirror())
		if mate == nil || t.Mean == nil || mate.Mean == nil || !t.even() || !mate.even() || j.flat[t.At] || j.flat[mate.At] {
			continue
		}
		diff := mate.Mean.Minus(*t.Mean)
		if diff.Of <= 0 || !called(diff) {
			continue
		}
		f := shapeOf(diff, t)
		other := &suspect{code: DifferentTire, settle: ReadDates}
		faster := &suspect{code: OneTireFaster, settle: CheckBrakes}
		same, known := sameTire(t, *mate)
		other.say(4, "wear.made-or-fitted-apart", known && !same)
		faster.say(-3, "wear.made-or-fitted-apart", known && !same)
		other.say(-3, "wear.made-and-fitted-together", known && same)
		faster.say(1, "wear.made-and-fitted-together", known && same)
		if !known {
			faster.settle = ReadDates
		}
		j.add(ranked(f, other, faster)...)
	}
}

// sameTire compares date codes, fit dates and markings; known is false when
// none of them was told of both.
func sameTire(a, b Tire) (same, known bool) {
	same = true
	if a.Made != "" && b.Made != "" {
		known, same = true, same && a.Made == b.Made
	}
	if !a.Fitted.IsZero() && !b.Fitted.IsZero() {
		known, same = true, same && a.Fitted == b.Fitted
	}
	if a.Size != "" && b.Size != "" && a.Size != b.Size {
		known, same = true, false
	}
	return same, known
}

func (j *trial) tire(p layout.Position) *Tire {
	for i := range j.Tires {
		if j.Tires[i].At == p {
			return &j.Tires[i]
		}
	}
	return nil
}

// driven: an axle that the engine turns loses evenly more than the other.
func (j *trial) driven() {
	if len(j.Layout.Axles) != 2 {
		return
	}
	var lost [2]depth
	var at [2][]Tire
	for i := range 2 {
		var vs []depth
		for _, t := range j.Tires {
			if t.Wore.Axle != i+1 || t.recent() {
				continue
			}
			v, ok := t.lost()
			if !ok || !t.even() || j.flat[t.At] {
				return
			}
			vs, at[i] = append(vs, v), append(at[i], t)
		}
		if len(vs) < 2 {
			return
		}
		lost[i] = measure.Mean(vs...)
	}
	for i := range 2 {
		v := lost[i].Minus(lost[1-i])
		if v.Of > 0 && called(v) && j.Layout.Axles[i].Driven && !j.Layout.Axles[1-i].Driven {
			f := shapeOf(v, at[i]...)
			f.Code, f.Rank = DriveTorque, 1
			f.Evidence = []finding.Evidence{{Code: "wear.only-the-driven-axle"}, {Code: "wear.even-across"}}
			j.add(f)
		}
	}
}

// rotation: none on record for longer than the usual interval, on tires that
// may be rotated.
func (j *trial) rotation() {
	a := j.Layout.Axles
	if len(a) != 2 || a[0].Dual || a[1].Dual || a[0].Size != a[1].Size || j.Layout.Class != layout.PassengerCar && j.Layout.Class != layout.LightTruck {
		return
	}
	l := advice.Limit("rotation-by")
	by := unit.MustDistance(l.Value.Number, l.Value.Unit)
	var since *unit.Distance
	for _, t := range j.Tires {
		d := t.OnTire
		if t.Here != nil {
			d = t.Here
		}
		if d == nil || t.Size != j.Tires[0].Size {
			return
		}
		if since == nil || *d < *since {
			since = d
		}
	}
	for _, w := range j.Work {
		if w.Kind == Rotated && (w.Ago == nil || since == nil || *w.Ago < *since) {
			since = w.Ago
		}
	}
	if since == nil || *since <= by {
		return
	}
	f := note(RotationMissed, "", positions(j.Tires...)...)
	f.Urgency, f.Rule = finding.Plan, advice.RuleOf(l)
	f.Measured, f.Limit = since.Amount(unit.Miles).Rounded(), l.Value
	f.Margin = unit.Amount{Number: f.Measured.Number - l.Value.Number, Unit: l.Value.Unit}
	f.Outcome = measure.Above
	j.add(f)
}

func (j *trial) tally() {
	for _, t := range j.Tires {
		switch {
		case t.Across == nil:
			j.Unread = append(j.Unread, t.At)
		case t.even() && !j.flat[t.At] && !slices.ContainsFunc(j.Findings, func(f finding.Finding) bool {
			return slices.Contains(f.Positions, t.At) && f.Urgency != finding.Note && f.Code != RotationMissed
		}):
			j.Even = append(j.Even, t.At)
		}
	}
}
