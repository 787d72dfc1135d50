package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

func newStepCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:   "step N [LOOK clean|bad|could not look|not yet [NOTE]]",
		Short: "One look of a defect's fault card, and what came of it; without one: which is next",
		Long: "Write down one look of the fault card of defect N: its number or its name, or a part of it\nthat no other has, then what came of it: clean, bad, could not look, or not yet, which takes\n" +
			"an earlier one back; then a note, if there is one. With N alone: which look is next, and\nhow it is taken." + actExits(),
		Example: "  hoveshort step 12\n  hoveshort step 12 strainer clean a few scales of weed\n  hoveshort step 12 2 could not look no thermometer",
		Args:    atLeast(1),
		RunE:    do(func(args []string) error { return runStep(c, opts, args) }),
	}
	opts.flags(cmd.Flags())
	return cmd
}

func runStep(c *call, opts actOptions, args []string) error {
	n, err := number(args[0], "a defect")
	if err != nil {
		return err
	}
	if len(args) == 1 {
		return runOneDefect(c, opts, n)
	}
	return c.tellStep(opts, func(m moment) (checklist.Act, error) {
		in := checklist.StepInput{Number: n}
		a := m.assess()
		if v, err := a.Defect(n); err == nil && v.HasCard() {
			in = stepTyped(*v.Walk, strings.Fields(strings.Join(args[1:], " ")))
			in.Number = n
		}
		if in.Seen == "" {
			in.Look = strings.Join(args[1:], " ")
		}
		return a.NewStep(in)
	})
}

func (c *call) tellStep(opts actOptions, decide decision) error {
	err := c.tellDefect(opts, decide)
	var p *problem
	if errors.As(err, &p) {
		p.hint = strings.Replace(p.hint, "(see: hoveshort defect --help)", "(see: hoveshort step --help)", 1)
	}
	return err
}

// seenAt is what came of a look, where it is said at word i, and how many words it is.
func seenAt(words []string, i int) (machinery.Seen, int) {
	for _, seen := range checklist.SeenWords {
		said := strings.Fields(string(seen))
		if strings.EqualFold(words[i], strings.Join(said, "-")) {
			return seen, 1
		}
		if i+len(said) <= len(words) && strings.EqualFold(strings.Join(words[i:i+len(said)], " "), string(seen)) {
			return seen, len(said)
		}
	}
	return "", 0
}

// stepTyped parts what was typed into the look, what came of it, and a note. Where a word may be either, the look
// that is known decides.
func stepTyped(w machinery.Walk, words []string) checklist.StepInput {
	var first *checklist.StepInput
	for i := 1; i < len(words); i++ {
		seen, n := seenAt(words, i)
		if seen == "" {
			continue
		}
		in := checklist.StepInput{Look: strings.Join(words[:i], " "), Seen: seen, Note: strings.Join(words[i+n:], " ")}
		if _, err := w.Find(in.Look); err == nil {
			return in
		}
		if first == nil {
			first = &in
		}
	}
	if first == nil {
		return checklist.StepInput{}
	}
	return *first
}
