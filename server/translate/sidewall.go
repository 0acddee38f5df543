package translate

import (
	"fmt"
	"strconv"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Sidewall explains what is printed on a tire, its notes without a word. Age is told
// only for a day.
func Sidewall(req *pb.ReadSidewallRequest) *pb.ReadSidewallResponse {
	r := &reading{out: &pb.ReadSidewallResponse{}, asOf: Date(req.GetAsOf())}
	t := tire(&pb.WheelReport{Sidewall: req.GetSidewall()}, nil, "", r.asOf)
	if t.Size != "" && t.Marking.Class == sidewall.UnknownClass {
		r.note(finding.RemarkMarkingNotUnderstood)
	}
	r.marking(t.Marking)
	if t.Marking.Class != sidewall.UnknownClass {
		r.geometry(t.Marking)
		r.loads(t)
	}
	if number := req.GetSidewall().GetIdentification(); strings.TrimSpace(number) != "" {
		r.identification(number, t.Marking.Class)
	}
	return r.out
}

// reading is an answer as it grows.
type reading struct {
	out  *pb.ReadSidewallResponse
	asOf unit.Date
}

func (r *reading) note(remark finding.Remark, arguments ...*pb.Argument) {
	r.out.Notes = append(r.out.Notes, &pb.Said{Code: string(remark), Values: arguments})
}

func textOf(name, value string) *pb.Argument {
	return &pb.Argument{Name: name, Value: &pb.Argument_Text{Text: value}}
}

func amountOf(name string, value unit.Amount) *pb.Argument {
	return &pb.Argument{Name: name, Value: &pb.Argument_Quantity{Quantity: quantity(value)}}
}

func countOf(name string, value int) *pb.Argument {
	return amountOf(name, unit.Amount{Number: float64(value), Unit: unit.Count})
}

// services are the letters that stand before or after the size.
var services = map[sidewall.Class]string{
	sidewall.PMetric: "P", sidewall.LightTruckTire: "LT", sidewall.CommercialMetric: "C", sidewall.TemporarySpare: "T", sidewall.SpecialTrailer: "ST",
}

var constructions = map[sidewall.Construction]pb.Construction{
	sidewall.Radial: pb.Construction_CONSTRUCTION_RADIAL, sidewall.Bias: pb.Construction_CONSTRUCTION_BIAS, sidewall.BeltedBias: pb.Construction_CONSTRUCTION_BELTED_BIAS,
}

func (r *reading) marking(m sidewall.Marking) {
	r.out.Canonical, r.out.Service, r.out.Construction = m.String(), services[m.Class], constructions[m.Construction]
	r.out.LoadRange, r.out.SpeedSymbol = m.LoadRange, string(m.Speed)
	if m.LoadRange == "" {
		r.out.LoadRange = m.LoadMark
	}
	if m.SectionWidth > 0 {
		r.out.SectionWidth = length(m.SectionWidth, widthUnit(m))
	}
	if m.Rim > 0 {
		r.out.RimDiameter = length(m.Rim, unit.Inches)
	}
	if m.Aspect > 0 {
		r.out.AspectPercent = new(m.Aspect.Amount().Rounded().Number)
	}
	if m.LoadIndex > 0 {
		r.out.LoadIndexSingle = new(int32(m.LoadIndex))
	}
	if m.DualIndex > 0 {
		r.out.LoadIndexDual = new(int32(m.DualIndex))
	}
	speed, ok := m.Speed.Speed()
	switch {
	case m.Speed == "ZR" || m.Speed == "(Y)": // the table has where they begin
		r.note(finding.RemarkSpeedAbove, amountOf("number", speed))
	case ok:
		r.out.MaximumSpeed = fill(&pb.Speed{}, speed.Rounded())
	}
}

// widthUnit is the unit in which the width of a size is written.
func widthUnit(m sidewall.Marking) unit.Unit {
	if m.Overall > 0 {
		return unit.Inches
	}
	return unit.Millimeters
}

func (r *reading) geometry(m sidewall.Marking) {
	g, ok := m.Geometry()
	if !ok {
		r.note(finding.RemarkGeometryNotTold)
		return
	}
	u := widthUnit(m)
	r.out.SectionHeight, r.out.OverallDiameter, r.out.Circumference = length(g.SectionHeight, u), length(g.Diameter, u), length(g.Circumference, u)
	r.note(finding.RemarkGeometryNominal)
	if m.Construction != sidewall.Radial { // the share that is rolled is known of radial tires
		return
	}
	r.out.RollingPercent = new(sidewall.RollingFactor.Amount().Rounded().Number)
	mile, _ := g.Revolutions(unit.MustDistance(1, unit.Miles), sidewall.RollingFactor)
	kilometer, _ := g.Revolutions(unit.MustDistance(1, unit.Kilometers), sidewall.RollingFactor)
	r.out.RevolutionsPerMile, r.out.RevolutionsPerKilometer = new(mile.Rounded().Number), new(kilometer.Rounded().Number)
}

// loads tells what the tire may carry, and the cold pressure that it takes.
func (r *reading) loads(t visit.Tire) {
	rating, known := t.Rating()
	if rating.Single > 0 {
		r.out.LoadSingle = Mass(rating.Single, unit.Kilograms)
	}
	if rating.Dual > 0 {
		r.out.LoadDual = Mass(rating.Dual, unit.Kilograms)
	}
	switch {
	case !known && rating.Single > 0:
		r.note(finding.RemarkRatedPressureNotTold)
		return
	case !known:
		r.note(finding.RemarkLoadNotTold)
		return
	}
	r.out.RatedPressure = pressureMessage(rating.Law.Reference, unit.Kilopascals)
	if rating.MarkAssumed {
		r.note(finding.RemarkMarkAssumed)
	}
}

var forms = map[sidewall.Form]pb.IdentificationForm{
	sidewall.NewTire: pb.IdentificationForm_IDENTIFICATION_FORM_THIRTEEN, sidewall.Earlier: pb.IdentificationForm_IDENTIFICATION_FORM_EIGHT_TO_TWELVE,
	sidewall.ShortOrEnd: pb.IdentificationForm_IDENTIFICATION_FORM_RETREAD, sidewall.LastSymbols: pb.IdentificationForm_IDENTIFICATION_FORM_END_ONLY,
	sidewall.DateOnly: pb.IdentificationForm_IDENTIFICATION_FORM_DATE_ONLY,
}

func (r *reading) identification(number string, class sidewall.Class) {
	id, problems := sidewall.Identify(number, r.asOf)
	form := forms[id.Form]
	if len(id.Date) == 3 {
		form = pb.IdentificationForm_IDENTIFICATION_FORM_THREE_DIGIT_DATE
	}
	r.out.Identification = &pb.Identification{Form: form, Plant: id.Plant, Between: id.Code, Date: id.Date}
	r.out.IdentificationSuggestions = id.Suggestions
	for _, m := range id.Made {
		w := &pb.WeekMade{Week: int32(m.Week), Year: int32(m.Year)}
		if !r.asOf.IsZero() {
			w.AgeYears = new(int32(m.Age(r.asOf).Number)) // whole years, as a birthday counts
		}
		r.out.Made = append(r.out.Made, w)
	}
	if id.Form == sidewall.ShortOrEnd {
		r.note(finding.RemarkRetreadOrEnd)
	}
	for _, p := range problems {
		r.problem(p, id.Made)
	}
	if len(id.Made) == 1 && !r.asOf.IsZero() {
		r.age(r.out.GetMade()[0], class)
	}
}

func (r *reading) age(m *pb.WeekMade, class sidewall.Class) {
	remark := finding.RemarkMade
	if class.Truck() || class == sidewall.UnknownClass {
		remark = finding.RemarkMadeHeavy
	}
	r.note(remark,
		countOf("week", int(m.GetWeek())), countOf("year", int(m.GetYear())), amountOf("age", unit.Amount{Number: float64(m.GetAgeYears()), Unit: unit.Years}),
		countOf("from", sidewall.YearlyChecksFrom), countOf("to", sidewall.YearlyChecksBy), countOf("by", sidewall.ReplaceBy),
	)
	if class == sidewall.TemporarySpare || class == sidewall.SpecialTrailer {
		r.note(finding.RemarkAgeFirst)
	}
}

// problem notes what is doubtful in an identification number.
func (r *reading) problem(p sidewall.Problem, made []sidewall.Made) {
	switch p.Code {
	case sidewall.NoDate:
		r.note(finding.RemarkNoDate)
	case sidewall.NotUsed:
		if p.Symbol == "" {
			r.note(finding.RemarkNotASymbol, countOf("at", p.At))
			return
		}
		r.symbol(finding.RemarkNotUsed, p)
	case sidewall.NotInDate:
		r.symbol(finding.RemarkNotInDate, p)
	case sidewall.EightOrB:
		r.symbol(finding.RemarkEightOrB, p)
	case sidewall.TooLong:
		r.note(finding.RemarkTooLong, countOf("number", p.Number), countOf("most", sidewall.LongestNumber))
	case sidewall.NoSuchWeek:
		r.note(finding.RemarkNoSuchWeek, textOf("number", fmt.Sprintf("%02d", p.Number)), textOf("from", "01"), countOf("to", sidewall.LastWeek))
	case sidewall.InFuture:
		r.note(finding.RemarkInFuture, countOf("week", p.Made.Week), countOf("year", p.Made.Year), &pb.Argument{
			Name: "day", Value: &pb.Argument_Quantity{Quantity: &pb.Quantity{Amount: &pb.Quantity_Date{Date: dateMessage(p.AsOf)}}},
		})
	case sidewall.DecadeOpen:
		var years []string
		for _, m := range made {
			years = append(years, strconv.Itoa(m.Year))
		}
		r.note(finding.RemarkDecadeOpen, countOf("year", sidewall.FourDigits.Year), textOf("years", strings.Join(years, ", ")))
	}
}

func (r *reading) symbol(remark finding.Remark, p sidewall.Problem) {
	r.note(remark, countOf("at", p.At), textOf("symbol", p.Symbol), textOf("instead", p.Instead))
}

func length(l unit.Length, u unit.Unit) *pb.Length { return fill(&pb.Length{}, l.Amount(u).Rounded()) }
