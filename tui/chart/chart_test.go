package chart

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/exp/golden"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

var sails = time.Date(2026, 10, 19, 7, 0, 0, 0, time.FixedZone("", 13*3600))

func points(pairs ...float64) []provisions.LeftPoint {
	var list []provisions.LeftPoint
	for i := 0; i < len(pairs); i += 2 {
		list = append(list, provisions.LeftPoint{Hours: pairs[i], Amount: provisions.Amount(pairs[i+1])})
	}
	return list
}

func left(t passage.Thing, c passage.CaseName, floor []provisions.Floor, arrivals []float64, pairs ...float64) provisions.Left {
	return provisions.Left{Thing: t, Case: c, Points: points(pairs...), Floor: floor, Arrivals: arrivals}
}

// filledUp is an invented passage with a stop after three days that gives water.
func filledUp() []provisions.Left {
	return []provisions.Left{
		left(passage.Water, passage.Slow, []provisions.Floor{{From: 0, To: 80, Amount: 40}, {From: 128, To: 330, Amount: 70}}, []float64{80, 330},
			0, 150, 80, 60, 80, 259, 128, 259, 330, 90),
		left(passage.Water, passage.Expected, []provisions.Floor{{From: 0, To: 60, Amount: 40}, {From: 84, To: 240, Amount: 70}}, []float64{60, 240},
			0, 150, 60, 85, 60, 259, 84, 259, 240, 140),
		left(passage.Fuel, passage.Slow, nil, []float64{9}, 0, 5, 9, 1),
	}
}

// usedUp runs into the reserve in both cases, and out in the slow one.
func usedUp() []provisions.Left {
	return []provisions.Left{
		left(passage.Gas, passage.Slow, []provisions.Floor{{From: 0, To: 330, Amount: 1}}, []float64{80, 330}, 0, 3.9, 80, 2.9, 250, 0, 330, 0),
		left(passage.Gas, passage.Expected, []provisions.Floor{{From: 0, To: 240, Amount: 1}}, []float64{60, 240}, 0, 3.9, 240, 0.6),
	}
}

// aDay is a passage of a few hours on which the reserve is touched already on leaving.
func aDay() []provisions.Left {
	return []provisions.Left{left(passage.Fuel, passage.Slow, []provisions.Floor{{From: 0, To: 14.5, Amount: 60}}, []float64{14.5}, 0, 52, 14.5, 21)}
}

func TestChartsLookAsReviewed(t *testing.T) {
	for glyphs, name := range map[Glyphs]string{Unicode: "unicode", Box: "box", ASCII: "ascii"} {
		for _, c := range []struct {
			name  string
			lefts []provisions.Left
			of    passage.Thing
		}{{"filled-up", filledUp(), passage.Water}, {"used-up", usedUp(), passage.Gas}, {"a-day", aDay(), passage.Fuel}} {
			for _, z := range [][2]int{{78, 12}, {50, 8}} {
				t.Run(fmt.Sprintf("%s-%s-%dx%d", c.name, name, z[0], z[1]), func(t *testing.T) {
					lines := Draw(c.lefts, c.of, Options{Width: z[0], Height: z[1], Glyphs: glyphs, Depart: sails})
					golden.RequireEqual(t, []byte(strings.Join(lines, "\n")+"\n"))
				})
			}
		}
	}
}

func draw(lefts []provisions.Left, of passage.Thing, w, h int) []string {
	return Draw(lefts, of, Options{Width: w, Height: h, Glyphs: ASCII, Depart: sails})
}

// field is the line of the plot for every row, the axis first.
func field(lines []string) []string {
	var rows []string
	for _, l := range lines {
		if at := strings.IndexAny(l, "|"); at >= 0 {
			rows = append([]string{l[at+1:]}, rows...)
		} else if strings.HasPrefix(strings.TrimSpace(l), "0 +") {
			rows = append([]string{l[strings.Index(l, "+")+1:]}, rows...)
		}
	}
	return rows
}

func TestReserveTouchedAndNothingLeftAreMarked(t *testing.T) {
	text := strings.Join(draw(usedUp(), passage.Gas, 78, 12), "\n")
	assert.Contains(t, text, "! reserve touched")
	assert.Contains(t, text, "X nothing left")
	assert.Equal(t, 2+1, strings.Count(text, "!"), "both cases, and the legend")
	assert.Equal(t, 1+1, strings.Count(text, "X"), "the slow case, and the legend")

	text = strings.Join(draw(filledUp(), passage.Water, 78, 12), "\n")
	assert.NotContains(t, text, "!")
	assert.NotContains(t, text, "X")
	assert.Equal(t, 4+1, strings.Count(text, "^"), "each arrival")
}

