package rulebook_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// each calls f for every limit of every book, named as findings name it.
func each(f func(name string, b *rulebook.Book, l rulebook.Limit)) {
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			f(b.ID+"."+l.ID, b, l)
		}
	}
}

func TestIDs(t *testing.T) {
	kebab := regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	books := map[string]bool{}
	for _, b := range rulebook.All() {
		if books[b.ID] || !kebab.MatchString(b.ID) {
			t.Errorf("book %q is there twice or not in kebab case", b.ID)
		}
		books[b.ID] = true
		if got, ok := rulebook.Get(b.ID); !ok || got != b {
			t.Errorf("%s is not found by its id", b.ID)
		}
		if want := fmt.Sprintf("%s@%d", b.ID, b.Version); b.Version < 1 || b.Name() != want {
			t.Errorf("%s has the name %s", b.ID, b.Name())
		}
		if b.Title == "" || len(b.Limits) == 0 {
			t.Errorf("%s has no title or no limits", b.ID)
		}
		if b.Repair != "" && !strings.HasPrefix(rulebook.Must(b.Repair).ID, "repair-") {
			t.Errorf("%s goes with %s, which is no book of repair rules", b.ID, b.Repair)
		}
		limits := map[string]bool{}
		for _, l := range b.Limits {
			if limits[l.ID] || !kebab.MatchString(l.ID) {
				t.Errorf("%s.%s is there twice or not in kebab case", b.ID, l.ID)
			}
			limits[l.ID] = true
			if got := b.Limit(l.ID); got.ID != l.ID {
				t.Errorf("%s.%s is found as %s", b.ID, l.ID, got.ID)
			}
			rule := b.RuleOf(l)
			if rule.ID != b.ID+"."+l.ID || rule.Authority != l.Authority || rule.Citation != l.Citation || rule.Known != l.Known {
				t.Errorf("%s.%s as a rule: %+v", b.ID, l.ID, rule)
			}
			if !slices.ContainsFunc(b.About(l.Subject), func(m rulebook.Limit) bool { return m.ID == l.ID }) {
				t.Errorf("%s.%s is not listed under %s", b.ID, l.ID, l.Subject)
			}
		}
	}
	if _, ok := rulebook.Get("no-such-book"); ok {
		t.Error("a book that is not there is found")
	}
}

func TestUnknownPanics(t *testing.T) {
	for name, f := range map[string]func(){
		"book":  func() { rulebook.Must("no-such-book") },
		"limit": func() { rulebook.Must("advice").Limit("no-such-limit") },
		"depth": func() { rulebook.Must("us-commercial").Limit("truck-regrooved").Depth() },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("an unknown %s goes unnoticed", name)
				}
			}()
			f()
		}()
	}
}

