package record

import (
	"bytes"
	"encoding"
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/BurntSushi/toml"

	"boat/hoveshort/checklist"
)

// acts are the kinds of the closed list, each with its act.
var acts = actTypes()

func actTypes() map[checklist.Kind]reflect.Type {
	types := map[checklist.Kind]reflect.Type{}
	for _, act := range []checklist.Act{
		checklist.Carry{}, checklist.Sound{}, checklist.Fill{}, checklist.Count{}, checklist.Answer{}, checklist.Event{},
		checklist.Reading{}, checklist.DefectAct{}, checklist.Accept{}, checklist.Sign{}, checklist.ClockSettled{},
		checklist.Correct{}, checklist.ServiceDone{}, checklist.Stow{}, checklist.StepTaken{},
		checklist.Depart{}, checklist.Noon{}, checklist.Change{}, checklist.Arrive{},
	} {
		types[act.Kind()] = reflect.TypeOf(act)
	}

	return types
}

// decodeEntry reads what encodeEntry wrote, and what the same entry may look like otherwise.
func decodeEntry(text []byte) (checklist.Entry, error) {
	if table, ok := shortly(text); ok {
		return entryOf(table)
	}

	return decodeAny(text)
}

// decodeAny reads an entry with the TOML library.
func decodeAny(text []byte) (checklist.Entry, error) {
	if err := isPlain(text); err != nil {
		return checklist.Entry{}, err
	}
	var page struct {
		Entry []map[string]any `toml:"entry"`
	}
	if _, err := toml.Decode(string(text), &page); err != nil {
		return checklist.Entry{}, fmt.Errorf("%.200s", strings.TrimPrefix(err.Error(), "toml: ")) // it quotes at any length
	}
	if len(page.Entry) != 1 {
		return checklist.Entry{}, errors.New("no entry stands there")
	}

	return entryOf(page.Entry[0])
}

var errNotOurs = errors.New("it is not as this program writes an entry")

// isPlain refuses text that would keep the TOML reader busy for minutes: it nests deeply or has keys of many parts.
// What the program writes nests five deep, has no dotted key, no comment, and strings in double quotes only.
func isPlain(text []byte) error {
	const deepest, mostDots = 16, 16
	if bytes.Contains(text, []byte(`"""`)) {
		return errNotOurs
	}
	depth, dots, inString := 0, 0, false
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c == '\n':
			dots, inString = 0, false
		case inString && c == '\\':
			i++
		case c == '"':
			inString, dots = !inString, 0
		case inString:
		case c == '\'' || c == '#':
			return errNotOurs
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			depth--
		case c == '.':
			dots++
		case c == ',' || c == '=':
			dots = 0
		}
		if depth > deepest || dots > mostDots {
			return errNotOurs
		}
	}

	return nil
}

// entryOf is the entry of a table.
func entryOf(table map[string]any) (checklist.Entry, error) {
	var common struct {
		Seq  int       `toml:"seq"`
		At   time.Time `toml:"at"`
		Kind string    `toml:"kind"`
		By   string    `toml:"by"`
		Sum  string    `toml:"sum"` // of an entry that a page brought forward
	}
	rest, err := fillFields(reflect.ValueOf(&common).Elem(), table)
	if err != nil {
		return checklist.Entry{}, err
	}
	if common.Seq < 1 {
		return checklist.Entry{}, errors.New("seq: it has no number")
	}
	if common.At.IsZero() {
		return checklist.Entry{}, errors.New("at: it has no time")
	}

	act, err := actOf(checklist.Kind(common.Kind), rest)
	if err != nil {
		return checklist.Entry{}, err
	}

	return checklist.Entry{Seq: common.Seq, At: common.At, By: common.By, Act: act, Sum: common.Sum}, nil
}

// actOf is the act of a kind, of the keys that are left.
func actOf(kind checklist.Kind, table map[string]any) (checklist.Act, error) {
	t, known := acts[kind]
	if !known {
		return nil, fmt.Errorf("kind: %.60q: this program does not know it", kind)
	}

	v := reflect.New(t).Elem()
	rest, err := fillFields(v, table)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", kind, err)
	}
	if err := noneLeft(rest); err != nil {
		return nil, fmt.Errorf("%s: %w", kind, err)
	}

	act, _ := v.Interface().(checklist.Act)
	return act, nil
}

