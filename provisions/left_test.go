package provisions

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
)

// situation is a situation of a reckoning made by hand.
func situation(b Boat, plan passage.Plan) Situation {
	return Situation{Boat: b, Plan: plan, Trim: clean, Now: sails}
}

func leftOf(t require.TestingT, list []Left, thing passage.Thing, name passage.CaseName) Left {
	for _, l := range list {
		if l.Thing == thing && l.Case == name {
			return l
		}
	}
	require.Fail(t, "not told", "%s of %s", thing, name)
	return Left{}
}

func inDelta(t *testing.T, want, got []LeftPoint) {
	t.Helper()
	require.Len(t, got, len(want), "%v", got)
	for i := range want {
		assert.InDelta(t, want[i].Hours, got[i].Hours, 1e-6, "hours of point %d", i)
		assert.InDelta(t, float64(want[i].Amount), float64(got[i].Amount), 1e-6, "amount of point %d", i)
	}
}

// The passage that is worked by hand at TestPassageWorkedByHand: the same rates, and the
// stay and the wait at Middle Island, which gives water, use none of it.
func TestLeftOfThePassageWorkedByHand(t *testing.T) {
	b := cruiser()
	b.Watermaker = &Watermaker{Output: 6, Run: 2 * time.Hour, NeedsEngine: true}
	r := reckoned(b, outAndOn(), Aboard{}, handVoyages(), galley{})
	list := situation(b, outAndOn()).left(r)
	require.Len(t, list, 6, "water, fuel and gas in two cases; food is not reckoned")
	assert.Equal(t, passage.Water, list[0].Thing)
	assert.Equal(t, passage.Slow, list[0].Case)
	assert.Equal(t, passage.Expected, list[1].Case)
	assert.Equal(t, passage.Fuel, list[2].Thing)

	water := leftOf(t, list, passage.Water, passage.Slow)
	inDelta(t, []LeftPoint{{0, 289}, {48, 264}, {48, 320}, {96, 320}, {192, 320 - 53}}, water.Points)
	assert.Equal(t, []float64{48, 192}, water.Arrivals)
	require.Len(t, water.Floor, 2)
	assert.Equal(t, Floor{0, 48, 23}, water.Floor[0])
	assert.Equal(t, Floor{96, 192, 46}, water.Floor[1])

	// expected: 1.5 d at 13.25, a day at Middle Island, 3 d at 13.25
	soon := leftOf(t, list, passage.Water, passage.Expected)
	inDelta(t, []LeftPoint{{0, 289}, {36, 289 - 19.875}, {36, 320}, {60, 320}, {132, 320 - 39.75}}, soon.Points)
	assert.Equal(t, []float64{36, 132}, soon.Arrivals)
	assert.Equal(t, Floor{60, 132, 46}, soon.Floor[1], "the reserve is that of the hard case")

	// fuel is not sure at the stop: 131 - 59.7, less 2.1 in the stay and 2.1 in the wait, less 63.9
	fuel := leftOf(t, list, passage.Fuel, passage.Slow)
	inDelta(t, []LeftPoint{{0, 131}, {48, 71.3}, {72, 69.2}, {96, 67.1}, {192, 3.2}}, fuel.Points)
	require.Len(t, fuel.Floor, 1)
	assert.Equal(t, 192.0, fuel.Floor[0].To)

	reserve, nothing := fuel.Touched()
	inDelta(t, []LeftPoint{{(4 + 10.4333333/15.975) * 24, 56.6666667}}, reserve)
	assert.Empty(t, nothing)
	left, known := fuel.At(60)
	assert.True(t, known)
	assert.InDelta(t, 70.25, float64(left), 1e-6)
}

func TestLeftIsNeverBelowNothingAndSaysWhen(t *testing.T) {
	b := cruiser()
	b.Rates.Gas = GasRates{Boat: 1}
	r := reckoned(b, one(2), Aboard{}, days(8), galley{})
	gas := leftOf(t, situation(b, one(2)).left(r), passage.Gas, passage.Slow)
	// 3.4 kg at 1 kg a day; the reserve of a quarter of 8 kg is touched at 1.4 days
	inDelta(t, []LeftPoint{{0, 3.4}, {3.4 * 24, 0}, {192, 0}}, gas.Points)
	reserve, nothing := gas.Touched()
	inDelta(t, []LeftPoint{{1.4 * 24, 2}}, reserve)
	inDelta(t, []LeftPoint{{3.4 * 24, 0}}, nothing)
}

