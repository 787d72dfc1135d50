package main

import (
	"strings"

	"github.com/spf13/cobra"
)

// newRootCommand is the program without a command: the screens, or, where there is no
// terminal, the readiness report.
func newRootCommand(c *call) *cobra.Command {
	var opts rootOptions
	root := &cobra.Command{
		Use:   "hoveshort",
		Short: "Is she fit to go, and will what is aboard last?",
		Long: "Is she fit to go, and will what is aboard last the slow passage with the reserve\nuntouched? Without a command: the screens; where there is no terminal, the\n" +
			"readiness report.\n\nThe boat folder is --boat, else $HOVESHORT_BOAT, else $XDG_DATA_HOME/hoveshort\n(~/.local/share/hoveshort), else the demo boat in a throw-away folder." +
			exits(map[int]string{
				exitDone: "done (ready: ready)", exitRefused: "refused, nothing written (ready: not ready)",
				exitFault: "a fault of the program",
			}, exitDone, exitRefused, exitUnreadable, exitNotWritten, exitUsage, exitFault) + "\n 130, 143  ended by a signal",
		Example:       "  hoveshort ready\n  hoveshort init --demo heron\n  hoveshort --boat heron sound port water 62 %",
		Version:       version(),
		SilenceUsage:  true,
		SilenceErrors: true,

		SuggestionsMinimumDistance: 2,

		Args: knownCommand,
		RunE: do(func([]string) error { return runRoot(c, opts) }),
	}
	root.SetOut(&c.text)
	root.SetErr(c.stderr)
	root.SetIn(c.stdin)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usage("see `"+cmd.CommandPath()+" --help`", "%s", err)
	})
	root.PersistentFlags().StringVar(&c.boat, "boat", "", "the boat `folder`")
	root.PersistentFlags().StringVar(&c.at, "at", "", "compute, or write, as of this `time` (2026-10-18T17:30+13:00)")
	root.PersistentFlags().StringVar(&c.by, "by", "", "`who` does it, where more than one is aboard")
	opts.flags(root.Flags())
	root.AddCommand(
		newInitCommand(c), newLintCommand(c), newReadyCommand(c), newPassageCommand(c), newLoadCommand(c),
		newSoundCommand(c), newFillCommand(c), newCountCommand(c), newStoresCommand(c), newRatesCommand(c), newCheckCommand(c), newEventCommand(c), newReadingCommand(c),
		newServiceCommand(c), newStowCommand(c), newFindCommand(c), newWantedCommand(c),
		newDefectCommand(c), newStepCommand(c), newBaseCommand(c), newAcceptCommand(c), newSignCommand(c), newCorrectCommand(c), newClockCommand(c),
		newDepartCommand(c), newNoonCommand(c), newChangeCommand(c), newArriveCommand(c), newReviewCommand(c), newSheetCommand(c), newVerifyCommand(c), newSignalKCommand(c), newCalendarCommand(c),
	)
	return root
}

// knownCommand refuses a command that there is not, and names those that are near.
func knownCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	hint := "`hoveshort --help` lists the commands"
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		hint = "did you mean: hoveshort " + strings.Join(near, ", hoveshort ")
	}
	return usage(hint, "there is no command %q", args[0])
}

func runRoot(c *call, opts rootOptions) error {
	if opts.plain {
		return runPlain(c, opts)
	}
	if opts.json || !c.hasScreen() {
		return runReady(c, opts.json)
	}
	return runScreens(c, opts)
}
