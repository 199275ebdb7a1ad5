package reduce

import "testing"

func TestParseKeyed_Forms(t *testing.T) {
	want := 123*Degree + 45*Arcminute + 12*Arcsecond
	for _, s := range []string{"1234512", "123 45 12", "123.45.12"} {
		got, err := ParseKeyed(s, DMS, Arcsecond)
		if err != nil || got != want {
			t.Errorf("%q: %v, %v", s, got, err)
		}
	}
	if a, err := ParseKeyed("1234512.5", DMS, Arcsecond/2); err != nil || a != want+Arcsecond/2 {
		t.Errorf("decimals: %v %v", a, err)
	}
	if a := (59*Arcsecond + 960000); a.Format(DMS, 1) != "0°01′00.0″" {
		t.Error(a.Format(DMS, 1))
	}
}
