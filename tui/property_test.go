package tui

import (
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
)

// someKeys are keys that a person, a cat or a line with noise may press.
var someKeys = []string{
	"1", "2", "3", "4", "5", "6", "7", "?", "T", "/", "u", "B", "impelr", "box 3", "gone", "q", "r", "w", "L", "up", "down", "left", "right", "pgup", "pgdown", "home", "end", "enter", "esc", "backspace",
	"h", "j", "k", "l", "g", "G", "o", "a", "e", "m", "s", "f", "t", "b", "K", "X", "c", "C", "y", "n", "x", "v", "d", "U", " ", "%", "0", "9", "12.7 V", "full", "2000", "coolant=82C", ".", "-", "yyyy", "ctrl+c",
	"ctrl+l", "ctrl+u", "tab", "delete", "☠", "e\u0301", "\x00", "漢字",
}

// evil is text that tries to drive the terminal, or to upset its width.
const evil = "\x1b[2J\x1b]0;title\a\u202eleft\u2066\u200d\ufe0f\x9b1m\r\n\ttab 漢字 e\u0301\u0301 ⚠️ 👩‍👩‍👧 \u0000end"

// soiled is the boat with evil text wherever a text can stand.
func soiled() checklist.Definitions {
	d := wanting()
	d.Boat.Name, d.Plan.Name = evil+d.Boat.Name, evil
	for i := range d.Boat.Tanks {
		d.Boat.Tanks[i].Name += evil
		d.Boat.Tanks[i].Level.Text += evil
	}
	for i := range d.Boat.Lots {
		d.Boat.Lots[i].Place = evil
	}
	d.Plan.Legs[0].From, d.Plan.Legs[0].To = evil, evil
	d.Spares[0].Name, d.Spares[0].Stowed[0].Place, d.Dated[0].Name, d.Services[0].Name = evil, evil, evil, evil
	for r := range d.Rounds {
		d.Rounds[r].Name += evil
		for s := range d.Rounds[r].Sections {
			section := &d.Rounds[r].Sections[s]
			section.Name, section.Caution, section.Done = section.Name+evil, evil, evil
			for c := range section.Checks {
				check := &section.Checks[c]
				check.Ask, check.Right, check.Caution, check.Source = evil, evil, evil, evil
				check.VoidBy = []string{evil}
			}
		}
	}
	return d
}

// requireFits fails where a view is larger than the terminal, or holds anything but
// printable text, line ends and styles.
func requireFits(t require.TestingT, view string, w, h int) {
	lines := strings.Split(view, "\n")
	require.LessOrEqual(t, len(lines), max(1, h), "lines of\n%s", view)
	for _, line := range lines {
		require.LessOrEqual(t, lipgloss.Width(line), w, "%q", line)
	}
	for _, r := range onlyStyles.ReplaceAllString(view, "") {
		require.True(t, r == '\n' || r == ' ' || unicode.IsPrint(r), "%U in\n%q", r, view)
	}
}

var onlyStyles = regexp.MustCompile(`\x1b\[[0-9;]*m`)

func TestEveryScreenFitsAnySizeUnderAnyKeys(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := []func() checklist.Definitions{fitBoat, wanting, soiled, islands, func() checklist.Definitions { return checklist.Definitions{} }}[rapid.IntRange(0, 4).Draw(rt, "boat")]()
		b := &bench{t: t, d: d, now: evening}
		for _, act := range allGood()[:rapid.IntRange(0, 12).Draw(rt, "acts")] {
			b.add(act)
		}
		if len(d.Plan.Legs) > 0 && rapid.Bool().Draw(rt, "under way") {
			b.add(checklist.Depart{Passage: d.Plan.Name, To: d.Plan.Legs[0].To, Crew: 2})
			b.add(checklist.Noon{To: d.Plan.Legs[0].To, ToGo: rapid.Float64Range(0, 500).Draw(rt, "to go"), Note: evil})
		}
		b.restart()
		glyphs := Glyphs(rapid.IntRange(0, 2).Draw(rt, "glyphs"))
		b.m.facts.look.glyphs = newGlyphs(glyphs)
		b.m.settings.Banner = rapid.SampledFrom([]string{"", "The demo boat", evil}).Draw(rt, "banner")
		w, h := rapid.IntRange(0, 200).Draw(rt, "w"), rapid.IntRange(0, 60).Draw(rt, "h")
		b.size(w, h)
		requireFits(rt, b.m.View(), w, h)
		for range rapid.IntRange(0, 40).Draw(rt, "n") {
			b.fails = nil
			switch rapid.IntRange(0, 19).Draw(rt, "what") {
			case 0:
				w, h = rapid.IntRange(0, 200).Draw(rt, "w"), rapid.IntRange(0, 60).Draw(rt, "h")
				b.size(w, h)
			case 1:
				b.now = b.now.Add(time.Duration(rapid.IntRange(-600, 3600).Draw(rt, "s")) * time.Second)
				b.send(minutePassedMsg{})
			case 2:
				b.fails = errDiskFull
				b.keys("c")
			case 3:
				b.settle()
			case 4:
				b.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(evil), Paste: true})
			default:
				before := len(b.answers())
				b.keys(rapid.SampledFrom(someKeys).Draw(rt, "key"))
				require.LessOrEqual(rt, len(b.answers()), before+1+len(b.m.queue), "no key answers two checks")
			}
			requireFits(rt, b.m.View(), w, h)
			if b.quit {
				return
			}
		}
	})
}

