package season

import (
	"errors"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/check/culprit"
	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/event"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// crew books one station.
type crew struct {
	o     *observer.Observer
	s     booking.Setup
	seq   uint64
	tally *tally
	bad   map[spec.Slot]made // slips that stand in the book, unseen
	again map[spec.Slot]bool // pairs observed again once
	calls map[spec.Slot]int  // how often each was called
}

// A made slip.
type made struct {
	kind  slip.Kind // the pattern its figures show
	part  slip.Part
	right reduce.Angle // the reading that should have been keyed
	keyed string
}

// madeOf looks at the figures of a slip: what they show is not always what was
// done wrong.
func madeOf(call observer.Call, i spec.Instrument) made {
	m := made{kind: call.Slip, right: reduce.Angle(call.Right), keyed: keyed(call)}
	switch call.Slip {
	case slip.WrongTarget, slip.FaceNotChanged, slip.CircleNotSet, slip.Anticlockwise, slip.PercentDisplay, slip.Unknown:
	default:
		m.kind, m.part = slip.Pattern(m.right, reduce.Angle(call.Value), i.Unit, i.LeastCount)
	}
	return m
}

// keyed is what is called as a run of digits.
func keyed(call observer.Call) string { return strings.ReplaceAll(call.Text, " ", "") }

// noon is when every season's day is: nothing depends on it.
var noon = time.Date(2026, 5, 4, 12, 0, 0, 0, time.UTC)

func newCrew(o *observer.Observer, tally *tally) (*crew, error) {
	c := &crew{o: o, tally: tally, bad: map[spec.Slot]made{}, again: map[spec.Slot]bool{}, calls: map[spec.Slot]int{}}
	open, err := booking.Open(o.Spec)
	if err != nil {
		return nil, err
	}
	return c, c.do(open)
}

func (c *crew) do(e event.Event) error {
	c.seq++
	s, err := c.s.Apply(event.Entry{Seq: c.seq, At: noon, Setup: 1, Event: e})
	c.s = s
	return err
}

// most bounds the readings of a station, should a crew go round in circles.
const most = 3000

// work books until the verdict.
func (c *crew) work() error {
	for range most {
		p := programme.Expect(c.s)
		if p.Phase == programme.AtVerdict {
			return nil
		}
		if p.Slot.Quantity != spec.Horizontal && p.Slot.Quantity != spec.Vertical {
			skip, err := c.s.Skip(p.Slot, true, "not wanted")
			if err == nil {
				err = c.do(skip)
			}
			if err != nil {
				return err
			}
			continue
		}
		if err := c.observe(p); err != nil {
			return err
		}
	}
	return errors.New("the station never came to its verdict")
}

// call returns what is called at a slot now.
func (c *crew) call(slot spec.Slot) observer.Call {
	c.calls[slot]++
	return c.o.Call(c.s, slot, c.calls[slot]-1)
}

// observe books one pointing, with or without a slip.
func (c *crew) observe(p programme.Prompt) error {
	exp := check.Expect(c.s, p.Slot, check.Known{})
	call := c.call(p.Slot)
	if call.Slipped {
		return c.slip(p, exp, madeOf(call, c.s.Spec.Instrument))
	}
	marked, err := c.book(p.Slot, keyed(call), false)
	if err != nil {
		return err
	}
	c.tally.clean(exp.Expects(), marked, len(c.bad) > 0)
	if marked {
		return c.readAgain(p)
	}
	return nil
}

// slip books a slip: it is marked and read again, or it stands.
func (c *crew) slip(p programme.Prompt, exp check.Expectation, m made) error {
	marked, err := c.book(p.Slot, m.keyed, false)
	if err != nil {
		return err
	}
	c.tally.slip(c.s.Spec, exp, m, marked, len(c.bad) > 0)
	if marked {
		return c.readAgain(p)
	}
	if m.kind == slip.CircleNotSet { // the circle stands where it stood: an honest reading
		c.o.LeaveCircle(p.Slot.Round)
		return nil
	}
	c.bad[p.Slot] = m
	return nil
}

// readAgain keys the pointing read a second time. Where that is marked too the
// reading is confirmed, and the reading that speaks against it is observed again:
// the one named, or that of the other face.
func (c *crew) readAgain(p programme.Prompt) error {
	exp := check.Expect(c.s, p.Slot, check.Known{})
	call := c.call(p.Slot)
	marked, err := c.book(p.Slot, keyed(call), true)
	if err != nil || !marked {
		return err
	}
	rival := exp.Slip(reduce.Angle(call.Value)).Rival
	if rival == (spec.Slot{}) {
		rival = p.Slot.Pair()
	}
	r, ok := c.s.At(rival)
	if !ok || c.again[rival] {
		return nil
	}
	c.again[rival] = true
	return c.strike(r, "does not fit the reading made again")
}

func (c *crew) strike(r booking.Reading, reason string) error {
	e, err := c.s.Strike(r.Seq, reason)
	if err != nil {
		return err
	}
	if _, ok := c.bad[r.Slot]; ok {
		c.tally.foundLater++
		delete(c.bad, r.Slot)
	}
	return c.do(e)
}

// book keys a text and tells whether it is marked; a marked one is booked only
// when it is confirmed.
func (c *crew) book(slot spec.Slot, text string, confirm bool) (marked bool, err error) {
	e, err := check.Read(c.s, slot, text, confirm, check.Known{})
	if errors.Is(err, check.ErrMarked) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	marked = slices.ContainsFunc(e.Findings, func(f event.Finding) bool { return f.Severity == event.Stop })
	return marked, c.do(e)
}

// help does once what the suspects and the comparison advise a station on Hold.
func (c *crew) help() error {
	f := check.Culprits(c.s)
	if f.Remedy.Target != "" {
		return c.observeAgain(f)
	}
	out := c.oddRound()
	if len(f.Suspects) > 0 && f.Suspects[0].Round > 0 && !f.Suspects[0].Alike {
		out = f.Suspects[0].Round
	}
	if out > 0 {
		e, err := c.s.LeaveOut(out, "it does not agree with the others")
		if err == nil {
			err = c.do(e)
		}
		if err != nil {
			return err
		}
	}
	e, err := c.s.AddRound("the station is on Hold")
	if err == nil {
		err = c.do(e)
	}
	if err != nil {
		return err
	}
	return c.work()
}

// observeAgain strikes the pair that is called for and books it again.
func (c *crew) observeAgain(f culprit.Finding) error {
	slot := spec.Slot{Quantity: spec.Horizontal, Round: f.Remedy.Round, Target: f.Remedy.Target}
	if f.Suspects[0].Upright {
		slot.Quantity = spec.Vertical
	}
	for _, slot.Face = range []faces.Face{faces.FL, faces.FR} {
		for _, slot.Closing = range []bool{false, true} {
			r, ok := c.s.At(slot)
			if !ok {
				continue
			}
			if err := c.strike(r, "named as the reading at fault"); err != nil {
				return err
			}
		}
	}
	return c.work()
}

// oddRound returns a round that stands outside the largest group of rounds that
// agree (the first of several), 0 where there is none.
func (c *crew) oddRound() int {
	cmp := reduction.Compare(c.s)
	if cmp.Agrees || len(cmp.Agreeing) == 0 {
		return 0
	}
	for _, w := range cmp.Rounds {
		if !slices.Contains(cmp.Agreeing[0], w.Number) {
			return w.Number
		}
	}
	return 0
}

// spoiled tells whether a slip larger than the limit for rounds stands in a round
// that is used or in a vertical pair.
func (c *crew) spoiled() bool {
	return c.spoiledBy(spec.Horizontal) || c.spoiledBy(spec.Vertical)
}

func (c *crew) spoiledBy(q spec.Quantity) bool {
	for slot, m := range c.bad {
		r, ok := c.s.At(slot)
		if !ok || slot.Quantity != q || (r.Angle()-m.right).Wrap().Abs() <= c.s.Spec.Limits.Rounds.Value {
			continue
		}
		if round, ok := c.s.Round(slot.Round); slot.Quantity != spec.Horizontal || ok && round.Used() {
			return true
		}
	}
	return false
}
