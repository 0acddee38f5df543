//go:build !race

package words

import "testing"

// A sentence is told with one allocation, the text itself; into a buffer that is
// there with none. Not told under the race detector, whose sync.Pool drops at random.
func TestAllocations(t *testing.T) {
	technician, customer, said := aFinding()
	var buffer []byte
	for name, c := range map[string]struct {
		tell func()
		most float64
	}{
		"to the technician": {func() { _, _ = technician.Tell(said) }, 1},
		"to the customer":   {func() { _, _ = customer.Tell(said) }, 1},
		"into a buffer":     {func() { buffer, _ = customer.Append(buffer[:0], said) }, 0},
		"a label":           {func() { technician.Text(Labels, "report.found") }, 0},
		"a value":           {func() { technician.Value(said.Arguments[1].Value) }, 1},
	} {
		if got := testing.AllocsPerRun(100, c.tell); got > c.most {
			t.Errorf("%s: %v allocations, more than %v", name, got, c.most)
		}
	}
}
