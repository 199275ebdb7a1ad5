// Package check is what is held against a setup: the checks at the door (Read),
// what is expected of the next reading (Expectation), whether the tripod may be
// lifted (Verdict), which reading is at fault (Suspects), and what the rounds
// could reveal (Precision). It judges what package booking says has happened and
// changes nothing.
//
// Below it stand five rooms that know no setup: completion (what text may still
// become), slip (which slip explains a difference), align (the rough lie of a
// station), forecast (what fits the next reading), culprit (which reading is at
// fault).
package check
