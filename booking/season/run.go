package season

import (
	"fmt"
	"math/rand/v2"

	"example.org/readback/booking/check"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// slipRate is the rate of slips of the season with slips: one in so many
// readings (assumed; it sets how many there are, not what becomes of them).
const slipRate = 30

// Run books n stations for each part of the table, all from one seed.
func Run(n int, seed uint64) (Table, error) {
	t := Table{Stations: n, Seed: seed}
	rough := fiveSecond()
	rough.Sigma = 5
	stated := rough
	stated.Stated = 5
	for i, part := range []struct {
		site  ground
		slips int
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
func station(rng *rand.Rand, site ground, slips int, t *tally) error {
	c, err := newCrew(site.draw(rng, slips), t)
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
		t.spoiledLiftUpright += one(!c.spoiledBy(spec.Horizontal))
		if len(check.Suspects(c.s)) == 0 {
			return nil
		}
		t.spoiledLiftWarned++
		c.o.SlipEvery = 0
		if err := c.help(); err != nil {
			return err
		}
		t.spoiledLiftHelped += one(!c.spoiled())
	case !v.Lift && !spoiled:
		t.cleanHold++
		c.o.SlipEvery = 0
		if err := c.help(); err != nil {
			return err
		}
		t.cleanHoldHelped += one(check.Judge(c.s).Lift)
	}
	return nil
}

// A Site is what a season's stations are like.
type ground struct {
	Sigma      float64      // seconds: noise of one reading on one face
	Stated     float64      // seconds: the same as the crew states it
	LeastCount reduce.Angle // of the instrument
	Limits     reduce.Angle // the least count whose default limits are taken; 0: that of the instrument
	Targets    [2]int       // least and most, the RO not counted
	Rounds     [2]int
	Verticals  bool
}

// fiveSecond is an instrument that reads to 5″ with a standard deviation of 2″
// for one reading.
func fiveSecond() ground {
	return ground{Sigma: 2, Stated: 2, LeastCount: 5 * reduce.Arcsecond, Targets: [2]int{3, 10}, Rounds: [2]int{2, 4}, Verticals: true}
}

// draw returns an observer on a station of the site.
func (x ground) draw(rng *rand.Rand, slipEvery int) *observer.Observer {
	return observer.New(observer.Options{
		Seed: rng.Uint64(), Targets: x.Targets[0] + rng.IntN(x.Targets[1]-x.Targets[0]+1), Rounds: x.Rounds[0] + rng.IntN(x.Rounds[1]-x.Rounds[0]+1),
		LeastCount: x.LeastCount, Limits: x.Limits, Sigma: reduce.FromSeconds(x.Sigma), Stated: reduce.FromSeconds(x.Stated),
		CloseHalves: rng.IntN(2) == 0, NoVerticals: !x.Verticals, Hilly: true, SlipEvery: slipEvery,
	})
}
