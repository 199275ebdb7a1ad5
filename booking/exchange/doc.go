// Package readings is the readings file: the CSV form in which a day booked on
// paper comes in and the readings of a book go out.
//
// # The form
//
// RFC 4180, UTF-8 (a byte order mark is passed over), a header in the first
// line, one reading a row. The order of the columns is free; an unknown or a
// repeated column is an error, and so is a missing one that is needed.
//
//	setup     1, 2, …
//	station   the occupied station, the same in every row of a setup
//	round     1, 2, … without a gap; empty for verticals, distances and heights; a sight
//	          read again as a check in its round 2b, 2c, …, the second sight of the RO in
//	          its half then "2b closing", that of a further reference object "2 closing"; another quantity measured again 2, 3, …
//	face      FL, FR; empty for distances and heights
//	target    what was sighted; empty for an instrument height, accumulated (by
//	          repetition, the horizontal circle after the last one)
//	quantity  horizontal, vertical, slope, target height, instrument height
//	reading   dms: three groups, separated by spaces or marked ° ′ ″, d m s, ° ' "
//	          gon, deg, mil, m, ft: a plain decimal
//	unit      dms, gon, deg (decimal degrees), mil (6400 to the circle), m, ft
//	time      optional: RFC 3339
//	struck    optional: the reason; a struck row is kept and never used
//	remark    optional
//	order     optional: by halves, target by target, the same in every row of a
//	          setup; empty is by halves
//
// Space around a cell does not count; rows whose cells are all empty are passed
// over. A line is counted as an editor counts it: the header is line 1, and the
// lines inside a quoted cell count.
//
// # What the rows mean
//
// Rows belong together by their setup number; within a setup they stand in the
// order observed. The first horizontal row of a setup names its reference
// object (RO). The RO a second time on one face of one round closes that half.
//
// Which of the two is the closing sight? On face left the second. On face right
// the order of the other targets tells: reversed against face left, as observed,
// the first; in the same order, as tables on paper list them, or row by row in
// turn with face left, the second; where the order cannot tell, as in the other
// rounds of the setup, else as observed.
//
// The targets stand clockwise as they were first sighted on face left; one that
// was hidden then comes where the circle has it.
//
// A round whose rows are all struck is void. A round whose rows are struck with
// one reason that begins "round left out: " was left out of the means, as the
// export writes it. Of an instrument height, the second that stands is the one
// measured again before the tripod is lifted.
//
// A setup that was amended is written as it stands, with the names as put right; what
// was changed and why is a remark on the last reading booked before the change, or on
// the first, that begins "The setup was amended: ". Of one struck as a whole the readings, all struck before,
// are kept, and the first has a remark that begins "The setup was struck as a whole: ";
// one without any has no row. Read back they are those remarks.
//
// # Cells that a spreadsheet would take for a formula
//
// Names, reasons and remarks that begin with = + - @ (or their full-width
// forms), a tab or a line end are written with an apostrophe before them; one
// apostrophe before such a cell is taken off again on reading.
package exchange
