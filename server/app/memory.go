package app

import (
	"os"
	"runtime/debug"
)

// memoryLimit is what the runtime keeps a server's memory under, in bytes, where
// GOMEMLIMIT does not say: it collects garbage earlier as it comes near. A server of 64
// writers needs some 150 MB at most while the engine puts tables together.
const memoryLimit = 224 << 20

// limitMemory is for a process that serves until it is ended.
func limitMemory() {
	if _, told := os.LookupEnv("GOMEMLIMIT"); !told {
		debug.SetMemoryLimit(memoryLimit)
	}
}
