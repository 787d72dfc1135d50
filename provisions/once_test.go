package provisions

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// once40 is a laundry of 40 L on a day of June.
func once40(n int) passage.Use {
	return passage.Use{What: passage.Water, Amount: 40, On: day(n), Why: "laundry"}
}

// anyUse is a one-off use on some day about the passage, or at a place of it.
func anyUse(t *rapid.T, plan passage.Plan) passage.Use {
	u := passage.Use{
		What:   rapid.SampledFrom([]passage.Thing{passage.Water, passage.Fuel, passage.Gas}).Draw(t, "what is used once"),
		Amount: float64(rapid.IntRange(1, 80).Draw(t, "once")),
	}
	if rapid.Bool().Draw(t, "on a day") {
		u.On = quantity.DateOf(sails).AddDays(rapid.IntRange(-2, 40).Draw(t, "day"))
	} else {
		u.At = plan.Legs[rapid.IntRange(0, len(plan.Legs)-1).Draw(t, "leg")].To
	}
	return u
}

func anyUses(t *rapid.T, plan passage.Plan) []passage.Use {
	uses := make([]passage.Use, rapid.IntRange(0, 3).Draw(t, "uses"))
	for i := range uses {
		uses[i] = anyUse(t, plan)
	}
	return uses
}

// The passage worked by hand at TestPassageWorkedByHand, of three at 23 L of water a day, by
// the clock of the slow case: she leaves on 1 June at 05:30, is at Middle Island, which gives
// water, from the 3rd at 05:30 to the 5th at 05:30, and at Far Harbour on the 9th at 05:30.
func TestOneOffUseCountsOnTheStretchOfItsDay(t *testing.T) {
	for _, row := range []struct {
		name       string
		use        passage.Use
		onTo, onOn Amount // more needed on the first stretch, and on the second
	}{
		{"the day of the departure", once40(1), 40, 0},
		{"a day at sea", once40(2), 40, 0},
		{"the day of the arrival is counted before it", once40(3), 40, 0},
		{"a day at the stop that gives water", once40(4), 0, 0},
		{"the day on which she leaves it", once40(5), 0, 40},
		{"a day on the second leg", once40(6), 0, 40},
		{"the last day", once40(9), 0, 40},
		{"the day after the last", once40(10), 0, 0},
		{"the day before the departure", passage.Use{What: passage.Water, Amount: 40, On: day(1).AddDays(-1)}, 0, 0},
		{"at the stop that gives water", passage.Use{What: passage.Water, Amount: 40, At: "Middle Island"}, 0, 0},
		{"where she ends", passage.Use{What: passage.Water, Amount: 40, At: "Far Harbour"}, 0, 0},
		{"of another thing", passage.Use{What: passage.Fuel, Amount: 40, On: day(2)}, 0, 0},
	} {
		plan := outAndOn()
		before := reckoned(cruiser(), plan, Aboard{}, handVoyages()[:1], galley{}).Resources[passage.Water].Stretches
		plan.Uses = []passage.Use{row.use}
		after := reckoned(cruiser(), plan, Aboard{}, handVoyages()[:1], galley{}).Resources[passage.Water].Stretches
		assert.InDelta(t, float64(row.onTo), float64(after[0].Need-before[0].Need), 1e-9, row.name)
		assert.InDelta(t, float64(row.onOn), float64(after[1].Need-before[1].Need), 1e-9, row.name)
	}
}

// She is at Middle Island on 2 June from 05:30 to 11:30: a use of that day is one, and
// counts on the way there.
func TestOneOffUseOfADayOnTwoStretchesCountsOnce(t *testing.T) {
	brief := []passage.Voyage{voyage(passage.Slow, sea(0, 24, 0), stay(0, 6), sea(1, 48, 0))}
	plan := outAndOn()
	before := reckoned(cruiser(), plan, Aboard{}, brief, galley{}).Resources[passage.Water].Stretches
	plan.Uses = []passage.Use{once40(2)}
	after := reckoned(cruiser(), plan, Aboard{}, brief, galley{}).Resources[passage.Water].Stretches
	assert.InDelta(t, 40, float64(after[0].Need-before[0].Need), 1e-9)
	assert.InDelta(t, 0, float64(after[1].Need-before[1].Need), 1e-9)
}

