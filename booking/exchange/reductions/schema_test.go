package reductions

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/exchange"
	"example.org/readback/testdata"
)

// A schema is the subset of JSON Schema that reductions.schema.json uses. A keyword
// outside it fails the test, so that nothing is held to a rule that is not read.
type schema struct {
	Schema      string             `json:"$schema"`
	Title       string             `json:"title"`
	Description string             `json:"description"`
	Ref         string             `json:"$ref"`
	Type        string             `json:"type"`
	Enum        []any              `json:"enum"`
	Required    []string           `json:"required"`
	Properties  map[string]*schema `json:"properties"`
	Additional  *bool              `json:"additionalProperties"`
	Items       *schema            `json:"items"`
	MinLength   int                `json:"minLength"`
	Minimum     *float64           `json:"minimum"`
	Maximum     *float64           `json:"maximum"`
	Under       *float64           `json:"exclusiveMaximum"`
	Defs        map[string]*schema `json:"$defs"`
}

func readSchema(t *testing.T) *schema {
	t.Helper()
	text, err := os.ReadFile("reductions.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	var s schema
	if err := d.Decode(&s); err != nil {
		t.Fatal(err)
	}
	return &s
}

// breaches lists where a value breaks the schema.
func (s *schema) breaches(root *schema, at string, v any) []string {
	if s.Ref != "" {
		def := root.Defs[strings.TrimPrefix(s.Ref, "#/$defs/")]
		if def == nil {
			return []string{at + ": no definition " + s.Ref}
		}
		return def.breaches(root, at, v)
	}
	var out []string
	wrong := func(format string, args ...any) { out = append(out, at+": "+fmt.Sprintf(format, args...)) }
	if s.Enum != nil && !slices.Contains(s.Enum, v) {
		wrong("%v is none of %v", v, s.Enum)
	}
	switch v := v.(type) {
	case map[string]any:
		if s.Type != "object" {
			wrong("an object, want %s", s.Type)
		}
		for _, r := range s.Required {
			if _, ok := v[r]; !ok {
				wrong("%s is missing", r)
			}
		}
		for k, x := range v {
			p := s.Properties[k]
			if p == nil {
				if s.Additional != nil && !*s.Additional {
					wrong("%s is not a property", k)
				}
				continue
			}
			out = append(out, p.breaches(root, at+"."+k, x)...)
		}
	case []any:
		if s.Type != "array" {
			wrong("an array, want %s", s.Type)
		}
		for i, x := range v {
			out = append(out, s.Items.breaches(root, fmt.Sprintf("%s[%d]", at, i), x)...)
		}
	case string:
		if s.Type != "string" && s.Enum == nil || len(v) < s.MinLength {
			wrong("text %q, want %s of %d and more", v, s.Type, s.MinLength)
		}
	case bool:
		if s.Type != "boolean" {
			wrong("a truth value, want %s", s.Type)
		}
	case json.Number:
		out = append(out, s.number(at, v)...)
	default:
		wrong("%v", v)
	}
	return out
}

func (s *schema) number(at string, n json.Number) []string {
	f, err := n.Float64()
	_, notWhole := n.Int64()
	switch {
	case err != nil, s.Type != "number" && s.Type != "integer", s.Type == "integer" && notWhole != nil,
		s.Minimum != nil && f < *s.Minimum, s.Maximum != nil && f > *s.Maximum, s.Under != nil && f >= *s.Under,
		strings.ContainsAny(n.String(), "eE"), n.String() == "-0":
		return []string{fmt.Sprintf("%s: %s does not fit", at, n)}
	}
	return nil
}

func TestOutputFitsSchema(t *testing.T) {
	root := readSchema(t)
	files, err := filepath.Glob(filepath.Join("..", "..", "..", "testdata", "readings", "*.csv"))
	if err != nil || len(files) < 8 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		var b bytes.Buffer
		w := NewWriter(&b)
		for _, s := range open(t, filepath.Base(f), exchange.Options{}) {
			if err := w.Setup(Of(s, true)); err != nil {
				t.Fatal(err)
			}
		}
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
		for _, breach := range root.check(t, b.Bytes()) {
			t.Errorf("%s: %s", f, breach)
		}
	}
	var b bytes.Buffer
	if err := NewWriter(&b).Close(); err != nil || len(root.check(t, b.Bytes())) > 0 {
		t.Errorf("no setups: %v %s", err, b.Bytes())
	}
}

