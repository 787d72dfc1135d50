package machinery

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// coolantCard is the first part of the tree "coolant a little high, water still coming" of the reference,
// checks 3.4 A, in its order; what each look rules out is common practice, no source.
func coolantCard() Card {
	return Card{Sign: "coolant a little high", Looks: []Look{
		{At: "second thermometer", Takes: 2 * time.Minute, AtSea: true, Tools: []string{"thermometer"}, RulesOut: "gauge and sender", Means: "gauge or sender wrong"},
		{At: "raw-water strainer", Takes: 5 * time.Minute, AtSea: true, RulesOut: "weed or a bag", Means: "weed or a bag"},
		{At: "impeller, count the vanes", Takes: 45 * time.Minute, AtSea: true, Uses: []string{"impeller"}, RulesOut: "impeller", Means: "worn or broken: find every missing piece"},
		{At: "exchanger tubes", Takes: 2 * time.Hour, RulesOut: "scale", Means: "scale"},
	}}
}

var walked = at(2026, 6, 20, 12, 0)

func aroundAtSea() Around {
	return Around{
		Now: walked, Opened: walked.Add(-48 * time.Hour), Fresh: 10 * 24 * time.Hour, AtSea: true,
		Spares: []Spare{{Name: "impeller", Stowed: []Stowed{{Count: 1, Condition: New}}}}, Tools: []Tool{{Name: "thermometer", State: Good}},
	}
}

func step(look string, seen Seen, ago time.Duration) Step {
	return Step{Look: look, Seen: seen, At: walked.Add(-ago)}
}

func TestWalkGoesDownTheCardAndLeavesForTheBaseWhatIsNotForTheSea(t *testing.T) {
	var steps []Step
	around := aroundAtSea()
	look := func(want string, stage Stage, words string) {
		t.Helper()
		w := coolantCard().Walk(steps, around)
		next, _ := w.Next()
		assert.Equal(t, want, next.Name)
		assert.Equal(t, stage, w.Stage())
		assert.Equal(t, words, w.Words())
	}
	look("second thermometer", Looking, "0 of 4 cleared; next: second thermometer, 2 min")
	steps = append(steps, step("second thermometer", FoundClean, 30*time.Minute))
	look("raw-water strainer", Looking, "1 of 4 cleared; next: raw-water strainer, 5 min")
	steps = append(steps, step("raw-water strainer", CouldNotLook, 20*time.Minute))
	look("impeller, count the vanes", Looking, "1 of 4 cleared; next: impeller, count the vanes, 45 min")
	steps = append(steps, step("impeller, count the vanes", FoundClean, 0))
	look("", LeftForBase, "nothing found in what can be looked at here. It is not closed; left for the base: raw-water strainer, exchanger tubes")

	w := coolantCard().Walk(steps, around)
	assert.Equal(t, []string{"gauge and sender", "impeller"}, w.RuledOut())
	assert.Equal(t, []string{"raw-water strainer", "exchanger tubes"}, namesOf(w.ForBase()))

	steps = append(steps, step("raw-water strainer", FoundClean, 0))
	around.AtSea = false
	look("exchanger tubes", Looking, "3 of 4 cleared; next: exchanger tubes, 2 h")
	steps = append(steps, step("exchanger tubes", FoundClean, 0))
	look("", NoCause, "no cause found: it is not closed; it goes on the list of the base")
}

func TestABadFindingSaysWhatItMeansAndIsNotMended(t *testing.T) {
	steps := []Step{step("raw-water strainer", FoundBad, time.Minute)}
	w := coolantCard().Walk(steps, aroundAtSea())
	assert.Equal(t, CauseFound, w.Stage())
	assert.Equal(t, "found: raw-water strainer: weed or a bag. Found is not mended: repair it, then prove it", w.Words())
	next, more := w.Next()
	assert.True(t, more, "one may go on looking")
	assert.Equal(t, "second thermometer", next.Name)
	assert.Empty(t, w.RuledOut())

	steps = append(steps, step("raw-water strainer", NotYet, 0))
	assert.Equal(t, Looking, coolantCard().Walk(steps, aroundAtSea()).Stage(), "taken back")
}

func TestALookWhoseToolsOrPartsAreNotThereComesLastAndSaysSo(t *testing.T) {
	around := aroundAtSea()
	around.Tools[0].State = Seized
	around.Spares[0].Stowed[0].Condition = Used // a used one is no spare: common practice, no source
	w := coolantCard().Walk(nil, around)
	next, _ := w.Next()
	assert.Equal(t, "raw-water strainer", next.Name)
	assert.Equal(t, []string{"second thermometer", "impeller, count the vanes", "exchanger tubes"}, namesOf(w.ForBase()))

	w = coolantCard().Walk([]Step{step("raw-water strainer", FoundClean, 0)}, around)
	next, _ = w.Next()
	assert.Equal(t, "second thermometer, 2 min; thermometer is seized", next.Words())
	w = coolantCard().Walk([]Step{step("raw-water strainer", FoundClean, 0), step("second thermometer", FoundClean, 0)}, around)
	next, _ = w.Next()
	assert.Equal(t, "impeller, count the vanes, 45 min; not aboard to close it with: impeller", next.Words())

	around.Tools[0].State = Stiff
	next, _ = coolantCard().Walk(nil, around).Next()
	assert.Equal(t, "second thermometer, 2 min; thermometer is stiff", next.Words(), "stiff is told and does not stop")
}

