// Package spec is what is agreed before the first sight: who observes, with which
// instrument, to which targets, in which order, and by which limits the readings are
// judged. The places of the page follow from it: a Slot is one of them.
//
// What is missing from a Spec, or contradicts itself, Validate says and nothing else.
package spec
