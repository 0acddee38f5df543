package rulebook_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

func pounds(n float64) unit.Mass { return unit.MustMass(n, unit.Pounds) }
func kilos(n float64) unit.Mass  { return unit.MustMass(n, unit.Kilograms) }

// places are those of a country that was told; none where it is "".
func places(country string) []rulebook.Place {
	if country == "" {
		return nil
	}
	return []rulebook.Place{{Country: country}}
}

// chosen writes the books with a ? behind a candidate.
func chosen(books []rulebook.Applied) string {
	s := ""
	for _, b := range books {
		s += b.ID
		if b.Candidate {
			s += "?"
		}
		s += " "
	}
	return s
}

// The law is chosen by class, rating and use as asked, never by the door label
// alone: 49 CFR 390.5, 570.53; reg. 27(4); StVZO § 36; KDV § 4; French order.
func TestChoose(t *testing.T) {
	us := func(interstate finding.Answer, combined unit.Mass, tows finding.Answer) rulebook.Use {
		return rulebook.Use{Places: []rulebook.Place{{Country: "US"}}, Interstate: interstate, CombinedRating: combined, Tows: tows}
	}
	in := func(country string) rulebook.Use { return rulebook.Use{Places: places(country)} }
	v := func(c layout.Class, rating unit.Mass) layout.Vehicle {
		return layout.Vehicle{Class: c, GrossRating: rating, Axles: make([]layout.Axle, 2)}
	}
	const (
		notAsked = finding.NotAsked
		yes      = finding.Yes
		no       = finding.No
		unknown  = finding.NotKnown

		notTold = layout.ClassNotTold
		car     = layout.PassengerCar
		pickup  = layout.LightTruck
		heavy   = layout.Heavy
		bus     = layout.Bus
		trailer = layout.Trailer
	)
	for _, c := range []struct {
		name    string
		vehicle layout.Vehicle
		use     rulebook.Use
		books   string
		open    []finding.Question
	}{
		// United States: use across state lines and 10,001 lb make a commercial
		// motor vehicle (49 CFR 390.5); Part 570 is a model for States.
		{"a car", v(car, pounds(4500)), us(notAsked, 0, notAsked), "us-light ", nil},
		{"a car without a rating", v(car, 0), us(notAsked, 0, notAsked), "us-light ", nil},
		{"a car used in business", v(car, pounds(4500)), us(yes, 0, notAsked), "us-light ", nil},
		{"a car in business that tows", v(car, pounds(4500)), us(yes, 0, yes), "us-commercial? us-light? ", []finding.Question{finding.AskCombinedRating}},
		{"a car that tows", v(car, pounds(4500)), us(notAsked, 0, yes), "us-commercial? us-light? ", []finding.Question{finding.AskBusinessAcrossStateLines}},

		{"a hired pickup with a heavy trailer", v(pickup, pounds(9900)), us(yes, pounds(23_900), yes), "us-commercial ", nil},
		{"a private pickup with a heavy trailer", v(pickup, pounds(9900)), us(no, pounds(23_900), yes), "us-light ", nil},
		{"a pickup with a heavy trailer, use not asked", v(pickup, pounds(9900)), us(notAsked, pounds(23_900), yes), "us-commercial? us-light? ", []finding.Question{finding.AskBusinessAcrossStateLines}},
		{"a pickup with a heavy trailer, use not known", v(pickup, pounds(9900)), us(unknown, pounds(23_900), yes), "us-commercial? us-light? ", []finding.Question{finding.AskBusinessAcrossStateLines}},
		{"a pickup with a light trailer", v(pickup, pounds(6000)), us(yes, pounds(9000), yes), "us-light ", nil},
		{"a pickup in business, trailer not asked", v(pickup, pounds(9900)), us(yes, 0, notAsked), "us-commercial? us-light? ", []finding.Question{finding.AskCombinedRating}},
		{"a pickup in business without a trailer", v(pickup, pounds(9900)), us(yes, 0, no), "us-light ", nil},
		{"a pickup without a trailer, use not asked", v(pickup, pounds(9900)), us(notAsked, 0, no), "us-light ", nil},
		{"a pickup, nothing asked", v(pickup, pounds(9900)), us(notAsked, 0, notAsked), "us-commercial? us-light? ", []finding.Question{finding.AskBusinessAcrossStateLines}},

		{"10,001 lb in business", v(heavy, pounds(10_001)), us(yes, 0, no), "us-commercial ", nil},
		{"10,000 lb in business", v(pickup, pounds(10_000)), us(yes, 0, no), "us-light ", nil},
		{"10,000 lb and a combination of 10,001", v(pickup, pounds(10_000)), us(yes, pounds(10_001), yes), "us-commercial ", nil},
		{"a combination of 10,000", v(pickup, pounds(9000)), us(yes, pounds(10_000), yes), "us-light ", nil},
		{"10,001 lb at home", v(heavy, pounds(10_001)), us(no, 0, no), "us-heavy-model ", nil},
		{"10,000.5 lb is over the model's weight and not yet commercial", v(pickup, pounds(10_000.5)), us(yes, 0, no), "us-heavy-model ", nil},

		{"a truck in haulage", v(heavy, pounds(26_000)), us(yes, 0, notAsked), "us-commercial ", nil},
		{"a truck at home", v(heavy, pounds(26_000)), us(no, 0, notAsked), "us-heavy-model ", nil},
		{"a truck, use not asked", v(heavy, pounds(26_000)), us(notAsked, 0, notAsked), "us-commercial? us-heavy-model? ", []finding.Question{finding.AskBusinessAcrossStateLines}},
		{"a truck in haulage without a rating", v(heavy, 0), us(yes, 0, no), "us-commercial? us-light? us-heavy-model? ", []finding.Question{finding.AskGrossRating}},
		{"a truck in a heavy combination without a rating", v(heavy, 0), us(yes, pounds(60_000), yes), "us-commercial ", nil},
		{"a truck at home without a rating", v(heavy, 0), us(no, 0, notAsked), "us-light? us-heavy-model? ", []finding.Question{finding.AskGrossRating}},
		{"a truck without rating or use", v(heavy, 0), us(notAsked, 0, notAsked), "us-commercial? us-light? us-heavy-model? ", []finding.Question{finding.AskGrossRating, finding.AskBusinessAcrossStateLines}},
		{"nothing told of the vehicle", v(notTold, 0), us(notAsked, 0, notAsked), "us-commercial? us-light? us-heavy-model? ", []finding.Question{finding.AskGrossRating, finding.AskBusinessAcrossStateLines}},
		{"only a heavy rating told", v(notTold, pounds(26_000)), us(no, 0, notAsked), "us-heavy-model ", nil},
		{"only a light rating told", v(notTold, pounds(4500)), us(notAsked, 0, notAsked), "us-commercial? us-light? ", []finding.Question{finding.AskBusinessAcrossStateLines}},

		{"a trailer is part of a combination", v(trailer, pounds(7000)), us(yes, 0, no), "us-commercial? us-light? ", []finding.Question{finding.AskCombinedRating}},
		{"a private trailer", v(trailer, pounds(7000)), us(no, 0, notAsked), "us-light ", nil},
		{"a semitrailer in haulage", v(trailer, pounds(65_000)), us(yes, 0, notAsked), "us-commercial ", nil},

		{"a car rated as a truck: both", v(car, pounds(26_000)), us(no, 0, no), "us-light? us-heavy-model? ", []finding.Question{finding.AskGrossRating}},
		{"a truck rated as a car: both", v(heavy, pounds(4500)), us(no, 0, no), "us-light? us-heavy-model? ", []finding.Question{finding.AskGrossRating}},
		{"a truck rated as a car, in haulage", v(heavy, pounds(4500)), us(yes, 0, no), "us-commercial? us-light? us-heavy-model? ", []finding.Question{finding.AskGrossRating}},

		// United Kingdom: up to 3,500 kg, and cars by their seats.
		{"a car in Britain", v(car, kilos(1900)), in("GB"), "uk-light ", nil},
		{"a car in Britain without a rating", v(car, 0), in("GB"), "uk-light ", nil},
		{"a heavy car in Britain is a car", v(car, kilos(3600)), in("GB"), "uk-light ", nil},
		{"3,500 kg in Britain", v(pickup, kilos(3500)), in("GB"), "uk-light ", nil},
		{"3,501 kg in Britain", v(pickup, kilos(3501)), in("GB"), "uk-heavy ", nil},
		{"a van in Britain without a rating", v(pickup, 0), in("GB"), "uk-light? uk-heavy? ", []finding.Question{finding.AskGrossRating}},
		{"a truck of 3,000 kg in Britain: both", v(heavy, kilos(3000)), in("GB"), "uk-light? uk-heavy? ", []finding.Question{finding.AskGrossRating}},
		{"a car of 12 t in Britain: both", v(car, kilos(12_000)), in("GB"), "uk-light? uk-heavy? ", []finding.Question{finding.AskGrossRating}},

		{"Germany has one depth", v(heavy, kilos(18_000)), in("DE"), "eu-de ", nil},
		{"Germany, nothing told: its winter goes by weight", v(notTold, 0), in("DE"), "eu-de? ", []finding.Question{finding.AskGrossRating}},
		{"Austria, a car", v(car, 0), in("AT"), "eu-at ", nil},
		{"Austria, a truck", v(heavy, kilos(18_000)), in("AT"), "eu-at ", nil},
		{"California, a car: its own code", v(car, pounds(4000)), rulebook.Use{Places: []rulebook.Place{{Country: "US", State: "CA"}}}, "us-ca ", nil},
		{"California, a truck at home", v(heavy, pounds(26_000)), rulebook.Use{Places: []rulebook.Place{{Country: "US", State: "CA"}}, Interstate: no}, "us-ca ", nil},
		{"California, a truck in haulage", v(heavy, pounds(26_000)), rulebook.Use{Places: []rulebook.Place{{Country: "US", State: "CA"}}, Interstate: yes}, "us-commercial ", nil},
		{"California, a pickup without a rating", v(pickup, 0), rulebook.Use{Places: []rulebook.Place{{Country: "US", State: "CA"}}, Interstate: no}, "us-ca? ", []finding.Question{finding.AskGrossRating}},
		{"Austria, a van without a rating", v(pickup, 0), in("AT"), "eu-at? ", []finding.Question{finding.AskGrossRating}},
		{"France, a car", v(car, 0), in("FR"), "eu-fr ", nil},
		{"France, a bus", v(bus, 0), in("FR"), "eu-fr ", nil},
		{"France, a van without a rating", v(pickup, 0), in("FR"), "eu-fr? ", []finding.Question{finding.AskGrossRating}},

		{"Illinois, a car: its code beside the model", v(car, pounds(4000)), rulebook.Use{Places: []rulebook.Place{{Country: "US", State: "IL"}}}, "us-il us-light ", nil},
		{"Maryland, a truck at home", v(heavy, pounds(26_000)), rulebook.Use{Places: []rulebook.Place{{Country: "US", State: "MD"}}, Interstate: no}, "us-md us-heavy-model ", nil},
		{"Maryland, a pickup, nothing asked", v(pickup, pounds(9900)), rulebook.Use{Places: []rulebook.Place{{Country: "US", State: "MD"}}}, "us-md us-commercial? us-light? ", []finding.Question{finding.AskBusinessAcrossStateLines}},

		{"British Columbia", v(car, kilos(1900)), rulebook.Use{Places: []rulebook.Place{{Country: "CA", State: "BC"}}}, "ca-bc ", nil},
		{"Quebec", v(heavy, kilos(18_000)), rulebook.Use{Places: []rulebook.Place{{Country: "CA", State: "QC"}}}, "ca-qc ", nil},
		{"Canada, the province not told", v(car, kilos(1900)), in("CA"), "ca-bc? ca-on? ca-qc? ", []finding.Question{finding.AskProvince}},
		{"a province without a book", v(car, kilos(1900)), rulebook.Use{Places: []rulebook.Place{{Country: "CA", State: "MB"}}}, " ", nil},
		{"New Zealand", v(car, kilos(1900)), in("NZ"), "nz ", nil},
		{"the Czech Republic, a car", v(car, 0), in("CZ"), "eu-cz ", nil},
		{"the Czech Republic, a van without a rating", v(pickup, 0), in("CZ"), "eu-cz? ", []finding.Question{finding.AskGrossRating}},
		{"Slovakia, a truck", v(heavy, kilos(18_000)), in("SK"), "eu-sk ", nil},
		{"Finland, a van without a rating", v(pickup, 0), in("FI"), "eu-fi? ", []finding.Question{finding.AskGrossRating}},
		{"Norway", v(car, kilos(1900)), in("NO"), "no ", nil},
		{"northern Norway", v(car, kilos(1900)), rulebook.Use{Places: []rulebook.Place{{Country: "NO", State: "55"}}}, "no-north no ", nil},
		{"two places: each its own", v(car, kilos(1900)), rulebook.Use{Places: []rulebook.Place{{"DE", ""}, {"AT", ""}}}, "eu-de eu-at ", nil},
		{"a State's own code, and the model of another", v(car, pounds(4000)), rulebook.Use{Places: []rulebook.Place{{"US", "CA"}, {"US", "OH"}}}, "us-ca us-light ", nil},
		{"the country, and registered in a State of it", v(car, pounds(4000)), rulebook.Use{Places: []rulebook.Place{{"US", ""}, {"US", "NC"}}}, "us-light us-nc ", nil},
		{"two members without their own law: once", v(car, 0), rulebook.Use{Places: []rulebook.Place{{"GR", ""}, {"LU", ""}}}, "eu ", nil},
		{"what is open in one place is not open in another", v(car, kilos(1900)), rulebook.Use{Places: []rulebook.Place{{"CA", ""}, {"CA", "QC"}}}, "ca-bc? ca-on? ca-qc ", []finding.Question{finding.AskProvince}},
		{"one place without a book beside one with", v(car, kilos(1900)), rulebook.Use{Places: []rulebook.Place{{"MX", ""}, {"US", "OH"}}}, " us-light ", nil},
		{"the weight is open in both, asked once", v(pickup, 0), rulebook.Use{Places: []rulebook.Place{{"GB", ""}, {"US", "OH"}}, Interstate: no}, "uk-light? uk-heavy? us-light? us-heavy-model? ", []finding.Question{finding.AskGrossRating}},
		{"Western Australia", v(car, kilos(1900)), rulebook.Use{Places: []rulebook.Place{{Country: "AU", State: "WA"}}}, "au-wa ", nil},

		{"a bus of ten seats and 3,400 kg in Britain", seats(v(bus, kilos(3400)), 10), in("GB"), "uk-heavy ", nil},
		{"a bus of nine seats and 3,600 kg in Britain", seats(v(bus, kilos(3600)), 9), in("GB"), "uk-light ", nil},
		{"a van of twelve seats in Britain", seats(v(pickup, 0), 12), in("GB"), "uk-heavy ", nil},

		{"a member State without its own law: the common minimum", v(car, kilos(1900)), in("GR"), "eu ", nil},
		{"a member State with rules on winter tires alone", v(car, kilos(1900)), in("LV"), "winter-lv eu ", nil},
		{"a country without a book: nothing, but how it measures", v(car, kilos(1900)), in("JP"), " ", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			books, open := rulebook.Choose(c.vehicle, c.use, nil)
			if got := chosen(books); got != c.books || !slices.Equal(open, c.open) {
				t.Errorf("%sopen %v; want %sopen %v", got, open, c.books, c.open)
			}
		})
	}
}

