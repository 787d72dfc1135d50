package record

import (
	"strconv"
	"time"
	"unicode/utf8"
)

// The short reader. Nearly every entry that is read was written by encodeEntry, and reading a
// page is nearly all of what starting takes: so the few forms of TOML that it writes are read
// here, and whatever is not exactly so is left to the TOML library, which also says what is
// wrong with it. What is taken here is taken as the library takes it; tests hold it to that.

// shortReader reads a text from its beginning; where it stands is at.
type shortReader struct {
	text []byte
	at   int
}

// shortly is the table of an entry; ok is false where the library must read it.
func shortly(text []byte) (table map[string]any, ok bool) {
	r := shortReader{text: text}
	if !r.takes(entryLine) || !utf8.Valid(text) {
		return nil, false
	}
	table = map[string]any{}
	for r.at < len(r.text) {
		if !r.pair(table, true, 0) || !r.takes("\n") {
			return nil, false
		}
	}

	return table, true
}

// takes goes on over a word, if it stands there.
func (r *shortReader) takes(word string) bool {
	if len(r.text)-r.at < len(word) || string(r.text[r.at:r.at+len(word)]) != word {
		return false
	}
	r.at += len(word)

	return true
}

// pair reads `key = value` into a table; over lines: an array may take a line an element.
func (r *shortReader) pair(table map[string]any, overLines bool, depth int) bool {
	from := r.at
	for r.at < len(r.text) && (r.text[r.at] >= 'a' && r.text[r.at] <= 'z' || r.text[r.at] == '_') {
		r.at++
	}
	key := string(r.text[from:r.at])
	if _, twice := table[key]; key == "" || twice || !r.takes(" = ") {
		return false
	}
	value, ok := r.value(overLines, depth)
	table[key] = value

	return ok
}

// deepestShort is how deep values nest here; what the program writes nests five deep.
const deepestShort = 12

func (r *shortReader) value(overLines bool, depth int) (any, bool) {
	if r.at == len(r.text) || depth > deepestShort {
		return nil, false
	}
	switch r.text[r.at] {
	case '"':
		return r.str()
	case '[':
		return r.array(overLines, depth)
	case '{':
		return r.inline(depth)
	case 't':
		return true, r.takes("true")
	case 'f':
		return false, r.takes("false")
	}

	return r.bare()
}

// str reads a basic string with the escapes that writeString writes.
func (r *shortReader) str() (any, bool) {
	r.at++
	from := r.at
	for ; r.at < len(r.text); r.at++ {
		switch c := r.text[r.at]; {
		case c == '"':
			r.at++
			return string(r.text[from : r.at-1]), true
		case c == '\\':
			return r.escaped(from)
		case c < ' ' || c == 0x7f:
			return nil, false
		}
	}

	return nil, false
}

// escaped reads a string on from its first escape.
func (r *shortReader) escaped(from int) (any, bool) {
	out := append([]byte(nil), r.text[from:r.at]...)
	for r.at < len(r.text) {
		c := r.text[r.at]
		r.at++
		switch {
		case c == '"':
			return string(out), true
		case c < ' ' || c == 0x7f:
			return nil, false
		case c != '\\':
			out = append(out, c)
			continue
		}
		if r.at == len(r.text) {
			return nil, false
		}
		c = r.text[r.at]
		r.at++
		switch c {
		case '"', '\\':
			out = append(out, c)
		case 'n':
			out = append(out, '\n')
		case 't':
			out = append(out, '\t')
		case 'u', 'U':
			char, ok := r.codePoint(map[byte]int{'u': 4, 'U': 8}[c])
			if !ok {
				return nil, false
			}
			out = utf8.AppendRune(out, char)
		default:
			return nil, false
		}
	}

	return nil, false
}

// codePoint reads a character by so many hexadecimal digits, in capitals as they are written.
func (r *shortReader) codePoint(digits int) (rune, bool) {
	if len(r.text)-r.at < digits {
		return 0, false
	}
	text := r.text[r.at : r.at+digits]
	for _, c := range text {
		if (c < '0' || c > '9') && (c < 'A' || c > 'F') {
			return 0, false
		}
	}
	n, err := strconv.ParseUint(string(text), 16, 32)
	r.at += digits

	return rune(n), err == nil && n <= utf8.MaxRune && utf8.ValidRune(rune(n))
}

