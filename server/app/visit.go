package app

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protopath"
	"google.golang.org/protobuf/reflect/protorange"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/gateway/strictjson"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/translate"
	"gaugebook.dev/server/words"
)

// wanted is what the command line asks of a visit beside what its file says.
type wanted struct {
	books []string
	asOf  string
	by    reader
}

// into puts it in place of what the file says.
func (w *wanted) into(req *pb.AssessVisitRequest) error {
	if len(w.books) > 0 {
		judgeBy(req).RulebookIds = w.books
	}
	if w.asOf != "" {
		d, err := parseDay(w.asOf)
		if err != nil {
			return fmt.Errorf("--as-of %w", err)
		}
		judgeBy(req).AsOf = d
	}
	if req.GetReader() == nil {
		req.Reader = &pb.Reader{}
	}
	return w.by.apply(req.GetReader())
}

// readVisit reads and checks a visit. Everything wrong with it is reported at once.
func readVisit(cmd *cobra.Command, name string, w wanted) (*pb.AssessVisitRequest, error) {
	data, err := readDocument(cmd, name)
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	req := &pb.AssessVisitRequest{}
	read := strictjson.Read
	if isYAML(name, data) {
		read = strictjson.ReadYAML
	}
	problems := read(data, req)
	empty := proto.Size(req) == 0
	asStored(req)
	if err := w.into(req); err != nil {
		return nil, inputError{err}
	}
	var violations []check.Problem
	if len(problems) == 0 || !empty { // a document that was no visit at all says nothing more
		violations = check.AssessVisit(req)
	}
	lines := problemLines(problems, violations)
	if len(lines) == 0 {
		return req, nil
	}
	for _, l := range lines {
		sayf(cmd.ErrOrStderr(), "%s", words.Harmless(l)) // each on one line
	}
	if name == "-" {
		name = "standard input"
	}
	return nil, inputError{fmt.Errorf("%s cannot be judged: %s", name, count(len(lines), "problem"))}
}

// readDocument gives so much of a file or of standard input as may be a visit.
func readDocument(cmd *cobra.Command, name string) ([]byte, error) {
	in := cmd.InOrStdin()
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer func() { _ = f.Close() }() // only read
		in = f
	}
	return io.ReadAll(io.LimitReader(in, strictjson.MaxBytes+1))
}

// isYAML tells by the name of a file whether it is YAML, and where the name does not
// tell, by its first character: a visit as JSON is an object.
func isYAML(name string, data []byte) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".yaml", ".yml":
		return true
	case ".json":
		return false
	}
	text := bytes.TrimLeft(data, "\ufeff \t\r\n")
	return len(text) > 0 && text[0] != '{'
}

// asStored writes the positions of a visit as they are stored, where they are written
// as a report on this vehicle prints them (LF, RRO) in any language and the vehicle has
// one place of that name alone. Others stay, for the check to refuse.
func asStored(req *pb.AssessVisitRequest) {
	places := shownPlaces(translate.Layout(req.GetVehicle()))
	err := protorange.Range(req.ProtoReflect(), func(p protopath.Values) error {
		last, before := p.Index(-1), p.Index(-2)
		shown, isText := last.Value.Interface().(string)
		place, known := places[shown]
		if !isText || !known {
			return nil
		}
		stored := protoreflect.ValueOfString(place.String())
		switch last.Step.Kind() {
		case protopath.FieldAccessStep:
			if isPosition(last.Step.FieldDescriptor()) {
				before.Value.Message().Set(last.Step.FieldDescriptor(), stored)
			}
		case protopath.ListIndexStep:
			if isPosition(before.Step.FieldDescriptor()) {
				before.Value.List().Set(last.Step.ListIndex(), stored)
			}
		}
		return nil
	})
	if err != nil {
		panic(err) // a message without Any is gone through to its end
	}
}

// isPosition tells whether a field holds positions: they are named so everywhere.
func isPosition(field protoreflect.FieldDescriptor) bool {
	return strings.HasSuffix(strings.TrimSuffix(string(field.Name()), "s"), "position")
}

// shownPlaces are the places of a vehicle by the names that reports print, in every
// language. A name of several places is none.
func shownPlaces(v layout.Vehicle) map[string]layout.Position {
	places := map[string]layout.Position{}
	if len(v.Axles) == 0 { // nobody knows which LR it is
		return places
	}
	for _, language := range words.Languages() {
		teller, _ := words.Reader{Language: language}.Tellers()
		for _, p := range append(v.Positions(), layout.Position{Spare: true}) {
			name := teller.Value(words.At(&v, p))
			if other, taken := places[name]; taken && other != p {
				p = layout.Position{}
			}
			places[name] = p
		}
	}
	for name, p := range places {
		if _, err := layout.Parse(name); name == "" || err == nil || p == (layout.Position{}) {
			delete(places, name) // it is stored so, or it is in doubt
		}
	}
	return places
}
