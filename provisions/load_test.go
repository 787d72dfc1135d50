package provisions

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// chain is a plan in which every place but the last surely gives t, with the
// stretches' needs as given and nothing held back.
func chain(t passage.Thing, b Boat, needs ...Amount) (Situation, Reckoning) {
	s := Situation{Boat: b, Plan: passage.Plan{Depart: sails, Crew: 2, Fill: []passage.Giving{{Thing: t, Sure: true}}}}
	places := []string{"A", "B", "C", "D", "E", "F", "G"}
	r := Reckoning{Depart: sails, Verdict: Holds, Tanks: b.tankFigures(Aboard{})}

	var stretches []Stretch
	for i, need := range needs {
		s.Plan.Legs = append(s.Plan.Legs, passage.Leg{
			From: places[i], To: places[i+1], Fill: []passage.Giving{{Thing: t, Sure: true}},
		})
		stretches = append(stretches, Stretch{From: places[i], To: places[i+1], Need: need})
	}
	var counted Amount
	for _, f := range r.Tanks {
		counted += f.Counted
	}
	stretches[0].Available = counted
	r.Resources = map[passage.Thing]Resource{t: {Thing: t, Stretches: stretches}}
	return s, r
}

// priced gives the places of a chain their prices, in order.
func (s Situation) priced(t passage.Thing, prices ...float64) Situation {
	for i, price := range prices {
		at := map[passage.Thing]float64{t: price}
		if i == 0 {
			s.Plan.Price = at
		} else {
			s.Plan.Legs[i-1].Price = at
		}
	}
	return s
}

func barrel(capacity Amount) Boat {
	return Boat{Tanks: []Tank{{Name: "barrel", Holds: passage.Fuel, Capacity: capacity}}}
}

func amounts(list []Load) (amounts []Amount, bill float64) {
	for _, l := range list {
		amounts = append(amounts, l.Amount)
		bill += l.Price
	}
	return amounts, bill
}

// Rows G1 and G2 of the reference, from the course data set "fixed path
// refueling". Its plans are the cheapest, with fuel bought ahead where it costs
// less; ours takes the least at each place, whatever it costs, because what is
// planned on must not hang on a price. So what is bought all told is the same,
// the amounts are the uses, and the bill is never below the published one.
func TestEachPlaceGivesTheLeastAndPricesOnlyTotalTheBill(t *testing.T) {
	for _, c := range []struct {
		name         string
		prices       []float64
		uses         []Amount
		cheapest     []Amount
		cost, ourOwn float64
	}{
		{"G1", []float64{3, 1, 6, 2}, []Amount{1, 5, 2, 13}, []Amount{1, 15, 0, 5}, 28, 1*3 + 5*1 + 2*6 + 13*2},
		{
			"G2",
			[]float64{4, 5, 3, 6, 2, 1},
			[]Amount{7, 5, 9, 13, 12, 3},
			[]Amount{12, 0, 15, 7, 12, 3},
			162,
			7*4 + 5*5 + 9*3 + 13*6 + 12*2 + 3*1,
		},
	} {
		s, r := chain(passage.Fuel, barrel(15), c.uses...)
		s = s.priced(passage.Fuel, c.prices...)

		loads := s.Loads(r)
		got, bill := amounts(loads)
		assert.Equal(t, c.uses, got, c.name)
		assert.InDelta(t, c.ourOwn, bill, 1e-9, c.name)

		var all, published Amount
		cost := 0.0
		for i := range got {
			all += got[i]
			published += c.cheapest[i]
			cost += float64(c.cheapest[i]) * c.prices[i]
			assert.True(t, loads[i].Priced, c.name)
			assert.Zero(t, loads[i].Lacks, c.name)
		}
		require.InDelta(t, c.cost, cost, 1e-9, "%s: the published bill", c.name)
		assert.Equal(t, published, all, c.name)
		assert.GreaterOrEqual(t, bill, cost, c.name)
	}
}

