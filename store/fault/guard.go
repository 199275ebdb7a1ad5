package fault

import (
	"fmt"
	"runtime/debug"
)

// Guarded runs fn so that neither a panic nor a fault on a mapped page leaves
// it: both come back as a *panicError. The setting is of this goroutine only,
// so every goroutine that reads the mapped file comes through here.
func Guarded(fn func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			err = &PanicError{value: r, stack: debug.Stack()}
		}
	}()
	return fn()
}

// PanicError is a recovered panic.
type PanicError struct {
	value any
	stack []byte
}

// Error gives what the panic said.
func (e *PanicError) Error() string { return fmt.Sprint(e.value) }
