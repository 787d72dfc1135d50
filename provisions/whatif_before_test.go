package provisions

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/provisions/passage"
)

// soundedBefore is threePlaces with all water sounded three days before she leaves: 60 L
// of 160 L are drunk by then at 20 L a day, 100 L are left. The food was counted then, 22
// packs: 6 of them are eaten by two.
func soundedBefore() Situation {
	s := threePlaces()
	at := sails.Add(-3 * 24 * time.Hour)
	s.Aboard.Tanks = map[string]Held{
		"aft water":  {Level: Level{Kind: Brim}, At: at},
		"fore water": {Level: Level{Kind: Brim}, At: at},
	}
	s.Aboard.Stock = map[string]Stock{"it": {Lots: []Lot{packs("it", 22, 0)}, Counted: at}}
	s.Now = at
	return s
}

func whatIfOf(t *testing.T, s Situation, k Contingency) WhatIf {
	t.Helper()
	list := s.WhatIfs(s.Reckon()).List
	i := slices.IndexFunc(list, func(w WhatIf) bool { return w.Kind == k })
	require.GreaterOrEqual(t, i, 0, k)
	return list[i]
}

// The fullest tank is lost with what it held; the 60 L that were drunk by then are gone
// all the same: nothing of the other tank's 60 L is left for a first day.
func TestWhatWasDrunkBeforeDepartureStaysDrunkWhenATankIsLost(t *testing.T) {
	s := soundedBefore()
	require.InDelta(t, 100, float64(s.Reckon().first(passage.Water).Available), 1e-9)

	w := whatIfOf(t, s, FullestTankLost)
	assert.Equal(t, RunsOut, w.Verdict)
	assert.Equal(t, 1, w.Day)
	assert.InDelta(t, 20, float64(w.Missing), 1e-9, "20 L to Middle Island, and nothing there")
}

// One who comes aboard at the departure drank and ate nothing before it: 100 L and 16
// packs are there. Three drink 30 L a day, 30 L to Middle Island, and eat 18 packs in six days.
func TestOneMoreAboardUsedNothingBeforeDeparture(t *testing.T) {
	s := soundedBefore()
	s.Boat.Rates.Reserve[passage.Food] = Reserve{None: true}
	s.Plan.Legs[1].Distance = 240 // four days in all: 12 packs
	w := whatIfOf(t, s, OneMoreAboard)
	assert.Equal(t, Holds, w.Verdict)

	changed, r, ok := s.reckonWhatIf(s.Reckon(), w)
	require.True(t, ok)
	assert.Equal(t, 3, changed.Plan.Crew)
	assert.InDelta(t, 100, float64(r.first(passage.Water).Available), 1e-9)
	assert.InDelta(t, 15, float64(r.first(passage.Food).Available), 1e-9, "16 packs are five whole days of three")
}

// A watermaker that dies at the departure made water until then, and nobody was rationed.
func TestADeadWatermakerWasAliveBeforeDeparture(t *testing.T) {
	s := soundedBefore()
	s.Boat.Watermaker = &Watermaker{Output: 10, Run: time.Hour}
	require.InDelta(t, 130, float64(s.Reckon().first(passage.Water).Available), 1e-9, "10 L a day were made")
	_, dead, ok := s.reckonWhatIf(s.Reckon(), whatIfOf(t, s, WatermakerDead))
	require.True(t, ok)
	assert.InDelta(t, 130, float64(dead.first(passage.Water).Available), 1e-9)

	gate := s.AsUsed()
	gate.Boat = gate.Boat.WithoutWatermaker()
	assert.InDelta(t, 130, float64(gate.Reckon().first(passage.Water).Available), 1e-9)
}
