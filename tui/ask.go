package tui

import (
	"example.org/readback/booking/event"
	"example.org/readback/booking/spec"
)

// an ask is what a screen wants done. Only app carries asks out, at once and in
// order, so that the next key finds everything done.
type ask any

type (
	// goTo shows another screen.
	goTo struct{ to screenID }
	// say puts a sentence under the screen until the next one.
	say struct {
		text string
		bad  bool
	}
	// bookText books the entry at the pointing.
	bookText struct {
		text      string
		confirmed bool
	}
	// readAgain asks the observer to read the pointing once more.
	readAgain struct{}
	// choose turns to another pointing than the one that is called; nil: back to
	// the one that is called.
	choose     struct{ slot *spec.Slot }
	liftTripod struct{ despite string }
	// openSetup opens a setup and books the instrument height, where one is given.
	openSetup struct {
		spec   spec.Spec
		height string
	}
	// beginPlanned goes to the form with a station of the plan.
	beginPlanned struct{ p event.PlannedStation }
	// write asks for a written reason or remark; what is written goes to then.
	write struct {
		writing
	}
	// showSetup makes a setup of the book the one that is seen.
	showSetup struct{ n int }
	// moreSetups reads more of the work list.
	moreSetups struct{}
	// showText reads a text and shows it: the figure, the health of instruments.
	showText struct{ which textKind }
	// judgeAnew shows a lifted setup judged by today's rule, beside what was said.
	judgeAnew struct{}
	// prefer changes and remembers the preferences.
	prefer struct{ p preferences }
	// copyTo names the directory of the second journal.
	copyTo struct{ dir string }
	// turnColumn shows means instead of reduced directions and gradients instead
	// of altitudes where there is room for one of them, and back.
	turnColumn struct{}
	// reopen opens the file again after a failed write.
	reopen struct{}
	// leave ends the program.
	leave struct{}
)

// asks is a shorter way to write several.
func asks(as ...ask) []ask { return as }
