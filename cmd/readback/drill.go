package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/season"
	"example.org/readback/booking/spec"
	"example.org/readback/cmd/internal/drill"
	"example.org/readback/cmd/internal/term"
	"example.org/readback/reduce"
)

// A DrillCmd plays the observer: readings are called on the screen, the learner
// books them, and the score is printed at the end.
type DrillCmd struct {
	Book      string        `help:"Keep the drill in this book; otherwise it is thrown away." placeholder:"FILE" type:"path"`
	Seed      uint64        `help:"The same seed calls the same readings." default:"1"`
	Targets   int           `help:"Targets besides the reference object." default:"3"`
	Rounds    int           `help:"Rounds planned." default:"2"`
	Order     string        `help:"How the rounds are observed: halves (face left, then face right back), target (both faces target by target) or repetition (one angle, six times on each face)." enum:"halves,target,repetition" default:"halves"`
	Slips     int           `help:"One call in so many is a slip; 0: none." default:"8"`
	Kinds     []string      `help:"Kinds of slips: ${enum}." enum:"digit,exchange,degree,ten-minutes,minute,misheard" default:"digit,exchange,degree,ten-minutes,minute,misheard" placeholder:"KIND,..."`
	Noise     float64       `help:"Standard deviation of one reading in seconds." default:"2"`
	Distances bool          `help:"Distances and target heights too."`
	Pause     time.Duration `help:"How long the observer takes for a pointing." default:"0s"`
	Season    int           `help:"Instead, let so many stations be booked by machine and print how the checks did." placeholder:"N"`
	Verdicts  int           `help:"Instead, try the verdict on so many sound stations of every instrument and programme, and on spoiled ones, from each of two seeds." placeholder:"N"`
	Spoiled   int           `help:"Spoiled stations of each kind that --verdicts tries; a tenth of the sound ones." placeholder:"N"`
	Cells     []string      `help:"With --verdicts, only the instruments and programmes whose line holds these words." placeholder:"WORDS,..."`
	Within    time.Duration `help:"Begin no further instrument of --verdicts after so long; the table says how many it has." placeholder:"TIME"`
	Screen    ScreenOpts    `embed:""`
}

// Help shows how it is called.
func (DrillCmd) Help() string {
	return `Examples:
  readback drill
  readback drill --seed 7 --slips 5 --kinds degree,exchange --noise 3
  readback drill --order target --rounds 3
  readback drill --book lesson.readback --pause 4s --distances
  readback drill --verdicts 1000 --seed 401 --cells "not stated,8 targets" --within 2h`
}

// Run plays one drill, or a season.
func (d *DrillCmd) Run(c *Context) error {
	if d.Season > 0 {
		table, err := season.Run(d.Season, d.Seed)
		if err != nil {
			return err
		}
		fmt.Fprint(c.Out, table)
		return nil
	}
	if d.Verdicts > 0 {
		return d.verdicts(c.Out)
	}
	if err := term.Need(c.In, c.screen); err != nil {
		return err
	}
	file := d.Book
	if file == "" {
		dir, remove, err := drill.ThrowAway()
		if err != nil {
			return err
		}
		defer remove()
		file = filepath.Join(dir, "drill.readback")
	}
	session, err := drill.Begin(file, observer.Options{Seed: d.Seed, Targets: min(d.Targets, mostDrilled), SlipEvery: d.Slips, Kinds: kindsNamed(d.Kinds),
		Sigma: reduce.FromSeconds(d.Noise), Rounds: d.Rounds, Order: ordersNamed[d.Order], Distances: d.Distances}, false)
	if err != nil {
		return err
	}
	err = sessionOf(c, file, d.Screen, session, d.Pause).run(c)
	fmt.Fprintf(c.Out, "Drill, seed %d: not a survey.\n%s", d.Seed, session.Score())
	return err
}

// verdicts tries the verdict on the cells that are asked for.
func (d *DrillCmd) verdicts(w io.Writer) error {
	cells := slices.DeleteFunc(season.Cells(), func(c season.Cell) bool {
		return slices.ContainsFunc(d.Cells, func(words string) bool { return !strings.Contains(c.String(), words) })
	})
	spoiled := d.Spoiled
	if spoiled <= 0 {
		spoiled = max(d.Verdicts/10, 1)
	}
	begun := time.Now()
	more := func() bool { return d.Within <= 0 || time.Since(begun) < d.Within }
	return season.Verdicts(w, d.Verdicts, spoiled, []uint64{d.Seed, d.Seed + 1}, cells, more)
}

// ordersNamed are the orders of observing by the names that flags have for them.
var ordersNamed = map[string]spec.Order{"halves": spec.ByHalves, "target": spec.ByTarget, "repetition": spec.ByRepetition}

// mostDrilled is as many targets as a drill has names for.
const mostDrilled = 7

// kindsNamed returns the kinds of slips of a drill by the names the command has
// for them: those that can be heard in a call.
func kindsNamed(names []string) []slip.Kind {
	kinds := map[string]slip.Kind{"digit": slip.DigitMisread, "exchange": slip.DigitsExchanged, "degree": slip.WholeDegree,
		"ten-minutes": slip.TenMinutes, "minute": slip.OneMinute, "misheard": slip.Misheard}
	var out []slip.Kind
	for _, n := range names {
		out = append(out, kinds[n])
	}
	return out
}

// sessionOf runs the screens on the book of a drill.
func sessionOf(c *Context, file string, opts ScreenOpts, d *observer.Session, pause time.Duration) session {
	options, silence := screenOptions(c, opts.Theme, opts.ASCII)
	defer silence()
	s := session{file: file, options: options}
	s.store.Reserve = -1
	s.voice = drill.NewVoice(d, pause, s.options.Now)
	s.options.Drill = s.voice
	return s
}
