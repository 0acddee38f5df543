package sidewall

import (
	"regexp"
	"strconv"
	"strings"

	"gaugebook.dev/calc/unit"
)

// Class is the kind of tire a designation names.
type Class uint8

// Classes of tires.
const (
	UnknownClass     Class = iota // nothing written, or not understood
	PMetric                       // P225/60R16
	MetricPassenger               // 225/60R17, HL 245/40R19
	LightTruckTire                // LT245/75R16, 31x10.50R15LT, 9.50R16.5LT
	CommercialMetric              // 195/75R16C: vans
	NumericHeavy                  // 11R22.5, 10.00-20
	MetricHeavy                   // 315/70R22.5
	TemporarySpare                // T125/70D15
	SpecialTrailer                // ST205/75R15
)

// Truck tells whether the class is of medium and heavy truck tires.
func (c Class) Truck() bool { return c == NumericHeavy || c == MetricHeavy }

// Marking is what a designation and service description say. A zero field was
// not written or not understood; nothing is supplied.
type Marking struct {
	Class        Class
	SectionWidth unit.Length // nominal, of a metric size only
	Rim          unit.Length // nominal rim diameter
	LoadRange    string      // "C", "D", "E" ...; a ply rating is read as its load range
	LoadMark     string      // "SL", "XL", "HL"
	LoadIndex    int         // single mounting
	DualIndex    int         // dual mounting, 0 when one index is written
	Speed        SpeedSymbol
}

var (
	metricSize    = regexp.MustCompile(`^(P|LT|ST|T|HL)? ?(\d{3}) ?[/ -] ?(\d{2,3}) ?[/-]? ?(ZR|[RDB])?(?:F| ?RF)? ?-?(\d{2}(?:\.5)?)(?: ?(LT|ST|C)\b)?(.*)$`)
	fullProfile   = regexp.MustCompile(`^(P|LT|ST|T)? ?(\d{3}) ?(ZR|R|D|-) ?(\d{2}(?:\.5)?)(?: ?(LT|ST|C)\b)?(.*)$`)
	flotationSize = regexp.MustCompile(`^(LT)? ?(\d{2}(?:\.\d{1,2})?) ?X ?(\d{1,2}\.\d{1,2}) ?(?:R|-|D|B)? ?(\d{2}(?:\.5)?)(?: ?(LT)\b)?(.*)$`)
	numericSize   = regexp.MustCompile(`^(LT|ST)? ?(\d{1,2}(?:\.\d{1,2})?) ?(?:R|-) ?(\d{2}(?:\.5)?)(?: ?(LT|ST)\b)?(.*)$`)
	service       = regexp.MustCompile(`(?:^|[ (/])(\()?(\d{2,3})(?: ?/ ?(\d{2,3}))? ?(A[1-8]|[B-HJ-NP-WY]|\(Y\))(\))?(?:$|[ ),/;])`)
	loadRange     = regexp.MustCompile(`(?:LOAD RANGE|LR)[ -]?([A-HJ-N])\b`)
	bareRange     = regexp.MustCompile(`(?:^|[ /(])([A-HJ-N])(?:$|[ )/,;])`)
	plyRating     = regexp.MustCompile(`\b(\d{1,2}) ?-?(?:PR|PLY)\b`)
	loadMark      = regexp.MustCompile(`\b(XL|SL|EXTRA LOAD|STANDARD LOAD|REINFORCED)\b`)
	blanks        = regexp.MustCompile(`[\s_]+`)
)

// rangeOfPly is the load range that replaced each ply rating.
var rangeOfPly = map[string]string{"2": "A", "4": "B", "6": "C", "8": "D", "10": "E", "12": "F", "14": "G", "16": "H", "18": "J", "20": "L", "22": "M", "24": "N"}

// truckIndex is the load index from which a tire with a dual index is a heavy
// one: class C3 against C2 (UN Regulation 117, 2.4, from memory).
const truckIndex = 122

