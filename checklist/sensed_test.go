package checklist

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions"
)

func sensedBoat() Definitions {
	d := fitBoat()
	d.Boat.Sensors = Sensors{
		Tanks:  map[string]string{"water": "tanks.freshWater.0.currentLevel", "diesel": "tanks.fuel.0.currentVolume", "gas": "tanks.gas.0.currentLevel"},
		Gauges: map[string]string{"rpm": "rpm", "hours": "hours", "speed": "speed", "coolant": "coolant", "oil": "oil", "volts": "volts", "sea": "sea", "raw_out": "raw"},
	}
	return d
}

func sensed(v float64) Sensed { return Sensed{Value: v, At: evening.Add(-time.Minute)} }

// judged is what is made of one value of one tank or gauge, alone.
func judged(d Definitions, l log, of string, v Sensed) SensedValue {
	path := d.Boat.Sensors.Tanks[of] + d.Boat.Sensors.Gauges[of]
	for _, one := range d.JudgeSensed(Fold(l), evening, func(asked string) Sensed {
		if asked == path {
			return v
		}
		return Sensed{Missing: "not asked here"}
	}) {
		if one.Of == of {
			return one
		}
	}
	return SensedValue{}
}

// Units and conversions: Signal K Specification 1.7 (propulsion, tanks, electrical, environment,
// navigation): Hz, s, K, Pa, V, m/s, ratio, m3. 0 °C = 273.15 K, 1 bar = 100 000 Pa (SI Brochure);
// 1 kn = 1852 m/h (NGA Pub. 9). 33.3 Hz is 1998 rpm: arithmetic.
func TestSensorsAreToldInTheSkippersUnits(t *testing.T) {
	d := sensedBoat()
	rows := []struct {
		of   string
		v    float64
		text string
	}{
		{"water", 0.6249, "62.4 %"}, {"water", 0, "0 %"}, {"water", 0.29, "29 %"}, {"diesel", 0.1, "100 L"}, {"diesel", 0.14259, "142.5 L"},
		{"gas", 0.5, "50 %"}, {"rpm", 33.3, "1998"}, {"rpm", 0, "0"}, {"hours", 3600 * 1234.567, "1234.56"}, {"hours", 3600 * 1000, "1000"},
		{"speed", 2.5722, "5kn"}, {"speed", 3, "5.83kn"}, {"coolant", 355.15, "82C"}, {"coolant", 273.15, "0C"}, {"oil", 350000, "3.5bar"},
		{"oil", 344738, "3.45bar"}, {"volts", 12.654, "12.65V"}, {"sea", 291.15, "18C"}, {"sea", 273.05, "-0.1C"}, {"raw_out", 314.15, "41C"},
	}
	for _, row := range rows {
		v := judged(d, nil, row.of, sensed(row.v))
		assert.Empty(t, v.Why, "%s %g", row.of, row.v)
		assert.Equal(t, row.text, v.Text, "%s %g", row.of, row.v)
	}
	assert.Len(t, rows, 20)
}

func TestWhatASensorCannotMeanIsLeftOut(t *testing.T) {
	d := sensedBoat()
	late := func(age time.Duration) Sensed { return Sensed{Value: 0.5, At: evening.Add(-age)} }
	rows := []struct {
		of  string
		v   Sensed
		why string
	}{
		{"water", late(10 * time.Minute), ""},
		{"water", late(10*time.Minute + time.Second), "it is 11 min old, and max_age is 10 min"},
		{"water", late(-30 * time.Second), ""},
		{"water", late(-31 * time.Second), "it was measured 31 s from now"},
		{"water", Sensed{Value: 0.5}, "it does not say when it was measured"},
		{"water", Sensed{Missing: "the sensor has nothing to say", At: evening}, "the sensor has nothing to say"},
		{"water", sensed(math.NaN()), "it is no number"},
		{"rpm", sensed(math.Inf(1)), "it is no number"},
		{"water", sensed(1.0001), "1.0001 is no share from 0 to 1"},
		{"water", sensed(62), "62 is no share from 0 to 1"},
		{"water", sensed(-0.01), "-0.01 is no share from 0 to 1"},
		{"water", sensed(1), "it says full, and a level at the brim counts without any error, which no sensor can tell"},
		{"water", sensed(0.99), ""},
		{"diesel", sensed(0.16), `160 L is more than "diesel" can hold`},
		{"diesel", sensed(-0.001), "-0.001 m3 is below nothing"},
		{"diesel", sensed(0.15), "it says full, and a level at the brim counts without any error, which no sensor can tell"},
		{"coolant", sensed(82), "coolant -191 °C cannot be (-30 °C to 150 °C)"}, // °C where K belongs
		{"coolant", sensed(0), "coolant -273 °C cannot be (-30 °C to 150 °C)"},
		{"sea", sensed(330), "sea 57 °C cannot be (-3 °C to 40 °C)"},
		{"rpm", sensed(2000), "rpm 120000 is nothing this engine turns (0 to 3900)"}, // rpm where Hz belongs
		{"rpm", sensed(-1), "rpm cannot be below zero"},
		{"hours", sensed(1234), "the hour-meter stood at 1000 already"}, // hours where seconds belong
		{"speed", sensed(-0.5), "speed cannot be below zero"},
		{"oil", sensed(3.5e7), "oil 350.0 bar cannot be (0.0 bar to 15.0 bar)"},
		{"volts", sensed(1e300), ""},
	}
	for _, row := range rows[:len(rows)-1] {
		v := judged(d, nil, row.of, row.v)
		assert.Equal(t, row.why, v.Why, "%s %g", row.of, row.v.Value)
		assert.Equal(t, row.why == "", v.Cure == "", "%s %g: a cure beside each reason", row.of, row.v.Value)
	}
	assert.NotEmpty(t, judged(d, nil, "volts", sensed(1e300)).Why)
	d.Boat.Sensors.MaxAge = time.Hour // the skipper's own
	assert.Empty(t, judged(d, nil, "water", late(time.Hour)).Why)
	assert.Equal(t, "it is 1 h 01 old, and max_age is 1 h", judged(d, nil, "water", late(time.Hour+time.Second)).Why)
	d.Boat.Sensors.Tanks["gas"] = "tanks.gas.0.currentVolume"
	assert.Equal(t, "gas is told by weight, not by volume", judged(d, nil, "gas", sensed(0.001)).Why)
}

