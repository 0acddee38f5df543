package fitment

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/sidewall"
)

// sizeOf is the part of a marking that decides where a tire fits and how large
// it is: its dimensions, without its load or speed.
func sizeOf(m sidewall.Marking) sidewall.Marking {
	return sidewall.Marking{SectionWidth: m.SectionWidth, Aspect: m.Aspect, Rim: m.Rim, Overall: m.Overall, Numeric: m.Numeric}
}

// sameSize compares dimensions; NotKnown where one was not read or understood.
func sameSize(a, b sidewall.Marking) finding.Answer {
	switch {
	case a.Class == sidewall.UnknownClass || b.Class == sidewall.UnknownClass:
		return finding.NotKnown
	case sizeOf(a) == sizeOf(b):
		return finding.Yes
	}
	return finding.No
}

// sameDesign tells whether two tires are of one design and size, so that their
// treads may be compared in place of their diameters. Whatever differs proves
// that they are not. That they are, only equal identification numbers prove:
// plant, size and the maker's own codes (49 CFR 574.5) of numbers read whole.
func sameDesign(a, b Tire) finding.Answer {
	size := sameSize(a.Marking, b.Marking)
	if size == finding.No {
		return finding.No
	}
	for _, x := range [][2]finding.Answer{
		{a.Directional, b.Directional}, {a.Asymmetric, b.Asymmetric}, {a.ThreePeaks, b.ThreePeaks},
		{a.MudAndSnow, b.MudAndSnow}, {a.Studded, b.Studded}, {a.Retread, b.Retread},
	} {
		if apart(x[0], x[1]) {
			return finding.No
		}
	}
	if c, d := a.Marking.Construction, b.Marking.Construction; c != d && c != sidewall.ConstructionNotTold && d != sidewall.ConstructionNotTold {
		return finding.No
	}
	if a.Codes != "" && a.Codes == b.Codes && a.Retread != finding.Yes {
		return finding.Yes // a casing's number tells nothing of the tread put on it
	}
	return finding.NotKnown
}

// apart tells that both were answered, and not alike.
func apart(a, b finding.Answer) bool {
	return a == finding.Yes && b == finding.No || a == finding.No && b == finding.Yes
}