// Where no country was told, every book with a limit for every day may bind that its own
// country's choice leads to, and none is certain; the country is asked first.
func TestChooseAnywhere(t *testing.T) {
	everyDay := func(b *rulebook.Book) bool {
		return slices.ContainsFunc(b.About(rulebook.TreadDepth), func(l rulebook.Limit) bool { return l.Winter == nil })
	}
	for _, v := range []layout.Vehicle{{Class: layout.PassengerCar, GrossRating: kilos(1900)}, {Class: layout.Heavy}, {}} {
		got, open := rulebook.Choose(v, rulebook.Use{}, nil)
		var want []string
		for _, b := range rulebook.All() {
			books, _ := rulebook.Choose(v, rulebook.Use{Places: places(b.Country)}, nil)
			if b.Country != "" && everyDay(b) && !b.Floor && slices.ContainsFunc(books, func(a rulebook.Applied) bool { return a.Book == b }) {
				want = append(want, b.ID+"?")
			}
		}
		all := strings.Fields(chosen(got))
		slices.Sort(all)
		slices.Sort(want)
		if !slices.Equal(all, want) || open[0] != finding.AskCountry {
			t.Errorf("%+v: %v, want %v; open %v", v, all, want, open)
		}
	}
}

// What may bind in a place, as it is listed.
func TestIn(t *testing.T) {
	for place, want := range map[string]string{
		"ES": "eu-es ", "GR": "eu ", "LV": "winter-lv eu ", "JP": "", "NO-55": "no no-north ", "NO-03": "no ",
		"US-NC": "us-light us-nc us-commercial us-heavy-model ", "CA": "ca-bc ca-on ca-qc ",
	} {
		got := ""
		for _, b := range rulebook.In(place) {
			got += b.ID + " "
		}
		if got != want {
			t.Errorf("%s: %s, want %s", place, got, want)
		}
	}
	places := map[string]string{"us-nc": "US-NC", "no-north": "NO-18 NO-55 NO-56", "eu-fi": "FI", "advice": "", "repair-uk": ""}
	for id, want := range places {
		if got := strings.Join(rulebook.Must(id).Places(), " "); got != want {
			t.Errorf("%s is of %q, want %q", id, got, want)
		}
	}
}

