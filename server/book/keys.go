package book

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// Every row of a shop, by the first byte of its key, with its message of package
// rows. A key's format is for ever.
//
//	'i' id                    a visit as received with its judgement (Visit); its version is its number in the book
//	'k' id                    the tires that arrived with a visit, as they were known then (Tires); none where none was known
//	'R' id                    what a visit put right of what others found that stand before it and arrived later (PutRights); none where it was nothing
//	'r' id                    the visit that corrects this one (Replaced)
//	'v' vehicle               the vehicle as recorded (Record); its version is the vehicle's revision, which visits leave alone
//	'b' vehicle               the vehicle as recorded first (Record), so that its recording can be repeated when it was changed since
//	'a' vehicle               what visits have made of it (Vehicle): tires, open findings, last visit
//	'p' vehicle               what identifies a person (Record), in a row of its own so that it can be erased
//	'h' vehicle, taken, root, recorded, id   a covering row of one visit (VisitCover), cut to what later visits need, in the order of their places;
//	                          one recorded by a former program: 'h' vehicle, recorded, id
//	'w' id                    what a visit, and those before its place, made of the vehicle (Vehicle); may be missing
//	'y' vehicle, place, id    what happened to a vehicle between its visits (Event), at its place: three times when it was recorded, as the times of 'h', of what was imported first when it stood;
//	                          of a tire that another vehicle's record tells to be there, at the place of that record
//	'o' id                    an outcome (Outcome)
//	'q' id                    who decided an outcome and who was told (Record), in a row of its own so that it can be erased
//	'x' id                    an erasure (Erasure)
//	'I' photo                 what is kept of a photo, by the SHA-256 of what was sent, or that it was erased (Photo)
//	'J' photo, visit          a visit names the photo; 'J' photo guards them all
//	'f' urgency, time, vehicle, open id   a row of the list of what is open (OpenRow), the most urgent first, then what is open for longest
//	'g' day, vehicle, open id a row of what was set for a day (OpenRow)
//	'T' tire                  a tire as recorded first (Record), so that its recording can be repeated
//	'l' tire                  its repairs (Repairs)
//	'j' id                    a repair (Record)
//	'm' id                    moves of tires (Moves)
//	'n' tire, place, id, position   what happened to a tire (TireEvent), at the place of the visit, or as 'y'
//	'B' tire, place, vehicle  what was open of a tire when it left a vehicle there (TireOpen); 'B' tire guards them all
//	'L' vehicle, place, tire  that a tire left the vehicle there (Event)
//	'M' vehicle               the vehicle that it was found to be (Replaced)
//	'Z' id                    a merge of two vehicles (Record)
//	'z' id                    what else happened to a vehicle (Record)
//	'X' time, vehicle         a wheel of it is off, or has no torque on record since, this one for longest
//	'O' order, vehicle, visit a visit that stands is of this order
//	'P' plate, vehicle        its plate, letters and digits alone
//	'G' tag, vehicle          its tag, as with plates
//	'F' code, vehicle         something of this code is open on the vehicle
//	'S' size, vehicle         a tire of this size is mounted on it
//	'W' word, vehicle         its tag, plate or customer has this word
//	'D' day, vehicle          something comes due of it, on this day first
//	't' tire                  a tire and where it is (Record)
//	'u' urgency, time, vehicle   a row of the list by urgency (VehicleRow)
//	's' time, vehicle         a row of the list by last seen (VehicleRow): what leads to that of 'u'
//	'd' day, vehicle, n       a row of the list of what comes due (DueRow), by the day it is expected
//	'e' vehicle               what comes due of a vehicle, wheel by wheel (DueRows)
//	'c'                       the shop's settings (Record); its version is their revision
//
// The feed's entries are Changes.
//
// The guards: a visit's id by 'i' expected absent; one correction of a visit by
// 'r' expected absent; what visits make of a vehicle by 'a', and what they were
// judged by with 'v', both at the versions read; a vehicle's record by 'v', and
// its customer by 'v' too, which every change of either writes; a tire that is on
// no vehicle, or comes from another, by 't' and by that vehicle's 'a'; what was open
// of it by 'B'; the settings by 'c'; what is kept of a
// photo by 'I', and who names it by 'J' photo. List rows are written only with 'a' or 'v' and by drafts that
// expect both.
const (
	visitMark    = 'i'
	arrivalsMark = 'k'
	mendedMark   = 'R'
	replacedMark = 'r'
	vehicleMark  = 'v'
	bornMark     = 'b'
	stateMark    = 'a'
	personMark   = 'p'
	historyMark  = 'h'
	afterMark    = 'w'
	eventMark    = 'y'
	outcomeMark  = 'o'
	deciderMark  = 'q'
	erasureMark  = 'x'
	openMark     = 'f'
	untilMark    = 'g'
	tireBornMark = 'T'
	repairsMark  = 'l'
	repairMark   = 'j'
	movesMark    = 'm'
	tireLifeMark = 'n'
	codeMark     = 'F'
	sizeMark     = 'S'
	tireOpenMark = 'B'
	tireLeftMark = 'L'
	wordMark     = 'W'
	nextDueMark  = 'D'
	happenedMark = 'z'
	sameMark     = 'M'
	mergeMark    = 'Z'
	offMark      = 'X'
	orderMark    = 'O'
	plateMark    = 'P'
	tagMark      = 'G'
	tireMark     = 't'
	urgentMark   = 'u'
	seenMark     = 's'
	dueMark      = 'd'
	duesMark     = 'e'
	shopMark     = 'c'
	photoMark    = 'I'
	namesMark    = 'J'
)

