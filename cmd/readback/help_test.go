package main

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
	"github.com/charmbracelet/x/ansi"

	"example.org/readback/cmd/internal/topics"
)

// model is the command line as the program has it.
func model(t *testing.T) *kong.Application {
	t.Helper()
	l, err := newLine()
	if err != nil {
		t.Fatal(err)
	}
	return l.parser.Model
}

// words splits an example as a shell does, its quotes and no more.
func shellWords(line string) []string {
	line, _, _ = strings.Cut(line, " > ")
	if i := strings.LastIndex(line, "| readback"); i >= 0 {
		line = line[i+2:]
	}
	line, _, _ = strings.Cut(line, " | ")
	var words []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			words = append(words, part)
			continue
		}
		words = append(words, strings.Fields(part)...)
	}
	return words
}

// Every command has examples, and the command line understands each of them.
func TestHelp_ExamplesAreUnderstood(t *testing.T) {
	for _, leaf := range model(t).Leaves(true) {
		lines := strings.Split(leaf.Detail, "\n")
		if lines[0] != "Examples:" || len(lines) < 2 {
			t.Errorf("%s has no examples: %q", leaf.Name, leaf.Detail)
			continue
		}
		for _, line := range lines[1:] {
			args := shellWords(strings.TrimSpace(line))
			if args[0] != "readback" {
				t.Errorf("%s: %q", leaf.Name, line)
				continue
			}
			if err := parsed(t, args[1:]); err != nil {
				t.Errorf("%q: %v", line, err)
			}
		}
	}
}

// Help lists every topic; each is at most 60 lines of 100 columns and begins with
// its title.
func TestHelp_Topics(t *testing.T) {
	list := call(t, "", "help").must(t, exitFine).out
	for _, name := range topics.Names() {
		if !strings.Contains(list, "\n  "+name+" ") {
			t.Errorf("help does not list %s", name)
		}
		text := call(t, "", "help", name).must(t, exitFine).out
		if !strings.HasPrefix(text, topics.Title(name)) {
			t.Errorf("help %s begins with %.60q", name, text)
		}
		lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
		if len(lines) > 60 || len(lines) < 8 {
			t.Errorf("%s has %d lines", name, len(lines))
		}
		for i, l := range lines {
			if ansi.StringWidth(l) > 100 {
				t.Errorf("%s, line %d is too wide", name, i+1)
			}
		}
	}
	if got := call(t, "", "help", "export").must(t, exitFine).out; !strings.Contains(got, "Usage: readback export") {
		t.Errorf("help export printed %s", got)
	}
	if got := call(t, "", "help", "keyng").must(t, exitUsage); !strings.Contains(got.err, "did you mean readback help keying?") {
		t.Error(got.err)
	}
	for _, name := range topics.Schemas() {
		if got := call(t, "", "help", "schema", name).must(t, exitFine).out; !strings.Contains(got, "json-schema.org") {
			t.Errorf("schema %s: %.80s", name, got)
		}
	}
	call(t, "", "help", "schema").must(t, exitUsage)
}

func TestVersion_IsToldAndNotDevel(t *testing.T) {
	got := call(t, "", "--version").must(t, exitFine).out
	if !strings.HasPrefix(got, "readback ") || strings.Contains(got, "(devel)") {
		t.Errorf("%q", got)
	}
}

// A word that is no command is answered with the one that was meant, and no book is
// made of it.
func TestUsage_DidYouMean(t *testing.T) {
	for word, want := range map[string]string{"exprt": "export", "sheets": "sheet", "imprt": "import", "adit": "audit", "gahter": "gather"} {
		got := call(t, "", word).must(t, exitUsage)
		if !strings.Contains(got.err, "did you mean readback "+want+"?") {
			t.Errorf("%s: %s", word, got.err)
		}
		if got := call(t, "", word, "dam.readback"); got.code != exitUsage || !strings.Contains(got.err, "did you mean readback "+want+"?") {
			t.Errorf("%s dam.readback: %s", word, got.err)
		}
	}
	if got := call(t, "", "dam.readback").must(t, exitUsage); strings.Contains(got.err, "did you mean") || !strings.Contains(got.err, "readback book dam.readback") {
		t.Error(got.err)
	}
}

// A file that another command takes is named with that command.
func TestUsage_OtherCommandsFile(t *testing.T) {
	dir := t.TempDir()
	day, file := filepath.Join(dir, "day.csv"), filepath.Join(dir, "weir.book")
	put(t, day, read(t, example("brackenfold-day.csv")))
	call(t, "", "import", file, day, "--booker", "Tam Okoro").must(t, exitFine)
	for _, tt := range []struct {
		args []string
		want string
	}{
		{[]string{"export", day}, "is a readings file: readback import BOOK "},
		{[]string{"sheet", day}, "is a readings file: readback import BOOK "},
		{[]string{"export", file + ".jsonl"}, "is a journal: readback restore "},
		{[]string{"reduce", file + ".jsonl"}, "is a journal: readback restore "},
		{[]string{"reduce", file}, "is a book: readback export "},
	} {
		if got := call(t, "", tt.args...).must(t, exitUsage); !strings.Contains(got.err, tt.want) {
			t.Errorf("%q: %s", tt.args, got.err)
		}
	}
}

