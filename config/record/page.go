package record

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
)

// What every page begins with, to the byte, and the lines that make an entry.
const (
	pageHead  = "# hoveshort's own record: one entry an act, only ever added to. Do not edit it; `hoveshort verify` finds a change.\nformat = 1\n"
	entryLine = "[[entry]]\n"
	format    = 1
	folder    = "record"
	fullPage  = 1 << 20 // bytes
)

// firstLink stands for the sum before the very first entry.
var firstLink = strings.Repeat("0", hex.EncodedLen(sha256.Size))

var (
	sumLike    = regexp.MustCompile(`sum = "([0-9a-f]{64})"`)
	seqLine    = regexp.MustCompile(`(?m)^seq = ([1-9][0-9]{0,8})$`)
	formatLine = regexp.MustCompile(`(?m)^[ \t]*format[ \t]*=[ \t]*([0-9]{1,9})\b`)
)

// sumOf is the sum of an entry: over the sum before it, as its 64 hex characters, and the entry's bytes
// from its `[[entry]]` up to the line before `sum`.
func sumOf(previous string, entry []byte) string {
	h := sha256.New()
	h.Write([]byte(previous))
	h.Write(entry)

	return hex.EncodeToString(h.Sum(nil))
}

// sealed is the entry's bytes as they are added to a page: a blank line, the entry, its sum.
func sealed(previous string, entry []byte) (text []byte, sum string) {
	sum = sumOf(previous, entry)

	return slices.Concat([]byte("\n"), entry, []byte(`sum = "`+sum+"\"\n")), sum
}

// piece is an entry as it stands in a page, whole or damaged.
type piece struct {
	lead  []byte // what stands before its `[[entry]]`: a blank line
	body  []byte // from `[[entry]]` to the line before `sum`
	sum   string // "" where its sum line is not one
	guess string // in that case: what may be left of its sum
	end   int
}

// splitHead gives what stands before the first entry; all of it where there is none.
func splitHead(page []byte) []byte {
	if bytes.HasPrefix(page, []byte(pageHead)) {
		return page[:len(pageHead)]
	}
	if first := bytes.Index(page, []byte("\n"+entryLine)); first >= 0 {
		return page[:first]
	}

	return nil
}

// split cuts a page into its entries, from `at` on. tail is where the bytes begin that belong to no whole entry.
// Lines are enough for that: no text of an entry can hold a raw line end.
func split(page []byte, at int) (pieces []piece, tail int) {
	for at < len(page) {
		p := cutPiece(page, at)
		if p.sum == "" && isTorn(page[at:]) {
			break
		}
		pieces = append(pieces, p)
		at = p.end
	}

	return pieces, at
}

// cutPiece takes the piece that begins at `at`: to its sum line, or where it has none to the next entry or the end.
func cutPiece(page []byte, at int) piece {
	body, begun := at, false
	var next int
	for line := at; line < len(page); line = next {
		next = line + lineLength(page[line:])
		text := page[line:next]
		if sum, is := sumIn(text); is {
			return piece{lead: page[at:body], body: page[body:line], sum: sum, end: next}
		}
		if string(text) != entryLine {
			continue
		}
		if begun {
			return damagedPiece(page, at, body, beforeBlank(page, line))
		}
		begun, body = true, line
	}

	return damagedPiece(page, at, body, len(page))
}

// sumIn gives the sum of a line that is a sum line to the byte.
func sumIn(line []byte) (sum string, is bool) {
	text, begins := bytes.CutPrefix(line, []byte(`sum = "`))
	text, ends := bytes.CutSuffix(text, []byte("\"\n"))
	if !begins || !ends || !isSumText(text) {
		return "", false
	}

	return string(text), true
}

// isSumText is isSum without its machinery: every line of every page is asked.
func isSumText(text []byte) bool {
	for _, c := range text {
		if (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return false
		}
	}

	return len(text) == hex.EncodedLen(sha256.Size)
}

// beforeBlank leaves the blank line before an entry to that entry.
func beforeBlank(page []byte, line int) int {
	if bytes.HasSuffix(page[:line], []byte("\n\n")) {
		return line - 1
	}

	return line
}

