package tui

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
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
	passes(b, 26*time.Hour).keys("n")
	for _, answer := range []string{"190 nm", "", "forward water=150 L after water=same", "", "", "14 kn SE", "1013 hPa", "5", "all well"} {
		b.types(answer).keys("enter")
	}
	return b
}

// passes is the same boat after a while.
func passes(b *bench, by time.Duration) *bench {
	b.now = b.now.Add(by)
	return b.send(minutePassedMsg{})
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

// The forward tank of 200 L, of which 150 L were sounded, and the after one of 100 L.
func TestTanksAreToldInTheirOrder(t *testing.T) {
	for typed, want := range map[string][]checklist.TankLevel{
		"140 L, same":                        {{Tank: "forward water", Level: "140 L"}, {Tank: "after water", Level: "100 L"}},
		"Same":                               {{Tank: "forward water", Level: "150 L"}, {Tank: "after water", Level: "100 L"}},
		"after water=90 L forward water=62%": {{Tank: "after water", Level: "90 L"}, {Tank: "forward water", Level: "62%"}},
	} {
		b := passes(atNoon(t), 3*time.Hour).keys("n", "enter", "enter").types(typed).keys("enter").sees("Fuel, last")
		for range 6 {
			b.keys("enter")
		}
		noon, is := b.last().(checklist.Noon)
		require.True(t, is, typed)
		assert.Equal(t, want, noon.Levels, typed)
	}
	for typed, says := range map[string]string{
		"140 L":               `"140 L"`,
		"140 L, same, same":   `"140 L, same, same"`,
		"140 L, none of it":   "none of it",
		"140 L, ":             "",
		"forward water=140 L": "after water is not told",
		"forward=140 L":       "forward",
	} {
		b := passes(atNoon(t), 3*time.Hour).keys("n", "enter", "enter").types(typed).keys("enter")
		b.sees("> ", says, "Water, last").seesNot("Fuel, last")
	}
}

func TestWhatIsSureOnceIsNotSureOfWhatFollows(t *testing.T) {
	b := atNoon(t).keys("n").types("250 nm").keys("enter", "enter").types("900").keys("enter")
	b.sees("would have run 900.0 h", "enter says so").keys("ctrl+u").types("7").keys("enter")
	b.types("190 L, same").keys("enter").sees("and no fill was written")
	b.keys("enter").sees("Fuel, last")
	for range 6 {
		b.keys("enter")
	}
	noon := b.last().(checklist.Noon)
	assert.InDelta(t, 250, noon.ToGo, 1e-9)
	assert.InDelta(t, 7, noon.Hours, 1e-9)
	assert.Len(t, noon.Levels, 2)
}

func TestAQuestionBackKeepsWhatWasTold(t *testing.T) {
	b := atNoon(t).keys("n").types("180 nm").keys("enter").types("6").keys("enter").sees("Water, last")
	b.types("140 L, same").keys("esc").sees("ctrl+u empties the line")
	b.keys("ctrl+u", "backspace").sees("The hour-meter:", "> 6")
	b.keys("esc").sees("Noon. Miles to go", "180 nm")
	before := len(b.acts())
	b.keys("esc").sees("ctrl+u empties the line") // there is none before it
	b.keys("enter", "enter").sees("Water, last").seesNot("140 L")
	for range 7 {
		b.keys("enter")
	}
	require.Len(t, b.acts(), before+1)
	noon := b.last().(checklist.Noon)
	assert.InDelta(t, 180, noon.ToGo, 1e-9)
	assert.InDelta(t, 6, noon.Hours, 1e-9)
}

func TestANoonIsLeftFromItsFirstQuestion(t *testing.T) {
	b := atNoon(t)
	before := len(b.acts())
	b.keys("n").types("180 nm").keys("enter", "esc", "ctrl+u", "backspace").sees("nothing was written")
	require.Len(t, b.acts(), before)
}

// decided is a noon at which a decision point came up, and is asked about.
func decided(t *testing.T) *bench {
	b := atNoon(t)
	b.d.Plan.Legs[0].Decisions = []passage.Decision{{At: 120, GoOnIf: "the barometer is steady", Else: "back"}}
	b.restart().keys("7", "n").types("170 nm").keys("enter")
	for range 8 {
		b.keys("enter")
	}
	return b
}

// toProve is the fit boat, left an hour ago with a repair to be proved under way within two.
func toProve(t *testing.T) *bench {
	b := newBench(t, fitBoat(), allGood()...)
	b.add(checklist.DefectAct{What: "coolant a little high", Grade: machinery.Note})
	b.add(checklist.DefectAct{Of: len(b.entries), Repaired: true, Cause: "weed in the strainer", Proofs: []checklist.ProofWanted{
		{At: machinery.ProofAtSea, Within: "2 h", RPM: 2000, For: "45 min", Else: "back to Alder Quay under sail"},
	}})
	b.add(checklist.Depart{Passage: "Alder Quay - Birch Sound", From: "Alder Quay", To: "Birch Sound", Sign: 1})
	b.now = b.now.Add(time.Hour)
	return b.restart().keys("7")
}

// The proof stands first on the screen, with its deadline and what is done without it, and in
// short on every screen; past its deadline it is told as lost.
func TestAProofUnderWayHeadsTheScreen(t *testing.T) {
	b := toProve(t)
	lines := strings.Split(b.view(), "\n")
	assert.Contains(t, lines[1], "prove: defect 13, coolant a little high: by Mon 1 Jun 20:00")
	for _, screen := range []string{"2", "3", "4", "5", "6"} {
		second := strings.Split(b.keys(screen).view(), "\n")[1]
		assert.Equal(t, "UNDER WAY: prove defect 13 by 20:00; day 1; 300 nm to Birch Sound", second)
	}
	for range 2 {
		passes(b, time.Hour)
	}
	b.keys("3").sees("UNDER WAY: 1 NOT PROVED; ").keys("7").sees("NOT PROVED, open again", "else back to Alder Quay under sail")
	passes(b, 24*time.Hour).keys("4").sees("noon due")
}

func TestADecisionIsAskedAndAnswered(t *testing.T) {
	b := decided(t)
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

// Once she has left, nothing says when to leave.
func TestUnderWayNothingTellsWhenToLeave(t *testing.T) {
	b := atNoon(t).keys("2").sees("Reckoned from Tue 2 Jun 20:00").seesNot("eave between")
	b.keys("3").sees("to be counted on as of 2 Jun 20:00").seesNot("at departure")
}
