package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"boat/hoveshort/checklist"
)

// The papers of a PDF.
const (
	paperA4     = "a4"
	paperLetter = "letter"
)

var papers = []string{paperA4, paperLetter}

// The layout, in millimetres; letters are in points. Black on white: what matters is told by
// bold letters, capitals and a frame, which a photocopier and a fax keep.
const (
	sheetMargin   = 13.0
	sheetFoot     = 10.0 // kept free for the foot
	nameColumn    = 32.0
	partGap       = 1.8
	sheetFont     = "go"
	mmPerPoint    = 25.4 / 72
	lineOfLetters = 1.25 // the height of a line, in letters
)

// sheetSizes are the letters, in points, from the one that reads best to the smallest that
// still does: the largest is taken that leaves one page, and where none does, the first.
var sheetSizes = []float64{10, 9.5, 9, 8.5, 8}

// madePDF is a sheet that can be printed.
type madePDF struct {
	bytes   []byte
	pages   int
	unshown string // letters that it cannot show; "": none
}

// makePDF draws the sheet. The same sheet gives the same bytes: its date is the sheet's, and
// nothing in it comes from the machine.
func makePDF(s checklist.Sheet, paper string) (madePDF, error) {
	size, pages := sheetSizes[0], 0
	for i, try := range sheetSizes {
		drawn, err := drawSheet(s, paper, try, 1)
		if err != nil {
			return madePDF{}, err
		}
		if i == 0 || drawn.PageCount() == 1 {
			size, pages = try, drawn.PageCount()
		}
		if pages == 1 {
			break
		}
	}
	page, err := drawSheet(s, paper, size, pages)
	if err != nil {
		return madePDF{}, err
	}
	var b bytes.Buffer
	if err := page.Output(&b); err != nil {
		return madePDF{}, err
	}
	return madePDF{bytes: b.Bytes(), pages: pages, unshown: page.unshown()}, nil
}

// sheetPage draws down the pages of a sheet.
type sheetPage struct {
	*fpdf.Fpdf

	size    float64 // points
	width   float64 // between the margins
	missing []rune  // letters that the font does not have, as they came
}

func drawSheet(s checklist.Sheet, paper string, size float64, pages int) (*sheetPage, error) {
	p := &sheetPage{Fpdf: fpdf.New("P", "mm", map[string]string{paperA4: "A4", paperLetter: "Letter"}[paper], ""), size: size}
	p.SetCatalogSort(true)
	p.SetCreationDate(s.Made.UTC())
	p.SetModificationDate(s.Made.UTC())
	p.SetProducer("hoveshort", true)
	p.SetTitle(p.shown("Passage sheet: "+s.Boat), true)
	p.SetLang("en")
	p.AddUTF8FontFromBytes(sheetFont, "", goregular.TTF)
	p.AddUTF8FontFromBytes(sheetFont, "B", gobold.TTF)
	p.SetMargins(sheetMargin, sheetMargin, sheetMargin)
	p.SetAutoPageBreak(false, 0)
	p.SetCellMargin(0)
	paperWidth, _ := p.GetPageSize()
	p.width = paperWidth - 2*sheetMargin
	p.SetFooterFunc(func() { p.foot(s, pages) })
	p.AddPage()
	p.head(s)
	for _, part := range s.Parts {
		p.part(part)
	}
	return p, p.Error()
}

// letters chooses how what follows is written and gives the height of a line of it.
func (p *sheetPage) letters(style string, points float64) (height float64) {
	p.SetFont(sheetFont, style, points)
	return points * mmPerPoint * lineOfLetters
}

// foot names the sheet on each page: pages come apart.
func (p *sheetPage) foot(s checklist.Sheet, pages int) {
	const points = 7.5
	height := p.letters("", points)
	_, paperHeight := p.GetPageSize()
	p.SetXY(sheetMargin, paperHeight-sheetFoot-height/2)
	text := fmt.Sprintf("made %s; page %d of %d", s.Made.Format(longMoment), p.PageNo(), pages)
	room := p.width - p.GetStringWidth(text) - p.GetStringWidth("; ")
	name := p.shown(s.Boat)
	if lines := p.SplitText(name, room); len(lines) > 1 {
		name = lines[0] + "…"
	}
	p.CellFormat(p.width, height, name+"; "+text, "", 0, "L", false, 0, "")
}

func (p *sheetPage) head(s checklist.Sheet) {
	p.block("B", p.size*1.6, 0, "Passage sheet for the person ashore")
	p.block("B", p.size*1.2, 0, s.Boat+": "+s.Passage)
	p.block("", p.size, 0, "Made "+s.Made.Format(longMoment))
	for _, part := range s.Parts { // so that what is missing is known before it is told
		p.look(part)
	}
	if unshown := p.unshown(); unshown != "" {
		p.block("B", p.size, 0, "Letters that this print cannot show stand as ?: "+unshown+". The sheet as text or Markdown has them.")
	}
}

