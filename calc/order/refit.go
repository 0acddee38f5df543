package order

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
)

// when are wheels of which something is done, each with what that depends on; "" where
// it is done in any case.
type when map[layout.Position]finding.Condition

// under are the wheels of the lines of some kinds, with what each depends on: nothing
// where one of the lines depends on nothing. Without a line it is nil.
func (l *lines) under(is func(finding.WorkKind) bool) when {
	var all when
	for i := range *l {
		w := &(*l)[i]
		if !is(finding.WorkOf(w.Code)) {
			continue
		}
		if all == nil {
			all = when{}
		}
		for _, p := range w.Positions {
			all.also(p, w.Condition)
		}
	}
	return all
}

// also is a wheel of which it is done on one more condition.
func (w when) also(p layout.Position, on finding.Condition) {
	now, known := w[p]
	switch {
	case !known || on == "":
		w[p] = on
	case now != "" && now != on:
		w[p] = finding.WhenWheelComesOff
	}
}

// comesOff are the wheels that come off the vehicle for the work: no inner one without
// the outer one before it. A spare hangs in its place.
func (l *lines) comesOff() when {
	off := l.under(func(k finding.WorkKind) bool { return k.WheelOff })
	delete(off, layout.Position{Spare: true})
	for p, on := range off {
		if p.Dual == layout.Inner {
			off.also(p.Mate(), on)
		}
	}
	return off
}

// moved are the wheels to which a line brings a tire of another place.
func (l *lines) moved() when { return l.under(func(k finding.WorkKind) bool { return k.Moves }) }

// dismounted are the wheels whose tires come off them.
func (l *lines) dismounted() when {
	return l.under(func(k finding.WorkKind) bool { return k.Dismounts })
}

// sorted are the wheels in order.
func (w when) sorted() []layout.Position {
	all := make([]layout.Position, 0, len(w))
	for p := range w {
		all = append(all, p)
	}
	slices.SortFunc(all, layout.Position.Compare)
	return all
}

// sure are those of which it is done in any case.
func (w when) sure() (all []layout.Position) {
	for _, p := range w.sorted() {
		if w[p] == "" {
			all = append(all, p)
		}
	}
	return all
}

// do is a line at each of the wheels, on the condition that its own work is done.
func (w when) do(line Work) (all []Work) {
	for _, p := range w.sorted() {
		line.Positions, line.Condition = []layout.Position{p}, w[p]
		all = append(all, line)
	}
	return all
}

// seenInside: a tire that may have run low is seen inside whenever it comes off its wheel.
func (in In) seenInside(l lines) (all []Work) {
	none, fitted := l.at(finding.WorkAirNone), l.under(func(k finding.WorkKind) bool { return k.Fits })
	for _, p := range l.dismounted().sure() {
		if on, fits := fitted[p]; none[p] && (!fits || on != "") {
			all = append(all, do(finding.WorkTireDemountInspect, p)...)
		}
	}
	for p := range l.at(finding.WorkAirDeflateFirst, finding.WorkTireRestrainingDevice) {
		if on, fits := fitted[p]; in.mayHaveRunLow(p) && (!fits || on != "") {
			all = append(all, do(finding.WorkTireDemountInspect, p)...)
		}
	}
	return all
}

// stayPut: a tire that gets no air, and that no line looks inside, airs in the device or
// ends, goes to no other place, where it would be aired; and tires that change places do
// so together.
func (l *lines) stayPut() {
	cleared := l.under(func(k finding.WorkKind) bool {
		return k.Fits || k.Code == finding.WorkTireDemountInspect || k.Code == finding.WorkTireRestrainingDevice || k.Code == finding.WorkRepairReferSection
	})
	none := l.at(finding.WorkAirNone)
	*l = slices.DeleteFunc(*l, func(w Work) bool {
		k := finding.WorkOf(w.Code)
		return k.Moves && !k.Fits && slices.ContainsFunc(w.Positions, func(p layout.Position) bool {
			on, is := cleared[p]
			return none[p] && (!is || on != "" && on != finding.WhenPassedInside)
		})
	})
}

// ofTheTire are lines of work on the tire itself, by which it stays where it is or goes.
var ofTheTire = []finding.Work{
	finding.WorkTireReplace, finding.WorkTireReplaceIfBelow, finding.WorkTireDemountInspect, finding.WorkTireLookClosely, finding.WorkRepairAfterInspection,
	finding.WorkRepairFindOut, finding.WorkRepairCombination, finding.WorkRepairTwoPiece, finding.WorkRepairReferSection, finding.WorkObjectRemoveAndSoap,
	finding.WorkObjectLeaveIn, finding.WorkAirNone, finding.WorkAirFindLeak, finding.WorkAirReadCold, finding.WorkTireRestrainingDevice, finding.WorkTiresFitRight,
}

