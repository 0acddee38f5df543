package words

import (
	"strings"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

func TestPlaces(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	dually := layout.Vehicle{Class: layout.LightTruck, Axles: []layout.Axle{{}, {Dual: true}}}
	tractor := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{}, {Dual: true}, {Dual: true}}}
	trailer := layout.Vehicle{Class: layout.Trailer, Axles: make([]layout.Axle, 2)}
	for _, c := range []struct {
		name    string
		vehicle layout.Vehicle
		at      []string
		want    string
		spanish string
	}{
		{"none", car, nil, "", ""},
		{"one", car, []string{"1L"}, "the left front", "la rueda delantera izquierda"},
		{"two", car, []string{"1L", "2R"}, "the left front and the right rear", "la rueda delantera izquierda y la rueda trasera derecha"},
		{"two and the spare", car, []string{"1L", "2R", "S"}, "the left front, the right rear and the spare", "la rueda delantera izquierda, la rueda trasera derecha y la rueda de repuesto"},
		{"an axle", car, []string{"1L", "1R"}, "both front wheels", "las dos ruedas delanteras"},
		{"an axle and one", car, []string{"1L", "2L", "2R"}, "the left front and both rear wheels", "la rueda delantera izquierda y las dos ruedas traseras"},
		{"both axles of a trailer", trailer, []string{"1L", "1R", "2L", "2R"}, "both wheels on axle 1 and both wheels on axle 2", "las dos ruedas del eje 1 y las dos ruedas del eje 2"},
		{"a dual pair", dually, []string{"2RI", "2RO"}, "both right rear wheels", "las dos ruedas traseras derechas"},
		{"a dual pair of three axles", tractor, []string{"3LI", "3LO"}, "both left wheels on axle 3", "las dos ruedas izquierdas del eje 3"},
		{"one of each dual pair", dually, []string{"2LI", "2RI"}, "both inner rear wheels", "las dos ruedas traseras interiores"},
		{"a dual pair and one", tractor, []string{"2LI", "2LO", "2RI"}, "both left wheels on axle 2 and the inner right wheel on axle 2", "las dos ruedas izquierdas del eje 2 y la rueda derecha interior del eje 2"},
		{"all of a dual axle", dually, []string{"2LI", "2LO", "2RI", "2RO"}, "all four rear wheels", "las cuatro ruedas traseras"},
		{"all of a dual axle of three", tractor, []string{"2LI", "2LO", "2RI", "2RO"}, "all four wheels on axle 2", "las cuatro ruedas del eje 2"},
		{"inner dual", dually, []string{"2RI"}, "the inner right rear", "la rueda trasera derecha interior"},
		{"outer dual of three axles", tractor, []string{"3LO"}, "the outer left wheel on axle 3", "la rueda izquierda exterior del eje 3"},
		{"front of three axles", tractor, []string{"1R"}, "the right wheel on axle 1", "la rueda derecha del eje 1"},
		{"a trailer has no front axle", trailer, []string{"1L"}, "the left wheel on axle 1", "la rueda izquierda del eje 1"},
		{"axles not told", layout.Vehicle{}, []string{"2L"}, "the left wheel on axle 2", "la rueda izquierda del eje 2"},
	} {
		var at []layout.Position
		for _, s := range c.at {
			p, err := layout.Parse(s)
			if err != nil {
				t.Fatal(err)
			}
			at = append(at, p)
		}
		for language, want := range map[string]string{"en": c.want, "es": c.spanish} {
			_, customer := Reader{Language: language}.Tellers()
			if got := customer.Value(At(&c.vehicle, at...)); got != want {
				t.Errorf("%s: %q, want %q", c.name, got, want)
			}
		}
	}
}

// The trade writes LF, RR and LRI on two axles, axle first on more (common
// practice); the two axles of a trailer are no front and rear. Spanish says
// delantera or trasera first: DI is the left front.
func TestShort(t *testing.T) {
	axles := func(dual ...bool) (as []layout.Axle) {
		for _, d := range dual {
			as = append(as, layout.Axle{Dual: d})
		}
		return as
	}
	for _, c := range []struct {
		vehicle       layout.Vehicle
		want, spanish string
	}{
		{layout.Vehicle{Class: layout.PassengerCar, Axles: axles(false, false)}, "LF RF LR RR", "DI DD TI TD"},
		{layout.Vehicle{Class: layout.LightTruck, Axles: axles(false, true)}, "LF RF LRI LRO RRI RRO", "DI DD TII TIE TDI TDE"},
		{layout.Vehicle{Class: layout.Heavy, Axles: axles(false, true, true)}, "1L 1R 2LI 2LO 2RI 2RO 3LI 3LO 3RI 3RO", "1I 1D 2II 2IE 2DI 2DE 3II 3IE 3DI 3DE"},
		{layout.Vehicle{Class: layout.Trailer, Axles: axles(false, false)}, "1L 1R 2L 2R", "1I 1D 2I 2D"},
		{layout.Vehicle{Class: layout.Trailer, Axles: axles(false)}, "1L 1R", "1I 1D"},
	} {
		for language, want := range map[string]string{"en": c.want + " SP", "es": c.spanish + " REP"} {
			var shown []string
			technician, _ := Reader{Language: language}.Tellers()
			for _, p := range append(c.vehicle.Positions(), layout.MustParse("S")) {
				name := technician.Value(At(&c.vehicle, p))
				shown = append(shown, name)
				// What is shown on two axles leads back to the place.
				if back := layout.Suggest(name, 2); language == "en" && len(c.vehicle.Axles) == 2 && c.vehicle.Class != layout.Trailer && !p.Spare && back != p.String() {
					t.Errorf("%s is shown as %s, which suggests %q", p, name, back)
				}
			}
			if got := strings.Join(shown, " "); got != want {
				t.Errorf("%s: %s, want %s", language, got, want)
			}
		}
	}
}

// A technician reads days as they sort (ISO 8601), a customer in everyday words.
func TestDates(t *testing.T) {
	day := unit.Date{Year: 2027, Month: 7, Day: 4}
	for language, want := range map[string][4]string{
		"en":    {"2027-07-04", "2027-07", "July 4, 2027", "July 2027"},
		"es":    {"2027-07-04", "2027-07", "4 de julio de 2027", "julio de 2027"},
		"es-MX": {"2027-07-04", "2027-07", "4 de julio de 2027", "julio de 2027"},
	} {
		technician, customer := Reader{Language: language}.Tellers()
		if got := [4]string{technician.Value(Day(day)), technician.Value(Month(day)), customer.Value(Day(day)), customer.Value(Month(day))}; got != want {
			t.Errorf("%s: %q, want %q", language, got, want)
		}
	}
}
