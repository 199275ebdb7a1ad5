package store

import (
	"bytes"
	"errors"
	"io"
	"reflect"
	"strings"
	"testing"
	"testing/quick"
	"time"

	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/pages"
)

// sampleRecord is a sealed record with something in every field.
func sampleRecord() journal.Record {
	r := journal.Record{Seq: 7, ID: testID(7), At: time.Date(2026, 5, 4, 7, 12, 9, 250_000_001, time.UTC), Kind: 3, Version: 1, Group: 2,
		Body: []byte(`{"text":"12 34 56","remark":"wind <&> \u001b[2J","n":-1.50e2}`), Prev: [32]byte{1, 2, 3}}
	r.Hash = r.Sum()
	return r
}

// Ensure that a record survives both ways of keeping it, for any content, and
// that a field added later is not forgotten by them.
func TestRecord_RoundTrips(t *testing.T) {
	fields := reflect.TypeFor[journal.Record]().NumField()
	if fields != 9 {
		t.Fatalf("Record has %d fields; teach the codec, the line and this test the new one", fields)
	}
	check := func(seq uint64, id [16]byte, sec int32, nano uint32, kind uint16, version uint8, group uint32, text string, prev [32]byte) bool {
		text = strings.ToValidUTF8(text, "?")
		body := []byte(`"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(strings.Map(func(r rune) rune {
			if r < 0x20 {
				return -1
			}
			return r
		}, text)) + `"`)
		r := journal.Record{Seq: seq | 1, ID: id, At: time.Unix(int64(sec)*10, int64(nano%1e9)).UTC(), Kind: kind | 1, Version: version, Group: group, Body: body, Prev: prev}
		kept, err := journal.Decode(journal.Encode(&r))
		if err != nil || !reflect.DeepEqual(kept, r) {
			t.Log(err, kept, r)
			return false
		}
		line, err := journal.ParseLine(journal.AppendLine(nil, r))
		if err != nil || !reflect.DeepEqual(line, r) {
			t.Log(err, line, r)
			return false
		}
		return true
	}
	if err := quick.Check(check, &quick.Config{MaxCount: 500}); err != nil {
		t.Error(err)
	}
}

// Ensure that every changed byte of a kept record is noticed.
func TestRecord_EveryByteCounts(t *testing.T) {
	r := sampleRecord()
	b := journal.Encode(&r)
	for i := range b {
		for bit := range 8 {
			b[i] ^= 1 << bit
			if _, err := journal.Decode(b); err == nil {
				t.Errorf("bit %d of byte %d changed, and nothing noticed", bit, i)
			}
			b[i] ^= 1 << bit
		}
	}
}

func FuzzJournalLine(f *testing.F) {
	r := sampleRecord()
	line := journal.AppendLine(nil, r)
	f.Add(line)
	f.Add(line[:len(line)/2])
	f.Add([]byte(`{"seq":1}`))
	f.Add([]byte("null"))
	f.Add([]byte(strings.Repeat("[", 20000)))
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := journal.ParseLine(text)
		if err != nil {
			if !errors.Is(err, fault.ErrBadLine) {
				t.Fatalf("an error of another sort: %v", err)
			}
			return
		}
		again, err := journal.ParseLine(journal.AppendLine(nil, r))
		if err != nil || !reflect.DeepEqual(again, r) {
			t.Fatalf("%v\n%+v\n%+v", err, r, again)
		}
		if r.Sum() != r.Hash {
			t.Fatal("a line was taken whose hash is wrong")
		}
	})
}

func FuzzJournal(f *testing.F) {
	var whole []byte
	prev := [32]byte{9}
	for seq := uint64(1); seq <= 3; seq++ {
		r := sampleRecord()
		r.Seq, r.Prev = seq, prev
		r.Hash = r.Sum()
		whole, prev = journal.AppendLine(whole, r), r.Hash
	}
	f.Add(whole)
	f.Add(whole[:len(whole)-30])
	f.Add(bytes.Replace(whole, []byte("\n"), []byte("\r\n"), -1))
	f.Add(append(bytes.Clone(whole), make([]byte, 50)...))
	f.Add(append(bytes.Clone(whole), whole...))
	f.Fuzz(func(t *testing.T, data []byte) {
		var last journal.Record
		for r, err := range journal.Read(bytes.NewReader(data)) {
			if err != nil {
				if !errors.Is(err, fault.ErrTorn) && !errors.Is(err, fault.ErrBadLine) && !errors.Is(err, fault.ErrChain) {
					t.Fatalf("an error of another sort: %v", err)
				}
				return
			}
			if r.Seq != last.Seq+1 || last.Seq > 0 && r.Prev != last.Hash {
				t.Fatalf("event %d was let through behind event %d", r.Seq, last.Seq)
			}
			last = r
		}
	})
}

func FuzzRecord(f *testing.F) {
	r := sampleRecord()
	f.Add(journal.Encode(&r))
	f.Add([]byte(journal.Magic))
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := journal.Decode(b)
		if err != nil {
			return
		}
		if again := journal.Encode(&r); !bytes.Equal(again, b) {
			t.Fatalf("%x\n%x", b, again)
		}
	})
}

// FuzzHead feeds the pages of a small book with a piece written over to what
// looks at them before bbolt does.
func FuzzHead(f *testing.F) {
	f.Add(uint16(0), []byte{1, 2, 3})
	f.Add(uint16(4096*2+8), []byte{0xFF})
	page := make([]byte, 4096*4)
	f.Fuzz(func(t *testing.T, at uint16, piece []byte) {
		b := bytes.Clone(page)
		copy(b[int(at)%len(b):], piece)
		r := bytes.NewReader(b)
		_, _ = pages.ReadHead(r, "b", int64(len(b)))
		_ = pages.CheckTree(r, pages.Head{PageSize: 4096, HighWater: 4, Root: 2, Freelist: 3}, true)
		_ = pages.CheckTree(io.NewSectionReader(r, 0, int64(at)), pages.Head{PageSize: 1024, HighWater: 16, Root: uint64(at % 16), Freelist: 2}, false)
	})
}
