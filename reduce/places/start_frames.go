package places

import "example.org/readback/reduce/traverse"

// A frame is a part that stands on its own, worked in coordinates of its own.
type frame struct {
	points []int
	at     []traverse.Point
}

// lay lays a frame onto the placed points it shares: two or more.
func (s *starter) lay() bool {
	if len(s.placedNow) < 2 {
		return false
	}
	if !s.haveFrames {
		s.makeFrames()
	}
	for f, ok := s.frame.next(); ok; f, ok = s.frame.next() {
		if s.layFrame(s.frames[f]) {
			return true
		}
	}
	return false
}

func (s *starter) layFrame(f *frame) bool {
	var from, to []traverse.Point
	for i, p := range f.points {
		if s.placed[p] {
			from, to = append(from, f.at[i]), append(to, s.point(p))
		}
	}
	if len(from) == len(f.points) {
		return false
	}
	h, err := FitHelmert(from, to, len(s.length) > 0)
	if err != nil {
		return false
	}
	for i, p := range f.points {
		if !s.placed[p] {
			s.put(p, h.Apply(f.at[i]))
		}
	}
	return true
}

// makeFrames works a frame from every station that is not placed yet and in no frame
// worked before. A set that is turned already is not turned in a frame: what
// hangs on it is placed.
func (s *starter) makeFrames() {
	s.haveFrames = true
	local := &Network{Points: make([]Point, len(s.n.Points))}
	for _, o := range s.n.Observations {
		if o.Kind == Direction || o.Kind == Distance || o.Kind == Angle {
			local.Observations = append(local.Observations, o)
		}
	}
	l := newStarter(local)
	l.aside = append([]bool(nil), s.oriented...)
	done := make([]bool, len(s.inSets))
	for k, m := range s.inSets {
		if len(m) < 2 || s.placed[s.at[k]] || done[k] {
			continue
		}
		l.put(s.at[k], traverse.Point{})
		l.setTurn(k, 0)
		for l.grow() {
		}
		f := &frame{}
		for _, p := range l.placedNow {
			f.points, f.at = append(f.points, p), append(f.at, l.point(p))
			s.framesOf[p] = append(s.framesOf[p], len(s.frames))
		}
		for _, x := range l.turnedNow {
			done[x] = true
		}
		s.frames = append(s.frames, f)
		l.reset()
	}
	s.frame.in = make([]bool, len(s.frames))
	for f := range s.frames {
		s.frame.add(f)
	}
}

// reset forgets what was placed and turned.
func (s *starter) reset() {
	for _, p := range s.placedNow {
		s.placed[p] = false
		for _, k := range s.seenFrom[p] {
			s.seen[k]--
		}
		for _, q := range s.near[p] {
			s.circles[q]--
		}
		for _, i := range s.leaving[p] {
			s.rays[s.n.Observations[i].To]--
		}
	}
	for _, k := range s.turnedNow {
		s.oriented[k] = false
		for _, i := range s.inSets[k] {
			s.rays[s.n.Observations[i].To]--
		}
	}
	s.placedNow, s.turnedNow = s.placedNow[:0], s.turnedNow[:0]
}
