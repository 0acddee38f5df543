package visit

import (
	"testing"

	"gaugebook.dev/calc/sidewall"
)

// Bias-ply and bias-belted tires are cross-ply to a law that has another depth for them; a radial
// and one whose build is not told are not.
func TestWhichTiresAreCrossPly(t *testing.T) {
	for built, want := range map[sidewall.Construction]bool{sidewall.Bias: true, sidewall.BeltedBias: true, sidewall.Radial: false, sidewall.ConstructionNotTold: false} {
		w := Wheel{}
		w.Tire.Marking.Construction = built
		if got := w.Tread(nil, Visit{}.DepthGauge).CrossPly; got != want {
			t.Errorf("%v: %v", built, got)
		}
	}
}
