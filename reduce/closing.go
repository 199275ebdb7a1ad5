package reduce

// A ClosingRule says what becomes of the RO's second sight in a round.
type ClosingRule uint8

// The closing rules. The numbers are stored: they never change meaning.
const (
	ClosingMean   ClosingRule = 1 // the RO's direction is the mean of its opening and closing means and counts once (F16, F21)
	ClosingSpread ClosingRule = 2 // the closing error is spread linearly over the round (S5)
)
