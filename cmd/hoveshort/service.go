package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

type serviceOptions struct {
	actOptions
	date, hours, took, old, note string
	parts                        []string
	noParts                      bool
}

func newServiceCommand(c *call) *cobra.Command {
	var opts serviceOptions
	cmd := &cobra.Command{
		Use:   "service [NAME]",
		Short: "Write a service down as done; without a name: what falls due, and how long it takes you",
		Long: "Write a service of upkeep.toml down as done: today, at the hour-meter as it was last read,\nunless told. The parts that it uses are taken from where they count. Without a name:\n" +
			"what falls due over the slow passage, and when to begin with what stands before leaving." + actExits(),
		Example: "  hoveshort service\n  hoveshort service change primary fuel filter --took \"40 min\"\n" +
			"  hoveshort service change raw-water impeller --part \"raw-water impeller@box 3=1\" --old \"box 3\"\n" +
			"  hoveshort service scrub the bottom --date 2026-10-17",
		Args: atLeast(0),
		RunE: do(func(args []string) error { return runService(c, opts, args) }),
	}
	f := cmd.Flags()
	f.StringVar(&opts.date, "date", "", "the `day` on which it was done, as 2026-10-17")
	f.StringVar(&opts.hours, "hours", "", "what the hour-meter showed then, in `hours`")
	f.StringVar(&opts.took, "took", "", "how `long` it took, as \"45 min\" or \"1 h 10\": it makes your pace")
	f.StringArrayVar(&opts.parts, "part", nil, "a `part` taken, as SPARE, SPARE=N or SPARE@PLACE=N")
	f.BoolVar(&opts.noParts, "no-parts", false, "no part was taken, whatever the service uses")
	f.StringVar(&opts.old, "old", "", "the `place` in which the old parts are kept")
	f.StringVar(&opts.note, "note", "", "a `text` of your own")
	opts.flags(f)
	return cmd
}

func runService(c *call, opts serviceOptions, words []string) error {
	if len(words) == 0 {
		return runServices(c, opts)
	}
	in, err := opts.input(strings.Join(words, " "))
	if err != nil {
		return err
	}
	a, err := c.aboard()
	if err != nil {
		return err
	}
	if err := knownService(a.definitions(), in.Service); err != nil {
		return err
	}
	w, err := a.append(func(m moment) (checklist.Act, error) {
		return m.definitions.NewServiceDone(m.state, in, m.now)
	})
	if err != nil {
		return helped("service", err)
	}
	c.tell(w.notices)
	if err := c.wrote(w, opts.json); err != nil || opts.json {
		return err
	}
	c.text.WriteString(doneText(w))
	return nil
}

func knownService(d checklist.Definitions, name string) error {
	names := make([]string, len(d.Services))
	for i, s := range d.Services {
		names[i] = s.Name
	}
	if slices.Contains(names, name) {
		return nil
	}
	return unknownName("service", name, names, func(name string) string { return "hoveshort service " + name })
}

// input is what was typed of a service that was done.
func (o serviceOptions) input(name string) (checklist.ServiceInput, error) {
	in := checklist.ServiceInput{Service: name, NoParts: o.noParts, Old: o.old, Note: o.note}
	var err error
	if o.date != "" {
		if in.Date, err = quantity.ParseDate(o.date); err != nil {
			return in, coded(exitUsage, "", fmt.Errorf("--date: %w", err))
		}
	}
	if in.Hours, err = meterTyped(o.hours); err != nil {
		return in, err
	}
	if in.Minutes, err = minutesTyped(o.took); err != nil {
		return in, err
	}
	for _, typed := range o.parts {
		part, err := partTyped(typed)
		if err != nil {
			return in, err
		}
		in.Parts = append(in.Parts, part)
	}
	return in, nil
}

// meterTyped is what the hour-meter showed: "1812.4", with its h or without; 0: it was not told.
func meterTyped(text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "h"))
	hours, err := strconv.ParseFloat(number, 64)
	if err != nil || !(hours > 0) {
		return 0, usage("write what the meter showed, like 1812.4", "--hours: %q is no reading of an hour-meter", text)
	}
	return hours, nil
}

