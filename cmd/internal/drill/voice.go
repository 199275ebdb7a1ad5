package drill

import (
	"sync"
	"time"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/observer"
	"example.org/readback/booking/spec"
)

// A Voice lets a drill's observer speak on the screen: it is the Drill of tui.Options.
type Voice struct {
	session *observer.Session
	pause   time.Duration
	now     func() time.Time

	mu    sync.Mutex
	asked int // counts the prompts, so that a late call is not said at another pointing
}

// NewVoice lets the session speak, each time after a pause. now is the clock.
func NewVoice(s *observer.Session, pause time.Duration, now func() time.Time) *Voice {
	return &Voice{session: s, pause: pause, now: now}
}

// Prompt has the observer read a pointing. With a pause what is called comes later, and
// is empty where another pointing has been asked for meanwhile.
func (v *Voice) Prompt(s booking.Setup, slot spec.Slot, again int) (call string, later func() string) {
	v.mu.Lock()
	defer v.mu.Unlock()
	text := v.session.Prompt(s, slot, again, v.now())
	v.asked++
	if v.pause <= 0 || text == "" {
		return text, nil
	}
	asked := v.asked
	return "", func() string {
		time.Sleep(v.pause)
		v.mu.Lock()
		defer v.mu.Unlock()
		if asked != v.asked {
			return ""
		}
		v.session.Said(v.now())
		return text
	}
}

// Score is what the learner made of the drill so far.
func (v *Voice) Score() string {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.session.Score().String()
}

// Booked takes what was queued.
func (v *Voice) Booked(e event.Entry) {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.session.Booked(e)
}
