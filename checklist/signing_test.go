package checklist

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSigningIsRefusedWhileAnythingStandsInTheWay(t *testing.T) {
	d, l := ready(t)
	l.add(evening, Event{"seacock moved"})
	_, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	assert.EqualError(t, err, "refused: 2 things stand in the way; first: Raw-water seacock (seacock moved since it was answered); clear what stands in the way; `hoveshort ready` lists it")
}

func TestSigningWantsAName(t *testing.T) {
	d, l := ready(t)
	for _, name := range []string{"", "  ", "bell\a", strings.Repeat("n", 1001)} {
		_, err := Freeze(d, Fold(l), l.assess(d, evening), name)
		assert.Error(t, err, "%q", name)
	}
}

func TestSignOffFreezesWhatWasKnown(t *testing.T) {
	d, l := ready(t)
	a := l.assess(d, evening)
	sign, err := Freeze(d, Fold(l), a, "A Skipper")
	require.NoError(t, err)
	slow := a.Reckoning.Cases[passage.Slow]
	assert.Equal(t, SignedCase{
		Case: "slow", Made: true, Hours: slow.Voyage.Hours, EngineHours: slow.EngineHours,
		Fuel: float64(slow.Fuel), Water: float64(slow.Water), Gas: float64(slow.Gas), Arrive: slow.Voyage.Arrive(),
	}, sign.Cases[0])
	water := a.Reckoning.Resources[passage.Water].Stretches[0]
	assert.Equal(t, "water", sign.Resources[0].What)
	assert.InDelta(t, float64(water.Available), sign.Resources[0].Available, 0)
	assert.Equal(t, SignedTank{Tank: "water", Level: "full", At: l[0].At}, sign.Tanks[0])
	require.Len(t, sign.Answers, 6)
	assert.Equal(t, "belts", sign.Answers[3].Check)
	assert.Equal(t, "a thumb's width", sign.Answers[3].Say)
	assert.Equal(t, []string{"seacock", "exhaust", "volts", "lights when night", "alone when single-handed"}, sign.Critical)
	assert.Equal(t, d.Sum, sign.Definitions)
	assert.Equal(t, "4 critical checks in less than 1 s", sign.Walk)
	assert.Contains(t, sign.Uncovered, "radio")
	assert.NotContains(t, sign.Uncovered, "cooling")
}

// The sign-off lapses at the earliest of departure + 6 h and signing + 24 h.
func TestSignOffLapses(t *testing.T) {
	d, l := ready(t)
	d.Rounds[0].Sections[0].Checks[0].GoodFor = hours(1000)
	sign, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	l.add(evening, sign)
	inForce := func(d Definitions, l log, now time.Time) (bool, string) {
		s := l.assess(d, now).SignOff
		return s.InForce, s.Lapsed
	}
	departs := d.Plan.Depart // twelve hours after signing, so departure + 6 h comes first
	yes, _ := inForce(d, l, departs.Add(6*time.Hour))
	assert.True(t, yes)
	yes, why := inForce(d, l, departs.Add(6*time.Hour+time.Second))
	assert.False(t, yes)
	assert.Equal(t, "it held until 12 Jun 12:00", why)

	changed := d
	changed.Sum = "other files"
	_, why = inForce(changed, l, evening)
	assert.Equal(t, "the boat's files were changed since", why)

	later := append(log(nil), l...)
	later.add(evening, Event{"seacock moved"})
	_, why = inForce(d, later, evening)
	assert.Equal(t, "something new stands in the way: Raw-water seacock", why)

	aged := d
	aged.Rounds = []Round{d.Rounds[0]}
	aged.Rounds[0].Sections = []Section{d.Rounds[0].Sections[0]}
	aged.Rounds[0].Sections[0].Checks = append([]Check(nil), d.Rounds[0].Sections[0].Checks...)
	aged.Rounds[0].Sections[0].Checks[0].GoodFor = hours(2)
	now := evening.Add(3 * time.Hour)
	assert.False(t, l.assess(aged, now).Ready)
	yes, _ = inForce(aged, l, now)
	assert.True(t, yes, "age alone lapses no sign-off")
}

