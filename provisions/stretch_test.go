package provisions

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/provisions/passage"
)

// steady is a part with one rate of gas a day over so many days.
func steady(length, rate float64) part {
	return part{spans: []passage.Span{sea(0, length*24, 0)}, uses: []use{{gas: rate / 24}}}
}

// Rows W7, W8 and D7 of the reference.
func TestPublishedEndurances(t *testing.T) {
	for _, c := range []struct {
		name         string
		budget, rate float64 // a day
		want, within float64
	}{
		{"W7 to the reserve: 380/18.5", 380, 18.5, 20.54, 0.01},
		{"W7 to the last drop: 400/18.5", 400, 18.5, 21.62, 0.01},
		{"W8 to the reserve: 380/23", 380, 23, 16.52, 0.01},
		{"D7: 180 L at 2.4 L/h, 75 h", 180, 2.4 * 24, 75.0 / 24, 1e-9},
	} {
		for _, length := range []float64{1, c.want, 100} {
			got := steady(length, c.rate).lasts(passage.Gas, c.budget)
			assert.False(t, got.Never, c.name)
			assert.InDelta(t, c.want, got.Days, c.within, "%s, on a stretch of %v days", c.name, length)
		}
	}
}

// D7 in miles: 75 h at 5.6 kn.
func TestRangeOfTheWholeBoat(t *testing.T) {
	b := cruiser()
	b.Engine.Charging = 0
	b.Tanks = []Tank{{Name: "diesel", Holds: passage.Fuel, Capacity: 180, Level: Level{Kind: Brim}}}
	r := reckoned(b, one(1), Aboard{}, []passage.Voyage{voyage(passage.Slow, sea(0, 10, 1))}, galley{})
	assert.InDelta(t, 420, r.first(passage.Fuel).LastDrop.Days*24*5.6, 1e-6, "D7")
}

func TestEnduranceWalksTheSpans(t *testing.T) {
	// 2 days at 10 a day, 3 days of nothing, 2 days at 5 a day; mean 30/7 a day.
	p := part{
		spans: []passage.Span{sea(0, 48, 0), stay(0, 72), sea(1, 48, 0)},
		uses:  []use{{gas: 10.0 / 24}, {}, {gas: 5.0 / 24}},
	}
	for _, c := range []struct {
		name   string
		budget float64
		want   Days
	}{
		{"overdrawn", -0.1, Days{}},
		{"a crumb overdrawn is not", -1e-9, Days{}},
		{"nothing left", 0, Days{}},
		{"half of the first span", 10, Days{Days: 1}},
		{"just before the pause: 19.5/10", 19.5, Days{Days: 1.95}},
		{"exactly the first span: untouched till the pause is over", 20, Days{Days: 5}},
		{"into the last span: 5 + 5/5", 25, Days{Days: 6}},
		{"exactly the end", 30, Days{Days: 7}},
		{"beyond the end at the mean: 7 + 30/(30/7)", 60, Days{Days: 14}},
	} {
		got := p.lasts(passage.Gas, c.budget)
		assert.Equal(t, c.want.Never, got.Never, c.name)
		assert.InDelta(t, c.want.Days, got.Days, 1e-6, c.name)
	}
}

func TestEnduranceOfWhatIsNotUsedNeverEnds(t *testing.T) {
	assert.Equal(t, Days{Never: true}, steady(3, 0).lasts(passage.Gas, 10))
	assert.Equal(t, Days{Never: true}, steady(3, 0).lasts(passage.Gas, 0))
	assert.Equal(t, Days{Never: true}, steady(3, 0).lasts(passage.Gas, -1e-9), "a crumb")
	assert.Equal(t, Days{}, steady(3, 0).lasts(passage.Gas, -1), "already under the reserve")
	assert.Equal(t, Days{Never: true}, part{}.lasts(passage.Gas, 10))
	assert.Equal(t, Days{Never: true}, Days{Never: true}.less(3))
	assert.Equal(t, Days{Days: -2}, Days{Days: 1}.less(3))
}

