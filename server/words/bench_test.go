package words

import (
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// aFinding is what is said of a tire near its limit, with all that a finding is told
// with.
func aFinding() (technician, customer *Teller, said Said) {
	technician, customer = Reader{Units: metric}.Tellers()
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	thirtySeconds := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }
	return technician, customer, Said{Section: Findings, Code: "tread.legal-limit", When: CannotTell, Arguments: []Argument{
		{"at", At(&car, layout.MustParse("1L"))},
		{"measured", Shown(thirtySeconds(1.5))},
		{"limit", Shown(thirtySeconds(2))},
		{"margin", Derived(thirtySeconds(0.5))},
		{"uncertainty", Expanded(thirtySeconds(0.45))},
		{"rule", Cited("49 CFR 570.9(a)")},
		{"place", Value{}},
	}}
}

func BenchmarkTell(b *testing.B) {
	technician, customer, said := aFinding()
	b.ReportAllocs()
	for b.Loop() {
		_, _ = technician.Tell(said)
		_, _ = customer.Tell(said)
	}
}

func BenchmarkTellers(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		Reader{Language: "es-MX", Units: metric}.Tellers()
	}
}