func TestLeftThatStartsUnderTheReserveTouchesItAtOnce(t *testing.T) {
	b := cruiser()
	b.Rates.Reserve[passage.Gas] = Reserve{Amount: 3.5} // 3.4 is available
	r := reckoned(b, one(2), Aboard{}, days(1), galley{})
	reserve, _ := leftOf(t, situation(b, one(2)).left(r), passage.Gas, passage.Slow).Touched()
	inDelta(t, []LeftPoint{{0, 3.4}}, reserve)
}

// What is filled up at a stop does not count as touched there, however little arrives.
func TestLeftIsJudgedOnlyAfterItIsFilledUp(t *testing.T) {
	b, plan := cruiser(), outAndOn()
	plan.Legs[0].Stay = 0
	b.Rates.Reserve[passage.Water] = Reserve{Amount: 40}
	r := reckoned(b, plan, Aboard{Tanks: map[string]Held{
		"port water": {Level: amount(60)}, "starboard water": {Level: amount(0)},
	}}, []passage.Voyage{voyage(passage.Slow, sea(0, 48, 0), sea(1, 96, 0))}, galley{})
	water := leftOf(t, situation(b, plan).left(r), passage.Water, passage.Slow)
	// 60-11-8 = 41 at 23 a day
	inDelta(t, []LeftPoint{{0, 41}, {41.0 / 23 * 24, 0}, {48, 0}, {48, 320}, {144, 228}}, water.Points)
	reserve, nothing := water.Touched()
	inDelta(t, []LeftPoint{{1.0 / 23 * 24, 40}}, reserve)
	inDelta(t, []LeftPoint{{41.0 / 23 * 24, 0}}, nothing)
}

func TestLeftOfFoodIsBoughtForTheNextStretchWithItsReserve(t *testing.T) {
	b, plan := cruiser(), outAndOn()
	b.Foods, b.Rates.Rations, b.Rates.Energy = []Food{plain("it")}, []Ration{{"it", 0.1}}, 100
	b.Lots = []Lot{packs("it", 9, 30)} // three persons, three days
	b.Rates.Reserve[passage.Food] = Reserve{Days: 2}
	r := reckoned(b, plan, Aboard{}, handVoyages(), galley{})
	food := leftOf(t, situation(b, plan).left(r), passage.Food, passage.Slow)
	inDelta(t, []LeftPoint{{0, 9}, {48, 3}, {48, 18}, {96, 18}, {192, 6}}, food.Points)
	reserve, _ := food.Touched()
	inDelta(t, []LeftPoint{{24, 6}}, reserve)
}

// Nobody throws food away at a shop: with more aboard than the next stretch wants it stays.
func TestLeftIsNeverLessForAStop(t *testing.T) {
	b, plan := cruiser(), outAndOn()
	b.Foods, b.Rates.Rations, b.Rates.Energy = []Food{plain("it")}, []Ration{{"it", 0.1}}, 100
	b.Lots = []Lot{packs("it", 90, 60)}
	b.Rates.Reserve[passage.Food] = Reserve{Days: 2}
	r := reckoned(b, plan, Aboard{}, handVoyages(), galley{})
	food := leftOf(t, situation(b, plan).left(r), passage.Food, passage.Slow)
	inDelta(t, []LeftPoint{{0, 90}, {48, 84}, {96, 84}, {192, 72}}, food.Points)
}

