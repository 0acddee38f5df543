package judge_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"go.yaml.in/yaml/v3"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// testCase is one case: a visit and what has to be said of it.
type testCase struct {
	node
	id, title string
	vehicle   *pb.Vehicle
	request   *pb.AssessVisitRequest
	expect    expectation
}

// expectation is what a good technician says. Lines are given meaning by
// lines.yaml.
type expectation struct {
	answer  string
	method  string
	urgency string
	at      string
	lines   map[string][]string // by key: why, order ...
}

// Keys of expect that hold lines, by how a line is met.
var (
	saidLines      = []string{"why", "note", "also", "order", "right"}
	forbiddenLines = []string{"not", "never_say"}
	allLines       = slices.Concat(saidLines, forbiddenLines, []string{"tempting"})
	expectKeys     = slices.Concat([]string{"answer", "method", "urgency", "at"}, allLines)
)

var caseKeys = slices.Concat(
	[]string{"id", "title", "source", "vehicle", "at", "date", "odometer_mi", "odometer_km", "miles", "fitted", "new", "new_mm", "gauge", "pressure_gauge", "conditions"},
	readingKeys, []string{"repairs", "earlier", "moves", "work", "visit", "expect", "tell"})

// readCases reads the case files of a folder: every .yaml but the tables of lines.
func readCases(dir string, fs *faults) []*testCase {
	var cases []*testCase
	for _, f := range caseFiles(dir, fs) {
		if strings.HasPrefix(f, "lines") {
			continue
		}
		for i, n := range readYAML(dir, f, fs).items() {
			n.key = ""
			if c := readCase(n, i); c != nil {
				if slices.ContainsFunc(cases, func(o *testCase) bool { return o.id == c.id }) {
					c.faultf("there is another case of this id in the folder")
				}
				cases = append(cases, c)
			}
		}
	}
	return cases
}

func caseFiles(dir string, fs *faults) []string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		fs.list = append(fs.list, err.Error())
	}
	var names []string
	for _, e := range entries {
		if ext := filepath.Ext(e.Name()); !e.IsDir() && (ext == ".yaml" || ext == ".yml") {
			names = append(names, e.Name())
		}
	}
	return names
}

func readYAML(dir, file string, fs *faults) node {
	n := node{faults: fs, file: file}
	data, err := os.ReadFile(filepath.Join(dir, file))
	if err != nil {
		n.faultf("%v", err)
		return n
	}
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		n.faultf("%v", err)
	} else if len(doc.Content) == 1 {
		n.y = doc.Content[0]
	}
	return n
}

func readCase(n node, index int) *testCase {
	n.id = "case " + strconv.Itoa(index+1)
	for _, e := range n.entries() {
		if e.key == "id" {
			n.id = e.value.text()
		}
	}
	if n.id == "case "+strconv.Itoa(index+1) {
		n.faultf("a case needs an id")
	}
	kv := n.keys(caseKeys...)
	before := len(n.faults.list)
	c := &testCase{node: n, id: n.id, title: kv["title"].text()}
	b := &builder{kv: kv}
	b.build(c)
	c.readExpect(kv["expect"], b)
	if len(n.faults.list) > before {
		return nil
	}
	for _, p := range check.AssessVisit(c.request) {
		n.faultf("the visit cannot be judged: %v", p)
	}
	return c
}

func (c *testCase) readExpect(n node, b *builder) {
	kv := n.keys(expectKeys...)
	e := expectation{lines: map[string][]string{}}
	if a := kv["answer"]; a.there() {
		e.answer = a.one(enumWords(pb.Repairability(0).Descriptor())...)
	}
	if m := kv["method"]; m.there() {
		e.method = m.one(enumWords(pb.RepairMethod(0).Descriptor())...)
	}
	if u := kv["urgency"]; u.there() {
		e.urgency = u.one(enumWords(pb.Urgency(0).Descriptor())...)
	}
	if at := kv["at"]; at.there() {
		e.at = b.position(at, at.text())
	} else if b.oneTire != "" {
		e.at = b.oneTire
	}
	for _, k := range allLines {
		if kv[k].there() {
			e.lines[k] = kv[k].texts()
		}
	}
	if len(kv) == 0 {
		c.faultf("the case expects nothing")
	}
	c.expect = e
}

