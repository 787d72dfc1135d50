package main

import (
	"cmp"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/config"
)

// home is the boat of a session: every line of it is a command on her, and finds her so. Her files are read again only once
// one of them was changed: a line would else read them five times over.
type home struct {
	place
	by     string
	folder config.Folder // as it was read last
	stamp  string        // of the files then; "": never
	told   []string      // what the record had to say of itself
}

// isNews says that a notice was not told in this session; each is told once, not with every line.
func (h *home) isNews(notice string) bool {
	if slices.Contains(h.told, notice) {
		return false
	}
	h.told = append(h.told, notice)
	return true
}

// atHome is the place of a call that is a line of a session; --at on the line holds for it alone.
func (c *call) atHome(at *time.Time) (place, error) {
	if c.boat != "" {
		return place{}, usage("leave, and begin again with --boat", "this session is on %s", c.home.dir)
	}
	c.by = cmp.Or(c.by, c.home.by)
	p := c.home.place
	if at != nil {
		p.until, p.clock = at, func() time.Time { return *at }
	}
	return p, nil
}

// read gives a boat the files as they are.
func (h *home) read(a *aboard) error {
	stamp := stampOf(os.DirFS(a.dir))
	if stamp != "" && stamp == h.stamp {
		a.folder = h.folder
		return nil
	}
	if err := a.reload(); err != nil {
		return err
	}
	h.folder, h.stamp = a.folder, stamp
	return nil
}

// stampOf tells files from the same files changed: their names, sizes and times; "": it cannot be told. The record, which is
// the program's, is left out.
func stampOf(files fs.FS) string {
	var b strings.Builder
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && name == "record" {
			return fs.SkipDir
		}
		info, err := entry.Info()
		if err == nil {
			fmt.Fprintf(&b, "%s %d %d\n", name, info.Size(), info.ModTime().UnixNano())
		}
		return err
	})
	if err != nil {
		return ""
	}
	return b.String()
}