// Each number stands in a unit its subject can have; a condition has none.
func TestUnits(t *testing.T) {
	depth := []unit.Unit{unit.ThirtySecondsInch, unit.Millimeters}
	length := []unit.Unit{unit.Inches, unit.Millimeters}
	pressure := []unit.Unit{unit.PSI, unit.Kilopascals, unit.Bar}
	units := map[rulebook.Subject][]unit.Unit{
		rulebook.AllWheelDrive:   {unit.ThirtySecondsInch, unit.Inches},
		rulebook.PairTread:       {unit.ThirtySecondsInch},
		rulebook.PairClass:       length,
		rulebook.ValveRating:     pressure,
		rulebook.TireAge:         {unit.Years},
		rulebook.TireAgeAdvised:  {unit.Years},
		rulebook.ConstructionMix: {unit.None},
		rulebook.RadialAhead:     {unit.None},
		rulebook.SpeedShown:      {unit.MilesPerHour, unit.KilometersPerHour},
		rulebook.TapeQuality:     length,

		rulebook.DepthGaugeQuality:  depth,
		rulebook.LengthGaugeQuality: length,

		rulebook.TreadDepth:        depth,
		rulebook.DepthDifference:   depth,
		rulebook.LikelyDepth:       depth,
		rulebook.ToFit:             append([]unit.Unit{unit.None}, depth...),
		rulebook.PairDiameter:      append([]unit.Unit{unit.Percent}, length...),
		rulebook.AxleDiameter:      {unit.Percent},
		rulebook.Studs:             {unit.None},
		finding.LawCut:             {unit.None, unit.Millimeters, unit.Inches, unit.Percent},
		rulebook.RetreadOnFront:    {unit.None, unit.Pounds},
		finding.LawCordExposed:     {unit.None},
		finding.LawSeparation:      {unit.None},
		finding.LawFlatOrLeaking:   {unit.None},
		finding.LawWheelCondition:  {unit.None},
		finding.LawFasteners:       {unit.None},
		finding.LawPressureForLoad: {unit.None},
		finding.LawLoad:            {unit.None},
		rulebook.Fitness:           {unit.None},
		rulebook.WheelWork:         {unit.Miles, unit.PSI},
		rulebook.WrenchQuality:     {unit.Percent},
		rulebook.WearShape:         {unit.ThirtySecondsInch, unit.Percent, unit.Miles, unit.Count},
		rulebook.WinterTire:        append([]unit.Unit{unit.None}, depth...),
		rulebook.WinterAdvised:     depth,

		rulebook.ColdPressure:  {unit.None, unit.Percent},
		rulebook.SidewallLimit: {unit.None},
		rulebook.RunLow:        {unit.None, unit.Percent},
		rulebook.AirOnVehicle:  {unit.Percent},
		rulebook.DualSpread:    pressure,
		rulebook.Alike:         pressure,
		rulebook.LampShare:     {unit.Percent},
		rulebook.LampFloor:     pressure,
		rulebook.LampRated:     pressure,
		rulebook.ColdMeaning:   {unit.Hours, unit.Miles, unit.Kilometers},
		rulebook.WarmAllowance: pressure,
		rulebook.GaugeQuality:  pressure,
		rulebook.SourceQuality: {unit.Celsius, unit.Fahrenheit},

		rulebook.LoadLaw:          {unit.None},
		rulebook.RatedLoad:        {unit.None},
		rulebook.PassengerOnTruck: {unit.Percent},
		rulebook.AxleCapacity:     {unit.None},
		rulebook.Regrooved:        {unit.None},
		rulebook.SlowerTire:       {unit.None, unit.KilometersPerHour},
		rulebook.WholeVehicle:     {unit.None},
		rulebook.MajorDefect:      depth,
		rulebook.TowingPressure:   {unit.Kilopascals},
		rulebook.SpareOnRoad:      {unit.None},
		rulebook.NotForHighway:    {unit.None},
		rulebook.HeatAllowance:    {unit.PSI, unit.Pounds},
		rulebook.NormalLoad:       {unit.Percent},
		rulebook.LabelCapacity:    {unit.None},

		rulebook.TreadGrowth:  depth,
		rulebook.NewDepth:     depth,
		rulebook.BreakIn:      {unit.Miles},
		rulebook.LinearWear:   {unit.Percent, unit.Count},
		rulebook.PressureLoss: {unit.PSIPerMonth},
		rulebook.Driving:      {unit.Days},
		rulebook.ComingDue:    {unit.Miles},

		rulebook.HoleSize:     length,
		rulebook.RepairPlace:  {unit.None, unit.Inches, unit.Millimeters, unit.Percent},
		rulebook.RimWheels:    {unit.None, unit.PSI},
		rulebook.RepairMethod: {unit.None, unit.Degrees},
		rulebook.RepairReject: {unit.None, unit.ThirtySecondsInch, unit.Millimeters},
		rulebook.RepairCount:  {unit.None, unit.Count},
		rulebook.ReadingDoubt: {unit.Millimeters, unit.Degrees},
		rulebook.RepairAdvice: {unit.KilometersPerHour, unit.Years},
	}
	each(func(name string, _ *rulebook.Book, l rulebook.Limit) {
		allowed, ok := units[l.Subject]
		if !ok {
			t.Errorf("%s: which units %q may have is not said here", name, l.Subject)
		}
		if ok && !slices.Contains(allowed, l.Value.Unit) {
			t.Errorf("%s: %q stands in %q", name, l.Subject, l.Value.Unit)
		}
		if l.Value.Unit == unit.None && l.Value.Number != 0 || l.Value.Unit != unit.None && l.Value.Number <= 0 {
			t.Errorf("%s: %v is no limit", name, l.Value)
		}
		if (l.Value.Unit == unit.Millimeters && slices.Contains(allowed, unit.ThirtySecondsInch)) != l.Value.Tread && l.Subject != rulebook.RepairReject {
			t.Errorf("%s: of tread %v", name, l.Value.Tread)
		}
		if depthRule := l.Subject == rulebook.TreadDepth || l.Subject == rulebook.MajorDefect || l.Subject == rulebook.ToFit && !l.Value.IsZero(); depthRule {
			if l.Authority <= finding.PublishedStandard && l.Where == rulebook.NoPlace {
				t.Errorf("%s: where on the tread is not said", name)
			}
		} else if l.Where != rulebook.NoPlace {
			t.Errorf("%s: a place on the tread for %q", name, l.Subject)
		}
	})
}