// spareGoes: a temporary spare on the road is not mended where it runs: the road tire
// comes back. What is wrong with it is of the spare alone, which gets no air and does not
// go back into its place before it is seen inside, or is renewed.
func (in In) spareGoes(l *lines) {
	temporary := map[layout.Position]bool{}
	for _, w := range in.Visit.Wheels {
		if w.Temporary && !w.Mended.Fitted {
			temporary[w.Position] = true
		}
	}
	if len(temporary) == 0 {
		return
	}
	var hurt []layout.Position
	for p := range temporary {
		if slices.ContainsFunc(in.Findings, func(f finding.Finding) bool {
			return slices.Contains(f.Positions, p) && spoils(f) && !in.Left.Closed(f)
		}) {
			hurt = append(hurt, p)
		}
	}
	l.without(func(k finding.WorkKind) bool { return slices.Contains(ofTheTire, k.Code) }, func(_ finding.Work, p layout.Position) bool { return temporary[p] })
	l.without(func(k finding.WorkKind) bool { return k.Code == finding.WorkSpareSet }, func(_ finding.Work, p layout.Position) bool { return slices.Contains(hurt, p) })
	for _, p := range hurt {
		l.add(do(finding.WorkSpareRenew, p)...)
	}
}

// spoils tells of a finding that a spare with it is not filled and put away.
func spoils(f finding.Finding) bool {
	k := finding.KindOf(f.Code)
	return f.Urgency <= finding.ThisVisit && (k.Scrap || k.Left == finding.LeftCleared || k.Left == finding.LeftTight || k.Left == finding.LeftRepaired ||
		f.Code == finding.TreadWornToBars || slices.Contains(k.Cured, finding.DoneProbed))
}

// mayHaveRunLow tells of a wheel that its tire ran low, or that it is open whether it did.
func (in In) mayHaveRunLow(p layout.Position) bool {
	return slices.ContainsFunc(in.Findings, func(f finding.Finding) bool {
		left := finding.KindOf(f.Code).Left
		return !in.wheelAt(p).Temporary && slices.Contains(f.Positions, p) && (left == finding.LeftCleared || f.Code == finding.InflationFlat)
	})
}

// inDevice: what nothing looks inside of is aired in the device without having passed it.
func (l *lines) inDevice() {
	inside := l.at(finding.WorkTireDemountInspect)
	var sure []layout.Position
	l.without(func(k finding.WorkKind) bool { return k.Code == finding.WorkTireRestrainingDevice }, func(_ finding.Work, p layout.Position) bool {
		if !inside[p] {
			sure = append(sure, p)
		}
		return !inside[p]
	})
	if len(sure) > 0 {
		l.add(underAir("", sure...))
	}
}

// chock is said once where any wheel surely comes off, and else once for each condition.
func chock(off when) []Work {
	if len(off.sure()) > 0 {
		return do(finding.WorkVehicleChock)
	}
	var all []Work
	for _, line := range off.do(Work{Code: finding.WorkVehicleChock}) {
		line.Positions = nil
		if !slices.ContainsFunc(all, func(w Work) bool { return w.Condition == line.Condition }) {
			all = append(all, line)
		}
	}
	return all
}

// refit is what goes before and after lines that take a wheel off its hub or a tire off
// its wheel: whatever comes off goes on again.
func (in In) refit(l lines) (all []Work) {
	off, bare := l.comesOff(), l.dismounted()
	const most = 14 // of one wheel
	if len(off) > 0 {
		all = append(make([]Work, 0, most), chock(off)...)
		all = append(all, off.do(Work{Code: finding.WorkConsentLook})...)
		all = append(all, off.do(Work{Code: finding.WorkWheelTakeOff})...)
	}
	if sure := off.sure(); len(sure) > 0 {
		all = append(all, do(finding.WorkWheelLookWhileOff, sure...)...)
		all = append(all, do(finding.WorkAirCompareMate, sure...)...)
	}
	if mended := l.under(mends); len(mended) > 0 {
		all = append(all, do(finding.WorkConsentMend, mended.sorted()...)...)
	}
	if fitted := l.under(func(k finding.WorkKind) bool { return k.Fits }).sure(); len(fitted) > 0 {
		all = append(all, do(finding.WorkTireCheckNew, fitted...)...)
	}
	if sure := bare.sure(); len(sure) > 0 {
		all = append(all, proved(do(finding.WorkValveRenew, sure...))...)
		all = append(all, do(finding.WorkTireSoap, sure...)...)
		all = append(all, in.balance(sure)...)
	}
	all = append(all, bare.do(Work{Code: finding.WorkTireMount, Target: rulebook.Must("advice").Limit("bead-seat").Value})...)
	all = append(all, in.matingFaces(off.sure())...)
	all = append(all, off.do(Work{Code: finding.WorkWheelHang})...)
	return all
}

