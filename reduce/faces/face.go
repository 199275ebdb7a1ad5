// Package faces holds the two faces of a telescope and what is made of them: the mean and 2c
// of a pair, altitude and index error from either vertical circle, a round reduced to its
// reference object.
package faces

// A Face is the position of the telescope.
type Face uint8

// The faces. The numbers are stored: they never change meaning.
const (
	NoFace Face = 0 // distances and heights have none; or it cannot be told
	FL     Face = 1 // face left
	FR     Face = 2 // face right
)

// String returns "FL", "FR" or "".
func (f Face) String() string {
	switch f {
	case FL:
		return "FL"
	case FR:
		return "FR"
	}
	return ""
}

// Words returns "face left", "face right" or "".
func (f Face) Words() string {
	switch f {
	case FL:
		return "face left"
	case FR:
		return "face right"
	}
	return ""
}

// Other returns the other face.
func (f Face) Other() Face {
	switch f {
	case FL:
		return FR
	case FR:
		return FL
	}
	return f
}
