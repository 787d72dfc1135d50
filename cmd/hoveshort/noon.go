package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

type noonOptions struct {
	actOptions
	goOn, notOn []string
	sure        bool
}

func newNoonCommand(c *call) *cobra.Command {
	var opts noonOptions
	cmd := &cobra.Command{
		Use:   "noon [MILES|POSITION] [NAME=VALUE ...]",
		Short: "Noon under way: miles to go, tanks, hours, wind, sleep; alone: how she stands",
		Long: "How she stands under way, as far as it is told: the miles to go to the end of the leg or the\nposition, each tank (TANK=same: nobody drew from it), hours, run, wind, pressure, sleep, note.\n" +
			"What cannot well be is asked back, and taken with --sure. Decision points and limits that you\nwrote are put as questions when they come up, on a terminal once the noon is written:\n" +
			"--go-on WHY or --not-on WHY answers them, in their order; unanswered they are asked again.\nWithout anything told: plan against fact." + actExits(),
		Example: "  hoveshort noon\n  hoveshort noon 340 nm port water=62 % starboard water=same main diesel=55 % hours=1490.5 wind=18 kn sleep=5\n" +
			"  hoveshort noon 23 30 S, 178 10 W --go-on \"1018 hPa and steady\"",
		RunE: do(func(args []string) error { return runNoon(c, opts, strings.Join(args, " ")) }),
	}
	f := cmd.Flags()
	f.StringArrayVar(&opts.goOn, "go-on", nil, "going on, and `why`, to the first question; again for each")
	f.StringArrayVar(&opts.notOn, "not-on", nil, "not going on, and `why`, to the question after those")
	f.BoolVar(&opts.sure, "sure", false, "what is asked back is right")
	opts.flags(f)
	return cmd
}

func runNoon(c *call, opts noonOptions, text string) error {
	if text == "" && len(opts.goOn)+len(opts.notOn) == 0 {
		return runWay(c, opts.json)
	}
	a, err := c.aboard()
	if err != nil {
		return err
	}
	var waiting []checklist.DecisionPoint
	w, err := a.append(func(m moment) (checklist.Act, error) {
		act, open, err := opts.noon(m, text)
		waiting = open
		return act, err
	})
	if err != nil {
		return err
	}
	c.tell(w.notices)
	if err := c.wrote(w, opts.json); err != nil || opts.json {
		return err
	}
	if len(waiting) > 0 && c.stdinIsTerminal {
		if w, waiting, err = c.decide(a, w, waiting); err != nil {
			return err
		}
	}
	for _, p := range waiting {
		_, _ = fmt.Fprintf(&c.text, "to be decided: %s\n", pointText(p))
	}
	if len(waiting) > 0 {
		c.text.WriteString("answer with: hoveshort noon --go-on WHY, or --not-on WHY\n")
	}
	c.text.WriteString(wayText(w.assess()))
	return nil
}

// decide puts the questions that wait, one by one. The noon is on the disk by then: no answer,
// the end of input or a power cut loses nothing of it. What is answered becomes a noon of its own.
func (c *call) decide(a *aboard, w written, waiting []checklist.DecisionPoint) (written, []checklist.DecisionPoint, error) {
	if err := c.flush(); err != nil { // the noon, before the questions
		return w, waiting, err
	}
	var answers []checklist.DecisionAnswered
	var open []checklist.DecisionPoint
	for i, p := range waiting {
		c.say("to be decided: %s", pointText(p))
		why, err := c.ask("Going on: write why. Not going on: begin with \"no,\". Later: nothing. ")
		if err != nil { // stopped: what was answered is written all the same
			open = append(open, waiting[i:]...)
			break
		}
		if answer, given := checklist.ParseDecision(p.Point, why); given {
			answers = append(answers, answer)
			continue
		}
		open = append(open, p)
	}
	if len(answers) == 0 {
		return w, open, nil
	}
	after, err := a.append(func(m moment) (checklist.Act, error) {
		return checklist.NewNoon(m.definitions, m.state, m.now, checklist.NoonTold{Decided: answers})
	})
	if err != nil {
		return w, waiting, err
	}
	c.tell(after.notices)
	return after, open, c.wrote(after, false)
}

// noon is the act, with its questions answered in their order, and the questions left open.
func (o noonOptions) noon(m moment, text string) (act checklist.Noon, open []checklist.DecisionPoint, err error) {
	told, err := m.definitions.ParseNoon(text)
	if err != nil {
		return act, nil, err
	}
	told.Sure = o.sure
	answers := make([]checklist.DecisionAnswered, 0, len(o.goOn)+len(o.notOn))
	for _, why := range o.goOn {
		answers = append(answers, checklist.DecisionAnswered{GoOn: true, Why: why})
	}
	for _, why := range o.notOn {
		answers = append(answers, checklist.DecisionAnswered{Why: why})
	}
	asked := told
	if text == "" { // the answers alone
		asked.Note = "decided"
	}
	act, err = checklist.NewNoon(m.definitions, m.state, m.now, asked)
	if err != nil {
		return act, nil, err
	}
	open = checklist.NoonQuestions(m.definitions, m.entries, act, m.now)
	if len(answers) > len(open) {
		return act, nil, &problem{code: exitRefused, says: fmt.Sprintf("%s, and %s", plural(len(answers), "answer", "answers"), waits(len(open))), hint: "hoveshort noon tells what is to be decided"}
	}
	for i := range answers {
		answers[i].Point = open[i].Point
	}
	told.Decided = answers
	act, err = checklist.NewNoon(m.definitions, m.state, m.now, told)
	return act, open[len(answers):], err
}

func waits(n int) string {
	if n == 0 {
		return "nothing is to be decided"
	}
	return plural(n, "question", "questions")
}

func pointText(p checklist.DecisionPoint) string {
	if p.Else != "" {
		return p.Point + "; else " + p.Else
	}
	return p.Point
}

// runWay tells how she stands under way.
func runWay(c *call, asJSON bool) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	a := m.assess()
	if a.Way == nil {
		return &problem{code: exitRefused, says: "she is not under way", hint: "she leaves with: hoveshort depart"}
	}
	if asJSON {
		return c.encode(a.WayReport())
	}
	c.text.WriteString(wayText(a))
	return nil
}

// wayText is how she stands under way, a line each.
func wayText(a checklist.Assessment) string {
	var r report
	rows := a.WayRows()
	if len(rows) == 0 {
		return ""
	}
	r.head("UNDER WAY: %s", a.Passage)
	for _, row := range rows {
		r.hang("  "+row.Name+": ", "    ", row.Text)
	}
	return r.String()
}