// mends tells of a kind that it waits for an OK to mend.
func mends(k finding.WorkKind) bool {
	return k.Fits || k.Stage == finding.StageMend || k.Stage == finding.StageParts || k.Stage == finding.StageAlignment
}

// balance is for wheels of the road; those of trailers are seldom balanced.
func (in In) balance(at []layout.Position) []Work {
	road := slices.DeleteFunc(slices.Clone(at), func(p layout.Position) bool { return p.Spare })
	if in.Visit.Vehicle.Class == layout.Trailer || len(road) == 0 {
		return nil
	}
	return do(finding.WorkWheelBalance, road...)
}

// matingFaces are cleaned where heavy wheels come off.
func (in In) matingFaces(off []layout.Position) (all []Work) {
	v := in.Visit.Vehicle
	for _, p := range off {
		if a, ok := v.AxleOf(p); ok && (a.Dual || v.Class == layout.Heavy || v.Class == layout.Bus) {
			all = append(all, do(finding.WorkWheelMatingFaces, p)...)
		}
	}
	return all
}

// givesWay are lines that contradict others on one wheel, and what they give way to.
var givesWay = []struct{ lines, to []finding.Work }{
	{[]finding.Work{finding.WorkObjectLeaveIn}, []finding.Work{finding.WorkObjectRemoveAndSoap}},
	{[]finding.Work{finding.WorkTireReplace, finding.WorkTireReplaceIfBelow}, []finding.Work{finding.WorkTiresReplacePair}},
	{[]finding.Work{finding.WorkTireReplaceIfBelow}, []finding.Work{finding.WorkTireReplace}},
	{[]finding.Work{finding.WorkTiresFitRight}, []finding.Work{finding.WorkTiresMatchAxle}},
	{[]finding.Work{finding.WorkTiresMatchAxle}, []finding.Work{finding.WorkTireReplace, finding.WorkTiresReplacePair}},
	{[]finding.Work{finding.WorkRepairAfterInspection, finding.WorkRepairCombination, finding.WorkRepairTwoPiece, finding.WorkRepairReferSection,
		finding.WorkRepairFindOut, finding.WorkObjectRemoveAndSoap, finding.WorkObjectLeaveIn, finding.WorkTireRemount, finding.WorkWheelsSwapSides, finding.WorkTireDemountInspect},
		[]finding.Work{finding.WorkTireReplace, finding.WorkTiresReplacePair}},
	{[]finding.Work{finding.WorkAirSetForSize, finding.WorkTireRemount, finding.WorkWheelsSwapSides}, []finding.Work{finding.WorkTiresFitRight}},
	{[]finding.Work{finding.WorkWheelsSwapSides}, []finding.Work{finding.WorkTireRemount}},
	{[]finding.Work{finding.WorkWheelTorqueCheck}, []finding.Work{finding.WorkWheelTorque}},
}

// giveWay takes out what contradicts another line on one wheel. Wheels that change
// places do so together: where one of them cannot, none does.
func (l *lines) giveWay() {
	for _, row := range givesWay {
		if !slices.ContainsFunc(*l, func(w Work) bool { return slices.Contains(row.lines, w.Code) }) {
			continue
		}
		to := l.at(row.to...)
		together := l.at(row.lines...)
		broken := slices.ContainsFunc(sorted(together), func(p layout.Position) bool { return to[p] })
		l.without(func(k finding.WorkKind) bool { return slices.Contains(row.lines, k.Code) }, func(code finding.Work, p layout.Position) bool {
			return to[p] || broken && finding.WorkOf(code).Moves && to[p.Mirror()]
		})
	}
	others := l.at(finding.WorkTiresDeeperPairToRear, finding.WorkWheelsSwapSides, finding.WorkTireReplace, finding.WorkTiresReplacePair, finding.WorkTireRemount)
	if len(others) > 0 { // the places of a rotation are those of tires that stay
		l.without(func(k finding.WorkKind) bool { return k.Code == finding.WorkTiresRotate }, func(finding.Work, layout.Position) bool { return true })
	}
}
