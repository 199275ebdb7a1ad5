// Package instrument says how an instrument is: its health over the setups of a
// book, and its field test.
//
// Health follows collimation, tilt of the trunnion axis and index error from
// setup to setup, and says whether one of them drifts and when an adjustment is
// due. Both faces cancel all three, so an instrument that is out of adjustment
// still gives good means; but single-face readings do not, and an error that
// changes from setup to setup is a sign of something loose.
//
// The field test works booked setups after ISO 17123-3: the standard deviation
// of one direction, and of one altitude, observed once on both faces, as this
// crew reaches it with this instrument. Horizontally a setup is a series: its
// complete rounds that are used are the sets. The full test is four setups of
// three rounds on five targets, the RO counted; the short form one setup of three
// rounds on four targets. Vertically a setup gives one set, since the vertical
// circle is read once in it: three setups in a row are one series where there are
// three or a multiple of three, without moving the tripod; else all together are
// one series. Any other number of setups, rounds or targets is worked the same
// way and said to be no form of the standard.
//
// Source: ISO 17123-3:2001, from memory. The formulas are those of package
// reduce.
package instrument
