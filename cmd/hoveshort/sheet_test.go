package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf16"

	"github.com/charmbracelet/x/ansi"
	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"boat/hoveshort/checklist"
)

// readPDF reads a PDF with a library that has nothing to do with the one that wrote it: the
// text without its line breaks, the pages, and the first page's box.
func readPDF(t *testing.T, made []byte) (text string, pages int, box []float64) {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(made), int64(len(made)))
	require.NoError(t, err)
	plain, err := r.GetPlainText()
	require.NoError(t, err)
	all, err := io.ReadAll(plain)
	require.NoError(t, err)
	media := r.Page(1).V.Key("MediaBox")
	if media.Kind() == pdf.Null {
		media = r.Page(1).V.Key("Parent").Key("MediaBox")
	}
	for i := range media.Len() {
		box = append(box, media.Index(i).Float64())
	}
	return strings.Join(strings.Fields(string(all)), " "), r.NumPage(), box
}

func TestThePDFOfASignedBoatReadsBackWithAnotherLibrary(t *testing.T) {
	dir := ready(t)
	w := world{boat: dir}
	w.mustDo(t, "--at", evening, "sign", "Mara Testskipper", "--yes")
	page, err := os.ReadFile(filepath.Join(dir, "record", "0001.toml"))
	require.NoError(t, err)
	_, sum, found := strings.Cut(string(page[bytes.LastIndex(page, []byte("\nsum = "))+1:]), `"`) // of the last entry, the sign-off
	require.True(t, found)
	require.Greater(t, len(sum), 8)

	text := w.call("--at", evening, "sheet").stdout
	assert.Contains(t, text, "FIRST DIGITS: "+sum[:8]+"\n")
	_, worry, _ := strings.Cut(text, "WORRY FROM: ")
	worry = worry[:len("Tue 3 Nov 2026 03:14 (UTC+13:00)")]
	require.Equal(t, "Tue 3 Nov 2026 03:14 (UTC+13:00)", worry)

	for paper, wide := range map[string][]float64{paperA4: {595.28, 841.89}, paperLetter: {612, 792}} { // points; ISO 216 and ANSI Y14.1
		r := w.call("--at", evening, "sheet", "--pdf", "-", "--paper", paper)
		require.Equal(t, exitDone, r.code, r.stderr)
		read, pages, box := readPDF(t, []byte(r.stdout))
		for _, told := range []string{
			"Passage sheet for the person ashore", "Halfway Heron: Nuku'alofa - North Minerva - Opua", "WHEN TO WORRY", worry, sum[:8],
			"Signed off: by Mara Testskipper", "Call sign: (invented) HWH1", "23-37.8S", "Aboard: 2",
		} {
			assert.Contains(t, read, told, paper)
		}
		assert.NotContains(t, read, "cannot show")
		assert.Equal(t, pages, strings.Count(read, "page "), "each page has its number")
		require.Len(t, box, 4)
		assert.InDeltaSlice(t, append([]float64{0, 0}, wide...), box, 0.01)
		assert.Equal(t, r.stdout, w.call("--at", evening, "sheet", "--pdf", "-", "--paper", paper).stdout, "the same sheet is the same file")
	}
	assert.Equal(t, exitUsage, world{boat: dir, edit: func(e *env) { e.stdoutIsTerminal = true }}.call("sheet", "--pdf", "-").code)
}

// made is a sheet with one part.
func madeSheet(boat string, rows ...checklist.SheetRow) checklist.Sheet {
	return checklist.Sheet{
		Boat: boat, Passage: "there", Made: time.Date(2026, 10, 18, 4, 30, 0, 0, time.UTC),
		Parts: []checklist.SheetPart{{Title: "When to worry", Leads: true, Rows: rows}},
	}
}

// hostileText is what a file may hold and a sheet must bear.
const hostileText = `*_|<script>alert(1)</script> (a\)) \n [x](http://y) ~~z~~ # $1 && "q" ` + "`c`"

func TestWhatTheSkipperTypedDoesNothingToTheSheet(t *testing.T) {
	sheet := madeSheet("# "+hostileText, checklist.SheetRow{Name: "Then", Text: hostileText, Marked: true}, checklist.SheetRow{Name: "*Hull*", Text: "+ 1"})

	// By hand, from CommonMark 0.31.2, 2.4 and 2.5.
	md := sheetMarkdown(sheet)
	assert.Contains(t, md, "- Then: **"+`\*\_\|&lt;script&gt;alert(1)&lt;/script&gt; (a\\)) \\n \[x\](http://y) \~\~z\~\~ \# \$1 &amp;&amp; "q" `+"\\`c\\`**\n")
	assert.Contains(t, md, `- \*Hull\*: \+ 1`+"\n")
	assert.NotContains(t, md, "<script")

	made, err := makePDF(sheet, paperA4)
	require.NoError(t, err)
	read, pages, _ := readPDF(t, made.bytes)
	assert.Equal(t, 1, pages)
	assert.Empty(t, made.unshown)
	for word := range strings.FieldsSeq(hostileText) {
		assert.Contains(t, read, word)
	}
}

