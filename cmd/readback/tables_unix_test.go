//go:build unix

package main

import (
	"crypto/sha256"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking/event"
	"example.org/readback/booking/exchange/tables"
	"example.org/readback/booking/programme"
	"example.org/readback/reduce"
)

// Three crews' seasons are loaded into PostgreSQL by one command, twice, with what
// was booked since, and out of an office book; the database answers what an office
// asks. A copy that is older, or that differs, is refused.
func TestExportSQL_LoadsIntoPostgreSQL(t *testing.T) {
	p := startPostgres(t)
	for name, load := range map[string]func(*testing.T, *postgres){"season": seasonIntoPostgres, "paper": paperIntoPostgres, "day": dayIntoPostgres, "tables": tablesIntoEngines} {
		t.Run(name, func(t *testing.T) {
			here := *p
			here.t = t
			load(t, &here)
			here.must("", "-c", "drop schema if exists readback cascade")
		})
	}
}

// dayIntoPostgres loads what was written down around the readings, twice: it stands
// there once.
func dayIntoPostgres(t *testing.T, p *postgres) {
	file := filepath.Join(t.TempDir(), "day.book")
	bookDay(t, file)
	for range 2 {
		p.must(sqlOf(t, file))
	}
	ask := func(q string) string { return p.must("", "-c", "set search_path to readback", "-c", q) }
	if got := ask("select kind, after_lift from notes order by number"); got != "remark|t\nweather|f\nfile|f\npacked up|t" {
		t.Errorf("notes of the setup:\n%s", got)
	}
	if got := ask("select kind, noted_by from book_notes order by number"); got != "instrument checked|Ines Holm\nnote to the next crew|Tam Okoro" {
		t.Errorf("notes of the book:\n%s", got)
	}
	if got := ask("select count(*) from readings where repeat = 0 and not after_lift"); got == "0" {
		t.Error("no reading has its repeat")
	}
}

func seasonIntoPostgres(t *testing.T, p *postgres) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	bookSeason(t, at("east"), "4471", 0, false)
	bookSeason(t, at("west"), "4472", reduce.Arcsecond, false)
	bookSeason(t, at("class"), "4473", 2*reduce.Arcsecond, true)
	ask := func(q string) string { return p.must("", "-c", "set search_path to readback", "-c", q) }

	older := sqlOf(t, at("west"))
	p.must(sqlOf(t, at("east"), at("west"), at("class")))
	const counts = "select count(*), count(*) filter (where counts) from readings"
	first, row := ask(counts), ask("select ctid, xmin from setups order by book, setup")
	rows := 0
	for _, name := range []string{"east", "west", "class"} {
		rows += strings.Count(exported(t, at(name), "jsonl"), `"kind":3,`)
	}
	if !strings.HasPrefix(first, fmt.Sprint(rows)+"|") {
		t.Errorf("%s readings of %d", first, rows)
	}
	p.must(sqlOf(t, at("east"), at("west"), at("class")))
	if again := ask(counts); again != first || ask("select ctid, xmin from setups order by book, setup") != row {
		t.Errorf("loaded again: %s, first %s, or rows were written anew", again, first)
	}

	// What an office asks.
	if got := ask("select serial, error, setups, since::date from instrument_drift where t > 5.84"); got != "4472|collimation|8|2026-05-04" {
		t.Errorf("the drifting instrument is 4472, alone, and no drill counts; got %q", got)
	}
	if got := ask("select station, reference, target, setups, round(mean_deg::numeric, 4) from mean_angles order by target desc"); !strings.HasPrefix(got, "Weir|Spire|Alder|16|29.9999\nWeir|Spire|=Quarry|16|60.0000") {
		t.Errorf("mean angles: %s", got)
	}
	if got := ask("select count(*) from crews_behind"); got != "2" {
		t.Errorf("crews: %s", got)
	}
	for _, v := range []string{"stations_on_hold", "closures_by_month", "crews_behind"} {
		ask("select * from " + v)
	}

	// What was booked since is added, from an office book too.
	c := newBook(t, at("west"), event.BookOpened{})
	c.n = 8
	c.at = time.Date(2026, 8, 1, 8, 0, 0, 0, time.UTC)
	c.open(station("Alder", "Mast"))
	c.observe(10 * reduce.Arcsecond)
	c.close()
	if code, _, errs := said("gather", at("office"), at("east"), at("west"), at("class")); code != exitFine {
		t.Fatal(errs)
	}
	p.must(sqlOf(t, at("office")))
	if got := ask("select b.name, count(distinct s.setup) from books b join setups s using (book) group by b.book, b.name order by b.name"); got != "class|8\neast|8\nwest|9" {
		t.Errorf("after the office book:\n%s", got)
	}
	if out, err := p.psql(older); err == nil || !strings.Contains(out, "load the newer copy") {
		t.Errorf("an older copy: %v %s", err, out)
	}
	other := strings.ReplaceAll(sqlOf(t, at("east")), lastHash(t, at("east")), strings.Repeat("0", 64))
	if out, err := p.psql(other); err == nil || !strings.Contains(out, "differ: audit both") {
		t.Errorf("another history: %v %s", err, out)
	}
	goesOnInPostgres(t, p, dir)
	cut := sqlOf(t, at("east"))
	if _, err := p.psql(strings.ReplaceAll(cut[:len(cut)-10], "2026", "2027")); err != nil {
		t.Log(err) // whatever it says, nothing of it may be there
	}
	if got := ask("select count(*) from books b join setups s using (book) where s.keyed > '2027-01-01'"); got != "0" {
		t.Errorf("a stream that was cut off left %s setups", got)
	}
}

