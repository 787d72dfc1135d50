package tui

import (
	"context"
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

func stretchOf(length, endurance, last float64) provisions.Stretch {
	return provisions.Stretch{Length: length, Endurance: provisions.Days{Days: endurance}, LastDrop: provisions.Days{Days: last}}
}

// answers are the checks answered in the record, in order.
func (b *bench) answers() []string {
	var list []string
	for _, act := range b.acts() {
		if a, is := act.(checklist.Answer); is {
			list = append(list, strings.TrimPrefix(a.Section+a.Check, " ")+": "+string(a.Answer))
		}
	}
	return list
}

func TestKeysAskForActs(t *testing.T) {
	answer := func(check, word, say, why string, grade machinery.Grade) action {
		return recordEntry{wishAnswer{checklist.AnswerInput{Check: check, Word: word, Say: say, Why: why, Grade: grade}}}
	}
	cases := []struct {
		name  string
		start func(facts) screen
		d     checklist.Definitions
		acts  []checklist.Act
		keys  []string
		want  []action // of the last key
	}{
		{"enter on a check walks to it", at(ready{cursor: 4}), wanting(), nil, []string{"enter"}, []action{openAt{roundsScreen, target{check: "seacock"}}}},
		{"enter on soundings goes to the first tank", at(ready{cursor: 3}), wanting(), nil, []string{"enter"}, []action{openAt{storesScreen, target{tank: "forward water"}}}},
		{"enter on what is short goes where it is kept", at(ready{cursor: 2}), wanting(), nil, []string{"enter"}, []action{openAt{storesScreen, target{tank: "forward water"}}}},
		{"enter on a spare goes to it", at(ready{}), wanting(), nil, []string{"enter"}, []action{openAt{gearScreen, target{spare: "impeller"}}}},
		{"q leaves", at(ready{}), wanting(), nil, []string{"q"}, []action{closeScreen{}}},
		{"a caution is accepted with the words typed", at(ready{cursor: 5}), wanting(), nil, []string{"a", "o", "l", "d", "enter"},
			[]action{recordEntry{wishAccept{"service:anode", "old"}}}},
		{"a caution is not accepted without words", at(ready{cursor: 5}), wanting(), nil, []string{"a", "enter"}, nil},

		{"a tank is sounded as typed", at(stores{}), wanting(), nil, []string{"s", "6", "2", " ", "%", "enter"}, []action{recordEntry{wishSound{"forward water", "62 %"}}}},
		{"a dip", at(stores{}), wanting(), nil, []string{"s", "1", "2", "0", " ", "m", "m", "enter"}, []action{recordEntry{wishSound{"forward water", "120 mm"}}}},
		{"a level that cannot be is not asked for", at(stores{}), wanting(), nil, []string{"s", "9", "0", "0", " ", "L", "enter"}, nil},
		{"a fill", at(stores{}), wanting(), nil, []string{"f", "f", "u", "l", "l", "enter"}, []action{recordEntry{wishFill{tank: "forward water", amount: "full"}}}},
		{"a fill from another tank", at(stores{cursor: 1}), wanting(), nil,
			append(append([]string{"t", "9", " ", "L", "enter"}, strings.Split("forward water", "")...), "enter"),
			[]action{recordEntry{wishFill{tank: "after water", amount: "9 L", from: "forward water"}}}},
		{"a lot is counted by its date and place", at(stores{cursor: 6}), wanting(), nil, []string{"c", "9", "enter"},
			[]action{recordEntry{wishCount{checklist.Count{Food: "rice", Packs: 9, BestBefore: date(2028, 2, 1), Place: "saloon / port locker"}}}}},
		{"all lots together", at(stores{cursor: 6}), wanting(), nil, []string{"C", "9", "enter"}, []action{recordEntry{wishCount{checklist.Count{Food: "rice", Packs: 9}}}}},
		{"no number of packs", at(stores{cursor: 6}), wanting(), nil, []string{"c", "N", "a", "N", "enter"}, nil},
		{"s does nothing to what is to be loaded", at(stores{cursor: 5}), wanting(), nil, []string{"s"}, nil},
		{"nor is it counted", at(stores{cursor: 5}), wanting(), nil, []string{"c", "9", "enter"}, nil},
		{"s does nothing to a food", at(stores{cursor: 6}), wanting(), nil, []string{"s"}, nil},

		{"right", walkAt("seacock"), wanting(), nil, []string{"y"}, []action{answer("seacock", "right", "", "", ""), holdKey{"y"}}},
		{"could not look", walkAt("seacock"), wanting(), nil, []string{"c"}, []action{answer("seacock", "could not look", "", "", ""), holdKey{"c"}}},
		{"right with its word of evidence", walkAt("oil"), wanting(), nil, []string{"y", "u", "p", "enter"}, []action{answer("oil", "right", "up", "", ""), holdKey{"enter"}}},
		{"no evidence, no answer", walkAt("oil"), wanting(), nil, []string{"y", "enter"}, nil},
		{"not right wants words", walkAt("seacock"), wanting(), nil, []string{"n", "b", "a", "d", "enter"}, []action{answer("seacock", "not right", "", "bad", ""), holdKey{"enter"}}},
		{"not right without words is no answer", walkAt("seacock"), wanting(), nil, []string{"n", "enter"}, nil},
		{"not critical: how far it stops her", walkAt("rails"), wanting(), nil, []string{"n", "b", "a", "d", "enter", "l"},
			[]action{answer("rails", "not right", "", "bad", machinery.Limit), holdKey{"l"}}},
		{"no grade by any other key", walkAt("rails"), wanting(), nil, []string{"n", "b", "a", "d", "enter", "y"}, nil},
		{"a reading", walkAt("volts"), wanting(), nil, []string{"v", "1", "2", ".", "7", " ", "V", "enter"}, []action{answer("volts", "12.7 V", "", "", ""), holdKey{"enter"}}},
		{"a reading is not ticked: its value is asked for", walkAt("volts"), wanting(), nil, []string{"y", "1", "2", ".", "7", " ", "V", "enter"},
			[]action{answer("volts", "12.7 V", "", "", ""), holdKey{"enter"}}},
		{"words about a reading are no value and drive nothing", walkAt("volts"), wanting(), nil, append([]string{"n"}, append(strings.Split("hose clip yes", ""), "enter")...), nil},
		{"a reading of another kind", walkAt("volts"), wanting(), nil, []string{"v", "8", "0", " ", "C", "enter"}, nil},
		{"not aboard", walkAt("rails"), wanting(), nil, []string{"x"}, []action{answer("rails", "not aboard", "", "", ""), holdKey{"x"}}},
		{"not aboard is no answer to a critical check", walkAt("hatches"), wanting(), nil, []string{"x"},
			[]action{say{criticalAboard}}},
		{"what waits is told", walkAt("exhaust"), wanting(), nil, []string{"y"}, []action{say{"seacock must be right first"}}},
		{"the program's own check", walkAt("water-lasts"), wanting(), nil, []string{"y"}, []action{say{"the program answers it"}}},
		{"enter answers nothing", walkAt("seacock"), wanting(), nil, []string{"enter"}, nil},
		{"a section is closed", at(rounds{walking: true, walk: walk{round: "Before leaving", step: "closing Engine", touched: evening}}), fitBoat(), allGood()[:8], []string{"d"},
			[]action{recordEntry{wishClosing{"Before leaving", "Engine"}}, holdKey{"d"}}},

		{"signing is refused", at(record{}), wanting(), nil, []string{"s"}, []action{readFiles{}}},
		{"enter on the refusal goes to Ready", at(record{}), wanting(), nil, []string{"s", "enter"}, []action{openScreen{readyScreen}}},
		{"signed with a name and one confirmation", at(record{}), fitBoat(), allGood(), []string{"s", "M", "e", "enter", "y"},
			[]action{recordEntry{wishSign{"Me"}}, holdKey{"y"}}},
		{"not signed without the confirmation", at(record{}), fitBoat(), allGood(), []string{"s", "M", "e", "enter", "n"}, []action{say{"nothing was signed"}}},
		{"enter does not confirm", at(record{}), fitBoat(), allGood(), []string{"s", "M", "e", "enter", "enter"}, nil},
		{"an entry is struck with a reason", at(record{}), fitBoat(), allGood(), []string{"x", "n", "o", "enter"}, []action{recordEntry{wishCorrect{12, "no"}}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f := newBench(t, c.d, c.acts...).m.facts
			s := c.start(f)
			var got []action
			for _, name := range c.keys {
				s, got = s.update(f, press{KeyMsg: keyMsg(name)})
			}
			assert.Equal(t, c.want, got)
		})
	}
}

func at(s screen) func(facts) screen { return func(facts) screen { return s } }

func walkAt(check string) func(facts) screen {
	return func(f facts) screen { return rounds{}.aim(f, target{check: check}) }
}

func TestOneKeyAnswersOneCheckHoweverFastItComes(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter")
	b.slow = true
	b.keys("y", "c", "y", "c", "y", "c", "y")
	assert.Empty(t, b.answers(), "nothing is on the disk yet")
	b.land()
	assert.Equal(t, []string{"seacock: right"}, b.answers(), "keys pressed before the first answer was on the disk")
}

func TestKeysThatComeTogetherAnswerOneCheck(t *testing.T) {
	for _, together := range []string{"cccc", "cyny", "cjcjc"} {
		b := newBench(t, fitBoat()).keys("4", "enter", together)
		assert.Equal(t, []string{"seacock: could not look"}, b.answers(), together)
	}
}

func TestOnlyTheFirstOfSeveralKeysAnswers(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter", "jc", "kc", "gc")
	assert.Empty(t, b.answers(), "the key that answers came behind another")
}

func TestAHeldKeyNeverAnswersASecondCheck(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter", "c")
	for range 100 {
		b.keys("c") // each repeat comes before the times of the one before are over
	}
	b.sees("let go of the key")
	require.Equal(t, []string{"seacock: could not look"}, b.answers())

	first := b.waits[:len(b.waits)-1]
	last := b.waits[len(b.waits)-1]
	for _, w := range first {
		b.send(w.msg)
	}
	b.keys("c")
	require.Len(t, b.answers(), 1, "the first pause is over, and the key still comes")
	b.send(last.msg)
	b.keys("c")
	require.Len(t, b.answers(), 1, "it came again meanwhile")
	b.settle().keys("c")
	assert.Equal(t, []string{"seacock: could not look", "oil: could not look"}, b.answers(), "it was let go")
}

func TestAKeyHeldThroughTheFirstPauseOfAKeyboardAnswersOnce(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter", "c")
	require.Len(t, b.waits, 1)
	assert.GreaterOrEqual(t, b.waits[0].length, 700*time.Millisecond, "X waits 660 ms before it repeats a key")
	b.keys("c")
	assert.Len(t, b.answers(), 1)
}

func TestAnotherKeyMayAnswerTheNextCheckAtOnce(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter", "y", "c")
	assert.Equal(t, []string{"seacock: right", "oil: could not look"}, b.answers())
}

func TestTheCautionIsSeenBeforeAKeyAnswers(t *testing.T) {
	d := fitBoat()
	d.Rounds[0].Sections[0].Caution = strings.Repeat("Hands off the belts, whatever they say. ", 12)
	b := newBench(t, d).size(40, 12).keys("4", "enter", "c")
	require.Empty(t, b.answers(), "the check was not to be seen yet")
	b.sees("there is more to read first")
	for range 3 {
		b.keys("pgdown")
	}
	b.keys("c")
	assert.Equal(t, []string{"seacock: could not look"}, b.answers())
}

func TestAnAnswerShowsOnlyOnceItIsOnTheDisk(t *testing.T) {
	b := newBench(t, fitBoat()).size(80, 24).keys("4", "enter")
	b.slow = true
	b.keys("y").sees("Raw-water seacock CAUTION", "> not answered Raw-water seacock")
	b.land().sees("Engine oil right is", "right Raw-water seacock", "seacock: right. On the disk, entry 1")
}

func TestEntriesReachTheDiskInTheOrderInWhichTheyWereAskedFor(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3")
	b.slow = true
	for _, level := range []string{"10 L", "20 L", "30 L", "40 L"} {
		b.keys("s").types(level).keys("enter")
	}
	require.Len(t, b.later, 1, "one write in flight")
	b.land()
	var got []string
	for _, act := range b.acts() {
		got = append(got, act.(checklist.Sound).Level)
	}
	assert.Equal(t, []string{"10 L", "20 L", "30 L", "40 L"}, got)
}

func TestAWriteErrorStaysAndKeepsTheEntries(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3")
	b.fails = errDiskFull
	b.keys("s").types("10 L").keys("enter", "s").types("20 L").keys("enter")
	b.sees("NOT ON THE DISK: 2 entries", "no space left")
	assert.Equal(t, 1, b.calls, "the second waits for the first")

	b.keys("j", "k").sees("NOT ON THE DISK").keys("q").sees("LOST").keys("q").sees("NOT ON THE DISK")
	assert.False(t, b.quit)

	b.fails = nil
	b.keys("w").seesNot("NOT ON THE DISK")
	assert.Equal(t, []checklist.Act{checklist.Sound{Tank: "forward water", Level: "10 L"}, checklist.Sound{Tank: "forward water", Level: "20 L"}}, b.acts())
}

func TestLeavingWithoutWhatIsNotWrittenTakesASecondKey(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3")
	b.fails = errDiskFull
	b.keys("s").types("10 L").keys("enter", "ctrl+c")
	require.False(t, b.quit)
	b.keys("L")
	assert.True(t, b.quit)
	assert.Empty(t, b.m.queue)
}

func TestLeavingWaitsForTheDisk(t *testing.T) {
	for _, leave := range [][]string{{"q", "q"}, {"ctrl+c"}} {
		b := newBench(t, fitBoat()).keys("3")
		b.slow = true
		b.keys("s").types("10 L").keys("enter").keys(leave...)
		require.False(t, b.quit, "%v: an entry is on its way", leave)
		b.land()
		assert.True(t, b.quit, leave)
		assert.Len(t, b.entries, 1, leave)
	}
}

func TestAWriteErrorStopsTheLeaving(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3")
	b.slow, b.fails = true, errDiskFull
	b.keys("s").types("10 L").keys("enter", "q", "q").land()
	b.sees("NOT ON THE DISK")
	b.fails = nil
	b.keys("w")
	assert.False(t, b.quit, "it was not asked for again")
	assert.Len(t, b.entries, 1)
}

func TestARefusalByTheTimeItIsWrittenIsTold(t *testing.T) {
	b := newBench(t, fitBoat(), checklist.Sound{Tank: "after water", Level: "20 L"}).keys("3", "t").types("15 L").keys("enter").types("after water")
	b.slow = true
	b.keys("enter")
	b.add(checklist.Sound{Tank: "after water", Level: "1 L"}) // another program on the same boat
	b.keys("ctrl+c").land()
	b.sees("was not written", "after water holds 1.0 L")
	assert.False(t, b.quit, "it must be seen")
	assert.Empty(t, b.m.queue)
}

func TestAPanicWhileWritingLosesNothing(t *testing.T) {
	b := newBench(t, fitBoat())
	calls := 0
	b.m.writer.add = func(decide func([]checklist.Entry) (checklist.Act, error)) ([]checklist.Entry, []string, error) {
		if calls++; calls == 1 {
			panic("the disk fell overboard")
		}
		return b.append(decide)
	}
	b.keys("3", "s").types("10 L").keys("enter").sees("NOT ON THE DISK", "the disk fell overboard")
	b.keys("w")
	assert.Len(t, b.entries, 1)
}

func TestAnErrorBesidesAWrittenEntryIsANotice(t *testing.T) {
	b := newBench(t, fitBoat())
	b.m.writer.add = func(decide func([]checklist.Entry) (checklist.Act, error)) ([]checklist.Entry, []string, error) {
		entries, notices, _ := b.append(decide)
		return entries, notices, errDiskFull
	}
	b.keys("3", "s").types("10 L").keys("enter").sees("On the disk, entry 1", "no space left").seesNot("NOT ON THE DISK")
}

func TestTheWalkGoesOnFromWhereItWasBrokenOff(t *testing.T) {
	cases := []struct {
		name   string
		acts   []checklist.Act
		pause  time.Duration
		fresh  bool // the program was ended meanwhile
		sees   []string
		atStep string
	}{
		{"a short pause goes on", allGood()[4:5], 9 * time.Minute, false, nil, "check oil"},
		{"cut off: the last check again", allGood()[4:5], 3 * time.Minute, true, []string{"You stopped here 3 min ago"}, "check seacock"},
		{"more than 10 min: the last check again", allGood()[4:5], 11 * time.Minute, false, []string{"You stopped here 11 min ago"}, "check seacock"},
		{"30 min: the last check again", allGood()[4:6], 30 * time.Minute, true, []string{"You stopped here 30 min ago"}, "check oil"},
		{"more, done and ticked: the section again", allGood()[4:6], 31 * time.Minute, true, []string{"You stopped in this section 31 min ago"}, "check seacock"},
		{"more, looked and confirmed: the last check again", allGood()[4:10], 45 * time.Minute, true, []string{"You stopped here 45 min ago"}, "check hatches"},
		{"another day is another walk", allGood()[4:5], 13 * time.Hour, true, nil, "check oil"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := newBench(t, fitBoat(), c.acts...)
			if !c.fresh {
				b.keys("4", "enter")
				b.m.screens[roundsScreen] = rounds{walking: true, walk: walk{round: "Before leaving", step: "check oil", touched: b.now}}
			}
			b.now = b.now.Add(c.pause)
			if c.fresh {
				b.restart().keys("4", "enter")
			} else {
				b.keys("1", "4", "c") // the first key after a long pause answers nothing
			}
			b.sees(c.sees...)
			if c.name == "a short pause goes on" {
				assert.Equal(t, "oil: could not look", b.answers()[1])
				return
			}
			assert.Equal(t, c.atStep, b.m.screens[roundsScreen].(rounds).walk.step)
			assert.Len(t, b.entries, len(c.acts))
		})
	}
}

