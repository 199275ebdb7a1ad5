package booking_test

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
	"example.org/readback/booking/event"
	"example.org/readback/booking/programme"
	"example.org/readback/booking/reduction"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
	"example.org/readback/reduce/lengths"
	"example.org/readback/testdata"
)

// A procedure script is a station booked command by command. A command stands at
// the margin, what the program answers under it, indented. An expected refusal is
// marked in the command with "!": -update writes the answers anew and never
// changes a command, so it can neither add a refusal nor drop one.
//
//	open ro=Spire targets=Alder,Mast rounds=2   (station Weir, 5″, in dms, unless said)
//	key 0 05 10 / 45 10 20                      readings, as called
//	confirm 45 20 20                            a marked one, read again
//	again Alder slope 120.503                   measured once more, the first stands
//	half 1 FL                                   a half observed once more, the first stands
//	strike 4 wrong target                       hide, block, void, leave-out N, take-back N, remark N, round
//	verdict, reduce, lift [reason]
func TestProcedure_Scripts(t *testing.T) {
	files, err := filepath.Glob("../testdata/procedure/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	for _, path := range files {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			got := playScript(t, string(text))
			switch {
			case t.Failed() || got == string(text):
			case *testdata.Update:
				err = os.WriteFile(path, []byte(got), 0o644)
			default:
				t.Errorf("%s answers\n%s", path, got)
			}
			if err != nil {
				t.Fatal(err)
			}
		})
	}
}

// playScript plays the commands and returns the script with the answers given.
func playScript(t *testing.T, text string) string {
	p := &procedure{t: t, at: time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)}
	var b strings.Builder
	for n, line := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		if strings.HasPrefix(line, "    ") {
			continue // an answer
		}
		b.WriteString(line + "\n")
		command, marked := strings.CutPrefix(line, "! ")
		if command == "" || command[0] == '#' {
			continue
		}
		p.said = nil
		word, rest, _ := strings.Cut(command, " ")
		err := p.do(word, strings.TrimSpace(rest))
		if err != nil {
			p.say("refused: %v", err)
		}
		if marked != (err != nil) {
			t.Errorf("line %d: %s: marked as a refusal: %v; it answers: %s", n+1, line, marked, strings.Join(p.said, "; "))
		}
		for _, s := range p.said {
			b.WriteString("    " + s + "\n")
		}
	}
	return b.String()
}

// A procedure is a station while its script is played.
type procedure struct {
	t    *testing.T
	s    booking.Setup
	seq  uint64
	at   time.Time
	said []string
}

func (p *procedure) say(format string, args ...any) {
	p.said = append(p.said, fmt.Sprintf(format, args...))
}

// do carries out one command. The error is the refusal.
func (p *procedure) do(word, rest string) error {
	number, reason, _ := strings.Cut(rest, " ")
	n, _ := strconv.Atoi(number)
	switch slot := programme.Expect(p.s).Slot; word {
	case "open":
		return book(p, func() (event.SetupOpened, error) { return booking.Open(scriptSpec(p.t, rest)) })
	case "key", "confirm":
		for _, reading := range strings.Split(rest, " / ") {
			if err := p.key(reading, word == "confirm"); err != nil {
				return err
			}
		}
		p.sayNext()
		return nil
	case "strike":
		return book(p, func() (event.ReadingStruck, error) { return p.s.Strike(uint64(n), reason) })
	case "hide", "block":
		return book(p, func() (event.PointingSkipped, error) { return p.s.Skip(slot, word == "block", rest) })
	case "void":
		return book(p, func() (event.RoundVoided, error) { return p.s.VoidRound(slot, rest) })
	case "leave-out":
		return book(p, func() (event.RoundLeftOut, error) { return p.s.LeaveOut(n, reason) })
	case "take-back":
		return book(p, func() (event.RoundTakenBack, error) { return p.s.TakeBack(n, reason) })
	case "leave-out-reading":
		return book(p, func() (event.ReadingLeftOut, error) { return p.s.LeaveOutReading(uint64(n), reason) })
	case "take-back-reading":
		return book(p, func() (event.ReadingTakenBack, error) { return p.s.TakeBackReading(uint64(n), reason) })
	case "half":
		var face faces.Face
		round, words, _ := strings.Cut(rest, " ")
		n, _ = strconv.Atoi(round)
		if face = faces.FL; words == "FR" {
			face = faces.FR
		}
		return book(p, func() (event.HalfAsked, error) { return p.s.AgainHalf(n, face) })
	case "again":
		return p.again(spec.Slot{Target: number}, reason)
	case "amend":
		words, why, _ := strings.Cut(rest, ": ")
		return p.amend(words, why)
	case "strike-setup":
		return book(p, func() (event.SetupStruck, error) { return p.s.StrikeWhole(rest) })
	case "round":
		return book(p, func() (event.RoundAdded, error) { return p.s.AddRound(rest) })
	case "remark":
		return book(p, func() (event.RemarkMade, error) { return p.s.Remark(uint64(n), reason) })
	case "lift":
		return book(p, func() (event.Lifted, error) { return check.Lift(p.s, rest) })
	case "verdict":
		p.verdict()
	case "reduce":
		p.reduce()
	default:
		p.t.Fatalf("no command %q", word)
	}
	return nil
}

