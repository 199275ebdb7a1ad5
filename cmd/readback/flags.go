package main

import "time"

// Options that several commands have mean the same in each of them.

// A Doer is the option that says who does what is put on record.
type Doer struct {
	By string `help:"Who does it; the name stands in the record." placeholder:"NAME"`
}

// A Zone is the option that says in which zone times are printed.
type Zone struct {
	UTC bool `help:"Print times in UTC instead of this machine's own zone." name:"utc"`
}

// location is the zone.
func (z Zone) location() *time.Location {
	if z.UTC {
		return time.UTC
	}
	return time.Local
}
