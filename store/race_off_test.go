//go:build !race

package store

const share = 1
