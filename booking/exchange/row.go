package exchange

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
)

// A row is one row of a readings file: one reading.
type row struct {
	Line     int // of its first character in the file; 0 when it comes from a book
	Setup    int // 1, 2, …
	Station  string
	Round    int  // 0: none
	Repeat   int  // 1, 2, … where it was measured again as a check
	Closing  bool // of a sight of the RO that was read again: the one that closes its half
	Face     faces.Face
	Target   string
	Quantity spec.Quantity
	Text     string // the reading as written
	Value    int64  // reduce.Angle or lengths.Length, by Quantity
	Unit     string // dms, gon, deg, mil, m, ft
	Time     string // RFC 3339; empty: not given
	Struck   string // the reason; empty: it stands
	Remark   string
	Order    spec.Order // in which the rounds of the setup were observed
	Times    int        // by repetition, how often the angle was turned

	slot spec.Slot // the pointing it belongs to, once its setup is worked
}

// The largest numbers that a file may hold.
const (
	mostSetups = 1_000_000
	mostRounds = 99
)

// A rowReader reads the cells of one row.
type rowReader struct {
	file   string
	lay    layout
	cells  []string
	lines  func(cell int) int
	faults faults
}

// fault notes what is wrong with a column of this row.
func (r *rowReader) fault(col int, format string, args ...any) {
	cell := max(r.lay[col], 0)
	r.faults = append(r.faults, &fault{File: r.file, Line: r.lines(cell), Column: r.lay[col] + 1, Name: columns[col],
		What: fmt.Sprintf(format, args...)})
}

// text returns the text of a column, empty when the file lacks it.
func (r *rowReader) text(col int) string {
	if r.lay[col] < 0 {
		return ""
	}
	cell := r.cells[r.lay[col]]
	if !utf8.ValidString(cell) {
		r.fault(col, "%s is not UTF-8: expected a file saved as UTF-8", quoted(cell))
	}
	return clean(cell)
}

// row reads the row; r.faults holds what is wrong with it.
func (r *rowReader) row() row {
	row := row{Line: r.lines(0)}
	row.Setup = r.number(colSetup, mostSetups)
	row.Station = r.name(colStation, true)
	row.Target = r.name(colTarget, false)
	row.Time = r.text(colTime)
	row.Struck = r.text(colStruck)
	row.Remark = r.text(colRemark)
	row.Order, row.Times = r.order()
	if row.Time != "" {
		if _, err := time.Parse(time.RFC3339, row.Time); err != nil {
			r.fault(colTime, "%s is not a time: expected RFC 3339, such as 2026-05-04T08:15:30Z", quoted(row.Time))
		}
	}
	var err error
	if row.Face, err = parseFace(r.text(colFace)); err != nil {
		r.fault(colFace, "%s is not a face: expected FL, FR or nothing", quoted(r.text(colFace)))
	}
	if row.Quantity, err = spec.ParseQuantity(r.text(colQuantity)); err != nil {
		r.fault(colQuantity, "%s is not a quantity: expected horizontal, vertical, slope, target height, instrument height or accumulated", quoted(r.text(colQuantity)))
		return row
	}
	r.place(&row)
	r.reading(&row)
	return row
}

// order reads the order of observing; empty is by halves.
func (r *rowReader) order() (o spec.Order, times int) {
	t := r.text(colOrder)
	if t == "" {
		return spec.ByHalves, 0
	}
	o, times, err := spec.ParseOrder(t)
	if err != nil {
		r.fault(colOrder, "%s is no order of observing: expected %s or nothing", quoted(t), orders)
	}
	return o, times
}

// orders are the words of an order of observing.
var orders = fmt.Sprintf("%s, %s, %s and how often, such as %s", spec.ByHalves, spec.ByTarget, spec.ByRepetition,
	spec.Spec{Order: spec.ByRepetition, Repetitions: spec.UsualRepetitions}.Ordered())

// number reads a whole number from 1 to most.
func (r *rowReader) number(col, most int) int {
	t := r.text(col)
	if t == "" {
		r.fault(col, "the %s is empty: expected 1, 2, …", columns[col])
		return 0
	}
	n, err := strconv.Atoi(t)
	if err != nil || n < 1 || t[0] == '+' {
		r.fault(col, "%s is not a number: expected 1, 2, …", quoted(t))
		return 0
	}
	if n > most {
		r.fault(col, "%s is too large: expected 1 to %d", quoted(t), most)
	}
	return n
}

// closes follows the round of a sight that closes its half, where the order of the
// rows does not tell: of the RO where it was read again, and of a further reference
// object.
const closes = " closing"

// round reads the round of a horizontal reading: a number, and behind it b, c, …
// where the sight was read again in the same round, "2b", and "2b closing" for the
// second sight of the RO in its half; "2 closing" for that of a further reference object.
func (r *rowReader) round(row *row) {
	t := r.text(colRound)
	number, closing := strings.CutSuffix(t, closes)
	again := strings.TrimLeft(number, "0123456789")
	if n, err := strconv.Atoi(number); closing && again == "" && err == nil && n >= 1 && n <= mostRounds {
		row.Round, row.Closing = n, true
		return
	}
	if len(again) != 1 || again[0] < 'b' || again[0] > 'a'+spec.MaxRepeats {
		row.Round = r.number(colRound, mostRounds)
		return
	}
	n, err := strconv.Atoi(strings.TrimSuffix(number, again))
	if err != nil || n < 1 || n > mostRounds {
		r.fault(colRound, "%s is not a round: expected 1, 2, …, or 2b, 2c, … where a sight was read again", quoted(t))
		return
	}
	row.Round, row.Repeat, row.Closing = n, int(again[0]-'a'), closing
}

