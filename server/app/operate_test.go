package app

import (
	"os"
	"strings"
	"testing"
)

// The commands of the page about damage run, and its flags are those of the commands.
func TestCommandsOfThePageAboutDamage(t *testing.T) {
	data, err := os.ReadFile("../../docs/operate/damage.md")
	if err != nil {
		t.Fatal(err)
	}
	shopFloor(t)
	ran := 0
	for line := range strings.Lines(string(data)) {
		if command, ok := strings.CutPrefix(strings.TrimSpace(line), "gaugebook "); ok && strings.HasPrefix(line, "       ") {
			run(t, command)
			ran++
		}
	}
	if ran == 0 {
		t.Error("the page has no command")
	}
}
