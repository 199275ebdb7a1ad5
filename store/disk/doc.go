// Package disk knows where the files of a book stand, and how names are made
// durable on the systems the program runs on.
package disk
