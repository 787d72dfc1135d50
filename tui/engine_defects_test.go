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

// carded is the boat with an engine, two fault cards and a spare. All invented; the looks are those of the reference,
// checks 3.4 A.
func carded() checklist.Definitions {
	d := motor()
	d.Spares = []machinery.Spare{{Name: "impeller", Stowed: []machinery.Stowed{{Place: "fore peak / box 3", Count: 2, Condition: machinery.New, Fit: machinery.Proved}}}}
	d.Cards = []machinery.Card{
		{
			Sign: "coolant a little high", First: "Ease her to idle, and look over the stern for water.",
			Caution: "The cap stays on until she is cold: hot coolant scalds. Engine stopped and key out before a hand goes near a belt.",
			Looks: []machinery.Look{
				{At: "raw-water strainer", How: "Seacock shut, lid off, clean it, lid tight, seacock open.", Takes: 5 * time.Minute, AtSea: true, RulesOut: "weed"},
				{At: "pump impeller", How: "Seacock shut, cover off, count the vanes.", Takes: 45 * time.Minute, AtSea: true, Uses: []string{"impeller"},
					RulesOut: "a worn impeller", Means: "worn: find every missing piece"},
				{At: "heat exchanger", How: "Both end caps off, look through the tubes.", Takes: 2 * time.Hour, RulesOut: "scale"},
				{At: "hull from outside", How: "The intake.", HauledOut: true},
			},
		},
		{Sign: "vibration", Looks: []machinery.Look{{At: "line round the screw", How: "From the dinghy.", AtSea: true}}},
	}
	return d
}

// defectBench is screen 5 after a reading at which something is to be looked at, and a torch that is flat.
func defectBench(t *testing.T, keys ...string) *bench {
	b := newBench(t, carded(), allGood()...)
	b.add(checklist.DefectAct{What: "torch is flat", Grade: machinery.Note})
	b.add(read(b.d, "rpm=2000 minutes=20 coolant=85C sea=18C"))
	return b.restart().keys("5").keys(keys...)
}

// fillsIn types each text and enter after each.
func (b *bench) fillsIn(texts ...string) *bench {
	for _, text := range texts {
		b.types(text).keys("enter")
	}
	return b
}

// warmDefect opens the defect of the reading by its keys, and shows it.
func warmDefect(t *testing.T) *bench {
	b := defectBench(t, "n").fillsIn("reads a little warm", "limit", "1800", "1")
	return b.keys("G", "enter")
}

// provedDefect is the same repaired and proved at anchor and at sea.
func provedDefect(t *testing.T) *bench {
	b := warmDefect(t).keys("m").fillsIn("two vanes gone", "new impeller", "impeller", "gone", "45 min", "50 min", "usual")
	b.now = b.now.Add(time.Hour)
	b.add(read(b.d, "rpm=2000 minutes=20 coolant=82C under_way=no"))
	b.add(checklist.Depart{Passage: "x"})
	b.now = b.now.Add(time.Hour)
	b.add(read(b.d, "rpm=2000 minutes=50 coolant=82C"))
	return b.restart().keys("5", "right", "right", "G", "enter")
}

