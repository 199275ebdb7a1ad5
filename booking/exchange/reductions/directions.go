package reductions

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/exchange"
	"example.org/readback/booking/reduction"
)

// The columns of the directions file.
var directionColumns = []string{"setup", "station", "reference", "target", "direction", "unit", "direction_deg",
	"sd_sec", "spread_sec", "rounds", "agrees", "altitude_deg", "horizontal_m", "height_difference_m", "verdict", "observer", "observed", "book", "booker", "book_id",
	"displayed_m", "air_m", "prism_m", "to_level_m", "sea_level_m", "scale_m"}

// A DirectionsWriter writes the final directions of setups as CSV (RFC 4180): a
// row for each target, the reference object first. A value that does not exist
// is an empty cell.
type DirectionsWriter struct{ csv *csv.Writer }

// NewDirectionsWriter begins the file with its header.
func NewDirectionsWriter(w io.Writer) (*DirectionsWriter, error) {
	c := csv.NewWriter(w)
	c.UseCRLF = true
	return &DirectionsWriter{c}, c.Write(directionColumns)
}

// Setup writes the directions of a setup of a book: of every target
// that has a direction or an altitude. The verdict of a drill begins with "drill, ".
func (w *DirectionsWriter) Setup(s booking.Setup, from exchange.Source, drill bool) error {
	r := reduction.Of(s)
	verdict, f := check.JudgeReduction(s, r).Word(), formOf(s)
	if drill {
		verdict = "drill, " + verdict
	}
	observed := ""
	if from, _, ok := s.Observed(); ok {
		observed = from.UTC().Format(time.RFC3339)
	}
	for _, name := range s.Spec.Sighted() {
		cells, ok := directionCells(name, r, f)
		if !ok {
			continue
		}
		row := append([]string{strconv.Itoa(s.Number), exchange.Shield(s.Spec.Station), exchange.Shield(s.Spec.RO), exchange.Shield(name)}, cells...)
		row = append(row, verdict, exchange.Shield(s.Spec.Observer), observed, exchange.Shield(from.Name), exchange.Shield(s.Spec.Booker), from.Short())
		if err := w.csv.Write(append(row, correctionCells(name, r)...)); err != nil {
			return err
		}
	}
	return nil
}

// directionCells returns the cells from direction to height_difference_m; ok is
// false where the target has neither direction nor altitude.
func directionCells(name string, r reduction.Reduction, f form) (cells []string, ok bool) {
	cells = make([]string, 10)
	for _, d := range r.Directions {
		if d.Target == name {
			cells, ok = append(measuredCells(d, r, f), cells[7:]...), true
		}
	}
	if name == f.spec.RO && len(r.Directions) > 0 {
		zero := measuredCells(reduction.DirectionResult{Rounds: len(r.Comparison.Rounds)}, r, f)
		copy(cells, zero[:3]) // where directions begin: without a deviation or a spread
		cells[5], ok = zero[5], true
	}
	for _, v := range r.Verticals {
		if v.Target == name {
			j := verticalOf(v, f)
			cells[7], cells[8], cells[9] = plain(j.AltitudeDeg), plain(j.Horizontal), plain(j.Rise)
			ok = ok || v.HasPair
		}
	}
	return cells, ok
}

// correctionCells are the distance as it was displayed and the corrections as they are
// added, metres; empty where no correction of distances is agreed.
func correctionCells(name string, r reduction.Reduction) []string {
	cells := make([]string, 6)
	for _, v := range r.Verticals {
		if d := v.Work; d != nil && v.Target == name {
			for i, m := range [...]float64{d.Displayed, d.Atmosphere, d.Prism, d.Bow, d.SeaLevel, d.Scale} {
				cells[i] = strconv.FormatFloat(math.Round(m*1e6)/1e6, 'f', -1, 64)
			}
		}
	}
	return cells
}

// measuredCells returns the cells from direction to agrees.
func measuredCells(d reduction.DirectionResult, r reduction.Reduction, f form) []string {
	j := directionOf(d, r, f)
	agrees := ""
	if j.Agrees != nil {
		agrees = strconv.FormatBool(*j.Agrees)
	}
	unit := f.spec.Instrument.Unit
	return []string{exchange.AngleText(d.Direction, unit, f.places), unit.String(), plain(&j.DirectionDeg),
		plain(j.SD), plain(j.Spread), strconv.Itoa(d.Rounds), agrees}
}

// Flush writes out what is buffered and returns the first error of all.
func (w *DirectionsWriter) Flush() error {
	w.csv.Flush()
	return w.csv.Error()
}

func plain(n *Number) string {
	if n == nil {
		return ""
	}
	return strconv.FormatFloat(float64(*n), 'f', -1, 64)
}
