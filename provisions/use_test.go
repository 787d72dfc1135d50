package provisions

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Rows W1 to W6 of the reference: what so many people use of published amounts.
func TestPublishedWaterPlans(t *testing.T) {
	const pint, quart = 0.4731765, 0.9463529 // litres of US pints and quarts: NIST SP 811, B.8
	for _, c := range []struct {
		name       string
		crew, days float64
		person     quantity.Volume // a day
		maker      *Watermaker
		want       float64
		within     float64
	}{
		{"W1, Sphere 2011, total basic need, low", 4, 10, 7.5, nil, 300, 1e-9},
		{"W1, Sphere 2011, total basic need, high", 4, 10, 15, nil, 600, 1e-9},
		{"W2, Sphere 2011, survival, low", 4, 10, 2.5, nil, 100, 1e-9},
		{"W2, Sphere 2011, survival, high", 4, 10, 3, nil, 120, 1e-9},
		{"W3, LSA Code 4.4.8, lifeboat", 6, 1, 3, nil, 18, 1e-9},
		{"W3, of it 1 L a person by a still", 6, 1, 3, &Watermaker{Output: 6, Run: time.Hour}, 12, 1e-9},
		{"W3, of it 2 L a person by reverse osmosis", 6, 1, 3, &Watermaker{Output: 6, Run: 2 * time.Hour}, 6, 1e-9},
		{"W4, LSA Code 4.1.5, liferaft A pack", 6, 1, 1.5, nil, 9, 1e-9},
		{"W5, ASAC 20.0255, 2 US pt", 6, 5, 2 * pint, nil, 28.39, 0.01},
		{"W6, 46 CFR 169.527, 3 US qt", 6, 1, 3 * quart, nil, 17.03, 0.01},
	} {
		h := newHousehold(Boat{Watermaker: c.maker, Rates: Rates{Water: WaterRates{Drinking: c.person}}}, one(int(c.crew)))
		got := h.follow(days(c.days)[0]).figures()
		assert.InDelta(t, c.want, float64(got.Water), c.within, c.name)
	}
}

// Rows W7 and W8 of the reference (arithmetic).
func TestWaterADayInTheClimates(t *testing.T) {
	rates := WaterRates{Drinking: 3, Cooking: 1, Washing: 1.5, Boat: 2, HotWeather: 1.5}
	assert.InDelta(t, 18.5, rates.daily(3, passage.Temperate), 1e-9, "W7")
	assert.InDelta(t, 18.5, rates.daily(3, passage.Cold), 1e-9)
	assert.InDelta(t, 23.0, rates.daily(3, passage.Hot), 1e-9, "W8")

	rates.HotWeather = 0
	assert.InDelta(t, 18.5, rates.daily(3, passage.Hot), 1e-9, "left out is 1")
	rates.HotWeather = 1
	assert.InDelta(t, 18.5, rates.daily(3, passage.Hot), 1e-9)
}

// Design 4.3: output*run*p + output*min(run, charging)*(1-p) at sea, charging 1.5 h.
func TestWatermakerThatNeedsTheEngine(t *testing.T) {
	for _, c := range []struct {
		name  string
		run   time.Duration
		needs bool
		power float64
		want  float64
	}{
		{"needs none: 6*2", 2 * time.Hour, false, 0, 12},
		{"needs none, under engine the same", 2 * time.Hour, false, 1, 12},
		{"at anchor: 6*1.5", 2 * time.Hour, true, 0, 9},
		{"under engine all day: 6*2", 2 * time.Hour, true, 1, 12},
		{"a quarter of it: 6*2*0.25 + 6*1.5*0.75", 2 * time.Hour, true, 0.25, 9.75},
		{"runs less than the charging: 6*1", time.Hour, true, 0.25, 6},
	} {
		b := cruiser()
		b.Watermaker = &Watermaker{Output: 6, Run: c.run, NeedsEngine: c.needs}
		h := newHousehold(b, outAndOn())
		assert.InDelta(t, c.want, h.made(c.power), 1e-9, c.name)

		u, ok := h.in(sea(0, 24, c.power))
		assert.True(t, ok)
		assert.InDelta(t, (23-c.want)/24, u.water, 1e-9, c.name)
		assert.InDelta(t, 23.0/24, u.gross, 1e-9, c.name)
	}
}

func TestWaterIsNeverGainedByTheDay(t *testing.T) {
	b := cruiser()
	b.Watermaker = &Watermaker{Output: 30, Run: time.Hour}
	h := newHousehold(b, outAndOn())
	assert.Zero(t, h.atAnchor().water, "23 used, 30 made")
	assert.InDelta(t, 23.0/24, h.atAnchor().gross, 1e-9)
}