// noneLeft refuses a key that is no field: a newer program may have meant something by it.
func noneLeft(rest map[string]any) error {
	if len(rest) == 0 {
		return nil
	}

	return fmt.Errorf("%.60q: this program does not know it", slices.Min(slices.Collect(maps.Keys(rest))))
}

// fillFields sets the fields of a struct from a table, which loses what was taken: what is left of it are the keys
// that are no field.
func fillFields(v reflect.Value, table map[string]any) (rest map[string]any, err error) {
	for i := range v.NumField() {
		key := keyOf(v.Type().Field(i))
		value, there := table[key]
		if !there {
			continue
		}
		delete(table, key)
		if err := setValue(v.Field(i), value); err != nil {
			return nil, fmt.Errorf("%s: %w", key, err)
		}
	}

	return table, nil
}

// setValue sets a field from what the TOML reader gave.
func setValue(v reflect.Value, value any) error {
	switch target := v.Addr().Interface().(type) {
	case *time.Time:
		return setTime(target, value)
	case *checklist.Entry:
		table, is := value.(map[string]any)
		if !is {
			return unlike(value, "a table")
		}
		e, err := entryOf(table)
		*target = e
		return err
	case encoding.TextUnmarshaler:
		text, is := value.(string)
		if !is {
			return unlike(value, "text")
		}
		return target.UnmarshalText([]byte(text))
	}

	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		return setValue(v.Elem(), value)
	case reflect.Slice:
		return setSlice(v, value)
	case reflect.Struct:
		return setStruct(v, value)
	default:
		return setPlain(v, value)
	}
}

// setPlain sets text, a number, or yes and no.
func setPlain(v reflect.Value, value any) error {
	switch v.Kind() {
	case reflect.String:
		text, is := value.(string)
		if !is {
			return unlike(value, "text")
		}
		v.SetString(text)
	case reflect.Bool:
		yes, is := value.(bool)
		if !is {
			return unlike(value, "true or false")
		}
		v.SetBool(yes)
	case reflect.Int:
		n, is := value.(int64)
		if !is || v.OverflowInt(n) {
			return unlike(value, "a whole number")
		}
		v.SetInt(n)
	case reflect.Float64:
		return setFloat(v, value)
	default:
		return fmt.Errorf("a %s cannot be read", v.Type())
	}

	return nil
}

func setFloat(v reflect.Value, value any) error {
	switch x := value.(type) {
	case int64:
		v.SetFloat(float64(x))
	case float64:
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return unlike(value, "a number")
		}
		v.SetFloat(x)
	default:
		return unlike(value, "a number")
	}

	return nil
}

// setTime takes a time only with its offset: without one it would move with the computer's zone.
func setTime(target *time.Time, value any) error {
	t, is := value.(time.Time)
	if !is || strings.HasSuffix(t.Location().String(), "-local") {
		return unlike(value, "a time with its offset")
	}
	*target = plainTime(t)

	return nil
}

// setSlice sets an array. An empty one stays nil, as it was never written.
func setSlice(v reflect.Value, value any) error {
	elements := reflect.ValueOf(value)
	if elements.Kind() != reflect.Slice {
		return unlike(value, "a list")
	}
	if elements.Len() == 0 {
		return nil
	}

	v.Set(reflect.MakeSlice(v.Type(), elements.Len(), elements.Len()))
	for i := range elements.Len() {
		if err := setValue(v.Index(i), elements.Index(i).Interface()); err != nil {
			return fmt.Errorf("[%d]: %w", i, err)
		}
	}

	return nil
}

func setStruct(v reflect.Value, value any) error {
	table, is := value.(map[string]any)
	if !is {
		return unlike(value, "a table")
	}
	rest, err := fillFields(v, table)
	if err != nil {
		return err
	}

	return noneLeft(rest)
}

// unlike says that something else stands where want is needed.
func unlike(value any, want string) error {
	return fmt.Errorf("%.60q stands where %s is needed", fmt.Sprint(value), want)
}
