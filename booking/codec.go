package booking

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
)

// ErrNewerEvent is returned for an event of a kind or version this program does
// not know: a newer program wrote it. The book must not be appended to.
var ErrNewerEvent = errors.New("written by a newer version of Readback: open the book with that version")

// EventVersion is the version written for every kind.
const EventVersion uint8 = 1

// Encode returns the wire form of an event: its kind, the version of its body
// and the body as compact JSON.
func Encode(e Event) (Kind, uint8, []byte, error) {
	body, err := json.Marshal(e)
	if err != nil {
		return 0, 0, nil, fmt.Errorf("encode event of kind %d: %w", e.Kind(), err)
	}
	return e.Kind(), EventVersion, body, nil
}

// Decode is the inverse of Encode. An unknown field is refused as an unknown
// version is: a booking sheet may not omit what it does not understand.
func Decode(kind Kind, version uint8, body []byte) (Event, error) {
	if version != EventVersion {
		return nil, fmt.Errorf("event of kind %d, version %d: %w", kind, version, ErrNewerEvent)
	}
	switch kind {
	case KindBookOpened:
		return decode[BookOpened](kind, body)
	case KindSetupOpened:
		return decode[SetupOpened](kind, body)
	case KindReadingBooked:
		if e, ok := scanReading(body); ok {
			return e, nil
		}
		return decode[ReadingBooked](kind, body)
	case KindReadingStruck:
		return decode[ReadingStruck](kind, body)
	case KindPointingSkipped:
		return decode[PointingSkipped](kind, body)
	case KindRoundVoided:
		return decode[RoundVoided](kind, body)
	case KindRoundLeftOut:
		return decode[RoundLeftOut](kind, body)
	case KindRoundTakenBack:
		return decode[RoundTakenBack](kind, body)
	case KindRemarkMade:
		return decode[RemarkMade](kind, body)
	case KindRoundAdded:
		return decode[RoundAdded](kind, body)
	case KindLifted:
		return decode[Lifted](kind, body)
	case KindKnownLoaded:
		return decode[KnownLoaded](kind, body)
	case KindCopySet:
		return decode[CopySet](kind, body)
	case KindSetupAmended:
		return decode[SetupAmended](kind, body)
	case KindSetupStruck:
		return decode[SetupStruck](kind, body)
	case KindReadingLeftOut:
		return decode[ReadingLeftOut](kind, body)
	case KindReadingTaken:
		return decode[ReadingTakenBack](kind, body)
	case KindPlanLoaded:
		return decode[PlanLoaded](kind, body)
	case KindInstrumentChecked:
		return decode[InstrumentChecked](kind, body)
	case KindWeatherNoted:
		return decode[WeatherNoted](kind, body)
	case KindHandedOver:
		return decode[HandedOver](kind, body)
	case KindFileNamed:
		return decode[FileNamed](kind, body)
	case KindPackedUp:
		return decode[PackedUp](kind, body)
	case KindBookDescribed:
		return decode[BookDescribed](kind, body)
	}
	return nil, fmt.Errorf("event of kind %d: %w", kind, ErrNewerEvent)
}

func decode[E Event](kind Kind, body []byte) (Event, error) {
	var e E
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(&e); err != nil {
		return nil, fmt.Errorf("event of kind %d: its body does not read: %w", kind, err)
	}
	return e, nil
}
