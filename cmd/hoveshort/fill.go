package main

import (
	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

type fillOptions struct {
	actOptions
	from string
}

func newFillCommand(c *call) *cobra.Command {
	var opts fillOptions
	cmd := &cobra.Command{
		Use:     "fill TANK AMOUNT",
		Short:   "Write down what went into a tank, from ashore or from another tank",
		Long:    "Write down what went into a tank, from ashore or from another tank. `full` is filled to\nthe brim: such a tank has no gauge error." + actExits(),
		Example: "  hoveshort fill port water 40 L\n  hoveshort fill main diesel full\n  hoveshort fill main diesel 20 L --from \"diesel jerry can\"",
		Args:    atLeast(2),
		RunE:    do(func(args []string) error { return runFill(c, opts, args) }),
	}
	cmd.Flags().StringVar(&opts.from, "from", "", "the `tank` it came from")
	opts.flags(cmd.Flags())
	return cmd
}

func runFill(c *call, opts fillOptions, words []string) error {
	return c.act(opts.actOptions, func(m moment) (checklist.Act, error) {
		tank, amount := tankAndAmount(m.definitions, words)
		return m.definitions.NewFill(m.state, tank, amount, opts.from)
	})
}