// Three days are held back at 23 L a day; half of the need is of all that is needed, 92 + 40 L.
func TestReserveOfDaysIsWithoutOneOffUses(t *testing.T) {
	plan := one(3)
	plan.Climate = passage.Hot
	plan.Uses = []passage.Use{once40(2)}
	for want, reserve := range map[float64]Reserve{69: {Days: 3}, 66: {ShareOfNeed: 0.5}} {
		b := cruiser()
		b.Rates.Reserve[passage.Water] = reserve
		assert.InDelta(t, want, float64(reckoned(b, plan, Aboard{}, days(4), galley{}).first(passage.Water).Reserve), 1e-9)
	}
}

// Fuel is not sure at Middle Island: a use at that stop is taken on arrival, after 2 days
// and 59.7 L of the 131 L, and 71.3 L are left.
func TestOneOffUseAtAStopIsTakenOnArrival(t *testing.T) {
	plan := outAndOn()
	plan.Uses = []passage.Use{{What: passage.Fuel, Amount: 30, At: "Middle Island", Why: "lent to a neighbour"}}
	r := reckoned(cruiser(), plan, Aboard{}, handVoyages(), galley{})
	fuel := r.first(passage.Fuel)
	assert.InDelta(t, 127.8+30, float64(fuel.Need), 1e-9)
	assert.InDelta(t, 127.8+30, float64(r.Cases[passage.Slow].Fuel), 1e-9, "in the totals of each case too")

	// 131 - 59.7 - 30 - 4.2 in stay and wait = 37.1 L; 15.975 L a day on the second leg
	assert.InDelta(t, 4+37.1/15.975, fuel.LastDrop.Days, 1e-9)
	left := leftOf(t, situation(cruiser(), plan).left(r), passage.Fuel, passage.Slow)
	inDelta(t, []LeftPoint{{0, 131}, {48, 71.3}, {48, 41.3}, {72, 39.2}, {96, 37.1}, {(4 + 37.1/15.975) * 24, 0}, {192, 0}}, left.Points)

	w := situation(cruiser(), plan).ExplainStretch(r, passage.Fuel, 0, quantity.Metric)
	assert.Equal(t, WorkingLine{"one-off use", "lent to a neighbour, at Middle Island", "30 L"}, lineOf(t, w, "one-off use"))

	plan.Legs[0].Fill = []passage.Giving{{Thing: passage.Fuel, Sure: true}}
	r = reckoned(cruiser(), plan, Aboard{}, handVoyages(), galley{})
	assert.InDelta(t, 59.7, float64(r.first(passage.Fuel).Need), 1e-9, "where fuel is surely given it is used of no tank")
	assert.InDelta(t, 127.8+30, float64(r.Cases[passage.Slow].Fuel), 1e-9, "the totals are of all")
}

// 40 L at midnight of the second day, 18.5 h out, when 289 L less 17.73 L are there: three use 23 L a day.
func TestOneOffUseEndsWhatItDoesNotFindAnyMore(t *testing.T) {
	plan := one(3)
	plan.Climate = passage.Hot
	b := cruiser()
	b.Rates.Reserve[passage.Water] = Reserve{Amount: 240}
	plan.Uses = []passage.Use{once40(2)}
	r := reckoned(b, plan, Aboard{}, days(4), galley{})
	water := r.first(passage.Water)
	require.InDelta(t, 289, float64(water.Available), 1e-9)
	assert.InDelta(t, 18.5/24, water.Endurance.Days, 1e-9, "31.27 L above the reserve are less than 40 L")
	assert.InDelta(t, 4+(289-92-40)/23.0, water.LastDrop.Days, 1e-9, "beyond the end by the day: the laundry does not come again")

	w := situation(b, plan).ExplainStretch(r, passage.Water, 0, quantity.Metric)
	assert.Equal(t, WorkingLine{"one-off use", "laundry, on Tue 2 Jun", "40 L"}, lineOf(t, w, "one-off use"))
	assert.Equal(t, "132 L", lineOf(t, w, "need").Result)
	assert.Equal(t, "(289 L - 240 L): 17.73 L of it go in the first 0.77 days; the 40 L that are then used at once are more than is left",
		lineOf(t, w, "to the reserve").How)
}

