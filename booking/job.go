package booking

import "strings"

// BookDescribed says what a book is for: the job, for whom, and where. A field
// that is given takes the place of what was said before; an empty one leaves it.
type BookDescribed struct {
	Job    string `json:"job,omitempty"`
	Client string `json:"client,omitempty"`
	Place  string `json:"place,omitempty"`
	By     string `json:"by,omitempty"`
}

// Words says what was said of the book: "job Dam, client Water Board".
func (d BookDescribed) Words() string {
	var ws []string
	for _, f := range [][2]string{{"job", d.Job}, {"client", d.Client}, {"place", d.Place}} {
		if f[1] != "" {
			ws = append(ws, f[0]+" "+f[1])
		}
	}
	return strings.Join(ws, ", ")
}

// kind returns kindBookDescribed.
func (BookDescribed) kind() Kind { return kindBookDescribed }

// describe returns the book after what is said of it.
func (b Book) describe(d BookDescribed) Book {
	for _, f := range []struct {
		to *string
		is string
	}{{&b.Job, d.Job}, {&b.Client, d.Client}, {&b.Place, d.Place}} {
		if f.is != "" {
			*f.to = f.is
		}
	}
	return b
}

// Describe returns what of d is not said of the book yet; ok is false where
// nothing is new.
func (b Book) Describe(d BookDescribed) (news BookDescribed, ok bool) {
	news.By = d.By
	for _, f := range []struct {
		to      *string
		is, was string
	}{{&news.Job, d.Job, b.Job}, {&news.Client, d.Client, b.Client}, {&news.Place, d.Place, b.Place}} {
		if f.is != "" && f.is != f.was {
			*f.to, ok = f.is, true
		}
	}
	return news, ok
}
