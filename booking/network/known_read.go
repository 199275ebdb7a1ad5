package network

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/readback/booking/event"
)

// A knownError says what is wrong with a list of known stations and where.
type knownError struct {
	Line, Column int    // from 1; the column counts bytes
	What         string // one sentence: what is wrong and what was expected
}

// Error names the line and the column and says what is wrong there.
func (e *knownError) Error() string {
	return fmt.Sprintf("known stations, line %d, column %d: %s", e.Line, e.Column, e.What)
}

// A knownReader reads one file.
type knownReader struct {
	csv    *csv.Reader
	column map[string]int // of name, e, n, h
	seen   map[string]int // line of each name
}

// ParseKnown reads a list of known stations. The error is a *knownError.
func ParseKnown(data []byte) ([]event.KnownStation, error) {
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if !utf8.Valid(data) {
		return nil, &knownError{1, 1, "the file is not UTF-8: expected a file saved as UTF-8"}
	}
	r := &knownReader{csv: csv.NewReader(bytes.NewReader(data)), seen: map[string]int{}}
	if err := r.header(); err != nil {
		return nil, err
	}
	var out []event.KnownStation
	for {
		record, err := r.csv.Read()
		if errors.Is(err, io.EOF) && len(out) == 0 {
			return nil, &knownError{1, 1, "there is no row below the header: expected stations"}
		}
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, knownCSVError(err)
		}
		k, err := r.station(record)
		if err != nil {
			return nil, err
		}
		out = append(out, k)
	}
}

// knownCSVError turns an error of the CSV reader into one with our words.
func knownCSVError(err error) error {
	var p *csv.ParseError
	if !errors.As(err, &p) {
		return &knownError{1, 1, err.Error()}
	}
	if errors.Is(p.Err, csv.ErrFieldCount) {
		return &knownError{p.Line, p.Column, "the line has not as many cells as the header: expected one for each column"}
	}
	return &knownError{p.Line, p.Column, "a quotation mark stands where it does not belong: expected it doubled within a cell in quotation marks, and one at its end"}
}

func (r *knownReader) fail(field int, format string, args ...any) error {
	line, column := r.csv.FieldPos(field)
	return &knownError{line, column, fmt.Sprintf(format, args...)}
}

// header reads the names of the columns.
func (r *knownReader) header() error {
	names, err := r.csv.Read()
	if errors.Is(err, io.EOF) {
		return &knownError{1, 1, "the file is empty: expected a header name,E,N,H"}
	}
	if err != nil {
		return knownCSVError(err)
	}
	r.column = map[string]int{}
	for i, n := range names {
		key := strings.ToLower(strings.TrimSpace(n))
		if key != "name" && key != "e" && key != "n" && key != "h" {
			return r.fail(i, "unknown column %q: expected name, E, N and H, separated by commas", n)
		}
		if _, twice := r.column[key]; twice {
			return r.fail(i, "the column %q stands twice: expected each column once", n)
		}
		r.column[key] = i
	}
	for _, key := range []string{"name", "E", "N"} {
		if _, ok := r.column[strings.ToLower(key)]; !ok {
			return r.fail(0, "the column %s is missing: expected name, E, N and H", key)
		}
	}
	return nil
}

// station reads one line.
func (r *knownReader) station(record []string) (event.KnownStation, error) {
	at := r.column["name"]
	k := event.KnownStation{Name: strings.TrimSpace(record[at])}
	if k.Name == "" {
		return k, r.fail(at, "the station has no name: expected its name")
	}
	if strings.ContainsFunc(k.Name, unicode.IsControl) {
		return k, r.fail(at, "%q holds a control character: expected a name on one line", k.Name)
	}
	if line, twice := r.seen[k.Name]; twice {
		return k, r.fail(at, "%q is named on line %d already: expected each station once", k.Name, line)
	}
	r.seen[k.Name], _ = r.csv.FieldPos(at)
	var err error
	if k.East, err = r.metres(record, "e"); err != nil {
		return k, err
	}
	if k.North, err = r.metres(record, "n"); err != nil {
		return k, err
	}
	if i, ok := r.column["h"]; !ok || strings.TrimSpace(record[i]) == "" {
		return k, nil
	}
	h, err := r.metres(record, "h")
	k.Elev = &h
	return k, err
}

// metres reads a plain decimal: a sign, digits, a point. No exponent, no comma.
func (r *knownReader) metres(record []string, key string) (float64, error) {
	i := r.column[key]
	s := strings.TrimSpace(record[i])
	if s == "" {
		return 0, r.fail(i, "%s is empty: expected metres, such as 1234.567", strings.ToUpper(key))
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || strings.Trim(s, "+-0123456789.") != "" || x > 1e9 || x < -1e9 {
		return 0, r.fail(i, "%q is not a number of metres: expected one such as 1234.567", s)
	}
	return x, nil
}
