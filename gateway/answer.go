package gateway

import (
	"regexp"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/protobuf/encoding/protojson"
)

// answers writes what a call gives back. A zero is there like any other number;
// what is absent is not, nor is a list without entries: it may be one that the
// reader's view leaves out, and must not say that there is nothing.
var answers = answerForm{&runtime.JSONPb{MarshalOptions: protojson.MarshalOptions{EmitDefaultValues: true}}}

type answerForm struct{ *runtime.JSONPb }

// Marshal writes a message.
func (f answerForm) Marshal(v any) ([]byte, error) {
	text, err := f.JSONPb.Marshal(v)
	return dropEmptyLists(text), err
}

// emptyList matches a member that is an empty list, with the comma before it, or the
// one behind where it comes first. Quotation marks within a text are escaped, so no
// text can look like one.
var emptyList = regexp.MustCompile(`,\s*"\w+":\s*\[\]|"\w+":\s*\[\],?\s*`)

func dropEmptyLists(text []byte) []byte { return emptyList.ReplaceAll(text, nil) }
