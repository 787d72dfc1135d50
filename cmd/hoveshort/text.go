package main

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// width is how many columns a report for people has.
const width = 80

// report is plain text for people, at 80 columns, that can be read aloud.
type report struct{ strings.Builder }

// line is one paragraph, broken at 80 columns.
func (r *report) line(format string, args ...any) { r.hang("", "", fmt.Sprintf(format, args...)) }

// head opens a part of a report.
func (r *report) head(format string, args ...any) {
	r.WriteByte('\n')
	r.line(format, args...)
}

// item is one thing of a list; under are what belongs to it, a line each.
func (r *report) item(text string, under ...string) {
	r.hang("- ", "  ", text)
	for _, u := range under {
		r.hang("  ", "    ", u)
	}
}

// hang breaks a text at 80 columns: the first line after first, the others after rest.
func (r *report) hang(first, rest, text string) {
	line, empty := first, true
	for word := range strings.FieldsSeq(text) {
		if !empty && ansi.StringWidth(line)+1+ansi.StringWidth(word) > width {
			r.WriteString(line + "\n")
			line, empty = rest, true
		}
		if !empty {
			line += " "
		}
		line, empty = line+word, false
	}
	r.WriteString(strings.TrimRight(line, " ") + "\n")
}

// table lines up rows; the first column to the left, the others to the right where
// right says so. The last column is not filled up.
func (r *report) table(right bool, rows [][]string) {
	var widths []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], ansi.StringWidth(cell))
		}
	}
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			fill := strings.Repeat(" ", widths[i]-ansi.StringWidth(cell))
			if i > 0 {
				b.WriteString("  ")
			}
			if right && i > 0 {
				cell, fill = fill+cell, ""
			}
			b.WriteString(cell + fill)
		}
		r.WriteString("  " + strings.TrimRight(b.String(), " ") + "\n")
	}
}

// clean is text that can do nothing to a terminal: control and direction characters are
// left out; where it shows ASCII alone, the rest becomes the nearest there is.
func clean(text string, isUTF8 bool) string {
	var b strings.Builder
	for _, c := range text {
		switch {
		case c == '\n':
			b.WriteRune(c)
		case c == '\t':
			b.WriteByte(' ')
		case c == utf8.RuneError:
			b.WriteByte('?')
		case drivesTerminal(c):
		case isUTF8 || c <= unicode.MaxASCII:
			b.WriteRune(c)
		default:
			b.WriteString(nearestASCII(c))
		}
	}
	return b.String()
}

// drivesTerminal says that c is no character to be shown: a control character, or one
// that turns the direction of the text, or one without width.
func drivesTerminal(c rune) bool { return unicode.IsControl(c) || unicode.Is(unicode.Cf, c) }

var asciiFor = map[rune]string{
	'°': "", '…': "...", '–': "-", '—': "-", '−': "-", '‘': "'", '’': "'", '“': `"`, '”': `"`, '×': "x", '·': "-",
	'ä': "ae", 'ö': "oe", 'ü': "ue", 'Ä': "Ae", 'Ö': "Oe", 'Ü': "Ue", 'ß': "ss", 'æ': "ae", 'Æ': "Ae", 'ø': "o", 'Ø': "O",
	'å': "a", 'Å': "A", 'á': "a", 'à': "a", 'â': "a", 'ã': "a", 'é': "e", 'è': "e", 'ê': "e", 'ë': "e", 'í': "i", 'ì': "i",
	'î': "i", 'ï': "i", 'ó': "o", 'ò': "o", 'ô': "o", 'õ': "o", 'ú': "u", 'ù': "u", 'û': "u", 'ñ': "n", 'ç': "c",
	'É': "E", 'À': "A", 'Ç': "C", 'Ñ': "N", '½': "1/2", '±': "+/-", '≥': ">=", '≤': "<=", '\u00a0': " ",
}

func nearestASCII(c rune) string {
	if near, known := asciiFor[c]; known {
		return near
	}
	return "?"
}

// cleanJSON writes what could drive a terminal as its escape; such characters can stand
// in strings alone.
func cleanJSON(text string) string {
	if !strings.ContainsFunc(text, func(c rune) bool { return c != '\n' && drivesTerminal(c) }) {
		return text
	}
	var b strings.Builder
	for _, c := range text {
		switch {
		case c == '\n' || !drivesTerminal(c):
			b.WriteRune(c)
		case c > 0xffff:
			high, low := utf16Pair(c)
			fmt.Fprintf(&b, `\u%04x\u%04x`, high, low)
		default:
			fmt.Fprintf(&b, `\u%04x`, c)
		}
	}
	return b.String()
}

// utf16Pair is the surrogate pair of a character beyond U+FFFF, as JSON escapes it
// (RFC 8259, section 7).
func utf16Pair(c rune) (high, low rune) {
	c -= 0x10000
	return 0xd800 + c>>10, 0xdc00 + c&0x3ff
}

// count is a number of things: "1 mistake", "3 mistakes".
func count(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
