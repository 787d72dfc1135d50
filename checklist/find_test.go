package checklist

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
)

// furnished is the fit boat with something of every kind that can be found.
func furnished() (Definitions, log) {
	d, l := fitBoat(), walked()
	d.Spares = []machinery.Spare{{Name: "raw-water impeller", Size: "51 x 22 mm", Critical: true, Stowed: []machinery.Stowed{
		{Place: "fore cabin / box 3", Count: 1, Condition: machinery.New, Fit: machinery.Proved}, {Place: "fore cabin / box 30", Count: 2, Condition: machinery.Used},
	}}}
	d.Tools = []machinery.Tool{{Name: "impeller puller", Place: "saloon / tool drawer", State: machinery.Good}}
	d.Services = []machinery.Service{{Name: "change raw-water impeller", EveryHours: 300}}
	d.Cards = []machinery.Card{{Sign: "coolant a little high", Looks: []machinery.Look{{At: "raw-water strainer", How: "shut the seacock first"}}}}
	d.Plan.Legs[0].Alternates = []passage.Alternate{{Name: "Cedar Cove", After: 10, Distance: 20}}
	l.add(evening, Event{What: "grounded on the bar"}, DefectAct{What: "pump drips", Grade: machinery.Limit})
	return d, l
}

func finderOf(d Definitions, l log) Finder {
	s := Fold(l)
	return NewFinder(d, s, Assess(d, s, evening), l)
}

func foundNames(found []FoundThing) []string {
	var names []string
	for _, f := range found {
		names = append(names, f.Kind+" "+f.Name)
	}
	return names
}

func TestEverythingIsFoundAndSaysWhereItIsTold(t *testing.T) {
	x := finderOf(furnished())
	for _, row := range []struct {
		ask, kind, name string
		told            Telling
	}{
		{"raw-water impeller", FoundSpare, "raw-water impeller", TellGear},
		{"puller", FoundTool, "impeller puller", TellGear},
		{"box 3", FoundPlace, "box 3", TellGear},
		{"change impeller", FoundService, "change raw-water impeller", TellEngine},
		{"coolant a little high", FoundCard, "coolant a little high", TellEngine},
		{"shut the seacock first", FoundCard, "coolant a little high", TellEngine},
		{"pump drips", FoundDefect, "pump drips", TellEngine},
		{"cedar", FoundAlternate, "Cedar Cove", TellPassage},
		{"grounded on the bar", FoundEntry, "entry 10", TellRecord},
	} {
		found := x.Find(row.ask, "")
		require.NotEmpty(t, found, row.ask)
		assert.Equal(t, []string{row.kind, row.name, string(row.told)}, []string{found[0].Kind, found[0].Name, string(found[0].Told)}, row.ask)
	}
	for _, tank := range fitBoat().Boat.Tanks {
		assert.Contains(t, foundNames(x.Find(tank.Name, "")), FoundTank+" "+tank.Name)
	}
	assert.Contains(t, foundNames(x.Find(fitBoat().Plan.Legs[0].To, "")), FoundStop+" "+fitBoat().Plan.Legs[0].To)
}

func TestABoxIsNotAnotherWhoseNumberBeginsLikeIt(t *testing.T) {
	x := finderOf(furnished())
	for _, ask := range []string{"box 3", "bx 3"} {
		for _, f := range x.Find(ask, "") {
			assert.NotContains(t, f.Place+f.Name, "box 30", ask)
		}
	}
	found := x.Find("bx 3", "")
	require.NotEmpty(t, found)
	assert.True(t, found[0].Guess && found[0].InHere, "nearly called so: perhaps")
	assert.Empty(t, x.Find("bx 31", ""), "a number is not forgiven")
	assert.Len(t, x.In("box 3"), 1, "no place within lies in itself")
}

func TestOfEqualsThoseOfTheOwnScreenComeFirst(t *testing.T) {
	d, l := furnished()
	d.Tools = append(d.Tools, machinery.Tool{Name: "engine oil", Place: "bilge"})
	d.Services = append(d.Services, machinery.Service{Name: "engine oil"})
	x := finderOf(d, l)
	assert.Equal(t, FoundTool, x.Find("engine oil", TellGear)[0].Kind)
	assert.Equal(t, FoundService, x.Find("engine oil", TellEngine)[0].Kind)
	l.add(evening, Event{What: "swell"}, Event{What: "swell"})
	swell := finderOf(d, l).Find("swell", TellRecord)
	require.Len(t, swell, 2)
	assert.Greater(t, swell[0].Number(), swell[1].Number(), "the last entry first")
}

