package machinery

import (
	"math"
	"strings"
	"testing"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func hoursOf(v float64) func(*Gauges) { return func(g *Gauges) { g.Hours = &v } }

// What gauges can show: common practice, no source.
func TestMistakesInAReadingAreToldWithTheirCure(t *testing.T) {
	before := func(hours float64, ago time.Duration) Gauges {
		return Gauges{At: noonOfReading.Add(-ago), Hours: &hours}
	}
	tests := []struct {
		name    string
		reading Gauges
		past    []Gauges
		want    string
	}{
		{"all well", steady(oilOf(3), voltsOf(13.8), speedOf(6), rawOutOf(40), hoursOf(1482)), nil, ""},
		{"Fahrenheit taken for Celsius", steady(coolantOf(180)), nil, "coolant 180 °C cannot be (-30 °C to 150 °C); read it again; a value in the other unit wants its letter, like 180F or 82C"},
		{"a sea of soup", steady(seaAt(64)), nil, "sea 64 °C cannot be (-3 °C to 40 °C)"},
		{"a gauge that shows nothing", steady(coolantOf(quantity.Temperature(math.NaN()))), nil, "cannot be (-30 °C to 150 °C)"},
		{"psi taken for bar", steady(oilOf(45)), nil, "oil 45.0 bar cannot be (0.0 bar to 15.0 bar); read it again; psi and bar want their letters, like 45psi or 3.1bar"},
		{"volts without a point", steady(voltsOf(138)), nil, "volts 138.00 V cannot be (0 V to 70.00 V)"},
		{"knots without a point", steady(speedOf(59)), nil, "speed 59.0 kn cannot be (0 kn to 25.0 kn)"},
		{"backwards", steady(speedOf(-1)), nil, "speed -1.0 kn cannot be"},
		{"revs with a nought too many", steady(revsOf(22000)), nil, "rpm 22000 is nothing this engine turns (0 to 3900)"},
		{"minutes below nought", steady(heldFor(-time.Minute)), nil, "so many minutes at the same revs cannot be; write how long at these revs, like minutes=20"},
		{"raw water colder than the sea", steady(rawOutOf(15)), nil, "raw water leaves at 15 °C, colder than the sea at 18 °C; read both again"},
		{"two thermometers differ a little", steady(rawOutOf(16)), nil, ""},
		{"raw water hotter than the coolant", steady(rawOutOf(83)), nil, "raw water leaves at 83 °C, hotter than the coolant at 80 °C"},
		{"at the edges", steady(coolantOf(150), seaAt(40), rawOutOf(120), oilOf(15), voltsOf(70), speedOf(25), revsOf(3900)), nil, ""},
		{"at the other edges", steady(coolantOf(-3), seaAt(-3), rawOutOf(-3), oilOf(0), voltsOf(0), speedOf(0), revsOf(0)), nil, ""},
		{"below the opening hours", steady(hoursOf(1481.9)), nil, "the hour-meter shows 1481.9 h and showed 1482.0 h before: it cannot go backward; read it again; of a new meter write the old one's hours and its own together; a wrong earlier entry can be corrected"},
		{"backward", steady(hoursOf(1499.9)), []Gauges{before(1490, 48*time.Hour), before(1500, 24*time.Hour)}, "shows 1499.9 h and showed 1500.0 h before"},
		{"as before", steady(hoursOf(1500)), []Gauges{before(1500, 24*time.Hour), before(1490, 48*time.Hour)}, ""},
		{"before something later", steady(hoursOf(1495)), []Gauges{before(1490, 24*time.Hour), before(1500, -time.Hour)}, ""},
		{"as fast as the clock", steady(hoursOf(1514)), []Gauges{before(1490, 24*time.Hour)}, ""},
		{"faster than the clock", steady(hoursOf(1590)), []Gauges{before(1490, 24*time.Hour)}, "the hour-meter ran 100.0 h in 1 day"},
		{"a meter that showed nothing before", steady(hoursOf(1495)), []Gauges{before(math.NaN(), time.Hour), {At: noonOfReading.Add(-time.Minute)}, before(1490, 24*time.Hour)}, ""},
		{"a meter of nothing", steady(hoursOf(math.NaN())), nil, "it cannot go backward"},
		{"a meter without end", steady(hoursOf(math.Inf(1))), nil, "it cannot go backward"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			mistakes := Mistakes(trialEngine(), test.reading, test.past, quantity.Metric)
			if test.want == "" {
				assert.Empty(t, mistakes)
				return
			}
			require.Len(t, mistakes, 1)
			var told *quantity.Error
			require.ErrorAs(t, mistakes[0], &told)
			assert.NotEmpty(t, told.Cure)
			assert.ErrorContains(t, mistakes[0], test.want)
			assert.Equal(t, mistakes, judged(test.reading, test.past...).Wrong)
		})
	}
}

