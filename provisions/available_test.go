package provisions

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/provisions/passage"
)

func hoursBefore(h float64) time.Time { return sails.Add(-time.Duration(h * float64(time.Hour))) }

// Design 4.4: level less error*capacity less unusable, never below nothing.
func TestTankCountsLessItsErrorAndWhatIsBelowThePickUp(t *testing.T) {
	tank := dippedTank()
	tank.Unusable = 8
	for _, c := range []struct {
		name                    string
		held                    Held
		level, counted, mistake float64
	}{
		{"off the gauge: 100 - 11 - 8", Held{Level: amount(100)}, 100, 81, 11},
		{"a share: 110 - 11 - 8", Held{Level: Level{Kind: ByShare, Share: 0.5}}, 110, 91, 11},
		{"a dip: 60 - 4.4 - 8", Held{Level: Level{Kind: ByDip, Dip: 0.12}}, 60, 47.6, 4.4},
		{"to the brim", Held{Level: Level{Kind: Brim}}, 220, 212, 0},
		{"told as the capacity", Held{Level: amount(220)}, 220, 212, 0},
		{"told as the whole", Held{Level: Level{Kind: ByShare, Share: 1}}, 220, 212, 0},
		{"dipped at the last row", Held{Level: Level{Kind: ByDip, Dip: 0.3}}, 220, 212, 0},
		{"just below the brim: 219 - 11 - 8", Held{Level: amount(219)}, 219, 200, 11},
		{"just above what cannot be had: 20 - 11 - 8", Held{Level: amount(20)}, 20, 1, 11},
		{"exactly what cannot be had", Held{Level: amount(19)}, 19, 0, 11},
		{"below it", Held{Level: amount(5)}, 5, 0, 11},
		{"filled in since", Held{Level: amount(100), Added: 40}, 140, 121, 11},
		{"a dip, taken out since: 60 - 20 - 4.4 - 8", Held{Level: Level{Kind: ByDip, Dip: 0.12}, Added: -20}, 40, 27.6, 4.4},
		{"filled in to the capacity", Held{Level: amount(100), Added: 120}, 220, 212, 0},
		{"filled in beyond it", Held{Level: amount(100), Added: 150}, 220, 212, 0},
		{"taken out of the brim: 200 - 11 - 8", Held{Level: Level{Kind: Brim}, Added: -20}, 200, 181, 11},
		{"taken out more than there was", Held{Level: amount(10), Added: -20}, 0, 0, 11},
	} {
		f := tank.figures(c.held)
		assert.NoError(t, f.Problem, c.name)
		assert.InDelta(t, c.level, float64(f.Level), 1e-9, c.name)
		assert.InDelta(t, c.counted, float64(f.Counted), 1e-9, c.name)
		assert.InDelta(t, c.mistake, float64(f.Error), 1e-9, c.name)
	}
}

func TestLevelThatCannotBeCountsAsEmptyAndSaysWhy(t *testing.T) {
	f := dippedTank().figures(Held{Level: amount(230)})
	require.Error(t, f.Problem)
	assert.Zero(t, f.Counted)
	assert.Zero(t, f.Level)
}

func TestSealedWaterIsNeverPlannedOn(t *testing.T) {
	r := reckoned(cruiser(), outAndOn(), Aboard{}, handVoyages(), galley{})
	assert.Equal(t, Amount(20), r.Tanks[2].Level)
	assert.Zero(t, r.Tanks[2].Counted)
	// 200-11-8 and 110-2
	assert.InDelta(t, 289, float64(r.first(passage.Water).Available), 1e-9)
}

// Water of crew 3 in the hot is 23 L a day (row W8), gas 0.25 + 3*0.05 = 0.4 kg.
func TestUseSinceTheSoundingIsTakenOff(t *testing.T) {
	sounded := func(name string, at time.Time) map[string]Held {
		return map[string]Held{name: {Level: amount(4), At: at}}
	}
	water := map[string]Held{"port water": {Level: amount(200), At: hoursBefore(24)}}
	both := map[string]Held{
		"port water":          {Level: amount(200), At: hoursBefore(12)},
		"starboard water":     {Level: Level{Kind: Brim}, At: hoursBefore(48)},
		"cans under the bunk": {Level: Level{Kind: Brim}, At: hoursBefore(999)},
	}
	after := map[string]Held{"port water": {Level: amount(200), At: sails.Add(time.Hour)}}
	low := map[string]Held{"port water": {Level: amount(200), At: hoursBefore(24 * 20)}}

	for _, c := range []struct {
		name  string
		tanks map[string]Held
		thing passage.Thing
		want  float64
	}{
		{"an opening level is as of departure", nil, passage.Water, 289},
		{"a day at anchor: 289 - 23", water, passage.Water, 266},
		{"the earliest of two, sealed cans aside: 289 - 46", both, passage.Water, 243},
		{"sounded after departure", after, passage.Water, 289},
		{"never below nothing", low, passage.Water, 0},
		{"gas, a day and a half: 4 - 0.6 - 0.6", sounded("gas bottle", hoursBefore(36)), passage.Gas, 2.8},
	} {
		r := reckoned(cruiser(), outAndOn(), Aboard{Tanks: c.tanks}, handVoyages(), galley{})
		assert.InDelta(t, c.want, float64(r.first(c.thing).Available), 1e-9, c.name)
	}
}

