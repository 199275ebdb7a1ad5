package network

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// ParseLevels reads levelled differences of height as CSV with the header
// from,to,rise,sd: the rise in metres, its standard deviation in millimetres. The
// error names the line and what was expected.
func ParseLevels(data []byte) ([]booking.LevelledRise, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\uFEFF"))))
	r.TrimLeadingSpace = true
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("levelled differences: %w: expected lines of from,to,rise,sd", err)
	}
	if len(rows) < 2 || strings.ToLower(strings.Join(rows[0], ",")) != "from,to,rise,sd" {
		return nil, fmt.Errorf("levelled differences, line 1: expected the header from,to,rise,sd and lines below it, the rise in metres, sd in millimetres")
	}
	var out []booking.LevelledRise
	for i, row := range rows[1:] {
		l := booking.LevelledRise{From: strings.TrimSpace(row[0]), To: strings.TrimSpace(row[1])}
		rise, err := strconv.ParseFloat(strings.TrimSpace(row[2]), 64)
		sd, errSD := strconv.ParseFloat(strings.TrimSpace(row[3]), 64)
		switch {
		case l.From == "" || l.To == "" || l.From == l.To:
			return nil, fmt.Errorf("levelled differences, line %d: expected the names of two points", i+2)
		case err != nil || !(math.Abs(rise) < 1e4):
			return nil, fmt.Errorf("levelled differences, line %d: %q is not a rise: expected metres, such as -1.2345", i+2, row[2])
		case errSD != nil || !(sd > 0 && sd <= 1000):
			return nil, fmt.Errorf("levelled differences, line %d: %q is not a standard deviation: expected millimetres, more than 0 and at most 1000", i+2, row[3])
		}
		l.Rise, l.SD = reduce.FromMetres(rise), reduce.FromMetres(sd/1000)
		out = append(out, l)
	}
	return out, nil
}
