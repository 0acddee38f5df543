// Gaugebook is the service behind the gauge: it takes tire readings as they were
// read, does the arithmetic and the judgement, and shows its evidence.
package main

import (
	"context"
	"os"

	"gaugebook.dev/server/app"
)

func main() {
	os.Exit(app.Main(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
