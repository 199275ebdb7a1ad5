package tui

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/instrument"
	"example.org/readback/booking/network"
	"example.org/readback/booking/page"
	"example.org/readback/booking/spec"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// fakePort keeps a book in memory. Events are queued and answered when the test
// says so, or at once.
type fakePort struct {
	entries []event.Entry // what is on disk
	queue   []event.Entry // what is not yet
	hold    bool          // answers are held back
	prefs   preferences
	status  Status
	head    uint64
	lose    map[uint64]bool // what a failed write loses
	known   check.Known
	reopens int
	unread  error // the work list cannot be read
	reErr   error
	updates failer // set while Update works: it reads nothing, commands do
}

// reads fails the test where something is read while Update works.
func (p *fakePort) reads(what string) {
	if p.updates != nil {
		p.updates.Helper()
		p.updates.Fatalf("Update reads: %s", what)
	}
}

func (p *fakePort) Next() uint64 { return p.head + 1 }

func (p *fakePort) Append(e event.Entry, _ *booking.Setup) {
	p.head = e.Seq
	p.queue = append(p.queue, e)
}

func (p *fakePort) of(n int) []event.Entry {
	var out []event.Entry
	for _, e := range p.entries {
		if e.Setup == n {
			out = append(out, e)
		}
	}
	return out
}

func (p *fakePort) Book() (day.Book, error) {
	p.reads("Book")
	return day.Fold(p.of(0))
}

func (p *fakePort) Setup(n int) (booking.Setup, error) {
	p.reads("Setup")
	return booking.Fold(p.of(n))
}

func (p *fakePort) Status() Status { return p.status }

func (p *fakePort) Known(booking.Setup) check.Known {
	p.reads("Known")
	return p.known
}

func (p *fakePort) Digest(path string) (int64, string, error) {
	p.reads("Digest")
	if path != "weir.jpg" {
		return 0, "", errors.New("open " + path + ": no such file")
	}
	return 2048, strings.Repeat("ab", 32), nil
}

func (p *fakePort) Summaries(offset, n int) ([]day.Summary, int, error) {
	p.reads("Summaries")
	if p.unread != nil {
		return nil, 0, p.unread
	}
	var all []day.Summary
	for i := 1; ; i++ {
		s, err := p.Setup(i)
		if err != nil || s.Number == 0 {
			break
		}
		all = append([]day.Summary{check.Summarize(s)}, all...)
	}
	total := len(all)
	all = all[min(offset, total):]
	return all[:min(n, len(all))], total, nil
}

func (p *fakePort) FigureReport(stop func() bool) (network.Report, error) {
	b, err := p.Book()
	if err != nil {
		return network.Report{}, err
	}
	set, err := network.DefaultSettings().Recorded(b.Figures)
	if err != nil {
		return network.Report{}, err
	}
	in := network.Input{Settings: set, Stop: stop}
	list, _, err := p.Summaries(0, 1000)
	for _, m := range list {
		in.Setups = append([]day.Summary{m}, in.Setups...)
	}
	return network.Work(in), err
}

func (p *fakePort) FigurePage(foreseen bool) (page.Page, error) {
	p.reads("FigurePage")
	b, err := p.Book()
	in := network.Input{Settings: network.DefaultSettings(), Known: b.Known}
	list, _, _ := p.Summaries(0, 1000)
	for _, m := range list {
		in.Setups = append([]day.Summary{m}, in.Setups...)
	}
	var of interface{ Page() page.Page }
	if err == nil && foreseen {
		of, err = network.Expect(in, network.Planned{Stations: b.Plan})
	} else if err == nil {
		of, err = network.Onto(in, nil, false)
	}
	if err != nil {
		return page.Page{}, err
	}
	return of.Page(), nil
}

func (p *fakePort) Instruments() ([]instrument.Instrument, error) {
	p.reads("Instruments")
	var samples []instrument.Sample
	for n := 1; ; n++ {
		s, err := p.Setup(n)
		if err != nil || s.Number == 0 {
			b, _ := p.Book()
			set := instrument.DefaultSettings()
			return instrument.WithChecks(instrument.Work(samples, set), b.Checks, set), err
		}
		samples = append(samples, instrument.SampleOf(s))
	}
}

