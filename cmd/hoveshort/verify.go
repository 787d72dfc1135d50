package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/config/record"
)

func newVerifyCommand(c *call) *cobra.Command {
	var asJSON, verbose bool
	cmd := &cobra.Command{
		Use:   "verify",
		Short: "Look at the whole record, entry by entry",
		Long: "Look at the whole record, entry by entry, and at the definitions kept at each sign-off.\nIt finds damage and careless hands, not a forger who recomputes it all: for that compare\nthe last sum with a copy. --verbose tells how fast it went." +
			exits(map[int]string{exitDone: "the record is whole", exitRefused: "faults", exitUnreadable: "the record cannot be read"}, exitDone, exitRefused, exitUnreadable, exitUsage),
		Example: "  hoveshort verify\n  hoveshort --boat heron verify --json",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runVerify(c, asJSON, verbose) }),
	}
	cmd.Flags().BoolVar(&verbose, "verbose", false, "tell how long it took, and the MB a second")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the result as JSON")
	return cmd
}

// faultJSON is a fault of the record for other programs.
type faultJSON struct {
	Page    string `json:"page"`
	Entry   int    `json:"entry"` // 0: the page as a whole
	Problem string `json:"problem"`
}

func runVerify(c *call, asJSON, verbose bool) error {
	p, err := c.place()
	if err != nil {
		return err
	}
	begun := time.Now()
	found, err := record.Verify(p.dir)
	took := time.Since(begun).Seconds()
	if err != nil {
		return coded(exitUnreadable, "", err)
	}
	if len(found.Faults) > 0 {
		c.code = exitRefused
	}
	if asJSON {
		return c.encode(verifyJSON(found, took, verbose))
	}
	var r report
	r.line("%s", verifyVerdict(found))
	r.line("%s, %s, %d bytes", count(found.Pages, "page"), plural(found.Entries, "entry", "entries"), found.Bytes)
	if found.Last != "" {
		r.line("the last entry's first eight digits: %.8s", found.Last)
	}
	if verbose {
		r.line("%.1f MB in %.2f s: %.1f MB/s", float64(found.Bytes)/1e6, took, speed(found, took))
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

// speed is in MB (a million bytes) a second.
func speed(found record.Report, seconds float64) float64 {
	return float64(found.Bytes) / 1e6 / max(seconds, 1e-6)
}

func verifyJSON(found record.Report, took float64, verbose bool) any {
	told := struct {
		Format  int         `json:"format"`
		Whole   bool        `json:"whole"`
		Pages   int         `json:"pages"`
		Entries int         `json:"entries"`
		Bytes   int64       `json:"bytes"`
		Last    string      `json:"last"`
		Faults  []faultJSON `json:"faults"`
		Seconds *float64    `json:"seconds,omitempty"`  // with --verbose
		Speed   *float64    `json:"mb_per_s,omitempty"` // with --verbose
	}{Format: 1, Whole: len(found.Faults) == 0, Pages: found.Pages, Entries: found.Entries, Bytes: found.Bytes, Last: found.Last, Faults: []faultJSON{}}
	if verbose {
		mb := speed(found, took)
		told.Seconds, told.Speed = &took, &mb
	}
	for _, f := range found.Faults {
		told.Faults = append(told.Faults, faultJSON{f.Page, f.Seq, f.Problem})
	}
	return told
}