// look notes what of a part cannot be shown.
func (p *sheetPage) look(part checklist.SheetPart) {
	p.shown(part.Title)
	for _, row := range part.Rows {
		p.shown(row.Name + row.Text)
	}
	for _, line := range part.Lines {
		p.shown(line)
	}
}

// part draws a part; the one that leads stands in a frame.
func (p *sheetPage) part(part checklist.SheetPart) {
	p.Ln(partGap)
	p.titled(part.Title)
	page, top := p.PageNo(), p.GetY()
	if part.Leads {
		p.Ln(1)
	}
	for _, row := range part.Rows {
		p.row(row, part.Leads)
	}
	for _, line := range part.Lines {
		p.block("", p.size, indentOf(part), line)
	}
	if part.Leads && page == p.PageNo() {
		p.SetLineWidth(0.5)
		p.Rect(sheetMargin, top, p.width, p.GetY()-top+1, "D")
		p.Ln(1)
	}
}

// indentOf keeps what is in a frame off it, in millimetres.
func indentOf(part checklist.SheetPart) float64 {
	if part.Leads {
		return 2
	}
	return 0
}

// titled is the title of a part, never alone at the foot of a page.
func (p *sheetPage) titled(title string) {
	height := p.letters("B", p.size)
	p.room(3 * height)
	p.letters("B", p.size) // a new page's foot chose others
	p.CellFormat(p.width, height, p.shown(strings.ToUpper(title)), "", 1, "L", false, 0, "")
	p.SetLineWidth(0.2)
	p.Line(sheetMargin, p.GetY(), sheetMargin+p.width, p.GetY())
	p.Ln(0.5)
}

// room begins a new page where the height is not left on this one.
func (p *sheetPage) room(height float64) {
	_, paperHeight := p.GetPageSize()
	if p.GetY()+height > paperHeight-sheetMargin-1 {
		p.AddPage()
	}
}

// row draws a name and what is told beside it, both broken where they are too long.
func (p *sheetPage) row(row checklist.SheetRow, leads bool) {
	points, style, indent := p.size, "", 0.0
	if row.Marked {
		style = "B"
	}
	if leads {
		indent = 2
	}
	height := p.letters("B", points)
	names := p.SplitText(p.shown(row.Name+":"), nameColumn-2)
	p.letters(style, points)
	texts := p.SplitText(p.shown(row.Text), p.width-nameColumn-2*indent)
	lines := max(len(names), len(texts))
	p.room(height * float64(min(lines, 4))) // a short one is not torn
	for i := range lines {
		p.room(height)
		p.SetX(sheetMargin + indent)
		if i < len(names) {
			p.letters("B", points)
			p.CellFormat(nameColumn, height, names[i], "", 0, "L", false, 0, "")
		}
		if i < len(texts) {
			p.letters(style, points)
			p.SetX(sheetMargin + indent + nameColumn)
			p.CellFormat(0, height, texts[i], "", 0, "L", false, 0, "")
		}
		p.Ln(height)
	}
}

// block draws a text over the whole width.
func (p *sheetPage) block(style string, points, indent float64, text string) {
	height := p.letters(style, points)
	for _, line := range p.SplitText(p.shown(text), p.width-2*indent) {
		p.room(height)
		p.letters(style, points) // a new page's foot chose others
		p.SetX(sheetMargin + indent)
		p.CellFormat(0, height, line, "", 1, "L", false, 0, "")
	}
}

// shown is the text in letters that the font has: others become the nearest there is, or a
// question mark, and are told on the page.
func (p *sheetPage) shown(text string) string {
	var b strings.Builder
	for _, c := range text {
		near, known := nearLetters[c]
		switch {
		case drivesTerminal(c):
		case unicode.Is(goLetters, c):
			b.WriteRune(c)
		case known:
			b.WriteString(near)
		default:
			b.WriteByte('?')
			if !slices.Contains(p.missing, c) {
				p.missing = append(p.missing, c)
			}
		}
	}
	return b.String()
}

// unshown names the letters that could not be shown by their numbers in Unicode.
func (p *sheetPage) unshown() string {
	const most = 20
	var codes []string
	for i, c := range p.missing {
		if i == most {
			return strings.Join(codes, ", ") + fmt.Sprintf(" and %d more", len(p.missing)-most)
		}
		codes = append(codes, fmt.Sprintf("U+%04X", c))
	}
	return strings.Join(codes, ", ")
}

