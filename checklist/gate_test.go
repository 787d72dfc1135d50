package checklist

import (
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each reason of the design's section 5 alone makes a boat that was ready not ready.
// The rules are ours; edges that follow a published rule name it.
func TestEachReasonAloneStandsInTheWay(t *testing.T) {
	arrive := func() time.Time {
		d, l := ready(t)
		return l.assess(d, evening).Reckoning.Cases[passage.Slow].Voyage.Arrive()
	}()
	arriveDay := quantity.DateOf(arrive)
	tests := []struct {
		name   string
		change func(d *Definitions, l *log)
		want   string // "" : nothing stands in the way
	}{
		{"critical check unanswered", func(d *Definitions, _ *log) {
			d.Rounds[0].Sections[0].Checks = append(d.Rounds[0].Sections[0].Checks, Check{ID: "raft", Critical: true})
		}, "check raft"},
		{"critical check could not be looked at", func(_ *Definitions, l *log) {
			l.add(evening, Answer{Check: "seacock", Answer: CouldNotLook})
		}, "check seacock"},
		{"reading above its limit", func(_ *Definitions, l *log) {
			l.add(evening, Answer{Check: "volts", Answer: NotRight, Value: volts(13.1)})
		}, "check volts"},
		{"reading on its limit passes (limits inclusive, reference checks 7.16)", func(_ *Definitions, l *log) {
			l.add(evening, Answer{Check: "volts", Answer: Right, Value: volts(13)})
		}, ""},
		{"reading written as right, but outside", func(_ *Definitions, l *log) {
			l.add(evening, Answer{Check: "volts", Answer: Right, Value: volts(12.3)})
		}, "check volts"},
		{"an event since (reference checks 1.2: an event voids at once)", func(_ *Definitions, l *log) {
			l.add(evening, Event{"seacock moved"})
		}, "check seacock"},
		{"a check critical by night, and it is night", func(_ *Definitions, l *log) {
			l.add(evening, Answer{Check: "lights", Answer: CouldNotLook})
		}, "check lights"},
		{"no critical check at all", func(d *Definitions, _ *log) { d.Rounds = nil }, "round sign"},
		{"a round of another kind of passage is no round", func(d *Definitions, _ *log) {
			d.Rounds[0].Kinds = []passage.Kind{passage.Coastal}
		}, "round sign"},
		{"water short", func(d *Definitions, _ *log) { d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 190} }, "endurance water"},
		{"diesel short", func(d *Definitions, _ *log) { d.Boat.Rates.Reserve[passage.Fuel] = provisions.Reserve{Amount: 140} }, "endurance fuel"},
		{"food short", func(d *Definitions, _ *log) { d.Boat.Rates.Reserve[passage.Food] = provisions.Reserve{Days: 19.5} }, "endurance food"},
		{"gas short", func(d *Definitions, _ *log) { d.Boat.Rates.Reserve[passage.Gas] = provisions.Reserve{Amount: 5} }, "endurance gas"},
		{"the watermaker dead from the first day runs out", func(d *Definitions, _ *log) {
			d.Boat.Rates.Water.Drinking = 300
			d.Boat.Watermaker = &provisions.Watermaker{Output: 60, Run: 20 * time.Hour}
		}, "endurance water without the watermaker"},
		{"the watermaker dead, and the rationed use holds", func(d *Definitions, _ *log) {
			d.Boat.Rates.Water.Drinking, d.Boat.Rates.Water.Rationed = 300, 2.5
			d.Boat.Watermaker = &provisions.Watermaker{Output: 60, Run: 20 * time.Hour}
		}, ""},
		{"critical service overdue by hours, on the very hour (reference checks 7.9: due now, 0.0 left)", func(d *Definitions, _ *log) {
			d.Services = []machinery.Service{{Name: "oil", Critical: true, EveryHours: 150, Last: machinery.Done{Hours: 850}}}
		}, "service oil"},
		{"critical service due within the slow passage's engine hours (reference checks 7.9)", func(d *Definitions, _ *log) {
			d.Services = []machinery.Service{{Name: "oil", Critical: true, EveryHours: 150, Last: machinery.Done{Hours: 850 + 7.5}}}
		}, "service oil"},
		{"critical service due well after it", func(d *Definitions, _ *log) {
			d.Services = []machinery.Service{{Name: "oil", Critical: true, EveryHours: 150, Last: machinery.Done{Hours: 950}}}
		}, ""},
		{"critical service due by date on the day of the slow arrival", func(d *Definitions, _ *log) {
			d.Services = []machinery.Service{{Name: "oil", Critical: true, EveryMonths: 12, Last: machinery.Done{Date: arriveDay.AddMonths(-12)}}}
		}, "service oil"},
		{"the day after it", func(d *Definitions, _ *log) {
			d.Services = []machinery.Service{{Name: "oil", Critical: true, EveryMonths: 12, Last: machinery.Done{Date: arriveDay.AddMonths(-12).AddDays(1)}}}
		}, ""},
		{"one that can be done under way, its parts not aboard", func(d *Definitions, _ *log) {
			d.Spares = []machinery.Spare{spare(0, true, machinery.Stowed{Count: 1, Condition: machinery.Used, Place: "box"})}
			d.Services = []machinery.Service{{Name: "oil", Critical: true, UnderWay: true, EveryHours: 150, Last: machinery.Done{Hours: 857}, Uses: []string{"impeller"}}}
		}, "service oil"},
		{"one that can be done under way, with its parts", func(d *Definitions, _ *log) {
			d.Spares = []machinery.Spare{spare(0, true, machinery.Stowed{Count: 1, Condition: machinery.New, Fit: machinery.Proved, Has: []string{"gasket"}})}
			d.Services = []machinery.Service{{Name: "oil", Critical: true, UnderWay: true, EveryHours: 150, Last: machinery.Done{Hours: 857}, Uses: []string{"impeller"}}}
		}, ""},
		{"critical spare missing", func(d *Definitions, _ *log) { d.Spares = []machinery.Spare{spare(1, true)} }, "spare impeller"},
		{"a used one does not count (common practice, no source)", func(d *Definitions, _ *log) {
			d.Spares = []machinery.Spare{spare(1, true, machinery.Stowed{Count: 3, Condition: machinery.Used, Fit: machinery.Proved, Has: []string{"gasket"}})}
		}, "spare impeller"},
		{"nor one without its gasket (reference checks 7.11: 0 kits)", func(d *Definitions, _ *log) {
			d.Spares = []machinery.Spare{spare(1, true, machinery.Stowed{Count: 2, Condition: machinery.New, Fit: machinery.Proved})}
		}, "spare impeller"},
		{"nor one of unknown fit", func(d *Definitions, _ *log) {
			d.Spares = []machinery.Spare{spare(1, true, machinery.Stowed{Count: 2, Condition: machinery.New, Fit: machinery.Unknown, Has: []string{"gasket"}})}
		}, "spare impeller"},
		{"a spare that is not critical only lacks", func(d *Definitions, _ *log) { d.Spares = []machinery.Spare{spare(1, false)} }, ""},
		{"critical dated gear ends the day before the slow arrival", func(d *Definitions, _ *log) {
			d.Dated = []machinery.Dated{{Name: "beacon", Critical: true, Until: arriveDay.AddDays(-1)}}
		}, "dated beacon"},
		{"its last day is the day of arrival", func(d *Definitions, _ *log) {
			d.Dated = []machinery.Dated{{Name: "beacon", Critical: true, Until: arriveDay}}
		}, ""},
		{"it is missing", func(d *Definitions, _ *log) { d.Dated = []machinery.Dated{{Name: "beacon", Critical: true}} }, "dated beacon"},
		{"it matters only alone", func(d *Definitions, _ *log) {
			d.Dated = []machinery.Dated{{Name: "beacon", Critical: true, Only: []string{"single-handed"}}}
		}, ""},
		{"a defect of grade stop", func(_ *Definitions, l *log) { l.add(evening, DefectAct{What: "weep", Grade: machinery.Stop}) }, "defect 10"},
		{"a defect of grade note", func(_ *Definitions, l *log) { l.add(evening, DefectAct{What: "weep", Grade: machinery.Note}) }, ""},
		{"a season that ends on the day of arrival", func(d *Definitions, _ *log) { d.Plan.Before = arriveDay }, "season " + arriveDay.String()},
		{"a season that ends the day after", func(d *Definitions, _ *log) { d.Plan.Before = arriveDay.AddDays(1) }, ""},
		{"a leg she cannot make in the slow case", func(d *Definitions, _ *log) { d.Plan.Legs[0].Current = -4.1 }, "plan Here to There"},
		{"a tank never sounded", func(d *Definitions, _ *log) {
			d.Boat.Tanks = append(d.Boat.Tanks, provisions.Tank{Name: "bow", Holds: passage.Water, Capacity: 50})
		}, "sounding bow"},
		{"sealed cans need no sounding", func(d *Definitions, _ *log) {
			d.Boat.Tanks = append(d.Boat.Tanks, provisions.Tank{Name: "cans", Holds: passage.Water, Capacity: 20, Sealed: true})
		}, ""},
		{"a level that the tank cannot hold", func(d *Definitions, l *log) {
			d.Boat.Tanks[2].Capacity = 6
			l.add(evening, Sound{"gas", "7 kg"})
		}, "sounding gas"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d, l := fitBoat(), walked()
			test.change(&d, &l)
			got := inTheWay(l.assess(d, evening))
			if test.want == "" {
				assert.Empty(t, got)
				return
			}
			assert.Contains(t, got, test.want)
			assert.False(t, l.assess(d, evening).Ready)
		})
	}
}

