package main

import (
	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

func newReadingCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:   "reading [GAUGE=VALUE…]",
		Short: "Write down what the gauges said, judged against normal; without one: how the engine stands",
		Long: "Write down what the gauges said, any of: rpm, hours, speed, coolant, oil, volts, sea,\nraw_out; minutes (at these revs); under_way=yes|no, sails=up|down;\n" +
			"water=usual|little|none|steam and smoke=none|black|white|blue at the exhaust; note.\nIt is judged against the curve in boat.toml. Without any: the latest reading, the trends, the services." +
			actExits(),
		Example: "  hoveshort reading rpm=2000 coolant=84C minutes=20\n  hoveshort reading hours=1815.2 rpm=2000 speed=5.3kn sails=down\n  hoveshort reading",
		Args:    atLeast(0),
		RunE:    do(func(args []string) error { return runReading(c, opts, args) }),
	}
	opts.flags(cmd.Flags())
	return cmd
}

func runReading(c *call, opts actOptions, words []string) error {
	if len(words) == 0 {
		return c.engineReport(opts.json)
	}
	return c.act(opts, func(m moment) (checklist.Act, error) {
		return m.state.NewReading(m.definitions, checklist.ReadingPairs(words))
	})
}