// Every line names law, standard, textbook, maker or common practice. In the
// books of law and in the advice on depth, those listed are known from memory;
// all else was read or is marked as reported.
func TestSources(t *testing.T) {
	memory := []string{
		"us-light.depth", "us-light.structure", "us-light.cord",
		"advice.axle-pair", "advice.rear-at-most-below", "advice.likely-car", "advice.likely-light-truck", "advice.likely-heavy",
	}
	lawOrStandard := regexp.MustCompile(`\d+ CFR |(Code|COMAR|Law|Stat\.) \d|Regulations \d{4}, reg\. |StVZO §|KDV §|French order|Act \d+/\d+ §|Highway Safety Code|winter (tire|equipment) (duty|rule)|transport agency's rules|Directive \d+/\d+/EEC|New Zealand (inspection rule|transport agency sheet)|UN Regulation|BS AU |ISO |\(textbook\)|ASTM |Army TM `)
	depths := []rulebook.Subject{rulebook.TreadDepth, rulebook.DepthDifference, rulebook.LikelyDepth}
	each(func(name string, b *rulebook.Book, l rulebook.Limit) {
		if l.Citation == "" || l.Says == "" || l.Applies.Text == "" || l.Authority == finding.AuthorityNotTold || l.Known == finding.KnownNotTold {
			t.Errorf("%s: says nothing of its source, its meaning, its scope or its standing: %+v", name, l)
		}
		const reported = ", as reported"
		told := l.Known == finding.Reported && strings.HasSuffix(l.Citation, reported)
		if l.Authority == finding.LawInUse && l.Known == finding.Reported && b.Country != "" && b.Repairs == nil && !told {
			t.Errorf("%s: reported, and %q does not end %q", name, l.Citation, reported)
		}
		cites := lawOrStandard.MatchString(l.Citation) || l.Text.Copy != "" || told // which copy of the law was read
		switch l.Authority {
		case finding.LawInUse, finding.ModelStandard, finding.PublishedStandard:
			if !cites {
				t.Errorf("%s: %q is neither law nor standard", name, l.Citation)
			}
		}
		if l.Known == finding.Read && !cites && l.Authority != finding.CommonPractice && l.Authority != finding.Maker {
			t.Errorf("%s: read, but %q is neither law nor standard", name, l.Citation)
		}
		law := b.Country != "" && !strings.HasPrefix(b.ID, "repair-")
		if !law && !slices.Contains(depths, l.Subject) {
			return
		}
		if want := slices.Contains(memory, name); want != (l.Known == finding.FromMemory) {
			t.Errorf("%s: from memory %v, want %v", name, l.Known == finding.FromMemory, want)
		}
		if l.Known == finding.FromMemory && l.Authority == finding.LawInUse {
			t.Errorf("%s: a law in use from memory", name)
		}
		if l.Known == finding.Reported && !strings.Contains(l.Citation, "as reported") && !strings.HasPrefix(l.Citation, "common practice") {
			t.Errorf("%s: reported, and %q does not say so", name, l.Citation)
		}
	})
}

// Where a line that was read has a part from memory, it says so.
func TestWhatIsRememberedSaysSo(t *testing.T) {
	for _, name := range []string{"eu-at.winter-depth", "uk-light.depth", "uk-heavy.depth"} {
		book, id, _ := strings.Cut(name, ".")
		if l := rulebook.Must(book).Limit(id); !strings.Contains(l.Says, "remembered") {
			t.Errorf("%s: does not say what of it is remembered", name)
		}
	}
}

// No text of a book names a host.
func TestNoHostIsNamed(t *testing.T) {
	host := regexp.MustCompile(`(?i)://|www\.|@|\b[a-z0-9-]+\.(com|org|net|gov|edu|info|eu|uk|de|at|fr|us|io|dev)\b`)
	each(func(name string, b *rulebook.Book, l rulebook.Limit) {
		for _, text := range []string{b.Title, l.Citation, l.Says, l.Applies.Text} {
			if found := host.FindString(text); found != "" {
				t.Errorf("%s: names a host: %q in %q", name, found, text)
			}
		}
	})
}

