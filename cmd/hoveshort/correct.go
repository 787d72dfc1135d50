package main

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

func newCorrectCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:        "correct SEQ|last [REASON]",
		SuggestFor: []string{"undo", "revert", "strike"},
		Short:      "Take an entry as never written; it stays in the record",
		Long: "Take an entry as never written. It stays in the record, with the reason beside it.\n`review --entries` lists the last entries with their numbers.\n\n" +
			"correct last takes the last act of the open page back, asked again the one before it; the\nreason may be left out. A sign-off, leaving, coming in and a clock that was settled are not\n" +
			"taken back so, nor what another person (--by) wrote: they are named, and wait for their number." + actExits(),
		Example: "  hoveshort correct 12 wrong tank\n  hoveshort correct last\n  hoveshort correct last it was the starboard tank",
		Args:    atLeast(1),
		RunE:    do(func(args []string) error { return runCorrect(c, opts, args) }),
	}
	opts.flags(cmd.Flags())
	return cmd
}

// runCorrect looks for the entry in the whole record: the page that is open may only
// have brought it forward.
func runCorrect(c *call, opts actOptions, words []string) error {
	if strings.EqualFold(words[0], "last") {
		return c.takeBack(opts, strings.Join(words[1:], " "))
	}
	of, err := number(words[0], "an entry")
	if err != nil {
		return err
	}
	a, err := c.aboard()
	if err != nil {
		return err
	}
	all, err := a.store.LoadAll()
	if err != nil {
		return coded(exitUnreadable, "", err)
	}
	return c.actOn(a, opts, func(m moment) (checklist.Act, error) {
		return checklist.NewCorrect(append(all.Entries, m.entries...), of, strings.Join(words[1:], " "))
	})
}

// takeBack corrects the last act, as it is under the record's lock, and names it.
func (c *call) takeBack(opts actOptions, why string) error {
	a, err := c.aboard()
	if err != nil {
		return err
	}
	var last checklist.Entry
	w, err := a.append(func(m moment) (checklist.Act, error) {
		last, _ = checklist.LastAct(m.entries)
		return checklist.NewTakingBack(m.definitions, m.entries, c.by, 0, why)
	})
	if err != nil {
		return err
	}
	c.tell(w.notices)
	if !opts.json {
		c.text.WriteString("taken back: " + w.definitions.ActNamed(last) + "\n")
	}
	return c.wrote(w, opts.json)
}

func number(text, of string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0, usage("write the number alone, like 12", "%q is no number of %s", text, of)
	}
	return n, nil
}
