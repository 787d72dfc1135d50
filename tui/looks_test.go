package tui

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/charmbracelet/lipgloss"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// looked are screens in as many states as there are styles to be seen in: each page, each
// view, what is selected, typed, refused, asked, failed and said.
func looked() map[string]func(*testing.T) *bench {
	return map[string]func(*testing.T) *bench{
		"ready":       func(t *testing.T) *bench { return newBench(t, wanting()) },
		"ready group": func(t *testing.T) *bench { return newBench(t, wanting()).keys("j", "j", "j", "j", "o", "j") },
		"ready accept": func(t *testing.T) *bench {
			return newBench(t, wanting()).keys("G", "k", "k", "a").types("it is ordered")
		},
		"ready free":      func(t *testing.T) *bench { return newBench(t, fitBoat(), allGood()...) },
		"ready happened":  func(t *testing.T) *bench { return newBench(t, fitBoat(), allGood()...).keys("e") },
		"ready signed":    func(t *testing.T) *bench { return signedOff(t).keys("1") },
		"ready under way": func(t *testing.T) *bench { return atNoon(t).keys("1") },
		"ready clock": func(t *testing.T) *bench {
			b := newBench(t, fitBoat(), allGood()...)
			b.now = b.now.Add(-2 * time.Hour)
			return b.restart().keys("G", "k", "k", "enter")
		},
		"passage legs":     func(t *testing.T) *bench { return passageBench(t, legsView, "j") },
		"passage left":     func(t *testing.T) *bench { return passageBench(t, leftView) },
		"passage what ifs": func(t *testing.T) *bench { return passageBench(t, whatIfView) },
		"passage turning":  func(t *testing.T) *bench { return passageBench(t, turningView) },
		"passage range":    func(t *testing.T) *bench { return passageBench(t, rangeView) },
		"passage working":  func(t *testing.T) *bench { return passageBench(t, legsView, "enter") },
		"passage trying":   func(t *testing.T) *bench { return passageBench(t, legsView, "t") },
		"passage tried":    func(t *testing.T) *bench { return passageBench(t, legsView, "t", "enter", "6", "enter") },
		"passage not made": func(t *testing.T) *bench {
			d := fitBoat()
			d.Plan.Legs[0].Current = -20
			return newBench(t, d).keys("2")
		},
		"stores": func(t *testing.T) *bench {
			return newBench(t, wanting(), checklist.Sound{Tank: "after water", Level: "62 %"}).keys("3")
		},
		"stores food":    func(t *testing.T) *bench { return newBench(t, wanting()).keys("3", "G") },
		"stores refused": func(t *testing.T) *bench { return newBench(t, wanting()).keys("3", "s").types("62 gal").keys("enter") },
		"rounds":         func(t *testing.T) *bench { return newBench(t, wanting()).keys("4") },
		"walk":           func(t *testing.T) *bench { return newBench(t, wanting()).keys("4", "enter") },
		"walk grade": func(t *testing.T) *bench {
			return newBench(t, wanting()).keys("4", "enter", "n").types("stiff").keys("enter")
		},
		"walk value": func(t *testing.T) *bench {
			return newBench(t, wanting()).keys("4", "enter", "j", "j", "j", "v").types("12.1 V")
		},
		"walk remains": func(t *testing.T) *bench {
			return newBench(t, fitBoat(), allGood()[:10]...).keys("4", "enter", "G", "j", "j", "j")
		},
		"engine reading":    func(t *testing.T) *bench { return engineBench(t, usualLines()) },
		"engine trend":      func(t *testing.T) *bench { return engineBench(t, usualLines(), "right") },
		"engine defects":    func(t *testing.T) *bench { return defectBench(t) },
		"engine opened":     warmDefect,
		"engine services":   func(t *testing.T) *bench { return engineBench(t, nil, "left") },
		"engine entry":      func(t *testing.T) *bench { return engineBench(t, usualLines(), "a", "enter") },
		"engine new defect": func(t *testing.T) *bench { return engineBench(t, usualLines(), "n") },
		"gear spares":       func(t *testing.T) *bench { return gearBench(t) },
		"gear lockers":      func(t *testing.T) *bench { return gearBench(t, "right") },
		"gear tools":        func(t *testing.T) *bench { return gearBench(t, "right", "right") },
		"gear dated":        func(t *testing.T) *bench { return gearBench(t, "left", "left") },
		"gear wanted":       func(t *testing.T) *bench { return gearBench(t, "left") },
		"gear find":         func(t *testing.T) *bench { return gearBench(t, "/").types("impelr") },
		"gear moved":        func(t *testing.T) *bench { return gearBench(t, "m").types("3").keys("enter").types("port") },
		"record":            func(t *testing.T) *bench { return signedRecord(t).keys("7") },
		"record read":       func(t *testing.T) *bench { return signedRecord(t).keys("7", "enter") },
		"record refused":    func(t *testing.T) *bench { return newBench(t, wanting()).keys("7", "s") },
		"record confirm": func(t *testing.T) *bench {
			return newBench(t, fitBoat(), allGood()...).keys("7", "s").types("A. Skipper").keys("enter")
		},
		"record noon":     func(t *testing.T) *bench { return atNoon(t).keys("n") },
		"record passages": func(t *testing.T) *bench { return sailedRecord(t).keys("7") },
		"record side":     func(t *testing.T) *bench { return sailedRecord(t).keys("7", "enter") },
		"help":            func(t *testing.T) *bench { return newBench(t, wanting()).keys("?") },
		"leaving":         func(t *testing.T) *bench { return newBench(t, wanting()).keys("q") },
		"too small":       func(t *testing.T) *bench { return newBench(t, wanting()).size(30, 8) },
		"not on the disk": func(t *testing.T) *bench {
			b := newBench(t, wanting())
			b.fails = errDiskFull
			return b.keys("4", "enter", "c")
		},
		"evil": func(t *testing.T) *bench {
			b := newBench(t, soiled())
			b.m.settings.Banner = evil
			return b.keys("4", "enter")
		},
	}
}

