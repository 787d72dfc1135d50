package machinery

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// An invented engine.
func trialEngine() passage.Engine {
	row := func(rpm int, speed quantity.Speed, coolant quantity.Temperature, oil quantity.Pressure, rawOut quantity.Temperature) passage.CurveRow {
		return passage.CurveRow{RPM: rpm, Speed: speed, Burn: 2, Coolant: coolant, Oil: &oil, Sea: new(quantity.Temperature(18)), RawOut: &rawOut}
	}
	return passage.Engine{
		RatedRPM: 3000, CruiseRPM: 2300, CoolantMax: 95, OilMinIdle: 1, Hours: 1482,
		Curve: []passage.CurveRow{row(1800, 5.2, 78, 3.4, 36), row(2200, 6, 80, 3.6, 40), row(2600, 6.8, 84, 3.8, 46)},
	}
}

var noonOfReading = time.Date(2026, 6, 12, 12, 0, 0, 0, time.FixedZone("", 13*60*60))

// steady is a reading at 2200 rpm after 20 min, all as when clean.
func steady(change ...func(*Gauges)) Gauges {
	g := Gauges{
		At: noonOfReading, RPM: new(2200), Coolant: new(quantity.Temperature(80)), Sea: new(quantity.Temperature(18)),
		AtRevs: 20 * time.Minute, Sails: SailsDown,
	}
	for _, c := range change {
		c(&g)
	}
	return g
}

func coolantOf(v quantity.Temperature) func(*Gauges) { return func(g *Gauges) { g.Coolant = &v } }
func seaAt(v quantity.Temperature) func(*Gauges)     { return func(g *Gauges) { g.Sea = &v } }
func rawOutOf(v quantity.Temperature) func(*Gauges)  { return func(g *Gauges) { g.RawOut = &v } }
func speedOf(v quantity.Speed) func(*Gauges)         { return func(g *Gauges) { g.Speed = &v } }
func oilOf(v quantity.Pressure) func(*Gauges)        { return func(g *Gauges) { g.Oil = &v } }
func voltsOf(v quantity.Voltage) func(*Gauges)       { return func(g *Gauges) { g.Volts = &v } }
func waterOf(v Water) func(*Gauges)                  { return func(g *Gauges) { g.Water = v } }
func smokeOf(v Smoke) func(*Gauges)                  { return func(g *Gauges) { g.Smoke = v } }
func heldFor(v time.Duration) func(*Gauges)          { return func(g *Gauges) { g.AtRevs = v } }
func revsOf(v int) func(*Gauges)                     { return func(g *Gauges) { g.RPM = &v } }
func noSea(g *Gauges)                                { g.Sea = nil }
func noRevs(g *Gauges)                               { g.RPM = nil }
func noCoolant(g *Gauges)                            { g.Coolant = nil }
func moored(g *Gauges)                               { g.Moored = true }

func judged(g Gauges, past ...Gauges) Judgement {
	return Judge(trialEngine(), g, past, Limits{}, quantity.Metric)
}

func of(t *testing.T, j Judgement, gauge Gauge) Finding {
	t.Helper()
	at := slices.IndexFunc(j.Findings, func(f Finding) bool { return f.Gauge == gauge })
	require.GreaterOrEqual(t, at, 0, "a finding of %s in %v", gauge, j.Findings)
	return j.Findings[at]
}

func fahrenheitOf(v float64) quantity.Temperature { return quantity.Temperature((v - 32) / 1.8) }

