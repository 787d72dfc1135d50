package config

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// refusal is the message with which guard refuses a text, "" when it does not.
func refusal(text string) string {
	_, refused := guard("boat.toml", []byte(text))
	if refused == nil {
		return ""
	}
	return refused.Error()
}

func TestGuardLimitsAtTheirEdges(t *testing.T) {
	comment := func(size int) string { return "#" + strings.Repeat("x", size-1) }
	assert.Empty(t, refusal(comment(1<<20)))
	assert.Equal(t, "boat.toml: 1048577 bytes are more than the 1048576 (1 MB) a file may have; make it shorter", refusal(comment(1<<20+1)))

	list := func(deep int) string { return "\na = " + strings.Repeat("[", deep) + strings.Repeat("]", deep) }
	assert.Empty(t, refusal(list(64)))
	assert.Equal(t, "boat.toml:2: nested more than 64 deep; use fewer brackets inside each other", refusal(list(65)))
	inline := func(deep int) string { return "a = " + strings.Repeat("{a=", deep) + "1" + strings.Repeat("}", deep) }
	assert.Empty(t, refusal(inline(64)))
	assert.Contains(t, refusal(inline(65)), "boat.toml:1: nested more than 64 deep")

	key := func(parts int) string { return strings.Repeat("a.", parts-1) + "a" }
	for _, form := range []string{"x = 1\n%s = 1", "\n[%s]", "\n[[%s]]", "\nx = { %s = 1 }", "\n[ '%s'.%s]", "\n%s.\"a\" = [1]"} {
		own := strings.ReplaceAll(strings.ReplaceAll(form, "'%s'.", ""), `."a"`, "")
		assert.Empty(t, refusal(strings.ReplaceAll(own, "%s", key(16))), own)
		assert.Equal(t, "boat.toml:2: a key of more than 16 parts; use fewer dots",
			refusal(strings.ReplaceAll(form, "%s", key(17))), form)
	}
	assert.Contains(t, refusal("a . \"a\" .'a'. "+key(14)+" = 1"), "more than 16 parts")
}

func TestGuardCountsTheDotsOfKeysAsDepth(t *testing.T) {
	nested := func(deep int) string {
		return "a.b = " + strings.Repeat("{a.b=", deep) + "1" + strings.Repeat("}", deep)
	}
	assert.Empty(t, refusal(nested(32)))
	assert.Contains(t, refusal(nested(33)), "nested more than 64 deep")
}

func TestGuardStepsOverStringsAndComments(t *testing.T) {
	deep := strings.Repeat("[", 100) + strings.Repeat("a.", 100)
	for _, text := range []string{
		`a = "` + deep + `"`, `a = '` + deep + `'`, `a = "\"` + deep + `"`,
		"a = \"\"\"\n\"\"" + deep + "\n\\\"\"\"" + deep + "\"\"\"\"\"", "a = '''\n''" + deep + "\n'''", "# " + deep, "a = 1 # " + deep,
	} {
		require.Empty(t, refusal(text), text)
		_, err := decode(text)
		require.NoError(t, err, text)
	}
	assert.Contains(t, refusal(`a = '\'`+deep), "deep", "a backslash closes nothing in a literal text")
	assert.Contains(t, refusal("a = '''x'''"+deep), "deep")
	assert.Contains(t, refusal("a = \"never closed\nb = "+deep), "deep")
}

func TestGuardTakesMarkAndLineEndsButNoOddBytes(t *testing.T) {
	text, refused := guard("boat.toml", []byte("\xef\xbb\xbfa = 1\r\nb = '''x\r\ny'''\r\n"))
	require.Nil(t, refused)
	assert.Equal(t, "a = 1\nb = '''x\ny'''\n", text)

	for text, want := range map[string]string{
		"a = 1\r\nb = 2\rc = 3":      "boat.toml:2: a carriage return (U+000D) without a line feed; save the file with plain line ends",
		"a = 1\n# \x00":              "boat.toml:2: control character U+0000; delete it",
		"a = '\x1b[2J'":              "boat.toml:1: control character U+001B; delete it",
		"\n\n\x7f":                   "boat.toml:3: control character U+007F; delete it",
		"a = 1\r\n\nb = '\xe9'":      "boat.toml:3: byte 0xe9 is not valid UTF-8; save the file as UTF-8",
		"a = 1\n# \xef\xbf":          "boat.toml:2: byte 0xef is not valid UTF-8; save the file as UTF-8",
		"# \xed\xa0\x80":             "boat.toml:1: byte 0xed is not valid UTF-8; save the file as UTF-8",
		"\xff\xfea\x00 \x00=\x00":    "boat.toml:1: saved as UTF-16; save it as UTF-8",
		"\xfe\xff\x00a\x00 \x00=":    "boat.toml:1: saved as UTF-16; save it as UTF-8",
		"a = 1\x00":                  "boat.toml:1: control character U+0000; delete it",
		"a = 1\n\xef\xbb\xbfb = 1\n": "",
		"a = '\ufffd\tx' # \u00e9":   "",
	} {
		assert.Equal(t, want, refusal(text), "%q", text)
	}
}

