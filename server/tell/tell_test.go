package tell_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// inWords are the fields that hold words.
var inWords = []string{"for_technician", "for_customer", "words", "would_allow", "shown_position"}

// demos are the invented visits, judged and without words.
func demos(t *testing.T) map[*pb.AssessVisitRequest]*pb.Assessment {
	t.Helper()
	files, err := filepath.Glob("../../testdata/demo/*.json")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	all := map[*pb.AssessVisitRequest]*pb.Assessment{}
	for _, file := range files {
		req := demo(t, strings.TrimSuffix(filepath.Base(file), ".json"))
		all[req] = judge.Visit(req)
	}
	return all
}

func retold(a *pb.Assessment, r *pb.Reader, v *pb.Vehicle) *pb.Assessment {
	a = proto.CloneOf(a)
	tell.For(r, tell.Shop{}).Assessment(a, translate.FrontRear(v))
	return a
}

// What is judged has not one word; told whole, every place for words has some, and
// the customer's where a customer reads and nowhere else.
func TestWordsAreToldHereAlone(t *testing.T) {
	for req, a := range demos(t) {
		eachText(a.ProtoReflect(), func(field string, of protoreflect.Message, text string) {
			if slices.Contains(inWords, field) {
				t.Errorf("%s: %s.%s is judged with words: %q", req.GetVehicle().GetTag(), of.Descriptor().Name(), field, text)
			}
		})
		for _, customer := range []string{"", "en"} {
			whole := retold(a, &pb.Reader{View: pb.View_VIEW_FULL, CustomerLanguage: customer}, req.GetVehicle())
			eachMessage(whole.ProtoReflect(), func(m protoreflect.Message) {
				for _, field := range inWords {
					fd := m.Descriptor().Fields().ByName(protoreflect.Name(field))
					if fd == nil {
						continue
					}
					if wanted := field != "for_customer" || customer != ""; m.Has(fd) != wanted {
						t.Errorf("%s, customer %q: %s.%s told: %v: %v", req.GetVehicle().GetTag(), customer, m.Descriptor().Name(), field, !wanted, m.Interface())
					}
				}
			})
		}
	}
}

func eachMessage(m protoreflect.Message, do func(protoreflect.Message)) {
	do(m)
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case fd.Message() == nil:
		case fd.IsList():
			for i := range v.List().Len() {
				eachMessage(v.List().Get(i).Message(), do)
			}
		default:
			eachMessage(v.Message(), do)
		}
		return true
	})
}

// The technician and the customer read each in a language of their own.
func TestTwoLanguages(t *testing.T) {
	for req, a := range demos(t) {
		of := func(technician, customer string) []string {
			var all []string
			whole := retold(a, &pb.Reader{View: pb.View_VIEW_FULL, Language: technician, CustomerLanguage: customer}, req.GetVehicle())
			eachText(whole.ProtoReflect(), func(field string, _ protoreflect.Message, text string) {
				if slices.Contains(inWords, field) {
					all = append(all, field+": "+text)
				}
			})
			slices.Sort(all) // a message's fields come in any order
			return all
		}
		forCustomer := func(s string) bool { return strings.HasPrefix(s, "for_customer: ") }
		notForCustomer := func(s string) bool { return !forCustomer(s) }
		en, es := of("en", "en"), of("es", "es")
		for _, c := range []struct {
			technician, customer string
			reads, hears         []string
		}{{"en", "es", en, es}, {"es", "en", es, en}} {
			want := slices.Concat(slices.DeleteFunc(slices.Clone(c.hears), notForCustomer), slices.DeleteFunc(slices.Clone(c.reads), forCustomer))
			slices.Sort(want)
			if got := of(c.technician, c.customer); !slices.Equal(got, want) {
				t.Errorf("%s: technician %s, customer %s: other texts than in one language each", req.GetVehicle().GetTag(), c.technician, c.customer)
			}
		}
	}
}

// Telling again replaces what was told: nothing of the first language stays.
func TestToldAgain(t *testing.T) {
	for req, a := range demos(t) {
		first := &pb.Reader{View: pb.View_VIEW_FULL, Language: "es", CustomerLanguage: "es", Units: &pb.ReaderUnits{Pressure: pb.PressureUnit_PRESSURE_UNIT_BAR}}
		second := &pb.Reader{View: pb.View_VIEW_FULL, Language: "en"}
		if got, want := retold(retold(a, first, req.GetVehicle()), second, req.GetVehicle()), retold(a, second, req.GetVehicle()); !equal(got, want) {
			t.Errorf("%s: told again it reads otherwise", req.GetVehicle().GetTag())
		}
	}
}

