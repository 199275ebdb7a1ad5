package tui

import "testing"

// What cannot be a reading of the instrument is not booked, and the line says why
// (minutes and seconds run to 59, the circle to 360°: facts of the notation).
func TestEntry_ThatCannotBe(t *testing.T) {
	for keyed, why := range map[string]string{
		"0 75 00":   "minute",
		"0 05 60":   "second",
		"360 00 00": "full circle",
		"9991000":   "full circle",
		"0 05 03":   "least count of the instrument, 5″",
		"051":       "Too short",
	} {
		d := firstSetup(newDriver(t, &fakePort{}, Options{})).book(keyed)
		if n := len(d.app.v.setup.Readings); n != 0 {
			t.Errorf("%q was booked", keyed)
		}
		d.sees(why)
	}
	d := firstSetup(newDriver(t, &fakePort{}, Options{})).keys("<enter>").sees("!", "empty")
	d.key("00510").seesNot("No digits", "Too short").keys("<enter>").sees("Booked: Spire")
}
