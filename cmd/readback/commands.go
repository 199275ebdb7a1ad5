package main

// CLI lists the commands. One file holds each of them.
type CLI struct {
}
