package sidewall

import (
	"fmt"
	"strings"

	"gaugebook.dev/calc/unit"
)

// String gives the usual spelling: size, service description, load range, load
// mark: "LT245/75R16 120/116S LRE", "225/45ZR17 94Y XL", "31x10.50R15LT LRC".
// Parse reads it as the same marking. Of an unknown class it is "".
func (m Marking) String() string {
	if m.Class == UnknownClass {
		return ""
	}
	var b strings.Builder
	b.WriteString(m.size())
	switch {
	case m.LoadIndex > 0 && m.DualIndex > 0:
		fmt.Fprintf(&b, " %d/%d%s", m.LoadIndex, m.DualIndex, m.Speed)
	case m.LoadIndex > 0 && m.Speed == "(Y)":
		fmt.Fprintf(&b, " (%dY)", m.LoadIndex)
	case m.LoadIndex > 0:
		fmt.Fprintf(&b, " %d%s", m.LoadIndex, m.Speed)
	}
	if m.LoadRange != "" {
		b.WriteString(" LR" + m.LoadRange)
	}
	if m.LoadMark != "" && m.LoadMark != "HL" {
		b.WriteString(" " + m.LoadMark)
	}
	return b.String()
}

func (m Marking) size() string {
	rim := m.letters() + decimal(m.Rim.In(unit.Inches))
	switch {
	case m.Overall > 0:
		return fmt.Sprintf("%sx%.2f%sLT", decimal(m.Overall.In(unit.Inches)), m.SectionWidth.In(unit.Inches), rim)
	case m.Numeric != "":
		switch m.Class {
		case LightTruckTire:
			return m.Numeric + rim + "LT"
		case CommercialMetric:
			return m.Numeric + rim + "C"
		}
		return m.prefix() + m.Numeric + rim
	}
	s := m.prefix() + decimal(m.SectionWidth.In(unit.Millimeters))
	if m.Aspect > 0 {
		s += "/" + decimal(m.Aspect.In(unit.Percent))
	}
	if m.Class == CommercialMetric {
		return s + rim + "C"
	}
	return s + rim
}

func (m Marking) prefix() string {
	if m.LoadMark == "HL" {
		return "HL"
	}
	return map[Class]string{PMetric: "P", LightTruckTire: "LT", TemporarySpare: "T", SpecialTrailer: "ST"}[m.Class]
}

// letters are what stands before the rim.
func (m Marking) letters() string {
	s := map[Construction]string{Radial: "R", Bias: "D", BeltedBias: "B", ConstructionNotTold: "-"}[m.Construction]
	switch {
	case m.Numeric != "" && m.Construction == Bias:
		s = "-"
	case m.SpeedAbove:
		s = "Z" + s
	case m.LoadIndex == 0:
		s = string(m.Speed) + s
	}
	if m.SelfSupporting {
		s += "F"
	}
	return s
}

// decimal is the shortest decimal, to a hundredth.
func decimal(n float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", n), "0"), ".")
}