// goesOnInPostgres loads only what the database does not hold: one setup more, of one
// book of three; what the whole stream would put there stands there then. A stream
// that goes on after what the database does not hold is refused.
func goesOnInPostgres(t *testing.T, p *postgres, dir string) {
	at := func(name string) string { return filepath.Join(dir, name) }
	ask := func(q string) string { return p.must("", "-c", "set search_path to readback", "-c", q) }
	since := func(held string) string {
		return call(t, held, "export", at("office"), "--as", "sql", "--since", "-").must(t, exitFine).out
	}
	held := ask("select last_hash from books")
	nothing := since(held)
	c := newBook(t, at("west"), event.BookOpened{})
	c.n = 9
	c.at = time.Date(2026, 8, 2, 8, 0, 0, 0, time.UTC)
	c.open(station("Alder", "Mast"))
	c.observe(10 * reduce.Arcsecond)
	m, err := c.s.Remark(0, "the first setup of the second day")
	c.do(m, err)
	c.close()
	call(t, "", "gather", at("office"), at("west")).must(t, exitFine)
	news, whole := since(held), sqlOf(t, at("office"))
	if rows := strings.Count(news, ",horizontal,"); rows != 12 || len(news) > len(whole)/2 || strings.Contains(nothing, ",horizontal,") {
		t.Errorf("%d readings are sent in %d of %d bytes", rows, len(news), len(whole))
	}
	p.must(nothing)
	p.must(news)
	const all = "select count(*), sum(event), max(keyed) from readings"
	got, points := ask(all), ask("select * from points order by 1, 2, 3")
	p.must("", "-c", "create schema kept")
	for _, name := range []string{"readings", "setups", "checks", "directions", "instruments"} {
		p.must("", "-c", "create table kept."+name+" as select * from readback."+name)
	}
	p.must("", "-c", "drop schema readback cascade")
	p.must(whole)
	if want := ask(all); got != want || points != ask("select * from points order by 1, 2, 3") {
		t.Errorf("piece by piece %s, at once %s", got, want)
	}
	for _, name := range []string{"readings", "setups", "checks", "directions", "instruments"} {
		if n := ask("select count(*) from (select * from kept." + name + " except select * from readback." + name + ") x"); n != "0" {
			t.Errorf("%s: %s rows differ from those of the whole stream", name, n)
		}
	}
	p.must("", "-c", "drop schema readback cascade")
	if out, err := p.psql(news); err == nil || !strings.Contains(out, "leave --since out") {
		t.Errorf("a stream that goes on from nothing: %v %s", err, out)
	}
	p.must(whole)
	call(t, "", "export", at("office"), "--as", "csv", "--since", "-").must(t, exitUsage)
	call(t, "no hash\n", "export", at("office"), "--as", "sql", "--since", "-").must(t, exitUsage)
	p.must("", "-c", "drop schema kept cascade")
}

