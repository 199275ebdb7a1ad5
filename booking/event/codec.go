package event

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
)

// errNewerEvent is returned for an event of a kind or version this program does
// not know: a newer program wrote it. The book must not be appended to.
var errNewerEvent = errors.New("written by a newer version of Readback: open the book with that version")

// eventVersion is the version written for every kind.
const eventVersion uint8 = 1

// Encode returns the wire form of an event: its kind, the version of its body
// and the body as compact JSON.
func Encode(e Event) (Kind, uint8, []byte, error) {
	body, err := json.Marshal(e)
	if err != nil {
		return 0, 0, nil, fmt.Errorf("encode event of kind %d: %w", e.kind(), err)
	}
	return e.kind(), eventVersion, body, nil
}

// Decode is the inverse of Encode. An unknown field is refused as an unknown
// version is: a booking sheet may not omit what it does not understand.
func Decode(kind Kind, version uint8, body []byte) (Event, error) {
	if version != eventVersion {
		return nil, fmt.Errorf("event of kind %d, version %d: %w", kind, version, errNewerEvent)
	}
	switch kind {
	case kindBookOpened:
		return decode[BookOpened](kind, body)
	case kindSetupOpened:
		return decode[SetupOpened](kind, body)
	case kindReadingBooked:
		if e, ok := scanReading(body); ok {
			return e, nil
		}
		return decode[ReadingBooked](kind, body)
	case kindReadingStruck:
		return decode[ReadingStruck](kind, body)
	case kindPointingSkipped:
		return decode[PointingSkipped](kind, body)
	case kindRoundVoided:
		return decode[RoundVoided](kind, body)
	case kindRoundLeftOut:
		return decode[RoundLeftOut](kind, body)
	case kindRoundTakenBack:
		return decode[RoundTakenBack](kind, body)
	case kindRemarkMade:
		return decode[RemarkMade](kind, body)
	case kindRoundAdded:
		return decode[RoundAdded](kind, body)
	case kindLifted:
		return decode[Lifted](kind, body)
	case kindKnownLoaded:
		return decode[KnownLoaded](kind, body)
	case kindCopySet:
		return decode[CopySet](kind, body)
	case kindSetupAmended:
		return decode[SetupAmended](kind, body)
	case kindSetupStruck:
		return decode[SetupStruck](kind, body)
	case kindReadingLeftOut:
		return decode[ReadingLeftOut](kind, body)
	case kindReadingTaken:
		return decode[ReadingTakenBack](kind, body)
	case kindPlanLoaded:
		return decode[PlanLoaded](kind, body)
	case kindInstrumentChecked:
		return decode[InstrumentChecked](kind, body)
	case kindWeatherNoted:
		return decode[WeatherNoted](kind, body)
	case kindHandedOver:
		return decode[HandedOver](kind, body)
	case kindFileNamed:
		return decode[FileNamed](kind, body)
	case kindPackedUp:
		return decode[PackedUp](kind, body)
	case kindFiguresSet:
		return decode[FiguresSet](kind, body)
	case kindCentreNoted:
		return decode[CentreNoted](kind, body)
	case kindLevelsLoaded:
		return decode[LevelsLoaded](kind, body)
	case kindHalfAsked:
		return decode[HalfAsked](kind, body)
	case kindBookDescribed:
		return decode[BookDescribed](kind, body)
	}
	return nil, fmt.Errorf("event of kind %d: %w", kind, errNewerEvent)
}

func decode[E Event](kind Kind, body []byte) (Event, error) {
	var e E
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(&e); err != nil {
		return nil, fmt.Errorf("event of kind %d: its body cannot be read: %w", kind, err)
	}
	return e, nil
}
