package checklist

import (
	"slices"
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The tests of this file try to get round the gate with random definitions and acts.

func someDefinitions(t *rapid.T) Definitions {
	d := fitBoat()
	one := func(what string, of ...float64) float64 { return rapid.SampledFrom(of).Draw(t, what) }
	yes := func(what string) bool { return rapid.IntRange(0, 4).Draw(t, what) == 4 } // rarely: most boats are nearly fit
	d.Plan.Crew = rapid.IntRange(1, 3).Draw(t, "crew")
	d.Plan.Kind = rapid.SampledFrom([]passage.Kind{passage.Shift, passage.Coastal, passage.Offshore}).Draw(t, "kind")
	d.Plan.Legs[0].Current = quantity.Speed(one("current", 0, 0, 0, 0, 0, -1, -4))
	d.Plan.Legs[0].Distance = quantity.Distance(one("distance", 60, 60, 120, 400))
	if yes("season") {
		d.Plan.Before = quantity.Date{Year: 2026, Month: 6, Day: rapid.IntRange(11, 18).Draw(t, "before")}
	}
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: provisions.Amount(one("water reserve", 0, 10, 20, 190))}
	d.Boat.Rates.Reserve[passage.Food] = provisions.Reserve{Days: one("food reserve", 0, 1, 2, 30)}
	if yes("watermaker") {
		d.Boat.Watermaker = &provisions.Watermaker{Output: 20, Run: time.Hour, NeedsEngine: yes("needs engine")}
		d.Boat.Rates.Water.Drinking = quantity.Volume(one("drinking", 3, 60))
	}
	if yes("spare") {
		d.Spares = []machinery.Spare{spare(1, yes("critical spare"), machinery.Stowed{
			Count: rapid.IntRange(0, 2).Draw(t, "count"), Condition: rapid.SampledFrom([]machinery.Condition{machinery.New, machinery.Used}).Draw(t, "condition"),
			Fit: rapid.SampledFrom([]machinery.Fit{machinery.Proved, machinery.Unknown}).Draw(t, "fit"), Has: []string{"gasket"},
		})}
	}
	if yes("service") {
		d.Services = []machinery.Service{{
			Name: "oil", Critical: yes("critical service"), UnderWay: yes("under way"), EveryHours: 150,
			Last: machinery.Done{Hours: one("last", 700, 855, 950)}, Uses: []string{"impeller"},
		}}
	}
	if yes("dated") {
		d.Dated = []machinery.Dated{{Name: "beacon", Critical: yes("critical gear"), Until: quantity.Date{Year: 2026, Month: 6, Day: rapid.IntRange(10, 20).Draw(t, "until")}}}
	}
	for i := range d.Rounds[0].Sections[0].Checks {
		c := &d.Rounds[0].Sections[0].Checks[i]
		c.Critical = rapid.Bool().Draw(t, "critical")
		c.GoodFor = hours(rapid.SampledFrom([]int{0, 0, 0, 12, 48, 1}).Draw(t, "good for"))
	}
	return d
}

// someActs are sometimes all that is needed, sometimes more, sometimes less.
func someActs(t *rapid.T) log {
	l := walked()
	for i := range l {
		if rapid.IntRange(0, 30).Draw(t, "forgotten") == 0 {
			l[i].Act = Event{"nothing"}
		}
	}
	at := evening.Add(-time.Hour)
	for range rapid.IntRange(0, 4).Draw(t, "more") {
		at = at.Add(time.Duration(rapid.IntRange(-1, 30).Draw(t, "later")) * time.Minute)
		switch rapid.IntRange(0, 6).Draw(t, "act") {
		case 0:
			l.add(at, Event{"seacock moved"})
		case 1:
			l.add(at, Answer{Check: "volts", Answer: Right, Value: volts(rapid.SampledFrom([]float64{12, 12.4, 13, 14}).Draw(t, "volts"))})
		case 2:
			l.add(at, Answer{Check: "seacock", Answer: rapid.SampledFrom([]AnswerWord{Right, NotRight, CouldNotLook, NotAboard}).Draw(t, "answer"), Grade: machinery.Stop})
		case 3:
			l.add(at, Sound{"water", rapid.SampledFrom([]string{"full", "10 %", "190 L"}).Draw(t, "level")})
		case 4:
			l.add(at, DefectAct{What: "drip", Grade: rapid.SampledFrom([]machinery.Grade{machinery.Stop, machinery.Limit, machinery.Note}).Draw(t, "grade")})
		case 5:
			l.add(at, Correct{Of: rapid.IntRange(1, len(l)).Draw(t, "of"), Why: "slip"})
		case 6:
			l.add(at, ClockSettled{})
		}
	}
	return l
}

