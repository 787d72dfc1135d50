package main

import (
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

type departOptions struct {
	actOptions
	unsigned bool
	why      string
}

func newDepartCommand(c *call) *cobra.Command {
	var opts departOptions
	cmd := &cobra.Command{
		Use:   "depart [REASON]",
		Short: "Leave: the gate once more, with the rounds before weighing",
		Long: "Leave with the sign-off in force. It is refused while anything stands in the way, what is too\nold included, and while a round before weighing is not right. Whoever must leave in an\n" +
			"emergency types --unsigned: it is never refused, and stands so in the record for ever; the\nreason may be given with it, or within a day with --why." + actExits(),
		Example: "  hoveshort depart\n  hoveshort depart --unsigned the anchor drags\n  hoveshort depart --why \"the anchor dragged towards the reef\"",
		RunE:    do(func(args []string) error { return runDepart(c, opts, strings.Join(args, " ")) }),
	}
	f := cmd.Flags()
	f.BoolVar(&opts.unsigned, "unsigned", false, "leave whatever stands in the way; it stands in the record for ever")
	f.StringVar(&opts.why, "why", "", "the `reason` for an earlier leaving unsigned")
	opts.flags(f)
	return cmd
}

func runDepart(c *call, opts departOptions, reason string) error {
	if opts.why != "" {
		if opts.unsigned || reason != "" {
			return usage(`hoveshort depart --why "the anchor dragged"`, "--why stands alone: it tells the reason for a leaving that is written already")
		}
		return c.act(opts.actOptions, func(m moment) (checklist.Act, error) {
			return m.state.NewDepartReason(m.now, opts.why)
		})
	}
	if reason != "" && !opts.unsigned {
		return usage("hoveshort depart, or: hoveshort depart --unsigned "+reason, "only leaving unsigned has a reason")
	}
	return c.act(opts.actOptions, func(m moment) (checklist.Act, error) {
		return checklist.NewDepart(m.definitions, m.state, m.assess(), opts.unsigned, reason)
	})
}
