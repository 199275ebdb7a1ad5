// Package proof reads closed books, and those that another window books in, as a
// whole: every event of every chain is proven before the first is handed out,
// and nothing but what was proven is. The index by group is made anew in
// memory; what the file says of it is never relied on.
package proof
