package field

// A Name is the part of a spec that a fault is about. The words are stable.
type Name string

// The fields that can be at fault, in the order of the form.
const (
	Station      Name = "station"
	RO           Name = "ro"
	Targets      Name = "targets"
	NoVertical   Name = "no vertical circle"
	NoDistance   Name = "no distance"
	Observer     Name = "observer"
	Booker       Name = "booker"
	Instrument   Name = "instrument"
	Unit         Name = "unit"
	LeastCount   Name = "least count"
	Sigma        Name = "sigma"
	SigmaUpright Name = "sigma of verticals"
	Rounds       Name = "rounds"
	Order        Name = "order"
	MoreROs      Name = "further reference objects"
	Plan         Name = "plan"
	Circle       Name = "circle"
	DistanceSD   Name = "distance sd"
	DistancePPM  Name = "distance ppm"
	LimitRounds  Name = "limit of rounds"
	LimitClosing Name = "limit of RO misclosure"
	LimitTwoC    Name = "limit of 2c"
	LimitIndex   Name = "limit of index error"
	LimitFigure  Name = "limit of figure"
	Refraction   Name = "refraction"
	Air          Name = "air"
	Carrier      Name = "wave"
	PPMSet       Name = "ppm set"
	Prism        Name = "prism constant"
	SeaLevel     Name = "sea level"
	Scale        Name = "scale factor"

	InstrumentRange Name = "plausible instrument heights"
	DistanceRange   Name = "plausible distances"
)

// A Fault is one thing that is missing from a spec or contradicts itself.
type Fault struct {
	Field Name
	Text  string // what is wrong and what is expected; no full stop
}
