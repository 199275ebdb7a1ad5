//go:build race

package main

// raced: the built program carries the race detector as well, and ends at the
// first race that it sees.
const raced = true
