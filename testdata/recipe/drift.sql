-- The instruments whose collimation drifts, the worst first: a straight line
-- through the mean collimation of each setup over time. t is the slope over its
-- own standard deviation; 5.84 is its limit at 99 % with 3 degrees of freedom, the
-- fewest allowed here, so a drift that is said is one.
with mean as (
    select s.instrument, s.serial, s.book, s.setup, s.opened,
           avg(c.c) as c, extract(epoch from s.opened)::float8 / 86400 as day
    from readback.setup s
    join readback.collimation c using (book, setup)
    group by s.instrument, s.serial, s.book, s.setup, s.opened
), line as (
    select instrument, serial, count(*) as setups, min(opened) as since,
           regr_slope(c, day) as per_day, corr(c, day) as r, max(day) - min(day) as days
    from mean
    group by instrument, serial
    having count(*) >= 5
)
select instrument, serial, setups, since::date,
       round((per_day * 30)::numeric, 1)   as seconds_in_30_days,
       round((per_day * days)::numeric, 1) as seconds_so_far,
       round((abs(r) * sqrt((setups - 2) / nullif(1 - r * r, 0)))::numeric, 1) as t
from line
where abs(r) * sqrt((setups - 2) / nullif(1 - r * r, 0)) > 5.84
order by t desc;
