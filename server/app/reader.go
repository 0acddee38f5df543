package app

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/words"
)

// reader is what the one who reads a report wants: languages and units.
type reader struct {
	language, customerLanguage string
	units                      []string
}

// systems are units that go together. Metric tire gauges show bar or kPa; bar is
// taken.
var systems = map[string][]string{
	"inch": {
		"depth=thirty-seconds-inch", "length=inches", "pressure=psi", "distance=miles", "mass=pounds",
		"speed=miles-per-hour", "torque=pound-feet", "temperature=fahrenheit",
	},
	"metric": {
		"depth=millimeters", "length=millimeters", "pressure=bar", "distance=kilometers", "mass=kilograms",
		"speed=kilometers-per-hour", "torque=newton-meters", "temperature=celsius",
	},
}

func (r *reader) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&r.language, "language", "", "language of the texts, as a BCP 47 tag: "+strings.Join(words.Tongues(), ", "))
	cmd.Flags().StringVar(&r.customerLanguage, "customer-language", "", "language of what is told to the customer, where it is another")
	cmd.Flags().StringSliceVar(&r.units, "units", nil, "units to read in, those read beside them: inch, metric, or one by one: depth=millimeters,pressure=bar")
}

// apply puts what was asked for in place of what a reader asks for. A later word of
// the units goes before an earlier one.
func (r *reader) apply(to *pb.Reader) error {
	if r.language != "" {
		to.Language = r.language
	}
	if r.customerLanguage != "" {
		to.CustomerLanguage = r.customerLanguage
	}
	if len(r.units) > 0 {
		to.Units = &pb.ReaderUnits{}
	}
	for _, word := range r.units {
		system, ok := systems[word]
		if !ok {
			system = []string{word}
		}
		for _, choice := range system {
			if err := choose(to.GetUnits(), choice); err != nil {
				return fmt.Errorf("--units %w", err)
			}
		}
	}
	return nil
}

// ofReport is a reader of a report, which is whole unless less of it was asked for, and
// speaks to the customer too: in the technician's language unless in another.
func ofReport(r *pb.Reader, shop tell.Shop) *pb.Reader {
	if r = proto.CloneOf(r); r == nil {
		r = &pb.Reader{}
	}
	if r.GetView() == pb.View_VIEW_UNSPECIFIED {
		r.View = pb.View_VIEW_FULL
	}
	r.CustomerLanguage = cmp.Or(r.GetCustomerLanguage(), r.GetLanguage(), shop.Language, words.Default)
	return r
}

// sayUntold says which languages were asked for and have no texts.
func sayUntold(errs io.Writer, told *pb.Told) {
	for _, tag := range told.GetLanguagesWithoutTexts() {
		sayf(errs, "gaugebook: no texts in %q, told in English; there are %s", tag, strings.Join(words.Tongues(), ", "))
	}
}

// choose sets one unit, written as quantity=unit with the names of the contract.
func choose(u *pb.ReaderUnits, choice string) error {
	quantity, name, _ := strings.Cut(choice, "=")
	m := u.ProtoReflect()
	var known []string
	for i := range m.Descriptor().Fields().Len() {
		field := m.Descriptor().Fields().Get(i)
		values := field.Enum().Values()
		for k := 1; k < values.Len(); k++ { // the first is none
			value := values.Get(k)
			word := words.Kebab(strings.TrimPrefix(string(value.Name()), strings.ToUpper(string(field.Name()))+"_UNIT_"))
			if quantity == string(field.Name()) && name == word {
				m.Set(field, protoreflect.ValueOfEnum(value.Number()))
				return nil
			}
			known = append(known, string(field.Name())+"="+word)
		}
	}
	return fmt.Errorf("%q is not known; there are inch, metric, %s", choice, strings.Join(known, ", "))
}