func TestDefectsLookAsReviewed(t *testing.T) {
	screens := []struct {
		name string
		make func(*testing.T) *bench
	}{
		{"reading-offers", func(t *testing.T) *bench { return defectBench(t) }},
		{"list", func(t *testing.T) *bench { return warmDefect(t).keys("esc") }},
		{"list-none", func(t *testing.T) *bench { return newBench(t, carded()).keys("5", "right", "right") }},
		{"new-grade", func(t *testing.T) *bench {
			return defectBench(t, "n").fillsIn("reads a little warm").types("bad").keys("enter")
		}},
		{"new-card", func(t *testing.T) *bench { return defectBench(t, "n").fillsIn("reads a little warm", "limit", "1800") }},
		{"opened", warmDefect},
		{"opened-looked", func(t *testing.T) *bench { return warmDefect(t).size(200, 60).keys("y").settle().keys("c").settle() }},
		{"repair-proof", func(t *testing.T) *bench {
			return warmDefect(t).keys("m").fillsIn("two vanes gone", "new impeller", "impeller", "gone", "45 min", "50 min").fillsIn("sure")
		}},
		{"repair-written-out", func(t *testing.T) *bench {
			return warmDefect(t).keys("m").fillsIn("two vanes gone", "new impeller", "impeller", "gone", "45 min", "50 min").keys("tab")
		}},
		{"repaired", func(t *testing.T) *bench {
			return warmDefect(t).keys("m").fillsIn("two vanes gone", "new impeller", "impeller", "gone", "45 min", "50 min", "usual")
		}},
		{"proved", provedDefect},
		{"service", func(t *testing.T) *bench { return defectBench(t, "left", "d").fillsIn("2026-05-30", "395") }},
		{"service-sure", func(t *testing.T) *bench {
			return defectBench(t, "left", "d").fillsIn("2026-05-30", "395", "20 min", "impeller").keys("enter", "enter")
		}},
	}
	for _, s := range screens {
		for _, z := range []size{{80, 24}, {60, 20}} {
			t.Run(fmt.Sprintf("%s-%dx%d", s.name, z.w, z.h), func(t *testing.T) {
				golden.RequireEqual(t, s.make(t).size(z.w, z.h).view())
			})
		}
	}
}

// From the first warm reading to the closed defect, by keys alone.
func TestAWarmReadingBecomesAClosedDefect(t *testing.T) {
	b := defectBench(t).size(80, 30).sees(`n: open a defect; the fault card "coolant a little high" fits`)
	n := len(b.entries)
	b.keys("n").fillsIn("reads a little warm").sees("stop: she does not go")
	b.fillsIn("limit", "1800").sees("The latest reading points at 1 coolant a little high")
	require.Len(t, b.entries, n, "nothing is written before the last answer")
	b.fillsIn("1").sees("[Defects]", "limit, open: reads a little warm")
	opened := b.acts()[n].(checklist.DefectAct)
	assert.Equal(t, checklist.DefectAct{What: "reads a little warm", Grade: machinery.Limit, RPM: 1800, Card: "coolant a little high", Seen: opened.Seen}, opened)
	assert.Len(t, opened.Seen, 3, "what the gauges said then")

	view := b.keys("enter").view()
	assert.Less(t, strings.Index(view, "The cap stays on"), strings.Index(view, "Look 1 of 4: raw-water strainer"), "the caution stands before the look")
	b.keys("d").sees("it is closed once its repair is proved")
	b.keys("y").sees("1 of 4 cleared", "Look 2 of 4: pump impeller", "ruled out: weed")
	b.settle().keys("n").sees("found: pump impeller: worn: find every missing piece. Found is not mended")
	b.settle().keys("x").seesNot("found: pump impeller")
	assert.Equal(t, checklist.StepTaken{Defect: n + 1, Card: "coolant a little high", Look: "raw-water strainer", Seen: machinery.FoundClean}, b.acts()[n+1])

	b.keys("m").fillsIn("no cause found").sees("no cause found is not closed: it stays open")
	b.keys("ctrl+u").fillsIn("two vanes gone", "new impeller").fillsIn("impeler").sees(`did you mean "impeller"?`)
	b.keys("ctrl+u").fillsIn("impeller", "gone", "45 min", "50 min").fillsIn("surely").sees("is no place to prove it")
	b.keys("ctrl+u").fillsIn("usual").sees("repaired, to be proved")
	repair := b.acts()[len(b.entries)-1].(checklist.DefectAct)
	assert.Len(t, repair.Proofs, 2)
	assert.Equal(t, []checklist.PartTaken{{Spare: "impeller", Place: "fore peak / box 3", Count: 1}}, repair.Parts)
	assert.Equal(t, 50.0, repair.Minutes)

	b = provedDefect(t).size(80, 30).sees("proved: 50 min at 2000 rpm, coolant 82 °C")
	b.keys("d").sees("On the disk").seesNot("reads a little warm")
	assert.Equal(t, "two vanes gone: new impeller", b.acts()[len(b.entries)-1].(checklist.DefectAct).Why)
}

