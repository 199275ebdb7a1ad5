package exchange

import (
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
	"example.org/readback/reduce/lengths"
)

// Decimals returns how many decimals a reading was given with: of the second,
// the gon, the degree, the mil, the metre or the foot. A reading keyed without a decimal part has the
// decimals of the least count.
func Decimals(r booking.Reading, agreed spec.Spec) int {
	i := agreed.Instrument
	if !r.Slot.Quantity.Angular() {
		if agreed.LengthUnit == lengths.Metres {
			return max(writtenDecimals(r.Text, false), 3)
		}
		return max(writtenDecimals(r.Text, false), 2)
	}
	return min(max(writtenDecimals(r.Text, !i.Unit.Decimal()), i.Places()), reduce.MostPlaces(i.Unit))
}

// writtenDecimals counts the decimals of a keyed or written text. In degrees,
// minutes and seconds a full stop may stand between the groups: it begins
// decimals after the third group, or after one run of digits.
func writtenDecimals(text string, dms bool) int {
	point := 0 // by hand: strings.IndexAny makes a set of signs for each text
	for point < len(text) && text[point] != '.' && text[point] != ',' {
		point++
	}
	if point == len(text) {
		return 0
	}
	decimals := text[point+1:]
	if !dms {
		return len(strings.TrimSpace(decimals))
	}
	groups := strings.FieldsFunc(text, func(r rune) bool { return r < '0' || r > '9' })
	if len(groups) != 4 && len(groups) != 2 {
		return 0
	}
	return len(groups[len(groups)-1])
}

// text returns a reading as a readings file has it: 123 45 06.5 in dms, a plain
// decimal else, with its own decimals. Lengths read in US survey feet, which a
// readings file does not know, are metres to the micrometre.
func text(r booking.Reading, agreed spec.Spec) string {
	places := Decimals(r, agreed)
	switch {
	case !r.Slot.Quantity.Angular() && agreed.LengthUnit == lengths.USFeet:
		return plain(r.Length().Format(lengths.Metres, 6))
	case !r.Slot.Quantity.Angular():
		return plain(r.Length().Format(agreed.LengthUnit, places))
	}
	return AngleText(r.Direction(), agreed.Instrument.Unit, places)
}

// AngleText returns a direction in the written form of a readings file, in
// [0, full circle) after rounding.
func AngleText(d reduce.Direction, u reduce.Unit, places int) string {
	return plain(d.Format(u, places))
}

var plainMarks = strings.NewReplacer("−", "-", "°", " ", "′", " ", "″", "")

func plain(text string) string { return plainMarks.Replace(text) }
