package tell

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

// What a reader left open is told in the units that a visit was read in, as far as its
// answer shows: work, whose practice is told in psi and miles, in all of them; a finding, which
// tells what was read as it was read, in those of its law and its practice alone, with their own
// numbers beside. A visit that was read in both systems has a unit of pressure and of distance
// for its work, where those are metric.

// ReadIn are the units that what is found at a visit is told in, as far as its whole answer
// shows.
func ReadIn(a *pb.Assessment) words.Units { return ofLaw(readIn(a)) }

// ofLaw are the units of what was not read: none where both systems were, and none of
// pressure, of which one system has two.
func ofLaw(read words.Units) words.Units {
	if read.Depth == unit.None {
		return words.Units{}
	}
	read.Pressure = unit.None
	return read
}

// readIn are the units that a visit was read in.
func readIn(a *pb.Assessment) words.Units {
	var s system
	for _, w := range a.GetWheels() {
		for _, p := range []*pb.Pressure{w.GetLabelCold(), w.GetFound()} {
			s.see(read(p.GetAsRead()))
		}
		s.see(read(w.GetGoverningDepth().GetAsRead()).OfTread())
	}
	for _, f := range a.GetFindings() {
		s.distance(Amount(f.GetMeasured()))
		for _, e := range f.GetEvidence() {
			s.distance(Amount(e.GetAmount()))
		}
	}
	return s.units()
}

// readInHeadline are those of a visit of which the headline alone is there, and what is open.
func readInHeadline(h *pb.Headline, open []*pb.OpenFinding) words.Units {
	var s system
	for _, said := range h.GetFacts() {
		for _, v := range said.GetValues() {
			s.see(Amount(v.GetQuantity()))
			s.distance(Amount(v.GetQuantity()))
		}
	}
	for _, f := range open {
		s.see(Amount(f.GetFinding().GetMeasured()))
		s.distance(Amount(f.GetFinding().GetMeasured()))
	}
	return ofLaw(s.units())
}

// system is what was seen of the units that a visit was read in.
type system struct {
	pressure          unit.Unit // metric; none: none was read so
	metric, inch      bool      // of depths and pressures
	kilometers, miles bool
}

// see notes a depth of tread or a pressure.
func (s *system) see(a unit.Amount) {
	switch {
	case a.Unit == unit.Bar || a.Unit == unit.Kilopascals:
		s.pressure, s.metric = a.Unit, true
	case a.Tread && a.Unit == unit.Millimeters:
		s.metric = true
	case a.Unit == unit.PSI, a.Unit == unit.ThirtySecondsInch:
		s.inch = true
	}
}

// distance notes a distance, and what goes by it.
func (s *system) distance(a unit.Amount) {
	switch a.Unit {
	case unit.Kilometers, unit.MillimetersPer1000Kilometer:
		s.kilometers = true
	case unit.Miles, unit.ThirtySecondsPer1000Miles:
		s.miles = true
	}
}

// units are those of the system; kilometers where no distance was told in miles.
func (s *system) units() words.Units {
	all := words.Units{Pressure: s.pressure}
	switch {
	case s.metric && !s.inch:
		all = words.Units{Depth: unit.Millimeters, Length: unit.Millimeters, Pressure: s.pressure, Speed: unit.KilometersPerHour}
		if all.Pressure == unit.None {
			all.Pressure = unit.Bar
		}
	case s.inch && !s.metric:
		all = words.Units{Depth: unit.ThirtySecondsInch, Length: unit.Inches, Pressure: unit.PSI, Speed: unit.MilesPerHour}
	}
	if !s.miles && (s.kilometers || s.metric && !s.inch) {
		all.Distance = unit.Kilometers
	}
	return all
}