// Row G3: 16 on the last stretch with a tank of 15.
func TestStretchBeyondTheTankSaysWhichAndByHowMuch(t *testing.T) {
	s, r := chain(passage.Fuel, barrel(15), 1, 5, 2, 16)
	loads := s.Loads(r)
	require.Len(t, loads, 4)
	for _, l := range loads[:3] {
		assert.Zero(t, l.Lacks, l.At)
		assert.False(t, l.Full, l.At)
	}
	last := loads[3]
	assert.Equal(t, "D", last.At)
	assert.Equal(t, 2, last.Leg)
	assert.Equal(t, Amount(15), last.Amount)
	assert.Equal(t, Amount(1), last.Lacks)
	assert.True(t, last.Full)
}

// Row G4: equal prices everywhere: cost = price * sum of uses, no purchase below zero.
func TestEqualPricesCostTheSumOfTheUses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var uses []Amount
		var prices []float64
		var sum Amount
		for range rapid.IntRange(1, 6).Draw(t, "places") {
			use := Amount(rapid.IntRange(0, 150).Draw(t, "use")) / 10
			uses, sum, prices = append(uses, use), sum+use, append(prices, 1.5)
		}
		s, r := chain(passage.Fuel, barrel(15), uses...)
		got, bill := amounts(s.priced(passage.Fuel, prices...).Loads(r))
		for _, a := range got {
			if a < 0 {
				t.Fatalf("%v", got)
			}
		}
		if diff := bill - 1.5*float64(sum); diff > 1e-6 || diff < -1e-6 {
			t.Fatalf("bill %v for %v", bill, sum)
		}
	})
}

// twoTanks: the first counts 60 - 5 - 10 = 45 of its usable 90 L. The second may
// be empty: it must get 5 L before any of its 45 counts.
func twoTanks() Boat {
	return Boat{Tanks: []Tank{
		{Name: "port water", Holds: passage.Water, Capacity: 100, Unusable: 10, Level: amount(60), GaugeError: 0.05},
		{Name: "starboard water", Holds: passage.Water, Capacity: 50, Unusable: 5, Level: amount(2), GaugeError: 0.05},
		{Name: "sealed cans", Holds: passage.Water, Capacity: 20, Level: Level{Kind: Brim}, Sealed: true},
	}}
}

// Worked by hand.
func TestBelowThePickUpIsAddedWhereSuchATankIsNeeded(t *testing.T) {
	for _, c := range []struct {
		name                 string
		need                 Amount
		amount, lacks, takes Amount
		full                 bool
		deck                 int
	}{
		{"less than there is", 44.9, 0, 0, 0, false, 0},
		{"just what there is", 45, 0, 0, 0, false, 0},
		{"a little more", 45.5, 0.5, 0, 45, false, 1},
		{"the first tank has just room", 90, 45, 0, 45, false, 1},
		{"a litre beyond the first tank costs five more", 91, 46 + 5, 0, 45 + 50, false, 2},
		{"just what both hold", 135, 90 + 5, 0, 45 + 50, true, 2},
		{"more than both hold", 147, 90 + 5, 12, 45 + 50, true, 2},
	} {
		s, r := chain(passage.Water, twoTanks(), c.need)
		require.Equal(t, Amount(45), r.Resources[passage.Water].Stretches[0].Available)
		loads := s.Loads(r)
		require.Len(t, loads, 1, c.name)
		l := loads[0]
		assert.InDelta(t, float64(c.amount), float64(l.Amount), 1e-9, c.name)
		assert.InDelta(t, float64(c.lacks), float64(l.Lacks), 1e-9, c.name)
		assert.Equal(t, c.full, l.Full, c.name)
		assert.Equal(t, Amount(95), l.Room, c.name)
		assert.Equal(t, 2, l.Fixed, c.name)
		assert.False(t, l.Priced, c.name)

		require.Len(t, l.Deck, c.deck, c.name)
		var takes Amount
		for _, f := range l.Deck {
			takes += f.Takes
		}
		assert.InDelta(t, float64(c.takes), float64(takes), 1e-9, c.name)
	}
}

