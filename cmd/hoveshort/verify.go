package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"boat/hoveshort/config/record"
)

func newVerifyCommand(c *call) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "verify",
		Short: "Look at the whole record, entry by entry",
		Long: "Look at the whole record, entry by entry, and at the definitions kept at each sign-off.\nIt finds damage and careless hands, not a forger who recomputes it all: for that compare\nthe last sum with a copy." +
			exits(map[int]string{exitDone: "the record is whole", exitRefused: "faults", exitUnreadable: "the record cannot be read"}, exitDone, exitRefused, exitUnreadable, exitUsage),
		Example: "  hoveshort verify\n  hoveshort --boat heron verify --json",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runVerify(c, asJSON) }),
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the result as JSON")
	return cmd
}

// faultJSON is a fault of the record for other programs.
type faultJSON struct {
	Page    string `json:"page"`
	Entry   int    `json:"entry"` // 0: the page as a whole
	Problem string `json:"problem"`
}

func runVerify(c *call, asJSON bool) error {
	p, err := c.place()
	if err != nil {
		return err
	}
	found, err := record.Verify(p.dir)
	if err != nil {
		return coded(exitUnreadable, "", err)
	}
	if len(found.Faults) > 0 {
		c.code = exitRefused
	}
	if asJSON {
		return c.encode(verifyJSON(found))
	}
	var r report
	r.line("%s", verifyVerdict(found))
	r.line("%s, %s, %d bytes", count(found.Pages, "page"), plural(found.Entries, "entry", "entries"), found.Bytes)
	if found.Last != "" {
		r.line("the last entry's first eight digits: %.8s", found.Last)
	}
	for _, f := range found.Faults {
		r.item(f.String())
	}
	c.text.WriteString(r.String())
	return nil
}

func verifyVerdict(found record.Report) string {
	switch {
	case len(found.Faults) > 0:
		return "the record is not whole: " + count(len(found.Faults), "fault")
	case found.Entries == 0:
		return "the record is empty: nothing was written yet"
	}
	return "the record is whole"
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func verifyJSON(found record.Report) any {
	told := struct {
		Format  int         `json:"format"`
		Whole   bool        `json:"whole"`
		Pages   int         `json:"pages"`
		Entries int         `json:"entries"`
		Bytes   int64       `json:"bytes"`
		Last    string      `json:"last"`
		Faults  []faultJSON `json:"faults"`
	}{1, len(found.Faults) == 0, found.Pages, found.Entries, found.Bytes, found.Last, []faultJSON{}}
	for _, f := range found.Faults {
		told.Faults = append(told.Faults, faultJSON{f.Page, f.Seq, f.Problem})
	}
	return told
}
