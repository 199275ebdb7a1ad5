-- A firm's season in PostgreSQL (version 12 or later; checked with 15).
-- Tables for what readback export writes, and views over the journal.
-- psql -f schema.sql

create schema if not exists readback;
set search_path to readback;

-- One row for each event of a journal (readback export BOOK --as jsonl).
create table if not exists event (
    book  text        not null,   -- the name given on loading
    seq   bigint      not null,
    at    timestamptz not null,
    setup int         not null,   -- 0: the book itself
    kind  int         not null,
    body  jsonb       not null,
    prev  text        not null,
    hash  text        not null,
    primary key (book, seq)
);
create index if not exists event_setup on event (book, setup, kind);

-- One row for each row of a readings file (readback export BOOK).
create table if not exists reading (
    book     text not null,
    setup    int  not null,
    station  text not null,
    round    int,
    face     text,
    target   text,
    quantity text not null,
    reading  text not null,
    unit     text not null,
    "time"   timestamptz,
    struck   text,
    remark   text
);

-- A readings file writes an apostrophe before a text that a spreadsheet would
-- take for a formula; this takes it off again.
create or replace function unshielded(cell text) returns text immutable language sql as
$$ select case when cell ~ E'^\'+[=+@\t\r\n＝＋－＠-]' then substr(cell, 2) else cell end $$;

-- One row for each setup: who, where, with what. Drills and setups struck whole
-- are left out.
create or replace view setup as
select e.book, e.setup, e.at as opened,
       a.spec->>'station'                       as station,
       a.spec->>'observer'                      as observer,
       a.spec->'instrument'->>'name'            as instrument,
       coalesce(a.spec->'instrument'->>'serial', '') as serial
from event e
-- what is agreed now: as it was opened, or as it was amended last
join lateral (select m.body->'spec' as spec from event m
              where m.book = e.book and m.setup = e.setup and m.kind in (2, 14)
              order by m.seq desc limit 1) a on true
where e.kind = 2
  and not exists (select 1 from event w      -- struck whole
                  where w.book = e.book and w.setup = e.setup and w.kind = 15)
  and not exists (select 1 from event b
                  where b.book = e.book and b.kind = 1 and (b.body->>'drill')::boolean);

-- One row for each standing reading of the horizontal circle, in
-- micro-arcseconds: not struck, and not of a void round.
create or replace view standing as
select e.book, e.setup, e.seq, e.at,
       (e.body->'slot'->>'round')::int              as round,
       (e.body->'slot'->>'face')::int               as face,   -- 1 left, 2 right
       e.body->'slot'->>'target'                    as target,
       coalesce((e.body->'slot'->>'closing')::boolean, false) as closing,
       (e.body->>'value')::bigint                   as value
from event e
where e.kind = 3 and (e.body->'slot'->>'quantity')::int = 1
  and not exists (select 1 from event k
                  where k.book = e.book and k.setup = e.setup and k.kind = 4
                    and (k.body->>'seq')::bigint = e.seq)
  and not exists (select 1 from event v
                  where v.book = e.book and v.setup = e.setup and v.kind = 6
                    and v.body->>'round' = e.body->'slot'->>'round');

-- One row for each pair: its collimation c = wrap(FL - FR - half a circle) / 2,
-- in seconds.
create or replace view collimation as
select l.book, l.setup, l.at, l.round, l.target,
       (mod(l.value - r.value + 2 * 1296000000000, 1296000000000) - 648000000000) / 2e6 as c
from standing l
join standing r using (book, setup, round, target, closing)
where l.face = 1 and r.face = 2;
