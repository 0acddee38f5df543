// Package layout knows where things are on a vehicle: axles, sides, duals, the
// spare, and what lies across the vehicle from what.
package layout

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
)

// Side is seen sitting in the vehicle and facing forward.
type Side uint8

// The two sides.
const (
	Left Side = iota + 1
	Right
)

// Dual tells the two wheels of one end of a dual axle apart.
type Dual uint8

// Single is a wheel alone at its end of the axle.
const (
	Single Dual = iota
	Inner
	Outer
)

// Position is one wheel's place: the axle counted from the front (1-9), the
// side, and inner or outer on a dual axle; or the spare. The zero Position is
// no place.
type Position struct {
	Axle  int
	Side  Side
	Dual  Dual
	Spare bool
}

// Parse reads a position as it is stored and sent: "S", or axle, side and, on
// a dual axle, I or O: "1L", "2RO". Anything else is an error that names the
// grammar; Suggest gives the position that another notation means.
func Parse(s string) (Position, error) {
	if s == "S" {
		return Position{Spare: true}, nil
	}
	if len(s) < 2 || len(s) > 3 || s[0] < '1' || s[0] > '9' {
		return Position{}, grammar(s)
	}
	p := Position{Axle: int(s[0] - '0')}
	switch s[1] {
	case 'L':
		p.Side = Left
	case 'R':
		p.Side = Right
	default:
		return Position{}, grammar(s)
	}
	if len(s) == 3 {
		switch s[2] {
		case 'I':
			p.Dual = Inner
		case 'O':
			p.Dual = Outer
		default:
			return Position{}, grammar(s)
		}
	}
	return p, nil
}

// MustParse is Parse for constants.
func MustParse(s string) Position {
	p, err := Parse(s)
	if err != nil {
		panic(err)
	}
	return p
}

func grammar(s string) error {
	return fmt.Errorf("%q is no position: wanted is the axle from the front and the side, with I or O on a dual axle (1L, 2RO), or S for the spare", s)
}

// String is the form that is stored and sent.
func (p Position) String() string {
	switch {
	case p.Spare:
		return "S"
	case p.Axle == 0:
		return ""
	case p.Axle > 0 && p.Axle < len(written):
		return written[p.Axle][p.Side][p.Dual]
	}
	return p.write()
}

func (p Position) write() string {
	s := strconv.Itoa(p.Axle) + [...]string{"", "L", "R"}[p.Side]
	return s + [...]string{"", "I", "O"}[p.Dual]
}

// written are the positions of the axles that vehicles have.
var written = func() (all [10][3][3]string) {
	for axle := range all {
		for side := range all[axle] {
			for dual := range all[axle][side] {
				all[axle][side][dual] = Position{Axle: axle, Side: Side(side), Dual: Dual(dual)}.write()
			}
		}
	}
	return all
}()

// Mirror is the same place on the other side of the vehicle.
func (p Position) Mirror() Position {
	switch p.Side {
	case Left:
		p.Side = Right
	case Right:
		p.Side = Left
	}
	return p
}

// Mate is the other tire of a dual pair; of a single wheel, itself.
func (p Position) Mate() Position {
	switch p.Dual {
	case Inner:
		p.Dual = Outer
	case Outer:
		p.Dual = Inner
	}
	return p
}

// Compare orders positions from the front, left before right, inner before
// outer, the spare last.
func (p Position) Compare(q Position) int {
	if p.Spare != q.Spare {
		if p.Spare {
			return 1
		}
		return -1
	}
	return cmp.Or(cmp.Compare(p.Axle, q.Axle), cmp.Compare(p.Side, q.Side), cmp.Compare(p.Dual, q.Dual))
}

// Across says where on the tread's width a reading was taken.
type Across uint8

// Inboard is toward the vehicle: "inner" alone has two meanings on a truck.
const (
	AcrossNotTold Across = iota
	Inboard
	Center
	Outboard
)

// String names the place across the tread.
func (a Across) String() string {
	return [...]string{"", "inboard", "center", "outboard"}[a]
}

// Drive is which axles the engine turns.
type Drive uint8

// Drives.
const (
	DriveNotTold Drive = iota
	FrontDrive
	RearDrive
	AllDrive
	NoDrive
)

// otherNotations maps what people write to the position it means on a vehicle
// of two axles. LR and RR are ambiguous on three axles and more.
var otherNotations = map[string]string{
	"LF": "1L", "FL": "1L", "RF": "1R", "FR": "1R", "LR": "2L", "RL": "2L", "RR": "2R",
	"NSF": "1L", "OSF": "1R", "NSR": "2L", "OSR": "2R",
	"LRI": "2LI", "LRO": "2LO", "RRI": "2RI", "RRO": "2RO",
	"SPARE": "S", "SP": "S",
}

// Suggest gives the position that a text in another notation means on a vehicle
// with so many axles, or "" when it means none or more than one.
func Suggest(s string, axles int) string {
	up := strings.ToUpper(strings.TrimSpace(s))
	if p, err := Parse(up); err == nil {
		return p.String()
	}
	p, ok := otherNotations[up]
	if !ok || (p[0] == '2' && axles != 2) {
		return ""
	}
	return p
}

// Beside is the other tire of a pair of which nobody said where it is.
var Beside = Position{Dual: Outer}
