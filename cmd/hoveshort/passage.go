package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

func newPassageCommand(c *call) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "passage",
		Short:   "Times, arrivals and daylight, consumption and endurance",
		Long:    "Times, arrivals and daylight, consumption and endurance of the planned passage." + exits(nil, exitDone, exitUnreadable, exitUsage),
		Example: "  hoveshort passage\n  hoveshort passage --json",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runPassage(c, asJSON) }),
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func runPassage(c *call, asJSON bool) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	assessment := m.assess()
	if asJSON {
		return c.encode(passageOf(m.definitions, assessment))
	}
	c.text.WriteString(passageText(m.definitions, assessment))
	return nil
}

// passageJSON is the passage for other programs; units as in `ready --json`.
type passageJSON struct {
	Format     int                                 `json:"format"`
	Boat       string                              `json:"boat"`
	Passage    string                              `json:"passage"`
	Now        time.Time                           `json:"now"`
	Depart     time.Time                           `json:"depart"`
	Crew       int                                 `json:"crew"`
	Climate    passage.Climate                     `json:"climate"`
	Kind       passage.Kind                        `json:"kind"`
	Conditions []checklist.Condition               `json:"conditions"`
	Fouling    float64                             `json:"fouling"`
	Readings   int                                 `json:"fouling_readings"`
	Verdict    *provisions.Verdict                 `json:"verdict"`
	Legs       []legJSON                           `json:"legs"`
	Cases      map[string]checklist.ReportCase     `json:"cases"`
	Resources  map[string]checklist.ReportResource `json:"resources"`
}

// legJSON is one leg and its three arrivals.
type legJSON struct {
	From     string                 `json:"from"`
	To       string                 `json:"to"`
	Distance float64                `json:"distance_nm"`
	Sail     float64                `json:"sail_kn"`
	RPM      int                    `json:"rpm"`
	Current  float64                `json:"current_kn"`
	Stay     float64                `json:"stay_hours"`
	Arrivals map[string]arrivalJSON `json:"arrivals"`
}

// arrivalJSON is an arrival against the daylight; null where it is not known.
type arrivalJSON struct {
	At         time.Time  `json:"at"`
	ByDay      *bool      `json:"by_day"`
	FirstLight *time.Time `json:"first_light"`
	LastLight  *time.Time `json:"last_light"`
}

func passageOf(d checklist.Definitions, a checklist.Assessment) passageJSON {
	told := a.Report()
	j := passageJSON{
		Format: 1, Boat: a.Boat, Passage: a.Passage, Now: a.Now, Depart: a.Reckoning.Depart, Crew: d.Plan.Crew, Climate: d.Plan.Climate,
		Kind: d.Plan.Kind, Conditions: append([]checklist.Condition{}, a.Conditions...), Fouling: a.Fouling, Readings: a.FoulingSeen,
		Verdict: told.Verdict, Cases: told.Cases, Resources: told.Resources,
	}
	for i, leg := range d.Plan.Legs {
		j.Legs = append(j.Legs, legOf(d, a, i, leg))
	}
	return j
}

func legOf(d checklist.Definitions, a checklist.Assessment, i int, leg passage.Leg) legJSON {
	j := legJSON{
		From: leg.From, To: leg.To, Distance: float64(leg.Distance), Sail: float64(leg.Sail), RPM: legRPM(d, leg),
		Current: float64(leg.Current), Stay: leg.Stay.Hours(), Arrivals: map[string]arrivalJSON{},
	}
	for _, name := range passage.CaseNames {
		arrivals := a.Reckoning.Cases[name].Voyage.Arrivals
		if i >= len(arrivals) {
			continue
		}
		at := passage.ArrivalAt(leg, arrivals[i])
		told := arrivalJSON{At: arrivals[i]}
		if at.Known {
			told.ByDay = &at.ByDay
		}
		if !at.FirstLight.IsZero() {
			told.FirstLight = &at.FirstLight
		}
		if !at.LastLight.IsZero() {
			told.LastLight = &at.LastLight
		}
		j.Arrivals[string(name)] = told
	}
	return j
}

func legRPM(d checklist.Definitions, leg passage.Leg) int {
	if leg.RPM == 0 {
		return d.Boat.Engine.CruiseRPM
	}
	return leg.RPM
}

func passageText(d checklist.Definitions, a checklist.Assessment) string {
	var r report
	r.line("%s: %s", a.Boat, a.Passage)
	r.line("departure %s; crew %d, %s, %s%s", a.Reckoning.Depart.Format(longMoment), d.Plan.Crew, d.Plan.Climate, d.Plan.Kind, conditions(a))
	r.line("as of %s", a.Now.Format(longMoment))
	r.fouling(a)
	for i, leg := range d.Plan.Legs {
		r.leg(d, a, i, leg)
	}
	r.cases(a)
	r.stretches(a)
	r.tanks(a)
	return r.String()
}

