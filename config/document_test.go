package config

import (
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"boat/hoveshort/provisions/quantity"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// litres reads whole litres; its errors are quantity's.
func litres(s string) (int, error) {
	switch s {
	case "220 L":
		return 220, nil
	case "odd":
		return 7, errors.New("no such thing")
	}
	return 7, &quantity.Error{Problem: quote(s) + " could be US or imperial", Cure: `write "58 US gal" or "58 imp gal"`}
}

func openText(t *testing.T, lines ...string) *table {
	root, bad := parse("boat.toml", []byte(strings.Join(lines, "\n")))
	require.Empty(t, bad)
	return root
}

// saying checks all mistakes of a file, one a line, without its name.
func saying(t *testing.T, root *table, want ...string) {
	t.Helper()
	var got []string
	for _, m := range root.found() {
		got = append(got, strings.TrimPrefix(m.Error(), "boat.toml:"))
	}
	assert.Equal(t, want, got)
}

func TestEveryRightValueIsRead(t *testing.T) {
	root := openText(t,
		`name = "Wren"`, `waterline = "220 L"`, `hours = 1482`, `share = 0.5`, `crew = 2`, `sealed = true`, `units = "metric"`,
		`fill = ["water", "food"]`, `critical = ["night"]`, `always = true`,
		`depart = 2026-06-12T05:30:00+13:00`, `zulu = 2026-06-12 05:30:00Z`, `before = 2026-11-01`,
		`position = [-23.65, 178]`, `route = [[-18.65, -173.98], [90, 180]]`, `dip = [["220 L", "220 L"]]`,
		`far = "58 L"`, `long = """`, "a\tb", `c"""`,
		`[engine]`, `rpm = 1`, `[[tank]]`, `name = "a"`, `[[tank]]`, `name = "b"`, `[free]`, `z = 1`, `a = 2`)
	assert.Equal(t, "Wren", root.text("name", required))
	assert.Equal(t, 220, value(root, "waterline", "220 L", litres, required))
	assert.Equal(t, 1482.0, root.number("hours", 0, math.Inf(1), required))
	assert.Equal(t, 0.5, root.number("share", 0, 1, optional))
	assert.Equal(t, 2, root.whole("crew", 1, 20, required))
	assert.True(t, root.flag("sealed"))
	assert.Equal(t, "metric", root.oneOf("units", required, "metric", "us"))
	assert.Equal(t, []string{"water", "food"}, root.texts("fill"))
	assert.Equal(t, []string{"water", "food"}, root.choices("fill", "food", "water"))
	yes, words := root.flagOrChoices("critical", "night")
	assert.False(t, yes)
	assert.Equal(t, []string{"night"}, words)
	yes, words = root.flagOrChoices("always", "night")
	assert.True(t, yes)
	assert.Empty(t, words)

	depart := root.moment("depart")
	assert.Equal(t, "2026-06-12T05:30:00+13:00", depart.Format(time.RFC3339))
	assert.Equal(t, "2026-06-12T05:30:00Z", root.moment("zulu").UTC().Format(time.RFC3339))
	day, there := root.date("before", optional)
	assert.True(t, there)
	assert.Equal(t, quantity.Date{Year: 2026, Month: time.November, Day: 1}, day)
	at, there := root.position("position")
	assert.True(t, there)
	assert.Equal(t, [2]float64{-23.65, 178}, at)
	assert.Equal(t, [][2]float64{{-18.65, -173.98}, {90, 180}}, root.positions("route"))
	assert.Equal(t, []pair[int, int]{{220, 220}}, pairs(root, "dip", [2]string{"120 mm", "60 L"}, litres, litres))
	far, there := optionalValue(root, "far", "220 L", quantity.ParseVolume)
	assert.True(t, there)
	wanted, err := quantity.ParseVolume("58 L")
	require.NoError(t, err)
	assert.Equal(t, wanted, far)
	assert.Equal(t, "a\tb\nc", root.text("long", optional))

	engine := root.sub("engine", required)
	assert.Equal(t, 1, engine.whole("rpm", 1, math.MaxInt, required))
	assert.Same(t, engine, root.sub("engine", optional))
	tanks := root.tables("tank", required)
	require.Len(t, tanks, 2)
	assert.Equal(t, "a", tanks[0].text("name", required))
	assert.Equal(t, "b", tanks[1].text("name", required))
	assert.Equal(t, []string{"z", "a"}, root.sub("free", optional).keys())
	assert.Equal(t, 25, tanks[1].line(""))
	assert.Equal(t, 26, tanks[1].line("name"))
	assert.Equal(t, 25, tanks[1].line("capacity"))
	assert.True(t, root.has("crew"))
	assert.False(t, root.has("crews"))
	root.unknown()
	saying(t, root)
}

func TestWhatIsLeftOut(t *testing.T) {
	root := openText(t, "", "[engine]", "[[tank]]")
	engine := root.sub("engine", required)
	assert.Empty(t, engine.text("name", required))
	assert.Zero(t, engine.number("hours", 0, math.Inf(1), required))
	assert.Zero(t, engine.whole("crew", 1, 20, required))
	assert.Zero(t, value(engine, "capacity", "220 L", litres, required))
	assert.Empty(t, engine.oneOf("units", required, "metric", "us"))
	assert.True(t, engine.moment("depart").IsZero())
	_, there := engine.date("before", required)
	assert.False(t, there)
	assert.Nil(t, engine.sub("deep", required))
	assert.Nil(t, root.tables("tank", required)[0].tables("curve", required))
	assert.Nil(t, root.sub("rates", required))
	saying(t, root,
		" rates: missing; write the table [rates]",
		"2: engine.name: missing; write a text in quotes",
		"2: engine.hours: missing; write a number of 0 or more",
		"2: engine.crew: missing; write a whole number from 1 to 20",
		`2: engine.capacity: missing; write a text with a unit, such as "220 L"`,
		`2: engine.units: missing; write one of "metric", "us"`,
		"2: engine.depart: missing; write a date and time with its offset from UTC, such as 2026-06-12T05:30:00+13:00",
		"2: engine.before: missing; write a date, such as 2026-06-12",
		"2: engine.deep: missing; write the table [engine.deep]",
		"3: tank[0].curve: missing; write at least one [[tank.curve]]")

	free := openText(t)
	assert.Empty(t, free.text("a", optional))
	assert.Zero(t, free.number("a", 0, 1, optional))
	assert.Zero(t, free.whole("a", 0, 1, optional))
	assert.False(t, free.flag("a"))
	assert.Zero(t, value(free, "a", "220 L", litres, optional))
	_, there = optionalValue(free, "a", "220 L", litres)
	assert.False(t, there)
	assert.Nil(t, free.texts("a"))
	_, there = free.position("a")
	assert.False(t, there)
	_, words := free.flagOrChoices("a", "x")
	assert.Nil(t, words)
	assert.Nil(t, free.sub("a", optional))
	assert.Nil(t, free.tables("a", optional))
	saying(t, free)
}

func TestValuesOfTheWrongKind(t *testing.T) {
	const text, list = "write a text in quotes", `write a list of texts, such as ["one", "two"]`
	for line, try := range map[string]struct {
		read func(*table)
		want string
	}{
		"k = 3":            {func(r *table) { r.text("k", required) }, "3 is a number; " + text},
		"k = 3.50":         {func(r *table) { r.text("k", required) }, "3.5 is a number; " + text},
		"k = true":         {func(r *table) { r.text("k", required) }, "true is a yes or no; " + text},
		"k = [1]":          {func(r *table) { r.text("k", required) }, "is a list; " + text},
		"k = {}":           {func(r *table) { r.text("k", required) }, "is a table; " + text},
		"k = 2026-01-02":   {func(r *table) { r.text("k", required) }, "2026-01-02 is a date; " + text},
		"k = 05:30:00":     {func(r *table) { r.text("k", required) }, "05:30:00 is a time of day; " + text},
		"k = ' '":          {func(r *table) { r.text("k", required) }, "is empty; " + text},
		"k = 'half'":       {func(r *table) { r.number("k", 0, 1, required) }, `"half" is a text; write a number from 0 to 1`},
		"k = 1.4":          {func(r *table) { r.number("k", 0, 1, required) }, "1.4 is out of range; write a number from 0 to 1"},
		"k = -1":           {func(r *table) { r.number("k", 0, 1, required) }, "-1 is out of range; write a number from 0 to 1"},
		"k = nan":          {func(r *table) { r.number("k", 0, 1, required) }, "nan cannot be reckoned with; write a number from 0 to 1"},
		"k = -inf":         {func(r *table) { r.number("k", math.Inf(-1), math.Inf(1), required) }, "-inf cannot be reckoned with; write a number"},
		"k =  5":           {func(r *table) { r.number("k", math.Inf(-1), 2, required) }, "5 is out of range; write a number of 2 or less"},
		"k =   'x'":        {func(r *table) { r.whole("k", 1, 20, required) }, `"x" is a text; write a whole number from 1 to 20`},
		"k = 2.0":          {func(r *table) { r.whole("k", 1, 20, required) }, "2.0 is not a whole number; write a whole number from 1 to 20"},
		"k = 21":           {func(r *table) { r.whole("k", 1, 20, required) }, "21 is out of range; write a whole number from 1 to 20"},
		"k = 0":            {func(r *table) { r.whole("k", 1, math.MaxInt, required) }, "0 is out of range; write a whole number of 1 or more"},
		"k = 'true'":       {func(r *table) { r.flag("k") }, `"true" is a text; write true or false`},
		"k = 220":          {func(r *table) { value(r, "k", "220 L", litres, required) }, `220 has no unit; write a text with a unit, such as "220 L"`},
		"k = 220.0":        {func(r *table) { optionalValue(r, "k", "220 L", litres) }, `220.0 has no unit; write a text with a unit, such as "220 L"`},
		"k = false":        {func(r *table) { value(r, "k", "220 L", litres, required) }, `false is a yes or no; write a text with a unit, such as "220 L"`},
		"k = '58 gal'":     {func(r *table) { value(r, "k", "220 L", litres, required) }, `"58 gal" could be US or imperial; write "58 US gal" or "58 imp gal"`},
		"k = 'odd'":        {func(r *table) { value(r, "k", "220 L", litres, required) }, `"odd" cannot be read: no such thing; write a text with a unit, such as "220 L"`},
		"k = 'metrc'":      {func(r *table) { r.oneOf("k", required, "metric", "us") }, `"metrc" is not known here; did you mean "metric"?`},
		"k = 'furlong'":    {func(r *table) { r.oneOf("k", required, "metric", "us") }, `"furlong" is not known here; write one of "metric", "us"`},
		"k = 1":            {func(r *table) { r.oneOf("k", required, "metric", "us") }, `1 is a number; write one of "metric", "us"`},
		"k = 'water'":      {func(r *table) { r.texts("k") }, `"water" is a text; ` + list},
		"k =  1":           {func(r *table) { r.choices("k", "water") }, `1 is a number; write a list, such as ["water"]`},
		"k =   1":          {func(r *table) { r.flagOrChoices("k", "night") }, `1 is a number; write true, false or a list, such as ["night"]`},
		"k =  2026-01-02":  {func(r *table) { r.moment("k") }, "2026-01-02 is a date; " + writeMoment},
		"k = '2026-01-02'": {func(r *table) { r.moment("k") }, `"2026-01-02" is a text; ` + writeMoment},
		"k = 2026-06-12T05:30:00": {func(r *table) { r.moment("k") },
			"2026-06-12T05:30:00 has no offset; write it with the offset from UTC, such as 2026-06-12T05:30:00+13:00"},
		"k = 2026-06-12 05:30:00": {func(r *table) { r.date("k", required) },
			"2026-06-12T05:30:00 is a date and time without an offset; write the date alone: 2026-06-12"},
		"k = 2026-06-12 05:30:00+02:00": {func(r *table) { r.date("k", required) },
			"2026-06-12T05:30:00+02:00 is a date and time; write the date alone: 2026-06-12"},
		"k = 05:30":           {func(r *table) { r.date("k", required) }, "05:30:00 is a time of day; write a date, such as 2026-06-12"},
		"k = '2026-06-12'":    {func(r *table) { r.date("k", required) }, `"2026-06-12" is a text; write a date, such as 2026-06-12`},
		"k = 0000-06-12":      {func(r *table) { r.date("k", required) }, "0000-06-12 is before the year 1; write a date, such as 2026-06-12"},
		"k = [1, 2, 3]":       {func(r *table) { r.position("k") }, "3 values instead of two; " + writePosition},
		"k = 7":               {func(r *table) { r.position("k") }, "7 is a number; " + writePosition},
		"k =    1":            {func(r *table) { r.positions("k") }, "1 is a number; " + writePositions},
		"k =     1":           {func(r *table) { pairs(r, "k", [2]string{"1 mm", "2 L"}, litres, litres) }, `1 is a number; write a list of lists: [["1 mm", "2 L"]]`},
		"k = 4":               {func(r *table) { r.sub("k", required) }, "4 is a number; write the table [k]"},
		"k = [{}]":            {func(r *table) { r.sub("k", required) }, "is a list; write the table [k]"},
		"k =  {}":             {func(r *table) { r.tables("k", required) }, "is a table; write the table [[k]], in two pairs of brackets"},
		"k = []":              {func(r *table) { r.tables("k", required) }, "is empty; write at least one [[k]]"},
		"k = 100000000000.25": {func(r *table) { r.text("k", optional) }, "100000000000.25 is a number; " + text},
	} {
		root := openText(t, "", line)
		try.read(root)
		saying(t, root, "2: k: "+try.want)
	}
}

func TestItemsOfListsHaveTheirOwnLineAndKey(t *testing.T) {
	root := openText(t,
		"fill = [ 'water',", "  1,", "  'fod' ]",
		"route = [", "  [1, 2],", "  [91, 2],", "  [1, 'x'], 5 ]",
		"dip = [ ['220 L', '220 L'], ['odd', 3],", " ['1'] ]",
		"tank = [ {}, 4 ]")
	assert.Equal(t, []string{"water", "fod"}, root.texts("fill"))
	assert.Equal(t, []string{"water"}, root.choices("fill", "water", "food"))
	assert.Len(t, root.positions("route"), 1)
	assert.Len(t, pairs(root, "dip", [2]string{"120 mm", "60 L"}, litres, litres), 1)
	assert.Len(t, root.tables("tank", required), 1)
	root.mistakeIn("fill", 2, "of another round", "")
	root.mistakeIn("none", 2, "is not there", "")
	saying(t, root,
		" none[2]: is not there",
		"2: fill[1]: 1 is a number; write a text in quotes",
		`2: fill[1]: 1 is a number; write one of "water", "food"`,
		`3: fill[2]: "fod" is not known here; did you mean "food"?`,
		"3: fill[2]: of another round",
		"6: route[1][0]: 91 is out of range; write a number from -90 to 90",
		`7: route[2][1]: "x" is a text; write a number from -180 to 180`,
		"7: route[3]: 5 is a number; write [latitude, longitude] in degrees, north and east positive",
		`8: dip[1][0]: "odd" cannot be read: no such thing; write a text with a unit, such as "120 mm"`,
		`8: dip[1][1]: 3 has no unit; write a text with a unit, such as "60 L"`,
		`9: dip[2]: 1 values instead of two; write two texts: ["120 mm", "60 L"]`,
		"10: tank[1]: 4 is a number; write the table [[tank]], in two pairs of brackets")
}

// The decoder's own position for a key of an array of tables is that of the last table; ours must be the true one.
func TestTheFirstOfTwoTanksIsNamed(t *testing.T) {
	root := openText(t, "name = 'x'", "[[tank]]", "name = 'port'", "capacity = '58 gal'", "[[tank]]", "name = 'starboard'", "capacity = '220 L'")
	for _, tank := range root.tables("tank", required) {
		value(tank, "capacity", "220 L", litres, required)
	}
	assert.EqualError(t, root.found(),
		`boat.toml:4: tank[0].capacity: "58 gal" could be US or imperial; write "58 US gal" or "58 imp gal"`)
}

func TestUnknownKeysAreFoundWithWhatWasMeant(t *testing.T) {
	root := openText(t, "name = 'x'", "namme = 1", "Capacity = 'y'", "[[engine.curve]]", "prm = 1", "rpm = 2", "Rpm = 2",
		"[odd]", "a.b = 1", `"a b" = 1`, "[tanks]", "[engine.rest]", "zzz = 1")
	root.text("name", required)
	root.text("capacity", optional)
	root.tables("tank", optional)
	for _, row := range root.sub("engine", required).tables("curve", required) {
		row.whole("rpm", 0, 9, required)
		row.whole("oil", 0, 9, optional)
	}
	root.unknown()
	saying(t, root,
		"2: namme: not a key of this table",
		`3: Capacity: not a key of this table; did you mean "capacity"?`,
		"5: engine.curve[0].prm: not a key of this table",
		"7: engine.curve[0].Rpm: not a key of this table",
		"8: odd: not a key of this table",
		`11: tanks: not a key of this table; did you mean "tank"?`,
		"12: engine.rest: not a key of this table")
}

func TestControlCharactersAreRefusedInTextsAndKeys(t *testing.T) {
	root := openText(t,
		`name = "a\u001b[2J"`, `tab = "a\tb"`, `line = "a\nb"`, `ok = """a`, "b\t\"\"\"", `bad = """`, `\r"""`,
		`list = [ "x", [ { y = "\u202e" } ],`, `  "\u0085" ]`, `"k\u2066" = 1`, "raw = '\u061c' # \u202e", "c1 = '\u009b'")
	saying(t, root,
		"1: name: control character U+001B in a text; delete it",
		`2: tab: a tab (U+0009) in a text; delete it, or write the text between """ and """`,
		`3: line: a line end (U+000A) in a text; delete it, or write the text between """ and """`,
		"6: bad: control character U+000D in a text; delete it",
		"8: list[1][0].y: bidi control U+202E in a text; delete it",
		"9: list[2]: control character U+0085 in a text; delete it",
		`10: "k\u2066": bidi control U+2066 in a key; delete it`,
		"11: raw: bidi control U+061C in a text; delete it",
		"12: c1: control character U+009B in a text; delete it")
}

func TestFormat(t *testing.T) {
	for line, want := range map[string][]string{"": nil, "format = 1": nil,
		"format = 0":   {"1: format: 0 is no format; write 1"},
		"format = -3":  {"1: format: -3 is no format; write 1"},
		"format = 1.0": {"1: format: 1.0 is not a whole number; write 1"},
		"format = '1'": {`1: format: "1" is a text; write 1`},
	} {
		root := openText(t, line)
		assert.True(t, checkFormat(root), line)
		root.unknown()
		saying(t, root, want...)
	}
	newer := openText(t, "format = 2", `name = "\u001b"`, "other = 1")
	newer.note("name", "early", "")
	assert.False(t, checkFormat(newer))
	newer.unknown()
	newer.text("name2", required)
	newer.note("name", "late", "")
	saying(t, newer, "1: format: written for format 2, this program knows 1")
	assert.Empty(t, newer.notes())
}

func TestNotesAndOwnMistakes(t *testing.T) {
	root := openText(t, "", "[engine]", "rpm = 1")
	engine := root.sub("engine", required)
	engine.mistake("rpm", "not rising", "write them in order")
	engine.mistake("", "no curve", "")
	root.mistake("", "nothing to plan", "")
	engine.note("rpm", "ten checks", "split the section")
	saying(t, root, " nothing to plan", "2: engine: no curve", "3: engine.rpm: not rising; write them in order")
	require.Len(t, root.notes(), 1)
	assert.Equal(t, "boat.toml:3: engine.rpm: ten checks; split the section", root.notes()[0].String())
}

func TestNoTableGivesNothing(t *testing.T) {
	var none *table
	assert.Empty(t, none.text("k", required))
	assert.Zero(t, none.number("k", 0, 1, required))
	assert.Zero(t, none.whole("k", 0, 1, required))
	assert.False(t, none.flag("k"))
	assert.Zero(t, value(none, "k", "220 L", litres, required))
	_, there := optionalValue(none, "k", "220 L", litres)
	assert.False(t, there)
	assert.Empty(t, none.oneOf("k", required, "a"))
	assert.Nil(t, none.texts("k"))
	assert.Nil(t, none.choices("k", "a"))
	yes, words := none.flagOrChoices("k", "a")
	assert.False(t, yes)
	assert.Nil(t, words)
	assert.True(t, none.moment("k").IsZero())
	_, there = none.date("k", required)
	assert.False(t, there)
	_, there = none.position("k")
	assert.False(t, there)
	assert.Nil(t, none.positions("k"))
	assert.Nil(t, pairs(none, "k", [2]string{"a", "b"}, litres, litres))
	assert.Nil(t, none.sub("k", required))
	assert.Nil(t, none.tables("k", required))
	assert.Nil(t, none.keys())
	assert.False(t, none.has("k"))
	assert.Zero(t, none.line("k"))
	none.mistake("k", "p", "c")
	none.mistakeIn("k", 0, "p", "c")
	none.note("k", "p", "c")
	none.unknown()
	assert.True(t, checkFormat(none))
	assert.Nil(t, none.found())
	assert.Nil(t, none.notes())
}

func TestSyntaxMistakesInPlainWords(t *testing.T) {
	const value = "write a number, true or false, a date, or a text in quotes"
	for text, want := range map[string]string{
		"\na = 1\na = 2":                "3: a: given twice, first on line 2; keep one of the two",
		"[[t]]\nx=1\n[[t]]\ny=1\n\ny=2": "6: t[1].y: given twice, first on line 4; keep one of the two",
		"[t]\n[u]\n[t]":                 "3: t: given twice, first on line 1; keep one of the two",
		"a = 1\n[a]":                    "2: a: given twice, first on line 1; keep one of the two",
		"a = 1\n[a.b]":                  "2: a: given twice, first on line 1; keep one of the two",
		"a = [1]\n[[a]]":                "2: a: given twice, first on line 1; keep one of the two",
		"t = { a = 1, a = 2 }":          "1: t.a: given twice, first on line 1; keep one of the two",
		"capacity = 220 L":              `1: capacity: the value is followed by "L"; put a text or a quantity in quotes, a comment after #`,
		"price = 1,5":                   "1: price: a comma after the value; use a point in a decimal number, and [ ] around a list",
		"a = 'x' 'y'":                   `1: a: the value is followed by "'"; put a text or a quantity in quotes, a comment after #`,
		"\nname = Wren":                 `2: name: "Wren" is no value; ` + value,
		"a = $":                         `1: a: "$" is no value; ` + value,
		"a =\nb = 1":                    "1: a: no value; write one: a number, true or false, a date, or a text in quotes",
		"a =":                           "1: a: no value; write one: a number, true or false, a date, or a text in quotes",
		"just words":                    "1: just: no = after the key; write key = value; a key with other than letters, digits, _ and - goes in quotes",
		"alone\nb = 1":                  "1: alone: no = after the key; write key = value; a key with other than letters, digits, _ and - goes in quotes",
		"= 1":                           "1: the key is not whole; write key = value",
		`a = "C:\d"`:                    `1: a: an escape that does not exist; write \\ for a backslash, or put the text between ' and '`,
		`a = "\u12"`:                    `1: a: an escape that is no character; write \\ for a backslash, or put the text between ' and '`,
		`a = "\ud800"`:                  `1: a: an escape that is no character; write \\ for a backslash, or put the text between ' and '`,
		"a = \"x\nb = 1":                `1: a: a text is not closed on its line; close it with its quote, or write """ before and after a text of several lines`,
		"a = \"x":                       "1: a: a text is not closed before the end of the file; close it with its quote",
		"a = '''\nx\n":                  "2: a text is not closed before the end of the file; close it with its quote",
		`a = """x""""""`:                "1: a: too many quotes; close the text with three",
		"a = [1 2]":                     "1: a: the list is not closed; put commas between its values and ] at its end",
		"a = [1,\n2\n":                  "2: the list is not closed; put commas between its values and ] at its end",
		"a = { b = 1":                   "1: the table in braces is not closed; put commas between its keys and } at its end",
		"a = [1,,2]":                    "1: a: a comma too many; write one between two values",
		"[a\nb = 1":                     "1: the table header is not whole; write [name] or [[name]]",
		"[[a]\nb = 1":                   "1: the table header is not whole; write [name] or [[name]]",
		"[]":                            "1: the table header is not whole; write [name] or [[name]]",
		"a = 2026-02-30":                `1: a: "2026-02-30" is no date or time; write 2026-06-12, or 2026-06-12T05:30:00+13:00`,
		"a = 99999999999999999999":      `1: a: "99999999999999999999" is too large a number; write a smaller one`,
		"a = 007":                       `1: a: "007" begins with a zero; leave the zero out`,
		"a = .5":                        "1: a: a number begins with its point; write a digit before it, such as 0.5",
		"a = 5.":                        `1: a: "5." has no digit after a point; write one, such as 5.0`,
		"a = 1__0":                      "1: a: not a number; write digits with at most one point, such as 12.5",
		"a = -x":                        "1: a: not a number; write digits with at most one point, such as 12.5",
		"a = -\nb = 1":                  "1: a: not a number; write digits with at most one point, such as 12.5",
		"a = \"\\u1\nb = 1":             `1: a: an escape that is no character; write \\ for a backslash, or put the text between ' and '`,
		"a = 1.2.3":                     "1: a: not a number; write digits with at most one point, such as 12.5",
		"a = 0xg":                       "1: a: not a number; write digits with at most one point, such as 12.5",
		"a = \"\x00\"":                  "1: control character U+0000; delete it",
	} {
		root, bad := parse("boat.toml", []byte(text))
		assert.Nil(t, root, "%q", text)
		require.Len(t, bad, 1, "%q", text)
		assert.Equal(t, "boat.toml:"+want, bad[0].Error(), "%q", text)
	}
}

func TestRepeatsTheDecoderLetsPassAreStillMistakes(t *testing.T) {
	text := "[[t]]\n[t.a.b]\n[[t]]\na = 1\na = 2"
	_, err := decode(text)
	require.NoError(t, err, "the decoder forgets which of the two tables implied t.a")
	root, bad := parse("boat.toml", []byte(text))
	assert.Nil(t, root)
	assert.EqualError(t, bad, "boat.toml:5: t[1].a: given twice, first on line 4; keep one of the two")
}

func TestMessagesOfTheDecoderThatAreNotKnown(t *testing.T) {
	o := readOutline("a = 1")
	odd := toml.ParseError{Message: "something new"}
	odd.Position.Line = 90
	assert.Equal(t, "f:1: a: cannot be read as TOML; look at this line and the one before", syntaxMistake("f", "a = 1", o, odd).Error())
	odd.Message = "Key 'a' has already been defined."
	assert.Equal(t, "f:1: a key or table given twice; keep one of the two", syntaxMistake("f", "a = 1", o, odd).Error())
	assert.Equal(t, "f: cannot be read as TOML; write it as the starter files are written",
		syntaxMistake("f", "a = 1", o, errors.New("the decoder stopped")).Error())
}

// ask reads every key by every accessor, whatever stands there.
func ask(t *table, depth int) {
	if t == nil || depth > 4 {
		return
	}
	for key := range t.values {
		t.text(key, required)
		t.number(key, 0, 1, required)
		t.whole(key, 0, 1, required)
		t.flag(key)
		value(t, key, "220 L", quantity.ParseVolume, required)
		t.oneOf(key, required, "water", "fuel")
		t.texts(key)
		t.choices(key, "water")
		t.flagOrChoices(key, "water")
		t.moment(key)
		t.date(key, required)
		t.position(key)
		t.positions(key)
		pairs(t, key, [2]string{"1 mm", "1 L"}, quantity.ParseLength, quantity.ParseVolume)
		ask(t.sub(key, required), depth+1)
		for _, one := range t.tables(key, required) {
			ask(one, depth+1)
		}
	}
}

func FuzzParse(f *testing.F) {
	files, _ := filepath.Glob("testdata/lines/*.toml")
	for _, file := range files {
		f.Add([]byte(readFixture(f, file)))
	}
	for _, text := range []string{"a = \"\\u001b\"", "a = 1\na = 2", "a = 220 L", "\xff", "a = [[1,2],['x','y']]", "a = 0x", "a = -", "a=\"\\",
		"a = 2026-06-12T05:30:00", "a = 2026-06-12\nb=05:30\nc=2026-06-12T05:30:00Z", "a = nan\nb = inf", "format = 2"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		root, bad := parse("boat.toml", raw)
		require.Equal(t, root == nil, len(bad) > 0, "a table or mistakes")
		if root != nil && checkFormat(root) {
			root.unknown()
			ask(root, 0)
			bad = root.found()
		}
		lines := strings.Count(string(raw), "\n") + 1
		for _, m := range bad {
			shown := m.Error()
			assert.True(t, strings.HasPrefix(shown, "boat.toml"), shown)
			assert.NotEmpty(t, m.Problem)
			assert.LessOrEqual(t, m.Line, lines)
			_, hidden := refusedIn(shown, false)
			assert.False(t, hidden, "%q", shown)
		}
	})
}