func (s *schema) check(t *testing.T, doc []byte) []string {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(doc))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		t.Fatalf("%v\n%s", err, doc)
	}
	return s.breaches(s, "", v)
}

// The validator itself: each of these must be found.
func TestSchemaFindsBreaches(t *testing.T) {
	root := readSchema(t)
	const ok = `{"setups":[{"setup":1,"station":"Weir","rounds":[],"directions":[],"verticals":[],"verdict":"hold","reasons":[],"suspects":[]}]}`
	if b := root.check(t, []byte(ok)); len(b) > 0 {
		t.Fatal(b)
	}
	for _, change := range [][2]string{
		{`"setup":1`, `"setup":0`}, {`"setup":1`, `"setup":1.5`}, {`"setup":1`, `"setup":"1"`}, {`"Weir"`, `""`}, {`"hold"`, `"Hold"`},
		{`"rounds":[]`, `"rounds":{}`}, {`"rounds":[]`, `"rounds":[{"round":1,"used":true}]`}, {`"rounds":[],`, ``},
		{`"reasons":[]`, `"reasons":[""]`}, {`"reasons":[]`, `"reasons":[],"more":1`},
		{`"suspects":[]`, `"suspects":[{"kind":"gremlins","text":"x"}]`}, {`"suspects":[]`, `"suspects":[{"round":0,"text":"x"}]`},
		{`"directions":[]`, `"directions":[{"target":"A","direction":"1","direction_deg":360}]`},
		{`"directions":[]`, `"directions":[{"target":"A","direction":"1","direction_deg":1e-7}]`},
	} {
		if b := root.check(t, []byte(strings.Replace(ok, change[0], change[1], 1))); len(b) == 0 {
			t.Errorf("not found: %s", change[1])
		}
	}
}

// The kinds and parts of suspects are closed lists; the schema holds the same.
func TestSchemaKnowsEveryKind(t *testing.T) {
	p := readSchema(t).Defs["suspect"].Properties
	var kinds []any
	for _, k := range testdata.Constants(t, "../../check/slip/kind.go", "Kind") {
		if k != string(slip.Unknown) {
			kinds = append(kinds, k)
		}
	}
	if fmt.Sprint(p["kind"].Enum) != fmt.Sprint(kinds) {
		t.Errorf("schema %v\nslip   %v", p["kind"].Enum, kinds)
	}
	parts := []any{string(slip.Degrees), string(slip.Minutes), string(slip.Seconds), string(slip.DegreesMinutes), string(slip.MinutesSeconds)}
	if fmt.Sprint(p["part"].Enum) != fmt.Sprint(parts) {
		t.Errorf("schema %v, slip %v", p["part"].Enum, parts)
	}
}

// A reading a whole degree out, in round 1 on face left: it is named, in JSON
// and in the table.
func TestSuspects(t *testing.T) {
	s := open(t, "brackenfold-slip.csv", exchange.Options{})[0]
	j := Of(s, true)
	if len(j.Suspects) != 1 {
		t.Fatalf("%+v", j.Suspects)
	}
	if k := j.Suspects[0]; k.Round != 1 || k.Face != "FL" || k.Target != "Quarry" || k.Kind != string(slip.WholeDegree) || k.Part != "degrees" {
		t.Errorf("%+v", k)
	}
	var b bytes.Buffer
	if err := new(Printer).Table(&b, s, true); err != nil || !strings.Contains(b.String(), j.Suspects[0].Text) {
		t.Errorf("%v\n%s", err, b.String())
	}
}
