package words

import (
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"sync"
)

// Version names the texts of this program: the same texts have the same name, and
// any other word gives another.
func Version() string { return version() }

// versionBytes of a hash tell one release's texts from another's.
const versionBytes = 6

var version = sync.OnceValue(func() string {
	paths, err := fs.Glob(files, "*/*.yaml")
	if err != nil {
		panic(err)
	}
	texts := sha256.New()
	for _, p := range paths { // in order
		data, err := files.ReadFile(p)
		if err != nil {
			panic(err)
		}
		_, _ = texts.Write(append([]byte(p), data...)) // a hash never fails
	}
	return hex.EncodeToString(texts.Sum(nil)[:versionBytes])
})
