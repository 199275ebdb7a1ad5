package disk

import "testing"

func TestIsDevice(t *testing.T) {
	for name, want := range map[string]bool{
		"con": true, "CON.readback": true, "dir/nul": true, "Aux .csv": true, "com1.a.b": true, "LPT9": true, "com²": true, "nul:": true, "conout$": true,
		"console": false, "com": false, "com0": false, "com10": false, "north.con": false, "null": false, "/dev/null": false, "dam.readback": false, "lpt.csv": false, "": false,
	} {
		if got := IsDevice(name); got != want {
			t.Errorf("%q: %v, want %v", name, got, want)
		}
	}
}
