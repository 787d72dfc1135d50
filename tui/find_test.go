package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/exp/golden"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// findBench is a boat with gear, a fault card and a record, on a screen.
func findBench(t *testing.T, keys ...string) *bench {
	d := carrying()
	d.Cards = []machinery.Card{{Sign: "coolant a little high", Looks: []machinery.Look{{At: "raw-water strainer"}}}}
	acts := append(allGood(), checklist.Event{What: "grounded on the bar"}, checklist.DefectAct{What: "pump drips", Grade: machinery.Limit})
	return newBench(t, d, acts...).keys(keys...)
}

func TestTheFinderLooksAsReviewed(t *testing.T) {
	screens := []struct {
		name string
		make func(*testing.T) *bench
	}{
		{"empty", func(t *testing.T) *bench { return findBench(t, "4", "/") }},
		{"check", func(t *testing.T) *bench { return findBench(t, "4", "/").types("oil").keys("down") }},
		{"record", func(t *testing.T) *bench { return findBench(t, "7", "/").types("bar") }},
		{"many", func(t *testing.T) *bench { return findBench(t, "/").types("right") }},
	}
	for _, s := range screens {
		for _, z := range []size{{80, 24}, {60, 20}} {
			t.Run(fmt.Sprintf("%s-%dx%d", s.name, z.w, z.h), func(t *testing.T) {
				golden.RequireEqual(t, s.make(t).size(z.w, z.h).view())
			})
		}
	}
}

func TestFindingGoesToTheVeryThingFromAnyScreen(t *testing.T) {
	for _, from := range screenNames {
		b := findBench(t, string(from))
		for _, row := range []struct {
			typed string
			sees  []string
		}{
			{"starting battery", []string{"[4 Rounds]", "Starting battery"}},
			{"diesel", []string{"[3 Stores]", "> diesel"}},
			{"change raw-water impeller", []string{"[5 Engine]", "[Services]", "change raw-water impeller"}},
			{"pump drips", []string{"[5 Engine]", "pump drips"}},
			{"coolant a little high", []string{"[5 Engine]", "is walked for a defect"}},
			{"grounded", []string{"[7 Record]", "it happened: grounded on the bar"}},
			{"pipe wrench", []string{"[6 Gear]", "[Tools]", "> pipe wrench"}},
			{"tool drawer", []string{"[6 Gear]", "[Lockers]", "> tool drawer"}},
			{"alder quay to birch", []string{"[2 Passage]", "[Legs]", "Birch Sound"}},
		} {
			b.keys("/").types(row.typed).keys("enter").sees(row.sees...).seesNot("Find:")
		}
	}
}

func TestOnlyTheLastEntriesAreListedAndAnOlderOneIsStillGoneTo(t *testing.T) {
	b := newBench(t, fitBoat())
	b.add(checklist.Event{What: "a whale"})
	for range 2 * lastEntries {
		b.add(checklist.Event{What: "swell"})
	}
	b.restart().keys("1", "/").types("whale").sees("1 is called so").keys("enter")
	b.sees("[7 Record]", "> 1. ", "it happened: a whale", "esc the last entries").keys("esc").sees("Last entries of the record")
	b.keys("/").types("swell").sees("400 are called so")
}

func TestFindingIsLeftForWhereOneWas(t *testing.T) {
	b := findBench(t, "4", "enter")
	before := b.view()
	b.keys("/").types("xyz").keys("esc")
	assert.Equal(t, before, b.view())
	b.keys("/", "q", "1").sees("Find: q1").keys("backspace", "backspace", "backspace")
	assert.Equal(t, before, b.view())
	b.keys("7", "m", "/").sees("> /").seesNot("Find:")
}

