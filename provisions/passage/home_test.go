package passage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

func TestMadeGoodHome(t *testing.T) {
	// Arithmetic on V = p*m*Vp + (1-p)*k*Vs - current; the curve of twoRows gives 5.6 kn at 2100 rpm.
	half := passage.Case{Speed: 0.8, Motor: 0.9, Power: 0.5}
	rows := []struct {
		name  string
		leg   passage.Leg
		c     passage.Case
		trim  passage.Trim
		want  float64 // 0: no way home
		power float64
	}{
		{"its own speeds home", passage.Leg{Distance: 100, Sail: 5, Home: &passage.Home{Sail: 2.5, Power: 0.8}}, half, passage.Trim{},
			0.8*0.9*5.6 + 0.2*0.8*2.5, 0.8},
		{"none given: half the sail, the case's power", passage.Leg{Distance: 100, Sail: 5}, half, passage.Trim{},
			0.5*0.9*5.6 + 0.5*0.8*2.5, 0.5},
		{"a fair current is foul going home", passage.Leg{Distance: 100, Sail: 5, Current: 1, Home: &passage.Home{Sail: 3}}, passage.Case{Speed: 1}, passage.Trim{}, 2, 0},
		{"and a foul one fair", passage.Leg{Distance: 100, Sail: 5, Current: -1, Home: &passage.Home{Sail: 3}}, passage.Case{Speed: 1}, passage.Trim{}, 4, 0},
		{"the bottom slows her both ways", passage.Leg{Distance: 100, Sail: 5, Home: &passage.Home{Sail: 3, Power: 0.5}}, passage.Case{Speed: 1, Motor: 1}, passage.Trim{Fouling: 0.9},
			0.9 * (0.5*5.6 + 0.5*3), 0.5},
		{"as she goes now is so home too", passage.Leg{Distance: 100, Sail: 5, AsIs: true, Home: &passage.Home{Sail: 3}}, passage.Case{Speed: 1}, passage.Trim{Fouling: 0.9}, 3, 0},
		{"half a knot is way", passage.Leg{Distance: 100, Sail: 5, Current: 2, Home: &passage.Home{Sail: 2.5}}, passage.Case{Speed: 1}, passage.Trim{}, 0.5, 0},
		{"less is none", passage.Leg{Distance: 100, Sail: 5, Current: 2.01, Home: &passage.Home{Sail: 2.5}}, passage.Case{Speed: 1}, passage.Trim{}, 0, 0},
	}
	for _, r := range rows {
		r.leg.RPM = 2100
		before := r.leg
		got, ok := r.leg.MadeGoodHome(twoRows(), r.c, r.trim)
		assert.Equal(t, r.want > 0, ok, r.name)
		assert.InDelta(t, r.want, float64(got.Speed), 1e-9, r.name)
		assert.InDelta(t, r.power, got.Power, 1e-12, r.name)
		assert.Equal(t, before, r.leg, "the leg is as it was")
		assert.Equal(t, r.leg.Home == nil, r.leg.HomeIsGuessed(), r.name)
	}
}

func TestACapHoldsHerGoingHomeToo(t *testing.T) {
	leg := passage.Leg{Distance: 100, RPM: 2400, Home: &passage.Home{Power: 1}}
	got, ok := leg.MadeGoodHome(twoRows(), passage.Case{Speed: 1, Motor: 1}, passage.Trim{RPMCap: 2100})
	require.True(t, ok)
	assert.Equal(t, 2100, got.RPM)
	assert.InDelta(t, 5.6, float64(got.Speed), 1e-9)
}

func TestHomeAsOutIsAsFastWithoutCurrent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := passage.Case{
			Speed: rapid.Float64Range(0.2, 2).Draw(t, "k"), Motor: rapid.Float64Range(0.2, 1).Draw(t, "m"),
			Power: quantity.Share(rapid.Float64Range(0, 1).Draw(t, "p")),
		}
		sail := quantity.Speed(rapid.Float64Range(3, 9).Draw(t, "sail"))
		leg := passage.Leg{Distance: 100, Sail: sail, RPM: 2100, Home: &passage.Home{Sail: sail, Power: c.Power}}
		out, ok := leg.MadeGood(twoRows(), c, passage.Trim{})
		home, okHome := leg.MadeGoodHome(twoRows(), c, passage.Trim{})
		require.Equal(t, ok, okHome)
		require.Equal(t, out, home)
	})
}

func TestMotoringAt(t *testing.T) {
	for _, r := range []struct {
		rpm  int
		trim passage.Trim
		want float64
		ok   bool
	}{
		{2100, passage.Trim{}, 5.6, true},
		{2100, passage.Trim{Fouling: 0.9}, 5.04, true},
		{2400, passage.Trim{Fouling: 0.9, RPMCap: 2000}, 5.4, true},
		{1700, passage.Trim{}, 0, false},
	} {
		got, ok := twoRows().MotoringAt(r.rpm, r.trim)
		assert.Equal(t, r.ok, ok, r)
		assert.InDelta(t, r.want, float64(got), 1e-9, r)
	}
}
