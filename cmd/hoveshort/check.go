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
			"--done closes a section with its sentence, once every check of it is answered.\n\nWords behind the answer tell what is not right, or are the evidence of what is. Not right\nopens a defect, of a critical check of grade stop." + actExits(),
		Example: "  hoveshort check\n  hoveshort check engine-oil\n  hoveshort check engine-oil right upper mark\n  hoveshort check start-battery 12.7 V\n" +
			"  hoveshort check strainer not-right lid weeps --grade limit\n  hoveshort check --done \"Before departure\" \"Rig and deck\"",
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
		a := m.assess()
		return m.definitions.NewAnswer(a, answerOf(a, opts, words[0], words[1:]))
	})
}

// answerOf is what was typed: the answer, and the words behind it, which tell what is not
// right, or are the evidence of what is. Not right may be said in no more words than that.
func answerOf(a checklist.Assessment, opts checkOptions, id string, words []string) checklist.AnswerInput {
	in := checklist.AnswerInput{Check: id, Word: strings.Join(words, " "), Say: opts.say, Why: opts.why, Grade: machinery.Grade(opts.grade)}
	typed := strings.ReplaceAll(in.Word, "-", " ") + " "
	for _, answer := range []checklist.AnswerWord{checklist.NotRight, checklist.CouldNotLook, checklist.NotAboard, checklist.Right} {
		if !strings.HasPrefix(typed, string(answer)+" ") {
			continue
		}
		rest := strings.TrimSpace(in.Word[len(answer):])
		in.Word = string(answer)
		switch {
		case rest == "":
		case answer == checklist.Right && in.Say == "":
			in.Say = rest
		case answer != checklist.Right && in.Why == "":
			in.Why = rest
		default:
			in.Word += " " + rest // said twice: let it be refused
		}
		break
	}
	if c, known := a.Check(id); known && in.Word == string(checklist.NotRight) && in.Why == "" {
		in.Why = c.Ask + ": not right"
	}
	return in
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