func TestTenMinutesSharpIsNoLongPause(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter", "y", "q")
	b.now = b.now.Add(10 * time.Minute)
	b.keys("enter").sees("> not answered Engine oil").keys("q")
	b.now = b.now.Add(10*time.Minute + time.Second)
	b.keys("enter").sees("> asked again Raw-water seacock")
}

func TestTheRoundToBeSignedOnComesFirst(t *testing.T) {
	d := fitBoat()
	d.Rounds[0], d.Rounds[1] = d.Rounds[1], d.Rounds[0]
	newBench(t, d).keys("4").sees("> Before leaving: 7 checks").keys("enter").sees("Before leaving · Engine")
}

func TestASectionBegunAgainIsAskedWhole(t *testing.T) {
	b := newBench(t, fitBoat(), allGood()[4:7]...)
	b.now = b.now.Add(40 * time.Minute)
	b.restart().keys("4", "enter", "y").settle()
	b.sees("Engine oil", "asked again").keys("y").types("mark").keys("enter").settle()
	b.keys("y").settle()
	assert.Equal(t, "check volts", b.m.screens[roundsScreen].(rounds).walk.step)
	assert.Equal(t, []string{"seacock: right", "oil: right", "exhaust: right", "seacock: right", "oil: right", "exhaust: right"}, b.answers())
}