// minutesTyped is how long it took; 0: it was not timed. A flag that cannot be read is wrong usage.
func minutesTyped(text string) (float64, error) {
	minutes, err := checklist.ParseTaken(text)
	return minutes, flagRefused("--took", err)
}

// partTyped reads a part as SPARE, SPARE=N, SPARE@PLACE or SPARE@PLACE=N.
func partTyped(text string) (checklist.PartTaken, error) {
	part, err := checklist.ParsePart(text)
	return part, flagRefused("--part", err)
}

// flagRefused is wrong usage where the text of a flag was refused.
func flagRefused(flag string, err error) error {
	var refusal *quantity.Error
	if !errors.As(err, &refusal) {
		return err
	}
	return usage(refusal.Cure, "%s: %s", flag, refusal.Problem)
}

// doneText tells of a service that was just written when it falls due next, and how what it took stands.
func doneText(w written) string {
	done, is := w.entry.Act.(checklist.ServiceDone)
	if !is {
		return ""
	}
	var r report
	for _, f := range checklist.LookAtEngine(w.definitions, w.state, w.assess()).Forecasts {
		if f.Service.Name == done.Service {
			r.hang("", "  ", done.Service+": "+f.Words())
		}
	}
	var told []string
	for _, part := range done.Parts {
		if !slices.Contains(told, part.Spare) {
			told = append(told, part.Spare)
			r.WriteString(gearText(w.moment, part.Spare))
		}
	}
	return r.String()
}

// runServices tells what falls due, and what stands before leaving.
func runServices(c *call, opts serviceOptions) error {
	if opts.date+opts.hours+opts.took+opts.old+opts.note != "" || len(opts.parts) > 0 || opts.noParts {
		return usage(`for example: hoveshort service change primary fuel filter --took "40 min"`, "which service was done?")
	}
	m, err := c.look()
	if err != nil {
		return err
	}
	a := m.assess()
	forecasts := checklist.LookAtEngine(m.definitions, m.state, a).Forecasts
	before := machinery.EstimateOf(jobsBefore(forecasts), m.state.JobsDone())
	if opts.json {
		return c.encode(servicesOf(a, forecasts, before))
	}
	c.text.WriteString(servicesText(a, forecasts, before))
	return nil
}

// jobsBefore are the services to be done before leaving: those due by then, and those that fall due on
// the passage and cannot be done out there. Once she has left there are none.
func jobsBefore(forecasts []machinery.Forecast) []machinery.Job {
	var jobs []machinery.Job
	for _, f := range forecasts {
		falls := f.Falls == machinery.Overdue || f.Falls == machinery.BeforeLeaving || f.Falls == machinery.OnPassage && !f.Service.UnderWay
		if falls && !f.Left {
			jobs = append(jobs, machinery.Job{Name: f.Service.Name, Planned: f.Service.Takes})
		}
	}
	return jobs
}

// servicesJSON is what falls due, and what stands before leaving, for other programs.
type servicesJSON struct {
	Format   int            `json:"format"`
	Boat     string         `json:"boat"`
	Now      time.Time      `json:"now"`
	Depart   time.Time      `json:"depart"`
	Services []forecastJSON `json:"services"`
	Before   beforeJSON     `json:"before_leaving"`
}

type beforeJSON struct {
	Jobs    []jobJSON  `json:"jobs"`
	Planned float64    `json:"planned_min"`
	Likely  float64    `json:"likely_min"`
	BeginBy *time.Time `json:"begin_by"` // null: nothing stands before leaving
	Pace    paceJSON   `json:"pace"`
}

type jobJSON struct {
	Service string  `json:"service"`
	Planned float64 `json:"planned_min"`
	Likely  float64 `json:"likely_min"`
	From    string  `json:"from"`
	Times   int     `json:"times_timed"`
}