func TestLettersThatThePDFCannotShowAreTold(t *testing.T) {
	made, err := makePDF(madeSheet("漢丸 Tāmaki Привет ʻOfa 🚤", checklist.SheetRow{Name: "Then", Text: "漢 5 ≥ 3\u200d"}), paperA4)
	require.NoError(t, err)
	assert.Equal(t, "U+6F22, U+4E38, U+1F6A4", made.unshown)
	read, _, _ := readPDF(t, made.bytes)
	assert.Contains(t, read, "Letters that this print cannot show stand as ?: U+6F22, U+4E38, U+1F6A4.")
	assert.Contains(t, read, "Then: ? 5")
	r, err := pdf.NewReader(bytes.NewReader(made.bytes), int64(len(made.bytes)))
	require.NoError(t, err)
	for _, dated := range []string{"CreationDate", "ModDate"} { // the sheet's, in UTC
		assert.Contains(t, r.Trailer().Key("Info").Key(dated).RawString(), "20261018043000", dated)
	}
	drawn, err := io.ReadAll(r.Page(1).V.Key("Contents").Reader())
	require.NoError(t, err)
	for _, text := range []string{"Tāmaki", "Привет", "‘Ofa", "≥"} { // shown: the page writes its letters in UTF-16
		assert.True(t, bytes.Contains(drawn, inUTF16(text)), text)
	}

	many := make([]rune, 0, 30)
	for c := range rune(30) {
		many = append(many, 0x4e00+c)
	}
	made, err = makePDF(madeSheet(string(many)), paperA4)
	require.NoError(t, err)
	assert.True(t, strings.HasSuffix(made.unshown, "U+4E13 and 10 more"), made.unshown)
}

func inUTF16(text string) []byte {
	var b []byte
	for _, unit := range utf16.Encode([]rune(text)) {
		b = append(b, byte(unit>>8), byte(unit))
	}
	return b
}

// The table of letters is the fonts' own, or a letter would be lost without a word.
func TestLettersOfThePDFAreThoseOfItsFonts(t *testing.T) {
	var buffer sfnt.Buffer
	counted := 0
	for _, file := range [][]byte{goregular.TTF, gobold.TTF} {
		font, err := sfnt.Parse(file)
		require.NoError(t, err)
		for c := rune(0x20); c <= 0xffff; c++ {
			glyph, err := font.GlyphIndex(&buffer, c)
			require.NoError(t, err)
			if unicode.Is(goLetters, c) {
				counted++
				assert.NotZero(t, glyph, "U+%04X", c)
			}
		}
	}
	assert.Equal(t, 2*705, counted)
	for c, near := range nearLetters {
		assert.False(t, unicode.Is(goLetters, c), "U+%04X needs no other", c)
		for _, n := range near {
			assert.True(t, unicode.Is(goLetters, n), "U+%04X", n)
		}
	}
}

// A word that is broken must stay whole, letter by letter, and a long sheet goes on to as
// many pages as it needs.
func TestALongSheetLosesNothing(t *testing.T) {
	long := strings.Repeat("x", 2000) + "END"
	rows := []checklist.SheetRow{{Name: strings.Repeat("name", 30), Text: long, Marked: true}}
	for range 120 {
		rows = append(rows, checklist.SheetRow{Name: "Leg", Text: strings.Repeat("word ", 40) + "last"})
	}
	made, err := makePDF(madeSheet(strings.Repeat("Long Name ", 30), rows...), paperLetter)
	require.NoError(t, err)
	read, pages, _ := readPDF(t, made.bytes)
	assert.Greater(t, pages, 3)
	assert.Equal(t, made.pages, pages)
	assert.Equal(t, 120*40, strings.Count(read, "word"))
	assert.Equal(t, 120, strings.Count(read, "last"))
	assert.Equal(t, 2000, strings.Count(read, "x"))
	assert.Contains(t, strings.ReplaceAll(read, " ", ""), "page1of"+strings.TrimSpace(string(rune('0'+pages%10))), "few enough pages for one digit")
	for line := range strings.Lines(sheetText(madeSheet("x", rows[1:]...))) {
		assert.LessOrEqual(t, ansi.StringWidth(strings.TrimSuffix(line, "\n")), width)
	}
}

func TestAFileIsWrittenWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "sheet.pdf")
	require.NoError(t, writeWhole(name, []byte("one")))
	require.NoError(t, writeWhole(name, []byte("two")))
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "two", string(text))

	// A folder cannot be replaced by a file: what was on its way is taken away again.
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "full", "x"), 0o755))
	require.Error(t, writeWhole(filepath.Join(dir, "full"), []byte("three")))
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 2)
}
