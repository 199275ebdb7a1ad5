package booking

import "time"

// ObservedAt returns when a reading of the setup was observed: when it was keyed,
// or, keyed afterwards, the time given beside it. ok is false where only the time
// of keying is known.
func (s Setup) ObservedAt(r Reading) (at time.Time, ok bool) {
	if t, err := time.Parse(time.RFC3339, r.ReadAt); err == nil {
		return t, true
	}
	return r.At, s.Spec.KeyedAfterwards == nil && !r.At.IsZero()
}

// Observed returns when the first and the last reading of the setup were
// observed, struck ones too. ok is false where no time of observing is known.
func (s Setup) Observed() (from, to time.Time, ok bool) {
	for _, r := range s.Readings {
		at, known := s.ObservedAt(r)
		if !known {
			continue
		}
		if !ok || at.Before(from) {
			from = at
		}
		if !ok || at.After(to) {
			to = at
		}
		ok = true
	}
	return from, to, ok
}
