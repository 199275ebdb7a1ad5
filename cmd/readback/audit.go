package main

import (
	"errors"
	"fmt"
	"io"
	"time"

	"example.org/readback/booking/exchange/reports"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/cmd/internal/output"
	"example.org/readback/store/fault"
	"example.org/readback/store/repair"
)

// An AuditCmd checks a book in full and lists what was struck, overridden,
// voided and confirmed.
type AuditCmd struct {
	Book   string   `arg:"" help:"The book."`
	Copy   string   `help:"Folder of the second journal, to be checked too." placeholder:"DIR" type:"path"`
	Expect []string `help:"Hash of an event that was noted or sent, or its first 12 digits or more: an event must have it. May be given more than once." placeholder:"HASH"`
	File   []string `help:"A file that was handed over, to be held against the book. May be given more than once." placeholder:"FILE" type:"path"`
	JSON   bool     `help:"Print the audit as JSON."`
	Zone
	output.Flags
}

// errUnsound is the outcome of an audit that found damage.
var errUnsound = errors.New("the book is not sound")

// Help shows how it is called.
func (AuditCmd) Help() string {
	return `Examples:
  readback audit dam.readback
  readback audit dam.readback --copy /media/card -o audit.txt
  readback audit dam.readback --expect cf4d79b3e90f --file dam.csv
  readback audit dam.readback --json`
}

// Run prints the audit. Exit 0: sound; 1: not; 2: no such book.
func (a *AuditCmd) Run(c *Context) error {
	if err := a.Check(a.Book); err != nil {
		return err
	}
	if a.JSON && len(a.Expect)+len(a.File) > 0 {
		return badInput(errors.New("--expect and --file answer in words: leave --json out"))
	}
	t := &ties{want: map[string][]string{}, found: map[string]uint64{}}
	for _, hash := range a.Expect {
		if err := t.expect(hash); err != nil {
			return err
		}
	}
	p := c.progress("events", 0)
	r := repair.Audit(a.Book, repair.Checks{Copy: a.Copy, Each: t.fold, Watch: p.Of})
	p.End()
	switch {
	case errors.Is(r.Unread, fault.ErrInUse), errors.Is(r.Unread, fault.ErrNotAllowed), errors.Is(r.Unread, fault.ErrUnreadable), errors.Is(r.Unread, fault.ErrForeign):
		return r.Unread // nothing is said against the book
	case r.Unread != nil && codeOf(r.Unread) == exitUsage:
		return badInput(r.Unread)
	}
	var ties error
	err := c.hand(a.Flags, append([]string{a.Book}, a.File...), func(c *Context) error {
		if a.JSON {
			return a.printJSON(c, r)
		}
		printAudit(c.Out, r)
		if r.Unread != nil {
			return nil
		}
		ties = errors.Join(t.tell(c.Out), a.checkFiles(c))
		if err := a.printJudgements(c); err != nil {
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
func (a *AuditCmd) checkFiles(c *Context) error {
	if len(a.File) == 0 {
		return nil
	}
	picked, done, err := c.prove(a.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	for _, path := range a.File {
		err = errors.Join(err, c.checkFile(path, picked))
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
		fmt.Fprintln(w, "           The last line breaks off; it was never shown as saved.")
	}
	if c.ClockBack > 0 {
		fmt.Fprintf(w, "           Times that the clock went back: %d; the events keep their order.\n", c.ClockBack)
	}
	if c.Index != nil {
		fmt.Fprintf(w, "           index: %v\n", c.Index)
	}
}

// printJudgements lists strikes, confirmations, void and left-out rounds and
// lifts on Hold, each with who, when and why.
func (a *AuditCmd) printJudgements(c *Context) error {
	w, zone := c.Out, a.location()
	picked, done, err := c.prove(a.Book, nil)
	if err != nil {
		return err
	}
	defer done()
	if err := picked.MarkDrills(w); err != nil {
		return err
	}
	list, err := picked.Judgements()
	if err == nil && len(list) == 0 {
		fmt.Fprintln(w, "Nothing was struck, amended, confirmed against a mark, voided, left out or lifted on Hold.")
	}
	for i, j := range list {
		if i == 0 {
			fmt.Fprintln(w, "Strikes, amendments, confirmations, what is void or left out, lifts on Hold; what was said of the book or loaded")
		}
		where := "the book"
		if j.Setup > 0 {
			where = fmt.Sprintf("setup %d %s", j.Setup, j.Station)
		}
		who := j.At.In(zone).Format(time.DateTime)
		if j.By != "" {
			who += ", " + j.By
		}
		fmt.Fprintf(w, "  event %d, %s, %s: %s\n", j.Event, where, who, j.Text)
	}
	return err
}

// printJSON prints the audit as JSON.
func (a *AuditCmd) printJSON(c *Context, r repair.Report) error {
	document := reports.Audit{Path: r.Path, Sound: r.Err() == nil && r.Unseen() == nil, Chains: []reports.AuditChain{}, Notes: append([]string{}, r.Notes...), Judgements: []reports.Judgement{}}
	document.Unread, document.Differ = words(r.Unread), words(r.Differ)
	for i := range r.Chains {
		document.Chains = append(document.Chains, auditChain(inUse(&r), &r.Chains[i]))
	}
	if r.Journal != nil {
		document.Chains = append(document.Chains, auditChain("journal", r.Journal))
	}
	if r.Copy != nil {
		document.Chains = append(document.Chains, auditChain("copy", r.Copy))
	}
	if r.Unread == nil {
		picked, done, err := c.prove(a.Book, nil)
		if err != nil {
			return err
		}
		defer done()
		list, err := picked.Judgements()
		if err != nil {
			return err
		}
		document.Judgements = append(document.Judgements, list...)
	}
	return c.json(document)
}

func auditChain(what string, c *repair.ChainReport) reports.AuditChain {
	out := reports.AuditChain{What: what, Path: c.Path, Name: c.Name, Book: fmt.Sprintf("%x", c.ID), Events: c.Events, Fault: words(c.Fault),
		FaultEvent: c.FaultEvent, Torn: c.Torn, ClockBack: c.ClockBack, Index: words(c.Index), Unseen: words(c.Unseen)}
	if c.Events > 0 {
		out.LastHash = fmt.Sprintf("%x", c.Hash)
	}
	for _, err := range c.Senseless {
		out.Senseless = append(out.Senseless, err.Error())
	}
	return out
}

// words is the sentence of an error; none gives none.
func words(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}