// nearLetters are signs that the font has not, and what reads the same: the glottal stops of
// the Pacific's languages, and the hyphens and primes of typesetters.
var nearLetters = map[rune]string{
	'\u02bb': "‘", '\u02bc': "’", '\u02be': "’", '\u02bf': "‘", '\ua78b': "’", '\ua78c': "’", '\u2010': "-", '\u2011': "-", '\u2012': "–", '\u201f': "“",
	'\u2024': ".", '\u2025': "..", '\u2027': "·", '\u2043': "-", '\u2103': "°C", '\u2109': "°F", '\u2a7d': "≤", '\u2a7e': "≥",
}

// goLetters are what the Go fonts can show, both regular and bold (a test holds it against the
// fonts): Latin, Greek, Cyrillic, and what typesetters use. Nothing beyond U+FFFF, which the
// library cannot place.
var goLetters = &unicode.RangeTable{R16: []unicode.Range16{
	{0x0020, 0x007e, 1}, {0x00a0, 0x017f, 1}, {0x0192, 0x0192, 1}, {0x01cd, 0x01dc, 1}, {0x01fa, 0x01ff, 1}, {0x0218, 0x021b, 1},
	{0x02c6, 0x02c7, 1}, {0x02c9, 0x02c9, 1}, {0x02d8, 0x02dd, 1}, {0x037e, 0x037e, 1}, {0x0384, 0x038a, 1}, {0x038c, 0x038c, 1},
	{0x038e, 0x03a1, 1}, {0x03a3, 0x03ce, 1}, {0x0400, 0x045f, 1}, {0x0490, 0x0491, 1}, {0x1e80, 0x1e85, 1}, {0x1ef2, 0x1ef3, 1},
	{0x2013, 0x2015, 1}, {0x2017, 0x201e, 1}, {0x2020, 0x2022, 1}, {0x2026, 0x2026, 1}, {0x2030, 0x2030, 1}, {0x2032, 0x2033, 1},
	{0x2039, 0x203a, 1}, {0x203c, 0x203c, 1}, {0x203e, 0x203e, 1}, {0x2044, 0x2044, 1}, {0x2070, 0x2070, 1}, {0x2074, 0x208e, 1},
	{0x2099, 0x2099, 1}, {0x20a3, 0x20a4, 1}, {0x20a7, 0x20a7, 1}, {0x20ac, 0x20ac, 1}, {0x2105, 0x2105, 1}, {0x2113, 0x2113, 1},
	{0x2116, 0x2116, 1}, {0x2122, 0x2122, 1}, {0x2126, 0x2126, 1}, {0x212e, 0x212e, 1}, {0x215b, 0x215e, 1}, {0x2190, 0x2195, 1},
	{0x21a8, 0x21a8, 1}, {0x2202, 0x2202, 1}, {0x2206, 0x2206, 1}, {0x220f, 0x220f, 1}, {0x2211, 0x2212, 1}, {0x2215, 0x2215, 1},
	{0x2219, 0x221a, 1}, {0x221e, 0x221f, 1}, {0x2229, 0x222b, 1}, {0x2248, 0x2248, 1}, {0x2260, 0x2261, 1}, {0x2264, 0x2265, 1},
	{0x2302, 0x2302, 1}, {0x2310, 0x2310, 1}, {0x2320, 0x2321, 1}, {0x2500, 0x2500, 1}, {0x2502, 0x2502, 1}, {0x250c, 0x250c, 1},
	{0x2510, 0x2510, 1}, {0x2514, 0x2514, 1}, {0x2518, 0x2518, 1}, {0x251c, 0x251c, 1}, {0x2524, 0x2524, 1}, {0x252c, 0x252c, 1},
	{0x2534, 0x2534, 1}, {0x253c, 0x253c, 1}, {0x2550, 0x256c, 1}, {0x2580, 0x2580, 1}, {0x2584, 0x2584, 1}, {0x2588, 0x2588, 1},
	{0x258c, 0x258c, 1}, {0x2590, 0x2593, 1}, {0x25a0, 0x25a1, 1}, {0x25aa, 0x25ac, 1}, {0x25b2, 0x25b2, 1}, {0x25ba, 0x25ba, 1},
	{0x25bc, 0x25bc, 1}, {0x25c4, 0x25c4, 1}, {0x25ca, 0x25cb, 1}, {0x25cf, 0x25cf, 1}, {0x25d8, 0x25d9, 1}, {0x25e6, 0x25e6, 1},
	{0x263a, 0x263c, 1}, {0x2640, 0x2640, 1}, {0x2642, 0x2642, 1}, {0x2660, 0x2660, 1}, {0x2663, 0x2663, 1}, {0x2665, 0x2666, 1},
	{0x266a, 0x266b, 1}, {0xfb01, 0xfb02, 1},
}, LatinOffset: 1}
