package main

import (
	"errors"
	"fmt"
	"os"
	"sync"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"
	"boat/hoveshort/config/record"
)

// aboard is one boat folder, open: its definitions, its record, its clock. Commands and
// screens read and write through it alone.
type aboard struct {
	place
	mu     sync.Mutex // of folder: the screens read the files again while something is written
	folder config.Folder
	store  *record.Store
	by     string
}

// definitions are those that were read last.
func (a *aboard) definitions() checklist.Definitions {
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.folder.Definitions
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
	if c.home != nil {
		return a, c.home.read(a)
	}
	return a, a.reload()
}

// reload reads the skipper's files again.
func (a *aboard) reload() error {
	folder, err := config.Load(os.DirFS(a.dir))
	if err != nil {
		return err
	}
	a.mu.Lock()
	defer a.mu.Unlock()
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

// look opens the boat folder and gives the moment, for a report: what the record has to
// say of itself is told.
func (c *call) look() (moment, error) {
	a, err := c.aboard()
	if err != nil {
		return moment{}, err
	}
	m, err := a.load()
	if err != nil {
		return moment{}, err
	}
	c.tell(m.notices)
	return m, nil
}

// stamp is the clock, to the second: what entries are written with. It keeps the boat's
// time, which is the departure's offset, whatever zone the laptop is set to; --at stays as
// it was typed.
func (a *aboard) stamp() time.Time {
	now := a.clock().Truncate(time.Second)
	if a.until != nil {
		return now
	}
	return now.In(a.definitions().Plan.Depart.Location())
}

func (a *aboard) at(entries []checklist.Entry, now time.Time) moment {
	state := checklist.Fold(entries)
	return moment{definitions: a.definitions().AsSailed(state), entries: entries, state: state, now: now}
}

// written is what an append came to.
type written struct {
	moment // after it
	entry  checklist.Entry
	before moment // as it was decided on
}

// decision makes an act of the moment as it is under the record's lock.
type decision func(moment) (checklist.Act, error)

// keepFirst says that the definitions of this sum must be kept before a sign-off is written.
type keepFirst struct{ sum string }

func (k keepFirst) Error() string { return "the definitions are not kept yet" }

// append is the one way in which an act comes into the record. It decides under the
// record's lock, on all that is there then. Of a sign-off, and of leaving, the definitions are
// kept first, so that neither stands without them; they must be those that are on the disk.
func (a *aboard) append(decide decision) (written, error) {
	if _, err := a.store.Load(); err != nil {
		return written{}, coded(exitUnreadable, "", err)
	}
	var keep keepFirst
	w, err := a.appendOnce(decide, "")
	if !errors.As(err, &keep) {
		return w, err
	}
	if err := a.keepDefinitions(keep.sum); err != nil {
		return written{}, err
	}
	w, err = a.appendOnce(decide, keep.sum)
	if errors.As(err, &keep) {
		err = errChanged()
	}
	return w, err
}

// appendOnce appends what decide makes of the moment at which the record's lock is held;
// kept is the sum of the definitions that are kept.
func (a *aboard) appendOnce(decide decision, kept string) (written, error) {
	var w written
	var refusal error
	loaded, err := a.store.AppendNow(a.stamp, a.by, func(at time.Time, entries []checklist.Entry) (checklist.Act, error) {
		w.before = a.at(entries, at)
		act, err := decide(w.before)
		if sum := definitionsOf(act); err == nil && sum != "" && sum != kept {
			err = keepFirst{sum}
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
	w.moment = w.before
	w.entries, w.state = loaded.Entries, checklist.Fold(loaded.Entries)
	w.definitions = a.definitions().AsSailed(w.state)
	w.notices = loaded.Notices
	w.entry = loaded.Entries[len(loaded.Entries)-1]
	return w, nil
}

// definitionsOf is the sum of the definitions that an act stands on: a sign-off, and leaving.
func definitionsOf(act checklist.Act) string {
	switch a := act.(type) {
	case checklist.Sign:
		return a.Definitions
	case checklist.Depart:
		return a.Definitions
	}
	return ""
}

// keepDefinitions keeps the files as they are on the disk now, which must be what the
// sign-off was decided on: their sum is the one that stands in it.
func (a *aboard) keepDefinitions(sum string) error {
	now, err := config.Load(os.DirFS(a.dir))
	if err != nil {
		return err
	}
	if now.Definitions.Sum != sum {
		return errChanged()
	}
	return coded(exitNotWritten, "", a.store.KeepDefinitions(now.Definitions.Sum, now.Bundle()))
}

func errChanged() error {
	return coded(exitRefused, "look at her again, then sign", errors.New("the boat's files were changed meanwhile; nothing was signed"))
}