// The shells and the manual's formatter take what the program prints for them, where
// they are installed.
func TestCompletion_IsTaken(t *testing.T) {
	for shell, check := range map[string][]string{"bash": {"bash", "-n"}, "zsh": {"zsh", "-n"}, "fish": {"fish", "--no-execute"}} {
		text := call(t, "", "completion", shell).must(t, exitFine).out
		for _, name := range commandNames(model(t)) {
			if !strings.Contains(text, name) {
				t.Errorf("%s: no %s", shell, name)
			}
		}
		if _, err := exec.LookPath(check[0]); err != nil {
			continue
		}
		file := filepath.Join(t.TempDir(), "completion")
		put(t, file, text)
		if out, err := exec.Command(check[0], append(check[1:], file)...).CombinedOutput(); err != nil {
			t.Errorf("%s: %v %s", shell, err, out)
		}
	}
	man := call(t, "", "man").must(t, exitFine).out
	if !strings.HasPrefix(man, ".TH READBACK 1") || !strings.Contains(man, "Never sight the Sun") {
		t.Errorf("%.200s", man)
	}
	if _, err := exec.LookPath("groff"); err == nil {
		cmd := exec.Command("groff", "-Kutf8", "-man", "-Tutf8", "-ww", "-z")
		cmd.Stdin = strings.NewReader(man)
		if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
			t.Errorf("%v %s", err, out)
		}
	}
}

// Bash completes commands, options and fixed values.
func TestCompletion_InBash(t *testing.T) {
	if _, err := exec.LookPath("bash"); err != nil {
		t.Skip("no bash here")
	}
	script := call(t, "", "completion", "bash").must(t, exitFine).out
	for line, want := range map[string]string{"readback exp": "export", "readback export --a": "--as", "readback export --as land": "landxml", "readback reduce --closing-rule s": "spread"} {
		words := strings.Fields(line)
		cmd := exec.Command("bash", "-c", script+"\nCOMP_WORDS=("+line+"); COMP_CWORD="+string(rune('0'+len(words)-1))+"; _readback; echo \"${COMPREPLY[0]}\"")
		cmd.Dir = t.TempDir()
		out, err := cmd.CombinedOutput()
		if err != nil || strings.TrimSpace(string(out)) != want {
			t.Errorf("%s: %q %v", line, out, err)
		}
	}
}

// What the command line leaves out comes from the environment, then from the
// defaults file; a word that is no default is refused with its line.
func TestDefaults(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "readback", "defaults")
	mkdir(t, filepath.Dir(file))
	put(t, file, "# our crew\nbooker = Tam Okoro\nobserver = Ines Holm\ninstrument = T-5\n")
	env := map[string]string{"XDG_CONFIG_HOME": dir, "READBACK_OBSERVER": "Ada Voss"}
	runs := func(args ...string) (int, string, string) {
		var out, errs bytes.Buffer
		code := runAgain(args, &Context{Out: &out, Err: &errs, Getenv: func(k string) string { return env[k] }})
		return code, out.String(), errs.String()
	}
	book := filepath.Join(dir, "weir.book")
	if code, _, errs := runs("import", book, example("brackenfold-day.csv")); code != exitFine {
		t.Fatal(errs)
	}
	_, text, _ := runs("sheet", book, "--text")
	for _, want := range []string{"Tam Okoro", "Ada Voss", "T-5"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not name %s", want)
		}
	}
	if strings.Contains(text, "Ines Holm") {
		t.Error("the file went before the environment")
	}
	put(t, file, "zone = Asia/Tokyo\n")
	if _, text, _ := runs("sheet", book, "--text"); !strings.Contains(text, "UTC+09:00") {
		t.Errorf("no zone of the defaults on the sheet:\n%.600s", text)
	}
	if _, text, _ := runs("sheet", book, "--text", "--utc"); strings.Contains(text, "UTC+09:00") {
		t.Error("--utc does not stand before the zone of the defaults")
	}
	if code, _, errs := runs("sheet", book, "--text", "--zone", "Brackenfold/Dam"); code != exitUsage || !strings.Contains(errs, "there is no time zone") {
		t.Errorf("exit %d, %s", code, errs)
	}
	put(t, file, "bookr = Tam Okoro\n")
	if code, _, errs := runs("audit", book); code != exitUsage || !strings.Contains(errs, `line 1: "bookr" is no default`) {
		t.Errorf("exit %d, %s", code, errs)
	}
}

// The verifier that help journal prints takes a sound journal and finds a changed one.
func TestHelp_JournalVerifier(t *testing.T) {
	if _, err := exec.LookPath("python3"); err != nil {
		t.Skip("no python3 here")
	}
	text := call(t, "", "help", "journal").must(t, exitFine).out
	var program []string
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "  import sys") || len(program) > 0 && strings.HasPrefix(line, "  ") {
			program = append(program, strings.TrimPrefix(line, "  "))
		} else if len(program) > 0 {
			break
		}
	}
	dir := t.TempDir()
	verifier, file := filepath.Join(dir, "verify.py"), filepath.Join(dir, "weir.book")
	put(t, verifier, strings.Join(program, ""))
	call(t, "", "import", file, example("brackenfold-day.csv"), "--booker", "Tam Okoro").must(t, exitFine)
	if out, err := exec.Command("python3", verifier, file+".jsonl").CombinedOutput(); err != nil || !strings.HasPrefix(string(out), "53 events, last hash ") {
		t.Errorf("%v %s", err, out)
	}
	put(t, file+".changed", strings.Replace(read(t, file+".jsonl"), "133 07 45", "133 07 46", 1))
	if out, err := exec.Command("python3", verifier, file+".changed").CombinedOutput(); err == nil || !strings.Contains(string(out), "is not what was booked") {
		t.Errorf("%v %s", err, out)
	}
	if len(program) > 16 {
		t.Errorf("the verifier has %d lines", len(program))
	}
}
