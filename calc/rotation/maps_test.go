package rotation_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
)

func at(p string) layout.Position { return layout.MustParse(p) }

// everyMap gives all maps by id, with the vehicle of each.
func everyMap() map[string]rotation.Map {
	all := map[string]rotation.Map{}
	for _, v := range []layout.Vehicle{car, dually} {
		for _, p := range rotation.For(rotation.Vehicle{Layout: v, Spare: finding.Yes}).Plans {
			all[p.Map.ID] = p.Map
		}
	}
	return all
}

var dually = layout.Vehicle{Class: layout.LightTruck, Drive: layout.RearDrive, Axles: []layout.Axle{{Steered: true}, {Dual: true, Driven: true}}}

// Which tire goes where, by the trade's letters: FL to RL is FL>RL.
func TestMaps(t *testing.T) {
	trade := strings.NewReplacer("1L", "FL", "1R", "FR", "2LI", "RLI", "2LO", "RLO", "2RI", "RRI", "2RO", "RRO", "2L", "RL", "2R", "RR", "S", "SPARE")
	for _, row := range []struct {
		id, moves string
		cycles    string // their lengths
		source    string
	}{
		{"forward-cross", "FL>RL FR>RR RL>FR RR>FL", "4", "49 CFR 575.104(e)(2)(v), read"},
		{"rearward-cross", "FL>RR FR>RL RL>FL RR>FR", "4", "common practice of tire services, as reported"},
		{"x-pattern", "FL>RR FR>RL RL>FR RR>FL", "2 2", "common practice of tire services, as reported"},
		{"front-rear-same-side", "FL>RL FR>RR RL>FL RR>FR", "2 2", "common practice of tire services, as reported"},
		{"side-to-side", "FL>FR FR>FL RL>RR RR>RL", "2 2", "common practice of tire services, as reported"},
		{"five-tire-forward-cross", "FL>RL FR>SPARE RL>FR RR>FL SPARE>RR", "5", "common practice, from memory"},
		{"five-tire-forward-cross-left", "FL>SPARE FR>RR RL>FR RR>FL SPARE>RL", "5", "its mirror"},
		{"five-tire-rearward-cross", "FL>SPARE FR>RL RL>FL RR>FR SPARE>RR", "5", "common practice, from memory"},
		{"five-tire-rearward-cross-left", "FL>RR FR>SPARE RL>FL RR>FR SPARE>RL", "5", "its mirror"},
		{"six-tire-same-side", "FL>RLO FR>RRO RLI>FL RLO>RLI RRI>FR RRO>RRI", "3 3", "common practice, from memory"},
		{rotation.Leave, "", "", "nothing moves"},
	} {
		m, ok := everyMap()[row.id]
		if !ok {
			t.Errorf("%s is not among the maps", row.id)
			continue
		}
		var moves []string
		for _, move := range m.Moves {
			moves = append(moves, trade.Replace(move.From.String()+">"+move.To.String()))
		}
		if got := strings.Join(moves, " "); got != row.moves {
			t.Errorf("%s (%s): %s, want %s", row.id, row.source, got, row.moves)
		}
		if got := cycles(m); got != row.cycles {
			t.Errorf("%s has cycles of %s, want %s", row.id, got, row.cycles)
		}
		if m.Rule.Citation == "" || m.Rule.Known == finding.KnownNotTold || m.Rule.Authority == finding.AuthorityNotTold {
			t.Errorf("%s does not say where it comes from: %+v", row.id, m.Rule)
		}
	}
	for _, m := range everyMap() {
		if told := finding.FactOf(m.Told).Code; (told == "") != (m.ID == rotation.Leave) {
			t.Errorf("%s is told as %q", m.ID, m.Told)
		}
		if m.ID != rotation.Leave && string(m.Told) != "map."+m.ID {
			t.Errorf("%s is told as another: %q", m.ID, m.Told)
		}
	}
	if n := len(everyMap()); n != 11 {
		t.Errorf("%d maps", n)
	}
}

