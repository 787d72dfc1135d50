package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

func newDefectCommand(c *call) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "defect",
		Short:   "List the open defects; `defect close N REASON` closes one",
		Long:    "List the open defects, oldest first. A check that is not right opens one." + exits(nil, exitDone, exitUnreadable, exitUsage),
		Example: "  hoveshort defect\n  hoveshort defect close 12 new float switch, pumped dry twice",
		Args:    noSuchDefectCommand,
		RunE:    do(func([]string) error { return runDefect(c, asJSON) }),
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the defects as JSON")
	cmd.AddCommand(newDefectCloseCommand(c))
	return cmd
}

func noSuchDefectCommand(_ *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return usage("hoveshort defect, or: hoveshort defect close N REASON", "defect: %q is not known", args[0])
}

// defectJSON is an open defect for other programs.
type defectJSON struct {
	Number int             `json:"number"`
	Check  string          `json:"check"`
	What   string          `json:"what"`
	Grade  machinery.Grade `json:"grade"`
	Since  time.Time       `json:"since"`
}

func runDefect(c *call, asJSON bool) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	if asJSON {
		list := []defectJSON{}
		for _, d := range m.state.Defects {
			list = append(list, defectJSON{d.Seq, d.Check, d.What, d.Grade, d.At})
		}
		return c.encode(struct {
			Format  int          `json:"format"`
			Defects []defectJSON `json:"defects"`
		}{1, list})
	}
	var r report
	if len(m.state.Defects) == 0 {
		r.line("no open defects")
	}
	for _, d := range m.state.Defects {
		r.item(fmt.Sprintf("defect %d, grade %s: %s", d.Seq, d.Grade, d.Title()), defectUnder(d))
	}
	c.text.WriteString(r.String())
	return nil
}

func defectUnder(d checklist.Defect) string {
	text := "open since " + d.At.Format(longMoment)
	if d.Check != "" {
		text += ", found by the check " + d.Check
	}
	if d.RPM > 0 {
		text += fmt.Sprintf(", not above %d rpm", d.RPM)
	}
	return text
}

func newDefectCloseCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:     "close N REASON",
		Short:   "Close a defect, with what was done",
		Long:    "Close a defect, with what was done. Its check is asked again." + actExits(),
		Example: "  hoveshort defect close 12 new float switch, pumped dry twice",
		Args:    atLeast(1),
		RunE: do(func(args []string) error {
			n, err := number(args[0], "defect")
			if err != nil {
				return err
			}
			return c.act(opts, func(m moment) (checklist.Act, error) {
				return m.state.NewDefectClosing(n, strings.Join(args[1:], " "))
			})
		}),
	}
	opts.flags(cmd.Flags())
	return cmd
}
