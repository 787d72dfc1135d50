package config

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMistakeNamesPlaceProblemAndCure(t *testing.T) {
	full := Mistake{File: "boat.toml", Line: 14, Key: "tank[0].capacity",
		Problem: `"58 gal" could be US or imperial`, Cure: `write "58 US gal" or "58 imp gal"`}
	assert.Equal(t, `boat.toml:14: tank[0].capacity: "58 gal" could be US or imperial; write "58 US gal" or "58 imp gal"`, full.Error())

	noLine := Mistake{File: "boat.toml", Key: "engine", Problem: "missing", Cure: "write the table [engine]"}
	assert.Equal(t, "boat.toml: engine: missing; write the table [engine]", noLine.Error())

	noKey := Mistake{File: "boat.toml", Line: 2, Problem: "no value"}
	assert.Equal(t, "boat.toml:2: no value", noKey.Error())
	assert.Equal(t, "boat.toml:2: no value", Note(noKey).String())
}

func TestMistakePrintsNothingHidden(t *testing.T) {
	m := Mistake{File: "a\x1b[2J.toml", Line: 1, Key: strings.Repeat("k", 200), Problem: "x\u202e\n\u009by", Cure: "é °C \xff"}
	shown := m.Error()
	assert.Equal(t, `a\x1b[2J.toml:1: `+strings.Repeat("k", 60)+`…: x\u202e\n\u009by; é °C `+"\ufffd", shown)
	assert.Equal(t, shown, visible(shown), "what is shown already does not change again")
}

func TestQuoteEscapesAndCutsAtSixty(t *testing.T) {
	assert.Equal(t, `"a\tb\u2066"`, quote("a\tb\u2066"))
	assert.Equal(t, `"`+strings.Repeat("ö", 60)+`"`, quote(strings.Repeat("ö", 60)))
	assert.Equal(t, `"`+strings.Repeat("ö", 60)+`…"`, quote(strings.Repeat("ö", 61)))
}

func TestMistakesComeByFileThenLineAndStayStable(t *testing.T) {
	m := Mistakes{
		{File: "rounds/b.toml", Line: 1, Problem: "1"},
		{File: "rates.toml", Line: 9, Problem: "2"},
		{File: "boat.toml", Line: 5, Problem: "3"},
		{File: "rounds/a.toml", Line: 1, Problem: "4"},
		{File: "boat.toml", Line: 5, Problem: "5"},
		{File: "boat.toml", Line: 0, Problem: "6"},
	}
	var order []string
	for _, one := range m.inOrder([]string{"boat.toml", "rates.toml", "boat.toml"}) {
		order = append(order, one.Problem)
	}
	assert.Equal(t, []string{"6", "3", "5", "2", "1", "4"}, order)
	assert.Equal(t, "1", m[0].Problem, "the list given is left as it was")
}

func TestMistakesAreOneErrorALine(t *testing.T) {
	m := Mistakes{{File: "a.toml", Line: 1, Problem: "p"}, {File: "b.toml", Problem: "q", Cure: "r"}}
	err := m.orNil()
	require.EqualError(t, err, "a.toml:1: p\nb.toml: q; r")
	var one Mistake
	require.ErrorAs(t, err, &one)
	assert.Equal(t, "a.toml", one.File)
	var list Mistakes
	assert.ErrorAs(t, err, &list)
	assert.NoError(t, Mistakes{}.orNil())
}
