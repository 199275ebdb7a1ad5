package tui

import "github.com/charmbracelet/bubbles/key"

// bind makes a binding whose first key is printed with the word.
func bind(word string, keys ...string) key.Binding {
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(printed(keys[0]), word))
}

// printed is how a key stands on the screen: letters as capitals, as on the keys.
func printed(k string) string {
	switch k {
	case "enter":
		return "Enter"
	case "backspace":
		return "Back"
	case "esc":
		return "Esc"
	case "up":
		return "↑"
	case "down":
		return "↓"
	case "left":
		return "←"
	case "right":
		return "→"
	case "pgdown":
		return "PgDn"
	case "pgup":
		return "PgUp"
	}
	if len(k) == 1 && k[0] >= 'a' && k[0] <= 'z' {
		return string(k[0] - 'a' + 'A')
	}
	return k
}

// Every binding of the screens. A letter means the same wherever it is printed,
// but for the few that a screen needs for itself.
var keys = struct {
	Enter, Back, Up, Down, Left, Right, PageUp, PageDown key.Binding

	Home, Strike, Hidden, Void, Remark, Page, Go, Compare, Verdict,
	Work, Options, Keypad, Keys, Quit key.Binding

	OtherFace, Anew                                                           key.Binding
	Yes, No                                                                   key.Binding
	LeaveOut, TakeBack, Another                                               key.Binding
	Lift, Height, Column                                                      key.Binding
	New, Find, Figure, Health, Continue, Limits, Foresee, Laid                key.Binding
	ForNow, Blocked                                                           key.Binding
	Theme, ASCII, Touch, Copy, Aloud, Bell                                    key.Binding
	Amend, Again, OutOfMeans, Day, TakeLeft                                   key.Binding
	Close, Leave, Reopen, Open, Pick, Write, ReadAgain, Picture, Around, Next key.Binding
}{
	Enter: bind("book", "enter"), Back: bind("take back", "backspace"),
	Up: bind("up", "up"), Down: bind("down", "down"), Left: bind("left", "left"), Right: bind("right", "right"),
	PageUp: bind("page up", "pgup"), PageDown: bind("page down", "pgdown"),

	Home:    bind("booking", "b", "esc"),
	Strike:  bind("strike", "s"),
	Hidden:  bind("hidden", "h"),
	Void:    bind("void round", "v"),
	Remark:  bind("remark", "r"),
	Page:    bind("page", "p"),
	Go:      bind("pointings", "g"),
	Compare: bind("compare", "c"),
	Verdict: bind("lift or hold", "l"),
	Work:    bind("work list", "w"),
	Options: bind("options", "o"),
	Keypad:  bind("keypad", "k"),
	Keys:    bind("all keys", "?"),
	Quit:    bind("leave", "q"),

	Yes: bind("yes", "y"), No: bind("no", "n"),
	LeaveOut: bind("leave round out", "x"), TakeBack: bind("take round back", "t"), Another: bind("another round", "a"),
	Lift: bind("lift the tripod", "t"), Height: bind("instrument height", "i"), Column: bind("other figure", "e"),
	OtherFace: bind("call the other face", "f"), Anew: bind("judge anew", "j"),
	New: bind("next station", "n"), Find: bind("find", "f"), Figure: bind("figure", "g"), Health: bind("health", "h"), Limits: bind("limits and σ", "l"),
	Foresee: bind("what the plan brings", "f"), Laid: bind("onto known stations", "t"),
	Continue: bind("continue or look", "enter"),
	ForNow:   bind("hidden for now", "h"), Blocked: bind("blocked", "x"),
	Theme: bind("theme", "t"), ASCII: bind("plain signs", "a"), Touch: bind("touch", "m"), Copy: bind("copy to", "c"),
	Aloud: bind("read aloud", "r"), Bell: bind("bell", "e"),
	Leave:  bind("back without it", "esc"),
	Close:  bind("back", "esc", "enter", "?", "b"),
	Reopen: bind("open the book again", "o"), Open: bind("open the setup", "o"), Next: bind("next", "enter"),
	Pick: bind("choose", "enter"), Write: bind("write it", "enter"),
	Picture:   bind("text or picture", "p"),
	Around:    bind("around the station", "a"),
	ReadAgain: bind("ask to read again", "a"),
	Amend:     bind("amend the setup", "m"), Again: bind("measure again", "a"), OutOfMeans: bind("leave out, take back", "x"), Day: bind("the day", "d"), TakeLeft: bind("go on keying", "t"),
}

// withHelp returns the binding with another word beside its key.
func withHelp(b key.Binding, word string) key.Binding {
	b.SetHelp(b.Help().Key, word)
	return b
}
