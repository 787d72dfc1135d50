package main

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

func TestATimeTakenIsReadAsReportsPrintIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minutes := rapid.IntRange(1, 24*60-1).Draw(t, "minutes")
		read, err := minutesTyped(quantity.RoughUp(time.Duration(minutes) * time.Minute))
		require.NoError(t, err)
		assert.InDelta(t, float64(minutes), read, 1e-9)
	})
	for _, wrong := range []string{"45", "h", "1 h h", "1 h -5", "-5 min", "NaN min", "1 month", "1 h 10 s min"} {
		_, err := minutesTyped(wrong)
		assert.Error(t, err, wrong)
	}
}

func TestAPartIsReadWithItsPlaceAndCountOrWithout(t *testing.T) {
	for typed, want := range map[string]checklist.PartTaken{
		"engine oil":               {Spare: "engine oil", Count: 1},
		"engine oil=0":             {Spare: "engine oil"},
		"engine oil @ box 3 ":      {Spare: "engine oil", Place: "box 3", Count: 1},
		"engine oil@fore / box=12": {Spare: "engine oil", Place: "fore / box", Count: 12},
	} {
		part, err := partTyped(typed)
		require.NoError(t, err, typed)
		assert.Equal(t, want, part, typed)
	}
	for _, wrong := range []string{"", "@box 3", "engine oil@", "engine oil=", "engine oil=1.5", "engine oil=-1", "=1"} {
		_, err := partTyped(wrong)
		assert.Error(t, err, wrong)
	}
}

// What is found in a place is all of its condition there: a command that named fewer would lose the others.
func TestTheCommandOfferedForAFitNamesAllThatLieThere(t *testing.T) {
	lot := func(place string, n int, c machinery.Condition, f machinery.Fit) machinery.Stowed {
		return machinery.Stowed{Place: place, Count: n, Condition: c, Fit: f}
	}
	s := machinery.Spare{Name: "belt", Critical: true, Stowed: []machinery.Stowed{
		lot("box 3", 1, machinery.New, machinery.Unknown), lot("box 3", 2, machinery.New, machinery.Proved),
		lot("box 3", 4, machinery.Used, machinery.Unknown), lot("box 3", 1, machinery.New, machinery.Unknown),
		lot("box 4", 0, machinery.New, machinery.Unknown), lot("box 5", 2, machinery.New, machinery.Unknown),
	}}
	offered := ofUnknownFit(s)
	require.Len(t, offered, 2)
	assert.Equal(t, lot("box 3", 4, machinery.New, machinery.Unknown), offered[0])
	assert.Equal(t, lot("box 5", 2, machinery.New, machinery.Unknown), offered[1])
	s.Critical = false
	assert.Empty(t, ofUnknownFit(s), "of a spare that is not critical the fit is not asked for")
}
