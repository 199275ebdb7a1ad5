package main

import (
	"fmt"
	"strings"
	"time"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/page"
	"example.org/readback/cmd/internal/book"
)

// About are the options that say what a book is for. A book that says nothing of
// one takes it from the defaults; what it says stands until an option says
// otherwise.
type About struct {
	Job    string `help:"What the book is for." placeholder:"NAME"`
	Client string `help:"For whom." placeholder:"NAME"`
	Place  string `help:"Where." placeholder:"NAME"`
}

// event is what the options say.
func (a About) event(by string) event.BookDescribed {
	return event.BookDescribed{Job: strings.TrimSpace(a.Job), Client: strings.TrimSpace(a.Client), Place: strings.TrimSpace(a.Place), By: strings.TrimSpace(by)}
}

// or is a, and of what it does not say, b.
func (a About) or(b About) About {
	for _, f := range []struct {
		to *string
		is string
	}{{&a.Job, b.Job}, {&a.Client, b.Client}, {&a.Place, b.Place}} {
		if *f.to == "" {
			*f.to = f.is
		}
	}
	return a
}

// aboutDefaults is what the defaults say of a book that says nothing itself.
func (c *Context) aboutDefaults() About {
	of := func(name string) string { v, _ := c.defaults.Of(name); return v }
	return About{Job: of("job"), Client: of("client"), Place: of("place")}
}

// describe books what is said of a book and is news, and returns it.
func (c *Context) describe(l *book.Ledger, a About, by string) (event.BookDescribed, error) {
	b, err := l.Book()
	if err != nil {
		return event.BookDescribed{}, err
	}
	news, ok := b.Describe(a.or(About{b.Job, b.Client, b.Place}).or(c.aboutDefaults()).event(by))
	if !ok {
		return news, nil
	}
	return news, l.Append(time.Now(), news)
}

// A DescribeCmd says what a book is for; its sheets and files carry it.
type DescribeCmd struct {
	Book string `arg:"" help:"The book; with something to say it is made when it is not there. Without anything, what it says is printed."`
	About
	Doer
}

// Help shows how it is called.
func (DescribeCmd) Help() string {
	return `Examples:
  readback describe dam.readback
  readback describe dam.readback --job "Brackenfold dam, epoch 7" --client "Brackenfold Water Board" --place Brackenfold`
}

// Run books it, or prints what is said.
func (d *DescribeCmd) Run(c *Context) error {
	if d.About == (About{}) {
		return d.list(c)
	}
	l, err := c.open(d.Book)
	if err != nil {
		return err
	}
	defer l.Close()
	news, err := c.describe(l, d.About, d.By)
	if err != nil {
		return err
	}
	if news == (event.BookDescribed{By: news.By}) {
		fmt.Fprintf(c.Out, "%s says so already.\n", d.Book)
		return nil
	}
	printAbout(c, d.Book, About{news.Job, news.Client, news.Place})
	return nil
}

// list prints what each book says.
func (d *DescribeCmd) list(c *Context) error {
	return c.eachBook(d.Book, func(name string, _ book.Chapter, b day.Book) error {
		printAbout(c, name, About{b.Job, b.Client, b.Place})
		return nil
	})
}

func printAbout(c *Context, name string, a About) {
	fmt.Fprintf(c.Out, "%s: job %s, client %s, place %s.\n", name, saidOf(a.Job), saidOf(a.Client), saidOf(a.Place))
}

// saidOf is a word of a book as it is printed.
func saidOf(s string) string {
	if s == "" {
		return "not said"
	}
	return page.Visible(s)
}
