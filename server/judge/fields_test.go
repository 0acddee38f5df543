package judge_test

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/translate"
)

// spot is one place of a request where a field may be set: the message that has it.
type spot struct {
	in  protoreflect.Message
	fd  protoreflect.FieldDescriptor
	req proto.Message
}

// whole tells of a message that is one value: a quantity, a day, a span of time.
func whole(md protoreflect.MessageDescriptor) bool {
	if md == nil {
		return false
	}
	name := md.FullName()
	return md.Oneofs().ByName("as_read") != nil || name.Parent() == "google.protobuf" ||
		name == "gaugebook.v1.CalendarDate" || name == "gaugebook.v1.Quantity" || name == "gaugebook.v1.Angle"
}

// fieldsOf are the fields of a message and of all that it holds, each once by the
// message it stands in: a depth of an earlier visit is a depth.
func fieldsOf(md protoreflect.MessageDescriptor, except ...protoreflect.Name) []protoreflect.FieldDescriptor {
	seen, all := map[protoreflect.FullName]bool{}, []protoreflect.FieldDescriptor(nil)
	var walk func(protoreflect.MessageDescriptor)
	walk = func(md protoreflect.MessageDescriptor) {
		if seen[md.FullName()] {
			return
		}
		seen[md.FullName()] = true
		for i := range md.Fields().Len() {
			fd := md.Fields().Get(i)
			if slices.Contains(except, fd.Name()) {
				continue
			}
			if fd.Message() != nil && !whole(fd.Message()) {
				walk(fd.Message())
				continue
			}
			all = append(all, fd)
		}
	}
	walk(md)
	return all
}

// spots are where a request has, or could have, a field: in each message of its
// kind, the first few of a list.
func spots(req proto.Message, fd protoreflect.FieldDescriptor) (all []spot) {
	const most = 6
	eachMessage(req.ProtoReflect(), func(m protoreflect.Message) bool {
		if m.Descriptor() == fd.ContainingMessage() && len(all) < most {
			all = append(all, spot{m, fd, req})
		}
		return true
	})
	return all
}

// meaning is what counts as an answer: what is found, to be done and to be asked,
// how long it lasts and what comes first. Measured values, ids and evidence only
// say again what was sent.
func meaning(a *pb.Assessment) string {
	var all []string
	for _, f := range a.GetFindings() {
		s := fmt.Sprint("finding ", f.Code, f.Urgency, f.Positions, f.Comparison, f.Limit, f.GetCauseRank(), f.Caution, f.GetToSettle().GetCode(), f.AsLeft != nil)
		for _, r := range f.Rules {
			s += fmt.Sprint(" ", r.GetId(), r.GetAuthority(), r.GetCandidate(), citationOf(r))
		}
		if strings.HasPrefix(f.Code, "trend.") {
			s += fmt.Sprint(f.Measured, f.Margin)
			for _, e := range f.Evidence {
				s += fmt.Sprint(e)
			}
		}
		all = append(all, s)
	}
	for _, w := range a.GetWork() {
		w = proto.CloneOf(w)
		w.Id, w.FindingIds = "", nil
		all = append(all, fmt.Sprint("work ", w))
	}
	for _, q := range a.GetQuestions() {
		all = append(all, fmt.Sprint("question ", q))
	}
	for _, r := range a.GetRepairs() {
		s := fmt.Sprint("repair ", r.Position, r.Repairability, r.Method)
		for _, said := range slices.Concat(r.LookFor, r.Missing) {
			s += " " + said.GetCode()
		}
		all = append(all, s)
	}
	all = append(all, fmt.Sprint(a.GetHeadline().GetHold(), a.GetHeadline().GetUrgency(), a.GetHeadline().GetPositions()))
	return strings.Join(all, "\n")
}