// 46 L in two days at 23 L a day out and home under sail, 5 kn out and 2.5 kn home: a mile
// out and home uses 0.575 L, 57.5 L go 100 miles. 10 L once, 18.5 h and 92.5 miles out, leave
// 47.5 L: less than there is used by then, so she turns there; 4 L leave 53.5 L, which are
// used by 93.04 miles.
func TestTurningBackSeesAOneOffUse(t *testing.T) {
	plan := one(3)
	plan.Climate = passage.Hot
	plan.Cases = map[passage.CaseName]passage.Case{passage.Slow: {Speed: 1, Motor: 1}}
	plan.Legs[0].Distance = 400
	plan.Legs[0].Home = &passage.Home{Sail: 2.5}
	b := cruiser()
	b.Rates.Reserve[passage.Water] = Reserve{Amount: 289 - 57.5}
	b.Tanks[0].GaugeError, b.Tanks[0].Level = 0.05, amount(200)
	for _, row := range []struct{ litres, miles float64 }{{0, 100}, {4, 93.0435}, {10, 92.5}, {30, 92.5}} {
		plan.Uses = []passage.Use{{What: passage.Water, Amount: row.litres, On: day(2)}}
		s := situation(b, plan)
		r := s.Reckon()
		turning := s.turning(r)[0]
		require.Equal(t, passage.Water, turning.Thing)
		assert.Equal(t, TurnOnLeg, turning.State)
		assert.InDelta(t, row.miles, float64(turning.After), 1e-3, "%v L", row.litres)
		w := s.ExplainTurning(r, turning, quantity.Metric)
		assert.Equal(t, row.litres == 4, has(w, "one-off uses"))
	}
}

// A use that is nothing is none; two on one day are one of both.
func TestOneOffUseOfNothingAndInTwoChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySituation(t)
		u := anyUse(t, s.Plan)
		s.Plan.Uses = []passage.Use{u}
		whole := s.Reckon()

		nothing := u
		nothing.Amount = 0
		s.Plan.Uses = []passage.Use{nothing}
		with := s.Reckon()
		s.Plan.Uses = nil
		require.Equal(t, s.Reckon(), with)

		half := u
		half.Amount /= 2
		s.Plan.Uses = []passage.Use{half, half}
		split := s.Reckon()
		for _, thing := range passage.Things {
			for i, want := range whole.Resources[thing].Stretches {
				got := split.Resources[thing].Stretches[i]
				require.InDelta(t, float64(want.Need), float64(got.Need), 1e-6)
				require.InDelta(t, float64(want.Reserve), float64(got.Reserve), 1e-6)
				if want.Hard == got.Hard {
					require.InDelta(t, want.Endurance.Days, got.Endurance.Days, 1e-6)
					require.InDelta(t, want.LastDrop.Days, got.LastDrop.Days, 1e-6)
				}
			}
		}
	})
}

// In every case and on every stretch: more is needed, and nothing lasts longer.
func TestOneOffUseNeverLengthensEndurance(t *testing.T) {
	counted := 0
	untilMet(t, func() bool { return counted > 0 }, func(t *rapid.T) {
		s := anySituation(t)
		before := s.Reckon()
		u := anyUse(t, s.Plan)
		plain := newHousehold(s.Boat, s.Plan)
		s.Plan.Uses = append(slices.Clone(s.Plan.Uses), u)
		more := newHousehold(s.Boat, s.Plan)
		budget := rapid.Float64Range(0, 800).Draw(t, "budget")
		for _, name := range passage.CaseNames {
			v := before.Cases[name].Voyage
			for _, cut := range sections(s.Plan, u.What) {
				with, without := more.follow(v).part(cut), plain.follow(v).part(cut)
				net, gross := with.need(u.What)
				least, leastGross := without.need(u.What)
				require.GreaterOrEqual(t, net, least-1e-6)
				require.GreaterOrEqual(t, gross, leastGross-1e-6)
				require.InDelta(t, without.hours(), with.hours(), 1e-6)
				require.False(t, longer(with.lasts(u.What, budget), without.lasts(u.What, budget)))
				if net > least+1e-6 {
					counted++
					require.InDelta(t, u.Amount, net-least, 1e-6)
				}
			}
		}
		after := s.Reckon()
		require.GreaterOrEqual(t, badness(after.Verdict), badness(before.Verdict))
		for i, st := range after.Resources[u.What].Stretches {
			was := before.Resources[u.What].Stretches[i]
			require.GreaterOrEqual(t, float64(st.Need), float64(was.Need)-1e-6)
			if st.Hard == was.Hard {
				require.False(t, longer(st.Endurance, was.Endurance), "%+v, before %+v", st, was)
				require.GreaterOrEqual(t, float64(st.Short), float64(was.Short)-1e-6)
			}
		}
	})
}

