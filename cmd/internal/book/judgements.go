package book

import (
	"fmt"
	"strings"

	"example.org/readback/booking"
	"example.org/readback/booking/event"
	"example.org/readback/booking/exchange/reports"
	"example.org/readback/booking/page"
	"example.org/readback/booking/spec"
	"example.org/readback/reduce"
)

// Judgements lists in what events of the chosen book somebody decided something:
// strikes, amendments, confirmations, what is void or left out, lifts on Hold.
func (c Chosen) Judgements() ([]reports.Judgement, error) {
	var list []reports.Judgement
	for _, ch := range c.Chapters {
		specs, lifted := map[int]spec.Spec{}, map[int]bool{}
		for r, err := range ch.Records() {
			if err != nil {
				return list, err
			}
			e, err := entryOf(r)
			if err != nil {
				return list, err
			}
			if v, ok := e.Event.(event.SetupOpened); ok {
				specs[e.Setup] = v.Spec
			}
			text, by := judgement(e, func(seq uint64) event.ReadingBooked { return struck(ch, seq) })
			if v, ok := e.Event.(event.SetupAmended); ok {
				text, by = amended(v, specs[e.Setup]), v.By
				specs[e.Setup] = v.Spec
			}
			switch v := e.Event.(type) {
			case event.Lifted:
				lifted[e.Setup] = true
			case event.RemarkMade: // before the lift it stands on the sheet alone
				if lifted[e.Setup] {
					text, by = "remark: "+v.Text+late(true), v.By
				}
			}
			if text != "" {
				number := 0 // of the book itself
				if e.Setup > 0 {
					number = ch.Before + e.Setup
				}
				list = append(list, reports.Judgement{Event: e.Seq, Setup: number, Station: page.Visible(specs[e.Setup].Station),
					At: e.At, By: page.Visible(by), Text: page.Visible(text)})
			}
		}
	}
	return list, nil
}

// struck returns the reading that a strike names.
func struck(c Chapter, seq uint64) event.ReadingBooked {
	var v event.ReadingBooked
	if e, err := c.event(seq); err == nil {
		v, _ = e.Event.(event.ReadingBooked)
	}
	return v
}

// judgement words an event in which somebody decided something; empty for any
// other.
func judgement(e event.Entry, struck func(seq uint64) event.ReadingBooked) (text, by string) {
	switch v := e.Event.(type) {
	case event.ReadingBooked:
		if v.AfterLift {
			return fmt.Sprintf("read again after the lift: %s at %s", v.Text, v.Slot), v.By
		}
		if v.Confirmed {
			return fmt.Sprintf("booked %s at %s although it was marked (%s); confirmed as read again", v.Text, v.Slot, findingTexts(v.Findings)), v.By
		}
	case event.ReadingStruck:
		r := struck(v.Seq)
		return fmt.Sprintf("struck event %d (%s, %s): %s%s", v.Seq, r.Slot, r.Text, v.Reason, late(v.AfterLift)), v.By
	case event.ReadingLeftOut:
		r := struck(v.Seq)
		return fmt.Sprintf("left out event %d (%s, %s): %s%s", v.Seq, r.Slot, r.Text, v.Reason, late(v.AfterLift)), v.By
	case event.ReadingTakenBack:
		r := struck(v.Seq)
		return fmt.Sprintf("took back event %d (%s, %s): %s%s", v.Seq, r.Slot, r.Text, v.Reason, late(v.AfterLift)), v.By
	case event.SetupStruck:
		return "setup struck whole: " + v.Reason, v.By
	case event.RoundVoided:
		return fmt.Sprintf("round %d void from %s on: %s", v.Round, v.From, v.Reason), v.By
	case event.RoundLeftOut:
		return fmt.Sprintf("round %d left out: %s%s", v.Round, v.Reason, late(v.AfterLift)), v.By
	case event.RoundTakenBack:
		return fmt.Sprintf("round %d taken back: %s%s", v.Round, v.Reason, late(v.AfterLift)), v.By
	case event.HalfAsked:
		return fmt.Sprintf("%s of round %d asked for again", v.Face.Words(), v.Round), v.By
	case event.PointingSkipped:
		return fmt.Sprintf("passed over %s: %s", v.Slot, v.Reason), v.By
	case event.InstrumentChecked:
		return fmt.Sprintf("checked %s before work: %s", strings.TrimSpace(v.Instrument.Name+" "+v.Instrument.Serial), v.Words()), v.By
	case event.WeatherNoted:
		return "weather: " + v.Words(), v.By
	case event.HandedOver:
		return "note to the next crew: " + v.Text, v.By
	case event.FileNamed:
		return "named the file " + v.Words(), v.By
	case event.PackedUp:
		return "packed up: " + v.Words(), v.By
	case event.Lifted:
		if v.Despite != "" {
			return "lifted on Hold: " + v.Despite, v.By
		}
	}
	return ofTheBook(e.Event)
}

// ofTheBook words what somebody decided for the whole book; empty for any other event.
func ofTheBook(e event.Event) (text, by string) {
	switch v := e.(type) {
	case event.FiguresSet:
		return "set: " + v.Words(), v.By
	case event.CentreNoted:
		return fmt.Sprintf("setup %d: ", v.Setup) + v.Words(reduce.DMS), v.By
	case event.BookDescribed:
		return "said of the book: " + v.Words(), v.By
	case event.KnownLoaded:
		return fmt.Sprintf("loaded known stations %d, known bearings %d%s", len(v.Stations), len(v.Bearings), from(v.File)), v.By
	case event.PlanLoaded:
		return fmt.Sprintf("loaded a plan of %d setups%s", len(v.Stations), from(v.File)), v.By
	case event.LevelsLoaded:
		return fmt.Sprintf("loaded levelled differences %d%s", len(v.Rises), from(v.File)), v.By
	case event.CopySet:
		if v.Dir == "" {
			return "ended the second journal", v.By
		}
		return "set the second journal: " + v.Dir, v.By
	}
	return "", ""
}

// from names the file that was loaded, where it is kept.
func from(file string) string {
	if file == "" {
		return ""
	}
	return " from " + file
}

func late(afterLift bool) string {
	if afterLift {
		return " (after the lift)"
	}
	return ""
}

// amended words what an amendment changed, was being what was agreed before.
func amended(v event.SetupAmended, was spec.Spec) string {
	text := "amended: " + strings.Join(booking.Amendment{SetupAmended: v, Was: was}.Changes(), "; ")
	if v.Reason != "" {
		text += ": " + v.Reason
	}
	return text + late(v.AfterLift)
}

func findingTexts(fs []event.Finding) string {
	text := ""
	for _, f := range fs {
		if f.Severity == event.Note {
			continue
		}
		if text != "" {
			text += " "
		}
		text += f.Text
	}
	return text
}
