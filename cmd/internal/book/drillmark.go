package book

import (
	"fmt"
	"io"
)

// MarkDrills says above an output which of the books it is made from are drills.
func (c Chosen) MarkDrills(w io.Writer) error {
	for _, ch := range c.Chapters {
		if err := c.MarkDrill(w, ch); err != nil {
			return err
		}
	}
	return nil
}

// MarkDrill says it of one of them.
func (c Chosen) MarkDrill(w io.Writer, ch Chapter) error {
	b, err := ch.Book()
	if err == nil && b.Drill {
		_, err = fmt.Fprintf(w, "DRILL: the readings of %s are made up and were never observed.\n", ch.Name(c))
	}
	return err
}

// observed leaves out the drills of an office book, which holds observed books
// too, and names them. A book that is a drill alone stays.
func (c Chosen) Observed(w io.Writer) (Chosen, error) {
	var kept []Chapter
	var drills []string
	for _, ch := range c.Chapters {
		b, err := ch.Book()
		if err != nil {
			return c, err
		}
		if b.Drill {
			drills = append(drills, ch.Name(c))
			continue
		}
		kept = append(kept, ch)
	}
	if len(kept) == 0 {
		return c, c.MarkDrills(w)
	}
	for _, d := range drills {
		fmt.Fprintf(w, "Left out: %s is a drill, its readings were never observed.\n", d)
	}
	c.Chapters = kept
	return c, nil
}
