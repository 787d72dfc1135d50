package checklist

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// thirsty is a boat whose water holds for two and runs out for three. At 40 L a head and
// day 175 L, less 5 L below the pick-up, less 40 L of the twelve hours to departure, are
// 130 L; the slow case of 27.43 h needs 91.4 L with 20 L in reserve. Three need 137.1 L
// of the 110 L that they left.
func thirsty(t *testing.T) (Definitions, log) {
	d, l := ready(t)
	d.Boat.Rates.Water.Drinking = 39
	l.add(evening, Sound{Tank: "water", Level: "175 L"})
	return d, l
}

func TestAWhatIfThatRunsOutWantsAReasonAndBlocksNothing(t *testing.T) {
	d, l := thirsty(t)
	a := l.assess(d, evening)
	require.Equal(t, provisions.Holds, a.Reckoning.Verdict)
	require.True(t, a.Ready)
	require.Equal(t, []string{"what if:one more aboard"}, cautionIDs(a))
	assert.Contains(t, a.Cautions[0].Why, "runs out of water on day 2")

	accept, err := a.NewAccept("what if:one more aboard", "nobody joins us")
	require.NoError(t, err)
	l.add(evening, accept)
	assert.Equal(t, "nobody joins us", l.assess(d, evening).Cautions[0].Accepted.Why)
}

func TestAWhatIfNoWorseThanThePlanIsNoCaution(t *testing.T) {
	d, l := thirsty(t)
	l.add(evening, Sound{Tank: "water", Level: "100 L"})
	a := l.assess(d, evening)
	require.Equal(t, provisions.RunsOut, a.Reckoning.Verdict)
	assert.Empty(t, cautionIDs(a))
}

func TestAShiftOfBerthIsOnlyTold(t *testing.T) {
	d, l := thirsty(t)
	d.Plan.Kind = passage.Shift
	assert.Empty(t, cautionIDs(l.assess(d, evening)))
	assert.NotEmpty(t, l.assess(d, evening).WhatIfs.List)
}

func TestACureOfAWhatIfIsToldWithIt(t *testing.T) {
	d, l := thirsty(t)
	d.Plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	a := l.assess(d, evening)
	require.Equal(t, []string{"what if:one more aboard"}, cautionIDs(a))
	assert.Contains(t, a.Cautions[0].Why, "; it holds with ")
	assert.Contains(t, a.Cautions[0].Why, "more water at Here")
}

func TestReportTellsWhatIfsAndLoads(t *testing.T) {
	d, l := thirsty(t)
	d.Plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	d.Plan.Price = map[passage.Thing]float64{passage.Water: 0.5}
	l.add(evening, Sound{Tank: "water", Level: "100 L"})
	a := l.assess(d, evening)
	text, err := json.Marshal(a.Report())
	require.NoError(t, err)
	var got struct {
		WhatIf []ReportWhatIf `json:"what_if"`
		Load   []ReportLoad   `json:"load"`
	}
	require.NoError(t, json.Unmarshal(text, &got))
	require.Len(t, got.WhatIf, len(a.WhatIfs.List))
	for i, w := range a.WhatIfs.List {
		assert.Equal(t, w.Name(), got.WhatIf[i].Name)
		assert.Equal(t, w.Verdict, got.WhatIf[i].Verdict)
	}
	require.Len(t, got.Load, 1)
	water, _ := a.Reckoning.Resources[passage.Water].First()
	assert.Equal(t, "Here", got.Load[0].At)
	assert.InDelta(t, float64(water.Short), got.Load[0].Amount+got.Load[0].Lacks, 1e-9)
	require.NotNil(t, got.Load[0].Price)
	assert.InDelta(t, got.Load[0].Amount/2, *got.Load[0].Price, 1e-9)
}

func TestNothingIsToldOfAPassageThatIsNotMade(t *testing.T) {
	d, l := ready(t)
	d.Plan.Legs[0].Current = -20
	a := l.assess(d, evening)
	assert.Empty(t, a.WhatIfs.List)
	assert.Empty(t, a.Loads)
	assert.Equal(t, provisions.Outlook{}, a.Outlook())
}

// A reason was given for what it was then. What has become worse wants another.
func TestAReasonForAWhatIfLapsesWhenItBecomesWorse(t *testing.T) {
	d, l := thirsty(t)
	accept, err := l.assess(d, evening).NewAccept("what if:one more aboard", "nobody joins us")
	require.NoError(t, err)
	assert.Equal(t, "water, day 2", accept.Said)
	l.add(evening, accept)
	require.NotNil(t, l.assess(d, evening).Cautions[0].Accepted)

	l.add(evening, Sound{Tank: "water", Level: "178 L"})
	require.Equal(t, []string{"what if:one more aboard"}, cautionIDs(l.assess(d, evening)))
	assert.NotNil(t, l.assess(d, evening).Cautions[0].Accepted, "a little better: it still serves")

	l.add(evening, Sound{Tank: "water", Level: "160 L"}) // 115 L: two still hold, three end after 23 h
	a := l.assess(d, evening)
	require.Equal(t, provisions.Holds, a.Reckoning.Verdict)
	require.Equal(t, []string{"what if:one more aboard"}, cautionIDs(a))
	assert.Nil(t, a.Cautions[0].Accepted, "now it is day 1")
}

func TestHowBadItWasIsReadBack(t *testing.T) {
	for _, b := range []badly{{"water", 11}, {"", 0}, {"slow", 0}, {"a, day 3", 4}} {
		got, ok := badlySaid(b.said())
		assert.True(t, ok)
		assert.Equal(t, b, got)
	}
	_, ok := badlySaid("signed")
	assert.False(t, ok)
	assert.True(t, badly{"water", 9}.covers(badly{"water", 9}))
	assert.False(t, badly{"water", 9}.covers(badly{"water", 8}), "a day sooner is worse")
	assert.False(t, badly{"water", 9}.covers(badly{"food", 12}))
}