// A fact of the trade, common practice, no source: coolant that always ran at 175 °F and
// never above 190 °F, now at 180 °F, is worth a look and no stop; a sea 10 °F warmer may
// explain all of it.
func TestCoolantFiveDegreesFahrenheitUpIsWorthALookAndNoStop(t *testing.T) {
	row := passage.CurveRow{Speed: 7, Burn: 3, Coolant: fahrenheitOf(175), Sea: new(fahrenheitOf(70)), RawOut: new(fahrenheitOf(110))}
	slow, fast := row, row
	slow.RPM, fast.RPM = 1800, 2800
	engine := passage.Engine{RatedRPM: 3000, CoolantMax: fahrenheitOf(190), Curve: []passage.CurveRow{slow, fast}}
	reading := Gauges{At: noonOfReading, RPM: new(2400), AtRevs: 30 * time.Minute, Coolant: new(fahrenheitOf(180)), Sea: new(fahrenheitOf(70))}

	j := Judge(engine, reading, nil, DefaultLimits(), quantity.US)
	assert.Equal(t, LevelLook, j.Level)
	assert.InDelta(t, 5/1.8, float64(*j.Figures.Unexplained), 1e-9)
	assert.Equal(t, "180 °F, 5 °F above clean at 2400 rpm; the sea is no warmer than in the curve and explains nothing of it", of(t, j, GaugeCoolant).Words)

	reading.Sea = new(fahrenheitOf(80))
	j = Judge(engine, reading, nil, DefaultLimits(), quantity.US)
	assert.Equal(t, LevelLook, j.Level, "a rise is worth a look whatever explains it")
	assert.Zero(t, *j.Figures.Unexplained)
	assert.Equal(t, "180 °F, 5 °F above clean at 2400 rpm; the sea is 10 °F warmer than in the curve and may explain all of it", of(t, j, GaugeCoolant).Words)

	reading.RawOut = new(fahrenheitOf(120))
	assert.Equal(t, SignatureSea, Judge(engine, reading, nil, DefaultLimits(), quantity.US).Signature)
	reading.Coolant = new(fahrenheitOf(190))
	assert.Equal(t, LevelStop, Judge(engine, reading, nil, DefaultLimits(), quantity.US).Level)
}

// A fact of the trade, common practice, no source: 2400 rpm giving 5.8 kn where 7 kn is
// usual is 17 % of speed and 21 % more fuel a mile. By hand: 1-5.8/7 = 0.1714, 7/5.8-1 = 0.2069.
func TestSpeedLostIsToldInFuelAMile(t *testing.T) {
	engine := passage.Engine{RatedRPM: 3000, CoolantMax: 95, Curve: []passage.CurveRow{{RPM: 2000, Speed: 6, Burn: 2, Coolant: 80}, {RPM: 2800, Speed: 8, Burn: 4, Coolant: 80}}}
	reading := Gauges{At: noonOfReading, RPM: new(2400), Speed: new(quantity.Speed(5.8)), AtRevs: 15 * time.Minute, Sails: SailsDown}
	j := Judge(engine, reading, nil, Limits{}, quantity.Metric)
	assert.InDelta(t, 0.1714, float64(*j.Figures.SpeedLost), 1e-4)
	assert.InDelta(t, 0.2069, float64(*j.Figures.FuelMore), 1e-4)
	assert.Equal(t, LevelLook, j.Level)
	assert.Equal(t, "5.8 kn where 7.0 kn is usual at 2400 rpm: 17 % of speed, 21 % more fuel a mile at the same burn", of(t, j, GaugeSpeed).Words)
	assert.Equal(t, lookLine, j.First[0])

	for name, change := range map[string]func(*Gauges){
		"moored":            moored,
		"under sail too":    func(g *Gauges) { g.Sails = SailsUp },
		"sails not told":    func(g *Gauges) { g.Sails = "" },
		"outside the curve": revsOf(1500),
	} {
		other := reading
		change(&other)
		assert.Nil(t, Judge(engine, other, nil, Limits{}, quantity.Metric).Figures.SpeedLost, name)
	}
	reading.Speed = new(quantity.Speed(0))
	j = Judge(engine, reading, nil, Limits{}, quantity.Metric)
	assert.Nil(t, j.Figures.FuelMore)
	assert.Equal(t, "0.0 kn where 7.0 kn is usual at 2400 rpm: 100 % of speed", of(t, j, GaugeSpeed).Words)
}

