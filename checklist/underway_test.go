package checklist

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// left is the fit boat, signed off in the evening and gone at once, on 400 nm. All figures of
// these tests are worked by hand beside them; the passage is our own.
func left(t require.TestingT) (Definitions, log) {
	d := fitBoat()
	d.Plan.Legs[0].Distance = 400
	d.Plan.Depart = evening
	d.Boat.Rates.Water.Rationed = 2
	l := walked()
	sign, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	l.add(evening, sign)
	depart, err := NewDepart(d, Fold(l), l.assess(d, evening), false, "")
	require.NoError(t, err)
	l.add(evening, depart)
	return d, l
}

func day(n float64) time.Time { return evening.Add(time.Duration(n * 24 * float64(time.Hour))) }

func TestAPassageGoesThroughItsStages(t *testing.T) {
	d := fitBoat()
	d.Plan.Depart = evening
	l := walked()
	assert.Equal(t, StagePlanned, l.assess(d, evening).Stage)
	sign, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	l.add(evening, sign)
	assert.Equal(t, StageSigned, l.assess(d, evening).Stage)

	depart, err := NewDepart(d, Fold(l), l.assess(d, evening), false, "")
	require.NoError(t, err)
	assert.Equal(t, len(l), depart.Sign)
	assert.Equal(t, "There", depart.To)
	l.add(evening, depart)
	a := l.assess(d, evening)
	assert.Equal(t, StageUnderWay, a.Stage)
	assert.False(t, a.SignOff.InForce, "a sign-off is good for one departure")
	_, err = Freeze(d, Fold(l), a, "A Skipper")
	refused(t, err, "she is under way; come in first: hoveshort arrive PLACE")
	_, err = NewDepart(d, Fold(l), a, true, "")
	require.ErrorContains(t, err, "she is under way since")

	in, err := NewArrive(d, Fold(l), day(1), ArrivalTold{})
	require.NoError(t, err)
	assert.Equal(t, "There", in.Place)
	l.add(day(1), in)
	a = l.assess(d, day(1))
	assert.Equal(t, StageArrived, a.Stage)
	assert.Nil(t, a.Way)
	closing, err := NewArrive(d, Fold(l), day(1.1), ArrivalTold{Close: true, Miles: "122 nm", Failed: []string{"log impeller"}})
	require.NoError(t, err)
	l.add(day(1.1), closing)
	a = l.assess(d, day(1.1))
	assert.Equal(t, StageClosed, a.Stage)
	assert.Equal(t, "the passage is sailed", a.Blockers[0].Title)

	d.Plan.Depart = day(3)
	a = l.assess(d, day(1.2))
	assert.Equal(t, StagePlanned, a.Stage, "the same passage once more is another one")
	for _, b := range a.Blockers {
		assert.NotEqual(t, MatterPlan, b.Matter)
	}
}

func TestSheDoesNotLeaveWhileAnythingIsAgainstIt(t *testing.T) {
	d, l := ready(t)
	_, err := NewDepart(d, Fold(l), l.assess(d, evening), false, "")
	require.ErrorContains(t, err, "refused: she is not signed off; clear it")

	d.Rounds = append(d.Rounds, Round{Name: "Weighing", For: ForWeigh, Sections: []Section{{Name: "Deck", Checks: []Check{
		{ID: "swimmers", Ask: "Nobody in the water", Right: "nobody", Critical: true},
		{ID: "flag", Ask: "Flag", Right: "flies"},
	}}}})
	sign, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err, "she signs without the round before weighing")
	l.add(evening, sign)
	_, err = NewDepart(d, Fold(l), l.assess(d, evening), false, "")
	require.ErrorContains(t, err, "refused: Nobody in the water (")
	assert.NotContains(t, err.Error(), "Flag")

	l.add(evening, Answer{Check: "swimmers", Answer: Right})
	old := evening.Add(13 * time.Hour)
	a := l.assess(d, old)
	require.True(t, a.SignOff.InForce, "age alone lapses no sign-off")
	_, err = NewDepart(d, Fold(l), a, false, "")
	require.ErrorContains(t, err, "Raw-water seacock", "but what is too old is looked at again before she leaves")

	unsigned, err := NewDepart(d, Fold(l), a, true, " a gale ")
	require.NoError(t, err)
	assert.Zero(t, unsigned.Sign)
	assert.Equal(t, "a gale", unsigned.Why)
	require.Len(t, unsigned.InTheWay, 2, "and what waits for it")
	assert.Contains(t, unsigned.InTheWay[0], "Raw-water seacock")

	depart, err := NewDepart(d, Fold(l), l.assess(d, evening), true, "")
	require.NoError(t, err)
	assert.NotZero(t, depart.Sign, "with nothing against it she leaves signed, whatever key was pressed")
	assert.Empty(t, depart.InTheWay)
}

