package history

import (
	"errors"
	"fmt"
)

// ErrClosed says that a store, or the snapshot that was asked, is closed.
var ErrClosed = errors.New("the store is closed")

// ErrDamaged is behind the [ReadOnlyError] of a store whose files were found damaged while
// it was open.
var ErrDamaged = errors.New("the store is damaged")

// StaleError says that a row does not have the version that a draft expected of
// it: somebody else has written it meanwhile. Read again, then decide again.
type StaleError struct {
	Key      Key
	Expected Number
	Found    Number
}

// Error names the key and both versions.
func (e *StaleError) Error() string {
	return fmt.Sprintf("row %q has version %d, expected was %d", e.Key, e.Found, e.Expected)
}

// InvalidError says that a draft or a range is not well formed: a mistake of
// the program that made it, which repeating does not mend.
type InvalidError struct {
	Reason string
}

// Error gives the reason.
func (e *InvalidError) Error() string { return "not well formed: " + e.Reason }

// TooLargeError says that something is larger than a store takes.
type TooLargeError struct {
	What  string
	Size  int // bytes, for a draft as Draft.Size counts them
	Limit int // bytes
}

// Error names what is too large, its size and the limit.
func (e *TooLargeError) Error() string {
	return fmt.Sprintf("the %s is too large: %d bytes, %d are allowed", e.What, e.Size, e.Limit)
}

// ReadOnlyError says that a write has failed and that the store takes no drafts
// until it is reopened: after a failed sync nobody knows what the disk holds.
type ReadOnlyError struct {
	Cause error

	// Unsure is set for the drafts that met the failure themselves. Whether they
	// are stored, whole or not at all, is known after reopening. For all others
	// nothing was stored.
	Unsure bool
}

// Error gives the failure behind it.
func (e *ReadOnlyError) Error() string {
	if e.Unsure {
		return fmt.Sprintf("whether the draft is stored is not known until the store is reopened: %v", e.Cause)
	}
	return fmt.Sprintf("the store takes no drafts until it is reopened: %v", e.Cause)
}

// Unwrap is the failure behind it.
func (e *ReadOnlyError) Unwrap() error { return e.Cause }

// DiskNearlyFullError says that the disk has less room than a store keeps free.
// Drafts are taken again once there is room.
type DiskNearlyFullError struct {
	Free   uint64 // bytes
	Needed uint64 // bytes
}

// Error gives both figures.
func (e *DiskNearlyFullError) Error() string {
	return fmt.Sprintf("the disk is nearly full: %d bytes are free, %d are needed", e.Free, e.Needed)
}

// UnwritableError says that the store cannot be written at this time: its folder
// is not in its place or may not be written, or the engine cannot write its files.
// Nothing was stored. Reading goes on, and drafts are taken again when the cause
// is gone.
type UnwritableError struct {
	Cause error
}

// Error gives the cause.
func (e *UnwritableError) Error() string {
	return fmt.Sprintf("the store cannot be written at this time: %v", e.Cause)
}

// Unwrap is the cause.
func (e *UnwritableError) Unwrap() error { return e.Cause }

// TrimmedError says that the feed no longer holds what was asked for: it was
// trimmed up to a later number.
type TrimmedError struct {
	After   Number // behind which changes were asked for
	Trimmed Number // the last that is gone
}

// Error names both numbers.
func (e *TrimmedError) Error() string {
	return fmt.Sprintf("the feed was trimmed up to number %d: what came after %d is not kept any more", e.Trimmed, e.After)
}