// themed is the same screens in a theme, on a terminal with so many colours.
func (b *bench) themed(theme Theme, c Colours) *bench {
	b.m.theme, b.m.settings.Colours = theme, c
	b.m.facts.look.styles = stylesFor(theme, c)
	return b
}

// pen is how a cell is written.
type pen struct {
	ink                 string // the foreground, as the numbers of its escape sequence; "": the terminal's own
	ground              string
	bold, line, reverse bool
}

// written calls for every cell of a frame, blanks too, with how it is written. What is no
// known style fails the test.
func written(t *testing.T, frame string, each func(r rune, p pen)) {
	t.Helper()
	var p pen
	for rest := frame; rest != ""; {
		if rest[0] == '\x1b' {
			sgr := onlyStyles.FindString(rest)
			require.True(t, sgr != "" && strings.HasPrefix(rest, sgr), "nothing but styles")
			p = p.changed(t, sgr[2:len(sgr)-1])
			rest = rest[len(sgr):]
			continue
		}
		r, length := utf8.DecodeRuneInString(rest)
		if r == '\n' {
			require.Equal(t, pen{}, p, "no line leaves its style to the next")
		} else {
			each(r, p)
		}
		rest = rest[length:]
	}
}

func (p pen) changed(t *testing.T, numbers string) pen {
	t.Helper()
	list := strings.Split(numbers, ";")
	for i := 0; i < len(list); i++ {
		n, _ := strconv.Atoi(list[i])
		switch {
		case n == 0:
			p = pen{}
		case n == 1:
			p.bold = true
		case n == 4:
			p.line = true
		case n == 7:
			p.reverse = true
		case n == 38 || n == 48:
			long := i + 3 // 38;5;N
			if list[i+1] == "2" {
				long = i + 5 // 38;2;R;G;B
			}
			colour := strings.Join(list[i:long], ";")
			if n == 38 {
				p.ink = colour
			} else {
				p.ground = colour
			}
			i = long - 1
		case n >= 30 && n <= 37 || n >= 90 && n <= 97:
			p.ink = list[i]
		case n >= 40 && n <= 47 || n >= 100 && n <= 107:
			p.ground = list[i]
		default:
			require.Fail(t, "a style that is not known here", "%q", numbers)
		}
	}
	return p
}

// made are the screens of looked, each made once: a model is a value, and a test that changes
// its copy changes no other.
var made = map[string]bench{}

// inEach looks at every screen and state, at three sizes.
func inEach(t *testing.T, look func(t *testing.T, b *bench)) {
	for _, name := range slices.Sorted(maps.Keys(looked())) {
		if _, is := made[name]; !is {
			made[name] = *looked()[name](t)
		}
		for _, z := range []size{{80, 24}, {60, 20}, {200, 60}} {
			t.Run(fmt.Sprintf("%s %dx%d", name, z.w, z.h), func(t *testing.T) {
				b := made[name]
				b.t = t
				if !b.m.terminal.isTooSmall() {
					b.size(z.w, z.h)
				}
				look(t, &b)
			})
		}
	}
}

