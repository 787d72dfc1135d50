package machinery

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func lockers() []Thing {
	spares := []Spare{
		{Name: "raw-water impeller", Size: "six vanes, 51 x 22 mm", With: []string{"gasket"}, Critical: true, Stowed: []Stowed{
			{Place: "fore cabin / under the berth / box 3", Count: 1, Condition: New, Fit: Unknown, Has: []string{"gasket"}},
			{Place: "fore cabin / under the berth / box 3", Count: 1, Condition: Used, Fit: Proved},
			{Place: "engine space / tin", Count: 1, Condition: New, Fit: Proved},
			{Place: "engine space / hook", Count: 2, Condition: New, Fit: Proved, Has: []string{"gasket"}},
		}},
		{Name: "engine belt", Size: "10 x 1050 mm", Stowed: []Stowed{
			{Place: "engine space / hook", Count: 1, Condition: Wrong}, {Place: "fore cabin / under the berth / box 12", Count: 2, Condition: New},
			{Place: "cockpit / port locker", Count: 1, Condition: Doubtful}, {Place: "gone", Condition: New},
		}},
		{Name: "thermostat", Size: "stamped 76"},
	}
	tools := []Tool{
		{Name: "impeller puller", Place: "saloon / tool drawer", State: Good}, {Name: "bolt croppers", Place: "cockpit / after locker", State: Seized},
		{Name: "Stromprüfer", Place: "saloon / tool drawer"},
	}
	dated := []Dated{{Name: "beacon battery", Until: day(2026, 10, 31), Place: "companionway, on its bracket"}, {Name: "gas hose"}}
	things := slices.Concat(SpareThings(spares), ToolThings(tools), DatedThings(dated, at(2026, 11, 3, 0, 0)))
	return append(things,
		Thing{Name: "crème fraîche", Kind: "food", Place: "galley / fridge", Note: "3 packs"},
		Thing{Name: "rice", Kind: "food", Place: "saloon / port locker", Note: "2 packs, best before 2027-02-01"},
		Thing{Name: "engine oil", Kind: "spare", Place: "cockpit / port locker / crate"},
	)
}

// found is name and place, with "?" before a guess.
func found(list []Found) []string {
	var said []string
	for _, f := range list {
		mark := ""
		if f.Guess {
			mark = "? "
		}
		said = append(said, mark+f.Name+" @ "+f.Place)
	}
	return said
}

func TestFindForgivesAndRanks(t *testing.T) {
	x := NewIndex(lockers())
	impellers := []string{
		"raw-water impeller @ engine space / hook", "raw-water impeller @ engine space / tin",
		"raw-water impeller @ fore cabin / under the berth / box 3", "raw-water impeller @ fore cabin / under the berth / box 3",
	}
	guessed := func(list []string) []string {
		var said []string
		for _, s := range list {
			said = append(said, "? "+s)
		}
		return said
	}
	belts := []string{"engine belt @ cockpit / port locker", "engine belt @ engine space / hook", "engine belt @ fore cabin / under the berth / box 12"}
	for _, row := range []struct {
		ask  string
		want []string
	}{
		{"raw water impeller", impellers},
		{"RAW-WATER IMPELLER", impellers},
		{"impeller", append([]string{"impeller puller @ saloon / tool drawer"}, impellers...)},
		{"imp pull", []string{"impeller puller @ saloon / tool drawer"}},
		{"impelr wa", guessed(impellers)},                                                                   // two letters missing
		{"ipmeller raw", guessed(append([]string{"impeller puller @ saloon / tool drawer"}, impellers...))}, // changed about; and "drawer"
		{"rawwater", impellers},                                         // run together
		{"51x22", impellers},                                            // by its size
		{"impeller vanes", impellers},                                   // its words
		{"gasket", impellers},                                           // a part of its kit
		{"impeller belt", nil},                                          // all words, not any
		{"used", []string{impellers[2]}},                                // by what is wrong with it
		{"thermostat", []string{"thermostat @ "}},                       // none aboard is an answer too
		{"thermosat", []string{"? thermostat @ "}},                      //
		{"stromprufer", []string{"Stromprüfer @ saloon / tool drawer"}}, // without its accent
		{"STROMPRÜFER", []string{"Stromprüfer @ saloon / tool drawer"}},
		{"creme fraiche", []string{"crème fraîche @ galley / fridge"}},
		{"cre\u0301me", []string{"crème fraîche @ galley / fridge"}}, // the accent as a sign of its own, and the wrong one
		{"cre\u0300me", []string{"crème fraîche @ galley / fridge"}},
		{"belt", []string{"engine belt @ cockpit / port locker", "engine belt @ engine space / hook", "engine belt @ fore cabin / under the berth / box 12", "? bolt croppers @ cockpit / after locker"}},
		{"blet engine", guessed(belts)},
		{"xx", nil},
		{"", nil},
		{" \t", nil},
		{"cockpit / port", []string{"engine oil @ cockpit / port locker / crate", "engine belt @ cockpit / port locker"}},
		{"cockpit/port locker", []string{"engine oil @ cockpit / port locker / crate", "engine belt @ cockpit / port locker"}},
		{"what lies in the port locker", []string{"rice @ saloon / port locker", "engine oil @ cockpit / port locker / crate", "engine belt @ cockpit / port locker"}},
	} {
		assert.ElementsMatch(t, row.want, found(x.Find(row.ask)), "%q", row.ask)
	}
}

