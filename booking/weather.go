package booking

import (
	"encoding/hex"
	"example.org/readback/booking/event"
	"strings"
	"time"
)

// A WeatherNote is the weather with the time of the note.
type WeatherNote struct {
	event.WeatherNoted
	At  time.Time
	Seq uint64
}

// A NamedFile is a file that was named, with the time.
type NamedFile struct {
	event.FileNamed
	At time.Time
}

// A PackList is the list of a pack-up with its time.
type PackList struct {
	event.PackedUp
	At time.Time
}

// The air that is taken for weather: beyond these it is a slip of a key.
const (
	coldest, hottest = -60.0, 60.0 // degrees Celsius
	lowest, highest  = 500.0, 1100.0
)

// Weather notes the weather; a nil figure was not read.
func (s Setup) Weather(text string, celsius, hectopascal *float64) (event.WeatherNoted, error) {
	w := event.WeatherNoted{Text: strings.TrimSpace(text), Celsius: celsius, Hectopascal: hectopascal, By: s.Spec.Booker}
	switch {
	case s.Void != nil:
		return w, Refuse(setupIsVoid, "the setup was struck")
	case w.Text == "" && celsius == nil && hectopascal == nil:
		return w, Refuse(ReasonMissing, "the weather is empty")
	case celsius != nil && !(*celsius >= coldest && *celsius <= hottest):
		return w, Refuse(NoSuchReading, "%g °C: expected %g to %g", *celsius, coldest, hottest)
	case hectopascal != nil && !(*hectopascal >= lowest && *hectopascal <= highest):
		return w, Refuse(NoSuchReading, "%g hPa: expected %g to %g, the pressure where the instrument stands", *hectopascal, lowest, highest)
	}
	return w, nil
}

// NameFile names a sketch or a photo of the setup by its name, size and hash.
func (s Setup) NameFile(name string, bytes int64, sha256, text string) (event.FileNamed, error) {
	sum, err := hex.DecodeString(sha256)
	switch {
	case s.Void != nil:
		return event.FileNamed{}, Refuse(setupIsVoid, "the setup was struck")
	case blank(name):
		return event.FileNamed{}, Refuse(ReasonMissing, "give the name of the file")
	case bytes < 0 || err != nil || len(sum) != 32:
		return event.FileNamed{}, Refuse(NoSuchPlace, "the hash of %s is none", name)
	}
	for _, f := range s.Files {
		if f.Name == name && f.SHA256 == sha256 {
			return event.FileNamed{}, Refuse(placeTaken, "%s is named in this setup already", name)
		}
	}
	return event.FileNamed{Name: name, Bytes: bytes, SHA256: sha256, Text: strings.TrimSpace(text), By: s.Spec.Booker}, nil
}

// Pack writes the list of the pack-up: done has an answer for each line of PackUp.
func (s Setup) Pack(done []bool, text string) (event.PackedUp, error) {
	p := event.PackedUp{Text: strings.TrimSpace(text), By: s.Spec.Booker}
	for i, line := range event.PackUp(s.Spec) {
		if i < len(done) && done[i] {
			p.Done = append(p.Done, line.Text)
		} else {
			p.Left = append(p.Left, line.Text)
		}
	}
	switch {
	case s.Void != nil:
		return p, Refuse(setupIsVoid, "the setup was struck")
	case len(p.Done) == 0 && p.Text == "":
		return p, Refuse(ReasonMissing, "nothing on the list is done yet")
	}
	return p, nil
}

// foldDay takes up what belongs to the frame of the day; ok is false for any other
// event.
func (s *Setup) foldDay(e event.Entry) (ok bool) {
	switch v := e.Event.(type) {
	case event.WeatherNoted:
		s.Airs = append(s.Airs, WeatherNote{v, e.At, e.Seq})
	case event.FileNamed:
		s.Files = append(s.Files, NamedFile{v, e.At})
	case event.PackedUp:
		s.Packed = append(s.Packed, PackList{v, e.At})
	default:
		return false
	}
	return true
}

// besideReadings tells whether an event may follow the lift without a mark: it
// changes no reading.
func besideReadings(e event.Event) bool {
	switch e.(type) {
	case event.RemarkMade, event.WeatherNoted, event.FileNamed, event.PackedUp:
		return true
	}
	return false
}
