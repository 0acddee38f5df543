package api

import (
	"cmp"
	"context"
	"slices"
	"time"

	"github.com/google/uuid"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
)

// chains puts items that name the same record, whichever it is, into one chain, in the
// order in which they depend on each other; chains have nothing in common. Items are
// told by their places among all.
func chains(items []*pb.OutboxItem, places []int) [][]int {
	chainOf := map[string]int{} // by the record
	var all [][]int
	for _, place := range places {
		joined, own := []int{place}, len(all)
		ids := idsIn(items[place])
		for _, id := range ids {
			if c, ok := chainOf[id]; ok && len(all[c]) > 0 {
				joined = append(joined, all[c]...)
				for _, other := range all[c] {
					ids = append(ids, idsIn(items[other])...)
				}
				all[c] = nil
			}
		}
		for _, id := range ids {
			chainOf[id] = own
		}
		all = append(all, joined)
	}
	all = slices.DeleteFunc(all, func(c []int) bool { return len(c) == 0 })
	for _, c := range all {
		slices.SortFunc(c, func(a, b int) int { return cmp.Or(depends(items[a], items[b]), cmp.Compare(a, b)) })
	}
	return all
}

// idsIn are the ids of records in an item: its own, and those that it refers to.
func idsIn(item *pb.OutboxItem) (ids []string) {
	var walk func(protoreflect.Message)
	one := func(fd protoreflect.FieldDescriptor, v protoreflect.Value) {
		if fd.Message() != nil {
			walk(v.Message())
			return
		}
		if fd.Kind() != protoreflect.StringKind {
			return
		}
		if u, err := uuid.Parse(v.String()); err == nil {
			ids = append(ids, u.String())
		}
	}
	walk = func(m protoreflect.Message) {
		m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
			switch {
			case fd.IsList():
				for i := range v.List().Len() {
					one(fd, v.List().Get(i))
				}
			case !fd.IsMap():
				one(fd, v)
			}
			return true
		})
	}
	walk(item.ProtoReflect())
	return ids
}

// depends orders two items: vehicles, then tires, then what happened by its time,
// then what was decided about it.
func depends(a, b *pb.OutboxItem) int {
	rankA, timeA := rank(a)
	rankB, timeB := rank(b)
	return cmp.Or(cmp.Compare(rankA, rankB), timeA.Compare(timeB))
}

func rank(item *pb.OutboxItem) (int, time.Time) {
	happened := func(t *timestamppb.Timestamp) (int, time.Time) {
		if t == nil {
			return 2, time.Unix(1<<40, 0) // when it is recorded
		}
		return 2, t.AsTime()
	}
	switch r := item.GetRecord().(type) {
	case *pb.OutboxItem_Vehicle:
		return 0, time.Time{}
	case *pb.OutboxItem_Tire:
		return 1, time.Time{}
	case *pb.OutboxItem_Inspection:
		return happened(r.Inspection.GetTakenTime())
	case *pb.OutboxItem_Moves:
		return happened(r.Moves.GetDoneTime())
	case *pb.OutboxItem_Repair:
		return happened(r.Repair.GetDoneTime())
	case *pb.OutboxItem_Event:
		return happened(r.Event.GetDoneTime())
	}
	return 3, time.Time{}
}

// idOf is the id of an item's record.
func idOf(item *pb.OutboxItem) string {
	m := item.ProtoReflect()
	fd := m.WhichOneof(m.Descriptor().Oneofs().ByName("record"))
	if fd == nil {
		return ""
	}
	record := m.Get(fd).Message()
	return record.Get(record.Descriptor().Fields().ByName("id")).String()
}

// inTurns takes of every chain the first, then of every chain the second, ...: each turn
// together, and after it what between has to say.
func (s *Server) inTurns(ctx context.Context, chains [][]int, take func(on *book.Book, place int), between func() error) error {
	for turn := 0; ; turn++ {
		var commands []func(*book.Book)
		for _, chain := range chains {
			if turn < len(chain) {
				commands = append(commands, func(on *book.Book) { take(on, chain[turn]) })
			}
		}
		if len(commands) == 0 {
			return nil
		}
		s.book.Together(ctx, commands...)
		if err := between(); err != nil {
			return err
		}
	}
}