func TestAnyKeysIntoTheFinderEndOnTheThingNamed(t *testing.T) {
	words := []string{"oil", "water", "box", "rice", "impelr", "entry", "12", "leave", "saloon", "hatches", "anode", "diesel", "sound", "pump"}
	rapid.Check(t, func(rt *rapid.T) {
		b := findBench(t, rapid.SampledFrom([]string{"1", "2", "3", "4", "5", "6", "7"}).Draw(rt, "screen"), "/")
		b.types(rapid.SampledFrom(words).Draw(rt, "word"))
		for range rapid.IntRange(0, 6).Draw(rt, "n") {
			b.keys(rapid.SampledFrom([]string{"down", "up", "pgdown", "pgup", " ", "left", "delete", "ctrl+u", "a", "e", "☠", "tab"}).Draw(rt, "key"))
			requireFits(rt, b.m.View(), 80, 24)
		}
		if !b.m.finder.isOpen() || len(b.m.finder.found) == 0 {
			return
		}
		found := b.m.finder.found[b.m.finder.cursor]
		b.keys("enter")
		require.Equal(rt, screenOf(found.Told), b.m.current)
		flat := strings.ToLower(strings.Join(strings.Fields(b.view()), " "))
		want := strings.ToLower(found.Name)
		switch found.Kind {
		case checklist.FoundEntry:
			want = found.Key + ". "
		case checklist.FoundBlocker, checklist.FoundCaution:
			want = want[:min(len(want), 12)]
		}
		require.Contains(rt, flat, want, "%s %q on\n%s", found.Kind, found.Name, b.view())
	})
}

func TestTheLastActIsTakenBackFromAnyScreen(t *testing.T) {
	for _, screen := range screenNames {
		b := newBench(t, fitBoat(), checklist.Event{What: "swell"}, checklist.Sound{Tank: "diesel", Level: "62 %"}).keys(string(screen))
		b.keys("Z").sees("taken back: entry 2, diesel sounded: 62 % (93 L); entry 3 says so")
		require.Equal(t, checklist.Correct{Of: 2, Why: checklist.TakenBack}, b.entries[2].Act)
		b.keys("Z", "Z", "Z").sees("let go of the key")
		require.Len(t, b.entries, 3, "a held key takes one act back")
		b.settle().settle().keys("Z").sees("taken back: entry 1, it happened: swell; entry 4 says so")
		b.settle().keys("Z").sees("not taken back: nothing of the open page")
		require.Len(t, b.entries, 4)
	}
}

func TestKeysThatCameTogetherTakeOneActBack(t *testing.T) {
	b := newBench(t, fitBoat(), checklist.Event{What: "swell"}, checklist.Event{What: "squall"}).keys("ZZZZ")
	require.Len(t, b.entries, 3)
}

func TestAnothersActIsNamedBeforeItIsTakenBack(t *testing.T) {
	b := newBench(t, fitBoat(), checklist.Event{What: "swell"})
	b.add(checklist.Event{What: "squall"})
	b.entries[1].By = "Ana"
	b.keys("Z").sees("was not written. meanwhile another act became the last: entry 2 (Ana), it happened: squall")
	require.Len(t, b.entries, 2, "written meanwhile, and not yet shown: it stays")
	b.settle().keys("Z").sees("the last act is another's: entry 2 (Ana)", "Z again takes it back")
	require.Len(t, b.entries, 2)
	b.settle().keys("Z").sees("taken back: entry 2 (Ana)")
}

func TestNothingIsTakenBackWhileSomethingIsAskedOrOnItsWay(t *testing.T) {
	b := newBench(t, fitBoat(), allGood()...).keys("7", "s").types("A. Skipper").keys("enter", "Z").sees("finish, or leave, what is asked here")
	require.Len(t, b.entries, len(allGood()))
	b.keys("y").settle().keys("Z").sees("stands for ever")

	b = newBench(t, fitBoat(), checklist.Event{What: "swell"})
	b.slow = true
	b.keys("4", "enter", "c", "Z").sees("not on the disk yet").land()
	require.Len(t, b.entries, 2)
}

func BenchmarkALetterInTheFinder(b *testing.B) {
	bench := newBench(&testing.T{}, carrying())
	for i := range 2000 {
		bench.add(checklist.Event{What: fmt.Sprintf("squall %d", i)})
		bench.now = bench.now.Add(time.Second)
	}
	bench.restart().keys("/").types("squal")
	for b.Loop() {
		bench.keys("l", "backspace")
	}
}