// damagedPiece is a piece without a sum line. Its body is taken to end before what may have been that line,
// so that the next entry's link can still be looked at.
func damagedPiece(page []byte, at, body, end int) piece {
	p := piece{lead: page[at:body], body: page[body:end], end: end}
	last := bytes.LastIndexByte(bytes.TrimRight(p.body, "\n"), '\n') + 1
	if m := sumLike.FindSubmatch(p.body[last:]); m != nil {
		p.guess = string(m[1])
	}
	if last > 0 {
		p.body = p.body[:last]
	}

	return p
}

func lineLength(text []byte) int {
	if i := bytes.IndexByte(text, '\n'); i >= 0 {
		return i + 1
	}

	return len(text)
}

// isTorn tells whether a tail can be what a power cut left of the last write: it begins one entry at the most, and has
// no sum line of any sort. Anything else was done to the page later, and is never cut off.
func isTorn(tail []byte) bool {
	const sumKey = "\nsum"
	if bytes.Count(tail, []byte(entryLine)) > 1 {
		return false
	}
	at := bytes.Index(tail, []byte(sumKey))

	return at < 0 || bytes.IndexByte(tail[at+len(sumKey):], '\n') < 0
}

// link is where the chain stands after an entry. Damage leaves a second possibility open, so that one damaged entry
// does not put the blame on all after it. The zero link is not known: the page before is missing.
type link struct {
	sums  []string // the sum that is written, and what else it may have been
	nexts []int    // the number that should follow
}

func chainStart() link { return link{sums: []string{firstLink}, nexts: []int{1}} }

// sum is what the next entry is chained to.
func (l link) sum() string {
	if len(l.sums) == 0 {
		return firstLink
	}

	return l.sums[0]
}

// next is the next entry's number: never one that was used.
func (l link) next() int {
	if len(l.nexts) == 0 {
		return 1
	}

	return slices.Max(l.nexts)
}

// step goes on over a piece; it gives the number that names the piece and what is wrong with it.
func (l link) step(p piece) (after link, seq int, problems []string) {
	seq, written := l.number(p)
	right, holds := l.check(p)
	if !holds {
		problems = append(problems, "it is not as it was written: its sum does not match")
	}
	if written > 0 && written != seq {
		problems = append(problems, fmt.Sprintf("entry %d stands where entry %d should be", written, seq))
	}
	if string(p.lead) != "\n" {
		problems = append(problems, "what stands before it was not written by the program")
	}

	after = link{sums: []string{right}, nexts: []int{seq + 1}}
	for _, other := range []string{p.guess, p.sum} {
		if other != "" && other != right {
			after.sums = slices.Insert(after.sums, 0, other)
		}
	}
	if written > 0 && written != seq {
		after.nexts = append(after.nexts, written+1)
	}

	return after, seq, problems
}

// number is the number that a piece should have, and the one that is written; 0: none can be read.
func (l link) number(p piece) (seq, written int) {
	if m := seqLine.FindSubmatch(p.body); m != nil {
		written, _ = strconv.Atoi(string(m[1]))
	}
	if written > 0 && (len(l.nexts) == 0 || slices.Contains(l.nexts, written)) {
		return written, written
	}
	if len(l.nexts) == 0 {
		return l.next(), written
	}

	return l.nexts[0], written
}

// check gives the sum that would be right, and whether it is the one that is written.
func (l link) check(p piece) (right string, holds bool) {
	if len(l.sums) == 0 {
		return p.sum, p.sum != ""
	}
	for _, previous := range l.sums {
		if right = sumOf(previous, p.body); right == p.sum {
			return right, true
		}
	}

	return sumOf(l.sum(), p.body), false
}

// linkAfter is where the chain stands after a page, told from its last entries alone; ok is false where it has none.
func linkAfter(raw []byte) (after link, ok bool) {
	raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
	pieces, _ := split(raw, len(splitHead(raw)))
	if len(pieces) == 0 {
		return link{}, false
	}
	for _, p := range pieces[max(0, len(pieces)-2):] {
		after, _, _ = after.step(p)
	}

	return after, true
}

// page is a page of the record as it was read.
type page struct {
	number  int
	raw     []byte // the whole file, with LF line ends
	before  link   // how the chain stood before it
	after   link
	whole   int  // up to here the page is entries; what follows is torn
	carry   int  // the end of its carry; 0: it opens without one
	altered bool // it was changed in a way that nothing more is added to it
	arrived bool // it holds the closing of a passage
	pieces  int
	entries []checklist.Entry
	faults  []Fault
	unknown error // an entry that only a newer program can read
}

// pageName is the file of a page, relative to the boat folder.
func pageName(number int) string { return fmt.Sprintf("%s/%04d.toml", folder, number) }

