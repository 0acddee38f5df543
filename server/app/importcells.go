package app

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
)

// csvKind is a kind of records that CSV may hold.
type csvKind struct {
	// columns are those that there are; the first names the record.
	columns []string
	// many tells that a record may have several rows, which stand together.
	many bool
	// record makes a record of its rows.
	record func([]*cells) *rows.Exported
	// rows are those of a record; none of a record of another kind.
	rows func(*rows.Exported) []map[string]string
}

// csvKinds are all, those first whose records name others.
var csvKinds = []csvKind{
	{
		columns: []string{
			"visit", "vehicle", "date", "time", "odometer", "odometer_unit",
			"position", "tire", "inboard", "center", "outboard", "depth_unit", "pressure", "pressure_unit",
		},
		many: true, record: visitOf, rows: visitRows,
	},
	{
		columns: []string{
			"vehicle", "tag", "class", "axles", "dual_axles",
			"pressure_1", "pressure_2", "pressure_3", "pressure_4", "pressure_5", "pressure_6", "pressure_7", "pressure_8", "pressure_9", "pressure_unit",
			"plate", "customer", "contact", "vehicle_identification",
		},
		record: vehicleOf, rows: vehicleRows,
	},
	{columns: []string{"tire", "marking", "identification", "load_range"}, record: tireOf, rows: tireRows},
}

// cells are the values of a row by their columns, with what is wrong with them.
type cells struct {
	shop    string
	line    int
	values  map[string]string
	reasons []string
}

func (c *cells) text(column string) string { return c.values[column] }

func (c *cells) wrongf(column, format string, args ...any) {
	c.reasons = append(c.reasons, column+": "+fmt.Sprintf(format, args...))
}

// csvNames is the namespace of the UUIDs (RFC 9562, version 5) of what has other names.
var csvNames = uuid.MustParse("b2f6a1de-0a0b-4a58-9b0a-3d1f2a6c7e10")

// id is the id of a record that a column names: a UUID as it is, any other name as one that is
// always the same of a shop, a kind and a name. It is "" of a column without a value.
func (c *cells) id(column string) string {
	name := c.text(column)
	if name == "" {
		return ""
	}
	if id, err := uuid.Parse(name); err == nil {
		return id.String()
	}
	return uuid.NewSHA1(csvNames, []byte(c.shop+"\x00"+column+"\x00"+name)).String()
}

// plainNumber is how numbers are written.
var plainNumber = regexp.MustCompile(`^[+-]?\d+(\.\d+)?$`)

// number is the number in a column; told is false where there is none.
func (c *cells) number(column string) (n float64, told bool) {
	text := c.text(column)
	if text == "" {
		return 0, false
	}
	if !plainNumber.MatchString(text) {
		c.wrongf(column, "%s: no number as 31200 or 5.5", text)
		return 0, false
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		c.wrongf(column, "%s: too large", text)
	}
	return n, err == nil
}

// unit is what a column of a unit says, one of those that there are: each amount stands in the
// unit that it was read in.
func (c *cells) unit(column string, units ...string) string {
	text := c.text(column)
	if i := slices.IndexFunc(units, func(u string) bool { return strings.EqualFold(u, text) }); i >= 0 {
		return units[i]
	}
	if text == "" {
		c.wrongf(column, "missing; %s", strings.Join(units, " or "))
	} else {
		c.wrongf(column, "%s: no unit of this column; %s", text, strings.Join(units, " or "))
	}
	return ""
}

func (c *cells) depth(column string) *pb.Depth {
	n, told := c.number(column)
	if !told {
		return nil
	}
	switch c.unit("depth_unit", "1/32 in", "mm") {
	case "mm":
		return &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: n}}
	default:
		return &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: n}}
	}
}

func (c *cells) pressure(column string) *pb.Pressure {
	n, told := c.number(column)
	if !told {
		return nil
	}
	switch c.unit("pressure_unit", "psi", "kPa", "bar") {
	case "kPa":
		return &pb.Pressure{AsRead: &pb.Pressure_Kilopascals{Kilopascals: n}}
	case "bar":
		return &pb.Pressure{AsRead: &pb.Pressure_Bar{Bar: n}}
	default:
		return &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}}
	}
}

func (c *cells) distance(column string) *pb.Distance {
	n, told := c.number(column)
	if !told {
		return nil
	}
	if c.unit("odometer_unit", "mi", "km") == "km" {
		return &pb.Distance{AsRead: &pb.Distance_Kilometers{Kilometers: n}}
	}
	return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}}
}

// when puts when a visit was taken.
func (c *cells) when(in *pb.Inspection) {
	if text := c.text("date"); text != "" {
		on, err := time.Parse(time.DateOnly, text)
		if err != nil {
			c.wrongf("date", "%s: no day as 2024-02-29", text)
		}
		in.LocalDate = &pb.CalendarDate{Year: int32(on.Year()), Month: int32(on.Month()), Day: int32(on.Day())}
	}
	if text := c.text("time"); text != "" {
		at, err := time.Parse(time.RFC3339, text)
		if err != nil {
			c.wrongf("time", "%s: no time as 2024-02-29T15:40:00Z", text)
		}
		in.TakenTime = timestamppb.New(at)
	}
}

