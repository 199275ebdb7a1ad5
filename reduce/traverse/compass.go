package traverse

// closing returns the linear misclosure of carried deltas against what their
// sum should be: √(ΣΔE² + ΣΔN²) and 1 in ΣL/e [PURDUE].
func closing(deltas []Point, legs []float64, should Point, leastRatio float64) *Linear {
	l := &Linear{LeastRatio: leastRatio}
	for i, d := range deltas {
		l.Closing = l.Closing.Add(d)
		l.Length += legs[i]
	}
	l.Closing = l.Closing.Sub(should)
	l.Misclosure = l.Closing.Length()
	if l.Misclosure > 0 {
		l.Ratio = l.Length / l.Misclosure
	}
	return l
}

// compassRule returns the corrections of the deltas that take a closing vector
// away in proportion to the lengths of the legs (Bowditch) [PURDUE]. With a step
// greater than 0 each correction is rounded to it, and what is left over goes
// to the last leg.
func compassRule(closing Point, legs []float64, step float64) []Point {
	var sum float64
	for _, l := range legs {
		sum += l
	}
	out := make([]Point, len(legs))
	if sum == 0 {
		return out
	}
	left := closing
	for i, l := range legs {
		out[i] = closing.scale(-l / sum)
		if step > 0 {
			out[i] = roundPoint(out[i], step)
		}
		left = left.Add(out[i])
	}
	if step > 0 {
		last := &out[len(out)-1]
		*last = last.Sub(left)
	}
	return out
}
