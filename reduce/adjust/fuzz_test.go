package adjust

import (
	"encoding/binary"
	"math"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// FuzzAdjust makes sights and single readings of any bytes: no panic, no figure
// that is no number, every result in its range.
func FuzzAdjust(f *testing.F) {
	f.Add([]byte{}, uint8(1), uint8(1))
	f.Add([]byte{0, 0, 1, 2, 3, 4, 5, 6, 7, 8, 0, 1, 9, 9, 9, 9, 9, 9, 9, 9}, uint8(1), uint8(2))
	f.Add([]byte{0, 0, 255, 255, 255, 255, 255, 255, 255, 127, 1, 129, 0, 0, 0, 0, 0, 0, 0, 128}, uint8(2), uint8(2))
	f.Fuzz(func(t *testing.T, b []byte, rounds, targets uint8) {
		var sights []Sight
		var single []Reading
		for ; len(b) >= 10 && len(sights) < 200; b = b[10:] {
			v := reduce.Angle(binary.LittleEndian.Uint64(b[2:]))
			i, j := int(b[0]%6), int(b[1]%6)
			sights = append(sights, Sight{i, j, reduce.DirectionAt(v)})
			single = append(single, Reading{i, j, faces.FL + faces.Face(b[1]>>7), reduce.DirectionAt(v)})
		}
		if st, err := Sights(sights, int(rounds%8), int(targets%8)); err == nil {
			checkFinite(t, st.Directions, st.Residuals, st.S0)
			for k := range sights {
				checkFinite(t, nil, []float64{st.Redundancy(k)}, st.MeanSD(sights[k].Target))
			}
		}
		if x, err := Readings(single, int(rounds%8), int(targets%8)); err == nil {
			checkFinite(t, x.Directions, x.Residuals, x.S0)
			checkFinite(t, x.Orientations, x.Redundancy, x.Collimation)
		}
	})
}

func checkFinite(t *testing.T, directions []reduce.Direction, values []float64, more ...float64) {
	t.Helper()
	for _, d := range directions {
		if d.Angle() < 0 || d.Angle() >= reduce.Turn {
			t.Fatalf("direction %v", d)
		}
	}
	for _, x := range append(append([]float64(nil), values...), more...) {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%g is no figure", x)
		}
	}
}