// TestNightIsOneRedAndNothingElse scans whole frames: a cell in the terminal's own colour
// would be lit white, and one in any other would be as bad.
func TestNightIsOneRedAndNothingElse(t *testing.T) {
	palettes := map[Colours][]string{
		Colours256: {"38;5;196", "38;5;160"}, TrueColour: {"38;2;255;0;0", "38;2;215;0;0"}, Colours16: {"91"},
	}
	inEach(t, func(t *testing.T, b *bench) {
		for colours, palette := range palettes {
			b.themed(Night, colours)
			seen := 0
			written(t, b.m.View(), func(r rune, p pen) {
				if p.ground != "" || p.reverse {
					require.Fail(t, "a background is painted", "%q: %+v", r, p)
				}
				if r == ' ' && !p.line {
					return
				}
				if seen++; !slices.Contains(palette, p.ink) {
					require.Fail(t, "lit otherwise", "%q: %+v in\n%s", r, p, b.view())
				}
			})
			require.Positive(t, seen)
		}
	})
}

// Text is in the one red; the dimmer one is for the line between columns.
func TestNightHasNoShadesOfWords(t *testing.T) {
	inEach(t, func(t *testing.T, b *bench) {
		written(t, b.themed(Night, Colours256).m.View(), func(r rune, p pen) {
			if p.ink == "38;5;160" && string(r) != b.m.facts.look.side {
				require.Fail(t, "a shade of words", "%q", r)
			}
		})
	})
}

func TestNoneAndTooFewColoursHaveNoColour(t *testing.T) {
	inEach(t, func(t *testing.T, b *bench) {
		for theme, colours := range map[Theme]Colours{Plain: TrueColour, Day: NoColours, Night: NoColours} {
			written(t, b.themed(theme, colours).m.View(), func(_ rune, p pen) {
				if p.ink+p.ground != "" {
					require.Fail(t, "a colour", "%s: %+v", theme, p)
				}
			})
		}
	})
}

func TestAllThemesSayTheSame(t *testing.T) {
	inEach(t, func(t *testing.T, b *bench) {
		plain := b.themed(Plain, Colours256).view()
		require.Equal(t, plain, b.themed(Day, Colours256).view())
		require.Equal(t, plain, b.themed(Night, Colours256).view())
	})
}

// What is selected has its mark, in every theme: it is never told by a style alone.
func TestWhatIsSelectedHasItsMark(t *testing.T) {
	marked := 0
	inEach(t, func(t *testing.T, b *bench) {
		b.themed(Plain, Colours256)
		b.m.facts.look.selected = b.m.facts.look.selected.Underline(true).UnderlineSpaces(true)
		before := false // the line before was selected too: this one goes on with it
		for _, line := range strings.Split(b.m.View(), "\n") {
			text, underlined := "", -1
			written(t, line, func(r rune, p pen) {
				if p.line && underlined < 0 {
					underlined = len(text)
				}
				text += string(r)
			})
			if underlined >= 0 && !before {
				marked++
				require.Contains(t, text[:underlined], ">", "in %q", text)
			}
			before = underlined >= 0
		}
	})
	assert.Greater(t, marked, 50, "selected lines were looked at")
}

// The same words never stand in two of the styles that tell how a thing is: it would be
// told by the style alone.
func TestNoStateIsToldByItsStyleAlone(t *testing.T) {
	inks := map[string]string{}
	told := map[string]map[string]string{} // words, style, screen
	s := stylesFor(Day, Colours256)
	for name, style := range map[string]lipgloss.Style{"blocked": s.blocked, "caution": s.caution, "good": s.good} {
		inks[strings.TrimSuffix(strings.TrimPrefix(strings.Split(style.Render("x"), "x")[0], "\x1b[1;"), "m")] = name
	}
	require.Len(t, inks, 3)
	inEach(t, func(t *testing.T, b *bench) {
		for _, line := range strings.Split(b.themed(Day, Colours256).m.View(), "\n") {
			spans := map[string]string{}
			written(t, line, func(r rune, p pen) { spans[inks[p.ink]] += string(r) })
			for style, text := range spans {
				if text = strings.TrimSpace(text); style != "" && text != "" {
					if told[text] == nil {
						told[text] = map[string]string{}
					}
					told[text][style] = t.Name()
				}
			}
		}
	})
	assert.Greater(t, len(told), 50)
	for text, by := range told {
		assert.Len(t, by, 1, "%q", text)
	}
}

// rgb is a colour of a terminal.
type rgb struct{ r, g, b float64 }

// of256 is one of the colours 16 to 231 of 256: a cube of 6 steps a side. Source: the steps
// 0, 95, 135, 175, 215, 255 of xterm's 256colres.pl; from memory.
func of256(n int) rgb {
	steps := []float64{0, 95, 135, 175, 215, 255}
	n -= 16
	return rgb{steps[n/36], steps[n/6%6], steps[n%6]}
}

// luminance is WCAG's relative luminance. Source: WCAG 2.2, definition "relative luminance",
// with the threshold 0.04045 of its errata.
func (c rgb) luminance() float64 {
	linear := func(v float64) float64 {
		if v /= 255; v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.r) + 0.7152*linear(c.g) + 0.0722*linear(c.b)
}

