//go:build unix

package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/booking"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/testdata"
)

// A caller answers what the screen asks for.
type caller interface{ reads(asked string) string }

// simulated is an observer who reads each pointing once and, asked to read again,
// finds the same.
type simulated struct{ *observer.Observer }

func (o simulated) reads(asked string) string {
	stage, target := asksStage.FindStringSubmatch(asked), asksTarget.FindStringSubmatch(asked)[1]
	slot := spec.Slot{Target: target, Quantity: spec.Horizontal, Face: faces.FL}
	round := 1
	switch {
	case stage[4] != "":
		slot.Quantity = spec.Vertical
	default:
		round = int(stage[1][0] - '0')
		slot.Round = round
	}
	if stage[3] == "right" || stage[4] == "right" {
		slot.Face = faces.FR
	}
	return o.Call(booking.Setup{Spec: o.Spec, Rounds: make([]booking.Round, round-1)}, slot, 0).Text
}

// Ten stations are booked by keys on the built program, several instruments, σ stated
// and not, by a booker who confirms what is read again: sound ones are lifted, spoiled
// ones are held and what was done wrong is among what is named. What is said is logged, to
// be read.
func TestVerdict_TenStationsByKeys(t *testing.T) {
	if !*testdata.Long {
		t.Skip("ten stations by keys: -long")
	}
	const s = reduce.Arcsecond
	mgon := reduce.Milligon
	for i, c := range []struct {
		name       string
		unit       reduce.Unit
		least      reduce.Angle
		sigma      reduce.Angle // of one reading
		stated     string       // σ of a direction as the crew states it, in the small unit; empty: not stated
		targets    int
		fault      []observer.Fault
		held, told string
	}{
		{"sound, 5″, σ stated", reduce.DMS, 5 * s, 3 * s, "2", 3, nil, "", ""},
		{"sound, 1″, σ not stated", reduce.DMS, s, 2 * s, "", 5, nil, "", ""},
		{"sound, 0.1 mgon, σ stated", reduce.GonUnit, mgon / 10, mgon * 85 / 100, "0.6", 3, nil, "", ""},
		{"30″ off, 0.1 mgon, σ not stated", reduce.GonUnit, mgon / 10, mgon * 85 / 100, "", 4, []observer.Fault{{Round: 1, Face: faces.FR, Target: "Quarry", By: 30 * s}}, "stays", "Quarry"},
		{"digits exchanged, 10″, σ not stated", reduce.DMS, 10 * s, 3 * s, "", 5, []observer.Fault{{Round: 2, Face: faces.FL, Target: "Alder", Exchanged: true}}, "stays", "Alder"},
		{"a kick, 1″, σ stated", reduce.DMS, s, 3 * s, "2", 4, []observer.Fault{{Round: 2, Face: faces.FR, From: 2, By: 42 * s}}, "stays", "turned"},
		{"another target on both faces, 5″, σ 5″ stated", reduce.DMS, 5 * s, 7 * s, "5", 3, []observer.Fault{{Round: 2, Target: "Mast", Sighted: "Alder"}}, "stays", "Mast"},
		{"a drift, 5″, σ not stated", reduce.DMS, 5 * s, 3 * s, "", 5, []observer.Fault{{Each: 8 * s}}, "stays", "turning slowly"},
		{"the RO 40″ off, 5″, σ stated", reduce.DMS, 5 * s, 3 * s, "2", 3, []observer.Fault{{Round: 1, Face: faces.FL, Target: "Alder", By: 0}, {Round: 1, Face: faces.FL, Target: "Spire", By: 40 * s}}, "stays", "Spire"},
		{"a vertical reading 60″ off, 1″, σ not stated", reduce.DMS, s, 3 * s, "", 4, []observer.Fault{{Quantity: spec.Vertical, Face: faces.FR, Target: "Mast", By: 60 * s}}, "stays", "Mast"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			o := observer.New(observer.Options{Seed: uint64(1300 + i), Unit: c.unit, LeastCount: c.least, Sigma: c.sigma, Targets: c.targets, Hilly: true, Faults: c.fault})
			least := fmt.Sprintf("READBACK_LEAST_COUNT=%g", c.least.Seconds())
			if c.unit == reduce.GonUnit {
				least = fmt.Sprintf("READBACK_LEAST_COUNT=%g", float64(c.least)/float64(mgon))
			}
			env := []string{"READBACK_UNIT=" + c.unit.String(), least, "READBACK_OBSERVER=Ines Holm", "READBACK_BOOKER=Tam Okoro", "READBACK_INSTRUMENT=T-5", "READBACK_SERIAL=4471"}
			if c.stated != "" {
				env = append(env, "READBACK_SIGMA="+c.stated)
			}
			b := bookerAt(openEnv(t, 100, 44, env, "book", filepath.Join(t.TempDir(), "ten.book"))).sees("New setup")
			b.writes(o.Spec.Station, o.Spec.RO, strings.Join(o.Spec.Targets, ", "), "1.500").presses(pageDown, "o").sees(o.Spec.Station + " setup 1")
			b.answersAll(simulated{o}).presses("l").sees("Directions from " + o.Spec.RO)
			said := b.screen()
			t.Logf("%s\n%s", c.name, said)
			if c.held == "" && !strings.Contains(said, "Every check is met") {
				t.Error("a sound station is held")
			}
			if c.held != "" && (!strings.Contains(said, "The tripod stays") || !strings.Contains(squeezed(said), c.told)) {
				t.Errorf("held %q, told %q", c.held, c.told)
			}
			b.leaves()
		})
	}
}
