package sidewall

import (
	"math"

	"gaugebook.dev/calc/unit"
)

// closeness is the relative difference below which two numbers are the same:
// the unit in which a figure was read must not decide.
const closeness = 1e-9

// Law is how the load that a tire carries goes with its cold pressure: the rated
// load x (cold / Reference)^Exponent, and never more than the rated load.
// Exponent and Reference belong together and to one class of tires. Whose tables
// they were read from, and how they are known, stands in the rulebook "load".
type Law struct {
	ID        string        // of the limit in the rulebook: "p-metric"
	Exponent  float64       // 0: no table is known, only the rated load at the rated pressure
	Reference unit.Pressure // cold, at which the rated load is carried
	Floor     unit.Pressure // cold, below which no figure is given; 0 without a table
	Within    unit.Ratio    // how far published loads have been seen from the law, half-width
}

// Laws lists the laws, of passenger tires at the reference of standard load. A
// reference of 0 stands on the sidewall, or follows from the load range.
func Laws() []Law {
	return []Law{pMetric, metricPassenger, lightTruck, heavyTruck, ratedOnly}
}

var (
	pMetric         = Law{ID: "p-metric", Exponent: 0.5, Reference: kPa(240), Floor: psi(26), Within: 0.01}
	metricPassenger = Law{ID: "metric", Exponent: 0.8, Reference: kPa(250), Floor: psi(26), Within: 0.01}
	lightTruck      = Law{ID: "light-truck", Exponent: 0.7, Floor: psi(35), Within: 0.02}
	heavyTruck      = Law{ID: "heavy", Exponent: 0.7, Floor: psi(70), Within: 0.01}
	ratedOnly       = Law{ID: "rated-only"}
)

// extraReference is the reference of extra load; of HL too, of metric sizes.
var extraReference = map[string]unit.Pressure{pMetric.ID: kPa(280), metricPassenger.ID: kPa(290)}

// rangePressure is the rated pressure of light truck tires in metric sizes by
// load range. Of flotation and numeric sizes only the sidewall tells it.
var rangePressure = map[string]unit.Pressure{"C": psi(50), "D": psi(65), "E": psi(80)}

func psi(n float64) unit.Pressure { return unit.MustPressure(n, unit.PSI) }
func kPa(n float64) unit.Pressure { return unit.MustPressure(n, unit.Kilopascals) }

// Share gives the share of the rated load that the law has at a cold pressure,
// also below the floor; at most 1. Without a table it is 1 from the reference on
// and 0 below.
func (l Law) Share(cold unit.Pressure) unit.Ratio {
	switch {
	case atLeast(float64(cold), float64(l.Reference)):
		return 1
	case l.Exponent == 0 || cold <= 0:
		return 0
	}
	return unit.Ratio(math.Pow(float64(cold/l.Reference), l.Exponent))
}

func atLeast(v, least float64) bool { return v >= least*(1-closeness) }

// Printed is what a sidewall prints beside its designation; zero is not told.
type Printed struct {
	Maximum      unit.Pressure // cold
	Single, Dual unit.Mass     // maximum load of one tire, alone and in a pair
}

// Rating is what one tire may carry, and how that goes with its cold pressure.
type Rating struct {
	Single  unit.Mass
	Dual    unit.Mass // one tire of a pair, 0 when not known
	Law     Law
	Maximum unit.Pressure // cold: the sidewall's, else the reference
	// MarkAssumed: no load mark was written, which by the way tires are marked is
	// standard load, and no sidewall pressure confirms it.
	MarkAssumed bool
}

// RatingOf gives the rating of a tire. Loads are as printed on the sidewall, else
// by the load index. The pressure at which they are carried is the sidewall's on
// truck, light truck, van and trailer tires, else the load range's; on passenger
// tires it is the class's whatever higher maximum is printed (49 CFR 575.104,
// Tables 1 and 2). False when class, load or that pressure is not known.
func RatingOf(m Marking, printed Printed) (Rating, bool) {
	r := Rating{Single: printed.Single, Dual: printed.Dual}
	if m.LoadIndex > 0 && r.Single == 0 {
		r.Single, _ = IndexLoad(m.LoadIndex)
	}
	if m.DualIndex > 0 && r.Dual == 0 {
		r.Dual, _ = IndexLoad(m.DualIndex)
	}
	switch m.Class {
	case PMetric, MetricPassenger:
		r.Law, r.MarkAssumed = passengerLaw(m, printed.Maximum)
	case LightTruckTire:
		r.Law = lightTruck
		if m.Aspect > 0 {
			r.Law.Reference = rangePressure[m.LoadRange]
		}
	case NumericHeavy, MetricHeavy:
		r.Law = heavyTruck
	case CommercialMetric, SpecialTrailer, TemporarySpare:
		r.Law = ratedOnly
	}
	if printed.Maximum > 0 && (r.Law.Reference == 0 || !m.Class.Passenger() || printed.Maximum < r.Law.Reference) {
		r.Law.Reference = printed.Maximum
	}
	r.Maximum = max(printed.Maximum, r.Law.Reference)
	r.Law.Floor = min(r.Law.Floor, r.Law.Reference)
	return r, r.Law.ID != "" && r.Single > 0 && r.Law.Reference > 0
}