// builder makes a request of a case's keys.
type builder struct {
	kv      map[string]node
	vehicle *pb.Vehicle
	oneTire string // the position of the only tire that the case is about, "" for a vehicle
	day     time.Time
	miles   float64 // odometer now
	told    bool    // odometer told
	moves   []move
	tires   map[string]*pb.Tire // by position at this visit
}

// Defaults of a case, as its README says.
const (
	defaultDay      = "2026-06-15"
	defaultOdometer = 50_000
	defaultLabel    = 33 // of a car, psi
	defaultTread    = 7  // of the one tire, in thirty-seconds
)

func (b *builder) build(c *testCase) {
	b.vehicle = b.readVehicle(b.kv["vehicle"])
	b.readOneTire()
	b.day = readDay(b.kv["date"], defaultDay)
	b.readOdometer()
	b.readMoves(b.kv["moves"])

	in := &pb.Inspection{LocalDate: calendar(b.day), Gauges: b.gauges()}
	if b.told {
		in.Odometer = miles(b.miles)
	}
	in.Conditions = readConditions(b.kv["conditions"])
	b.defaults()
	b.makeTires()
	in.Wheels = b.readings(b.kv, 0)
	req := &pb.AssessVisitRequest{Vehicle: b.vehicle, Inspection: in}
	b.history(req)
	c.request = merged(b.kv["visit"], req)
	c.vehicle = c.request.GetVehicle()
}

var (
	classes = map[string]string{"car": "passenger-car", "truck": "heavy", "heavy-truck": "heavy", "pickup": "light-truck", "van": "light-truck"}
	drives  = map[string]string{"fwd": "front", "rwd": "rear", "awd": "all", "4wd": "all"}
)

var vehicleKeys = []string{"class", "drive", "gross_lb", "gross_kg", "combined_lb", "combined_kg", "label_psi", "label_bar", "label_kpa",
	"label_full_psi", "label_full_bar", "size", "dual", "axles", "country", "state", "interstate", "tows", "tpms", "spare", "torque"}

func (b *builder) readVehicle(n node) *pb.Vehicle {
	kv := n.keys(vehicleKeys...)
	v := &pb.Vehicle{VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Use: &pb.VehicleUse{}, Axles: &pb.Axles{}}
	if kv["class"].there() {
		v.VehicleClass = pb.VehicleClass(kv["class"].enum(v.VehicleClass.Descriptor(), classes))
	}
	if kv["drive"].there() {
		v.Drive = pb.Drive(kv["drive"].enum(v.Drive.Descriptor(), drives))
	}
	axles := 2
	if a := kv["axles"]; a.there() {
		if n, err := strconv.Atoi(a.text()); err == nil && n > 0 && n < 10 {
			axles = n
		} else {
			a.faultf("a number of axles, 1 to 9, is wanted")
		}
	}
	for i := range axles {
		a := &pb.Axle{Size: onAxle(kv["size"], i).text()}
		if d := onAxle(kv["dual"], i); d.there() {
			if d.text() == "rear" && i > 0 || d.text() != "rear" && d.yes() {
				a.Wheels = pb.AxleWheels_AXLE_WHEELS_DUAL
			}
		}
		a.ColdNormalLoad = firstPressure(i, kv["label_psi"], kv["label_bar"], kv["label_kpa"])
		a.ColdFullLoad = firstPressure(i, kv["label_full_psi"], kv["label_full_bar"])
		v.Axles.Axles = append(v.Axles.Axles, a)
	}
	v.GrossRating = mass(kv["gross_lb"], kv["gross_kg"])
	v.Use.CombinedRating = mass(kv["combined_lb"], kv["combined_kg"])
	b.readUse(v, kv)
	if t := kv["tpms"]; t.there() {
		v.Tpms = pb.TpmsKind(t.enum(v.Tpms.Descriptor(), map[string]string{"no": "none", "yes": "direct"}))
	}
	if s := kv["spare"]; s.there() {
		v.Spare = readSpare(s)
	}
	if t := kv["torque"]; t.there() {
		v.Fasteners = &pb.Fasteners{Torque: quantity(t, &pb.Torque{}, "")}
	}
	return v
}