// The hostile texts are those that took the decoder 19 s and 7.4 GB, or more than a minute.
func TestGuardRefusesHostileTextsFast(t *testing.T) {
	start := time.Now()
	assert.Contains(t, refusal(strings.Repeat("a.", 20_000)+"a=1"), "more than 16 parts")
	assert.Contains(t, refusal("["+strings.Repeat("a.", 20_000)+"a]"), "more than 16 parts")
	assert.Contains(t, refusal("a="+strings.Repeat("{a=", 200_000)), "64 deep")
	assert.Contains(t, refusal("a="+strings.Repeat("[", 200_000)), "64 deep")
	assert.Contains(t, refusal(strings.Repeat("[", 200_000)), "64 deep")

	long := strings.Repeat("k", 500_000)
	assert.Contains(t, refusal("["+long+"]\n"+strings.Repeat("a=1\n", 100_000)), "keys too long, for so many of them")
	assert.Contains(t, refusal("["+long+"]\na=["+strings.Repeat("[],", 100_000)+"]"), "keys too long")
	wide := "a=" + strings.Repeat("{"+strings.Repeat("k", 4000)+"=", 60) + "{" + strings.Repeat("a=1,", 100_000)
	assert.Contains(t, refusal(wide), "keys too long")
	assert.Less(t, time.Since(start), 2*time.Second)
}

// TestLargestTextsAreReadInTime reads what the guard only just lets pass.
func TestLargestTextsAreReadInTime(t *testing.T) {
	nest := func(i int) string {
		return fmt.Sprintf("x%d = ", i) + strings.Repeat(fmt.Sprintf("{a%d=", i), 60) + "1" + strings.Repeat("}", 60) + "\n"
	}
	dots := strings.Repeat(".a", 15)
	nestOfDots := func(i int) string { return fmt.Sprintf("a%d%s={a%s={a%s={a%s=1}}}\n", i, dots, dots, dots, dots) }
	food := func(int) string { return "[[food]]\nname='x'\nkcal=1\n" }
	for _, one := range []func(int) string{nest, nestOfDots, food} {
		text := longestPassing(one)
		start := time.Now()
		root, bad := parse("boat.toml", []byte(text))
		require.Empty(t, bad)
		root.unknown()
		assert.NotEmpty(t, root.found())
		assert.Less(t, time.Since(start), 10*time.Second)
	}
	start := time.Now()
	_, bad := parse("boat.toml", []byte("a = "+strings.Repeat("1_", 500_000)+"1"))
	assert.EqualError(t, bad, `boat.toml:1: a: "`+strings.Repeat("1_", 30)+`…" is too large a number; write a smaller one`)
	root, bad := parse("boat.toml", []byte("a = ["+strings.Repeat("1,", 500_000)+"]"))
	require.Empty(t, bad)
	assert.Empty(t, root.texts("none"))
	assert.Less(t, time.Since(start), 10*time.Second)
}

// longestPassing is the longest of 1, 2, 4, … pieces that the guard lets pass.
func longestPassing(piece func(int) string) string {
	passing := ""
	for n := 1; ; n *= 2 {
		var b strings.Builder
		for i := range n {
			b.WriteString(piece(i))
		}
		if refusal(b.String()) != "" {
			return passing
		}
		passing = b.String()
	}
}

func TestRefusedCharacters(t *testing.T) {
	for _, r := range "\x00\x08\r\x1b\x7f\u0080\u009f\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069" {
		for _, multi := range []bool{false, true} {
			got, bad := refusedIn("a"+string(r)+"b", multi)
			assert.True(t, bad, "%U", r)
			assert.Equal(t, r, got)
		}
	}
	for _, r := range "\n\t" {
		_, bad := refusedIn(string(r), false)
		assert.True(t, bad)
		_, bad = refusedIn(string(r), true)
		assert.False(t, bad)
	}
	for _, r := range " ~é°\u00a0\u061b\u200d\u2029\u202f\u2065\u206a\U0001f6a2" {
		_, bad := refusedIn(string(r), false)
		assert.False(t, bad, "%U", r)
	}
}
