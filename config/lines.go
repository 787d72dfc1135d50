package config

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// A tokenKind tells tokens apart; punctuation has its own character as kind.
type tokenKind byte

const (
	tokenEnd     tokenKind = 0
	tokenBare    tokenKind = 'a' // a run of anything that is no other token: a bare key, a number, a date
	tokenString  tokenKind = '"' // with its quotes, of any of the four kinds
	tokenNewline tokenKind = '\n'
)

const punctuation = "[]{}=,."

// token is one piece of TOML text. Comments and blanks give none.
type token struct {
	kind tokenKind
	text string
	line int // on which it begins
}

// multi tells whether the token is a multi-line string.
func (t token) multi() bool {
	return strings.HasPrefix(t.text, `"""`) || strings.HasPrefix(t.text, `'''`)
}

// scanner walks once forward over TOML text. Where the text is valid it sees strings and comments as the decoder
// does; where it is not, it goes on as well as it can and never fails.
type scanner struct {
	text string
	at   int // of the next character
	line int // of at
}

func newScanner(text string) *scanner { return &scanner{text: text, line: 1} }

// next is the next token; at the end of the text it is tokenEnd for ever.
func (s *scanner) next() token {
	s.skipBlank()
	start, line := s.at, s.line
	if start >= len(s.text) {
		return token{kind: tokenEnd, line: line}
	}
	kind := tokenBare
	switch c := s.text[start]; {
	case c == '\n':
		kind = tokenNewline
		s.at++
		s.line++
	case c == '"' || c == '\'':
		kind = tokenString
		s.skipString(c)
	case strings.IndexByte(punctuation, c) >= 0:
		kind = tokenKind(c)
		s.at++
	default:
		s.skipBare()
	}
	return token{kind: kind, text: s.text[start:s.at], line: line}
}

// skipBlank steps over blanks and a comment.
func (s *scanner) skipBlank() {
	for s.at < len(s.text) && strings.IndexByte(" \t\r", s.text[s.at]) >= 0 {
		s.at++
	}
	if s.at < len(s.text) && s.text[s.at] == '#' {
		s.skipLine()
	}
}

// skipLine goes to the next line end, or the end of the text.
func (s *scanner) skipLine() {
	end := strings.IndexByte(s.text[s.at:], '\n')
	if end < 0 {
		s.at = len(s.text)
		return
	}
	s.at += end
}

func (s *scanner) skipBare() {
	end := strings.IndexAny(s.text[s.at:], " \t\r\n\"'#"+punctuation)
	if end < 0 {
		end = len(s.text) - s.at
	}
	s.at += end
}

// skipString steps over the string that begins here with the quote q. One that is never closed ends before its
// line end; of the multi-line kinds, at the end of the text.
func (s *scanner) skipString(q byte) {
	triple := strings.Repeat(string(q), 3)
	if strings.HasPrefix(s.text[s.at:], triple) {
		s.at += len(triple)
		s.skipMultiLine(q)
		return
	}
	s.at++
	for s.at < len(s.text) && s.text[s.at] != '\n' {
		c := s.text[s.at]
		s.at++
		if c == q {
			return
		}
		if c == '\\' && q == '"' && s.at < len(s.text) && s.text[s.at] != '\n' {
			s.at++
		}
	}
}

// skipMultiLine steps over the rest of a multi-line string. Of more than three quotes in a row the last three close it.
func (s *scanner) skipMultiLine(q byte) {
	quotes := 0
	for s.at < len(s.text) {
		c := s.text[s.at]
		if c != q && quotes >= 3 {
			return
		}
		s.at++
		switch {
		case c == q:
			quotes++
			continue
		case c == '\n':
			s.line++
		case c == '\\' && q == '"' && s.at < len(s.text) && s.text[s.at] != '\n':
			s.at++
		}
		quotes = 0
	}
}

// place is where a key, a table or a list's item stands in the text, with what stands in it.
type place struct {
	line  int               // of the key; of a table its header; of an item its first character
	keys  map[string]*place // of a table
	items []*place          // of a list, and of an array of tables
	multi bool              // a multi-line string

	kind  placeKind
	fixed bool // given by name, not only implied by a longer key
}

type placeKind int

const (
	placeTable placeKind = iota
	placeTables
	placeList
	placeScalar
)

// key is the place of one key of a table, nil when there is none. It is safe on nil.
func (p *place) key(name string) *place {
	if p == nil {
		return nil
	}
	return p.keys[name]
}

