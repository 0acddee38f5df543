package book

import (
	"cmp"
	"context"
	"hash/maphash"
	"slices"

	"google.golang.org/protobuf/proto"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// kindOfRow is what a kind of row is held to by itself.
type kindOfRow struct {
	message func() proto.Message
	anew    bool                                                 // can be written anew from what was recorded
	follows bool                                                 // from records: no row is there that these do not call for
	vehicle func(history.Key) string                             // whose it is, as its key says; nil: it does not
	of      func(v view, r history.Row) (what string, err error) // what of its row is not as it should be; nil: nothing can be
}

func message[M any, P interface {
	*M
	proto.Message
}]() proto.Message {
	return P(new(M))
}

// textAt is the n-th of the texts of a key, which begin at a byte.
func textAt(from, n int) func(history.Key) string {
	return func(k history.Key) string { return k.Texts(from)[n] }
}

// points holds a row to another that its key or its message leads to.
func points(to func(history.Row) (history.Key, error), what string) func(view, history.Row) (string, error) {
	return func(v view, r history.Row) (string, error) {
		k, err := to(r)
		if err != nil {
			return "", err
		}
		row, err := v.s.Get(v.ctx, k)
		if err != nil || row.Version != history.Absent {
			return "", err
		}
		return what, nil
	}
}

// withID leads to the row of a kind that has the id with which this one's key begins.
func withID(to func(string) history.Key) func(history.Row) (history.Key, error) {
	return func(r history.Row) (history.Key, error) { return to(r.Key.Texts(1)[0]), nil }
}

const (
	noVehicleThere = "leads to a vehicle that is not there"
	noVisitThere   = "leads to a visit that is not there"
	noTireThere    = "leads to a tire that is not there"
	noRecordThere  = "leads to a record that is not there"
)

var (
	vehicleIn = textAt(1, 0)
	secondIn  = textAt(1, 1)
)

// rowKinds are all kinds of rows, by the mark of their keys.
var rowKinds = map[byte]kindOfRow{
	visitMark:    {message: message[rows.Visit]},
	arrivalsMark: {message: message[rows.Tires], of: points(withID(visitKey), noVisitThere)},
	mendedMark:   {message: message[rows.PutRights], of: points(withID(visitKey), noVisitThere)},
	replacedMark: {message: message[rows.Replaced], anew: true, follows: true},
	vehicleMark:  {message: message[rows.Record]},
	bornMark:     {message: message[rows.Record], vehicle: vehicleIn, of: points(withID(vehicleKey), noVehicleThere)},
	stateMark:    {message: message[rows.Vehicle], anew: true, follows: true, vehicle: vehicleIn},
	personMark:   {message: message[rows.Record], vehicle: vehicleIn, of: points(withID(vehicleKey), noVehicleThere)},
	historyMark:  {message: message[rows.VisitCover], anew: true, vehicle: vehicleIn, of: points(coveredVisit, noVisitThere)},
	afterMark:    {message: message[rows.Vehicle], anew: true, of: points(withID(visitKey), noVisitThere)},
	eventMark:    {message: message[rows.Event], vehicle: vehicleIn, of: points(eventRecord, noRecordThere)},
	outcomeMark:  {message: message[rows.Outcome]},
	deciderMark:  {message: message[rows.Record], of: points(withID(outcomeKey), noRecordThere)},
	erasureMark:  {message: message[rows.Erasure]},
	openMark:     {message: message[rows.OpenRow], anew: true, follows: true, vehicle: listedVehicle},
	untilMark:    {message: message[rows.OpenRow], anew: true, follows: true, vehicle: listedVehicle},
	tireBornMark: {message: message[rows.Record], of: points(withID(tireKey), noTireThere)},
	repairsMark:  {message: message[rows.Repairs], anew: true, of: points(withID(tireKey), noTireThere)},
	repairMark:   {message: message[rows.Record]},
	movesMark:    {message: message[rows.Moves]},
	tireLifeMark: {message: message[rows.TireEvent], anew: true, follows: true, of: points(ofTireEvent, noRecordThere)},
	tireOpenMark: {message: message[rows.TireOpen], anew: true, follows: true},
	tireLeftMark: {message: message[rows.Event], anew: true, follows: true, vehicle: vehicleIn},
	sameMark:     {message: message[rows.Replaced], anew: true, vehicle: vehicleIn, of: points(sameVehicle, noVehicleThere)},
	mergeMark:    {message: message[rows.Record]},
	happenedMark: {message: message[rows.Record]},
	offMark:      {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: textAt(len(offKey(0)), 0)},
	orderMark:    {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: secondIn},
	plateMark:    {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: secondIn},
	tagMark:      {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: secondIn},
	codeMark:     {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: secondIn},
	sizeMark:     {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: secondIn},
	wordMark:     {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: secondIn},
	nextDueMark:  {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: textAt(len(nextDueDay(nil)), 0)},
	tireMark:     {message: message[rows.Record], of: tirePlace},
	urgentMark:   {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: textAt(len(urgentKey(1, 0, ""))-len(history.Key("").Text("")), 0)},
	seenMark:     {message: message[rows.VehicleRow], anew: true, follows: true, vehicle: textAt(len(seenKey(0, ""))-len(history.Key("").Text("")), 0)},
	dueMark:      {message: message[rows.DueRow], anew: true, follows: true, vehicle: textAt(len(dayKey(nil)), 0)},
	duesMark:     {message: message[rows.DueRows], vehicle: vehicleIn, of: points(withID(vehicleKey), noVehicleThere)},
	shopMark:     {message: message[rows.Record]},
	photoMark:    {message: message[rows.Photo]},
	namesMark:    {message: message[rows.VehicleRow], of: points(namingVisit, noVisitThere)},
}

// namingVisit leads to the visit that names a photo; the row that orders these to itself.
func namingVisit(r history.Row) (history.Key, error) {
	if texts := r.Key.Texts(1); len(texts) > 1 {
		return visitKey(texts[1]), nil
	}
	return r.Key, nil
}

func listedVehicle(k history.Key) string {
	vehicle, _ := openNamed(k)
	return vehicle
}

func coveredVisit(r history.Row) (history.Key, error) {
	row := &rows.VisitCover{}
	if err := decode(r.Value, row); err != nil {
		return "", err
	}
	in, err := coverOf(row)
	return visitKey(in.GetId()), err
}

// ofTireEvent leads to the visit that saw a tire, or to the tire that was moved or repaired:
// one that a visit only saw may have no row, where it left before that visit was gone through.
func ofTireEvent(r history.Row) (history.Key, error) {
	row := &rows.TireEvent{}
	err := decode(r.Value, row)
	if _, seen := row.GetWhat().(*rows.TireEvent_Inspection); seen {
		return visitKey(r.Key.Texts(len(lifeOf(r.Key.Texts(1)[0])) + placeSize)[0]), err
	}
	return tireKey(r.Key.Texts(1)[0]), err
}

func sameVehicle(r history.Row) (history.Key, error) {
	row := &rows.Replaced{}
	err := decode(r.Value, row)
	return vehicleKey(row.GetBy()), err
}

func eventRecord(r history.Row) (history.Key, error) {
	row := &rows.Event{}
	if err := decode(r.Value, row); err != nil {
		return "", err
	}
	switch {
	case row.GetOutcome() != "":
		return outcomeKey(row.GetOutcome()), nil
	case row.GetMoves() != "":
		return movesKey(row.GetMoves()), nil
	case row.GetEvent() != "":
		return happeningKey(row.GetEvent()), nil
	}
	return vehicleKey(r.Key.Texts(1)[0]), nil
}

// tirePlace holds a tire that says to be on a vehicle to what that has.
func tirePlace(v view, r history.Row) (string, error) {
	t, _, err := v.tire(r.Key.Texts(1)[0])
	on := t.GetPlace().GetMounted()
	if err != nil || on == nil {
		return "", err
	}
	of, err := v.vehicle(on.GetVehicleId())
	if err == nil && !among(of.state.tires, t.GetId()) {
		return "leads to a vehicle that does not have it", nil
	}
	return "", err
}

// readable drops rows that cannot be read and can be written anew.
func (c *verifying) readable(ctx context.Context) error {
	if !c.rebuild || c.rounds > 0 {
		return nil
	}
	anew := &drafting{}
	err := c.book.read(ctx, c.shop, func(v view) error {
		return v.eachRow("", func(r history.Row) error {
			if kind := rowKinds[r.Key[0]]; kind.anew && kind.unreadable(r) != nil {
				anew.delete(r.Key)
			}
			return nil
		})
	})
	if err != nil {
		return err
	}
	return c.write(ctx, anew, nil)
}

// unreadable is why a row cannot be read; nil where it can.
func (k kindOfRow) unreadable(r history.Row) error {
	m := k.message()
	if err := decode(r.Value, m); err != nil {
		return err
	}
	var err error
	switch row := m.(type) {
	case *rows.VisitCover:
		_, err = coverOf(row)
	case *rows.Vehicle:
		_, err = tiresRead(row.GetTires())
	}
	return err
}

// strays goes through all rows: each is of a kind that is known and can be read, leads to
// what is there, and of those that follow from records none is there that these do not call
// for.
func (c *verifying) strays(ctx context.Context) error {
	slices.Sort(c.wanted)
	anew := &drafting{}
	err := c.book.read(ctx, c.shop, func(v view) error {
		return v.eachRow("", func(r history.Row) error {
			if c.rounds == 0 {
				c.out.Rows++
			}
			return c.stray(v, r, anew)
		})
	})
	if err != nil || !c.rebuild {
		return err
	}
	return c.write(ctx, anew, nil)
}

func (c *verifying) stray(v view, r history.Row, anew *drafting) (err error) {
	defer func() {
		if p := recover(); p != nil { // of a key that has not the parts of its kind
			c.failf("", "", "the row %q cannot be read: %v", r.Key, p)
		}
	}()
	kind, known := rowKinds[r.Key[0]]
	if !known {
		c.failf("", "", "the row %q is of a kind that this program does not know", r.Key)
		return nil
	}
	vehicle, record := "", ""
	if kind.vehicle != nil {
		vehicle = kind.vehicle(r.Key)
	} else if r.Key[0] != shopMark {
		record = r.Key.Texts(1)[0]
	}
	name := cmp.Or(kindNames[r.Key[0]], "its record")
	if err := kind.unreadable(r); err != nil {
		c.failf(vehicle, record, "%s cannot be read: %v", name, err)
		return nil
	}
	if kind.follows && !c.called(r.Key) {
		c.fail(Failure{Vehicle: vehicle, Record: record, What: name + " holds a row that follows from nothing recorded", Rebuilt: c.rebuild})
		anew.delete(r.Key)
		return nil
	}
	if kind.of == nil {
		return nil
	}
	what, err := kind.of(v, r)
	if err != nil {
		return c.unread(v.ctx, vehicle, record, err)
	}
	if what == "" {
		return nil
	}
	mends := c.rebuild && r.Key[0] == tireMark
	c.fail(Failure{Vehicle: vehicle, Record: record, What: name + " " + what, Rebuilt: mends})
	if mends {
		return v.offAny(anew, record)
	}
	return nil
}

// offAny puts a tire that is on no vehicle.
func (v view) offAny(d *drafting, id string) error {
	t, e, err := v.tire(id)
	t.Place = nil
	d.record(tireKey(id), t, e)
	return err
}

// called tells that a row is to be there. What only orders what happened to the open of a
// tire is called for by the tire.
func (c *verifying) called(k history.Key) bool {
	if k[0] == tireOpenMark && k == openOf(k.Texts(1)[0]) {
		return true
	}
	_, found := slices.BinarySearch(c.wanted, maphash.String(c.seed, string(k)))
	return found
}
