package tui

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/exp/golden"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// motor is a boat whose engine has a curve with every column, and services. All invented.
func motor() checklist.Definitions {
	d := fitBoat()
	row := func(i int, oil quantity.Pressure, out quantity.Temperature) {
		sea := quantity.Temperature(18)
		d.Boat.Engine.Curve[i].Oil, d.Boat.Engine.Curve[i].Sea, d.Boat.Engine.Curve[i].RawOut = &oil, &sea, &out
	}
	row(0, 3, 30)
	row(1, 4, 38)
	d.Boat.Engine.Hours = 400
	d.Tools = []machinery.Tool{{Name: "strap wrench", State: machinery.Seized}}
	d.Services = []machinery.Service{
		{Name: "oil and filter", EveryHours: 150, EveryMonths: 12, Last: machinery.Done{Date: date(2026, 3, 1), Hours: 300}, Critical: true,
			Uses: []string{"oil filter"}, Tools: []string{"strap wrench"}, Takes: 90 * time.Minute},
		{Name: "anode", EveryMonths: 6, Last: machinery.Done{Date: date(2025, 6, 1), Hours: 200}, Takes: 20 * time.Minute},
		{Name: "belts", EveryHours: 600, Last: machinery.Done{Date: date(2026, 3, 1), Hours: 300}, UnderWay: true},
		{Name: "injectors"},
	}
	return d
}

// read is a reading as the record keeps it.
func read(d checklist.Definitions, line string) checklist.Act {
	r, err := checklist.State{}.NewReading(d, checklist.ReadingPairs(strings.Fields(line)))
	if err != nil {
		panic(err)
	}
	return r
}

// usualLines are a dozen readings, of which the last ones creep; the newest shows too
// little water at the exhaust.
func usualLines() []string {
	var lines []string
	for _, coolant := range []int{81, 80, 81, 82, 81, 81, 80, 81, 81, 84, 86} {
		lines = append(lines, fmt.Sprintf("rpm=2000 minutes=20 coolant=%dC oil=3.5bar volts=14.1V sea=18C raw_out=%dC speed=4.9kn sails=down",
			coolant, 34+max(0, coolant-82)))
	}
	return append(lines, "rpm=2000 minutes=20 coolant=88C oil=3.4bar volts=14V sea=19C raw_out=42C water=little smoke=none sails=down note=weed about")
}

// engineBench is screen 5 with a reading a day behind it, and a defect that caps the revs.
func engineBench(t *testing.T, lines []string, keys ...string) *bench {
	b := newBench(t, motor())
	b.now = evening.AddDate(0, 0, -len(lines)-1)
	b.add(checklist.DefectAct{What: "vibration over 1900", Grade: machinery.Limit, RPM: 1900})
	for i, line := range lines {
		b.now = evening.Add(time.Duration(i-len(lines)) * 24 * time.Hour).Add(23 * time.Hour)
		b.add(read(b.d, line))
	}
	b.now = evening
	return b.restart().keys("5").keys(keys...)
}

