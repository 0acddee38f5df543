package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Commands that stand by themselves in an operator's page run as they are written, one page
// after another on a shop floor of its own.
func TestCommandsOfTheOperatorsPages(t *testing.T) {
	pages, err := filepath.Abs("operate")
	if err != nil {
		t.Fatal(err)
	}
	ran := 0
	for _, name := range []string{"backup.md", "restore.md", "verify.md", "import.md"} {
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(filepath.Join(pages, name))
			if err != nil {
				t.Fatal(err)
			}
			shopFloor(t)
			for _, block := range pageOf(name, string(text), 4).blocks {
				for line := range strings.Lines(block) {
					command, ours := strings.CutPrefix(strings.TrimSpace(line), "gaugebook ")
					if !ours {
						t.Errorf("no command: %q", line)
						continue
					}
					run(t, command)
					ran++
				}
			}
		})
	}
	if ran < 15 {
		t.Errorf("%d commands", ran)
	}
}
