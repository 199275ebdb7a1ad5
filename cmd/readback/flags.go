package main

import (
	"fmt"
	"time"
	_ "time/tzdata" // for machines that have no time zone database
)

// Options that several commands have mean the same in each of them.

// A Doer is the option that says who does what is put on record.
type Doer struct {
	By string `help:"Who does it; the name stands in the record." placeholder:"NAME"`
}

// A Zone is the options that say in which zone times are printed.
type Zone struct {
	UTC  bool      `help:"Print times in UTC instead of this machine's own zone." name:"utc"`
	Zone NamedZone `help:"Print times in this zone, such as Europe/Oslo, instead of this machine's own." placeholder:"NAME"`
}

// location is the zone: UTC where it is asked for, else the one that is named.
func (z Zone) location() *time.Location {
	switch {
	case z.UTC:
		return time.UTC
	case z.Zone.at != nil:
		return z.Zone.at
	}
	return time.Local
}

// A NamedZone is a zone of the IANA time zone database, given by its name.
type NamedZone struct{ at *time.Location }

// UnmarshalText finds the zone. The database is in the program: a machine without
// one knows the same names.
func (z *NamedZone) UnmarshalText(name []byte) (err error) {
	if z.at, err = time.LoadLocation(string(name)); err != nil || len(name) == 0 {
		return fmt.Errorf("there is no time zone %q: name it as in Europe/Oslo", name)
	}
	return nil
}
