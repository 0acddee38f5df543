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

	"gaugebook.dev/server/words"
)

// Sidewall explains what is printed on a tire. Age is told only for a day.
func Sidewall(req *pb.ReadSidewallRequest) *pb.ReadSidewallResponse {
	r := &reading{out: &pb.ReadSidewallResponse{}, texts: words.In(req.GetLanguage()), asOf: Date(req.GetAsOf())}
	t := tire(&pb.WheelReport{Sidewall: req.GetSidewall()}, nil, "", r.asOf)
	if t.Size != "" && t.Marking.Class == sidewall.UnknownClass {
		r.note(finding.RemarkMarkingNotUnderstood, nil)
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
	out   *pb.ReadSidewallResponse
	texts *words.Catalogue
	asOf  unit.Date
}

func (r *reading) note(remark finding.Remark, values map[string]string) {
	r.out.Notes = append(r.out.Notes, words.Fill(r.texts.Notes[string(remark)], values))
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
		r.note(finding.RemarkSpeedAbove, map[string]string{"number": r.texts.Amount(speed)})
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
		r.note(finding.RemarkGeometryNotTold, nil)
		return
	}
	u := widthUnit(m)
	r.out.SectionHeight, r.out.OverallDiameter, r.out.Circumference = length(g.SectionHeight, u), length(g.Diameter, u), length(g.Circumference, u)
	r.note(finding.RemarkGeometryNominal, nil)
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
		r.note(finding.RemarkRatedPressureNotTold, nil)
		return
	case !known:
		r.note(finding.RemarkLoadNotTold, nil)
		return
	}
	r.out.RatedPressure = pressureMessage(rating.Law.Reference, unit.Kilopascals)
	if rating.MarkAssumed {
		r.note(finding.RemarkMarkAssumed, nil)
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
		r.note(finding.RemarkRetreadOrEnd, nil)
	}
	for _, p := range problems {
		r.problem(p, id.Made)
	}
	if len(id.Made) == 1 && !r.asOf.IsZero() {
		r.age(r.out.GetMade()[0], class)
	}
}

func (r *reading) age(m *pb.WeekMade, class sidewall.Class) {
	remark, years := finding.RemarkMade, "years"
	if m.GetAgeYears() == 1 {
		years = "year"
	}
	years = words.Fill(r.texts.Labels["age."+years], map[string]string{"n": strconv.Itoa(int(m.GetAgeYears()))})
	if class.Truck() || class == sidewall.UnknownClass {
		remark = finding.RemarkMadeHeavy
	}
	r.note(remark, map[string]string{
		"week": strconv.Itoa(int(m.GetWeek())), "year": strconv.Itoa(int(m.GetYear())), "age": years,
		"from": strconv.Itoa(sidewall.YearlyChecksFrom), "to": strconv.Itoa(sidewall.YearlyChecksBy), "by": strconv.Itoa(sidewall.ReplaceBy),
	})
	if class == sidewall.TemporarySpare || class == sidewall.SpecialTrailer {
		r.note(finding.RemarkAgeFirst, nil)
	}
}

var problemNotes = map[sidewall.ProblemCode]finding.Remark{
	sidewall.NoDate: finding.RemarkNoDate, sidewall.NotUsed: finding.RemarkNotUsed, sidewall.NotInDate: finding.RemarkNotInDate, sidewall.EightOrB: finding.RemarkEightOrB, sidewall.TooLong: finding.RemarkTooLong,
	sidewall.NoSuchWeek: finding.RemarkNoSuchWeek, sidewall.InFuture: finding.RemarkInFuture, sidewall.DecadeOpen: finding.RemarkDecadeOpen,
}

func (r *reading) problem(p sidewall.Problem, made []sidewall.Made) {
	var years []string
	for _, m := range made {
		years = append(years, strconv.Itoa(m.Year))
	}
	remark := problemNotes[p.Code]
	values := map[string]string{
		"at": strconv.Itoa(p.At), "symbol": p.Symbol, "instead": p.Instead, "number": strconv.Itoa(p.Number), "most": strconv.Itoa(sidewall.LongestNumber),
		"week": strconv.Itoa(p.Made.Week), "year": strconv.Itoa(p.Made.Year), "day": p.AsOf.String(), "years": strings.Join(years, ", "),
		"from": "01", "to": strconv.Itoa(sidewall.LastWeek),
	}
	switch p.Code {
	case sidewall.NotUsed:
		if p.Symbol == "" {
			remark = finding.RemarkNotASymbol
		}
	case sidewall.NoSuchWeek:
		values["number"] = fmt.Sprintf("%02d", p.Number)
	case sidewall.DecadeOpen:
		values["year"] = strconv.Itoa(sidewall.FourDigits.Year)
	}
	r.note(remark, values)
}

func length(l unit.Length, u unit.Unit) *pb.Length { return fill(&pb.Length{}, l.Amount(u).Rounded()) }