type paceJSON struct {
	Factor float64 `json:"factor"`
	Known  bool    `json:"known"`
	Jobs   int     `json:"jobs"`
}

func servicesOf(a checklist.Assessment, forecasts []machinery.Forecast, before machinery.Estimate) servicesJSON {
	j := servicesJSON{Format: 1, Boat: a.Boat, Now: a.Now, Depart: a.Reckoning.Depart, Services: []forecastJSON{}}
	for _, f := range forecasts {
		j.Services = append(j.Services, forecastOf(f))
	}
	j.Before = beforeJSON{
		Jobs: []jobJSON{}, Planned: before.Planned.Minutes(), Likely: before.Likely.Minutes(),
		Pace: paceJSON{before.Pace.Factor, before.Pace.IsKnown(), before.Pace.Jobs},
	}
	for _, t := range before.Jobs {
		j.Before.Jobs = append(j.Before.Jobs, jobJSON{t.Name, t.Planned.Minutes(), t.Likely.Minutes(), string(t.From), t.Times})
	}
	if len(before.Jobs) > 0 {
		by := before.BeginBy(a.Reckoning.Depart)
		j.Before.BeginBy = &by
	}
	return j
}

func servicesText(a checklist.Assessment, forecasts []machinery.Forecast, before machinery.Estimate) string {
	var r report
	r.line("%s: services, as of %s", a.Boat, a.Now.Format(longMoment))
	if len(forecasts) == 0 {
		r.line("upkeep.toml holds none")
		return r.String()
	}
	r.line("departure %s; the hour-meter stands at %s h", a.Reckoning.Depart.Format(longMoment), strconv.FormatFloat(forecasts[0].Meter, 'f', -1, 64))
	r.head("OVER THE SLOW PASSAGE, the most urgent first")
	for _, f := range forecasts {
		r.hang("- ", "  ", f.Service.Name+criticalWord(f.Service)+": "+f.Words())
	}
	if !forecasts[0].Left {
		r.before(a, before)
	}
	r.head("%s", "The intervals are those of upkeep.toml. The maker's manual and a licensed mechanic come before anything said here.")
	return r.String()
}

func criticalWord(s machinery.Service) string {
	if s.Critical {
		return " (critical)"
	}
	return ""
}

// before tells what stands before leaving, how long it takes, and when to begin.
func (r *report) before(a checklist.Assessment, e machinery.Estimate) {
	r.head("BEFORE LEAVING")
	if len(e.Jobs) == 0 {
		r.line("no service")
		r.line("%s", paceWords(e.Pace))
		return
	}
	for _, t := range e.Jobs {
		r.hang("- ", "  ", t.Name+": "+jobWords(t))
	}
	r.line("%s", e.Words(a.Reckoning.Depart))
	if by := e.BeginBy(a.Reckoning.Depart); e.Likely > 0 && by.Before(a.Now) {
		done := a.Now.Add(e.Likely).In(a.Reckoning.Depart.Location())
		r.line("That is past: begun now it is done by %s.", roundedUp(done).Format(shortMoment))
	}
}

// roundedUp is a moment to the minute, never earlier.
func roundedUp(t time.Time) time.Time { return t.Add(time.Minute - 1).Truncate(time.Minute) }

func jobWords(t machinery.JobTime) string {
	planned := "no time planned"
	if t.Planned > 0 {
		planned = "planned " + quantity.RoughUp(t.Planned)
	}
	switch t.From {
	case machinery.OwnTimes:
		return fmt.Sprintf("%s, took you %s (timed %s)", planned, quantity.RoughUp(t.Likely), timesWords(t.Times))
	case machinery.OwnPace:
		return fmt.Sprintf("%s, likely %s at your pace", planned, quantity.RoughUp(t.Likely))
	}
	return planned
}

func timesWords(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

func paceWords(p machinery.Pace) string {
	if p.IsKnown() {
		return "your pace: " + p.Words()
	}
	return p.Words()
}
