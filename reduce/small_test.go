package reduce

import "testing"

// 1 mgon = 3.24″ (400 gon = 1,296,000″).
func TestFormatDeviation(t *testing.T) {
	for _, c := range []struct {
		seconds float64
		unit    Unit
		places  int
		plain   string
		signed  string
	}{
		{3.24, DMS, 1, "3.2″", "+3.2″"},
		{3.24, GonUnit, 1, "1.00 mgon", "+1.00 mgon"},
		{-3.24, DMS, 0, "-3″", "−3″"},
		{-32.4, GonUnit, 0, "-10.0 mgon", "−10.0 mgon"},
	} {
		if got := FormatDeviation(c.seconds, c.unit, c.places); c.seconds > 0 && got != c.plain {
			t.Errorf("%v: %s, want %s", c, got, c.plain)
		}
		if got := FormatSigned(c.seconds, c.unit, c.places); got != c.signed {
			t.Errorf("%v: %s, want %s", c, got, c.signed)
		}
		if got := FormatBare(c.seconds, c.unit, c.places); got+map[Unit]string{DMS: "", GonUnit: " "}[c.unit]+SmallUnit(c.unit) != c.signed {
			t.Errorf("%v: %s, want %s without its unit", c, got, c.signed)
		}
	}
	if got := FormatBare(-0.04, DMS, 1); got != "0.0" {
		t.Errorf("zero is %s", got)
	}
}
