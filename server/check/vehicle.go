package check

import (
	"fmt"
	"strings"

	"gaugebook.dev/calc/layout"
	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

// positionForm says how a position is written.
const positionForm = "the axle from the front and the side, with I or O on a dual axle (1L, 2RO), or S for the spare"

func (w walker) axles(v *gaugebookv1.Axles) {
	n := len(v.GetAxles())
	w.required(n > 0, "axles", "1 to 9 axles from the front; leave them all out when they are not told")
	if n > maxAxles {
		w.to("axles").add(fmt.Sprintf("%d axles", n), fmt.Sprintf("a vehicle has at most %d axles", maxAxles), "a trailer is a vehicle of its own")
	}
}

func (w walker) use(u *gaugebookv1.VehicleUse) {
	if n := len(u.GetDrivenIn()); n > maxPlaces {
		w.to("driven_in").add(fmt.Sprintf("%d places", n), fmt.Sprintf("at most %d places", maxPlaces), "those that count most")
	}
	type law struct{ country, state string }
	repeated(u.GetDrivenIn(), func(j *gaugebookv1.Jurisdiction) (law, bool) {
		return law{j.GetCountry(), j.GetState()}, j.GetCountry() != ""
	}, func(i, first int) {
		w.entry("driven_in", i).add("", fmt.Sprintf("given twice: drivenIn[%d] is this place too", first), "")
	})
}

func (w walker) jurisdiction(j *gaugebookv1.Jurisdiction) {
	switch {
	case j.GetCountry() != "":
	case j.GetState() != "":
		w.to("state").add(quote(j.GetState()), "a state without its country", "the country too")
	default:
		w.add("", "no place is named", "a country, such as US")
	}
}

// country wants the code of ISO 3166-1 alpha-2, which for the United Kingdom is
// GB; that it is one in use is not checked.
func (w walker) country(s string) {
	meant := map[string]string{"UK": "GB", "USA": "US"}[strings.ToUpper(s)]
	if up := strings.ToUpper(s); meant == "" && up != s && capitals(up) {
		meant = up
	}
	switch {
	case meant != "":
		w.add(quote(s), "no country's code", "did you mean "+meant+"?")
	case !capitals(s):
		w.add(quote(s), "no country's code", "two capital letters, such as US")
	}
}

func capitals(s string) bool { return len(s) == 2 && only(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") }

// state wants what follows the hyphen of an ISO 3166-2 code: one to three
// letters or digits.
func (w walker) state(s string) {
	part := s[strings.LastIndexByte(s, '-')+1:]
	up := strings.ToUpper(part)
	switch ok := len(up) >= 1 && len(up) <= 3 && only(up, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"); {
	case !ok:
		w.add(quote(s), "no state's code", "one to three letters or digits, such as CA")
	case up != s:
		w.add(quote(s), "no state's code", "did you mean "+up+"?")
	}
}

// only tells whether a text has no other characters than those of a set.
func only(s, set string) bool { return strings.Trim(s, set) == "" }

const hexDigits = "0123456789abcdef"

// id wants a UUID as RFC 9562, section 4, writes it, in lower case, so that one
// id has one spelling.
func (w walker) id(s string) {
	if uuid(s) {
		return
	}
	want := "a UUID in lower case, such as 6b0c1f0e-8a53-4f0e-9d8e-2f1c5f0a7b10"
	if bare := strings.Trim(strings.ToLower(strings.TrimPrefix(strings.TrimSpace(s), "urn:uuid:")), "{}"); uuid(bare) {
		want = "did you mean " + bare + "?"
	}
	w.add(quote(s), "no UUID in the usual form", want)
}

func uuid(s string) bool {
	parts := strings.Split(s, "-")
	if len(parts) != 5 {
		return false
	}
	for i, n := range []int{8, 4, 4, 4, 12} {
		if len(parts[i]) != n || !only(parts[i], hexDigits) {
			return false
		}
	}
	return true
}

func (w walker) sha256(s string) {
	if len(s) != 64 || !only(s, hexDigits) {
		w.add(quote(s), "no SHA-256", "64 lower-case hex digits")
	}
}

// layout is the one that positions are compared with; without axles when
// any position of the right form will do. An earlier visit may have seen other
// axles: duals are exchanged for wide-base singles.
func (w walker) layout() layout.Vehicle {
	var v layout.Vehicle
	axles := w.vehicle.GetAxles().GetAxles()
	if w.past || len(axles) > maxAxles {
		return v
	}
	for _, a := range axles {
		v.Axles = append(v.Axles, layout.Axle{Dual: a.GetWheels() == gaugebookv1.AxleWheels_AXLE_WHEELS_DUAL})
	}
	return v
}

// position wants a wheel that the vehicle has, or the spare.
func (w walker) position(s string) { w.positionOn(w.layout(), s) }

// positionOfAny wants a position of any vehicle: work and moves may be those of
// another vehicle, or of this one before its axles were changed.
func (w walker) positionOfAny(s string) { w.positionOn(layout.Vehicle{}, s) }

func (w walker) positionOn(v layout.Vehicle, s string) {
	p, err := layout.Parse(s)
	switch {
	case err != nil:
		want := positionForm
		if meant := layout.Suggest(s, len(v.Axles)); meant != "" {
			want = suggestPosition(v, layout.MustParse(meant))
		} else if len(v.Axles) > 0 {
			want = itsWheels(v)
		}
		w.add(quote(s), "no position", want)
	case len(v.Axles) > 0 && v.Has(p) != nil:
		w.add(quote(s), "the vehicle has no such wheel", suggestPosition(v, p))
	}
}

// suggestPosition says which wheel was probably meant by a position: it, else those at
// its end of the axle, else any.
func suggestPosition(v layout.Vehicle, p layout.Position) string {
	var meant []string
	for _, q := range v.Positions() {
		if q.Axle == p.Axle && q.Side == p.Side {
			meant = append(meant, q.String())
		}
	}
	switch {
	case len(v.Axles) == 0 || v.Has(p) == nil:
		return "did you mean " + p.String() + "?"
	case len(meant) > 0:
		return "did you mean " + joinOr(meant) + "?"
	}
	return itsWheels(v)
}

func itsWheels(v layout.Vehicle) string {
	return "its wheels are " + strings.Trim(fmt.Sprint(v.Positions()), "[]")
}
