package book

import (
	"context"
	"encoding/hex"
	"slices"

	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// Photo is what the book knows of a photo. The files themselves lie elsewhere.
type Photo struct {
	Kept   *pb.KeptPhoto // nil: it is not kept
	Sent   int           // size in bytes of the photo as it was sent
	Erased bool          // it was, and no visit that was recorded since names it
}

func photoOf(row *rows.Photo) Photo {
	if row.GetErased() {
		return Photo{Erased: true}
	}
	return Photo{Sent: int(row.GetSentBytes()), Kept: &pb.KeptPhoto{
		Sha256: hex.EncodeToString(row.GetKeptSha256()), TotalBytes: row.GetKeptBytes(), MediaType: row.GetMediaType(),
		MetadataRemoved: row.GetMetadataRemoved(), LocationRemoved: row.GetLocationRemoved(),
	}}
}

// Photo gives what is known of a photo, by the SHA-256 of what was sent; of one that never
// came, nothing.
func (b *Book) Photo(ctx context.Context, shop, name string) (out Photo, err error) {
	err = b.read(ctx, shop, func(s view) error {
		row := &rows.Photo{}
		_, found, err := s.get(photoKey(name), row)
		if found && err == nil {
			out = photoOf(row)
		}
		return err
	})
	return out, err
}

// RecordPhoto records that a photo is kept, whose copy is safely in its place, and tells the
// feed. What is recorded so already is left as it is; another copy takes the place of one
// that was lost. An erased one stays erased, and that is told.
func (b *Book) RecordPhoto(ctx context.Context, shop, name string, sent int, kept *pb.KeptPhoto) (erased bool, err error) {
	sum, err := hex.DecodeString(kept.GetSha256())
	if err != nil {
		return false, err
	}
	_, err = b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		was := &rows.Photo{}
		version, found, err := s.get(photoKey(name), was)
		erased = was.GetErased()
		if err != nil || erased || found && slices.Equal(was.GetKeptSha256(), sum) {
			return nil, err
		}
		at := next(b.now(), was.GetRecordedTime())
		d := &drafting{}
		d.expect(photoKey(name), version)
		d.put(photoKey(name), &rows.Photo{
			RecordedTime: at, KeptSha256: sum, KeptBytes: kept.GetTotalBytes(), SentBytes: int32(sent), MediaType: kept.GetMediaType(),
			MetadataRemoved: kept.GetMetadataRemoved(), LocationRemoved: kept.GetLocationRemoved(),
		})
		c := newChange(at)
		c.row.What = &rows.Change_Photo{Photo: c.texts.Number(name)}
		d.change(c)
		return d.done()
	})
	return erased, err
}

// EachPhoto goes through the photos of a shop that are kept, in the order of their names.
func (b *Book) EachPhoto(ctx context.Context, shop string, do func(name string, p Photo) error) error {
	return b.read(ctx, shop, func(s view) error {
		return s.eachRow(key(photoMark), func(r history.Row) error {
			row := &rows.Photo{}
			if err := decode(r.Value, row); err != nil || row.GetErased() {
				return err
			}
			return do(r.Key.Texts(1)[0], photoOf(row))
		})
	})
}

// photosIn are the names of the photos of a visit: of the vehicle, and of all that was
// observed.
func photosIn(visit *pb.Inspection) []string {
	var all []string
	var walk func(protoreflect.Message)
	walk = func(m protoreflect.Message) {
		m.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
			switch {
			case f.IsMap():
			case f.Name() == "photo_sha256":
				for i := range v.List().Len() {
					all = append(all, v.List().Get(i).String())
				}
			case f.Message() == nil:
			case f.IsList():
				for i := range v.List().Len() {
					walk(v.List().Get(i).Message())
				}
			default:
				walk(v.Message())
			}
			return true
		})
	}
	walk(visit.ProtoReflect())
	slices.Sort(all)
	return slices.Compact(all)
}

// photos puts that a visit names its photos. One that was erased may come again: whoever
// records it now means it.
func (r *recording) photos(s view, d *drafting) error {
	for _, name := range photosIn(r.visit.inspection) {
		if err := s.namers(d, name); err != nil {
			return err
		}
		d.put(namersOf(name).Text(r.id()), &rows.VehicleRow{})
		was := &rows.Photo{}
		version, _, err := s.get(photoKey(name), was)
		if err != nil {
			return err
		}
		if was.GetErased() {
			d.expect(photoKey(name), version)
			d.delete(photoKey(name))
		}
	}
	return nil
}

// erasePhotos puts that the photos of a vehicle's visits are erased, but for those that
// visits of another vehicle name, and gives those that were kept.
func (v view) erasePhotos(d *drafting, vehicle string, at *timestamppb.Timestamp) (kept []string, err error) {
	names, err := v.photosOf(vehicle)
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		if err := v.namers(d, name); err != nil {
			return nil, err
		}
		shared, err := v.namedElsewhere(name, vehicle)
		if err != nil {
			return nil, err
		}
		if shared {
			continue
		}
		was := &rows.Photo{}
		version, found, err := v.get(photoKey(name), was)
		if err != nil {
			return nil, err
		}
		if found && !was.GetErased() {
			kept = append(kept, name)
		}
		d.expect(photoKey(name), version)
		d.put(photoKey(name), &rows.Photo{RecordedTime: at, Erased: true})
	}
	return kept, nil
}

// photosOf are the names of the photos of a vehicle's visits.
func (v view) photosOf(vehicle string) (names []string, err error) {
	err = v.eachRow(historyOf(vehicle), func(r history.Row) error {
		c, err := v.readCover(r)
		if err != nil {
			return err
		}
		kept, err := v.visit(c.inspection.GetId())
		if err == nil && kept != nil {
			names = append(names, photosIn(kept.inspection)...)
		}
		return err
	})
	slices.Sort(names)
	return slices.Compact(names), err
}

// namers puts that who names a photo has changed, or is gone by.
func (v view) namers(d *drafting, photo string) error {
	row, err := v.s.Get(v.ctx, namersOf(photo))
	d.expect(namersOf(photo), row.Version)
	d.put(namersOf(photo), &rows.VehicleRow{})
	return err
}

// namedElsewhere tells whether visits of another vehicle name a photo.
func (v view) namedElsewhere(photo, vehicle string) (elsewhere bool, err error) {
	err = v.eachRow(namersOf(photo), func(r history.Row) error {
		names := r.Key.Texts(1)
		if len(names) == 1 {
			return nil // the row that guards
		}
		visit, err := v.visit(names[1])
		if err == nil && visit != nil && visit.vehicle != vehicle {
			elsewhere = true
		}
		return err
	})
	return elsewhere, err
}
