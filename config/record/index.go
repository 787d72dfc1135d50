package record

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"boat/hoveshort/checklist"
)

// Heading is a passage in the list of all: what its sign-off, departure, arrival and closing say of it.
type Heading struct {
	Passage  string
	From, To string // of its first leg, by the departure; "" of what was signed and never left
	Name     string // who signed it; "": left unsigned
	Place    string // where she came in

	Sign, Depart                  int // entries; 0: there is none
	SignedAt, DepartAt, ArrivedAt time.Time
	Leaves                        time.Time // as it was signed for
	Closed                        bool
	Sum                           string // of the sign-off, or of the departure where there is none
	Unsigned                      bool

	Entries     int // from the end of the passage before it; none of what was never left
	First, Last int // pages on which they stand
	Found       bool
}

// Number is the entry it is called by.
func (h Heading) Number() int { return cmp.Or(h.Sign, h.Depart) }

// Index is the list of passages, and what is the matter with the record as far as it was looked at.
type Index struct {
	Passages []Heading // oldest first
	Entries  int
	Faults   []Fault
}

// Wanted is what is looked for in the passages. All zero: every one is found.
type Wanted struct {
	Words []string // each must stand somewhere in the passage's entries, in any case of its letters
	Year  int      // of the departure, or of the sign-off of what was never left
	Until *time.Time
}

// Passages lists the passages without decoding the record: of the entries only the head lines of those that begin
// and end a passage are read. A page that is missing, cannot be read or does not follow the one before it is told,
// and the rest is listed.
func (s *Store) Passages(w Wanted) (Index, error) {
	s.mu.Lock()
	defer s.mu.Unlock()

	if _, err := s.disk.list(s.path(folder)); errors.Is(err, fs.ErrNotExist) {
		return Index{}, nil
	}
	unlock, _ := s.lockToRead()
	index, err := s.index(w)

	return index, cmp.Or(err, unlock())
}

func (s *Store) index(w Wanted) (Index, error) {
	numbers, err := s.numbers()
	if err != nil {
		return Index{}, err
	}
	x, err := s.indexed(numbers, w, nil)
	if err != nil {
		return Index{}, err
	}
	struck := checklist.Struck(x.corrections)
	if slices.ContainsFunc(x.heads, func(seq int) bool { return struck[seq] }) {
		if x, err = s.indexed(numbers, w, struck); err != nil {
			return Index{}, err
		}
	}

	return x.done(), nil
}

// indexed goes over the pages, with what is known to be taken as never written.
func (s *Store) indexed(numbers []int, w Wanted, struck map[int]bool) (*indexer, error) {
	x := &indexer{wanted: w, struck: struck, signs: map[int]int{}}
	for _, word := range w.Words {
		x.words = append(x.words, bytes.ToLower([]byte(word)))
	}
	x.index.Faults = missing(numbers)
	last := 0
	for _, n := range numbers {
		raw, err := s.disk.read(s.path(pageName(n)))
		if err != nil {
			x.fault(n, strings.TrimPrefix(explainRead(pageName(n), err).Error(), pageName(n)+": "))
			x.sum = ""
			continue
		}
		if err := checkFormat(n, raw); err != nil {
			return nil, err // a newer program's: nothing can be said of it
		}
		if last != n-1 {
			x.sum = ""
		}
		last = n
		if bytes.Contains(raw, []byte("\r\n")) {
			raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
		}
		x.page(n, raw)
	}
	x.end(len(x.spans))

	return x, nil
}

// indexer goes over the pages. It cuts the record into passages as checklist.Passages does.
type indexer struct {
	wanted Wanted
	words  [][]byte
	index  Index
	sum    string // of the entry before; "": not known, or the first

	heads       []int // the entries that passages begin and end with
	corrections []checklist.Entry
	struck      map[int]bool

	signs   map[int]int // where in index.Passages a sign-off stands
	now     Heading
	spans   []span // entries of the passage that is going on
	pending int    // as cutter's
}

// span is an entry in its page.
type span struct {
	page int
	body []byte
}

func (x *indexer) fault(page int, problem string) {
	x.index.Faults = append(x.index.Faults, Fault{Page: pageName(page), Problem: problem})
}

// page takes the entries of a page, and looks whether it follows the one before it.
func (x *indexer) page(number int, raw []byte) {
	first := true
	for at := len(splitHead(raw)); at < len(raw); {
		p, next := quickPiece(raw, at)
		if next == 0 {
			break
		}
		if first && x.follows(number, p) {
			x.fault(number, notFollowing)
		}
		first = false
		at, x.sum = next, p.sum
		x.take(number, p.body)
	}
}

// notFollowing is told of a page of which the first entry is not chained to the last of the page before it.
const notFollowing = "it does not follow the page before it: it is from another boat's record, or one of the two was changed"

