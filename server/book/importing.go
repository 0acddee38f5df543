package book

import (
	"cmp"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
)

// Importing is the book as history of another record is imported into it. What is recorded
// through it stands where it stood there, is read like all else and is evidence for later
// visits; but nothing of it is open, due, or set for a day, and no change tells of it as of
// something that happened. stood is when a record stood there; nil: what it tells itself.
func (b *Book) Importing(stood *timestamppb.Timestamp) *Book {
	return &Book{store: b.store, judge: b.judge, now: b.now, ending: b.ending, importing: true, stood: stood}
}

// importer is who sent what is imported, where nobody is told.
const importer = "import"

// sender is who sent a record.
func (b *Book) sender(name string) string {
	if b.importing {
		return cmp.Or(name, importer)
	}
	return name
}

// standing is where a record stands that is imported, told by itself where nothing else is;
// nil where nothing is imported. Nothing stands behind the moment at which it is recorded.
func (b *Book) standing(told, recorded *timestamppb.Timestamp, field string) (*timestamppb.Timestamp, error) {
	if b.stood != nil {
		told = b.stood
	}
	switch {
	case !b.importing:
		return nil, nil //nolint:nilnil // nil: nothing is imported
	case told == nil:
		return nil, refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, field, "when it was is not told, and history needs it")
	case nanos(told) > nanos(recorded):
		return recorded, nil
	}
	return told, nil
}

// same tells that two records are the same. Where they are imported, each names its vehicles
// by what these were found to be.
func (b *Book) same(v view, kept, sent proto.Message) bool {
	if proto.Equal(kept, sent) {
		return true
	}
	if !b.importing {
		return false
	}
	kept, sent = proto.Clone(kept), proto.Clone(sent)
	return v.resolveIn(kept.ProtoReflect()) == nil && v.resolveIn(sent.ProtoReflect()) == nil && proto.Equal(kept, sent)
}

// resolveIn names the vehicles in a message by what they were found to be.
func (v view) resolveIn(m protoreflect.Message) (err error) {
	m.Range(func(fd protoreflect.FieldDescriptor, value protoreflect.Value) bool {
		switch {
		case fd.Name() == "vehicle_id" && fd.Kind() == protoreflect.StringKind:
			var id string
			if id, err = v.resolved(value.String()); err == nil {
				m.Set(fd, protoreflect.ValueOfString(id))
			}
		case fd.Message() == nil || fd.IsMap():
		case fd.IsList():
			for i := 0; err == nil && i < value.List().Len(); i++ {
				err = v.resolveIn(value.List().Get(i).Message())
			}
		default:
			err = v.resolveIn(value.Message())
		}
		return err == nil
	})
	return err
}

// quiet is an entry of the feed without what happened: what is left says what vehicles are
// afterwards.
func quiet(feed []byte) ([]byte, error) {
	row := &rows.Change{}
	if err := decode(feed, row); err != nil {
		return nil, err
	}
	if in := row.GetInspection(); in != nil {
		row.Closed, row.Opened = append(row.Closed, in.GetClosed()...), append(row.Opened, in.GetOpened()...)
	}
	row.What = nil
	return encode(row)
}