func TestEngineLooksAsReviewed(t *testing.T) {
	screens := []struct {
		name string
		make func(*testing.T) *bench
	}{
		{"reading", func(t *testing.T) *bench { return engineBench(t, usualLines()) }},
		{"reading-on", func(t *testing.T) *bench { return engineBench(t, usualLines(), "pgdown") }},
		{"reading-normal", func(t *testing.T) *bench { return engineBench(t, usualLines()[:3]) }},
		{"reading-stop", func(t *testing.T) *bench {
			return engineBench(t, []string{"rpm=2000 minutes=3 coolant=97C oil=0.5bar water=none"})
		}},
		{"reading-none", func(t *testing.T) *bench { return engineBench(t, nil) }},
		{"trend", func(t *testing.T) *bench { return engineBench(t, usualLines(), "right") }},
		{"trend-volts", func(t *testing.T) *bench { return engineBench(t, usualLines(), "right", "G") }},
		{"trend-learning", func(t *testing.T) *bench { return engineBench(t, usualLines()[:4], "right") }},
		{"services", func(t *testing.T) *bench { return engineBench(t, usualLines(), "left") }},
		{"services-second", func(t *testing.T) *bench { return engineBench(t, usualLines(), "left", "j") }},
		{"line-refused", func(t *testing.T) *bench { return engineBench(t, nil, "a").types("rpm=2000 coolant=82").keys("enter") }},
		{"gauge-refused", func(t *testing.T) *bench {
			return engineBench(t, nil, "a", "enter").types("2000").keys("enter", "enter").types("82").keys("enter")
		}},
		{"summary", func(t *testing.T) *bench {
			return engineBench(t, nil, "a", "enter").types("2000").keys("enter").types("20").keys("enter").types("82C").keys("enter", ".", "enter")
		}},
	}
	for _, s := range screens {
		for _, z := range []size{{80, 24}, {60, 20}, {200, 60}} {
			for name, glyphs := range map[string]Glyphs{"": Unicode, "-ascii": ASCII} {
				t.Run(fmt.Sprintf("%s-%dx%d%s", s.name, z.w, z.h, name), func(t *testing.T) {
					b := s.make(t)
					b.m.facts.look.glyphs = newGlyphs(glyphs)
					golden.RequireEqual(t, b.size(z.w, z.h).view())
				})
			}
		}
	}
}

func TestEveryEngineViewFitsAnySize(t *testing.T) {
	boats := []func(*testing.T) *bench{
		func(t *testing.T) *bench { return engineBench(t, usualLines(), "1") },
		func(t *testing.T) *bench { return engineBench(t, nil, "1") },
		func(t *testing.T) *bench {
			return newBench(t, soiled(), read(fitBoat(), "note=漢字 e\u0301 long "+strings.Repeat("words ", 60)))
		},
		func(t *testing.T) *bench { return newBench(t, checklist.Definitions{}, read(motor(), "coolant=97C")) },
	}
	pressed := []string{"a", "enter", "2000", "rpm=2000 coolant=99C", "82", "82C", "20", ".", "-", "backspace", "y", "yy", "X", "esc", "left", "right", "up", "down",
		"pgup", "pgdown", "g", "G", "5", "1", "q", "?", "ctrl+u", "漢字"}
	rapid.Check(t, func(rt *rapid.T) {
		b := boats[rapid.IntRange(0, len(boats)-1).Draw(rt, "boat")](t)
		b.m.facts.look.glyphs = newGlyphs(Glyphs(rapid.IntRange(0, 2).Draw(rt, "glyphs")))
		b.keys("5")
		w, h := rapid.IntRange(0, 200).Draw(rt, "w"), rapid.IntRange(0, 60).Draw(rt, "h")
		b.size(w, h)
		for range rapid.IntRange(0, 40).Draw(rt, "n") {
			before := len(b.entries)
			key := rapid.SampledFrom(pressed).Draw(rt, "key")
			b.keys(key)
			requireFits(rt, b.m.View(), w, h)
			require.LessOrEqual(rt, len(b.entries), before+1, "one key writes one entry at most")
			if len(b.entries) > before {
				require.Contains(rt, []string{"enter", "y", "yy"}, key)
			}
			if b.quit {
				return
			}
		}
	})
}

