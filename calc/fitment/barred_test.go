package fitment

import (
	"math"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

func booksNamed(ids ...string) (all []rulebook.Applied) {
	for _, id := range ids {
		all = append(all, rulebook.Applied{Book: rulebook.Must(id)})
	}
	return all
}

func mayBind(books []rulebook.Applied) []rulebook.Applied {
	for i := range books {
		books[i].Candidate = true
	}
	return books
}

// Which laws bar a kind of tire from which place. 49 CFR 393.75(d) and (e): no retread on
// the front of a bus, no regrooved tire for 4,920 lb or more on the front of a truck;
// California Vehicle Code 27461 and Minnesota, as reported: no regrooved tire on a car. A
// mark as not for highway use bars a tire by itself (common practice).
func TestBarredFromItsPlace(t *testing.T) {
	pounds := func(n float64) unit.Mass { return unit.MustMass(n, unit.Pounds) }
	regrooved := func(load float64) Tire {
		return Tire{Regrooved: finding.Yes, Printed: sidewall.Printed{Single: pounds(load)}}
	}
	retread := Tire{Retread: finding.Yes}
	marked := Tire{NotForHighway: finding.Yes}
	bus := layout.Vehicle{Class: layout.Bus, Axles: []layout.Axle{{Steered: true}, {Dual: true, Driven: true}}}
	const none, on, barred, front, highway = finding.Code(""), finding.FitmentRegroovedOnFront, finding.FitmentRegroovedBarred, finding.FitmentRetreadOnFront, finding.FitmentNotForHighway
	federal := booksNamed("us-commercial")
	for _, c := range []struct {
		name    string
		vehicle layout.Vehicle
		books   []rulebook.Applied
		at      string
		tire    Tire
		want    finding.Code
		law     string
		urgency finding.Urgency
		outcome measure.Outcome
		asked   bool
	}{
		{"a retread on the front of a bus", bus, federal, "1L", retread, front, "49 CFR 393.75(d)", finding.BeforeDriving, measure.NotCompared, false},
		{"on its rear", bus, federal, "2LO", retread, none, "", 0, 0, false},
		{"on the front of a truck", truck(), federal, "1L", retread, none, "", 0, 0, false},
		{"no retread", bus, federal, "1L", Tire{Retread: finding.No}, none, "", 0, 0, false},
		{"a regrooved tire on the front of a bus", bus, federal, "1L", regrooved(1000), front, "49 CFR 393.75(d)", finding.BeforeDriving, measure.NotCompared, false},
		{"a law that may bind", bus, mayBind(booksNamed("us-commercial")), "1L", retread, front, "49 CFR 393.75(d)", finding.ThisVisit, measure.NotCompared, false},
		{"regrooved, of more than the load, on the front of a truck", truck(), federal, "1L", regrooved(6000), on, "49 CFR 393.75(e)", finding.BeforeDriving, measure.Above, false},
		{"of exactly the load", truck(), federal, "1L", regrooved(4920), on, "49 CFR 393.75(e)", finding.BeforeDriving, measure.Above, false},
		{"of less", truck(), federal, "1L", regrooved(4919), none, "", 0, 0, false},
		{"of more, by its load index", truck(), federal, "1L", Tire{Regrooved: finding.Yes, Marking: sidewall.Parse("295/75R22.5 144/141L")}, on, "49 CFR 393.75(e)", finding.BeforeDriving, measure.Above, false},
		{"its load not read", truck(), federal, "1L", Tire{Regrooved: finding.Yes}, on, "49 CFR 393.75(e)", finding.BeforeDriving, measure.CannotTell, true},
		{"on its rear, of more", truck(), federal, "2LO", regrooved(6000), none, "", 0, 0, false},
		{"on a Californian car", car(layout.FrontDrive), booksNamed("us-ca"), "2L", regrooved(1000), barred, "California Vehicle Code 27461", finding.BeforeDriving, measure.NotCompared, false},
		{"on a Californian truck", truck(), booksNamed("us-ca"), "2LO", regrooved(1000), none, "", 0, 0, false},
		{"a retread on a Californian car", car(layout.FrontDrive), booksNamed("us-ca"), "2L", retread, none, "", 0, 0, false},
		{"not for highway use, no law", car(layout.FrontDrive), nil, "1L", marked, highway, "tire maker's sidewall marking", finding.BeforeDriving, measure.NotCompared, false},
		{"with a law", car(layout.FrontDrive), booksNamed("us-wa"), "1L", marked, highway, "RCW 46.37.425", finding.BeforeDriving, measure.NotCompared, false},
		{"with a law that may bind", car(layout.FrontDrive), mayBind(booksNamed("us-wa")), "1L", marked, highway, "tire maker's sidewall marking", finding.BeforeDriving, measure.NotCompared, false},
		{"with a law of the steering axle, on the rear", truck(), federal, "2LO", marked, highway, "tire maker's sidewall marking", finding.BeforeDriving, measure.NotCompared, false},
		{"not so marked", car(layout.FrontDrive), nil, "1L", Tire{NotForHighway: finding.No}, none, "", 0, 0, false},
	} {
		r := Judge(Vehicle{Layout: c.vehicle, Books: c.books, Wheels: []Wheel{{At: layout.MustParse(c.at), Tire: c.tire}}})
		got := slices.DeleteFunc(slices.Clone(r.Findings), func(f finding.Finding) bool {
			return !slices.Contains([]finding.Code{on, barred, front, highway}, f.Code)
		})
		switch {
		case len(got) == 0 && c.want == none:
		case len(got) != 1 || got[0].Code != c.want || got[0].Rule.Citation != c.law || got[0].Urgency != c.urgency || got[0].Outcome != c.outcome || at(got[0]) != c.at+" ":
			t.Errorf("%s: %+v", c.name, got)
		case got[0].Outcome == measure.CannotTell && got[0].ToSettle != finding.SettleReadMaximumLoad:
			t.Errorf("%s: settled by %q", c.name, got[0].ToSettle)
		}
		if asked(r, finding.AskLoadRating) != c.asked {
			t.Errorf("%s: asked %v", c.name, r.Asked)
		}
	}
}

// Of laws of several places the one that certainly binds is told, and those that say the
// same beside it where places are named; of one place the first.
func TestBarredBySeveralLaws(t *testing.T) {
	v := Vehicle{Layout: car(layout.FrontDrive), Wheels: []Wheel{{At: layout.MustParse("1L"), Tire: Tire{Regrooved: finding.Yes}}}}
	named := func(books []rulebook.Applied) []rulebook.Applied {
		for i := range books {
			books[i].Named = true
		}
		return books
	}
	for _, c := range []struct {
		name  string
		books []rulebook.Applied
		also  int
		law   string
		may   bool
	}{
		{"the first", booksNamed("us-ca", "us-mn"), 0, "California Vehicle Code 27461", false},
		{"both named", named(booksNamed("us-ca", "us-mn")), 1, "California Vehicle Code 27461", false},
		{"what binds before what may", append(mayBind(booksNamed("us-mn")), booksNamed("us-ca")...), 0, "California Vehicle Code 27461", false},
		{"both may bind", mayBind(named(booksNamed("us-ca", "us-mn"))), 0, "California Vehicle Code 27461", true},
	} {
		v.Books = c.books
		got := found(Judge(v), finding.FitmentRegroovedBarred)
		if len(got) != 1 || got[0].Rule.Citation != c.law || len(got[0].Others) != c.also || got[0].Candidate != c.may {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// What the tires of an axle are made for together is no less than the axle's rating, and a
// passenger tire on a truck counts for its load divided by 1.10: 49 CFR 571.110 S4.2.2.
func TestTiresBelowTheirAxle(t *testing.T) {
	rated := func(v layout.Vehicle, kilograms float64) layout.Vehicle {
		v.Axles = slices.Clone(v.Axles)
		v.Axles[0].Rating = unit.MustMass(kilograms, unit.Kilograms)
		return v
	}
	pickup := layout.Vehicle{Class: layout.LightTruck, Axles: []layout.Axle{{Steered: true}, {Driven: true}}}
	const passenger, truckTire = "P215/60R16 94T", "LT245/75R16 120/116S E" // 670 kg; 1400 kg
	for _, c := range []struct {
		name    string
		v       layout.Vehicle
		tires   []string
		below   bool
		divided bool
		sum     float64
	}{
		{"1340 kg for 1340", rated(car(layout.FrontDrive), 1340), []string{passenger, passenger}, false, false, 0},
		{"for 1341", rated(car(layout.FrontDrive), 1341), []string{passenger, passenger}, true, false, 1340},
		{"on a truck, for 1218", rated(pickup, 1218), []string{passenger, passenger}, false, true, 0},
		{"on a truck, for 1219", rated(pickup, 1219), []string{passenger, passenger}, true, true, 1218.18},
		{"made for trucks", rated(pickup, 2801), []string{truckTire, truckTire}, true, false, 2800},
		{"one not read", rated(car(layout.FrontDrive), 3000), []string{passenger, ""}, false, false, 0},
		{"one not reported", rated(car(layout.FrontDrive), 3000), []string{passenger}, false, false, 0},
		{"the axle's rating not told", car(layout.FrontDrive), []string{passenger, passenger}, false, false, 0},
	} {
		var ws []Wheel
		for i, size := range c.tires {
			ws = append(ws, Wheel{At: layout.MustParse([]string{"1L", "1R"}[i]), Tire: Tire{Marking: sidewall.Parse(size)}})
		}
		fs := found(Judge(Vehicle{Layout: c.v, Wheels: ws}), finding.FitmentLoadBelowAxle)
		if (len(fs) == 1) != c.below {
			t.Errorf("%s: %+v", c.name, fs)
			continue
		}
		if !c.below {
			continue
		}
		sum, _ := fs[0].Measured.To(unit.Kilograms)
		if _, divided := evidence(fs[0], finding.FactFitmentPassengerDivided); divided != c.divided || math.Abs(sum.Number-c.sum) > 1 || at(fs[0]) != "1L 1R " || fs[0].Urgency != finding.ThisVisit {
			t.Errorf("%s: %v, divided %v: %+v", c.name, sum, divided, fs[0])
		}
	}
}
