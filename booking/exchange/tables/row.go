package tables

import (
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/readback/reduce"
)

// A row is one line of CSV (RFC 4180) under construction.
type row struct{ b []byte }

func (r *row) sep() {
	if len(r.b) > 0 {
		r.b = append(r.b, ',')
	}
}

// text writes a text; an empty one is a value that does not exist.
func (r *row) text(texts ...string) *row {
	for _, t := range texts {
		r.sep()
		if !strings.ContainsAny(t, ",\"\r\n\\") {
			r.b = append(r.b, t...)
			continue
		}
		r.b = append(r.b, '"')
		r.b = append(r.b, strings.ReplaceAll(t, `"`, `""`)...)
		r.b = append(r.b, '"')
	}
	return r
}

// key writes texts that are part of a key: an empty one exists there too.
func (r *row) key(texts ...string) *row {
	for _, t := range texts {
		if r.text(t); t == "" {
			r.b = append(r.b, '"', '"')
		}
	}
	return r
}

func (r *row) none(n int) *row {
	for range n {
		r.sep()
	}
	return r
}

func (r *row) whole(ns ...int64) *row {
	for _, n := range ns {
		r.sep()
		r.b = strconv.AppendInt(r.b, n, 10)
	}
	return r
}

// number writes a decimal with so many places at most; there is none that is not
// finite.
func (r *row) number(v float64, places int) *row {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return r.none(1)
	}
	r.sep()
	at := len(r.b)
	r.b = strconv.AppendFloat(r.b, v, 'f', places, 64)
	for r.b[len(r.b)-1] == '0' {
		r.b = r.b[:len(r.b)-1]
	}
	if r.b[len(r.b)-1] == '.' {
		r.b = r.b[:len(r.b)-1]
	}
	if string(r.b[at:]) == "-0" {
		r.b = append(r.b[:at], '0')
	}
	return r
}

// some writes a number that exists only where ok.
func (r *row) some(ok bool, v float64, places int) *row {
	if !ok {
		return r.none(1)
	}
	return r.number(v, places)
}

func (r *row) flag(b bool) *row {
	if b {
		return r.text("true")
	}
	return r.text("false")
}

func (r *row) time(t time.Time, ok bool) *row {
	if !ok || t.IsZero() {
		return r.none(1)
	}
	r.sep()
	r.b = t.UTC().AppendFormat(r.b, "2006-01-02T15:04:05.999Z")
	return r
}

func (r *row) degrees(a reduce.Angle) *row { return r.number(a.Degrees(), 10) }
func (r *row) seconds(a reduce.Angle) *row { return r.number(a.Seconds(), 6) }
