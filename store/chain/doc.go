// Package chain keeps chains of events in a bbolt file: the guarded file, its
// format, the records and the index by group that is derived from them.
package chain