// Signing + 24 h comes first where the departure is a day away.
func TestSignOffHoldsADayAtMost(t *testing.T) {
	d, l := ready(t)
	d.Plan.Depart = evening.Add(30 * time.Hour)
	d.Rounds[0].Sections[0].Checks[0].GoodFor = hours(1000)
	sign, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	l.add(evening, sign)
	assert.Equal(t, evening.Add(24*time.Hour), l.assess(d, evening).SignOff.Until)
}

func TestSigningCanMoveTheDeparture(t *testing.T) {
	d, l := ready(t)
	moved := evening.Add(2 * time.Hour)
	a := l.assess(d.At(moved), evening)
	sign, err := Freeze(d.At(moved), Fold(l), a, "A Skipper")
	require.NoError(t, err)
	assert.True(t, sign.Moved)
	l.add(evening, sign)
	assert.Equal(t, moved, l.assess(d, evening).Reckoning.Depart)
	again, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	assert.True(t, again.Moved, "it stays moved at the next sign-off")
	other := evening.Add(3 * time.Hour)
	assert.Equal(t, other, l.assess(d.At(other), evening).Reckoning.Depart, "and can be moved again")
	d.Sum = "other files"
	assert.Equal(t, d.Plan.Depart, l.assess(d, evening).Reckoning.Depart, "new files, the departure that they say")
}

// The names are those that other programs rely on.
func TestReportNames(t *testing.T) {
	d, l := ready(t)
	l.add(evening, Event{"seacock moved"}, Answer{Check: "gear", Answer: NotRight, Why: "cleat", Grade: machinery.Note})
	text, err := json.Marshal(l.assess(d, evening).Report())
	require.NoError(t, err)
	var got map[string]any
	require.NoError(t, json.Unmarshal(text, &got))
	for _, key := range []string{"format", "boat", "passage", "now", "ready", "verdict", "blockers", "cautions", "cases", "resources", "fouling"} {
		assert.Contains(t, got, key)
	}
	whatIf := got["what_if"].([]any)[0].(map[string]any)
	for key, want := range map[string]any{"name": "no wind", "verdict": "holds", "what": "", "day": nil, "short_nm": 0.0} {
		assert.Contains(t, whatIf, key)
		assert.Equal(t, want, whatIf[key], key)
	}
	assert.Equal(t, []any{}, got["load"], "no place gives anything")
	blocker := got["blockers"].([]any)[0].(map[string]any)
	for _, key := range []string{"kind", "name", "why", "clears"} {
		assert.Contains(t, blocker, key)
	}
	caution := got["cautions"].([]any)[0].(map[string]any)
	for _, key := range []string{"kind", "name", "why", "accepted"} {
		assert.Contains(t, caution, key)
	}
	assert.Nil(t, caution["accepted"])
	slow := got["cases"].(map[string]any)["slow"].(map[string]any)
	for _, key := range []string{"hours", "days", "engine_hours", "fuel_l", "water_l", "gas_kg", "arrive"} {
		assert.Contains(t, slow, key)
	}
	water := got["resources"].(map[string]any)["water"].(map[string]any)
	for _, key := range []string{"unit", "available", "reserve", "need", "endurance_days", "last_drop_days", "margin_days", "short", "stretches"} {
		assert.Contains(t, water, key)
	}
	stretch := water["stretches"].([]any)[0].(map[string]any)
	for _, key := range []string{"from", "to", "need", "reserve", "available", "short", "margin_days"} {
		assert.Contains(t, stretch, key)
	}
	assert.Equal(t, water["need"], stretch["need"])
}

func TestReportOfAPassageSheCannotMake(t *testing.T) {
	d, l := ready(t)
	for name := range d.Plan.Cases {
		d.Plan.Cases[name] = passage.Case{Speed: 0.01, Motor: 0.01, Power: 0.5}
	}
	r := l.assess(d, evening).Report()
	assert.Nil(t, r.Cases["slow"].Hours)
	assert.Nil(t, r.Resources["water"].Need)
	assert.Empty(t, r.Resources["water"].Stretches)
	assert.Nil(t, r.Verdict)
	assert.False(t, r.Ready)
}

func TestFoodNotReckonedIsAbsent(t *testing.T) {
	d, l := ready(t)
	d.Boat.Rates.Rations = nil
	d.Boat.Rates.Reserve[passage.Food] = provisions.Reserve{None: true}
	assert.NotContains(t, l.assess(d, evening).Report().Resources, "food")
}
