// Package record keeps what was done aboard: one entry an act, in pages that are
// only ever added to. It is the only code that writes them.
//
// Words: a page is a file of entries; each entry is sealed by its sum, which
// chains it to the one before; a page opens with a carry, the state brought
// forward, so that the newest page is enough to start. An entry is whole when
// its sum line ends in a line end; what a power cut left after the last whole
// entry is torn, and is set aside before anything is added. A fault is a place
// that is not as it was written: it is told, and nothing is thrown away for it.
//
//	store := record.Open(boatDir)
//	loaded, err := store.Append(now, "", func(entries []checklist.Entry) (checklist.Act, error) {
//		return checklist.Sound{Tank: "port water", Level: "62 %"}, nil
//	})
//	state := checklist.Fold(loaded.Entries) // err is nil: it is on the disk
package record

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"sync"
	"time"

	"boat/hoveshort/checklist"
)

// Store is the record of one boat folder. It may be used by several goroutines, and by several programs at once.
type Store struct {
	boat string
	disk disk
	wait time.Duration // for the lock

	mu       sync.Mutex
	newest   *page   // as it was last read: only what came since is read anew
	previous pageEnd // of the page before it
	broken   error   // the disk did not confirm a write: nothing more is written until the record is opened again
}

// Open is the record below a boat folder. Nothing is read or made yet.
func Open(boatDir string) *Store {
	const patience = 5 * time.Second

	return &Store{boat: boatDir, disk: osDisk{}, wait: patience}
}

// Loaded is what a load found.
type Loaded struct {
	Entries []checklist.Entry // oldest first
	Notices []string          // sentences for the skipper: what is the matter with the record, and what to do
	Damage  []Fault
}

// Fault is a place where the record is not as it was written.
type Fault struct {
	Page    string // the file, relative to the boat folder
	Seq     int    // the entry; 0: the page as a whole
	Problem string
}

// String is the fault in one line.
func (f Fault) String() string {
	if f.Seq == 0 {
		return f.Page + ": " + f.Problem
	}

	return fmt.Sprintf("%s: entry %d: %s", f.Page, f.Seq, f.Problem)
}

// Load reads what the state of today needs: the newest page, whose carry stands for all before. Where one of its
// entries corrects one from before the page, every page is read. The error means that nothing can be said.
func (s *Store) Load() (Loaded, error) { return s.load(fromCarry, nil) }

// LoadAll reads every page. The carries are left out, as all that they stand for is there.
func (s *Store) LoadAll() (Loaded, error) { return s.load(fromStart, nil) }

// LoadUntil reads what the state at t needs: entries with At not after t only.
func (s *Store) LoadUntil(t time.Time) (Loaded, error) { return s.load(fromCarry, &t) }

func (s *Store) load(how reach, until *time.Time) (Loaded, error) {
	s.mu.Lock()
	defer s.mu.Unlock()

	if _, err := s.disk.list(s.path(folder)); errors.Is(err, fs.ErrNotExist) {
		return Loaded{}, nil
	}
	unlock, notices := s.lockToRead()
	v, err := s.read(how, until)
	if err := cmp.Or(err, unlock()); err != nil {
		return Loaded{}, err
	}

	loaded := v.loaded(until)
	loaded.Notices = append(notices, loaded.Notices...)

	return loaded, nil
}

// lockToRead keeps a writer away while the pages are read, so that a half-written entry is not taken for a torn one.
// Where that cannot be had, reading goes on without it.
func (s *Store) lockToRead() (unlock func() error, notices []string) {
	unlock, err := s.disk.lock(s.path(lockFile), toRead, s.wait)
	if err == nil {
		return unlock, nil
	}

	return func() error { return nil }, []string{unlockedNotice(err)}
}

func unlockedNotice(err error) string {
	switch {
	case errors.Is(err, errReadOnly):
		return "The record is read-only: you can look, but nothing that you do now can be kept. " +
			"Make the boat folder writable, or copy it to where it is."
	case errors.Is(err, errHeld):
		return "Another program is writing the record: what it writes just now may be missing here. Look again in a moment."
	default:
		return fmt.Sprintf("The record was read without its lock (%v): what another program writes just now may be missing here.", err)
	}
}

const lockFile = folder + "/.lock"

// path is a name in the boat folder as the disk knows it.
func (s *Store) path(name string) string { return filepath.Join(s.boat, filepath.FromSlash(name)) }
