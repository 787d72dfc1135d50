package record

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"time"

	"boat/hoveshort/checklist"
)

// Append adds one act. Under the lock it reads what came since, lets decide see all entries of the state as it is now,
// numbers and writes the act that decide gives, and returns once it is on the disk. Loaded is the state after it.
// An error of decide is returned as it is. On an error nothing was added, unless the error says otherwise.
func (s *Store) Append(at time.Time, by string, decide func(entries []checklist.Entry) (checklist.Act, error)) (Loaded, error) {
	return s.AppendNow(func() time.Time { return at }, by, func(_ time.Time, entries []checklist.Entry) (checklist.Act, error) {
		return decide(entries)
	})
}

// AppendNow is Append at the moment that the clock tells once the lock is held. Of two programs that write at once, the
// one that had to wait would else write a time before the last entry's, which puts the clock in doubt.
func (s *Store) AppendNow(clock func() time.Time, by string, decide func(at time.Time, entries []checklist.Entry) (checklist.Act, error)) (Loaded, error) {
	s.mu.Lock()
	defer s.mu.Unlock()

	unlock, err := s.lockToWrite()
	if err != nil {
		return Loaded{}, err
	}
	loaded, err := s.appendLocked(clock(), by, decide)

	return loaded, cmp.Or(err, unlock())
}

// lockToWrite makes the record's folder where it is not there yet, and takes the lock.
func (s *Store) lockToWrite() (unlock func() error, err error) {
	if s.broken != nil {
		return nil, s.broken
	}
	err = s.disk.mkdir(s.path(folder))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &sentence{fmt.Sprintf("%s: there is no such boat folder; make one with `hoveshort init`", s.boat), err}
	}
	if err != nil {
		return nil, explainWrite(folder, err)
	}

	unlock, err = s.disk.lock(s.path(lockFile), toWrite, s.wait)
	if errors.Is(err, errHeld) {
		return nil, &sentence{fmt.Sprintf("another program has been writing the record for %s; nothing was written; "+
			"close it, or try again in a moment", s.wait), err}
	}
	if err != nil {
		return nil, explainWrite(lockFile, err)
	}

	return unlock, nil
}

func (s *Store) appendLocked(at time.Time, by string, decide func(time.Time, []checklist.Entry) (checklist.Act, error)) (Loaded, error) {
	v, err := s.read(fromCarry, nil)
	if err != nil {
		return Loaded{}, err
	}
	act, err := decide(at, v.entries())
	if err != nil {
		return Loaded{}, err
	}
	entry := checklist.Entry{At: at, By: by, Act: act}
	if _, is := act.(checklist.Carry); is {
		return Loaded{}, errors.New("a carry is the record's own entry; nothing was written")
	}

	w, err := s.compose(v, entry)
	if err != nil {
		return Loaded{}, fmt.Errorf("this act cannot be kept: %w; nothing was written", err)
	}
	notices, err := s.setAside(w)
	if err == nil {
		err = s.write(w)
	}
	if err != nil {
		return Loaded{Notices: notices}, err
	}

	after, err := s.read(fromCarry, nil)
	if err != nil {
		return Loaded{}, fmt.Errorf("the act is kept, but the record cannot be read back: %w", err)
	}
	loaded := after.loaded(nil)
	loaded.Notices = append(notices, loaded.Notices...)

	return loaded, nil
}

// writing is what will be added, and to which page.
type writing struct {
	number int
	size   int    // of the page before it, without what is torn
	torn   []byte // is cut off first
	seq    int    // the first number that is given out
	text   []byte
}

// compose makes the bytes that add the entry to the page that is open, or open a new one with it, and proves
// that they read back.
func (s *Store) compose(v view, entry checklist.Entry) (writing, error) {
	p := v.newest()
	switch {
	case p == nil:
		p = &page{number: 1, before: chainStart(), after: chainStart()}
	case p.isFull():
		p = &page{number: p.number + 1, before: p.after, after: p.after}
	}
	w := writing{number: p.number, size: p.whole, torn: p.torn(), seq: p.after.next()}
	if p.whole == 0 {
		w.text = []byte(pageHead)
	}

	entries := []checklist.Entry{entry}
	if earlier := v.entries(); p.pieces == 0 && len(earlier) > 0 {
		entries = []checklist.Entry{carryOf(earlier, entry.At), entry}
	}
	previous := p.after.sum()
	for i := range entries {
		entries[i].Seq = w.seq + i
		body, err := encodeEntry(entries[i])
		if err != nil {
			return writing{}, err
		}
		var text []byte
		text, previous = sealed(previous, body)
		w.text = append(w.text, text...)
	}

	return w, p.provesWith(w.text, entries)
}

// carryOf is the first entry of a new page.
func carryOf(earlier []checklist.Entry, at time.Time) checklist.Entry {
	return checklist.Entry{At: at, Act: checklist.Compact(earlier)}
}