// item is the place of item i of a list, nil when there is none. It is safe on nil.
func (p *place) item(i int) *place {
	if p == nil || i >= len(p.items) {
		return nil
	}
	return p.items[i]
}

// lineOr is p's line, or the fallback when p is nil.
func (p *place) lineOr(fallback int) int {
	if p == nil {
		return fallback
	}
	return p.line
}

// add puts a new place under a name.
func (p *place) add(name string, one *place) {
	if p.keys == nil {
		p.keys = map[string]*place{}
	}
	p.keys[name] = one
}

// repeat is a name given a second time.
type repeat struct {
	key         string
	line, first int
}

// named is one `key =` of the text.
type named struct {
	line int
	key  string
}

// outline is the line of every key of a text, and what the walk over it noticed.
type outline struct {
	root    *place
	repeats []repeat
	keys    []named // in the order of the text

	scan    *scanner
	current *place // the table of the last header
	path    string // its full key
}

// readOutline finds the line of every key of TOML text. On invalid text it finds what it can; it never fails. The
// nesting must have been checked before: it calls itself once for each bracket.
func readOutline(text string) *outline {
	root := &place{fixed: true}
	o := &outline{root: root, current: root, scan: newScanner(text)}
	for t := o.scan.next(); t.kind != tokenEnd; t = o.scan.next() {
		switch t.kind {
		case '[':
			t = o.header()
		case tokenBare, tokenString:
			t = o.pair(o.current, o.path, t)
		}
		for t.kind != tokenNewline && t.kind != tokenEnd {
			t = o.scan.next()
		}
	}
	return o
}

// header reads `[a.b]` or `[[a.b]]` after its first bracket, and returns the token after the name.
func (o *outline) header() token {
	array := strings.HasPrefix(o.scan.text[o.scan.at:], "[")
	if array {
		o.scan.next()
	}
	first := o.scan.next()
	parts, after := o.parts(first)
	if len(parts) == 0 {
		return after
	}
	at, path := o.walk(o.root, "", parts[:len(parts)-1], first.line)
	name := parts[len(parts)-1]
	path = joinKey(path, name)
	if array {
		o.current, o.path = o.openItem(at, path, name, first.line)
		return after
	}
	o.current, o.path = o.openTable(at, path, name, first.line), path
	return after
}

// openItem begins the next table of an array of tables.
func (o *outline) openItem(at *place, path, name string, line int) (*place, string) {
	list := at.key(name)
	if list == nil {
		list = &place{line: line, kind: placeTables, fixed: true}
		at.add(name, list)
	}
	if list.kind != placeTables {
		o.repeat(path, line, list)
	}
	path = indexKey(path, len(list.items))
	one := &place{line: line, fixed: true}
	list.items = append(list.items, one)
	return one, path
}

// openTable begins a table, or gives its true line to one that only a longer key had implied.
func (o *outline) openTable(at *place, path, name string, line int) *place {
	one := at.key(name)
	switch {
	case one == nil:
		one = &place{line: line, fixed: true}
		at.add(name, one)
	case one.kind == placeTable && !one.fixed:
		one.line, one.fixed = line, true
	default:
		o.repeat(path, line, one)
	}
	return one
}

// walk goes down from a table by names, adding the tables they imply; of an array of tables it takes the last.
func (o *outline) walk(at *place, path string, names []string, line int) (*place, string) {
	for _, name := range names {
		next := at.key(name)
		path = joinKey(path, name)
		if next == nil {
			next = &place{line: line}
			at.add(name, next)
		}
		if next.kind == placeScalar || next.kind == placeList {
			o.repeat(path, line, next)
		}
		if n := len(next.items); n > 0 {
			path = indexKey(path, n-1)
			next = next.items[n-1]
		}
		at = next
	}
	return at, path
}

// parts reads the parts of a key from its first token, and the token after them.
func (o *outline) parts(t token) ([]string, token) {
	var parts []string
	for t.kind == tokenBare || t.kind == tokenString {
		parts = append(parts, keyText(t))
		t = o.scan.next()
		if t.kind != '.' {
			break
		}
		t = o.scan.next()
	}
	return parts, t
}