// array reads `[a, b]`, or an element a line with a comma behind each.
func (r *shortReader) array(overLines bool, depth int) (any, bool) {
	r.at++
	list := []any{}
	if overLines && r.takes("\n") {
		for !r.takes("]") {
			if !r.takes("  ") {
				return nil, false
			}
			value, ok := r.value(false, depth+1)
			if !ok || !r.takes(",\n") {
				return nil, false
			}
			list = append(list, value)
		}
		return list, true
	}
	if r.takes("]") {
		return list, true
	}
	for {
		value, ok := r.value(false, depth+1)
		if !ok {
			return nil, false
		}
		list = append(list, value)
		if r.takes("]") {
			return list, true
		}
		if !r.takes(", ") {
			return nil, false
		}
	}
}

// inline reads `{ a = 1, b = 2 }`, which stays on its line.
func (r *shortReader) inline(depth int) (any, bool) {
	table := map[string]any{}
	if r.takes("{}") {
		return table, true
	}
	if !r.takes("{ ") {
		return nil, false
	}
	for {
		if !r.pair(table, false, depth+1) {
			return nil, false
		}
		if r.takes(" }") {
			return table, true
		}
		if !r.takes(", ") {
			return nil, false
		}
	}
}

// bare reads a number or a time: what stands up to the next blank, comma, bracket or line end.
func (r *shortReader) bare() (any, bool) {
	from := r.at
	for r.at < len(r.text) && !endsBare(r.text[r.at]) {
		r.at++
	}
	word := string(r.text[from:r.at])
	if len(word) >= len("2006-01-02T15:04:05Z") && word[4] == '-' {
		return moment(word)
	}

	return number(word)
}

func endsBare(c byte) bool {
	return c == ' ' || c == ',' || c == ']' || c == '}' || c == '\n'
}

// moment is a time with its offset, in the form of writeTime and no other.
func moment(word string) (any, bool) {
	const form = "0000-00-00T00:00:00+00:00"
	if len(word) != len(form) && (len(word) != 20 || word[19] != 'Z') {
		return nil, false
	}
	for i := range len(word) {
		c := word[i]
		switch {
		case i == 19 && (c == '+' || c == '-' || c == 'Z' && len(word) == 20):
		case form[i] == '0' && (c < '0' || c > '9'), form[i] != '0' && c != form[i]:
			return nil, false
		}
	}
	t, err := time.Parse(time.RFC3339, word)

	return t, err == nil
}

// number is a whole number, or one with a point or an exponent, in the forms of writeFloat.
func number(word string) (any, bool) {
	digits := word
	if digits != "" && digits[0] == '-' {
		digits = digits[1:]
	}
	whole := 0
	for whole < len(digits) && isDigit(digits[whole]) {
		whole++
	}
	if whole == 0 || whole > 1 && digits[0] == '0' {
		return nil, false
	}
	rest, point := cutDigits(digits[whole:], ".")
	exponent := false
	for _, sign := range []string{"e+", "e-"} {
		if after, is := cutDigits(rest, sign); is {
			rest, exponent = after, true
			break
		}
	}
	switch {
	case rest != "" || digits == "0" && word != "0": // minus nought is no whole number
		return nil, false
	case point || exponent:
		x, err := strconv.ParseFloat(word, 64)
		return x, err == nil
	}
	n, err := strconv.ParseInt(word, 10, 64)

	return n, err == nil
}

// cutDigits takes a sign and the digits behind it, one at least, off the front; where they do not stand there it
// takes nothing.
func cutDigits(text, sign string) (rest string, is bool) {
	if len(text) <= len(sign) || text[:len(sign)] != sign {
		return text, false
	}
	n := len(sign)
	for n < len(text) && isDigit(text[n]) {
		n++
	}

	if n == len(sign) {
		return text, false
	}

	return text[n:], true
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
