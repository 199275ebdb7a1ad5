-- What an office asks. Drills are left out, and setups that were struck. number is
-- that of a setup in the sheets and exports of the file the book was loaded from.
create or replace view observed_setups as
    select s.*, b.name, coalesce(s.observed_to, s.keyed) as last_known, b.setups_before + s.setup as number
    from setups s join books b using (book)
    where not b.drill and s.struck is null;

-- The mean of each angle over all setups that observed it; sd_sec is that of one
-- setup, from their differences.
create or replace view mean_angles as
    with a as (
        select s.station, s.reference, d.target, d.direction_deg as deg,
               first_value(d.direction_deg) over (partition by s.station, s.reference, d.target order by s.book, s.setup) as near
        from directions d join observed_setups s using (book, setup)
        where d.target <> s.reference
    ), apart as (
        select *, mod((deg - near + 540)::numeric, 360) - 180 as off from a
    )
    select station, reference, target, count(*) as setups,
           round(mod((min(near) + avg(off)::float8 + 360)::numeric, 360), 8) as mean_deg,
           round((stddev_samp(off) * 3600)::numeric, 2) as sd_sec,
           round(((max(off) - min(off)) * 3600)::numeric, 2) as range_sec
    from apart group by station, reference, target;

-- How the collimation and the index error of each instrument change with the time
-- of observing: a straight line through its setups. t is the slope over its own
-- standard deviation; with 3 degrees of freedom its limit at 99 % is 5.84.
create or replace view instrument_drift as
    with m as (
        select instrument, serial, observed_from as at, extract(epoch from observed_from)::float8 / 86400 as day, error, seconds
        from observed_setups cross join lateral (values ('collimation', collimation_sec), ('index error', index_sec)) e (error, seconds)
        where observed_from is not null and seconds is not null
    ), line as (
        select instrument, serial, error, count(*) as setups, min(at) as since, max(at) as until,
               regr_slope(seconds, day) as per_day, corr(seconds, day) as r, avg(seconds) as mean
        from m group by instrument, serial, error
    )
    select instrument, serial, error, setups, since, until, round(mean::numeric, 2) as mean_sec,
           round((per_day * 30)::numeric, 2) as seconds_in_30_days,
           round((abs(r) * sqrt((setups - 2) / nullif(1 - r * r, 0)))::numeric, 1) as t
    from line where setups >= 3;

-- Stations that still hold: not lifted, or lifted on Hold.
create or replace view stations_on_hold as
    select s.name, s.number as setup, s.station, s.observer, s.last_known, s.state, s.despite,
           string_agg(c.sentence, ' ' order by c.number) as why
    from observed_setups s left join checks c on c.book = s.book and c.setup = s.setup and not c.met
    where s.verdict = 'hold'
    group by s.book, s.name, s.number, s.station, s.observer, s.last_known, s.state, s.despite;

-- Figures and their closure by the month in which they were observed.
create or replace view closures_by_month as
    select to_char(f.observed_to at time zone 'UTC', 'YYYY-MM') as month, f.kind, count(*) as figures,
           count(*) filter (where f.met) as met,
           round(max(abs(f.misclosure_sec) / nullif(f.limit_sec, 0))::numeric, 2) as worst_of_limit,
           round(avg(abs(f.misclosure_sec))::numeric, 1) as mean_misclosure_sec
    from figures f join books b using (book) where not b.drill
    group by 1, 2;

-- What each crew handed over last, the longest ago first.
create or replace view crews_behind as
    select b.name, max(s.observed_to) as last_observed, b.last_keyed, b.last_event, b.last_hash, count(s.setup) as setups,
           count(*) filter (where s.state in ('open', 'hold', 'lift')) as not_lifted,
           max(max(b.last_keyed)) over () - b.last_keyed as behind
    from books b left join observed_setups s using (book)
    where not b.drill
    group by b.book, b.name, b.last_keyed, b.last_event, b.last_hash
    order by b.last_keyed;