// The cheapest choice is not the one tank after the other. Worked by hand: 40 L
// are needed; 5 + 5 L below the pick-ups of two small tanks are less than 12 L
// below that of the big one, and for 30 L the 6 L of a middle one are least.
func TestCheapestTanksAreLiftedAboveTheirPickUps(t *testing.T) {
	low := func(name string, usable, below Amount) Tank {
		return Tank{Name: name, Holds: passage.Water, Capacity: usable + below, Unusable: below, Level: amount(0)}
	}
	b := Boat{Tanks: []Tank{low("big", 60, 12), low("small", 20, 5), low("other small", 20, 5), low("middle", 30, 6)}}
	for _, c := range []struct{ need, want Amount }{
		{20, 20 + 5},
		{20.5, 20.5 + 6},
		{30, 30 + 6},
		{30.5, 30.5 + 5 + 5},
		{40, 40 + 5 + 5},
		{40.5, 40.5 + 5 + 6},
		{50.5, 50.5 + 12}, // 5 + 6 is too little, 5 + 5 + 6 is more
		{130, 130 + 12 + 5 + 5 + 6},
	} {
		s, r := chain(passage.Water, b, c.need)
		assert.InDelta(t, float64(c.want), float64(s.Loads(r)[0].Amount), 1e-9, "%v", c.need)
	}
}

// Two tanks lack the same below their pick-ups: the one that holds more serves at B too.
func TestOfEqualTanksTheLargerIsLiftedAboveItsPickUp(t *testing.T) {
	small := Tank{Name: "small", Holds: passage.Water, Capacity: 25, Unusable: 5, Level: amount(0)}
	large := Tank{Name: "large", Holds: passage.Water, Capacity: 45, Unusable: 5, Level: amount(0)}
	for _, tanks := range [][]Tank{{small, large}, {large, small}} {
		s, r := chain(passage.Water, Boat{Tanks: tanks}, 10, 40)
		got, _ := amounts(s.Loads(r))
		assert.Equal(t, []Amount{10 + 5, 40}, got)
	}
}

func TestTankIsLiftedAboveItsPickUpOnlyOnce(t *testing.T) {
	// 91 L lift both tanks at A. At B nothing is left, and all of both has room again.
	s, r := chain(passage.Water, twoTanks(), 91, 100, 30)
	got, _ := amounts(s.Loads(r))
	assert.Equal(t, []Amount{46 + 5, 100, 30}, got)

	// 80 L lift only the first: what the second lacks is paid at B, where it is needed.
	s, r = chain(passage.Water, twoTanks(), 80, 100, 120)
	loads := s.Loads(r)
	got, _ = amounts(loads)
	assert.Equal(t, []Amount{35, 100 + 5, 120}, got)
	assert.Equal(t, []Amount{0 + 95, 135 + 5, 135}, []Amount{loads[0].Room, loads[1].Room, loads[2].Room})
}

func TestWhatIsLeftInTheHardCaseNeedNotBeLoaded(t *testing.T) {
	s, r := chain(passage.Fuel, barrel(100), 30, 50, 90)
	stretches := r.Resources[passage.Fuel].Stretches
	stretches[0].Available, stretches[0].Reserve = 20, 25 // 35 to load, 25 left
	stretches[1].Reserve = 40                             // 65 to load, 40 left
	stretches[2].Reserve = 20                             // 60 fit in, 10 lack
	loads := s.Loads(r)
	require.Len(t, loads, 3)
	got, _ := amounts(loads)
	assert.Equal(t, []Amount{35, 65, 60}, got)
	assert.Equal(t, []Amount{20, 25, 40}, []Amount{loads[0].Left, loads[1].Left, loads[2].Left})
	assert.Equal(t, Amount(10), loads[2].Lacks)
}

func TestNothingIsLoadedWhereThePlaceDoesNotGiveIt(t *testing.T) {
	s, r := chain(passage.Fuel, barrel(100), 30, 50)
	s.Plan.Fill = []passage.Giving{{Thing: passage.Fuel}} // not sure
	loads := s.Loads(r)
	require.Len(t, loads, 1)
	assert.Equal(t, "B", loads[0].At)
	assert.Equal(t, Amount(50), loads[0].Amount, "what she did not have is not owed at B")
	assert.Empty(t, loads[0].Deck, "nobody knows yet what each tank holds at B")
}

