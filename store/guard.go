package store

import (
	"fmt"
	"runtime/debug"
)

// guarded runs fn so that neither a panic nor a fault on a mapped page leaves
// it: both come back as a *panicError. The setting is of this goroutine only,
// so every goroutine that reads the mapped file comes through here.
func guarded(fn func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			err = &panicError{value: r, stack: debug.Stack()}
		}
	}()
	return fn()
}

// panicError is a recovered panic.
type panicError struct {
	value any
	stack []byte
}

// Error gives what the panic said.
func (e *panicError) Error() string { return fmt.Sprint(e.value) }
