package book

import (
	"context"
	"maps"
	"slices"
	"strings"
	"unicode"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// findKeys are the keys by which a vehicle is found, each with its id at the end. What
// identifies a person is among them: they go with it.
func (v vehicle) findKeys(due []*rows.DueRow) map[history.Key]bool {
	keys, id := map[history.Key]bool{}, v.record.GetId()
	for _, f := range v.state.open {
		keys[key(codeMark).Text(f.code).Text(id)] = true
	}
	for _, size := range v.sizes() {
		keys[key(sizeMark).Text(size).Text(id)] = true
	}
	for _, word := range v.words() {
		keys[key(wordMark).Text(word).Text(id)] = true
	}
	if day := nextDue(due); day != nil {
		keys[nextDueDay(day).Text(id)] = true
	}
	if plate := plain(v.person.GetPlate()); plate != "" {
		keys[key(plateMark).Text(plate).Text(id)] = true
	}
	if tag := plain(v.record.GetTag()); tag != "" {
		keys[key(tagMark).Text(tag).Text(id)] = true
	}
	if since := v.state.longestOff(); since != nil {
		keys[offKey(nanos(since)).Text(id)] = true
	}
	return keys
}

// nextDueDay is before all vehicles of which something comes due on a day, and behind those
// of which it does before.
func nextDueDay(day *pb.CalendarDate) history.Key { return key(nextDueMark).Int64(dayNumber(day)) }

// find replaces the rows by which a vehicle is found.
func (d *drafting) find(was, now vehicle, before, after []*rows.DueRow) {
	old, keys := was.findKeys(before), now.findKeys(after)
	for _, k := range slices.Sorted(maps.Keys(keys)) {
		if !old[k] || !was.there() {
			d.put(k, &rows.VehicleRow{})
		}
	}
	for _, k := range slices.Sorted(maps.Keys(old)) {
		if !keys[k] {
			d.delete(k)
		}
	}
}

// sizes are those of the tires on the vehicle, each once, in order.
func (v vehicle) sizes() (all []string) {
	for _, t := range v.state.tires {
		if size := plainSize(t.GetSidewall().GetMarking()); size != "" {
			all = append(all, size)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// plainSize is a size as it is looked for: "P215/60 R16 95h" is found by "215/60R16".
func plainSize(marking string) string {
	plain := strings.ToUpper(strings.Join(strings.Fields(marking), ""))
	return strings.TrimPrefix(plain, "P")
}

// words are those of the vehicle's tag, plate and customer, each once, in order. A plate is
// found by its parts and by all of it.
func (v vehicle) words() []string {
	all := append(wordsOf(v.record.GetTag()), wordsOf(v.person.GetCustomer())...)
	plate := wordsOf(v.person.GetPlate())
	if all = append(all, plate...); len(plate) > 1 {
		all = append(all, strings.Join(plate, ""))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// wordsOf are the words of a text in small letters.
func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// FindByText gives a page of the vehicles whose tag, plate or customer has a word that begins
// so; a text of several words is one, as a plate is.
func (b *Book) FindByText(ctx context.Context, shop, text string, size int, token string) (Page[*pb.VehicleRow], string, error) {
	begins := strings.Join(wordsOf(text), "")
	return b.find(ctx, shop, key(wordMark).TextStart(begins), size, token, func(v vehicle) string { return firstOf(v.words(), begins) })
}

// plain are the letters and digits of a text, small: as plates, tags and orders are looked for.
func plain(text string) string { return strings.Join(wordsOf(text), "") }

// FindByPlate gives a page of the vehicles whose plate begins so.
func (b *Book) FindByPlate(ctx context.Context, shop, plate string, size int, token string) (Page[*pb.VehicleRow], string, error) {
	return b.find(ctx, shop, key(plateMark).TextStart(plain(plate)), size, token, nil)
}

// FindByTag gives a page of the vehicles whose tag begins so.
func (b *Book) FindByTag(ctx context.Context, shop, tag string, size int, token string) (Page[*pb.VehicleRow], string, error) {
	return b.find(ctx, shop, key(tagMark).TextStart(plain(tag)), size, token, nil)
}

// FindByOrder gives a page of the vehicles with a visit of an order, each once.
func (b *Book) FindByOrder(ctx context.Context, shop, reference string, size int, token string) (Page[*pb.VehicleRow], string, error) {
	of := list{shop, ordersOf(reference)}
	return b.vehiclesBy(ctx, shop, token, func(s view) (page Page[*pb.VehicleRow], err error) {
		behind, err := b.pageAfter(of, token)
		if err != nil {
			return page, err
		}
		for {
			found, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: behind, Limit: 1})
			if err != nil || len(found.Rows) == 0 {
				return page, err
			}
			if len(page.Rows) == size {
				page.Next = b.token(of, []byte(behind[len(of.rows):]))
				return page, nil
			}
			id := found.Rows[0].Key.Texts(1)[1]
			if err := s.addVehicle(id, &page); err != nil {
				return page, err
			}
			behind = of.rows.Text(id) + "\xff" // its other visits
		}
	})
}

// addVehicle adds a vehicle to a page.
func (v view) addVehicle(id string, page *Page[*pb.VehicleRow]) error {
	found, err := v.vehicle(id)
	if err != nil {
		return err
	}
	due, err := v.dues(id)
	if err != nil {
		return err
	}
	add(page, found.row(due))
	return nil
}

// FindBySize gives a page of the vehicles with a tire of a size mounted.
func (b *Book) FindBySize(ctx context.Context, shop, asked string, size int, token string) (Page[*pb.VehicleRow], string, error) {
	begins := plainSize(asked)
	return b.find(ctx, shop, key(sizeMark).TextStart(begins), size, token, func(v vehicle) string { return firstOf(v.sizes(), begins) })
}

// FindByCode gives a page of the vehicles with a finding of a code open.
func (b *Book) FindByCode(ctx context.Context, shop, code string, size int, token string) (Page[*pb.VehicleRow], string, error) {
	return b.find(ctx, shop, key(codeMark).Text(code), size, token, nil)
}

// firstOf is the first of the words that begins so.
func firstOf(words []string, begins string) string {
	for _, w := range words {
		if strings.HasPrefix(w, begins) {
			return w
		}
	}
	return ""
}

// find gives a page of the vehicles under a beginning of keys. One that stands there by
// several words is given by the first of them, which first tells; nil: it stands there once.
func (b *Book) find(ctx context.Context, shop string, under history.Key, size int, token string, first func(vehicle) string) (Page[*pb.VehicleRow], string, error) {
	of := list{shop, under}
	return b.vehiclesBy(ctx, shop, token, func(s view) (page Page[*pb.VehicleRow], err error) {
		behind, err := b.pageAfter(of, token)
		if err != nil {
			return page, err
		}
		return page, s.found(of, behind, size, first, &page, b)
	})
}

// found adds vehicles behind a key until a page is full.
func (v view) found(of list, behind history.Key, size int, first func(vehicle) string, page *Page[*pb.VehicleRow], b *Book) error {
	for more := true; more; {
		scanned, err := v.s.Scan(v.ctx, history.Range{Prefix: of.rows, After: behind, Limit: size})
		if err != nil {
			return err
		}
		for _, r := range scanned.Rows {
			texts := r.Key.Texts(1)
			id := texts[len(texts)-1]
			if len(page.Rows) == size {
				page.Next = b.token(of, []byte(behind[len(of.rows):]))
				return nil
			}
			behind = r.Key
			found, err := v.vehicle(id)
			if err != nil {
				return err
			}
			if first != nil && first(found) != texts[0] {
				continue
			}
			due, err := v.dues(id)
			if err != nil {
				return err
			}
			add(page, found.row(due))
		}
		more = scanned.More
	}
	return nil
}

// byDue gives a page of the vehicles of which something comes due from today on, the next
// first.
func (b *Book) byDue(s view, shop string, size int, token string) (page Page[*pb.VehicleRow], err error) {
	of := list{shop, key(nextDueMark)}
	behind, err := b.pageAfter(of, token)
	if err != nil {
		return page, err
	}
	if behind == "" {
		settings, _, err := s.shop(shop)
		if err != nil {
			return page, err
		}
		behind = nextDueDay(today(b.now(), settings))
	}
	scanned, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: behind, Limit: size})
	if err != nil {
		return page, err
	}
	for _, r := range scanned.Rows {
		if err := s.addVehicle(r.Key.Texts(1 + 8)[0], &page); err != nil {
			return page, err
		}
	}
	page.Next = b.pageToken(of, scanned)
	return page, nil
}
