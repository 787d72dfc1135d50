package config

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// flat is each full key of an outline with its line, tables and items of lists included.
func flat(at *place, path string, into map[string]int) {
	for name, one := range at.keys {
		key := joinKey(path, name)
		into[key] = one.line
		flat(one, key, into)
	}
	for i, one := range at.items {
		key := indexKey(path, i)
		into[key] = one.line
		flat(one, key, into)
	}
}

func linesOf(text string) map[string]int {
	lines := map[string]int{}
	flat(readOutline(text).root, "", lines)
	return lines
}

func TestEveryKindOfKeyHasItsLine(t *testing.T) {
	text := `name = "a # no comment" # [none]
'quoted key' = 1
"b\u0041\"\x41\e" = '''
x = 1
'''

[engine] # [[not]]
rpm.low = 1
rpm.high = [
  1, # ]
  "]",
]
[[engine.curve]]
rpm = 1
[[engine.curve]]
rpm = """
[a]
"""""
burn = { of = { x = 1 }, y = [ { z = 2 },
  { z = 3, dots.too = 4 } ] }
[late.sub]
k = 1
[late]
k = 2
when = 2026-06-12 05:30:00+13:00
`
	_, err := decode(text)
	require.NoError(t, err)
	assert.Equal(t, map[string]int{
		"name":                               1,
		`"quoted key"`:                       2,
		`"bA\"A\x1b"`:                        3,
		"engine":                             7,
		"engine.rpm":                         8,
		"engine.rpm.low":                     8,
		"engine.rpm.high":                    9,
		"engine.rpm.high[0]":                 10,
		"engine.rpm.high[1]":                 11,
		"engine.curve":                       13,
		"engine.curve[0]":                    13,
		"engine.curve[0].rpm":                14,
		"engine.curve[1]":                    15,
		"engine.curve[1].rpm":                16,
		"engine.curve[1].burn":               19,
		"engine.curve[1].burn.of":            19,
		"engine.curve[1].burn.of.x":          19,
		"engine.curve[1].burn.y":             19,
		"engine.curve[1].burn.y[0]":          19,
		"engine.curve[1].burn.y[0].z":        19,
		"engine.curve[1].burn.y[1]":          20,
		"engine.curve[1].burn.y[1].z":        20,
		"engine.curve[1].burn.y[1].dots":     20,
		"engine.curve[1].burn.y[1].dots.too": 20,
		"late":                               23,
		"late.sub":                           21,
		"late.sub.k":                         22,
		"late.k":                             24,
		"late.when":                          25,
	}, linesOf(text))
}

// TestDesignFilesHaveTrueLines checks the design's example files twice from outside the scanner: by a simple reading of
// each line alone, and by the order in which the decoder lists its keys.
func TestDesignFilesHaveTrueLines(t *testing.T) {
	files, err := filepath.Glob("testdata/lines/*.toml")
	require.NoError(t, err)
	require.Len(t, files, 8)
	simple := regexp.MustCompile(`^(\w+) *=`)
	count := 0
	for _, file := range files {
		text := readFixture(t, file)
		o := readOutline(text)
		assert.Empty(t, o.repeats, file)
		lines := linesOf(text)

		var first []string
		for i, line := range strings.Split(text, "\n") {
			if m := simple.FindStringSubmatch(line); m != nil {
				first = append(first, fmt.Sprint(i+1, " ", m[1]))
			}
		}
		var got []string
		seen := 0
		for _, one := range o.keys {
			if one.line != seen {
				got = append(got, fmt.Sprint(one.line, " ", one.key[strings.LastIndex(one.key, ".")+1:]))
			}
			seen = one.line
			assert.Equal(t, one.line, lines[one.key], "%s: %s", file, one.key)
		}
		assert.Equal(t, first, got, file)

		var decoded map[string]any
		meta, err := toml.Decode(text, &decoded)
		require.NoError(t, err, file)
		assert.Equal(t, keysInOrder(meta), withoutIndices(o.keys), file)
		count += len(meta.Keys())
		assertSameTree(t, decoded, o.root, file)
	}
	assert.Greater(t, count, 200)
}

// keysInOrder is the decoder's list of keys, without tables that have a header.
func keysInOrder(meta toml.MetaData) []string {
	var all []string
	for _, key := range meta.Keys() {
		if kind := meta.Type(key...); kind == "ArrayHash" {
			continue
		}
		all = append(all, key.String())
	}
	return slices.DeleteFunc(all, func(key string) bool {
		return slices.Contains([]string{"identity", "engine", "watermaker", "heater", "water", "gas", "food", "reserve.water",
			"reserve.fuel", "reserve.food", "reserve.gas", "cases", "limits", "ashore"}, key)
	})
}