func TestEngineKeysAskForActions(t *testing.T) {
	typed := func(text string) []string { return strings.Split(text, "") }
	keysOf := func(parts ...[]string) []string {
		var all []string
		for _, p := range parts {
			all = append(all, p...)
		}
		return all
	}
	enter := []string{"enter"}
	written := func(pairs ...string) []action { return []action{recordEntry{wishReading{pairs}}} }
	cases := []struct {
		name string
		keys []string
		want []action // of the last key
	}{
		{"q leaves", []string{"q"}, []action{closeScreen{}}},
		{"a line is taken as the command takes it", keysOf([]string{"a"}, typed("rpm=2000 coolant=82 C minutes=20"), enter), written("rpm=2000", "coolant=82 C", "minutes=20")},
		{"a bare number is refused", keysOf([]string{"a"}, typed("coolant=82"), enter), nil},
		{"an unknown gauge is refused", keysOf([]string{"a"}, typed("colant=82C"), enter), nil},
		{"leaving the line writes nothing", []string{"a", "backspace"}, []action{say{"nothing was written"}}},
		{"enter skips gauges and writes nothing", keysOf([]string{"a"}, strings.Split(strings.Repeat("enter ", 30)+"enter", " ")), nil},
		{"y on nothing read writes nothing", keysOf([]string{"a", "enter", ".", "enter", "y"}), nil},
		{"gauge by gauge", keysOf([]string{"a", "enter"}, typed("2000"), enter, enter, typed("82C"), enter, []string{".", "enter", "y"}), written("rpm=2000", "coolant=82C")},
		{"a pair is taken at its gauge", keysOf([]string{"a", "enter"}, typed("rpm=2000"), enter, []string{".", "enter", "y"}), written("rpm=2000")},
		{"going back keeps what was typed", keysOf([]string{"a", "enter"}, typed("2000"), enter, []string{"backspace", "enter", ".", "enter", "y"}), written("rpm=2000")},
		{"going back changes it", keysOf([]string{"a", "enter"}, typed("2000"), enter, []string{"esc"}, typed("1800"), enter, []string{".", "enter", "y"}), written("rpm=1800")},
		{"a gauge is taken out", keysOf([]string{"a", "enter"}, typed("2000"), enter, typed("20"), enter, []string{"esc", "-", "enter", ".", "enter", "y"}), written("rpm=2000")},
		{"the gauges become the line", keysOf([]string{"a", "enter"}, typed("2000"), enter, []string{"esc", "esc"}, typed(" oil=3bar"), enter), written("rpm=2000", "oil=3bar")},
		{"the summary becomes the line", keysOf([]string{"a", "enter"}, typed("2000"), enter, []string{".", "enter", "a"}, typed(" minutes=20"), enter), written("rpm=2000", "minutes=20")},
		{"a reading is dropped by its own key", keysOf([]string{"a", "enter"}, typed("2000"), enter, []string{".", "enter", "X"}), []action{say{"nothing was written"}}},
		{"q on the summary drops and writes nothing", keysOf([]string{"a", "enter"}, typed("2000"), enter, []string{".", "enter", "q"}), nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f := engineBench(t, nil).m.facts
			var s screen = engine{}
			var got []action
			for _, name := range c.keys {
				s, got = s.update(f, press{KeyMsg: keyMsg(name)})
			}
			assert.Equal(t, c.want, got)
		})
	}
}

func TestAReadingInOneLineIsJudgedAtOnce(t *testing.T) {
	b := engineBench(t, nil, "right", "a").types("rpm=2000 coolant=88C minutes=20 water=little sails=down")
	b.keys("enter").sees("[Reading]", "LIMIT; it points at: raw-water flow", "NOW: ease the revs until it is found", "On the disk, entry 2")
	view := b.size(200, 60).view()
	assert.Less(t, strings.Index(view, "Cautions, before any look"), strings.Index(view, "Look first"), "the cautions stand before the looks")
	b.sees("coolant 88 °C 81 °C LIMIT", "exhaust water little usual LIMIT")
	reading := b.acts()[1].(checklist.Reading)
	assert.Equal(t, 20.0, reading.Minutes)
	assert.Equal(t, "little", reading.Water)
}

func TestAReadingGaugeByGaugeIsShownBeforeItIsWritten(t *testing.T) {
	b := engineBench(t, nil, "a", "enter").types("2000").keys("enter").types("20").keys("enter").types("82").keys("enter")
	b.sees(`"82" is no value of coolant; write it like coolant=82C`)
	b.keys("ctrl+u").types("82C").keys("enter").sees("4 of 14, oil pressure", "coolant 82C")
	b.keys(".", "enter").sees("Not written yet. y: write it", "coolant 82C", "not read: oil pressure, volts")
	require.Len(t, b.entries, 1)
	b.keys("enter").sees("y writes it; enter may still be held down")
	require.Len(t, b.entries, 1)
	b.keys("y", "y", "y").sees("NORMAL", "coolant 82 °C 81 °C normal: 1 °C above clean at 2000 rpm")
	require.Len(t, b.entries, 2, "one reading, however often y was pressed")
}

