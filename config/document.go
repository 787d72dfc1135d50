package config

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"

	"github.com/BurntSushi/toml"
)

// formatKnown is the format of the files this program reads and writes.
const formatKnown = 1

// A need says whether a key may be left out.
type need int

const (
	optional need = iota
	required
)

// document is one file while it is read: where all its tables put what they find.
type document struct {
	file  string
	found Mistakes
	notes []Note
	newer bool // written for a newer format: nothing more is said about it
}

func (d *document) mistake(line int, key, problem, cure string) {
	if !d.newer {
		d.found = append(d.found, Mistake{File: d.file, Line: line, Key: key, Problem: problem, Cure: cure})
	}
}

// table is one table of a TOML file. A reader asks it for each key it knows; the table keeps what is wrong with the
// values, and at the end unknown tells the keys nobody asked for. Every method is safe on nil, which stands for a
// table that is not there: it then gives zero values and finds nothing.
type table struct {
	doc      *document
	path     string // its full key, "" for the file: tank[0]
	header   string // as it stands in brackets: tank
	at       *place
	values   map[string]any
	asked    map[string]bool
	children map[string][]*table
}

// parse reads the TOML text of a file. A file that cannot be read at all (too large, no TOML, a key given twice)
// gives a nil table and the mistakes; else there are none yet, and what is found later is had from found.
func parse(file string, raw []byte) (*table, Mistakes) {
	text, refused := guard(file, raw)
	if refused != nil {
		return nil, Mistakes{*refused}
	}
	o := readOutline(text)
	values, err := decode(text)
	if err != nil {
		return nil, Mistakes{syntaxMistake(file, text, o, err)}
	}
	if len(o.repeats) > 0 {
		return nil, repeatMistakes(file, o.repeats)
	}
	doc := &document{file: file}
	if mayHide(text) {
		checkTexts(doc, "", values, o.root)
	}
	return newTable(doc, "", "", o.root, values), nil
}

// decode is the tree of TOML text. The decoder stops with a panic where it meets a fault of its own; that is
// given as an error like any other.
func decode(text string) (values map[string]any, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			values, err = nil, fmt.Errorf("the decoder stopped: %v", fault)
		}
	}()
	values = map[string]any{}
	_, err = toml.Decode(text, &values)
	return values, err
}

func newTable(doc *document, path, header string, at *place, values map[string]any) *table {
	return &table{doc: doc, path: path, header: header, at: at, values: values,
		asked: map[string]bool{}, children: map[string][]*table{}}
}

// checkTexts finds control characters and bidi controls in every key and text under a table.
func checkTexts(doc *document, path string, values map[string]any, at *place) {
	for _, name := range slices.Sorted(maps.Keys(values)) {
		key, where := joinKey(path, name), at.key(name)
		if r, bad := refusedIn(name, false); bad {
			doc.mistake(where.lineOr(0), key, nameOf(r)+" in a key", "delete it")
		}
		checkText(doc, func() string { return key }, values[name], where)
	}
}

// checkText is checkTexts for one value; its path is made only when there is need of it.
func checkText(doc *document, path func() string, value any, at *place) {
	switch v := value.(type) {
	case string:
		multi := at != nil && at.multi
		if r, bad := refusedIn(v, multi); bad {
			doc.mistake(at.lineOr(0), path(), nameOf(r)+" in a text", cureOf(r, multi))
		}
	case map[string]any:
		checkTexts(doc, path(), v, at)
	default:
		items, _ := listOf(value)
		for i, item := range items {
			checkText(doc, func() string { return indexKey(path(), i) }, item, at.item(i))
		}
	}
}

// nameOf names a character that does not show.
func nameOf(r rune) string {
	switch {
	case r == '\n':
		return "a line end (U+000A)"
	case r == '\t':
		return "a tab (U+0009)"
	case r < 0xa0:
		return fmt.Sprintf("control character %U", r)
	}
	return fmt.Sprintf("bidi control %U", r)
}