// again measures a place of the page once more and keys its readings.
func (p *procedure) again(slot spec.Slot, rest string) error {
	word, texts, _ := strings.Cut(rest, " ")
	var err error
	if in, ok := strings.CutPrefix(word, "horizontal-"); ok { // horizontal-1FL
		word, slot.Round, slot.Face = "horizontal", int(in[0]-'0'), faces.FL
		if in[1:] == "FR" {
			slot.Face = faces.FR
		}
	}
	if slot.Quantity, err = spec.ParseQuantity(strings.ReplaceAll(word, "-", " ")); err != nil {
		p.t.Fatal(err)
	}
	if slot.Quantity == spec.Vertical {
		slot.Face = faces.FR // the telescope stands so
	}
	if slot.Quantity == spec.InstrumentHeight {
		slot.Target = ""
	}
	if slot, err = p.s.Again(slot); err != nil {
		return err
	}
	for _, text := range strings.Split(texts, " / ") {
		if err := p.keyAt(slot, text, true); err != nil {
			return err
		}
		slot = slot.Pair()
	}
	p.sayNext()
	return nil
}

// amend changes what the words name: Old>New renames, the others are those of
// open.
func (p *procedure) amend(words, why string) error {
	agreed, renamed := p.s.Spec, []spec.Rename(nil)
	var rest []string
	for _, w := range strings.Fields(words) {
		from, to, ok := strings.Cut(w, ">")
		if !ok {
			rest = append(rest, w)
			continue
		}
		renamed = append(renamed, spec.Rename{From: from, To: to})
	}
	agreed = p.s.Spec.Rename(renamed)
	specWords(p.t, &agreed, strings.Join(rest, " "))
	err := book(p, func() (event.SetupAmended, error) { return p.s.Amend(agreed, renamed, why) })
	if err == nil {
		p.said = append(p.s.Amended[len(p.s.Amended)-1].Changes(), p.said...)
	}
	return err
}

// book stores the event that is decided and says what is called next.
func book[E event.Event](p *procedure, decide func() (E, error)) error {
	e, err := decide()
	if err != nil {
		return err
	}
	p.store(e)
	p.sayNext()
	return nil
}

// store writes an event and folds it, and holds that the fold of what was
// written is the same.
func (p *procedure) store(e event.Event) {
	p.t.Helper()
	p.seq++
	p.at = p.at.Add(10 * time.Second)
	kind, version, body, err := event.Encode(e)
	if err != nil {
		p.t.Fatal(err)
	}
	back, err := event.Decode(kind, version, body)
	if err != nil || !reflect.DeepEqual(back, e) {
		p.t.Fatalf("kind %d reads back as %+v (%v), was %+v", kind, back, err, e)
	}
	if p.s, err = p.s.Apply(event.Entry{Seq: p.seq, At: p.at, Setup: 1, Event: back}); err != nil {
		p.t.Fatal(err)
	}
}

func (p *procedure) key(text string, confirmed bool) error {
	return p.keyAt(programme.Expect(p.s).Slot, text, confirmed)
}

func (p *procedure) keyAt(slot spec.Slot, text string, confirmed bool) error {
	e, err := check.Read(p.s, slot, text, confirmed, check.Known{})
	if err == nil {
		p.store(e)
		p.say("%d %s: %s", p.seq, slot, text)
	}
	for _, f := range e.Findings {
		if f.Severity != event.Note {
			p.say("  %s", f.Text)
		}
	}
	return err
}