// readUse: a car carries nothing across State lines and tows nothing unless told.
func (b *builder) readUse(v *pb.Vehicle, kv map[string]node) {
	place := &pb.Jurisdiction{Country: "US", State: kv["state"].text()}
	if c := kv["country"]; c.there() {
		switch place.Country = strings.ToUpper(kebab(c.text())); place.Country {
		case "UK":
			place.Country = "GB"
		case "NOT-TOLD":
			place.Country = ""
		}
	}
	if place.GetCountry() != "" || place.GetState() != "" {
		v.Use.DrivenIn = []*pb.Jurisdiction{place}
	}
	if v.VehicleClass == pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR {
		v.Use.BusinessAcrossStateLines, v.Use.Tows = pb.Answer_ANSWER_NO, pb.Answer_ANSWER_NO
	}
	if n := kv["interstate"]; n.there() {
		v.Use.BusinessAcrossStateLines = n.answer()
	}
	if n := kv["tows"]; n.there() {
		v.Use.Tows = n.answer()
	}
}

func readSpare(n node) *pb.Spare {
	s := &pb.Spare{}
	if n.isKind(yaml.ScalarNode) {
		s.Kind = pb.SpareKind(n.enum(s.Kind.Descriptor(), nil))
		return s
	}
	kv := n.keys("kind", "label_psi", "label_bar", "size", "allows_two", "allows_towing")
	s.Size = kv["size"].text()
	for key, answer := range map[string]*pb.Answer{"allows_two": &s.HandbookAllowsTwo, "allows_towing": &s.HandbookAllowsTowing} {
		if kv[key].there() {
			*answer = pb.Answer(kv[key].enum(answer.Descriptor(), nil))
		}
	}
	if kv["kind"].there() {
		s.Kind = pb.SpareKind(kv["kind"].enum(s.Kind.Descriptor(), nil))
	}
	s.ColdPressure = firstPressure(0, kv["label_psi"], kv["label_bar"])
	return s
}

// onAxle gives an axle's own of a list from the front: one value is every
// axle's, and the last of the list that of the axles behind.
func onAxle(n node, axle int) node {
	items := n.items()
	if len(items) == 0 {
		return node{}
	}
	return items[min(axle, len(items)-1)]
}

// pressureUnits are the units of pressure by the end of a key.
var pressureUnits = map[string]protoreflect.Name{"psi": "psi", "bar": "bar", "kpa": "kilopascals"}

// suffix is what follows the last underscore of a key, or the key.
func (n node) suffix() string {
	key := n.key
	if i := strings.IndexByte(key, '['); i >= 0 {
		key = key[:i]
	}
	key = key[strings.LastIndexByte(key, '.')+1:]
	return key[strings.LastIndexByte(key, '_')+1:]
}

func firstPressure(axle int, ns ...node) *pb.Pressure {
	for _, n := range ns {
		if own := onAxle(n, axle); own.there() && own.text() != "unknown" {
			return quantity(own, &pb.Pressure{}, pressureUnits[n.suffix()])
		}
	}
	return nil
}

func mass(pounds, kilograms node) *pb.Mass {
	switch {
	case pounds.there():
		return quantity(pounds, &pb.Mass{}, "pounds")
	case kilograms.there():
		return quantity(kilograms, &pb.Mass{}, "kilograms")
	}
	return nil
}

func miles(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }

func calendar(t time.Time) *pb.CalendarDate {
	return &pb.CalendarDate{Year: int32(t.Year()), Month: int32(t.Month()), Day: int32(t.Day())}
}

func readDay(n node, otherwise string) time.Time {
	s := otherwise
	if n.there() {
		s = n.text()
	}
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		n.faultf("%q is no day; write it as 2026-11-24", s)
	}
	return t
}

// readOneTire: a case with injuries that names no wheels, or with the key at,
// is about one tire. What is not said of it is a sound tire of a car.
func (b *builder) readOneTire() {
	at, injuries := b.kv["at"], b.kv["injuries"]
	switch {
	case at.there():
		b.oneTire = b.position(at, at.text())
	case injuries.there() && !b.positional(injuries):
		axles := b.vehicle.GetAxles().GetAxles()
		last := len(axles)
		b.oneTire = fmt.Sprintf("%dR", last)
		if axles[last-1].GetWheels() == pb.AxleWheels_AXLE_WHEELS_DUAL {
			b.oneTire += "O"
		}
	default:
		return
	}
	if b.vehicle.VehicleClass != pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR {
		return
	}
	for _, a := range b.vehicle.GetAxles().GetAxles() {
		if a.ColdNormalLoad == nil && a.ColdFullLoad == nil {
			a.ColdNormalLoad = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: defaultLabel}}
		}
	}
}

