package checklist

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

func twoLegs() Definitions {
	d := fitBoat()
	leg := d.Plan.Legs[0]
	leg.From, leg.To, leg.Distance = "A", "B", 100
	leg.Alternates = []passage.Alternate{{Name: "Near", After: 20, Distance: 5}, {Name: "Far", After: 80, Distance: 9}}
	leg.Decisions = []passage.Decision{{At: 40, GoOnIf: "fair", Else: "back"}}
	next := leg
	next.From, next.To, next.Distance, next.Alternates, next.Decisions = "B", "C", 50, nil, nil
	d.Plan.Legs = []passage.Leg{leg, next}
	return d
}

func tried(t *testing.T, d Definitions, changes ...string) (Definitions, Trial) {
	t.Helper()
	var trial Trial
	for _, text := range changes {
		next, err := trial.With(text, d, d.Plan.Depart.Add(-time.Hour))
		require.NoError(t, err, text)
		trial = next
	}
	return d.Try(trial), trial
}

func TestTryingChangesThePassageAndNothingOfTheFiles(t *testing.T) {
	d := twoLegs()
	d.Boat.Watermaker = &provisions.Watermaker{Output: 30, Run: time.Hour}
	before := fmt.Sprintf("%+v", d)

	got, _ := tried(t, d, "crew = 3", "sail=4.8 kn", "sail.2 = 4 kn", "current.1=-0.5 kn", "watermaker=off", "depart = 23:30")
	assert.Equal(t, 3, got.Plan.Crew)
	assert.InDelta(t, 4.8, float64(got.Plan.Legs[0].Sail), 1e-9)
	assert.InDelta(t, 4, float64(got.Plan.Legs[1].Sail), 1e-9)
	assert.InDelta(t, -0.5, float64(got.Plan.Legs[0].Current), 1e-9)
	assert.InDelta(t, float64(d.Plan.Legs[1].Current), float64(got.Plan.Legs[1].Current), 1e-9)
	assert.Nil(t, got.Boat.Watermaker)
	assert.Equal(t, "23:30", got.Plan.Depart.Format("15:04"))
	assert.Equal(t, before, fmt.Sprintf("%+v", d), "the files' definitions are untouched")
}

func TestALaterTrialOfTheSameThingTakesTheEarlierOnesPlace(t *testing.T) {
	d := twoLegs()
	_, trial := tried(t, d, "crew=3", "crew=4", "sail.2=4 kn", "sail=5 kn", "stop=X, leg 1, 10 nm", "stop=X, leg 2, 20 nm", "stop=Y, leg 1, 30 nm")
	assert.Equal(t, []string{"crew = 4", "sail = 5 kn", "stop = X, leg 2, 20 nm", "stop = Y, leg 1, 30 nm"}, trial.Words())

	_, trial = tried(t, d, "crew=3", "stop=X, leg 1, 10 nm", "crew=", "stop=")
	assert.True(t, trial.IsEmpty())
	assert.Empty(t, trial.Lines(d))
}

func TestAStopCutsItsLegAndWhatBelongsToAPointStaysThere(t *testing.T) {
	d := twoLegs()
	got, _ := tried(t, d, "stop=Reef, leg 1, 60 nm, water, fuel?, 2 days", "stop=Islet, leg 1, 30 nm")
	require.Len(t, got.Plan.Legs, 4)
	names, sum := "", 0.0
	for _, leg := range got.Plan.Legs {
		names += leg.From + ">" + leg.To + " "
		sum += float64(leg.Distance)
	}
	assert.Equal(t, "A>Islet Islet>Reef Reef>B B>C ", names)
	assert.InDelta(t, 150, sum, 1e-9)

	reef := got.Plan.Legs[1]
	assert.Equal(t, []passage.Giving{{Thing: passage.Water, Sure: true}, {Thing: passage.Fuel}}, reef.Fill)
	assert.Equal(t, 48*time.Hour, reef.Stay)
	assert.Equal(t, []passage.Alternate{{Name: "Near", After: 20, Distance: 5}}, got.Plan.Legs[0].Alternates)
	assert.Equal(t, []passage.Decision{{At: 10, GoOnIf: "fair", Else: "back"}}, reef.Decisions, "40 nm of the leg is 10 nm after the islet")
	assert.Equal(t, []passage.Alternate{{Name: "Far", After: 20, Distance: 9}}, got.Plan.Legs[2].Alternates)
	assert.Equal(t, d.Plan.Legs[0].Fill, got.Plan.Legs[2].Fill, "what B gives is had at B")
}