// follows says that a page's first entry breaks the chain.
func (x *indexer) follows(number int, p piece) bool {
	previous := x.sum
	if number == 1 {
		previous = firstLink
	}

	return previous != "" && p.sum != "" && sumOf(previous, p.body) != p.sum
}

var (
	sumStart   = []byte("\nsum = \"")
	entryStart = []byte(entryLine)
)

// quickPiece is the entry at a place: from its `[[entry]]` to its sum line. next is 0 where there is no whole one.
func quickPiece(raw []byte, at int) (p piece, next int) {
	begin := bytes.Index(raw[at:], entryStart)
	if begin < 0 {
		return p, 0
	}
	begin += at
	end := bytes.Index(raw[begin:], sumStart)
	if end < 0 {
		return p, 0
	}
	end += begin + 1
	line := end + lineLength(raw[end:])
	p = piece{body: raw[begin:end]}
	if sum, is := sumIn(raw[end:line]); is {
		p.sum = sum
	}

	return p, line
}

var kindStart = []byte("\nkind = \"")

// kindOf is an entry's kind; "" where it has none.
func kindOf(body []byte) checklist.Kind {
	at := bytes.Index(body, kindStart)
	if at < 0 {
		return ""
	}
	rest := body[at+len(kindStart):]
	if end := bytes.IndexByte(rest, '"'); end >= 0 {
		return checklist.Kind(rest[:end])
	}

	return ""
}

// take adds an entry to the passage that is going on.
func (x *indexer) take(page int, body []byte) {
	kind := kindOf(body)
	if kind == checklist.KindCarry {
		return
	}
	switch kind {
	case checklist.KindSign, checklist.KindDepart, checklist.KindArrive, checklist.KindCorrect:
		e, err := headOf(body)
		if err != nil || x.isLater(e.At) || x.struck[e.Seq] {
			return
		}
		x.heads = append(x.heads, e.Seq)
		e.Sum = x.sum
		x.count(page, body)
		x.act(e)
	default:
		if x.wanted.Until == nil || !x.isLater(timeOf(body)) {
			x.count(page, body)
		}
	}
}

func (x *indexer) count(page int, body []byte) {
	x.index.Entries++
	x.spans = append(x.spans, span{page, body})
}

func (x *indexer) isLater(at time.Time) bool {
	return x.wanted.Until != nil && at.After(*x.wanted.Until)
}

// timeOf is an entry's time, read off its line; zero where it cannot be.
func timeOf(body []byte) time.Time {
	at := bytes.Index(body, []byte("\nat = "))
	if at < 0 {
		return time.Time{}
	}
	line := body[at+len("\nat = "):]
	t, _ := time.Parse(time.RFC3339, string(line[:max(0, lineLength(line)-1)]))

	return t
}

// wantedKeys are the lines of an entry that its heading is made of; arrays and all else are not decoded.
var wantedKeys = [][]byte{
	[]byte("seq = "), []byte("at = "), []byte("kind = "), []byte("by = "), []byte("name = "), []byte("passage = "), []byte("depart = "),
	[]byte("from = "), []byte("to = "), []byte("sign = "), []byte("of = "), []byte("place = "), []byte("close = "), []byte("when = "),
}

// headOf decodes an entry's head lines; one that is not as the program writes it is decoded whole.
func headOf(body []byte) (checklist.Entry, error) {
	short := []byte(entryLine)
	for at := len(entryStart); at < len(body); {
		line := body[at : at+lineLength(body[at:])]
		at += len(line)
		if slices.ContainsFunc(wantedKeys, func(k []byte) bool { return bytes.HasPrefix(line, k) }) {
			short = append(short, line...)
		}
	}
	e, err := decodeEntry(short)
	if err != nil {
		return decodeEntry(body)
	}

	return e, nil
}

func (x *indexer) act(e checklist.Entry) {
	switch a := e.Act.(type) {
	case checklist.Sign:
		page := x.spans[len(x.spans)-1].page
		x.signs[e.Seq] = len(x.index.Passages)
		x.index.Passages = append(x.index.Passages, Heading{
			Passage: a.Passage, Name: a.Name, Sign: e.Seq, SignedAt: e.At, Leaves: a.Depart, Sum: e.Sum, First: page, Last: page,
			Found: x.found(x.spans[len(x.spans)-1:]) && x.isYear(a.Depart),
		})
	case checklist.Depart:
		if a.Of == 0 {
			x.depart(e, a)
		}
	case checklist.Arrive:
		x.arrive(e, a)
	case checklist.Correct:
		x.corrections = append(x.corrections, e)
	}
}