func TestTheWholeWalk(t *testing.T) {
	b := newBench(t, fitBoat(), allGood()[:4]...).keys("4", "enter")
	b.keys("y").settle().keys("y").types("upper").keys("enter").settle().keys("y").settle().keys("v").types("12.8 V").keys("enter").settle()
	b.sees("The section ends with: Engine done: key on its hook").keys("y", "enter").sees("The section ends with").keys("d").settle()
	b.keys("y").settle().keys("x").settle().keys("d")
	b.sees("walked to its end", "Guard rails: not aboard")
	assert.Equal(t, []string{"seacock: right", "oil: right", "exhaust: right", "volts: right", "Engine: section done", "hatches: right", "rails: not aboard", "Deck: section done"}, b.answers())
	b.keys("1").sees("READY")
}

func TestWhatWaitsIsLeftOutAndTold(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter").keys("c", "y").types("upper").keys("enter").settle()
	assert.Equal(t, "check volts", b.m.screens[roundsScreen].(rounds).walk.step, "the exhaust waits for the seacock")
	b.keys("v").types("12.8 V").keys("enter").settle().keys("y", "c", "d").settle()
	b.sees("walked to its end", "Water at the exhaust: waits: seacock must be right first", "not closed: Engine")
}

func TestSigningFromBeginningToEnd(t *testing.T) {
	b := newBench(t, fitBoat(), allGood()...).keys("7", "s").types("A. Skipper").keys("enter")
	b.sees("Sign off Grey Plover as A. Skipper?", "The walk: 5 critical checks")
	b.keys("y").sees("Signed by A. Skipper and in force until", "On the disk, entry 13")
	sign, is := b.acts()[12].(checklist.Sign)
	require.True(t, is)
	assert.Equal(t, "A. Skipper", sign.Name)
	b.keys("g", "enter").sees("signed by A. Skipper", "entry 13 of the record, digits "+b.entries[12].Sum[:8], "Alder Quay to Birch Sound")
}

