package judge_test

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// condition is one thing that a rule or the choice of its book is narrowed by: a field
// that is set, or one entry of it where it is a list.
type condition struct {
	rule  string // the book, or the book and its limit
	field string
	ways  []func() (undo func()) // to say it otherwise
}

func (c condition) String() string { return c.rule + " " + c.field }

// narrowed are the conditions in a struct, field by field.
func narrowed(rule, under string, in reflect.Value, all []condition) []condition {
	for i := range in.NumField() {
		f, name := in.Field(i), under+in.Type().Field(i).Name
		if f.IsZero() || f.Kind() == reflect.String && name != "Binds.State" {
			continue // words for people
		}
		switch f.Kind() {
		case reflect.Pointer:
			all = append(all, pointed(rule, name+".", f)...)
		case reflect.Struct:
			all = narrowed(rule, name+".", f, all)
		case reflect.Slice:
			for k := range f.Len() {
				less := reflect.AppendSlice(reflect.MakeSlice(f.Type(), 0, f.Len()), f.Slice(0, k))
				less = reflect.AppendSlice(less, f.Slice(k+1, f.Len()))
				if less.Len() == 0 {
					less = reflect.Zero(f.Type())
				}
				all = append(all, condition{rule, fmt.Sprintf("%s %v", name, f.Index(k)), []func() func(){setting(f, less)}})
			}
		default:
			all = append(all, condition{rule, name, otherwise(f)})
		}
	}
	return all
}

// pointed are the conditions in what a field points to, which other rules may share: it
// is changed for this one alone.
func pointed(rule, under string, f reflect.Value) []condition {
	all := narrowed(rule, under, f.Elem(), nil)
	for i := range all {
		for k, way := range all[i].ways {
			all[i].ways[k] = func() func() {
				shared, own := reflect.ValueOf(f.Interface()), reflect.New(f.Type().Elem())
				undo := way()
				own.Elem().Set(f.Elem())
				undo()
				f.Set(own)
				return func() { f.Set(shared) }
			}
		}
	}
	return all
}

// otherwise are the ways to say a scalar otherwise: not at all, or more or less of it.
func otherwise(f reflect.Value) (ways []func() func()) {
	put := func(v any) { ways = append(ways, setting(f, reflect.ValueOf(v).Convert(f.Type()))) }
	switch f.Kind() {
	case reflect.Bool:
		put(false)
	case reflect.String:
		ways = append(ways, setting(f, reflect.Zero(f.Type())))
	case reflect.Uint8: // one of a few
		for n := range uint8(7) {
			if uint64(n) != f.Uint() {
				put(n)
			}
		}
	case reflect.Int, reflect.Int64:
		put(0)
		put(f.Int() / 2)
		put(f.Int() * 2)
	case reflect.Float64:
		put(0.0)
		put(f.Float() / 2)
		put(f.Float() * 2)
	default:
		panic(f.Kind())
	}
	return ways
}

func setting(f, v reflect.Value) func() func() {
	return func() func() {
		was := reflect.New(f.Type()).Elem()
		was.Set(f)
		f.Set(v)
		return func() { f.Set(was) }
	}
}

// conditions are all that the rules, and the choice of their books, are narrowed by.
func conditions() (all []condition) {
	for _, b := range rulebook.All() {
		all = narrowed(b.ID, "Binds.", reflect.ValueOf(&b.Binds).Elem(), all)
		for i := range b.Limits {
			l := &b.Limits[i]
			if l.Informs != "" {
				continue
			}
			id, of := b.ID+"."+l.ID, reflect.ValueOf(l).Elem()
			all = narrowed(id, "Applies.", of.FieldByName("Applies"), all)
			if l.Winter != nil {
				all = append(all, pointed(id, "Winter.", of.FieldByName("Winter"))...)
			}
			if l.Where != rulebook.NoPlace {
				all = append(all, condition{id, "Where", otherwise(of.FieldByName("Where"))})
			}
		}
	}
	return all
}

// answeredVisit is a visit with what is said of it and the rulebooks that it was judged by.
type answeredVisit struct {
	visit *pb.AssessVisitRequest
	means string
	books []string
}

func judgedOnce(v *pb.AssessVisitRequest) answeredVisit {
	a := judge.Visit(v)
	return answeredVisit{v, meaning(a), a.GetBasis().GetRulebooks()}
}

