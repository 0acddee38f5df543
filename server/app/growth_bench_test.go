package app_test

import (
	"context"
	"encoding/binary"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/judge"
)

// What a book of many visits costs to read, beside the raw engine that reads the same rows of
// the same folder copied: a pull of 100 changes, and the last ten visits of a vehicle. It is
// the book's own work, without words and transport. GAUGEBOOK_GROWTH names the sizes:
//
//	GAUGEBOOK_GROWTH=10000,200000 go test ./server/app -run '^$' -bench Growth -benchtime 1x
//
// A visit takes some 2.5 kB on disk, twice.
func BenchmarkGrowth(b *testing.B) {
	sizes := os.Getenv("GAUGEBOOK_GROWTH")
	if sizes == "" {
		sizes = "10000"
	}
	for text := range strings.SplitSeq(sizes, ",") {
		n, err := strconv.Atoi(text)
		if err != nil {
			b.Fatal(err)
		}
		g := fillBook(b, n)
		for name, call := range map[string]func(*grown, int) error{"pull 100": (*grown).pull, "last ten": (*grown).lastTen} {
			b.Run(fmt.Sprintf("%d/%s", n, name), func(b *testing.B) {
				for b.Loop() {
					g.turns(b, call)
				}
			})
		}
		g.close(b)
	}
}

const (
	visitsEach = 20 // of a vehicle
	places     = 50 // that are read at
	growTurns  = 9
)

// grown is a book of many visits, and the raw engine on a copy of it.
type grown struct {
	book     *book.Book
	store    history.Store
	raw      *engine.DB
	reads    *watched
	vehicles []string
	tokens   []string
}

// fillBook fills a folder with visits, and opens it and a copy of it.
func fillBook(b *testing.B, n int) *grown {
	b.Helper()
	dir := filepath.Join(b.TempDir(), "book")
	store, err := badger.Open(dir, badger.Options{Logger: slog.New(slog.DiscardHandler)})
	if err != nil {
		b.Fatal(err)
	}
	g := &grown{vehicles: make([]string, n/visitsEach), tokens: make([]string, places)}
	fill := book.New(store, judge.For(judge.NoneOwn), time.Now)
	var next atomic.Int64
	var all sync.WaitGroup
	for writer := range 64 {
		random := rand.New(rand.NewPCG(uint64(writer), 1))
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(g.vehicles); i = int(next.Add(1)) - 1 {
				token, err := keepVisits(b.Context(), fill, random, &g.vehicles[i])
				if err != nil {
					b.Error(err)
					return
				}
				if every := max(1, len(g.vehicles)/2/places); i%every == 0 && i/every < places {
					g.tokens[i/every] = token
				}
			}
		})
	}
	all.Wait()
	if err := store.Close(); err != nil || b.Failed() {
		b.Fatal(err)
	}
	g.open(b, dir)
	return g
}

// keepVisits records a vehicle and its visits, and gives the token of a place in the feed
// among them.
func keepVisits(ctx context.Context, to *book.Book, random *rand.Rand, id *string) (token string, err error) {
	v := newVehicle()
	*id = v.GetId()
	if _, err := to.RecordVehicle(ctx, crashShop, v, nil); err != nil {
		return "", err
	}
	if _, token, err = to.ListVehicles(ctx, crashShop, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, 1, ""); err != nil {
		return "", err
	}
	for range visitsEach {
		in := newVisit(random, v.GetId())
		in.TakenTime = nil
		checked, problems := check.NewVisit("inspection", in)
		if len(problems) > 0 {
			return "", fmt.Errorf("%v", problems)
		}
		if _, err := to.RecordInspection(ctx, crashShop, book.Sender{}, checked); err != nil {
			return "", err
		}
	}
	return token, nil
}

// open opens the book and a copy of its folder.
func (g *grown) open(b *testing.B, dir string) {
	b.Helper()
	copied := dir + "-copied"
	if err := os.CopyFS(copied, os.DirFS(dir)); err != nil {
		b.Fatal(err)
	}
	var err error
	if g.store, err = badger.Open(dir, badger.Options{Logger: slog.New(slog.DiscardHandler)}); err != nil {
		b.Fatal(err)
	}
	// As the real store opens it.
	opts := engine.DefaultOptions(copied).WithLogger(nil).WithExternalMagic(badger.Format).WithCompression(options.ZSTD).WithZSTDCompressionLevel(1).
		WithMemTableSize(16 << 20).WithBlockSize(32 << 10).WithBlockCacheSize(32 << 20).WithIndexCacheSize(16 << 20).WithDetectConflicts(false).WithMetricsEnabled(false)
	if g.raw, err = engine.OpenManaged(opts); err != nil {
		b.Fatal(err)
	}
	g.reads = &watched{Store: g.store}
	g.book = book.New(g.reads, judge.For(judge.NoneOwn), time.Now)
	b.Logf("%d visits, %.1f kB a visit on disk", len(g.vehicles)*visitsEach, float64(sizeOf(b, dir))/1000/float64(len(g.vehicles)*visitsEach))
}

func sizeOf(b *testing.B, dir string) (size int64) {
	b.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		b.Fatal(err)
	}
	for _, e := range entries {
		if info, err := e.Info(); err == nil && strings.HasSuffix(e.Name(), ".sst") {
			size += info.Size()
		}
	}
	return size
}