// reasons finds, by its own short reading of the design's section 5, why she is not ready.
func reasons(d Definitions, s State, a Assessment, now time.Time) []string {
	var list []string
	add := func(is bool, why string) {
		if is {
			list = append(list, why)
		}
	}
	slow := a.Reckoning.Cases[passage.Slow].Voyage
	arrive := now
	if slow.Made() {
		arrive = slow.Arrive()
	}
	critical := 0
	for _, c := range d.Rounds[0].Sections[0].Checks {
		isCritical := c.Critical || len(c.CritWhen) > 0 // the test passages have no position: always night
		if !isCritical || len(c.Only) > 0 && d.Plan.Crew != 1 {
			continue
		}
		critical++
		answer, is := s.Answers[c.ID]
		good := is && answer.Answer.Answer == Right && !answer.Doubtful && !answer.At.After(now)
		if good && !c.GoodFor.IsZero() {
			good = now.Sub(answer.At) <= c.GoodFor.Rest
		}
		if good && c.Reading != nil {
			good = answer.Value.Value >= 12.4 && answer.Value.Value <= 13
		}
		if moved, is := s.Events["seacock moved"]; good && is && c.ID == "seacock" {
			good = moved.Seq < answer.Seq
		}
		add(!good, "check "+c.ID)
	}
	add(critical == 0, "no critical check")
	if d.Plan.Kind != passage.Shift {
		for _, r := range a.Reckoning.Resources {
			for _, stretch := range r.Stretches {
				add(stretch.Short > 0, "short")
			}
		}
	}
	for _, service := range d.Services {
		due := service.Last.Hours + 150
		overdue, within := 1000 >= due, 1000+a.Reckoning.Cases[passage.Slow].EngineHours >= due
		parts := len(d.Spares) == 1 && d.Spares[0].Counts() > 0
		add(service.Critical && (overdue || within && (!service.UnderWay || !parts)), "service")
	}
	for _, spare := range d.Spares {
		add(spare.Critical && d.Plan.Kind == passage.Offshore && spare.Counts() < 1, "spare")
	}
	for _, gear := range d.Dated {
		add(gear.Critical && gear.Until.Before(quantity.DateOf(arrive)), "dated")
	}
	for _, defect := range s.Defects {
		add(defect.Grade == machinery.Stop, "defect")
	}
	for _, tank := range d.Boat.Tanks {
		held, is := s.Tanks[tank.Name]
		add(!is || held.Seq == 0 || held.Doubtful || now.Sub(held.At) > 24*time.Hour || held.At.After(now), "sounding "+tank.Name)
	}
	add(!d.Plan.Before.IsZero() && slow.Made() && !arrive.Before(d.Plan.Before.In(aboardZone)), "season")
	add(s.Clock.Doubt != "" || now.Before(s.Clock.Trusted), "clock")
	for _, c := range a.Reckoning.Cases {
		add(!c.Voyage.Made(), "leg")
	}
	return list
}

func TestNeverReadyWhileAReasonStands(t *testing.T) {
	readyOnes := 0
	rapid.Check(t, func(t *rapid.T) {
		d, l := fitBoat(), walked()
		if rapid.Bool().Draw(t, "troubled") { // the fit boat too, or few would ever be ready
			d, l = someDefinitions(t), someActs(t)
		}
		now := evening.Add(time.Duration(rapid.IntRange(-2, 30).Draw(t, "now")) * time.Hour)
		s := Fold(l)
		a := Assess(d, s, now)
		why := reasons(d, s, a, now)
		if len(why) > 0 {
			require.False(t, a.Ready, "%v", why)
			_, err := Freeze(d, s, a, "A Skipper")
			require.Error(t, err)
		}
		if a.Ready {
			readyOnes++
		}
		require.Equal(t, len(a.Blockers) == 0, a.Ready)
	})
	assert.Positive(t, readyOnes, "the test must meet boats that are ready, or it proves nothing")
}

// Tightening never makes her ready.
func TestTighteningNeverMakesHerReady(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, l := someDefinitions(t), someActs(t)
		now := evening.Add(time.Duration(rapid.IntRange(0, 12).Draw(t, "now")) * time.Hour)
		before := Assess(d, Fold(l), now)
		tight := d
		switch rapid.IntRange(0, 6).Draw(t, "tighter") {
		case 0:
			thing := rapid.SampledFrom(passage.Things[:]).Draw(t, "thing")
			reserve := map[passage.Thing]provisions.Reserve{}
			for k, r := range d.Boat.Rates.Reserve {
				reserve[k] = r
			}
			r := reserve[thing]
			r.None, r.Days = false, r.Days+10
			reserve[thing] = r
			tight.Boat.Rates.Reserve = reserve
		case 1:
			if d.Plan.Kind == passage.Shift {
				t.Skip("a shift is told its endurance only, and a tank less is a sounding less")
			}
			tight.Boat.Tanks = slices.Delete(slices.Clone(d.Boat.Tanks), 0, 1)
		case 2:
			if d.Plan.Crew == 1 {
				t.Skip("another hand makes her no longer single-handed, which asks for fewer checks")
			}
			tight.Plan.Crew++
		case 3:
			i := rapid.IntRange(0, len(l)-1).Draw(t, "older")
			l = slices.Clone(l)
			l[i].At = l[i].At.Add(-50 * time.Hour)
		case 4:
			tight.Dated = append(slices.Clone(d.Dated), machinery.Dated{Name: "raft", Critical: true})
		case 5:
			l = append(slices.Clone(l), Entry{Seq: 100, At: now, Act: DefectAct{What: "leak", Grade: machinery.Stop}})
		case 6:
			sections := slices.Clone(d.Rounds[0].Sections)
			sections[0].Checks = append(slices.Clone(sections[0].Checks), Check{ID: "more", Critical: true})
			tight.Rounds = []Round{{Name: "Before departure", For: ForSign, Sections: sections}}
		}
		after := Assess(tight, Fold(l), now)
		if !before.Ready {
			require.False(t, after.Ready)
		}
	})
}

func TestAssessIsPure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, l := someDefinitions(t), someActs(t)
		once := Assess(d, Fold(l), evening)
		require.Equal(t, once, Assess(d, Fold(l), evening))
	})
}