// Where only the weight is open, a limit that does not go by it binds all the same.
func TestOpenWeight(t *testing.T) {
	for _, c := range []struct {
		rule string
		use  rulebook.Use
		want bool // it may bind, and may not
	}{
		{"eu-de.depth", rulebook.Use{Places: []rulebook.Place{{Country: "DE"}}}, false},
		{"eu-de.construction", rulebook.Use{Places: []rulebook.Place{{Country: "DE"}}}, false},
		{"eu-de.winter", rulebook.Use{Places: []rulebook.Place{{Country: "DE"}}}, true},
		{"eu-de.heavy-winter", rulebook.Use{Places: []rulebook.Place{{Country: "DE"}}}, true},
		{"eu-at.depth", rulebook.Use{Places: []rulebook.Place{{Country: "AT"}}}, true},
		{"eu-fi.depth", rulebook.Use{Places: []rulebook.Place{{Country: "FI"}}}, false},
		{"uk-light.cord", rulebook.Use{Places: []rulebook.Place{{Country: "GB"}}}, true}, // of two books, of which one binds
		{"eu-de.depth", rulebook.Use{}, true},
	} {
		books, _ := rulebook.Choose(layout.Vehicle{Class: layout.LightTruck}, c.use, nil)
		i := slices.IndexFunc(books, func(b rulebook.Applied) bool { return strings.HasPrefix(c.rule, b.ID+".") })
		if got := books[i].For(find(t, c.rule)).Candidate; got != c.want {
			t.Errorf("%s in %v: may bind %v, want %v", c.rule, c.use.Places, got, c.want)
		}
	}
}

