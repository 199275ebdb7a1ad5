package main

import (
	"fmt"
	"io"
)

// markDrills says above an output which of the books it is made from are drills.
func (c chosen) markDrills(w io.Writer) error {
	for _, ch := range c.chapters {
		if err := c.markDrill(w, ch); err != nil {
			return err
		}
	}
	return nil
}

// markDrill says it of one of them.
func (c chosen) markDrill(w io.Writer, ch chapter) error {
	b, err := ch.Book()
	if err == nil && b.Drill {
		_, err = fmt.Fprintf(w, "DRILL: the readings of %s are made up and were never observed.\n", ch.name(c))
	}
	return err
}

// observed leaves out the drills of an office book, which holds observed books
// too, and names them. A book that is a drill alone stays.
func (c chosen) observed(w io.Writer) (chosen, error) {
	var kept []chapter
	var drills []string
	for _, ch := range c.chapters {
		b, err := ch.Book()
		if err != nil {
			return c, err
		}
		if b.Drill {
			drills = append(drills, ch.name(c))
			continue
		}
		kept = append(kept, ch)
	}
	if len(kept) == 0 {
		return c, c.markDrills(w)
	}
	for _, d := range drills {
		fmt.Fprintf(w, "Left out: %s is a drill, its readings were never observed.\n", d)
	}
	c.chapters = kept
	return c, nil
}
