// Package field names the parts of a spec one by one, so that a form, a readings file
// and a command line say in their own place what is wrong with one of them.
package field