// Every book of a State is chosen where its State is told, in place of the models or
// beside them, and nowhere else in the country; none is chosen by another's code.
func TestChooseState(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, GrossRating: kilos(1900)}
	for _, b := range rulebook.All() {
		if b.Binds.State == "" {
			continue
		}
		for _, o := range rulebook.All() {
			if o.Country != b.Country || o.Binds.State == "" {
				continue
			}
			books, open := rulebook.Choose(car, rulebook.Use{Places: []rulebook.Place{{Country: b.Country, State: o.Binds.State}}, Interstate: finding.No}, nil)
			has := func(match func(*rulebook.Book) bool) bool {
				return slices.ContainsFunc(books, func(a rulebook.Applied) bool { return match(a.Book) && !a.Candidate })
			}
			if got := has(func(a *rulebook.Book) bool { return a.ID == b.ID }); got != (o == b) || len(open) > 0 {
				t.Errorf("%s in %s: chosen %v, open %v", b.ID, o.Binds.State, got, open)
			}
			if model := has(func(a *rulebook.Book) bool { return a.Binds.Model }); o == b && model && b.Binds.InPlace {
				t.Errorf("%s stands beside the model", b.ID)
			}
		}
	}
}

func TestChooseAsked(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar}
	books, open := rulebook.Choose(car, rulebook.Use{Places: []rulebook.Place{{Country: "US"}}}, []string{"eu-de", "uk-light"})
	if got := chosen(books); got != "eu-de uk-light " || open != nil {
		t.Errorf("%s, open %v", got, open)
	}
	defer func() {
		if recover() == nil {
			t.Error("a book that is not there is taken")
		}
	}()
	rulebook.Choose(car, rulebook.Use{}, []string{"no-such-book"})
}

