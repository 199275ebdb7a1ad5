package main

import (
	"bufio"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/readback/cmd/internal/topics"
)

// otherWords are words that say what the program has another word for, and where
// that stands: one term each. The list is the house's own.
var otherWords = map[string]string{
	`\bdirector(y|ies)\b`:                     "folder",
	`\b(copy of the journal|backup)\b`:        "second journal",
	`\bback ?sights?\b`:                       "RO",
	`\bfore ?sights?\b`:                       "target",
	`\bzero direction\b`:                      "RO",
	`\boccupations?\b`:                        "setup",
	`\bset-?ups? of the station\b`:            "setup",
	`\barc sets?\b`:                           "round",
	`\bface (1|2|I|II|one|two)\b`:             "face left, face right",
	`\bcollimation error 2c\b`:                "2c",
	`\b(delete|erase)[ds]? (a |the )?reading`: "strike",
	`\binvalid\b|\bfatal\b|\bplease\b`:        "what is wrong, where, and what to do",
	`\bknown points?\b`:                       "known station",
	`\bmade right\b`:                          "corrected",
	`\bkeyed afterwards\b`:                    "keyed later",
	`\bkeyed from paper\b`:                    "keyed later",
	`\b(its|the) net\b`:                       "network",
	`\bnot said then\b`:                       "not stated",
	`\b(more than|be) nothing (and|to) `:      "0",
	`\bfrom memory\b`:                         "the name of the standard",
}

// sentencesOf are the texts of the program's code, with the place of each.
func sentencesOf(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, room := range []string{"cmd", "tui", "booking", "store"} {
		err := filepath.WalkDir(filepath.Join("..", "..", room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") ||
				filepath.Base(filepath.Dir(path)) == "landxml" { // whose words are those of the standard
				return err
			}
			set := token.NewFileSet()
			f, err := parser.ParseFile(set, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if s, err := strconv.Unquote(lit.Value); err == nil {
						out[set.Position(lit.Pos()).String()] = s
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// linesOfTopics are the lines that readback help TOPIC prints, with the place of each.
func linesOfTopics(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, name := range topics.Names() {
		text, ok := topics.Text(name)
		if !ok {
			t.Errorf("the topic %s has no text", name)
		}
		if name == "landxml" { // whose words are those of the standard
			continue
		}
		for i, line := range strings.Split(text, "\n") {
			out[name+".txt:"+strconv.Itoa(i+1)] = line
		}
	}
	return out
}

// Every word of readback help words is one that the program says, and no other word
// is said for the same thing, in the code's sentences and in the topics.
func TestWords_OneTermEach(t *testing.T) {
	said := sentencesOf(t)
	var all strings.Builder
	for _, s := range said {
		all.WriteString(strings.ToLower(s) + "\n")
	}
	list, err := os.ReadFile("../internal/topics/words.txt")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for in := bufio.NewScanner(strings.NewReader(string(list))); in.Scan(); {
		term := regexp.MustCompile(`^  (\S(?: ?\S)*)  +\S`).FindStringSubmatch(in.Text())
		if term == nil {
			continue
		}
		n++
		if !regexp.MustCompile(`(^|[^\pL])` + regexp.QuoteMeta(strings.ToLower(term[1])) + `([^\pL]|s\b|$)`).MatchString(all.String()) {
			t.Errorf("%q is explained and never said", term[1])
		}
	}
	if n < 25 {
		t.Errorf("%d words were found in the list", n)
	}
	maps.Copy(said, linesOfTopics(t))
	for other, word := range otherWords {
		re := regexp.MustCompile(`(?i)` + other)
		for place, s := range said {
			if re.MatchString(s) {
				t.Errorf("%s: %q says %q; the word is %s", place, s, re.FindString(s), word)
			}
		}
	}
}
