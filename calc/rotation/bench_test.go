package rotation_test

import (
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
)

// What a visit pays for its rotations: all maps with rates, and the search.
func BenchmarkFor(b *testing.B) {
	v := paced(sedan(layout.AllDrive, 8, 7, 6, 7), 1, 1, 2, 2)
	for b.Loop() {
		rotation.For(v)
	}
}

func BenchmarkFind(b *testing.B) {
	two := rotation.Two{Before: visit("1L 9 9 9,1R 9 9 9,2LI 8 7 4,2LO 9 9 9,2RI 9 9 9,2RO 9 9 9,S 9 9 9"), Now: visit("1L 9 9 9,1R 9 9 9,2LI 9 9 9,2LO 4 7 8,2RI 9 9 9,2RO 9 9 9,S 9 9 9"), Run: miles(5000)}
	for b.Loop() {
		rotation.Find(two)
	}
}
