package config

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

// What would be right, for each kind of value.
const (
	writeText      = "write a text in quotes"
	writeTexts     = `write a list of texts, such as ["one", "two"]`
	writeMoment    = "write a date and time with its offset from UTC, such as 2026-06-12T05:30:00+13:00"
	writeDate      = "write a date, such as 2026-06-12"
	writePosition  = "write [latitude, longitude] in degrees, north and east positive"
	writePositions = "write a list of [latitude, longitude] in degrees, north and east positive"
)

// cell is one value of a file and its place.
type cell struct {
	doc   *document
	of    *table // whose key it is, by this name; nil: an item of a list
	name  string
	path  string // of an item: the full key
	line  int
	at    *place
	value any
}

func (c cell) mistake(problem, cure string) { c.doc.mistake(c.line, c.key(), problem, cure) }

// key is the full one; it is put together when somebody asks.
func (c cell) key() string {
	if c.of == nil {
		return c.path
	}
	return c.of.full(c.name)
}

// text is the value where it is a text.
func (c cell) text() (string, bool) {
	s, isText := c.value.(string)
	if !isText {
		c.mistake(describe(c.value), writeText)
	}
	return s, isText
}

// number is the value where it is a number from lo to hi.
func (c cell) number(lo, hi float64) (float64, bool) {
	x, isNumber := floatOf(c.value)
	var wrong string
	switch {
	case !isNumber:
		wrong = describe(c.value)
	case math.IsNaN(x) || math.IsInf(x, 0):
		wrong = show(c.value) + " cannot be reckoned with"
	case x < lo || x > hi:
		wrong = show(c.value) + " is out of range"
	default:
		return x, true
	}
	c.mistake(wrong, writeNumber(lo, hi))
	return 0, false
}

// whole is the value where it is a whole number from lo to hi, else 0.
func (c cell) whole(lo, hi int) int {
	n, isWhole := c.value.(int64)
	switch {
	case !isWhole:
		c.mistake(notWhole(c.value), writeWhole(lo, hi))
	case n < int64(lo) || n > int64(hi):
		c.mistake(show(c.value)+" is out of range", writeWhole(lo, hi))
	default:
		return int(n)
	}
	return 0
}

// notWhole says what stands where a whole number should.
func notWhole(v any) string {
	if _, isFloat := v.(float64); isFloat {
		return show(v) + " is not a whole number"
	}
	return describe(v)
}

// oneOf is the value where it is one of the allowed words, else "".
func (c cell) oneOf(allowed []string) string {
	s, isText := c.value.(string)
	if !isText {
		c.mistake(describe(c.value), writeOneOf(allowed))
		return ""
	}
	for _, word := range allowed {
		if s == word {
			return s
		}
	}
	cure := writeOneOf(allowed)
	if near := checklist.Nearest(s, allowed); near != "" {
		cure = "did you mean " + quote(near) + "?"
	}
	c.mistake(quote(s)+" is not known here", cure)
	return ""
}

// parseCell reads the value, a text, by parse; sample is a right one.
func parseCell[T any](c cell, sample string, parse func(string) (T, error)) (T, bool) {
	s, isText := c.value.(string)
	if !isText {
		c.mistake(withoutUnit(c.value), writeUnit(sample))
		return *new(T), false
	}
	v, err := parse(s)
	if err == nil {
		return v, true
	}
	problem, cure := quote(s)+" cannot be read: "+err.Error(), writeUnit(sample)
	if q, ok := errors.AsType[*quantity.Error](err); ok {
		problem, cure = q.Problem, q.Cure
	}
	c.mistake(problem, cure)
	return *new(T), false
}

// withoutUnit says what stands where a text with a unit should.
func withoutUnit(v any) string {
	if _, isNumber := floatOf(v); isNumber {
		return show(v) + " has no unit"
	}
	return describe(v)
}

// moment is the value where it is a date and time with an offset, else the zero time.
func (c cell) moment() time.Time {
	at, isTime := c.value.(time.Time)
	switch {
	case !isTime:
		c.mistake(describe(c.value), writeMoment)
	case timeKind(at) == localMoment:
		c.mistake(show(at)+" has no offset", "write it with the offset from UTC, such as "+show(at)+"+13:00")
	case timeKind(at) != offsetMoment:
		c.mistake(describe(at), writeMoment)
	default:
		_, offset := at.Zone()
		return at.In(time.FixedZone("", offset))
	}
	return time.Time{}
}

// date is the value where it is a date alone.
func (c cell) date() (quantity.Date, bool) {
	at, isTime := c.value.(time.Time)
	switch {
	case !isTime:
		c.mistake(describe(c.value), writeDate)
	case timeKind(at) == localTime:
		c.mistake(describe(at), writeDate)
	case timeKind(at) != localDate:
		c.mistake(describe(at), "write the date alone: "+at.Format(time.DateOnly))
	case at.Year() < 1:
		c.mistake(show(at)+" is before the year 1", writeDate)
	default:
		year, month, day := at.Date()
		return quantity.Date{Year: year, Month: month, Day: day}, true
	}
	return quantity.Date{}, false
}

