package tui

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/exp/golden"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// review is what the screens are given of a passage.
func (b *bench) review(number int) (checklist.PassageReview, []checklist.Proposal, error) {
	for _, p := range checklist.Passages(b.entries) {
		if p.Has(number) {
			r := checklist.ReviewPassage(b.d, p)
			return r, checklist.Proposals(b.d, r, nil), nil
		}
	}
	return checklist.PassageReview{}, nil, errors.New("no such passage")
}

// sailedRecord is a record in which she was signed off, left, and came in slower and with more water used; all invented.
func sailedRecord(t *testing.T) *bench {
	t.Helper()
	b := newBench(t, fitBoat(), allGood()...)
	b.keys("7", "s").types("A. Skipper").keys("enter", "y")
	signed := b.entries[len(b.entries)-1]
	s, is := signed.Act.(checklist.Sign)
	require.True(t, is)
	b.now = s.Depart
	b.add(checklist.Depart{
		Passage: s.Passage, From: "Alder Quay", To: s.Resources[len(s.Resources)-1].To, Sign: signed.Seq, Definitions: s.Definitions, Crew: s.Crew,
		Hours: 1000, Cases: s.Cases, Resources: s.Resources, Tanks: s.Tanks,
	})
	b.now = b.now.Add(70 * time.Hour)
	levels := []checklist.TankLevel{{Tank: "diesel", Level: "108 L"}}
	for _, tank := range b.d.Boat.Tanks {
		if tank.Holds == "water" {
			levels = append(levels, checklist.TankLevel{Tank: tank.Name, Level: "80 %"})
		}
	}
	b.add(checklist.DefectAct{What: "the log sticks", Grade: "note"})
	b.add(checklist.Arrive{Place: s.Resources[len(s.Resources)-1].To, Close: true, Miles: 307, Hours: 1016, Levels: levels, Note: "we washed the decks"})
	return b.restart()
}

func TestReviewLooksAsReviewed(t *testing.T) {
	for name, make := range map[string]func(*testing.T) *bench{
		"list":   func(t *testing.T) *bench { return sailedRecord(t).keys("7") },
		"side":   func(t *testing.T) *bench { return sailedRecord(t).keys("7", "enter") },
		"side-2": func(t *testing.T) *bench { return sailedRecord(t).keys("7", "enter", "pgdown") },
	} {
		for _, s := range []size{{80, 24}, {60, 20}} {
			t.Run(fmt.Sprintf("%s-%dx%d", name, s.w, s.h), func(t *testing.T) {
				golden.RequireEqual(t, []byte(ansi.Strip(make(t).size(s.w, s.h).m.View())))
			})
		}
	}
}

func TestEnterOpensAPassageAndEscapeClosesIt(t *testing.T) {
	b := sailedRecord(t).size(80, 60).keys("7", "enter")
	view := ansi.Strip(b.m.View())
	assert.Contains(t, view, "signed against actual")
	assert.Contains(t, view, "the log sticks; open")
	n := len(b.entries)
	b.keys("esc")
	assert.Contains(t, ansi.Strip(b.m.View()), "Past passages; enter")
	assert.Len(t, b.entries, n, "reading writes nothing")
	for range 30 { // faster than a person presses
		b.keys("enter", "pgdown", "esc", "q", "enter", "enter", "j", "k")
	}
	assert.Len(t, b.entries, n)
}

func TestWhatCannotBeReadIsToldAndTheListStays(t *testing.T) {
	b := sailedRecord(t)
	b.m.settings.Review = func(int) (checklist.PassageReview, []checklist.Proposal, error) {
		return checklist.PassageReview{}, nil, errors.New("record/0001.toml: this page is missing")
	}
	b.keys("7", "enter")
	assert.Contains(t, strings.Join(strings.Fields(ansi.Strip(b.m.View())), " "), "it cannot be read: record/0001.toml: this page is missing")
	b.keys("esc")
	assert.Contains(t, ansi.Strip(b.m.View()), "Past passages; enter")
}

// Whatever stands in the record, a review fits every size and can do nothing to the terminal.
func TestAReviewFitsEverySizeAndDrivesNoTerminal(t *testing.T) {
	b := sailedRecord(t)
	b.add(checklist.Depart{Passage: evil, From: evil, To: evil, Crew: 2, InTheWay: []string{evil}, Why: evil})
	b.add(checklist.DefectAct{What: evil, Grade: "note"})
	b.add(checklist.Change{What: evil, Why: evil})
	b.add(checklist.ServiceDone{Service: evil})
	b.now = b.now.Add(time.Hour)
	b.add(checklist.Arrive{Place: evil, Failed: []string{evil}, Note: evil})
	b.restart().keys("7", "enter")
	for _, s := range []size{{0, 0}, {1, 1}, {9, 3}, {20, 6}, {59, 20}, {60, 20}, {72, 24}, {80, 24}, {200, 60}} {
		for range 4 {
			b.size(s.w, s.h).keys("pgdown")
			requireFits(t, b.m.View(), s.w, s.h)
		}
		b.keys("home")
	}
	assert.Contains(t, ansi.Strip(b.size(80, 60).m.View()), "Left unsigned")
}
