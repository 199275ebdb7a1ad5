package booking

// A Field names the part of a Spec that a fault is about. The words are stable.
type Field string

// The fields that can be at fault, in the order of the form.
const (
	FieldStation      Field = "station"
	FieldRO           Field = "ro"
	FieldTargets      Field = "targets"
	FieldNoVertical   Field = "no vertical circle"
	FieldNoDistance   Field = "no distance"
	FieldObserver     Field = "observer"
	FieldBooker       Field = "booker"
	FieldInstrument   Field = "instrument"
	FieldUnit         Field = "unit"
	FieldLeastCount   Field = "least count"
	FieldSigma        Field = "sigma"
	FieldSigmaUpright Field = "sigma of verticals"
	FieldRounds       Field = "rounds"
	FieldOrder        Field = "order"
	FieldMoreROs      Field = "further reference objects"
	FieldPlan         Field = "plan"
	FieldCircle       Field = "circle"
	FieldDistanceSD   Field = "distance sd"
	FieldDistancePPM  Field = "distance ppm"
	FieldLimitRounds  Field = "limit of rounds"
	FieldLimitClosing Field = "limit of RO misclosure"
	FieldLimitTwoC    Field = "limit of 2c"
	FieldLimitIndex   Field = "limit of index error"
	FieldLimitFigure  Field = "limit of figure"
	FieldRefraction   Field = "refraction"
	FieldAir          Field = "air"
	FieldCarrier      Field = "wave"
	FieldPPMSet       Field = "ppm set"
	FieldPrism        Field = "prism constant"
	FieldSeaLevel     Field = "sea level"
	FieldScale        Field = "scale factor"
)

// A FieldFault is one thing that is missing from a Spec or contradicts itself.
type FieldFault struct {
	Field Field
	Text  string // what is wrong and what is expected; no full stop
}
