package tui

import (
	"cmp"
	"errors"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
)

// done is the answer to a line of the pack-up.
var done = []choice[bool]{{"not yet", false}, {"done", true}}

// packSlip is the list of the pack-up.
func packSlip(s booking.Setup) slip {
	list := event.PackUp(s.Spec)
	f := form{}
	for _, line := range list {
		f.Fields = append(f.Fields, answers(line.Word, done, false))
	}
	f.Fields = append(f.Fields, textField("Anything else", ""))
	read := func(f *form) packUp {
		var p packUp
		for i := range list {
			p.done = append(p.done, chosen(&f.Fields[i], done))
		}
		p.text = strings.TrimSpace(f.Fields[len(list)].Value())
		return p
	}
	hints := map[int]string{}
	for i, line := range list {
		hints[i] = line.Text + ". → is done, Enter goes on."
	}
	return slip{title: "Pack-up at " + s.Spec.Station, back: onDay, form: f, hints: hints,
		said: func(f *form) (string, error) {
			x := read(f)
			p, err := s.Pack(x.done, x.text)
			return p.Words(), err
		},
		then: func(f *form) []ask { return asks(read(f)) },
	}
}

// jobSlip says what the book is for: its fields begin with what stands.
func jobSlip(v *view) slip {
	b, by := v.book, v.booker()
	read := func(f *form) event.BookDescribed {
		return event.BookDescribed{Job: f.line(0), Client: f.line(1), Place: f.line(2), By: by}
	}
	stays := " Left empty, what was said stays."
	return slip{title: "Job, client and place of the book", back: onDay, form: form{Fields: []formField{textField("Job", b.Job), textField("Client", b.Client), textField("Place", b.Place)}},
		hints: map[int]string{0: "What the book is for. Sheets and files carry it." + stays, 1: "For whom." + stays, 2: "Where." + stays},
		said: func(f *form) (string, error) {
			x := read(f)
			if _, ok := b.Describe(x); !ok {
				return "", errors.New("nothing here is new")
			}
			return jobWords(cmp.Or(x.Job, b.Job), cmp.Or(x.Client, b.Client), cmp.Or(x.Place, b.Place)), nil
		},
		then: func(f *form) []ask {
			news, _ := b.Describe(read(f))
			return asks(bookOfDay{news, onDay})
		},
	}
}

// jobWords are what is said of a book, empty where nothing is.
func jobWords(job, client, place string) string {
	var out []string
	for _, x := range [][2]string{{"job ", job}, {"client ", client}, {"place ", place}} {
		if x[1] != "" {
			out = append(out, x[0]+x[1])
		}
	}
	return strings.Join(out, ", ")
}