// cycles gives the lengths of a map's cycles; what is no permutation has none.
func cycles(m rotation.Map) string {
	to, reached := map[layout.Position]layout.Position{}, map[layout.Position]bool{}
	for _, move := range m.Moves {
		to[move.From], reached[move.To] = move.To, true
	}
	if len(to) != len(m.Moves) || len(reached) != len(m.Moves) {
		return "two tires in one place"
	}
	var lengths []string
	seen := map[layout.Position]bool{}
	for _, move := range m.Moves {
		n := 0
		for p := move.From; !seen[p]; p, n = to[p], n+1 {
			if seen[p] = true; !reached[p] {
				return "an empty place"
			}
		}
		if n > 0 {
			lengths = append(lengths, fmt.Sprint(n))
		}
	}
	return strings.Join(lengths, " ")
}

// A disc wheel is turned between an outer dual and any other position, and no
// other moved wheel is (common practice).
func TestTurned(t *testing.T) {
	for id, m := range everyMap() {
		for _, move := range m.Moves {
			if want := (move.From.Dual == layout.Outer) != (move.To.Dual == layout.Outer); move.Turned != want {
				t.Errorf("%s: %v to %v is turned %v", id, move.From, move.To, move.Turned)
			}
		}
	}
	want := map[string]bool{"1L": true, "2LO": true, "2LI": false}
	for _, move := range everyMap()["six-tire-same-side"].Moves {
		if turned, told := want[move.From.String()]; told && turned != move.Turned {
			t.Errorf("%v is turned %v", move.From, move.Turned)
		}
	}
}

// tire is a sound tire of the usual size, with a depth in thirty-seconds.
func tire(p string, depth float64) rotation.Tire {
	d := hands[0].gauge.Read(in32(depth))
	return rotation.Tire{At: at(p), Depth: &d, Mean: d.Of, Size: "215/60R16 95V", Construction: "R", Made: 2,
		Directional: finding.No, Studded: finding.No, OutsideMark: finding.No}
}

// sedan is an invented car whose four tires are told, LF RF LR RR.
func sedan(drive layout.Drive, depths ...float64) rotation.Vehicle {
	v := rotation.Vehicle{Layout: car, Out: in32(2)}
	v.Layout.Drive = drive
	for i, p := range []string{"1L", "1R", "2L", "2R"} {
		v.Tires = append(v.Tires, tire(p, depths[i]))
	}
	return v
}

func withSpare(v rotation.Vehicle, depth, years float64) rotation.Vehicle {
	s := tire("S", depth)
	s.Made, v.Spare = years, finding.Yes
	v.Tires = append(v.Tires, s)
	return v
}

func van() rotation.Vehicle {
	v := rotation.Vehicle{Layout: dually, Out: in32(2), Alike: finding.Yes}
	for _, p := range dually.Positions() {
		v.Tires = append(v.Tires, tire(p.String(), 8))
	}
	return v
}

func with(v rotation.Vehicle, change func(*rotation.Tire), places ...string) rotation.Vehicle {
	v.Tires = slices.Clone(v.Tires)
	for i := range v.Tires {
		if len(places) == 0 || slices.Contains(places, v.Tires[i].At.String()) {
			change(&v.Tires[i])
		}
	}
	return v
}

// Short names of maps in the rows below.
var short = map[string]string{
	"forward": "forward-cross", "rearward": "rearward-cross", "x": "x-pattern", "same-side": "front-rear-same-side", "across": "side-to-side",
	"five": "five-tire-forward-cross", "six": "six-tire-same-side", "leave": rotation.Leave,
}

