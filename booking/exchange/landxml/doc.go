// Package landxml writes setups as LandXML 1.2, the open schema of survey data.
//
// What stands where:
//
//   - one Survey for each instrument and observer, dated by when it was observed,
//     one InstrumentSetup for each setup;
//   - one ObservationGroup for each round, because a group's observations share
//     one circle orientation; its Backsight holds the circle to the RO;
//   - one RawObservation for each booked reading, with its face (directFace is
//     true on face left), time, and event number. A struck reading is kept with
//     unused="true" and status="deleted" and a note; a reading of a round that is
//     left out is unused;
//   - one group "verticals" with the vertical circle readings; the first of a
//     target that stands carries the slope distance, all carry the target height; a
//     repeated measurement is an observation of its own, and a note of the setup says
//     how far the values lie apart against which limit;
//   - what was amended in a setup, and why, as a note of it;
//   - one group of ReducedObservations: directions from the RO, which has 0, with
//     the standard deviation of the angle, zenith angles, horizontal distances and
//     rises;
//   - every name as a CgPoint, with coordinates where a figure that closes has them,
//     local ones too, and a note in which system they are.
//
// The schema takes horizAngle for an angle with a direction of its own. A circle
// reading is clockwise from an arbitrary zero; it is written as read, a note says
// so, and no azimuth is given. The schema demands an instrument height: where none
// was measured 0 is written and a note says so.
//
// Angles are formatted from whole micro-arcseconds: in "decimal dd.mm.ss" they are
// exact; in "grads", used when every circle of the file is divided in gon (mils and decimal degrees are written in degrees, minutes and seconds, exactly), to
// seven decimals, the finest that can be keyed. Lengths are metres, exact from
// whole nanometres. Identities are made here (st1, g2); names are free text.
package landxml