func (g *grown) close(b *testing.B) {
	b.Helper()
	if err := g.raw.Close(); err != nil {
		b.Error(err)
	}
	if err := g.store.Close(); err != nil {
		b.Error(err)
	}
}

func (g *grown) pull(i int) error {
	out, err := g.book.PullChanges(context.Background(), crashShop, g.tokens[i%len(g.tokens)], 100, 0)
	if err == nil && len(out.Changes) != 100 {
		err = fmt.Errorf("%d changes", len(out.Changes))
	}
	return err
}

func (g *grown) lastTen(i int) error {
	page, err := g.book.ListInspections(context.Background(), crashShop, g.vehicles[i*len(g.vehicles)/places], 10, "")
	if err == nil && len(page.Rows) != 10 {
		err = fmt.Errorf("%d visits", len(page.Rows))
	}
	return err
}

// turns times a call and the same reads of the raw engine, turn by turn, and tells the medians.
func (g *grown) turns(b *testing.B, call func(*grown, int) error) {
	b.Helper()
	var plan [places][]read
	for i := range plan {
		g.reads.noted = nil
		if err := call(g, i); err != nil {
			b.Fatal(err)
		}
		plan[i], g.reads.noted = g.reads.noted, nil
	}
	g.reads.off = true
	defer func() { g.reads.off = false }()
	var ours, raw, ratio []float64
	for range growTurns {
		begin := time.Now()
		for i := range places {
			if err := call(g, i); err != nil {
				b.Fatal(err)
			}
		}
		took := time.Since(begin)
		begin = time.Now()
		for _, reads := range plan {
			if err := g.readRaw(reads); err != nil {
				b.Fatal(err)
			}
		}
		bare := time.Since(begin)
		ours, raw, ratio = append(ours, float64(took.Microseconds())/places), append(raw, float64(bare.Microseconds())/places), append(ratio, float64(took)/float64(bare))
	}
	rows := 0
	for _, reads := range plan {
		rows += len(reads)
	}
	b.ReportMetric(middle(ours), "ours-us")
	b.ReportMetric(middle(raw), "raw-us")
	b.ReportMetric(middle(ratio), "ratio")
	b.ReportMetric(float64(rows)/places, "reads")
	b.ReportMetric(0, "ns/op")
}

func middle(all []float64) float64 {
	slices.Sort(all)
	return all[len(all)/2]
}

// read is one read of the store: a row, a range or a piece of the feed.
type read struct {
	key     []byte // of the row, or that the range begins at
	prefix  []byte // of the range, nil: a row
	rows    int    // of the range
	reverse bool
}

// watched notes what is read.
type watched struct {
	history.Store
	noted []read
	off   bool
}

func (w *watched) Snapshot(ctx context.Context, shop string) (history.Snapshot, error) {
	s, err := w.Store.Snapshot(ctx, shop)
	if err != nil || w.off {
		return s, err
	}
	return watchedSnapshot{s, w}, nil
}

type watchedSnapshot struct {
	history.Snapshot
	of *watched
}

// storedKey is the key of a kind of row of the shop, as history/badger writes it.
func storedKey(kind byte, key []byte) []byte {
	return slices.Concat([]byte{1}, []byte(crashShop), []byte{0, kind}, key)
}

func (s watchedSnapshot) Get(ctx context.Context, k history.Key) (history.Row, error) {
	s.of.noted = append(s.of.noted, read{key: storedKey(2, []byte(k))})
	return s.Snapshot.Get(ctx, k)
}

func (s watchedSnapshot) Scan(ctx context.Context, of history.Range) (history.Page, error) {
	page, err := s.Snapshot.Scan(ctx, of)
	from := of.After
	if from == "" {
		if from = of.Prefix; of.Reverse {
			from += "\xff"
		}
	}
	s.of.noted = append(s.of.noted, read{storedKey(2, []byte(from)), storedKey(2, []byte(of.Prefix)), len(page.Rows), of.Reverse})
	return page, err
}

func (s watchedSnapshot) Changes(ctx context.Context, after history.Number, limit int) ([]history.Change, error) {
	all, err := s.Snapshot.Changes(ctx, after, limit)
	s.of.noted = append(s.of.noted, read{storedKey(1, binary.BigEndian.AppendUint64(nil, uint64(after)+1)), storedKey(1, nil), len(all), false})
	return all, err
}

// readRaw reads the same of the raw engine.
func (g *grown) readRaw(all []read) error {
	txn := g.raw.NewTransactionAt(1<<62, false)
	defer txn.Discard()
	for _, r := range all {
		if r.prefix == nil {
			item, err := txn.Get(r.key)
			if err == nil {
				_, err = item.ValueCopy(nil)
			}
			if err != nil && err != engine.ErrKeyNotFound { //nolint:errorlint // as the engine returns it
				return err
			}
			continue
		}
		if err := scanRaw(txn, r); err != nil {
			return err
		}
	}
	return nil
}

func scanRaw(txn *engine.Txn, r read) error {
	it := txn.NewIterator(engine.IteratorOptions{PrefetchValues: false, Reverse: r.reverse, Prefix: r.prefix})
	defer it.Close()
	n := 0
	for it.Seek(r.key); it.ValidForPrefix(r.prefix) && n < r.rows; it.Next() {
		if _, err := it.Item().ValueCopy(nil); err != nil {
			return err
		}
		n++
	}
	if n < r.rows-1 { // where it began may be a row that ours leaves out
		return fmt.Errorf("%d rows of %d", n, r.rows)
	}
	return nil
}
