package check

import (
	"fmt"
	"slices"

	"google.golang.org/protobuf/reflect/protoreflect"

	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

// placed: what is told of a place in two ways could differ.
func (w walker) placed(p *gaugebookv1.Place) {
	const one = "one of the two"
	if p.GetGroove() != 0 && p.GetAcross() != gaugebookv1.Across_ACROSS_UNSPECIFIED {
		w.to("groove").add(fmt.Sprint(p.GetGroove()), "the place across is told as well", one)
	}
	if p.GetFromCenterLine() != nil && p.GetFromShoulderEdge() != nil {
		w.to("from_shoulder_edge").add("", "measured from the center line as well", one)
	}
}

// acrossBy names the field that tells the place across a tread, "" for none.
func acrossBy(p *gaugebookv1.Place) protoreflect.Name {
	switch {
	case p.GetGroove() != 0:
		return "groove"
	case p.GetAcross() != gaugebookv1.Across_ACROSS_UNSPECIFIED:
		return "across"
	}
	return ""
}

// placeTells wants the place of the message here told by these of its fields: the
// others say nothing of it, and would be passed over in silence.
func (w walker) placeTells(p *gaugebookv1.Place, by ...protoreflect.Name) {
	var names []protoreflect.Name
	fields := (&gaugebookv1.Place{}).ProtoReflect().Descriptor().Fields()
	for _, name := range by {
		names = append(names, protoreflect.Name(fields.ByName(name).JSONName()))
	}
	p.ProtoReflect().Range(func(fd protoreflect.FieldDescriptor, _ protoreflect.Value) bool {
		if !slices.Contains(by, fd.Name()) {
			w.to("place").to(fd.Name()).add("", "not how the place of a depth is told", "only "+alternatives(names))
		}
		return true
	})
}

func (w walker) grooveDepth(g *gaugebookv1.GrooveDepth) {
	w.required(g.GetDepth() != nil, "depth", "a depth")
	w.placeTells(g.GetPlace(), "across", "groove")
}
