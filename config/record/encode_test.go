package record

import (
	"math"
	"reflect"
	"slices"
	"testing"
	"time"
	"unicode"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

// anyAct draws an act of a kind that has one, with every field filled or not.
func anyAct(kinds []checklist.Kind) *rapid.Generator[checklist.Act] {
	return rapid.Custom(func(t *rapid.T) checklist.Act {
		kind := rapid.SampledFrom(kinds).Draw(t, "kind")
		v := reflect.New(acts[kind]).Elem()
		fill(t, v)

		return v.Interface().(checklist.Act)
	})
}

// actKinds are the kinds that have an act of their own, in the order of the closed list.
func actKinds() []checklist.Kind {
	return slices.DeleteFunc(slices.Clone(checklist.Kinds), func(k checklist.Kind) bool { return acts[k] == nil })
}

func keepable() []checklist.Kind {
	return slices.DeleteFunc(actKinds(), func(k checklist.Kind) bool { return k == checklist.KindCarry })
}

var someAmounts = []string{"82 °C", "3.1 bar", "5.9 kn", "2400", "62 %", "0 L", "12.6 V", "90 min", "-3 °C", "58 US gal"}

func anyTime(t *rapid.T) time.Time {
	const from, to = -62135596800 + 86400, 253402300799 - 86400 // the years 1 to 9999
	at := time.Unix(rapid.Int64Range(from, to).Draw(t, "at"), 0)
	offset := rapid.IntRange(-14*60, 14*60).Draw(t, "offset") * 60

	return plainTime(at.In(time.FixedZone("", offset)))
}

// fill draws a value for v and what is in it. Half of the fields stay at zero, as most do in life.
func fill(t *rapid.T, v reflect.Value) {
	switch target := v.Addr().Interface().(type) {
	case *time.Time:
		*target = anyTime(t)
		return
	case *quantity.Any:
		amount, err := quantity.ParseAny(rapid.SampledFrom(someAmounts).Draw(t, "amount"))
		require.NoError(t, err)
		*target = amount
		return
	case *quantity.Date:
		*target = quantity.DateOf(anyTime(t))
		return
	case *checklist.Entry:
		*target = checklist.Entry{Seq: rapid.IntRange(1, 1e6).Draw(t, "seq"), At: anyTime(t), Act: anyAct(keepable()).Draw(t, "kept")}
		return
	}

	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(t, v.Elem())
	case reflect.Slice:
		n := rapid.IntRange(0, 3).Draw(t, "length")
		if n == 0 {
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			fill(t, v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if rapid.Bool().Draw(t, "given") {
				fill(t, v.Field(i))
			}
		}
	case reflect.String:
		v.SetString(rapid.String().Draw(t, "text"))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, "yes"))
	case reflect.Int:
		v.SetInt(int64(rapid.Int().Draw(t, "number")))
	case reflect.Float64:
		v.SetFloat(rapid.Float64().Filter(func(x float64) bool { return !math.IsInf(x, 0) && !math.IsNaN(x) }).Draw(t, "float"))
	default:
		t.Fatalf("no value is drawn for a %s", v.Type())
	}
}

func TestEveryKindReadsBackAsItWasWritten(t *testing.T) {
	for _, kind := range actKinds() {
		t.Run(string(kind), rapid.MakeCheck(func(t *rapid.T) {
			want := checklist.Entry{
				Seq: rapid.IntRange(1, 1e8).Draw(t, "seq"), At: anyTime(t), By: rapid.String().Draw(t, "by"),
				Act: anyAct([]checklist.Kind{kind}).Draw(t, "act"),
			}
			body, err := encodeEntry(want)
			require.NoError(t, err)
			text, sum := sealed(firstLink, body)
			want.Sum = sum // comes with it when it is read
			page := slices.Concat([]byte(pageHead), text)

			var whole map[string]any
			_, err = toml.Decode(string(page), &whole)
			require.NoError(t, err, "the page is TOML:\n%s", page)
			for _, r := range string(page) {
				require.False(t, unicode.IsControl(r) && r != '\n', "a control character stands raw: %q", page)
			}
			got, err := parsePage(1, page, link{sums: []string{firstLink}, nexts: []int{want.Seq}})
			require.NoError(t, err)
			require.NoError(t, got.unknown)
			require.Empty(t, got.faults)
			require.Equal(t, []checklist.Entry{want}, got.entries, "%s", page)
		}))
	}
}

