package checklist

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// What follows was tried to get round the gate. The rules are those of the design,
// section 5.

func signedOff(t *testing.T, d Definitions, l *log) {
	t.Helper()
	a := l.assess(d, evening)
	for _, c := range a.Cautions {
		l.add(evening, Accept{Caution: c.ID(), Why: "for the test", Said: c.Why})
	}
	sign, err := Freeze(d, Fold(*l), l.assess(d, evening), "A Skipper")
	require.NoError(t, err)
	l.add(evening, sign)
}

// A season, and gear with a date, end with a day of the offset that the boat keeps: to
// write the new departure in another offset gains no day.
func TestAMovedDepartureKeepsTheDaysOfThePlan(t *testing.T) {
	d, l := ready(t)
	arrive := l.assess(d, evening).Reckoning.Cases[passage.Slow].Voyage.Arrive()
	d.Plan.Before = quantity.DateOf(arrive)
	require.Equal(t, []string{"season " + d.Plan.Before.String()}, inTheWay(l.assess(d, evening)))
	for _, hours := range []int{-12, -6, 0, 14} {
		elsewhere := d.Plan.Depart.In(time.FixedZone("", hours*60*60))
		assert.NotEmpty(t, inTheWay(l.assess(d.At(elsewhere), evening)), "offset %d h", hours)
	}
}

func TestACountOfOneLotDoesNotMakeTheOthersFresh(t *testing.T) {
	d, l := ready(t)
	old := evening.Add(-15 * 24 * time.Hour)
	var counted log
	counted.add(old, Count{Food: "biscuit", Packs: 30})
	counted.add(evening.Add(-24*time.Hour), Count{Food: "biscuit", Packs: 2, Place: "galley"})
	for _, e := range l {
		counted.add(e.At, e.Act)
	}
	assert.Equal(t, []string{"sounding biscuit"}, inTheWay(counted.assess(d, evening)))
	counted.add(evening, Count{Food: "biscuit", Packs: 30})
	assert.Empty(t, inTheWay(counted.assess(d, evening)), "all of it was counted")

	var lots log
	lots.add(old, Count{Food: "biscuit", Packs: 3, Place: "box"}, Count{Food: "biscuit", Packs: 30, Place: "galley"})
	for _, e := range l {
		lots.add(e.At, e.Act)
	}
	lots.add(evening, Count{Food: "biscuit", Packs: 29, Place: "galley"})
	assert.Equal(t, []string{"sounding biscuit"}, inTheWay(lots.assess(d, evening)), "the box was not counted")
	lots.add(evening, Count{Food: "biscuit", Packs: 0, Place: "box"})
	assert.Empty(t, inTheWay(lots.assess(d, evening)))
}

func TestAFoodEatenInsteadIsCountedToo(t *testing.T) {
	d, l := ready(t)
	d.Boat.Foods = []provisions.Food{{Name: "biscuit", Pack: 1, Kcal: 400, Instead: "rusk"}, {Name: "rusk", Pack: 1, Kcal: 400}}
	var counted log
	counted.add(evening.Add(-15*24*time.Hour), Count{Food: "rusk", Packs: 30})
	for _, e := range l {
		counted.add(e.At, e.Act)
	}
	assert.Equal(t, []string{"sounding rusk"}, inTheWay(counted.assess(d, evening)))
}

