package checklist

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// brokenOff is a round of one section of three checks, the first two answered at these times, and what is asked at now.
func brokenOff(mode Mode, first, second time.Time) Assessment {
	answer := func(id string, seq int, at time.Time) CheckView {
		c := CheckView{Check: Check{ID: id}, Applies: true, Status: StatusOpen}
		if !at.IsZero() {
			c.Status, c.Answer = StatusRight, &AnswerState{Stamp: Stamp{Seq: seq, At: at}}
		}
		return c
	}
	section := SectionView{Section: Section{Name: "engine", Mode: mode, Done: "complete"}, Checks: []CheckView{
		answer("oil", 1, first), answer("water", 2, second), {Check: Check{ID: "other"}, Status: StatusNotNeeded}, answer("belt", 3, time.Time{}),
	}}
	return Assessment{Rounds: []RoundView{{Round: Round{Name: "departure"}, Sections: []SectionView{section}}}}
}

// Design, section 5: away more than 10 min it resumes at the last answered check, asked again; in a do-then-tick section away
// more than 30 min: that section again.
func TestAWalkGoesOnWhereItWasBrokenOff(t *testing.T) {
	now := time.Date(2026, 10, 18, 17, 30, 0, 0, time.UTC)
	ago := func(d time.Duration) time.Time { return now.Add(-d) }
	for _, row := range []struct {
		name          string
		mode          Mode
		first, second time.Time
		step          string
		again         []string
		why           string
	}{
		{"never walked", DoThenTick, time.Time{}, time.Time{}, "check oil", nil, ""},
		{"23 min ago", DoThenTick, ago(25 * time.Minute), ago(23 * time.Minute), "check water", []string{"water"}, "You stopped here 23 min ago: it is asked again."},
		{"just 30 min", DoThenTick, ago(40 * time.Minute), ago(30 * time.Minute), "check water", []string{"water"}, "You stopped here 30 min ago: it is asked again."},
		{"31 min, done and ticked", DoThenTick, ago(40 * time.Minute), ago(31 * time.Minute), "check oil", []string{"oil", "water", "belt"},
			"You stopped in this section 31 min ago: it is walked again from its start."},
		{"31 min, looked at", LookThenConfirm, ago(40 * time.Minute), ago(31 * time.Minute), "check water", []string{"water"}, "You stopped here 31 min ago: it is asked again."},
		{"another walk", DoThenTick, ago(14 * time.Hour), ago(13 * time.Hour), "check belt", nil, ""},
		{"the clock went back", LookThenConfirm, ago(time.Minute), ago(-time.Hour), "check water", []string{"water"},
			"You stopped here, and the clock has been moved since: it is asked again."},
	} {
		got := brokenOff(row.mode, row.first, row.second).Resume("departure", now)
		assert.Equal(t, Resumed{Step: row.step, Again: row.again, Why: row.why}, got, row.name)
	}
	assert.Equal(t, Resumed{}, brokenOff(DoThenTick, now, now).Resume("no such round", now))
}

func TestAWalkStopsAtWhatCanBeAnsweredAndMustBe(t *testing.T) {
	now := time.Date(2026, 10, 18, 17, 30, 0, 0, time.UTC)
	a := brokenOff(DoThenTick, now, time.Time{})
	steps := a.Round("departure").Steps()
	var keys []string
	for _, s := range steps {
		keys = append(keys, s.Key())
	}
	assert.Equal(t, []string{"check oil", "check water", "check belt", "closing engine"}, keys, "what does not apply is no step")
	assert.Equal(t, "check water", a.NextStep("departure", 0, nil))
	assert.Equal(t, "check water", a.NextStep("departure", 2, nil), "what was passed over comes before the section is closed")
	assert.Equal(t, "check oil", a.NextStep("departure", 3, []string{"oil"}), "asked again")
	assert.Equal(t, 2, a.Round("departure").Left())
	assert.Len(t, a.Round("departure").Remains(), 3)
	assert.Equal(t, 1, steps[0].Seq())
	assert.Zero(t, steps[3].Seq())
	assert.Equal(t, "oil", a.Round("departure").LastAnswered().ID)

	a.Rounds[0].Sections[0].Checks[1].Status, a.Rounds[0].Sections[0].Checks[3].Status = StatusRight, StatusNotRight
	assert.Equal(t, "closing engine", a.NextStep("departure", 2, nil))
	assert.Empty(t, a.NextStep("no such round", 0, nil))
}
