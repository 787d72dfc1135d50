package main

import (
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

func newEventCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:     "event WHAT",
		Short:   "Write down something that happened and may void answers",
		Long:    "Write down something that happened and may void answers, in the words that the checks\nuse (void_by in rounds/*.toml)." + actExits(),
		Example: "  hoveshort event engine stopped\n  hoveshort event \"anchor used\"",
		Args:    atLeast(1),
		RunE:    do(func(args []string) error { return runEvent(c, opts, args) }),
	}
	opts.flags(cmd.Flags())
	return cmd
}

func runEvent(c *call, opts actOptions, words []string) error {
	return c.act(opts, func(m moment) (checklist.Act, error) { return m.definitions.NewEvent(strings.Join(words, " ")) })
}