func TestTheReasonForLeavingUnsignedMayFollowWithinADay(t *testing.T) {
	var l log
	l.add(evening, Depart{Passage: "across the bight", To: "There", InTheWay: []string{"not signed"}})
	s := Fold(l)
	_, err := s.NewDepartReason(day(1.01), "a gale")
	require.ErrorContains(t, err, "more than a day ago")
	_, err = s.NewDepartReason(day(0.5), " ")
	require.ErrorContains(t, err, "no reason was given")
	reason, err := s.NewDepartReason(day(0.5), "a gale")
	require.NoError(t, err)
	l.add(day(0.5), reason)
	s = Fold(l)
	assert.Equal(t, "a gale", s.Voyage.Reason.Why)
	assert.True(t, s.Voyage.IsUnsigned(), "it stands for ever")
	_, err = s.NewDepartReason(day(0.6), "two gales")
	require.ErrorContains(t, err, "written already")

	d, signed := left(t)
	_, err = Fold(signed).NewDepartReason(evening, "why not")
	require.ErrorContains(t, err, "did not leave unsigned")
	_ = d
}

// 400 nm; at noon of the first day 290 nm to go, of the second 190: 210 nm in 48 h are
// 4.375 kn, the last 100 nm in 24 h 4.17 kn. At 4.375 kn 190 nm take 43.43 h. Of 200 L of
// water 170 are left after two days: 15 L a day. What counts then is 170 - 5 (unusable) = 165,
// less the reserve of 20: 145 L, at 15 L a day 9.67 days to the reserve and 11 to nothing. At
// the planned 8 L a day (two at 3 + 1 L) it is 18.125 and 20.625 days, at 2 L each 36.25.
func TestPlanAgainstFactUnderWay(t *testing.T) {
	d, l := left(t)
	noon := func(at float64, told NoonTold) {
		n, err := NewNoon(d, Fold(l), day(at), told)
		require.NoError(t, err)
		l.add(day(at), n)
	}
	noon(1, NoonTold{ToGo: "290 nm"})
	noon(2, NoonTold{ToGo: "190 nm", Hours: "1010", Levels: []TankLevel{{"water", "170 L"}, {"diesel", "125 L"}}, Wind: "14 kn SE", Pressure: "1013 hPa", Sleep: "5"})
	a := l.assess(d, day(2.2))
	w := a.Way
	require.NotNil(t, w)
	assert.Equal(t, 3, w.Day)
	assert.InDelta(t, 210, float64(w.Done), 1e-9)
	assert.InDelta(t, 4.375, float64(w.Pace), 1e-9)
	assert.InDelta(t, 100.0/24, float64(w.LastPace), 1e-9)
	assert.WithinDuration(t, day(2+190/4.375/24), w.AtPace, time.Second)
	assert.False(t, w.NoonDue)
	assert.True(t, l.assess(d, day(3.1)).Way.NoonDue)

	water := w.Ends[0]
	assert.Equal(t, passage.Water, water.Thing)
	assert.InDelta(t, 15, water.Use, 1e-9)
	assert.InDelta(t, 2, water.Over, 1e-9)
	assert.InDelta(t, 8, water.UsePlan, 1e-9)
	soon := func(want, got time.Time) { t.Helper(); assert.WithinDuration(t, want, got, time.Second) }
	soon(day(2+145.0/15), water.Seen.Reserve)
	soon(day(2+11), water.Seen.Nothing)
	soon(day(2+145.0/8), water.Planned.Reserve)
	soon(day(2+165.0/8), water.Planned.Nothing)
	soon(day(2+145.0/4), water.Rations.Reserve)
	fuel := w.Ends[1]
	assert.InDelta(t, 12.5, fuel.Use, 1e-9, "25 L in two days")
	assert.Empty(t, w.Warns)

	assert.Equal(t, "at sea", a.Reckoning.Resources[passage.Water].Stretches[0].From)
	slow := a.Reckoning.Cases[passage.Slow]
	soon(day(2), slow.Voyage.Depart)
	assert.Empty(t, a.Loads, "nothing is loaded at sea")
}

