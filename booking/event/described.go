package event

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
