package season

import (
	"fmt"
	"math/rand/v2"

	"example.org/readback/booking"
	"example.org/readback/booking/check"
)

// slipRate is the rate of slips of the season with slips: one in so many
// readings (assumed; it sets how many there are, not what becomes of them).
const slipRate = 1.0 / 30

// Run books n stations for each part of the table, all from one seed.
func Run(n int, seed uint64) (Table, error) {
	t := Table{Stations: n, Seed: seed}
	rough := fiveSecond()
	rough.Sigma = 5
	stated := rough
	stated.Stated = 5
	for i, part := range []struct {
		site  Site
		slips float64
		into  *tally
	}{
		{fiveSecond(), slipRate, &t.slips},
		{fiveSecond(), 0, &t.clean},
		{rough, 0, &t.rough},
		{stated, 0, &t.stated},
	} {
		rng := rand.New(rand.NewPCG(seed, uint64(i)))
		for k := range n {
			if err := station(rng, part.site, part.slips, part.into); err != nil {
				return t, fmt.Errorf("season of seed %d, part %d, station %d: %w", seed, i, k, err)
			}
		}
	}
	t.trials(n, seed)
	return t, nil
}

// station books one station and counts how it ended.
func station(rng *rand.Rand, site Site, slips float64, t *tally) error {
	c, err := newCrew(newTruth(rng, site), slips, t)
	if err != nil {
		return err
	}
	if err := c.work(); err != nil {
		return err
	}
	v, spoiled := check.Judge(c.s), c.spoiled()
	t.stations++
	if spoiled {
		t.spoiledStations++
	} else {
		t.cleanStations++
		t.cleanNamed += one(v.Lift && len(check.Suspects(c.s)) > 0)
	}
	switch {
	case v.Lift && spoiled:
		t.spoiledLift++
		t.spoiledLiftUpright += one(!c.spoiledBy(booking.Horizontal))
		if len(check.Suspects(c.s)) == 0 {
			return nil
		}
		t.spoiledLiftWarned++
		c.slips = 0
		if err := c.help(); err != nil {
			return err
		}
		t.spoiledLiftHelped += one(!c.spoiled())
	case !v.Lift && !spoiled:
		t.cleanHold++
		c.slips = 0
		if err := c.help(); err != nil {
			return err
		}
		t.cleanHoldHelped += one(check.Judge(c.s).Lift)
	}
	return nil
}