// defaults give the one tire the tread and the pressure that are not told.
func (b *builder) defaults() {
	if b.oneTire == "" {
		return
	}
	scalar := func(key, value string) {
		b.kv[key] = node{y: &yaml.Node{Kind: yaml.ScalarNode, Value: value}, key: key, faults: b.kv["id"].faults, id: b.kv["id"].id, file: b.kv["id"].file}
	}
	if !b.kv["depth"].there() && !b.kv["depth_mm"].there() && !b.kv["stations"].there() && !b.kv["stations_mm"].there() {
		scalar("depth", strconv.Itoa(defaultTread))
	}
	if !b.kv["psi"].there() && !b.kv["bar"].there() && !b.kv["kpa"].there() {
		axle := b.vehicle.GetAxles().GetAxles()[int(b.oneTire[0]-'1')]
		switch p := axle.GetColdNormalLoad().GetAsRead().(type) {
		case *pb.Pressure_Psi:
			scalar("psi", fmt.Sprint(p.Psi))
		case *pb.Pressure_Bar:
			scalar("bar", fmt.Sprint(p.Bar))
		case *pb.Pressure_Kilopascals:
			scalar("kpa", fmt.Sprint(p.Kilopascals))
		}
	}
}

func (b *builder) readOdometer() {
	b.miles = defaultOdometer
	if n := b.kv["odometer_mi"]; n.there() {
		b.miles, b.told = quantity(n, &pb.Distance{}, "miles").GetMiles(), true
	}
	if n := b.kv["odometer_km"]; n.there() {
		b.miles, b.told = quantity(n, &pb.Distance{}, "kilometers").GetKilometers()/1.609344, true
	}
	for _, k := range []string{"miles", "earlier", "moves", "work"} {
		b.told = b.told || b.kv[k].there()
	}
}

func (b *builder) gauges() []*pb.Gauge {
	depth := &pb.Gauge{Resolution: &pb.Gauge_Depth{Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 1}}}}
	if n := b.kv["gauge"]; n.there() {
		kv := map[string]node{"step": n}
		if n.isKind(yaml.MappingNode) {
			kv = n.keys("step", "kind", "repeatability", "accuracy")
		}
		of := func(n node) *pb.Quantity {
			if !n.there() {
				return nil
			}
			return &pb.Quantity{Amount: &pb.Quantity_Depth{Depth: quantity(n, &pb.Depth{}, "")}}
		}
		depth.Resolution = &pb.Gauge_Depth{Depth: quantity(kv["step"], &pb.Depth{}, "")}
		depth.Repeatability, depth.Accuracy = of(kv["repeatability"]), of(kv["accuracy"])
		if k := kv["kind"]; k.there() {
			depth.Kind = pb.GaugeKind(k.enum(depth.Kind.Descriptor(), map[string]string{"electronic": "depth-electronic", "probe": "depth-probe", "dial": "depth-dial", "scanner": "depth-scanner"}))
		}
	}
	return []*pb.Gauge{depth}
}

var conditionKeys = []string{"driven", "driven_mi", "driven_km", "parked_h", "parked_min", "air_f", "air_c", "outside_f", "outside_c",
	"altitude_ft", "altitude_m", "sun", "loaded", "lamp", "lamp_left", "snow", "moved", "complaints"}