// Design 4.2: p*T*burn; charging 2.1 L a day on the part without engine; heater when cold.
func TestFuelAnHour(t *testing.T) {
	for _, c := range []struct {
		name    string
		span    passage.Span
		climate passage.Climate
		fuel    float64 // a day
		engine  float64 // hours a day
	}{
		{"under sail: charging alone", sea(0, 24, 0), passage.Hot, 2.1, 1.5},
		{"under engine all day: 24*2.4", sea(0, 24, 1), passage.Hot, 57.6, 24},
		{"half: 28.8 + 1.05", sea(0, 24, 0.5), passage.Hot, 29.85, 12.75},
		{"at anchor", stay(0, 24), passage.Hot, 2.1, 1.5},
		{"waiting", wait(0, 24), passage.Hot, 2.1, 1.5},
		{"cold, at anchor: 2.1 + 0.25*6", stay(0, 24), passage.Cold, 3.6, 1.5},
		{"cold, under engine: 57.6 + 1.5", sea(0, 24, 1), passage.Cold, 59.1, 24},
		{"temperate: no heater", stay(0, 24), passage.Temperate, 2.1, 1.5},
	} {
		b, plan := cruiser(), outAndOn()
		b.Heater = &Heater{Burn: 0.25, Run: 6 * time.Hour}
		plan.Climate = c.climate
		u, ok := newHousehold(b, plan).in(c.span)
		assert.True(t, ok, c.name)
		assert.InDelta(t, c.fuel/24, u.fuel, 1e-9, c.name)
		assert.InDelta(t, c.engine/24, u.engine, 1e-9, c.name)
	}
}

// Rows D3 to D5 and D7 of the reference, through a day under engine alone.
func TestPublishedBurns(t *testing.T) {
	// A burn of a span of 10 h without charging, L/h.
	burn := func(e passage.Engine, rpm int) float64 {
		s := sea(0, 10, 1)
		s.RPM = rpm
		return float64(newHousehold(Boat{Engine: e}, one(1)).follow(voyage(passage.Slow, s)).figures().Fuel) / 10
	}

	power := passage.Engine{RatedRPM: 3000, RatedPower: 28, CruiseRPM: 2300}
	assert.InDelta(t, 3.154*0.30/0.25, burn(power, 2300), 0.002, "D3, e = 3, printed for 0.25 L/kWh, planned on 0.30")

	hundred := passage.Engine{RatedRPM: 3000, RatedPower: 100, CruiseRPM: 3000}
	assert.GreaterOrEqual(t, burn(hundred, 3000)/100, 0.292, "D4: not below what a small diesel burns a kWh")
	assert.InDelta(t, 0.292, burn(hundred, 3000)/100, 0.01)

	assert.InDelta(t, 2.40, burn(cruiser().without0(), 2100), 1e-9, "D5")
	assert.InDelta(t, 1.7, burn(cruiser().without0(), 1700), 1e-9, "below the curve, under a cap: the first row's")
}

// without0 is the engine without its charging.
func (b Boat) without0() passage.Engine {
	b.Engine.Charging = 0
	return b.Engine
}

func TestSpanWhoseBurnIsNotKnownCannotBeMade(t *testing.T) {
	s := sea(0, 10, 0.5)
	s.RPM = 2500
	c := newHousehold(cruiser(), one(1)).follow(voyage(passage.Quick, s))
	assert.False(t, c.voyage.Made())
	assert.Equal(t, []int{0}, c.voyage.Unmade)
	assert.Equal(t, passage.Quick, c.voyage.Case)
	assert.Zero(t, c.figures().Fuel)

	s.Power = 0
	assert.True(t, newHousehold(cruiser(), one(1)).follow(voyage(passage.Quick, s)).voyage.Made(), "under sail the revs do not matter")
}

// Row D6 of the reference: a litre of water from 20 to 100 C with propane at 55 %
// takes 13.2 g. Two people, 8 L a day between them, ten days.
func TestGasToBoilWater(t *testing.T) {
	const (
		heat    = 1 * 4.186 * 80 / 1000 // MJ
		propane = 46.29                 // MJ/kg, lower heating value: US DOE, AFDC
		litre   = heat / (0.55 * propane)
	)
	assert.InDelta(t, 0.0132, litre, 0.0001, "D6")

	b := Boat{Rates: Rates{Gas: GasRates{Person: quantity.Mass(4 * litre)}}}
	got := newHousehold(b, one(2)).follow(days(10)[0]).figures().Gas
	assert.InDelta(t, 80*0.0132, float64(got), 0.01)
}

func TestWithoutWatermakerWaterIsRationed(t *testing.T) {
	b := cruiser()
	b.Watermaker = &Watermaker{Output: 30, Run: time.Hour}

	dead := b.WithoutWatermaker()
	assert.Nil(t, dead.Watermaker)
	assert.InDelta(t, 3*2.5, newHousehold(dead, outAndOn()).water, 1e-9, "all told: no boat use, no hot weather")
	assert.InDelta(t, 3*2.5/24, newHousehold(dead, outAndOn()).atAnchor().gross, 1e-9)
	assert.NotNil(t, b.Watermaker, "the boat herself is as she was")
	assert.InDelta(t, 23, newHousehold(b, outAndOn()).water, 1e-9)

	b.Rates.Water.Rationed = 0
	assert.InDelta(t, 23, newHousehold(b.WithoutWatermaker(), outAndOn()).water, 1e-9, "no ration given")
}

func TestUseOfNothingElse(t *testing.T) {
	assert.Zero(t, use{fuel: 1, water: 1, gas: 1, food: 1}.of("rum"))
	assert.False(t, math.IsNaN(use{}.grossOf(passage.Water)))
}
