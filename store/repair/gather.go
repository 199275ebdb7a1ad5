package repair

import (
	"errors"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"time"

	bolt "go.etcd.io/bbolt"

	"example.org/readback/store/chain"
	"example.org/readback/store/disk"
	"example.org/readback/store/fault"
	"example.org/readback/store/journal"
	"example.org/readback/store/pages"
	"example.org/readback/store/proof"
)

// Gathered tells what one chain of one book brought into an office book.
type Gathered struct {
	Book   string   // the file it was read from
	Name   string   // what the source is called in the office book
	ID     [32]byte // identity of the chain
	Events uint64   // events the book holds
	Added  uint64   // of which so many were new
	Notes  []string // what was found on opening the book
}

// Gather puts the chains of several books into the office book out, which is
// made if it is not there. Each chain stays whole and is proven on the way; a
// book gathered before adds only what is new. Nothing is changed when one of
// the books has a fault, or when a source holds another event under a number
// than it did before (ErrConflict, with both named).
//
// Several that gather into one file wait for each other, from reading it to
// giving it its name. What a killed run left there is cleared.
//
// watch, which may be nil, is told how many bytes of how many were worked on: each
// book is read twice, once to prove it, and the office book at the end.
func Gather(out string, watch proof.Watch, books ...string) ([]Gathered, error) {
	way := &way{watch: watch}
	for _, p := range books {
		way.add(p)
	}
	for _, p := range books {
		if SameFile(p, out) {
			return nil, &fault.Error{Path: p, What: fault.ErrExists, Detail: "a book cannot be gathered into itself", Do: "Name another file for the office book"}
		}
	}
	out = disk.Real(out)
	if err := fault.Nameable(out); err != nil {
		return nil, err
	}
	dir := filepath.Dir(out)
	if _, err := os.Stat(dir); errors.Is(err, os.ErrNotExist) {
		return nil, &fault.Error{Path: out, What: fault.ErrNoDirectory, Detail: dir, Do: "Make it first"}
	}
	release, err := disk.Lock(out+".gathering", gatherWait)
	if disk.Held(err) {
		return nil, &fault.Error{Path: out, What: fault.ErrInUse, Detail: "another program is gathering into it", Do: "Wait until it has ended"}
	}
	if err != nil {
		return nil, fault.OpenError(out, err)
	}
	defer release()
	disk.Sweep(out)
	tmp, err := officeCopy(out)
	if err != nil {
		return nil, err
	}
	defer os.Remove(tmp)
	list, err := fillOffice(tmp, out, books, way)
	if err == nil {
		err = checkGathered(tmp, list, way)
	}
	if err != nil {
		return nil, err
	}
	if err := os.Rename(tmp, out); err != nil {
		return nil, fault.OpenError(out, err)
	}
	return list, disk.SyncDir(dir)
}

// gatherWait is how long a gathering waits for the one before it.
const gatherWait = 2 * time.Minute

// fillOffice brings the chains of all books into the file tmp.
func fillOffice(tmp, out string, books []string, way *way) (list []Gathered, err error) {
	err = fault.Guarded(func() error {
		db, err := openFilling(tmp)
		if err != nil {
			return fault.OpenError(out, err)
		}
		for _, p := range books {
			var got []Gathered
			if got, err = gatherBook(db, out, p, way); err != nil {
				break
			}
			list = append(list, got...)
		}
		if err == nil {
			err = db.Sync()
		}
		if cerr := db.Close(); err == nil {
			err = cerr
		}
		return err
	})
	return list, err
}

// checkGathered reads the filled file once more and demands every chain that
// will be reported as gathered.
func checkGathered(tmp string, list []Gathered, way *way) error {
	b, err := proof.OpenWatched(tmp, way.leg(way.all))
	if err != nil {
		return err
	}
	defer b.Close()
	have := map[[32]byte]uint64{}
	for _, s := range b.Sources {
		last, _, _ := s.Last()
		have[s.ID()] = last.Seq
	}
	for _, g := range list {
		if have[g.ID] < g.Events {
			return &fault.Error{Path: tmp, What: fault.ErrDamaged, Detail: fmt.Sprintf("of %s %d of %d events were written", g.Name, have[g.ID], g.Events), Do: "Gather again"}
		}
	}
	return nil
}

