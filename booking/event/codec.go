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
	if int(kind) >= len(decoders) || decoders[kind] == nil {
		return nil, fmt.Errorf("event of kind %d: %w", kind, errNewerEvent)
	}
	return decoders[kind](kind, body)
}

// decoders read the body of each kind, by its number.
var decoders = [...]func(kind Kind, body []byte) (Event, error){
	kindBookOpened:        decode[BookOpened],
	kindSetupOpened:       decode[SetupOpened],
	kindReadingBooked:     decodeReading,
	kindReadingStruck:     decode[ReadingStruck],
	kindPointingSkipped:   decode[PointingSkipped],
	kindRoundVoided:       decode[RoundVoided],
	kindRoundLeftOut:      decode[RoundLeftOut],
	kindRoundTakenBack:    decode[RoundTakenBack],
	kindRemarkMade:        decode[RemarkMade],
	kindRoundAdded:        decode[RoundAdded],
	kindLifted:            decode[Lifted],
	kindKnownLoaded:       decode[KnownLoaded],
	kindCopySet:           decode[CopySet],
	kindSetupAmended:      decode[SetupAmended],
	kindSetupStruck:       decode[SetupStruck],
	kindReadingLeftOut:    decode[ReadingLeftOut],
	kindReadingTaken:      decode[ReadingTakenBack],
	kindPlanLoaded:        decode[PlanLoaded],
	kindInstrumentChecked: decode[InstrumentChecked],
	kindWeatherNoted:      decode[WeatherNoted],
	kindHandedOver:        decode[HandedOver],
	kindFileNamed:         decode[FileNamed],
	kindPackedUp:          decode[PackedUp],
	kindFiguresSet:        decode[FiguresSet],
	kindCentreNoted:       decode[CentreNoted],
	kindLevelsLoaded:      decode[LevelsLoaded],
	kindHalfAsked:         decode[HalfAsked],
	kindBookDescribed:     decode[BookDescribed],
}

// decodeReading takes the short way where the body is as Encode writes it.
func decodeReading(kind Kind, body []byte) (Event, error) {
	if e, ok := scanReading(body); ok {
		return e, nil
	}
	return decode[ReadingBooked](kind, body)
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
