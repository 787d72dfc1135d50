package main

import (
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

func newClockCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:   "clock REASON",
		Short: "Say that the clock is right, after it was in doubt",
		Long: "Say that the clock is right from here on, after it stood behind the last entry or far\nahead of it. Answers from the doubtful span are asked again. Set the clock first if it\nis wrong." +
			actExits(),
		Example: "  hoveshort clock set by GPS",
		Args:    atLeast(1),
		RunE: do(func(args []string) error {
			return c.act(opts, func(m moment) (checklist.Act, error) {
				return m.state.NewClockSettled(m.now, strings.Join(args, " "))
			})
		}),
	}
	opts.flags(cmd.Flags())
	return cmd
}