// values are other values of a field: what it may say by its type.
func values(m protoreflect.Message, fd protoreflect.FieldDescriptor) (all []protoreflect.Value) {
	switch fd.Kind() {
	case protoreflect.EnumKind:
		for i := range fd.Enum().Values().Len() {
			if n := fd.Enum().Values().Get(i).Number(); n != 0 {
				all = append(all, protoreflect.ValueOfEnum(n))
			}
		}
	case protoreflect.BoolKind:
		all = append(all, protoreflect.ValueOfBool(true))
	case protoreflect.Int32Kind:
		for _, n := range []int32{0, 1, 2, 3, 5, 9, 16} {
			all = append(all, protoreflect.ValueOfInt32(n))
		}
	case protoreflect.DoubleKind:
		for _, n := range []float64{0, 10, 30, 60} {
			all = append(all, protoreflect.ValueOfFloat64(n))
		}
	case protoreflect.StringKind:
		for _, s := range texts[fd.FullName()] {
			all = append(all, protoreflect.ValueOfString(s))
		}
		for _, s := range []string{"Casey", "00000000-0000-4000-8000-00000000000a", "1L", strings.Repeat("ab", 32)} {
			all = append(all, protoreflect.ValueOfString(s))
		}
	case protoreflect.MessageKind:
		for _, q := range amounts(m, fd) {
			all = append(all, protoreflect.ValueOfMessage(q))
		}
	}
	return all
}

// texts that say something, by field.
var texts = map[protoreflect.FullName][]string{
	"gaugebook.v1.Sidewall.marking":                {"225/45R17 94W", "P215/60R16 94T", "11R22.5 144/142L"},
	"gaugebook.v1.Sidewall.identification":         {"0112", "3B9X 4C2A1 2518"},
	"gaugebook.v1.Sidewall.load_range":             {"XL", "E"},
	"gaugebook.v1.Jurisdiction.country":            {"US", "GB", "DE"},
	"gaugebook.v1.Jurisdiction.state":              {"US-CA", "US-IL"},
	"gaugebook.v1.Axle.size":                       {"225/45R17 94W", "195/65R15 91H"},
	"gaugebook.v1.Complaint.position":              {"1L", "2R"},
	"gaugebook.v1.SpareReport.in_service_position": {"1L", "2R"},
	"gaugebook.v1.SensorReading.shown_position":    {"1R", "2L"},
	"gaugebook.v1.WheelReport.position":            {"1L", "1R", "2L", "2R", "S"},
	"gaugebook.v1.MountedPlace.position":           {"1L", "1R", "2L", "2R"},
	"gaugebook.v1.Spare.size":                      {"T125/70D16 96M"},
	"gaugebook.v1.WheelReport.rim":                 {"16x6.5J", "13x4.5B"},
	"gaugebook.v1.Axle.rim":                        {"16x6.5J", "13x4.5B"},
	"gaugebook.v1.Correction.inspection_id":        {"00000000-0000-4000-8000-00000000000a"},
	"gaugebook.v1.TireMove.tire_id":                {"00000000-0000-4000-8000-00000000000a"},
	"gaugebook.v1.WheelReport.tire_id":             {"00000000-0000-4000-8000-00000000000a"},
	"gaugebook.v1.JudgeBy.rulebook_ids":            {"us-commercial", "uk-light"},
}

// amounts are other values of a quantity, a day or a span of time: what stands
// there, more and less of it; else what is usual for its kind.
func amounts(m protoreflect.Message, fd protoreflect.FieldDescriptor) (all []protoreflect.Message) {
	md := fd.Message()
	switch md.FullName() {
	case "google.protobuf.Duration":
		for _, s := range []int64{600, 86400, 4 * 86400} {
			all = append(all, (&durationpb.Duration{Seconds: s}).ProtoReflect())
		}
		return all
	case "gaugebook.v1.CalendarDate":
		for _, y := range []int32{2010, 2024, 2025} {
			all = append(all, (&pb.CalendarDate{Year: y, Month: 4, Day: 14}).ProtoReflect())
		}
		return append(all, (&pb.CalendarDate{Year: 2026, Month: 1, Day: 10}).ProtoReflect())
	case "gaugebook.v1.Quantity":
		for _, n := range []float64{0.1, 2, 6} {
			all = append(all,
				(&pb.Quantity{Amount: &pb.Quantity_Depth{Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: n}}}}).ProtoReflect(),
				(&pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}}}}).ProtoReflect())
		}
		return all
	}
	one := md.Oneofs().ByName("as_read")
	if one == nil {
		return nil
	}
	member, there := one.Fields().Get(0), []float64{0, 1, 4, 12, 33, 60, 110, 300, 3500, 12000, 40000}
	if m.Has(fd) {
		in := of(m, fd)
		if set := in.WhichOneof(one); set != nil {
			member = set
			is := in.Get(set).Float()
			there = append([]float64{is * 0.5, is * 0.9, is * 1.1, is * 2, is - 1, is + 1}, there...)
		}
	}
	for _, n := range there {
		q := empty(m, fd)
		q.Set(member, protoreflect.ValueOfFloat64(n))
		all = append(all, q)
	}
	return all
}

