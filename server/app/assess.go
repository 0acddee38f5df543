package app

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"google.golang.org/protobuf/encoding/protojson"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"
	"gaugebook.dev/gateway/strictjson"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/report"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
	"gaugebook.dev/server/words"
)

func assessCommand() *cobra.Command {
	var asJSON, full bool
	var w wanted
	cmd := &cobra.Command{
		Use:   "assess FILE",
		Short: "Judge one visit, written as JSON or YAML, and print findings and order of work",
		Long: `Judge one visit and print what was found, what was looked at, what was not, and
the order of work. FILE is an AssessVisitRequest as JSON or, named .yaml or
.yml, as YAML; - reads either from standard input. Positions may be written as
reports print them (LF, RRO) where the file tells the vehicle's axles.

  vehicle: {axles: {axles: [{}, {}]}, use: {drivenIn: [{country: US}]}}
  inspection:
    wheels:
      - position: LF
        tread:
          - {place: {across: ACROSS_CENTER}, depth: {thirtySecondsInch: 4}}

Exit status: 0 judged, 2 the file cannot be judged (every problem is listed with
its field path), 1 it could not be read or the answer could not be written.

Findings and work are told in the language asked for; what is wrong with a file
is told in English.`,
		Example: "  gaugebook assess testdata/demo/sedan-nail.json\n  gaugebook assess --json visit.yaml\n  gaugebook assess --language es-MX --units metric visit.json",
		Args:    one("FILE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			req, err := readVisit(cmd, args[0], w)
			if err != nil {
				return err
			}
			to := ofReport(req.GetReader(), tell.Shop{})
			if !asJSON {
				to.View = pb.View_VIEW_FULL // the report is laid out from all of it
			}
			answer, teller, write := judge.Visit(req), tell.For(to, tell.Shop{}), report.Write
			if !asJSON && !full {
				teller, write = teller.Short(), report.Short
			}
			teller.Assessment(answer, translate.FrontRear(req.GetVehicle()))
			if asJSON {
				return writeJSON(cmd.OutOrStdout(), &pb.AssessVisitResponse{Assessment: answer, Told: teller.Told()})
			}
			return write(cmd.OutOrStdout(), req, answer, teller.Told())
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the assessment as JSON, whole unless the file asks for another view")
	cmd.Flags().BoolVar(&full, "full", false, "print all of it: rules, margins, sources, evidence, every caution whole")
	cmd.Flags().StringArrayVar(&w.books, "rulebook", nil, "judge by this rulebook instead of choosing by the vehicle's use (repeatable)")
	cmd.Flags().StringVar(&w.asOf, "as-of", "", "judge as of this day (2026-11-24) instead of the visit's own")
	w.by.flags(cmd)
	return cmd
}

// judgeBy is what a request is to be judged by, to be filled in.
func judgeBy(req *pb.AssessVisitRequest) *pb.JudgeBy {
	if req.GetJudgeBy() == nil {
		req.JudgeBy = &pb.JudgeBy{}
	}
	return req.GetJudgeBy()
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func parseDay(s string) (*pb.CalendarDate, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return nil, fmt.Errorf("%q is no day; write it as 2026-11-24", s)
	}
	d, err := unit.DateOf(t.Year(), int(t.Month()), t.Day())
	if err != nil {
		return nil, err
	}
	return &pb.CalendarDate{Year: int32(d.Year), Month: int32(d.Month), Day: int32(d.Day)}, nil
}

// problemLines joins what the reader refused with what the check refused. What
// the check says about a place that the reader already refused only follows
// from that, and is left out.
func problemLines(read []strictjson.Problem, checked []check.Problem) []string {
	var lines []string
	for _, p := range read {
		lines = append(lines, p.String())
	}
	for _, c := range checked {
		follows := false
		for _, r := range read {
			follows = follows || r.Path != "" && (within(c.Path, r.Path) || within(r.Path, c.Path))
		}
		if !follows {
			lines = append(lines, c.String())
		}
	}
	return lines
}

// within tells whether a path is the other or lies under it.
func within(path, under string) bool {
	rest, ok := strings.CutPrefix(path, under)
	return ok && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// writeJSON writes a message as indented JSON. protojson varies its spacing
// from build to build on purpose; here equal answers are equal bytes.
func writeJSON(w io.Writer, m *pb.AssessVisitResponse) error {
	data, err := protojson.Marshal(m)
	if err != nil {
		return err
	}
	var compact, out bytes.Buffer
	if err := errors.Join(json.Compact(&compact, data), json.Indent(&out, compact.Bytes(), "", "  ")); err != nil {
		return err
	}
	out.WriteByte('\n')
	_, err = w.Write(escaped(out.Bytes()))
	return err
}

// escaped is a JSON document in which every character that cannot be shown as it is,
// DEL and C1 controls and turns of direction among them, is written as its code.
func escaped(document []byte) []byte {
	out := make([]byte, 0, len(document))
	for _, r := range string(document) {
		if r < 0x7f || words.Harmless(string(r)) == string(r) {
			out = utf8.AppendRune(out, r)
			continue
		}
		for _, unit := range utf16.Encode([]rune{r}) {
			out = fmt.Appendf(out, `\u%04x`, unit)
		}
	}
	return out
}
