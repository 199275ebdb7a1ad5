package exchange

import (
	"reflect"
	"strings"
	"testing"

	"example.org/readback/booking/event"
)

func TestReadPlan(t *testing.T) {
	got, err := ReadPlan([]byte("Station,RO,targets,rounds,verticals,distances,day\n"+
		"Weir,Spire,Gannet; Alder,2,yes,Gannet,2026-05-04\n"+"\"North, East\",Weir,Alder,,no,,\n"), "monday.csv")
	want := []event.PlannedStation{
		{Station: "Weir", RO: "Spire", Targets: []string{"Gannet", "Alder"}, Rounds: 2, Verticals: true, Distances: true, NoDistance: []string{"Spire", "Alder"}, Day: "2026-05-04"},
		{Station: "North, East", RO: "Weir", Targets: []string{"Alder"}},
	}
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestReadPlan_Faults(t *testing.T) {
	const head = "station,ro,targets,rounds,distances,day\n"
	for text, want := range map[string]string{
		"":                                  "line 1: the file has no header",
		"station,ro\n":                      "the column targets is missing",
		"station,ro,targets,colour\n":       `"colour" is no column of a plan`,
		head:                                "line 2: there is no row below the header",
		head + "Weir,Spire,Alder,1,,\n":     `line 2, column 4 (rounds): "1" rounds: expected 2 to 24`,
		head + "Weir,Spire,Alder,2,Mast,\n": `line 2, column 5 (distances): "Mast" is not sighted from Weir`,
		head + "Weir,Spire,Alder,2,,4.5.\n": `line 2, column 6 (day): "4.5." is no day`,
		head + "Weir,Weir,Alder,2,,\n":      "line 2, column 2 (ro)",
		head + ",Spire,Alder,2,,\n":         "line 2, column 1 (station)",
		head + "Weir,Spire,A;B;C;D;E;F;G;H;I;J;K;L;M,24,,\n": "line 2, column 4 (rounds): 13 targets in 24 rounds: expected at most 144 directions",
		head + "Weir,Spire,,2,,\n":                           "line 2, column 3 (targets)",
		head + "Weir,Spire,Alder\n":                          "line 2: the row has not as many cells",
	} {
		if _, err := ReadPlan([]byte(text), "monday.csv"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