func TestTanksThatAreFullAndEnoughNeedNotBeFilled(t *testing.T) {
	b := barrel(100)
	b.Tanks[0].Level = Level{Kind: Brim}
	s, r := chain(passage.Fuel, b, 100, 0)
	for _, l := range s.Loads(r) {
		assert.Zero(t, l.Amount, l.At)
		assert.False(t, l.Full, l.At)
		assert.Empty(t, l.Deck, l.At)
	}

	s, r = chain(passage.Fuel, b, 101)
	l := s.Loads(r)[0]
	assert.Zero(t, l.Amount)
	assert.True(t, l.Full, "she sails with every tank full, and that is not enough")
	assert.Equal(t, "nothing goes in; 1.0 L more than the tanks hold is needed", l.Words(quantity.Metric))
}

func TestWhereItLacksTheCuresAreTold(t *testing.T) {
	plan := outAndOn()
	plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}, {Thing: passage.Fuel, Sure: true}}
	plan.Legs[1].Distance = 900
	s := Situation{Boat: cruiser(), Plan: plan, Trim: passage.Trim{Fouling: 1}, Now: sails}
	s.Boat.Tanks[0].Capacity, s.Boat.Tanks[0].Level = 100, amount(50)
	r := s.Reckon()

	lacking := 0
	for _, l := range s.Loads(r) {
		if l.Lacks == 0 {
			assert.Empty(t, l.Cures, "%s, %s", l.At, l.Thing)
			continue
		}
		lacking++
		require.NotEmpty(t, l.Cures, "%s, %s", l.At, l.Thing)
		for _, c := range l.Cures {
			assert.NotEqual(t, CureLoad, c.Kind, "the tanks take no more")
		}
		at := slices.IndexFunc(l.Cures, func(c Cure) bool { return c.Kind == CureCans })
		require.GreaterOrEqual(t, at, 0)
		cans := l.Cures[at]
		assert.InDelta(t, float64(l.Lacks), float64(cans.Amount), 1e-6)
	}
	assert.Equal(t, 2, lacking, "water at Middle Island, and fuel, that only the departure gives")
}

func TestARowForEachPlaceAndThingItSurelyGives(t *testing.T) {
	plan := outAndOn()
	plan.Fill = []passage.Giving{{Thing: passage.Gas, Sure: true}, {Thing: passage.Water, Sure: true}, {Thing: passage.Food}}
	plan.Legs[1].Fill = []passage.Giving{{Thing: passage.Water, Sure: true}, {Thing: passage.Fuel, Sure: true}}
	b := cruiser()
	b.Foods, b.Rates.Rations = []Food{plain("hash")}, []Ration{{"hash", 1}}
	b.Rates.Reserve[passage.Food] = Reserve{Days: 2}
	b.Rates.Energy = 1000
	s := Situation{Boat: b, Plan: plan, Trim: passage.Trim{Fouling: 1}, Now: sails}
	r := s.Reckon()
	require.NotEmpty(t, r.Verdict)

	type row struct {
		at   string
		leg  int
		what passage.Thing
	}
	var rows []row
	for _, l := range s.Loads(r) {
		rows = append(rows, row{l.At, l.Leg, l.Thing})
	}
	assert.Equal(t, []row{
		{"Near Bay", -1, passage.Water},
		{"Near Bay", -1, passage.Gas},
		{"Middle Island", 0, passage.Water},
		{"Middle Island", 0, passage.Food},
	}, rows, "not sure is no row, nor is the passage's end")

	b.Rates.Rations, b.Rates.Reserve[passage.Food] = nil, Reserve{None: true}
	s.Boat = b
	assert.Len(t, s.Loads(s.Reckon()), 3, "food that is not reckoned is no row")

	s.Plan.Legs[0].Current = -20
	r = s.Reckon()
	require.Empty(t, r.Verdict)
	assert.Empty(t, s.Loads(r), "no case makes every leg")
}

