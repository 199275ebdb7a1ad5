package tui

import (
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/tui/look"
	"example.org/readback/tui/plot"
	"example.org/readback/tui/widget"
)

// traverseOf makes the plan of a figure; ok is false where it has no
// coordinates.
func traverseOf(f network.Figure, current string) (t plot.Traverse, ok bool) {
	if f.Result == nil || f.Result.Carried == nil || len(f.Result.Carried.Points) == 0 {
		return t, false
	}
	c := f.Result.Carried
	t.Closed, t.Current = f.Kind == network.Ring, -1
	for i, p := range c.Points {
		if i >= len(f.Stations) {
			break
		}
		t.Places = append(t.Places, plot.Place{Name: f.Stations[i], E: p.E, N: p.N})
		if f.Stations[i] == current {
			t.Current = i
		}
	}
	if c.Linear != nil {
		t.DE, t.DN = c.Linear.Closing.E, c.Linear.Closing.N
	}
	return t, true
}

// drawPlan draws the first figure that has coordinates; it tells whether there
// was one.
func drawPlan(a widget.Area, r *network.Report) bool {
	if r == nil {
		return false
	}
	for _, f := range r.Figures {
		t, ok := traverseOf(f, r.Current.Station)
		if !ok {
			continue
		}
		a.Text(0, 0, look.Strong, widget.Cut(a.Theme().Rewrite(f.Title()+", "+f.State()), a.W))
		t.Draw(a.Sub(0, 1, a.W, a.H-1))
		return true
	}
	return false
}

// drawHistory draws the errors of the instruments from setup to setup, one under
// the other; it tells whether there was one.
func drawHistory(a widget.Area, is []instrument.Instrument) bool {
	const rows = 7
	y := 0
	for _, i := range is {
		for _, s := range i.Series {
			if len(s.Points) < 2 || y+rows > a.H {
				continue
			}
			p := plot.Series{Unit: "″", Limit: i.Due.Seconds()}
			for _, v := range s.Points {
				p.Values = append(p.Values, v.Seconds)
			}
			a.Text(0, y, look.Strong, widget.Cut(i.Name+" "+i.Serial+", "+s.Name+" from setup to setup", a.W))
			p.Draw(a.Sub(0, y+1, a.W, rows-2))
			y += rows
		}
	}
	return y > 0
}
