// Package book reads and writes field books as bookings: records of the store
// become events, events become setups, and what the screens book goes to the
// disk through one writer.
//
// A Ledger is an open book, a Chapter one chain of events in it, Chosen some of
// its setups; a Port is what the screens see of it.
package book
