package input

var kindNames = [...]string{"nothing", "chars", "letter", "enter", "back", "key", "esc", "wait", "refused", "offer", "paste refused", "lost"}

// String returns the kind in a word.
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "unknown"
}
