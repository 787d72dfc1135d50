package main

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"
	"boat/hoveshort/config/record"
	"boat/hoveshort/provisions/quantity"
)

type reviewOptions struct {
	entries, json bool
	last          int
}

func newReviewCommand(c *call) *cobra.Command {
	var opts reviewOptions
	cmd := &cobra.Command{
		Use:   "review [N|last]",
		Short: "The sign-offs; with N or `last`: one read back in full, and computed again",
		Long: "The sign-offs: entry, date, name, passage and its first eight digits. With the number of\none, or `last`, all that was signed is read back, and it is computed again from\n" +
			"the definitions that were kept. --entries lists the last entries of the record." +
			exits(map[int]string{exitRefused: "no such sign-off, or computing it again gives other figures"}, exitDone, exitRefused, exitUnreadable, exitUsage),
		Example: "  hoveshort review\n  hoveshort review last\n  hoveshort review --entries --last 20",
		Args:    atMost(1),
		RunE:    do(func(args []string) error { return runReview(c, opts, args) }),
	}
	cmd.Flags().BoolVar(&opts.entries, "entries", false, "list the last entries")
	cmd.Flags().IntVar(&opts.last, "last", 40, "how many `entries` to list")
	cmd.Flags().BoolVar(&opts.json, "json", false, "print it as JSON")
	return cmd
}

// runReview reads the record alone: the boat's files of today may have mistakes.
func runReview(c *call, opts reviewOptions, args []string) error {
	if opts.entries && len(args) > 0 || opts.last < 1 {
		return usage("hoveshort review --entries --last 20", "--entries lists the last entries, and takes their number as --last")
	}
	p, err := c.place()
	if err != nil {
		return err
	}
	store := record.Open(p.dir)
	loaded, err := store.LoadAll()
	if err != nil {
		return coded(exitUnreadable, "", err)
	}
	c.tell(loaded.Notices)
	entries := loaded.Entries
	if p.until != nil {
		entries = slices.DeleteFunc(entries, func(e checklist.Entry) bool { return e.At.After(*p.until) })
	}
	switch {
	case opts.entries:
		return c.listEntries(entries, opts)
	case len(args) == 0:
		return c.listSigned(entries, opts.json)
	}
	return c.readBack(store, entries, args[0], opts.json)
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

func (c *call) listSigned(entries []checklist.Entry, asJSON bool) error {
	list := []signedJSON{}
	for _, e := range entries {
		if s, is := e.Act.(checklist.Sign); is {
			list = append(list, signedOf(e, s))
		}
	}
	if asJSON {
		return c.encode(struct {
			Format  int          `json:"format"`
			Signed  []signedJSON `json:"signed"`
			Entries int          `json:"entries"`
		}{1, list, len(entries)})
	}
	var r report
	if len(list) == 0 {
		r.line("nothing was signed yet; `hoveshort review --entries` lists the entries")
	}
	for _, s := range list {
		r.hang("", "    ", fmt.Sprintf("entry %d, %s, by %s: %s, digits %s", s.Entry, s.At.Format(longMoment), s.Name, s.Passage, s.Sum))
	}
	c.text.WriteString(r.String())
	return nil
}

// readBack reads a sign-off back in full, and computes it again.
func (c *call) readBack(store *record.Store, entries []checklist.Entry, which string, asJSON bool) error {
	i, err := findSigned(entries, which)
	if err != nil {
		return err
	}
	entry := entries[i]
	sign, _ := entry.Act.(checklist.Sign)
	units, differs, err := again(store, entries[:i], entry, sign)
	if err != nil {
		c.say("hoveshort: %s", err)
	}
	if err != nil || len(differs) > 0 {
		c.code = exitRefused
	}
	if asJSON {
		return c.encode(struct {
			Format int        `json:"format"`
			Signed signedJSON `json:"signed"`
			Frozen any        `json:"frozen"` // by the names in the record
			Same   bool       `json:"same"`   // computed again it gives the same
			Differ []string   `json:"differ"`
		}{1, signedOf(entry, sign), asKept(reflect.ValueOf(sign)), err == nil && len(differs) == 0, append([]string{}, differs...)})
	}
	var r report
	r.line("entry %d, %s, digits %.8s", entry.Seq, entry.At.Format(longMoment), entry.Sum)
	r.signed(sign, units)
	switch {
	case err != nil:
		r.line("it cannot be computed again: %s", err)
	case len(differs) > 0:
		r.line("COMPUTED AGAIN IT DIFFERS in: %s", strings.Join(differs, ", "))
	default:
		r.line("computed again from the definitions that were kept: the same")
	}
	c.text.WriteString(r.String())
	return nil
}

func findSigned(entries []checklist.Entry, which string) (int, error) {
	isSigned := func(e checklist.Entry) bool { _, is := e.Act.(checklist.Sign); return is }
	if which == "last" {
		for i, e := range slices.Backward(entries) {
			if isSigned(e) {
				return i, nil
			}
		}
		return 0, &problem{code: exitRefused, says: "nothing was signed yet"}
	}
	seq, err := strconv.Atoi(which)
	if err != nil {
		return 0, usage("write its number, or last", "%q is no number of an entry", which)
	}
	for i, e := range entries {
		if e.Seq == seq && isSigned(e) {
			return i, nil
		}
	}
	return 0, &problem{code: exitRefused, says: fmt.Sprintf("entry %d is no sign-off", seq), hint: "`hoveshort review` lists them"}
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
