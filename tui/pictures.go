package tui

import (
	"fmt"
	"math"

	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/decimal"
	"example.org/readback/reduce/faces"
	"example.org/readback/tui/look"
	"example.org/readback/tui/plot"
)

// panel is a picture in a frame with its title.
func (f *frame) panel(title string, lines []string, w int) []string {
	t := f.theme
	title = look.Brief(title, w-4)
	out := []string{t.Row().Put(look.Line, "┌ ").Put(look.Strong, title).Put(look.Line, " ").Fill(look.Line, "─", w-4-look.Width(title)).Put(look.Line, "┐").String()}
	for _, l := range lines {
		out = append(out, t.Row().Put(look.Line, "│ ").Add(look.FitLine(l, w-4), w-4).Put(look.Line, " │").String())
	}
	return append(out, t.Row().Put(look.Line, "└").Fill(look.Line, "─", w-2).Put(look.Line, "┘").String())
}

// drawPictures fills a column beside the entry or above the keypad: around the station,
// where there is room from the first pair on 2c, and in a tall window the progress.
func drawPictures(v *view, w, h int) []string {
	lines := []string{""}
	h -= 2
	var progress []string
	if h >= tallH-12 {
		progress = v.panel("Progress", progressLines(v, w-4), w)
		h -= len(progress)
	}
	pairs := v.twoCByPair()
	paired := len(pairs.Rounds) > 0 && h >= 16
	if paired {
		h -= 8
	}
	h = min(h, w/2+2) // as round as it can be
	lines = append(lines, v.panel("Around "+v.setup.Spec.Station, v.horizonOf().Draw(v.theme, w-4, h-2), w)...)
	if p := pairs.Draw(v.theme, w-4, 6); p != nil && paired {
		title := "2c by pair, limit "
		limit := size(v.setup.Spec, v.red.Comparison.Limits.TwoC.Value)
		if look.Width(title+limit) > w-4 {
			title = "2c, limit "
		}
		lines = append(lines, v.panel(title+limit, p, w)...)
	}
	return append(lines, progress...)
}

// twoCByPair is 2c of each pair booked, in the order of pointing.
func (w *work) twoCByPair() plot.Pairs {
	spec := w.setup.Spec
	p := plot.Pairs{Limit: w.red.Comparison.Limits.TwoC.Value.Seconds(), Label: func(x float64) string { return reduce.FormatTick(x, spec.Instrument.Unit) }}
	for _, r := range w.red.Rounds {
		var values []float64
		for _, x := range r.Pairs {
			if x.HasPair {
				values = append(values, x.TwoC.Seconds())
			}
		}
		if len(values) > 0 {
			p.Rounds, p.Names = append(p.Rounds, values), append(p.Names, "R"+itoa(r.Number))
		}
	}
	return p
}

// indexByPair is the index error of each vertical pair, in the order of the list.
func (w *work) indexByPair() plot.Pairs {
	spec := w.setup.Spec
	p := plot.Pairs{Limit: w.red.Comparison.Limits.Index.Value.Seconds(), Names: []string{""}, Label: func(x float64) string { return reduce.FormatTick(x, spec.Instrument.Unit) }}
	var values []float64
	for _, x := range w.red.Verticals {
		if x.HasPair {
			values = append(values, x.Index.Seconds())
		}
	}
	if len(values) > 0 {
		p.Rounds = [][]float64{values}
	}
	return p
}

// scaleUnit is the unit that the labels of a scale leave out.
func scaleUnit(spec spec.Spec) string { return reduce.SmallWord(spec.Instrument.Unit) }

// horizonOf is the plan of the targets whose direction was booked: what was not
// seen yet has no place on it. Done is what is booked of the half at work; where
// nothing is called any more, all of it.
func (w *work) horizonOf() plot.Horizon {
	h := plot.Horizon{}
	for _, name := range w.setup.Spec.Names() {
		d, ok := w.roughDirection(name)
		if !ok {
			continue
		}
		k := w.slot
		k.Target, k.Closing = name, false
		_, done := w.setup.At(k)
		h.Rays = append(h.Rays, plot.Ray{Name: name, Direction: d, Current: w.asks && w.slot.Target == name, Done: done || !w.asks})
	}
	return h
}

