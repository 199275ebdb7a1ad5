package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"time"
	"unicode/utf8"

	"example.org/readback/store/fault"
)

// MaxBody is the greatest length of a record's body in bytes. A body is one
// booked reading or one line of a setup's head, some hundred bytes; the limit
// keeps a damaged length from being believed.
const MaxBody = 1 << 20

// A Record is one event of a book as it was written: numbered from 1 without
// a gap, stamped, and chained to the one before it.
type Record struct {
	Seq     uint64    // number of the event in its book, from 1
	ID      [16]byte  // the event's own identity, chosen by who appends it
	At      time.Time // what the clock said, UTC, to the nanosecond; it may jump, Seq never does
	Kind    uint16    // what sort of event; the store does not look into it; never 0
	Version uint8     // version of the body's form; the store does not look into it
	Group   uint32    // 0 the book itself, n the setup n
	Body    []byte    // compact JSON, kept byte for byte
	Prev    [32]byte  // Hash of the event before; for event 1 the identity of the book
	Hash    [32]byte  // SHA-256 over all of the above, see Sum
}

// A Draft is an event that has not been booked yet.
type Draft struct {
	ID      [16]byte  // identity; all zero lets Append choose one (then a repeated Append cannot be recognised)
	At      time.Time // zero: Append asks the clock
	Kind    uint16    // never 0
	Version uint8
	Group   uint32
	Body    []byte // compact JSON, at most MaxBody bytes
	Digest  []byte // small summary of the group after this event, kept beside the chain; nil leaves the old one out
}

// The canonical bytes of a record, big-endian, in this order:
//
//	 0  4  "RBR1"
//	 4  8  Seq
//	12 16  ID
//	28  8  At, whole seconds since 1970 UTC, two's complement
//	36  4  At, nanoseconds
//	40  2  Kind
//	42  1  Version
//	43  4  Group
//	47 32  Prev
//	79  4  length of Body
//	83  n  Body
//
// Hash is their SHA-256. The book file keeps the canonical bytes with the
// hash behind them, so that a record can be recognised and proven wherever it
// lies, even in a file whose tree is broken.
const (
	Magic      = "RBR1"
	HeaderSize = 83
	HashSize   = sha256.Size
)

// Sum computes the hash of the record from its fields; for a sound record it
// equals Hash.
func (r *Record) Sum() [32]byte {
	return sha256.Sum256(appendCanonical(make([]byte, 0, HeaderSize+len(r.Body)), r))
}

// appendCanonical appends the canonical bytes of r to b.
func appendCanonical(b []byte, r *Record) []byte {
	b = append(b, Magic...)
	b = binary.BigEndian.AppendUint64(b, r.Seq)
	b = append(b, r.ID[:]...)
	b = binary.BigEndian.AppendUint64(b, uint64(r.At.Unix()))
	b = binary.BigEndian.AppendUint32(b, uint32(r.At.Nanosecond()))
	b = binary.BigEndian.AppendUint16(b, r.Kind)
	b = append(b, r.Version)
	b = binary.BigEndian.AppendUint32(b, r.Group)
	b = append(b, r.Prev[:]...)
	b = binary.BigEndian.AppendUint32(b, uint32(len(r.Body)))
	return append(b, r.Body...)
}

// Encode seals r (sets its Hash) and returns the bytes the book keeps.
func Encode(r *Record) []byte {
	b := appendCanonical(make([]byte, 0, HeaderSize+len(r.Body)+HashSize), r)
	r.Hash = sha256.Sum256(b)
	return append(b, r.Hash[:]...)
}

