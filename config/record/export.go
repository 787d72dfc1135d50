package record

import (
	"bytes"
	"encoding"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/checklist"
)

// Writing entries out for other programs: all of them, as they stand, carries too.

// Each gives every entry of the record, oldest first, page by page, so that years of it take the memory of one page.
// A page that is missing or damaged is told in the notices, and the rest is given.
func (s *Store) Each(give func(checklist.Entry) error) (notices []string, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()

	numbers, err := s.numbers()
	if err != nil {
		return nil, err
	}
	for _, f := range missing(numbers) {
		notices = append(notices, f.String())
	}
	before := chainStart()
	for i, n := range numbers {
		if i > 0 && numbers[i-1] != n-1 || i == 0 && n > 1 {
			before = link{}
		}
		p, err := s.readPage(n, before)
		if err != nil {
			notices = append(notices, err.Error())
			before = link{}
			continue
		}
		before = p.after
		for _, f := range p.faults {
			notices = append(notices, f.String())
		}
		for _, e := range p.entries {
			if err := give(e); err != nil {
				return notices, err
			}
		}
	}

	return notices, nil
}

// WriteJSONL writes an entry as a line of JSON: seq, at, kind, by, the act's fields by their names in the record, sum.
// What the record leaves out is left out.
func WriteJSONL(w io.Writer, e checklist.Entry) error {
	var b bytes.Buffer
	if err := writeJSONEntry(&b, e); err != nil {
		return fmt.Errorf("entry %d: %w", e.Seq, err)
	}
	b.WriteByte('\n')
	_, err := w.Write(b.Bytes())

	return err
}

func writeJSONEntry(b *bytes.Buffer, e checklist.Entry) error {
	pairs := []pair{{"seq", reflect.ValueOf(e.Seq)}, {"at", reflect.ValueOf(e.At)}, {"kind", reflect.ValueOf(string(e.Act.Kind()))}}
	if e.By != "" {
		pairs = append(pairs, pair{"by", reflect.ValueOf(e.By)})
	}
	pairs = append(pairs, fieldPairs(reflect.Indirect(reflect.ValueOf(e.Act)))...)
	if e.Sum != "" {
		pairs = append(pairs, pair{"sum", reflect.ValueOf(e.Sum)})
	}

	return writeJSONObject(b, pairs)
}

func writeJSONObject(b *bytes.Buffer, pairs []pair) error {
	before := "{"
	for _, p := range pairs {
		b.WriteString(before + strconv.Quote(p.key) + ":")
		if err := writeJSON(b, p.value); err != nil {
			return fmt.Errorf("%s: %w", p.key, err)
		}
		before = ","
	}
	if len(pairs) == 0 {
		b.WriteByte('{')
	}
	b.WriteByte('}')

	return nil
}

func writeJSON(b *bytes.Buffer, v reflect.Value) error {
	switch value := v.Interface().(type) {
	case time.Time:
		return writeJSONPlain(b, plainTime(value).Format(time.RFC3339))
	case checklist.Entry:
		return writeJSONEntry(b, value)
	case encoding.TextMarshaler:
		text, err := value.MarshalText()
		if err != nil {
			return err
		}
		return writeJSONPlain(b, string(text))
	}

	switch v.Kind() {
	case reflect.Pointer:
		return writeJSON(b, v.Elem())
	case reflect.Struct:
		return writeJSONObject(b, fieldPairs(v))
	case reflect.Slice:
		return writeJSONArray(b, v)
	default:
		return writeJSONPlain(b, v.Interface())
	}
}

func writeJSONArray(b *bytes.Buffer, v reflect.Value) error {
	b.WriteByte('[')
	for i := range v.Len() {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := writeJSON(b, v.Index(i)); err != nil {
			return err
		}
	}
	b.WriteByte(']')

	return nil
}

func writeJSONPlain(b *bytes.Buffer, value any) error {
	encoder := json.NewEncoder(b)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(value); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // the line end that the encoder adds

	return nil
}

// CSVHeader names the columns of WriteCSV.
var CSVHeader = []string{"seq", "at", "kind", "by", "text", "sum"}

// NewCSV writes rows as RFC 4180 has them: lines end in CR LF, and what needs quotes has them.
func NewCSV(w io.Writer) *csv.Writer {
	c := csv.NewWriter(w)
	c.UseCRLF = true

	return c
}

// WriteCSV writes an entry as a row; text is the entry in words.
func WriteCSV(c *csv.Writer, e checklist.Entry, text string) error {
	return c.Write([]string{strconv.Itoa(e.Seq), plainTime(e.At).Format(time.RFC3339), string(e.Act.Kind()), unformula(e.By), unformula(text), e.Sum})
}

// unformula keeps a spreadsheet from taking a text for a formula: one that begins as a formula does gets an apostrophe
// before it, which a spreadsheet does not show. The beginnings are those that are usually named for it, from memory.
func unformula(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}

	return text
}
