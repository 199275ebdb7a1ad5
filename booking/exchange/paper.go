package exchange

import (
	"fmt"
	"slices"
	"strings"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// A Paper is one setup of a readings file, ready to be booked: what is agreed
// before the first sight, as far as the rows tell it, and every reading with
// the pointing it belongs to.
type Paper struct {
	Number int // of the setup in the file
	Spec   spec.Spec
	Named  bool // a horizontal row names the reference object; else Spec.RO is only the first target, or empty

	file   *File
	room   *[]event.Entry // that of the reader
	rows   []*row
	void   map[int]string // rounds whose rows are all struck, and why
	out    map[int]string // rounds that were left out, and why
	closed bool
}

// leftOut begins the reason of a row whose round was left out of the means.
const leftOut = "round left out: "

// leftOutReading begins the reason of a row that stands in the book and was left
// out of the means alone.
const leftOutReading = "reading left out: "

// Paper reads the i-th setup of the file, in the order of their numbers. What
// is wrong with its rows is returned as Faults or as a *Fault; an option that does
// not read wraps ErrOption.
func (f *Reader) Paper(i int, o Options) (Paper, error) {
	rows, err := f.rowsOf(i)
	if err != nil {
		return Paper{}, err
	}
	p := Paper{Number: f.setups[i].number, file: f.File, room: &f.events, void: map[int]string{}, out: map[int]string{}}
	f.at = f.at[:0]
	for i := range rows {
		f.at = append(f.at, &rows[i])
	}
	p.rows = f.at
	p.Spec.Station = rows[0].Station
	return p, p.work(o)
}

// work finds out what the rows of one setup say.
func (p *Paper) work(o Options) error {
	for _, step := range []func() error{p.checkStation, p.findOrder, p.findUnits, p.checkTargets, p.checkRounds} {
		if err := step(); err != nil {
			return err
		}
	}
	p.nameTargets()
	p.judgeRounds()
	if err := p.placeRows(); err != nil {
		return err
	}
	if o.LeastCount == "" && p.Spec.Instrument.Unit.Decimal() {
		o.LeastCount = p.step()
	}
	if err := o.Apply(&p.Spec); err != nil {
		return err
	}
	if o.Circle == 0 {
		p.Spec.Instrument.Circle = p.recognizeCircle()
	}
	p.plan()
	if len(p.Spec.Names()[0]) == 0 {
		return nil // no target at all: an instrument height alone
	}
	afterwards := p.Spec // a file is no plan: what it holds may be less than a crew sets out to observe
	afterwards.KeyedAfterwards = &spec.KeyedAfterwards{}
	if faults := afterwards.Validate(); len(faults) > 0 {
		return p.fault(p.rows[0], colSetup, "setup %d: %s", p.Number, faults[0].Text)
	}
	return nil
}

// step returns the step of the circle readings in the small unit of a decimal circle, 1,
// 2 or 5 of some decimal: what it is read to where no least count is stated. Readings
// that tell none, or a coarser one than 10 mgon, 0.01° or 1 mil, leave it at the default.
func (p *Paper) step() Decimal {
	u := p.Spec.Instrument.Unit
	var g int64
	for _, r := range p.rows {
		if !r.Quantity.Angular() {
			continue
		}
		for v := r.Value; v != 0; {
			g, v = v, g%v
		}
	}
	if g < 0 {
		g = -g
	}
	for _, step := range steps[u] {
		if a, err := step.angle(u); err == nil && g > 0 && g%int64(a) == 0 {
			return step
		}
	}
	return ""
}

// steps are the steps a decimal circle may be read in, in its small unit.
var steps = [...][]Decimal{
	reduce.GonUnit:    {"10", "5", "2", "1", "0.5", "0.2", "0.1", "0.05", "0.02", "0.01"},
	reduce.DegreeUnit: {"0.01", "0.005", "0.002", "0.001", "0.0005", "0.0002", "0.0001", "0.00005", "0.00002", "0.00001"},
	reduce.MilUnit:    {"1", "0.5", "0.2", "0.1", "0.05", "0.02", "0.01", "0.005", "0.002", "0.001"},
}

// fault is one thing that is wrong with a row of this setup.
func (p *Paper) fault(r *row, col int, format string, args ...any) error {
	return &fault{File: p.file.Name, Line: r.Line, Column: p.file.lay[col] + 1, Name: columns[col], What: fmt.Sprintf(format, args...)}
}

func (p *Paper) checkStation() error {
	for _, r := range p.rows {
		if r.Station != p.Spec.Station {
			return p.fault(r, colStation, "setup %d stands on %s since line %d, here on %s: expected one station in a setup",
				p.Number, quoted(p.Spec.Station), p.rows[0].Line, quoted(r.Station))
		}
	}
	return nil
}

// findOrder takes the order of observing from the rows: one in a setup.
func (p *Paper) findOrder() error {
	s := &p.Spec
	s.Order, s.Repetitions = p.rows[0].Order, p.rows[0].Times
	for _, r := range p.rows {
		if r.Order != s.Order || r.Times != s.Repetitions {
			if here := (spec.Spec{Order: r.Order, Repetitions: r.Times}); here.Ordered() != s.Ordered() {
				return p.fault(r, colOrder, "setup %d is observed %s since line %d, here %s: expected one order in a setup",
					p.Number, s.Ordered(), p.rows[0].Line, here.Ordered())
			}
		}
		if r.Quantity == spec.Accumulated && s.Order != spec.ByRepetition {
			return p.fault(r, colQuantity, "setup %d is observed %s: expected the order repetition, and how often behind it, where a reading is accumulated", p.Number, s.Ordered())
		}
	}
	return nil
}

// findUnits takes the unit of the circle and that of lengths from the rows: one
// of each in a setup.
func (p *Paper) findUnits() error {
	p.Spec.Instrument.Unit, p.Spec.LengthUnit = reduce.DMS, lengths.Metres
	var circle, length *row
	for _, r := range p.rows {
		first := &length
		if r.Quantity.Angular() {
			first = &circle
		}
		if *first == nil {
			*first = r
		}
		if r.Unit != (*first).Unit {
			return p.fault(r, colUnit, "setup %d is read in %s since line %d, here in %s: expected one unit in a setup",
				p.Number, (*first).Unit, (*first).Line, r.Unit)
		}
	}
	if circle != nil {
		p.Spec.Instrument.Unit, _ = reduce.UnitOf(circle.Unit)
	}
	if length != nil && length.Unit == "ft" {
		p.Spec.LengthUnit = lengths.Feet
	}
	return nil
}

// checkTargets refuses more targets than a setup can have before they are put in
// their order.
func (p *Paper) checkTargets() error {
	var seen []string // so few that looking through them is quicker than a table
	for _, r := range p.rows {
		if r.Target == "" || slices.Contains(seen, r.Target) {
			continue
		}
		if seen = append(seen, r.Target); len(seen) > spec.MaxTargets+1 {
			return p.fault(r, colTarget, "%s is one target more than setup %d can have: expected the RO and %d targets at most", quoted(r.Target), p.Number, spec.MaxTargets)
		}
	}
	return nil
}

// checkRounds wants the rounds numbered without a gap.
func (p *Paper) checkRounds() error {
	var first [mostRounds + 1]*row
	most := 0
	for _, r := range p.rows {
		if r.Round > 0 && first[r.Round] == nil {
			first[r.Round] = r
		}
		most = max(most, r.Round)
	}
	for n := 1; n < most; n++ {
		if first[n] == nil {
			for first[n] == nil {
				n++
			}
			return p.fault(first[n], colRound, "round %d of setup %d, but no row of round %d: expected rounds numbered 1, 2, … without a gap",
				n, p.Number, n-1)
		}
	}
	return nil
}

// judgeRounds finds the rounds that are void and those that were left out.
func (p *Paper) judgeRounds() {
	if !slices.ContainsFunc(p.rows, func(r *row) bool { return r.Struck != "" }) {
		return
	}
	for n := 1; ; n++ {
		var rows []*row
		for _, r := range p.rows {
			if r.Quantity.OfRound() && r.Round == n {
				rows = append(rows, r)
			}
		}
		if len(rows) == 0 {
			return
		}
		if slices.ContainsFunc(rows, func(r *row) bool { return r.Struck == "" || leftOutAlone(r) }) {
			continue
		}
		p.void[n] = rows[len(rows)-1].Struck
		var why []string
		for _, r := range rows {
			if strings.HasPrefix(r.Struck, leftOut) && !slices.Contains(why, r.Struck) {
				why = append(why, r.Struck)
			}
		}
		if len(why) == 1 {
			p.out[n] = why[0]
			delete(p.void, n)
		}
	}
}

func leftOutAlone(r *row) bool { return strings.HasPrefix(r.Struck, leftOutReading) }

// stands tells whether the reading of a row is not struck in the book: one of a
// left-out round stands, and its round is not used.
func (p *Paper) stands(r *row) bool {
	return r.Struck == "" || leftOutAlone(r) || r.Quantity.OfRound() && p.out[r.Round] == r.Struck
}

// plan fills in what the rows tell of the programme.
func (p *Paper) plan() {
	s := &p.Spec
	s.Plan, s.CloseHalves = spec.FreePlan, p.closed
	rounds := 0
	for _, t := range s.Targets {
		if slices.ContainsFunc(p.rows, func(r *row) bool { return r.slot.Quantity == spec.Horizontal && r.slot.Closing && r.Target == t }) {
			s.MoreROs = append(s.MoreROs, t)
		}
	}
	for _, r := range p.rows {
		rounds = max(rounds, r.Round)
		s.Distances = s.Distances || r.Quantity == spec.Slope || r.Quantity == spec.TargetHeight
	}
	s.Rounds = min(max(rounds-len(p.void), spec.LeastRounds), 24)
}

// nothingSighted is said of a setup that cannot be booked because its rows name
// no target.
const nothingSighted = "no row names a target, so nothing was sighted: expected rows with targets, or no rows of this setup"