func TestALookIsAnsweredOnceAndOnlyWhenItsCautionWasRead(t *testing.T) {
	b := warmDefect(t).size(80, 30)
	n := len(b.entries)
	b.keys("y", "y", "y")
	assert.Len(t, b.entries, n+1, "a held key answers one look")
	b.settle().keys("cc")
	assert.Len(t, b.entries, n+2, "of keys that come together the first answers, the rest do not")
	b = warmDefect(t).size(40, 12)
	n = len(b.entries)
	b.keys("y").sees("there is more to read first: pgdn")
	assert.Len(t, b.entries, n)
	b.keys("pgdown", "pgdown", "pgdown", "y")
	assert.Len(t, b.entries, n+1)
}

func TestADefectWithoutGaugesIsClosedWithWhatWasDone(t *testing.T) {
	b := defectBench(t, "right", "right", "enter").sees("Defect 13, note, open: torch is flat")
	b.keys("y").sees("no fault card is walked for it: f chooses one")
	b.keys("d").fillsIn("new cells").sees("No defect is open")
	b.keys("1").seesNot("torch")
}

func TestReadyLeadsToTheDefect(t *testing.T) {
	b := defectBench(t, "n").fillsIn("reads warm", "stop", "", "1")
	b.keys("1", "g").sees("reads warm").keys("enter").sees("[5 Engine]", "stop, open: reads warm", "Look 1 of 4")
}

func TestAServiceIsWrittenDownByKeys(t *testing.T) {
	b := defectBench(t, "left").sees("> anode").keys("d").sees("anode: done; nothing is written before the end")
	n := len(b.entries)
	b.fillsIn("tomorrow").sees("is not a date")
	b.keys("ctrl+u").fillsIn("2027-01-01").sees("is in the future")
	b.keys("ctrl+u").fillsIn("", "").fillsIn("20").sees("is no time taken")
	b.keys("ctrl+u").fillsIn("20 min", "impeller@box 3", "gone", "half left")
	require.Len(t, b.entries, n, "nothing is written before the word")
	b.fillsIn("yes")
	require.Len(t, b.entries, n+1)
	done := b.acts()[n].(checklist.ServiceDone)
	assert.Equal(t, checklist.ServiceDone{
		Service: "anode", Date: done.Date, Hours: 400, Minutes: 20, Planned: 20, Note: "half left",
		Parts: []checklist.PartTaken{{Spare: "impeller", Place: "fore peak / box 3", Count: 1}},
	}, done)
	b.seesNot("anode: overdue")
}

// Tab writes the usual proof out, to be changed; it never comes by itself, and never instead of what was typed.
func TestTheUsualProofIsTakenOrChanged(t *testing.T) {
	b := warmDefect(t).size(200, 40).keys("m").fillsIn("two vanes gone", "new impeller", "impeller", "gone", "45 min", "50 min")
	n := len(b.entries)
	b.sees("Type usual to take it, or tab to write it out and change it: > " + b.m.facts.look.caret + " enter take it")
	b.types("anchor 1900").keys("tab").sees("ctrl+u empties the line; then tab writes the usual out", "> anchor 1900")
	b.keys("ctrl+u", "tab").sees("on under sail, and look again\"")
	for range len(" within 2 h else \"turn back, or go on under sail, and look again\"") {
		b.keys("backspace")
	}
	require.Len(t, b.entries, n, "nothing is written by writing it out")
	b.types(" within 1 h").keys("enter")
	require.Len(t, b.entries, n+1)
	assert.Equal(t, []checklist.ProofWanted{
		{At: machinery.ProofAtAnchor, RPM: 2000, For: "15 min", CoolantMax: "83 °C"},
		{At: machinery.ProofAtSea, Within: "1 h", RPM: 2000, For: "45 min", CoolantMax: "83 °C"},
	}, b.acts()[n].(checklist.DefectAct).Proofs)

	before := defectBench(t, "n").keys("tab").view()
	assert.Equal(t, defectBench(t, "n").view(), before, "elsewhere tab writes nothing")
}

