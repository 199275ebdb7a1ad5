package network

import (
	"errors"
	"fmt"
	"math"

	"example.org/readback/booking/event"
	"example.org/readback/booking/page"
	"example.org/readback/reduce"
	"example.org/readback/reduce/places"
	"example.org/readback/reduce/traverse"
)

// A Laid is the places of a book laid onto known points by a similarity.
type Laid struct {
	Fit    *places.Helmert
	Common []Common
	Places []LaidPlace
	unit   reduce.Unit
}

// A Common point has a place in both.
type Common struct {
	Name     string
	Residual traverse.Point // laid − known, metres
}

// A LaidPlace is a place of the book in the plane of the known points.
type LaidPlace struct {
	Name string
	At   traverse.Point
}

var errNothingPlaced = errors.New("the book gives no places yet: a figure has to close or the network to settle")

// Scale returns the scale of the similarity, and Turn by how much it turns clockwise.
func (l *Laid) Scale() float64 { return math.Hypot(l.Fit.A, l.Fit.B) }

// Turn returns by how much it turns, clockwise.
func (l *Laid) Turn() reduce.Angle {
	return reduce.FromRadians(math.Atan2(l.Fit.B, l.Fit.A)).Normalize()
}

// Onto lays the places of a book, adjusted together where they are, onto known points by
// least squares; rigid holds the scale at 1. Without points it is the net worked without
// the known stations and bearings of the book, onto those stations: what each misses by
// says whether they hold together. Two common points or more are needed.
func Onto(in Input, known []event.KnownStation, rigid bool) (*Laid, error) {
	if known == nil {
		if known = in.Known; len(known) < 2 {
			return nil, fmt.Errorf("the book has %s: two or more are needed to lay its network onto", [...]string{"no known station", "one known station"}[len(known)])
		}
		in.Known, in.Bearings = nil, nil
	}
	r := Work(in)
	names, at := r.adjustedPlaces()
	if len(names) == 0 {
		return nil, errNothingPlaced
	}
	to := map[string]traverse.Point{}
	for _, k := range known {
		to[k.Name] = knownPoint(k)
	}
	l := &Laid{unit: reduce.DMS}
	if r.Together != nil {
		l.unit = r.Together.unit
	}
	var from, onto []traverse.Point
	for i, name := range names {
		if p, ok := to[name]; ok {
			from, onto = append(from, at[i]), append(onto, p)
			l.Common = append(l.Common, Common{Name: name})
		}
	}
	fit, err := places.FitHelmert(from, onto, rigid)
	if err != nil {
		return nil, fmt.Errorf("%w: %d of the book's %d places are in the file", err, len(from), len(names))
	}
	l.Fit = fit
	for i := range l.Common {
		l.Common[i].Residual = fit.Residuals[i]
	}
	for i, name := range names {
		l.Places = append(l.Places, LaidPlace{name, fit.Apply(at[i])})
	}
	return l, nil
}

// adjustedPlaces are the places of the adjustment of everything, else of the figures.
func (r Report) adjustedPlaces() (names []string, at []traverse.Point) {
	if t := r.Together; t != nil && t.Adjusted != nil {
		for i, p := range t.Adjusted.Places {
			if !p.Lost && t.Placed[i] {
				names, at = append(names, t.Names[i]), append(at, p.At)
			}
		}
		return names, at
	}
	for _, p := range r.Places() {
		names, at = append(names, p.Name), append(at, p.Point)
	}
	return names, at
}

// Page sets the similarity: its numbers, what the common points miss by, and every place.
func (l *Laid) Page() page.Page {
	var p page.Page
	p.Say("", fmt.Sprintf("Laid onto %d known stations by a similarity, least squares", len(l.Common)))
	text := fmt.Sprintf("Scale %.7f, turned %s clockwise, shifted by E %s m, N %s m.", l.Scale(), l.Turn().Format(l.unit, 1), minus(l.Fit.Shift.E), minus(l.Fit.Shift.N))
	if l.Fit.Dof > 0 {
		text += fmt.Sprintf(" One coordinate has a standard deviation of %s, %d more than needed.", metres(l.Fit.S0), l.Fit.Dof)
	} else {
		text += " Two common points fit whatever they are: nothing checks it."
	}
	p.Say("  ", text)
	var rows [][]string
	for _, c := range l.Common {
		rows = append(rows, []string{c.Name, residual(places.Distance, c.Residual.E, l.unit), residual(places.Distance, c.Residual.N, l.unit)})
	}
	p.Add(page.Gap{}, tableOf(rows, page.Column{Head: "Common point", Cols: 20}, number("off in E", 12), number("off in N", 12)))
	rows = nil
	for _, x := range l.Places {
		rows = append(rows, []string{x.Name, minus(x.At.E), minus(x.At.N)})
	}
	p.Add(page.Gap{}, tableOf(rows, page.Column{Head: "Place", Cols: 20}, number("E m", 14), number("N m", 14)))
	return p
}