// Wherever law is open, something is asked; wherever nothing is asked, what is
// chosen is certain; and no country ever brings another country's law.
func TestChooseIsConsistent(t *testing.T) {
	answers := []finding.Answer{finding.NotAsked, finding.Yes, finding.No, finding.NotKnown}
	weights := []unit.Mass{0, kilos(1900), kilos(3500), kilos(3501), pounds(10_000), pounds(10_001), pounds(26_000)}
	for _, country := range []string{"", "US", "GB", "DE", "AT", "FR", "NZ", "CA", "CZ", "SK", "FI", "PT", "LV", "NO", "AU", "JP"} {
		for class := layout.ClassNotTold; class <= layout.Motorhome; class++ {
			for _, rating := range weights {
				for _, combined := range weights {
					for _, interstate := range answers {
						for _, tows := range answers {
							v := layout.Vehicle{Class: class, GrossRating: rating}
							u := rulebook.Use{Places: places(country), Interstate: interstate, CombinedRating: combined, Tows: tows}
							books, open := rulebook.Choose(v, u, nil)
							if err := consistent(country, books, open); err != nil {
								t.Fatalf("%+v %+v: %v", v, u, err)
							}
						}
					}
				}
			}
		}
	}
}

func consistent(country string, books []rulebook.Applied, open []finding.Question) error {
	seen := map[string]bool{}
	for _, b := range books {
		if seen[b.ID] {
			return fmt.Errorf("%s is chosen twice", b.ID)
		}
		seen[b.ID] = true
		if b.Candidate != (len(open) > 0) {
			return fmt.Errorf("%s is a candidate: %v, with %v open", b.ID, b.Candidate, open)
		}
		if country != "" && b.Country != country && !b.Floor {
			return fmt.Errorf("%s in %s", b.ID, country)
		}
	}
	if len(books) == 0 {
		return fmt.Errorf("no law is looked at")
	}
	slices.Sort(open)
	if len(slices.Compact(open)) != len(open) {
		return fmt.Errorf("asked twice: %v", open)
	}
	return nil
}