func TestThermometersThatCannotBothBeRightAreToldAtTheGauge(t *testing.T) {
	b := engineBench(t, nil, "a", "enter", "enter", "enter").types("60C").keys("enter", "enter", "enter", "enter").types("75C").keys("enter")
	b.sees("raw water leaves at 75 °C, hotter than the coolant at 60 °C", "> 75C")
}

func TestASlowDiskShowsTheReadingOnlyOnceItIsThere(t *testing.T) {
	b := engineBench(t, usualLines()[:1], "a").types("rpm=2000 coolant=88C minutes=20")
	b.slow = true
	b.keys("enter", "enter", "enter").sees("not the newest: 1 entry is not on the disk yet", "NORMAL")
	require.Len(t, b.entries, 2)
	b.land().sees("LIMIT").seesNot("not on the disk yet")
	require.Len(t, b.entries, 3)
}

func TestKeysInOneReadDoNotWriteTheSummary(t *testing.T) {
	b := engineBench(t, nil, "a", "enter").types("2000").keys("enter", ".", "enter")
	b.keys("xy").sees("Not written yet")
	require.Len(t, b.entries, 1)
	b.keys("yy")
	require.Len(t, b.entries, 2)
}

func TestWhatWasTypedIsAskedForBeforeLeaving(t *testing.T) {
	b := engineBench(t, nil, "a", "enter").types("2000").keys("enter")
	b.keys("ctrl+c").sees("What was typed is not taken yet")
	assert.False(t, b.quit)
	b.keys("j", ".", "enter", "2").sees("[2 Passage]")
	b.keys("5").sees("Not written yet", "revs 2000")
}

func TestTheEngineIsOnlyJudgedForScreenFive(t *testing.T) {
	b := engineBench(t, usualLines())
	require.NotEmpty(t, b.m.facts.engine.Trends)
	b.keys("3")
	assert.Equal(t, engineFacts{}, b.m.facts.engine)
	b.send(minutePassedMsg{})
	assert.Equal(t, engineFacts{}, b.m.facts.engine)
}

func TestReadyLeadsToTheService(t *testing.T) {
	d := motor()
	d.Services[1].Critical = true
	b := newBench(t, d, allGood()...)
	b.keys("enter").sees("[5 Engine]", "[Services]", "> anode: overdue since 2025-12-01", "In the way: ")

	b = engineBench(t, nil, "1", "G")
	for range 20 {
		if strings.Contains(b.view(), "> no reason yet: anode") {
			break
		}
		b.keys("k")
	}
	b.sees("enter: see it on 5 Engine").keys("enter").sees("[Services]", "> anode")
}

func TestADefectThatCapsTheRevsIsToldUnderEveryView(t *testing.T) {
	b := engineBench(t, usualLines())
	for range engineViews {
		b.sees("Defect 1 caps the revs at 1900: vibration over 1900", "Foul bottom").keys("right")
	}
}

// The loss in fuel a mile at the same burn is 1/f - 1: at 80 % of the speed the same hour
// of burning takes her 80 % of the way, 25 % more a mile. Arithmetic; rounded up.
func TestWhatAFoulBottomCosts(t *testing.T) {
	for _, c := range []struct {
		fouling float64
		seen    int
		want    bottomFacts
	}{
		{0.8, 1, bottomFacts{"Foul bottom: 20 % of speed, 25 % more fuel a mile, by her last reading.", true}},
		{0.88, 5, bottomFacts{"Foul bottom: 12 % of speed, 14 % more fuel a mile, by her last 5 readings.", true}},
		{1, 3, bottomFacts{"Bottom: no speed lost, by her last 3 readings.", false}},
		{1, 0, bottomFacts{"Bottom: no reading of the speed tells; taken as clean.", false}},
		{0, 2, bottomFacts{"Bottom: no reading of the speed tells; taken as clean.", false}},
	} {
		assert.Equal(t, c.want, bottomOf(checklist.Assessment{Fouling: c.fouling, FoulingSeen: c.seen}))
	}
}

