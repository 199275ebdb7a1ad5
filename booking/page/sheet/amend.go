package sheet

import (
	"fmt"
	"strings"
)

// amendSection lists what was put right in the agreement of the setup, and what
// it was before.
func (w *writer) amendSection() []section {
	var ss []string
	for _, a := range w.setup.Amended {
		text := fmt.Sprintf("%s%s by %s: %s", w.clock(a.At), lateWords(a.AfterLift), visible(a.By), visible(strings.Join(a.Changes(), "; ")))
		if a.Reason != "" {
			text += ". Reason: " + visible(a.Reason)
		}
		ss = append(ss, sentence(text))
	}
	if v := w.setup.Void; v != nil {
		ss = append(ss, sentence(fmt.Sprintf("%s, the setup is struck whole by %s: %s", w.clock(v.At), visible(v.By), visible(v.Reason))))
	}
	if len(ss) == 0 {
		return nil
	}
	return []section{{Title: "Amended", Lead: ss}}
}

// lateWords mark what was done after the lift.
func lateWords(afterLift bool) string {
	if afterLift {
		return ", after the lift,"
	}
	return ""
}