// provesWith reads what is going to be written as it will be read ever after, and holds it against the entries.
func (p *page) provesWith(text []byte, entries []checklist.Entry) error {
	longer := *p
	longer.faults, longer.entries = nil, nil
	raw := slices.Concat(p.raw[:p.whole], text)
	if longer.whole == 0 {
		longer.whole = len(splitHead(raw))
	}
	longer.readOn(raw)
	if len(longer.faults) > 0 {
		return fmt.Errorf("it would not read back: %s", longer.faults[0].Problem)
	}
	if len(longer.entries) != len(entries) || len(longer.torn()) > 0 {
		return errors.New("it would not read back")
	}
	for i := range entries {
		meant, _ := encodeEntry(entries[i])
		if got, err := encodeEntry(longer.entries[i]); err != nil || !bytes.Equal(got, meant) {
			return errors.New("it would not read back as the same")
		}
	}

	return nil
}

// write puts the bytes on the disk, and takes back what it wrote where that does not succeed.
func (s *Store) write(w writing) error {
	name := pageName(w.number)
	f, err := s.disk.open(s.path(name), toAppend)
	if err != nil {
		return explainWrite(name, err)
	}
	if err := writeAll(f, w.text); err != nil {
		return explain(name, takeBack(f, w), err)
	}

	if err := f.Sync(); err != nil {
		takeBack(f, w)
		return s.breakOff(name, err)
	}
	err = f.Close()
	for _, dir := range s.foldersOf(w) {
		err = errors.Join(err, s.disk.syncDir(dir))
	}
	if err != nil {
		return s.breakOff(name, err)
	}

	return nil
}

// foldersOf are the folders whose names must be on the disk for the entry to be safe.
func (s *Store) foldersOf(w writing) []string {
	if w.number > 1 || w.size > 0 {
		return []string{s.path(folder)}
	}

	return []string{s.path(folder), s.boat}
}

// takeBack cuts the page to what it was, and says what came of the writing. Where even that fails, half an entry
// stays there and is set aside later.
func takeBack(f file, w writing) (outcome string) {
	if err := errors.Join(f.Truncate(int64(w.size)), f.Close()); err != nil {
		return fmt.Sprintf("what was begun could not be cut off again (%v): look whether the act is in the record", err)
	}

	return "nothing was written"
}

// breakOff ends all writing: after a failed sync the computer may believe that the bytes are on the disk when they
// are not, and a second try would only seem to succeed.
func (s *Store) breakOff(name string, err error) error {
	s.newest = nil
	s.broken = &sentence{fmt.Sprintf("%s: the disk did not confirm the last write (%v); that act is not safe, and nothing more is written. "+
		"Note it on paper, look at the disk, start the program again and see whether the act is there", name, err), err}

	return s.broken
}

// setAside keeps what is torn in a file of its own, and cuts it off the page.
func (s *Store) setAside(w writing) (notices []string, err error) {
	if len(w.torn) == 0 {
		return nil, nil
	}
	name, err := s.keepTorn(w)
	if err != nil {
		return nil, err
	}

	f, err := s.disk.open(s.path(pageName(w.number)), toAppend)
	if err != nil {
		return nil, explainWrite(pageName(w.number), err)
	}
	if err := f.Truncate(int64(w.size)); err != nil {
		return nil, explainWrite(pageName(w.number), errors.Join(err, f.Close()))
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return nil, s.breakOff(pageName(w.number), err)
	}

	return []string{fmt.Sprintf("The last entry in %s had been cut short; its %d bytes are now in %s. "+
		"Look whether that act must be made again.", pageName(w.number), len(w.torn), name)}, nil
}

// keepTorn writes the torn bytes to a file that is not there yet, or finds them in one from an earlier try.
func (s *Store) keepTorn(w writing) (name string, err error) {
	for try := 1; ; try++ {
		name = tornName(w, try)
		before, err := s.disk.read(s.path(name))
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return name, s.writeTorn(name, toCreate, w.torn)
		case err != nil:
			return "", explainRead(name, err)
		case bytes.Equal(before, w.torn):
			return name, s.writeTorn(name, toAppend, nil)
		}
	}
}

func tornName(w writing, try int) string {
	if try == 1 {
		return fmt.Sprintf("%s/torn-%04d-%d.toml", folder, w.number, w.seq)
	}

	return fmt.Sprintf("%s/torn-%04d-%d-%d.toml", folder, w.number, w.seq, try)
}

// writeTorn writes a new file, or syncs one that is there; what it could not write whole it removes.
func (s *Store) writeTorn(name string, how opening, text []byte) error {
	f, err := s.disk.open(s.path(name), how)
	if err != nil {
		return explainWrite(name, err)
	}
	if err := writeAll(f, text); err != nil {
		return explainWrite(name, errors.Join(err, f.Close(), s.disk.remove(s.path(name))))
	}
	if err := errors.Join(f.Sync(), f.Close(), s.disk.syncDir(s.path(folder))); err != nil {
		return s.breakOff(name, err)
	}

	return nil
}

// writeAll is one write; a short one is an error.
func writeAll(f file, text []byte) error {
	n, err := f.Write(text)
	if err == nil && n < len(text) {
		err = io.ErrShortWrite
	}

	return err
}