func TestWhatCannotBeTriedSaysWhatWouldBeRight(t *testing.T) {
	d := twoLegs()
	for text, want := range map[string]string{
		"crew":                      `"crew" changes nothing; write it like "crew = 3"`,
		"crw=3":                     `"crw" cannot be tried; did you mean "crew"?`,
		"wind=3":                    `"wind" cannot be tried; write one of crew, depart, sail, rpm, current, stop, watermaker`,
		"crew=0":                    `"0" is no crew; write a whole number from 1 to 20`,
		"crew=21":                   `"21" is no crew; write a whole number from 1 to 20`,
		"crew.1=2":                  `"crew.1" names no leg; write sail, rpm or current, and a leg from 1 to 2 behind the point`,
		"sail.3=4 kn":               `"sail.3" names no leg; write sail, rpm or current, and a leg from 1 to 2 behind the point`,
		"sail=-4 kn":                `"-4 kn" is below zero; write a speed through the water`,
		"sail=52 kn":                `"52 kn" is no speed of a small yacht or a current; write it like "5.2 kn"`,
		"current=-52 kn":            `"-52 kn" is no speed of a small yacht or a current; write it like "5.2 kn"`,
		"rpm=fast":                  `"fast" are no revs; write them like "1800"`,
		"watermaker=on":             `"on" cannot be tried of a watermaker; write "off"`,
		"watermaker=off":            `boat.toml has no watermaker; there is nothing to put off`,
		"stop=, leg 1, 3 nm":        `the stop has no name; write it like "Reef Bay, leg 1, 120 nm, water, 2 days"`,
		"stop=X, 3 nm":              `the stop is on no leg; name one of the 2 legs, as "leg 1"`,
		"stop=X, leg 1":             `the stop is not along the leg; write how far along it, over 0 and under 100 nm, as "120 nm"`,
		"stop=X, leg 1, 100 nm":     `the stop is not along the leg; write how far along it, over 0 and under 100 nm, as "120 nm"`,
		"stop=X, leg 1, 3 nm, beer": `"beer" is no part of a stop; write it like "Reef Bay, leg 1, 120 nm, water, 2 days"`,
	} {
		_, err := Trial{}.With(text, d, d.Plan.Depart)
		require.Error(t, err, text)
		assert.Equal(t, want, err.Error(), text)
	}
	_, err := Trial{}.With("depart=2020-01-01 06:00", d, d.Plan.Depart)
	assert.ErrorIs(t, err, errPast)
}

func TestStopsKeepTheLengthOfThePassage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := twoLegs()
		var trial Trial
		n := rapid.IntRange(0, 6).Draw(t, "stops")
		for i := range n {
			leg := rapid.IntRange(0, 1).Draw(t, "leg")
			after := rapid.Float64Range(0.1, float64(d.Plan.Legs[leg].Distance)-0.1).Draw(t, "after")
			next, err := trial.With(fmt.Sprintf("stop=S%d, leg %d, %.3f nm, water", i, leg+1, after), d, d.Plan.Depart)
			require.NoError(t, err)
			trial = next
		}
		got := d.Try(trial)
		sum := 0.0
		for i, leg := range got.Plan.Legs {
			sum += float64(leg.Distance)
			assert.GreaterOrEqual(t, float64(leg.Distance), 0.0)
			if i > 0 {
				assert.Equal(t, got.Plan.Legs[i-1].To, leg.From)
			}
		}
		assert.Len(t, got.Plan.Legs, 2+n)
		assert.InDelta(t, 150, sum, 1e-6)
	})
}