func (p *fakePort) Reopen() (Status, error) {
	p.reopens++
	if p.reErr != nil {
		return Status{}, p.reErr
	}
	var r Status
	for _, e := range p.queue {
		if p.lose[e.Seq] {
			r.Lost = append(r.Lost, e.Seq)
		} else {
			r.InFile = append(r.InFile, e.Seq)
			p.entries = append(p.entries, e)
		}
	}
	p.queue = nil
	p.head = 0
	if n := len(p.entries); n > 0 {
		p.head = p.entries[n-1].Seq
	}
	r.Head = p.head
	return r, nil
}

// driver runs the screens without a program: every message and every command on
// the test's own goroutine, in order.
type driver struct {
	t     failer
	app   *app
	port  *fakePort
	at    time.Time
	quit  bool
	rings int
	opts  Options
	// blind leaves the drawing out, for long ways to a state.
	blind bool
	// keyed keys every reading of a long way, though it was keyed before.
	keyed bool
	// slow keeps commands waiting until answerOne picks them, in any order.
	slow    bool
	waiting []tea.Cmd
}

func newDriver(t failer, port *fakePort, opts Options) *driver {
	t.Helper()
	d := &driver{t: t, port: port, at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	if port.status.Path == "" {
		port.status = Status{Path: "brackenfold.book", Journal: "brackenfold.book.jsonl"}
	}
	opts.Now = func() time.Time { return d.at }
	opts.Ring = func() { d.rings++ }
	opts.Remember = func(choices []byte) { _ = json.Unmarshal(choices, &port.prefs) }
	d.opts = opts
	return d.start()
}

// start begins the program on what is on disk.
func (d *driver) start() *driver {
	d.opts.Remembered, _ = json.Marshal(d.port.prefs)
	d.app = New(d.port, d.opts).(*app)
	d.run(d.app.Init())
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return d
}

// A way is a long row of keys, and what it left on disk the first time it was gone.
type way struct {
	play    func(d *driver)
	entries []event.Entry
	at      time.Time
}

// along goes a way from an empty book: by its keys the first time, and the other times
// by opening what they left. A book opened again stands where it stood.
func (d *driver) along(w *way) *driver {
	if d.keyed || d.slow || d.port.hold || d.port.head > 0 {
		return d.unseen(func() { w.play(d) })
	}
	if w.entries == nil {
		first := newDriver(d.t, &fakePort{}, Options{})
		first.unseen(func() { w.play(first) })
		w.entries, w.at = first.port.entries, first.at
	}
	return d.unseen(func() {
		d.port.entries, d.port.head, d.at = slices.Clone(w.entries), w.entries[len(w.entries)-1].Seq, w.at
		d.start()
	})
}

// run runs a command and feeds its answer back.
func (d *driver) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	if d.slow {
		d.waiting = append(d.waiting, cmd)
		return
	}
	d.runNow(cmd)
}

// answerOne runs one of the commands that wait.
func (d *driver) answerOne(i int) {
	if len(d.waiting) == 0 {
		return
	}
	i %= len(d.waiting)
	cmd := d.waiting[i]
	d.waiting = append(d.waiting[:i:i], d.waiting[i+1:]...)
	d.runNow(cmd)
}

func (d *driver) runNow(cmd tea.Cmd) {
	switch m := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range m {
			d.run(c)
		}
	case tea.QuitMsg:
		d.quit = true
	default:
		d.send(m)
	}
}

func (d *driver) send(m tea.Msg) {
	d.port.updates = d.t
	_, cmd := d.app.Update(m)
	d.port.updates = nil
	if !d.blind {
		_ = d.app.View()
	}
	d.run(cmd)
	if !d.port.hold {
		d.flush()
	}
}

