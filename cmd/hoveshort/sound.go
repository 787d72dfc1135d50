package main

import (
	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

func newSoundCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:     "sound TANK LEVEL",
		Short:   "Write down the level of a tank as it was read: a share, an amount, a dip, or full",
		Long:    "Write down the level of a tank as it was read: a share, an amount, a dip, or full." + actExits(),
		Example: "  hoveshort sound port water 62 %\n  hoveshort sound \"starboard water\" \"230 mm\"\n  hoveshort sound main diesel full",
		Args:    atLeast(2),
		RunE:    do(func(args []string) error { return runSound(c, opts, args) }),
	}
	opts.flags(cmd.Flags())
	return cmd
}

func runSound(c *call, opts actOptions, words []string) error {
	return c.act(opts, func(m moment) (checklist.Act, error) {
		tank, level := tankAndAmount(m.definitions, words)
		return m.definitions.NewSound(tank, level)
	})
}