// No way of making a thing no longer critical goes unseen.
func TestEveryWayOfLooseningIsSeen(t *testing.T) {
	gear := func(d *Definitions) {
		d.Spares = []machinery.Spare{spare(0, true)}
		d.Services = []machinery.Service{{Name: "oil", Critical: true, EveryHours: 500, Last: machinery.Done{Hours: 990}}}
		d.Dated = []machinery.Dated{{Name: "flares", Critical: true, Until: quantity.DateOf(evening.AddDate(2, 0, 0))}}
	}
	checks := func(d *Definitions) []Check { return d.Rounds[0].Sections[0].Checks }
	tests := []struct {
		name   string
		loosen func(d *Definitions)
		want   []string
	}{
		{"nothing", func(*Definitions) {}, []string{}},
		{"it applies to fewer passages", func(d *Definitions) { checks(d)[0].Only = []Condition{SingleHanded} }, []string{"loosened:seacock"}},
		{"a condition beside the one under which it is critical", func(d *Definitions) { checks(d)[4].Only = []Condition{OffshoreLeg} }, []string{"loosened:lights"}},
		{"critical under conditions alone", func(d *Definitions) {
			checks(d)[1].Critical, checks(d)[1].CritWhen = false, []Condition{SingleHanded, Night, OffshoreLeg}
		}, []string{"loosened:exhaust"}},
		{"critical under more conditions is stricter", func(d *Definitions) { checks(d)[4].CritWhen = []Condition{Night, OffshoreLeg} }, []string{}},
		{"it always applies, which is stricter", func(d *Definitions) { checks(d)[5].Only = nil }, []string{}},
		{"the round is for another kind of passage", func(d *Definitions) {
			d.Rounds = append(d.Rounds, Round{Name: "other", For: ForSign, Sections: []Section{{Checks: []Check{{ID: "new", Critical: true}}}}})
			d.Rounds[0].Kinds = []passage.Kind{passage.Coastal}
		}, []string{"loosened:seacock", "loosened:exhaust", "loosened:volts", "loosened:lights"}},
		{"a spare", func(d *Definitions) { d.Spares[0].Critical = false }, []string{"loosened:spare:impeller"}},
		{"a service", func(d *Definitions) { d.Services = nil }, []string{"loosened:service:oil"}},
		{"dated gear", func(d *Definitions) { d.Dated[0].Only = []string{"night"} }, []string{"loosened:dated:flares"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d, l := ready(t)
			gear(&d)
			require.Empty(t, inTheWay(l.assess(d, evening)))
			signedOff(t, d, &l)
			test.loosen(&d)
			assert.Equal(t, test.want, cautionIDs(l.assess(d, evening)))
		})
	}
}

func TestAReasonForLooseningALittleIsNoneForLooseningMore(t *testing.T) {
	d, l := ready(t)
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 20, Days: 2}
	signedOff(t, d, &l)
	accepted := func() bool { return l.assess(d, evening).Cautions[0].Accepted != nil }

	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 19, Days: 2}
	accept, err := l.assess(d, evening).NewAccept("water reserve", "one litre is nothing")
	require.NoError(t, err)
	l.add(evening, accept)
	assert.True(t, accepted())
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 1, Days: 2}
	assert.False(t, accepted(), "much less than that")
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Amount: 19, Days: 1}
	assert.False(t, accepted(), "and something besides")
}

func TestAReasonIsForTheAnswerThatWasThere(t *testing.T) {
	d, l := ready(t)
	l.add(evening, Answer{Check: "gear", Answer: NotRight, Why: "one strap loose"}, Accept{Caution: "check:gear", Why: "it holds"})
	require.NotNil(t, l.assess(d, evening).Cautions[0].Accepted)
	l.add(evening, Answer{Check: "gear", Answer: NotRight, Why: "all adrift"})
	assert.Nil(t, l.assess(d, evening).Cautions[0].Accepted)
}

// Entries that no command of ours writes, with a right sum all the same.
func TestWhatIsNoAnswerIsNotRight(t *testing.T) {
	for name, act := range map[string]Act{
		"another word":        Answer{Check: "seacock", Answer: "maybe"},
		"no word":             Answer{Check: "seacock"},
		"a value and no word": Answer{Check: "volts", Value: volts(12.7)},
		"a grade of no sort":  DefectAct{What: "a leak", Grade: "Stop"},
		"no grade":            DefectAct{What: "a leak"},
	} {
		d, l := ready(t)
		l.add(evening, act)
		assert.NotEmpty(t, inTheWay(l.assess(d, evening)), name)
	}
	d, l := ready(t)
	l.add(evening, Answer{Check: "gear", Answer: NotRight, Why: "loose"}, Accept{Caution: "check:gear"})
	assert.Nil(t, l.assess(d, evening).Cautions[0].Accepted, "a reason of no words")
}

// A word of evidence that the file asks for later was not given.
func TestTheWordOfEvidenceIsNotGotRound(t *testing.T) {
	d, l := ready(t)
	d.Rounds[0].Sections[0].Checks[0].Say = "which way the handle points"
	assert.Contains(t, inTheWay(l.assess(d, evening)), "check seacock")
	l.add(evening, Answer{Check: "seacock", Answer: Right, Say: "along the hose"})
	assert.Empty(t, inTheWay(l.assess(d, evening)))
}