// of is the message that a field has, of a list the first.
func of(m protoreflect.Message, fd protoreflect.FieldDescriptor) protoreflect.Message {
	if fd.IsList() {
		return m.Get(fd).List().Get(0).Message()
	}
	return m.Get(fd).Message()
}

// empty is a message that a field may have.
func empty(m protoreflect.Message, fd protoreflect.FieldDescriptor) protoreflect.Message {
	if fd.IsList() {
		return m.NewField(fd).List().NewElement().Message()
	}
	return m.NewField(fd).Message()
}

// put sets a field to a value, or empties it, and gives back what takes it back.
func put(s spot, v protoreflect.Value) (undo func()) {
	had, was := s.in.Has(s.fd), s.in.Get(s.fd)
	switch {
	case s.fd.IsList():
		old := s.in.NewField(s.fd)
		for i := range was.List().Len() {
			old.List().Append(was.List().Get(i))
		}
		if !v.IsValid() {
			s.in.Clear(s.fd)
		} else {
			s.in.Mutable(s.fd).List().Truncate(0)
			s.in.Mutable(s.fd).List().Append(v)
		}
		return func() { s.in.Set(s.fd, old) }
	case !v.IsValid():
		s.in.Clear(s.fd)
	default:
		var besides []func()
		if one := s.fd.ContainingOneof(); one != nil && !one.IsSynthetic() {
			if set := s.in.WhichOneof(one); set != nil && set != s.fd {
				old := s.in.Get(set)
				besides = append(besides, func() { s.in.Set(set, old) })
			}
		}
		s.in.Set(s.fd, v)
		if len(besides) > 0 {
			return func() { s.in.Clear(s.fd); besides[0]() }
		}
	}
	return func() {
		if had {
			s.in.Set(s.fd, was)
		} else {
			s.in.Clear(s.fd)
		}
	}
}

// judging is a call that judges.
type judging struct {
	says  func(proto.Message) (means string, takes bool) // takes: the request was not refused
	bases []proto.Message                                // requests that tell much
	most  int                                            // of what is tried of one field; 0: mostTried

	answers []*reply // to the bases, as far as they were asked
	prints  []string
}

// visits are calls that judge a visit as a whole.
func visits(bases []*pb.AssessVisitRequest) judging {
	c := judging{says: func(m proto.Message) (string, bool) {
		req := m.(*pb.AssessVisitRequest)
		if len(check.AssessVisit(req)) > 0 {
			return "", false
		}
		return meaning(judge.Visit(req)), true
	}}
	for _, b := range bases {
		c.bases = append(c.bases, b)
	}
	return c
}

// grown is a request in which messages that few visits have stand too, so that
// their fields can be set.
func grown(req *pb.AssessVisitRequest) *pb.AssessVisitRequest {
	req = proto.CloneOf(req)
	if req.GetVehicle() == nil {
		return req
	}
	for range 2 {
		eachMessage(req.ProtoReflect(), func(m protoreflect.Message) bool {
			if m.Descriptor().ParentFile().Package() != "gaugebook.v1" || whole(m.Descriptor()) {
				return false
			}
			for i := range m.Descriptor().Fields().Len() {
				fd := m.Descriptor().Fields().Get(i)
				if fd.Message() == nil || fd.IsList() || whole(fd.Message()) || m.Has(fd) || fd.ContainingOneof() != nil {
					continue
				}
				if m.Set(fd, m.NewField(fd)); len(check.AssessVisit(req)) > 0 {
					m.Clear(fd)
				}
			}
			return true
		})
	}
	return req
}