// The slow case makes 0.5*5.25 + 0.5*0.7*5 = 4.375 kn on the fit boat's curve at 2000 rpm
// (5.25 kn): 400 nm in 91.4 h. With 190 of them to go after four days she comes in later.
func TestFactThatLeavesThePlanIsTold(t *testing.T) {
	d, l := left(t)
	l.add(day(4), Noon{To: "There", ToGo: 190, Levels: []TankLevel{{"water", "40 L"}, {"diesel", "100 L"}}})
	w := l.assess(d, day(4)).Way
	require.Len(t, w.Warns, 2)
	assert.Equal(t, "water RUNS OUT before the slow arrival, at the use seen", w.Warns[0], "40 L a day for 1.8 days are more than the 35 that count")
	assert.Contains(t, w.Warns[1], "later than the slow case that she left with")

	l = l[:len(l)-1]
	l.add(day(2), Noon{To: "There", ToGo: 190, Levels: []TankLevel{{"water", "100 L"}, {"diesel", "100 L"}}})
	w = l.assess(d, day(2)).Way
	assert.Equal(t, []string{"water goes into the reserve before the slow arrival, at the use seen"}, w.Warns[:1])
}

func TestANoonThatCannotWellBeIsAskedBack(t *testing.T) {
	d, l := left(t)
	d.Plan.Legs = append(d.Plan.Legs, passage.Leg{From: "There", To: "Farther", Distance: 60, Sail: 5})
	l.add(day(1), Noon{To: "There", ToGo: 290, Hours: 1005, Levels: []TankLevel{{"water", "185 L"}, {"diesel", "140 L"}}})
	s := Fold(l)
	for name, c := range map[string]struct {
		told NoonTold
		says string
		sure bool // it is taken when said for sure
	}{
		"nothing":                {NoonTold{}, "nothing was told", false},
		"more to go":             {NoonTold{ToGo: "300 nm"}, "300 nm to go is more than the 290 nm before; look again", true},
		"too fast":               {NoonTold{ToGo: "5 nm"}, "is faster than she sails", false},
		"no distance":            {NoonTold{ToGo: "0 nm"}, "is no distance to go", false},
		"no unit":                {NoonTold{ToGo: "200"}, "has no unit", false},
		"meter back":             {NoonTold{Hours: "1004"}, "the hour-meter stood at 1005 already", false},
		"meter too far":          {NoonTold{Hours: "1035"}, "would have run 30.0 h in the 12.0 h", true},
		"a tank that rose":       {NoonTold{Levels: []TankLevel{{"water", "199 L"}, {"diesel", "same"}}}, "and no fill was written", true},
		"one tank of two":        {NoonTold{Levels: []TankLevel{{"watr", "100 L"}}}, `did you mean "water"?`, false},
		"above the brim":         {NoonTold{Levels: []TankLevel{{"water", "250 L"}}}, "is more than", false},
		"no wind":                {NoonTold{Wind: "fresh"}, "is no wind", false},
		"no pressure":            {NoonTold{Pressure: "12 V"}, "is no pressure", false},
		"too much sleep":         {NoonTold{Sleep: "25"}, "are not in 24", false},
		"nowhere":                {NoonTold{To: "Elsewhere", ToGo: "20 nm"}, "is the end of no leg", false},
		"a place nearly":         {NoonTold{To: "Theer", ToGo: "280 nm"}, `did you mean "There"?`, false},
		"a position without end": {NoonTold{Position: "20 S 170 W"}, "where There lies is not known", false},
		"no position":            {NoonTold{Position: "at sea"}, "is no position", false},
		"decided without a why":  {NoonTold{Decided: []DecisionAnswered{{Point: "p", GoOn: true}}}, "a decision has a reason", false},
		"a control character":    {NoonTold{Note: "a\x1b[2J"}, "control character", false},
		"told twice":             {NoonTold{Levels: []TankLevel{{"water", "180 L"}, {"water", "170 L"}}}, "told twice", false},
		"same as never sounded":  {NoonTold{Levels: []TankLevel{{"gas", "none"}}}, "", false},
	} {
		_, err := NewNoon(d, s, day(1.5), c.told)
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.says, name)
		if c.sure {
			c.told.Sure = true
			_, err = NewNoon(d, s, day(1.5), c.told)
			assert.NoError(t, err, name)
		}
	}
	n, err := NewNoon(d, s, day(1.5), NoonTold{Levels: []TankLevel{{"water", "same"}, {"diesel", "same"}}})
	require.NoError(t, err)
	assert.Equal(t, []TankLevel{{"water", "185 L"}, {"diesel", "140 L"}}, n.Levels)
	_, err = NewNoon(d, State{}, day(1), NoonTold{ToGo: "20 nm"})
	require.ErrorContains(t, err, "she is not under way")
}

