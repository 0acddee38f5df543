package words

import (
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// An invented tongue, in which no word is of any language: it bends the names of
// places (Uwo tulom, "to the tire") and counts as Polish does. Its numbers and plurals
// are those of Poland in the Unicode CLDR, by which one is 1, few ends in 2, 3 or 4 but
// for 12, 13 and 14, many are all other whole numbers, and other is what has a fraction.
const inventedTongue = `
forms: [dative]
thousands_from: 5
findings:
  age.invented:
    technician: "{at}: vek {measured|one: {measured} roma|few: {measured} romi|many: {measured} romov|other: {measured} rome}[, lim {limit}]."
    customer: "uwo {at:dative} mana {measured|one: ena roma|few: {measured} romi|many: {measured} romov|other: {measured} rome}."
work:
  wheel.invented:
    technician: "{at}: {at|one: tula|few: tuli|many: tulov|other: tule} na {due_by}[ (bes {map:dative})]."
    customer: "Dajma {at:dative} {target} ba poma {at}."
  wheel.invented.no-target:
    technician: "{at}: tula."
    customer: "Dajma {at:dative}."
checked:
  age.invented: "Vek {measured}, lim {limit}."
evidence:
  age.invented: "vek tulom"
labels:
  place.front-rear: "{end} {side}[ {dual}] tula"
  place.front-rear.dative: "{end} {side}[ {dual}] tulom"
  place.on-axle: "{side}[ {dual}] tula od osa {n}"
  place.on-axle.dative: "{side}[ {dual}] tulom od osa {n}"
  place.both.front-rear: "obe {end} tuli"
  place.both.front-rear.dative: "obem {end} tulim"
  place.both.front: "prene"
  place.both.front.dative: "prenim"
  place.left: "leva"
  place.left.dative: "levom"
  place.right: "desa"
  place.right.dative: "desom"
  place.front: "prena"
  place.front.dative: "prenom"
  place.rear: "zana"
  place.rear.dative: "zanom"
  place.inner-dual: "intera"
  place.inner-dual.dative: "interom"
  place.many: "{n} tule"
  place.this: "tula"
  place.this.dative: "tulom"
  place.spare: "zapas"
  place.and: "ba"
  map.invented: "kolo"
  map.invented.dative: "kolom"
  short.front-rear: "{end}{side}[{dual}]"
  short.on-axle: "{n}{side}[{dual}]"
  short.spare: "ZAP"
  short.left: "L"
  short.right: "D"
  short.front: "P"
  short.rear: "Z"
  short.inner-dual: "I"
  unit.days: "{n|one: dena|few: deni|many: denov|other: dene}"
`

// A language is its texts: plurals, cases of places and numerals are told from them
// alone, by the program as it stands.
func TestInventedTongue(t *testing.T) {
	l, err := libraryOf(t, map[string]string{"en": "{}", "pl": inventedTongue})
	if err != nil {
		t.Fatal(err)
	}
	technician, customer := l.tellers(Reader{Language: "pl"})
	dually := layout.Vehicle{Class: layout.LightTruck, Axles: []layout.Axle{{}, {Dual: true}}}
	tractor := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{}, {Dual: true}, {Dual: true}}}
	at := func(v *layout.Vehicle, names ...string) Argument {
		var ps []layout.Position
		for _, n := range names {
			ps = append(ps, layout.MustParse(n))
		}
		return Argument{"at", At(v, ps...)}
	}
	years := func(name string, n float64) Argument {
		return Argument{name, Shown(unit.Amount{Number: n, Unit: unit.Years})}
	}
	days := func(n float64) Value { return Exact(unit.Amount{Number: n, Unit: unit.Days}) }
	span := func(n float64) Argument { return Argument{"due_by", SpanEnd(miles(n), miles(n))} }
	target := Argument{"target", Shown(unit.Amount{Number: 2.5, Unit: unit.Bar})}
	rotation := Argument{"map", Text(Labels, "map.invented")}
	for _, c := range []struct {
		said                     Said
		toTechnician, toCustomer string
	}{
		{Said{Findings, "age.invented", 0, []Argument{at(&dually, "1L"), years("measured", 1)}}, "PL: vek 1 roma.", "Uwo prenom levom tulom mana ena roma."},
		{Said{Findings, "age.invented", 0, []Argument{at(&dually, "2RI"), years("measured", 3), years("limit", 10)}}, "ZDI: vek 3 romi, lim 10.", "Uwo zanom desom interom tulom mana 3 romi."},
		{Said{Findings, "age.invented", 0, []Argument{at(&dually, "1L", "1R"), years("measured", 5)}}, "PL PD: vek 5 romov.", "Uwo obem prenim tulim mana 5 romov."},
		{Said{Findings, "age.invented", 0, []Argument{at(&tractor, "3R"), years("measured", 1.5)}}, "3D: vek 1,5 rome.", "Uwo desom tulom od osa 3 mana 1,5 rome."},
		{Said{Findings, "age.invented", 0, []Argument{at(&dually), years("measured", 12)}}, "Vek 12 romov.", "Uwo tulom mana 12 romov."},
		{Said{Findings, "age.invented", 0, []Argument{at(&dually, "S"), years("measured", 22)}}, "ZAP: vek 22 romi.", "Uwo zapas mana 22 romi."},
		{
			Said{Work, "wheel.invented", 0, []Argument{at(&dually, "1L", "1R"), span(48210), target, rotation}},
			"PL PD: tuli na 48\u00a0210 mi (bes kolom).", "Dajma obem prenim tulim 2,5 bar ba poma obe prene tuli.",
		},
		{Said{Work, "wheel.invented", 0, []Argument{at(&dually, "1L"), span(4821), target}}, "PL: tula na 4821 mi.", "Dajma prenom levom tulom 2,5 bar ba poma prena leva tula."},
		{Said{Work, "wheel.invented", 0, []Argument{at(&dually, "1L")}}, "PL: tula.", "Dajma prenom levom tulom."},
		{Said{Checked, "age.invented", 0, []Argument{years("measured", 5), {"limit", days(22)}}}, "Vek 5, lim 22 deni.", "Vek 5, lim 22 deni."},
		{Said{Evidence, "age.invented", 0, []Argument{{"amount", days(1)}}}, "vek tulom 1 dena", "vek tulom 1 dena"},
		{Said{Evidence, "age.invented", 0, nil}, "vek tulom", "vek tulom"},
	} {
		for teller, want := range map[*Teller]string{technician: c.toTechnician, customer: c.toCustomer} {
			if got, err := teller.Tell(c.said); got != want || err != nil {
				t.Errorf("%s: %q, %v, want %q", c.said.Code, got, err, want)
			}
		}
	}
	for n, want := range map[float64]string{0: "0 denov", 1: "1 dena", 2: "2 deni", 4: "4 deni", 5: "5 denov", 11: "11 denov", 12: "12 denov", 14: "14 denov", 21: "21 denov", 22: "22 deni", 102: "102 deni", 112: "112 denov", 1.5: "1,5 dene"} {
		if got := technician.Value(days(n)); got != want {
			t.Errorf("%v days are told %q, want %q", n, got, want)
		}
	}
}
