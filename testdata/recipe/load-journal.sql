-- Loads one journal, as it is, under a name. Loading it again adds what is new.
-- readback export BOOK --as jsonl | psql -v book=NAME -f load-journal.sql
--
-- A journal holds no control characters, so a quote and a delimiter that are
-- control characters make COPY take each line as one value.
begin;
create temp table line (event jsonb not null) on commit drop;
\copy line from pstdin with (format csv, quote e'\x01', delimiter e'\x02')
insert into readback.event
select :'book', (event->>'seq')::bigint, (event->>'time')::timestamptz, (event->>'setup')::int,
       (event->>'kind')::int, event->'body', event->>'prev', event->>'hash'
from line
on conflict (book, seq) do nothing;
commit;