func TestAnOldOutcomeIsToldAsOldAndDoesNotClear(t *testing.T) {
	around := aroundAtSea()
	for _, row := range []struct {
		name   string
		ago    time.Duration
		opened time.Duration
		old    string
	}{
		{"of this defect", 47 * time.Hour, 48 * time.Hour, ""},
		{"at its opening", 48 * time.Hour, 48 * time.Hour, ""},
		{"before its opening", 48*time.Hour + time.Second, 48 * time.Hour, "2 days ago, before this defect was opened"},
		{"as old as it may be", 10 * 24 * time.Hour, 2000 * time.Hour, ""},
		{"older", 10*24*time.Hour + time.Second, 2000 * time.Hour, "10 days ago, too long"},
		{"of now", 0, 48 * time.Hour, ""},
		{"of the future", -time.Second, 48 * time.Hour, "it is dated later than now: the clock is in doubt"},
	} {
		for _, seen := range []Seen{FoundClean, FoundBad} {
			around.Opened = walked.Add(-row.opened)
			s := coolantCard().Walk([]Step{step("raw-water strainer", seen, row.ago)}, around).Suspects[1]
			assert.Equal(t, row.old, s.Old, row.name)
			if row.old == "" {
				assert.Equal(t, seen, s.Seen, row.name)
				continue
			}
			assert.Equal(t, NotYet, s.Seen, row.name)
			assert.Equal(t, "raw-water strainer, 5 min; "+string(seen)+", but "+row.old+": look again", s.Words(), row.name)
		}
	}
	around = Around{Now: walked}
	assert.Equal(t, FoundClean, coolantCard().Walk([]Step{step("raw-water strainer", FoundClean, 9000*time.Hour)}, around).Suspects[1].Seen, "no limit given")
}

func TestOfEachLookTheLastWordHoldsInTheOrderOfTheEntries(t *testing.T) {
	first := []Step{{Seq: 3, Look: "a", Seen: FoundClean}, {Seq: 9, Look: "b", Seen: FoundBad, At: walked}}
	second := []Step{{Seq: 5, Look: "a", Seen: CouldNotLook, At: walked.Add(-time.Hour)}, {Seq: 7, Look: "b", Seen: FoundClean, At: walked.Add(time.Hour)}}
	want := []Step{second[0], first[1]}
	assert.Equal(t, want, MergeSteps(first, second))
	assert.Equal(t, want, MergeSteps(second, first))
	assert.Empty(t, MergeSteps())

	plain := []Step{{Look: "a", Seen: FoundBad}, {Look: "a", Seen: FoundClean}}
	assert.Equal(t, plain[1:], MergeSteps(plain), "without numbers in the order given")
}

func TestTwoLooksAtOneThingAreTwo(t *testing.T) {
	card := Card{Looks: []Look{{At: "filter"}, {At: "filter"}, {At: "filter (2)"}, {At: "tap"}}}
	names := card.Names()
	assert.Equal(t, []string{"filter", "filter (2)", "filter (2) (2)", "tap"}, names)
	w := card.Walk([]Step{step("filter", FoundClean, 0)}, Around{Now: walked})
	assert.Len(t, w.Cleared(), 1)
	assert.Equal(t, NoCause, Card{}.Walk(nil, Around{}).Stage())
}

// However it is walked: no look is asked for twice, none is cleared that was not found clean, and
// nothing but all clean says that there is no cause.
func TestEveryWalkEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		card := Card{}
		for range rapid.IntRange(1, 6).Draw(t, "looks") {
			card.Looks = append(card.Looks, Look{
				At: rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "at"), AtSea: rapid.Bool().Draw(t, "at sea"),
				Tools: rapid.SampledFrom([][]string{nil, {"none such"}}).Draw(t, "tools"),
			})
		}
		around := Around{Now: walked, AtSea: rapid.Bool().Draw(t, "she is at sea")}
		var steps []Step
		allClean, found := true, false
		for {
			w := card.Walk(steps, around)
			next, more := w.Next()
			if !more {
				require.LessOrEqual(t, len(steps), len(card.Looks))
				assert.Equal(t, allClean && len(steps) == len(card.Looks), w.Stage() == NoCause)
				assert.Equal(t, found, w.Stage() == CauseFound)
				assert.Len(t, w.Suspects, len(w.Cleared())+len(w.Found())+len(w.Remaining()))
				return
			}
			require.True(t, next.AtSea || !around.AtSea)
			seen := rapid.SampledFrom([]Seen{FoundClean, FoundBad, CouldNotLook}).Draw(t, "seen")
			allClean, found = allClean && seen == FoundClean, found || seen == FoundBad
			steps = append(steps, Step{Look: next.Name, Seen: seen, At: walked})
		}
	})
}
