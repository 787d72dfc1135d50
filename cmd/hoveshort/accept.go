package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

func newAcceptCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:     "accept ID REASON",
		Short:   "Accept a caution for the next sign-off, with a reason in your own words",
		Long:    "Accept a caution for the next sign-off alone, with a reason in your own words. `ready`\nlists the cautions with their ids." + actExits(),
		Example: "  hoveshort accept \"service:look at exchanger anode\" \"at anchor on Minerva, parts are aboard\"",
		Args:    atLeast(1),
		RunE:    do(func(args []string) error { return runAccept(c, opts, args) }),
	}
	opts.flags(cmd.Flags())
	return cmd
}

func runAccept(c *call, opts actOptions, words []string) error {
	return c.act(opts, func(m moment) (checklist.Act, error) {
		assessment := m.assess()
		isCaution := func(name string) bool {
			return slices.ContainsFunc(assessment.Cautions, func(c checklist.Caution) bool { return c.ID() == name || c.Name == name })
		}
		id, why, ok := splitName(words, isCaution)
		if whole := strings.Join(words, " "); !ok && isCaution(whole) {
			id = whole
		} else if !ok {
			id, why = words[0], strings.Join(words[1:], " ")
		}
		return assessment.NewAccept(id, why)
	})
}
