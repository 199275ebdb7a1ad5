package journal

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"time"

	"example.org/readback/store/fault"
)

// MaxLine is the greatest length of a journal line in bytes.
const MaxLine = MaxBody + 1024

// AppendLine appends r to b as one line of the journal, line feed included:
//
//	{"seq":7,"id":"<32 hex>","time":"2026-05-04T07:12:09.25Z","kind":3,"version":1,"setup":1,"body":{...},"prev":"<64 hex>","hash":"<64 hex>"}
//
// "setup" is the record's Group; the body stands there byte for byte.
func AppendLine(b []byte, r Record) []byte {
	b = append(b, `{"seq":`...)
	b = strconv.AppendUint(b, r.Seq, 10)
	b = append(b, `,"id":"`...)
	b = hex.AppendEncode(b, r.ID[:])
	b = append(b, `","time":"`...)
	b = r.At.UTC().AppendFormat(b, time.RFC3339Nano)
	b = append(b, `","kind":`...)
	b = strconv.AppendUint(b, uint64(r.Kind), 10)
	b = append(b, `,"version":`...)
	b = strconv.AppendUint(b, uint64(r.Version), 10)
	b = append(b, `,"setup":`...)
	b = strconv.AppendUint(b, uint64(r.Group), 10)
	b = append(b, `,"body":`...)
	b = append(b, r.Body...)
	b = append(b, `,"prev":"`...)
	b = hex.AppendEncode(b, r.Prev[:])
	b = append(b, `","hash":"`...)
	b = hex.AppendEncode(b, r.Hash[:])
	return append(b, "\"}\n"...)
}

// errHash marks a line that is whole and yet not what was written: changed,
// not torn.
var errHash = errors.New("the content does not match its hash")

// line is the journal line as JSON sees it.
type line struct {
	Seq     uint64          `json:"seq"`
	ID      hexField        `json:"id"`
	Time    string          `json:"time"`
	Kind    uint16          `json:"kind"`
	Version uint8           `json:"version"`
	Setup   uint32          `json:"setup"`
	Body    json.RawMessage `json:"body"`
	Prev    hexField        `json:"prev"`
	Hash    hexField        `json:"hash"`
}

// hexField is a byte string written in hexadecimal.
type hexField []byte

// UnmarshalText reads lower or upper case hexadecimal.
func (h *hexField) UnmarshalText(text []byte) error {
	b, err := hex.AppendDecode(nil, text)
	*h = b
	return err
}

// ParseLine reads one journal line, with or without its line end, and proves
// its hash. It does not look at the line before: see JournalReader for the
// chain.
func ParseLine(text []byte) (Record, error) {
	var l line
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&l); err != nil {
		return Record{}, fmt.Errorf("%w: %w", fault.ErrBadLine, err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return Record{}, fmt.Errorf("%w: something stands behind the event", fault.ErrBadLine)
	}
	r := Record{Seq: l.Seq, Kind: l.Kind, Version: l.Version, Group: l.Setup, Body: l.Body}
	if len(l.ID) != len(r.ID) || len(l.Prev) != HashSize || len(l.Hash) != HashSize {
		return Record{}, fmt.Errorf("%w: id, prev or hash is missing or of the wrong length", fault.ErrBadLine)
	}
	copy(r.ID[:], l.ID)
	copy(r.Prev[:], l.Prev)
	copy(r.Hash[:], l.Hash)
	at, err := time.Parse(time.RFC3339Nano, l.Time)
	if err != nil {
		return Record{}, fmt.Errorf("%w: time: %w", fault.ErrBadLine, err)
	}
	r.At = at.UTC()
	if err := r.Check(); err != nil {
		return Record{}, fmt.Errorf("%w: %w", fault.ErrBadLine, err)
	}
	if r.Sum() != r.Hash {
		return Record{}, fmt.Errorf("%w: %w: event %d", fault.ErrBadLine, errHash, r.Seq)
	}
	return r, nil
}