func TestSigningIsReadToItsEndAndConfirmedByAKeyOfItsOwn(t *testing.T) {
	b := newBench(t, fitBoat(), allGood()...).size(40, 12).keys("7", "s").types("Me").keys("enter", "y")
	assert.Len(t, b.entries, 12, "there was more to read")
	b.keys("G", "jy").sees("y sign")
	assert.Len(t, b.entries, 12, "the key came behind another")
	b.keys("G", "y")
	assert.Len(t, b.entries, 13)
}

func TestThreeAreListedAndFourAreOneLine(t *testing.T) {
	newBench(t, fitBoat(), allGood()[:1]...).sees("after water: never sounded", "gas bottle: never sounded")
	b := newBench(t, fitBoat()).sees("4 tanks and foods want a sounding or a count: forward water, after water, diesel, gas bottle")
	b.seesNot("gas bottle: never sounded").keys("o").sees("gas bottle: never sounded").keys("h").seesNot("gas bottle: never sounded")
}

func TestALongReasonIsReadToItsEndOnASmallScreen(t *testing.T) {
	d := wanting()
	d.Spares[0].Stowed[0].Place = "fore peak / under the chain / the third box from the port side / in a tin with a blue lid / wrapped in a cloth / below the flags"
	b := newBench(t, d).size(40, 12).sees("> impeller", "more to read: pgdn").seesNot("only with a shop")
	b.keys("pgdown").sees("only with a shop").keys("pgup").sees("> impeller: a coastal passage").keys("j").sees("> beacon battery")
}