// Thresholds: common practice, no source. Clean at 2200 rpm: 80 °C with the sea at 18 °C.
func TestCoolantIsJudgedByItsRiseAndWhatTheSeaDoesNotExplain(t *testing.T) {
	tests := []struct {
		name                   string
		coolant, sea           quantity.Temperature
		level                  Level
		explained, unexplained Degrees
		words                  string
	}{
		{"as when clean", 80, 18, LevelNormal, 0, 0, "80 °C, as when clean at 2200 rpm"},
		{"colder than clean", 78, 18, LevelNormal, 0, 0, "78 °C, 2 °C below clean at 2200 rpm"},
		{"very cold", 73, 18, LevelLook, 0, 0, "73 °C, 7 °C below clean at 2200 rpm; running cold, if it lasts: a thermostat that does not shut, or the gauge"},
		{"just below a look", 82.4, 18, LevelNormal, 0, 2.4, "82 °C, 2.4 °C above clean at 2200 rpm"},
		{"a look", 82.5, 18, LevelLook, 0, 2.5, "83 °C, 2.5 °C above clean at 2200 rpm; the sea is no warmer than in the curve and explains nothing of it"},
		{"a colder sea explains nothing", 83, 10, LevelLook, 0, 3, "83 °C, 3 °C above clean at 2200 rpm; the sea is no warmer than in the curve and explains nothing of it"},
		{"a warmer sea explains some", 85, 21, LevelLook, 3, 2, "85 °C, 5 °C above clean at 2200 rpm; the sea is 3 °C warmer than in the curve and may explain as much, 2 °C stays unexplained"},
		{"never more than the rise", 83, 30, LevelLook, 3, 0, "83 °C, 3 °C above clean at 2200 rpm; the sea is 12 °C warmer than in the curve and may explain all of it"},
		{"just below the limit", 85.9, 18, LevelLook, 0, 5.9, ""},
		{"the limit", 86, 18, LevelLimit, 0, 6, ""},
		{"12 up, 6 of the sea", 92, 24, LevelLimit, 6, 6, ""},
		{"12 up, 7 of the sea", 92, 25, LevelLook, 7, 5, ""},
		{"just below the most", 94.9, 33, LevelLook, 14.9, 0, ""},
		{"the most", 95, 33, LevelStop, 15, 0, "95 °C, and 95 °C is where she must be stopped, 15 °C above clean at 2200 rpm"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			j := judged(steady(coolantOf(test.coolant), seaAt(test.sea)))
			assert.Equal(t, test.level, j.Level)
			assert.InDelta(t, float64(test.explained), float64(*j.Figures.SeaExplains), 1e-9)
			assert.InDelta(t, float64(test.unexplained), float64(*j.Figures.Unexplained), 1e-9)
			if test.words != "" {
				assert.Equal(t, test.words, of(t, j, GaugeCoolant).Words)
			}
			assert.Empty(t, j.Wrong)
		})
	}
}

func TestWithoutTheSeaNothingIsExplained(t *testing.T) {
	j := judged(steady(coolantOf(87), noSea))
	assert.Equal(t, LevelLimit, j.Level)
	assert.Contains(t, of(t, j, GaugeCoolant).Words, "without the sea's temperature")
}

// Between the rows all is linear: at 2400 rpm 82 °C.
func TestCurveIsReadBetweenItsRows(t *testing.T) {
	j := judged(steady(revsOf(2400), coolantOf(84)))
	assert.InDelta(t, 2, float64(*j.Figures.Rise), 1e-9)
}

// Rows of the reference, checks 7.7.
func TestWarmSeaAndWeakFlowAreToldApart(t *testing.T) {
	row := passage.CurveRow{Coolant: 86, Sea: new(quantity.Temperature(18)), RawOut: new(quantity.Temperature(18 + 18.3))}
	low, high := row, row
	low.RPM, high.RPM = 2000, 2400
	engine := passage.Engine{RatedRPM: 3000, CoolantMax: 95, Curve: []passage.CurveRow{low, high}}

	j := Judge(engine, steady(coolantOf(97), seaAt(29)), nil, Limits{}, quantity.Metric)
	assert.InDelta(t, 0, float64(*j.Figures.Unexplained), 1e-9, "degree for degree with the sea: the difference of 68 is kept")
	assert.Equal(t, LevelStop, j.Level, "and it passes an alarm at 95 all the same")

	regulated := trialEngine()
	for i := range regulated.Curve {
		regulated.Curve[i].Coolant, regulated.Curve[i].Sea = 78, new(quantity.Temperature(12))
	}
	j = Judge(regulated, steady(coolantOf(78), seaAt(20)), nil, Limits{}, quantity.Metric)
	assert.Equal(t, LevelNormal, j.Level)
	assert.Empty(t, j.Signature, "78 at sea 12 and 78 at sea 20 are both regulated: no word about fouling")

	// 25 kW into 20 and 12 L/min of sea water: 1.025 kg/L, 3.99 kJ/kg K.
	lift := func(perMinute float64) quantity.Temperature {
		return quantity.Temperature(25 / (perMinute / 60 * 1.025 * 3.99))
	}
	require.InDelta(t, 18.3, float64(lift(20)), 0.05)
	require.InDelta(t, 30.6, float64(lift(12)), 0.05)
	weak := steady(coolantOf(86), seaAt(25), rawOutOf(25+lift(12)))
	j = Judge(engine, weak, nil, Limits{}, quantity.Metric)
	assert.Equal(t, SignatureFlow, j.Signature)
	assert.Equal(t, "56 °C leaving: above 54 °C sea water lays down scale", of(t, j, GaugeRawOut).Words)
	assert.Equal(t, LevelLook, j.Level)
	assert.Equal(t, lookExhaust, j.First[0])

	usual := steady(coolantOf(86), seaAt(25), rawOutOf(25+lift(20)))
	assert.Equal(t, LevelNormal, Judge(engine, usual, nil, Limits{}, quantity.Metric).Level)
}