// 46 CFR 97.15-3: steering examined within 12 h of departure. Age equal to the limit is
// fresh, a second more is stale (reference checks 7.9).
func TestAnswerIsGoodToTheSecond(t *testing.T) {
	d, l := ready(t)
	answered := l[3].At
	at := func(now time.Time) Status {
		c, _ := l.assess(d, now).Check("seacock")
		return c.Status
	}
	assert.Equal(t, StatusRight, at(answered.Add(12*time.Hour)))
	assert.Equal(t, StatusStale, at(answered.Add(12*time.Hour+time.Second)))
	assert.Equal(t, StatusStale, at(answered.Add(-time.Second)), "an answer younger than zero does not count")
	assert.Equal(t, StatusRight, at(answered.UTC().Add(time.Minute)), "another offset changes nothing")
}

func TestSoundingAndCountGrowOld(t *testing.T) {
	d, l := ready(t)
	sounded := l[0].At
	d.Rounds[0].Sections[0].Checks[0].GoodFor = quantity.Period{}
	assert.NotContains(t, inTheWay(l.assess(d, sounded.Add(24*time.Hour))), "sounding water")
	assert.Contains(t, inTheWay(l.assess(d, sounded.Add(24*time.Hour+time.Second))), "sounding water")

	l.add(sounded, Count{Food: "biscuit", Packs: 40})
	assert.NotContains(t, inTheWay(l.assess(d, sounded.Add(14*24*time.Hour))), "sounding biscuit")
	assert.Contains(t, inTheWay(l.assess(d, sounded.Add(14*24*time.Hour+time.Second))), "sounding biscuit")
}

