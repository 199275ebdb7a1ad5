// Package fieldtest works booked setups as the field test of a theodolite,
// ISO 17123-3: the standard deviation of one direction, and of one altitude,
// observed once on both faces, as this crew reaches it with this instrument.
//
// Horizontally a setup is a series: its complete rounds that are used are the
// sets. The full test is four setups of three rounds on five targets, the RO
// counted; the short form one setup of three rounds on four targets. Vertically a
// setup gives one set, since the vertical circle is read once in it: three setups
// in a row are one series where there are three or a multiple of three, without
// moving the tripod; else all together are one series.
//
// Source: ISO 17123-3:2001, from memory. The formulas are those of package reduce. Any other number of setups, rounds or
// targets is worked the same way and said to be no form of the standard.
package fieldtest