func TestFloatsSurviveExactly(t *testing.T) {
	for _, x := range []float64{
		math.SmallestNonzeroFloat64, math.MaxFloat64, 1e15, 1e15 - 1, 999999999999999.9, 1e-5, 9.999999999999999e-6, 0.1, 1.0 / 3,
		-0.1, 123456789012345680, 1 << 53, math.Copysign(0, -1),
	} {
		body, err := encodeEntry(checklist.Entry{Seq: 1, At: start, Act: checklist.Count{Food: "rice", Packs: x}})
		require.NoError(t, err)
		e, err := decodeEntry(body)
		require.NoError(t, err, "%s", body)
		assert.Equal(t, math.Float64bits(x), math.Float64bits(e.Act.(checklist.Count).Packs), "%v as %s", x, body)
	}
}

func TestWhatCannotBeReadBackIsNotWritten(t *testing.T) {
	for name, e := range map[string]checklist.Entry{
		"not a number":   {Seq: 1, At: start, Act: checklist.Count{Food: "rice", Packs: math.NaN()}},
		"infinite":       {Seq: 1, At: start, Act: checklist.Count{Food: "rice", Packs: math.Inf(1)}},
		"not UTF-8":      {Seq: 1, At: start, Act: checklist.Event{What: "a\xffb"}},
		"who, not UTF-8": {Seq: 1, At: start, By: "\xc0", Act: checklist.Event{What: "x"}},
		"no act":         {Seq: 1, At: start},
		"year 10000":     {Seq: 1, At: time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC), Act: checklist.Event{What: "x"}},
	} {
		_, err := encodeEntry(e)
		assert.Error(t, err, name)
	}
}

// A zone of old with seconds in its offset, as Amsterdam had until 1937 (IANA tz database), is the same moment after.
func TestAnOffsetWithSecondsIsTheSameMoment(t *testing.T) {
	at := time.Date(2026, 6, 12, 5, 30, 59, 0, time.FixedZone("AMT", 19*60+32))
	body, err := encodeEntry(checklist.Entry{Seq: 1, At: at, Act: checklist.Event{What: "x"}})
	require.NoError(t, err)
	e, err := decodeEntry(body)
	require.NoError(t, err)
	assert.True(t, at.Equal(e.At), "%s and %s", at, e.At)
}

func TestNoActHasAFieldOfTheEntrysOwnName(t *testing.T) {
	for kind, act := range acts {
		for i := range act.NumField() {
			assert.NotContains(t, []string{"seq", "at", "kind", "by", "sum"}, keyOf(act.Field(i)), kind)
		}
	}
}

func TestWhatIsNotOursIsRefused(t *testing.T) {
	entry := func(rest string) string { return entryLine + "seq = 1\nat = 2026-06-12T05:30:00Z\n" + rest }
	deep := ""
	for range 100 {
		deep += "["
	}
	for name, c := range map[string]struct{ text, says string }{
		"a kind that is not in the list": {entry("kind = \"polish\"\n"), `"polish": this program does not know it`},
		"a key that is no field":         {entry("kind = \"event\"\nwhat = \"x\"\ncolour = \"red\"\n"), `"colour": this program does not know it`},
		"a key in another case":          {entry("kind = \"event\"\nWhat = \"x\"\n"), `"What": this program does not know it`},
		"a key nested that is no field":  {entry("kind = \"reading\"\nvalues = [ { off = \"rpm\" } ]\n"), `"off": this program does not know it`},
		"another type":                   {entry("kind = \"event\"\nwhat = 3\n"), "what: \"3\" stands where text is needed"},
		"a bad quantity":                 {entry("kind = \"reading\"\nvalues = [ { of = \"coolant\", value = \"82 X\" } ]\n"), "82 X"},
		"not a number":                   {entry("kind = \"count\"\npacks = nan\n"), "packs: "},
		"a time without its offset":      {entryLine + "seq = 1\nat = 2026-06-12T05:30:00\nkind = \"event\"\n", "a time with its offset is needed"},
		"no number":                      {entryLine + "at = 2026-06-12T05:30:00Z\nkind = \"event\"\n", "seq: "},
		"no time":                        {entryLine + "seq = 1\nkind = \"event\"\n", "at: "},
		"nested deep":                    {entry("kind = \"event\"\nwhat = " + deep + "\n"), errNotOurs.Error()},
		"a key of many parts":            {entry("a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a = 1\n"), errNotOurs.Error()},
		"another table":                  {"[other]\nx = 1\n", "no entry stands there"},
	} {
		_, err := decodeEntry([]byte(c.text))
		assert.ErrorContains(t, err, c.says, name)
	}
}

func TestEveryKindOfTheListHasItsAct(t *testing.T) {
	for _, kind := range checklist.Kinds {
		assert.Contains(t, acts, kind)
	}
	assert.Len(t, acts, len(checklist.Kinds))
}
