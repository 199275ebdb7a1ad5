package fault

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"unicode"

	"example.org/readback/store/disk"
)

// Errors of creating and opening a book.
var (
	// ErrNoBook: there is no file of that name.
	ErrNoBook = errors.New("there is no book here")
	// ErrNoName: the system lets no file have the name, or none is given.
	ErrNoName = errors.New("no file can have this name")
	// ErrNoDirectory: the directory that should hold the file is missing.
	ErrNoDirectory = errors.New("the folder is missing")
	// ErrExists: Create found a file of that name; a book is never written over.
	ErrExists = errors.New("a file of this name is already there")
	// ErrDevice: Windows keeps the name for a device.
	ErrDevice = errors.New("this is the name of a device on Windows, where no file can have it")
	// ErrJournalLeft: Create found the journal of an earlier book of that name.
	ErrJournalLeft = errors.New("the journal of an earlier book of this name is still there")
	// ErrNotABook: the file or directory is something else.
	ErrNotABook = errors.New("this is not a book")
	// ErrEmpty: the file has no content at all.
	ErrEmpty = errors.New("the book file is empty (0 bytes)")
	// ErrTruncated: the file is shorter than its own head says.
	ErrTruncated = errors.New("the book file is cut short")
	// ErrForeign: the file is of a machine of the other byte order.
	ErrForeign = errors.New("the book file was written on a machine of another byte order")
	// ErrDamaged: the file cannot be read, or an event does not match its hash or the chain.
	ErrDamaged = errors.New("the book file is damaged")
	// ErrInUse: another program, or another part of this one, has the book open.
	ErrInUse = errors.New("the book is open in another window")
	// ErrNewer: the book was written by a newer program.
	ErrNewer = errors.New("the book was written by a newer readback")
	// ErrDiffer: book and journal hold different events under one number.
	ErrDiffer = errors.New("book and journal hold different events")
	// ErrStale: more of the book stands in another file, rescued from it.
	ErrStale = errors.New("this is not the newest file of the book")
	// ErrCopy: the dated copy of a book could not be written.
	ErrCopy = errors.New("the dated copy could not be written")
	// ErrCopyHere: the second journal was to stand where the first one does.
	ErrCopyHere = errors.New("the folder of the second journal is that of the book itself")
	// ErrNotAllowed: the file or the disk may not be written by this user.
	ErrNotAllowed = errors.New("the book may not be written here")
	// ErrUnreadable: the file may not be read by this user.
	ErrUnreadable = errors.New("the file may not be read by this user")
)

// Errors of booking.
var (
	// ErrLatched: an earlier write failed; nothing more is booked until Reopen.
	ErrLatched = errors.New("booking has stopped after a failed write")
	// ErrNoSpace: the disk is full.
	ErrNoSpace = errors.New("the disk is full")
	// ErrWrite: the disk reported an error; the event may or may not be there.
	ErrWrite = errors.New("the disk reported an error while booking")
	// ErrGone: the file under the open book was deleted, replaced or cut.
	ErrGone = errors.New("the book file was changed under the open book")
	// ErrDead: the book file could not be read any more and the handle was given up.
	ErrDead = errors.New("the open book can no longer be used")
	// ErrClosed: the book was closed.
	ErrClosed = errors.New("the book is closed")
	// ErrBadRecord: the event itself may not be written.
	ErrBadRecord = errors.New("not an event that can be kept")
	// ErrIDReused: the last event has this identity but another content.
	ErrIDReused = errors.New("another event of this identity is already booked")
	// ErrOffice: a gathered book is read and exported, never booked in.
	ErrOffice = errors.New("this is an office book, gathered from others")
)

// Errors of journals, of restoring and of gathering.
var (
	// ErrBadLine: a journal line cannot be read or does not match its hash.
	ErrBadLine = errors.New("the journal line is damaged")
	// ErrSenseless: an event matches its hash and the chain, and yet means nothing
	// or contradicts itself.
	ErrSenseless = errors.New("an event that cannot have happened")
	// ErrRead: the disk reported an error while what is restored was read.
	ErrRead = errors.New("the disk reported an error while reading")
	// ErrTorn: the last line of a journal breaks off; only what was being
	// written when the power went is lost.
	ErrTorn = errors.New("the last line of the journal breaks off")
	// ErrChain: an event does not follow from the one before it.
	ErrChain = errors.New("the chain of events is broken")
	// ErrNothing: there is nothing to restore from.
	ErrNothing = errors.New("no event could be read")
	// ErrConflict: two books hold different events of one source under one number.
	ErrConflict = errors.New("two different events have one number")
	// ErrSound: the book that should be replaced is sound and holds at least as much.
	ErrSound = errors.New("the book is sound and holds all that the journal holds")
)

// An Error tells what is wrong, where, and what to do about it. errors.Is
// finds the sentinel in What and, if there is one, the cause below it.
type Error struct {
	Path   string // the file
	What   error  // one of the sentinels of this package
	Detail string // particulars, may be empty
	Cause  error  // the error from below, may be nil
	Do     string // what to do now, may be empty
}

// Error gives the whole in one line: file, what, particulars, what to do.
func (e *Error) Error() string {
	var b strings.Builder
	if e.Path != "" {
		b.WriteString(oneLine(e.Path) + ": ")
	}
	b.WriteString(e.What.Error())
	if e.Detail != "" {
		b.WriteString(": " + oneLine(e.Detail))
	}
	if e.Cause != nil { // what it says again is said once
		cause := strings.TrimPrefix(e.Cause.Error(), e.What.Error()+": ")
		b.WriteString(": " + strings.TrimPrefix(cause, e.Detail+": "))
	}
	if e.Do != "" {
		b.WriteString(". " + oneLine(e.Do))
	}
	return Printable(b.String())
}