// officeCopy gives a file beside out to work on: a copy of it, or a new office book.
func officeCopy(out string) (string, error) {
	tmp, err := disk.FreePath(out+".gathering-", "")
	if err != nil {
		return "", err
	}
	if _, err := os.Lstat(out); errors.Is(err, os.ErrNotExist) {
		if err := chain.MayCreate(out); err != nil {
			return "", err
		}
		return tmp, chain.Build(tmp, func(tx *bolt.Tx) error { return chain.WriteMeta(tx, [32]byte{}) }, nil)
	}
	b, err := proof.Open(out)
	if err != nil {
		return "", err
	}
	defer b.Close()
	if !b.Office {
		return "", &fault.Error{Path: out, What: fault.ErrExists, Detail: "it is a field book", Do: "Gather into a file of its own"}
	}
	head, err := pages.Look(out, false)
	if err == nil {
		err = disk.CopyFile(out, tmp, head.Size())
	}
	if err != nil {
		return "", fault.OpenError(out, err)
	}
	return tmp, nil
}

// openFilling opens a file that is being filled and synced once at the end.
func openFilling(path string) (*bolt.DB, error) {
	opt := *bolt.DefaultOptions
	opt.Timeout, opt.NoSync = chain.LockWait, true
	db, err := bolt.Open(path, 0o600, &opt)
	if err == nil {
		db.AllocSize = chain.GrowStep
	}
	return db, err
}

// gatherBook brings the chains of the book at path into db.
func gatherBook(db *bolt.DB, out, path string, way *way) ([]Gathered, error) {
	size := sizeOf(path)
	b, err := proof.OpenWatched(path, way.leg(size))
	if err != nil {
		return nil, err
	}
	defer b.Close()
	var list []Gathered
	said, read, all := way.leg(size), uint64(0), b.Events()
	for _, s := range b.Sources {
		g := Gathered{Book: path, Name: s.Name(), ID: s.ID(), Notes: b.Notes}
		if err := g.gather(db, out, s, func() { read++; said(read, all) }); err != nil {
			return nil, err
		}
		list = append(list, g)
	}
	return list, nil
}

// gather walks one source beside what the office book has of it.
func (g *Gathered) gather(db *bolt.DB, out string, s *proof.Source, one func()) error {
	err := db.Update(func(tx *bolt.Tx) error {
		sources, id := tx.Bucket(chain.BucketSources), s.ID()
		if name := sources.Get(id[:]); name != nil {
			g.Name = string(name)
		} else if err := sources.Put(id[:], []byte(s.Name())); err != nil {
			return err
		}
		return chain.MakeChain(tx, id)
	})
	next, stop := iter.Pull2(s.Records())
	defer stop()
	have := chain.SourceAt(s.ID(), g.Name, out)
	for more := true; more && err == nil; {
		err = db.Update(func(tx *bolt.Tx) error {
			c, err := have.In(tx)
			if err != nil {
				return err
			}
			for range chain.FillBatch {
				r, err, ok := next()
				if more = ok; !ok || err != nil {
					return err
				}
				one()
				if err := g.add(have, c, &r); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if err != nil || g.Added == 0 {
		return err
	}
	return g.takeDigests(db, have, s)
}

// add puts event r into the office book, or finds it there already.
func (g *Gathered) add(have *chain.Source, c chain.Buckets, r *journal.Record) error {
	g.Events = r.Seq
	if c.Records.Get(chain.SeqKey(r.Seq)) == nil {
		g.Added++
		return c.Put(r, journal.Encode(r), nil)
	}
	old, err := have.Get(c, r.Seq)
	if err != nil || old.Hash == r.Hash {
		return err
	}
	return &fault.Error{Path: g.Book, What: fault.ErrConflict, Do: "One of the two was booked on a copy of the book. Gather only one of them; nothing was changed",
		Detail: fmt.Sprintf("event %d of %s (%x): %s in %s, %s in %s", r.Seq, g.Name, g.ID[:4], describe(r), g.Book, describe(&old), have.Path())}
}

// describe names an event for a sentence.
func describe(r *journal.Record) string {
	return fmt.Sprintf("kind %d of setup %d at %s, hash %x", r.Kind, r.Group, r.At.Format("2006-01-02 15:04:05"), r.Hash[:4])
}

// takeDigests copies the summaries; those of the longer chain are the right ones.
func (g *Gathered) takeDigests(db *bolt.DB, have *chain.Source, s *proof.Source) error {
	for from := uint32(0); ; {
		list, err := s.Digests(from, chain.FillBatch)
		if err != nil || len(list) == 0 {
			return err
		}
		err = db.Update(func(tx *bolt.Tx) error {
			c, err := have.In(tx)
			for i := 0; i < len(list) && err == nil; i++ {
				err = c.SetDigest(list[i])
			}
			return err
		})
		from = list[len(list)-1].Group + 1
		if err != nil || from == 0 {
			return err
		}
	}
}