// Worked by hand: two are fed 3 days by what is aboard. 5 days and a reserve of 2
// are 14 person-days: 8 are missing. At B two days are left, 4 of the 2*(4+2) wanted.
func TestFoodIsLoadedInPersonDays(t *testing.T) {
	b := larderOf(100, []Food{plain("hash")}, []Ration{{"hash", 0.1}}, packs("hash", 6, 0))
	plan := passage.Plan{Depart: sails, Crew: 2, Fill: []passage.Giving{{Thing: passage.Food, Sure: true}}, Legs: []passage.Leg{
		{From: "A", To: "B", Fill: []passage.Giving{{Thing: passage.Food, Sure: true}}}, {From: "B", To: "C"},
	}}
	voyages := []passage.Voyage{voyage(passage.Slow, sea(0, 5*24, 0), sea(1, 4*24, 0))}
	r := reckoned(b, plan, Aboard{}, voyages, galley{})
	s := Situation{Boat: b, Plan: plan}

	loads := s.Loads(r)
	got, _ := amounts(loads)
	assert.Equal(t, []Amount{8, 8}, got)
	assert.Equal(t, []Amount{6, 4}, []Amount{loads[0].Left, loads[1].Left})
	assert.Equal(t, "food for 8 person-days", loads[0].Words(quantity.Metric))

	s.Plan.Fill = nil
	loads = s.Loads(r)
	got, _ = amounts(loads)
	assert.Equal(t, []Amount{12}, got, "nothing was bought at A, and nothing is left at B")
}

// A simulator that pours whole litres into each tank in turn: of all ways the
// least that counts for enough. Levels and needs are whole, so nothing lies between.
func TestLoadAtDepartureIsTheLeastOfAllWaysToPour(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b Boat
		for range rapid.IntRange(1, 4).Draw(t, "tanks") {
			tank := Tank{Holds: passage.Water, Capacity: Amount(rapid.IntRange(1, 7).Draw(t, "capacity"))}
			tank.Unusable = Amount(rapid.IntRange(0, int(tank.Capacity)).Draw(t, "unusable"))
			tank.Level = amount(Amount(rapid.IntRange(0, int(tank.Capacity)).Draw(t, "level")))
			b.Tanks = append(b.Tanks, tank)
		}
		need := Amount(rapid.IntRange(0, 20).Draw(t, "need"))
		s, r := chain(passage.Water, b, need)
		l := s.Loads(r)[0]

		want := need - l.Lacks
		if least, ok := leastPour(b.Tanks, want); !ok || least != l.Amount {
			t.Fatalf("%v for %v, least is %v (%v)", l.Amount, want, least, ok)
		}
		if l.Lacks > 0 {
			if _, ok := leastPour(b.Tanks, want+1); ok {
				t.Fatalf("%v would go in, and %v is said to lack", want+1, l.Lacks)
			}
		}
	})
}

func leastPour(tanks []Tank, want Amount) (least Amount, ok bool) {
	if len(tanks) == 0 {
		return 0, want <= 0
	}
	tank := tanks[0]
	for pour := Amount(0); tank.Level.Amount+pour <= tank.Capacity; pour++ {
		counts := max(0, tank.Level.Amount+pour-tank.Unusable)
		rest, can := leastPour(tanks[1:], want-counts)
		if can && (!ok || pour+rest < least) {
			least, ok = pour+rest, true
		}
	}
	return least, ok
}

// Two places, one after the other: what B asks for is what the simulator of whole
// litres pours there after one of its own least ways at A. What is used goes out
// of the tanks in any way that leaves none of them below its pick-up.
func TestLoadOnTheWayIsTheLeastAfterALeastLoadAtDeparture(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b Boat
		for range rapid.IntRange(1, 3).Draw(t, "tanks") {
			tank := Tank{Holds: passage.Water, Capacity: Amount(rapid.IntRange(1, 5).Draw(t, "capacity"))}
			tank.Unusable = Amount(rapid.IntRange(0, int(tank.Capacity)).Draw(t, "unusable"))
			tank.Level = amount(Amount(rapid.IntRange(0, int(tank.Capacity)).Draw(t, "level")))
			b.Tanks = append(b.Tanks, tank)
		}
		first := Amount(rapid.IntRange(0, 12).Draw(t, "first"))
		second := Amount(rapid.IntRange(0, 12).Draw(t, "second"))
		s, r := chain(passage.Water, b, first, second)
		loads := s.Loads(r)

		seen := make(map[Amount]bool)
		atB(b.Tanks, nil, loads[0].Amount, first-loads[0].Lacks, func(levels []Tank) {
			if least, ok := leastPour(levels, second-loads[1].Lacks); ok {
				seen[least] = true
			}
		})
		if !seen[loads[1].Amount] {
			t.Fatalf("%v at B, a simulator pours one of %v", loads[1].Amount, seen)
		}
	})
}

