// Package store keeps the events of a field book so that none is lost and none
// is quietly changed.
package store
