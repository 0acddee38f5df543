package report

import (
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// What is read together stays on one line, in each language.
func TestBound(t *testing.T) {
	for language, texts := range map[string][]string{
		"en": {"axle_3", "groove_2, station_3", "reg._27(1)(g)", "49_CFR_570.9(a)", "§_4 Abs._4", "33_psi", "2/32_in", "48,210_mi", "110_N·m"},
		"es": {"eje_3", "surco_2, punto_3", "33,5_psi", "20_%", "48.210_mi", "±0,70_mm"},
	} {
		p := &printer{nameNumber: nameNumber(language)}
		for _, text := range texts {
			want := strings.ReplaceAll(text, "_", "\u00a0")
			if got := p.bound(strings.ReplaceAll(text, "_", " ")); got != want {
				t.Errorf("%s: %q is bound as %q", language, text, got)
			}
		}
	}
	es := &printer{nameNumber: nameNumber("es")}
	if got := es.bound("axle 3"); got != "axle 3" {
		t.Errorf("a word of another language is bound: %q", got)
	}
}

// A wheel stands on its side, also where nobody reported the one across from it.
func TestWheelsStandOnTheirSides(t *testing.T) {
	p := newPrinter(&pb.Assessment{}, &pb.Told{Language: "en"})
	rows, _ := p.rows([]*pb.WheelSummary{
		{Position: "1L", ShownPosition: "LF"}, {Position: "1R", ShownPosition: "RF"}, {Position: "2R", ShownPosition: "RR"}, {Position: "S", ShownPosition: "SP"},
	}, cellDetail{})
	lines := strings.Split(rows, "\n")
	if len(lines) != 4 || strings.Index(lines[0], "RF") != strings.Index(lines[1], "RR") || !strings.HasPrefix(lines[2], "  SP") {
		t.Errorf("%q", rows)
	}
}
