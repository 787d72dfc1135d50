package main

import (
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

func newRatesCommand(c *call) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "rates",
		Short: "What is really used a day, from the soundings, against the plan",
		Long: "What is really used a day, learnt from soundings and fills: the middle of all intervals, and\nbetween what half of them lie. An interval counts from one time at which all tanks of a\n" +
			"thing were sounded to the next, wholly at sea or wholly at anchor, 18 hours or more.\nThe lines for your files are proposed; nothing is changed." +
			exits(nil, exitDone, exitUnreadable, exitUsage),
		Example: "  hoveshort rates\n  hoveshort rates --json",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runRates(c, asJSON) }),
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func runRates(c *call, asJSON bool) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	uses, doubt := checklist.Learnt(m.definitions, m.state, m.assess())
	told := ""
	if doubt != nil {
		told = checklist.DoubtWords(*doubt, m.definitions.Boat.Units)
	}
	if asJSON {
		return c.encode(ratesOf(m, uses, told))
	}
	c.text.WriteString(ratesText(m, uses, told))
	return nil
}

// ratesJSON is what was learnt, in litres or kilograms a person and day (water), a day (gas) or an
// engine hour (fuel).
type ratesJSON struct {
	Format int       `json:"format"`
	Now    time.Time `json:"now"`
	Rates  []useJSON `json:"rates"`
	Doubt  string    `json:"doubt"` // dip against engine hours; "": they agree, or nothing is known
}

type useJSON struct {
	What    string   `json:"what"`
	AtSea   bool     `json:"at_sea"`
	Median  float64  `json:"median"`
	Low     float64  `json:"low"`  // a quarter of the intervals lies below
	High    float64  `json:"high"` // a quarter lies above
	N       int      `json:"intervals"`
	Planned float64  `json:"planned"`
	Above   bool     `json:"above"`       // more than a tenth above the plan, three times or more
	Margin  *float64 `json:"margin_days"` // with it; null: not above the plan, or not reckoned
	Lines   []string `json:"lines"`
}

func ratesOf(m moment, uses []checklist.Use, doubt string) ratesJSON {
	j := ratesJSON{Format: 1, Now: m.now, Rates: []useJSON{}, Doubt: doubt}
	for _, u := range uses {
		one := useJSON{string(u.Thing), u.AtSea, u.Median, u.Low, u.High, u.N, u.Planned, u.IsAbove(), nil, append([]string{}, u.Lines...)}
		if u.Margin != nil && !u.Margin.Never {
			one.Margin = &u.Margin.Days
		}
		j.Rates = append(j.Rates, one)
	}
	return j
}

func ratesText(m moment, uses []checklist.Use, doubt string) string {
	var r report
	r.line("%s, as of %s: used, from the soundings", m.definitions.Boat.Name, m.now.Format(longMoment))
	if len(uses) == 0 {
		r.line("Nothing is learnt yet: sound all tanks of a thing, and again a day or more later. An interval that was partly at sea and partly at anchor, or in which a tank was filled to the brim, tells nothing.")
	}
	for _, u := range uses {
		r.head("%s", strings.ToUpper(string(u.Thing)))
		r.line("%s; %s", u.Words(m.definitions.Boat.Units), u.Verdict())
		for _, line := range u.Lines {
			r.WriteString("  " + line + "\n")
		}
	}
	if doubt != "" {
		r.head("FUEL")
		r.line("%s", doubt)
	}
	return r.String()
}
