package main

import (
	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

func newSoundCommand(c *call) *cobra.Command {
	var opts actOptions
	var sure bool
	cmd := &cobra.Command{
		Use:   "sound TANK LEVEL",
		Short: "Write down the level of a tank as it was read: a share, an amount, a dip, or full",
		Long: "Write down the level of a tank as it was read: a share, an amount, a dip, or full. One that\nrose although no fill was written is asked back, and taken with --sure." +
			actExits(),
		Example: "  hoveshort sound port water 62 %\n  hoveshort sound \"starboard water\" \"230 mm\"\n  hoveshort sound main diesel full",
		Args:    atLeast(2),
		RunE:    do(func(args []string) error { return runSound(c, opts, sure, args) }),
	}
	cmd.Flags().BoolVar(&sure, "sure", false, "what is asked back is right")
	opts.flags(cmd.Flags())
	return cmd
}

func runSound(c *call, opts actOptions, sure bool, words []string) error {
	return c.act(opts, func(m moment) (checklist.Act, error) {
		tank, level := tankAndAmount(m.definitions, words)
		return m.definitions.NewSounding(m.state, tank, level, sure)
	})
}