func TestALaterHandStands(t *testing.T) {
	d := sensedBoat()
	var l log
	l.add(evening.Add(-2*time.Minute), Sound{"water", "50 %"}, Reading{Values: []ReadingValue{{Of: "coolant", Value: celsius(80)}}})
	assert.Empty(t, judged(d, l, "water", sensed(0.49)).Why, "the sensor is the later one")
	assert.Empty(t, judged(d, l, "coolant", sensed(354)).Why)

	l.add(evening.Add(-30*time.Second), Sound{"water", "48 %"}, Reading{Values: []ReadingValue{{Of: "coolant", Value: celsius(81)}}})
	assert.Equal(t, "the tank was sounded since: 48 %", judged(d, l, "water", sensed(0.49)).Why)
	assert.Equal(t, "it was read since, entry 4", judged(d, l, "coolant", sensed(354)).Why)
	assert.Empty(t, judged(d, l, "sea", sensed(290)).Why, "another gauge")
}

// A level that rose is asked back as it is by hand, and no sensor answers.
func TestALevelThatRoseWithoutAFillIsLeftOut(t *testing.T) {
	d := sensedBoat()
	var l log
	l.add(evening.Add(-time.Hour), Sound{"water", "50 %"})
	v := judged(d, l, "water", sensed(0.9))
	assert.Equal(t, "water would hold 80 L more than at its last sounding, and no fill was written", v.Why)
	assert.Contains(t, v.Cure, `hoveshort sound "water" "90 %" --sure`)
	_, err := d.NewSensedSounding(Fold(l), evening, "water", sensed(0.9))
	assert.ErrorContains(t, err, "no fill was written")
	l.add(evening.Add(-time.Minute*30), Fill{Tank: "water", Amount: "80 L"})
	assert.Empty(t, judged(d, l, "water", sensed(0.9)).Why)
}

func TestAReadingIsOfOneMoment(t *testing.T) {
	d := sensedBoat()
	said := map[string]Sensed{
		"rpm": {Value: 33, At: evening.Add(-4 * time.Minute)}, "coolant": {Value: 354, At: evening.Add(-time.Minute)},
		"oil": {Value: 3e5, At: evening.Add(-3 * time.Minute)}, "hours": {Value: 3600 * 1001, At: evening.Add(-9 * time.Minute)}, "sea": {Value: 290, At: evening.Add(-9 * time.Minute)},
	}
	all := d.JudgeSensed(Fold(nil), evening, func(path string) Sensed {
		if v, there := said[path]; there {
			return v
		}
		return Sensed{Missing: "nothing"}
	})
	assert.Equal(t, []string{"hours=1001", "coolant=80.9C", "oil=3bar", "sea=16.9C"}, Pairs(all))
	for _, v := range all {
		if v.Of == "rpm" {
			assert.Equal(t, "it is 3 min older than the newest gauge, and a reading is of one moment", v.Why)
		}
	}
}

// Two gauges that cannot be right beside each other are both left out.
func TestGaugesThatContradictAreAllLeftOut(t *testing.T) {
	d := sensedBoat()
	said := map[string]float64{"coolant": 320, "raw": 340, "rpm": 30}
	all := d.JudgeSensed(Fold(nil), evening, func(path string) Sensed {
		if v, there := said[path]; there {
			return sensed(v)
		}
		return Sensed{Missing: "nothing"}
	})
	assert.Empty(t, Pairs(all))
	for _, v := range all {
		if v.Of == "rpm" {
			assert.Contains(t, v.Why, "hotter than the coolant")
		}
	}
}

// Whatever a sensor says: what is taken can be written as by hand, and counts no more than it said.
func TestASensorNeverSaysMoreThanThere(t *testing.T) {
	d := sensedBoat()
	took := false
	untilMet(t, func() bool { return took }, func(t *rapid.T) {
		v := rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 1)).Draw(t, "value")
		age := time.Duration(rapid.Int64Range(-100, 1000).Draw(t, "age")) * time.Second
		for _, one := range d.JudgeSensed(Fold(nil), evening, func(string) Sensed { return Sensed{Value: v, At: evening.Add(-age)} }) {
			if !one.IsTaken() || one.Kind != KindSound {
				continue
			}
			took = true
			require.LessOrEqual(t, age, 10*time.Minute)
			require.GreaterOrEqual(t, age, -30*time.Second)
			tank, _ := d.Tank(one.Of)
			level, err := provisions.ParseLevel(one.Text, tank.Holds)
			require.NoError(t, err)
			amount, err := tank.AmountAt(level)
			require.NoError(t, err)
			said := provisions.Amount(v * 1000)
			if one.Of != "diesel" {
				said = provisions.Amount(v) * tank.Capacity
			}
			require.LessOrEqual(t, float64(amount), float64(said)+1e-3)
		}
	})
}
