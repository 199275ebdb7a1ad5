package traverse

import "errors"

// A Result holds a traverse worked both ways, side by side.
type Result struct {
	Carried  *Carried
	Adjusted *Adjusted // nil where a length is missing, or where a gross error keeps it from settling
	Apart    []Point   // least squares minus compass rule, per station; nil likewise
}

// Solve works the traverse both ways: Carry and Adjust. Nothing is compared
// that least squares cannot reach; see Result.
func Solve(t Traverse, s Settings) (*Result, error) {
	c, err := carry(t, s)
	if err != nil {
		return nil, err
	}
	r := &Result{Carried: c}
	if !t.measured() {
		return r, nil
	}
	if r.Adjusted, err = adjust(t, s); errors.Is(err, errUndetermined) {
		return r, nil
	} else if err != nil {
		return nil, err
	}
	for i, p := range r.Adjusted.Points {
		r.Apart = append(r.Apart, p.Sub(c.Points[i]))
	}
	return r, nil
}
