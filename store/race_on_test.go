//go:build race

package store

// share is by how much the tests that run in children of one goroutine are
// shortened under the race detector, which finds nothing in them.
const share = 2