// A season that was kept on paper drifts in the database by when it was observed,
// not by the minute in which it was imported.
func paperIntoPostgres(t *testing.T, p *postgres) {
	dir := t.TempDir()
	west, csvFile, again := filepath.Join(dir, "west"), filepath.Join(dir, "west.csv"), filepath.Join(dir, "again")
	bookSeason(t, west, "4472", reduce.Arcsecond, false)
	if err := os.WriteFile(csvFile, []byte(exported(t, west, "csv")), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := said("import", again, csvFile, "--booker", "Tam Okoro", "--instrument", "T-5", "--serial", "4472"); code != exitFine {
		t.Fatal(errs)
	}
	p.must(sqlOf(t, again))
	got := p.must("", "-c", "select serial, setups, since::date, until::date from readback.instrument_drift where error = 'collimation' and t > 5.84")
	if got != "4472|8|2026-05-04|2026-06-22" {
		t.Errorf("drift of a season from paper: %q", got)
	}
}

func sqlOf(t *testing.T, books ...string) string {
	t.Helper()
	code, out, errs := said(append(append([]string{"export"}, books...), "--as", "sql")...)
	if code != exitFine {
		t.Fatalf("export --as sql: exit %d, %s", code, errs)
	}
	return out
}

// lastHash is the hash an export says it is tied to.
func lastHash(t *testing.T, path string) string {
	t.Helper()
	_, _, errs := said("export", path, "--as", "directions")
	_, hash, ok := strings.Cut(strings.TrimSpace(errs), "hash ")
	if !ok || len(hash) != 64 {
		t.Fatalf("no hash in %q", errs)
	}
	return hash
}

// The tables say in their manifest what they hold, and each load line of it works
// where its engine is at hand.
func tablesIntoEngines(t *testing.T, p *postgres) {
	dir := t.TempDir()
	west, folder := filepath.Join(dir, "west"), filepath.Join(dir, "tables")
	bookSeason(t, west, "4472", reduce.Arcsecond, false)
	if code, _, errs := said("export", west, "--as", "tables", "-o", folder); code != exitFine {
		t.Fatal(errs)
	}
	if code, _, _ := said("export", west, "--as", "tables", "-o", folder); code != exitUsage {
		t.Errorf("over a folder of tables: exit %d", code)
	}
	if code, _, errs := said("export", west, "--as", "tables", "-o", folder, "--replace"); code != exitFine {
		t.Error(errs)
	}
	if code, _, _ := said("export", west, "--as", "tables", "-o", dir, "--replace"); code != exitUsage {
		t.Errorf("over a folder of other files: exit %d", code)
	}
	text, err := os.ReadFile(filepath.Join(folder, "manifest.json"))
	if err != nil {
		t.Fatal(err)
	}
	var m tables.Manifest
	if err := json.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	if len(m.Books) != 1 || m.Books[0].LastHash != lastHash(t, west) {
		t.Errorf("tied to %+v, want %s", m.Books, lastHash(t, west))
	}
	counts := map[string]int64{}
	for _, x := range m.Tables {
		text, err := os.ReadFile(filepath.Join(folder, x.File))
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
		if err != nil || int64(len(rows)-1) != x.Rows || fmt.Sprintf("%x", sha256.Sum256(text)) != x.SHA256 {
			t.Errorf("%s: %d rows, %v, manifest %+v", x.File, len(rows)-1, err, x)
		}
		counts[x.Table] = x.Rows
	}
	for _, line := range m.Load.PostgreSQL {
		p.must("", "-c", strings.ReplaceAll(line, "from '", "from '"+folder+"/"))
	}
	for name, n := range counts {
		if got := p.must("", "-c", "select count(*) from "+name); got != fmt.Sprint(n) {
			t.Errorf("%s: %s rows, want %d", name, got, n)
		}
	}
	t.Run("duckdb", func(t *testing.T) { loadIntoDuckDB(t, folder, m, counts) })
}

// loadIntoDuckDB runs the load lines with the npm package @duckdb/node-api, where
// NODE_PATH leads to it.
func loadIntoDuckDB(t *testing.T, folder string, m tables.Manifest, counts map[string]int64) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed")
	}
	script := `const {DuckDBInstance} = require('@duckdb/node-api');
const {load, tables} = JSON.parse(require('fs').readFileSync(0));
(async () => {
  const c = await (await DuckDBInstance.create(':memory:')).connect();
  for (const line of load) await c.run(line);
  for (const t of tables) {
    const a = (await c.runAndReadAll('select count(*) from ' + t)).getRows()[0][0];
    const b = (await c.runAndReadAll("select count(*) from '" + t + ".parquet'")).getRows()[0][0];
    console.log(t, String(a), String(b));
  }
  const q = "select count(*) from readings where quantity = 'horizontal' and degrees between 0 and 360 and observed < timestamptz '2027-01-01'";
  console.log('observed', String((await c.runAndReadAll(q)).getRows()[0][0]));
})().catch(e => { console.error(e.message); process.exit(1); });`
	if exec.Command(node, "-e", "require('@duckdb/node-api')").Run() != nil {
		t.Skip("the npm package @duckdb/node-api is not installed, or NODE_PATH does not lead to it")
	}
	var names []string
	for name := range counts {
		names = append(names, name)
	}
	in, err := json.Marshal(map[string]any{"load": m.Load.DuckDB, "tables": names})
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "-e", script)
	cmd.Dir, cmd.Stdin = folder, strings.NewReader(string(in))
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for name, n := range counts {
		if want := fmt.Sprintf("%s %d %d\n", name, n, n); !strings.Contains(string(out), want) {
			t.Errorf("expected %q in\n%s", want, out)
		}
	}
	if strings.Contains(string(out), "observed 0\n") {
		t.Errorf("no reading has its time:\n%s", out)
	}
}

const oddRemark = "a \"quote\",\na \\ and\ta tab"

// bookSeason books 8 setups a week apart with a collimation of 10″ that grows by
// drift, a strike and a void round among them.
func bookSeason(t *testing.T, book, serial string, drift reduce.Angle, drill bool) {
	t.Helper()
	c := newBook(t, book, event.BookOpened{Drill: drill})
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
			e, err := c.s.VoidRound(programme.Expect(c.s).Slot, "tripod knocked")
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