// A shift of berth is told its endurance and never refused for it.
func TestShiftIsNotRefusedForEndurance(t *testing.T) {
	d, l := ready(t)
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 190}
	require.Contains(t, inTheWay(l.assess(d, evening)), "endurance water")
	d.Plan.Kind = passage.Shift
	a := l.assess(d, evening)
	assert.Empty(t, inTheWay(a))
	assert.Positive(t, a.Reckoning.Resources[passage.Water].Stretches[0].Short)
}

// What is not right opens a defect, which stays when the check is right again; closing
// it does not make the check right.
func TestDefectOutlivesItsAnswer(t *testing.T) {
	d, l := ready(t)
	l.add(evening, Answer{Check: "seacock", Answer: NotRight, Why: "stiff", Grade: machinery.Stop})
	number := len(l)
	assert.ElementsMatch(t, []string{"check seacock", "check exhaust", "defect 10"}, inTheWay(l.assess(d, evening)))
	l.add(evening, Answer{Check: "seacock", Answer: Right})
	assert.Equal(t, []string{"defect 10"}, inTheWay(l.assess(d, evening)))
	closing, err := l.assess(d, evening).NewDefectClosing(number, "greased and worked")
	require.NoError(t, err)
	l.add(evening, closing)
	assert.True(t, l.assess(d, evening).Ready)
}

