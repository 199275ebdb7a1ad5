package exchange

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/booking/spec/field"
)

// planColumns are the columns of a plan. The first three must be there.
var planColumns = []string{"station", "ro", "targets", "rounds", "verticals", "distances", "day", "order"}

// ReadPlan reads the office's plan, one setup a row:
//
//	station,ro,targets,rounds,verticals,distances,day,order
//	Weir,Spire,Gannet; Alder,2,yes,Gannet,2026-05-04,target by target
//
// Targets stand clockwise from the RO, semicolons between them. Behind the RO stand
// further reference objects, semicolons between them, which are targets too. verticals and
// distances are yes, no, or the names they are read to; empty is no. rounds may be
// empty: as at the last setup; and so may order, by halves, target by target, or
// repetition and how often, "repetition 6". The error is a list of Faults.
func ReadPlan(text []byte, name string) ([]event.PlannedStation, error) {
	text = bytes.TrimPrefix(text, []byte("\uFEFF"))
	p := &planReader{file: name, csv: csv.NewReader(bytes.NewReader(text))}
	if !utf8.Valid(text) {
		return nil, faults{{File: name, Line: 1, What: "the file is not UTF-8: expected a file saved as UTF-8"}}
	}
	if !p.header() {
		return nil, p.faults
	}
	var plan []event.PlannedStation
	for len(p.faults) < mostFaults {
		cells, err := p.csv.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			p.unread(err)
			break
		}
		p.cells = cells
		plan = append(plan, p.station())
	}
	if len(p.faults) > 0 {
		return nil, p.faults
	}
	if len(plan) == 0 {
		return nil, faults{{File: name, Line: 2, What: "there is no row below the header: expected stations"}}
	}
	return plan, nil
}

// A planReader reads one plan.
type planReader struct {
	file   string
	csv    *csv.Reader
	at     map[string]int // where each column stands
	cells  []string
	faults faults
}

func (p *planReader) fault(column, format string, args ...any) {
	f := &fault{File: p.file, Line: 1, Name: column, What: fmt.Sprintf(format, args...)}
	if i, ok := p.at[column]; ok && p.cells != nil {
		f.Line, _ = p.csv.FieldPos(i)
		f.Column = i + 1
	}
	p.faults = append(p.faults, f)
}

// unread words an error of the CSV itself.
func (p *planReader) unread(err error) {
	f := &fault{File: p.file, Line: 1, What: err.Error()}
	var e *csv.ParseError
	if errors.As(err, &e) {
		f.Line, f.Column = e.Line, 0
		f.What = "the row has not as many cells as the header, or a quotation mark is not closed: expected one cell for each column"
	}
	p.faults = append(p.faults, f)
}

func (p *planReader) header() bool {
	head, err := p.csv.Read()
	if err != nil {
		p.faults = faults{{File: p.file, Line: 1, What: "the file has no header: expected " + strings.Join(planColumns, ",")}}
		return false
	}
	p.at = map[string]int{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		_, twice := p.at[h]
		switch {
		case !slices.Contains(planColumns, h):
			p.fault(h, "%s is no column of a plan: expected %s", quoted(h), strings.Join(planColumns, ", "))
		case twice:
			p.fault(h, "the column %s stands there twice", h)
		}
		p.at[h] = i
	}
	for _, must := range planColumns[:3] {
		if _, ok := p.at[must]; !ok {
			p.fault(must, "the column %s is missing: expected %s", must, strings.Join(planColumns[:3], ", "))
		}
	}
	return len(p.faults) == 0
}

func (p *planReader) cell(column string) string {
	i, ok := p.at[column]
	if !ok {
		return ""
	}
	t := strings.Join(strings.Fields(p.cells[i]), " ")
	if hasControl(t) {
		p.fault(column, "%s holds a control character", quoted(t))
	}
	return t
}

// station reads a row.
func (p *planReader) station() event.PlannedStation {
	s := event.PlannedStation{Station: p.cell("station"), Targets: names(p.cell("targets")), Day: p.cell("day")}
	ros := names(p.cell("ro"))
	if len(ros) > 0 {
		s.RO = ros[0]
	}
	if len(ros) > 1 {
		s.MoreROs = ros[1:]
	}
	if t := p.cell("rounds"); t != "" {
		n, err := strconv.Atoi(t)
		if err != nil || n < spec.LeastRounds || n > spec.MaxRounds {
			p.fault("rounds", "%s rounds: expected %d to %d, or nothing", quoted(t), spec.LeastRounds, spec.MaxRounds)
			n = 0
		}
		s.Rounds = n
	}
	if t := p.cell("order"); t != "" {
		o, repetitions, err := spec.ParseOrder(t)
		if err != nil {
			p.fault("order", "%s is no order of observing: expected %s, or nothing", quoted(t), orders)
		}
		s.Order, s.Repetitions = &o, repetitions
	}
	agreed := spec.Spec{Station: s.Station, RO: s.RO, Targets: s.Targets, MoreROs: s.MoreROs, CloseHalves: len(s.MoreROs) > 0, Repetitions: s.Repetitions, Rounds: max(s.Rounds, spec.LeastRounds)}
	if s.Order != nil {
		agreed.Order = *s.Order
	}
	for _, f := range agreed.Validate() {
		switch f.Field {
		case field.MoreROs:
			p.fault("ro", "%s", f.Text)
		case field.Station, field.RO, field.Targets, field.Rounds, field.Order:
			p.fault(string(f.Field), "%s", f.Text)
		}
	}
	s.Verticals, s.NoVertical = p.asked("verticals", s)
	s.Distances, s.NoDistance = p.asked("distances", s)
	if _, err := time.Parse(time.DateOnly, s.Day); s.Day != "" && err != nil {
		p.fault("day", "%s is no day: expected one such as 2026-05-04, or nothing", quoted(s.Day))
	}
	return s
}

// asked reads which of the sighted a quantity is read to: yes, no, or names.
func (p *planReader) asked(column string, s event.PlannedStation) (any bool, without []string) {
	switch t := p.cell(column); strings.ToLower(t) {
	case "", "no":
		return false, nil
	case "yes":
		return true, nil
	default:
		sighted := append([]string{s.RO}, s.Targets...)
		to := names(t)
		for _, n := range to {
			if !slices.Contains(sighted, n) {
				p.fault(column, "%s is not sighted from %s: expected yes, no, or names of its RO and targets", quoted(n), s.Station)
			}
		}
		for _, n := range sighted {
			if !slices.Contains(to, n) {
				without = append(without, n)
			}
		}
		return true, without
	}
}

// names takes a list of names apart at its semicolons.
func names(cell string) []string {
	var out []string
	for _, n := range strings.Split(cell, ";") {
		if n = strings.TrimSpace(n); n != "" {
			out = append(out, n)
		}
	}
	return out
}
