package checklist

import (
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What stands in the way is told with why, what clears it, and where.
func TestShortageSaysWhatClearsIt(t *testing.T) {
	d, l := ready(t)
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 190}
	b := l.assess(d, evening).Blockers[0]
	assert.Equal(t, "wherever it can be had", b.Where)
	assert.Regexp(t, `^[\d.]+ L short from Here to There: slow case needs [\d.]+ L, the reserve is 190 L, \d+ L can be counted on$`, b.Why)

	d.Plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	assert.Equal(t, "here, before departure", l.assess(d, evening).Blockers[0].Where)

	// A stop that gives water: the full tanks do not reach on the stretch after it.
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 20}
	d.Plan.Legs = []passage.Leg{
		{From: "Here", To: "Stop", Distance: 20, Sail: 5, Fill: []passage.Giving{{Thing: passage.Water, Sure: true}}},
		{From: "Stop", To: "There", Distance: 3500, Sail: 5},
	}
	d.Boat.Rates.Reserve[passage.Fuel] = provisions.Reserve{None: true}
	for _, b := range l.assess(d, evening).Blockers {
		if b.Name == "water" {
			assert.Equal(t, "full tanks do not reach: cans, a stop on the way, or a slower use", b.Clears)
			assert.Contains(t, b.Why, "from Stop to There")
			return
		}
	}
	assert.Fail(t, "the second stretch must be short")
}

func TestServiceSaysWhenItIsDue(t *testing.T) {
	day := quantity.Date{Year: 2026, Month: 7, Day: 1}
	for want, due := range map[string]machinery.Due{
		"from the start: it was never written down as done":                          {NeverDone: true},
		"at 1000 h, the meter stands at 1012 h":                                      {Hours: 1000},
		"on 2026-07-01":                                                              {Date: day},
		"at 1000 h or on 2026-07-01, whichever is first; the meter stands at 1012 h": {Hours: 1000, Date: day},
	} {
		assert.Equal(t, want, dueWords(due, 1012))
	}
}

func TestSparesAreToldInWords(t *testing.T) {
	d, l := ready(t)
	d.Spares = []machinery.Spare{spare(3, true, machinery.Stowed{Place: "bow", Count: 1, Condition: machinery.New, Fit: machinery.Proved, Has: []string{"gasket"}})}
	assert.Equal(t, "an offshore passage asks for 3, 1 aboard counts", l.assess(d, evening).Blockers[0].Why)
	d.Spares[0].Stowed[0].Count = 2
	assert.Equal(t, "an offshore passage asks for 3, 2 aboard count", l.assess(d, evening).Blockers[0].Why)
}

// A name asks for that one, critical or not; "all" for the critical ones.
func TestAutomaticByName(t *testing.T) {
	d, l := ready(t)
	d.Services = []machinery.Service{{Name: "anode", EveryHours: 10, Last: machinery.Done{Hours: 900}}}
	d.Dated = []machinery.Dated{{Name: "flares"}}
	checks := &d.Rounds[0].Sections[0].Checks
	*checks = append(*checks,
		Check{ID: "a", Critical: true, Automatic: &Automatic{"service", "anode"}}, Check{ID: "b", Critical: true, Automatic: &Automatic{"service", All}},
		Check{ID: "c", Critical: true, Automatic: &Automatic{"dated", "flares"}}, Check{ID: "d", Critical: true, Automatic: &Automatic{"dated", All}},
	)
	assert.Equal(t, []string{"check a", "check c"}, inTheWay(l.assess(d, evening)))
}

func TestAutomaticOfAThingInTheWayIsNoCautionBeside(t *testing.T) {
	d, l := ready(t)
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 190}
	checks := &d.Rounds[0].Sections[0].Checks
	*checks = append(*checks, Check{ID: "lasts", Automatic: &Automatic{"endurance", "water"}})
	assert.Empty(t, cautionIDs(l.assess(d, evening)))
}

func TestDaylightCheckNamesThePlace(t *testing.T) {
	d, l := ready(t)
	d.Plan.Legs[0].Position = &passage.Position{Lat: -30, Lon: 175}
	checks := &d.Rounds[0].Sections[0].Checks
	*checks = append(*checks, Check{ID: "sun", Critical: true, Automatic: &Automatic{"daylight", ""}})
	a := l.assess(d, evening)
	require.Equal(t, []string{"check sun"}, inTheWay(a))
	assert.Regexp(t, `^There: (slow|expected) case arrives .*, not by day$`, a.Blockers[0].Why)
}

func TestOldCountsAndDoubtfulSoundingsSayWhy(t *testing.T) {
	d, l := ready(t)
	l.add(evening.Add(-10*24*time.Hour), Count{Food: "biscuit", Packs: 40}, Sound{"gas", "5 kg"})
	l.add(evening, ClockSettled{})
	why := map[string]string{}
	for _, b := range l.assess(d, evening).Blockers {
		why[b.Name] = b.Why
	}
	assert.Equal(t, "counted while the clock was in doubt", why["biscuit"])
	assert.Equal(t, "sounded while the clock was in doubt", why["gas"])
}