// A law binds somewhere: it stands in its country's book or, where a book of
// practice carries one, its citation names the country's code. What 49 CFR 570
// and 571 say is never law in use (570.53: it binds no person by itself).
func TestAuthority(t *testing.T) {
	federal := regexp.MustCompile(`\d+ CFR `)
	model := regexp.MustCompile(`49 CFR 57[01]\.`)
	each(func(name string, b *rulebook.Book, l rulebook.Limit) {
		if l.Authority == finding.LawInUse && b.Country == "" && !federal.MatchString(l.Citation) {
			t.Errorf("%s: a law in use of no country", name)
		}
		if model.MatchString(l.Citation) && (l.Authority == finding.LawInUse || l.Authority == finding.PublishedStandard) {
			t.Errorf("%s: %q is made more than a model standard", name, l.Citation)
		}
		if b.ID == "advice" && l.Authority == finding.LawInUse {
			t.Errorf("%s: advice is made law", name)
		}
	})
}

func seats(v layout.Vehicle, n int) layout.Vehicle {
	v.Seats = n
	return v
}

// What a limit applies to, each with the paragraph that says so.
func TestAppliesTo(t *testing.T) {
	v := func(c layout.Class, rating unit.Mass) layout.Vehicle {
		return layout.Vehicle{Class: c, GrossRating: rating, Axles: make([]layout.Axle, 2)}
	}
	for _, c := range []struct {
		rule     string
		vehicle  layout.Vehicle
		position string
		want     bool
		source   string
	}{
		{"us-commercial.front-depth", v(layout.Heavy, pounds(26_000)), "1L", true, "49 CFR 393.75(b)"},
		{"us-commercial.front-depth", v(layout.Heavy, pounds(26_000)), "2L", false, "49 CFR 393.75(b)"},
		{"us-commercial.front-depth", v(layout.Trailer, pounds(26_000)), "1L", false, "49 CFR 393.75(c)"},
		{"us-commercial.other-depth", v(layout.Trailer, pounds(26_000)), "1L", true, "49 CFR 393.75(c)"},
		{"us-commercial.other-depth", v(layout.Heavy, pounds(26_000)), "1L", false, "49 CFR 393.75(c)"},
		{"us-commercial.bus-retread", v(layout.Bus, pounds(26_000)), "1L", true, "49 CFR 393.75(d)"},
		{"us-commercial.bus-retread", v(layout.Heavy, pounds(26_000)), "1L", false, "49 CFR 393.75(d): buses only"},
		{"us-commercial.truck-regrooved", v(layout.Bus, pounds(26_000)), "1L", false, "49 CFR 393.75(e): trucks and truck tractors"},

		{"us-heavy-model.front-depth", v(layout.Heavy, pounds(10_001)), "1L", true, "49 CFR 570.62(a)"},
		{"us-heavy-model.front-depth", v(layout.LightTruck, pounds(10_000)), "1L", false, "49 CFR 570.62(a)"},
		{"us-heavy-model.front-depth", v(layout.Trailer, pounds(26_000)), "1L", false, "49 CFR 570.62(a): other than a trailer"},
		{"us-heavy-model.other-depth", v(layout.Trailer, pounds(26_000)), "1L", true, "49 CFR 570.62(a)"},
		{"us-light.depth", v(layout.LightTruck, pounds(10_000)), "1L", true, "49 CFR 570.9(a), from memory"},
		{"us-light.depth", v(layout.LightTruck, pounds(10_001)), "1L", false, "49 CFR 570.9(a), from memory"},
		{"us-light.depth", v(layout.LightTruck, 0), "1L", true, "what is not told narrows nothing"},
		{"us-light.depth", v(layout.Trailer, pounds(3000)), "1L", false, "49 CFR 570.3, from memory: not trailers"},
		{"us-light.depth", v(layout.PassengerCar, pounds(26_000)), "1L", true, "class against rating: both"},
		{"us-heavy-model.front-depth", v(layout.PassengerCar, pounds(26_000)), "1L", true, "class against rating: both"},
		{"us-heavy-model.front-depth", v(layout.PassengerCar, 0), "1L", false, "no car is over 10,000 lb"},

		{"uk-light.depth", v(layout.LightTruck, kilos(3500)), "1L", true, "reg. 27(4)(f)"},
		{"uk-light.depth", v(layout.LightTruck, kilos(3501)), "1L", false, "reg. 27(4)(f)"},
		{"uk-light.depth", v(layout.PassengerCar, kilos(3600)), "1L", true, "reg. 27(4)(f): a car by its seats"},
		{"uk-light.depth", seats(v(layout.Bus, kilos(3600)), 9), "1L", true, "reg. 27(4)(f): eight seats besides the driver's, at any weight"},
		{"uk-light.depth", seats(v(layout.Bus, kilos(3400)), 10), "1L", false, "reg. 27(4)(e): nine seats besides the driver's"},
		{"uk-light.depth", seats(v(layout.LightTruck, kilos(3400)), 12), "1L", false, "reg. 27(4)(e): a minibus by its seats"},
		{"uk-light.depth", seats(v(layout.LightTruck, kilos(3400)), 3), "1L", true, "reg. 27(4)(f): a goods vehicle by its weight"},
		{"uk-heavy.depth", seats(v(layout.Bus, kilos(3400)), 10), "1L", true, "reg. 27(4)(e): nine seats besides the driver's"},
		{"uk-heavy.depth", seats(v(layout.Bus, kilos(3600)), 9), "1L", false, "reg. 27(4)(f)"},
		{"uk-heavy.depth", v(layout.Bus, kilos(3400)), "1L", true, "a bus carries more than eight passengers"},
		{"uk-heavy.depth", seats(v(layout.Heavy, kilos(18_000)), 3), "1L", true, "reg. 27(4)(e): a goods vehicle by its weight"},
		{"uk-heavy.depth", v(layout.Heavy, kilos(3501)), "1L", true, "reg. 27(4)(e)"},
		{"uk-heavy.depth", v(layout.LightTruck, kilos(3500)), "1L", false, "reg. 27(4)(e)"},
		{"uk-heavy.depth", v(layout.Bus, kilos(12_000)), "2R", true, "reg. 27(4)(e)"},

		{"eu-at.depth", v(layout.PassengerCar, 0), "1L", true, "KDV § 4 Abs. 4"},
		{"eu-at.heavy-depth", v(layout.PassengerCar, 0), "1L", false, "KDV § 4 Abs. 4: over 3,500 kg"},
		{"eu-at.heavy-depth", v(layout.LightTruck, 0), "1L", true, "what is not told narrows nothing"},
		{"eu-at.heavy-depth", v(layout.Heavy, kilos(3501)), "1L", true, "KDV § 4 Abs. 4"},
		{"eu-at.depth", v(layout.Heavy, kilos(3501)), "1L", false, "KDV § 4 Abs. 4"},

		{"eu-fr.depth", v(layout.PassengerCar, kilos(3600)), "1L", true, "French order: category M1 at any weight"},
		{"eu-fr.heavy-depth", v(layout.PassengerCar, kilos(3600)), "1L", false, "French order: other categories"},
		{"eu-fr.depth", v(layout.LightTruck, kilos(3500)), "1L", true, "French order: category N1"},
		{"eu-fr.heavy-depth", v(layout.Heavy, kilos(18_000)), "1L", true, "French order: other categories"},
		{"eu-fr.depth", v(layout.Bus, kilos(3400)), "1L", false, "French order: a bus is none of M1, N1, O1, O2"},
		{"eu-fr.heavy-depth", v(layout.Bus, kilos(3400)), "1L", true, "French order: other categories"},
	} {
		book, id, _ := strings.Cut(c.rule, ".")
		l := rulebook.Must(book).Limit(id)
		if got := l.AppliesTo(c.vehicle, layout.MustParse(c.position)); got != c.want {
			t.Errorf("%s, class %d, %v, %s: applies %v, want %v (%s)",
				c.rule, c.vehicle.Class, c.vehicle.GrossRating.Amount(unit.Kilograms), c.position, got, c.want, c.source)
		}
	}
}

