package main

import (
	"errors"
	"fmt"
	"os"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"
	"boat/hoveshort/config/record"
)

// aboard is one boat folder, open: its definitions, its record, its clock. Commands and
// screens read and write through it alone.
type aboard struct {
	place
	folder config.Folder
	store  *record.Store
	by     string
}

// moment is all that is known when something is decided.
type moment struct {
	definitions checklist.Definitions
	entries     []checklist.Entry
	state       checklist.State
	now         time.Time
	notices     []string
}

// assess is the assessment of a moment.
func (m moment) assess() checklist.Assessment { return checklist.Assess(m.definitions, m.state, m.now) }

// aboard opens the boat folder: its files are read, and free of mistakes.
func (c *call) aboard() (*aboard, error) {
	p, err := c.place()
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(p.dir + "/boat.toml"); errors.Is(err, os.ErrNotExist) {
		return nil, coded(exitUnreadable, "name another folder with --boat, or begin one with: hoveshort init DIR", fmt.Errorf("%s holds no boat.toml", p.dir))
	}
	a := &aboard{place: p, store: record.Open(p.dir), by: c.by}
	return a, a.reload()
}

// reload reads the skipper's files again.
func (a *aboard) reload() error {
	folder, err := config.Load(os.DirFS(a.dir))
	if err != nil {
		return err
	}
	a.folder = folder
	return nil
}

// entries reads the record: with --at no further than then.
func (a *aboard) entries() (record.Loaded, error) {
	var loaded record.Loaded
	var err error
	if a.until != nil {
		loaded, err = a.store.LoadUntil(*a.until)
	} else {
		loaded, err = a.store.Load()
	}
	return loaded, coded(exitUnreadable, "", err)
}

// load is the moment as the files, the record and the clock tell it.
func (a *aboard) load() (moment, error) {
	loaded, err := a.entries()
	if err != nil {
		return moment{}, err
	}
	m := a.at(loaded.Entries, a.stamp())
	m.notices = loaded.Notices
	return m, nil
}

// stamp is the clock, to the second: what entries are written with.
func (a *aboard) stamp() time.Time { return a.clock().Truncate(time.Second) }

func (a *aboard) at(entries []checklist.Entry, now time.Time) moment {
	return moment{definitions: a.folder.Definitions, entries: entries, state: checklist.Fold(entries), now: now}
}

// written is what an append came to.
type written struct {
	moment // after it
	entry  checklist.Entry
	before moment // as it was decided on
}

// decision makes an act of the moment as it is under the record's lock.
type decision func(moment) (checklist.Act, error)

// errKeepFirst says that the definitions must be kept before a sign-off is written.
var errKeepFirst = errors.New("the definitions are not kept yet")

// append is the one way in which an act comes into the record. It decides under the
// record's lock, on all that is there then. Of a sign-off the definitions are kept first,
// so that no sign-off stands without them; they must be those that are on the disk.
func (a *aboard) append(decide decision) (written, error) {
	if _, err := a.store.Load(); err != nil {
		return written{}, coded(exitUnreadable, "", err)
	}
	w, err := a.appendOnce(decide, false)
	if !errors.Is(err, errKeepFirst) {
		return w, err
	}
	if err := a.keepDefinitions(); err != nil {
		return written{}, err
	}
	return a.appendOnce(decide, true)
}

func (a *aboard) appendOnce(decide decision, kept bool) (written, error) {
	var w written
	var refusal error
	at := a.stamp()
	loaded, err := a.store.Append(at, a.by, func(entries []checklist.Entry) (checklist.Act, error) {
		w.before = a.at(entries, at)
		act, err := decide(w.before)
		if _, signs := act.(checklist.Sign); err == nil && signs && !kept {
			err = errKeepFirst
		}
		refusal = err
		return act, err
	})
	switch {
	case refusal != nil:
		return written{}, refusal
	case err != nil:
		return written{}, coded(exitNotWritten, "", err)
	}
	w.moment = a.at(loaded.Entries, at)
	w.notices = loaded.Notices
	w.entry = loaded.Entries[len(loaded.Entries)-1]
	return w, nil
}

// keepDefinitions keeps the files as they are on the disk now, which must be what the
// sign-off was decided on.
func (a *aboard) keepDefinitions() error {
	now, err := config.Load(os.DirFS(a.dir))
	if err != nil {
		return err
	}
	if now.Definitions.Sum != a.folder.Definitions.Sum {
		return coded(exitRefused, "look at her again, then sign", errors.New("the boat's files were changed meanwhile; nothing was signed"))
	}
	return coded(exitNotWritten, "", a.store.KeepDefinitions(now.Definitions.Sum, now.Bundle()))
}