// exhaust comes after seacock: while seacock is not right its answer does not count.
func TestCheckWaitsForItsForerunner(t *testing.T) {
	d, l := ready(t)
	l.add(evening, Event{"seacock moved"})
	a := l.assess(d, evening)
	c, _ := a.Check("exhaust")
	assert.Equal(t, StatusWaits, c.Status)
	_, err := d.NewAnswer(a, AnswerInput{Check: "exhaust", Word: "right"})
	assert.EqualError(t, err, "exhaust comes after seacock, which is void; answer seacock first")
}

func TestSingleHandedChecksApplyToCrewOfOne(t *testing.T) {
	d, l := ready(t)
	c, _ := l.assess(d, evening).Check("alone")
	assert.Equal(t, StatusNotNeeded, c.Status)
	d.Plan.Crew = 1
	assert.Equal(t, []string{"check alone"}, inTheWay(l.assess(d, evening)))
}

func TestClockInDoubtStandsInTheWayUntilSettled(t *testing.T) {
	d, l := ready(t)
	last := l[len(l)-1].At
	assert.Contains(t, inTheWay(l.assess(d, last.Add(-time.Minute))), "clock clock", "behind the last entry")
	assert.Contains(t, inTheWay(l.assess(d, last.Add(30*24*time.Hour+time.Second))), "clock clock", "more than 30 days ahead")
	assert.NotContains(t, inTheWay(l.assess(d, last.Add(30*24*time.Hour))), "clock clock")

	// After a reboot the clock stands in the past; what is answered then does not count.
	past := last.Add(-100 * 24 * time.Hour)
	l.add(past, Answer{Check: "gear", Answer: Right}, Answer{Check: "volts", Answer: Right, Value: volts(12.6)})
	assert.Contains(t, inTheWay(l.assess(d, evening)), "clock clock")
	settled, err := Fold(l).NewClockSettled(evening, "set from the radio")
	require.NoError(t, err)
	l.add(evening, settled)
	a := l.assess(d, evening)
	assert.Equal(t, []string{"check volts"}, inTheWay(a), "answered in the doubtful span: asked again")
	_, err = Fold(l).NewClockSettled(evening, "")
	assert.EqualError(t, err, "the clock is not in doubt; nothing needs settling")
}

