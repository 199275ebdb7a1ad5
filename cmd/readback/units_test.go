package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"example.org/readback/reduce"
	"example.org/readback/testdata"
)

// One station read on circles of 360, 400 and 6400 parts gives the same directions,
// through every way out of the book. The readings are round in each unit: 360° = 400
// gon = 6400 mils (definition), so 11.25° = 12.5 gon = 200 mils.
func TestUnits_OneStationOnEveryCircle(t *testing.T) {
	turns := map[string]float64{"deg": 360, "gon": 400, "mil": 6400}
	for i, u := range reduce.Units()[1:] {
		if !testdata.Sampled(i) {
			continue
		}
		var rows strings.Builder
		rows.WriteString("setup,station,round,face,target,quantity,reading,unit\n")
		write := func(round, face, target, quantity string, sixteenths float64) {
			fmt.Fprintf(&rows, "1,Weir,%s,%s,%s,%s,%.4f,%s\n", round, face, target, quantity, turns[u.String()]*sixteenths/32, u)
		}
		for _, r := range []string{"1", "2"} {
			write(r, "FL", "Spire", "horizontal", 1)
			write(r, "FL", "Alder", "horizontal", 6)
			write(r, "FR", "Alder", "horizontal", 22)
			write(r, "FR", "Spire", "horizontal", 17)
		}
		write("", "FL", "Alder", "vertical", 7)
		write("", "FR", "Alder", "vertical", 25)
		dir := t.TempDir()
		file, book := filepath.Join(dir, "day.csv"), filepath.Join(dir, "one")
		put(t, file, rows.String())
		call(t, "", "import", book, file, "--booker", "Tam Okoro", "--observer", "Ines Holm").must(t, exitFine)
		mark := u.String() + ","
		direction := map[reduce.Unit]string{reduce.GonUnit: "62.5", reduce.DegreeUnit: "56.25", reduce.MilUnit: "1000"}[u]
		for _, tt := range []struct {
			args []string
			want string
		}{
			{[]string{"export", book, "--as", "directions"}, mark + "56.25,"}, {[]string{"export", book, "--as", "directions"}, ",11.25,"}, {[]string{"export", book, "--as", "json"}, `"direction_deg": 56.25`},
			{[]string{"export", book, "--as", "landxml"}, map[bool]string{true: "62.5", false: "56.15"}[u == reduce.GonUnit]}, {[]string{"export", book, "--as", "sql"}, u.String()},
			{[]string{"export", book}, "," + mark}, {[]string{"sheet", book, "--text"}, direction}, {[]string{"reduce", file}, u.Name()},
		} {
			if got := call(t, "", tt.args...).must(t, exitFine).out; !strings.Contains(got, tt.want) {
				t.Errorf("%s %q: no %q in\n%.3000s", u, tt.args, tt.want, got)
			}
		}
		again := filepath.Join(dir, "again.csv") // what export writes, import reads
		put(t, again, call(t, "", "export", book).must(t, exitFine).out)
		call(t, "", "import", filepath.Join(dir, "two"), again, "--booker", "Tam Okoro").must(t, exitFine)
	}
}
