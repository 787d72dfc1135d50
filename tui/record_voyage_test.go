package tui

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
)

// signedOff is the fit boat, signed off, on screen 7.
func signedOff(t *testing.T) *bench {
	t.Helper()
	b := newBench(t, fitBoat(), allGood()...)
	return b.keys("7", "s").types("A. Skipper").keys("enter", "y").settle()
}

// atNoon is the fit boat a day out, with a noon told by keys.
func atNoon(t *testing.T) *bench {
	t.Helper()
	b := signedOff(t).keys("d", "y")
	b.now = b.now.Add(26 * time.Hour)
	b.send(minutePassedMsg{})
	b.keys("n")
	for _, answer := range []string{"190 nm", "", "forward water=150 L after water=same", "", "", "14 kn SE", "1013 hPa", "5", "all well"} {
		b.types(answer).keys("enter")
	}
	return b
}

func (b *bench) last() checklist.Act { return b.acts()[len(b.acts())-1] }

func TestSheLeavesByOneKeyAndOneConfirmation(t *testing.T) {
	b := signedOff(t).keys("d").sees("Leave: Alder Quay - Birch Sound?", "Signed off by A. Skipper")
	before := len(b.acts())
	b.keys("esc").sees("she has not left")
	require.Len(t, b.acts(), before)
	b.keys("d", "y")
	depart, is := b.last().(checklist.Depart)
	require.True(t, is)
	assert.NotZero(t, depart.Sign)
	b.sees("UNDER WAY: ").keys("d")
	require.Len(t, b.acts(), before+1, "under way there is no leaving")
}

func TestWhoMustLeaveLeavesByOneKey(t *testing.T) {
	b := newBench(t, fitBoat()).keys("7", "d").sees("Leaving is refused: ", "U: leave all the same.")
	before := len(b.acts())
	b.keys("y")
	require.Len(t, b.acts(), before, "yes is not that key")
	b.keys("U").sees("she left unsigned; the reason may follow within a day")
	depart, is := b.last().(checklist.Depart)
	require.True(t, is)
	assert.Zero(t, depart.Sign)
	assert.NotEmpty(t, depart.InTheWay)
	b.keys("e").types("the anchor dragged").keys("enter").sees("she left unsigned: the anchor dragged")
	b.keys("e")
	assert.IsType(t, checklist.Depart{}, b.last())
	assert.Equal(t, depart.Passage, b.acts()[before].(checklist.Depart).Passage)
}

func TestANoonIsToldQuestionByQuestion(t *testing.T) {
	b := atNoon(t)
	noon, is := b.last().(checklist.Noon)
	require.True(t, is)
	sleep := 5.0
	assert.Equal(t, checklist.Noon{
		To: "Birch Sound", ToGo: 190, Levels: noon.Levels, Wind: "14 kn SE", Pressure: "1013 hPa", Sleep: &sleep, Note: "all well",
	}, noon)
	require.Len(t, noon.Levels, 2)
	b.sees("UNDER WAY: ", "190 nm to Birch Sound")
}

func TestWhatIsAskedBackIsTakenWhenItIsTypedAgain(t *testing.T) {
	b := atNoon(t).keys("n").types("250 nm").keys("enter").sees("250 nm to go is more than the 190 nm before", "enter says so")
	before := len(b.acts())
	b.keys("enter").sees("The hour-meter:")
	for range 8 {
		b.keys("enter")
	}
	require.Len(t, b.acts(), before+1)
	assert.InDelta(t, 250, b.last().(checklist.Noon).ToGo, 1e-9)
}

func TestAQuestionBackKeepsWhatWasToldBefore(t *testing.T) {
	b := atNoon(t).keys("n").types("180 nm").keys("enter").sees("The hour-meter:")
	b.keys("backspace").sees("Noon. Miles to go")
	before := len(b.acts())
	b.keys("backspace").sees("nothing was written")
	require.Len(t, b.acts(), before)
}

func TestADecisionIsAskedAndAnswered(t *testing.T) {
	b := atNoon(t)
	b.d.Plan.Legs[0].Decisions = []passage.Decision{{At: 120, GoOnIf: "the barometer is steady", Else: "back"}}
	b.restart().keys("7", "n").types("170 nm").keys("enter")
	for range 8 {
		b.keys("enter")
	}
	b.sees("To be decided: 120 nm from Alder Quay: go on if the barometer is steady", "Else: back")
	b.types("no, it falls").keys("enter")
	noon := b.last().(checklist.Noon)
	require.Len(t, noon.Decided, 1)
	assert.Equal(t, checklist.DecisionAnswered{Point: "120 nm from Alder Quay: go on if the barometer is steady", Why: "it falls"}, noon.Decided[0])
}

func TestSheComesInAndThePassageIsClosed(t *testing.T) {
	b := atNoon(t).keys("a", "enter").sees("In at Birch Sound since")
	b.keys("C").types("301 nm").keys("enter")
	for range 4 { // hours and tanks
		b.keys("enter")
	}
	b.types("log impeller, a halyard").keys("enter", "enter")
	closing, is := b.last().(checklist.Arrive)
	require.True(t, is)
	assert.True(t, closing.Close)
	assert.InDelta(t, 301, closing.Miles, 1e-9)
	assert.Equal(t, []string{"log impeller", "a halyard"}, closing.Failed)
	assert.NotNil(t, b.m.facts.state.Voyage.Closed)
}

func TestAChangeOfPlanWantsItsReason(t *testing.T) {
	b := atNoon(t).keys("c").types("to another place").keys("enter", "enter").sees("nothing was typed")
	b.types("a gale").keys("enter").types("Elm Bay").keys("enter").types("60 nm").keys("enter")
	assert.Equal(t, checklist.Change{What: "to another place", Why: "a gale", To: "Elm Bay", ToGo: 60}, b.last())
	b.sees("60 nm to Elm Bay")
}
