package look

// Numbers of the colour cube, by what they look like.
const (
	black     Colour = 16  // 000000
	navy      Colour = 17  // 00005f
	maroon    Colour = 88  // 870000
	amber     Colour = 172 // d78700
	ember     Colour = 130 // af5f00
	mint      Colour = 157 // afffaf
	red       Colour = 196 // ff0000
	orange    Colour = 208 // ff8700
	yellow    Colour = 226 // ffff00
	paleBlue  Colour = 195 // d7ffff
	white     Colour = 231 // ffffff
	darkBrown Colour = 52  // 5f0000
)

// Day is for sunlight: dark characters on a light ground, every pair at least
// 10:1. Above about 540 lx that is the way round to use ([NUREG-0700] rev. 3),
// and in full sun only near-black on near-white survives, so helper text is as
// black as the rest.
func Day() *Theme {
	return newTheme("day", map[Role]Paint{
		Base:    {Front: black, Back: white},
		Strong:  {Front: black, Back: white, Bold: true},
		Title:   {Front: navy, Back: white, Bold: true, Underline: true},
		Bar:     {Front: white, Back: black, Bold: true},
		Key:     {Front: white, Back: black, Bold: true},
		Entry:   {Front: black, Back: white, Bold: true},
		Good:    {Front: black, Back: mint},
		Warn:    {Front: black, Back: yellow, Bold: true},
		Stop:    {Front: white, Back: maroon, Bold: true},
		Struck:  {Front: black, Back: white, Stroke: true},
		Current: {Front: white, Back: navy, Bold: true},
		Chosen:  {Front: black, Back: paleBlue, Bold: true},
		Mark:    {Front: navy, Back: white, Bold: true},
		Band:    {Front: maroon, Back: white},
	})
}

// Night spares eyes that are used to the dark: amber and red on black, no colour
// of a luminance above 0.4.
func Night() *Theme {
	return newTheme("night", map[Role]Paint{
		Base:    {Front: amber, Back: black},
		Strong:  {Front: orange, Back: black, Bold: true},
		Title:   {Front: amber, Back: black, Underline: true},
		Bar:     {Front: amber, Back: darkBrown},
		Key:     {Front: black, Back: amber},
		Entry:   {Front: orange, Back: black, Bold: true},
		Good:    {Front: amber, Back: black},
		Warn:    {Front: black, Back: amber},
		Stop:    {Front: black, Back: red, Bold: true},
		Struck:  {Front: amber, Back: black, Stroke: true},
		Current: {Front: black, Back: orange, Bold: true},
		Chosen:  {Front: amber, Back: darkBrown, Bold: true},
		Rule:    {Front: ember, Back: black},
		Mark:    {Front: orange, Back: black},
		Band:    {Front: red, Back: black},
	})
}

// Sixteen uses the terminal's own sixteen colours, dark on light where the
// terminal has a bright white.
func Sixteen() *Theme {
	return newTheme("sixteen", map[Role]Paint{
		Base:    {Front: 0, Back: 15},
		Strong:  {Front: 0, Back: 15, Bold: true},
		Title:   {Front: 4, Back: 15, Underline: true},
		Bar:     {Front: 15, Back: 0, Bold: true},
		Key:     {Front: 15, Back: 0, Bold: true},
		Entry:   {Front: 0, Back: 15, Bold: true},
		Good:    {Front: 0, Back: 10},
		Warn:    {Front: 0, Back: 11},
		Stop:    {Front: 15, Back: 1, Bold: true},
		Struck:  {Front: 0, Back: 15, Stroke: true},
		Current: {Front: 15, Back: 4, Bold: true},
		Chosen:  {Front: 0, Back: 14},
		Mark:    {Front: 4, Back: 15},
		Band:    {Front: 1, Back: 15},
	})
}

// Plain writes no colour and no attribute: NO_COLOR, and terminals that have
// none.
func Plain() *Theme { return &Theme{Name: "plain"} }

// Names lists the themes in the order a key walks through them.
func Names() []string { return []string{"day", "night", "sixteen", "plain"} }

// Named returns the theme of that name, ok false where there is none.
func Named(name string) (t *Theme, ok bool) {
	switch name {
	case "day":
		return Day(), true
	case "night":
		return Night(), true
	case "sixteen":
		return Sixteen(), true
	case "plain":
		return Plain(), true
	}
	return nil, false
}

// Next returns the name that follows in Names, the first after the last.
func Next(name string) string {
	all := Names()
	for i, n := range all {
		if n == name {
			return all[(i+1)%len(all)]
		}
	}
	return all[0]
}
