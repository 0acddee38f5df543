package check

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

// Clear gives the problems of a list that names the fields of a record to empty,
// by their JSON names. The record is what was sent beside it, with what changes.
func Clear(path string, names []string, record proto.Message) []Problem {
	w := root(path, record, nil)
	m := record.ProtoReflect()
	for i, name := range names {
		w := w.item(i)
		fd := m.Descriptor().Fields().ByJSONName(name)
		switch {
		case fd == nil:
			w.unknown(name, "no such field", clearable(m.Descriptor()))
		case fixed[fd.FullName()]:
			w.add(quote(name), "not to be emptied", "only "+joinOr(clearable(m.Descriptor())))
		case m.Has(fd):
			w.add(quote(name), "given a value as well", "one of the two")
		}
	}
	repeated(names, text, func(i, _ int) { w.item(i).add(quote(names[i]), "named twice", "") })
	return w.found.inOrder()
}

// item is an entry of a list that stands at the root.
func (w walker) item(index int) walker {
	w.place = &place{up: &place{index: -1}, name: w.place.name, index: index}
	return w
}

// fixed are the fields of records that no client empties: their ids, and what the
// server says.
var fixed = map[protoreflect.FullName]bool{
	"gaugebook.v1.Vehicle.id": true, "gaugebook.v1.Vehicle.revision": true, "gaugebook.v1.Vehicle.same_as": true,
	"gaugebook.v1.Tire.id": true, "gaugebook.v1.Tire.revision": true, "gaugebook.v1.Tire.place": true,
	"gaugebook.v1.Shop.id": true, "gaugebook.v1.Shop.revision": true,
}

func clearable(md protoreflect.MessageDescriptor) []string {
	var all []string
	for i := range md.Fields().Len() {
		if fd := md.Fields().Get(i); !fixed[fd.FullName()] {
			all = append(all, fd.JSONName())
		}
	}
	return all
}

// ListVehicles gives the problems of a request for a page of a shop's vehicles.
func ListVehicles(req *gaugebookv1.ListVehiclesRequest) []Problem { return run("", req, nil) }

func (w walker) listBy(req *gaugebookv1.ListVehiclesRequest) {
	const want = "exactly one of order, text, findingCode, size, orderReference, plate or tag"
	short := func(field protoreflect.Name, s string) {
		if n := utf8.RuneCountInString(strings.TrimSpace(s)); n < 2 || n > 40 {
			w.to(field).add(quote(s), "too short or too long to find by", "2 to 40 letters or digits")
		}
	}
	plainly := func(field protoreflect.Name, s string, least int) {
		n := 0
		for _, c := range s {
			if unicode.IsLetter(c) || unicode.IsDigit(c) {
				n++
			}
		}
		if n < least || n > 40 {
			w.to(field).add(quote(s), "too short or too long to find by", fmt.Sprintf("%d to 40 letters or digits", least))
		}
	}
	switch by := req.GetBy().(type) {
	case nil:
		w.to("order").add("", "by what to list is not told", want)
	case *gaugebookv1.ListVehiclesRequest_Text:
		short("text", by.Text)
	case *gaugebookv1.ListVehiclesRequest_Size:
		short("size", by.Size)
	case *gaugebookv1.ListVehiclesRequest_Plate:
		plainly("plate", by.Plate, 2)
	case *gaugebookv1.ListVehiclesRequest_Tag:
		plainly("tag", by.Tag, 2)
	case *gaugebookv1.ListVehiclesRequest_OrderReference:
		plainly("order_reference", by.OrderReference, 1)
	case *gaugebookv1.ListVehiclesRequest_FindingCode:
		if by.FindingCode == "" {
			w.to("finding_code").add("", "no code", "the code of a finding")
		}
	case *gaugebookv1.ListVehiclesRequest_Order:
		if by.Order == gaugebookv1.VehicleOrder_VEHICLE_ORDER_UNSPECIFIED {
			w.to("order").add(by.Order.String(), "by what to list is not told", "an order")
		}
	}
}
