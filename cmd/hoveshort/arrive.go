package main

import (
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

type arriveOptions struct {
	actOptions
	when         string
	failed       []string
	closes, sure bool
}

func newArriveCommand(c *call) *cobra.Command {
	var opts arriveOptions
	cmd := &cobra.Command{
		Use:   "arrive [PLACE] [NAME=VALUE ...]",
		Short: "Come in; with --close: close the passage, and bring all forward to the next",
		Long: "Come in: at the end of the leg she is on, or at PLACE. Told with it, or when the passage is\nclosed: miles by the log, the hour-meter, each tank as it is sounded (TANK=same: nobody drew\n" +
			"from it), and what failed. --close ends the page of the record; the next begins with what is\nopen and what is aboard. `hoveshort review last` then tells what was promised and what came of it." + actExits(),
		Example: "  hoveshort arrive\n  hoveshort arrive --close \"port water=35 %\" \"starboard water=same\" \"main diesel=40 %\" hours=1512.5 miles=1104nm --failed \"log impeller\"",
		RunE:    do(func(args []string) error { return runArrive(c, opts, strings.Join(args, " ")) }),
	}
	f := cmd.Flags()
	f.StringVar(&opts.when, "when", "", "the `time` she came in, where that was earlier")
	f.StringArrayVar(&opts.failed, "failed", nil, "a `thing` that failed on the way; again for each")
	f.BoolVar(&opts.closes, "close", false, "close the passage")
	f.BoolVar(&opts.sure, "sure", false, "what is asked back is right")
	opts.flags(f)
	return cmd
}

func runArrive(c *call, opts arriveOptions, text string) error {
	return c.act(opts.actOptions, func(m moment) (checklist.Act, error) {
		told, err := m.definitions.ParseArrival(text)
		if err != nil {
			return nil, err
		}
		told.Close, told.Sure, told.Failed = opts.closes, opts.sure, opts.failed
		if opts.when != "" {
			if told.When, err = parseMoment(opts.when); err != nil {
				return nil, err
			}
		}
		return checklist.NewArrive(m.definitions, m.state, m.now, told)
	})
}
