package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/page"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/store/fault"
	"example.org/readback/store/repair"
)

// An AuditCmd checks a book in full and lists what was struck, overridden,
// voided and confirmed.
type AuditCmd struct {
	Book   string   `arg:"" help:"The book."`
	Copy   string   `help:"Directory of the second journal, to be checked too." placeholder:"DIR" type:"path"`
	Expect []string `help:"Hash of an event that was noted or sent, or its first 12 digits or more: an event must have it. May be given more than once." placeholder:"HASH"`
	File   []string `help:"A file that was handed over, to be held against the book. May be given more than once." placeholder:"FILE" type:"path"`
	output.Flags
}

// errUnsound is the outcome of an audit that found damage.
var errUnsound = errors.New("the book is not sound")

// Help shows how it is called.
func (AuditCmd) Help() string {
	return `Examples:
  readback audit dam.readback
  readback audit dam.readback --copy /media/card -o audit.txt`
}

// Run prints the audit. Exit 0: sound; 1: not; 2: no such book.
func (a *AuditCmd) Run(c *Context) error {
	if err := a.Check(a.Book); err != nil {
		return err
	}
	t := &ties{want: map[string][]string{}, found: map[string]uint64{}}
	for _, hash := range a.Expect {
		if err := t.expect(hash); err != nil {
			return err
		}
	}
	r := repair.Audit(a.Book, repair.Checks{Copy: a.Copy, Each: t.fold})
	switch {
	case errors.Is(r.Unread, fault.ErrInUse), errors.Is(r.Unread, fault.ErrNotAllowed):
		return r.Unread // nothing is said against the book
	case r.Unread != nil && codeOf(r.Unread) == exitUsage:
		return badInput(r.Unread)
	}
	var ties error
	err := c.hand(a.Flags, append([]string{a.Book}, a.File...), func(c *Context) error {
		printAudit(c.Out, r)
		if r.Unread != nil {
			return nil
		}
		ties = errors.Join(t.tell(c.Out), a.checkFiles(c.Out))
		if err := a.printJudgements(c.Out); err != nil {
			fmt.Fprintln(c.Out, err)
			ties = errors.Join(ties, err)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if err := r.Err(); err != nil {
		return fmt.Errorf("%w: %w", errUnsound, err)
	}
	if err := r.Unseen(); err != nil {
		return fmt.Errorf("nothing was found against the book, but not all could be looked at: %w", err)
	}
	return ties
}

// checkFiles holds every file that was handed over against the book.
func (a *AuditCmd) checkFiles(w io.Writer) error {
	if len(a.File) == 0 {
		return nil
	}
	picked, done, err := book.Choose(a.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	for _, path := range a.File {
		err = errors.Join(err, checkFile(w, path, picked))
	}
	return err
}

// printAudit prints what was found in the file and in its journals.
func printAudit(w io.Writer, r repair.Report) {
	fmt.Fprintf(w, "Audit of %s\n", r.Path)
	if r.Unread != nil {
		fmt.Fprintf(w, "  The book file cannot be read: %v\n", r.Unread)
	}
	for i := range r.Chains {
		printChain(w, inUse(&r), &r.Chains[i])
	}
	if r.Journal != nil {
		printChain(w, "journal", r.Journal)
	}
	if r.Copy != nil {
		printChain(w, "copy", r.Copy)
	}
	if r.Differ != nil {
		fmt.Fprintf(w, "  They differ: %v\n", r.Differ)
	}
	for _, n := range r.Notes {
		fmt.Fprintf(w, "  %s\n", n)
	}
	if r.Err() == nil && r.Unseen() == nil {
		fmt.Fprintln(w, "  Every event matches its hash and follows from the one before it.")
	}
}

func printChain(w io.Writer, what string, c *repair.ChainReport) {
	fmt.Fprintf(w, "  %-8s %s: %s sound", what, c.Path, book.Events(int(c.Events)))
	if c.Events > 0 {
		fmt.Fprintf(w, ", last hash %x", c.Hash[:8])
	}
	fmt.Fprintln(w)
	if c.Name != "" {
		fmt.Fprintf(w, "           source %s, identity %x\n", c.Name, c.ID[:8])
	}
	switch {
	case c.Fault != nil && c.FaultEvent > 0:
		fmt.Fprintf(w, "           event %d: %v\n", c.FaultEvent, c.Fault)
	case c.Fault != nil:
		fmt.Fprintf(w, "           %v\n", c.Fault)
	}
	if c.Unseen != nil {
		fmt.Fprintf(w, "           not looked at: %v\n", c.Unseen)
	}
	for _, err := range c.Senseless {
		fmt.Fprintf(w, "           %v\n", err)
	}
	if c.Torn {
		fmt.Fprintln(w, "           The last line breaks off; it was never acknowledged.")
	}
	if c.ClockBack > 0 {
		fmt.Fprintf(w, "           The clock went back %d times; the order of events is their number.\n", c.ClockBack)
	}
	if c.Index != nil {
		fmt.Fprintf(w, "           index: %v\n", c.Index)
	}
}

// printJudgements lists strikes, confirmations, void and left-out rounds and
// lifts on Hold, each with who, when and why.
func (a *AuditCmd) printJudgements(w io.Writer) error {
	picked, done, err := book.Choose(a.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	if err := picked.MarkDrills(w); err != nil {
		return err
	}
	n := 0
	for _, ch := range picked.Chapters {
		specs := map[int]booking.Spec{}
		for r, err := range ch.Records() {
			if err != nil {
				return err
			}
			e, err := book.EntryOf(r)
			if err != nil {
				return err
			}
			if v, ok := e.Event.(booking.SetupOpened); ok {
				specs[e.Setup] = v.Spec
			}
			text, by := judgement(e, func(seq uint64) booking.ReadingBooked { return struck(ch, seq) })
			if v, ok := e.Event.(booking.SetupAmended); ok {
				text, by = amended(v, specs[e.Setup]), v.By
				specs[e.Setup] = v.Spec
			}
			if text != "" {
				if n == 0 {
					fmt.Fprintln(w, "Strikes, amendments, confirmations, what is void or left out, lifts on Hold")
				}
				n++
				fmt.Fprintf(w, "  event %d, setup %d %s, %s, %s: %s\n", e.Seq, e.Setup, page.Visible(specs[e.Setup].Station),
					e.At.Local().Format(time.DateTime), page.Visible(by), page.Visible(text))
			}
		}
	}
	if n == 0 {
		fmt.Fprintln(w, "Nothing was struck, amended, confirmed against a mark, voided, left out or lifted on Hold.")
	}
	return nil
}

// struck returns the reading that a strike names.
func struck(c book.Chapter, seq uint64) booking.ReadingBooked {
	var v booking.ReadingBooked
	if e, err := c.Event(seq); err == nil {
		v, _ = e.Event.(booking.ReadingBooked)
	}
	return v
}

// judgement words an event in which somebody decided something; empty for any
// other.
func judgement(e booking.Entry, struck func(seq uint64) booking.ReadingBooked) (text, by string) {
	switch v := e.Event.(type) {
	case booking.ReadingBooked:
		if v.AfterLift {
			return fmt.Sprintf("read again after the lift: %s at %s", v.Text, v.Slot), v.By
		}
		if v.Confirmed {
			return fmt.Sprintf("booked %s at %s although it was marked (%s); confirmed as read again", v.Text, v.Slot, findingTexts(v.Findings)), v.By
		}
	case booking.ReadingStruck:
		r := struck(v.Seq)
		return fmt.Sprintf("struck event %d (%s, %s): %s%s", v.Seq, r.Slot, r.Text, v.Reason, late(v.AfterLift)), v.By
	case booking.ReadingLeftOut:
		r := struck(v.Seq)
		return fmt.Sprintf("left out event %d (%s, %s): %s%s", v.Seq, r.Slot, r.Text, v.Reason, late(v.AfterLift)), v.By
	case booking.ReadingTakenBack:
		r := struck(v.Seq)
		return fmt.Sprintf("took back event %d (%s, %s): %s%s", v.Seq, r.Slot, r.Text, v.Reason, late(v.AfterLift)), v.By
	case booking.SetupStruck:
		return "setup struck whole: " + v.Reason, v.By
	case booking.RoundVoided:
		return fmt.Sprintf("round %d void from %s on: %s", v.Round, v.From, v.Reason), v.By
	case booking.RoundLeftOut:
		return fmt.Sprintf("round %d left out: %s%s", v.Round, v.Reason, late(v.AfterLift)), v.By
	case booking.RoundTakenBack:
		return fmt.Sprintf("round %d taken back: %s%s", v.Round, v.Reason, late(v.AfterLift)), v.By
	case booking.PointingSkipped:
		return fmt.Sprintf("passed over %s: %s", v.Slot, v.Reason), v.By
	case booking.Lifted:
		if v.Despite != "" {
			return "lifted on Hold: " + v.Despite, v.By
		}
	}
	return "", ""
}

func late(afterLift bool) string {
	if afterLift {
		return " (after the lift)"
	}
	return ""
}

// amended words what an amendment changed, was being what was agreed before.
func amended(v booking.SetupAmended, was booking.Spec) string {
	text := "amended: " + strings.Join(booking.Amendment{SetupAmended: v, Was: was}.Changes(), "; ")
	if v.Reason != "" {
		text += ": " + v.Reason
	}
	return text + late(v.AfterLift)
}

func findingTexts(fs []booking.Finding) string {
	text := ""
	for _, f := range fs {
		if f.Severity == booking.Note {
			continue
		}
		if text != "" {
			text += " "
		}
		text += f.Text
	}
	return text
}
