package reductions

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"
)

// What is written by hand is what encoding/json writes: of a setup in which nothing
// stands, of one in which all does, and of every value in it that can be left out.
func TestAppend_AsEncodingJSON(t *testing.T) {
	var empty, full Setup
	fill(reflect.ValueOf(&full).Elem(), 1)
	lists := Setup{Rounds: []Round{}, Directions: []Direction{}, Verticals: []Vertical{}, Reasons: []string{}, Suspects: []Suspect{}}
	for _, s := range []Setup{empty, lists, full} {
		same(t, s)
	}
	for _, text := range []string{"", `a"b\c`, "<&>", "Ä 12°03′04″", "\u2028", "\xff", "a\tb\x00\x7f", "√n"} {
		s := full
		s.Station, s.Observer, s.Rounds = text, text, []Round{{Pointings: []Pointing{{Target: text, FL: text}}}}
		same(t, s)
	}
	for _, n := range []Number{0, Number(math.Copysign(0, -1)), 1e-9, 1e21, -0.1, 123456.789} {
		s := full
		s.SDDirection, s.Directions = &n, []Direction{{DirectionDeg: n, SD: &n}}
		same(t, s)
	}
	v := reflect.ValueOf(full)
	for i := range v.NumField() {
		s := full
		reflect.ValueOf(&s).Elem().Field(i).SetZero()
		same(t, s)
	}
}

func same(t *testing.T, s Setup) {
	t.Helper()
	want, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	got, err := Append(nil, false, s)
	if text := strings.TrimPrefix(string(got), ",\n"); err != nil || text != string(want) {
		t.Errorf("%v: got\n%s\nwant\n%s", err, text, want)
	}
}

// fill puts another value than zero into every field.
func fill(v reflect.Value, n int) {
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), n)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(v.Index(0), n) // the other stays empty
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			v.Set(reflect.ValueOf(time.Date(2026, 5, 4, 8, 15, n, 0, time.UTC)))
			return
		}
		for i := range v.NumField() {
			fill(v.Field(i), n+i)
		}
	case reflect.String:
		v.SetString("Weir " + strings.Repeat("I", n))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int:
		v.SetInt(int64(n))
	case reflect.Float64:
		v.SetFloat(float64(n) + 0.25)
	}
}