// Of the two tanks of a thing both are told, or what was drawn from one is counted twice.
func TestATankThatIsLeftOutIsAskedFor(t *testing.T) {
	d, l := left(t)
	d.Boat.Tanks = append(d.Boat.Tanks, d.Boat.Tanks[0])
	d.Boat.Tanks[3].Name = "port water"
	_, err := NewNoon(d, Fold(l), day(1), NoonTold{Levels: []TankLevel{{"water", "180 L"}}})
	refused(t, err, `port water is not told, and another tank of water is; sound it too, or say that nobody drew from it: "port water=same"`)
	d.Boat.Tanks[3].Sealed = true
	_, err = NewNoon(d, Fold(l), day(1), NoonTold{Levels: []TankLevel{{"water", "180 L"}}})
	require.NoError(t, err)
}

// 60 nm along a meridian are one degree (definition of the nautical mile).
func TestMilesToGoComeFromThePosition(t *testing.T) {
	d, l := left(t)
	d.Plan.Legs[0].Position = &passage.Position{Lat: -20, Lon: -175}
	n, err := NewNoon(d, Fold(l), day(1), NoonTold{Position: "16 S 175 W"})
	require.NoError(t, err)
	assert.InDelta(t, 240, n.ToGo, 0.5)
	d.Plan.Legs[0].Route = []passage.Position{{Lat: -14, Lon: -175}, {Lat: -15, Lon: -174}, {Lat: -20, Lon: -175}}
	_, err = NewNoon(d, Fold(l), day(1), NoonTold{Position: "16 S 175 W"})
	require.ErrorContains(t, err, "not straight")
}

func TestDecisionPointsAreAskedWhenTheyComeUp(t *testing.T) {
	d, l := left(t)
	d.Plan.Limits.Wind = 25
	d.Plan.Legs[0].Decisions = []passage.Decision{{At: 120, GoOnIf: "the barometer is steady", Else: "back"}, {At: 390, GoOnIf: "it is light"}}
	ask := func(told NoonTold) []DecisionPoint {
		n, err := NewNoon(d, Fold(l), day(1), told)
		require.NoError(t, err)
		return NoonQuestions(d, l, n, day(1))
	}
	assert.Empty(t, ask(NoonTold{ToGo: "300 nm", Wind: "25 kn"}))
	asked := ask(NoonTold{ToGo: "280 nm", Wind: "26 kn NE"})
	require.Len(t, asked, 2)
	assert.Equal(t, "120 nm from Here: go on if the barometer is steady", asked[0].Point)
	assert.Equal(t, "back", asked[0].Else)
	assert.Equal(t, "wind 26 kn NE, over your limit of 25.0 kn", asked[1].Point)

	ahead := l.assess(d, evening).Way.Points
	require.Len(t, ahead, 1, "what is farther than a day is not told yet")
	assert.InDelta(t, 120, float64(ahead[0].ToGo), 1e-9)
	l.add(day(1), Noon{To: "There", ToGo: 280, Decided: []DecisionAnswered{{Point: asked[0].Point, GoOn: true, Why: "1016 and steady"}}})
	assert.Empty(t, l.assess(d, day(1)).Way.Points, "what was answered is not asked again")
	remaining := d.AsSailed(Fold(l)).Plan.Legs[0].Decisions
	require.Len(t, remaining, 1)
	assert.InDelta(t, 270, float64(remaining[0].At), 1e-9)
}

