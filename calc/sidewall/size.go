package sidewall

import (
	"strconv"
	"strings"

	"gaugebook.dev/calc/unit"
)

// size takes the designation: [P|LT|ST|T|HL] then a metric, flotation or numeric
// size, then [LT|ST|C].
func (r *reader) size() (Marking, bool) {
	prefix := r.oneOf("P", "LT", "ST", "T", "HL")
	first, ok := r.number()
	if !ok {
		return Marking{}, false
	}
	switch {
	case len(first) == 3 && !strings.Contains(first, "."):
		return r.metric(prefix, first)
	case r.oneOf("X") != "":
		return r.flotation(prefix, first)
	}
	return r.numeric(prefix, first)
}

// metric takes the rest of 225/60R17, or of 155R13 where no aspect is written.
// Widths end in 5 or 0 and so do aspects.
func (r *reader) metric(prefix, width string) (Marking, bool) {
	w, _ := strconv.Atoi(width)
	m := Marking{SectionWidth: unit.MustLength(float64(w), unit.Millimeters)}
	if w < 105 || w > 495 || w%5 != 0 {
		return m, false
	}
	r.sign("/-")
	if text, ok := r.number(); ok {
		a, err := strconv.Atoi(text)
		if err != nil || a < 20 || a > 105 || a%5 != 0 {
			return m, false
		}
		m.Aspect = unit.Ratio(float64(a) / 100)
	}
	r.construction(&m)
	if m.Aspect == 0 && m.Construction == ConstructionNotTold || !r.rim(&m) {
		return m, false
	}
	suffix := r.suffix()
	switch {
	case prefix == "P":
		m.Class = PMetric
	case prefix == "T":
		m.Class = TemporarySpare
	case prefix == "ST" || suffix == "ST":
		m.Class = SpecialTrailer
	case prefix == "LT" || suffix == "LT":
		m.Class = LightTruckTire
	case suffix == "C":
		m.Class = CommercialMetric
	case drop15(m.Rim):
		m.Class = MetricHeavy
	default:
		m.Class = MetricPassenger
	}
	if prefix == "HL" {
		if m.Class != MetricPassenger {
			return m, false
		}
		m.LoadMark = "HL"
	}
	if suffix == "C" && (m.Class == LightTruckTire || m.Class == SpecialTrailer) {
		m.LoadRange = "C" // LT245/75R16 C
	}
	return m, true
}

// flotation takes the rest of 31x10.50R15LT. Without LT the same form is used
// off the road.
func (r *reader) flotation(prefix, overall string) (Marking, bool) {
	m := Marking{Class: LightTruckTire}
	width, ok := r.number()
	d, w := inches(overall), inches(width)
	if !ok || prefix != "" && prefix != "LT" || d < 24 || d > 48 || w < 7 || w > 18 {
		return m, false
	}
	m.Overall, m.SectionWidth = unit.MustLength(d, unit.Inches), unit.MustLength(w, unit.Inches)
	r.construction(&m)
	if !r.rim(&m) || m.Rim >= m.Overall {
		return m, false
	}
	if r.suffix() != "LT" && prefix != "LT" {
		return m, false
	}
	return m, true
}

// numeric takes the rest of 11R22.5 or 9.50R16.5LT. Without a further mark only
// the rims of trucks tell what it is.
func (r *reader) numeric(prefix, width string) (Marking, bool) {
	m := Marking{Numeric: width}
	w := inches(width)
	hyphen := r.peek(0).kind == '-'
	if prefix != "" && prefix != "LT" && prefix != "ST" || w < 4 || w > 18 {
		return m, false
	}
	r.construction(&m)
	if hyphen && m.Construction == ConstructionNotTold {
		m.Construction = Bias
	}
	if m.Construction == ConstructionNotTold || !r.rim(&m) {
		return m, false
	}
	if strings.Contains(width, ".") {
		m.Numeric = strconv.FormatFloat(w, 'f', 2, 64) // 9.5 is 9.50
	}
	suffix := r.suffix()
	switch {
	case prefix == "ST" || suffix == "ST":
		m.Class = SpecialTrailer
	case prefix == "LT" || suffix == "LT":
		m.Class = LightTruckTire
	case suffix == "C":
		m.Class = CommercialMetric
	case w >= 7 && (drop15(m.Rim) || flatBase(m.Rim)):
		m.Class = NumericHeavy
	default:
		return m, false
	}
	return m, true
}

// built is what a construction letter says.
type built struct {
	Construction
	selfSupporting, above bool
	speed                 SpeedSymbol
}

// constructions are the letters before the rim. S and H before R are the speed
// symbols of old markings (165SR13); V there meant above 210 km/h and is no
// symbol of today's table (common practice).
var constructions = map[string]built{
	"R": {Construction: Radial}, "RF": {Construction: Radial, selfSupporting: true},
	"ZR": {Construction: Radial, above: true, speed: "ZR"}, "ZRF": {Construction: Radial, above: true, speed: "ZR", selfSupporting: true},
	"SR": {Construction: Radial, speed: "S"}, "HR": {Construction: Radial, speed: "H"}, "VR": {Construction: Radial},
	"D": {Construction: Bias}, "B": {Construction: BeltedBias},
}

// construction takes the letter before the rim with the signs around it. A
// hyphen alone tells of a bias tire only in a numeric size.
func (r *reader) construction(m *Marking) {
	r.sign("/-")
	if b, ok := constructions[r.peek(0).text]; ok {
		r.skip(1)
		r.sign("-")
		m.Construction, m.SelfSupporting, m.SpeedAbove, m.Speed = b.Construction, b.selfSupporting, b.above, b.speed
	}
}

// drop15 tells the 15 degree drop-center rims of trucks.
func drop15(rim unit.Length) bool {
	switch rim.In(unit.Inches) {
	case 17.5, 19.5, 22.5, 24.5:
		return true
	}
	return false
}

// flatBase tells the multi-piece rims of trucks.
func flatBase(rim unit.Length) bool {
	switch rim.In(unit.Inches) {
	case 20, 22, 24:
		return true
	}
	return false
}

// rim takes the rim diameter: whole inches from 8 to 32, or one of the half
// inches in use.
func (r *reader) rim(m *Marking) bool {
	text, ok := r.number()
	n := inches(text)
	whole := n == float64(int(n)) && n >= 8 && n <= 32
	if !ok || !whole && n != 14.5 && n != 16.5 && n != 17.5 && n != 19.5 && n != 22.5 && n != 24.5 {
		return false
	}
	m.Rim = unit.MustLength(n, unit.Inches)
	return true
}

// suffix takes the service letters after the rim. A C before a single digit
// ("C9") is a mark of its own.
func (r *reader) suffix() string {
	if r.digitAt(1) {
		return ""
	}
	return r.oneOf("LT", "ST", "C")
}

// digitAt tells whether a single digit that is no ply rating stands there.
func (r *reader) digitAt(n int) bool {
	if t := r.peek(n); t.kind != number || len(t.text) > 1 {
		return false
	}
	n++
	if r.peek(n).kind == '-' {
		n++
	}
	return r.peek(n).text != "PR" && r.peek(n).text != "PLY"
}

// inches reads a number that the text shows as one, 0 when it is too long for a tire.
func inches(text string) float64 {
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || n > 99 {
		return 0
	}
	return n
}