func (r *report) fouling(a checklist.Assessment) {
	if a.FoulingSeen == 0 {
		r.line("fouling 1.00: no readings tell otherwise, she is taken as clean")
		return
	}
	r.line("fouling %.2f, by %s", a.Fouling, count(a.FoulingSeen, "reading"))
}

// leg tells a leg, and its three arrivals against the daylight.
func (r *report) leg(d checklist.Definitions, a checklist.Assessment, i int, leg passage.Leg) {
	r.head("LEG %d: %s to %s", i+1, leg.From, leg.To)
	text := fmt.Sprintf("%s; %s under sail, %d rpm under engine, current %s", leg.Distance.Up(a.Units), leg.Sail.In(a.Units), legRPM(d, leg), leg.Current.In(a.Units))
	if leg.Stay > 0 && i < len(d.Plan.Legs)-1 {
		text += fmt.Sprintf("; then a stay of %.1f days", leg.Stay.Hours()/24)
	}
	r.hang("  ", "  ", text+"; gives "+giving(leg.Fill))
	rows := [][]string{}
	for _, name := range passage.CaseNames {
		if arrivals := a.Reckoning.Cases[name].Voyage.Arrivals; i < len(arrivals) {
			rows = append(rows, arrivalRow(name, passage.ArrivalAt(leg, arrivals[i])))
		} else {
			rows = append(rows, []string{string(name), "not reached", ""})
		}
	}
	r.table(false, rows)
	for _, told := range []struct{ name, text string }{{"dangers", leg.Dangers}, {"window", leg.Window}} {
		if told.text != "" {
			r.hang("  "+told.name+": ", "    ", told.text)
		}
	}
}

func arrivalRow(name passage.CaseName, at passage.Arrival) []string {
	light := ""
	if !at.FirstLight.IsZero() && !at.LastLight.IsZero() {
		light = fmt.Sprintf(" (day: %s to %s)", at.FirstLight.In(at.At.Location()).Format("15:04"), at.LastLight.In(at.At.Location()).Format("15:04"))
	}
	return []string{string(name), "arrives " + at.At.Format(shortMoment), lightOf(at) + light}
}

func lightOf(at passage.Arrival) string {
	switch {
	case !at.Known:
		return "no position: daylight not known"
	case at.ByDay:
		return "by day"
	}
	return "NOT BY DAY"
}

func giving(list []passage.Giving) string {
	var words []string
	for _, g := range list {
		word := string(g.Thing)
		if !g.Sure {
			word += " (not sure, not planned on)"
		}
		words = append(words, word)
	}
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, ", ")
}

// stretches tells each thing from one place that gives it to the next.
func (r *report) stretches(a checklist.Assessment) {
	for _, t := range passage.Things {
		for _, s := range a.Reckoning.Resources[t].Stretches {
			r.head("%s, %s to %s: %s case, %s", strings.ToUpper(string(t)), s.From, s.To, s.Hard, provisions.DaysUp(s.Length))
			amounts := fmt.Sprintf("need %s, reserve %s", s.Need.Up(t, a.Units), s.Reserve.Up(t, a.Units))
			if s.Bought {
				r.hang("  ", "  ", amounts+"; bought there")
				continue
			}
			amounts += ", available " + s.Available.Down(t, a.Units)
			if s.Short > 0 {
				amounts += ", SHORT " + s.Short.Up(t, a.Units)
			}
			r.hang("  ", "  ", amounts)
			r.hang("  ", "  ", fmt.Sprintf("lasts %s to the reserve, %s to the last drop; margin %s", s.Endurance, s.LastDrop, s.Margin))
		}
	}
}

// tanks tells what each tank is counted for.
func (r *report) tanks(a checklist.Assessment) {
	r.head("TANKS")
	rows := [][]string{{"", "told", "holds", "counted on"}}
	for _, t := range a.Reckoning.Tanks {
		counted := t.Counted.Down(t.Tank.Holds, a.Units)
		switch {
		case t.Tank.Sealed:
			counted = "none: sealed"
		case t.Problem != nil:
			counted = "cannot be right: " + t.Problem.Error()
		}
		told := t.Held.Level.Text
		if t.Held.At.IsZero() {
			told += " (not sounded)"
		}
		rows = append(rows, []string{t.Tank.Name, told, t.Level.Down(t.Tank.Holds, a.Units), counted})
	}
	r.table(false, rows)
}