func TestAChangeOfPlanIsReckonedWith(t *testing.T) {
	d, l := left(t)
	s := Fold(l)
	for _, c := range []struct{ what, why, to, toGo, says string }{
		{"", "", "", "", "nothing was changed"}, {"slower", "", "", "", "has a reason"},
		{"", "ill", "Refuge", "", "how far it is"}, {"x", "y", "", "20 nm", "miles to nowhere"}, {"x", "y", "Theer", "20 nm", "did you mean"},
	} {
		_, err := NewChange(d, s, c.what, c.why, c.to, c.toGo)
		require.Error(t, err)
		assert.Contains(t, err.Error(), c.says)
	}
	c, err := NewChange(d, s, "", "crew ill", "Refuge", "90 nm")
	require.NoError(t, err)
	l.add(day(1), c)
	a := l.assess(d, day(1))
	assert.True(t, a.Way.Fix.Other)
	legs := d.AsSailed(Fold(l)).Plan.Legs
	require.Len(t, legs, 1)
	assert.Equal(t, passage.Leg{From: "at sea", To: "Refuge", Distance: 90, Sail: 5}, legs[0])
	assert.Zero(t, a.Way.Pace, "her pace along the plan is not known any more")
	in, err := NewArrive(d, Fold(l), day(1.8), ArrivalTold{})
	require.NoError(t, err)
	assert.Equal(t, "Refuge", in.Place)
}

func TestLyingAtAStopTheRestIsThePlan(t *testing.T) {
	d, l := left(t)
	d.Plan.Legs[0].Stay, d.Plan.Legs[0].Fill = 48*time.Hour, []passage.Giving{{Thing: passage.Water, Sure: true}}
	d.Plan.Legs = append(d.Plan.Legs, passage.Leg{From: "There", To: "Farther", Distance: 60, Sail: 5})
	l.add(day(4), Arrive{Place: "There", Levels: []TankLevel{{"water", "100 L"}}})
	a := l.assess(d, day(4.5))
	rest := d.AsSailed(Fold(l))
	assert.Len(t, rest.Plan.Legs, 1)
	assert.Equal(t, "Farther", rest.Plan.Legs[0].To)
	assert.True(t, rest.Plan.Gives(passage.Water))
	assert.True(t, day(6).Equal(rest.Plan.Depart), "after the stay that was planned")
	for _, b := range a.Blockers {
		assert.NotEqual(t, "the passage is sailed", b.Title)
	}
	assert.Equal(t, d.Plan, rest.Whole().Plan)

	l.add(day(5), Arrive{Close: true})
	assert.Len(t, d.AsSailed(Fold(l)).Plan.Legs, 1)
	depart := Depart{Passage: d.Plan.Name, To: "Farther", Sign: 1}
	l.add(day(6), depart)
	f := Fold(l).fix(d)
	assert.Equal(t, 1, f.Leg)
	assert.InDelta(t, 60, float64(f.ToGo), 1e-9)
}

