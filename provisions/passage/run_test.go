package passage_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

var departure = time.Date(2026, 6, 12, 5, 30, 0, 0, time.FixedZone("", 13*3600))

func Example() {
	engine := passage.Engine{CruiseRPM: 2100, Curve: []passage.CurveRow{
		{RPM: 1800, Speed: 5.2, Burn: 1.7, Coolant: 80},
		{RPM: 2400, Speed: 6.0, Burn: 3.1, Coolant: 84},
	}}
	plan := passage.Plan{
		Depart: departure,
		Cases:  map[passage.CaseName]passage.Case{passage.Slow: {Speed: 0.7, Motor: 1, Power: 0.5}},
		Legs:   []passage.Leg{{From: "the cove", To: "the far cove", Distance: 91, Sail: 5}},
	}

	voyage := passage.Run(plan, engine, passage.Slow, plan.Depart, passage.Trim{Fouling: 1})
	fmt.Println(voyage.Hours, voyage.Arrive())
	// Output: 20 2026-06-13 01:30:00 +1300 +1300
}

// twoLegs is the passage worked by hand below.
func twoLegs() passage.Plan {
	const day = 24 * time.Hour
	return passage.Plan{
		Cases: map[passage.CaseName]passage.Case{
			passage.Quick:    {Speed: 1.2, Motor: 1, Power: 0.2},
			passage.Expected: {Speed: 1, Motor: 1, Power: 0.4, Wait: 6 * time.Hour},
			passage.Slow:     {Speed: 0.6, Motor: 0.8, Power: 0.5, Wait: day},
		},
		Legs: []passage.Leg{
			{Distance: 120, Sail: 5, Current: -0.2, Stay: day},
			{Distance: 60, Sail: 6, AsIs: true, RPM: 2400, Current: 0.3, Stay: 9 * day},
		},
	}
}

func TestTwoLegsByHand(t *testing.T) {
	// Arithmetic, with the bottom at f = 0.9. V = p*m*Vp + (1-p)*k*Vs + current, T = D/V.
	// Leg 1: Vp = 5.6 (2100 rpm)*0.9 = 5.04; Vs = 5*0.9 = 4.5; current -0.2; D 120.
	// Leg 2: Vp = 6.0 (2400 rpm)*0.9 = 5.40; Vs = 6 (as is);   current +0.3; D 60.
	// Between them the stay of 24 h and the case's wait. The last stay does not count.
	rows := []struct {
		c                      passage.CaseName
		v1, t1, wait, v2, t2   float64
		hours, power, lastStop float64
	}{
		// 0.2*1*5.04 + 0.8*1.2*4.5 - 0.2 = 1.008 + 4.320 - 0.2 = 5.128; 120/5.128 = 23.4009
		// 0.2*1*5.40 + 0.8*1.2*6.0 + 0.3 = 1.080 + 5.760 + 0.3 = 7.140;  60/7.140 =  8.4034
		// 23.4009 + 24 + 0 + 8.4034 = 55.8043
		{passage.Quick, 5.128, 23.4009, 0, 7.140, 8.4034, 55.8043, 0.2, 47.4009},
		// 0.4*1*5.04 + 0.6*1*4.5 - 0.2 = 2.016 + 2.700 - 0.2 = 4.516; 120/4.516 = 26.5722
		// 0.4*1*5.40 + 0.6*1*6.0 + 0.3 = 2.160 + 3.600 + 0.3 = 6.060;  60/6.060 =  9.9010
		// 26.5722 + 24 + 6 + 9.9010 = 66.4732
		{passage.Expected, 4.516, 26.5722, 6, 6.060, 9.9010, 66.4732, 0.4, 56.5722},
		// 0.5*0.8*5.04 + 0.5*0.6*4.5 - 0.2 = 2.016 + 1.350 - 0.2 = 3.166; 120/3.166 = 37.9027
		// 0.5*0.8*5.40 + 0.5*0.6*6.0 + 0.3 = 2.160 + 1.800 + 0.3 = 4.260;  60/4.260 = 14.0845
		// 37.9027 + 24 + 24 + 14.0845 = 99.9872
		{passage.Slow, 3.166, 37.9027, 24, 4.260, 14.0845, 99.9872, 0.5, 85.9027},
	}
	for _, r := range rows {
		v := passage.Run(twoLegs(), twoRows(), r.c, departure, passage.Trim{Fouling: 0.9})
		require.True(t, v.Made(), r.c)
		assert.Equal(t, r.c, v.Case)
		assert.Equal(t, departure, v.Depart)
		assert.InDelta(t, r.hours, v.Hours, 1e-4, r.c)

		want := []passage.Span{
			{Kind: passage.AtSea, Leg: 0, Hours: r.t1, Power: r.power, RPM: 2100, Speed: r.v1},
			{Kind: passage.Stay, Leg: 0, Hours: 24},
			{Kind: passage.Wait, Leg: 0, Hours: r.wait},
			{Kind: passage.AtSea, Leg: 1, Hours: r.t2, Power: r.power, RPM: 2400, Speed: r.v2},
		}
		if r.wait == 0 {
			want = append(want[:2], want[3])
		}
		starts := []float64{0, r.t1, r.t1 + 24, r.lastStop}
		if r.wait == 0 {
			starts = []float64{0, r.t1, r.lastStop}
		}
		assertSpans(t, r.c, want, starts, v.Spans)

		require.Len(t, v.Arrivals, 2, r.c)
		assertAfter(t, r.t1, v.Arrivals[0], r.c)
		assertAfter(t, r.hours, v.Arrive(), r.c)
	}
}

