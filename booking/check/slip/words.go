package slip

import "example.org/readback/reduce"

// readAgain is the advice when nothing known explains a reading.
const readAgain = "It fits nothing known: read again."

// Sentence returns what to call out for a slip of this kind in this part of a
// reading of the unit u. It holds no figure.
func Sentence(k Kind, p Part, u reduce.Unit) string {
	where, of := words(p, u)
	switch k {
	case WrongTarget:
		return "This looks like another target: what is sighted?"
	case FaceNotChanged:
		return "This looks like the other face: which face is the telescope on?"
	case OtherCircle:
		return "This looks like a reading of the other circle: which one was read?"
	case CircleNotSet:
		return "The circle looks as it was in an earlier round: has it been set?"
	case Anticlockwise:
		return "The circle looks as if it counts anticlockwise: which way is it set to count?"
	case WholeDegree:
		if u.Decimal() {
			return "The whole " + u.WholeName() + " look one out: ask for the reading again."
		}
		return "The degrees look one out: ask for the reading again."
	case TenMinutes:
		return upper(where) + " look ten out: ask for the reading again."
	case OneMinute:
		return upper(where) + " look one out: ask for the reading again."
	case PartsExchanged:
		if u.Decimal() {
			return "The first and the last decimals look exchanged: ask for the reading again."
		}
		return "Minutes and seconds look exchanged: ask for the reading again."
	case PercentDisplay:
		return "This looks like a gradient: does the display show percent?"
	}
	return digitSentence(k, p, where, of)
}

func digitSentence(k Kind, p Part, where, of string) string {
	const ask = ": ask for the reading again."
	switch k {
	case DigitsExchanged:
		if p == DegreesMinutes || p == MinutesSeconds {
			return "Two digits over the border of " + where + " look exchanged" + ask
		}
		return "Two digits" + of + " look exchanged" + ask
	case DigitDoubled:
		return "One digit" + of + " looks keyed twice" + ask
	case DigitDropped:
		return "One digit" + of + " looks left out" + ask
	case DigitAdded:
		return "One digit" + of + " looks one too many" + ask
	case TwinMisread:
		return "A double digit" + of + " looks misread" + ask
	case DigitMisread:
		return "One digit" + of + " looks misread" + ask
	case NeighbouringKey:
		return "One digit" + of + " looks like the key beside it" + ask
	case Misheard:
		return upper(where) + " look misheard, teens for tens: ask for the digits one by one."
	}
	if p != NoPart {
		return "Something is wrong with " + where + ": read again."
	}
	return readAgain
}

// words returns the name of a part with its article, and as it stands behind
// "digit".
func words(p Part, u reduce.Unit) (where, of string) {
	names := map[Part]string{Degrees: "the degrees", Minutes: "the minutes", Seconds: "the seconds",
		DegreesMinutes: "degrees and minutes", MinutesSeconds: "minutes and seconds"}
	if u.Decimal() {
		names = map[Part]string{Degrees: "the whole " + u.WholeName(), Minutes: "the first two decimals", Seconds: "the last decimals",
			DegreesMinutes: u.WholeName() + " and decimals", MinutesSeconds: "the second and the third decimal"}
	}
	if where = names[p]; where != "" {
		return where, " of " + where
	}
	return "the figures", ""
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