// What stands against which map. Sources: maps and their drives as in TestMaps;
// what goes by depth is common practice, from memory; tires with an arrow and
// two sizes: common practice of tire services, as reported; all else common practice.
func TestWhyNot(t *testing.T) {
	front, rear, all := layout.FrontDrive, layout.RearDrive, layout.AllDrive
	directional := func(t *rotation.Tire) { t.Directional = finding.Yes }
	studded := func(t *rotation.Tire) { t.Studded = finding.Yes }
	wider := func(t *rotation.Tire) { t.Size = "245/45R18 100W" }
	bias := func(t *rotation.Tire) { t.Construction = "B" }
	unread := func(t *rotation.Tire) { t.Depth = nil }
	finished := func(t *rotation.Tire) { t.Finished = true }
	marked := func(t *rotation.Tire) { t.OutsideMark = finding.Yes }
	noSize := func(t *rotation.Tire) { t.Size = "" }
	staggered := with(sedan(rear, 8, 8, 7, 7), noSize)
	staggered.Layout.Axles = []layout.Axle{{Size: "245/45R18"}, {Size: "275/40R18"}}
	caused := sedan(front, 7, 7, 7, 7)
	caused.Causes = []rotation.Cause{{Code: "wear.toe-in", At: []layout.Position{at("1L")}}}
	compact := withSpare(sedan(front, 7, 7, 7, 7), 7, 2)
	compact.Spare = finding.No
	differ, notTold := van(), van()
	differ.Alike, notTold.Alike = finding.No, finding.NotAsked
	for name, row := range map[string]struct {
		v    rotation.Vehicle
		want map[string]string // by short name: the reasons; "" allowed
	}{
		"front-wheel drive": {sedan(front, 7, 7, 7, 7), map[string]string{
			"forward": "", "rearward": "rotation.other-drive", "x": "", "same-side": "", "across": "", "leave": ""}},
		"rear-wheel drive": {sedan(rear, 7, 7, 7, 7), map[string]string{
			"forward": "rotation.other-drive", "rearward": "", "x": "rotation.other-drive", "same-side": "", "leave": ""}},
		"all-wheel drive": {sedan(all, 7, 7, 7, 7), map[string]string{
			"forward": "rotation.other-drive", "rearward": "", "x": "", "same-side": "", "leave": ""}},
		"drive not told": {sedan(layout.DriveNotTold, 7, 7, 7, 7), map[string]string{
			"forward": "rotation.drive-not-told", "rearward": "rotation.drive-not-told", "x": "rotation.drive-not-told", "same-side": "", "across": ""}},
		"directional": {with(sedan(front, 7, 7, 7, 7), directional), map[string]string{
			"forward": "rotation.against-the-arrow", "x": "rotation.against-the-arrow", "across": "rotation.against-the-arrow", "same-side": "", "leave": ""}},
		"studded": {with(sedan(all, 7, 7, 7, 7), studded), map[string]string{
			"rearward": "rotation.studded-changes-side", "x": "rotation.studded-changes-side", "across": "rotation.studded-changes-side", "same-side": ""}},
		"two sizes": {with(sedan(rear, 7, 7, 7, 7), wider, "2L", "2R"), map[string]string{
			"rearward": "rotation.sizes-differ", "same-side": "rotation.sizes-differ", "across": "", "leave": ""}},
		"two sizes by the label": {staggered, map[string]string{"rearward": "rotation.sizes-differ", "across": ""}},
		"two sizes with arrows, only a remount could": {with(with(sedan(rear, 7, 7, 7, 7), wider, "2L", "2R"), directional), map[string]string{
			"rearward": "rotation.against-the-arrow rotation.sizes-differ", "same-side": "rotation.sizes-differ", "across": "rotation.against-the-arrow", "leave": ""}},
		"radial in front, bias behind": {with(sedan(rear, 7, 7, 7, 7), bias, "2L", "2R"), map[string]string{
			"rearward": "rotation.constructions-differ", "same-side": "rotation.constructions-differ", "across": ""}},
		"outside mark: no wheel is turned": {with(sedan(front, 7, 7, 7, 7), marked), map[string]string{"forward": "", "same-side": ""}},

		"worn fronts would come to the rear": {sedan(front, 4, 4, 6, 6), map[string]string{
			"forward": "rotation.shallow-pair-to-rear", "x": "rotation.shallow-pair-to-rear", "same-side": "rotation.shallow-pair-to-rear", "across": "", "leave": ""}},
		"just over 4/32 in":            {sedan(front, 5, 5, 6, 6), map[string]string{"forward": "", "x": "", "same-side": ""}},
		"one front at 4/32 in":         {sedan(front, 6, 4, 6, 6), map[string]string{"forward": "rotation.shallow-pair-to-rear"}},
		"more than 3/32 in below":      {sedan(front, 6, 6, 10, 9), map[string]string{"forward": "rotation.rear-too-far-below-front", "across": ""}},
		"3/32 in below":                {sedan(front, 6, 6, 9, 9), map[string]string{"forward": ""}},
		"worn rears come to the front": {sedan(rear, 8, 8, 4, 4), map[string]string{"rearward": "", "same-side": ""}},
		"both pairs at 4/32 in":        {sedan(front, 4, 4, 4, 4), map[string]string{"forward": ""}},
		"one at the bars":              {sedan(front, 7, 7, 2, 7), map[string]string{"forward": "rotation.replace-first", "across": "rotation.replace-first", "leave": ""}},
		"one damaged":                  {with(sedan(front, 7, 7, 7, 7), finished, "2R"), map[string]string{"forward": "rotation.replace-first", "leave": ""}},
		"one not read":                 {with(sedan(front, 7, 7, 7, 7), unread, "2R"), map[string]string{"forward": "rotation.depth-not-read", "across": "", "leave": ""}},
		"a cause not cured":            {caused, map[string]string{"forward": "rotation.cause-first", "across": "rotation.cause-first", "leave": ""}},

		"matching spare":       {withSpare(sedan(front, 7, 7, 7, 7), 8, 2), map[string]string{"five": "", "forward": ""}},
		"spare a year older":   {withSpare(sedan(front, 7, 7, 7, 7), 8, 3), map[string]string{"five": ""}},
		"older spare":          {withSpare(sedan(front, 7, 7, 7, 7), 8, 5), map[string]string{"five": "rotation.spare-older", "forward": ""}},
		"spare of unknown age": {withSpare(sedan(front, 7, 7, 7, 7), 8, 0), map[string]string{"five": "rotation.spare-age-not-told"}},
		"spare far deeper":     {withSpare(sedan(front, 7, 7, 7, 7), 10, 2), map[string]string{"five": "rotation.makes-pair-uneven"}},
		"compact spare":        {compact, map[string]string{"five": "rotation.spare-does-not-match", "forward": ""}},
		"spare with an arrow":  {with(withSpare(sedan(front, 7, 7, 7, 7), 7, 2), directional), map[string]string{"five": "rotation.against-the-arrow", "same-side": ""}},

		"spare worn out":                        {withSpare(sedan(front, 3, 3, 3, 3), 2, 2), map[string]string{"five": "rotation.replace-first rotation.shallow-pair-to-rear", "forward": ""}},
		"one arrow that stays on its side":      {with(withSpare(sedan(front, 7, 7, 7, 7), 7, 2), directional, "1L"), map[string]string{"five": "", "forward": ""}},
		"an arrow on the spare":                 {with(withSpare(sedan(front, 7, 7, 7, 7), 7, 2), directional, "S"), map[string]string{"five": "rotation.against-the-arrow", "forward": ""}},
		"studs on the spare":                    {with(withSpare(sedan(front, 7, 7, 7, 7), 7, 2), studded, "S"), map[string]string{"five": "rotation.studded-changes-side", "forward": ""}},
		"an arrow that would hang as the spare": {with(withSpare(sedan(front, 7, 7, 7, 7), 7, 2), directional, "1R"), map[string]string{"five": "rotation.against-the-arrow"}},

		"six alike":                  {van(), map[string]string{"six": "", "leave": ""}},
		"six, worn alike":            {with(van(), func(t *rotation.Tire) { d := hands[0].gauge.Read(in32(6)); t.Depth, t.Mean = &d, d.Of }, "2LI", "2LO"), map[string]string{"six": ""}},
		"six with arrows":            {with(van(), directional), map[string]string{"six": "rotation.against-the-arrow"}},
		"six with studs":             {with(van(), studded), map[string]string{"six": "rotation.studded-changes-side"}},
		"six with an outside mark":   {with(van(), marked), map[string]string{"six": "rotation.outside-mark-in"}},
		"steer and drive designs":    {differ, map[string]string{"six": "rotation.duals-differ", "leave": ""}},
		"not told whether alike":     {notTold, map[string]string{"six": "rotation.duals-not-told-alike", "leave": ""}},
		"six, the duals worn ahead":  {with(van(), func(t *rotation.Tire) { d := hands[0].gauge.Read(in32(4)); t.Depth, t.Mean = &d, d.Of }, "2LI", "2LO", "2RI", "2RO"), map[string]string{"six": "rotation.makes-pair-uneven"}},
		"six, the fronts worn ahead": {with(van(), func(t *rotation.Tire) { d := hands[0].gauge.Read(in32(3)); t.Depth, t.Mean = &d, d.Of }, "1L", "1R"), map[string]string{"six": "rotation.makes-pair-uneven rotation.shallow-pair-to-rear"}},
	} {
		t.Run(name, func(t *testing.T) {
			got := map[string]string{}
			r := rotation.For(row.v)
			for _, p := range r.Plans {
				why := slices.Clone(p.WhyNot)
				slices.Sort(why)
				got[p.Map.ID] = strings.Trim(fmt.Sprint(why), "[]")
			}
			for name, want := range row.want {
				if why, listed := got[short[name]]; !listed || why != want {
					t.Errorf("%s: listed %v, why not: %q, want %q", name, listed, why, want)
				}
			}
			for i, p := range r.Plans[1:] {
				if p.Allowed() && !r.Plans[i].Allowed() {
					t.Errorf("%s is listed after %s, which is not allowed", p.Map.ID, r.Plans[i].Map.ID)
				}
			}
		})
	}
}