func assertSpans(t *testing.T, c passage.CaseName, want []passage.Span, starts []float64, got []passage.Span) {
	t.Helper()
	require.Len(t, got, len(want), c)
	for i, w := range want {
		g := got[i]
		assert.Equal(t, []int{int(w.Kind), w.Leg, w.RPM}, []int{int(g.Kind), g.Leg, g.RPM}, "%s, span %d", c, i)
		assert.InDeltaSlice(t, []float64{w.Hours, w.Power, w.Speed}, []float64{g.Hours, g.Power, g.Speed}, 1e-4, "%s, span %d", c, i)
		assertAfter(t, starts[i], g.Start, c)
	}
}

func assertAfter(t *testing.T, hours float64, got time.Time, c passage.CaseName) {
	t.Helper()
	assert.InDelta(t, hours, got.Sub(departure).Hours(), 1e-4, c)
}

// oneLeg runs a single leg in a single case.
func oneLeg(l passage.Leg, e passage.Engine, c passage.Case, t passage.Trim) passage.Voyage {
	p := passage.Plan{Legs: []passage.Leg{l}, Cases: map[passage.CaseName]passage.Case{passage.Slow: c}}
	return passage.Run(p, e, passage.Slow, departure, t)
}

func TestSpeedTimeDistance(t *testing.T) {
	// Source: NGA Pub. 9 (American Practical Navigator), 2024, vol. II, table 11, printed to 0.1 nm.
	rows := []struct{ minutes, knots, miles float64 }{
		{60, 12, 12.0}, {45, 8.5, 6.4}, {7, 40, 4.7},
	}
	for _, r := range rows {
		v := oneLeg(passage.Leg{Distance: quantity.Distance(r.miles), Sail: quantity.Speed(r.knots)},
			passage.Engine{}, passage.Case{Speed: 1}, passage.Trim{})
		require.True(t, v.Made())
		assert.InDelta(t, r.minutes, v.Hours*60, 0.05/r.knots*60, "%v nm at %v kn", r.miles, r.knots)
	}
}

func TestHalfAKnotIsMade(t *testing.T) {
	rows := []struct {
		sail, current quantity.Speed
		made          bool
	}{
		{0.5, 0, true},
		{0.7, -0.2, true}, // 0.49999999999999994 in binary
		{5, -4.5, true},
		{0.4999, 0, false},
		{0.6999, -0.2, false},
		{5, -5.5, false},
		{0, 0.5, true}, // she drifts
		{quantity.Speed(nan), 0, false},
		{5, quantity.Speed(nan), false},
	}
	for _, r := range rows {
		v := oneLeg(passage.Leg{Distance: 10, Sail: r.sail, Current: r.current}, passage.Engine{}, passage.Case{Speed: 1}, passage.Trim{})
		assert.Equal(t, r.made, v.Made(), "%v %v", r.sail, r.current)
	}
}

func TestALegThatCannotBeMadeLeavesNoFigures(t *testing.T) {
	p := twoLegs()
	p.Legs[1].Current = -6
	v := passage.Run(p, twoRows(), passage.Slow, departure, passage.Trim{})
	assert.Equal(t, passage.Voyage{Case: passage.Slow, Depart: departure, Unmade: []int{1}}, v)
	assert.True(t, v.Arrive().IsZero())

	p.Legs[0].Current = -6
	assert.Equal(t, []int{0, 1}, passage.Run(p, twoRows(), passage.Slow, departure, passage.Trim{}).Unmade)
}