// oneLine writes line feeds out: a name may hold one, and a sentence is one line.
func oneLine(s string) string { return strings.NewReplacer("\n", "\\n", "\r", "\\r").Replace(s) }

// Printable writes control characters out: a file name is data, and must not
// steer the terminal that shows the sentence.
func Printable(s string) string {
	if !strings.ContainsFunc(s, unprintable) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if unprintable(r) {
			fmt.Fprintf(&b, "\\u%04x", r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

func unprintable(r rune) bool { return !unicode.IsPrint(r) && r != '\n' }

// Unwrap gives the sentinel and the cause.
func (e *Error) Unwrap() []error {
	if e.Cause == nil {
		return []error{e.What}
	}
	return []error{e.What, e.Cause}
}

// RestoreAdvice names the command that builds the book anew: from the journal
// beside it, or, where that is gone, from a copy or from what is left.
func RestoreAdvice(book string) string {
	if _, err := os.Stat(disk.JournalPath(book)); err != nil {
		return "There is no journal beside it. Look for the second journal on the card and restore with: readback restore JOURNAL " + Quoted(book) +
			"; or read what is left in it: readback restore " + Quoted(book) + " NEW"
	}
	return "Restore it with: " + RestoreCommand(book)
}

// RestoreCommand builds the book anew from the journal beside it.
func RestoreCommand(book string) string {
	return "readback restore " + Quoted(disk.JournalPath(book)) + " " + Quoted(book)
}

// Quoted puts a path into quotes when the shell of this system would take it
// apart: cmd.exe knows double quotes only, and no path there may hold one. A name with
// a line feed is written so that it can be keyed: $'a\nb'.
func Quoted(path string) string { return quotedFor(runtime.GOOS, path) }

func quotedFor(system, path string) string {
	switch {
	case system == "windows" && strings.ContainsAny(path, " \t&()^=;!'+,`~[]{}%"):
		return `"` + path + `"`
	case system != "windows" && strings.ContainsFunc(path, unicode.IsControl):
		return "$'" + keyed.Replace(path) + "'"
	case system != "windows" && strings.ContainsAny(path, " \"'\\$&;()<>|*?[]#~`!"):
		return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
	}
	return path
}

// keyed writes the controls that a name may have as the shell takes them.
var keyed = func() *strings.Replacer {
	list := []string{`\`, `\\`, `'`, `\'`, "\n", `\n`, "\t", `\t`, "\r", `\r`}
	for c := rune(1); c < 32; c++ {
		if !strings.ContainsRune("\n\t\r", c) {
			list = append(list, string(c), fmt.Sprintf(`\x%02x`, c))
		}
	}
	return strings.NewReplacer(append(list, "\x7f", `\x7f`)...)
}()

// StatError says why the file cannot even be looked at.
func StatError(path string, err error) error {
	switch {
	case path == "":
		return Nameable(path)
	case errors.Is(err, os.ErrNotExist):
		if _, derr := os.Stat(filepath.Dir(path)); errors.Is(derr, os.ErrNotExist) {
			return &Error{Path: path, What: ErrNoDirectory, Detail: filepath.Dir(path), Do: "Make it first, or put the card in that holds it"}
		}
		if info, jerr := os.Stat(disk.JournalPath(path)); jerr == nil && info.Size() > 0 {
			return &Error{Path: path, What: ErrNoBook, Detail: "but its journal is", Do: RestoreAdvice(path)}
		}
		return &Error{Path: path, What: ErrNoBook, Do: "Look for it elsewhere, or begin a new one: readback book " + Quoted(path)}
	default:
		return OpenError(path, err)
	}
}

// OpenError words an error of opening the file.
func OpenError(path string, err error) error {
	if disk.IsNotAllowed(err) {
		return &Error{Path: path, What: ErrNotAllowed, Cause: err, Do: "Ask its owner, or open it to look at only"}
	}
	if disk.IsBadName(err) {
		return &Error{Path: path, What: ErrNoName, Cause: err, Do: "Choose another name"}
	}
	if disk.IsNoSpace(err) {
		return &Error{Path: path, What: ErrNoSpace, Cause: err, Do: "Make room on the disk, then open the book again"}
	}
	return &Error{Path: path, What: ErrDamaged, Cause: err, Do: RestoreAdvice(path)}
}

// ReadError words an error of opening the file to read it.
func ReadError(path string, err error) error {
	if disk.IsNotAllowed(err) {
		return &Error{Path: path, What: ErrUnreadable, Cause: err, Do: "Ask its owner"}
	}
	return OpenError(path, err)
}

// AsDamage turns an error without a sentinel into ErrDamaged.
func AsDamage(path string, err error) error {
	var e *Error
	if errors.As(err, &e) {
		return err
	}
	return &Error{Path: path, What: ErrDamaged, Cause: err, Do: RestoreAdvice(path)}
}

// Nameable refuses an empty path, and one whose name belongs to a device, on every
// system: the book would be lost on the way to the office.
func Nameable(path string) error {
	if path == "" {
		return &Error{What: ErrNoName, Detail: "it is empty", Do: "Name the file"}
	}
	if disk.IsDevice(path) {
		return &Error{Path: path, What: ErrDevice, Do: "Choose another name"}
	}
	return nil
}
