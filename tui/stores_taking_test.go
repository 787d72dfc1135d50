package tui

import (
	"fmt"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
)

// counts are what was counted, as it stands in the record.
func (b *bench) counts() []checklist.Count {
	var list []checklist.Count
	for _, act := range b.acts() {
		if c, is := act.(checklist.Count); is {
			list = append(list, c)
		}
	}
	return list
}

// Forty lots in ten lockers: two keys and enter each, none is passed over and none is asked twice.
func TestFortyLotsAreCountedWithANumberAndEnterEach(t *testing.T) {
	d := fitBoat()
	d.Boat.Lots = nil
	for i := range 40 {
		d.Boat.Lots = append(d.Boat.Lots, provisions.Lot{Food: "rice", Packs: 3, BestBefore: date(2028, 1, 1).AddDays(i), Place: fmt.Sprintf("locker %d", i%10)})
	}
	b := newBench(t, d).keys("3", "right", "right", "enter")
	keys := 0
	for range 40 {
		b.types("12").keys("enter")
		keys += 3
	}
	counts := b.counts()
	require.Len(t, counts, 40)
	seen := map[checklist.Count]bool{}
	for i, c := range counts {
		assert.False(t, seen[c], "counted twice: %v", c)
		seen[c] = true
		assert.InDelta(t, 12, c.Packs, 0)
		if i > 0 {
			assert.LessOrEqual(t, counts[i-1].Place, c.Place, "locker by locker")
		}
	}
	assert.Equal(t, 120, keys)
	b.sees("40 of 40 lots counted", "All is counted")
}

// A slow line brings the keys of several lots in one read; each number still goes to its own lot.
func TestNumbersTypedFasterThanTheScreenGoToTheirLots(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3", "right", "right", "enter")
	for _, n := range []string{"1", "2", "3"} {
		b.m = mustUpdate(b.m, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(n)})
		next, cmd := b.m.Update(tea.KeyMsg{Type: tea.KeyEnter})
		b.m = next.(Model)
		b.later = append(b.later, cmd)
	}
	for _, cmd := range b.later {
		b.run(cmd)
	}
	b.land()
	var told []string
	for _, c := range b.counts() {
		told = append(told, fmt.Sprintf("%s %g", c.Food, c.Packs))
	}
	assert.Equal(t, []string{"bread 1", "rice 2", "sugar 3"}, told)
}

func mustUpdate(m Model, msg tea.Msg) Model {
	next, _ := m.Update(msg)
	return next.(Model)
}

func TestStockTakingGoesOnWhereItWasLeft(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3", "right", "right", "enter").types("2").keys("enter")
	b.now = b.now.Add(2 * time.Hour)
	b.restart().keys("3", "right", "right").sees("1 of 3 lots counted", "go on where it was left").keys("enter").sees("rice (a pack is 1 kg): how many?")
	b.now = b.now.Add(24 * time.Hour)
	b.restart().keys("3", "right", "right").sees("0 of 3 lots counted")
}

func TestNothingIsCountedThatWasNotTyped(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3", "right", "right", "enter", "enter").sees("nothing was typed: 0 is none; down passes it over")
	b.keys("down", "down", "up").sees("rice (a pack").types("-1").keys("enter").sees("that is no number").keys("ctrl+u")
	b.types("nan").keys("enter").sees("tells no number of packs").keys("ctrl+u", "backspace")
	assert.Empty(t, b.counts())
	b.sees("0 of 3 lots counted")
}

func TestALotThatIsFoundIsWrittenWhereOneStands(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3", "right", "right", "enter").types("sugar 2 2027-03-01").keys("enter")
	require.Len(t, b.counts(), 1)
	assert.Equal(t, checklist.Count{Food: "sugar", Packs: 2, Place: "galley", BestBefore: date(2027, 3, 1)}, b.counts()[0])
	b.sees("bread (a pack is 0.5 kg): how many?")
}

func TestPacksAreBoughtUsedAndThrownAwayByKey(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3", "G", "k", "k", "k").until("j", "> rice")
	b.keys("b").sees("How many packs of rice were bought?").types("4 2027-05-01 in bilge").keys("enter")
	require.Len(t, b.counts(), 1)
	assert.Equal(t, checklist.Count{Food: "rice", Packs: 4, Of: 4, Did: checklist.PacksBought, BestBefore: date(2027, 5, 1), Place: "bilge"}, b.counts()[0])
	b.until("k", "best before 2027-05-01").keys("x").sees("thrown away, of this lot").types("5").keys("enter").sees("of that lot there are 4 by the record").keys("ctrl+u").types("1").keys("enter")
	assert.InDelta(t, 3, b.counts()[1].Packs, 1e-9)
	b.keys("u").sees("used beside the rations").types("1").keys("enter")
	assert.Equal(t, checklist.PacksUsed, b.counts()[2].Did)
}

func TestWhatIsToBeEatenFirstIsCountedThere(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3", "right").sees("> bread", "this week").keys("c").types("1").keys("enter")
	require.Len(t, b.counts(), 1)
	assert.Equal(t, checklist.Count{Food: "bread", Packs: 1, Bought: date(2026, 6, 1), Place: "galley"}, b.counts()[0])
	d := fitBoat()
	d.Boat.Lots = d.Boat.Lots[:1]
	newBench(t, d).keys("3", "right").sees("Nothing ends within the week").keys("c").sees("nothing ends within the week")
}

func TestWhatWasUsedIsTold(t *testing.T) {
	b := newBench(t, fitBoat())
	b.keys("3", "left").sees("Nothing is learnt yet", "No tank was sounded yet")
	for i, level := range []string{"190 L", "180 L", "170 L", "160 L"} {
		b.now = evening.Add(time.Duration(i-4) * 24 * time.Hour)
		b.add(checklist.Sound{Tank: "forward water", Level: level})
		b.add(checklist.Sound{Tank: "after water", Level: "50 L"})
	}
	b.now = evening
	b.restart().keys("3", "left").sees("5.0 L per person and day at anchor", "seen 3 times", "forward water: its soundings", "160 L").keys("j").sees("after water: its soundings")
}
