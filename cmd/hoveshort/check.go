package main

import (
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

type checkOptions struct {
	actOptions
	list, done      bool
	say, why, grade string
}

func newCheckCommand(c *call) *cobra.Command {
	var opts checkOptions
	cmd := &cobra.Command{
		Use:   "check [ID [ANSWER]]",
		Short: "Answer a check; without an answer: read it; without an id: list them all",
		Long: "Answer a check: right, not-right, could-not-look, not-aboard, or the value of a reading.\nWith an id alone the check is read out; without one all are listed as they stand.\n" +
			"--done closes a section with its sentence, once every check of it is answered.\n\nNot right wants words (--why) and opens a defect, of a critical check of grade stop." + actExits(),
		Example: "  hoveshort check\n  hoveshort check engine-oil\n  hoveshort check engine-oil right --say \"upper mark\"\n  hoveshort check start-battery 12.7 V\n" +
			"  hoveshort check strainer not-right --why \"lid weeps\" --grade limit\n  hoveshort check --done \"Before departure\" \"Rig and deck\"",
		Args: checkArgs(&opts),
		RunE: do(func(args []string) error { return runCheck(c, opts, args) }),
	}
	f := cmd.Flags()
	f.BoolVar(&opts.list, "list", false, "list the checks as they stand")
	f.BoolVar(&opts.done, "done", false, "close a section: --done ROUND SECTION")
	f.StringVar(&opts.say, "say", "", "the `word` of evidence that the check asks for")
	f.StringVar(&opts.why, "why", "", "`what` is not right, or why it could not be looked at")
	f.StringVar(&opts.grade, "grade", "", "the `grade` of the defect: stop, limit or note")
	opts.flags(f)
	return cmd
}

// checkArgs refuses what contradicts itself.
func checkArgs(opts *checkOptions) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case opts.list && (opts.done || len(args) > 0):
			return usage("hoveshort check --list", "--list takes nothing else")
		case opts.done && len(args) < 2:
			return usage(`for example: hoveshort check --done "Before departure" "Rig and deck"`, "--done wants the round and the section")
		case opts.done && (opts.say != "" || opts.why != "" || opts.grade != ""):
			return usage(`for example: hoveshort check --done "Before departure" "Rig and deck"`, "a section's closing takes no other flag")
		case len(args) == 0 && (opts.say != "" || opts.why != "" || opts.grade != ""):
			return usage("for example: hoveshort check engine-oil right", "which check is meant?")
		}
		return nil
	}
}

func runCheck(c *call, opts checkOptions, words []string) error {
	switch {
	case opts.done:
		return runCheckDone(c, opts, words)
	case len(words) < 2:
		return runCheckList(c, opts, words)
	}
	return c.act(opts.actOptions, func(m moment) (checklist.Act, error) {
		return m.definitions.NewAnswer(m.assess(), checklist.AnswerInput{
			Check: words[0], Word: strings.Join(words[1:], " "), Say: opts.say, Why: opts.why, Grade: machinery.Grade(opts.grade),
		})
	})
}

func runCheckDone(c *call, opts checkOptions, words []string) error {
	return c.act(opts.actOptions, func(m moment) (checklist.Act, error) {
		assessment := m.assess()
		round, section := roundAndSection(assessment, words)
		return assessment.NewClosing(round, section)
	})
}

// roundAndSection parts words where a round and a section of it are named.
func roundAndSection(a checklist.Assessment, words []string) (round, section string) {
	for i := 1; i < len(words); i++ {
		round, section := strings.Join(words[:i], " "), strings.Join(words[i:], " ")
		for _, r := range a.Rounds {
			for _, s := range r.Sections {
				if r.Name == round && s.Name == section {
					return round, section
				}
			}
		}
	}
	return words[0], strings.Join(words[1:], " ")
}
