package drill

import (
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/readback/booking"
	"example.org/readback/booking/observer"
	"example.org/readback/tui"
)

// A Voice lets a drill's observer speak on the screen. It implements tui.Drill.
type Voice struct {
	session *observer.Session
	pause   time.Duration
	now     func() time.Time

	mu    sync.Mutex
	send  func(tea.Msg)
	asked int // counts the prompts, so that a late call is not said at another pointing
}

// NewVoice lets the session speak, each time after a pause. now is the clock.
func NewVoice(s *observer.Session, pause time.Duration, now func() time.Time) *Voice {
	return &Voice{session: s, pause: pause, now: now}
}

// SendTo names the program that shows what is called.
func (v *Voice) SendTo(send func(tea.Msg)) {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.send = send
}

// Prompt implements tui.Drill.
func (v *Voice) Prompt(s booking.Setup, slot booking.Slot, again int) string {
	v.mu.Lock()
	defer v.mu.Unlock()
	text := v.session.Prompt(s, slot, again, v.now())
	v.asked++
	if v.pause <= 0 || text == "" {
		return text
	}
	asked := v.asked
	time.AfterFunc(v.pause, func() { v.call(text, asked) })
	return ""
}

// call says a reading unless another pointing has been asked for meanwhile.
func (v *Voice) call(text string, asked int) {
	v.mu.Lock()
	send, late := v.send, asked != v.asked
	v.mu.Unlock()
	if !late && send != nil {
		v.mu.Lock()
		v.session.Said(v.now())
		v.mu.Unlock()
		send(tui.Called{Text: text})
	}
}

// Score implements tui.Drill.
func (v *Voice) Score() string {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.session.Score().String()
}

// Booked implements tui.Drill.
func (v *Voice) Booked(e booking.Entry) {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.session.Booked(e)
}