// Other vehicles leave their tires: rules of truck fleets and armies are not for
// light vehicles, and none is supplied.
func TestOtherVehicles(t *testing.T) {
	tandem := []layout.Axle{{}, {}, {}}
	for _, v := range []layout.Vehicle{
		{Class: layout.Heavy, Drive: layout.RearDrive, Axles: dually.Axles}, {Class: layout.Trailer, Axles: make([]layout.Axle, 2)},
		{Class: layout.Bus, Axles: make([]layout.Axle, 2)}, {Class: layout.LightTruck, Axles: tandem}, {},
	} {
		r := rotation.For(rotation.Vehicle{Layout: v, Spare: finding.Yes})
		if len(r.Plans) != 1 || r.Recommended().Map.ID != rotation.Leave {
			t.Errorf("%+v: %v", v, r.Plans)
		}
	}
}

// What decides between maps and was not told is asked for.
func TestOpen(t *testing.T) {
	arrow := func(t *rotation.Tire) { t.Directional = finding.NotAsked }
	studs := func(t *rotation.Tire) { t.Studded = finding.NotAsked }
	uncured := sedan(layout.DriveNotTold, 7, 7, 7, 7)
	uncured.Causes = []rotation.Cause{{Code: "wear.toe-in"}}
	for _, row := range []struct {
		v    rotation.Vehicle
		want string
	}{
		{sedan(layout.FrontDrive, 7, 7, 7, 7), "[]"},
		{sedan(layout.DriveNotTold, 7, 7, 7, 7), "[ask.rotation-drive]"},
		{with(sedan(layout.FrontDrive, 7, 7, 7, 7), arrow, "2R"), "[ask.rotation-arrow]"},
		{with(sedan(layout.FrontDrive, 7, 7, 7, 7), studs, "1L"), "[ask.rotation-studded]"},
		{with(sedan(layout.FrontDrive, 4, 4, 2, 8), arrow), "[]"}, // nothing may move
		{uncured, "[]"},
	} {
		if got := fmt.Sprint(rotation.For(row.v).Open); got != row.want {
			t.Errorf("%v, want %v", got, row.want)
		}
	}
}

