package chart

import "boat/hoveshort/provisions/passage"

// Glyphs is which characters the terminal has.
type Glyphs int

// The sets.
const (
	Unicode Glyphs = iota
	Box            // the Linux console's own fonts: lines, but no hollow circle
	ASCII          // nothing but ASCII
)

// marks are the characters of a chart, each of one column and none twice.
type marks struct {
	slow, expected, quick rune
	floor, arrives        rune
	touched, gone         rune // where the reserve is touched, and where nothing is left
	side, corner          rune // of the axes
	base, tick            rune
	planned, fact         rune // as it was promised on leaving, and as it was sounded
}

func (g Glyphs) marks() marks {
	switch g {
	case ASCII:
		return marks{'*', 'o', '#', '.', '^', '!', 'X', '|', '+', '-', '+', ':', '@'}
	case Box:
		return marks{'*', 'o', '#', '·', '▲', '!', 'X', '│', '└', '─', '┴', ':', '■'}
	}
	return marks{'●', '○', '◇', '┄', '▲', '!', '✗', '│', '└', '─', '┴', '∙', '◆'}
}

func (m marks) of(c passage.CaseName) rune {
	switch c {
	case passage.Slow:
		return m.slow
	case passage.Expected:
		return m.expected
	}
	return m.quick
}