// roughDirection is the direction of a target to the RO from the first round
// that has both on one face.
func (w *work) roughDirection(name string) (reduce.Angle, bool) {
	ro := w.setup.Spec.RO
	if name == ro {
		return 0, true
	}
	for _, r := range w.setup.Rounds {
		for _, face := range []faces.Face{faces.FL, faces.FR} {
			k := spec.Slot{Quantity: spec.Horizontal, Round: r.Number, Face: face, Target: name}
			t, seen := w.setup.At(k)
			k.Target = ro
			o, tied := w.setup.At(k)
			if seen && tied {
				return (t.Angle() - o.Angle()).Normalize(), true
			}
		}
	}
	return 0, false
}

// strips are the columns of roundStrips: where the strip begins, and how wide name,
// strip, spread and word are. Without room for a strip its width is 0.
type strips struct{ name, at, room, note, word int }

// stripsOf lays the columns; final has the direction too.
func (l *leaf) stripsOf(of *work, final bool) strips {
	spec, w := of.setup.Spec, l.w
	x := strips{name: 8, note: max(look.Width(size(spec, 999*reduce.Arcsecond)), 7), word: 8}
	for _, t := range of.red.Comparison.Targets {
		x.name = max(x.name, min(look.Width(t.Target), w/5)+1)
	}
	x.at = x.name
	if final {
		x.at += look.Width(fine(spec, widest())) + 2
	}
	w = l.room()
	if x.room = w - x.at - x.note - x.word - 4; x.room < 15 {
		if x.room = 0; w < x.at+x.note+2+x.word {
			x.word = 1 // the mark alone
		}
	}
	return x
}

// roundStrips holds each target's directions by round against the limit of their
// spread, one row a target; final adds the direction that comes of them.
func (l *leaf) roundStrips(v *view, final bool) {
	spec, c, x := v.setup.Spec, v.red.Comparison, l.stripsOf(&v.work, final)
	name, at, room, note := x.name, x.at, x.room, x.note
	last := plot.Strip{Limit: c.Limit.Seconds()}
	for _, t := range c.Targets {
		row := v.theme.Row()
		mark, says, role := "", "✓ agrees", look.Ink
		if !t.Agrees {
			mark, says, role = "✗", "✗ apart", look.Out
		}
		if x.word == 1 {
			says = string([]rune(says)[:1])
		}
		if mark != "" {
			row.To(v.gutter()).Put(look.Out, mark)
		}
		names := look.Wrap(t.Target, name-1)
		row.To(v.edge()).Left(look.Ink, names[0], name)
		if final {
			row.Right(look.Strong, v.finalDirection(t.Target), at-name-2).To(row.Width() + 2)
		}
		if room > 0 {
			row.Add(stripOf(c.Limit, t).Draw(v.theme, room), room)
		}
		if len(t.Directions) > 1 {
			row.Right(look.Ink, size(spec, t.Spread), note).To(row.Width()+2).Put(role, says)
		}
		l.draw(row.String())
		for _, s := range names[1:] { // a long name goes on below
			l.add(ink{w: -1, text: s, role: look.Ink})
		}
		if v.h >= 40 {
			l.blank()
		}
	}
	if room > 0 && len(c.Targets) > 0 {
		l.draw(v.theme.Row().To(v.edge()+at).Add(last.Scale(v.theme, room, func(x float64) string { return reduce.FormatTick(x, spec.Instrument.Unit) }, scaleUnit(spec)), room).
			Right(look.Quiet, "spread", note).To(v.edge()+at+room+note+2).Put(look.Quiet, "of "+size(spec, c.Limit)).String())
	}
}

// finalDirection is the direction of a target from the RO over the rounds that
// count.
func (w *work) finalDirection(target string) string {
	for _, d := range w.red.Directions {
		if d.Target == target {
			return fine(w.setup.Spec, d.Direction)
		}
	}
	return ""
}

// stripOf is one target's directions by the number of their round, from the
// first of them.
func stripOf(limit reduce.Angle, t reduction.TargetSpread) plot.Strip {
	s := plot.Strip{Limit: limit.Seconds()}
	for _, d := range t.Directions {
		s.Marks = append(s.Marks, plot.Mark{Value: d.Direction.Sub(t.Directions[0].Direction).Seconds(), Sign: itoa(d.Round % 10)})
	}
	return s
}

