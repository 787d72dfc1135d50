package main

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"
	"boat/hoveshort/config/record"
	"boat/hoveshort/provisions/quantity"
)

type reviewOptions struct {
	entries, json, rethink bool
	last, year             int
	find, export           string
}

func newReviewCommand(c *call) *cobra.Command {
	var opts reviewOptions
	cmd := &cobra.Command{
		Use:   "review [N|last] [M]",
		Short: "Past passages: as they were signed, and as they went",
		Long: "The passages and sign-offs: entry, date, name, passage and first eight digits. With the\nnumber of a sign-off or a departure, or `last`: what was signed is read back and computed\n" +
			"again from the definitions that were kept, and where she has left it is held against what\ncame of it. With two numbers: two passages side by side. --find and --year look for\n" +
			"passages by place, date (2026-06) or any word of their entries. --rethink lists what the\nrounds have become a habit of. --export writes all entries: jsonl as they stand, csv with\n" +
			"each entry in words; in csv a text that a spreadsheet would take for a formula gets an\napostrophe before it. A file that is there is never written over." +
			exits(map[int]string{exitRefused: "no such passage, or computing it again gives other figures"}, exitDone, exitRefused, exitUnreadable, exitNotWritten, exitUsage),
		Example: "  hoveshort review\n  hoveshort review last\n  hoveshort review --find Opua --year 2026\n  hoveshort review --rethink\n  hoveshort review --export csv log.csv\n  hoveshort review --entries --last 20",
		RunE: do(func(args []string) error {
			if opts.find != "" { // words need no quotes
				opts.find, args = strings.Join(append([]string{opts.find}, args...), " "), nil
			}
			return runReview(c, opts, args)
		}),
	}
	f := cmd.Flags()
	f.BoolVar(&opts.entries, "entries", false, "list the last entries")
	f.IntVar(&opts.last, "last", 40, "how many `entries` to list")
	f.StringVar(&opts.find, "find", "", "list the passages with these `words` in their entries")
	f.IntVar(&opts.year, "year", 0, "list the passages of a `year`")
	f.BoolVar(&opts.rethink, "rethink", false, "what the rounds have become a habit of")
	f.StringVar(&opts.export, "export", "", "write all entries as jsonl or csv (`format`), to the file that is named, or - for here")
	f.BoolVar(&opts.json, "json", false, "print it as JSON")
	return cmd
}

// mixed says that options do not go together.
func (o reviewOptions) mixed(args []string) error {
	lists := o.find != "" || o.year != 0
	kinds := 0
	for _, is := range []bool{o.entries, lists, o.rethink, o.export != ""} {
		if is {
			kinds++
		}
	}
	switch {
	case len(args) > 2:
		return usage("hoveshort review 12 45", "two passages are put side by side, no more")
	case o.entries && len(args) > 0 || o.last < 1:
		return usage("hoveshort review --entries --last 20", "--entries lists the last entries, and takes their number as --last")
	case kinds > 1:
		return usage("see `hoveshort review --help`", "--entries, --find with --year, --rethink and --export are each asked for alone")
	case (lists || o.rethink) && len(args) > 0:
		return usage("hoveshort review --year 2026", "--year and --rethink take no number of an entry")
	case o.year < 0:
		return usage("hoveshort review --year 2026", "%d is no year", o.year)
	case o.export != "" && (len(args) > 1 || o.json):
		return usage("hoveshort review --export csv log.csv", "--export takes one file, and no --json")
	}
	return nil
}

// runReview reads the record alone: the boat's files of today may have mistakes.
func runReview(c *call, opts reviewOptions, args []string) error {
	if err := opts.mixed(args); err != nil {
		return err
	}
	p, err := c.place()
	if err != nil {
		return err
	}
	store := record.Open(p.dir)
	switch {
	case opts.export != "":
		return c.export(store, p, opts.export, args)
	case opts.entries || opts.rethink:
		return c.reviewAll(store, p, opts)
	case len(args) == 0:
		return c.listPassages(store, p, opts)
	case len(args) == 2:
		return c.compare(store, p, args, opts.json)
	}
	return c.readBack(store, p, args[0], opts.json)
}