// Clean at 2200 rpm: the sea at 18 °C leaves at 40 °C, a lift of 22 °C; 6.0 kn.
func TestSignaturesFollowTheLift(t *testing.T) {
	tests := []struct {
		name    string
		reading Gauges
		want    Signature
		first   string
	}{
		{"nothing out of the way", steady(rawOutOf(40)), "", ""},
		{"lift up", steady(coolantOf(85), rawOutOf(46)), SignatureFlow, lookExhaust},
		{"lift up before the coolant is", steady(rawOutOf(44)), SignatureFlow, lookExhaust},
		{"lift the same, coolant beyond the sea", steady(coolantOf(85), rawOutOf(41)), SignatureExchanger, lookGauge},
		{"lift lower, coolant beyond the sea", steady(coolantOf(85), rawOutOf(35)), SignatureExchanger, lookGauge},
		{"lift the same, coolant up by the sea", steady(coolantOf(85), seaAt(23), rawOutOf(45)), SignatureSea, remedies[causeSea].looks[0]},
		{"lift the same, more than the sea", steady(coolantOf(86), seaAt(21), rawOutOf(43)), SignatureExchanger, lookGauge},
		{"lift up and speed down", steady(coolantOf(85), rawOutOf(46), speedOf(5)), SignatureLoad, "ease the revs: does it fall at once"},
		{"black smoke and speed down", steady(coolantOf(85), smokeOf(SmokeBlack), speedOf(5)), SignatureLoad, "ease the revs: does it fall at once"},
		{"no raw-water thermometer", steady(coolantOf(85)), SignatureUnclear, lookExhaust},
		{"no raw-water thermometer, little water seen", steady(coolantOf(85), waterOf(WaterLittle)), SignatureFlow, easeFirst},
		{"not settled", steady(coolantOf(85), rawOutOf(46), heldFor(14*time.Minute)), "", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			j := judged(test.reading)
			assert.Equal(t, test.want, j.Signature)
			if test.first == "" {
				assert.Empty(t, j.First)
				return
			}
			require.NotEmpty(t, j.First)
			assert.Equal(t, test.first, j.First[0])
		})
	}
}

// 15 min at the same revs: common practice, no source.
func TestReadingIsJudgedOnceItHasSettled(t *testing.T) {
	j := judged(steady(coolantOf(87), heldFor(14*time.Minute)))
	assert.Equal(t, LevelSettling, j.Level)
	assert.Equal(t, "87 °C, not settled yet: 14 min at these revs, from 15 min on it is judged; already 7 °C above clean: ease the revs and read again in five minutes", of(t, j, GaugeCoolant).Words)
	assert.Empty(t, j.First)
	assert.Equal(t, LevelLimit, judged(steady(coolantOf(87), heldFor(15*time.Minute))).Level)
	assert.Contains(t, of(t, judged(steady(heldFor(0))), GaugeCoolant).Words, "say how long at these revs")

	for name, urgent := range map[string]func(*Gauges){
		"at the most": coolantOf(95), "no oil": oilOf(0.9), "no water": waterOf(WaterNone),
	} {
		assert.Equal(t, LevelStop, judged(steady(urgent, heldFor(time.Minute))).Level, name)
	}
}

