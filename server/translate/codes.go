package translate

import (
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
)

// codes are the values of an enum as calc's codes: CORD_SHOWING of OBSERVATION_KIND is
// cord-showing; the unspecified value is "".
type codes[E enum, C ~string] struct {
	codes  map[E]C
	values map[C]E
}

type enum interface {
	~int32
	String() string
}

func codesOf[E enum, C ~string](names map[int32]string, prefix string) codes[E, C] {
	c := codes[E, C]{map[E]C{}, map[C]E{}}
	for n, name := range names {
		code := kebab[C](name, prefix)
		c.codes[E(n)], c.values[code] = code, E(n)
	}
	return c
}

// code is that of a value: of one that a newer client knows, its number.
func (c codes[E, C]) code(value E) C {
	if code, known := c.codes[value]; known {
		return code
	}
	return C(value.String())
}

// value is that of a code; unspecified for one that the contract has not.
func (c codes[E, C]) value(code C) E { return c.values[code] }

func kebab[C ~string](name, prefix string) C {
	name = strings.TrimPrefix(name, prefix)
	if name == "UNSPECIFIED" {
		return ""
	}
	return C(strings.ReplaceAll(strings.ToLower(name), "_", "-"))
}

var (
	observationKinds = codesOf[pb.ObservationKind, finding.Observation](pb.ObservationKind_name, "OBSERVATION_KIND_")
	complaintKinds   = codesOf[pb.ComplaintKind, finding.Complaint](pb.ComplaintKind_name, "COMPLAINT_KIND_")
	workKinds        = codesOf[pb.WorkKind, finding.Done](pb.WorkKind_name, "WORK_KIND_")
	wheelKinds       = codesOf[pb.WheelKind, string](pb.WheelKind_name, "WHEEL_KIND_")
	lookedAt         = codesOf[pb.LookedAt, finding.Looked](pb.LookedAt_name, "LOOKED_AT_")
	notLookedReasons = codesOf[pb.NotLookedReason, finding.NotLooked](pb.NotLookedReason_name, "NOT_LOOKED_REASON_")
	parts            = codesOf[pb.TirePart, finding.Part](pb.TirePart_name, "TIRE_PART_")
	sides            = codesOf[pb.WheelSide, finding.WheelSide](pb.WheelSide_name, "WHEEL_SIDE_")
)