// Class and rating that cannot both be right, to the pound and the kilogram (our own
// decision; 10,000 lb and 3,500 kg are where the laws part light from heavy).
func TestContradicts(t *testing.T) {
	for _, c := range []struct {
		class  layout.Class
		rating unit.Mass
		want   bool
	}{
		{layout.PassengerCar, 0, false},
		{layout.PassengerCar, pounds(10_000), false},
		{layout.PassengerCar, pounds(10_001), true},
		{layout.Bus, 0, false},
		{layout.Bus, kilos(1), true},
		{layout.Bus, kilos(3_500), true},
		{layout.Bus, kilos(3_501), false},
		{layout.Heavy, 0, false},
		{layout.Heavy, kilos(3_500), true},
		{layout.Heavy, kilos(3_501), false},
		{layout.LightTruck, kilos(3_500), false},
		{layout.LightTruck, pounds(26_000), false},
		{layout.Trailer, pounds(80_000), false},
	} {
		if got := rulebook.Contradicts(layout.Vehicle{Class: c.class, GrossRating: c.rating}); got != c.want {
			t.Errorf("class %v rated %v: %v, want %v", c.class, c.rating, got, c.want)
		}
	}
}

// Of several places each binds as it does alone: no book is gone, none is a candidate that
// is none alone, and no other is there.
func TestSeveralPlacesBindAsEachAlone(t *testing.T) {
	var all []rulebook.Place
	for _, b := range rulebook.All() {
		for _, name := range b.Places() {
			country, state, _ := strings.Cut(name, "-")
			if p := (rulebook.Place{Country: country, State: state}); country != "EU" && !slices.Contains(all, p) {
				all = append(all, p)
			}
		}
	}
	all = append(all, rulebook.Place{Country: "GR"}, rulebook.Place{Country: "MX"})
	for _, v := range []layout.Vehicle{{Class: layout.PassengerCar}, {Class: layout.LightTruck}, {Class: layout.Bus, GrossRating: kilos(9000), Seats: 30}} {
		for _, p := range all {
			for _, q := range all {
				alone := map[string]bool{} // by name: a candidate in each of the places that lead to it
				for _, place := range []rulebook.Place{p, q} {
					books, _ := rulebook.Choose(v, rulebook.Use{Places: []rulebook.Place{place}}, nil)
					for _, b := range books {
						candidate, known := alone[b.Name()+b.Country]
						alone[b.Name()+b.Country] = b.For(rulebook.Limit{}).Candidate && (candidate || !known)
					}
				}
				books, _ := rulebook.Choose(v, rulebook.Use{Places: []rulebook.Place{p, q}}, nil)
				for _, b := range books {
					candidate, known := alone[b.Name()+b.Country]
					if !known || candidate != b.For(rulebook.Limit{}).Candidate || !b.Named {
						t.Errorf("%v and %v: %s is a candidate: %v; alone %v (known %v)", p, q, b.Name(), b.Candidate, candidate, known)
					}
					delete(alone, b.Name()+b.Country)
				}
				if len(alone) > 0 {
					t.Errorf("%v and %v: gone is %v", p, q, alone)
				}
			}
		}
	}
}