func withoutIndices(keys []named) []string {
	index := regexp.MustCompile(`\[\d+\]`)
	var all []string
	for _, one := range keys {
		all = append(all, index.ReplaceAllString(one.key, ""))
	}
	return all
}

func readFixture(t testing.TB, file string) string {
	raw, err := os.ReadFile(file)
	require.NoError(t, err)
	return string(raw)
}

// assertSameTree checks that every key of the decoded tree has a place, and every place a key.
func assertSameTree(t testing.TB, value any, at *place, path string) {
	require.NotNil(t, at, "%s has no place", path)
	if path != "" && at.line < 1 && !strings.HasSuffix(path, ".toml") {
		t.Errorf("%s has line %d", path, at.line)
	}
	switch v := value.(type) {
	case map[string]any:
		require.Equal(t, slices.Sorted(maps.Keys(v)), slices.Sorted(maps.Keys(at.keys)), "keys of %s", path)
		for name, one := range v {
			assertSameTree(t, one, at.keys[name], joinKey(path, name))
		}
	default:
		items, _ := listOf(value)
		require.Len(t, at.items, len(items), "items of %s", path)
		for i, one := range items {
			assertSameTree(t, one, at.items[i], indexKey(path, i))
		}
	}
}

func TestOutlineOfInvalidTextNeverFails(t *testing.T) {
	for _, text := range []string{"", "[", "[[", "[]", "[[]]", "=", "a", "a.", "a.=", "a=", "a={", "a=[", "a={b", "a={b=", `"`, `'''`, `"""`,
		`a="\`, `a="""\`, `"\u12" = 1`, `"\` + "\n", "]]\n}}", "a=[,,]", "a={,}", "[a]b=1", "a=1\na.b.c=2\n[[a]]\n[a]", "[a\n[[a.b", `"\q" = 1`, `"\ud800"=1`} {
		assert.NotPanics(t, func() { readOutline(text) }, "%q", text)
	}
}

func TestRepeatsNameBothLines(t *testing.T) {
	for text, want := range map[string]repeat{
		"a = 1\n\na = 2":                {"a", 3, 1},
		"[a]\nb = 1\n[c]\n[a]":          {"a", 4, 1},
		"[[a]]\n[a]":                    {"a", 2, 1},
		"a = []\n[[a]]":                 {"a", 2, 1},
		"a = 1\na.b = 2":                {"a", 2, 1},
		"[[t]]\nx = 1\n[[t]]\ny=1\ny=2": {"t[1].y", 5, 4},
		"t = { a = 1,\n a = 2 }":        {"t.a", 2, 1},
	} {
		assert.Equal(t, []repeat{want}, readOutline(text).repeats, text)
	}
	for _, fine := range []string{"a.b = 1\na.c = 2", "[a.b]\n[a]", "[[a]]\nb=1\n[[a]]\nb=2\n[a.c]\nb=1", "[[a.b]]\n[a]\nc=1"} {
		assert.Empty(t, readOutline(fine).repeats, fine)
	}
}

func FuzzLines(f *testing.F) {
	files, _ := filepath.Glob("testdata/lines/*.toml")
	for _, file := range files {
		f.Add(readFixture(f, file))
	}
	for _, text := range []string{
		"a.b = 1\n[c.d]\ne = { f = [1, { g = 2 }] }", "[[a]]\nb = '''x\n''''\n[[a.c]]\n", `"a b"."" = """\""""""`,
		"x = 2026-06-12 05:30:00Z # y\n'z' = [[1,2],[3,]]", "a = [{x=1}]\nb={}\n", `k = """\\""""""`, "[[a.b]]\n[a]\nb = [{x=1}]",
		"[[t]]\n[t.a.b]\n[[t]]\na=1\na=2",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, raw string) {
		o := readOutline(raw[:min(len(raw), 1<<14)])
		require.NotNil(t, o.root)
		text, refused := guard("x", []byte(raw))
		if refused != nil {
			return
		}
		values, err := decode(text)
		o = readOutline(text)
		if err != nil || len(o.repeats) > 0 {
			return
		}
		assertSameTree(t, values, o.root, "")
	})
}

func TestNumberOfLines(t *testing.T) {
	text := strings.Repeat("#\n", 41) + "key = " + strconv.Quote("v")
	assert.Equal(t, map[string]int{"key": 42}, linesOf(text))
}