// Rows R3 and R4 of the reference, and the candidates one by one.
func TestReserveIsTheLargestGiven(t *testing.T) {
	for _, c := range []struct {
		name         string
		reserve      Reserve
		need, days   float64
		usable, want Amount
	}{
		{"R3: a third of 200", Reserve{ShareOfCapacity: 1.0 / 3}, 150, 10, 200, 66.67},
		{"R4: 92.5, 20, 92.5", Reserve{ShareOfNeed: 0.5, Amount: 20, Days: 5}, 185, 10, 0, 92.5},
		{"days alone: 6 of 18.5", Reserve{Days: 6}, 185, 10, 0, 111},
		{"share of need alone", Reserve{ShareOfNeed: 0.5}, 185, 10, 0, 92.5},
		{"amount alone", Reserve{Amount: 20}, 185, 10, 0, 20},
		{"amount above the others", Reserve{ShareOfNeed: 0.5, Amount: 93, Days: 5}, 185, 10, 0, 93},
		{"none on purpose", Reserve{None: true, Amount: 20}, 185, 10, 100, 0},
		{"nothing given", Reserve{}, 185, 10, 100, 0},
		{"no time: no mean", Reserve{Days: 6}, 0, 0, 0, 0},
	} {
		assert.InDelta(t, float64(c.want), float64(c.reserve.held(c.need, c.need, c.days, c.usable)), 0.01, c.name)
	}
	assert.InDelta(t, 26.67, float64(short(150, 66.67, 190)), 0.01, "R3")
}

func TestShortAndVerdictAtTheEdges(t *testing.T) {
	for _, c := range []struct {
		name                     string
		need, reserve, available Amount
		short                    float64
		want                     Verdict
	}{
		{"plenty", 100, 20, 130, 0, Holds},
		{"exactly need and reserve", 100, 20, 120, 0, Holds},
		{"a crumb under", 100, 20, 120 - 5e-7, 0, Holds},
		{"just under", 100, 20, 119.99, 0.01, IntoReserve},
		{"exactly the need", 100, 20, 100, 20, IntoReserve},
		{"a crumb under the need", 100, 20, 100 - 5e-7, 20, IntoReserve},
		{"just under the need", 100, 20, 99.99, 20.01, RunsOut},
		{"no reserve, exactly", 100, 0, 100, 0, Holds},
		{"no reserve, just under", 100, 0, 99.99, 0.01, RunsOut},
	} {
		s := Stretch{Need: c.need, Reserve: c.reserve, Available: c.available}
		s.Short = short(c.need, c.reserve, c.available)
		assert.InDelta(t, c.short, float64(s.Short), 1e-6, c.name)
		assert.Equal(t, c.want, s.Verdict(), c.name)

		s.Bought = true
		assert.Equal(t, Holds, s.Verdict(), "bought: %s", c.name)
	}
}

func TestVerdictOfSeveralIsTheWorst(t *testing.T) {
	order := []Verdict{"", Holds, IntoReserve, RunsOut}
	for i, a := range order {
		for j, b := range order {
			assert.Equal(t, order[max(i, j)], Worse(a, b))
		}
	}
	assert.Equal(t, Verdict(""), Resource{}.Verdict())
}

func TestPassageIsCutWhereAThingIsSurelyGiven(t *testing.T) {
	plan := passage.Plan{Legs: make([]passage.Leg, 4)}
	assert.Equal(t, []section{{0, 3}}, sections(plan, passage.Water))

	plan.Legs[0].Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	plan.Legs[1].Fill = []passage.Giving{{Thing: passage.Water}, {Thing: passage.Fuel, Sure: true}}
	plan.Legs[2].Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	plan.Legs[3].Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	assert.Equal(t, []section{{0, 0}, {1, 2}, {3, 3}}, sections(plan, passage.Water))
	assert.Equal(t, []section{{0, 1}, {2, 3}}, sections(plan, passage.Fuel))
	assert.Equal(t, []section{{0, 3}}, sections(plan, passage.Gas))
	assert.Empty(t, sections(passage.Plan{}, passage.Gas))
}

