package tui

import (
	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce/faces"
)

// record writes what happened in the setup at work: the events that booking makes of
// it, or its reason for making none.
type record struct {
	events func(s booking.Setup) ([]event.Event, error)
	back   screenID // shown behind it; onBooking is the page of a setup that was lifted
}

// recorded asks for one event.
func recorded[E event.Event](back screenID, decide func(s booking.Setup) (E, error)) []ask {
	return asks(record{func(s booking.Setup) ([]event.Event, error) {
		e, err := decide(s)
		return []event.Event{e}, err
	}, back})
}

// because makes of a written reason the event that booking decides about one thing: a
// reading, a round.
func because[A any, E event.Event](back screenID, decide func(s booking.Setup, about A, reason string) (E, error), about A) func(reason string) []ask {
	return func(reason string) []ask {
		return recorded(back, func(s booking.Setup) (E, error) { return decide(s, about, reason) })
	}
}

// wholeHalf makes of a written reason what booking decides about the whole half of a
// reading, observed for the first time or again.
func wholeHalf[E event.Event](decide func(s booking.Setup, round int, face faces.Face, repeat int, reason string) ([]E, error), k spec.Slot) func(reason string) []ask {
	return func(reason string) []ask {
		return asks(record{events: func(s booking.Setup) (out []event.Event, err error) {
			es, err := decide(s, k.Round, k.Face, k.Repeat, reason)
			for _, e := range es {
				out = append(out, e)
			}
			return out, err
		}})
	}
}

// anotherRound asks for another round.
func anotherRound(reason string) []ask {
	return recorded(onBooking, func(s booking.Setup) (event.RoundAdded, error) { return s.AddRound(reason) })
}

// record writes what a screen recorded.
func (a *app) record(x record) {
	es, err := x.events(a.v.setup)
	if err != nil {
		a.notice = say{text: sentence(err), bad: true}
		return
	}
	for _, e := range es {
		back := x.back
		if back == onBooking {
			back = a.backTo()
		}
		if !a.write(e, nil, back) {
			return
		}
	}
}