func TestNonsenseIsUnmadeAndNoPanic(t *testing.T) {
	good := passage.Case{Speed: 1, Motor: 1, Power: 0.5}
	leg := passage.Leg{Distance: 10, Sail: 5}
	rows := map[string]struct {
		leg passage.Leg
		e   passage.Engine
		c   passage.Case
	}{
		"rpm above the curve":    {passage.Leg{Distance: 10, Sail: 5, RPM: 2401}, twoRows(), good},
		"rpm below the curve":    {passage.Leg{Distance: 10, Sail: 5, RPM: 1799}, twoRows(), good},
		"negative rpm":           {passage.Leg{Distance: 10, Sail: 5, RPM: -1}, twoRows(), good},
		"no speed under engine":  {leg, passage.Engine{}, good},
		"no cruise rpm":          {leg, passage.Engine{Curve: twoRows().Curve}, good},
		"negative distance":      {passage.Leg{Distance: -1, Sail: 5}, twoRows(), good},
		"distance not a number":  {passage.Leg{Distance: quantity.Distance(nan), Sail: 5}, twoRows(), good},
		"distance without end":   {passage.Leg{Distance: quantity.Distance(inf), Sail: 5}, twoRows(), good},
		"power above 1":          {leg, twoRows(), passage.Case{Speed: 1, Motor: 1, Power: 1.1}},
		"power below 0":          {leg, twoRows(), passage.Case{Speed: 1, Motor: 1, Power: -0.1}},
		"power not a number":     {leg, twoRows(), passage.Case{Speed: 1, Motor: 1, Power: quantity.Share(nan)}},
		"negative speed factor":  {leg, twoRows(), passage.Case{Speed: -1, Motor: 1}},
		"negative motor factor":  {leg, twoRows(), passage.Case{Speed: 1, Motor: -0.1, Power: 0.5}},
		"motor not a number":     {leg, twoRows(), passage.Case{Speed: 1, Motor: nan, Power: 0.5}},
		"more than a long while": {passage.Leg{Distance: 1e9, Sail: 5}, twoRows(), good},
	}
	for name, r := range rows {
		assert.Equal(t, []int{0}, oneLeg(r.leg, r.e, r.c, passage.Trim{Fouling: 1}).Unmade, name)
	}
	v := passage.Run(twoLegs(), twoRows(), "no such case", departure, passage.Trim{})
	assert.Equal(t, []int{0, 1}, v.Unmade)
	drift := passage.Plan{Legs: []passage.Leg{{Distance: 5, Current: 1}}}
	assert.False(t, passage.Run(drift, passage.Engine{}, passage.Slow, departure, passage.Trim{}).Made(), "a case that is not there, in a fair current")
}

func TestAPlanWithoutLegsIsOver(t *testing.T) {
	v := passage.Run(passage.Plan{Cases: twoLegs().Cases}, twoRows(), passage.Slow, departure, passage.Trim{})
	assert.True(t, v.Made())
	assert.Zero(t, v.Hours)
	assert.Empty(t, v.Spans)
	assert.True(t, v.Arrive().IsZero())
}

func TestALegOfNoLengthHasAnArrivalButNoSpan(t *testing.T) {
	v := oneLeg(passage.Leg{Sail: 5}, passage.Engine{}, passage.Case{Speed: 1}, passage.Trim{})
	assert.Empty(t, v.Spans)
	assert.Equal(t, []time.Time{departure}, v.Arrivals)
}

func TestUnderSailAloneNeedsNoEngine(t *testing.T) {
	v := oneLeg(passage.Leg{Distance: 10, Sail: 5, RPM: 9999}, passage.Engine{}, passage.Case{Speed: 1}, passage.Trim{Fouling: 1})
	require.True(t, v.Made())
	assert.InDelta(t, 2, v.Hours, 1e-12)
	assert.Zero(t, v.Spans[0].RPM)
}

func TestFoulingAndWhatItTouches(t *testing.T) {
	sail, motor := passage.Case{Speed: 1}, passage.Case{Motor: 1, Power: 1}
	rows := []struct {
		name string
		leg  passage.Leg
		e    passage.Engine
		c    passage.Case
		f    float64
		want float64 // knots, arithmetic
	}{
		{"sail", passage.Leg{Sail: 5}, twoRows(), sail, 0.8, 4},
		{"sail as is", passage.Leg{Sail: 5, AsIs: true}, twoRows(), sail, 0.8, 5},
		{"curve", passage.Leg{Sail: 5, AsIs: true}, twoRows(), motor, 0.5, 2.8},
		{"the curve goes before the leg's own speed", passage.Leg{Power: 9}, twoRows(), motor, 0.5, 2.8},
		{"the leg's own speed", passage.Leg{Power: 5}, passage.Engine{CruiseRPM: 2000}, motor, 0.8, 4},
		{"0 is taken as 1", passage.Leg{Sail: 5}, twoRows(), sail, 0, 5},
		{"below 0 too", passage.Leg{Sail: 5}, twoRows(), sail, -0.5, 5},
		{"above 1 too", passage.Leg{Sail: 5}, twoRows(), sail, 1.01, 5},
		{"not a number too", passage.Leg{Sail: 5}, twoRows(), sail, nan, 5},
	}
	for _, r := range rows {
		made, ok := r.leg.MadeGood(r.e, r.c, passage.Trim{Fouling: r.f})
		require.True(t, ok, r.name)
		assert.InDelta(t, r.want, float64(made.Speed), 1e-12, r.name)
	}
}