func TestWhatIsDoneAtOnceStandsBeforeEverything(t *testing.T) {
	for _, c := range []struct{ name, line, worth, now string }{
		{"no oil", "rpm=2000 oil=0.5bar", "STOP", "stop the engine at once; sail, or anchor if there is no room"},
		{"too hot", "rpm=2000 coolant=97C", "STOP; where it comes from, the gauges read do not tell", "ease her to idle and stop her as soon as the boat is safe"},
		{"little water", "rpm=2000 water=little", "LIMIT; it points at: raw-water flow", "ease the revs until it is found"},
	} {
		t.Run(c.name, func(t *testing.T) {
			lines := strings.Split(engineBench(t, []string{c.line}).view(), "\n")
			assert.Equal(t, c.worth, lines[2])
			assert.Contains(t, lines[3], "NOW: "+c.now)
		})
	}
	engineBench(t, []string{"rpm=2000 minutes=20 volts=15.6V"}).sees("LIMIT", "Look first").seesNot("NOW:") // revs do not mend a regulator
}

func TestAReadingInDoubtIsToldAndNotJudged(t *testing.T) {
	b := engineBench(t, usualLines()[:2])
	b.now = evening.Add(-72 * time.Hour)
	b.add(read(b.d, "coolant=99C rpm=2000"))
	b.now = evening
	b.restart().keys("5").sees("Entry 4 was read while the clock was in doubt, and is not judged.")
}

// trendOf is a trend of seven readings about 1, with limits at -2 and 4; the last is flagged.
func trendOf(of machinery.Gauge, values ...machinery.Off) machinery.Trend {
	t := machinery.Trend{Of: of}
	for i, v := range values {
		t.Points = append(t.Points, machinery.Point{At: evening.AddDate(0, 0, i), Value: v, Centre: 1, Lower: -2, Upper: 4, Limited: true})
	}
	return t
}

func TestATrendIsDrawnReadingByReading(t *testing.T) {
	trend := trendOf(machinery.GaugeCoolant, 1, 2, 0, 1, 6)
	trend.Points[4].Flags = []machinery.Flag{machinery.FlagBeyond}
	l := look{glyphs: newGlyphs(ASCII)}
	got := drawTrend(l, trend, trendScale{quantity.Metric, time.UTC}, size{44, 12})
	want := []string{
		"o a reading, off clean  X out of its way ...",
		"      +6 C |                        X",
		"           |",
		"limit +4 C |================================",
		"           |",
		"           |      o",
		"usual +1 C |o-----------------o-------------",
		" clean 0 C |            o",
		"           |",
		"limit -2 C |================================",
		"           ++-----------+-----------+-------",
		"            1 Jun       3 Jun       5 Jun",
	}
	assert.Equal(t, strings.Join(want, "\n"), strings.Join(got, "\n"))
}

func TestOfMoreReadingsThanColumnsTheNewestAreDrawn(t *testing.T) {
	var values []machinery.Off
	for range 200 {
		values = append(values, 1)
	}
	values[199] = 3
	lines := drawTrend(look{glyphs: newGlyphs(ASCII)}, trendOf(machinery.GaugeCoolant, values...), trendScale{quantity.Metric, time.UTC}, size{100, 12})
	assert.Contains(t, lines[0], "(112 older are not drawn)", "of 200 readings 88 have a column each")
	assert.True(t, strings.HasSuffix(lines[2], "o"), "the newest stands at the right:\n%s", strings.Join(lines, "\n"))
}

func TestEqualValuesLieOnOneLine(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := machinery.Off(rapid.Float64Range(-5, 15).Draw(rt, "v"))
		width := machinery.Off(rapid.Float64Range(0.01, 3).Draw(rt, "width"))
		trend := machinery.Trend{Of: machinery.GaugeVolts}
		for i := range 3 {
			trend.Points = append(trend.Points, machinery.Point{At: evening.AddDate(0, 0, i), Value: v, Centre: v, Lower: v - width, Upper: v + width, Limited: true})
		}
		s := size{60, rapid.IntRange(8, 40).Draw(rt, "h")}
		lines := drawTrend(look{glyphs: newGlyphs(ASCII)}, trend, trendScale{quantity.Metric, time.UTC}, s)
		found := 0
		for _, line := range lines[1:] {
			if strings.Contains(line, "o") && strings.Contains(line, "|") && !strings.Contains(line, "usual") {
				found++
			}
		}
		require.Zero(rt, found, "the values lie on their usual line:\n%s", strings.Join(lines, "\n"))
	})
}

