package sheet

import "example.org/readback/booking/page"

// A Cover is what stands before the setups.
type Cover struct{}

func (b Binder) cover() []page.Leaf { return nil }