func TestACapSlowsEveryLeg(t *testing.T) {
	bare := passage.Engine{CruiseRPM: 2000}
	rows := []struct {
		name  string
		leg   passage.Leg
		e     passage.Engine
		cap   int
		rpm   int
		knots float64 // arithmetic
	}{
		{"no cap", passage.Leg{RPM: 2400}, twoRows(), 0, 2400, 6.0},
		{"a cap above", passage.Leg{RPM: 2400}, twoRows(), 2600, 2400, 6.0},
		{"a cap inside the curve", passage.Leg{RPM: 2400}, twoRows(), 2100, 2100, 5.6},
		{"on the cruise rpm too", passage.Leg{}, twoRows(), 1950, 1950, 5.4},
		{"on the first row", passage.Leg{}, twoRows(), 1800, 1800, 5.2},
		{"below it: in proportion, 5.2*900/1800", passage.Leg{}, twoRows(), 900, 900, 2.6},
		{"no curve: in proportion, 5*1500/2000", passage.Leg{Power: 5}, bare, 1500, 1500, 3.75},
		{"no curve and no revs known", passage.Leg{Power: 5}, passage.Engine{}, 1500, 0, 5},
	}
	for _, r := range rows {
		made, ok := r.leg.MadeGood(r.e, passage.Case{Motor: 1, Power: 1}, passage.Trim{Fouling: 1, RPMCap: r.cap})
		require.True(t, ok, r.name)
		assert.Equal(t, r.rpm, made.RPM, r.name)
		assert.InDelta(t, r.knots, float64(made.Speed), 1e-12, r.name)
	}

	_, ok := passage.Leg{RPM: 1500}.MadeGood(twoRows(), passage.Case{Motor: 1, Power: 1}, passage.Trim{RPMCap: 1000})
	assert.False(t, ok, "a cap does not mend revs outside the curve")
}

func aPlan(t *rapid.T, e passage.Engine) passage.Plan {
	last := len(e.Curve) - 1
	p := passage.Plan{Cases: map[passage.CaseName]passage.Case{passage.Slow: {
		Speed: rapid.Float64Range(0.3, 1.5).Draw(t, "k"),
		Motor: rapid.Float64Range(0.3, 1.2).Draw(t, "m"),
		Power: quantity.Share(rapid.Float64Range(0, 1).Draw(t, "p")),
		Wait:  time.Duration(rapid.IntRange(0, 72).Draw(t, "wait")) * time.Hour,
	}}}
	for range rapid.IntRange(1, 4).Draw(t, "legs") {
		p.Legs = append(p.Legs, passage.Leg{
			Distance: quantity.Distance(rapid.Float64Range(0.1, 2000).Draw(t, "distance")),
			Sail:     quantity.Speed(rapid.Float64Range(1, 9).Draw(t, "sail")),
			AsIs:     rapid.Bool().Draw(t, "as is"),
			Current:  quantity.Speed(rapid.Float64Range(-1.5, 1.5).Draw(t, "current")),
			RPM:      rapid.SampledFrom([]int{0, e.Curve[0].RPM, e.Curve[last].RPM}).Draw(t, "rpm"),
			Stay:     time.Duration(rapid.IntRange(0, 100).Draw(t, "stay")) * time.Hour,
		})
	}
	return p
}