func TestADrawingOfWhatIsNoNumberDoesNotPanic(t *testing.T) {
	trend := trendOf(machinery.GaugeOil, machinery.Off(math.NaN()), machinery.Off(math.Inf(1)))
	for h := range 20 {
		for w := range 40 {
			lines := drawTrend(look{glyphs: newGlyphs(Box)}, trend, trendScale{quantity.US, time.UTC}, size{w, h})
			require.LessOrEqual(t, len(lines), h)
		}
	}
}

func TestMarksOfTheTrendAreAllDifferent(t *testing.T) {
	for _, g := range []Glyphs{Unicode, Box, ASCII} {
		m := newGlyphs(g).trendMarks()
		marks := []string{m.value, m.flagged, m.usual, m.limit}
		for i, a := range marks {
			for _, b := range marks[i+1:] {
				assert.NotEqual(t, a, b)
			}
		}
	}
}

func TestDegreesOfTheTrendAreInTheUnitsOfTheScreens(t *testing.T) {
	d := motor()
	d.Boat.Units = quantity.US
	b := newBench(t, d)
	b.keys("5", "a").sees("coolant=180F").keys("enter", "enter", "enter").sees(`"180F" or "82C"`)
}

func TestNormalIsTheCurveAtTheReadingsRevs(t *testing.T) {
	// Half-way between the rows of 1500 and 2500 rpm lie their means: 81 °C, 3.5 bar, 34 °C, 5.4 kn.
	f := engineBench(t, usualLines()).m.facts
	normal := normalAt(f, read(motor(), "rpm=2000 volts=14V").(checklist.Reading))
	assert.Equal(t, map[string]string{
		"coolant": "81 °C", "oil": "3.5 bar", "sea": "18 °C", "raw_out": "34 °C", "speed": "5.4 kn", "volts": "13.2-15 V", "water": "usual", "smoke": "none",
	}, normal)
	assert.Empty(t, normalAt(f, read(motor(), "rpm=3000 volts=28V").(checklist.Reading))["coolant"], "outside the curve nothing is normal")
}

func TestServicesTellWhatIsInTheirWay(t *testing.T) {
	b := engineBench(t, nil, "left").sees("> anode", "It wants her at anchor or alongside.")
	b.keys("j").sees("> oil and filter", "In its way: oil filter not aboard; strap wrench seized", "Uses oil filter; with strap wrench; takes 1 h 30", "50.0 h left")
	b.keys("G").sees("> injectors: by need", "By need, not by hours or months.", "Never done")
}

// BenchmarkEngine is what a key costs on screen 5 until it is drawn, with all the readings
// that are kept, view by view, and what opening it costs.
func BenchmarkEngine(b *testing.B) {
	now := evening
	d := motor()
	var entries []checklist.Entry
	for i := range 200 {
		entries = append(entries, checklist.Entry{Seq: i + 1, At: evening.Add(time.Duration(i-200) * 8 * time.Hour), Act: read(d, usualLines()[i%11])})
	}
	m := New(Settings{Definitions: d, Entries: entries, Clock: func() time.Time { return now }, Theme: Plain})
	press := func(m Model, name string) Model {
		next, _ := m.Update(keyMsg(name))
		return next.(Model)
	}
	b.Run("opening it", func(b *testing.B) {
		for b.Loop() {
			_ = press(m, "5").View()
		}
	})
	shown := press(m, "5")
	for _, name := range engineViewNames {
		b.Run("a key in "+name, func(b *testing.B) {
			for b.Loop() {
				_ = press(shown, "j").View()
			}
		})
		shown = press(shown, "right")
	}
}
