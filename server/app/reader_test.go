package app_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/app"
)

// told is how assess says that its answer was told.
func told(t *testing.T, args ...string) *pb.Told {
	t.Helper()
	response := &pb.AssessVisitResponse{}
	if err := protojson.Unmarshal(assess(t, append(args, "--json")...), response); err != nil {
		t.Fatal(err)
	}
	return response.GetTold()
}

// The reader's wishes come from the request, and from the command line before it;
// the answer says what it is told in.
func TestReader(t *testing.T) {
	request := demoRequest(t, demo+"/uk-car.json")
	request.Reader = &pb.Reader{
		Language: "es-AR", Units: &pb.ReaderUnits{Pressure: pb.PressureUnit_PRESSURE_UNIT_PSI, Depth: pb.DepthUnit_DEPTH_UNIT_MILLIMETERS}, View: pb.View_VIEW_GLANCE,
	}
	data, err := protojson.Marshal(request)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "visit.json")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	inch := &pb.ReaderUnits{
		Depth: pb.DepthUnit_DEPTH_UNIT_THIRTY_SECONDS_INCH, Length: pb.LengthUnit_LENGTH_UNIT_INCHES, Pressure: pb.PressureUnit_PRESSURE_UNIT_KILOPASCALS,
		Distance: pb.DistanceUnit_DISTANCE_UNIT_MILES, Mass: pb.MassUnit_MASS_UNIT_POUNDS, Speed: pb.SpeedUnit_SPEED_UNIT_MILES_PER_HOUR,
		Torque: pb.TorqueUnit_TORQUE_UNIT_POUND_FEET, Temperature: pb.TemperatureUnit_TEMPERATURE_UNIT_FAHRENHEIT,
	}
	for _, c := range []struct {
		name     string
		flags    []string
		language string
		customer string
		units    *pb.ReaderUnits
	}{
		{"as the request asks", nil, "es", "es", request.GetReader().GetUnits()},
		{"another language", []string{"--language", "es-MX"}, "es-MX", "es-MX", request.GetReader().GetUnits()},
		{"another for the customer", []string{"--customer-language", "en"}, "es", "en", request.GetReader().GetUnits()},
		{"one unit", []string{"--units", "torque=newton-meters"}, "es", "es", &pb.ReaderUnits{Torque: pb.TorqueUnit_TORQUE_UNIT_NEWTON_METERS}},
		{"a system but for one", []string{"--units", "inch,pressure=kilopascals"}, "es", "es", inch},
		{"the same in two flags", []string{"--units", "inch", "--units", "pressure=kilopascals"}, "es", "es", inch},
	} {
		got := told(t, append(c.flags, file)...)
		if got.GetLanguage() != c.language || got.GetCustomerLanguage() != c.customer || !proto.Equal(got.GetUnits(), c.units) || got.GetView() != pb.View_VIEW_GLANCE {
			t.Errorf("%s: told as %v; want %q, %q, %v", c.name, got, c.language, c.customer, c.units)
		}
	}
	if got := told(t, demo+"/uk-car.json"); got.GetLanguage() != "en" || got.GetCustomerLanguage() != "en" || got.GetUnits() != nil || got.GetView() != pb.View_VIEW_FULL {
		t.Errorf("nothing asked: %v", got)
	}
}

// Who asks for a language without texts is told so, beside the answer and in it.
func TestALanguageWithoutTexts(t *testing.T) {
	for _, c := range []struct {
		flags   []string
		without []string
	}{
		{[]string{"--language", "fr"}, []string{"fr"}},
		{[]string{"--language", "fr-CA", "--customer-language", "es-MX"}, []string{"fr-CA"}},
		{[]string{"--customer-language", "tlh"}, []string{"tlh"}},
		{[]string{"--language", "not a tag", "--customer-language", "pt"}, []string{"not a tag", "pt"}},
		{[]string{"--language", "es-AR", "--customer-language", "en-GB"}, nil},
		{nil, nil},
	} {
		var out, errs bytes.Buffer
		if code := app.Main(t.Context(), append([]string{"assess", "--json", demo + "/uk-car.json"}, c.flags...), nil, strings.NewReader(""), &out, &errs); code != 0 {
			t.Fatalf("%q: exit %d, %s", c.flags, code, &errs)
		}
		response := &pb.AssessVisitResponse{}
		if err := protojson.Unmarshal(out.Bytes(), response); err != nil {
			t.Fatal(err)
		}
		if got := response.GetTold().GetLanguagesWithoutTexts(); !slices.Equal(got, c.without) {
			t.Errorf("%q: without texts %q, want %q", c.flags, got, c.without)
		}
		if strings.Count(errs.String(), "no texts in") != len(c.without) {
			t.Errorf("%q: says %q", c.flags, &errs)
		}
	}
}

// Every unit of the contract can be asked for by name, and belongs to a system.
func TestSystemsNameEveryQuantity(t *testing.T) {
	for _, system := range []string{"inch", "metric"} {
		units := told(t, "--units", system, demo+"/uk-car.json").GetUnits().ProtoReflect()
		for i := range units.Descriptor().Fields().Len() {
			if field := units.Descriptor().Fields().Get(i); !units.Has(field) {
				t.Errorf("%s leaves the %s open", system, field.Name())
			}
		}
	}
}

func TestUnknownUnitsAreRefused(t *testing.T) {
	for _, units := range []string{"psi", "pressure", "pressure=mm", "pressure=unspecified", "PRESSURE=psi", "depth=millimeters,imperial"} {
		var out, errs bytes.Buffer
		code := app.Main(t.Context(), []string{"assess", "--units", units, demo + "/uk-car.json"}, nil, strings.NewReader(""), &out, &errs)
		if code != 2 || out.Len() > 0 || !strings.Contains(errs.String(), "pressure=bar") {
			t.Errorf("%q: exit %d, %q", units, code, errs.String())
		}
	}
}