// BCP 47 tags, looked up by RFC 4647: a language without texts is told in English,
// a region is named where numbers are written otherwise there, and the shop says
// what a reader leaves open.
func TestTold(t *testing.T) {
	psi := &pb.ReaderUnits{Pressure: pb.PressureUnit_PRESSURE_UNIT_PSI}
	bar := &pb.ReaderUnits{Pressure: pb.PressureUnit_PRESSURE_UNIT_BAR}
	for name, c := range map[string]struct {
		reader *pb.Reader
		shop   tell.Shop
		want   *pb.Told
	}{
		"nobody told":                {nil, tell.Shop{}, &pb.Told{Language: "en", View: pb.View_VIEW_WORK}},
		"a language without texts":   {&pb.Reader{Language: "tlh", CustomerLanguage: "tlh"}, tell.Shop{}, &pb.Told{Language: "en", CustomerLanguage: "en", View: pb.View_VIEW_WORK, LanguagesWithoutTexts: []string{"tlh"}}},
		"no language at all":         {&pb.Reader{Language: "?", View: pb.View_VIEW_FULL}, tell.Shop{Language: "es"}, &pb.Told{Language: "en", View: pb.View_VIEW_FULL, LanguagesWithoutTexts: []string{"?"}}},
		"a region of other numbers":  {&pb.Reader{Language: "es-MX", View: pb.View_VIEW_GLANCE}, tell.Shop{}, &pb.Told{Language: "es-MX", View: pb.View_VIEW_GLANCE}},
		"a region of the same":       {&pb.Reader{Language: "es-ES"}, tell.Shop{}, &pb.Told{Language: "es", View: pb.View_VIEW_WORK}},
		"the shop's":                 {&pb.Reader{}, tell.Shop{Language: "es", Units: bar}, &pb.Told{Language: "es", Units: bar, View: pb.View_VIEW_WORK}},
		"the reader's first":         {&pb.Reader{Language: "en", Units: psi}, tell.Shop{Language: "es", Units: bar}, &pb.Told{Language: "en", Units: psi, View: pb.View_VIEW_WORK}},
		"the customer is asked for":  {&pb.Reader{CustomerLanguage: "es"}, tell.Shop{}, &pb.Told{Language: "en", CustomerLanguage: "es", View: pb.View_VIEW_WORK}},
		"a view that has come since": {&pb.Reader{View: 17}, tell.Shop{}, &pb.Told{Language: "en", View: pb.View_VIEW_WORK}},
	} {
		got := tell.For(c.reader, c.shop).Told()
		if len(got.GetTexts()) < 8 {
			t.Errorf("%s: texts of version %q", name, got.GetTexts())
		}
		if got.Texts = ""; !equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// What a view holds is what the contract says of it. What it leaves out is absent,
// and the totals count it.
func TestViews(t *testing.T) {
	all := fieldsOf(&pb.Assessment{})
	work := []string{"headline", "totals", "findings", "work", "cautions", "questions", "repairs"}
	for view, c := range map[pb.View]struct{ assessment, finding, repair []string }{
		pb.View_VIEW_GLANCE: {[]string{"headline", "totals"}, nil, nil},
		pb.View_VIEW_WORK: {work, []string{
			"id", "code", "urgency", "positions", "for_technician", "for_customer", "to_settle", "caution", "as_left", "open_id", "subject",
		}, []string{"position", "repairability", "method"}},
		pb.View_VIEW_FULL: {all, fieldsOf(&pb.Finding{}), fieldsOf(&pb.RepairAnswer{})},
	} {
		held := map[protoreflect.Name]map[string]bool{}
		for req, a := range demos(t) {
			got := retold(a, &pb.Reader{View: view, CustomerLanguage: "en"}, req.GetVehicle())
			if !equal(got.GetTotals(), a.GetTotals()) {
				t.Errorf("%v: %v counted as %v", view, a.GetTotals(), got.GetTotals())
			}
			eachMessage(got.ProtoReflect(), func(m protoreflect.Message) {
				name := m.Descriptor().Name()
				if held[name] == nil {
					held[name] = map[string]bool{}
				}
				m.Range(func(fd protoreflect.FieldDescriptor, _ protoreflect.Value) bool {
					held[name][string(fd.Name())] = true
					return true
				})
				if view != pb.View_VIEW_FULL && name == "WorkItem" && m.Has(m.Descriptor().Fields().ByName("finding_ids")) {
					t.Errorf("%v: work names its findings", view)
				}
			})
		}
		for name, may := range map[protoreflect.Name][]string{"Assessment": c.assessment, "Finding": c.finding, "RepairAnswer": c.repair} {
			for field := range held[name] {
				if !slices.Contains(may, field) {
					t.Errorf("%v: %s holds %s", view, name, field)
				}
			}
		}
		for _, field := range c.assessment {
			if !held["Assessment"][field] {
				t.Errorf("%v: no visit has %s", view, field)
			}
		}
	}
}

func fieldsOf(m proto.Message) (names []string) {
	fields := m.ProtoReflect().Descriptor().Fields()
	for i := range fields.Len() {
		names = append(names, string(fields.Get(i).Name()))
	}
	return names
}

// Every caution that findings and work name is told once, and whom all defer to once beside
// those told in brief.
func TestCautionsAreToldOnce(t *testing.T) {
	for req, a := range demos(t) {
		known := map[string]int{}
		for _, c := range retold(a, &pb.Reader{}, req.GetVehicle()).GetCautions() {
			known[c.GetCode()]++
		}
		named := map[string]bool{}
		for _, f := range a.GetFindings() {
			named[f.GetCaution()] = true
		}
		for _, w := range a.GetWork() {
			named[w.GetCaution()] = true
		}
		delete(named, "")
		if len(named) > 0 {
			named[string(finding.CautionDefer)] = true // told in brief, they defer together
		}
		for code := range named {
			if known[code] != 1 {
				t.Errorf("%s: caution %s is told %d times", req.GetVehicle().GetTag(), code, known[code])
			}
		}
		if len(named) != len(known) {
			t.Errorf("%s: %d cautions for %d named", req.GetVehicle().GetTag(), len(known), len(named))
		}
	}
}
