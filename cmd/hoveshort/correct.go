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
		Use:     "correct SEQ REASON",
		Short:   "Take an entry as never written; it stays in the record",
		Long:    "Take an entry as never written. It stays in the record, with the reason beside it.\n`review --entries` lists the last entries with their numbers." + actExits(),
		Example: "  hoveshort correct 12 wrong tank",
		Args:    atLeast(1),
		RunE:    do(func(args []string) error { return runCorrect(c, opts, args) }),
	}
	opts.flags(cmd.Flags())
	return cmd
}

// runCorrect looks for the entry in the whole record: the page that is open may only
// have brought it forward.
func runCorrect(c *call, opts actOptions, words []string) error {
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

func number(text, of string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0, usage("write the number alone, like 12", "%q is no number of %s", text, of)
	}
	return n, nil
}