// still tells that the visit is judged as it was; where a rule so changed has no limit for
// a tire, it is not judged at all.
func (j answeredVisit) still() (same bool) {
	defer func() {
		if recover() != nil {
			same = false
		}
	}()
	return meaning(judge.Visit(j.visit)) == j.means
}

// near tells that a condition of a book may decide the visit: it was judged by the book,
// or the vehicle runs in the book's country.
func (j answeredVisit) near(book string) bool {
	b := rulebook.Must(book)
	return b.Country == "" || slices.ContainsFunc(j.books, func(name string) bool { return strings.HasPrefix(name, book+"@") }) ||
		slices.ContainsFunc(j.visit.GetVehicle().GetUse().GetDrivenIn(), func(in *pb.Jurisdiction) bool { return in.GetCountry() == b.Country })
}

// byOthers are the conditions that no answer turns on, by the beginnings of their names,
// because something else decides the same before.
var byOthers = func() map[string]string {
	all := map[string]string{}
	for why, names := range map[string][]string{
		"of trailers alone, asked for by their class":                {"advice.torque-recheck-trailer-", "fitment.age-together Applies.Classes"},
		"worn out goes by the lowest reading, wherever it was taken": {"advice.wear-bars-metric Where"},
		"taken by the class, for an estimate that says so":           {"advice.usual-new-"},
		"a lamp that is told of is there, whatever the rating":       {"pressure.lamp-"},
		"both rules have one share, and tell the same":               {"pressure.air-on-vehicle"},
		"a class that contradicts the rating is asked about, and not judged by": {
			"uk-heavy.age Applies.AnyRating 4", "eu-fr.heavy-depth Applies.AnyRating 4", "eu-pt.heavy-depth Applies.AnyRating 4", "au-wa.depth Applies.AnyRating 1", "us-pa.depth Applies.AnyRating 1",
		},
		"whether a wheel is a large one goes by its tires, too: package inflation decides it":   {"pressure.deflate-damaged Applies.Classes", "pressure.one-piece Applies.Classes"},
		"the limit takes a car at any weight":                                                   {"eu-fr Binds.AnyRating 1", "eu-pt Binds.AnyRating 1", "au-wa Binds.AnyRating 1"},
		"a least depth of a season binds every tire, whether winter tires are asked for or not": {"eu-fi.heavy-other-depth Winter.Required"},
	} {
		for _, name := range names {
			all[name] = why
		}
	}
	return all
}()

// TestEveryConditionDecides: each condition of a rule has a visit whose answer turns on
// it: what is found, to be done or asked.
func TestEveryConditionDecides(t *testing.T) {
	var visits []answeredVisit
	var prints []string
	var all []int
	made := slices.DeleteFunc(lawDrills(), func(v *pb.AssessVisitRequest) bool { return v == nil })
	for _, v := range slices.Concat(drills(), corpusVisits(t), made) {
		if problems := check.AssessVisit(v); len(problems) > 0 {
			t.Fatalf("%v: %v", v, problems)
		}
		all, visits, prints = append(all, len(all)), append(visits, judgedOnce(v)), append(prints, fingerprint(v))
	}
	h := hintsOf(t)
	byBook := map[string][]condition{}
	for _, c := range conditions() {
		if book, _, _ := strings.Cut(c.rule, "."); !decidedByOthers(c) {
			byBook[book] = append(byBook[book], c)
		}
	}
	for _, book := range slices.Sorted(maps.Keys(byBook)) {
		t.Run(book, func(t *testing.T) {
			near := slices.DeleteFunc(slices.Clone(all), func(i int) bool { return !visits[i].near(book) })
			for _, c := range byBook[book] {
				turnsOn := func(among []int) bool {
					return slices.ContainsFunc(c.ways, func(way func() func()) bool {
						defer way()()
						i := slices.IndexFunc(among, func(i int) bool { return !visits[i].still() })
						if i >= 0 {
							h.found[c.String()] = prints[among[i]]
						}
						return i >= 0
					})
				}
				if i := h.first(c.String(), prints); (i < 0 || !turnsOn([]int{i})) && !turnsOn(near) {
					t.Errorf("%v: no answer turns on it", c)
				}
			}
		})
	}
}

func decidedByOthers(c condition) bool {
	for name := range byOthers {
		if strings.HasPrefix(c.String(), name) {
			return true
		}
	}
	return false
}

func corpusVisits(t *testing.T) (all []*pb.AssessVisitRequest) {
	for _, v := range corpus(t) {
		all = append(all, v.visit)
	}
	return all
}