// flush answers what was queued: it is on disk.
func (d *driver) flush() {
	if f := d.app.v.failure; f != nil && !f.done {
		return
	}
	for len(d.port.queue) > 0 {
		e := d.port.queue[0]
		d.port.queue = d.port.queue[1:]
		d.port.entries = append(d.port.entries, e)
		_, cmd := d.app.Update(Written{Seq: e.Seq})
		d.run(cmd)
	}
}

// unseen leaves the drawing out on the way that play goes, and draws its end.
func (d *driver) unseen(play func()) *driver {
	was := d.blind
	d.blind = true
	play()
	if d.blind = was; !was {
		_ = d.app.View()
	}
	return d
}

func (d *driver) size(w, h int) *driver {
	d.send(tea.WindowSizeMsg{Width: w, Height: h})
	return d
}

// key types characters in one message, as a quick typist's burst arrives.
func (d *driver) key(s string) *driver {
	d.at = d.at.Add(2 * time.Second)
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)})
	return d
}

// keys types characters one by one; words of the keyboard stand between < >.
func (d *driver) keys(s string) *driver {
	for len(s) > 0 {
		if name, rest, ok := strings.Cut(strings.TrimPrefix(s, "<"), ">"); s[0] == '<' && ok {
			d.special(name)
			s = rest
			continue
		}
		r := []rune(s)[0]
		d.key(string(r))
		s = s[len(string(r)):]
	}
	return d
}

var specials = map[string]tea.KeyType{"enter": tea.KeyEnter, "back": tea.KeyBackspace, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight, "pgdown": tea.KeyPgDown, "pgup": tea.KeyPgUp, "tab": tea.KeyTab}

func (d *driver) special(name string) {
	d.at = d.at.Add(2 * time.Second)
	if name == "esc" {
		d.app.Update(tea.KeyMsg{Type: tea.KeyEsc})
		d.at = d.at.Add(100 * time.Millisecond)
		d.send(escDue{})
		return
	}
	k, ok := specials[name]
	if !ok {
		d.t.Fatalf("no key %q", name)
	}
	d.send(tea.KeyMsg{Type: k})
}

// book keys readings, each with Enter.
func (d *driver) book(readings ...string) *driver {
	for _, r := range readings {
		for _, part := range strings.SplitAfter(r, " ") {
			d.key(part)
		}
		d.keys("<enter>")
	}
	return d
}

// confirmed keys readings and confirms those that are marked.
func (d *driver) confirmed(readings ...string) *driver {
	for _, r := range readings {
		d.book(r)
		if d.app.desk.asking != nil {
			d.key("y")
		}
	}
	return d
}

// plain is the window as text.
func (d *driver) plain() string { return ansi.Strip(d.app.View()) }

func (d *driver) sees(words ...string) *driver {
	d.t.Helper()
	text := strings.Join(strings.Fields(d.plain()), " ")
	for _, w := range words {
		if !strings.Contains(text, w) {
			d.t.Fatalf("%q is not seen in\n%s", w, d.plain())
		}
	}
	return d
}

func (d *driver) seesNot(words ...string) *driver {
	d.t.Helper()
	text := strings.Join(strings.Fields(d.plain()), " ")
	for _, w := range words {
		if strings.Contains(text, w) {
			d.t.Fatalf("%q is seen in\n%s", w, d.plain())
		}
	}
	return d
}

// tap touches the first cell of the window where the words stand.
func (d *driver) tap(words string) *driver {
	d.t.Helper()
	for y, l := range strings.Split(d.plain(), "\n") {
		if x := strings.Index(l, words); x >= 0 {
			d.at = d.at.Add(2 * time.Second)
			x = ansi.StringWidth(l[:x])
			d.send(tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
			d.send(tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionRelease, Button: tea.MouseButtonLeft})
			return d
		}
	}
	d.t.Fatalf("%q is nowhere to touch in\n%s", words, d.plain())
	return d
}

func (d *driver) slot() spec.Slot { return d.app.v.slot }

const second = time.Second

var errDisk = errors.New("write brackenfold.book: no space left on device")

// a failer is what a test, a benchmark and a random test have in common.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}
