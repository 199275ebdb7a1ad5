package precision

import (
	"os"
	"strings"
	"testing"

	"example.org/readback/testdata"
)

// TestMain holds the table of the largest differences to printed figures.
func TestMain(m *testing.M) {
	os.Exit(testdata.Differences(m, "differences-precision.md", func(quantity string) string {
		if strings.HasSuffix(quantity, "variance") || strings.HasSuffix(quantity, "squares") {
			return "″²"
		}
		if strings.HasPrefix(quantity, "s of") || strings.HasPrefix(quantity, "mean") || strings.HasPrefix(quantity, "95") {
			return "″"
		}
		return ""
	}))
}