func TestFindPutsTheBestFirst(t *testing.T) {
	x := NewIndex([]Thing{
		{Name: "bolt croppers", Place: "a"}, {Name: "engine belt"}, {Name: "belt"}, {Name: "belts, spare"}, {Name: "seatbelt"},
		{Name: "buckle", Words: []string{"belt"}}, {Name: "torch", Place: "belt bag"}, {Name: "belt", Warning: "worn"}, {Name: "belt tension gauge"},
	})
	said := x.Find("belt")
	var names []string
	for _, f := range said {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"belt", "belt", "engine belt", "belt tension gauge", "buckle", "torch", "belts, spare", "seatbelt", "bolt croppers"}, names)
	assert.Equal(t, "worn", said[1].Warning, "of one name the one that serves comes first")
	assert.True(t, said[8].Guess)
	assert.False(t, said[7].Guess)
}

func TestWordsOfAQuestionAreLeftOutOnlyWhereNothingIsFoundWithThem(t *testing.T) {
	x := NewIndex([]Thing{{Name: "nut on the pump"}, {Name: "pump nut"}})
	assert.Equal(t, []string{"nut on the pump @ "}, found(x.Find("nut on the pump")))
	assert.Equal(t, []string{"pump nut @ ", "nut on the pump @ "}, found(x.Find("where is the nut of the pump")))
	assert.Empty(t, x.Find("where is the"))
	assert.Empty(t, x.Find("u"), "one letter is only a beginning")
	assert.Empty(t, x.Find("tpu"), "three letters across a blank say nothing")
}

func TestWhoAsksForAPlaceGetsFirstWhatLiesThere(t *testing.T) {
	x := NewIndex([]Thing{
		{Name: "box spanner 3"}, {Name: "oil filter", Words: []string{"OF-3"}, Place: "bow / box 1"}, {Name: "zinc", Place: "bow / box 3"}, {Name: "box 3"},
	})
	assert.Equal(t, []string{"box 3 @ ", "zinc @ bow / box 3", "box spanner 3 @ ", "oil filter @ bow / box 1"}, found(x.Find("box 3")))
	assert.Equal(t, []string{"box 3 @ ", "box spanner 3 @ ", "zinc @ bow / box 3", "oil filter @ bow / box 1"}, found(x.Find("box")), "box is no place, only the beginning of one")
}

