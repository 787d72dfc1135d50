package record

import (
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
)

// requireTheLibrarysTable: the short reader gives what the TOML library gives, or says that the text is not its own.
func requireTheLibrarysTable(t require.TestingT, text []byte) (ours bool) {
	got, ours := shortly(text)
	if !ours {
		return false
	}
	require.NoError(t, isPlain(text), "%q", text)
	var page struct {
		Entry []map[string]any `toml:"entry"`
	}
	_, err := toml.Decode(string(text), &page)
	require.NoError(t, err, "the library refuses it: %q", text)
	require.Len(t, page.Entry, 1, "%q", text)
	require.Equal(t, page.Entry[0], got, "%q", text)

	return true
}

func TestTheShortReaderGivesTheLibrarysTable(t *testing.T) {
	for _, kind := range actKinds() {
		t.Run(string(kind), rapid.MakeCheck(func(t *rapid.T) {
			body, err := encodeEntry(checklist.Entry{
				Seq: rapid.IntRange(1, 1e8).Draw(t, "seq"), At: anyTime(t), By: rapid.String().Draw(t, "by"),
				Act: anyAct([]checklist.Kind{kind}).Draw(t, "act"),
			})
			require.NoError(t, err)
			require.True(t, requireTheLibrarysTable(t, body), "it does not know its own: %s", body)
		}))
	}
}

// pieces that a mistake, a disk or another hand may put into an entry.
var strays = []string{
	"\n", "\r", "\t", " ", "\"", "\\", "'", "#", ",", "=", ".", "[", "]", "{", "}", "-", "+", "_", "0", "9", "e", "E", "T", "Z", ":", "a", "\x00", "\x7f", "\x80", "\xff",
	"\u200b", "\ufeff", "\ufffd", `\u0041`, `\uD800`, `\U00110000`, `\b`, `\e`, `\x41`, `"""`, "-0", "0x1", "1e5", "1.", ".5", "inf", "nan", "true", "[]", "{}", "{ }",
	"2026-02-30T00:00:00Z", "2026-06-12T05:30:00.5Z", "2026-06-12 05:30:00Z", "2026-06-12", "9223372036854775808", "1e999", "seq = 1\n", "[[entry]]\n", "by", "entry",
}

func TestTheShortReaderNeverDiffersOnDamagedBytes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body, err := encodeEntry(checklist.Entry{
			Seq: rapid.IntRange(1, 1e8).Draw(t, "seq"), At: anyTime(t), By: rapid.String().Draw(t, "by"), Act: anyAct(actKinds()).Draw(t, "act"),
		})
		require.NoError(t, err)
		for range 20 {
			from := rapid.IntRange(0, len(body)).Draw(t, "from")
			to := min(len(body), from+rapid.IntRange(0, 3).Draw(t, "gone"))
			requireTheLibrarysTable(t, slices.Concat(body[:from], []byte(rapid.SampledFrom(strays).Draw(t, "stray")), body[to:]))
		}
	})
}

// Values in the place of a value: those that both take must be the same, those that are not written are left to the library.
func TestTheShortReaderTakesOnlyWhatIsWritten(t *testing.T) {
	own := []string{
		"0", "-1", "9223372036854775807", "-9223372036854775808", "0.0", "-0.0", "1e+15", "1.5e-07", "1.7976931348623157e+308", "5e-324", "1e-999", "true", "false",
		`""`, `"a\"\\\n\t\u0007\U000E0001"`, "\"\ufffd\u00b0\"", "2026-06-12T05:30:00Z", "2026-06-12T05:30:00+13:00", "2026-06-12T05:30:00-03:30", "0000-01-01T00:00:00Z",
		"[]", "[1, [2, \"x\"], {}]", "{}", "{ at = 1, kind = { by = [true] } }", "[\n]", "[\n  1,\n  { at = 2 },\n]",
	}
	other := []string{
		"01", "+1", "-0", "-", "1_0", "0x1", "9223372036854775808", "1.", ".5", "1e5", "1E+5", "01.5", "1.5.5", "1e+", "1e+999", "inf", "nan", "True", "truex", "'a'", `"""a"""`,
		`"a`, `"\u00"`, `"\uD800"`, `"\U00110000"`, `"\x41"`, `"\r"`, "\"\x80\"", "\"\t\"", "\"\x7f\"", "2026-06-12", "2026-06-12T05:30:00", "2026-06-12T05:30:00.5Z",
		"2026-02-30T05:30:00Z", "2026-06-12t05:30:00Z", "2026-06-12T5:30:00Z", "2026-06-12T05:30:60Z", "[ ]", "[1,2]", "[1, ]", "[\n1\n]", "{ }", "{at = 1}", "{ at = 1, at = 2 }",
		"{ at = 1, }", "1 ", "1 # x", "1\r", strings.Repeat("[", 14) + strings.Repeat("]", 14),
	}
	for _, value := range own {
		require.True(t, requireTheLibrarysTable(t, []byte(entryLine+"what = "+value+"\nseq = 1\n")), value)
	}
	for _, value := range other {
		_, ours := shortly([]byte(entryLine + "what = " + value + "\nseq = 1\n"))
		require.False(t, ours, value)
	}
}

// Years of pages are not all in memory at once: of the older ones only what a power cut left is kept.
func TestOnlyTheNewestPagesBytesAreKept(t *testing.T) {
	boat := t.TempDir()
	yearsOfPages(t, boat, 3)
	writePageFile(t, boat, 2, append(readPageFile(t, boat, 2), "\n[[entry]]\nseq"...))
	v, err := Open(boat).read(fromStart, nil)
	require.NoError(t, err)
	require.Len(t, v.pages, 3)
	require.Empty(t, v.pages[0].raw)
	require.Equal(t, "\n[[entry]]\nseq", string(v.pages[1].torn()))
	require.Equal(t, readPageFile(t, boat, 3), v.pages[2].raw)
}
