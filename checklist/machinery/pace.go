package machinery

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// Job is work with a planned time; done, with the time it took.
type Job struct {
	Name    string
	Planned time.Duration // 0: no plan
	Taken   time.Duration // 0: not done, or not timed
}

// Pace is how many times the planned time the skipper's own jobs took.
type Pace struct {
	Factor      float64 // the median of taken / planned; 1 where fewer than three jobs tell
	Jobs        int     // that had both a plan and a time
	Least, Most float64 // of them
}

// jobsForPace is how many jobs make a pace. Common practice, no source.
const jobsForPace = 3

// PaceOf is the pace of jobs done. The median, so that one night spent on a seized bolt
// does not rule all mornings.
func PaceOf(done []Job) Pace {
	var factors []float64
	for _, j := range done {
		if j.Planned > 0 && j.Taken > 0 {
			factors = append(factors, float64(j.Taken)/float64(j.Planned))
		}
	}
	p := Pace{Factor: 1, Jobs: len(factors)}
	if len(factors) == 0 {
		return p
	}
	p.Least, p.Most = slices.Min(factors), slices.Max(factors)
	if p.IsKnown() {
		p.Factor = median(factors)
	}
	return p
}

// IsKnown says that enough jobs were timed.
func (p Pace) IsKnown() bool { return p.Jobs >= jobsForPace }

// Words tells the pace and what it stands on.
func (p Pace) Words() string {
	if !p.IsKnown() {
		return fmt.Sprintf("no pace of your own yet: %s timed, %d make one", counted(p.Jobs, "job"), jobsForPace)
	}
	return fmt.Sprintf("%s times the plan, from %s to %s, over %s", factorWords(p.Factor), factorWords(p.Least), factorWords(p.Most), counted(p.Jobs, "job"))
}

func factorWords(f float64) string { return strconv.FormatFloat(f, 'f', 1, 64) }

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// median is the middle one, of an even number the mean of the middle two; list must not be empty.
func median(list []float64) float64 {
	sorted := slices.Sorted(slices.Values(list))
	half := len(sorted) / 2
	if len(sorted)%2 == 1 {
		return sorted[half]
	}
	return sorted[half-1]/2 + sorted[half]/2
}

// Basis is where the likely time of a job comes from.
type Basis string

// The bases: the median of its own times; the plan times the pace; the plan itself; none at all.
const (
	OwnTimes  Basis = "own times"
	OwnPace   Basis = "pace"
	AsPlanned Basis = "as planned"
	NoTime    Basis = "no time"
)

// JobTime is how long a job is likely to take.
type JobTime struct {
	Job
	Likely time.Duration
	From   Basis
	Times  int // of its own that were timed
}

// Estimate is how long a list of jobs is likely to take, one after the other.
type Estimate struct {
	Jobs    []JobTime
	Planned time.Duration
	Likely  time.Duration
	Pace    Pace
}

// EstimateOf adds up jobs to come from jobs done. One that was done before takes the median
// of its own times, else its plan times the pace; one without plan and past adds nothing and is told.
func EstimateOf(jobs, done []Job) Estimate {
	e := Estimate{Pace: PaceOf(done)}
	own := map[string][]float64{}
	for _, j := range done {
		if j.Taken > 0 {
			own[j.Name] = append(own[j.Name], float64(j.Taken))
		}
	}
	for _, j := range jobs {
		t := e.Pace.timeOf(j, own[j.Name])
		e.Jobs = append(e.Jobs, t)
		e.Planned = min(e.Planned+bounded(float64(j.Planned)), longestJob)
		e.Likely = min(e.Likely+t.Likely, longestJob)
	}
	return e
}

func (p Pace) timeOf(j Job, own []float64) JobTime {
	t := JobTime{Job: j, Times: len(own), From: OwnTimes}
	switch {
	case len(own) > 0:
		t.Likely = bounded(median(own))
		return t
	case j.Planned <= 0:
		t.From = NoTime
	case p.IsKnown():
		t.From = OwnPace
	default:
		t.From = AsPlanned
	}
	t.Likely = bounded(float64(j.Planned) * p.Factor)
	return t
}

// longestJob bounds a job and a sum of them, so that none overflows: ten years.
const longestJob = 10 * 365 * 24 * time.Hour

func bounded(d float64) time.Duration { return time.Duration(min(max(0, d), float64(longestJob))) }

// BeginBy is when to begin to be ready at a moment, to the minute, rounded down.
func (e Estimate) BeginBy(ready time.Time) time.Time {
	return ready.Add(-e.Likely).Truncate(time.Minute)
}

// Words tells how long it takes, how long was planned, on what that stands, and when to begin.
func (e Estimate) Words(ready time.Time) string {
	if len(e.Jobs) == 0 {
		return "nothing stands before you"
	}
	untimed := strings.Join(e.untimed(), ", ")
	if e.are(NoTime) {
		return "no time is known of what stands before you: " + untimed
	}
	likely, planned := quantity.RoughUp(e.Likely), quantity.RoughUp(e.Planned)
	said := fmt.Sprintf("what stands before you takes about %s, planned %s (%s)", likely, planned, e.Pace.Words())
	if e.are(OwnTimes, NoTime) {
		said = fmt.Sprintf("what stands before you took you %s the last times, planned %s", likely, planned)
	}
	said += fmt.Sprintf("; for %s begin by %s", ready.Format("15:04"), clockWords(e.BeginBy(ready), ready))
	if untimed != "" {
		said += "; without a time, not in it: " + untimed
	}
	return said
}

// are says that every job's time comes from one of these.
func (e Estimate) are(from ...Basis) bool {
	return !slices.ContainsFunc(e.Jobs, func(t JobTime) bool { return !slices.Contains(from, t.From) })
}

func (e Estimate) untimed() []string {
	var names []string
	for _, t := range e.Jobs {
		if t.From == NoTime {
			names = append(names, t.Name)
		}
	}
	return names
}

// clockWords is a time of day, with its day where that is another than of.
func clockWords(at, of time.Time) string {
	switch quantity.DateOf(at).DaysUntil(quantity.DateOf(of)) {
	case 0:
		return at.Format("15:04")
	case 1:
		return at.Format("15:04") + " the day before"
	}
	return at.Format("15:04 on 2 Jan")
}