// passengerLaw picks the law of a passenger tire: by its load mark, else by the
// maximum on its sidewall, else that of standard load, which is then assumed.
func passengerLaw(m Marking, maximum unit.Pressure) (law Law, assumed bool) {
	law = pMetric
	if m.Class == MetricPassenger {
		law = metricPassenger
	}
	extra := m.LoadMark == "XL" || m.LoadMark == "HL"
	if m.LoadMark == "" {
		var told bool
		extra, told = extraLoad(maximum)
		assumed = !told
	}
	if extra {
		law.Reference = extraReference[law.ID]
	}
	return law, assumed
}

// passengerMaxima are the maxima that passenger sidewalls print, and whether they
// are those of extra load (49 CFR 571.138, Table 1; 250 and 290 kPa of metric
// sizes as published).
var passengerMaxima = []struct {
	maximum unit.Pressure
	extra   bool
}{
	{kPa(240), false}, {kPa(250), false}, {kPa(280), true}, {kPa(290), true}, {kPa(300), false}, {kPa(340), true}, {kPa(350), false},
}

// printedWithin is how far, as a share, a maximum printed in whole psi may be from
// its kilopascals: 44 psi stands for 300 kPa.
const printedWithin = 0.015

// extraLoad tells from the maximum on its sidewall whether a tire is of extra
// load; told is false for a maximum that no class has.
func extraLoad(maximum unit.Pressure) (extra, told bool) {
	best := printedWithin
	for _, p := range passengerMaxima {
		if off := math.Abs(float64(maximum/p.maximum) - 1); off <= best {
			best, extra, told = off, p.extra, true
		}
	}
	return extra, told
}

// Least gives the rating that carries the least at every pressure of those that
// fit what is known: of extra load, whose reference is higher, where the mark is
// assumed.
func (r Rating) Least() Rating {
	if r.MarkAssumed {
		r.Law.Reference = max(r.Law.Reference, extraReference[r.Law.ID])
	}
	return r
}

// DividedBy gives the rating with its loads divided: by 1.10 for a passenger tire
// on a truck or trailer (49 CFR 571.110 S4.2.2.2).
func (r Rating) DividedBy(n unit.Ratio) Rating {
	r.Single, r.Dual = r.Single/unit.Mass(n), r.Dual/unit.Mass(n)
	return r
}

// Rated gives the rated load of the tire alone or of one of a pair; false when
// the dual load is not known: nothing is supplied for it.
func (r Rating) Rated(dual bool) (unit.Mass, bool) {
	if dual {
		return r.Dual, r.Dual > 0
	}
	return r.Single, r.Single > 0
}

// Load gives the load that the cold pressure supports, never more than the rated
// load. False below the class's floor, below the rated pressure of a tire whose
// table is not known, and for a pair whose load is not known. It is no word on
// whether the tire is fit to run.
func (r Rating) Load(cold unit.Pressure, dual bool) (unit.Mass, bool) {
	rated, ok := r.Rated(dual)
	share := r.Law.Share(cold)
	if !ok || share == 0 || !atLeast(float64(cold), float64(r.Law.Floor)) {
		return 0, false
	}
	return unit.Mass(share) * rated, true
}

// PressureFor gives the lowest cold pressure that supports a load, not below the
// class's floor; of a tire whose table is not known it is the rated pressure.
// False when no pressure up to the maximum supports the load. A vehicle's label may
// ask for more, and then rules.
func (r Rating) PressureFor(load unit.Mass, dual bool) (unit.Pressure, bool) {
	rated, ok := r.Rated(dual)
	switch {
	case !ok || !atLeast(float64(rated), float64(load)):
		return 0, false
	case r.Law.Exponent == 0:
		return r.Law.Reference, true
	}
	share := min(1, float64(max(load, 0)/rated))
	needed := max(r.Law.Reference*unit.Pressure(math.Pow(share, 1/r.Law.Exponent)), r.Law.Floor)
	return needed, atLeast(float64(r.Maximum), float64(needed))
}
