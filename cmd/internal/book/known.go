package book

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/exchange/reports"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/store/chain"
)

// recentSetups bounds how far back an earlier occupation of a station is looked
// for, so that opening a setup costs the same in a book of any length. Of the
// setups on the station, and of the instrument's, the latest are enough.
const (
	recentSetups = 200
	recentEnough = 10
)

// Known implements tui.Port.
func (p *Port) Known(s booking.Setup) check.Known {
	l := p.ledger()
	b, err := l.Book()
	if err != nil {
		return check.Known{}
	}
	k, err := l.known(b, s)
	if err != nil {
		return check.Known{}
	}
	return k
}

// known returns what is known of a setup beyond itself: what an earlier
// occupation of the station or known coordinates say of its directions, and
// earlier setups of its instrument of the collimation and the index error. more
// are setups before s that are not in the book yet.
func (c Chapter) known(b day.Book, s booking.Setup, more ...day.Summary) (check.Known, error) {
	earlier, err := c.recent(s)
	if err != nil {
		return check.Known{}, err
	}
	earlier = append(earlier, more...)
	settings, err := network.DefaultSettings().Recorded(b.Figures)
	if err != nil {
		return check.Known{}, fmt.Errorf("the book's settings: %w", err)
	}
	k := network.Known(b.Known, settings, earlier, s.Spec.Station, s.Spec.RO)
	k.Collimation, k.Index = check.InstrumentBefore(earlier, s.Spec.Instrument)
	k.Before = check.BeforeOf(earlier, s.Spec)
	if settings.Lengths != spec.DefaultLengths() {
		k.Before.Lengths = &settings.Lengths
	}
	return k, nil
}

// recent returns the summaries of setups before s, the oldest first, that may say
// something of it: of its station, and the latest of its instrument. A summary
// is only read where its text names one of the two.
func (c Chapter) recent(s booking.Setup) ([]day.Summary, error) {
	from := max(1, s.Number-recentSetups)
	digests, err := c.src.Digests(uint32(from), s.Number-from)
	if err != nil {
		return nil, err
	}
	if digests, err = c.withLate(digests, s.Number-1); err != nil {
		return nil, err
	}
	station, err := json.Marshal(s.Spec.Station)
	if err != nil {
		return nil, err
	}
	instrument, err := json.Marshal(s.Spec.Instrument.Serial)
	if err != nil {
		return nil, err
	}
	var list []day.Summary
	own, here := 0, 0
	for _, d := range slices.Backward(digests) {
		if int(d.Group) >= s.Number {
			continue
		}
		ofUse := own < recentEnough && bytes.Contains(d.Digest, instrument) ||
			here < recentEnough && bytes.Contains(d.Digest, station)
		if !ofUse {
			continue
		}
		var m day.Summary
		if err := json.Unmarshal(d.Digest, &m); err != nil {
			continue // made by another program version; the events still hold everything
		}
		if m.Instrument.Serial == s.Spec.Instrument.Serial {
			own++
		}
		if m.Station == s.Spec.Station {
			here++
		}
		list = append(list, m)
	}
	slices.Reverse(list)
	return list, nil
}

// withLate adds the summary of setup last where it is not kept yet: the setup was
// left a moment ago without being lifted.
func (c Chapter) withLate(digests []chain.Digest, last int) ([]chain.Digest, error) {
	if last < 1 || len(digests) > 0 && int(digests[len(digests)-1].Group) >= last {
		return digests, nil
	}
	s, err := c.Setup(last)
	if err != nil {
		return digests, nil // there is none, or it cannot be folded: whoever opens it hears of it
	}
	text, err := json.Marshal(check.Summarize(s))
	return append(digests, chain.Digest{Group: uint32(last), Digest: text}), err
}

// FigureInput gathers what the figures of a book are made from; over lays what is asked
// for at once over the settings of the book.
func FigureInput(c Chapter, over ...func(network.Settings) (network.Settings, error)) (network.Input, error) {
	b, err := c.Book()
	if err != nil {
		return network.Input{}, err
	}
	in := network.Input{Known: b.Known, Centres: slices.Clone(b.Centres), Levels: b.Levels}
	for i := range in.Centres {
		in.Centres[i].Setup += c.Before
	}
	if in.Settings, err = network.DefaultSettings().Recorded(b.Figures); err != nil {
		return in, fmt.Errorf("the book's settings: %w", err)
	}
	for _, lay := range over {
		if in.Settings, err = lay(in.Settings); err != nil {
			return in, err
		}
	}
	for _, k := range b.Bearings {
		in.Bearings = append(in.Bearings, network.KnownBearing(k))
	}
	in.Setups, err = c.Summaries()
	if err == nil && in.Settings.GridScale != 0 {
		err = c.sayScaled(in.Setups)
	}
	if err == nil && len(in.Setups) == 0 {
		err = ErrNoSetups
	}
	return in, err
}

// sayScaled makes the summaries anew that do not say whether a scale was keyed with
// their distances: those of an older program.
func (c Chapter) sayScaled(list []day.Summary) error {
	for i, m := range list {
		if m.Scaled != nil {
			continue
		}
		s, err := c.Setup(m.Setup - c.Before)
		if err != nil {
			return err
		}
		s.Number = m.Setup
		list[i] = check.Summarize(s)
	}
	return nil
}

// Samples gathers what each setup says of its instrument.
func (c Chapter) Samples() ([]instrument.Sample, error) {
	var list []instrument.Sample
	for s, err := range c.setups() {
		if err != nil {
			return nil, err
		}
		s.Number += c.Before
		r := reduction.Of(s)
		m := instrument.SampleFrom(s, r)
		m.Doubt = check.Doubt(s, r)
		list = append(list, m)
	}
	return list, nil
}

// Anew judges every lifted setup by today's rule, by its number in the chapter.
func (c Chapter) Anew() (map[int]*reports.Anew, error) {
	list := map[int]*reports.Anew{}
	for s, err := range c.setups() {
		if err != nil {
			return nil, err
		}
		if s.Lift != nil {
			v := check.Anew(s)
			list[s.Number+c.Before] = &reports.Anew{Said: s.Lift.Verdict, Today: v.Word(), Reasons: append([]string{}, v.Reasons()...)}
		}
	}
	return list, nil
}

// Doubts says of each setup that is on Hold or has a suspect why it should not
// speak for its instrument, by its number in the chapter.
func (c Chapter) Doubts() (map[int]string, error) {
	doubts := map[int]string{}
	for s, err := range c.setups() {
		if err != nil {
			return nil, err
		}
		if why := check.Doubt(s, reduction.Of(s)); why != "" {
			doubts[s.Number+c.Before] = why
		}
	}
	return doubts, nil
}
