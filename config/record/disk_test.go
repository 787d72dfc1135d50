package record

import (
	"errors"
	"io/fs"
	"maps"
	"math/rand/v2"
	"path"
	"slices"
	"sync"
	"syscall"
	"time"
)

// memDisk is a disk in memory that keeps apart what a program sees and what a
// power cut would leave: a file's bytes are safe once it is synced, its name once
// its folder is. It can fail the operation `failAt`, or lose its power after it.
type memDisk struct {
	mu    sync.Mutex
	dirs  map[string]*memDir
	ops   int
	trace []string

	failAt   int // 0: never
	failWith error
	short    bool // a write that fails has written half
	cutAfter int  // 0: never; after this operation nothing more happens
}

type memDir struct{ live, safe map[string]any } // *memFile or *memDir

type memFile struct{ live, safe []byte }

var errPower = errors.New("the power is out")

const memBoat = "boat"

func newMemDisk() *memDisk {
	return &memDisk{dirs: map[string]*memDir{memBoat: newMemDir()}}
}

func newMemDir() *memDir { return &memDir{live: map[string]any{}, safe: map[string]any{}} }

// does counts an operation and tells whether it happens.
func (d *memDisk) does(what string) error {
	d.ops++
	d.trace = append(d.trace, what)
	if d.cutAfter > 0 && d.ops > d.cutAfter {
		return errPower
	}
	if d.ops == d.failAt {
		return &fs.PathError{Op: what, Path: what, Err: d.failWith}
	}

	return nil
}

func (d *memDisk) parent(name string) (*memDir, string, error) {
	dir, there := d.dirs[path.Dir(name)]
	if !there {
		return nil, "", &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}

	return dir, path.Base(name), nil
}

func (d *memDisk) list(dir string) ([]string, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	at, there := d.dirs[dir]
	if !there {
		return nil, &fs.PathError{Op: "list", Path: dir, Err: fs.ErrNotExist}
	}

	return slices.Sorted(maps.Keys(at.live)), nil
}

func (d *memDisk) read(name string) ([]byte, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	dir, base, err := d.parent(name)
	if err != nil {
		return nil, err
	}
	f, is := dir.live[base].(*memFile)
	if !is {
		return nil, &fs.PathError{Op: "read", Path: name, Err: fs.ErrNotExist}
	}

	return slices.Clone(f.live), nil
}

func (d *memDisk) mkdir(name string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.does("mkdir " + name); err != nil {
		return err
	}
	dir, base, err := d.parent(name)
	if err != nil || d.dirs[name] != nil {
		return err
	}
	d.dirs[name] = newMemDir()
	dir.live[base] = d.dirs[name]

	return nil
}

func (d *memDisk) open(name string, how opening) (file, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.does("open " + name); err != nil {
		return nil, err
	}
	dir, base, err := d.parent(name)
	if err != nil {
		return nil, err
	}
	f, there := dir.live[base].(*memFile)
	switch {
	case there && how == toCreate:
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrExist}
	case !there:
		f = &memFile{}
		dir.live[base] = f
	case how == toReplace:
		f.live = nil
	}

	return &memHandle{d, f, name}, nil
}

func (d *memDisk) rename(from, to string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.does("rename " + from); err != nil {
		return err
	}
	dir, base, _ := d.parent(from)
	dir.live[path.Base(to)] = dir.live[base]
	delete(dir.live, base)

	return nil
}

func (d *memDisk) remove(name string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.does("remove " + name); err != nil {
		return err
	}
	dir, base, _ := d.parent(name)
	delete(dir.live, base)

	return nil
}

func (d *memDisk) syncDir(name string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.does("syncDir " + name); err != nil {
		return err
	}
	dir := d.dirs[name]
	dir.safe = maps.Clone(dir.live)

	return nil
}

func (d *memDisk) lock(string, locking, time.Duration) (func() error, error) {
	return func() error { return nil }, nil
}

type memHandle struct {
	disk *memDisk
	file *memFile
	name string
}

func (h *memHandle) Write(text []byte) (int, error) {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	if err := h.disk.does("write " + h.name); err != nil {
		n := 0
		if h.disk.short && !errors.Is(err, errPower) {
			n = len(text) / 2
			h.file.live = slices.Concat(h.file.live, text[:n])
		}
		return n, err
	}
	h.file.live = slices.Concat(h.file.live, text)

	return len(text), nil
}

// Sync that fails leaves the bytes where they are and unsafe, and the next Sync does not mend that: as Linux does it.
func (h *memHandle) Sync() error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	if err := h.disk.does("sync " + h.name); err != nil {
		return err
	}
	h.file.safe = slices.Clone(h.file.live)

	return nil
}

func (h *memHandle) Truncate(size int64) error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	if err := h.disk.does("truncate " + h.name); err != nil {
		return err
	}
	h.file.live = slices.Clone(h.file.live[:size])

	return nil
}

func (h *memHandle) Close() error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()

	return h.disk.does("close " + h.name)
}

// survival is what a power cut leaves of what was not synced.
type survival int

const (
	nothing survival = iota
	everything
	somePrefix // of each file's new bytes, and some of the names
	someZeros  // as somePrefix, with the rest of the length as zeros
)

// afterCut is the disk as it is found when the power is back.
func (d *memDisk) afterCut(left survival, r *rand.Rand) *memDisk {
	found := &memDisk{dirs: map[string]*memDir{}}
	found.keep(memBoat, d.dirs[memBoat], left, r)

	return found
}

func (d *memDisk) keep(name string, dir *memDir, left survival, r *rand.Rand) {
	kept := newMemDir()
	d.dirs[name] = kept
	for _, base := range slices.Sorted(maps.Keys(dir.names(left, r))) {
		switch f := dir.names(everything, r)[base].(type) {
		case *memDir:
			d.keep(name+"/"+base, f, left, r)
			kept.live[base] = d.dirs[name+"/"+base]
		case *memFile:
			text := f.kept(left, r)
			kept.live[base] = &memFile{live: text, safe: text}
		}
	}
	kept.safe = maps.Clone(kept.live)
}

// names are the names that are left; everything gives all that any outcome may need.
func (d *memDir) names(left survival, r *rand.Rand) map[string]any {
	if left == nothing {
		return d.safe
	}
	all := maps.Clone(d.safe)
	maps.Copy(all, d.live)
	if left == everything {
		return all
	}
	maps.DeleteFunc(all, func(name string, _ any) bool {
		_, safe := d.safe[name]
		_, live := d.live[name]
		return safe != live && r.IntN(2) == 0
	})

	return all
}

// kept are the bytes of a file that are left.
func (f *memFile) kept(left survival, r *rand.Rand) []byte {
	common := 0
	for common < min(len(f.safe), len(f.live)) && f.safe[common] == f.live[common] {
		common++
	}
	switch {
	case left == nothing:
		return slices.Clone(f.safe)
	case left == everything:
		return slices.Clone(f.live)
	case common == len(f.live): // cut shorter, or the same: the old length or the new one
		if r.IntN(2) == 0 {
			return slices.Clone(f.safe)
		}
		return slices.Clone(f.live)
	}

	fresh := f.live[common:]
	n := r.IntN(len(fresh) + 1)
	text := slices.Concat(f.live[:common], fresh[:n])
	if left == someZeros {
		text = append(text, make([]byte, len(fresh)-n)...)
	}

	return text
}

// failures are the errors that a disk gives.
var failures = []error{syscall.ENOSPC, syscall.EIO, syscall.EROFS}