// counts tells whether the answer to one of the requests turns on the field alone, and
// how. Where a request tells the field, every value of it is tried; each other one is
// tried with a few, other requests with others.
func (c *judging) counts(fd protoreflect.FieldDescriptor, of string, h *hints) (how string, tried int) {
	if c.answers == nil {
		c.answers, c.prints = make([]*reply, len(c.bases)), fingerprints(c.bases)
	}
	differs := func(i int, s spot, v protoreflect.Value) bool {
		if s.in.Has(s.fd) && !s.fd.IsList() && v.IsValid() && s.in.Get(s.fd).Equal(v) {
			return false
		}
		before := c.answer(i)
		undo := put(s, v)
		defer undo()
		after, takes := c.says(s.req)
		if !takes || !before.takes {
			return false
		}
		tried++
		if after != before.means {
			how, h.found[of] = diffLine(before.means, after), c.prints[i]
		}
		return how != ""
	}
	told := func(i int) bool {
		return slices.ContainsFunc(spots(c.bases[i], fd), func(s spot) bool {
			return s.in.Has(fd) && slices.ContainsFunc(append(values(s.in, fd), protoreflect.Value{}), func(v protoreflect.Value) bool { return differs(i, s, v) })
		})
	}
	untold := func(i int) bool {
		at := spots(c.bases[i], fd)
		if len(at) == 0 {
			return false
		}
		s := at[i%len(at)]
		all := append(values(s.in, fd), protoreflect.Value{})
		for k := range min(len(all), 4) {
			if differs(i, s, all[(4*i+k)%len(all)]) {
				return true
			}
		}
		return false
	}
	if i := h.first(of, c.prints); i >= 0 && (told(i) || untold(i)) {
		return how, tried
	}
	most := cmp.Or(c.most, mostTried)
	for _, found := range []func(int) bool{told, untold} {
		for i := range c.bases {
			if found(i) || tried > most {
				break
			}
		}
		if how != "" || tried > most {
			break
		}
	}
	return how, tried
}

// reply is what a call says to a request.
type reply struct {
	means string
	takes bool
}

// answer is what the call says to one of its requests, asked once.
func (c *judging) answer(i int) reply {
	if c.answers[i] == nil {
		means, takes := c.says(c.bases[i])
		c.answers[i] = &reply{means, takes}
	}
	return *c.answers[i]
}

// mostTried is after how many a field that nothing turned on is given up.
const mostTried = 3000

// TestEveryFieldCounts: whatever a visit can tell changes an answer, or the answer
// says by name that it is recorded and not judged, or it stands in the list of
// what tells nothing to judge.
func TestEveryFieldCounts(t *testing.T) {
	c, h := visits(toldVisits(t)), hintsOf(t)
	if len(exempt) > 30 {
		t.Errorf("%d fields are exempt, at most 30 may be", len(exempt))
	}
	named := translate.Recorded()
	for _, fd := range fieldsOf((&pb.AssessVisitRequest{}).ProtoReflect().Descriptor(), "reader") {
		_, is := exempt[shortName(fd)]
		_, only := named[fd.FullName()]
		if is && only {
			t.Errorf("%s is exempt, and named", shortName(fd))
		}
		if is || only {
			continue
		}
		how, tried := c.counts(fd, shortName(fd), h)
		if testing.Verbose() {
			t.Log(shortName(fd), tried, how)
		}
		if how == "" {
			t.Errorf("%s: set or not, the answer is the same (%d tried)", shortName(fd), tried)
		}
	}
}