func TestWorseNeverShortensAVoyage(t *testing.T) {
	worse := map[string]func(*passage.Plan, *passage.Trim, float64){
		"less speed under sail": func(p *passage.Plan, _ *passage.Trim, by float64) {
			c := p.Cases[passage.Slow]
			c.Speed *= 1 - by
			p.Cases[passage.Slow] = c
		},
		"less speed under engine": func(p *passage.Plan, _ *passage.Trim, by float64) {
			c := p.Cases[passage.Slow]
			c.Motor *= 1 - by
			p.Cases[passage.Slow] = c
		},
		"more foul current": func(p *passage.Plan, _ *passage.Trim, by float64) { p.Legs[0].Current -= quantity.Speed(by) },
		"more fouling":      func(_ *passage.Plan, s *passage.Trim, by float64) { s.Fouling *= 1 - by },
		"a cap":             func(_ *passage.Plan, s *passage.Trim, by float64) { s.RPMCap = 1 + int(3000*(1-by)) },
		"a longer leg":      func(p *passage.Plan, _ *passage.Trim, by float64) { p.Legs[0].Distance *= quantity.Distance(1 + by) },
	}
	for name, makeWorse := range worse {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			e := anEngine(t)
			p := aPlan(t, e)
			trim := passage.Trim{Fouling: rapid.Float64Range(0.5, 1).Draw(t, "f")}
			before := passage.Run(p, e, passage.Slow, departure, trim)

			makeWorse(&p, &trim, rapid.Float64Range(0, 0.9).Draw(t, "by"))
			after := passage.Run(p, e, passage.Slow, departure, trim)

			require.GreaterOrEqual(t, len(after.Unmade), len(before.Unmade))
			if after.Made() {
				require.GreaterOrEqual(t, after.Hours, before.Hours-1e-9)
			}
		}))
	}
}

func TestSpansAddUpToTheVoyage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anEngine(t)
		p := aPlan(t, e)
		v := passage.Run(p, e, passage.Slow, departure, passage.Trim{Fouling: 1})
		if !v.Made() {
			require.Empty(t, v.Spans)
			require.Empty(t, v.Arrivals)
			require.Zero(t, v.Hours)
			return
		}

		sum, clock := 0.0, v.Depart
		for _, s := range v.Spans {
			require.Positive(t, s.Hours)
			require.WithinDuration(t, clock, s.Start, time.Microsecond, "no gap")
			if s.Kind == passage.AtSea {
				require.Positive(t, s.Speed)
			} else {
				require.Equal(t, [3]float64{}, [3]float64{s.Power, s.Speed, float64(s.RPM)}, "at anchor")
			}
			sum += s.Hours
			clock = s.End()
		}
		require.InDelta(t, sum, v.Hours, 1e-9)
		require.WithinDuration(t, clock, v.Arrive(), time.Microsecond)
		require.Len(t, v.Arrivals, len(p.Legs))
		for i := 1; i < len(v.Arrivals); i++ {
			require.True(t, v.Arrivals[i].After(v.Arrivals[i-1]), "arrivals increase")
		}
	})
}

func TestAVoyageScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anEngine(t)
		p := aPlan(t, e)
		a := rapid.Float64Range(1, 5).Draw(t, "a")
		before := passage.Run(p, e, passage.Slow, departure, passage.Trim{Fouling: 1})
		if !before.Made() {
			t.Skip("not made")
		}

		longer := p
		longer.Legs = append([]passage.Leg(nil), p.Legs...)
		for i := range longer.Legs {
			longer.Legs[i].Distance *= quantity.Distance(a)
		}
		require.InEpsilon(t, a, atSea(passage.Run(longer, e, passage.Slow, departure, passage.Trim{Fouling: 1}))/atSea(before), 1e-9)

		for i := range longer.Legs {
			longer.Legs[i].Sail *= quantity.Speed(a)
			longer.Legs[i].Current *= quantity.Speed(a)
		}
		for i := range e.Curve {
			e.Curve[i].Speed *= quantity.Speed(a)
		}
		after := passage.Run(longer, e, passage.Slow, departure, passage.Trim{Fouling: 1})
		require.InEpsilon(t, before.Hours, after.Hours, 1e-9, "as much faster as farther takes the same time")
	})
}

func atSea(v passage.Voyage) (hours float64) {
	for _, s := range v.Spans {
		if s.Kind == passage.AtSea {
			hours += s.Hours
		}
	}
	return hours
}

func TestAVeryLongVoyageDoesNotTurnBack(t *testing.T) {
	p := passage.Plan{Cases: map[passage.CaseName]passage.Case{passage.Slow: {Speed: 1}}}
	for range 5 {
		p.Legs = append(p.Legs, passage.Leg{Distance: 800_000, Sail: 1, Stay: math.MaxInt64})
	}
	v := passage.Run(p, passage.Engine{}, passage.Slow, departure, passage.Trim{})
	require.True(t, v.Made())
	for i := 1; i < len(v.Arrivals); i++ {
		assert.False(t, v.Arrivals[i].Before(v.Arrivals[i-1]), i)
	}
}
