// Gaugebook is the service behind the gauge: it takes tire readings as they were
// read, does the arithmetic and the judgement, shows its evidence, and keeps the
// book.
package main

import (
	"context"
	"embed"
	"io/fs"
	"os"

	"gaugebook.dev/server/app"
)

//go:embed testdata/demo/*.json
var demo embed.FS

func main() {
	scenario, err := fs.Sub(demo, "testdata/demo")
	if err != nil {
		panic(err)
	}
	os.Exit(app.Main(context.Background(), os.Args[1:], scenario, os.Stdin, os.Stdout, os.Stderr))
}
