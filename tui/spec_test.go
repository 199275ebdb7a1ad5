package tui

import (
	"fmt"
	"strings"
	"testing"

	"example.org/readback/booking/spec"
)

// The form opens exactly what a setup keyed live may be: for each answer at a
// border, the form's own judgement and the one of Spec.Validate are the same,
// and they are what is written here.
func TestForm_TakesWhatASpecMayBe(t *testing.T) {
	names := func(n int) string {
		var list []string
		for i := range n {
			list = append(list, fmt.Sprintf("T%d", i+1))
		}
		return strings.Join(list, ", ")
	}
	for _, c := range []struct {
		field int
		text  string
		may   bool
	}{
		{fStation, "Weir", true}, {fStation, "", false}, {fStation, "  ", false}, {fStation, "Spire", false}, {fStation, "Alder", false},
		{fRO, "", false}, {fRO, "Alder", false}, {fRO, "alder", true},
		{fTargets, "", false}, {fTargets, " , ", false}, {fTargets, "Alder, Alder", false}, {fTargets, "Alder, Spire", false},
		{fTargets, "Alder, Weir", false}, {fTargets, "Alder  East, Alder East", false},
		{fTargets, names(spec.MaxTargets), true}, {fTargets, names(spec.MaxTargets + 1), false},
		{fObserver, "", true}, {fBooker, " ", true}, {fInstrument, "", true}, {fSerial, "", true}, {fWeather, "", true},
		{fRounds, "0", false}, {fRounds, "1", false}, {fRounds, "2", true}, {fRounds, "24", true}, {fRounds, "25", false}, {fRounds, "-2", false},
		{fLeastCount, "0", false}, {fLeastCount, "0.1", true}, {fLeastCount, "3600", true}, {fLeastCount, "3601", false},
		{fSigma, "", true}, {fSigma, "0.5", true}, {fSigma, "3600", true}, {fSigma, "3601", false},
		{fRefraction, "4.99", true}, {fRefraction, "5", false}, {fRefraction, "-4.99", true}, {fRefraction, "-5", false}, {fRefraction, "NaN", false},
		{fDistanceSD, "1000", true}, {fDistanceSD, "1001", false}, {fDistancePPM, "1000", true}, {fDistancePPM, "1001", false}, {fDistancePPM, "NaN", false},
		{fLimitRounds, "0", false}, {fLimitRO, "3600", true}, {fLimitTwoC, "3601", false}, {fLimitIndex, "0", false}, {fLimitFigure, "0", false},
	} {
		s := &setupScreen{form: newForm(spec.FirstSpec())}
		for i, text := range map[int]string{fStation: "Weir", fRO: "Spire", fTargets: "Alder, Mast", fObserver: "Ines Holm", fBooker: "Tam Okoro", fInstrument: "T-5"} {
			s.form.Fields[i].Text.Set(text)
		}
		s.form.Fields[c.field].Text.Set(c.text)
		short := c.text[:min(30, len(c.text))]
		spec, _, bad := s.spec()
		err := spec.Validate()
		if form := bad < 0; form != c.may || (err == nil) != c.may {
			t.Errorf("%s %q: the form takes it: %v; Validate says %v; wanted: %v", s.form.Fields[c.field].Label, short, form, err, c.may)
		}
	}
}