func TestUnderTheReserveOnLeavingIsMarkedThere(t *testing.T) {
	rows := field(draw(aDay(), passage.Fuel, 78, 12))
	assert.Len(t, rows, 7)
	at := -1
	for i, row := range rows {
		if strings.HasPrefix(row, "!") {
			at = i
		}
	}
	require.Positive(t, at)
	assert.NotContains(t, rows[at], ".", "the floor lies over it")
}

// A line stands on the axis where nothing is left and nowhere else, and lies under the
// floor only where the reserve is touched.
func TestNoLineIsDrawnBetterThanItIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reserve := provisions.Amount(rapid.IntRange(0, 120).Draw(t, "reserve"))
		p := newPlot(ASCII.marks(), rapid.IntRange(2, 40).Draw(t, "rows"), 60, 100, 150)
		amount := provisions.Amount(rapid.IntRange(0, 150).Draw(t, "amount"))
		if rapid.Bool().Draw(t, "near the reserve") {
			amount = reserve * provisions.Amount(rapid.IntRange(980, 1020).Draw(t, "thousandths")) / 1000
		}
		row, floor := p.row(amount, reserve), p.nearest(reserve)
		require.Equal(t, amount <= 0, row == 0)
		if reserve > 0 && amount >= reserve {
			require.GreaterOrEqual(t, row, floor)
		}
		if amount < reserve && floor > 1 {
			require.Less(t, row, floor)
		}
		require.LessOrEqual(t, math.Abs(float64(row)-float64(amount)/p.top*float64(p.rows)), 1.5+1e-9)
	})
}

func TestAxesHaveRoundNumbersAndDates(t *testing.T) {
	lines := draw(filledUp(), passage.Water, 78, 12)
	text := strings.Join(lines, "\n")
	assert.True(t, strings.HasPrefix(text, "litres of water  * slow  o expected  . reserve  ^ arrives\n"), text)
	assert.Contains(t, text, "  240 |")
	assert.Contains(t, text, " days  0 ")
	assert.Contains(t, lines[len(lines)-1], "19 Oct")
	assert.Contains(t, lines[len(lines)-1], "31 Oct")

	us := Draw(filledUp(), passage.Water, Options{Width: 78, Height: 12, Units: quantity.US})
	assert.True(t, strings.HasPrefix(us[0], "US gal of water  "), us[0])
	assert.NotContains(t, strings.Join(us, "\n"), "Oct", "no departure, no dates")
	// 259 L are 68.4 US gal (NIST SP 811 B.8: 3.785412 L)
	assert.Contains(t, strings.Join(us, "\n"), "   60 │")

	hours := strings.Join(draw(aDay(), passage.Fuel, 78, 12), "\n")
	assert.Contains(t, hours, "hours  0 ")
	assert.Contains(t, hours, "13:00")
}

// However long the passage and narrow the chart, no label runs into the next.
func TestTicksStandApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		columns := rapid.IntRange(leastColumns, 120).Draw(t, "columns")
		hours := rapid.Float64Range(0.1, 30_000).Draw(t, "hours")
		p, across := newPlot(ASCII.marks(), 4, columns, hours, 1), newTicks(hours, columns, sails)
		moment := func(i int) string { return strings.ReplaceAll(across.moment(i), " ", "_") }
		for _, text := range []func(int) string{across.number, moment} {
			labels := map[string]bool{}
			for i := range across.count() {
				labels[text(i)] = true
			}
			told := strings.Fields(p.spread(across, text))
			require.NotEmpty(t, told)
			for _, label := range told {
				require.Contains(t, labels, label)
			}
		}
	})
}

func TestScaleIsTheLeastRoundOne(t *testing.T) {
	for _, c := range []struct {
		most float64
		rows int
		row  float64
		used int
	}{
		{259, 7, 40, 6}, {150, 7, 25, 6}, {140, 7, 20, 7}, {128, 7, 20, 6}, {3.9, 7, 0.75, 5}, {1, 2, 0.5, 2}, {0, 4, 1, 4}, {1e9, 4, 250e6, 4},
	} {
		s := newScale(c.most, c.rows)
		assert.InDelta(t, c.row, s.row, 1e-9*c.row, "%v on %d", c.most, c.rows)
		assert.Equal(t, c.used, s.rows, "%v on %d", c.most, c.rows)
	}
}