func TestComingInIsToldOnceAndInItsOrder(t *testing.T) {
	d, l := left(t)
	var none log
	_, err := NewArrive(d, Fold(none), evening, ArrivalTold{})
	require.ErrorContains(t, err, "she has not left")
	s := Fold(l)
	_, err = NewArrive(d, s, day(1), ArrivalTold{When: day(-1)})
	require.ErrorContains(t, err, "before she left")
	_, err = NewArrive(d, s, day(1), ArrivalTold{When: day(2)})
	require.ErrorContains(t, err, "later than now")
	_, err = NewArrive(d, s, day(1), ArrivalTold{Place: "Thre"})
	require.ErrorContains(t, err, `did you mean "There"?`)
	in, err := NewArrive(d, s, day(4), ArrivalTold{Place: "a cove nobody named", When: day(3), Hours: "1020", Levels: []TankLevel{{"water", "120 L"}}})
	require.NoError(t, err)
	l.add(day(4), in)
	s = Fold(l)
	assert.True(t, day(3).Equal(s.Voyage.Arrived.Moment()))
	assert.Equal(t, "120 L", s.Tanks["water"].Level)
	_, err = NewArrive(d, s, day(4), ArrivalTold{})
	require.ErrorContains(t, err, "came in at a cove nobody named")
	_, err = NewArrive(d, s, day(4), ArrivalTold{Place: "There", Close: true})
	require.ErrorContains(t, err, "already")
	closing, err := NewArrive(d, s, day(4), ArrivalTold{Close: true})
	require.NoError(t, err)
	l.add(day(4), closing)
	_, err = NewArrive(d, Fold(l), day(4), ArrivalTold{Close: true})
	require.ErrorContains(t, err, "the passage is closed")
}

func TestARepairToBeProvedUnderWayIsToldWithItsDeadline(t *testing.T) {
	d, l := left(t)
	l = l[:len(l)-2]
	l.add(evening, DefectAct{What: "warm", Grade: machinery.Note})
	number := len(l)
	l.add(evening, DefectAct{Of: number, Repaired: true, Cause: "strainer", Proofs: []ProofWanted{{At: machinery.ProofAtSea, Within: "2 h", RPM: 2000, For: "45 min", Else: "back under sail"}}})
	l.add(evening, Depart{Passage: d.Plan.Name, To: "There", Sign: 1, ToProve: []int{number}})
	w := l.assess(d, evening.Add(time.Hour)).Way
	require.Len(t, w.Proofs, 1)
	assert.Equal(t, number, w.Proofs[0].Defect)
	assert.True(t, evening.Add(2*time.Hour).Equal(w.Proofs[0].Deadline))
	assert.Equal(t, "back under sail", w.Proofs[0].Else)
}

// Trimmed once or twice, before or after what a page brought forward: the same plan.
func TestWhatIsLeftOfThePlanIsTheSameHoweverOftenItIsAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, l := left(t)
		d.Plan.Legs = append(d.Plan.Legs, passage.Leg{From: "There", To: "Farther", Distance: 60, Sail: 5})
		d.Plan.Legs[0].Alternates = []passage.Alternate{{Name: "Lee", After: 100, Distance: 20}}
		for i := range rapid.IntRange(0, 4).Draw(t, "noons") {
			l.add(day(float64(i+1)/2), Noon{
				To: rapid.SampledFrom([]string{"There", "Farther", ""}).Draw(t, "to"), ToGo: rapid.Float64Range(0, 400).Draw(t, "to go"),
			})
		}
		if rapid.Bool().Draw(t, "in") {
			l.add(day(4), Arrive{Place: rapid.SampledFrom([]string{"There", "Farther", "Lee"}).Draw(t, "at")})
		}
		s := Fold(l)
		once := d.AsSailed(s)
		require.Equal(t, once, once.AsSailed(s))
		require.Equal(t, d, once.Whole())
		require.Equal(t, once.Plan, d.AsSailed(Fold(log{{Seq: 99, At: day(4), Act: Compact(l)}})).Plan)
		a, b := Assess(d, s, day(4)), Assess(once, s, day(4))
		require.Equal(t, a.Reckoning.Depart, b.Reckoning.Depart)
		require.Equal(t, a.Way, b.Way)
		if a.Way != nil {
			require.GreaterOrEqual(t, float64(a.Way.Done), 0.0)
		}
	})
}