// A what-if, a load and the chart all see the use: with it she must load that much more.
func TestOneOffUseIsSeenByWhatIfsAndLoads(t *testing.T) {
	s := threePlaces()
	s.Boat.Lots[0].Packs = 99
	s.Plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	s.Boat.Tanks[1].Level = amount(20)
	seen := func() (whatIfs string, load, left Amount) {
		r := s.Reckon()
		for _, w := range s.WhatIfs(r).List {
			if w.Kind == OneMoreAboard {
				whatIfs = fmt.Sprintf("%s %s %.0f", w.Verdict, w.Thing, float64(w.Missing))
			}
		}
		left, _ = leftOf(t, s.left(r), passage.Water, passage.Slow).At(24)
		return whatIfs, s.Loads(r)[0].Amount, left
	}

	// It is a day to Middle Island: two drink 20 L, three 30 L, and 20 L are held back; 80 L
	// are there. With 45 L once 85 L are wanted, of three 95 L.
	whatIf, load, left := seen()
	assert.Equal(t, "holds  0", whatIf)
	assert.Zero(t, load)
	assert.InDelta(t, 60, float64(left), 1e-9)

	s.Plan.Uses = []passage.Use{{What: passage.Water, Amount: 45, On: day(2)}}
	whatIf, load, left = seen()
	assert.Equal(t, "into the reserve water 15", whatIf)
	assert.InDelta(t, 5, float64(load), 1e-9)
	assert.InDelta(t, 15, float64(left), 1e-9)
}

// No wind: 90 L may be used on the way, at 2 L an hour under engine 45 h of it; the day at
// Middle Island charges for 1 L, 44.5 h are left. With 30 L kept for a neighbour at
// Middle Island she motors 15 h less, and drifts so much longer.
func TestFuelForAOneOffUseIsNotMotoredAwayInACalm(t *testing.T) {
	motored := func(uses ...passage.Use) (hours float64) {
		s := threePlaces()
		s.Boat.Tanks[3].Level = Level{Kind: Brim}
		s.Plan.Uses = uses
		r := s.Reckon()
		for _, span := range newBasis(s, &r).becalmed()[0].Spans {
			if span.Power == 1 {
				hours += span.Hours
			}
		}
		return hours
	}
	assert.InDelta(t, 44.5, motored(), 1e-9)
	assert.InDelta(t, 29.5, motored(passage.Use{What: passage.Fuel, Amount: 30, At: "Middle Island"}), 1e-9)
	assert.InDelta(t, 44.5, motored(passage.Use{What: passage.Water, Amount: 30, At: "Middle Island"}), 1e-9)
}

func TestWordsOfAOneOffUse(t *testing.T) {
	assert.Equal(t, "laundry, on Tue 2 Jun", once40(2).Words())
	assert.Equal(t, "at Middle Island", passage.Use{At: "Middle Island"}.Words())
	_, isStop := outAndOn().Stop("Far Harbour")
	assert.False(t, isStop, "she does not go on from there")
	assert.True(t, time.Date(2026, 6, 2, 0, 0, 0, 0, offset).Equal(plannedUses(passage.Plan{Depart: sails, Uses: []passage.Use{once40(2)}})[0].begins))
}