// cureOf is what to do about it.
func cureOf(r rune, multi bool) string {
	if !multi && (r == '\n' || r == '\t') {
		return `delete it, or write the text between """ and """`
	}
	return "delete it"
}

// found is everything wrong with the file so far, by line.
func (t *table) found() Mistakes {
	if t == nil {
		return nil
	}
	return t.doc.found.inOrder(nil)
}

// notes is what is worth telling though it is no mistake, as it came.
func (t *table) notes() []Note {
	if t == nil {
		return nil
	}
	return t.doc.notes
}

// has tells whether the key is there.
func (t *table) has(key string) bool {
	if t == nil {
		return false
	}
	t.asked[key] = true
	_, there := t.values[key]
	return there
}

// keys is every key of a table whose keys are the skipper's to choose, by line; they all count as asked for.
func (t *table) keys() []string {
	if t == nil {
		return nil
	}
	all := slices.Sorted(maps.Keys(t.values))
	for _, key := range all {
		t.asked[key] = true
	}
	slices.SortStableFunc(all, func(a, b string) int { return t.line(a) - t.line(b) })
	return all
}

// line is the line of a key, or of the table's header when the key is not there; "" is the table itself. 0: none.
func (t *table) line(key string) int {
	if t == nil {
		return 0
	}
	return t.at.key(key).lineOr(t.at.lineOr(0))
}

// mistake adds something wrong with a key, found by its reader; "" is the table itself.
func (t *table) mistake(key, problem, cure string) {
	if t == nil {
		return
	}
	t.doc.mistake(t.line(key), t.full(key), problem, cure)
}

// mistakeIn adds something wrong with item i of a list.
func (t *table) mistakeIn(key string, i int, problem, cure string) {
	if t == nil {
		return
	}
	t.doc.mistake(t.at.key(key).item(i).lineOr(t.line(key)), indexKey(t.full(key), i), problem, cure)
}

// note adds something lint tells that is no mistake.
func (t *table) note(key, problem, cure string) {
	if t == nil || t.doc.newer {
		return
	}
	t.doc.notes = append(t.doc.notes,
		Note{File: t.doc.file, Line: t.line(key), Key: t.full(key), Problem: problem, Cure: cure})
}

// full is the full key of a key of the table; "" is the table itself.
func (t *table) full(key string) string {
	if key == "" {
		return t.path
	}
	return joinKey(t.path, key)
}

// known is a cure that is known at once; others are made when there is something to cure.
func known(cure string) func() string { return func() string { return cure } }

// cell is the value of a key. A missing one is a mistake where it is required; cure then says what to write.
func (t *table) cell(key string, need need, cure func() string) (c cell, there bool) {
	if t == nil {
		return cell{}, false
	}
	if !t.has(key) {
		if need == required {
			t.mistake(key, missing, cure())
		}
		return cell{}, false
	}
	return cell{doc: t.doc, of: t, name: key, line: t.line(key), at: t.at.key(key), value: t.values[key]}, true
}

// text is a text; a required one must have something in it.
func (t *table) text(key string, need need) string {
	c, there := t.cell(key, need, known(writeText))
	if !there {
		return ""
	}
	s, _ := c.text()
	if _, isText := c.value.(string); isText && need == required && strings.TrimSpace(s) == "" {
		c.mistake("is empty", writeText)
	}
	return s
}

// number is a whole or decimal number from lo to hi, each included; ±math.Inf: no bound.
func (t *table) number(key string, lo, hi float64, need need) float64 {
	c, there := t.cell(key, need, func() string { return writeNumber(lo, hi) })
	if !there {
		return 0
	}
	x, _ := c.number(lo, hi)
	return x
}

// whole is a whole number from lo to hi, each included; math.MinInt and math.MaxInt: no bound.
func (t *table) whole(key string, lo, hi int, need need) int {
	c, there := t.cell(key, need, func() string { return writeWhole(lo, hi) })
	if !there {
		return 0
	}
	return c.whole(lo, hi)
}

