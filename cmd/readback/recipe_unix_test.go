//go:build unix

package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking"
	"example.org/readback/reduce"
)

// A season of three instruments, one of which drifts by 1″ of collimation a
// setup, is exported, loaded and asked, as the README says.
func TestRecipe_DriftInPostgreSQL(t *testing.T) {
	p := startPostgres(t)
	recipe := filepath.Join("..", "..", "testdata", "recipe")
	p.must("", "-f", filepath.Join(recipe, "schema.sql"))
	dir := t.TempDir()
	for _, b := range []struct {
		name   string
		serial string
		drift  reduce.Angle
		drill  bool
	}{
		{name: "east", serial: "4471"},
		{name: "west", serial: "4472", drift: reduce.Arcsecond},
		{name: "class", serial: "4473", drift: 2 * reduce.Arcsecond, drill: true},
	} {
		book := filepath.Join(dir, b.name+".book")
		bookSeason(t, book, b.serial, b.drift, b.drill)
		lines, csv := exported(t, book, "jsonl"), exported(t, book, "csv")
		for range 2 { // a second load adds nothing
			p.must(lines, "-v", "book="+b.name, "-f", filepath.Join(recipe, "load-journal.sql"))
			p.must(csv, "-v", "book="+b.name, "-f", filepath.Join(recipe, "load-readings.sql"))
		}
		if got := p.must("", "-c", "select count(*) from readback.event where book = '"+b.name+"'"); got != fmt.Sprint(strings.Count(lines, "\n")) {
			t.Errorf("%s: %s events loaded of %d", b.name, got, strings.Count(lines, "\n"))
		}
	}
	// Both ways in hold the same readings, and the remark keeps its line feed,
	// its quotes and its backslash.
	if got := p.must("", "-c", `select count(*) from readback.standing s where not exists (
		select 1 from readback.reading r where r.book = s.book and r.setup = s.setup and r.round = s.round
		and r.target = s.target and r.face = case s.face when 1 then 'FL' else 'FR' end and r.struck is null)`); got != "0" {
		t.Errorf("%s readings of the journal are not in the readings file", got)
	}
	if got := p.must("", "-c", "select count(*) from readback.reading where struck is not null and book = 'west'"); got != "3" {
		t.Errorf("%s struck readings, booked were one and a void round of two", got)
	}
	if got := p.must("", "-c", `select body->>'text' from readback.event where kind = 9 and book = 'west'`); got != oddRemark {
		t.Errorf("remark %q, want %q", got, oddRemark)
	}
	got := p.must("", "-f", filepath.Join(recipe, "drift.sql"))
	t.Logf("drift.sql: %s", got)
	if !strings.HasPrefix(got, "T-5|4472|8|2026-05-04|") || strings.Contains(got, "\n") {
		t.Errorf("the drifting instrument is 4472, alone; got:\n%s", got)
	}
}

const oddRemark = "a \"quote\",\na \\ and\ta tab"

// bookSeason books 8 setups a week apart with a collimation of 10″ that grows by
// drift, a strike and a void round among them.
func bookSeason(t *testing.T, book, serial string, drift reduce.Angle, drill bool) {
	t.Helper()
	c := newBook(t, book, booking.BookOpened{Drill: drill})
	spec := station("Alder", "=Quarry")
	spec.Instrument.Serial = serial
	for k := range 8 {
		c.at = time.Date(2026, 5, 4+7*k, 8, 0, 0, 0, time.UTC)
		c.open(spec)
		if k == 2 {
			c.key("9 00 00")
			last, _ := c.s.Last()
			e, err := c.s.Strike(last.Seq, "wrong target")
			c.do(e, err)
			m, err := c.s.Remark(0, oddRemark)
			c.do(m, err)
		}
		if k == 5 {
			c.key("0 05 00", "99 00 00")
			e, err := c.s.VoidRound(c.s.Expect().Slot, "tripod knocked")
			c.do(e, err)
		}
		wobble := reduce.Angle(k%2) * reduce.Arcsecond / 2
		c.observe(10*reduce.Arcsecond + reduce.Angle(k)*drift + wobble.Round(reduce.Arcsecond))
	}
	c.close()
}

// exported is what export prints.
func exported(t *testing.T, book, as string) string {
	t.Helper()
	code, out, errs := said("export", book, "--as", as)
	if code != exitFine {
		t.Fatalf("export --as %s: exit %d, %s", as, code, errs)
	}
	return out
}
