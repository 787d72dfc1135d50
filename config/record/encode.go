package record

import (
	"encoding"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"boat/hoveshort/checklist"
)

// The text of an entry. Everything nested is an inline table, so that `sum` can
// be the last key of the entry's own table; arrays of the entry take a line an
// element, and nothing inside an inline table breaks the line: TOML 1.0. Values
// at zero are left out. No control character and no character that turns the
// writing direction stands raw.

// encodeEntry gives e from its `[[entry]]` to the line before `sum`.
func encodeEntry(e checklist.Entry) ([]byte, error) {
	pairs, err := entryPairs(e)
	if err != nil {
		return nil, err
	}

	var b strings.Builder
	b.WriteString(entryLine)
	for _, p := range pairs {
		if err := p.writeLines(&b); err != nil {
			return nil, fmt.Errorf("%s: %s: %w", e.Act.Kind(), p.key, err)
		}
	}

	return []byte(b.String()), nil
}

// pair is a key and its value.
type pair struct {
	key   string
	value reflect.Value
}

// entryPairs are the keys of an entry in their order: what is common, the act's own, and who.
func entryPairs(e checklist.Entry) ([]pair, error) {
	if e.Act == nil {
		return nil, errors.New("an entry without an act")
	}

	pairs := []pair{
		{"seq", reflect.ValueOf(e.Seq)},
		{"at", reflect.ValueOf(e.At)},
		{"kind", reflect.ValueOf(string(e.Act.Kind()))},
	}
	pairs = append(pairs, fieldPairs(reflect.Indirect(reflect.ValueOf(e.Act)))...)
	if e.By != "" {
		pairs = append(pairs, pair{"by", reflect.ValueOf(e.By)})
	}

	return pairs, nil
}

// fieldPairs are the fields of a struct that are not at their zero value.
func fieldPairs(v reflect.Value) []pair {
	var pairs []pair
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.IsExported() && !isZero(v.Field(i)) {
			pairs = append(pairs, pair{keyOf(f), v.Field(i)})
		}
	}

	return pairs
}

// keyOf is the name of a field in the record.
func keyOf(f reflect.StructField) string {
	if name := f.Tag.Get("toml"); name != "" {
		return name
	}

	return strings.ToLower(f.Name)
}

// isZero tells whether a value is left out. Minus zero is not: it would come back without its sign.
func isZero(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice:
		return v.Len() == 0
	case reflect.Float64:
		return math.Float64bits(v.Float()) == 0
	default:
	}
	if t, is := v.Interface().(time.Time); is {
		return t.IsZero()
	}

	return v.IsZero()
}

// writeLines writes the pair as a line, or an array as a line an element.
func (p pair) writeLines(b *strings.Builder) error {
	b.WriteString(p.key + " = ")
	if p.value.Kind() != reflect.Slice {
		err := writeValue(b, p.value)
		b.WriteByte('\n')
		return err
	}

	b.WriteString("[\n")
	for i := range p.value.Len() {
		b.WriteString("  ")
		if err := writeValue(b, p.value.Index(i)); err != nil {
			return err
		}
		b.WriteString(",\n")
	}
	b.WriteString("]\n")

	return nil
}

// writeValue writes a value on one line.
func writeValue(b *strings.Builder, v reflect.Value) error {
	switch value := v.Interface().(type) {
	case time.Time:
		return writeTime(b, value)
	case checklist.Entry:
		pairs, err := entryPairs(value)
		if err != nil {
			return err
		}
		if value.Sum != "" { // an entry brought forward keeps the sum it was written with
			pairs = append(pairs, pair{"sum", reflect.ValueOf(value.Sum)})
		}
		return writeInline(b, pairs)
	case encoding.TextMarshaler:
		text, err := value.MarshalText()
		if err != nil {
			return err
		}
		return writeString(b, string(text))
	}

	switch v.Kind() {
	case reflect.Pointer:
		return writeValue(b, v.Elem())
	case reflect.String:
		return writeString(b, v.String())
	case reflect.Bool:
		b.WriteString(strconv.FormatBool(v.Bool()))
		return nil
	case reflect.Int:
		b.WriteString(strconv.FormatInt(v.Int(), 10))
		return nil
	case reflect.Float64:
		return writeFloat(b, v.Float())
	case reflect.Struct:
		return writeInline(b, fieldPairs(v))
	case reflect.Slice:
		return writeArray(b, v)
	default:
		return fmt.Errorf("a %s cannot be written", v.Type())
	}
}

func writeInline(b *strings.Builder, pairs []pair) error {
	if len(pairs) == 0 {
		b.WriteString("{}")
		return nil
	}

	before := "{ "
	for _, p := range pairs {
		b.WriteString(before + p.key + " = ")
		if err := writeValue(b, p.value); err != nil {
			return fmt.Errorf("%s: %w", p.key, err)
		}
		before = ", "
	}
	b.WriteString(" }")

	return nil
}

func writeArray(b *strings.Builder, v reflect.Value) error {
	b.WriteByte('[')
	for i := range v.Len() {
		if i > 0 {
			b.WriteString(", ")
		}
		if err := writeValue(b, v.Index(i)); err != nil {
			return err
		}
	}
	b.WriteByte(']')

	return nil
}

// writeTime writes the moment with its offset, to the second, so that it reads back as the same moment.
func writeTime(b *strings.Builder, t time.Time) error {
	t = plainTime(t)
	if y := t.Year(); y < 1 || y > 9999 {
		return fmt.Errorf("the year %d cannot be written; set the clock", y)
	}
	b.WriteString(t.Format(time.RFC3339))

	return nil
}

// plainTime is t to the second, in a zone that has only an offset of whole minutes (as in TOML), and UTC where that is nought.
func plainTime(t time.Time) time.Time {
	t = t.Truncate(time.Second)
	_, offset := t.Zone()
	offset -= offset % 60
	if offset == 0 {
		return t.UTC()
	}

	return t.In(time.FixedZone("", offset))
}

// writeFloat writes the shortest digits that give the same float again.
func writeFloat(b *strings.Builder, x float64) error {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return fmt.Errorf("%v is not a number that can be written", x)
	}

	const plainFrom, plainBelow = 1e-5, 1e15
	size := math.Abs(x)
	if size != 0 && (size < plainFrom || size >= plainBelow) {
		b.WriteString(strconv.FormatFloat(x, 'e', -1, 64))
		return nil
	}
	text := strconv.FormatFloat(x, 'f', -1, 64)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	b.WriteString(text)

	return nil
}

// writeString writes s as a basic string of TOML.
func writeString(b *strings.Builder, s string) error {
	if !utf8.ValidString(s) {
		return fmt.Errorf("%.60q is not UTF-8 text; type it again", s)
	}

	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case !mustEscape(r):
			b.WriteRune(r)
		case r > 0xffff:
			fmt.Fprintf(b, `\U%08X`, r)
		default:
			fmt.Fprintf(b, `\u%04X`, r)
		}
	}
	b.WriteByte('"')

	return nil
}

// mustEscape tells of control characters, of what turns the writing direction or cannot be seen, and of line ends that are not LF.
func mustEscape(r rune) bool {
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp)
}
