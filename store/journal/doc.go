// Package journal keeps events as lines of JSON: the record, the line, the file that
// is appended to, and the reader that proves the chain.
package journal