func key(mark byte) history.Key { return history.Key("").Byte(mark) }

func visitKey(id string) history.Key     { return key(visitMark).Text(id) }
func arrivalsKey(id string) history.Key  { return key(arrivalsMark).Text(id) }
func mendedKey(id string) history.Key    { return key(mendedMark).Text(id) }
func replacedKey(id string) history.Key  { return key(replacedMark).Text(id) }
func vehicleKey(id string) history.Key   { return key(vehicleMark).Text(id) }
func bornKey(id string) history.Key      { return key(bornMark).Text(id) }
func stateKey(id string) history.Key     { return key(stateMark).Text(id) }
func personKey(id string) history.Key    { return key(personMark).Text(id) }
func tireKey(id string) history.Key      { return key(tireMark).Text(id) }
func duesKey(id string) history.Key      { return key(duesMark).Text(id) }
func afterKey(id string) history.Key     { return key(afterMark).Text(id) }
func outcomeKey(id string) history.Key   { return key(outcomeMark).Text(id) }
func deciderKey(id string) history.Key   { return key(deciderMark).Text(id) }
func erasureKey(id string) history.Key   { return key(erasureMark).Text(id) }
func tireBornKey(id string) history.Key  { return key(tireBornMark).Text(id) }
func repairsKey(tire string) history.Key { return key(repairsMark).Text(tire) }
func repairKey(id string) history.Key    { return key(repairMark).Text(id) }
func movesKey(id string) history.Key     { return key(movesMark).Text(id) }
func happeningKey(id string) history.Key { return key(happenedMark).Text(id) }
func sameKey(vehicle string) history.Key { return key(sameMark).Text(vehicle) }
func mergeKey(id string) history.Key     { return key(mergeMark).Text(id) }
func lifeOf(tire string) history.Key     { return key(tireLifeMark).Text(tire) }
func openOf(tire string) history.Key     { return key(tireOpenMark).Text(tire) }
func leftOf(vehicle string) history.Key  { return key(tireLeftMark).Text(vehicle) }
func shopKey() history.Key               { return key(shopMark) }
func photoKey(name string) history.Key   { return key(photoMark).Text(name) }
func namersOf(photo string) history.Key  { return key(namesMark).Text(photo) }

func historyOf(vehicle string) history.Key { return key(historyMark).Text(vehicle) }

func historyKey(vehicle string, taken, root, recorded int64, id string) history.Key {
	return historyOf(vehicle).Int64(taken).Int64(root).Int64(recorded).Text(id)
}

func eventsOf(vehicle string) history.Key { return key(eventMark).Text(vehicle) }

// openKey orders by urgency, then by how long it has been open.
func openKey(urgency int, nanos int64, vehicle, openID string) history.Key {
	return key(openMark).Byte(byte(urgency)).Int64(nanos).Text(vehicle).Text(openID)
}

// untilKey orders by the day that something was set for.
func untilKey(day *pb.CalendarDate, vehicle, openID string) history.Key {
	return untilDay(day).Text(vehicle).Text(openID)
}

// untilDay is before all that was set for a day, and behind all of the days before.
func untilDay(day *pb.CalendarDate) history.Key { return key(untilMark).Int64(dayNumber(day)) }

// openNamed are the vehicle and the open id that a key of either list of what is open ends in.
func openNamed(k history.Key) (vehicle, openID string) {
	from := len(key(openMark).Byte(0).Int64(0))
	if k[0] == untilMark {
		from = len(untilDay(nil))
	}
	texts := k.Texts(from)
	return texts[0], texts[1]
}

// offKey is before all vehicles of which a wheel is off since a moment.
func offKey(nanos int64) history.Key { return key(offMark).Int64(nanos) }

// ordersOf is before the visits of an order.
func ordersOf(reference string) history.Key { return key(orderMark).Text(plain(reference)) }

func orderKey(reference, vehicle, visit string) history.Key {
	return ordersOf(reference).Text(vehicle).Text(visit)
}

func dayNumber(day *pb.CalendarDate) int64 {
	return int64(day.GetYear())*10_000 + int64(day.GetMonth())*100 + int64(day.GetDay())
}

// formerKey is the key of a covering row that says nothing of its place: its visit stands
// where it was recorded.
func formerKey(vehicle string, recorded int64, id string) history.Key {
	return historyOf(vehicle).Int64(recorded).Text(id)
}

// urgentKey orders by urgency, then the last seen first. Nothing open comes last.
func urgentKey(urgency int, nanos int64, vehicle string) history.Key {
	if urgency == 0 {
		urgency = 0xff
	}
	return key(urgentMark).Byte(byte(urgency)).Int64(-nanos).Text(vehicle)
}

// seenKey orders by last seen, the latest first.
func seenKey(nanos int64, vehicle string) history.Key {
	return key(seenMark).Int64(-nanos).Text(vehicle)
}

// dueKey orders by the day, and tells the n-th row of a vehicle from the others.
func dueKey(day *pb.CalendarDate, vehicle string, n int) history.Key {
	return dayKey(day).Text(vehicle).Byte(byte(n))
}

// dayKey is before all that comes due on a day, and behind all of the days before.
func dayKey(day *pb.CalendarDate) history.Key {
	return key(dueMark).Int64(dayNumber(day))
}
