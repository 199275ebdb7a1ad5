package culprit

import (
	"fmt"

	"example.org/readback/booking/check/slip"
)

// A Remedy is the cheapest set of readings that settles which reading is wrong.
type Remedy struct {
	Round  int    // the round the readings belong to; 0: a new round
	Target string // the pointing to observe again on both faces; empty: a whole round
	Text   string // one sentence: what to observe; empty where nothing is called for
}

// remedy calls for one pair in the latest round, whose circle still stands, or
// for a whole round. A single face is not observed again by itself: the pair is
// (J. Mahun, Total Station Instruments, ch. D: when one half of a pair is a
// mistake the entire set is rejected and observed anew).
func remedy(latest int, list []Suspect) Remedy {
	if len(list) == 0 {
		return Remedy{}
	}
	if list[0].Kind == slip.Drift {
		return Remedy{Text: "Let tripod and instrument settle, look at the foot screws and the circle clamp, and observe one more whole round."}
	}
	if len(list) == 1 || list[0].Alike {
		for _, s := range list {
			if s.Target == list[0].Target && onPair(s, latest) {
				return Remedy{
					Round: latest, Target: s.Target,
					Text: fmt.Sprintf("Observe %s again in round %d, on both faces.", s.Target, latest),
				}
			}
		}
	}
	return Remedy{Text: "Observe one more whole round at the next circle setting."}
}

// onPair tells whether a pair in the latest round settles a suspect.
func onPair(s Suspect, latest int) bool {
	return s.Target != "" && (s.Round == latest || s.Round == 0) && s.Kind != "everything after it turned"
}