// A passage of two legs, worked by hand. Crew 3 in the hot: 3*(3*1.5+1+1.5)+2 = 23 L a
// day (row W8); the watermaker makes 6 L/h for 2 h with the engine and 1.5 h without.
//
//	slow case                leg 1, p 0.5   stay+wait   leg 2, p 0.25   sum
//	days                     2              1 + 1       4               8
//	water before the maker   46             46          92              184
//	made a day               6+4.5=10.5     9           3+6.75=9.75
//	water                    2*12.5=25      2*14=28     4*13.25=53      106
//	under engine, h          24             0           24              48
//	burn 2.4 L/h             57.6           0           57.6            115.2
//	charging 2.1 L a day     2*0.5*2.1=2.1  4.2         4*0.75*2.1=6.3  12.6
//	fuel                     59.7           4.2         63.9            127.8
//	engine hours             24+1.5         3           24+4.5          57
//	gas 0.25+3*0.05=0.4      0.8            0.8         1.6             3.2
func TestPassageWorkedByHand(t *testing.T) {
	b := cruiser()
	b.Watermaker = &Watermaker{Output: 6, Run: 2 * time.Hour, NeedsEngine: true}
	r := reckoned(b, outAndOn(), Aboard{}, handVoyages(), galley{})

	slow := r.Cases[passage.Slow]
	assert.InDelta(t, 106, float64(slow.Water), 1e-6)
	assert.InDelta(t, 127.8, float64(slow.Fuel), 1e-6)
	assert.InDelta(t, 3.2, float64(slow.Gas), 1e-6)
	assert.InDelta(t, 57, slow.EngineHours, 1e-6)
	assert.InDelta(t, 192, slow.Voyage.Hours, 1e-6)
	// expected: 1.5 d at 23-9.75, a day at 14, 3 d at 13.25
	assert.InDelta(t, 1.5*13.25+14+3*13.25, float64(r.Cases[passage.Expected].Water), 1e-6)

	near := Stretch{
		From: "Near Bay", To: "Middle Island", Start: sails, Hard: passage.Slow, Length: 2,
		Need:      25,
		Reserve:   23, // half of 46, before the watermaker; more than 20
		Available: 289,
		Endurance: Days{Days: 2 + (266-25)/12.5}, // 289 - 23 = 266; beyond the end 12.5 a day
		LastDrop:  Days{Days: 2 + (289-25)/12.5},
		Margin:    Days{Days: (266 - 25) / 12.5},
	}
	far := Stretch{
		From: "Middle Island", To: "Far Harbour", Start: sails.Add(96 * time.Hour), Hard: passage.Slow, Length: 4,
		Need:      53,
		Reserve:   46,  // half of 92
		Available: 320, // full: 220-8 + 110-2
		Endurance: Days{Days: 4 + (274-53)/13.25},
		LastDrop:  Days{Days: 4 + (320-53)/13.25},
		Margin:    Days{Days: (274 - 53) / 13.25},
	}
	require.Len(t, r.Resources[passage.Water].Stretches, 2)
	sameStretch(t, near, r.Resources[passage.Water].Stretches[0])
	sameStretch(t, far, r.Resources[passage.Water].Stretches[1])

	// Fuel is not sure at the stop: one stretch. 131 - 170/3 = 74.33; less 59.7 and 4.2
	// leaves 10.433, at 63.9/4 a day. 131 - 127.8 = 3.2 beyond the end, at 127.8/8 a day.
	require.Len(t, r.Resources[passage.Fuel].Stretches, 1)
	sameStretch(t, Stretch{
		From: "Near Bay", To: "Far Harbour", Start: sails, Hard: passage.Slow, Length: 8,
		Need: 127.8, Reserve: 56.6666667, Available: 131, Short: 53.4666667,
		Endurance: Days{Days: 4 + 10.4333333/15.975},
		LastDrop:  Days{Days: 8 + 3.2/15.975},
		Margin:    Days{Days: -4 + 10.4333333/15.975},
	}, r.Resources[passage.Fuel].Stretches[0])

	// Gas: 4 - 0.6 = 3.4; a quarter of 3.2 is 0.8.
	sameStretch(t, Stretch{
		From: "Near Bay", To: "Far Harbour", Start: sails, Hard: passage.Slow, Length: 8,
		Need: 3.2, Reserve: 0.8, Available: 3.4, Short: 0.6,
		Endurance: Days{Days: 6.5}, LastDrop: Days{Days: 8.5}, Margin: Days{Days: -1.5},
	}, r.first(passage.Gas))

	assert.Equal(t, Holds, r.Resources[passage.Water].Verdict())
	assert.Equal(t, IntoReserve, r.Resources[passage.Fuel].Verdict())
	assert.Equal(t, IntoReserve, r.Verdict)
	assert.False(t, r.Estimated)
	_, counted := r.Resources[passage.Food]
	assert.False(t, counted, "no rations and no reserve on purpose")
}

func sameStretch(t *testing.T, want, got Stretch) {
	t.Helper()
	assert.Equal(t, want.From, got.From)
	assert.Equal(t, want.To, got.To)
	assert.Equal(t, want.Hard, got.Hard)
	assert.Equal(t, want.Bought, got.Bought)
	assert.True(t, want.Start.Equal(got.Start), "starts %v, not %v", got.Start, want.Start)
	assert.InDelta(t, want.Length, got.Length, 1e-6, "length")
	assert.InDelta(t, float64(want.Need), float64(got.Need), 1e-6, "need")
	assert.InDelta(t, float64(want.Reserve), float64(got.Reserve), 1e-6, "reserve")
	assert.InDelta(t, float64(want.Available), float64(got.Available), 1e-6, "available")
	assert.InDelta(t, float64(want.Short), float64(got.Short), 1e-6, "short")
	assert.InDelta(t, want.Endurance.Days, got.Endurance.Days, 1e-6, "endurance")
	assert.InDelta(t, want.LastDrop.Days, got.LastDrop.Days, 1e-6, "last drop")
	assert.InDelta(t, want.Margin.Days, got.Margin.Days, 1e-6, "margin")
	assert.Equal(t, want.Endurance.Never, got.Endurance.Never)
	assert.Equal(t, want.LastDrop.Never, got.LastDrop.Never)
	assert.Equal(t, want.Margin.Never, got.Margin.Never)
}