func TestWhatCannotBeDrawnIsSaid(t *testing.T) {
	for _, c := range []struct {
		name  string
		lefts []provisions.Left
		of    passage.Thing
		want  string
	}{
		{"another thing", filledUp(), passage.Gas, "nothing to draw: what is left of gas is not known"},
		{"no points", []provisions.Left{left(passage.Gas, passage.Slow, nil, nil)}, passage.Gas, "nothing to draw: what is left of gas is not known"},
		{"no number", []provisions.Left{left(passage.Gas, passage.Slow, nil, nil, 0, math.NaN(), 4, 1)}, passage.Gas, "nothing to draw: what is left of gas is not known"},
		{"no time", []provisions.Left{left(passage.Gas, passage.Slow, nil, []float64{0}, 0, 4)}, passage.Gas, "nothing to draw: the passage takes no time"},
	} {
		assert.Equal(t, []string{c.want}, draw(c.lefts, c.of, 78, 12), c.name)
	}
	assert.Equal(t, []string{"no room for the cha"}, draw(filledUp(), passage.Water, 19, 12))
	assert.Equal(t, []string{"no room for the chart: see the"}, draw(filledUp(), passage.Water, 30, 3))
	assert.Empty(t, draw(filledUp(), passage.Water, 0, 0))
	assert.Empty(t, draw(filledUp(), passage.Water, 10, 0))
	assert.Equal(t, []string{"n"}, draw(filledUp(), passage.Water, 1, 1))
}

func TestMarksAreOfOneColumnAndNoneTwice(t *testing.T) {
	for _, g := range []Glyphs{Unicode, Box, ASCII} {
		m := g.marks()
		seen := map[rune]bool{}
		for _, r := range []rune{m.slow, m.expected, m.quick, m.floor, m.arrives, m.touched, m.gone} {
			assert.Equal(t, 1, ansi.StringWidth(string(r)), "%c", r)
			assert.False(t, seen[r], "%c", r)
			seen[r] = true
			assert.True(t, g != ASCII || r <= unicode.MaxASCII, "%c", r)
		}
	}
}

func anyLeft(t *rapid.T, of passage.Thing, c passage.CaseName) provisions.Left {
	l := provisions.Left{Thing: of, Case: c}
	hours := 0.0
	for range rapid.IntRange(0, 8).Draw(t, "points") {
		hours += rapid.SampledFrom([]float64{0, 0.001, 3, 47.3, 1e5}).Draw(t, "hours")
		amount := rapid.SampledFrom([]float64{0, 1e-7, 0.3, 12, 259.7, 1e12}).Draw(t, "amount")
		l.Points = append(l.Points, provisions.LeftPoint{Hours: hours, Amount: provisions.Amount(amount)})
	}
	for range rapid.IntRange(0, 3).Draw(t, "floors") {
		from := rapid.Float64Range(-5, 2*hours+1).Draw(t, "from")
		l.Floor = append(l.Floor, provisions.Floor{From: from, To: from + rapid.Float64Range(0, hours+1).Draw(t, "long"), Amount: provisions.Amount(rapid.Float64Range(0, 500).Draw(t, "held"))})
		l.Arrivals = append(l.Arrivals, rapid.Float64Range(-1, hours+9).Draw(t, "arrives"))
	}
	return l
}

func TestChartFitsAnySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := rapid.SampledFrom(passage.Things[:]).Draw(t, "of")
		var lefts []provisions.Left
		for _, c := range passage.CaseNames[:rapid.IntRange(0, 3).Draw(t, "cases")] {
			lefts = append(lefts, anyLeft(t, of, c))
		}
		o := Options{
			Width: rapid.IntRange(-1, 120).Draw(t, "width"), Height: rapid.IntRange(-1, 50).Draw(t, "height"),
			Glyphs: Glyphs(rapid.IntRange(-1, 3).Draw(t, "glyphs")), Units: quantity.System(rapid.IntRange(0, 1).Draw(t, "units")),
		}
		if rapid.Bool().Draw(t, "dated") {
			o.Depart = sails
		}
		lines := Draw(lefts, of, o)
		require.LessOrEqual(t, len(lines), max(0, o.Height))
		for _, l := range lines {
			require.LessOrEqual(t, ansi.StringWidth(l), max(0, o.Width), "%q", l)
			for _, r := range l {
				require.True(t, unicode.IsPrint(r), "%q", l)
				require.True(t, o.Glyphs != ASCII || r <= unicode.MaxASCII, "%q", l)
			}
		}
	})
}