func TestSigningNamesEverythingInTheWayAndWhatClearsIt(t *testing.T) {
	b := newBench(t, wanting()).keys("7", "s")
	n := len(b.m.facts.assessment.Blockers)
	b.sees("Signing is refused: "+count(n, "", "things stand in the way"), "1. impeller", "2. beacon battery", "Clears it: renew it", "3. water",
		"4. 4 tanks and foods want a sounding or a count", "5. 5 critical checks want an answer: walk the round")
	assert.Empty(t, b.entries)
	b.size(40, 12).sees("more to read: pgdn").seesNot("walk the round").keys("G").sees("walk the round", "enter: 1 Ready")
}

func TestTheDepartureIsMovedForTheSignOff(t *testing.T) {
	planned := fitBoat().Plan.Depart
	b := newBench(t, fitBoat(), allGood()...).keys("7", "m").types("09:00").keys("enter").sees("departure moved: 2 Jun 09:00 (files: 2 Jun 06:00)")
	b.keys("1").sees("leaving Tue 2 Jun 09:00").send(minutePassedMsg{}).sees("leaving Tue 2 Jun 09:00")
	b.keys("7", "s").types("Me").keys("enter").sees("leaving Tue 2 Jun 2026 09:00").keys("y")
	sign := b.acts()[12].(checklist.Sign)
	assert.Equal(t, planned.Add(3*time.Hour), sign.Depart)
	assert.True(t, sign.Moved)
	b.keys("m").types("as planned").keys("enter").seesNot("departure moved")
	b.restart().sees("leaving Tue 2 Jun 09:00")
}