// pair reads `key = value` from the key's first token and returns the token after the value.
func (o *outline) pair(at *place, path string, first token) token {
	parts, after := o.parts(first)
	at, path = o.walk(at, path, parts[:len(parts)-1], first.line)
	name := parts[len(parts)-1]
	path = joinKey(path, name)
	o.keys = append(o.keys, named{line: first.line, key: path})
	one := &place{line: first.line, kind: placeScalar, fixed: true}
	if earlier := at.key(name); earlier != nil {
		o.repeat(path, first.line, earlier)
	} else {
		at.add(name, one)
	}
	if after.kind != '=' {
		return after
	}
	return o.value(one, path, o.scan.next())
}

// value reads a value from its first token into its place and returns the token after it.
func (o *outline) value(at *place, path string, t token) token {
	switch t.kind {
	case tokenString:
		at.multi = t.multi()
		return o.scan.next()
	case '[':
		at.kind = placeList
		return o.list(at, path)
	case '{':
		at.kind = placeTable
		return o.inlineTable(at, path)
	}
	for t.kind == tokenBare || t.kind == '.' {
		t = o.scan.next()
	}
	return t
}

// list reads the items of a list after its bracket and returns the token after it.
func (o *outline) list(at *place, path string) token {
	t := o.scan.next()
	for t.kind != tokenEnd {
		switch t.kind {
		case ']':
			return o.scan.next()
		case tokenBare, tokenString, '[', '{':
			one := &place{line: t.line, kind: placeScalar, fixed: true}
			at.items = append(at.items, one)
			inner := ""
			if t.kind == '[' || t.kind == '{' {
				inner = indexKey(path, len(at.items)-1)
			}
			t = o.value(one, inner, t)
		default:
			t = o.scan.next()
		}
	}
	return t
}

// inlineTable reads the keys of an inline table after its brace and returns the token after it.
func (o *outline) inlineTable(at *place, path string) token {
	t := o.scan.next()
	for t.kind != tokenEnd {
		switch t.kind {
		case '}':
			return o.scan.next()
		case tokenBare, tokenString:
			t = o.pair(at, path, t)
		default:
			t = o.scan.next()
		}
	}
	return t
}

func (o *outline) repeat(key string, line int, first *place) {
	o.repeats = append(o.repeats, repeat{key: key, line: line, first: first.line})
}

// keyText is the name a key's token stands for.
func keyText(t token) string {
	if t.kind != tokenString {
		return t.text
	}
	raw := strings.TrimPrefix(t.text, t.text[:1])
	raw = strings.TrimSuffix(raw, t.text[:1])
	if t.text[0] == '\'' {
		return raw
	}
	return unescape(raw)
}

// escapes are the escapes of one character in TOML 1.1.
var escapes = map[byte]rune{'b': '\b', 't': '\t', 'n': '\n', 'f': '\f', 'r': '\r', 'e': 0x1b, '"': '"', '\\': '\\'}

// escapeDigits is how many hexadecimal digits follow these escapes.
var escapeDigits = map[byte]int{'x': 2, 'u': 4, 'U': 8}

// unescape is the text of a basic string. An escape that is none stays as it is written.
func unescape(raw string) string {
	var b strings.Builder
	for {
		slash := strings.IndexByte(raw, '\\')
		if slash < 0 || slash+1 >= len(raw) {
			b.WriteString(raw)
			return b.String()
		}
		b.WriteString(raw[:slash])
		r, size := escape(raw[slash:])
		if size == 0 {
			b.WriteByte('\\')
			size = 1
		} else {
			b.WriteRune(r)
		}
		raw = raw[slash+size:]
	}
}

// escape is the character of the escape that s begins with (a backslash and at least one byte), and its length; 0: none.
func escape(s string) (r rune, size int) {
	if r, ok := escapes[s[1]]; ok {
		return r, 2
	}
	digits := escapeDigits[s[1]]
	if digits == 0 || len(s) < 2+digits {
		return 0, 0
	}
	code, err := strconv.ParseUint(s[2:2+digits], 16, 32)
	if err != nil || !utf8.ValidRune(rune(code)) {
		return 0, 0
	}
	return rune(code), 2 + digits
}

// joinKey is the full key of name in the table at path; a name that is no bare key is quoted.
func joinKey(path, name string) string {
	if !bare(name) {
		name = quote(name)
	}
	if path == "" {
		return name
	}
	return path + "." + name
}

// indexKey is the full key of item i of a list.
func indexKey(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// bare tells whether name needs no quotes as a TOML key.
func bare(name string) bool {
	for _, r := range name {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if !letter && (r < '0' || r > '9') && r != '_' && r != '-' {
			return false
		}
	}
	return name != ""
}