// roundText writes what round reads.
func roundText(r row) string {
	switch {
	case !r.Quantity.OfRound() && r.Repeat > 0:
		return strconv.Itoa(r.Repeat + 1)
	case r.Round == 0:
		return ""
	case r.Repeat == 0 && r.Closing:
		return strconv.Itoa(r.Round) + closes
	case r.Repeat == 0:
		return strconv.Itoa(r.Round)
	case r.Closing:
		return fmt.Sprintf("%d%c%s", r.Round, 'a'+r.Repeat, closes)
	}
	return fmt.Sprintf("%d%c", r.Round, 'a'+r.Repeat)
}

// name reads the name of a station or a target.
func (r *rowReader) name(col int, must bool) string {
	t := r.text(col)
	switch {
	case t == "" && must:
		r.fault(col, "the %s is empty: expected its name", columns[col])
	case hasControl(t):
		r.fault(col, "%s holds a control character: expected a name on one line", quoted(t))
	}
	return t
}

// place holds round, face and target against what the quantity has.
func (r *rowReader) place(row *row) {
	q := row.Quantity
	switch {
	case q.OfRound():
		r.round(row)
	case r.text(colRound) != "":
		if row.Repeat = r.number(colRound, spec.MaxRepeats+1) - 1; row.Repeat < 1 {
			r.fault(colRound, "%s: a reading of quantity %s belongs to no round: expected nothing, or 2, 3, … where it was measured again", quoted(r.text(colRound)), q)
		}
	}
	switch {
	case q.Angular() && r.text(colFace) == "":
		r.fault(colFace, "the face of a circle reading is empty: expected FL or FR")
	case !q.Angular() && row.Face != faces.NoFace:
		r.fault(colFace, "%s: a reading of quantity %s has no face: expected nothing", row.Face, q)
	}
	switch {
	case q != spec.InstrumentHeight && row.Target == "":
		r.fault(colTarget, "the target is empty: expected what was sighted")
	case q == spec.InstrumentHeight && row.Target != "" && row.Target != row.Station:
		r.fault(colTarget, "%s: an instrument height has no target: expected nothing", quoted(row.Target))
	case q == spec.InstrumentHeight:
		row.Target = ""
	case row.Target == row.Station:
		r.fault(colTarget, "%s is the station itself: expected what was sighted from it", quoted(row.Target))
	}
}

// reading reads the reading in its unit.
func (r *rowReader) reading(row *row) {
	row.Text, row.Unit = r.text(colReading), r.text(colUnit)
	_, angular := reduce.UnitOf(row.Unit)
	switch {
	case !angular && row.Unit != "m" && row.Unit != "ft":
		r.fault(colUnit, "%s is not a unit: expected dms, gon, deg, mil, m or ft", quoted(row.Unit))
		return
	case angular && !row.Quantity.Angular():
		r.fault(colUnit, "%s is no unit of a length: expected m or ft", row.Unit)
		return
	case !angular && row.Quantity.Angular():
		r.fault(colUnit, "%s is no unit of a circle reading: expected dms, gon, deg or mil", row.Unit)
		return
	}
	var err error
	if row.Value, err = parseReading(row.Text, row.Unit); err != nil {
		r.fault(colReading, "%s", readingFault(err, row.Unit))
	}
}

// parseReading reads the written form of a reading.
func parseReading(text, unit string) (int64, error) {
	if u, ok := reduce.UnitOf(unit); ok {
		a, err := reduce.ParseWritten(text, u)
		return int64(a), err
	}
	if unit == "ft" {
		l, err := lengths.Parse(text, lengths.Feet)
		return int64(l), err
	}
	l, err := lengths.Parse(text, lengths.Metres)
	return int64(l), err
}

// readingFault says what is wrong with a reading and how it is written.
func readingFault(err error, unit string) string {
	var p *reduce.ParseError
	if !errors.As(err, &p) {
		return err.Error()
	}
	at := utf8.RuneCountInString(p.Input[:min(p.Offset, len(p.Input))]) + 1
	if p.Form {
		return fmt.Sprintf("%s is not a reading in %s: %s (character %d)", quoted(p.Input), unit, p.What, at)
	}
	form := map[string]string{"m": "12.345", "ft": "40.50"}[unit]
	if u, ok := reduce.UnitOf(unit); ok {
		form = u.Example()
	}
	return fmt.Sprintf("%s is not a reading in %s: %s (character %d); expected a reading such as %s",
		quoted(p.Input), unit, p.What, at, form)
}

// parseFace reads the words of a face: FL, FR or nothing.
func parseFace(s string) (faces.Face, error) {
	for _, f := range []faces.Face{faces.NoFace, faces.FL, faces.FR} {
		if s == f.String() {
			return f, nil
		}
	}
	return 0, fmt.Errorf("face %q: expected FL, FR or nothing", s)
}