func TestWhatHappenedIsToldFromReadyAndFromTheRounds(t *testing.T) {
	b := newBench(t, fitBoat(), allGood()...).keys("e").sees("What happened?", "> seacock moved: asks again seacock", "something else, in your own words")
	b.keys("enter").sees("it happened: seacock moved. On the disk, entry 13", "NOT READY")
	assert.Equal(t, checklist.Event{What: "seacock moved"}, b.acts()[12])

	b.keys("4", "e", "j", "enter").types("seacock movd").keys("enter").sees(`did you mean "seacock moved"`, "> seacock movd")
	b.keys("ctrl+u").types("a whale by the yard").keys("enter")
	assert.Equal(t, checklist.Event{What: "a whale by the yard"}, b.acts()[13])

	b.keys("enter", "e").sees("What happened?").keys("q").sees("nothing was written", "> asked again Guard rails")
	b.keys("n", "e").sees("> e").keys("backspace", "backspace", "c")
	assert.Equal(t, "rails: could not look", b.answers()[len(b.answers())-1])
}

func TestNoKeyAnswersWhatIsNotShown(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter").size(39, 24).sees("too small").keys("y", "c", "enter")
	assert.Empty(t, b.entries)
	b.size(80, 24).sees("Raw-water seacock").keys("c")
	assert.Len(t, b.entries, 1)
	b.size(39, 11).keys("ctrl+c")
	assert.True(t, b.quit)
}

func TestAKeyThatCannotBeUsedSaysWhy(t *testing.T) {
	newBench(t, wanting()).keys("a").sees("no caution is selected")
	newBench(t, wanting()).keys("3", "c").sees("no food is selected")
	newBench(t, wanting()).keys("4", "enter", "v").sees("this check has no value: y right, or n not right")
}

// A skipper who takes a reading for a tick types words into no question.
func TestProseDrivesNoWalk(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter", "h", "l").sees("Raw-water seacock")
	b.keys("q", "l", "h").sees("Rounds for this passage")
	assert.Empty(t, b.entries)
}

func TestWhatWasPassedOverComesBeforeTheNextSection(t *testing.T) {
	b := newBench(t, fitBoat()).keys("4", "enter", "j", "y").types("upper").keys("enter").settle()
	b.keys("v").types("12.8 V").keys("enter").settle()
	assert.Equal(t, "check seacock", b.m.screens[roundsScreen].(rounds).walk.step)
	b.keys("y").settle()
	assert.Equal(t, "check exhaust", b.m.screens[roundsScreen].(rounds).walk.step, "it waited for the seacock")
	b.keys("y").settle().sees("The section ends with")
}

func TestAStruckEntryIsMarkedInTheList(t *testing.T) {
	b := newBench(t, fitBoat(), allGood()[:2]...).keys("7", "x").types("wrong tank").keys("enter")
	b.sees("2. 1 Jun 18:00: after water sounded: full (100 L) (counts as never written)", "3. 1 Jun 18:00: entry 2 counts as never written: wrong tank")
}

func TestATankTellsWhatWasFilledSinceItWasSounded(t *testing.T) {
	b := newBench(t, fitBoat(), checklist.Sound{Tank: "forward water", Level: "50 %"}, checklist.Fill{Tank: "forward water", Amount: "40 L"}).keys("3")
	b.sees("water: 140 L of 200 L, read off as a share, then 40 L filled.")
}

func TestExamplesOfAmountsAreInTheUnitsOfTheScreens(t *testing.T) {
	d := fitBoat()
	d.Boat.Units = quantity.US
	newBench(t, d).keys("3", "s").sees(`"20 US gal"`)
}

func TestSigningWaitsForAReasonForEachCaution(t *testing.T) {
	d := fitBoat()
	d.Services = wanting().Services
	b := newBench(t, d, allGood()...).keys("7", "s").sees("Signing waits: 1 caution wants your reason", "anode")
	b.keys("enter", "a").types("no yard here").keys("enter").sees("anode: accepted: no yard here")
	b.keys("7", "s").types("Me").keys("enter").sees("1 exception", "anode: overdue", "Because: no yard here").keys("y")
	sign := b.acts()[len(b.entries)-1].(checklist.Sign)
	require.Len(t, sign.Exceptions, 1)
	assert.Equal(t, "no yard here", sign.Exceptions[0].Why)
	b.keys("1", "g").sees("READY and signed", "each wants a new reason before the next sign-off", "anode: accepted in the sign-off: no yard here").seesNot("no reason yet")
	b.now = b.now.Add(80 * time.Hour) // the departure that is past becomes now: another passage
	b.send(minutePassedMsg{}).keys("G", "k", "k").sees("is past: reckoned from now").sees("no reason yet: anode", "second passage running")
}

