package tui

import "testing"

// What cannot be read is as if it had never been chosen, and what the command line says
// goes before what is remembered. In Termux listening to touches would keep the on-screen
// keyboard from opening: it is off until chosen.
func TestPreferences_Remembered(t *testing.T) {
	termux := func(name string) string {
		return map[string]string{"PREFIX": "/data/data/com.termux/files/usr"}[name]
	}
	for _, c := range []struct {
		of   Options
		want preferences
	}{
		{Options{}, preferences{Mouse: true}},
		{Options{Remembered: []byte("{half")}, preferences{Mouse: true}},
		{Options{Remembered: []byte(`{"Theme":"night","Keypad":true,"Mouse":false}`)}, preferences{Theme: "night", Keypad: true}},
		{Options{Remembered: []byte(`{"Theme":"night"}`), Theme: "day", ASCII: true}, preferences{Theme: "day", ASCII: true, Mouse: true}},
		{Options{Getenv: termux}, preferences{}},
		{Options{Getenv: termux, Remembered: []byte(`{"Mouse":true}`)}, preferences{Mouse: true}},
	} {
		if got := c.of.remembered(); got != c.want {
			t.Errorf("%q gives %+v, expected %+v", c.of.Remembered, got, c.want)
		}
	}
}