// flag is true or false; false when left out.
func (t *table) flag(key string) bool {
	c, there := t.cell(key, optional, nil)
	if !there {
		return false
	}
	yes, isFlag := c.value.(bool)
	if !isFlag {
		c.mistake(describe(c.value), "write true or false")
	}
	return yes
}

// value is a quantity with its unit, read by parse from a text; sample is a right one, such as `220 L`.
func value[T any](t *table, key, sample string, parse func(string) (T, error), need need) T {
	c, there := t.cell(key, need, func() string { return writeUnit(sample) })
	if !there {
		return *new(T)
	}
	v, _ := parseCell(c, sample, parse)
	return v
}

// optionalValue is value for a key that may be left out; present is false then, and when it cannot be read.
func optionalValue[T any](t *table, key, sample string, parse func(string) (T, error)) (v T, present bool) {
	c, there := t.cell(key, optional, nil)
	if !there {
		return v, false
	}
	return parseCell(c, sample, parse)
}

// oneOf is one of the allowed words, "" when it is left out or none of them.
func (t *table) oneOf(key string, need need, allowed ...string) string {
	c, there := t.cell(key, need, func() string { return writeOneOf(allowed) })
	if !there {
		return ""
	}
	return c.oneOf(allowed)
}

// texts is a list of texts.
func (t *table) texts(key string) []string {
	var all []string
	for _, c := range t.list(key, writeTexts) {
		if s, ok := c.text(); ok {
			all = append(all, s)
		}
	}
	return all
}

// choices is a list of words, each one of those allowed.
func (t *table) choices(key string, allowed ...string) []string {
	var all []string
	for _, c := range t.list(key, "write a list, such as "+listed(allowed[:1])) {
		if s := c.oneOf(allowed); s != "" {
			all = append(all, s)
		}
	}
	return all
}

// flagOrChoices is either true or false, or a list of words, each one of those allowed.
func (t *table) flagOrChoices(key string, allowed ...string) (yes bool, words []string) {
	c, there := t.cell(key, optional, nil)
	if !there {
		return false, nil
	}
	if yes, isFlag := c.value.(bool); isFlag {
		return yes, nil
	}
	if _, isList := listOf(c.value); !isList {
		c.mistake(describe(c.value), "write true, false or a list, such as "+listed(allowed[:1]))
		return false, nil
	}
	return false, t.choices(key, allowed...)
}

// list is the items of a list, none when the key is left out.
func (t *table) list(key, cure string) []cell {
	c, there := t.cell(key, optional, known(cure))
	if !there {
		return nil
	}
	items, ok := c.list(cure)
	if !ok {
		return nil
	}
	return items
}

// moment is a needed date and time with its offset from UTC, in a zone of just this offset; the zero time when left out.
func (t *table) moment(key string) time.Time {
	c, there := t.cell(key, required, known(writeMoment))
	if !there {
		return time.Time{}
	}
	return c.moment()
}

// date is a day without a time; present is false when it is left out or none.
func (t *table) date(key string, need need) (day quantity.Date, present bool) {
	c, there := t.cell(key, need, known(writeDate))
	if !there {
		return quantity.Date{}, false
	}
	return c.date()
}

// position is `[latitude, longitude]` in degrees, north and east positive.
func (t *table) position(key string) (at [2]float64, present bool) {
	c, there := t.cell(key, optional, nil)
	if !there {
		return at, false
	}
	return c.position()
}

// positions is a list of them; one that cannot be read is left out.
func (t *table) positions(key string) [][2]float64 {
	var all [][2]float64
	for _, c := range t.list(key, writePositions) {
		if at, ok := c.position(); ok {
			all = append(all, at)
		}
	}
	return all
}

// pair is two quantities that belong together.
type pair[A, B any] struct {
	first  A
	second B
}

