package checklist

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

func read(t *testing.T, d Definitions, l log, pairs ...string) Reading {
	t.Helper()
	r, err := Fold(l).NewReading(d, pairs)
	require.NoError(t, err)
	return r
}

func look(d Definitions, l log, now time.Time) Engine {
	return LookAtEngine(d, Fold(l), l.assess(d, now))
}

// The curve of the fit boat is 80 °C at 2000 rpm, between its rows of 78 and 82.
func TestTheLatestReadingIsJudgedAgainstTheCurve(t *testing.T) {
	d, l := ready(t)
	assert.Nil(t, look(d, l, evening).Latest)

	l.add(evening, read(t, d, l, "rpm=2000", "coolant=80C", "minutes=20"))
	l.add(evening.Add(time.Hour), read(t, d, l, "rpm=2000", "coolant=84C", "minutes=20"))
	l.add(evening.Add(2*time.Hour), read(t, d, l, "note=all as usual"))
	e := look(d, l, evening.Add(3*time.Hour))
	require.NotNil(t, e.Latest)
	assert.Equal(t, evening.Add(time.Hour), e.Latest.At, "a note alone is no reading of a gauge")
	assert.Equal(t, machinery.LevelLook, e.Judgement.Level)
	require.NotNil(t, e.Judgement.Figures.Rise)
	assert.InDelta(t, 4, float64(*e.Judgement.Figures.Rise), 1e-9)
	assert.NotEmpty(t, e.Judgement.First)
	assert.GreaterOrEqual(t, len(e.Readings), 3)
	require.NotEmpty(t, e.Trends)
	assert.Equal(t, machinery.GaugeCoolant, e.Trends[0].Of)
}

func TestAReadingInDoubtIsNotJudged(t *testing.T) {
	d, l := ready(t)
	l.add(evening, read(t, d, l, "rpm=2000", "coolant=94C", "minutes=20"))
	before := l.assess(d, evening)
	l.add(evening.Add(-48*time.Hour), read(t, d, l, "rpm=2000", "coolant=80C", "minutes=20"))
	e := LookAtEngine(d, Fold(l), before)
	require.NotNil(t, e.Latest)
	assert.Equal(t, evening, e.Latest.At)
}

func TestExhaustWaterAndSmokeAreToldInWords(t *testing.T) {
	d, l := ready(t)
	r := read(t, d, l, "water=little", "smoke=black")
	assert.Equal(t, "little", r.Water)
	assert.Equal(t, "black", r.Smoke)
	l.add(evening, r)
	assert.GreaterOrEqual(t, look(d, l, evening).Judgement.Level, machinery.LevelLook)

	for pair, want := range map[string]string{
		"water=some": `water="some" is no word for it; write usual, little, none or steam`,
		"smoke=grey": `smoke="grey" is no word for it; write none, black, white or blue`,
	} {
		_, err := Fold(l).NewReading(d, []string{pair})
		require.Error(t, err)
		assert.Equal(t, want, err.Error())
	}
}

func TestAValueThatNoGaugeShowsIsRefused(t *testing.T) {
	d, l := ready(t)
	_, err := Fold(l).NewReading(d, []string{"coolant=840C"})
	var refused *quantity.Error
	require.ErrorAs(t, err, &refused)
	assert.NotEmpty(t, refused.Cure)
}

// Slow case of the fit boat: 27.43 h, half of it under engine and an hour's charging a
// day on the other half: 14.29 engine hours. The meter stands at 1000.
func TestServicesAreForeseenOverTheSlowEngineHours(t *testing.T) {
	d, l := ready(t)
	done := machinery.Done{Date: quantity.Date{Year: 2026, Month: 6, Day: 1}, Hours: 1000}
	d.Services = []machinery.Service{
		{Name: "later", EveryHours: 100, Last: done},
		{Name: "on the way", EveryHours: 10, Last: done},
	}
	e := look(d, l, evening)
	require.Len(t, e.Forecasts, 2)
	assert.Equal(t, "on the way", e.Forecasts[0].Service.Name)
	assert.Equal(t, machinery.OnPassage, e.Forecasts[0].Falls)
	assert.Equal(t, 1, e.Forecasts[0].First.Day)
	assert.Equal(t, machinery.Later, e.Forecasts[1].Falls)
}

// The gate does not know the engine; the skipper does, and says why she goes all the same.
func TestAReadingAtALimitWantsAReasonUntilOneIsAsUsual(t *testing.T) {
	d, l := ready(t)
	l.add(evening, read(t, d, l, "rpm=2000", "coolant=96C", "minutes=20"))
	a := l.assess(d, evening)
	require.Equal(t, []string{"reading:engine"}, cautionIDs(a))
	assert.Contains(t, a.Cautions[0].Why, "STOP")
	accept, err := a.NewAccept("reading:engine", "gauge is known to be wrong")
	require.NoError(t, err)
	l.add(evening, accept)
	assert.NotNil(t, l.assess(d, evening).Cautions[0].Accepted)

	l.add(evening, read(t, d, l, "rpm=2000", "coolant=97C", "minutes=20"))
	assert.Nil(t, l.assess(d, evening).Cautions[0].Accepted, "another reading wants another reason")
	l.add(evening, read(t, d, l, "rpm=2000", "coolant=80C", "minutes=20"))
	assert.Empty(t, cautionIDs(l.assess(d, evening)))
}