// Under way all went as in the slow case: the last moment for turning back, and the point from
// which on and back take the same time, are where they were when she left.
func TestTurningBackUnderWayIsWhereItWasWhenAllWentAsPlanned(t *testing.T) {
	d, l := left(t)
	d.Plan.Legs[0].Distance = 1200
	atFirst := l.assess(d, evening)
	slow := atFirst.Reckoning.Cases[passage.Slow].Voyage
	made := 1200 / slow.Hours
	told := Noon{To: "There", ToGo: 1200 - made*36}
	for i, tank := range []string{"water", "diesel", "gas"} {
		s, _ := atFirst.Reckoning.Resources[[]passage.Thing{passage.Water, passage.Fuel, passage.Gas}[i]].First()
		level := s.Available - s.Need*provisions.Amount(1.5/s.Length) + d.Boat.Tanks[i].Unusable
		told.Levels = append(told.Levels, TankLevel{tank, fmt.Sprintf("%.9f %s", float64(level), []string{"L", "L", "kg"}[i])})
	}
	l.add(day(1.5), told)
	later := l.assess(d, day(1.5))

	before, now := atFirst.Outlook(), later.Outlook()
	compared := 0
	for _, was := range before.Turning {
		i := slices.IndexFunc(now.Turning, func(is provisions.Turning) bool { return is.Thing == was.Thing })
		require.GreaterOrEqual(t, i, 0)
		is := now.Turning[i]
		assert.Equal(t, "Here", is.To)
		if was.Thing == passage.Food || was.Thing == passage.Gas {
			continue // food goes by whole days; of gas the reserve is a share of what is left to sail
		}
		require.Equal(t, provisions.TurnOnLeg, was.State, string(was.Thing))
		assert.Equal(t, was.State, is.State)
		assert.WithinDuration(t, was.At, is.At, time.Second, string(was.Thing))
		assert.InDelta(t, float64(was.After), float64(is.After)+made*36, 1e-4)
		assert.InDelta(t, was.Back, is.Back, 1e-4)
		compared++
	}
	assert.Equal(t, 2, compared)
	require.Len(t, now.OnOrBack, 1)
	assert.WithinDuration(t, before.OnOrBack[0].At, now.OnOrBack[0].At, time.Second)

	last := slices.MinFunc(now.Turning, func(x, y provisions.Turning) int { return x.At.Compare(y.At) })
	require.Equal(t, provisions.TurnOnLeg, last.State)
	soon := last.At.Add(-20 * time.Hour)
	noon := Noon{To: "There", ToGo: 1200 - made*soon.Sub(evening).Hours()}
	asked := NoonQuestions(d, l, noon, soon)
	require.Len(t, asked, 1)
	assert.Contains(t, asked[0].Point, "turning back to Here ends ")
	assert.Empty(t, NoonQuestions(d, l[:len(l)-1], Noon{To: "There", ToGo: 1200 - made*12}, day(0.5)), "it is a day and a half off")

	l.add(day(2), Noon{To: "There", ToGo: 100})
	assert.True(t, l.assess(d, day(2)).Outlook().OnOrBack[0].Passed)
	l.add(day(2), Change{What: "elsewhere", Why: "ill", To: "Refuge", ToGo: 50})
	assert.Empty(t, l.assess(d, day(2)).Outlook().OnOrBack, "what lies behind her is not known")
}

// The gauge of 200 L may be out by a tenth, 20 L. With 1.81 days to go (190 nm at 4.375 kn) and
// 114 L by the gauge, 114 - 20 - 5 = 89 count. Seen are 86 L in two days, 43 a day, which leave
// 11 L of them, in the reserve of 20; but it may be 66 L, 33 a day, which leave 29.
func TestWhatTheGaugesMayBeOutByIsNoAlarm(t *testing.T) {
	d, l := left(t)
	d.Boat.Tanks[0].GaugeError = 0.1
	l.add(day(2), Noon{To: "There", ToGo: 190, Levels: []TankLevel{{"water", "120 L"}, {"diesel", "125 L"}}})
	w := l.assess(d, day(2)).Way
	require.Empty(t, w.Warns, "40 L a day, or 30: 95 L count, 54 at the least are used")
	l = l[:len(l)-1]
	l.add(day(2), Noon{To: "There", ToGo: 190, Levels: []TankLevel{{"water", "114 L"}, {"diesel", "125 L"}}})
	w = l.assess(d, day(2)).Way
	require.Len(t, w.Warns, 1)
	assert.Equal(t, "water perhaps goes into the reserve before the slow arrival, at the use seen in 2.0 days; the gauges may be out by 20: sound again", w.Warns[0])
}