func TestEveryGaugeWaitsUntilItHasSettled(t *testing.T) {
	j := judged(steady(oilOf(2), speedOf(4), voltsOf(12), rawOutOf(50), smokeOf(SmokeWhite), heldFor(14*time.Minute)))
	require.Len(t, j.Findings, 6)
	for _, f := range j.Findings {
		assert.Equal(t, LevelSettling, f.Level, f.Gauge)
		assert.Contains(t, f.Words, "not settled yet: 14 min at these revs, from 15 min on it is judged")
	}
}

func TestFasterThanCleanIsTold(t *testing.T) {
	assert.Equal(t, "6.6 kn where 6.0 kn is usual at 2200 rpm: 10 % faster", of(t, judged(steady(speedOf(6.6))), GaugeSpeed).Words)
	assert.Equal(t, "6.0 kn where 6.0 kn is usual at 2200 rpm", of(t, judged(steady(speedOf(6))), GaugeSpeed).Words)
	for _, row := range []struct {
		speed quantity.Speed
		level Level
	}{{5.41, LevelNormal}, {5.4, LevelLook}} {
		assert.Equal(t, row.level, judged(steady(speedOf(row.speed))).Level, "a tenth of 6 kn lost: %v", row.speed)
	}
}

func TestLevelsHaveTheirWords(t *testing.T) {
	for level, want := range map[Level]string{
		LevelNormal: "normal", LevelSettling: "not settled yet", LevelUnjudged: "cannot be judged", LevelLook: "worth a look",
		LevelLimit: "limit", LevelStop: "stop", -1: "cannot be judged", 6: "cannot be judged",
	} {
		text, err := level.MarshalText()
		require.NoError(t, err)
		assert.Equal(t, want, string(text))
	}
}

func TestRevsOutsideTheCurveCannotBeJudged(t *testing.T) {
	for _, rpm := range []int{1799, 2601} {
		j := judged(steady(revsOf(rpm), oilOf(3), speedOf(5), rawOutOf(40)))
		assert.Equal(t, LevelUnjudged, j.Level, rpm)
		require.Len(t, j.Findings, 1)
		assert.Contains(t, j.Findings[0].Words, "outside the curve, which has 1800 to 2600 rpm")
		assert.Nil(t, j.Figures.Rise)
	}
	assert.Equal(t, LevelNormal, judged(steady(revsOf(1800), coolantOf(78))).Level)
	assert.Equal(t, LevelNormal, judged(steady(revsOf(2600), coolantOf(84))).Level)
	assert.Equal(t, LevelStop, judged(steady(revsOf(2900), coolantOf(95))).Level, "what is too hot is too hot at any revs")

	assert.Equal(t, LevelUnjudged, judged(steady(noRevs)).Level)
	stands := judged(steady(revsOf(0), oilOf(0), voltsOf(12), waterOf(WaterNone), smokeOf(SmokeBlack), speedOf(0), rawOutOf(70)))
	assert.Equal(t, LevelUnjudged, stands.Level, "an engine that stands has neither oil pressure nor water at the exhaust")
	assert.Len(t, stands.Findings, 1)
	assert.Empty(t, stands.Signature)
	bare := Judge(passage.Engine{CoolantMax: 95}, steady(), nil, Limits{}, quantity.Metric)
	assert.Contains(t, of(t, bare, GaugeRPM).Words, "there is no curve")
	assert.Equal(t, LevelUnjudged, Judge(passage.Engine{}, Gauges{Note: "all well"}, nil, Limits{}, quantity.Metric).Level, "a note is no reading")
}

func TestNormalStaysTheCurveAndLastMonthStandsBesideIt(t *testing.T) {
	past := func(days int, coolant quantity.Temperature, change ...func(*Gauges)) Gauges {
		return steady(append(change, coolantOf(coolant), func(g *Gauges) { g.At = noonOfReading.AddDate(0, 0, -days) })...)
	}
	month := []Gauges{past(1, 83), past(5, 83), past(30, 82), past(29, 90)}
	j := judged(steady(coolantOf(84)), month...)
	assert.Equal(t, "84 °C, 4 °C above clean at 2200 rpm, 1 °C above last month; the sea is no warmer than in the curve and explains nothing of it", of(t, j, GaugeCoolant).Words)

	none := []Gauges{
		past(31, 70), past(1, 70, heldFor(time.Minute)), past(2, 70, moored), past(3, 70, noRevs), past(-1, 70), past(0, 70),
		past(4, quantity.Temperature(math.NaN())),
	}
	assert.Equal(t, j, judged(steady(coolantOf(84)), append(none, month...)...), "older, unsettled, moored, of later: none of them is last month")
	assert.Nil(t, judged(steady(), month[:2]...).Figures.AboveMonth, "two readings are no month")

	drifted := []Gauges{past(1, 88), past(2, 88), past(3, 88)}
	assert.Equal(t, LevelLimit, judged(steady(coolantOf(88)), drifted...).Level, "what drifted slowly is no new normal")
	assert.Contains(t, of(t, judged(steady(coolantOf(88)), drifted...), GaugeCoolant).Words, "8 °C above clean at 2200 rpm, as last month")
}

