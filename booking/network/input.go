package network

import (
	"example.org/readback/booking/day"
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/places"
)

// Input is everything a report is made from.
type Input struct {
	Setups   []day.Summary        // of the book, in order of their numbers
	Known    []event.KnownStation // stations with coordinates, may be empty
	Bearings []KnownBearing       // bearings known without coordinates, may be empty
	Centres  []event.CentreNoted  // instruments and targets that stood beside their marks
	Levels   []event.LevelledRise // levelled differences of height
	Settings Settings
	Stop     func() bool // asked while the network is adjusted: true ends it, and the report is of no use; nil: never
}

// A KnownBearing is a bearing that is known beforehand.
type KnownBearing = event.KnownBearing

// Settings are the limits of figures and the standard deviations of what has
// none of its own. The limit of the angles is not here: it is k·√n with k the
// largest figure limit of the setups that take part.
type Settings struct {
	LeastRatio     float64 // linear misclosure: at most 1 in this
	LeastRatioFrom string
	LengthSD       float64 // metres: constant part of the standard deviation of one distance
	LengthPPM      float64 // part that grows with the distance, millionths
	Centring       float64 // metres: standard deviation of an instrument or a target over its mark

	// Distance there and back: at most Constant + PPM·L apart.
	DistanceConstant float64 // metres
	DistancePPM      float64
	DistanceFrom     string

	// Height there and back: at most PerRootKm·√K apart, never under Least.
	HeightPerRootKm float64 // metres
	HeightLeast     float64 // metres
	HeightFrom      string

	// Heights round a ring or along a link: at most RingPerRootKm·√ΣK, never under
	// HeightLeast.
	RingPerRootKm float64 // metres

	// The adjustment of everything together. Directions are weighted by the σ that is
	// stated for the instrument; AngleSD replaces it where it is set.
	AngleSD    reduce.Angle  // of one direction, both faces, one round; 0: as stated, else from the rounds
	KnownSD    float64       // metres: of a known coordinate; 0: known points are held
	PlaceSD    float64       // metres: of one known station against another, where a sight is judged by coordinates while it is keyed
	BearingSD  reduce.Angle  // of a known bearing
	GridScale  float64       // of the projection on its middle meridian; 0: distances are not brought to a grid
	GridEast   float64       // metres: easting of that meridian
	Zero       reduce.Angle  // bearings are printed as counted from here: 0 north, 180° south
	Quadrants  bool          // bearings are printed within their quadrant, whatever Zero is
	AltitudeSD reduce.Angle  // of an altitude, where no σ is stated
	HeightSD   float64       // metres: of an instrument or target height, where no σ is stated
	Limits     places.Limits // risks of the tests

	Lengths spec.Lengths // plausible heights and lengths, of the setups that are opened

	// Steps of a computation by hand; zero: unrounded. See reduce/traverse.Settings.
	AngleStep  reduce.Angle
	LengthStep float64 // metres
}

// noSource is printed beside a default that no published source stands behind.
const noSource = "common practice, no source"

// DefaultSettings returns the limits used unless others are set.
func DefaultSettings() Settings {
	return Settings{
		LeastRatio: 5000, LeastRatioFrom: "WAC 332-130-090",
		LengthSD: 0.003, LengthPPM: 2, Centring: 0.002,
		DistanceConstant: 0.010, DistancePPM: 10, DistanceFrom: noSource,
		KnownSD: 0.010, PlaceSD: 0.020, BearingSD: 5 * reduce.Arcsecond, AltitudeSD: 5 * reduce.Arcsecond, HeightSD: 0.002, Limits: places.DefaultLimits(),
		HeightPerRootKm: 0.040, HeightLeast: 0.010, RingPerRootKm: 0.020, HeightFrom: "GB 50026-2007, fourth order",
		Lengths: spec.DefaultLengths(),
	}
}
