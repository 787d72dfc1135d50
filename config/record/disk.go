package record

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"runtime"
	"syscall"
	"time"

	"github.com/gofrs/flock"
)

// disk is the file work that the record needs, all of it; tests put one in its place that fails or loses its power.
type disk interface {
	list(dir string) ([]string, error)
	read(name string) ([]byte, error)
	mkdir(dir string) error // there already: no error
	open(name string, how opening) (file, error)
	rename(from, to string) error
	remove(name string) error
	syncDir(dir string) error
	lock(name string, how locking, wait time.Duration) (unlock func() error, err error)
}

// file is what is written to.
type file interface {
	Write(text []byte) (int, error)
	Sync() error
	Truncate(size int64) error
	Close() error
}

// opening is how a file is opened; each way makes it where it is not there.
type opening int

const (
	toAppend  opening = iota
	toCreate          // an error where it is there already
	toReplace         // what was in it is gone
)

// locking is how a lock is held: by one who writes, or by any number who read.
type locking int

const (
	toWrite locking = iota
	toRead
)

var (
	errHeld     = errors.New("another program holds the record")
	errReadOnly = errors.New("read-only") // of a lock that was not needed, as nobody can write
)

// osDisk is the disk of the computer.
type osDisk struct{}

func (osDisk) list(dir string) ([]string, error) {
	found, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	names := make([]string, len(found))
	for i, f := range found {
		names[i] = f.Name()
	}

	return names, nil
}

// read refuses what is no regular file: a pipe would be waited for without end.
func (osDisk) read(name string) ([]byte, error) {
	at, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if !at.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "read", Path: name, Err: errors.New("it is no regular file")}
	}

	return os.ReadFile(name)
}

func (osDisk) mkdir(dir string) error {
	err := os.Mkdir(dir, 0o755)
	if errors.Is(err, fs.ErrExist) {
		return nil
	}

	return err
}

func (osDisk) open(name string, how opening) (file, error) {
	flags := map[opening]int{toAppend: os.O_APPEND, toCreate: os.O_EXCL, toReplace: os.O_TRUNC}[how]

	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|flags, 0o644)
}

func (osDisk) rename(from, to string) error { return os.Rename(from, to) }
func (osDisk) remove(name string) error     { return os.Remove(name) }

// syncDir puts the folder's list of names on the disk. Where a folder cannot be synced it is not needed.
func (osDisk) syncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = d.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil
	}

	return errors.Join(err, d.Close())
}

// lock holds the lock file, which is never deleted. errHeld: somebody else has it, even after waiting.
// To read, errReadOnly means that nothing there can be written, and so nobody does.
func (osDisk) lock(name string, how locking, wait time.Duration) (func() error, error) {
	const again = 3 * time.Millisecond
	l := flock.New(name, flock.SetFlag(os.O_RDWR|os.O_CREATE), flock.SetPermissions(0o644))
	try := l.TryLockContext
	if how == toRead {
		try = l.TryRLockContext
	}
	ctx, stop := context.WithTimeout(context.Background(), wait)
	defer stop()

	_, err := try(ctx, again)
	switch {
	case err == nil:
		return l.Unlock, nil
	case errors.Is(err, context.DeadlineExceeded):
		return nil, errHeld
	case how == toRead && isReadOnly(err):
		return nil, errReadOnly
	}

	return nil, fmt.Errorf("locking %s: %w", name, err)
}

func isReadOnly(err error) bool {
	return errors.Is(err, syscall.EROFS) || errors.Is(err, fs.ErrPermission)
}

// A sentence is an error that says first what it means for the skipper and what to do.
type sentence struct {
	says string
	err  error
}

func (s *sentence) Error() string { return s.says }
func (s *sentence) Unwrap() error { return s.err }

// explainWrite says why nothing could be written to name. The cause can be asked for with errors.Is.
func explainWrite(name string, err error) error { return explain(name, "nothing was written", err) }

// explain says why name could not be written, what came of it, and what to do.
func explain(name, outcome string, err error) error {
	problem, cure := err.Error(), "mend that and try again"
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		problem, cure = "no room on the disk", "free some space and try again"
	case isReadOnly(err):
		problem, cure = "it is read-only", "make the boat folder writable, or copy it to where it is"
	case errors.Is(err, syscall.EIO):
		problem, cure = "the disk reports an error", "copy the boat folder to another disk and go on there"
	}

	return &sentence{fmt.Sprintf("%s: %s; %s; %s", name, problem, outcome, cure), err}
}

// explainRead says why name could not be read.
func explainRead(name string, err error) error {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return &sentence{name + ": you may not read it; give yourself the right to", err}
	case errors.Is(err, syscall.EIO):
		return &sentence{name + ": the disk reports an error; copy what can still be read to another disk and go on there", err}
	}

	return &sentence{fmt.Sprintf("%s: it cannot be read: %v", name, err), err}
}