func TestWhatDoesNotServeIsFoundWithAWarning(t *testing.T) {
	warnings := map[string]string{}
	for _, thing := range lockers() {
		warnings[thing.Name+" @ "+thing.Place+" "+thing.Note] = thing.Warning
	}
	assert.Equal(t, map[string]string{
		"raw-water impeller @ fore cabin / under the berth / box 3 1 new six vanes, 51 x 22 mm":  "nobody has tried or measured whether it fits",
		"raw-water impeller @ fore cabin / under the berth / box 3 1 used six vanes, 51 x 22 mm": "used: no spare, to get home on only",
		"raw-water impeller @ engine space / tin 1 new six vanes, 51 x 22 mm":                    "without its gasket",
		"raw-water impeller @ engine space / hook 2 new six vanes, 51 x 22 mm":                   "",
		"engine belt @ engine space / hook 1 wrong 10 x 1050 mm":                                 "wrong: it does not fit",
		"engine belt @ fore cabin / under the berth / box 12 2 new 10 x 1050 mm":                 "",
		"engine belt @ cockpit / port locker 1 doubtful 10 x 1050 mm":                            "doubtful: it does not count",
		"thermostat @  ": "none aboard",
		"impeller puller @ saloon / tool drawer ":        "",
		"bolt croppers @ cockpit / after locker ":        "seized",
		"Stromprüfer @ saloon / tool drawer ":            "",
		"beacon battery @ companionway, on its bracket ": "ended on 2026-10-31, 3 days ago",
		"gas hose @  ": "its date is not written",
		"crème fraîche @ galley / fridge 3 packs":                     "",
		"rice @ saloon / port locker 2 packs, best before 2027-02-01": "",
		"engine oil @ cockpit / port locker / crate ":                 "",
	}, warnings)
	assert.Equal(t, "good until 2026-10-31", DatedThings([]Dated{{Until: day(2026, 10, 31)}}, at(2026, 10, 31, 23, 0))[0].Note)
}

func TestAPlaceListsWhatLiesInItAndWithinIt(t *testing.T) {
	x := NewIndex(lockers())
	in := func(where string) []string {
		var said []string
		for _, thing := range x.In(where) {
			said = append(said, thing.Name)
		}
		return said
	}
	assert.Equal(t, []string{"bolt croppers", "engine belt", "engine oil"}, in("cockpit"))
	assert.Equal(t, []string{"engine belt", "engine oil"}, in("Cockpit /Port  Locker"))
	assert.Equal(t, []string{"engine belt", "engine oil", "rice"}, in("port locker"), "in the cockpit and in the saloon")
	assert.Equal(t, []string{"engine belt"}, in("box 1"), "there is no box 1: what is begun so")
	assert.Equal(t, []string{"engine oil"}, in("crate"))
	assert.Empty(t, in("port"+" / "+"cockpit"))
	assert.Empty(t, in(""))
	assert.Empty(t, in("/"))

	withOne := NewIndex(append(lockers(), Thing{Name: "fuse", Place: "chart table / box 1"}))
	require.Len(t, withOne.In("box 1"), 1)
	assert.Equal(t, "fuse", withOne.In("box 1")[0].Name, "box 12 is not box 1")
}

// The worked examples of the distance are from memory: kitten and sitting 3; ca and abc 3, where two
// changes of one part are not allowed (2 where they are).
func TestDistanceCountsLettersWrongMissingTooManyOrChangedAbout(t *testing.T) {
	for _, row := range []struct {
		a, b       string
		most, want int
	}{
		{"kitten", "sitting", 5, 3}, {"ca", "abc", 5, 3}, {"abc", "abc", 5, 0}, {"", "abc", 5, 3}, {"abc", "", 5, 3}, {"", "", 5, 0}, {"", "abc", 3, 3},
		{"impeller", "impellre", 2, 1}, {"impeller", "mipellre", 2, 2}, {"filter", "fitler", 1, 1}, {"oil", "foil", 2, 1},
		{"ä", "a", 2, 1}, {"A", "a", 2, 1}, {"kitten", "sitting", 2, 3}, {"a", "abcdef", 2, 3}, {"abcdef", "a", 2, 3},
	} {
		assert.Equal(t, row.want, Distance(row.a, row.b, row.most), "%q %q", row.a, row.b)
		assert.Equal(t, row.want, Distance(row.b, row.a, row.most), "%q %q", row.b, row.a)
	}
}

