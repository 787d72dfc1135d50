package passage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"boat/hoveshort/provisions/passage"
)

func TestOnlyWhatIsSureIsGiven(t *testing.T) {
	// Source: the design, passage.toml: a question mark is not sure, and not planned on.
	fill := []passage.Giving{{Thing: passage.Water}, {Thing: passage.Food, Sure: true}}
	for thing, want := range map[passage.Thing]bool{passage.Water: false, passage.Food: true, passage.Gas: false} {
		assert.Equal(t, want, passage.Leg{Fill: fill}.Gives(thing), thing)
		assert.Equal(t, want, passage.Plan{Fill: fill}.Gives(thing), thing)
	}
}

func TestThePositionGoesBeforeTheRoute(t *testing.T) {
	leg := passage.Leg{Position: &quito, Route: []passage.Position{sydney, tromso}}
	end, ok := leg.End()
	assert.True(t, ok)
	assert.Equal(t, quito, end)
}