// atB shows the tanks as they stand at B after each way of pouring so much at A
// that counts for need, and each way of using need.
func atB(tanks, done []Tank, pour, need Amount, see func([]Tank)) {
	if len(tanks) == 0 {
		if pour == 0 && need == 0 {
			see(done)
		}
		return
	}
	tank := tanks[0]
	for in := Amount(0); in <= pour && tank.Level.Amount+in <= tank.Capacity; in++ {
		level := tank.Level.Amount + in
		for use := Amount(0); use <= max(0, level-tank.Unusable) && use <= need; use++ {
			after := tank
			after.Level = amount(level - use)
			atB(tanks[1:], append(done[:len(done):len(done)], after), pour-in, need-use, see)
		}
	}
}

// anyTanks are tanks of water as they come: gauges that are out, cans, sealed
// ones, levels that the tank cannot hold, soundings of different days.
func anyTanks(t *rapid.T) ([]Tank, Aboard) {
	var tanks []Tank
	a := Aboard{Tanks: map[string]Held{}}
	for i := range rapid.IntRange(1, 6).Draw(t, "tanks") {
		tank := Tank{
			Name:       string(rune('a' + i)),
			Holds:      passage.Water,
			Capacity:   Amount(rapid.IntRange(1, 30).Draw(t, "capacity")) * 10,
			Unusable:   Amount(rapid.IntRange(0, 9).Draw(t, "unusable")),
			GaugeError: quantity.Share(rapid.IntRange(0, 10).Draw(t, "gauge")) / 100,
			Sealed:     rapid.IntRange(0, 5).Draw(t, "sealed") == 0,
			Can:        rapid.Bool().Draw(t, "can"),
			Level:      Level{Kind: ByShare, Share: quantity.Share(rapid.IntRange(0, 105).Draw(t, "level")) / 100},
		}
		if rapid.Bool().Draw(t, "sounded") {
			h := Held{Level: tank.Level, At: sails.Add(-time.Duration(rapid.IntRange(0, 72).Draw(t, "hours")) * time.Hour)}
			if rapid.IntRange(0, 4).Draw(t, "brim") == 0 {
				h.Level = Level{Kind: Brim}
			}
			a.Tanks[tank.Name] = h
		}
		tanks = append(tanks, tank)
	}
	return tanks, a
}

// Load, then reckon again: what was short holds, or is short by what was said to lack.
func TestWhatIsLoadedMeetsTheNeedOrSaysWhatLacks(t *testing.T) {
	lacking, filled := 0, 0
	untilMet(t, func() bool { return lacking > 0 && filled > 0 }, func(t *rapid.T) {
		b := cruiser()
		tanks, a := anyTanks(t)
		b.Tanks = append(tanks, b.Tanks[3:]...)
		plan := outAndOn()
		plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
		plan.Legs[0].Distance = quantity.Distance(rapid.IntRange(20, 900).Draw(t, "distance"))
		s := Situation{Boat: b, Plan: plan, Aboard: a, Trim: passage.Trim{Fouling: 1}, Now: sails}

		r := s.Reckon()
		l := s.Loads(r)[0]
		before := r.first(passage.Water)
		if (l.Amount > 0 || l.Lacks > 0) != (before.Short > 0) {
			t.Fatalf("%+v for short %v", l, before.Short)
		}
		if l.Amount > 0 {
			filled++
		}
		if l.Lacks > 0 {
			lacking++
		}

		var takes Amount
		s.Aboard.Tanks = map[string]Held{}
		for name, held := range a.Tanks {
			s.Aboard.Tanks[name] = held
		}
		for _, f := range l.Deck {
			s.Aboard.Tanks[f.Tank] = Held{Level: Level{Kind: Brim}, At: sails}
			takes += f.Takes
		}
		if takes < l.Amount-crumb {
			t.Fatalf("the deck takes %v of %v", takes, l.Amount)
		}
		after := s.Reckon().first(passage.Water)
		if diff := after.Short - l.Lacks; diff > crumb || diff < -crumb {
			t.Fatalf("short %v after loading, %v was said to lack\n%+v\n%+v", after.Short, l.Lacks, before, l)
		}
		if l.Full && after.Available < b.usable(passage.Water)-crumb {
			t.Fatalf("said to be full with %v of %v", after.Available, b.usable(passage.Water))
		}
	})
}

