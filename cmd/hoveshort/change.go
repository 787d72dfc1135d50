package main

import (
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

type changeOptions struct {
	actOptions
	why, to, miles string
}

func newChangeCommand(c *call) *cobra.Command {
	var opts changeOptions
	cmd := &cobra.Command{
		Use:   "change [WHAT]",
		Short: "A change of plan under way, with its reason",
		Long: "A change of plan under way, with its reason. Another destination is named with --to and the\nmiles to it: from then on all is reckoned to there. Before leaving, passage.toml is changed." +
			actExits(),
		Example: "  hoveshort change slower, to come in by day --why \"the pass has no lights\"\n  hoveshort change --to \"Outer Island\" --miles 90nm --why \"a gale warning for the other side\"",
		RunE: do(func(args []string) error {
			return c.act(opts.actOptions, func(m moment) (checklist.Act, error) {
				return checklist.NewChange(m.definitions, m.state, strings.Join(args, " "), opts.why, opts.to, opts.miles)
			})
		}),
	}
	f := cmd.Flags()
	f.StringVar(&opts.why, "why", "", "the `reason`")
	f.StringVar(&opts.to, "to", "", "another `place` that is made for")
	f.StringVar(&opts.miles, "miles", "", "how `far` it is to there, as 90nm")
	opts.flags(f)
	return cmd
}