func TestRevsOfAnEngineThatIsNotRatedAreHeldToo(t *testing.T) {
	assert.Empty(t, Mistakes(passage.Engine{}, Gauges{RPM: new(8000)}, nil, quantity.Metric))
	assert.Len(t, Mistakes(passage.Engine{}, Gauges{RPM: new(8001)}, nil, quantity.Metric), 1)
}

func TestWhatCannotBeIsNoExcuseAndNoComfort(t *testing.T) {
	assert.Equal(t, LevelUnjudged, judged(steady(coolantOf(quantity.Temperature(math.NaN())), voltsOf(14))).Level)
	assert.Equal(t, LevelStop, judged(steady(coolantOf(180))).Level, "too hot to be true is still too hot")
	endless := judged(steady(coolantOf(quantity.Temperature(math.Inf(1)))))
	assert.Equal(t, LevelStop, endless.Level)
	assert.Nil(t, endless.Figures.Rise, "what cannot be written down is no figure")

	j := judged(steady(coolantOf(88), seaAt(64)))
	assert.Equal(t, LevelLimit, j.Level, "a sea that cannot be explains nothing")
	assert.Zero(t, *j.Figures.SeaExplains)
	assert.Equal(t, LevelUnjudged, judged(steady(oilOf(-1))).Level)
	assert.Equal(t, LevelUnjudged, judged(steady(voltsOf(200))).Level)
	assert.Equal(t, LevelUnjudged, judged(steady(speedOf(200))).Level)
	assert.Equal(t, LevelUnjudged, judged(steady(rawOutOf(200))).Level)
}

func TestWordsForTheExhaustAreAClosedList(t *testing.T) {
	for _, word := range []Water{WaterUsual, WaterLittle, WaterNone, WaterSteam} {
		got, err := ParseWater(string(word))
		require.NoError(t, err)
		assert.Equal(t, word, got)
	}
	for _, word := range []Smoke{SmokeNone, SmokeBlack, SmokeWhite, SmokeBlue} {
		got, err := ParseSmoke(string(word))
		require.NoError(t, err)
		assert.Equal(t, word, got)
	}
	_, err := ParseWater("pink")
	assert.EqualError(t, err, `water="pink" is no word for it; write usual, little, none or steam`)
	_, err = ParseWater(strings.Repeat("ä", 61))
	assert.EqualError(t, err, `water="`+strings.Repeat("ä", 59)+`…" is no word for it; write usual, little, none or steam`)
	_, err = ParseSmoke("")
	assert.EqualError(t, err, `smoke="" is no word for it; write none, black, white or blue`)
}

// 1 °C is 1.8 °F, without the 32. Source: NIST SP 811 B.8.
func TestDifferencesOfTemperatureHaveNoZeroPoint(t *testing.T) {
	assert.Equal(t, "4 °C", Degrees(4).In(quantity.Metric))
	assert.Equal(t, "7 °F", Degrees(4).In(quantity.US))
	assert.Equal(t, "5 °F", Degrees(5/1.8).In(quantity.US))
	assert.Equal(t, "2.5 °C", Degrees(2.5).In(quantity.Metric))
	assert.Equal(t, "0 °C", Degrees(-0.01).In(quantity.Metric))
}
