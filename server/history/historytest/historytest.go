// Package historytest holds a driver of package history to its promises. Each
// test bears the name of the promise that it would catch broken.
//
//nolint:thelper // these are the tests themselves: a failure is where it is found
package historytest

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"gaugebook.dev/server/history"
)

// Open makes an empty store for one test. The suite closes it.
type Open func(t *testing.T) history.Store

// Capabilities say what a driver can do beyond the interface, so that the suite asks for it.
type Capabilities struct {
	// Reopen closes a store and opens it again from where it keeps its rows; nil
	// for a driver that keeps nothing.
	Reopen func(t *testing.T, store history.Store) history.Store

	// Model is set for the driver that the others are compared with.
	Model bool
}

// Run runs the suite.
func Run(t *testing.T, open Open, can Capabilities) {
	promises := []promise{
		{"DraftIsWholeOrNothing", draftIsWholeOrNothing},
		{"CommitGivesTheNumberAndTheVersion", commitGivesTheNumberAndTheVersion},
		{"ExpectedAbsentGuardsAgainstASecondWriter", expectedAbsentGuardsAgainstASecondWriter},
		{"StaleExpectationNamesTheKey", staleExpectationNamesTheKey},
		{"DeleteThenAbsent", deleteThenAbsent},
		{"IllFormedIsRefused", illFormedIsRefused},
		{"LimitsAreTakenAndNoMore", limitsAreTakenAndNoMore},
		{"DraftsAreCopied", draftsAreCopied},
		{"BadDraftHarmsNoNeighbor", badDraftHarmsNoNeighbor},
		{"CanceledDraftIsWhollyStoredOrNotAtAll", canceledDraftIsWhollyStoredOrNotAtAll},
		{"SixtyFourWritersOnOneRowLoseNothing", sixtyFourWritersOnOneRowLoseNothing},
		{"SixtyFourWritersOnThousandRowsLoseNothing", sixtyFourWritersOnThousandRowsLoseNothing},

		{"SnapshotIsStableWhileOthersWrite", snapshotIsStableWhileOthersWrite},
		{"SnapshotNeverSeesHalfADraft", snapshotNeverSeesHalfADraft},
		{"ScanIsInKeyOrderAndBounded", scanIsInKeyOrderAndBounded},
		{"PagesAreBoundedInBytes", pagesAreBoundedInBytes},
		{"ShopsAreApart", shopsAreApart},

		{"FeedIsDenseAndInCommitOrder", feedIsDenseAndInCommitOrder},
		{"FeedSkipsNothingUnderConcurrentWriters", feedSkipsNothingUnderConcurrentWriters},
		{"ATransactionThatOpenedEarlierButCommitsLaterIsStillDelivered", openedEarlierCommittedLater},
		{"WaitWakesForTheNewerOnly", waitWakesForTheNewerOnly},

		{"TrimmedFeedBeginsBehind", trimmedFeedBeginsBehind},
		{"TrimIsHeldToItsLimits", trimIsHeldToItsLimits},
		{"TrimWakesNobody", trimWakesNobody},
		{"TrimmedWhileOthersWrite", trimmedWhileOthersWrite},

		{"EpochsDiffer", func(t *testing.T, store history.Store) {
			if other := start(t, open); other.Epoch() == store.Epoch() {
				t.Errorf("two stores have the epoch %v", store.Epoch())
			}
		}},
		{"EndedContextIsAnswered", endedContextIsAnswered},
		{"ClosedSnapshotIsAnError", closedSnapshotIsAnError},
		{"UseAfterCloseIsAnError", useAfterCloseIsAnError},
		{"CloseStoresWhatWasTaken", closeStoresWhatWasTaken},
	}
	if can.Reopen != nil {
		promises = append(promises,
			promise{"ReopenKeepsEverything", func(t *testing.T, store history.Store) {
				reopenKeepsEverything(t, store, can.Reopen)
			}},
			promise{"EpochSurvivesReopen", func(t *testing.T, store history.Store) {
				epoch := store.Epoch()
				if got := can.Reopen(t, store).Epoch(); got != epoch {
					t.Errorf("epoch %v became %v", epoch, got)
				}
			}})
	}
	if !can.Model {
		promises = append(promises, promise{"AnswersAsTheModelDoes", func(t *testing.T, store history.Store) {
			answersAsTheModelDoes(t, store, can.Reopen)
		}})
	}
	for _, p := range promises {
		t.Run(p.name, func(t *testing.T) { p.test(t, start(t, open)) })
	}
}