func TestNoSigningWhileTheFilesCannotBeRead(t *testing.T) {
	b := newBench(t, fitBoat(), allGood()...)
	b.m.settings.Reload = func() (checklist.Definitions, []checklist.Entry, error) {
		return checklist.Definitions{}, nil, errDiskFull
	}
	b.keys("7", "s").sees("have a mistake").types("Me").keys("enter", "y").sees("refused: the boat's files")
	assert.Len(t, b.entries, 12)
}

func TestTheClockIsSettledWithAKeyOfItsOwn(t *testing.T) {
	b := newBench(t, fitBoat(), allGood()...)
	b.now = b.now.Add(-2 * time.Hour)
	b.restart()
	for i, item := range (ready{}).items(b.m.facts) {
		if item.blocker != nil && item.blocker.Matter == checklist.MatterClock {
			b.m.screens[readyScreen] = ready{cursor: i}
		}
	}
	b.keys("enter").sees("Is the clock right?").keys("enter")
	require.Len(t, b.entries, 12)
	b.keys("y")
	assert.Equal(t, checklist.ClockSettled{}, b.acts()[12])
}

func TestADefectIsClosedFromReady(t *testing.T) {
	b := newBench(t, fitBoat(), append(allGood(), checklist.Answer{Check: "hatches", Answer: checklist.NotRight, Why: "cracked", Grade: machinery.Stop})...)
	b.sees("cracked").keys("enter").types("new pane").keys("enter")
	assert.Equal(t, checklist.DefectAct{What: "cracked", Close: 13, Why: "new pane"}, b.acts()[13])
}

func TestEscapeThrowsAwayNothingTyped(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3", "s").types("62 %").keys("esc", "esc").sees("> 62 %", "ctrl+u empties the line").keys("enter")
	assert.Equal(t, []checklist.Act{checklist.Sound{Tank: "forward water", Level: "62 %"}}, b.acts())
	b.keys("s", "backspace").seesNot("what does it stand at").keys("s", "esc").seesNot("what does it stand at")
}

func TestLeavingWithWordsTypedIsAskedOnce(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3", "s").types("62").keys("ctrl+c").sees("What was typed is not taken")
	require.False(t, b.quit)
	b.keys("ctrl+c")
	assert.True(t, b.quit)
}

func TestAPasteIsTextInAQuestionAndNoKeyElsewhere(t *testing.T) {
	paste := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("62\n%"), Paste: true}
	b := newBench(t, fitBoat()).keys("4", "enter").send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("cc"), Paste: true})
	b.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("c"), Paste: true})
	assert.Empty(t, b.entries)
	b.keys("3", "s").send(paste).sees("> 62 %")
}

func TestTheFilesAreReadAgainEveryMinuteAndByKey(t *testing.T) {
	b := newBench(t, fitBoat())
	b.d = wanting()
	b.keys("r").sees("impeller", "were read again").seesNot("reading the files")
	b.d = fitBoat()
	b.now = b.now.Add(time.Minute)
	b.send(minutePassedMsg{}).seesNot("impeller")
}

func TestASlowReadingOfTheRecordUndoesNoWrittenEntry(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3")
	old := filesReadMsg{definitions: b.d, entries: b.entries}
	b.keys("s").types("62 %").keys("enter").send(old)
	assert.Equal(t, "62 %", b.m.facts.state.Tanks["forward water"].Level)
}

func TestHelpNamesOnlyKeysThatWork(t *testing.T) {
	b := newBench(t, fitBoat()).size(80, 60).keys("?")
	b.sees("Ready", "Stores", "Rounds", "Record", "write again (not now: everything is on the disk)", "defers to the skipper")
	b.sees("Passage", "Engine", "Gear").keys("q").seesNot("Keys")
	for _, key := range []string{"8"} {
		before := b.view()
		assert.Equal(t, before, b.keys(key).view(), "%s opens nothing", key)
	}
}

func TestSuspendAndRepaint(t *testing.T) {
	b := newBench(t, fitBoat())
	_, cmd := b.m.Update(keyMsg("ctrl+z"))
	assert.IsType(t, tea.SuspendMsg{}, cmd())
	_, cmd = b.m.Update(keyMsg("ctrl+l"))
	assert.IsType(t, tea.ClearScreen(), cmd())
}

