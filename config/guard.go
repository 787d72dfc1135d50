package config

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"boat/hoveshort/checklist"
)

// What a file may be at most; beyond, it is refused before it is decoded. The decoder's time and memory grow with
// the square of the depth: 40 KB of a.a.a… took it 19 s and 7.4 GB (tried with BurntSushi/toml v1.6.0).
const (
	fileMost  = 1 << 20 // bytes
	depthMost = 64      // brackets and braces open; of a dotted key each dot counts as one while its value is open
	partsMost = 16      // parts of one key
	pathsMost = 8 << 20 // bytes of all paths together
)

// A path is the full key of a value. The decoder writes it out for each key and each bracket, so what all of them
// come to is bounded too, by pathsMost bytes; pathPart is counted for each part beside its own length.
const pathPart = 24

var byteOrderMark = []byte("\xef\xbb\xbf")

// guard makes a file's bytes ready for the decoder: without a byte order mark, with plain line ends. It refuses what
// the decoder must not see: too large, not UTF-8, with control characters, nested too deep, keys of too many parts.
func guard(file string, raw []byte) (text string, refused *Mistake) {
	if len(raw) > fileMost {
		return "", &Mistake{
			File:    file,
			Problem: fmt.Sprintf("%d bytes are more than the %d (1 MB) a file may have", len(raw), fileMost),
			Cure:    "make it shorter",
		}
	}
	if bytes.HasPrefix(raw, []byte("\xff\xfe")) || bytes.HasPrefix(raw, []byte("\xfe\xff")) {
		return "", &Mistake{File: file, Line: 1, Problem: "saved as UTF-16", Cure: "save it as UTF-8"}
	}
	raw = bytes.TrimPrefix(raw, byteOrderMark)
	raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
	text = string(raw)
	if bad := badCharacter(file, text); bad != nil {
		return "", bad
	}
	if bad := tooDeep(file, text); bad != nil {
		return "", bad
	}
	return text, nil
}

// badCharacter is the first byte that is no UTF-8, or the first control character TOML allows nowhere.
func badCharacter(file, text string) *Mistake {
	line := 1
	for i, r := range text {
		switch {
		case r == '\n':
			line++
		case r == '\r':
			return &Mistake{File: file, Line: line, Problem: "a carriage return (U+000D) without a line feed",
				Cure: "save the file with plain line ends"}
		case r != '\t' && (r < 0x20 || r == 0x7f):
			return &Mistake{File: file, Line: line, Problem: fmt.Sprintf("control character %U", r), Cure: "delete it"}
		case r == utf8.RuneError && !strings.HasPrefix(text[i:], string(utf8.RuneError)):
			return &Mistake{File: file, Line: line, Problem: fmt.Sprintf("byte 0x%02x is not valid UTF-8", text[i]),
				Cure: "save the file as UTF-8"}
		}
	}
	return nil
}

// depth is what tooDeep knows on its way through the text.
type depth struct {
	file    string
	parts   int   // of the key, or of what looks like one, that ends here
	length  int   // of these parts, in bytes
	pending int   // the parts of a key whose value comes next
	weight  int   // the path weight of that key
	open    []int // of each bracket open: the depth it adds
	weights []int // and its path weight
	nesting int   // sum of open
	header  int   // the path weight of the last table header
	inside  int   // sum of weights
	paths   int   // what all paths come to so far
	dotted  bool  // the last token was a dot
	starts  bool  // a line begins here
	heading bool  // inside a table header
}

// tooDeep looks once through the text for what is nested too deep. It need not know whether the text is valid: up to
// the decoder's first error both see the same strings, brackets and keys.
func tooDeep(file, text string) *Mistake {
	d := &depth{file: file, starts: true}
	scan := newScanner(text)
	for t := scan.next(); t.kind != tokenEnd; t = scan.next() {
		d.take(t)
		if bad := d.over(t.line); bad != nil {
			return bad
		}
	}
	return nil
}

// take counts one token.
func (d *depth) take(t token) {
	switch t.kind {
	case tokenBare, tokenString:
		d.part(len(t.text))
	case '=':
		d.pending, d.weight = d.parts-1, d.keyWeight()
		d.paths += d.header + d.inside + d.weight
	case '[', '{':
		d.enter()
	case ']', '}':
		d.leave()
	}
	d.dotted = t.kind == '.'
	d.starts = t.kind == tokenNewline
	if t.kind != '.' && t.kind != tokenBare && t.kind != tokenString {
		d.parts, d.length = 0, 0
	}
	if t.kind != '=' {
		d.pending, d.weight = 0, 0
	}
}

// part counts a part of a key: another one after a dot, else the first.
func (d *depth) part(length int) {
	if !d.dotted {
		d.parts, d.length = 0, 0
	}
	d.parts++
	d.length += length
}

func (d *depth) keyWeight() int { return d.length + d.parts*pathPart }

// enter counts a bracket or brace that opens, with the key it is the value of.
func (d *depth) enter() {
	if len(d.open) == 0 && d.starts {
		d.heading = true
	}
	d.paths += d.header + d.inside + d.weight
	adds := 1 + max(d.pending, 0)
	d.open, d.weights = append(d.open, adds), append(d.weights, d.weight)
	d.nesting += adds
	d.inside += d.weight
}

// leave counts a bracket or brace that closes; the first of a header's gives the weight of its key.
func (d *depth) leave() {
	if d.heading {
		d.header, d.heading = d.keyWeight(), false
		d.paths += d.header
	}
	last := len(d.open) - 1
	if last < 0 {
		return
	}
	d.nesting -= d.open[last]
	d.inside -= d.weights[last]
	d.open, d.weights = d.open[:last], d.weights[:last]
}

// over is the limit passed on this line, if any.
func (d *depth) over(line int) *Mistake {
	switch {
	case d.parts > partsMost:
		return &Mistake{File: d.file, Line: line, Problem: fmt.Sprintf("a key of more than %d parts", partsMost),
			Cure: "use fewer dots"}
	case d.nesting > depthMost:
		return &Mistake{File: d.file, Line: line, Problem: fmt.Sprintf("nested more than %d deep", depthMost),
			Cure: "use fewer brackets inside each other"}
	case d.paths > pathsMost:
		return &Mistake{File: d.file, Line: line, Problem: "keys too long, for so many of them", Cure: "shorten them"}
	}
	return nil
}

// refusedIn is the first control character or bidi control of a text; multi-line text may have line ends and tabs.
func refusedIn(s string, multi bool) (r rune, found bool) {
	for _, r := range s {
		if multi && (r == '\n' || r == '\t') {
			continue
		}
		if checklist.Refused(r) {
			return r, true
		}
	}
	return 0, false
}

// mayHide says that a file's text may hold a character that is refused in texts: an
// escape could be one, a tab is one where the text is of one line, and others stand raw.
func mayHide(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool {
		return r == '\\' || r == '\t' || r >= 0x7f && checklist.Refused(r)
	})
}
