package chart

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// From 100 to 60 in 96 h was promised, 80 were sounded after 48 h, which is on that line: the
// fact lies over it, and the line of now begins there.
func TestFactsLieOverWhatWasPromised(t *testing.T) {
	now := provisions.Left{Thing: passage.Water, Case: passage.Slow, Points: []provisions.LeftPoint{{Hours: 48, Amount: 80}, {Hours: 96, Amount: 20}}}
	o := Options{Width: 60, Height: 14, Planned: []provisions.LeftPoint{{Hours: 0, Amount: 100}, {Hours: 96, Amount: 60}}, Facts: []provisions.LeftPoint{{Hours: 48, Amount: 80}}, Glyphs: ASCII}
	lines := Draw([]provisions.Left{now}, passage.Water, o)
	text := strings.Join(lines, "\n")
	assert.Contains(t, lines[0], ": as promised  @ as sounded")
	require.Equal(t, 2, strings.Count(text, "@"), "in the legend and once in the chart")
	for _, line := range lines[1:] {
		if at := strings.Index(line, "@"); at >= 0 {
			assert.Contains(t, line[:at], ":", "what was promised comes before it")
		}
	}
	o.Facts, o.Planned = nil, nil
	assert.NotContains(t, strings.Join(Draw([]provisions.Left{now}, passage.Water, o), "\n"), "promised")
}

func TestAChartWithFactsFitsAnySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := func(name string) (list []provisions.LeftPoint) {
			hours := 0.0
			for range rapid.IntRange(0, 5).Draw(t, name) {
				hours += rapid.Float64Range(0, 400).Draw(t, "hours")
				list = append(list, provisions.LeftPoint{Hours: hours, Amount: provisions.Amount(rapid.Float64Range(0, 900).Draw(t, "amount"))})
			}
			return list
		}
		left := provisions.Left{Thing: passage.Fuel, Case: passage.Expected, Points: points("left")}
		o := Options{Width: rapid.IntRange(-2, 120).Draw(t, "w"), Height: rapid.IntRange(-2, 40).Draw(t, "h"), Planned: points("planned"), Facts: points("facts")}
		lines := Draw([]provisions.Left{left}, passage.Fuel, o)
		require.LessOrEqual(t, len(lines), max(0, o.Height))
		for _, line := range lines {
			require.LessOrEqual(t, runes(line), max(0, o.Width))
		}
	})
}