// 200 L an hour before leaving, of which 195 count less the hour's 8/24 L, were promised to be
// 8 L a day less; at noon of the second day 170 L are sounded: 165 that count, 48 hours out.
func TestTheChartPutsWhatWasSoundedBesideWhatWasPromised(t *testing.T) {
	d, l := left(t)
	lying := walked()
	_, ok := lying.assess(d, evening).WayChart(passage.Water, nil)
	assert.False(t, ok, "she lies")
	l.add(day(2), Noon{To: "There", ToGo: 190, Levels: []TankLevel{{"water", "170 L"}, {"diesel", "125 L"}}})
	a := l.assess(d, day(2))
	c, ok := a.WayChart(passage.Water, a.Outlook().Left)
	require.True(t, ok)
	assert.True(t, evening.Equal(c.Depart))
	require.Len(t, c.Facts, 1)
	assert.InDelta(t, 48, c.Facts[0].Hours, 1e-9)
	assert.InDelta(t, 165, float64(c.Facts[0].Amount), 1e-9)
	require.Len(t, c.Planned, 2)
	assert.InDelta(t, 195-8.0/24, float64(c.Planned[0].Amount), 1e-9)
	days := c.Planned[1].Hours / 24
	assert.InDelta(t, 195-8.0/24-8*days, float64(c.Planned[1].Amount), 1e-6)
	slow := c.Left[0]
	assert.InDelta(t, 48, slow.Points[0].Hours, 1e-9, "what is left now goes on from the noon")
	assert.InDelta(t, 165, float64(slow.Points[0].Amount), 1e-9)
	assert.InDelta(t, 48+a.Reckoning.Cases[passage.Slow].Voyage.Hours, slow.Ends(), 1e-6)
}

func TestTheHourMeterOfANoonIsNoReadingOfTheEngine(t *testing.T) {
	d, l := left(t)
	l.add(day(0.5), Reading{Values: []ReadingValue{{"rpm", counted(2000)}, {"coolant", celsius(80)}}, Minutes: 20})
	l.add(day(1), Noon{To: "There", ToGo: 300, Hours: 1010})
	s := Fold(l)
	require.Len(t, s.Readings, 2)
	assert.Equal(t, 0, s.latestReading(day(1)))
	assert.InDelta(t, 1010, s.hoursNow(d), 1e-9)
}

// A sign-off does not come back over an engine that was opened since: it accepted no repair.
func TestASignOffKnowsTheDefectsThatItAccepted(t *testing.T) {
	d := fitBoat()
	d.Plan.Depart = evening
	l := walked()
	sign, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	l.add(evening, sign)
	require.True(t, l.assess(d, evening).SignOff.InForce)
	l.add(evening, DefectAct{What: "weeps", Grade: machinery.Limit})
	a := l.assess(d, evening)
	require.Empty(t, a.Blockers)
	assert.False(t, a.SignOff.InForce)
	assert.Equal(t, "a defect is not in it: weeps", a.SignOff.Lapsed)
	l.add(evening, Accept{Caution: a.Cautions[0].ID(), Why: "watched"})
	again, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	l.add(evening, again)
	assert.True(t, l.assess(d, evening).SignOff.InForce)
}

// The record keeps whole seconds: what was promised is no later than itself.
func TestSheIsNotLateByAFractionOfAMinute(t *testing.T) {
	d, l := left(t)
	v := l[len(l)-1].Act.(Depart)
	v.Cases = slices.Clone(v.Cases)
	for i := range v.Cases {
		v.Cases[i].Arrive = v.Cases[i].Arrive.Add(-time.Second)
	}
	l[len(l)-1].Act = v
	assert.Empty(t, l.assess(d, evening).Way.Warns)
	for i := range v.Cases {
		v.Cases[i].Arrive = v.Cases[i].Arrive.Add(-2 * time.Minute)
	}
	assert.Len(t, l.assess(d, evening).Way.Warns, 1)
}
