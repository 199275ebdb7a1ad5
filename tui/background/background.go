// Package background tells lipgloss what the terminal's background is before
// bubbletea can ask. bubbletea v1 asks the terminal in an init function and waits
// five seconds for an answer that some terminals never give; an explicit value
// makes the question unnecessary. The themes paint their own background, so the
// value itself is never used.
//
// It works only while this package is initialised before bubbletea. Go
// initialises packages whose imports are ready in the order of their import
// paths, so the package imports lipgloss and nothing else, and the module path
// sorts before github.com/charmbracelet/bubbletea.
package background

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