func TestSignOffTellsMovesAndReservesInWords(t *testing.T) {
	d, l := ready(t)
	d.Boat.Tanks = append(d.Boat.Tanks, provisions.Tank{Name: "can", Holds: passage.Water, Capacity: 20, Sealed: true, Level: provisions.Level{Text: "20 L"}})
	l.add(evening, Sound{"water", "100 L"}, Fill{Tank: "water", Amount: "60 L"}, Fill{Tank: "can", Amount: "10 L", From: "water"})
	d.Boat.Rates.Reserve[passage.Gas] = provisions.Reserve{None: true}
	sign, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	assert.Equal(t, "100 L + 60 L - 10 L", sign.Tanks[0].Level)
	assert.Equal(t, SignedTank{Tank: "can", Level: "20 L"}, sign.Tanks[3])
	assert.Len(t, sign.Reserves, 3, "of gas nothing is held back")
	assert.Equal(t, "20 L", sign.Reserves[0].Words(quantity.Metric))
	assert.Equal(t, "2 days", sign.Reserves[2].Words(quantity.Metric))
	assert.Equal(t, "3 days or 50 % of the need or 33 % of what the tanks hold", SignedReserve{What: "fuel", Days: 3, ShareOfNeed: 0.5, ShareOfCapacity: 0.333}.Words(quantity.Metric))
	assert.Equal(t, "nothing", SignedReserve{}.Words(quantity.Metric))
	assert.True(t, SignedResource{Endurance: -1}.Lasts().Never)
	assert.Equal(t, provisions.Days{Days: -2}, SignedResource{Margin: -2}.Spare())

	l.add(evening, sign)
	r := l.assess(d, evening).Report().SignOff
	require.NotNil(t, r)
	assert.True(t, r.InForce)
	assert.Equal(t, "A Skipper", r.Name)
}

// What is never used never ends: null, not a number.
func TestNeverIsNull(t *testing.T) {
	d, l := ready(t)
	d.Boat.Rates.Gas = provisions.GasRates{}
	gas := l.assess(d, evening).Report().Resources["gas"]
	assert.Nil(t, gas.Endurance)
	assert.Nil(t, gas.Margin)
	assert.NotNil(t, gas.Need)
	sign, err := Freeze(d, Fold(l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	assert.InDelta(t, -1, sign.Resources[3].Endurance, 0)
}

func TestFoodBoughtOnTheWayHasNoMargin(t *testing.T) {
	d, l := ready(t)
	d.Plan.Legs = []passage.Leg{
		{From: "Here", To: "Stop", Distance: 20, Sail: 5, Fill: []passage.Giving{{Thing: passage.Food, Sure: true}}},
		{From: "Stop", To: "There", Distance: 60, Sail: 5},
	}
	food := l.assess(d, evening).Report().Resources["food"]
	require.Len(t, food.Stretches, 2)
	assert.Nil(t, food.Stretches[1].Available)
	assert.Nil(t, food.Stretches[1].Margin)
	assert.Zero(t, food.Stretches[1].Short)
	assert.Positive(t, food.Stretches[1].Need)
}

// The least oil pressure at idle holds; where it is not written, three quarters of the
// curve's. Common practice, no source.
func TestNormalOilPressure(t *testing.T) {
	d := fitBoat()
	low, high := quantity.Pressure(3), quantity.Pressure(4)
	d.Boat.Engine.Curve[0].Oil, d.Boat.Engine.Curve[1].Oil = &low, &high
	normal := Range{Of: "oil", Normal: true}
	assert.Equal(t, "1 bar or more", d.Limits(normal))
	d.Boat.Engine.OilMinIdle = 0
	assert.Equal(t, "2.625 bar or more", d.Limits(normal), "at 2000 rpm the curve says 3.5 bar")
	d.Boat.Engine.Curve = nil
	assert.Equal(t, "95 °C or less", d.Limits(Range{Of: "coolant", Normal: true}))
}

func TestCorrectionFindsWhatAPageBroughtForward(t *testing.T) {
	page := []Entry{{Seq: 9, At: evening, Act: Carry{Kept: []Entry{{Seq: 3, At: evening, Act: Sound{"water", "90 L"}}}}}}
	_, err := NewCorrect(page, 3, "wrong stick")
	assert.NoError(t, err)
	_, err = NewCorrect(page, 4, "wrong stick")
	assert.Error(t, err)
}

func TestKindsAreTheDesigns(t *testing.T) {
	for _, act := range []Act{
		Carry{}, Sound{}, Fill{}, Count{}, Answer{}, Event{}, Reading{}, DefectAct{}, Accept{}, Sign{}, ClockSettled{}, Correct{},
		ServiceDone{}, Stow{}, StepTaken{}, Depart{}, Noon{}, Change{}, Arrive{},
	} {
		assert.Contains(t, Kinds, act.Kind())
	}
	assert.Len(t, Kinds, 19, "carry, sound, fill, count, check, event, reading, service, defect, step, stow, accept, sign, depart, noon, change, arrive, clock, correct")
}