// Clean at 2200 rpm: 3.6 bar; at idle 1 bar at least. Thresholds: common practice, no
// source; stopping at once for oil pressure: NAVEDTRA 14075.
func TestOilBelowTheCurveAndBelowIdle(t *testing.T) {
	for _, row := range []struct {
		oil   quantity.Pressure
		level Level
		words string
	}{
		{3.9, LevelNormal, "3.9 bar, 0.3 bar above clean at 2200 rpm"},
		{3.6, LevelNormal, "3.6 bar, as when clean at 2200 rpm"},
		{3.2, LevelNormal, "3.2 bar, 0.4 bar below clean at 2200 rpm"},
		{3.1, LevelLook, "3.1 bar, 0.5 bar below clean at 2200 rpm"},
		{2.6, LevelLimit, "2.6 bar, 1.0 bar below clean at 2200 rpm"},
		{1, LevelLimit, "1.0 bar, 2.6 bar below clean at 2200 rpm"},
		{0.9, LevelStop, "0.9 bar, below the 1.0 bar it has at idle"},
	} {
		j := judged(steady(oilOf(row.oil)))
		assert.Equal(t, row.level, j.Level, row.oil)
		assert.Equal(t, row.words, of(t, j, GaugeOil).Words)
	}
	assert.Equal(t, stopAtOnce, judged(steady(oilOf(0.5), coolantOf(96))).First[0], "without oil nothing is waited for")
}

// Volts: common practice, no source.
func TestVoltsSayWhetherSheCharges(t *testing.T) {
	for _, row := range []struct {
		volts quantity.Voltage
		level Level
		words string
	}{
		{12.6, LevelLook, "12.60 V: not charging"},
		{13.1, LevelLook, "13.10 V: not charging"},
		{13.2, LevelNormal, "13.20 V: charging"},
		{15, LevelNormal, "15.00 V: charging"},
		{15.2, LevelLimit, "15.20 V: more than a battery should get"},
		{25.2, LevelLook, "25.20 V: not charging"},
		{27.6, LevelNormal, "27.60 V: charging"},
		{31, LevelLimit, "31.00 V: more than a battery should get"},
		{54, LevelNormal, "54.00 V: charging"},
	} {
		j := judged(steady(voltsOf(row.volts), noCoolant))
		assert.Equal(t, row.level, j.Level, row.volts)
		assert.Equal(t, row.words, of(t, j, GaugeVolts).Words)
		assert.NotContains(t, j.First, easeFirst, "revs mend no regulator")
	}
}

func TestWhatIsSeenAtTheExhaustIsTakenAtItsWord(t *testing.T) {
	for _, row := range []struct {
		change      func(*Gauges)
		gauge       Gauge
		cold, level Level
	}{
		{waterOf(WaterUsual), GaugeWater, LevelSettling, LevelNormal},
		{waterOf(WaterLittle), GaugeWater, LevelLimit, LevelLimit},
		{waterOf(WaterSteam), GaugeWater, LevelLimit, LevelLimit},
		{waterOf(WaterNone), GaugeWater, LevelStop, LevelStop},
		{smokeOf(SmokeNone), GaugeSmoke, LevelSettling, LevelNormal},
		{smokeOf(SmokeBlack), GaugeSmoke, LevelLook, LevelLook},
		{smokeOf(SmokeWhite), GaugeSmoke, LevelSettling, LevelLook},
		{smokeOf(SmokeBlue), GaugeSmoke, LevelSettling, LevelLook},
	} {
		j := judged(steady(row.change))
		assert.Equal(t, row.level, j.Level, j.Findings)
		assert.Equal(t, row.level, of(t, j, row.gauge).Level)
		assert.Equal(t, row.cold, judged(steady(row.change, heldFor(time.Minute))).Level, j.Findings)
	}
	assert.Equal(t, stopSafely, judged(steady(waterOf(WaterNone))).First[0])
	assert.Equal(t, "raw-water seacock: shut is the commonest and the cheapest", judged(steady(waterOf(WaterNone))).First[1])
}

