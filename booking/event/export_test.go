package event

// What only the tests of the wire ask for.
const EventVersion = eventVersion

var ErrNewerEvent = errNewerEvent
