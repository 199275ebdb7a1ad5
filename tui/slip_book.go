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
		f.Fields = append(f.Fields, answers(line.Word, done, false).hinted(line.Text+". → is done, Enter goes on."))
	}
	f.Fields = append(f.Fields, textField("Anything else", ""))
	return slip{title: "Pack-up at " + s.Spec.Station, back: onDay, form: f, read: func(f *form) (string, ask, error) {
		x := packUp{text: strings.TrimSpace(f.Fields[len(list)].Value())}
		for i := range list {
			x.done = append(x.done, chosen(&f.Fields[i], done))
		}
		p, err := s.Pack(x.done, x.text)
		return p.Words(), x, err
	}}
}

// jobSlip says what the book is for: its fields begin with what stands.
func jobSlip(v *view) slip {
	b, by := v.book, v.booker()
	stays := " Left empty, what was said stays."
	f := form{Fields: []formField{
		textField("Job", b.Job).hinted("What the book is for. Sheets and files carry it." + stays).offering(distinct([]string{b.Job})),
		textField("Client", b.Client).hinted("For whom." + stays).offering(distinct([]string{b.Client})), textField("Place", b.Place).hinted("Where." + stays).offering(distinct([]string{b.Place})),
	}}
	return slip{title: "Job, client and place of the book", back: onDay, form: f, read: func(f *form) (string, ask, error) {
		x := event.BookDescribed{Job: f.line(0), Client: f.line(1), Place: f.line(2), By: by}
		news, ok := b.Describe(x)
		if !ok {
			return "", nil, errors.New("nothing here is new")
		}
		return jobWords(cmp.Or(x.Job, b.Job), cmp.Or(x.Client, b.Client), cmp.Or(x.Place, b.Place)), bookOfDay{news, onDay}, nil
	}}
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
