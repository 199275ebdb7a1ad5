package results

import (
	"encoding/csv"
	"io"
	"strconv"

	"example.org/readback/booking"
	"example.org/readback/booking/readings"
)

// The columns of the directions file.
var directionColumns = []string{"setup", "station", "reference", "target", "direction", "unit", "direction_deg",
	"sd_sec", "spread_sec", "rounds", "agrees", "altitude_deg", "horizontal_m", "height_difference_m", "verdict"}

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

// Setup writes the directions of a setup.
func (w *DirectionsWriter) Setup(s booking.Setup) error {
	r := s.Reduce()
	verdict := s.VerdictOf(r).Word()
	heights := map[string]Vertical{}
	for _, v := range r.Verticals {
		heights[v.Target] = verticalOf(v, s.Spec)
	}
	all := r.Directions
	if len(all) > 0 || len(heights) > 0 {
		all = append([]booking.DirectionResult{{Target: s.Spec.RO, Rounds: len(r.Comparison.Rounds)}}, all...)
	}
	for i, d := range all {
		j := directionOf(d, r, s.Spec)
		if i == 0 {
			j.SD, j.Spread, j.Agrees = nil, nil, nil // the reference object is where directions begin
		}
		agrees := ""
		if j.Agrees != nil {
			agrees = strconv.FormatBool(*j.Agrees)
		}
		v := heights[d.Target]
		if err := w.csv.Write([]string{
			strconv.Itoa(s.Number), readings.Shield(s.Spec.Station), readings.Shield(s.Spec.RO), readings.Shield(d.Target),
			readings.AngleText(d.Direction, s.Spec.Instrument.Unit, meanPlaces(s.Spec)), s.Spec.Instrument.Unit.String(), plain(&j.DirectionDeg),
			plain(j.SD), plain(j.Spread), strconv.Itoa(d.Rounds), agrees,
			plain(v.AltitudeDeg), plain(v.Horizontal), plain(v.Rise), verdict,
		}); err != nil {
			return err
		}
	}
	return nil
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