// Decode reads what Encode wrote and proves the hash. The body is
// copied, so b may be memory of the mapped file.
func Decode(b []byte) (Record, error) {
	var r Record
	n, err := Length(b)
	if err != nil {
		return r, err
	}
	if n != len(b) {
		return r, fmt.Errorf("%d bytes kept, %d expected", len(b), n)
	}
	body := n - HashSize
	if sum := sha256.Sum256(b[:body]); !bytes.Equal(sum[:], b[body:]) {
		return r, fmt.Errorf("the content does not match its hash")
	}
	r.Seq = binary.BigEndian.Uint64(b[4:])
	copy(r.ID[:], b[12:28])
	sec := int64(binary.BigEndian.Uint64(b[28:]))
	r.At = time.Unix(sec, int64(binary.BigEndian.Uint32(b[36:]))).UTC()
	r.Kind = binary.BigEndian.Uint16(b[40:])
	r.Version = b[42]
	r.Group = binary.BigEndian.Uint32(b[43:])
	copy(r.Prev[:], b[47:79])
	r.Body = bytes.Clone(b[HeaderSize:body])
	copy(r.Hash[:], b[body:])
	return r, r.Check()
}

// Length says how long the record that begins at b is, hash included.
func Length(b []byte) (int, error) {
	if len(b) < HeaderSize+HashSize {
		return 0, fmt.Errorf("only %d bytes kept", len(b))
	}
	if string(b[:4]) != Magic {
		return 0, fmt.Errorf("it does not begin with %q", Magic)
	}
	n := binary.BigEndian.Uint32(b[79:])
	if n > MaxBody {
		return 0, fmt.Errorf("a body of %d bytes is claimed", n)
	}
	return HeaderSize + int(n) + HashSize, nil
}

// Check demands what every record must satisfy before it may be written and
// after it has been read.
func (r *Record) Check() error {
	switch {
	case r.Seq == 0:
		return fmt.Errorf("%w: event number 0", fault.ErrBadRecord)
	case r.Kind == 0:
		return fmt.Errorf("%w: kind 0 is never used", fault.ErrBadRecord)
	case r.At.Year() < 1 || r.At.Year() > 9999:
		return fmt.Errorf("%w: the year %d", fault.ErrBadRecord, r.At.Year())
	}
	return checkBody(r.Body)
}

// checkBody demands compact JSON in UTF-8: one value, no blank around it.
func checkBody(body []byte) error {
	if len(body) > MaxBody {
		return fmt.Errorf("%w: a body of %d bytes, the most is %d", fault.ErrBadRecord, len(body), MaxBody)
	}
	if !utf8.Valid(body) {
		return fmt.Errorf("%w: the body is not UTF-8", fault.ErrBadRecord)
	}
	var compact bytes.Buffer
	compact.Grow(len(body))
	if err := json.Compact(&compact, body); err != nil {
		return fmt.Errorf("%w: the body is not JSON: %w", fault.ErrBadRecord, err)
	}
	if !bytes.Equal(compact.Bytes(), body) {
		return fmt.Errorf("%w: the body has blanks between its parts; compact JSON is kept", fault.ErrBadRecord)
	}
	return nil
}

// Follows says whether r is the event after number seq with hash prev.
func (r *Record) Follows(seq uint64, prev [32]byte) error {
	if r.Seq != seq+1 {
		return fmt.Errorf("event %d stands where event %d belongs", r.Seq, seq+1)
	}
	if r.Prev != prev {
		return fmt.Errorf("event %d does not follow from event %d: its link is %x, the hash there is %x",
			r.Seq, seq, r.Prev[:4], prev[:4])
	}
	return nil
}

// ClockBack is by how much a clock must have gone back before it is told: less
// is a clock that was set right.
const ClockBack = 15 * time.Minute

// ClockSentence says that the clock stands before the time of the newest event, by
// more than ClockBack; empty where it does not.
func ClockSentence(now, newest time.Time) string {
	if newest.Sub(now) <= ClockBack {
		return ""
	}
	return fmt.Sprintf("The clock of this machine says %s; an event was booked at %s. Set the clock before booking; the events keep their order in any case.",
		now.UTC().Format(time.DateTime+" UTC"), newest.UTC().Format(time.DateTime+" UTC"))
}

// Span names events by their numbers.
func Span(first, last uint64) string {
	if first == last {
		return fmt.Sprintf("event %d", first)
	}
	return fmt.Sprintf("events %d to %d", first, last)
}