// sayNext says what is called next.
func (p *procedure) sayNext() {
	next := programme.Expect(p.s)
	if p.s.Void != nil {
		p.say("next: nothing, the setup is struck")
		return
	}
	if next.Phase >= programme.AtVerdict {
		p.say("next: %s", map[programme.Phase]string{programme.AtVerdict: "the verdict", programme.AfterLift: "nothing, the tripod is lifted"}[next.Phase])
		return
	}
	words := ""
	if next.SetCircle {
		words += ", circle set from " + next.From.Format(p.s.Spec.Instrument.Unit, 0)
	}
	for _, w := range []struct {
		word string
		so   bool
	}{{", transit", next.Transit && !next.SetCircle}, {", again", next.Again}, {", hidden before", next.Returning}, {", a round more", next.Extra}} {
		if w.so {
			words += w.word
		}
	}
	p.say("next: %s%s", next.Slot, words)
}

func (p *procedure) verdict() {
	v := check.Judge(p.s)
	p.say("%s", strings.ToUpper(v.Word()[:1])+v.Word()[1:])
	for _, c := range v.Checks {
		if c.Met {
			p.say("  met: %s", c.Text)
		} else {
			p.say("  not met: %s Then: %s.", c.Text, c.Again)
		}
	}
}

func (p *procedure) reduce() {
	r, i := reduction.Of(p.s), p.s.Spec.Instrument
	for _, d := range r.Directions {
		p.say("%s %s", d.Target, d.Direction.Format(i.Unit, i.Places()+1))
	}
	for _, v := range r.Verticals {
		if v.HasHorizontal {
			p.say("%s horizontal %.4f m, rise %.4f m, s of one pair %.1f″", v.Target, v.Horizontal, v.Rise, v.S)
		}
		if v.HasPair {
			p.say("%s altitude %s, index error %s", v.Target, v.Altitude.Format(i.Unit, i.Places()+1), v.Index.FormatSmall(i.Unit))
		}
	}
}

// scriptSpec reads the words behind open.
func scriptSpec(t *testing.T, words string) spec.Spec {
	s := spec.Spec{
		Station: "Weir", RO: "Spire", Instrument: spec.Instrument{Name: "T-5", Serial: "4471", Unit: reduce.DMS, Circle: faces.Zenith},
		Observer: "Ines Holm", Booker: "Tam Okoro", Rounds: 2, Plan: spec.QuarterPlan, ClosingRule: faces.ClosingMean,
		LengthUnit: lengths.Metres, Refraction: spec.DefaultRefraction,
	}
	s.Instrument.LeastCount = 5 * reduce.Arcsecond
	if strings.Contains(words, "gon") {
		s.Instrument.LeastCount = reduce.Milligon
	}
	s.Limits = spec.DefaultLimits(s.Instrument.LeastCount)
	specWords(t, &s, words)
	return s
}

// specWords changes what the words name.
func specWords(t *testing.T, s *spec.Spec, words string) {
	t.Helper()
	for _, w := range strings.Fields(words) {
		name, value, _ := strings.Cut(w, "=")
		n, err := strconv.Atoi(value)
		switch name {
		case "station":
			s.Station = value
		case "ro":
			s.RO = value
		case "targets":
			s.Targets, err = strings.Split(value, ","), nil
		case "rounds":
			s.Rounds = n
		case "order":
			s.Order, s.Repetitions, err = spec.ParseOrder(strings.ReplaceAll(value, "-", " "))
		case "least":
			small := reduce.Arcsecond
			if s.Instrument.Unit == reduce.GonUnit {
				small = reduce.Milligon
			}
			s.Instrument.LeastCount = reduce.Angle(n) * small
			s.Limits = spec.DefaultLimits(s.Instrument.LeastCount)
		case "gon":
			s.Instrument.Unit, err = reduce.GonUnit, nil
		case "closed":
			s.CloseHalves, err = true, nil
		case "verticals":
			s.Verticals, err = true, nil
		case "distances":
			s.Distances, err = true, nil
		case "no-distance":
			s.NoDistance, err = strings.Split(value, ","), nil
		case "no-vertical":
			s.NoVertical, err = strings.Split(value, ","), nil
		default:
			t.Fatalf("open: no word %q", w)
		}
		if err != nil && name != "station" && name != "ro" {
			t.Fatalf("open: %s: %v", w, err)
		}
	}
}
