-- Loads one readings file, as it is, under a name, in place of an earlier load.
-- readback export BOOK | psql -v book=NAME -f load-readings.sql
begin;
create temp table file_row (
    setup int, station text, round int, face text, target text, quantity text,
    reading text, unit text, "time" timestamptz, struck text, remark text
) on commit drop;
\copy file_row from pstdin with (format csv, header true)
delete from readback.reading where book = :'book';
insert into readback.reading
select :'book', setup, readback.unshielded(station), round, face, readback.unshielded(target), quantity,
       reading, unit, "time", readback.unshielded(struck), readback.unshielded(remark)
from file_row;
commit;
