// Package day is what frames the setups: the book as the fold of its own events, its
// known stations and settings, the office's plan and what is likely begun next, checks of
// instruments, notes to the next crew, and the summary of a setup that lists and figures
// work with.
package day
