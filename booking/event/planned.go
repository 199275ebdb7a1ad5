package event

import (
	"example.org/readback/booking/spec"
	"fmt"
	"strings"
)

// A PlannedStation is one setup as the office planned it. The plan proposes and
// never binds.
type PlannedStation struct {
	Station string      `json:"station"`
	RO      string      `json:"ro"`
	Targets []string    `json:"targets"`
	Rounds  int         `json:"rounds,omitempty"` // 0: as at the last setup
	Order   *spec.Order `json:"order,omitempty"`  // nil: as at the last setup
	// Repetitions of the angle, where the order is by repetition.
	Repetitions int      `json:"repetitions,omitempty"`
	MoreROs     []string `json:"more_ros,omitempty"`
	Verticals   bool     `json:"verticals,omitempty"`
	Distances   bool     `json:"distances,omitempty"`
	NoVertical  []string `json:"no_vertical,omitempty"`
	NoDistance  []string `json:"no_distance,omitempty"`
	Day         string   `json:"day,omitempty"` // 2026-05-04; empty: any
}

// Words says the setup: "Weir, RO Spire, to Alder, Mast".
func (p PlannedStation) Words() string {
	return fmt.Sprintf("%s, RO %s, to %s", p.Station, strings.Join(append([]string{p.RO}, p.MoreROs...), "; "), strings.Join(p.Targets, ", "))
}

// PlanLoaded records the office's plan; it takes the place of the one before.
type PlanLoaded struct {
	File     string           `json:"file,omitempty"`
	Stations []PlannedStation `json:"stations"`
	By       string           `json:"by,omitempty"`
}

// kind returns kindPlanLoaded.
func (PlanLoaded) kind() Kind { return kindPlanLoaded }
