package network

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/readback/booking/event"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/lengths"
)

// ParseLevels reads levelled differences of height as CSV with the header
// from,to,rise,sd: the rise in metres, its standard deviation in millimetres. The
// error names the line and what was expected.
func ParseLevels(data []byte) ([]event.LevelledRise, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\uFEFF"))))
	r.TrimLeadingSpace = true
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("levelled differences: %w: expected lines of from,to,rise,sd", err)
	}
	if len(rows) < 2 || strings.ToLower(strings.Join(rows[0], ",")) != "from,to,rise,sd" {
		return nil, fmt.Errorf("levelled differences, line 1: expected the header from,to,rise,sd and lines below it, the rise in metres, sd in millimetres")
	}
	var out []event.LevelledRise
	for i, row := range rows[1:] {
		l, _, err := ParseLevel([4]string(row))
		if err != nil {
			return nil, fmt.Errorf("levelled differences, line %d: %w", i+2, err)
		}
		out = append(out, l)
	}
	return out, nil
}

// ParseLevel reads one levelled difference: from, to, the rise in metres, its standard
// deviation in millimetres, behind a full stop or a comma. The error says what was
// expected; bad is the text that it is about, −1 without one.
func ParseLevel(texts [4]string) (l event.LevelledRise, bad int, err error) {
	l.From, l.To = strings.TrimSpace(texts[0]), strings.TrimSpace(texts[1])
	rise, errRise := decimal.Parse(texts[2])
	sd, errSD := decimal.Parse(texts[3])
	switch {
	case l.From == "":
		return l, 0, errors.New("expected the names of two points")
	case l.To == "" || l.From == l.To:
		return l, 1, errors.New("expected the names of two points")
	case errRise != nil || !(math.Abs(rise) < 1e4):
		return l, 2, fmt.Errorf("%q is not a rise: expected metres, such as -1.2345", texts[2])
	case errSD != nil || !(sd > 0 && sd <= 1000):
		return l, 3, fmt.Errorf("%q is not a standard deviation: expected millimetres, more than 0 and at most 1000", texts[3])
	}
	l.Rise, l.SD = lengths.FromMetres(rise), lengths.FromMetres(sd/1000)
	return l, -1, nil
}