func TestWhatWasStruckIsFoundWithAWarning(t *testing.T) {
	d, l := furnished()
	l.add(evening, Correct{Of: 10, Why: "another boat"})
	assert.Equal(t, "counts as never written", finderOf(d, l).Find("grounded on the bar", "")[0].Warning)
}

func TestAnyQuestionIsAnswered(t *testing.T) {
	x := finderOf(furnished())
	words := []string{"box", "3", "30", "raw-water", "impeller", "oil", "/", "fore cabin", "entry", "9", "defect", "☠", "é", "what is in the", "%"}
	rapid.Check(t, func(rt *rapid.T) {
		q := strings.Join(rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom(words), rapid.String()), 0, 5).Draw(rt, "q"), " ")
		for _, f := range x.Find(q, TellRounds) {
			require.Contains(rt, FoundKinds, f.Kind)
			require.NotEmpty(rt, f.Told)
			require.NotEmpty(rt, f.Name)
		}
	})
}

func TestTheLastActIsTakenBackAndThenTheOneBefore(t *testing.T) {
	d := fitBoat()
	l := log{}
	l.add(evening, Sound{Tank: "port water", Level: "62 %"}, Event{What: "swell"})
	take := func() Correct {
		c, err := NewTakingBack(d, l, "", 0, "")
		require.NoError(t, err)
		l.add(evening, c)
		return c
	}
	assert.Equal(t, Correct{2, TakenBack}, take())
	assert.Equal(t, Correct{1, TakenBack}, take(), "pressed again the one before it")
	_, err := NewTakingBack(d, l, "", 0, "")
	assert.ErrorContains(t, err, "nothing of the open page")
	assert.Empty(t, Fold(l).Tanks["port water"].Level)

	l.add(evening, Correct{Of: 4, Why: "it was right"})
	c, err := NewTakingBack(d, l, "", 0, "wrong tank")
	require.NoError(t, err)
	assert.Equal(t, Correct{1, "wrong tank"}, c, "what was brought back is the last again")
}

func TestWhatMoreHangsOnIsNotTakenBackAsTheLast(t *testing.T) {
	for _, row := range []struct {
		act  Act
		says string
	}{
		{Sign{Name: "A Skipper"}, "stands for ever"}, {Depart{Passage: "p"}, "never have left"}, {Arrive{Place: "p"}, "under way again"},
		{Arrive{Close: true}, "ended the passage"}, {ClockSettled{}, "in doubt again"}, {Carry{}, "nothing of the open page"},
	} {
		l := log{}
		l.add(evening, Event{What: "swell"}, row.act)
		_, err := NewTakingBack(fitBoat(), l, "", 0, "")
		assert.ErrorContains(t, err, row.says)
	}
	for _, act := range []Act{Noon{ToGo: 10}, Change{What: "x"}, Accept{Caution: "x"}, Stow{Spare: "x"}, ServiceDone{Service: "x"}} {
		l := log{}
		l.add(evening, act)
		_, err := NewTakingBack(fitBoat(), l, "", 0, "")
		assert.NoError(t, err, "%T", act)
	}
}

func TestAnothersActIsNamedAndNotTakenBack(t *testing.T) {
	l := log{}
	l.add(evening, Event{What: "swell"})
	l = append(l, Entry{Seq: 2, At: evening, By: "Ana", Act: Event{What: "squall"}})
	_, err := NewTakingBack(fitBoat(), l, "Ben", 0, "")
	assert.ErrorContains(t, err, "entry 2 (Ana), it happened: squall")
	_, err = NewTakingBack(fitBoat(), l, "Ana", 0, "")
	assert.NoError(t, err)
	_, err = NewTakingBack(fitBoat(), l, "Ben", 1, "")
	assert.ErrorContains(t, err, "meanwhile another act became the last: entry 2 (Ana)")
	_, err = NewTakingBack(fitBoat(), l, "Ben", 2, "")
	assert.NoError(t, err, "it was named")
}

// BenchmarkFindInALongRecord is a letter typed with 2000 entries of the record.
func BenchmarkFindInALongRecord(b *testing.B) {
	d, l := furnished()
	for i := range 2000 {
		l.add(evening.Add(time.Duration(i)*time.Minute), Event{What: fmt.Sprintf("squall %d from the west, %d kn", i, i%40)})
	}
	x := finderOf(d, l)
	b.Run("make", func(b *testing.B) {
		s := Fold(l)
		a := Assess(d, s, evening)
		for b.Loop() {
			NewFinder(d, s, a, l)
		}
	})
	for _, ask := range []string{"squall", "impelr", "box 3"} {
		b.Run(ask, func(b *testing.B) {
			for b.Loop() {
				x.Find(ask, TellGear)
			}
		})
	}
}
