package network

import "example.org/readback/reduce/traverse"

// A Place is a station with coordinates from a figure.
type Place struct {
	Name    string
	Point   traverse.Point // by least squares, metres
	Ellipse traverse.Ellipse
	Local   bool     // not tied to known coordinates and a known bearing
	Elev    *float64 // height, metres; nil where none is carried from a known one
	Over    *float64 // height over the first station of the figure, metres, where none is known
	From    string   // the title of the figure
}

// Places returns the coordinates that figures within their limits give, each
// station once, from the first figure that has it. Local ones only where no
// figure stands on known coordinates.
func (r Report) Places() []Place {
	var out []Place
	for _, local := range []bool{false, true} {
		seen := map[string]bool{}
		for _, f := range r.Figures {
			a := f.Result.Adjusted
			if (f.Local || f.Result.Carried.Assumed) != local || a == nil || !f.Met() {
				continue
			}
			for i, s := range f.Stations {
				if !seen[s] {
					seen[s] = true
					p := Place{Name: s, Point: a.Points[i], Ellipse: a.Ellipses[i], Local: local, From: f.Title()}
					if f.Heights != nil && f.Heights.Local {
						p.Over = &f.Heights.Points[i]
					} else if f.Heights != nil {
						p.Elev = &f.Heights.Points[i]
					}
					out = append(out, p)
				}
			}
		}
		if len(out) > 0 {
			break
		}
	}
	return out
}