func anyThings(t *rapid.T) []Thing {
	name := rapid.OneOf(
		rapid.StringMatching(`[a-f]{1,6}([ /-][a-f]{1,6}){0,2}`), rapid.StringOfN(rapid.RuneFrom([]rune("abßéİσς中 -/.,7")), 1, 10, -1), rapid.String(),
	)
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Thing {
		return Thing{
			Name: name.Draw(t, "name"), Words: []string{name.Draw(t, "word")}, Place: name.Draw(t, "place"), Note: name.Draw(t, "note"),
			Warning: rapid.SampledFrom([]string{"", "used"}).Draw(t, "warning"),
		}
	}), 1, 12).Draw(t, "things")
}

func TestTheExactNameAlwaysRanksFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		things := anyThings(t)
		x := NewIndex(things)
		for _, thing := range things {
			if len(terms(thing.Name)) == 0 {
				continue // blanks, or an accent without a letter
			}
			list := x.Find(thing.Name)
			require.NotEmpty(t, list, "%q", thing.Name)
			assert.Equal(t, terms(thing.Name), terms(list[0].Name))
			assert.False(t, list[0].Guess)
		}
	})
}

func TestAWrongLetterStillFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		things := anyThings(t)
		words := rapid.SliceOfN(rapid.StringMatching(`[a-f]{3,9}`), 1, 3).Draw(t, "words of the name")
		things = append(things, Thing{Name: strings.Join(words, " ")})
		twice := rapid.Bool().Draw(t, "two mistakes in the longer ones")
		for i, w := range words {
			words[i] = spoil(t, w, twice)
		}
		list := NewIndex(things).Find(strings.Join(words, " "))
		assert.True(t, twice && len(list) > 0 && !list[0].Guess || slices.ContainsFunc(list, func(f Found) bool { return f.Name == things[len(things)-1].Name }), "%v: %v", words, things)

		guesses := false
		for _, f := range list {
			assert.False(t, guesses && !f.Guess, "what was guessed comes last")
			guesses = f.Guess
		}
	})
}

// spoil makes one mistake in a word, or two in one of five letters and more.
func spoil(t *rapid.T, w string, twice bool) string {
	letters := []rune(w)
	mistakes := 1
	if twice {
		mistakes = forgives(len(letters))
	}
	for range mistakes {
		i := rapid.IntRange(0, len(letters)-1).Draw(t, "letter")
		letters[i] = rapid.RuneFrom([]rune("abcdefxyz")).Draw(t, "wrong")
	}
	if len(letters) > 3 && rapid.Bool().Draw(t, "drop one instead") {
		letters = []rune(w)
		i := rapid.IntRange(0, len(letters)-1).Draw(t, "letter")
		letters = slices.Delete(letters, i, i+1)
	}
	return string(letters)
}

func TestFoldingTwiceChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		once := fold(rapid.String().Draw(t, "text"))
		assert.Equal(t, once, fold(once))
	})
	for plain := range accents {
		assert.True(t, unicode.IsLower(plain), "%q is looked up in small letters", plain)
	}
}

func manyThings(n int) []Thing {
	kinds := strings.Fields("impeller filter belt hose clip bolt nut shackle lamp fuse seal gasket rice beans flour pump valve sail batten rope")
	rooms := strings.Fields("saloon cockpit galley fore-cabin engine-space lazarette heads")
	things := make([]Thing, n)
	for i := range things {
		things[i] = Thing{
			Name: fmt.Sprintf("%s %s n%d", kinds[i%len(kinds)], kinds[(i/7)%len(kinds)], i), Kind: "spare", Words: []string{fmt.Sprintf("%d x %d mm", i%97, i%89), "with o-ring"},
			Place: fmt.Sprintf("%s / locker %d / box %d", rooms[i%len(rooms)], i%11, i%31), Note: fmt.Sprintf("%d new", i%5),
		}
	}
	return things
}

func BenchmarkFindAmongTwoThousandThings(b *testing.B) {
	x := NewIndex(manyThings(2000))
	for _, ask := range []string{"impeller", "impelar gaskte n1402", "what is in the port locker", "saloon / locker 3", "zzzzzzz"} {
		b.Run(ask, func(b *testing.B) {
			for b.Loop() {
				x.Find(ask)
			}
		})
	}
}

func BenchmarkIndexOfTwoThousandThings(b *testing.B) {
	things := manyThings(2000)
	for b.Loop() {
		NewIndex(things)
	}
}
