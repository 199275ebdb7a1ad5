//go:build unix

package main

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/readback/booking/event"
	"example.org/readback/cmd/internal/book"
	"example.org/readback/store"
	"example.org/readback/store/repair"
	"example.org/readback/testdata"
)

// kills is how often the program is killed: READBACK_KILLS, or a few times.
func kills(t *testing.T) int {
	t.Helper()
	if s := os.Getenv("READBACK_KILLS"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	return testdata.Times(6, 15)
}

// killRounds is how many rounds the books of the kill test plan.
const killRounds = 12

// killedReading is the n-th reading of such a setup: round after round of the
// same directions, the circle turned by a quarter from one to the next.
func killedReading(t testing.TB, n int) string {
	return turned(t, round1[n%len(round1)], n/len(round1)%4*90, 0)
}

// The program is killed at random moments while readings are booked as fast as
// they are answered, one by one and in bursts. After each kill every reading
// that had been shown as booked and saved is in the book, in order, and the
// chain holds; the next run goes on in the same book.
func TestKill_LosesNothingShown(t *testing.T) {
	n := kills(t)
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	file, shown, more, readings := "", 0, 0, 0
	for i := range n {
		if file == "" || shown > (killRounds-3)*len(round1) {
			file, shown = filepath.Join(t.TempDir(), "weir.book"), 0
			c := newBook(t, file, event.BookOpened{})
			spec := station("Alder", "Quarry", "Mast")
			spec.Rounds = killRounds
			c.open(spec)
			c.close()
		}
		before := shown
		shown = bookUntilKilled(t, file, shown, i%4 == 0, rnd)
		got := readingsIn(t, file)
		for k, text := range got {
			if text != killedReading(t, k) {
				t.Fatalf("kill %d: reading %d is %s, keyed was %s", i+1, k+1, text, killedReading(t, k))
			}
		}
		if len(got) < shown {
			t.Fatalf("kill %d: %d readings were shown as saved, %d are in the book", i+1, shown, len(got))
		}
		more += len(got) - shown
		shown = len(got)
		readings += shown - before
	}
	if readings == 0 {
		t.Errorf("%d kills, and no reading was booked before any of them: nothing was tried", n)
	}
	t.Logf("%d kills, %d readings booked, %d of them saved and not yet shown, 0 lost", n, readings, more)
}

// bookUntilKilled opens a book that holds some readings, books on, and kills the
// program at a random moment: early, which may be before its screen stands, or when
// a few readings were shown as saved and the next are on their way. It returns how
// many were shown as saved.
func bookUntilKilled(t *testing.T, file string, saved int, early bool, rnd *rand.Rand) int {
	t.Helper()
	p := open(t, 100, 30, "book", file)
	defer p.pty.Close()
	dead := make(chan struct{})
	killAfter := func(d time.Duration) {
		time.Sleep(d)
		p.cmd.Process.Kill()
		p.exit() // waits once, whoever asks
		close(dead)
	}
	left := 1 + rnd.IntN(8) // readings until the kill is on its way
	if early {
		left = 0
		go killAfter(time.Duration(rnd.IntN(250_000)) * time.Microsecond)
	}
	if !p.shows(dead, func(screen string) bool { return strings.Contains(screen, "Key the reading as it is called") }) {
		return saved
	}
	for {
		burst := 1
		if rnd.IntN(3) == 0 {
			burst = 1 + rnd.IntN(6)
		}
		keys := ""
		for k := range burst {
			keys += killedReading(t, saved+k) + enter
		}
		p.pty.WriteString(keys)
		last := figureOf(t, killedReading(t, saved+burst-1))
		if !p.shows(dead, func(screen string) bool { return noted(screen, last) && strings.Contains(screen, "✓ saved") }) {
			return saved
		}
		saved += burst
		if left > 0 {
			if left -= burst; left <= 0 {
				go killAfter(time.Duration(rnd.IntN(25_000)) * time.Microsecond)
			}
		}
	}
}

// shows waits until the screen is as wanted, or tells that it never was before
// the program was dead.
func (p *terminal) shows(dead <-chan struct{}, ok func(screen string) bool) bool {
	p.t.Helper()
	deadline := time.Now().Add(patience)
	for seen := -1; time.Now().Before(deadline); time.Sleep(time.Millisecond) {
		if n := p.amount(); n != seen {
			seen = n
			if ok(p.screen()) {
				return true
			}
			continue
		}
		select {
		case <-p.gone:
			return ok(p.screen())
		default:
		}
	}
	p.t.Fatalf("the program is stuck:\n%s", p.screen())
	return false
}

// A kill while a new book is being made leaves no book or one that opens.
func TestKill_WhileABookIsMade(t *testing.T) {
	rnd := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 0))
	made := 0
	for i := range kills(t) {
		file := filepath.Join(t.TempDir(), "weir.book")
		p := open(t, 80, 24, "book", file)
		for until := time.Now().Add(patience); i%2 == 1 && time.Now().Before(until); time.Sleep(100 * time.Microsecond) {
			if _, err := os.Stat(file); err == nil {
				break // every second kill falls on a file that is there
			}
		}
		time.Sleep(time.Duration(rnd.IntN(40_000)/(1+i%2*9)) * time.Microsecond)
		p.cmd.Process.Kill()
		p.exit()
		if _, err := os.Stat(file); err == nil {
			made++
		}
		l, err := book.Open(file, true, event.BookOpened{}, store.Options{})
		if err != nil {
			t.Fatalf("kill %d: %v", i+1, err)
		}
		if last, err := l.Last(); err != nil || last.Seq != 1 {
			t.Errorf("kill %d: %d events (%v)", i+1, last.Seq, err)
		}
		l.Close()
		if r := repair.Verify(file); r.Err() != nil {
			t.Fatalf("kill %d: %v", i+1, r.Err())
		}
	}
	if made < kills(t)/2 {
		t.Errorf("only %d of %d kills came after the file was there", made, kills(t))
	}
}
