package check

import (
	"fmt"
	"slices"

	"google.golang.org/protobuf/reflect/protoreflect"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/plausible"
	"gaugebook.dev/calc/unit"
)

// slip gives what a number that was refused may have been meant as: by what a quantity
// is on vehicles of any kind, for the same visit is checked with its vehicle and without.
func slip(q plausible.Quantity) func(unit.Amount) []unit.Amount {
	return func(read unit.Amount) []unit.Amount { return plausible.Of(q, layout.ClassNotTold).Meant(q, read) }
}

// offer asks whether a refused number was meant in another unit, where it is one that is
// taken there: "did you mean 230 kPa?". "" where it is none in any.
func (s scale) offer(n float64, read protoreflect.FieldDescriptor) string {
	var other []string
	if s.meant != nil {
		for _, a := range s.meant(unit.Amount{Number: n, Unit: units[read.Name()]}) {
			other = append(other, fmt.Sprint(a.Number)+spaced(a.Unit))
		}
	} else {
		of := read.ContainingOneof().Fields()
		for i := range of.Len() {
			if fd := of.Get(i); fd.Name() != read.Name() && s.takes(n, fd) {
				other = append(other, fmt.Sprint(n)+symbol(fd.Name()))
			}
		}
	}
	other = slices.Compact(other)
	if len(other) == 0 {
		return ""
	}
	return "did you mean " + joinOr(other) + "?"
}

// takes tells whether a number in the unit of a field is in the scale.
func (s scale) takes(n float64, in protoreflect.FieldDescriptor) bool {
	v, err := s.in(n, in.Name())
	return err == nil && s.bars(v) == ""
}

// bars gives the rule that a value in the unit of the scale is against, "" for none.
func (s scale) bars(v float64) string {
	switch {
	case v < s.low-slack(s.low), s.open && v <= s.low:
		return s.tooLow
	case v > s.high+slack(s.high):
		return s.tooHigh
	}
	return ""
}