// However class and rating are told, a depth rule of each country speaks of
// every wheel that is judged, but for the light trailers that 49 CFR 570 leaves
// out.
func TestNoVehicleFallsThrough(t *testing.T) {
	for _, country := range []string{"US", "GB", "DE", "AT", "FR", "IT", "PT", "SK", "CZ", "FI", "SE", "NO", "CH", "AR", "NZ"} {
		for class := layout.ClassNotTold; class <= layout.Motorhome; class++ {
			for _, rating := range []unit.Mass{0, kilos(1900), kilos(3500), kilos(3600), pounds(10_001), pounds(26_000)} {
				for _, interstate := range []finding.Answer{finding.NotAsked, finding.Yes, finding.No} {
					v := layout.Vehicle{Class: class, GrossRating: rating, Axles: make([]layout.Axle, 2)}
					books, _ := rulebook.Choose(v, rulebook.Use{Places: places(country), Interstate: interstate}, nil)
					for _, p := range v.Positions() {
						n := 0
						for _, b := range books {
							for _, l := range b.About(rulebook.TreadDepth) {
								if l.AppliesTo(v, p) {
									n++
								}
							}
						}
						light := country == "US" && class == layout.Trailer && interstate == finding.No && rating <= pounds(10_000)
						if n == 0 && !light {
							t.Errorf("%s, class %d, %v, interstate %d: no depth rule speaks of %s", country, class, rating.Amount(unit.Kilograms), interstate, p)
						}
					}
				}
			}
		}
	}
}