// Edge-worn or scalloped tires moved to the rear stay noisy; leaving the shallower
// pair on the rear is told (common practice, from memory).
func TestWarnings(t *testing.T) {
	noisy := func(t *rotation.Tire) { t.Noisy = true }
	for _, row := range []struct {
		v    rotation.Vehicle
		id   string
		want string
	}{
		{with(sedan(layout.FrontDrive, 7, 7, 7, 7), noisy, "1L"), "forward-cross", "[{rotation.stays-noisy [1L]}]"},
		{with(sedan(layout.FrontDrive, 7, 7, 7, 7), noisy, "2L"), "forward-cross", "[]"},
		{with(sedan(layout.FrontDrive, 7, 7, 7, 7), noisy, "1L"), rotation.Leave, "[]"},
		{with(sedan(layout.FrontDrive, 7, 7, 7, 7), noisy, "1L"), "side-to-side", "[]"},
		{sedan(layout.RearDrive, 8, 8, 4, 5), rotation.Leave, "[{rotation.rear-pair-shallower [2L 2R]}]"},
		{sedan(layout.RearDrive, 9, 9, 5, 5), "side-to-side", "[{rotation.rear-pair-shallower [2L 2R]}]"},
		{sedan(layout.RearDrive, 8, 8, 5, 5), rotation.Leave, "[]"},
		{sedan(layout.RearDrive, 8, 8, 4, 5), "rearward-cross", "[]"},
	} {
		for _, p := range rotation.For(row.v).Plans {
			if got := fmt.Sprint(p.Warnings); p.Map.ID == row.id && got != row.want {
				t.Errorf("%s: %v, want %v", row.id, got, row.want)
			}
		}
	}
}
