package main

import (
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

func newReadingCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:   "reading GAUGE=VALUE…",
		Short: "Write down what the gauges said",
		Long: "Write down what the gauges said, any of: rpm, hours, speed, coolant, oil, volts, sea,\nraw_out; minutes (at these revs); under_way=yes|no, sails=up|down, note." +
			actExits(),
		Example: "  hoveshort reading rpm=2000 coolant=84C minutes=20\n  hoveshort reading hours=1815.2 rpm=2000 speed=5.3kn sails=down",
		Args:    atLeast(1),
		RunE:    do(func(args []string) error { return runReading(c, opts, args) }),
	}
	opts.flags(cmd.Flags())
	return cmd
}

func runReading(c *call, opts actOptions, words []string) error {
	return c.act(opts, func(m moment) (checklist.Act, error) { return m.state.NewReading(m.definitions, pairs(words)) })
}

// pairs puts "coolant=82" "C" together again; what holds no sign belongs to the pair
// before it.
func pairs(words []string) []string {
	var list []string
	for _, word := range words {
		if n := len(list); n > 0 && !strings.Contains(word, "=") {
			list[n-1] += " " + word
			continue
		}
		list = append(list, word)
	}
	return list
}