// reviewAll is what every entry is read for.
func (c *call) reviewAll(store *record.Store, p place, opts reviewOptions) error {
	loaded, err := store.LoadAll()
	if err != nil {
		return coded(exitUnreadable, "", err)
	}
	c.tell(loaded.Notices)
	entries := loaded.Entries
	if p.until != nil {
		entries = notAfter(entries, *p.until)
	}
	if opts.rethink {
		return c.rethink(entries, c.today(p), opts.json)
	}
	return c.listEntries(entries, opts)
}

// today are the boat's files as they are; where they have mistakes, none: the record is told all the same.
func (c *call) today(p place) checklist.Definitions {
	folder, err := config.Load(os.DirFS(p.dir))
	if err != nil {
		return checklist.Definitions{}
	}
	return folder.Definitions
}

func (c *call) listEntries(entries []checklist.Entry, opts reviewOptions) error {
	struck := checklist.Struck(entries)
	last := entries[max(0, len(entries)-opts.last):]
	told := []entryJSON{}
	for _, e := range last {
		told = append(told, entryJSON{e.Seq, e.At, e.Act.Kind(), e.By, checklist.Definitions{}.Words(e.Act), struck[e.Seq]})
	}
	if opts.json {
		return c.encode(struct {
			Format  int         `json:"format"`
			Entries []entryJSON `json:"entries"`
		}{1, told})
	}
	var r report
	if len(told) == 0 {
		r.line("the record is empty: nothing was written yet")
	}
	for _, e := range told {
		text := fmt.Sprintf("%d, %s: %s", e.Seq, e.At.Format(longMoment), e.Text)
		if e.By != "" {
			text += ", by " + e.By
		}
		if e.Corrected {
			text += " (counts as never written)"
		}
		r.hang("", "    ", text)
	}
	c.text.WriteString(r.String())
	return nil
}

// signedJSON is a sign-off in the list, for other programs.
type signedJSON struct {
	Entry   int       `json:"entry"`
	At      time.Time `json:"at"`
	Name    string    `json:"name"`
	Passage string    `json:"passage"`
	Depart  time.Time `json:"depart"`
	Sum     string    `json:"sum"` // its first eight digits
}

func signedOf(e checklist.Entry, s checklist.Sign) signedJSON {
	return signedJSON{e.Seq, e.At, s.Name, s.Passage, s.Depart, fmt.Sprintf("%.8s", e.Sum)}
}

// readBack reads a sign-off back in full, computes it again, and holds it against what came of it.
func (c *call) readBack(store *record.Store, p place, which string, asJSON bool) error {
	index, err := store.Passages(record.Wanted{Until: p.until})
	if err != nil {
		return coded(exitUnreadable, "", err)
	}
	h, err := findPassage(index, which)
	if err != nil {
		return err
	}
	c.tellFaults(index.Faults)
	loaded, err := store.Read(h.First, h.Last)
	if err != nil {
		return coded(exitUnreadable, "", err)
	}
	c.tell(loaded.Notices)
	told := readBackOf{heading: h, today: c.today(p)}
	if err := told.sign(store, loaded.Entries); err != nil {
		c.say("hoveshort: %s", err)
	}
	if told.signed != nil && (told.err != nil || len(told.differs) > 0) {
		c.code = exitRefused
	}
	if h.Depart > 0 {
		c.review(store, p, index, &told)
	}
	if asJSON {
		return c.encode(told.json())
	}
	var r report
	told.text(&r)
	c.text.WriteString(r.String())
	return nil
}

// again computes a sign-off from the definitions that were kept and the entries before
// it, and names the fields in which it differs.
func again(store *record.Store, before []checklist.Entry, entry checklist.Entry, sign checklist.Sign) (quantity.System, []string, error) {
	text, err := store.Definitions(sign.Definitions)
	if err != nil {
		return quantity.Metric, nil, err
	}
	folder, err := config.LoadBundle(text)
	if err != nil {
		return quantity.Metric, nil, fmt.Errorf("the definitions that were kept: %w", err)
	}
	units := folder.Definitions.Boat.Units
	m := moment{definitions: folder.Definitions, entries: before, state: checklist.Fold(before), now: entry.At}
	var depart time.Time
	if sign.Moved {
		depart = sign.Depart
	}
	recomputed, err := freeze(m, sign.Name, depart)
	if err != nil {
		return units, nil, errors.New("computed again she is not ready: " + err.Error())
	}
	return units, differences(sign, recomputed), nil
}
