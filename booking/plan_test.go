package booking_test

import (
	"slices"
	"testing"

	"example.org/readback/booking"
)

func TestNear_PointsAtTheKnownName(t *testing.T) {
	known := []string{"Gannet", "Weir", "Alder", "Spire", "P 12", "Mast"}
	for name, want := range map[string]string{
		"Ganet": "Gannet", "gannet": "Gannet", "Gannte": "Gannet", "Gannett": "Gannet", "GANNET": "Gannet", "Spier": "Spire", "weir": "Weir",
		"Gannet": "", "P 13": "", "P 2": "", "Quarry": "", "Must": "Mast", "Elder": "Alder", "Wear": "Weir", "Wier": "Weir", "Mat": "", "": "",
	} {
		got, ok := booking.Near(name, known)
		if got != want || ok != (want != "") {
			t.Errorf("%q: %q %v, want %q", name, got, ok, want)
		}
	}
}

func summary(number int, state, station, ro string, targets ...string) booking.Summary {
	return booking.Summary{Setup: number, State: state, Station: station, RO: ro, Targets: targets}
}

// Carried round a ring, each setup is proposed as the foresight of the last, and
// a station that was occupied before is sighted as then.
func TestPropose_TheForesightOfTheLast(t *testing.T) {
	crew := booking.Spec{Observer: "Ines Holm", Rounds: 3, Station: "Weir", RO: "Spire", Targets: []string{"Alder"}, Weather: "rain"}
	setups := []booking.Summary{summary(1, "lifted", "Weir", "Spire", "Gannet", "Alder")}
	setups[0].Sights = []booking.SightLine{{Target: "Gannet", Horizontal: 120}, {Target: "Alder"}}
	p := booking.Propose(nil, setups, crew, "")
	if p.Spec.Station != "Gannet" || p.Spec.RO != "Weir" || len(p.Spec.Targets) != 0 || p.Spec.Observer != "Ines Holm" || p.Spec.Rounds != 3 || p.Spec.Weather != "" {
		t.Errorf("after Weir: %+v", p)
	}
	setups = append(setups, summary(2, "struck", "Gannett", "Weir", "Alder"), summary(3, "lifted", "Gannet", "Weir", "Alder"))
	p = booking.Propose(nil, setups, crew, "")
	if p.Spec.Station != "Alder" || p.Spec.RO != "Gannet" || !slices.Equal(p.Spec.Targets, []string{"Weir"}) {
		t.Errorf("after Gannet: %+v", p)
	}
	setups = append(setups, summary(4, "lifted", "Alder", "Gannet", "Weir"))
	if p = booking.Propose(nil, setups, crew, ""); p.Spec.Station != "" || p.From != "" {
		t.Errorf("the ring is closed, and %+v is proposed", p)
	}
}

// The plan goes before: today's first station that is not begun, what it says of
// distances, and what is done of it.
func TestPropose_ThePlan(t *testing.T) {
	plan := []booking.PlannedStation{
		{Station: "Weir", RO: "Spire", Targets: []string{"Gannet"}, Day: "2026-05-04"},
		{Station: "Gannet", RO: "Weir", Targets: []string{"Alder"}, Rounds: 4, Distances: true, NoDistance: []string{"Weir"}, Day: "2026-05-05"},
		{Station: "Weir", RO: "Gannet", Targets: []string{"Alder"}, Day: "2026-05-04"},
	}
	crew := booking.Spec{Rounds: 2, Booker: "Tam Okoro"}
	setups := []booking.Summary{summary(1, "lifted", "Weir", "Spire", "Gannet")}
	if p := booking.Propose(plan, setups, crew, "2026-05-04"); p.Spec.RO != "Gannet" || p.Spec.Station != "Weir" || p.Spec.Rounds != 2 {
		t.Errorf("today: %+v", p)
	}
	p := booking.Propose(plan, setups, crew, "2026-05-05")
	if p.Spec.Station != "Gannet" || p.Spec.Rounds != 4 || !p.Spec.Distances || p.Spec.NoDistance[0] != "Weir" || p.From != "the plan" {
		t.Errorf("tomorrow: %+v", p)
	}
	lines := booking.Follow(plan, append(setups, summary(2, "struck", "Gannet", "Weir"), summary(3, "open", "Weir", "Gannet")))
	if !lines[0].Done() || lines[1].Setup != 0 || lines[2].Setup != 3 || lines[2].Done() {
		t.Errorf("%+v", lines)
	}
}
