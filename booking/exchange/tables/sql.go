package tables

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"
	"strings"
)

// views are what an office asks of its seasons.
//
//go:embed views.sql
var views string

// blockBytes is how much of the tables is gathered before it is sent.
const blockBytes = 1 << 20

// NewSQL begins a stream of SQL for PostgreSQL (version 12 or later): schema and
// views where there are none, and the rows, all in one transaction. A database that
// holds a book further on than the stream, or another book under the same
// identity, is left as it is, and the stream fails.
func NewSQL(w io.Writer, program string) (*Writer, *SQL, error) {
	q := &SQL{w: w}
	q.say("-- Readback: tables of books, for PostgreSQL 12 or later. Load with psql -v ON_ERROR_STOP=1.\n")
	q.say("\\set ON_ERROR_STOP on\nset client_min_messages = warning;\nset client_encoding = 'UTF8';\nbegin;\n")
	q.say("create schema if not exists readback;\nset search_path to readback;\n\n")
	for _, t := range tables {
		q.say("%s", t.create())
		q.say("%s", t.widen())
	}
	q.say("create index if not exists readings_setup on readings (book, setup);\n\n")
	for _, t := range tables {
		q.say("create temp table new_%s (%s) on commit drop;\n", t.Name, t.typed())
	}
	q.say("create temp table since (book text, event bigint) on commit drop;\n")
	return &Writer{to: q, program: program}, q, q.err
}

// A SQL is a stream of SQL being written.
type SQL struct {
	w    io.Writer
	rows [numTables]bytes.Buffer
	size int
	err  error
}

func (q *SQL) say(format string, args ...any) {
	if q.err == nil {
		_, q.err = fmt.Fprintf(q.w, format, args...)
	}
}

func (q *SQL) line(table int, text []byte) error {
	b := &q.rows[table]
	b.Write(text)
	b.WriteByte('\n')
	if q.size += len(text); q.size > blockBytes {
		q.flush()
	}
	return q.err
}

// flush sends what is gathered.
func (q *SQL) flush() {
	for i, t := range tables {
		if b := &q.rows[i]; b.Len() > 0 && q.err == nil {
			q.say("copy new_%s from stdin with (format csv);\n", t.Name)
			if q.err == nil {
				_, q.err = b.WriteTo(q.w)
			}
			q.say("\\.\n")
			b.Reset()
		}
	}
	q.size = 0
}

// GoesOn says of a book that was not sent whole after which event it goes on: the
// database must hold it at least so far.
func (q *SQL) GoesOn(b Book) {
	q.say("insert into since values ('%s', %d);\n", b.ID, b.Since)
}

// Close ends the stream: what was sent is held against what the database has, and
// put in its place.
func (q *SQL) Close() error {
	q.flush()
	q.say("\n%s\n", refuse)
	q.say(`create temp table put on commit drop as
    select n.book, n.setup from new_setups n
    where not exists (select 1 from setups s where s.book = n.book and s.setup = n.setup
                      and s.last_event = n.last_event and s.last_hash = n.last_hash and s.program is not distinct from n.program);
`)
	for _, i := range perSetup {
		n := tables[i].Name
		q.say("delete from %s t using put where t.book = put.book and t.setup = put.setup;\n", n)
		q.say("insert into %s (%s) select %s from new_%s join put using (book, setup);\n", n, tables[i].all(), tables[i].all(), n)
	}
	for _, i := range perBook {
		n := tables[i].Name
		q.say("delete from %s where book in (select book from new_books);\n", n)
		q.say("insert into %s (%s) select %s from new_%s;\n", n, tables[i].all(), tables[i].all(), n)
	}
	q.say("\n%s\ncommit;\n", strings.TrimSpace(views))
	return q.err
}

// refuse fails where the database knows better.
const refuse = `do $$
declare b record;
begin
    for b in select n.name, s.event, o.last_event as held from since s join new_books n using (book) left join books o using (book)
             where o.last_event is null or o.last_event < s.event loop
        raise exception 'this stream goes on after event % of %, and the database holds it up to event %: leave --since out', b.event, b.name, coalesce(b.held, 0);
    end loop;
    for b in select n.name, n.last_event as new, o.last_event as old, n.last_hash, o.last_hash as held
             from new_books n join books o using (book) loop
        if b.new < b.old then
            raise exception 'the database holds % up to event %, and this copy ends at event %: load the newer copy', b.name, b.old, b.new;
        end if;
        if b.new = b.old and b.last_hash <> b.held then
            raise exception '% and what the database holds of it have the same number of events and differ: audit both', b.name;
        end if;
    end loop;
    for b in select n.book, n.setup from new_setups n join setups o using (book, setup)
             where n.last_event < o.last_event or n.last_event = o.last_event and n.last_hash <> o.last_hash loop
        raise exception 'setup % of book % differs from what the database holds of it: audit both', b.setup, left(b.book, 16);
    end loop;
end $$;`
