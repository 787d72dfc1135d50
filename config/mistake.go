package config

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// quotedMost is the greatest number of characters of a file's text that a message repeats.
const quotedMost = 60

// Mistake is one thing wrong in one of the skipper's files: where, what, and what would be right.
type Mistake struct {
	File    string // relative to the boat folder, with forward slashes
	Line    int    // counted from 1; 0: no line (the file or the table is missing)
	Key     string // the full key, such as tank[0].capacity; empty: the mistake is no single key's
	Problem string
	Cure    string // empty: none can be named
}

// Error gives the mistake as `file:line: key: problem; cure`, with characters that do not print shown as escapes.
func (m Mistake) Error() string {
	var b strings.Builder
	b.WriteString(m.File)
	if m.Line > 0 {
		fmt.Fprintf(&b, ":%d", m.Line)
	}
	b.WriteString(": ")
	if m.Key != "" {
		b.WriteString(shorten(m.Key))
		b.WriteString(": ")
	}
	b.WriteString(m.Problem)
	if m.Cure != "" {
		b.WriteString("; ")
		b.WriteString(m.Cure)
	}
	return visible(b.String())
}

// Note is something lint tells though it is no mistake. Its fields are those of Mistake.
type Note Mistake

// String gives the note in the form of a mistake.
func (n Note) String() string { return Mistake(n).Error() }

// Mistakes is every mistake found, as one error.
type Mistakes []Mistake

// Error gives one mistake a line.
func (m Mistakes) Error() string {
	lines := make([]string, len(m))
	for i, one := range m {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives each mistake for errors.As.
func (m Mistakes) Unwrap() []error {
	all := make([]error, len(m))
	for i, one := range m {
		all[i] = one
	}
	return all
}

// orNil is m as an error: nil, not an empty list, when nothing is wrong.
func (m Mistakes) orNil() error {
	if len(m) == 0 {
		return nil
	}
	return m
}

// inOrder is a copy of m by file, in the order of files (others after them, as they come), then by line; what
// stands on one line keeps its order.
func (m Mistakes) inOrder(files []string) Mistakes {
	sorted := slices.Clone(m)
	rank := ranks(files)
	for _, one := range m {
		if _, known := rank[one.File]; !known {
			rank[one.File] = len(rank)
		}
	}
	slices.SortStableFunc(sorted, func(a, b Mistake) int {
		if a.File != b.File {
			return rank[a.File] - rank[b.File]
		}
		return a.Line - b.Line
	})
	return sorted
}

// ranks numbers the files in the order given.
func ranks(files []string) map[string]int {
	rank := map[string]int{}
	for _, file := range files {
		if _, known := rank[file]; !known {
			rank[file] = len(rank)
		}
	}
	return rank
}

// quote is text from a file for a message: in double quotes, escaped, cut to quotedMost characters.
func quote(s string) string { return strconv.Quote(shorten(s)) }

// shorten cuts s to quotedMost characters; three dots as one character stand for what was cut.
func shorten(s string) string {
	count := 0
	for i := range s {
		if count == quotedMost {
			return s[:i] + "…"
		}
		count++
	}
	return s
}

// visible shows what does not print (control characters, bidi controls, odd spaces) as escapes, and a byte that is no
// UTF-8 as U+FFFD.
func visible(s string) string {
	if !strings.ContainsFunc(s, hidden) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if hidden(r) {
			b.WriteString(strings.Trim(strconv.QuoteRune(r), "'"))
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// hidden tells whether r would not show as itself.
func hidden(r rune) bool { return !unicode.IsPrint(r) || r == unicode.ReplacementChar }