// visitOf is a visit of several rows, one for each wheel and more where there are more readings. What is of the whole visit is told by
// the first, and by no other otherwise.
func visitOf(all []*cells) *rows.Exported {
	head := all[0]
	in := &pb.Inspection{Id: head.id("visit"), VehicleId: head.id("vehicle"), Odometer: head.distance("odometer")}
	head.when(in)
	if in.GetVehicleId() == "" {
		head.wrongf("vehicle", "missing")
	}
	for _, c := range all {
		for _, column := range []string{"vehicle", "date", "time", "odometer"} {
			if is := c.text(column); is != "" && is != head.text(column) {
				c.wrongf(column, "%s in line %d, and %q in line %d of the same visit", is, c.line, head.text(column), head.line)
			}
		}
		w := c.wheel()
		same := slices.IndexFunc(in.GetWheels(), func(o *pb.WheelReport) bool { return o.GetPosition() == w.GetPosition() })
		switch {
		case w == nil:
		case same < 0:
			in.Wheels = append(in.Wheels, w)
		default:
			again(in.GetWheels()[same], w)
		}
	}
	return &rows.Exported{Kind: "visit", Record: &rows.Exported_Inspection{Inspection: in}}
}

// again adds more readings of a wheel, each with how often its spot was read before.
func again(w, more *pb.WheelReport) {
	w.TireId = cmp.Or(w.GetTireId(), more.GetTireId())
	for _, t := range more.GetTread() {
		for _, before := range w.GetTread() {
			if before.GetPlace().GetAcross() == t.GetPlace().GetAcross() {
				t.Repeat++
			}
		}
		w.Tread = append(w.Tread, t)
	}
	for _, p := range more.GetPressures() {
		p.Repeat = int32(len(w.GetPressures()))
		w.Pressures = append(w.Pressures, p)
	}
}

// acrossColumns are the columns of depths by their places across the tread, in the contract's order.
var acrossColumns = []string{"inboard", "center", "outboard"}

// wheel is what a row tells of a wheel; nil: nothing.
func (c *cells) wheel() *pb.WheelReport {
	w := &pb.WheelReport{Position: strings.ToUpper(c.text("position")), TireId: c.id("tire")}
	for i, column := range acrossColumns {
		if d := c.depth(column); d != nil {
			w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Across: pb.Across(i + 1)}, Depth: d})
		}
	}
	if p := c.pressure("pressure"); p != nil {
		w.Pressures = []*pb.PressureReading{{Pressure: p}}
	}
	switch {
	case w.GetPosition() != "":
		return w
	case proto.Size(w) > 0:
		c.wrongf("position", "missing in line %d", c.line)
	}
	return nil
}

// vehicleOf is a vehicle. Labels have one cold pressure an axle.
func vehicleOf(all []*cells) *rows.Exported {
	c := all[0]
	v := &pb.Vehicle{Id: c.id("vehicle"), Tag: c.text("tag"), VehicleClass: c.class()}
	person := &pb.CustomerData{Plate: c.text("plate"), Customer: c.text("customer"), Contact: c.text("contact"), VehicleIdentification: c.text("vehicle_identification")}
	if proto.Size(person) > 0 {
		v.CustomerData = person
	}
	const most = 9
	n, told := c.number("axles")
	if told && (n < 1 || n > most || n != float64(int(n))) {
		c.wrongf("axles", "%v: 1 to %d", n, most)
		told = false
	}
	dual := strings.FieldsFunc(c.text("dual_axles"), func(r rune) bool { return r == ' ' || r == '+' })
	var axles []*pb.Axle
	for i := 1; i <= most; i++ {
		name := strconv.Itoa(i)
		a := &pb.Axle{ColdNormalLoad: c.pressure("pressure_" + name)}
		if slices.Contains(dual, name) {
			a.Wheels = pb.AxleWheels_AXLE_WHEELS_DUAL
		}
		dual = slices.DeleteFunc(dual, func(d string) bool { return d == name && told && i <= int(n) })
		switch {
		case told && i <= int(n):
			axles = append(axles, a)
		case a.GetColdNormalLoad() != nil:
			c.wrongf("pressure_"+name, "of an axle that axles does not count")
		}
	}
	if len(dual) > 0 {
		c.wrongf("dual_axles", "%s: no axle that axles counts", strings.Join(dual, " "))
	}
	if axles != nil {
		v.Axles = &pb.Axles{Axles: axles}
	}
	return &rows.Exported{Kind: "vehicle", Record: &rows.Exported_Vehicle{Vehicle: v}}
}

// class is the class of a vehicle, in words as "light truck".
func (c *cells) class() pb.VehicleClass {
	text := c.text("class")
	if text == "" {
		return pb.VehicleClass_VEHICLE_CLASS_UNSPECIFIED
	}
	const prefix = "VEHICLE_CLASS_"
	name := strings.ToUpper(strings.ReplaceAll(text, " ", "_"))
	if n, known := pb.VehicleClass_value[prefix+strings.TrimPrefix(name, prefix)]; known {
		return pb.VehicleClass(n)
	}
	var all []string
	for n, name := range pb.VehicleClass_name {
		if n != 0 {
			all = append(all, strings.ToLower(strings.ReplaceAll(strings.TrimPrefix(name, prefix), "_", " ")))
		}
	}
	slices.Sort(all)
	c.wrongf("class", "%s: no class; %s", text, strings.Join(all, ", "))
	return pb.VehicleClass_VEHICLE_CLASS_UNSPECIFIED
}

func tireOf(all []*cells) *rows.Exported {
	c := all[0]
	t := &pb.Tire{Id: c.id("tire")}
	wall := &pb.Sidewall{Marking: c.text("marking"), Identification: c.text("identification"), LoadRange: c.text("load_range")}
	if proto.Size(wall) > 0 {
		t.Sidewall = wall
	}
	return &rows.Exported{Kind: "tire", Record: &rows.Exported_Tire{Tire: t}}
}