// parsePage reads a page. The error says that it was written for a newer format, and then nothing else of it is read.
func parsePage(number int, raw []byte, before link) (*page, error) {
	p := &page{number: number, before: before, after: before}
	if bytes.Contains(raw, []byte("\r\n")) {
		raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
		p.altered = true
		p.fault(0, "its line ends were changed, by an editor or a copy; its entries are read all the same")
	}
	if err := checkFormat(number, raw); err != nil {
		return nil, err
	}

	head := splitHead(raw)
	p.whole = len(head)
	p.readOn(raw)
	p.checkHead(head)

	return p, nil
}

// extended is the page with what was added to it since; ok is false where it is not the same page any more.
func (p *page) extended(raw []byte, before link) (longer *page, ok bool) {
	same := p.pieces > 0 && len(raw) >= p.whole && bytes.Equal(raw[:p.whole], p.raw[:p.whole])
	if !same || p.altered || !slices.Equal(p.before.sums, before.sums) || !slices.Equal(p.before.nexts, before.nexts) {
		return nil, false
	}

	longer = new(page)
	*longer = *p
	longer.entries, longer.faults = slices.Clip(p.entries), slices.Clip(p.faults)
	longer.readOn(raw)

	return longer, true
}

// readOn reads the entries after those that are known.
func (p *page) readOn(raw []byte) {
	p.raw = raw
	pieces, tail := split(raw, p.whole)
	for _, piece := range pieces {
		p.take(piece)
	}
	p.whole = tail
	if n := len(pieces); n > 0 && pieces[n-1].sum == "" {
		p.altered = true
	}
}

// checkFormat refuses a page of a newer format.
func checkFormat(number int, raw []byte) error {
	head := raw[:bytes.LastIndexByte(raw, '\n')+1]
	if i := bytes.Index(raw, []byte("\n[")); i >= 0 {
		head = raw[:i+1]
	}
	m := formatLine.FindSubmatch(head)
	if m == nil {
		return nil
	}
	if n, _ := strconv.Atoi(string(m[1])); n > format {
		return fmt.Errorf("%s: written for format %d, this program knows %d", pageName(number), n, format)
	}

	return nil
}

// checkHead looks at what stands before the first entry. Where there is no entry, all of it is torn.
func (p *page) checkHead(head []byte) {
	if string(head) == pageHead || p.pieces == 0 {
		return
	}
	p.altered = true
	p.fault(0, "its head, before the first entry, was changed")
}

// take adds an entry to what is known of the page.
func (p *page) take(piece piece) {
	after, seq, problems := p.after.step(piece)
	p.after = after
	p.pieces++

	e, err := decodeEntry(piece.body)
	e.Sum = piece.sum
	switch {
	case err == nil:
		p.add(e, piece)
	case len(problems) > 0:
		problems = append(problems, "it cannot be read and is left out: "+err.Error())
	default:
		problems = append(problems, "it cannot be read: "+err.Error())
		p.unknown = cmp.Or(p.unknown, unknownEntry(p.number, seq, err))
	}
	for _, problem := range problems {
		p.fault(seq, problem)
	}
}

// unknownEntry is the error for an entry that is whole and cannot be read: a newer program wrote it.
func unknownEntry(number, seq int, err error) error {
	return fmt.Errorf("%s: entry %d: %w; a newer program wrote it: use that one", pageName(number), seq, err)
}

func (p *page) add(e checklist.Entry, piece piece) {
	if e.Act.Kind() == checklist.KindCarry && p.pieces == 1 {
		p.carry = piece.end
	}
	arrival, is := e.Act.(checklist.Arrive)
	p.arrived = p.arrived || is && arrival.Close
	p.entries = append(p.entries, e)
}

func (p *page) fault(seq int, problem string) {
	p.faults = append(p.faults, Fault{Page: pageName(p.number), Seq: seq, Problem: problem})
}

// torn is what a power cut left after the last whole entry.
func (p *page) torn() []byte { return p.raw[p.whole:] }

// release lets go of the bytes of a page that is never added to; only what is torn is still asked for.
func (p *page) release() { p.raw, p.whole = bytes.Clone(p.torn()), 0 }

// isFull tells whether the next entry opens a new page. A carry that alone would fill a page gets as much room again.
func (p *page) isFull() bool { return p.arrived || p.altered || p.whole >= max(fullPage, 2*p.carry) }