func TestMetric(t *testing.T) {
	for _, c := range []struct {
		ids  []string
		want bool
	}{
		{nil, false},
		{[]string{"us-light"}, false},
		{[]string{"uk-light"}, true},
		{[]string{"uk-light", "us-light"}, true}, // the first counts most
		{[]string{"us-light", "uk-light"}, false},
		{[]string{"eu-fr", "advice"}, true},
		{[]string{"nz"}, true},
		{[]string{"ca-qc"}, true},
		{[]string{"advice"}, false},
	} {
		var books []rulebook.Applied
		for _, id := range c.ids {
			books = append(books, rulebook.Applied{Book: rulebook.Must(id)})
		}
		if got := rulebook.Metric(books); got != c.want {
			t.Errorf("%v: metric %v, want %v", c.ids, got, c.want)
		}
	}
}

// The gross rating is asked for where it decides between the laws of a place, or within
// one, and nowhere else.
func TestWeightIsAskedWhereItDecides(t *testing.T) {
	decides := map[string]bool{}
	for _, b := range rulebook.All() {
		byWeight := b.Binds.RatingOver > 0 || b.Binds.RatingUpTo > 0 || b.Binds.CommercialFrom > 0 ||
			slices.ContainsFunc(b.Limits, func(l rulebook.Limit) bool { return l.Applies.RatingOver > 0 })
		decides[b.Country] = decides[b.Country] || byWeight
	}
	asked := 0
	for country, byWeight := range decides {
		if country == "" || byWeight {
			continue
		}
		asked++
		books, open := rulebook.Choose(layout.Vehicle{Class: layout.Heavy, Axles: make([]layout.Axle, 2)}, rulebook.Use{Places: places(country)}, nil)
		if slices.Contains(open, finding.AskGrossRating) || len(open) == 0 && slices.ContainsFunc(books, func(a rulebook.Applied) bool { return a.Candidate }) {
			t.Errorf("%s: asked %v, may bind %s", country, open, chosen(books))
		}
	}
	if asked == 0 {
		t.Error("no place whose law does not go by weight")
	}
}
