package slip

// A Kind is one of the ways a reading goes wrong. Its text is stable: it stands
// in sheets and in JSON.
type Kind string

// The closed list of kinds.
const (
	Unknown          Kind = ""                              // fits nothing known
	WrongTarget      Kind = "wrong target"                  // the reading another target would give
	FaceNotChanged   Kind = "face not changed"              // half a turn off; a vertical reading of the other face
	OtherCircle      Kind = "other circle read"             // the vertical circle for the horizontal, or the other way round
	CircleNotSet     Kind = "circle not set"                // the first pointing reads as in an earlier round
	Anticlockwise    Kind = "circle counts anticlockwise"   // the angle from the RO with the wrong sign
	WholeDegree      Kind = "whole degree"                  // one degree (one gon) out
	TenMinutes       Kind = "ten minutes"                   // ten minutes (0.1 gon) out
	OneMinute        Kind = "one minute"                    // one minute (0.01 gon) out
	PartsExchanged   Kind = "minutes and seconds exchanged" // each called or keyed in the other's place
	DigitsExchanged  Kind = "digits exchanged"              // two digits of neighbouring places, or with one between them
	DigitDoubled     Kind = "digit doubled"                 // one key twice
	DigitDropped     Kind = "digit dropped"                 // one digit left out
	DigitAdded       Kind = "digit added"                   // one digit too many
	TwinMisread      Kind = "two like digits misread"       // a double digit for another: 44 for 55, 4x4 for 5x5
	DigitMisread     Kind = "one digit misread"             // any one digit for another, look-alikes included
	NeighbouringKey  Kind = "neighbouring key"              // one digit for the one beside it on the keypad
	Misheard         Kind = "misheard number"               // teens for tens: fifteen, fifty
	PercentDisplay   Kind = "percent display"               // a gradient read as an angle
	MovedAfter       Kind = "everything after it turned"    // circle or tripod moved between two pointings
	Drift            Kind = "turning slowly"                // circle or tripod turned evenly from pointing to pointing
	DirectionDiffers Kind = "both faces agree"              // the pair lies off as a whole: another point was sighted
)

// A Part is the part of the reading in which the slip shows.
type Part string

// The parts. On a gon circle minutes are the first two decimals (centesimal
// minutes) and seconds the decimals behind them.
const (
	NoPart  Part = ""
	Degrees Part = "degrees"
	Minutes Part = "minutes"
	Seconds Part = "seconds"

	// Two digits exchanged over a border stand in both parts.
	DegreesMinutes Part = "degrees and minutes"
	MinutesSeconds Part = "minutes and seconds"
)

// A Rate is the share a kind has in all slips, and where the figure comes from.
type Rate struct {
	Kind   Kind
	Share  float64
	Source string
}

// The sources of the rates.
const (
	// Published: J. Verhoeff, "Error Detecting Decimal Codes", Mathematical
	// Centre Tract 29, 1969, as tabulated by N. R. Wagner, 2002: single digit
	// 60–95 %, neighbours exchanged 10–20 %, left out or added 10–20 %, twin
	// 0.5–1.5 %, jump exchange 0.5–1.5 %, jump twin under 1 %, phonetic
	// 0.5–1.5 %. The figures taken lie at the low ends, because a fifth of the
	// whole is set aside for what has nothing to do with digits.
	published = "Verhoeff 1969"
	// Assumed: no published rate known.
	assumed = "assumed"
)

// Rates returns the share of every kind the search weighs; together they make 1.
func Rates() []Rate {
	return []Rate{
		{DigitMisread, shareDigit + shareLookAlike, published},
		{NeighbouringKey, shareKey, published + "; its part of the single digits " + assumed},
		{DigitsExchanged, shareExchange + shareJump, published},
		{DigitDropped, shareDropped, published + "; split of left out and added " + assumed},
		{DigitDoubled, shareDoubled, published + "; split of left out and added " + assumed},
		{DigitAdded, shareAdded, published + "; split of left out and added " + assumed},
		{TwinMisread, shareTwin + shareJumpTwin, published},
		{Misheard, shareMisheard, published},
		{WrongTarget, shareTarget, assumed},
		{FaceNotChanged, shareFace, assumed},
		{CircleNotSet, shareCircle, assumed},
		{Anticlockwise, shareAnti, assumed},
		{WholeDegree, shareDegree, assumed},
		{OtherCircle, shareCircles, assumed},
		{TenMinutes, shareTen, assumed},
		{OneMinute, shareMinute, assumed},
		{PartsExchanged, shareParts, assumed},
		{PercentDisplay, sharePercent, assumed},
		{Unknown, shareUnknown, assumed},
	}
}

const (
	shareDigit     = 0.50
	shareLookAlike = 0.05
	shareKey       = 0.05
	shareExchange  = 0.10
	shareJump      = 0.007
	shareDropped   = 0.05
	shareDoubled   = 0.03
	shareAdded     = 0.02
	shareTwin      = 0.006
	shareJumpTwin  = 0.002
	shareMisheard  = 0.005
	shareTarget    = 0.04
	shareFace      = 0.03
	shareCircles   = 0.005
	shareCircle    = 0.015
	shareAnti      = 0.005
	shareDegree    = 0.015
	shareTen       = 0.015
	shareMinute    = 0.015
	shareParts     = 0.005
	sharePercent   = 0.005
	shareUnknown   = 0.03
)
