package exchange

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/lengths"
)

// A Writer writes a readings file. Nothing is kept of a row once it is written.
type Writer struct {
	csv   *csv.Writer
	cells [numColumns]string
	from  [numColumns - colObserver]string
	err   error
}

// A Source is the book that rows come from: what its file is called, and the first
// digits of its identity.
type Source struct{ Name, ID string }

// identityDigits is how much of a book's identity stands in a row.
const identityDigits = 16

// Short is so much of the identity as a row has.
func (f Source) Short() string { return f.ID[:min(identityDigits, len(f.ID))] }

// comes notes where the rows of a setup come from.
func (w *Writer) comes(s booking.Setup, from Source) {
	w.from = [...]string{Shield(s.Spec.Observer), Shield(s.Spec.Booker), Shield(from.Name), from.Short()}
}

// NewWriter begins a readings file with its header. Lines end as RFC 4180 has
// it, with carriage return and line feed.
func NewWriter(w io.Writer) *Writer {
	c := csv.NewWriter(w)
	c.UseCRLF = true
	out := &Writer{csv: c}
	out.err = c.Write(columns[:])
	return out
}

// Setup writes every reading of a setup.
func (w *Writer) Setup(s booking.Setup, from Source) error {
	w.comes(s, from)
	for _, r := range rows(s) {
		if err := w.row(r); err != nil {
			return err
		}
	}
	return w.err
}

// DrillMark begins the remark of the first row of a setup that was a drill.
const DrillMark = "DRILL: never observed."

// Drill writes every reading of a setup that was a drill, the first row with
// DrillMark in its remark.
func (w *Writer) Drill(s booking.Setup, from Source) error {
	w.comes(s, from)
	for i, r := range rows(s) {
		if i == 0 {
			r.Remark = strings.TrimSpace(DrillMark + "\n" + r.Remark)
		}
		if err := w.row(r); err != nil {
			return err
		}
	}
	return w.err
}

// row writes one row.
func (w *Writer) row(r row) error {
	if w.err != nil {
		return w.err
	}
	order := "" // by halves
	if r.Order != spec.ByHalves {
		order = spec.Spec{Order: r.Order, Repetitions: r.Times}.Ordered()
	}
	w.cells = [numColumns]string{strconv.Itoa(r.Setup), Shield(r.Station), roundText(r), r.Face.String(), Shield(r.Target),
		r.Quantity.String(), r.Text, r.Unit, r.Time, Shield(r.Struck), Shield(r.Remark), order,
		w.from[0], w.from[1], w.from[2], w.from[3]}
	w.err = w.csv.Write(w.cells[:])
	return w.err
}

// Flush writes out what is buffered and returns the first error of all.
func (w *Writer) Flush() error {
	w.csv.Flush()
	if w.err == nil {
		w.err = w.csv.Error()
	}
	return w.err
}

// rows returns the readings of a setup as rows, in the order they were booked,
// so that reading them back gives the setup's own reductions. Three things
// differ from the book:
//
//   - the readings of a round that was left out, and those left out alone, stand
//     as struck, with the reason;
//   - a reading of the RO that was struck and read again later has the new
//     figure written beside it, and its two sights in a half come in the order
//     of the programme, even where one was hidden at first;
//   - the first sight of the RO comes first where another target was sighted
//     before it, because the first horizontal row names the RO.
func rows(s booking.Setup) []row {
	readings := inOrder(s)
	remarks := remarksOf(s)
	rows := make([]row, 0, len(readings))
	for _, r := range readings {
		row := row{
			Setup: s.Number, Station: s.Spec.Station, Round: r.Slot.Round, Face: r.Slot.Face, Target: r.Slot.Target,
			Repeat: r.Slot.Repeat, Closing: r.Slot.Closing && (r.Slot.Repeat > 0 || r.Slot.Target != s.Spec.RO), Quantity: r.Slot.Quantity, Text: text(r, s.Spec), Value: r.Value, Unit: lengthUnit(s.Spec), Time: timeOf(r, s.Spec),
			Remark: remarks[r.Seq], Order: s.Spec.Order, Times: s.Spec.Repetitions,
		}
		if r.Slot.Quantity.Angular() {
			row.Unit = s.Spec.Instrument.Unit.String()
		}
		if round, ok := s.Round(r.Slot.Round); ok && round.LeftOut != nil {
			row.Struck = oneReason(leftOut + round.LeftOut.Reason)
		}
		if r.LeftOut != nil {
			row.Struck = oneReason(leftOutReading + r.LeftOut.Reason)
		}
		if r.Struck != nil {
			row.Struck = oneReason(r.Struck.Reason)
		}
		rows = append(rows, row)
	}
	return rows
}

// lengthUnit is the unit that lengths are written in.
func lengthUnit(agreed spec.Spec) string {
	if agreed.LengthUnit == lengths.USFeet {
		return lengths.Metres.String()
	}
	return agreed.LengthUnit.String()
}

// oneReason never is empty: an empty cell would say that the reading stands.
func oneReason(reason string) string {
	if reason = clean(reason); reason == "" {
		return "struck"
	}
	return reason
}

// timeOf returns when a reading was made. One that was keyed afterwards without
// its time has none: when it was keyed is not when it was made.
func timeOf(r booking.Reading, agreed spec.Spec) string {
	switch {
	case r.ReadAt != "":
		return r.ReadAt
	case agreed.KeyedAfterwards != nil || r.At.IsZero():
		return ""
	}
	return r.At.UTC().Format(time.RFC3339)
}

// remarksOf gathers the remarks beside each reading, one a line, and what was put
// right in the setup beside the last reading booked before it, or the first.
func remarksOf(s booking.Setup) map[uint64]string {
	remarks := map[uint64]string{}
	for _, m := range s.Remarks {
		if m.On == 0 {
			continue
		}
		remarks[m.On] = strings.TrimSpace(remarks[m.On] + "\n" + clean(m.Text))
	}
	if len(s.Readings) == 0 {
		return remarks
	}
	for _, a := range s.Amended {
		on := s.Readings[0].Seq
		for _, r := range s.Readings {
			if r.Seq < a.Seq {
				on = max(on, r.Seq)
			}
		}
		text := amended + strings.Join(a.Changes(), "; ")
		if a.Reason != "" {
			text += ". Reason: " + a.Reason
		}
		remarks[on] = strings.TrimSpace(remarks[on] + "\n" + clean(text))
	}
	if s.Void != nil { // its readings are all struck
		on := s.Readings[0].Seq
		remarks[on] = strings.TrimSpace(remarks[on] + "\n" + clean(struckWhole+s.Void.Reason))
	}
	return remarks
}

// What begins the remarks that say what was put right in a setup, and that it was struck.
const (
	amended     = "The setup was amended: "
	struckWhole = "The setup was struck as a whole: "
)