// traverseOf makes the plan of a figure: the places of the one adjustment with
// their ellipses and the targets that no tripod stood on, where it stands in the same
// frame; ok is false where it has no coordinates.
func traverseOf(f network.Figure, r *network.Report) (t plot.Traverse, ok bool) {
	if f.Result == nil || f.Result.Carried == nil || len(f.Result.Carried.Points) == 0 {
		return t, false
	}
	c := f.Result.Carried
	t.Closed, t.Current, t.Unit = f.Kind == network.Ring, -1, f.Unit
	for i, p := range c.Points {
		if i >= len(f.Stations) {
			break
		}
		t.Places = append(t.Places, plot.Place{Name: f.Stations[i], E: p.E, N: p.N})
		if f.Stations[i] == r.Current.Station {
			t.Current = i
		}
	}
	if c.Linear != nil {
		t.DE, t.DN = c.Linear.Closing.E, c.Linear.Closing.N
	}
	addAdjusted(&t, r.Together)
	return t, true
}

// addAdjusted gives the places of a plan their ellipses, and adds the targets. An
// adjustment that has a frame of its own is left out: it has its places elsewhere.
func addAdjusted(t *plot.Traverse, all *network.Together) {
	if all == nil || all.Adjusted == nil {
		return
	}
	of := map[string]int{}
	for i, p := range t.Places {
		of[p.Name] = i
	}
	const apart = 1.0 // metres: more than any misclosure that closes
	places := t.Places[:0:0]
	places = append(places, t.Places...)
	var sights []plot.Place
	for i, p := range all.Adjusted.Places {
		if i >= len(all.Names) || i >= len(all.Placed) || !all.Placed[i] || p.Lost {
			continue
		}
		e := all.Ellipse95(p)
		x := plot.Place{Name: all.Names[i], E: p.At.E, N: p.At.N, A: e.A, B: e.B, Bearing: e.Bearing.Radians()}
		k, station := of[x.Name]
		switch {
		case !station:
			sights = append(sights, x)
		case math.Hypot(x.E-places[k].E, x.N-places[k].N) > apart:
			return
		default:
			places[k].A, places[k].B, places[k].Bearing = x.A, x.B, x.Bearing
		}
	}
	t.Places, t.Sights = places, sights
}

// drawPlan draws the first figure that has coordinates, nothing where there is
// none.
func drawPlan(v *view, r *network.Report, w, h int) []string {
	if r == nil {
		return nil
	}
	for _, f := range r.Figures {
		if t, ok := traverseOf(f, r); ok && h > 3 {
			lines := v.inLines(look.Strong, f.Title()+", "+f.State(), w)
			return append(lines, t.Draw(v.theme, w, h-len(lines))...)
		}
	}
	return nil
}

// inLines paints words, broken where they are longer than a line.
func (f *frame) inLines(role look.Role, words string, w int) []string {
	lines := look.Wrap(words, w)
	for i, s := range lines {
		lines[i] = f.theme.In(role, s)
	}
	return lines
}

// drawHistory draws the errors of the instruments from setup to setup, one under
// the other, nothing where there are none.
func drawHistory(v *view, is []instrument.Instrument, w, h int) []string {
	n := 0
	for _, i := range is {
		for _, s := range i.Series {
			if len(s.Points) > 1 {
				n++
			}
		}
	}
	rows := min(max(h/max(n, 1), 6), 16)
	var out []string
	for _, i := range is {
		for _, s := range i.Series {
			if len(s.Points) < 2 || len(out)+rows > h {
				continue
			}
			unit, seconds := reduce.SmallMark(i.Unit), i.Unit.Small().Seconds()
			p := plot.Series{Unit: unit, Limit: i.Due.Seconds() / seconds}
			for _, x := range s.Points {
				p.Values = append(p.Values, x.Seconds/seconds)
				p.At, p.Names = append(p.At, x.At.Sub(s.Points[0].At).Hours()/24), append(p.Names, x.At.Format("2 Jan"))
			}
			title := fmt.Sprintf("%s %s: %s, limit ± %s", i.Name, i.Serial, s.Name, decimal.Sprintf("%.3g", p.Limit)+unit)
			out = append(out, v.inLines(look.Strong, title, w)...)
			out = append(out, p.Draw(v.theme, w, rows-2)...)
			out = append(out, "")
		}
	}
	return out
}