func TestEveryLookThatCanHurtHasItsCaution(t *testing.T) {
	for why, r := range remedies {
		require.NotEmpty(t, r.looks, why)
		all := strings.Join(r.looks, "\n")
		for word, caution := range map[string]string{
			"coolant level": cautionHot, "thermostat, ": cautionHot, "strainer": cautionSeacock, "impeller": cautionSeacock,
			"belt": cautionBelts, "elbow": cautionElbow, "propeller": cautionOverSide, "regulator": cautionBattery,
		} {
			if strings.Contains(all, word) {
				assert.Contains(t, r.cautions, caution, "%d looks at the %s", why, word)
			}
		}
	}
	for why := causeNone + 1; why <= causeBlueSmoke; why++ {
		assert.Contains(t, remedies, why)
	}

	j := judged(steady(coolantOf(90)))
	assert.Equal(t, cautionHandbooks, j.Cautions[len(j.Cautions)-1])
	assert.Contains(t, j.Cautions, cautionHot)
	assert.Empty(t, judged(steady()).Cautions)
	j = judged(steady(coolantOf(90), oilOf(2), voltsOf(12), waterOf(WaterNone), smokeOf(SmokeBlue)))
	assert.Len(t, slices.Compact(slices.Sorted(slices.Values(j.First))), len(j.First), "each look once")
	assert.Len(t, slices.Compact(slices.Sorted(slices.Values(j.Cautions))), len(j.Cautions))
}

func TestSkippersLimitsReplaceTheUsualOnes(t *testing.T) {
	j := Judge(trialEngine(), steady(coolantOf(82)), nil, Limits{Look: 2}, quantity.Metric)
	assert.Equal(t, LevelLook, j.Level)
	assert.Equal(t, DefaultLimits(), Limits{Look: Degrees(math.NaN()), Settle: -1}.OrDefaults())
	assert.Equal(t, LevelSettling, Judge(trialEngine(), steady(), nil, Limits{Settle: 30 * time.Minute}, quantity.Metric).Level)
}

func TestUnitsAreTheOnesAskedForInDifferencesToo(t *testing.T) {
	j := Judge(trialEngine(), steady(coolantOf(84), oilOf(3), rawOutOf(44)), nil, Limits{}, quantity.US)
	assert.Equal(t, "183 °F, 7 °F above clean at 2200 rpm; the sea is no warmer than in the curve and explains nothing of it", of(t, j, GaugeCoolant).Words)
	assert.Equal(t, "44 psi, 9 psi below clean at 2200 rpm", of(t, j, GaugeOil).Words)
	assert.Equal(t, "the raw water gains 47 °F, 7 °F above clean at 2200 rpm", of(t, j, GaugeRawOut).Words)
}

// Any reading of what gauges can show.
func anyGauges() *rapid.Generator[Gauges] {
	return rapid.Custom(func(t *rapid.T) Gauges {
		temperature := func(name string, low, high float64) *quantity.Temperature {
			return new(quantity.Temperature(rapid.Float64Range(low, high).Draw(t, name)))
		}
		g := Gauges{
			At:      noonOfReading.Add(-time.Duration(rapid.IntRange(0, 60*24).Draw(t, "hours ago")) * time.Hour),
			RPM:     new(rapid.IntRange(0, 3200).Draw(t, "rpm")),
			Coolant: temperature("coolant", -30, 150),
			Sea:     temperature("sea", -3, 40),
			AtRevs:  time.Duration(rapid.IntRange(0, 60).Draw(t, "minutes")) * time.Minute,
			Moored:  rapid.Bool().Draw(t, "moored"),
			Sails:   rapid.SampledFrom([]Sails{"", SailsUp, SailsDown}).Draw(t, "sails"),
			Water:   rapid.SampledFrom([]Water{"", WaterUsual, WaterLittle, WaterSteam, WaterNone}).Draw(t, "water"),
			Smoke:   rapid.SampledFrom([]Smoke{"", SmokeNone, SmokeBlack, SmokeWhite, SmokeBlue}).Draw(t, "smoke"),
		}
		if rapid.Bool().Draw(t, "more") {
			g.RawOut = temperature("raw out", -3, 120)
			g.Oil = new(quantity.Pressure(rapid.Float64Range(0, 6).Draw(t, "oil")))
			g.Volts = new(quantity.Voltage(rapid.Float64Range(0, 60).Draw(t, "volts")))
			g.Speed = new(quantity.Speed(rapid.Float64Range(0, 9).Draw(t, "speed")))
		}
		if rapid.IntRange(0, 5).Draw(t, "no revs") == 0 {
			g.RPM = nil
		}
		return g
	})
}

func TestWarmerEngineNeverGetsABetterLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGauges().Draw(t, "reading")
		past := rapid.SliceOfN(anyGauges(), 0, 6).Draw(t, "past")
		cool := judged(g, past...)
		g.Coolant = new(*g.Coolant + quantity.Temperature(rapid.Float64Range(0, 400).Draw(t, "warmer")))
		if warm := judged(g, past...); warm.Level < cool.Level {
			t.Fatalf("%s became %s", cool.Level, warm.Level)
		}
	})
}

func TestWarmerSeaNeverGetsAWorseLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGauges().Draw(t, "reading")
		cold := judged(g)
		g.Sea = new(quantity.Temperature(rapid.Float64Range(float64(*g.Sea), 40).Draw(t, "warmer sea")))
		if warm := judged(g); warm.Level > cold.Level {
			t.Fatalf("%s became %s", cold.Level, warm.Level)
		}
	})
}

func TestRiseIsPartedWithoutRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := judged(anyGauges().Draw(t, "reading")).Figures
		if f.Rise == nil {
			return
		}
		assert.GreaterOrEqual(t, *f.Unexplained, Degrees(0))
		assert.GreaterOrEqual(t, *f.SeaExplains, Degrees(0))
		assert.InDelta(t, math.Max(0, float64(*f.Rise)), float64(*f.SeaExplains+*f.Unexplained), 1e-9)
	})
}

func TestOrderOfThePastDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGauges().Draw(t, "reading")
		past := rapid.SliceOfN(anyGauges(), 0, 12).Draw(t, "past")
		for i := range past {
			past[i].Hours = new(float64(rapid.IntRange(1400, 1500).Draw(t, "hours")))
		}
		g.Hours = new(1490.0)
		shuffled := rapid.Permutation(past).Draw(t, "shuffled")
		assert.Equal(t, judged(g, past...), judged(g, shuffled...))
	})
}

func TestLevelIsTheWorstFinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := judged(anyGauges().Draw(t, "reading"))
		for i, f := range j.Findings {
			assert.LessOrEqual(t, f.Level, j.Level)
			assert.NotEmpty(t, f.Words)
			assert.True(t, i == 0 || f.Level <= j.Findings[i-1].Level)
		}
		assert.Equal(t, j.Level >= LevelLook, len(j.First) > 0)
		assert.Equal(t, j.Level >= LevelLook, len(j.Cautions) > 0)
	})
}

// Revs outside the curve say nothing of what is normal; a coolant near the stop says enough.
func TestHotIsToldAtAnyRevs(t *testing.T) {
	engine := passage.Engine{RatedRPM: 3000, CoolantMax: 95, Curve: []passage.CurveRow{{RPM: 1500, Speed: 4, Burn: 1, Coolant: 78}, {RPM: 2500, Speed: 6, Burn: 3, Coolant: 82}}}
	for _, row := range []struct {
		rpm     int
		coolant quantity.Temperature
		want    Level
	}{
		{800, 94, LevelLimit}, {800, 92.5, LevelLimit}, {800, 88, LevelLimit}, {800, 87.9, LevelLook}, {800, 84.5, LevelLook}, {800, 84.4, LevelUnjudged}, {3000, 95, LevelStop},
	} {
		g := Gauges{RPM: &row.rpm, Coolant: &row.coolant, AtRevs: 20 * time.Minute}
		j := Judge(engine, g, nil, Limits{}, quantity.Metric)
		assert.Equal(t, row.want, j.Level, "%d rpm, %v", row.rpm, row.coolant)
	}
}
