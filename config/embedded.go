package config

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

//go:embed starter demo
var embedded embed.FS

// Starter is the commented folder that a new boat begins with.
func Starter() fs.FS { return inside("starter") }

// Demo is the demo boat: a scenario of our own.
func Demo() fs.FS { return inside("demo") }

func inside(dir string) fs.FS {
	sub, err := fs.Sub(embedded, dir)
	if err != nil {
		panic(err) // the folder is part of the program
	}
	return sub
}

// DemoMoment is the evening before the demo boat's departure, at which its clock
// begins: her stores, dates and season fit that evening and no other.
var DemoMoment = time.Date(2026, 10, 18, 17, 30, 0, 0, time.FixedZone("", 13*60*60))

// Init writes the files of a folder into dir, which it makes. It writes nothing
// where one of them is there already, and takes away again what it wrote where it
// cannot write them all.
func Init(dir string, files fs.FS) error {
	var names []string
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			names = append(names, name)
		}
		return err
	})
	if err != nil {
		return fmt.Errorf("reading the starter: %w", err)
	}
	for _, name := range names {
		if _, err := os.Lstat(filepath.Join(dir, name)); err == nil {
			return fmt.Errorf("%s is there already; nothing was written: name an empty or a new folder", filepath.Join(dir, name))
		} else if !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("looking into %s: %w", dir, err)
		}
	}
	for i, name := range names {
		if err := copyFile(dir, name, files); err != nil {
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

func copyFile(dir, name string, files fs.FS) error {
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
	if _, err := f.Write(text); err != nil {
		return errors.Join(fmt.Errorf("writing %s: %w", name, err), f.Close())
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("writing %s: %w", name, err)
	}
	return nil
}
