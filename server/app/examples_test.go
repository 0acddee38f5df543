package app

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// A page is a README or a command's help: text with commands and files in it, each
// indented block by itself.
type page struct {
	name   string
	blocks []string
}

// pageOf reads a text whose blocks stand indented by so many columns.
func pageOf(name, text string, indent int) page {
	p := page{name: name}
	margin := strings.Repeat(" ", indent)
	var block []string
	end := func() {
		if text := strings.TrimSpace(strings.Join(block, "\n")); text != "" {
			p.blocks = append(p.blocks, text)
		}
		block = nil
	}
	for line := range strings.SplitSeq(text, "\n") {
		inside, indented := strings.CutPrefix(line, margin)
		if !indented && line != "" {
			end()
			continue
		}
		block = append(block, inside)
	}
	end()
	return p
}

// block gives the block that begins so.
func (p page) block(t *testing.T, begins string) string {
	t.Helper()
	i := slices.IndexFunc(p.blocks, func(b string) bool { return strings.HasPrefix(b, begins) })
	if i < 0 {
		t.Fatalf("%s has no block that begins with %q", p.name, begins)
	}
	return p.blocks[i]
}

// allCommands lists the commands that a person may call.
func allCommands() []*cobra.Command {
	var all []*cobra.Command
	var walk func(*cobra.Command)
	walk = func(c *cobra.Command) {
		if c.IsAvailableCommand() || !c.HasParent() {
			all = append(all, c)
		}
		for _, below := range c.Commands() {
			walk(below)
		}
	}
	walk(commands(os.DirFS("../../testdata/demo")))
	return all
}