// list is the items of the value where it is a list.
func (c cell) list(cure string) ([]cell, bool) {
	values, isList := listOf(c.value)
	if !isList {
		c.mistake(describe(c.value), cure)
		return nil, false
	}
	items, path := make([]cell, len(values)), c.key()
	for i, v := range values {
		at := c.at.item(i)
		items[i] = cell{doc: c.doc, path: indexKey(path, i), line: at.lineOr(c.line), at: at, value: v}
	}
	return items, true
}

// two is the items of the value where it is a list of two.
func (c cell) two(cure string) ([]cell, bool) {
	items, ok := c.list(cure)
	if ok && len(items) != 2 {
		c.mistake(fmt.Sprintf("%d values instead of two", len(items)), cure)
		return nil, false
	}
	return items, ok
}

// position is the value where it is a latitude and a longitude.
func (c cell) position() (at [2]float64, ok bool) {
	items, ok := c.two(writePosition)
	if !ok {
		return at, false
	}
	latitude, ok := items[0].number(-90, 90)
	longitude, alsoOK := items[1].number(-180, 180)
	if !ok || !alsoOK {
		return at, false
	}
	return [2]float64{latitude, longitude}, true
}

// tables is the items of the value as tables; what is none is a mistake and left out.
func (c cell) tables(header string) []*table {
	write := "write the table [[" + header + "]], in two pairs of brackets"
	items, _ := c.list(write)
	all := make([]*table, 0, len(items))
	for _, item := range items {
		values, isTable := item.value.(map[string]any)
		if !isTable {
			item.mistake(describe(item.value), write)
			continue
		}
		all = append(all, newTable(c.doc, item.path, header, item.at, values))
	}
	return all
}

// listOf is the items of a list. The decoder gives an array of tables a type of its own.
func listOf(v any) ([]any, bool) {
	switch v := v.(type) {
	case []any:
		return v, true
	case []map[string]any:
		items := make([]any, len(v))
		for i, one := range v {
			items[i] = one
		}
		return items, true
	}
	return nil, false
}

// floatOf is a number of either kind.
func floatOf(v any) (float64, bool) {
	switch v := v.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

// Kinds of date and time, by the names the decoder gives the locations of those without an offset.
const (
	offsetMoment = ""
	localMoment  = "datetime-local"
	localDate    = "date-local"
	localTime    = "time-local"
)

func timeKind(t time.Time) string {
	switch name := t.Location().String(); name {
	case localMoment, localDate, localTime:
		return name
	}
	return offsetMoment
}

// describe says what kind of value stands there.
func describe(v any) string {
	switch v := v.(type) {
	case string:
		return quote(v) + " is a text"
	case bool:
		return show(v) + " is a yes or no"
	case time.Time:
		kinds := map[string]string{offsetMoment: "a date and time", localMoment: "a date and time without an offset",
			localDate: "a date", localTime: "a time of day"}
		return show(v) + " is " + kinds[timeKind(v)]
	case map[string]any:
		return "is a table"
	case []any, []map[string]any:
		return "is a list"
	}
	return show(v) + " is a number"
}

// show is a value as TOML writes it.
func show(v any) string {
	switch v := v.(type) {
	case float64:
		s := strconv.FormatFloat(v, 'f', -1, 64)
		if v == math.Trunc(v) && !math.IsInf(v, 0) {
			s += ".0"
		}
		return strings.ToLower(shorten(s))
	case time.Time:
		layouts := map[string]string{offsetMoment: time.RFC3339, localMoment: "2006-01-02T15:04:05",
			localDate: time.DateOnly, localTime: time.TimeOnly}
		return v.Format(layouts[timeKind(v)])
	}
	return fmt.Sprint(v)
}

// writeNumber says what number would be right.
func writeNumber(lo, hi float64) string {
	from, to := strconv.FormatFloat(lo, 'f', -1, 64), strconv.FormatFloat(hi, 'f', -1, 64)
	return writeRange("number", from, to, math.IsInf(lo, -1), math.IsInf(hi, 1))
}

func writeWhole(lo, hi int) string {
	return writeRange("whole number", strconv.Itoa(lo), strconv.Itoa(hi), lo == math.MinInt, hi == math.MaxInt)
}

func writeRange(noun, from, to string, anyLow, anyHigh bool) string {
	switch {
	case anyLow && anyHigh:
		return "write a " + noun
	case anyHigh:
		return "write a " + noun + " of " + from + " or more"
	case anyLow:
		return "write a " + noun + " of " + to + " or less"
	}
	return "write a " + noun + " from " + from + " to " + to
}

func writeUnit(sample string) string {
	return "write a text with a unit, such as " + quote(sample)
}

func writeOneOf(allowed []string) string {
	return "write one of " + strings.Trim(listed(allowed), "[]")
}

// listed is a list of texts as TOML writes it.
func listed(words []string) string {
	quoted := make([]string, len(words))
	for i, word := range words {
		quoted[i] = quote(word)
	}
	return "[" + strings.Join(quoted, ", ") + "]"
}

// asQuantityError is the error as a quantity's own, which tells problem and cure apart.
func asQuantityError(err error) (*quantity.Error, bool) { return errors.AsType[*quantity.Error](err) }
