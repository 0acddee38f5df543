package badger

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"gaugebook.dev/server/history"
)

// Damage is one thing that is wrong with the files of a store.
type Damage struct {
	File    string // within the store's directory; "" where no file tells, but the state file
	Problem string // what is wrong: "cannot be read from byte 1200 on"
	Missing string // how much may be missing: "at least 3 writes are missing"
}

// String is the damage as a sentence, without its full stop.
func (d Damage) String() string {
	if d.File == "" {
		return d.Problem + ": " + d.Missing
	}
	return d.File + " " + d.Problem + ": " + d.Missing
}

// DamageError says that the files of a store are not what was written. Nothing was
// changed. What was acknowledged and is not there is in a copy made before, or it is
// lost.
type DamageError struct {
	Dir     string
	Damages []Damage

	// Code is good for AcceptLoss of this damage and of no other; "" where the store is open.
	Code string
}

// Error is a sentence for each damage, and what to do.
func (e *DamageError) Error() string {
	var text strings.Builder
	fmt.Fprintf(&text, "the store in %s is damaged.", e.Dir)
	for _, d := range e.Damages {
		fmt.Fprintf(&text, " %s.", d)
	}
	if e.Code == "" {
		text.WriteString(" End the server soon: when it is started again, it says how to go on.")
	} else {
		fmt.Fprintf(&text, " Nothing was changed: put back a copy made before, or accept the loss with the code %s.", e.Code)
	}
	return text.String()
}

// Unwrap is history.ErrDamaged.
func (e *DamageError) Unwrap() error { return history.ErrDamaged }

// damageCode makes the code of damages: of what is said of them, and of the bytes of the
// files that they are in.
//
//nolint:gosec // where a store lies is its operator's to say
func damageCode(dir string, damages []Damage) (string, error) {
	all := sha256.New()
	for _, d := range damages {
		_, _ = fmt.Fprintf(all, "%s\x00", d) // a hash takes everything
		file, err := os.Open(filepath.Join(dir, d.File))
		if d.File == "" || os.IsNotExist(err) {
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = io.Copy(all, file)
		_ = file.Close() // only read
		if err != nil {
			_, _ = fmt.Fprintf(all, "%v\x00", err) // a file that cannot be read to its end
		}
	}
	code := strings.ToLower(base32.StdEncoding.EncodeToString(all.Sum(nil))[:10])
	return code[:5] + "-" + code[5:], nil
}