// An engine-driven watermaker of 6 L/h and 2 h makes 6*min(2, 1.5) = 9 L a day at anchor.
func TestWatermakerRunsBeforeDepartureToo(t *testing.T) {
	b := cruiser()
	b.Watermaker = &Watermaker{Output: 6, Run: 2 * time.Hour, NeedsEngine: true}
	a := Aboard{Tanks: map[string]Held{"port water": {Level: amount(200), At: hoursBefore(24)}}}
	r := reckoned(b, outAndOn(), a, handVoyages(), galley{})
	assert.InDelta(t, 289-(23-9), float64(r.first(passage.Water).Available), 1e-9)
}

// The tank counts 150 - 9 - 10 = 131 L; charging is 1.4*1.5 = 2.1 L a day;
// cruise burn is 2.4 L/h (row D5); the heater 0.25 L/h * 6 h = 1.5 L a day.
func TestFuelSinceTheSoundingGoesByTheHourMeter(t *testing.T) {
	meter := func(readings ...any) (list []Meter) {
		for i := 0; i < len(readings); i += 2 {
			list = append(list, Meter{At: hoursBefore(float64(readings[i].(int))), Hours: float64(readings[i+1].(int))})
		}
		return list
	}
	for _, c := range []struct {
		name   string
		meter  []Meter
		heater bool
		want   float64
	}{
		{"no reading: two days of charging, 4.2", nil, false, 131 - 4.2},
		{"read before only: charging", meter(48, 1490), false, 131 - 4.2},
		{"read at the sounding and a day later: 2 h * 2.4, then a day of charging", meter(48, 1490, 24, 1492), false, 131 - 4.8 - 2.1},
		{"read again at departure: 5 h * 2.4 and nothing more", meter(48, 1490, 24, 1492, 0, 1495), false, 131 - 12},
		{"only a later one: from the opening hours, 3 h * 2.4", meter(24, 1485), false, 131 - 7.2 - 2.1},
		{"the last before the sounding counts", meter(99, 1480, 60, 1491, 24, 1492), false, 131 - 2.4 - 2.1},
		{"ran backwards: not known", meter(48, 1490, 24, 3), false, 131 - 4.2},
		{"did not run: 0 and a day of charging", meter(48, 1490, 24, 1490), false, 131 - 2.1},
		{"heater: two days, 3 L", nil, true, 131 - 4.2 - 3},
		{"heater and meter", meter(48, 1490, 24, 1492), true, 131 - 4.8 - 2.1 - 3},
	} {
		b, plan := cruiser(), outAndOn()
		if c.heater {
			b.Heater = &Heater{Burn: 0.25, Run: 6 * time.Hour}
			plan.Climate = passage.Cold
		}
		a := Aboard{
			Tanks: map[string]Held{"diesel": {Level: amount(150), At: hoursBefore(48)}},
			Meter: c.meter,
		}
		r := reckoned(b, plan, a, handVoyages(), galley{})
		assert.InDelta(t, c.want, float64(r.first(passage.Fuel).Available), 1e-9, c.name)
	}
}

func TestReadingAfterDepartureIsNotLookedAt(t *testing.T) {
	h := newHousehold(cruiser(), outAndOn())
	later := []Meter{{At: hoursBefore(48), Hours: 1490}, {At: sails.Add(time.Hour), Hours: 1500}}
	assert.InDelta(t, 4.2, float64(h.fuelBetween(later, hoursBefore(48), sails)), 1e-9)
}

func TestUnknownCruiseBurnFallsBackToCharging(t *testing.T) {
	b := cruiser()
	b.Engine.CruiseRPM = 2900
	h := newHousehold(b, outAndOn())
	meter := []Meter{{At: hoursBefore(48), Hours: 1490}, {At: hoursBefore(24), Hours: 1492}}
	assert.InDelta(t, 4.2, float64(h.fuelBetween(meter, hoursBefore(48), sails)), 1e-9)
}
