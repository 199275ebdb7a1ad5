package reduce

import (
	"fmt"
	"math"
)

// A Unit is the notation an instrument's circle is read in.
type Unit uint8

// The units of a circle. The numbers are stored: they never change meaning.
const (
	DMS        Unit = 1 // degrees, minutes, seconds: 360 to the circle
	GonUnit    Unit = 2 // decimal gon: 400 to the circle
	DegreeUnit Unit = 3 // decimal degrees: 360 to the circle
	MilUnit    Unit = 4 // mils: 6400 to the circle, 202.5″ each
)

// A notation is what differs from one unit of the circle to the next.
type notation struct {
	word, name string // in the readings file; in a sentence
	whole      Angle  // what stands before the point or before the minutes
	wholeName  string // in a sentence
	digits     int    // of the largest whole number of the circle
	mark       string // behind a decimal reading; degrees, minutes and seconds bring their own
	most       int    // decimals of the reading that an Angle holds
	example    string // one reading
	small      Angle  // what small angles are said in
	smallName  string // in the head of a column
	smallMark  string // behind a figure
	smallWords string // in a sentence
	fine       int    // decimals of a small reading difference
	finer      int    // decimals of a small worked angle beyond those of seconds
	fineStep   Angle  // what readings are told in where an instrument says nothing
	usualStep  Angle  // least count of a usual instrument
}

// of returns how u is written; what is no unit is written as DMS.
func of(u Unit) notation {
	switch u {
	case GonUnit:
		return notation{"gon", "gon", Gon, "gon", 3, " gon", 7, "123.4567", Milligon, "mgon", " mgon", "milligon", 1, 1, Milligon / 10, 5 * Milligon}
	case DegreeUnit:
		return notation{"deg", "decimal degrees", Degree, "degrees", 3, "°", 8, "123.4567", Degree, "°", "°", "degrees", 4, 4, Degree / 10_000, Degree / 1000}
	case MilUnit:
		return notation{"mil", "mils", Mil, "mils", 4, " mil", 5, "1234.5", Mil, "mil", " mil", "mils", 3, 3, Mil / 100, Mil / 10}
	}
	return notation{"dms", "degrees, minutes, seconds", Degree, "degrees", 3, "", 6, "123 45 06", Arcsecond, "″", "″", "seconds", 1, 0, Arcsecond, 5 * Arcsecond}
}

// Units returns every unit of a circle, degrees, minutes and seconds first.
func Units() []Unit { return []Unit{DMS, GonUnit, DegreeUnit, MilUnit} }

// Known tells whether u is a unit of a circle.
func (u Unit) Known() bool { return u >= DMS && u <= MilUnit }

// String returns "dms", "gon", "deg" or "mil", the words of the readings file.
func (u Unit) String() string {
	if !u.Known() {
		return fmt.Sprintf("unit %d", uint8(u))
	}
	return of(u).word
}

// UnitOf returns the unit that a word of the readings file names.
func UnitOf(word string) (Unit, bool) {
	for _, u := range Units() {
		if u.String() == word {
			return u, true
		}
	}
	return 0, false
}

// Name returns the unit in words: "degrees, minutes, seconds", "gon", "decimal
// degrees", "mils".
func (u Unit) Name() string { return of(u).name }

// Decimal tells whether a reading is one plain decimal.
func (u Unit) Decimal() bool { return u != DMS && u.Known() }

// Whole returns what the figures before the point, or before the minutes, count: a
// degree, a gon, a mil.
func (u Unit) Whole() Angle { return of(u).whole }

// WholeName names Whole in a sentence: "degrees", "gon", "mils".
func (u Unit) WholeName() string { return of(u).wholeName }

// Digits returns how many figures the largest whole number of the circle has: 3, of
// mils 4.
func (u Unit) Digits() int { return of(u).digits }

// Small returns what small angles are said and keyed in: a second, a milligon, a
// degree, a mil.
func (u Unit) Small() Angle { return of(u).small }

// SmallName names Small in a sentence: "seconds", "milligon", "degrees", "mils".
func (u Unit) SmallName() string { return of(u).smallWords }

// FineStep is the least step that readings are told in where an instrument says none:
// a second, 0.1 mgon, 0.0001°, 0.01 mil.
func (u Unit) FineStep() Angle { return of(u).fineStep }

// UsualStep is the least count of a usual instrument: 5″, 5 mgon, 0.001°, 0.1 mil.
func (u Unit) UsualStep() Angle { return of(u).usualStep }

// Mark is what stands behind a decimal reading: " gon", "°", " mil"; nothing behind
// degrees, minutes and seconds, which bring their own.
func (u Unit) Mark() string { return of(u).mark }

// Example is one reading as it is written.
func (u Unit) Example() string { return of(u).example }

// MostPlaces is how many decimals of a reading an Angle holds: 6 of the second, 7 of
// the gon, 8 of the degree, 5 of the mil.
func MostPlaces(u Unit) int { return of(u).most }

// Places returns how many decimals a reading with the given least count has:
// decimals of the second for DMS, of the gon, the degree or the mil for the others.
func Places(u Unit, leastCount Angle) int {
	step := Arcsecond
	if u.Decimal() {
		step = u.Whole()
	}
	most := of(u).most
	for n := range most {
		if leastCount <= 0 || leastCount%step == 0 || step%10 != 0 {
			return n
		}
		step /= 10
	}
	return most
}

// AssumedNoise returns the standard deviation of one reading on one face, in
// seconds, taken for an instrument that states none: 0.4 of the least count, never
// under 2″ (assumed, no source: how finely a circle reads says little of how
// closely it is sighted).
func AssumedNoise(leastCount Angle) float64 {
	return math.Max(2, 0.4*leastCount.Seconds())
}