func TestASCIIIsAllASCII(t *testing.T) {
	b := newBench(t, soiled(), checklist.Sound{Tank: "raft cans", Level: "20 °C"})
	b.m.facts.look.glyphs = newGlyphs(ASCII)
	for _, keys := range [][]string{{"1"}, {"2"}, {"l"}, {"l"}, {"l"}, {"l"}, {"3"}, {"5"}, {"l"}, {"l"}, {"a"}, {"enter"}, {"backspace"}, {"backspace"}, {"6"}, {"l"}, {"l"}, {"l"}, {"l"}, {"/", "i"}, {"backspace", "backspace"}, {"4"}, {"enter"}, {"n", "ä"}, {"enter", "7"}, {"s"}, {"?"}} {
		view := b.keys(keys...).view()
		for i, r := range view {
			require.LessOrEqual(t, r, unicode.MaxASCII, "at %d, after %v, on\n%s", i, keys, view)
		}
	}
}

func TestThePlainThemeHasNoColour(t *testing.T) {
	colour := regexp.MustCompile(`\x1b\[[0-9;]*(3[0-9]|4[0-9]|9[0-7]|10[0-7])[0-9;]*m`)
	b := newBench(t, wanting())
	for _, key := range []string{"1", "2", "l", "l", "l", "l", "3", "5", "l", "l", "6", "l", "l", "l", "l", "4", "enter", "q", "7", "s", "?"} {
		view := b.keys(key).m.View()
		assert.NotRegexp(t, colour, view, key)
	}
	assert.Contains(t, b.m.View(), "\x1b[1m", "bold stays")
}

func TestEveryStateHasItsWordWithoutStyles(t *testing.T) {
	day := newBench(t, wanting())
	day.m.facts.look.styles = stylesFor(Day, Colours256)
	plain := newBench(t, wanting())
	assert.Equal(t, plain.view(), ansi.Strip(day.m.View()), "colour adds nothing that is not said")
}

func TestWrapKeepsEveryWordWithinItsWidth(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := look{glyphs: newGlyphs(Unicode)}.clean(rapid.StringMatching(`[a-z 漢é\x{1F469}]{0,80}`).Draw(rt, "text"))
		w, indent := rapid.IntRange(2, 90).Draw(rt, "w"), rapid.IntRange(0, 8).Draw(rt, "indent")
		lines := wrap(text, w, indent)
		for _, line := range lines {
			require.LessOrEqual(rt, lipgloss.Width(line), w, "%q", line)
		}
		joined := strings.ReplaceAll(strings.Join(lines, ""), " ", "")
		require.Equal(rt, strings.ReplaceAll(text, " ", ""), joined)
	})
}

func TestWindowShowsWhatIsSelected(t *testing.T) {
	l := look{glyphs: newGlyphs(Unicode)}
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(rt, "n")
		var lines []string
		for i := range n {
			lines = append(lines, strings.Repeat("x", i+1))
		}
		focus := rapid.IntRange(0, n-1).Draw(rt, "focus")
		end := min(n, focus+rapid.IntRange(1, 5).Draw(rt, "long"))
		h := rapid.IntRange(0, 30).Draw(rt, "h")
		seen := l.window(lines, focus, end, h)
		require.LessOrEqual(rt, len(seen), h)
		if h >= 1 {
			require.Contains(rt, seen, lines[focus])
		}
		if h >= 8 {
			require.Contains(rt, seen, lines[end-1])
		}
	})
}

func TestClean(t *testing.T) {
	unicodeSet, asciiSet := look{glyphs: newGlyphs(Unicode)}, look{glyphs: newGlyphs(ASCII)}
	assert.Equal(t, "a b 82 °C", unicodeSet.clean("a\nb\x1b \u202e82 °C"))
	assert.Equal(t, "82 C... ?", asciiSet.clean("82 °C… 漢"))
}