func TestHardCaseIsTheOneThatNeedsMost(t *testing.T) {
	b := cruiser()
	for _, c := range []struct {
		name    string
		voyages []passage.Voyage
		water   passage.CaseName
		fuel    passage.CaseName
	}{
		{
			"the slow one needs most water, a quicker one under engine most fuel",
			[]passage.Voyage{
				voyage(passage.Slow, sea(0, 96, 0)),
				voyage(passage.Expected, sea(0, 72, 0.2)),
				voyage(passage.Quick, sea(0, 48, 1)),
			}, passage.Slow, passage.Quick,
		},
		{
			"of equals the first",
			[]passage.Voyage{
				voyage(passage.Slow, sea(0, 48, 0.5)),
				voyage(passage.Expected, sea(0, 48, 0.5)),
				voyage(passage.Quick, sea(0, 48, 0.5)),
			}, passage.Slow, passage.Slow,
		},
		{
			"one that cannot be made is none",
			[]passage.Voyage{
				unmade(passage.Slow, 0),
				voyage(passage.Expected, sea(0, 48, 0.5)),
				voyage(passage.Quick, sea(0, 36, 0.5)),
			}, passage.Expected, passage.Expected,
		},
	} {
		r := reckoned(b, one(2), Aboard{}, c.voyages, galley{})
		assert.Equal(t, c.water, r.first(passage.Water).Hard, c.name)
		assert.Equal(t, c.fuel, r.first(passage.Fuel).Hard, c.name)
	}
}

func TestOfEqualNeedsTheLongestIsHard(t *testing.T) {
	b := cruiser()
	b.Rates.Gas = GasRates{}
	voyages := []passage.Voyage{
		voyage(passage.Slow, sea(0, 48, 0)),
		voyage(passage.Expected, sea(0, 96, 0)),
		voyage(passage.Quick, sea(0, 72, 0)),
	}
	r := reckoned(b, one(2), Aboard{}, voyages, galley{})
	got := r.first(passage.Gas)
	assert.Equal(t, passage.Expected, got.Hard)
	assert.Equal(t, Days{Never: true}, got.Endurance)
	assert.Equal(t, Days{Never: true}, got.Margin)
	assert.Zero(t, got.Need)
}

func TestUnderTheReserveOfWhatIsNotUsedIsNoEndurance(t *testing.T) {
	b := cruiser()
	b.Rates.Gas = GasRates{}
	b.Rates.Reserve[passage.Gas] = Reserve{Amount: 3.5} // 3.4 is available
	r := reckoned(b, one(2), Aboard{}, days(4), galley{})
	got := r.first(passage.Gas)
	assert.Equal(t, Days{}, got.Endurance)
	assert.Equal(t, Days{Never: true}, got.LastDrop)
	assert.Equal(t, Days{Days: -4}, got.Margin)
	assert.InDelta(t, 0.1, float64(got.Short), 1e-9)
	assert.Equal(t, IntoReserve, got.Verdict())
}

func TestNoCaseMadeGivesNoStretches(t *testing.T) {
	b := cruiser()
	b.Rates.Rations = []Ration{{Food: "rice", Each: 0.1}}
	voyages := []passage.Voyage{unmade(passage.Slow, 0), unmade(passage.Expected, 0), unmade(passage.Quick, 0)}
	r := reckoned(b, one(2), Aboard{}, voyages, galley{})
	for _, thing := range passage.Things {
		_, ok := r.Resources[thing].First()
		assert.False(t, ok, thing)
		assert.Equal(t, thing, r.Resources[thing].Thing)
	}
	assert.Equal(t, Verdict(""), r.Verdict)
	assert.Len(t, r.Cases, 3)
	assert.Zero(t, r.Cases[passage.Slow].Fuel)
	assert.Len(t, r.Tanks, 5, "the tanks are told all the same")
	assert.Empty(t, r.FoodDays)
}

func TestPassageOfNoTimeUsesNothing(t *testing.T) {
	r := reckoned(cruiser(), one(2), Aboard{}, []passage.Voyage{voyage(passage.Slow)}, galley{})
	got := r.first(passage.Water)
	assert.Zero(t, got.Need)
	assert.Equal(t, Days{Never: true}, got.Endurance)
	assert.Equal(t, Holds, r.Resources[passage.Gas].Verdict())
}