// pairs is a list of lists of two quantities each, such as a dip table; samples are a right text for each of the two.
// One that cannot be read is left out.
func pairs[A, B any](t *table, key string, samples [2]string,
	parseFirst func(string) (A, error), parseSecond func(string) (B, error)) []pair[A, B] {

	two := "write two texts: " + listed(samples[:])
	var all []pair[A, B]
	for _, c := range t.list(key, "write a list of lists: ["+listed(samples[:])+"]") {
		items, ok := c.two(two)
		if !ok {
			continue
		}
		first, ok := parseCell(items[0], samples[0], parseFirst)
		second, alsoOK := parseCell(items[1], samples[1], parseSecond)
		if ok && alsoOK {
			all = append(all, pair[A, B]{first, second})
		}
	}
	return all
}

// sub is a table in the table, nil when it is not there.
func (t *table) sub(key string, need need) *table {
	if t == nil {
		return nil
	}
	header := joinKey(t.header, key)
	write := "write the table [" + header + "]"
	c, there := t.cell(key, need, known(write))
	if !there {
		return nil
	}
	values, isTable := c.value.(map[string]any)
	if !isTable {
		c.mistake(describe(c.value), write)
		return nil
	}
	if t.children[key] == nil {
		t.children[key] = []*table{newTable(t.doc, c.key(), header, c.at, values)}
	}
	return t.children[key][0]
}

// tables is an array of tables; where it is required there must be one at least.
func (t *table) tables(key string, need need) []*table {
	if t == nil {
		return nil
	}
	header := joinKey(t.header, key)
	write := "write at least one [[" + header + "]]"
	c, there := t.cell(key, need, known(write))
	if !there {
		return nil
	}
	if t.children[key] == nil {
		t.children[key] = c.tables(header)
	}
	if items, isList := listOf(c.value); isList && len(items) == 0 && need == required {
		c.mistake("is empty", write)
	}
	return t.children[key]
}

// unknown finds the keys nobody asked for, here and in the tables that were asked for.
func (t *table) unknown() {
	if t == nil {
		return
	}
	for _, key := range slices.Sorted(maps.Keys(t.values)) {
		if !t.asked[key] {
			t.mistype(key)
		}
		for _, child := range t.children[key] {
			child.unknown()
		}
	}
}

// mistype tells a key nobody asked for. Where it was meant for a needed one, that one is not told as missing too:
// one slip, one mistake.
func (t *table) mistype(key string) {
	near := t.meant(key)
	if near == "" {
		t.mistake(key, notAKey, "")
		return
	}
	t.doc.found = slices.DeleteFunc(t.doc.found, func(m Mistake) bool { return m.Key == t.full(near) && m.Problem == missing })
	t.mistake(key, notAKey, "did you mean "+quote(near)+"?")
}

const (
	notAKey = "not a key of this table"
	missing = "missing"
)

// meant is a key that was asked for, is not there, and may be meant by one that is; "" when none is near.
func (t *table) meant(key string) string {
	var free []string
	for asked := range t.asked {
		if _, there := t.values[asked]; !there {
			free = append(free, asked)
		}
	}
	slices.Sort(free)
	return checklist.Nearest(key, free)
}

// checkFormat reads `format`, which left out means 1. It is false for a file of a newer format: then that is the one
// thing said about the file, and nothing more of it may be read.
func checkFormat(t *table) bool {
	c, there := t.cell("format", optional, nil)
	if !there {
		return true
	}
	n, isWhole := c.value.(int64)
	if isWhole && n > formatKnown {
		t.doc.found, t.doc.notes = nil, nil
		c.mistake(fmt.Sprintf("written for format %d, this program knows %d", n, formatKnown), "")
		t.doc.newer = true
		return false
	}
	write := fmt.Sprintf("write %d", formatKnown)
	switch {
	case !isWhole:
		c.mistake(notWhole(c.value), write)
	case n < 1:
		c.mistake(fmt.Sprintf("%d is no format", n), write)
	}
	return true
}
