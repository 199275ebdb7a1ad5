// Package pages looks at the pages of a book file with plain reads before bbolt may
// map it.
package pages