// A held enter takes every answer that may be left out; what clears a service is a word that no held key types.
func TestAHeldEnterWritesNoServiceDown(t *testing.T) {
	b := defectBench(t, "left", "d")
	n := len(b.entries)
	for range 20 {
		b.keys("enter")
	}
	assert.Len(t, b.entries, n)
	b.sees("Is it done, and written here as it was?").fillsIn("no").sees(`"no" is not yes; backspace goes back`)
	b.keys("ctrl+u").fillsIn("y")
	require.Len(t, b.entries, n+1)
	assert.Equal(t, "anode", b.acts()[n].(checklist.ServiceDone).Service)
}

func TestLeavingAFormAsksAndWritesNothing(t *testing.T) {
	b := defectBench(t, "n").fillsIn("reads warm")
	n := len(b.entries)
	b.keys("ctrl+c").sees("What was typed is not taken yet")
	b.keys("j", "backspace", "backspace", "backspace")
	b = defectBench(t, "n").keys("backspace").sees("nothing was written")
	assert.Len(t, b.entries, n)
}

func TestEveryDefectScreenFitsAnySize(t *testing.T) {
	boats := []func(*testing.T) *bench{warmDefect, provedDefect, func(t *testing.T) *bench { return defectBench(t) }, func(t *testing.T) *bench {
		d := soiled()
		d.Cards = []machinery.Card{{Sign: evil, First: evil, Caution: evil, Looks: []machinery.Look{{At: evil, How: evil, Tools: []string{evil}, RulesOut: evil, Means: evil}}}}
		b := newBench(t, d, checklist.DefectAct{What: evil, Grade: machinery.Limit, Card: evil, Seen: []checklist.ReadingValue{{Of: evil, Value: *anyValue("82 °C")}}},
			checklist.StepTaken{Defect: 1, Card: evil, Look: evil, Seen: machinery.FoundBad, Note: evil},
			checklist.DefectAct{Of: 1, Repaired: true, Cause: evil, Why: evil, Proofs: []checklist.ProofWanted{{At: machinery.ProofAtSea, RPM: 2000, For: "15 min", Else: evil}}})
		return b.keys("5", "right", "right", "enter")
	}}
	pressed := []string{"n", "m", "f", "d", "x", "y", "c", "enter", "esc", "backspace", "j", "k", "pgdown", "pgup", "right", "left", "limit", "stop", "worn", "1", "usual", "20 min", "impeller", "yes", "ctrl+u", "tab", "q", "5", "?", "漢字"}
	rapid.Check(t, func(rt *rapid.T) {
		b := boats[rapid.IntRange(0, len(boats)-1).Draw(rt, "boat")](t)
		b.m.facts.look.glyphs = newGlyphs(Glyphs(rapid.IntRange(0, 2).Draw(rt, "glyphs")))
		w, h := rapid.IntRange(0, 200).Draw(rt, "w"), rapid.IntRange(0, 60).Draw(rt, "h")
		b.size(w, h)
		for range rapid.IntRange(0, 30).Draw(rt, "n") {
			before := len(b.entries)
			b.keys(rapid.SampledFrom(pressed).Draw(rt, "key"))
			requireFits(rt, b.m.View(), w, h)
			require.LessOrEqual(rt, len(b.entries), before+1, "one key writes one entry at most")
			if b.quit {
				return
			}
		}
	})
}