func TestLoadForPeople(t *testing.T) {
	port := Filling{Tank: "port water", Holds: 220, Takes: 60}
	starboard := Filling{Tank: "starboard water", Holds: 110, Takes: 34.2}
	diesel := Filling{Tank: "main diesel", Holds: 180, Takes: 58}
	can := Filling{Tank: "can", Can: true, Holds: 20, Takes: 20}
	small := Filling{Tank: "small can", Can: true, Holds: 10, Takes: 10}

	for _, c := range []struct {
		load  Load
		units quantity.System
		want  string
	}{
		{Load{Leg: -1, Thing: passage.Water, Left: 123.9}, quantity.Metric, "nothing: 123 L is enough"},
		{Load{Leg: -1, Thing: passage.Food, Left: 12}, quantity.Metric, "nothing: food for 12 person-days is enough"},
		{Load{Leg: -1, Thing: passage.Water}, quantity.Metric, "nothing is needed"},
		{
			Load{Leg: -1, Thing: passage.Water, Amount: 80, Fixed: 2, Deck: []Filling{port, starboard}},
			quantity.Metric, "fill both water tanks (95 L)",
		},
		{
			Load{Leg: -1, Thing: passage.Water, Amount: 80, Fixed: 3, Deck: []Filling{port, starboard}},
			quantity.Metric, "fill port water and starboard water (95 L)",
		},
		{
			Load{Leg: -1, Thing: passage.Water, Amount: 80, Fixed: 3, Full: true, Lacks: 11.3, Deck: []Filling{port, starboard, port}},
			quantity.Metric, "fill all 3 water tanks (155 L); 12 L more than the tanks hold is needed",
		},
		{
			Load{Leg: -1, Thing: passage.Fuel, Amount: 80, Fixed: 1, Deck: []Filling{diesel, can, can}},
			quantity.Metric, "fill main diesel and 2 cans of 20 L (98 L)",
		},
		{
			Load{Leg: -1, Thing: passage.Fuel, Amount: 80, Fixed: 1, Deck: []Filling{diesel, can, small, can}},
			quantity.US, "fill main diesel, 2 cans of 5.3 US gal and 1 can of 2.6 US gal (29 US gal)",
		},
		{
			Load{Leg: -1, Thing: passage.Gas, Amount: 3, Fixed: 2, Deck: []Filling{{Tank: "one", Holds: 6, Takes: 2}, {Tank: "two", Holds: 6, Takes: 2.31}}},
			quantity.Metric, "fill both gas bottles (4.4 kg)",
		},
		{
			Load{Leg: -1, Thing: passage.Gas, Amount: 3, Deck: []Filling{{Tank: "one", Can: true, Holds: 6, Takes: 6}, {Tank: "two", Can: true, Holds: 6, Takes: 6}}},
			quantity.Metric, "fill 2 bottles of 6.0 kg (12.0 kg)",
		},
		{Load{Leg: -1, Thing: passage.Fuel, Left: 40, Lacks: 3, Full: true}, quantity.Metric, "nothing goes in; 3.0 L more than the tanks hold is needed"},
		{Load{Leg: 0, Thing: passage.Water, Amount: 110.1, Room: 200}, quantity.Metric, "about 120 L"},
		{Load{Leg: 0, Thing: passage.Water, Amount: 110, Room: 200}, quantity.Metric, "about 110 L"},
		{Load{Leg: 0, Thing: passage.Water, Amount: 110.1, Room: 115}, quantity.Metric, "fill everything (111 L)"},
		{Load{Leg: 0, Thing: passage.Water, Amount: 110.1, Room: 110.1, Full: true}, quantity.Metric, "fill everything (111 L)"},
		{Load{Leg: 0, Thing: passage.Water, Amount: 110, Room: 110, Full: true}, quantity.Metric, "fill everything (110 L)"},
		{Load{Leg: 0, Thing: passage.Water, Amount: 110.1, Room: 200}, quantity.US, "about 30 US gal"},
		{Load{Leg: 0, Thing: passage.Gas, Amount: 2.31, Room: 5}, quantity.Metric, "about 2.4 kg"},
	} {
		assert.Equal(t, c.want, c.load.Words(c.units))
	}
}
