package check

import (
	"testing"

	"example.org/readback/booking/check/slip"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/faces"
)

// What can go wrong with one vertical pair of four (the kinds are common practice,
// no source): the target is named, the face and the kind as far as can be told.
func TestSuspects_VerticalKinds(t *testing.T) {
	sound := [2][4]string{
		{"92 34 35", "88 10 20", "85 00 10", "91 20 15"},
		{"268 39 40", "275 00 00", "271 49 45", "267 25 30"},
	}
	for _, c := range []struct {
		name   string
		fl, fr string // of Spire, booked first on face left and last on face right
		face   faces.Face
		kind   slip.Kind
	}{
		{"sound", "92 34 35", "267 25 30", faces.NoFace, slip.Unknown},
		{"the other half of the circle", "272 34 35", "267 25 30", faces.FL, slip.FaceNotChanged},
		{"read on the other face", "92 34 35", "92 34 40", faces.FR, slip.FaceNotChanged},
		{"another target", "88 10 20", "267 25 30", faces.FL, slip.WrongTarget},
		{"booked under each other's face", "267 25 30", "92 34 35", faces.NoFace, slip.FaceNotChanged},
		{"fifty seconds: some digit makes them on either face", "92 33 45", "267 25 30", faces.NoFace, slip.Unknown},
	} {
		spec := testSpec()
		spec.Verticals = true
		b := newBench(t, spec)
		b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
		b.keys("90 05 10", "135 10 25", "210 30 00", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15")
		fl, fr := sound[0], sound[1]
		fl[0], fr[3] = c.fl, c.fr
		b.keys(fl[:]...)
		b.keys(fr[:]...)
		list := Suspects(b.s)
		if c.name == "sound" {
			if len(list) != 0 {
				t.Errorf("sound: %+v", list)
			}
			continue
		}
		if len(list) != 1 || !list[0].Upright || list[0].Target != "Spire" || list[0].Face != c.face {
			t.Errorf("%s: %+v", c.name, list)
			continue
		}
		if c.kind != slip.Unknown && list[0].Kind != c.kind {
			t.Errorf("%s: %+v", c.name, list[0])
		}
		t.Log(c.name, list[0].Kind, list[0].Text)
	}
}

// Index errors that exceed a limit of the contract, and are no further apart than σ 2″
// makes them, hold the tripod and accuse nobody: the remedy names the pair whose index
// error lies furthest off. Of 0″, 2.5″, 0″ and 5″ that is the last: 4.2″ off the mean of
// the others, and z(1 − 0.004/4) · √(4/3) · s = 3.29 · 1.155 · 2.25″ = 8.5″ would be needed.
func TestIndex_RemedyNamesThePair(t *testing.T) {
	agreed := testSpec()
	agreed.Verticals = true
	agreed.Limits.Index = spec.Limit{Value: 3 * reduce.Arcsecond, From: spec.SetByCrew}
	b := newBench(t, agreed)
	b.keys("0 05 10", "45 10 20", "120 30 00", "250 00 45", "70 00 50", "300 30 10", "225 10 25", "180 05 15")
	b.keys("90 05 10", "135 10 25", "210 30 00", "340 00 40", "160 00 50", "30 30 05", "315 10 30", "270 05 15")
	b.keys("92 34 35", "88 10 20", "85 00 10", "91 20 15", "268 39 55", "274 59 50", "271 49 45", "267 25 25")
	v := Judge(b.s)
	if v.Lift || len(v.Culprits.Suspects) > 0 {
		t.Errorf("lift %v, suspects %+v", v.Lift, v.Culprits.Suspects)
	}
	for _, c := range v.Checks {
		if c.Name == "index" && (c.Met || c.Text != "The spread of the index error over the setup is 5″, limit 3″." || c.Again != "read the vertical circle on Mast again, on both faces") {
			t.Errorf("%+v", c)
		}
	}
}