// contrast is WCAG's contrast ratio. Source: WCAG 2.2, definition "contrast ratio".
func contrast(a, b rgb) float64 {
	light, dark := max(a.luminance(), b.luminance()), min(a.luminance(), b.luminance())
	return (light + 0.05) / (dark + 0.05)
}

var black, white = rgb{}, rgb{255, 255, 255}

// The formula itself, by the figures of the standard and of reference/terminal.md, 1.7.
func TestContrastIsReckonedAsWCAGHasIt(t *testing.T) {
	assert.InDelta(t, 21, contrast(black, white), 1e-9, "WCAG 2.2: contrasts range from 1 to 21")
	assert.InDelta(t, 1, contrast(white, white), 1e-9)
	assert.InDelta(t, 4.54, contrast(rgb{0x76, 0x76, 0x76}, white), 0.005, "#767676 on white just passes AA; from memory")
	for colour, want := range map[rgb]float64{{255, 0, 0}: 5.25, {0xea, 0, 0}: 4.5, {0xb7, 0, 0}: 3, {0x87, 0, 0}: 2} {
		assert.InDelta(t, want, contrast(colour, black), 0.05, "%v; terminal.md 1.7", colour)
	}
}

// hex is a colour written #rrggbb.
func hex(t *testing.T, text string) rgb {
	n, err := strconv.ParseUint(strings.TrimPrefix(text, "#"), 16, 32)
	require.NoError(t, err)
	return rgb{float64(n >> 16), float64(n >> 8 & 255), float64(n & 255)}
}

// both are a colour of ours as the two kinds of terminals with many colours show it: the
// same on both.
func both(t *testing.T, c lipgloss.CompleteColor) rgb {
	t.Helper()
	n, err := strconv.Atoi(c.ANSI256)
	require.NoError(t, err)
	require.Equal(t, of256(n), hex(t, c.TrueColor), "256 colours and true colour")
	return of256(n)
}

// WCAG 2.2, 1.4.3 asks for 4.5:1 of small and 3:1 of large or bold text. No colour but grey
// has 4.6:1 on black and on white alike (the best there is: sqrt 21); we ask 3.8 of bold.
func TestDayIsReadOnBlackAndOnWhite(t *testing.T) {
	const least = 3.8
	for name, c := range map[string]lipgloss.CompleteColor{"red": dayRed, "brown": dayBrown, "green": dayGreen} {
		assert.GreaterOrEqual(t, contrast(both(t, c), black), least, "%s on black", name)
		assert.GreaterOrEqual(t, contrast(both(t, c), white), least, "%s on white", name)
	}
	// The sixteen are whatever the terminal says. xterm's own (XTerm-col.ad; from memory):
	xterm := map[string]rgb{"1": {205, 0, 0}, "2": {0, 205, 0}, "3": {205, 205, 0}, "5": {205, 0, 205}, "9": {255, 0, 0}}
	for name, c := range map[string]lipgloss.CompleteColor{"red": dayRed, "brown": dayBrown} {
		require.Contains(t, xterm, c.ANSI)
		assert.GreaterOrEqual(t, contrast(xterm[c.ANSI], black), least, "%s of 16 on black", name)
		assert.GreaterOrEqual(t, contrast(xterm[c.ANSI], white), least, "%s of 16 on white", name)
	}
	assert.Empty(t, dayGreen.ANSI, "xterm's green is %.1f:1 on white", contrast(xterm["2"], white))
	s := stylesFor(Day, Colours256)
	for _, style := range []lipgloss.Style{s.blocked, s.caution, s.good} {
		assert.True(t, style.GetBold(), "large or bold, for 3:1 to do")
	}
}

// At night nothing is lighter than pure red, a fifth of white, and all text has WCAG's 4.5:1
// on black.
func TestNightIsDark(t *testing.T) {
	const pureRed = 0.2126 // WCAG's factor of red
	for name, c := range map[string]lipgloss.CompleteColor{"red": nightRed, "dim": nightDim} {
		colour := both(t, c)
		assert.LessOrEqual(t, colour.luminance(), pureRed+1e-9, name)
		assert.Zero(t, colour.g+colour.b, "%s holds no green and no blue", name)
		assert.Equal(t, "9", c.ANSI, "of the sixteen 91: 31 is 2.7:1 on the Linux console (terminal.md 1.7)")
	}
	assert.GreaterOrEqual(t, contrast(both(t, nightRed), black), 4.5, "text: WCAG 1.4.3")
	assert.GreaterOrEqual(t, contrast(both(t, nightDim), black), 3.0, "lines: WCAG 1.4.11")
}