func TestLeftIsToldOfTheCasesThatMakeIt(t *testing.T) {
	for _, c := range []struct {
		name    string
		voyages []passage.Voyage
		want    []passage.CaseName
	}{
		{"all", handVoyages(), []passage.CaseName{passage.Slow, passage.Expected}},
		{"slow not", []passage.Voyage{unmade(passage.Slow, 1), handVoyages()[1], handVoyages()[2]}, []passage.CaseName{passage.Expected, passage.Quick}},
		{"quick alone", []passage.Voyage{unmade(passage.Slow, 1), unmade(passage.Expected, 1), handVoyages()[2]}, []passage.CaseName{passage.Quick}},
		{"expected not", []passage.Voyage{handVoyages()[0], unmade(passage.Expected, 1), handVoyages()[2]}, []passage.CaseName{passage.Slow}},
		{"none", []passage.Voyage{unmade(passage.Slow, 0), unmade(passage.Expected, 0), unmade(passage.Quick, 0)}, nil},
	} {
		r := reckoned(cruiser(), outAndOn(), Aboard{}, c.voyages, galley{})
		var got []passage.CaseName
		for _, l := range situation(cruiser(), outAndOn()).left(r) {
			if l.Thing == passage.Water {
				got = append(got, l.Case)
			}
		}
		assert.Equal(t, c.want, got, c.name)
	}
}

func TestLeftOfPassageOfNoTime(t *testing.T) {
	r := reckoned(cruiser(), one(2), Aboard{}, []passage.Voyage{voyage(passage.Slow)}, galley{})
	water := leftOf(t, situation(cruiser(), one(2)).left(r), passage.Water, passage.Slow)
	inDelta(t, []LeftPoint{{0, 289}}, water.Points)
	assert.Zero(t, water.Ends())
	_, known := water.At(1)
	assert.False(t, known)
	_, known = water.At(-1)
	assert.False(t, known)
	assert.Zero(t, Left{}.Ends())
}

// What is left says what the reckoning says: of the hard case it ends at available less
// need, and the reserve is touched when the endurance is over.
func TestLeftAgreesWithTheReckoning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWorld(t, free)
		w.plan.Uses = anyUses(t, w.plan)
		s := Situation{Boat: w.boat, Plan: w.plan, Aboard: w.aboard, Trim: clean, Now: sails}
		r := s.Reckon()
		for _, l := range s.left(r) {
			requireInOrder(t, l)
			stretches := r.Resources[l.Thing].Stretches
			require.Len(t, l.Floor, len(stretches))
			require.Len(t, l.Arrivals, len(w.plan.Legs))
			require.Equal(t, l.Points[0].Amount, max(0, stretches[0].Available))
			require.InDelta(t, r.Cases[l.Case].Voyage.Hours, l.Ends(), 1e-6)
			for i, at := range r.Cases[l.Case].Voyage.Arrivals {
				require.InDelta(t, at.Sub(sails).Hours(), l.Arrivals[i], 1e-6)
			}
			for i, stretch := range stretches {
				require.Equal(t, stretch.Reserve, l.Floor[i].Amount)
				if stretch.Hard == l.Case && !stretch.Bought && (i == 0 || !stretches[i-1].Bought) {
					requireAgrees(t, l, i, stretch)
				}
			}
		}
	})
}

func requireInOrder(t *rapid.T, l Left) {
	for i, p := range l.Points {
		require.GreaterOrEqual(t, p.Amount, Amount(0))
		if i > 0 {
			require.GreaterOrEqual(t, p.Hours, l.Points[i-1].Hours)
			rises := p.Amount > l.Points[i-1].Amount
			require.False(t, rises && p.Hours > l.Points[i-1].Hours, "it rises at one moment alone: %v", l.Points)
		}
	}
}

// requireAgrees holds for a stretch of which it is known with what it begins.
func requireAgrees(t *rapid.T, l Left, i int, stretch Stretch) {
	f := l.Floor[i]
	require.InDelta(t, stretch.Length*24, f.To-f.From, 1e-6)
	end, known := l.At(f.To)
	require.True(t, known)
	if i == 0 || stretch.Available > 0 {
		require.InDelta(t, float64(max(0, stretch.Available-stretch.Need)), float64(end), 1e-6)
	}

	p, touched := l.falls(f, f.Amount)
	if stretch.Reserve > 0 {
		require.Equal(t, stretch.Short > 0, touched, "short %v", stretch.Short)
	}
	if touched && stretch.Endurance.Days > 0 {
		require.InDelta(t, stretch.Endurance.Days*24, p.Hours-f.From, 1e-4)
	}
	if q, gone := l.falls(f, 0); gone && stretch.Need > stretch.Available+1e-6 {
		require.InDelta(t, stretch.LastDrop.Days*24, q.Hours-f.From, 1e-4)
	}
}
