package record

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"boat/hoveshort/checklist"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// agree says whether the short reader leaves a text to the library, or takes it just as the library does: the same
// entry, or a refusal by both.
func agree(text []byte) (taken, same bool) {
	table, ok := shortly(text)
	if !ok {
		return false, true
	}
	got, gotErr := entryOf(table)
	want, wantErr := decodeAny(text)

	if gotErr != nil || wantErr != nil {
		return true, gotErr != nil && wantErr != nil && gotErr.Error() == wantErr.Error()
	}

	return true, assert.ObjectsAreEqual(want, got)
}

func TestTheShortReaderTakesAllThatIsWrittenAsTheLibraryDoes(t *testing.T) {
	kinds := checklist.Kinds
	rapid.Check(t, func(t *rapid.T) {
		e := checklist.Entry{
			Seq: rapid.IntRange(1, 1<<40).Draw(t, "seq"), By: rapid.StringN(0, 8, -1).Draw(t, "by"), Act: anyAct(kinds).Draw(t, "act"),
			At: time.Unix(rapid.Int64Range(-6e10, 2e11).Draw(t, "at"), 0).In(time.FixedZone("", 60*rapid.IntRange(-14*60, 14*60).Draw(t, "offset"))),
		}
		text, err := encodeEntry(e)
		if err != nil {
			return
		}
		taken, same := agree(text)
		if !taken || !same {
			t.Fatalf("taken %v, same %v:\n%s", taken, same, text)
		}
	})
}

// A few bytes of a real entry are changed, put in or left out: the short reader may decline it, but never takes it
// otherwise than the library.
func TestTheShortReaderTakesNothingOtherwise(t *testing.T) {
	kinds := checklist.Kinds
	strange := []byte("\"\\[]{}=,.#'\n\r\t ue0Z-+:_T1A\x00\x7f\xc3\xff")
	rapid.Check(t, func(t *rapid.T) {
		text, err := encodeEntry(checklist.Entry{Seq: 7, At: minute(3), Act: anyAct(kinds).Draw(t, "act")})
		if err != nil {
			return
		}
		for range rapid.IntRange(1, 3).Draw(t, "changes") {
			at := rapid.IntRange(len(entryLine)-1, len(text)).Draw(t, "at")
			with := rapid.SampledFrom(strange).Draw(t, "byte")
			switch rapid.IntRange(0, 2).Draw(t, "how") {
			case 0:
				text = bytes.Join([][]byte{text[:at], text[at:]}, []byte{with})
			case 1:
				text = bytes.Join([][]byte{text[:at], text[min(at+1, len(text)):]}, nil)
			default:
				text = bytes.Join([][]byte{text[:at], text[min(at+1, len(text)):]}, []byte{with})
			}
			if len(text) < len(entryLine) {
				return
			}
		}
		if _, same := agree(text); !same {
			t.Fatalf("not as the library has it:\n%s", text)
		}
	})
}

func FuzzShortReader(f *testing.F) {
	for _, act := range fixtureActs(f) {
		text, err := encodeEntry(checklist.Entry{Seq: 1, At: minute(1), By: "Mara", Act: act})
		require.NoError(f, err)
		f.Add(text)
	}
	for _, value := range []string{"-0", "-0.0", "01", "1_0", "1e5", "1.5e-06", "1e+15", "+1", ".5", "5.", "1e400", "99999999999999999999", "inf", "nan", "0x1F", "true", "truth",
		"2026-06-12T05:30:00+13:00", "2026-06-12T05:30:00Z", "2026-06-12T5:30:00+13:00", "2026-06-12T05:30:00", "2026-06-12", "2026-13-12T05:30:00Z", "2026-06-12T05:30:00+25:00",
		`"\u00E9"`, `"\uD800"`, `"\U0001F600"`, `"\U00110000"`, `"\x41"`, `'a'`, `"""a"""`, "[]", "[1, 2,]", "[ 1 ]", "[\n  1,\n]", "{}", "{ a = 1 }", "{a=1}", "{ a = 1, a = 2 }", "{ a.b = 1 }", "{ a = [\n  1,\n] }"} {
		f.Add([]byte(entryLine + "seq = 1\nat = 2026-06-12T05:30:00+13:00\nkind = \"event\"\nwhat = " + value + "\n"))
		f.Add([]byte(entryLine + "seq = " + value + "\nat = 2026-06-12T05:30:00+13:00\nkind = \"event\"\n"))
		f.Add([]byte(entryLine + "seq = 1\nat = " + value + "\nkind = \"event\"\n"))
		f.Add([]byte(entryLine + "seq = 1\nat = 2026-06-12T05:30:00+13:00\nkind = \"count\"\nfood = \"rice\"\npacks = " + value + "\n"))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if _, same := agree(text); !same {
			t.Fatalf("not as the library has it:\n%s", text)
		}
	})
}

// Every frozen page that is whole is read by the short reader alone.
func TestTheShortReaderReadsEveryFrozenPage(t *testing.T) {
	pages, err := filepath.Glob("testdata/*/record/0*.toml")
	require.NoError(t, err)
	read := 0
	for _, page := range pages {
		text, err := os.ReadFile(page)
		require.NoError(t, err)
		for _, part := range bytes.Split(text, []byte(entryLine))[1:] {
			end := bytes.Index(part, []byte("\nsum = "))
			if end < 0 {
				continue // torn
			}
			body := part[:end+1]
			taken, same := agree(append([]byte(entryLine), body...))
			assert.True(t, taken && same, "%s:\n%s", page, body)
			read++
		}
	}
	assert.GreaterOrEqual(t, read, 60)
}
