package day_test

import (
	"fmt"
	"slices"
	"testing"

	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
)

func TestNear_PointsAtTheKnownName(t *testing.T) {
	known := []string{"Gannet", "Weir", "Alder", "Spire", "P 12", "Mast"}
	for name, want := range map[string]string{
		"Ganet": "Gannet", "gannet": "Gannet", "Gannte": "Gannet", "Gannett": "Gannet", "GANNET": "Gannet", "Spier": "Spire", "weir": "Weir",
		"Gannet": "", "P 13": "", "P 2": "", "Quarry": "", "Must": "Mast", "Elder": "Alder", "Wear": "Weir", "Wier": "Weir", "Mat": "", "": "",
		"Gnnt": "Gannet", "Gannett N": "", "Gannet N": "", "Oast": "", "Weir A": "", "Wire": "", "Master": "", "Spires": "Spire", "Sprie": "Spire",
	} {
		got, ok := spec.Near(name, known)
		if got != want || ok != (want != "") {
			t.Errorf("%q: %q %v, want %q", name, got, ok, want)
		}
	}
}

// Two letters of a short stem are a slip too; different points of one job never
// are, whatever their row is told by.
func TestNear_ShortStemsAndRowsOfPoints(t *testing.T) {
	for slip, meant := range map[string]string{"Qary": "Quarry", "Qaury": "Quarry", "QARY": "Quarry", "Chpl": "Chapel", "Qarry": "Quarry", "ALDER": "Alder", "peg A": "Peg A"} {
		if got, ok := spec.Near(slip, []string{"Weir", meant, "P12"}); got != meant || !ok {
			t.Errorf("%q: %q %v, want %q", slip, got, ok, meant)
		}
	}
	rows := [][]string{{"Alder", "Chapel", "Gannet", "Kiln", "Mast", "Oast", "Quarry", "Spire", "Steeple", "Weir", "Weir N", "Weir S", "N Weir", "S Weir"}}
	for _, form := range []string{"A%d", "P%d", "P %d", "Pier %d", "Pier %d east", "Bolt-%d", "%d"} {
		var row []string
		for i := 1; i <= 59; i++ {
			row = append(row, fmt.Sprintf(form, i))
		}
		rows = append(rows, row)
	}
	for _, form := range []string{"Peg %c", "Peg-%c", "Peg%c", "Gauge %c north", "peg %c"} {
		var row []string
		for c := 'A'; c <= 'Z'; c++ {
			row = append(row, fmt.Sprintf(form, c))
		}
		rows = append(rows, row)
	}
	rows = append(rows, []string{"Pier I", "Pier II", "Pier III", "Pier IV", "Pier V", "Pier VI", "Pier VII", "Pier VIII", "Pier IX", "Pier X", "Pier XI"})
	for _, row := range rows {
		for i, name := range row {
			if meant, ok := spec.Near(name, slices.Concat(row[:i], row[i+1:])); ok {
				t.Errorf("%q is called near to %q", name, meant)
			}
		}
	}
}

func summary(number int, state, station, ro string, targets ...string) day.Summary {
	return day.Summary{Setup: number, State: state, Station: station, RO: ro, Targets: targets}
}

// Carried round a ring, each setup is proposed as the foresight of the last, and
// a station that was occupied before is sighted as then.
func TestPropose_TheForesightOfTheLast(t *testing.T) {
	crew := spec.Spec{Observer: "Ines Holm", Rounds: 3, Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Weather: "rain"}
	setups := []day.Summary{summary(1, "lifted", "Weir", "Spire", "Gannet", "Alder")}
	setups[0].Sights = []day.SightLine{{Target: "Gannet", Horizontal: 120}, {Target: "Alder"}}
	p := day.Propose(nil, setups, crew, "")
	if p.Spec.Station != "Gannet" || p.Spec.RO != "Weir" || len(p.Spec.Targets) != 0 || p.Spec.Observer != "Ines Holm" || p.Spec.Rounds != 3 || p.Spec.Weather != "" {
		t.Errorf("after Weir: %+v", p)
	}
	setups = append(setups, summary(2, "struck", "Gannett", "Weir", "Alder"), summary(3, "lifted", "Gannet", "Weir", "Alder"))
	p = day.Propose(nil, setups, crew, "")
	if p.Spec.Station != "Alder" || p.Spec.RO != "Gannet" || !slices.Equal(p.Spec.Targets, []string{"Weir"}) {
		t.Errorf("after Gannet: %+v", p)
	}
	setups = append(setups, summary(4, "lifted", "Alder", "Gannet", "Weir"))
	if p = day.Propose(nil, setups, crew, ""); p.Spec.Station != "" || p.From != "" {
		t.Errorf("the ring is closed, and %+v is proposed", p)
	}
}

// The plan goes before: today's first station that is not begun, what it says of
// distances, and what is done of it.
func TestPropose_ThePlan(t *testing.T) {
	plan := []event.PlannedStation{
		{Station: "Weir", RO: "Spire", Targets: []string{"Gannet"}, Day: "2026-05-04"},
		{Station: "Gannet", RO: "Weir", Targets: []string{"Alder"}, Rounds: 4, Distances: true, NoDistance: []string{"Weir"}, Day: "2026-05-05"},
		{Station: "Weir", RO: "Gannet", Targets: []string{"Alder"}, Day: "2026-05-04"},
	}
	crew := spec.Spec{Rounds: 2, Booker: "Tam Okoro"}
	setups := []day.Summary{summary(1, "lifted", "Weir", "Spire", "Gannet")}
	if p := day.Propose(plan, setups, crew, "2026-05-04"); p.Spec.RO != "Gannet" || p.Spec.Station != "Weir" || p.Spec.Rounds != 2 {
		t.Errorf("today: %+v", p)
	}
	p := day.Propose(plan, setups, crew, "2026-05-05")
	if p.Spec.Station != "Gannet" || p.Spec.Rounds != 4 || !p.Spec.Distances || p.Spec.NoDistance[0] != "Weir" || p.From != "the plan" {
		t.Errorf("tomorrow: %+v", p)
	}
	lines := day.Follow(plan, append(setups, summary(2, "struck", "Gannet", "Weir"), summary(3, "open", "Weir", "Gannet")))
	if !lines[0].Done() || lines[1].Setup != 0 || lines[2].Setup != 3 || lines[2].Done() {
		t.Errorf("%+v", lines)
	}
}
