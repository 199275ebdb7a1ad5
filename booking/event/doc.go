// Package event is what can happen: the facts of a book in the past tense, each with its
// number on the wire, the codec that writes and reads them, and the words for what each
// says. An event holds what was keyed and what was said then; what follows from it is
// worked anew.
package event
