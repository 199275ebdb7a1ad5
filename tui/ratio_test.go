package tui

import (
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// BenchmarkRatio draws a long station beside a fixed frame, turn by turn in one
// run, and reports how many fixed frames a view and a key with its view take.
// What .ci/ratios notes may at most double; times of another machine say nothing.
func BenchmarkRatio(b *testing.B) {
	d := full(newDriver(b, &fakePort{}, Options{}))
	d.size(100, 30)
	keys := []tea.Msg{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("2")}, tea.KeyMsg{Type: tea.KeyBackspace}}
	var fixed, view, key []time.Duration
	took := func(f func()) time.Duration {
		from := time.Now()
		f()
		return time.Since(from)
	}
	for i := 0; b.Loop(); i++ {
		fixed = append(fixed, took(func() { _ = fixedFrame() }))
		view = append(view, took(func() { _ = d.app.View() }))
		key = append(key, took(func() {
			d.app.Update(keys[i%2])
			_ = d.app.View()
		}))
	}
	median := func(ds []time.Duration) float64 {
		slices.Sort(ds)
		return float64(ds[len(ds)/2])
	}
	b.ReportMetric(median(view)/median(fixed), "view/fixed")
	b.ReportMetric(median(key)/median(fixed), "key/fixed")
}

// fixedFrame is a frame of 100 × 30 that stays as it is: rows of six cells, each
// cut to its width and coloured.
func fixedFrame() string {
	var b strings.Builder
	for range 30 {
		for range 6 {
			b.WriteString("\x1b[38;5;16;48;5;231m" + ansi.Truncate("242°14′11″ to the second decimal", 16, "…") + "\x1b[0m")
		}
		b.WriteByte('\n')
	}
	return b.String()
}
