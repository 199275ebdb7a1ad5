package look

import "github.com/muesli/termenv"

// Names lists the themes in the order a key walks through them.
func Names() []string { return []string{"day", "night", "sixteen", "plain"} }

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

// Named returns the theme of that name, ok false where there is none.
func Named(name string) (t *Theme, ok bool) {
	switch name {
	case "day":
		return newTheme(name, termenv.ANSI256, day), true
	case "night":
		return newTheme(name, termenv.ANSI256, night), true
	case "sixteen":
		return newTheme(name, termenv.ANSI, sixteen), true
	case "plain":
		return newTheme(name, termenv.Ascii, paints{}), true
	}
	return nil, false
}

// day is for sunlight: dark on light, every pair of text at least 10:1. Above
// about 540 lx that is the way round to use ([NUREG-0700] rev. 3), and in full
// sun only near-black on near-white survives: a second grey stays above 10:1.
var day = paints{
	Ink:       {Front: 16, Back: 231},
	Strong:    {Front: 16, Back: 231, Bold: true},
	Quiet:     {Front: 237, Back: 231},
	Line:      {Front: 246, Back: 231},
	Accent:    {Front: 18, Back: 231, Bold: true},
	Badge:     {Front: 231, Back: 18, Bold: true},
	Bar:       {Front: 16, Back: 254},
	BarStrong: {Front: 16, Back: 254, Bold: true},
	BarQuiet:  {Front: 236, Back: 254},
	BarCall:   {Front: 18, Back: 254, Bold: true},
	BandLine:  {Front: 243, Back: 254},
	Good:      {Front: 16, Back: 157},
	Warn:      {Front: 16, Back: 220, Bold: true},
	Stop:      {Front: 231, Back: 88, Bold: true},
	StopWide:  {Front: 231, Back: 88, Bold: true},
	Out:       {Front: 88, Back: 231, Bold: true},
	Struck:    {Front: 237, Back: 231, Stroke: true},
	Chosen:    {Front: 16, Back: 189, Bold: true},
	PadMain:   {Front: 231, Back: 18, Bold: true},
}

// night spares eyes that are used to the dark: brown and orange strokes on black,
// no luminance above 0.4, large areas dark.
var night = paints{
	Ink:       {Front: 137, Back: 16},
	Strong:    {Front: 173, Back: 16, Bold: true},
	Quiet:     {Front: 131, Back: 16},
	Line:      {Front: 59, Back: 16},
	Accent:    {Front: 202, Back: 16, Bold: true},
	Badge:     {Front: 208, Back: 236, Bold: true},
	Bar:       {Front: 137, Back: 234},
	BarStrong: {Front: 173, Back: 234, Bold: true},
	BarQuiet:  {Front: 137, Back: 234},
	BarCall:   {Front: 202, Back: 234, Bold: true},
	BandLine:  {Front: 95, Back: 234},
	Good:      {Front: 173, Back: 235},
	Warn:      {Front: 16, Back: 172, Bold: true},
	Stop:      {Front: 16, Back: 196, Bold: true},
	StopWide:  {Front: 203, Back: 52, Bold: true},
	Out:       {Front: 196, Back: 16, Bold: true},
	Struck:    {Front: 131, Back: 16, Stroke: true},
	Chosen:    {Front: 208, Back: 236, Bold: true},
	PadMain:   {Front: 208, Back: 237, Bold: true},
}

// sixteen uses the terminal's own sixteen colours. Nothing is bold: bold black is
// drawn grey on many terminals. The accent never stands on 7.
var sixteen = paints{
	Ink:       {Front: 0, Back: 15},
	Strong:    {Front: 0, Back: 15},
	Quiet:     {Front: 0, Back: 15},
	Line:      {Front: 8, Back: 15},
	Accent:    {Front: 4, Back: 15},
	Badge:     {Front: 15, Back: 4},
	Bar:       {Front: 0, Back: 7},
	BarStrong: {Front: 0, Back: 7},
	BarQuiet:  {Front: 0, Back: 7},
	BarCall:   {Front: 0, Back: 7},
	BandLine:  {Front: 0, Back: 7},
	Good:      {Front: 0, Back: 10},
	Warn:      {Front: 0, Back: 11},
	Stop:      {Front: 15, Back: 1},
	StopWide:  {Front: 15, Back: 1},
	Out:       {Front: 1, Back: 15},
	Struck:    {Front: 0, Back: 15, Stroke: true},
	Chosen:    {Front: 0, Back: 14},
	PadMain:   {Front: 15, Back: 4},
}