// Parse reads a designation with its service description as people write it:
// "P215/60R16 94T", "lt 245/75 r16 120/116s e", "11R22.5". What it does not
// understand it leaves at zero; a text that is no tire gives UnknownClass.
func Parse(text string) Marking {
	s := strings.ToUpper(text)
	s = strings.NewReplacer("×", "X", "–", "-", "*", "", "\u00a0", " ", ",5", ".5").Replace(s)
	s = strings.TrimSpace(blanks.ReplaceAllString(s, " "))
	var m Marking
	var rest string
	switch {
	case metricSize.MatchString(s):
		g := metricSize.FindStringSubmatch(s)
		if aspect, _ := strconv.Atoi(g[3]); aspect < 20 || aspect > 105 {
			return Marking{}
		}
		m, rest = metric(g[1], g[2], g[5], g[6], g[7])
		if g[4] == "ZR" && m.Class != UnknownClass {
			m.Speed = "ZR"
		}
	case fullProfile.MatchString(s):
		g := fullProfile.FindStringSubmatch(s)
		m, rest = metric(g[1], g[2], g[4], g[5], g[6])
	case flotationSize.MatchString(s):
		g := flotationSize.FindStringSubmatch(s)
		if g[1] == "" && g[5] == "" {
			return Marking{} // the same form is used off the road
		}
		m, rest = Marking{Class: LightTruckTire, Rim: rimOf(g[4])}, g[6]
	case numericSize.MatchString(s):
		g := numericSize.FindStringSubmatch(s)
		m, rest = numeric(g[1]+g[4], g[2], g[3]), g[5]
	}
	cut := rest != "" && strings.ContainsAny(rest[:1], ".0123456789") // a longer number than any rim
	if m.Class == UnknownClass || m.Rim == 0 || cut {
		return Marking{}
	}
	m.describe(rest)
	return m
}

// metric reads a size in millimeters. Its widths end in 5 or 0.
func metric(prefix, width, rim, suffix, rest string) (Marking, string) {
	w, _ := strconv.Atoi(width)
	if w < 105 || w > 495 || w%5 != 0 {
		return Marking{}, ""
	}
	m := Marking{Class: MetricPassenger, SectionWidth: unit.MustLength(float64(w), unit.Millimeters), Rim: rimOf(rim)}
	switch {
	case prefix == "P":
		m.Class = PMetric
	case prefix == "HL":
		m.LoadMark = "HL"
	case prefix == "T":
		m.Class = TemporarySpare
	case prefix == "ST" || suffix == "ST":
		m.Class = SpecialTrailer
	case prefix == "LT" || suffix == "LT":
		m.Class = LightTruckTire
	case suffix == "C":
		m.Class = CommercialMetric
	case truckRim(rim):
		m.Class = MetricHeavy
	}
	if suffix == "C" && m.Class != CommercialMetric {
		m.LoadRange = "C" // LT245/75R16 C
	}
	return m, rest
}

// numeric reads a size in inches; without a further mark only the rims of
// trucks tell what it is.
func numeric(mark, width, rim string) Marking {
	m := Marking{Rim: rimOf(rim)}
	w, _ := strconv.ParseFloat(width, 64)
	switch {
	case strings.Contains(mark, "LT"):
		m.Class = LightTruckTire
	case strings.Contains(mark, "ST"):
		m.Class = SpecialTrailer
	case w >= 7 && w <= 18 && (truckRim(rim) || rim == "20" || rim == "22" || rim == "24"):
		m.Class = NumericHeavy
	}
	return m
}

// truckRim tells the 15 degree drop-center rims of trucks.
func truckRim(rim string) bool {
	return rim == "17.5" || rim == "19.5" || rim == "22.5" || rim == "24.5"
}

// rimOf gives the rim diameter, 0 when no wheel of a road vehicle has it.
func rimOf(s string) unit.Length {
	n, err := strconv.ParseFloat(s, 64)
	if err != nil || n < 8 || n > 32 {
		return 0
	}
	return unit.MustLength(n, unit.Inches)
}

// describe reads what follows the size: load index, speed symbol, load range,
// load mark.
func (m *Marking) describe(rest string) {
	if g := loadMark.FindStringSubmatch(rest); g != nil && m.LoadMark == "" {
		m.LoadMark = map[string]string{"XL": "XL", "EXTRA LOAD": "XL", "REINFORCED": "XL"}[g[1]]
		if m.LoadMark == "" {
			m.LoadMark = "SL"
		}
	}
	if g := service.FindStringSubmatchIndex(rest); g != nil {
		part := func(i int) string {
			if g[2*i] < 0 {
				return ""
			}
			return rest[g[2*i]:g[2*i+1]]
		}
		m.LoadIndex, _ = strconv.Atoi(part(2))
		m.DualIndex, _ = strconv.Atoi(part(3))
		m.Speed = SpeedSymbol(part(4))
		if m.Speed == "Y" && part(1) != "" && part(5) != "" {
			m.Speed = "(Y)"
		}
		rest = rest[:g[0]] + " " + rest[g[1]:]
	}
	if m.DualIndex > 0 && m.Class == MetricPassenger {
		m.Class = CommercialMetric
		if m.LoadIndex >= truckIndex {
			m.Class = MetricHeavy
		}
	}
	if g := loadRange.FindStringSubmatch(rest); g != nil {
		m.LoadRange = g[1]
	} else if g := plyRating.FindStringSubmatch(rest); g != nil {
		m.LoadRange = rangeOfPly[g[1]]
	} else if g := bareRange.FindStringSubmatch(rest); g != nil && m.Class != MetricPassenger && m.Class != PMetric {
		m.LoadRange = g[1] // on a passenger tire a lone letter may be a speed symbol
	}
}
