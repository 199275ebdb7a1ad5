// Package fault has the errors of the store, each with what to do about it, and the
// guard that turns panics and faults on mapped pages into errors.
package fault
