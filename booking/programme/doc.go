// Package programme is what is called next: the pointing, and what the observer does for
// it. It is a function of the setup alone, so a book opened again stands at the pointing
// where it was left.
package programme
