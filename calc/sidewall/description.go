package sidewall

import (
	"strconv"
	"strings"
)

// rangeOfPly is the load range that replaced each ply rating.
var rangeOfPly = map[string]string{"2": "A", "4": "B", "6": "C", "8": "D", "10": "E", "12": "F", "14": "G", "16": "H", "18": "J", "20": "L", "22": "M", "24": "N"}

// loadRanges are the letters in use: I, K and O are not.
const loadRanges = "ABCDEFGHJLMN"

// Load indexes of the table run to 279; below 40 (140 kg) no tire of a road
// vehicle lies, and a number there is something else.
const (
	leastIndex = 40
	mostIndex  = 279
)

// truckIndex is the load index from which a tire with a dual index is a heavy
// one: class C3 against C2 (UN Regulation 117, 2.4, from memory).
const truckIndex = 122

// description takes what follows the size, in any order: load index and speed
// symbol, load range or ply rating, load mark. Of two service descriptions the
// first is the tire's. Two load ranges that disagree leave it untold.
func (r *reader) description(m *Marking) {
	told, agreed := m.LoadRange, true
	for len(r.tokens) > 0 {
		switch {
		case r.service(m):
		case r.loadMark(m):
		default:
			if found := r.loadRange(m.Class); found != "" {
				agreed = agreed && (told == "" || told == found)
				told = found
			}
		}
	}
	m.LoadRange = ""
	if agreed {
		m.LoadRange = told
	}
	if m.DualIndex > 0 && m.Class == MetricPassenger && m.LoadMark != "HL" {
		m.Class = CommercialMetric
		if m.LoadIndex >= truckIndex {
			m.Class = MetricHeavy
		}
	}
}

// service takes 94T, 120/116S, (94Y), 94(Y), 99A8. One that no tire has is taken
// and leaves nothing.
func (r *reader) service(m *Marking) bool {
	n, bracket := 0, false
	if r.peek(0).kind == '(' {
		n, bracket = 1, true
	}
	single, dual := r.peek(n), token{}
	if single.kind != number || len(single.text) < 2 {
		return false
	}
	n++
	if r.peek(n).kind == '/' && r.peek(n+1).kind == number {
		dual = r.peek(n + 1)
		n += 2
	}
	inner := r.peek(n).kind == '('
	if inner {
		n++
	}
	symbol := r.peek(n)
	n++
	text := symbol.text
	if d := r.peek(n); text == "A" && d.kind == number && len(d.text) == 1 {
		text += d.text
		n++
	}
	speed := SpeedSymbol(text)
	if _, ok := speed.Speed(); symbol.kind != word || !ok || speed == "ZR" {
		return false
	}
	if closed := r.peek(n).kind == ')'; closed && (bracket || inner) {
		n++
		if speed == "Y" {
			speed = "(Y)"
		}
	}
	r.skip(n)
	li, di := index(single.text), index(dual.text)
	if m.LoadIndex == 0 && li > 0 && (dual.text == "" || di > 0 && di <= li) {
		m.LoadIndex, m.DualIndex, m.Speed = li, di, speed
	}
	return true
}

// index reads a load index, 0 where it is none.
func index(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil || n < leastIndex || n > mostIndex {
		return 0
	}
	return n
}

// loadMark takes SL, XL, LL or their words. The mark HL of the size stays.
func (r *reader) loadMark(m *Marking) bool {
	mark := r.oneOf("SL", "XL", "LL")
	if mark == "" && r.peek(1).text == "LOAD" {
		mark = map[string]string{"STANDARD": "SL", "EXTRA": "XL", "LIGHT": "LL"}[r.peek(0).text]
		if mark != "" {
			r.skip(2)
		}
	}
	if mark == "" && r.oneOf("REINFORCED") != "" {
		mark = "XL"
	}
	if m.LoadMark == "" {
		m.LoadMark = mark
	}
	return mark != ""
}

// loadRange takes one thing that is neither service description nor load mark,
// and gives the load range where it is that: LRE, LR E, LOAD RANGE E, 10PR, or a
// lone letter on a tire that is not of a passenger car.
func (r *reader) loadRange(c Class) string {
	t, next := r.peek(0), r.peek(1)
	r.skip(1)
	switch {
	case t.kind == number:
		return r.plies(t.text)
	case t.kind != word:
		return ""
	case t.text == "LOAD" && next.text == "RANGE":
		r.skip(1)
		r.sign("-:")
		return r.rangeLetter()
	case t.text == "LR":
		r.sign("-:")
		return r.rangeLetter()
	case len(t.text) == 3 && t.text[:2] == "LR":
		return letterOf(t.text[2:])
	case len(t.text) > 1 || c.Passenger(): // there a lone letter may be a speed symbol
		return ""
	}
	// H/T, A/T, M+S, M/S and "A T" are marks of use, not load ranges, and a
	// letter with a digit is a mark of its own.
	joint := strings.ContainsRune("/+&-", next.kind) && next.kind != 0
	other := next
	if joint {
		other = r.peek(1)
	}
	if other.kind == word && len(other.text) == 1 {
		r.skip(1)
		if joint {
			r.skip(1)
		}
		return ""
	}
	if r.digitAt(0) {
		return ""
	}
	return letterOf(t.text)
}

// plies takes what follows a number: PR or PLY make it a ply rating; a letter
// after any other number belongs to that number.
func (r *reader) plies(n string) string {
	if next := r.peek(1).text; r.peek(0).kind == '-' && (next == "PR" || next == "PLY") {
		r.skip(1)
	}
	if r.oneOf("PR", "PLY") != "" {
		return rangeOfPly[n]
	}
	if t := r.peek(0); t.kind == word && len(t.text) == 1 {
		r.skip(1)
	}
	return ""
}

func (r *reader) rangeLetter() string {
	t := r.peek(0)
	if t.kind != word {
		return ""
	}
	r.skip(1)
	return letterOf(t.text)
}

func letterOf(s string) string {
	if len(s) == 1 && strings.Contains(loadRanges, s) {
		return s
	}
	return ""
}
