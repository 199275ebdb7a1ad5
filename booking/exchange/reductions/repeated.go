package reductions

import (
	"example.org/readback/booking"
	"example.org/readback/booking/reduction"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// A Repeated is what was measured several times as a check: its mean, which counts,
// and how far the largest and the smallest lie apart. Round and Face are those of a
// direction; an altitude has neither.
type Repeated struct {
	Quantity  string  `json:"quantity"` // horizontal, vertical, slope, target height, instrument height
	Round     int     `json:"round,omitempty"`
	Face      string  `json:"face,omitempty"`
	Target    string  `json:"target,omitempty"`
	Closing   bool    `json:"closing,omitempty"`
	Times     int     `json:"times"`
	MeanDeg   *Number `json:"mean_deg,omitempty"`
	SpreadSec *Number `json:"spread_sec,omitempty"`
	MeanM     *Number `json:"mean_m,omitempty"`
	SpreadM   *Number `json:"spread_m,omitempty"`
}

// repeatedOf lists what was measured several times in a setup.
func repeatedOf(s booking.Setup) (out []Repeated) {
	for _, h := range reduction.RepeatedHalves(s) {
		for _, x := range h.Sights {
			out = append(out, Repeated{Quantity: x.Slot.Quantity.String(), Round: h.Round, Face: h.Face.String(), Target: x.Slot.Target, Closing: x.Slot.Closing,
				Times: len(x.Readings), MeanDeg: degrees(x.Mean.Angle()), SpreadSec: seconds(x.Spread)})
		}
	}
	for _, r := range reduction.Repeats(s) {
		x := Repeated{Quantity: r.Quantity.String(), Target: r.Target, Times: r.N}
		if r.Quantity.Angular() {
			x.MeanDeg, x.SpreadSec = degrees(reduce.Angle(r.Mean)), seconds(reduce.Angle(r.Spread))
		} else {
			x.MeanM, x.SpreadM = rounded(lengths.Length(r.Mean).Metres(), 9), rounded(lengths.Length(r.Spread).Metres(), 9)
		}
		out = append(out, x)
	}
	return out
}
