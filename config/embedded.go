package config

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

//go:embed starter demo
var embedded embed.FS

// Starter is the commented folder that a new boat begins with.
func Starter() fs.FS { return inside("starter") }

// Demo is the demo boat: a scenario of our own. Her fault cards are the starter's: what stands on them holds for any
// boat with a diesel.
func Demo() fs.FS { return borrowing{FS: inside("demo"), lender: inside("starter"), dir: faultsDir} }

func inside(dir string) fs.FS {
	sub, err := fs.Sub(embedded, dir)
	if err != nil {
		panic(err) // the folder is part of the program
	}
	return sub
}

// borrowing is a folder with one sub-folder that another folder lends it.
type borrowing struct {
	fs.FS
	lender fs.FS
	dir    string // the lent sub-folder; it is at the top of both, and not in the folder's own
}

// Open takes what is lent from the lender.
func (b borrowing) Open(name string) (fs.File, error) {
	if name == b.dir || strings.HasPrefix(name, b.dir+"/") {
		return b.lender.Open(name)
	}
	f, err := b.FS.Open(name)
	if top, isDir := f.(fs.ReadDirFile); err == nil && isDir && name == "." {
		return &borrowingTop{ReadDirFile: top, of: b}, nil
	}
	return f, err
}

// borrowingTop is the top of such a folder: its list names what is lent too.
type borrowingTop struct {
	fs.ReadDirFile
	of   borrowing
	told bool // what is lent was listed
}

// ReadDir lists what is lent before the rest; whoever wants names in order sorts them, as fs.ReadDir does.
func (t *borrowingTop) ReadDir(n int) ([]fs.DirEntry, error) {
	if t.told {
		return t.ReadDirFile.ReadDir(n)
	}
	t.told = true
	info, err := fs.Stat(t.of.lender, t.of.dir)
	if err != nil {
		return nil, err
	}
	lent := []fs.DirEntry{fs.FileInfoToDirEntry(info)}
	if n > 0 {
		return lent, nil
	}
	rest, err := t.ReadDirFile.ReadDir(n)
	return append(lent, rest...), err
}

// DemoMoment is the evening before the demo boat's departure, at which its clock
// begins: her stores, dates and season fit that evening and no other.
var DemoMoment = time.Date(2026, 10, 18, 17, 30, 0, 0, time.FixedZone("", 13*60*60))

// Init writes the files of a folder into dir, which it makes. It writes nothing
// where one of them is there already, and takes away again what it wrote where it
// cannot write them all.
func Init(dir string, files fs.FS) error {
	return initWith(dir, files, func(_, text string) string { return text })
}

// IsFree says why the files of a folder cannot be written into dir: one of them is there already.
func IsFree(dir string, files fs.FS) error {
	names, err := fileNames(files)
	if err != nil {
		return err
	}
	return isFree(dir, names)
}

func fileNames(files fs.FS) (names []string, err error) {
	err = fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			names = append(names, name)
		}
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("reading the starter: %w", err)
	}
	return names, nil
}

func isFree(dir string, names []string) error {
	for _, name := range names {
		if _, err := os.Lstat(filepath.Join(dir, name)); err == nil {
			return fmt.Errorf("%s is there already; nothing was written: name an empty or a new folder", filepath.Join(dir, name))
		} else if !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("looking into %s: %w", dir, err)
		}
	}
	return nil
}

// initWith is Init with each file changed on its way.
func initWith(dir string, files fs.FS, edit func(name, text string) string) error {
	names, err := fileNames(files)
	if err != nil {
		return err
	}
	if err := isFree(dir, names); err != nil {
		return err
	}
	for i, name := range names {
		if err := copyFile(dir, name, files, edit); err != nil {
			return errors.Join(err, removeFiles(dir, names[:i]))
		}
	}
	return nil
}

func removeFiles(dir string, names []string) error {
	var all error
	for _, name := range names {
		all = errors.Join(all, os.Remove(filepath.Join(dir, name)))
	}
	return all
}

func copyFile(dir, name string, files fs.FS, edit func(name, text string) string) error {
	text, err := fs.ReadFile(files, name)
	if err != nil {
		return fmt.Errorf("reading %s: %w", name, err)
	}
	at := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		return fmt.Errorf("making the folder of %s: %w", name, err)
	}
	f, err := os.OpenFile(at, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return fmt.Errorf("writing %s: %w", name, err)
	}
	if _, err := f.WriteString(edit(name, string(text))); err != nil {
		return errors.Join(fmt.Errorf("writing %s: %w", name, err), f.Close())
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("writing %s: %w", name, err)
	}
	return nil
}
