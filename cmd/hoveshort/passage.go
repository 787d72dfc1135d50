package main

import (
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
)

// passageOptions are what is asked of the passage.
type passageOptions struct {
	json    bool
	explain string
	chart   string
	try     []string
	lines   bool
	gpx     gpxOptions
}

func newPassageCommand(c *call) *cobra.Command {
	var opts passageOptions
	cmd := &cobra.Command{
		Use:   "passage",
		Short: "Times, arrivals and daylight, endurance, what if, turning back, range",
		Long: "Times, arrivals and daylight, consumption and endurance of the planned passage; what if\nsomething goes wrong; where she can still turn back; how far the engine takes her.\n\n" +
			"What can be tried, without anything being written (--try, again and again):\n" + trialKeys() + gpxHelp +
			exits(map[int]string{exitRefused: "refused (--gpx: the file is not taken)"}, exitDone, exitRefused, exitUnreadable, exitUsage),
		Example: "  hoveshort passage\n  hoveshort passage --explain water\n  hoveshort passage --explain \"no engine\"\n  hoveshort passage --chart fuel\n" +
			"  hoveshort passage --try crew=3 --try rpm=1800\n  hoveshort passage --try \"stop=Reef Bay, leg 2, 300 nm, water\" --lines\n" +
			"  hoveshort passage --gpx route.gpx\n  hoveshort passage --gpx route.gpx --stop \"Reef Bay\"",
		Args: atMost(0),
		RunE: do(func([]string) error { return runPassage(c, opts) }),
	}
	flags := cmd.Flags()
	flags.BoolVar(&opts.json, "json", false, "print it as JSON")
	flags.StringVar(&opts.explain, "explain", "", "where the numbers of `WHAT` come from: "+explainable)
	flags.StringVar(&opts.chart, "chart", "", "draw what is left of a `THING` day by day: water, fuel, food or gas")
	flags.StringArrayVar(&opts.try, "try", nil, "reckon with `KEY=VALUE` changed; nothing is written")
	flags.BoolVar(&opts.lines, "lines", false, "with --try: the lines to put into passage.toml to keep it")
	flags.StringVar(&opts.gpx.file, "gpx", "", "print the legs of this GPX `FILE` for passage.toml; - is the standard input")
	flags.StringArrayVar(&opts.gpx.routes, "route", nil, "with --gpx: take the route called `NAME`, again and again, in order")
	flags.StringArrayVar(&opts.gpx.stops, "stop", nil, "with --gpx: she calls at the point called `NAME`")
	return cmd
}

func trialKeys() string {
	var r report
	rows := [][]string{}
	for _, k := range checklist.TrialKeys {
		rows = append(rows, []string{k.Key + " = " + k.Value, k.Means})
	}
	for _, row := range rows {
		r.hang("  "+row[0]+": ", "      ", row[1])
	}
	return strings.TrimRight(r.String(), "\n")
}

// oneForm refuses two forms of the answer at once.
func (o passageOptions) oneForm() error {
	forms := 0
	for _, asked := range []bool{o.json, o.explain != "", o.chart != "", o.lines} {
		if asked {
			forms++
		}
	}
	if forms > 1 {
		return usage("ask for one of them at a time", "--json, --explain, --chart and --lines each give another answer")
	}
	if others := forms > 0 && !o.json || len(o.try) > 0; others && o.gpx.asked() {
		return usage("ask for one of them at a time", "--gpx prints legs, not the passage that is planned")
	}
	return nil
}

func runPassage(c *call, opts passageOptions) error {
	if err := opts.oneForm(); err != nil {
		return err
	}
	if opts.gpx.asked() {
		return c.gpxLegs(opts.gpx, opts.json)
	}
	m, err := c.look()
	if err != nil {
		return err
	}
	trial, err := trialOf(m, opts.try)
	if err != nil {
		return err
	}
	planned := m.definitions
	m.definitions = planned.Try(trial)

	switch {
	case opts.lines:
		return c.keepLines(trial, planned)
	case opts.explain != "":
		return c.explain(m, opts.explain)
	case opts.chart != "":
		return c.chart(m, opts.chart)
	}
	assessment := m.assess()
	if opts.json {
		return c.encode(passageOf(m.definitions, trial, assessment))
	}
	c.text.WriteString(passageText(m.definitions, trial, assessment))
	return nil
}

// trialOf reads what is to be tried.
func trialOf(m moment, try []string) (checklist.Trial, error) {
	var trial checklist.Trial
	for _, text := range try {
		next, err := trial.With(text, m.definitions, m.now)
		if err != nil {
			return trial, usage("`hoveshort passage --help` lists what can be tried", "--try %s: %s", text, err.Error())
		}
		trial = next
	}
	return trial, nil
}

// keepLines prints what to put into passage.toml, which is the skipper's to change.
func (c *call) keepLines(trial checklist.Trial, d checklist.Definitions) error {
	if trial.IsEmpty() {
		return usage("for example: hoveshort passage --try crew=3 --lines", "--lines tells how to keep what is tried, and nothing is")
	}
	c.tell([]string{"nothing was written; put these lines into passage.toml in the place of those that stand there"})
	for _, line := range trial.Lines(d) {
		c.text.WriteString(line + "\n")
	}
	return nil
}

// thingOf reads the name of a thing.
func thingOf(text string) (passage.Thing, bool) {
	for _, t := range passage.Things {
		if strings.EqualFold(text, string(t)) {
			return t, true
		}
	}
	return "", false
}