func TestCautionsWantAReasonEach(t *testing.T) {
	d, l := ready(t)
	d.Services = []machinery.Service{{Name: "anode", EveryMonths: 1, Last: machinery.Done{Date: quantity.Date{Year: 2026, Month: 1, Day: 1}}}}
	d.Plan.Daylight = true
	d.Plan.Legs[0].Position = &passage.Position{Lat: -30, Lon: 175}
	l.add(evening, Answer{Check: "gear", Answer: NotRight, Why: "cleat loose", Grade: machinery.Limit})
	a := l.assess(d, evening)
	require.True(t, a.Ready, "cautions block nothing")
	assert.ElementsMatch(t, []string{"check:gear", "daylight:There", "defect:10", "service:anode"}, cautionIDs(a))
	_, err := Freeze(d, Fold(l), a, "A Skipper")
	assert.ErrorContains(t, err, `the caution "check:gear" has no reason`)

	for _, c := range a.Cautions {
		accept, err := a.NewAccept(c.ID(), "known, and watched")
		require.NoError(t, err)
		l.add(evening, accept)
	}
	a = l.assess(d, evening)
	sign, err := Freeze(d, Fold(l), a, "A Skipper")
	require.NoError(t, err)
	require.Len(t, sign.Exceptions, 4)
	assert.Equal(t, 1, sign.Exceptions[0].Running)

	l.add(evening, sign)
	a = l.assess(d, evening)
	assert.Nil(t, a.Cautions[0].Accepted, "a reason holds for one sign-off alone")
	assert.Zero(t, a.Cautions[0].Running, "the same passage signed once more is no other passage")
	d.Plan.Name = "back again"
	assert.Equal(t, 1, l.assess(d, evening).Cautions[0].Running, "the second passage running")
}

func TestLoosenedSinceTheLastSignOffIsACaution(t *testing.T) {
	d, l := ready(t)
	sign, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	l.add(evening, sign)
	assert.Empty(t, cautionIDs(l.assess(d, evening)))

	d.Rounds[0].Sections[0].Checks[0].Critical = false
	d.Rounds[0].Sections[0].Checks[4].CritWhen = nil
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 19}
	a := l.assess(d, evening)
	assert.Equal(t, []string{"loosened:seacock", "loosened:lights", "loosened:water reserve"}, cautionIDs(a))
	assert.Equal(t, "was critical at the last sign-off when night", a.Cautions[1].Why)

	d.Rounds[0].Sections[0].Checks[4].Critical = true
	assert.NotContains(t, cautionIDs(l.assess(d, evening)), "loosened:lights", "always critical is stricter")
}

func TestWhatStandsInTheWayIsTheLongestToClearFirst(t *testing.T) {
	d := fitBoat()
	d.Spares = []machinery.Spare{spare(1, true)}
	a := Assess(d, Fold(nil), evening)
	require.NotEmpty(t, a.Blockers)
	assert.Equal(t, "spare impeller", inTheWay(a)[0])
	for i := 1; i < len(a.Blockers); i++ {
		assert.GreaterOrEqual(t, a.Blockers[i-1].Takes, a.Blockers[i].Takes)
	}
}

// An automatic check tells what stands in the way already only once.
func TestAutomaticCheckIsAnsweredByTheProgram(t *testing.T) {
	d, l := ready(t)
	checks := &d.Rounds[0].Sections[0].Checks
	for _, of := range []Automatic{
		{"endurance", "water"}, {"service", All}, {"spares", All}, {"spares", "hose"}, {"dated", All}, {"defects", ""}, {"daylight", ""}, {"soundings", ""}, {"season", ""},
	} {
		*checks = append(*checks, Check{ID: of.Of + of.Name, Critical: true, Automatic: &of})
	}
	require.Empty(t, inTheWay(l.assess(d, evening)))

	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 190}
	assert.Equal(t, []string{"endurance water"}, inTheWay(l.assess(d, evening)))
	d.Spares = []machinery.Spare{{Name: "hose", Need: map[passage.Kind]int{passage.Offshore: 1}}}
	assert.Equal(t, []string{"endurance water", "check spareshose"}, inTheWay(l.assess(d, evening)), "not critical by itself: its check says so")
	_, err := d.NewAnswer(l.assess(d, evening), AnswerInput{Check: "season", Word: "right"})
	assert.ErrorContains(t, err, "answered by the program itself")
}