func TestNoticesAndBannerAreSaid(t *testing.T) {
	b := newBench(t, fitBoat())
	b.m = New(Settings{Definitions: b.d, Clock: func() time.Time { return b.now }, Notices: []string{"the last entry was torn"}, Banner: "The demo boat"})
	b.sees("the last entry was torn", "The demo boat").keys("j").seesNot("torn").sees("The demo boat")
}

func TestRunLeavesEndsAndWrites(t *testing.T) {
	b := newBench(t, fitBoat())
	run := func(ctx context.Context, typed string) error {
		master, slave, err := pty.Open()
		require.NoError(t, err)
		t.Cleanup(func() { _ = errors.Join(master.Close(), slave.Close()) })
		require.NoError(t, pty.Setsize(slave, &pty.Winsize{Rows: 24, Cols: 80}))
		go func() {
			buffer, seen := make([]byte, 4096), ""
			for {
				n, err := master.Read(buffer)
				if err != nil {
					return
				}
				if seen += string(buffer[:n]); typed != "" && strings.Contains(seen, "READY") {
					_, _ = master.WriteString(typed) // if it fails, Run never ends and the test says so
					typed = ""
				}
			}
		}()
		s := b.m.settings
		return Run(ctx, s, slave, slave)
	}

	require.NoError(t, run(context.Background(), "3s62 %\r\x03"))
	assert.Equal(t, []checklist.Act{checklist.Sound{Tank: "forward water", Level: "62 %"}}, b.acts())

	ctx, cancel := context.WithTimeout(context.Background(), 100*time.Millisecond)
	defer cancel()
	var exit *ExitError
	require.ErrorAs(t, run(ctx, ""), &exit)
	assert.Equal(t, 143, exit.Code)
}

func TestWhatIsLeftIsWrittenAfterTheScreens(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3")
	b.slow = true
	for _, level := range []string{"10 L", "20 L"} {
		b.keys("s").types(level).keys("enter")
	}
	require.NoError(t, ended(b.m, 0, nil))
	assert.Equal(t, []checklist.Act{checklist.Sound{Tank: "forward water", Level: "10 L"}, checklist.Sound{Tank: "forward water", Level: "20 L"}}, b.acts())
	b.land()
	assert.Len(t, b.entries, 2, "a command that comes late writes nothing twice")
}

func TestWhatCannotBeWrittenAtTheEndIsNamed(t *testing.T) {
	b := newBench(t, fitBoat()).keys("3")
	b.slow, b.fails = true, errDiskFull
	b.keys("s").types("10 L").keys("enter")
	var exit *ExitError
	require.ErrorAs(t, ended(b.m, 143, nil), &exit)
	assert.Equal(t, 4, exit.Code)
	assert.ErrorIs(t, exit, errDiskFull)
	assert.Contains(t, exit.Error(), "forward water: 10 L")
}

func TestHowItEnded(t *testing.T) {
	m := newBench(t, fitBoat()).m
	for _, c := range []struct {
		name string
		code int
		err  error
		want int
	}{
		{"terminated", 143, nil, 143}, {"interrupted", 130, nil, 130}, {"hung up, and the line gave an error", 129, os.ErrClosed, 129},
		{"panic", 0, tea.ErrProgramPanic, 70}, {"no raw mode", 0, os.ErrPermission, 70},
	} {
		var exit *ExitError
		require.ErrorAs(t, ended(m, c.code, c.err), &exit, c.name)
		assert.Equal(t, c.want, exit.Code, c.name)
	}
	assert.NoError(t, ended(m, 0, nil))
}

func TestCutKeys(t *testing.T) {
	for bytes, cut := range map[string]bool{
		"\x1b": true, "\x1b[": true, "\x1bO": true, "j\x1b[1;5": true, "\xc3": true, "\xe2\x82": true,
		"": false, "j": false, "\x1b[A": false, "\x1bOA": false, "\x1bj": false, "\x1b[1;5A": false, "\x1b[Aj": false, "ä": false, "\xff": false,
	} {
		assert.Equal(t, cut, isCut([]byte(bytes)), "%q", bytes)
	}
}

func TestAKeyThatComesInTwoPartsIsReadWhole(t *testing.T) {
	r, w, err := os.Pipe()
	require.NoError(t, err)
	t.Cleanup(func() { _ = r.Close() })
	reader := escReader{File: r, ended: make(chan struct{}, 1)}
	_, err = w.WriteString("\x1b")
	require.NoError(t, err)
	go func() {
		time.Sleep(10 * time.Millisecond)
		_, _ = w.WriteString("[A")
	}()
	buffer := make([]byte, 64)
	n, err := reader.Read(buffer)
	require.NoError(t, err)
	assert.Equal(t, "\x1b[A", string(buffer[:n]))

	require.NoError(t, w.Close())
	_, err = reader.Read(buffer)
	assert.Error(t, err)
	assert.Len(t, reader.ended, 1, "the end of the line is told")
}