// TestWhatIsOnlyRecordedIsNamed: a field that is not judged is named in the answer
// whenever it is set, in whatever visit.
func TestWhatIsOnlyRecordedIsNamed(t *testing.T) {
	bases := toldVisits(t)
	fields := fieldsOf((&pb.AssessVisitRequest{}).ProtoReflect().Descriptor(), "reader", "earlier")
	for name, code := range translate.Recorded() {
		i := slices.IndexFunc(fields, func(fd protoreflect.FieldDescriptor) bool { return fd.FullName() == name })
		if i < 0 {
			t.Errorf("%s is no field", name)
			continue
		}
		set := 0
		for k, req := range bases {
			if set > 6 {
				break
			}
			req = proto.CloneOf(req)
			req.Earlier = nil
			at := spots(req, fields[i])
			if len(at) == 0 {
				continue
			}
			s := at[k%len(at)]
			if !slices.ContainsFunc(values(s.in, fields[i]), func(v protoreflect.Value) bool {
				undo := put(s, v)
				fits := len(check.AssessVisit(req)) == 0 && s.in.Has(fields[i])
				if !fits {
					undo()
				}
				return fits
			}) {
				continue
			}
			set++
			if !slices.ContainsFunc(judge.Visit(req).GetNotJudged(), func(n *pb.NotJudged) bool { return n.GetCode() == string(code) }) {
				t.Errorf("%s is set, and %s is not named", name, code)
				break
			}
		}
		if set == 0 {
			t.Errorf("%s is set by no visit", name)
		}
	}
}

// roomy are the visits of the corpus with room for what few of them tell, made once.
var roomy []*pb.AssessVisitRequest

// toldVisits are the visits of the corpus with room for what few of them tell, and as
// they are: a wheel of which work is told, if by nothing but an empty message, was off.
func toldVisits(t *testing.T) (all []*pb.AssessVisitRequest) {
	t.Helper()
	visits := corpus(t)
	if roomy == nil {
		for _, v := range visits {
			roomy = append(roomy, grown(v.visit))
		}
	}
	for _, v := range roomy {
		all = append(all, proto.CloneOf(v))
	}
	for _, v := range visits {
		all = append(all, v.visit)
	}
	return all
}

func shortName(fd protoreflect.FieldDescriptor) string {
	return strings.TrimPrefix(string(fd.FullName()), "gaugebook.v1.")
}

// exempt are the fields that tell nothing to judge, with why.
var exempt = func() map[string]string {
	all := map[string]string{}
	for why, fields := range map[string][]string{
		"an id, a version or a name that a record is called by": {
			"Vehicle.id", "Vehicle.revision", "Vehicle.tag", "Vehicle.same_as", "Tire.revision", "Inspection.id", "Inspection.vehicle_id",
			"Inspection.order_reference", "SensorReading.sensor_id", "Repair.id", "TireMoves.id", "MountedPlace.vehicle_id",
		},
		"who did it": {"Inspection.done_by", "Repair.done_by", "TireMoves.done_by", "WorkDone.done_by"},
		"a person's data, which enter no finding": {
			"CustomerData.plate", "CustomerData.customer", "CustomerData.contact", "CustomerData.vehicle_identification",
		},
		"the client's clock: what is judged by date goes by the day at the shop": {"Inspection.taken_time", "Repair.done_time", "TireMoves.done_time"},
		"where a figure was read":                              {"Fasteners.torque_source", "TireMakerPolicy.source"},
		"tells repeated readings apart, and nothing by itself": {"TreadReading.repeat", "PressureReading.repeat"},
		"why a visit was corrected, in words":                  {"Correction.reason"},
		"tells places on one tire apart":                       {"Place.side", "Place.clock_degrees"},
	} {
		for _, f := range fields {
			all[f] = why
		}
	}
	return all
}()

func diffLine(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range max(len(x), len(y)) {
		if i >= len(x) {
			return "+" + y[i]
		}
		if i >= len(y) {
			return "-" + x[i]
		}
		if x[i] != y[i] {
			return x[i] + " => " + y[i]
		}
	}
	return "?"
}