type promise struct {
	name string
	test func(t *testing.T, store history.Store)
}

// start opens a store that is closed when the test ends.
func start(t *testing.T, open Open) history.Store {
	t.Helper()
	store := open(t)
	t.Cleanup(func() {
		if err := store.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	})
	return store
}

const shop = "north"

func put(key history.Key, value string) history.Put {
	return history.Put{Key: key, Value: []byte(value)}
}

func expect(key history.Key, version history.Number) history.Expectation {
	return history.Expectation{Key: key, Version: version}
}

func commit(t *testing.T, store history.Store, draft history.Draft) history.Number {
	t.Helper()
	number, err := store.Commit(t.Context(), draft)
	if err != nil {
		t.Fatalf("Commit: %v", err)
	}
	return number
}

func snapshot(t *testing.T, store history.Store, shop string) history.Snapshot {
	t.Helper()
	snap, err := store.Snapshot(t.Context(), shop)
	if err != nil {
		t.Fatalf("Snapshot: %v", err)
	}
	t.Cleanup(snap.Close)
	return snap
}

// A state is all that can be read of a shop.
type state struct {
	rows    []history.Row
	changes []history.Change // that were not trimmed
	trimmed history.Change
	last    history.Number
}

// everything reads a snapshot to the end, page by page.
func everything(ctx context.Context, snap history.Snapshot) (state, error) {
	var all state
	var err error
	if all.last, err = snap.Last(ctx); err != nil {
		return all, err
	}
	for more, after := true, history.Key(""); more; {
		page, err := snap.Scan(ctx, history.Range{After: after})
		if err != nil {
			return all, err
		}
		all.rows = append(all.rows, page.Rows...)
		if more = page.More; more {
			after = page.Rows[len(page.Rows)-1].Key
		}
	}
	if all.trimmed, err = snap.Trimmed(ctx); err != nil {
		return all, err
	}
	all.changes, err = changesAfter(ctx, snap, all.trimmed.Number)
	return all, err
}

// changesAfter reads the feed to its end, page by page.
func changesAfter(ctx context.Context, snap history.Snapshot, after history.Number) ([]history.Change, error) {
	var all []history.Change
	for {
		page, err := snap.Changes(ctx, after, 0)
		if err != nil || len(page) == 0 {
			return all, err
		}
		all = append(all, page...)
		after = page[len(page)-1].Number
	}
}

func read(t *testing.T, store history.Store, shop string) state {
	t.Helper()
	all, err := everything(t.Context(), snapshot(t, store, shop))
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// difference says what two states do not share, "" where they are the same.
func difference(got, want state) string {
	if got.last != want.last {
		return fmt.Sprintf("last number %d, want %d", got.last, want.last)
	}
	if d := rowDifference(got.rows, want.rows); d != "" {
		return d
	}
	return changeDifference(append([]history.Change{got.trimmed}, got.changes...), append([]history.Change{want.trimmed}, want.changes...))
}

func rowDifference(got, want []history.Row) string {
	return listDifference(got, want, func(r history.Row) string {
		return fmt.Sprintf("%q %d %q", r.Key, r.Version, r.Value)
	})
}

func changeDifference(got, want []history.Change) string {
	return listDifference(got, want, func(c history.Change) string {
		return fmt.Sprintf("%d %q", c.Number, c.Feed)
	})
}

// listDifference shows the first place where two lists differ.
func listDifference[E any](got, want []E, text func(E) string) string {
	for i := range max(len(got), len(want)) {
		g, w := "nothing", "nothing"
		if i < len(got) {
			g = text(got[i])
		}
		if i < len(want) {
			w = text(want[i])
		}
		if g != w {
			return fmt.Sprintf("of %d and %d, number %d is %.200s, want %.200s", len(got), len(want), i+1, g, w)
		}
	}
	return ""
}

// asError finds an error of a type, or ends the test.
func asError[E error](t *testing.T, err error) E {
	t.Helper()
	var found E
	if !errors.As(err, &found) {
		t.Fatalf("error %v, want a %T", err, found)
	}
	return found
}