// readConditions: read cold, out of the sun, unless told.
func readConditions(n node) *pb.Conditions {
	c := &pb.Conditions{Driven: &pb.DrivenBefore{DrivenHere: pb.Answer_ANSWER_NO}}
	kv := n.keys(conditionKeys...)
	if d := kv["driven"]; d.there() {
		c.Driven.DrivenHere = d.answer()
	}
	for key, unit := range map[string]protoreflect.Name{"driven_mi": "miles", "driven_km": "kilometers"} {
		if d := kv[key]; d.there() {
			c.Driven.Distance = quantity(d, &pb.Distance{}, unit)
			if !kv["driven"].there() {
				c.Driven.DrivenHere = pb.Answer_ANSWER_YES
			}
		}
	}
	readParked(c.Driven, kv)
	if s := kv["sun"]; s.there() {
		c.Driven.InSun = s.answer()
	}
	if l := kv["loaded"]; l.there() {
		c.Driven.LoadedOrTowing = l.answer()
	}
	temperature := func(f, c string) *pb.Temperature {
		switch {
		case kv[f].there():
			return quantity(kv[f], &pb.Temperature{}, "fahrenheit")
		case kv[c].there():
			return quantity(kv[c], &pb.Temperature{}, "celsius")
		}
		return nil
	}
	c.Air, c.Outside = temperature("air_f", "air_c"), temperature("outside_f", "outside_c")
	for key, unit := range map[string]protoreflect.Name{"altitude_ft": "feet", "altitude_m": "meters"} {
		if a := kv[key]; a.there() {
			c.Atmosphere = &pb.Conditions_Altitude{Altitude: quantity(a, &pb.Height{}, unit)}
		}
	}
	lamps := map[string]string{"on": "on-steady", "steady": "on-steady", "flashing": "flashing-then-steady", "dead": "bulb-not-seen"}
	if l := kv["lamp"]; l.there() {
		c.LampAsFound = pb.Lamp(l.enum(c.LampAsFound.Descriptor(), lamps))
	}
	if l := kv["lamp_left"]; l.there() {
		c.LampAsLeft = pb.Lamp(l.enum(c.LampAsLeft.Descriptor(), lamps))
	}
	if s := kv["snow"]; s.there() {
		c.SnowSlushOrIce = s.answer()
	}
	if m := kv["moved"]; m.there() {
		c.TiresMoved = m.answer()
	}
	for _, k := range kv["complaints"].items() {
		c.Complaints = append(c.Complaints, &pb.Complaint{Kind: pb.ComplaintKind(k.enum(pb.ComplaintKind(0).Descriptor(), nil))})
	}
	return c
}

// merged lays the request's own JSON over what the shorthand made: objects key
// by key, wheels by their position, axles in order; any other list replaces.
func merged(n node, req *pb.AssessVisitRequest) *pb.AssessVisitRequest {
	if !n.there() {
		return req
	}
	data, err := protojson.Marshal(req)
	var under, over map[string]any
	if err == nil {
		err = json.Unmarshal(data, &under)
	}
	if err == nil {
		err = n.y.Decode(&over)
	}
	if err != nil {
		n.faultf("%v", err)
		return req
	}
	n.unknownFields(req.ProtoReflect().Descriptor())
	data, err = json.Marshal(lay(over, under))
	out := &pb.AssessVisitRequest{}
	if err == nil {
		err = protojson.Unmarshal(data, out)
	}
	if err != nil {
		n.faultf("%v", err)
		return req
	}
	return out
}

func lay(over, under any) any {
	switch o := over.(type) {
	case map[string]any:
		u, ok := under.(map[string]any)
		if !ok {
			return o
		}
		m := maps.Clone(u)
		for k, v := range o {
			m[k] = lay(v, u[k])
		}
		return m
	case []any:
		u, _ := under.([]any)
		return layList(o, u)
	}
	return over
}

func layList(over, under []any) any {
	position := func(v any) any {
		m, _ := v.(map[string]any)
		return m["position"]
	}
	if len(over) == 0 || position(over[0]) == nil {
		return over
	}
	out := slices.Clone(under)
	for _, o := range over {
		i := slices.IndexFunc(out, func(u any) bool { return position(u) == position(o) })
		if i < 0 {
			out = append(out, o)
		} else {
			out[i] = lay(o, out[i])
		}
	}
	return out
}

// unknownFields reports keys that the contract does not have, with the nearest.
func (n node) unknownFields(d protoreflect.MessageDescriptor) {
	if d == nil {
		return
	}
	for _, item := range n.items() {
		if !item.isKind(yaml.MappingNode) {
			continue
		}
		for _, e := range item.entries() {
			fd := d.Fields().ByJSONName(e.key)
			if fd == nil {
				fd = d.Fields().ByTextName(e.key)
			}
			if fd == nil {
				var known []string
				for i := range d.Fields().Len() {
					known = append(known, d.Fields().Get(i).JSONName())
				}
				e.value.faultf("the contract has no such field%s", meant(e.key, known))
				continue
			}
			e.value.unknownFields(fd.Message())
		}
	}
}
