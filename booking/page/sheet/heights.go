package sheet

import (
	"slices"
	"strings"

	"example.org/readback/booking/page"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// has tells whether a reading of the quantity was booked, struck or not.
func (w *writer) has(q spec.Quantity) bool {
	for _, r := range w.setup.Readings {
		if r.Slot.Quantity == q {
			return true
		}
	}
	return false
}

// heightTable is the verticals, the distances and what follows from them; ok is
// false where there are none.
func (w *writer) heightTable() (t page.Table, ok bool) {
	verticals := w.has(spec.Vertical)
	distances := w.has(spec.Slope) || w.has(spec.TargetHeight)
	var said []string
	for _, k := range []struct {
		there bool
		word  string
	}{{verticals, "verticals"}, {distances, "distances"}, {verticals && distances, "heights"}} {
		if k.there {
			said = append(said, k.word)
		}
	}
	if len(said) == 0 {
		return t, false
	}
	caption := strings.Join(said, ", ")
	t = page.Table{Caption: strings.ToUpper(caption[:1]) + caption[1:], Class: "heights", Notes: w.id(),
		Columns: []page.Column{{MM: groupMM}, {Head: "Target", MM: nameMM, Part: page.Name, Folds: true}}}
	if verticals {
		t.Columns = append(t.Columns, []page.Column{{Head: "Face left", MM: 20, Right: true}, {Head: "Face right", MM: 20, Right: true}, {Head: "Index " + w.smallUnit(), MM: 10.5, Right: true},
			{Head: "Altitude", MM: 22, Right: true}, {Head: "Gradient %", MM: 13.5, Right: true}}...)
		if !distances {
			t.Columns[5].Part = page.Result
		}
	}
	if distances {
		u := " " + w.length()
		t.Columns = append(t.Columns, page.Column{Head: "Slope" + u, MM: 16.2, Right: true}, page.Column{Head: "Target h." + u, MM: 13.4, Right: true}, page.Column{Head: "Horizontal" + u, MM: 16.2, Right: true, Part: page.Result})
		if verticals {
			t.Columns = append(t.Columns, page.Column{Head: "Rise" + u, MM: 16.2, Right: true, Part: page.Result})
		}
	}
	if !verticals || !distances {
		t.Columns = append(t.Columns, page.Column{}) // takes what is left
	}
	t.Groups = []page.Group{{Rows: w.heightRows(verticals, distances, &t.Under)}}
	return t, true
}

func (w *writer) heightRows(verticals, distances bool, notes *[]page.Note) []page.Row {
	var rows []page.Row
	places := w.lengthPlaces()
	for _, name := range w.sighted() {
		row := page.Row{Cells: []page.Cell{nil, {{Text: name}}}}
		v, _ := w.vertical(name)
		some := false
		add := func(cs ...page.Cell) {
			for _, c := range cs {
				some = some || c != nil
			}
			row.Cells = append(row.Cells, cs...)
		}
		if verticals {
			slot := spec.Slot{Quantity: spec.Vertical, Face: faces.FL, Target: name}
			index, altitude, slant := "", "", ""
			if v.HasPair {
				index, altitude, slant = w.signed(v.Index, 1), w.altitude(v.Altitude), gradient(v.Gradient)
			}
			role := page.Base
			if !distances {
				role = page.Strong
			}
			add(w.slot(slot, nil, notes), w.slot(slot.Pair(), nil, notes), page.One(index, page.Base), page.One(altitude, role), page.One(slant, page.Base))
		}
		if distances {
			add(w.lengths(name, notes)...)
			horizontal, rise := "", ""
			if v.HasHorizontal {
				horizontal = w.metres(v.Horizontal, places)
			}
			if v.HasRise {
				rise = w.rise(v.Rise, places)
			}
			add(page.One(horizontal, page.Strong))
			if verticals {
				add(page.One(rise, page.Strong))
			}
		}
		if some {
			rows = append(rows, row)
		}
	}
	return rows
}

// sighted are the targets of verticals and distances, and those dropped since.
func (w *writer) sighted() []string {
	names := slices.Clone(w.setup.Spec.Sighted())
	for _, r := range w.setup.Readings {
		switch r.Slot.Quantity {
		case spec.Vertical, spec.Slope, spec.TargetHeight:
			if !slices.Contains(names, r.Slot.Target) {
				names = append(names, r.Slot.Target)
			}
		}
	}
	return names
}

// lengths are the cells of slope and target height. A line that is blocked, or
// not wanted, says so once: in the first cell it concerns.
func (w *writer) lengths(name string, notes *[]page.Note) []page.Cell {
	slope, height := spec.Slot{Quantity: spec.Slope, Target: name}, spec.Slot{Quantity: spec.TargetHeight, Target: name}
	first := w.slot(slope, nil, notes)
	if first != nil && first[len(first)-1].Role == page.Aside && !w.booked(height) {
		return []page.Cell{first, nil}
	}
	return []page.Cell{dash(first), dash(w.slot(height, nil, notes))}
}

// booked tells whether a reading of the slot was booked, struck or not.
func (w *writer) booked(slot spec.Slot) bool {
	for _, r := range w.setup.Readings {
		if r.Slot == slot {
			return true
		}
	}
	return false
}

// dash is what stands in the place of a length that was not read.
func dash(c page.Cell) page.Cell {
	if c == nil {
		return page.One("–", page.Base)
	}
	return c
}

// lengthPlaces is the most decimals of the lengths as they were read, three at
// least.
func (w *writer) lengthPlaces() int {
	places := 3
	for _, r := range w.setup.Readings {
		if r.Slot.Quantity == spec.Slope {
			if _, after, ok := strings.Cut(r.Text, "."); ok {
				places = max(places, len(after))
			}
		}
	}
	return min(places, 4)
}

func (w *writer) vertical(target string) (reduction.VerticalWork, bool) {
	for _, v := range w.red.Verticals {
		if v.Target == target {
			return v, true
		}
	}
	return reduction.VerticalWork{}, false
}