// shopFloor is a folder with the files that examples name: those that the help shows,
// a visit, a book with visits in it, the demo. The test then stands in it.
func shopFloor(t *testing.T) {
	t.Helper()
	scenario, err := filepath.Abs("../../testdata/demo")
	if err != nil {
		t.Fatal(err)
	}
	book := folder(t, func(store history.Store) { keepDemo(t, store, "shop-1", byLaw, "uk-car") })
	t.Chdir(t.TempDir())
	write := func(name, text string) {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range allCommands() {
		help := pageOf(c.CommandPath()+" --help", c.Long, 2)
		for _, block := range help.blocks {
			name, known := map[string]string{"tokens": "access.yaml", "shops": "rules.yaml", "vehicle": "visit.yaml"}[block[:strings.IndexByte(block, ':')]]
			if !known {
				t.Fatalf("%s shows a file that no test reads:\n%s", help.name, block)
			}
			write(name, block)
		}
	}
	visit, err := os.ReadFile(filepath.Join(scenario, "uk-car.json"))
	if err != nil {
		t.Fatal(err)
	}
	write("visit.json", string(visit))
	if err := os.CopyFS("testdata/demo", os.DirFS(scenario)); err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS("book", os.DirFS(book)); err != nil {
		t.Fatal(err)
	}
}

// run runs a command as it is written. What stays up until it is interrupted runs on
// doors of its own until it says where they are.
func run(t *testing.T, command string) {
	t.Helper()
	args := strings.Fields(command)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	said := &lockedBuffer{}
	if slices.Contains([]string{"serve", "demo"}, args[0]) {
		args = append(args, "--grpc", "127.0.0.1:0", "--http", "127.0.0.1:0")
		go func() {
			for !strings.Contains(said.String(), "gRPC on 127") {
				if ctx.Err() != nil {
					return
				}
				time.Sleep(5 * time.Millisecond)
			}
			stop()
		}()
	}
	if code := Main(ctx, args, os.DirFS("testdata/demo"), strings.NewReader(""), said, said); code != exitDone {
		t.Errorf("%q ends with %d: %s", command, code, said)
	}
}

// Every command shows how it is called, by examples that run with the files that the
// help shows.
func TestExamplesOfTheHelp(t *testing.T) {
	shopFloor(t)
	for _, c := range allCommands() {
		if c.Example == "" {
			t.Errorf("%s has no example", c.CommandPath())
		}
		for line := range strings.Lines(c.Example) {
			line = strings.TrimSpace(line)
			command, ours := strings.CutPrefix(line, "gaugebook ")
			if !ours || !strings.HasPrefix(line, c.CommandPath()) {
				t.Errorf("%s has the example %q", c.CommandPath(), line)
			}
			run(t, command)
		}
		for line := range strings.Lines(c.Long) {
			if len([]rune(line)) > 81 {
				t.Errorf("%s --help is wider than a terminal: %q", c.CommandPath(), line)
			}
		}
	}
}

// Wrong calls, of each command and whatever is wrong, end with 2 and show how the
// command is called.
func TestWrongCalls(t *testing.T) {
	for _, c := range []struct {
		call, says, example string
	}{
		{"assess", "FILE is missing", "gaugebook assess testdata"},
		{"assess a b", "only one FILE; given a b", "gaugebook assess testdata"},
		{"asess x", `there is no command "asess"; did you mean assess?`, "gaugebook demo"},
		{"judge x", `there is no command "judge"`, "gaugebook demo"},
		{"assess --lang es x", "unknown flag: --lang; did you mean --language?", "gaugebook assess"},
		{"assess --custmer-language es x", "did you mean --customer-language?", "gaugebook assess"},
		{"assess --jsn x", "did you mean --json?", "gaugebook assess"},
		{"assess --as-of", "flag needs an argument", "gaugebook assess"},
		{"assess --json=perhaps x", "invalid argument", "gaugebook assess"},
		{"assess -x", "unknown shorthand flag", "gaugebook assess"},
		{"serve", `required flag(s) "access" not set`, "gaugebook serve --store"},
		{"serve book", "serve takes flags alone; given book", "gaugebook serve --store"},
		{"rejudge", "one of the flags in the group [store server] is required", "gaugebook rejudge --store"},
		{"demo --port 1", "unknown flag: --port", "gaugebook demo"},
		{"version now", "version takes flags alone; given now", "gaugebook version"},
		{"rulebook lst", `there is no command "lst"; did you mean list?`, "gaugebook rulebook show"},
		{"rulebook show", "ID is missing", "gaugebook rulebook show us-light"},
		{"rulebook check a b", "only one FILE", "gaugebook rulebook check"},
		{"help asess", `there is no command "asess"; did you mean assess?`, "gaugebook demo"},
		{"help rulebook lst", `there is no command "lst"; did you mean list?`, "gaugebook rulebook show"},
		{"--versoin", "unknown flag: --versoin; did you mean --version?", "gaugebook demo"},
	} {
		var out, errs bytes.Buffer
		code := Main(t.Context(), strings.Fields(c.call), nil, strings.NewReader(""), &out, &errs)
		if code != exitBadInput || out.Len() > 0 || !strings.Contains(errs.String(), c.says) ||
			!strings.Contains(errs.String(), "\nUsage:\n  gaugebook") || !strings.Contains(errs.String(), "\nExample:\n") || !strings.Contains(errs.String(), c.example) {
			t.Errorf("%q: exit %d, %s", c.call, code, &errs)
		}
	}
}

// An exit status means the same in every command.
func TestExitStatuses(t *testing.T) {
	dir := t.TempDir()
	bad, good := filepath.Join(dir, "bad"), filepath.Join(dir, "access.yaml")
	for name, text := range map[string]string{bad: "nonsense: [", good: "tokens: [{token: 0123456789abcdef, name: a, role: bench, shops: [b]}]"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	missing := filepath.Join(dir, "missing")
	for _, c := range []struct {
		code  int
		calls []string
	}{
		{exitDone, []string{"", "--version", "version", "--help", "help assess", "help rulebook list", "rulebook", "rulebook list", "rulebook show us-light"}},
		{exitFailed, []string{"assess " + missing, "assess " + dir, "rulebook check " + missing, "serve --access " + missing, "serve --access " + good + " --rules " + missing, "rejudge --store " + missing, "accept-loss --store " + missing + " code"}},
		{exitBadInput, []string{
			"assess " + bad, "assess --as-of then " + bad, "rulebook show nowhere", "rulebook check " + bad, "serve --access " + bad, "serve --access " + good + " --rules " + bad,
			"serve --access " + good + " --store " + missing, "serve --access " + good + " --store " + dir + " --new", "serve --access " + good + " --new", "serve --access " + good + " --state-dir " + dir,
			"serve --access " + good + " --grpc nowhere", "serve --access " + good + " --http 127.0.0.1:http:1", "demo --http 127.0.0.1:123456", "rejudge --store " + dir + " --since then", "rejudge --store " + dir + " --rules " + bad,
		}},
	} {
		for _, call := range c.calls {
			var out, errs bytes.Buffer
			if code := Main(t.Context(), strings.Fields(call), nil, strings.NewReader(""), &out, &errs); code != c.code || (code == exitDone) != (errs.Len() == 0) {
				t.Errorf("%q: exit %d, want %d: %s", call, code, c.code, &errs)
			}
		}
	}
}

func readmePage(t *testing.T) page {
	t.Helper()
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	return pageOf("README", string(data), 4)
}

// README's commands run, its synopses have every flag, and its files are read.
func TestCommandsOfTheReadme(t *testing.T) {
	readme := readmePage(t)
	makefile, err := os.ReadFile("../../Makefile")
	if err != nil {
		t.Fatal(err)
	}
	shopFloor(t)
	for name, begins := range map[string]string{"access.yaml": "tokens:", "rules.yaml": "shops:"} {
		if err := os.WriteFile(name, []byte(readme.block(t, begins)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	run(t, "rulebook check rules.yaml")
	ran := 0
	for _, block := range readme.blocks {
		for line := range strings.Lines(block) {
			line = strings.TrimSpace(line)
			if command, ok := strings.CutPrefix(line, "go run . "); ok {
				if strings.Contains(command, "--new") {
					if err := os.RemoveAll("book"); err != nil {
						t.Fatal(err)
					}
				}
				run(t, command)
				ran++
			}
			if target, ok := strings.CutPrefix(line, "make "); ok && !strings.Contains(string(makefile), "\n"+target+":") {
				t.Errorf("make has no target %q", target)
			}
		}
	}
	if ran < 3 {
		t.Errorf("README has %d commands", ran)
	}
	synopses(t, readme)
}

var (
	flagNamed = regexp.MustCompile(`--([a-z-]+)`)
	synopsis  = regexp.MustCompile(`(?m)^gaugebook ([a-z-]+)((?:.|\n )*)`)
)

// synopses holds each synopsis of a page to the command's flags.
func synopses(t *testing.T, p page) {
	t.Helper()
	told := map[string]bool{}
	for _, s := range synopsis.FindAllStringSubmatch(p.block(t, "gaugebook assess"), -1) {
		told[s[1]] = true
		var named, has []string
		for _, f := range flagNamed.FindAllStringSubmatch(s[2], -1) {
			named = append(named, f[1])
		}
		for _, c := range allCommands() {
			if c.Name() == s[1] && c.Parent() == c.Root() {
				for _, one := range append(c.Commands(), c) {
					one.LocalFlags().VisitAll(func(f *pflag.Flag) {
						if f.Name != "help" {
							has = append(has, f.Name)
						}
					})
				}
			}
		}
		slices.Sort(named)
		if slices.Sort(has); !slices.Equal(named, has) {
			t.Errorf("%s tells of %s the flags %q, it has %q", p.name, s[1], named, has)
		}
	}
	for _, c := range allCommands() {
		if c.Parent() == c.Root() && c.HasParent() && c.Name() != "help" && !told[c.Name()] {
			t.Errorf("%s does not tell how %s is called", p.name, c.Name())
		}
	}
}

// shellWords are the words of a shell's line, in single and double quotes or none.
func shellWords(t *testing.T, line string) []string {
	t.Helper()
	var all []string
	var word strings.Builder
	begun := false
	for i := 0; i < len(line); i++ {
		switch c := line[i]; c {
		case ' ', '\n':
			if begun {
				all = append(all, word.String())
			}
			word.Reset()
			begun = false
		case '\'', '"':
			end := strings.IndexByte(line[i+1:], c)
			if end < 0 {
				t.Fatalf("a quote is not closed: %q", line)
			}
			word.WriteString(line[i+1 : i+1+end])
			i, begun = i+1+end, true
		default:
			word.WriteByte(c)
			begun = true
		}
	}
	if begun {
		all = append(all, word.String())
	}
	return all
}

var callOfReadme = regexp.MustCompile(`(?m)^call (?:[^'\n]|'[^']*')*`)

// README's calls are answered, in their order, by a server with README's tokens.
func TestCallsOfTheReadme(t *testing.T) {
	readme := readmePage(t)
	file := filepath.Join(t.TempDir(), "access.yaml")
	if err := os.WriteFile(file, []byte(readme.block(t, "tokens:")), 0o600); err != nil {
		t.Fatal(err)
	}
	keys, err := readAccess(file)
	if err != nil {
		t.Fatal(err)
	}
	r := serveWith(t, memory.New(), keys)
	defer r.leave()
	made := 0
	for _, block := range readme.blocks {
		for _, line := range callOfReadme.FindAllString(block, -1) {
			if strings.HasPrefix(line, "call()") {
				continue
			}
			made++
			args := shellWords(t, line)
			method, body := http.MethodGet, ""
			for i := 3; i+1 < len(args); i += 2 {
				switch args[i] {
				case "-X":
					method = args[i+1]
				case "-d":
					if body = bodyOf(t, args[i+1]); method == http.MethodGet {
						method = http.MethodPost
					}
				default:
					t.Fatalf("README calls curl with %q", args[i])
				}
			}
			code, answer := r.callAs(method, "/v1/shops/shop-1"+args[2], args[1]+"-0123456789abcdef", body)
			if code != http.StatusOK {
				t.Errorf("%s\nis answered %d: %s", line, code, answer)
			}
			if args[2] == "/inspections" {
				firstAnswer(t, answer)
			}
		}
	}
	if made < 4 {
		t.Errorf("README makes %d calls", made)
	}
}

// bodyOf is what curl sends: a text, or with @ what a file holds.
func bodyOf(t *testing.T, argument string) string {
	t.Helper()
	name, file := strings.CutPrefix(argument, "@")
	if !file {
		return argument
	}
	data, err := os.ReadFile("../../" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// firstAnswer holds the answer to README's first visit to what it promises of twelve
// fields: nothing is left to ask, one law is judged by, and the headline tells.
func firstAnswer(t *testing.T, answer string) {
	t.Helper()
	response := &pb.RecordInspectionResponse{}
	if err := protojson.Unmarshal([]byte(answer), response); err != nil {
		t.Fatal(err)
	}
	a := response.GetAssessment()
	if hold := a.GetHeadline().GetHold(); hold != pb.Hold_HOLD_NONE_FOUND || len(a.GetQuestions()) > 0 {
		t.Errorf("the first visit is answered %v, and asked %v", hold, a.GetQuestions())
	}
	if len(a.GetFindings()) == 0 || len(a.GetWork()) == 0 {
		t.Errorf("a tire is low and nothing is found: %v", a)
	}
}

// callAs calls with a token and gives HTTP's status and the answer.
func (r *running) callAs(method, path, token, body string) (int, string) {
	r.t.Helper()
	req, err := http.NewRequestWithContext(r.t.Context(), method, fmt.Sprintf("http://%s%s", r.httpAt.Addr(), path), strings.NewReader(body))
	if err != nil {
		r.t.Fatal(err)
	}
	req.Header.Set("Authorization", "Bearer "+token)
	req.Header.Set("Content-Type", "application/json")
	answer, err := r.web.Do(req)
	if err != nil {
		r.t.Fatal(err)
	}
	defer func() { _ = answer.Body.Close() }()
	data, err := io.ReadAll(answer.Body)
	if err != nil {
		r.t.Fatal(err)
	}
	return answer.StatusCode, string(data)
}

// The calls that the demo prints to paste are answered while it stays up, and name what
// its gRPC door has.
func TestCallsOfTheDemo(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	said, ended := &lockedBuffer{}, make(chan int)
	scenario := os.DirFS("../../testdata/demo")
	go func() {
		ended <- Main(ctx, []string{"demo", "--grpc", "127.0.0.1:0", "--http", "127.0.0.1:0"}, scenario, strings.NewReader(""), said, said)
	}()
	for !strings.Contains(said.String(), "Ctrl-C") {
		select {
		case code := <-ended:
			t.Fatalf("the demo ended with %d: %s", code, said)
		case <-time.After(5 * time.Millisecond):
		}
	}
	web := &http.Client{Transport: &http.Transport{}}
	defer web.CloseIdleConnections()
	answered := 0
	_, steps, _ := strings.Cut(said.String(), "in another terminal:")
	for line := range strings.SplitSeq(strings.ReplaceAll(steps, " \\\n", " "), "\n") {
		args := shellWords(t, line)
		switch {
		case len(args) == 4 && args[0] == "curl":
			req, err := http.NewRequestWithContext(ctx, http.MethodGet, args[3], nil)
			if err != nil {
				t.Fatal(err)
			}
			name, value, _ := strings.Cut(args[2], ": ")
			req.Header.Set(name, value)
			answer, err := web.Do(req)
			if err != nil {
				t.Fatal(err)
			}
			if _ = answer.Body.Close(); answer.StatusCode != http.StatusOK {
				t.Errorf("%s: HTTP %d", line, answer.StatusCode)
			}
			answered++
		case len(args) > 2 && args[0] == "grpcurl":
			name := protoreflect.FullName(strings.ReplaceAll(args[len(args)-1], "/", "."))
			if call, err := protoregistry.GlobalFiles.FindDescriptorByName(name); err != nil {
				t.Errorf("%s: %v of %v", line, err, call)
			}
			answered++
		}
	}
	if stop(); <-ended != exitDone || answered != 4 {
		t.Errorf("%d calls were tried of %s", answered, steps)
	}
}
