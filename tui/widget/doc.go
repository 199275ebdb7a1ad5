// Package widget holds the pieces that the screens are laid from: a frame of cells,
// the tall figures, the reading entry, text fields, keypad, action bar, lists,
// tables and forms.
//
// A part is dumb: it has methods that change it and a Draw that puts it into an
// Area; it knows no messages and no screen. What is drawn never leaves its Area,
// so a view is never taller or wider than its window, and text from outside
// never reaches the terminal raw: control characters are shown as signs.
//
//	f := part.NewFrame(theme.Day(), 80, 24)
//	head, rest := f.Area().Top(1)
//	head.Line(theme.Bar, " Weir   round 1 of 2   face left")
//	rest.Text(2, 1, theme.Strong, "Sight Alder.")
//	view := f.String()
//
// States are said by words and marks as well as by colour; the same text stands
// in every theme.
package widget