func (x *indexer) depart(e checklist.Entry, a checklist.Depart) {
	if x.now.Depart > 0 {
		last := len(x.spans) - 1
		x.end(cmp.Or(min(x.pending, last), last))
	}
	x.now = Heading{Passage: a.Passage, From: a.From, To: a.To, Depart: e.Seq, DepartAt: e.At, Sum: e.Sum, Unsigned: a.Sign == 0}
	if a.Sign > 0 {
		x.now.Sign = a.Sign
	}
}

func (x *indexer) arrive(e checklist.Entry, a checklist.Arrive) {
	if x.now.Depart == 0 {
		return
	}
	if x.now.ArrivedAt.IsZero() {
		x.now.ArrivedAt, x.now.Place = checklist.ArriveState{Stamp: checklist.Stamp{At: e.At}, Arrive: a}.Moment(), a.Place
		x.pending = len(x.spans)
	}
	if a.Close {
		x.now.Closed = true
		x.end(len(x.spans))
	}
}

// end closes the passage before the n-th of its entries.
func (x *indexer) end(n int) {
	mine, rest := x.spans[:n], x.spans[n:]
	if x.now.Depart > 0 && n > 0 {
		h := x.now
		h.Entries, h.First, h.Last = n, mine[0].page, mine[n-1].page
		h.Found = x.found(mine) && x.isYear(h.DepartAt)
		if at, known := x.signs[h.Sign]; known && h.Sign > 0 {
			sign := x.index.Passages[at]
			h.Name, h.SignedAt, h.Leaves, h.Sum, h.First = sign.Name, sign.SignedAt, sign.Leaves, sign.Sum, min(h.First, sign.First)
			x.index.Passages[at] = h
		} else {
			x.index.Passages = append(x.index.Passages, h)
		}
	}
	x.now, x.spans, x.pending = Heading{}, slices.Clone(rest), 0
}

func (x *indexer) isYear(at time.Time) bool { return x.wanted.Year == 0 || at.Year() == x.wanted.Year }

// found says that every word stands somewhere in what was told in the entries.
func (x *indexer) found(spans []span) bool {
	for _, word := range x.words {
		if !slices.ContainsFunc(spans, func(s span) bool { return holds(s.body, word) }) {
			return false
		}
	}

	return true
}

// holds says that a word, in small letters, stands in a text or a time of an entry, and not in the names of its keys.
func holds(body, word []byte) bool {
	low := bytes.ToLower(body)
	for at := 0; ; {
		hit := bytes.Index(low[at:], word)
		if hit < 0 {
			return false
		}
		hit += at
		at = hit + max(1, len(word))
		line := low[bytes.LastIndexByte(low[:hit], '\n')+1 : hit]
		if isText(line) || bytes.HasPrefix(line, []byte("at = ")) {
			return true
		}
	}
}

// unsearched are the keys of which the value is the program's own.
var unsearched = [][]byte{[]byte("kind = "), []byte("definitions = "), []byte("sum = ")}

// isText says that what follows the beginning of a line stands within a string of it.
func isText(line []byte) bool {
	if slices.ContainsFunc(unsearched, func(k []byte) bool { return bytes.HasPrefix(line, k) }) {
		return false
	}
	in := false
	for i := 0; i < len(line); i++ {
		switch line[i] {
		case '\\':
			i++
		case '"':
			in = !in
		}
	}

	return in
}

// done gives the list in the order of the entries. Sign-offs stand where she left on them.
func (x *indexer) done() Index {
	slices.SortStableFunc(x.index.Passages, func(a, b Heading) int { return cmp.Compare(a.Number(), b.Number()) })

	return x.index
}

// Words cuts what is looked for into words.
func Words(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || r == utf8.RuneError })
}

// Read reads the pages of some passages, from the carry that begins the first of them; where an entry in them takes
// back one of before, the whole record. Damage is told of the pages that were read.
func (s *Store) Read(first, last int) (Loaded, error) {
	s.mu.Lock()
	defer s.mu.Unlock()

	unlock, notices := s.lockToRead()
	v, err := s.readSome(first, last)
	if err := cmp.Or(err, unlock()); err != nil {
		return Loaded{}, err
	}
	loaded := v.loaded(nil)
	loaded.Notices = append(notices, loaded.Notices...)

	return loaded, nil
}

func (s *Store) readSome(first, last int) (view, error) {
	numbers, err := s.numbers()
	if err != nil {
		return view{}, err
	}
	from := slices.IndexFunc(numbers, func(n int) bool { return n >= first })
	to := len(numbers)
	for to > 0 && numbers[to-1] > last {
		to--
	}
	if from < 0 || from >= to {
		return view{}, fmt.Errorf("%s: this page is missing; look for it in a copy of the boat folder", pageName(first))
	}
	v, err := s.readFrom(numbers[:to], from)
	if err != nil || from == 0 || len(v.pages) == 0 || !v.correctsEarlier() {
		return v, err
	}

	return s.readFrom(numbers[:to], 0)
}
