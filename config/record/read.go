package record

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/checklist"
)

// reach is how far back a load goes.
type reach int

const (
	fromCarry reach = iota // as far as the state needs
	fromStart
)

// pageEnd is where the chain stands after a page; ok is false where it has no entry.
type pageEnd struct {
	number int
	raw    []byte
	after  link
	ok     bool
}

// view is what was read: the pages from some page to the newest.
type view struct {
	pages  []*page
	faults []Fault // of the pages' order
}

// newest is the page that is added to; nil: there is none.
func (v view) newest() *page {
	if len(v.pages) == 0 {
		return nil
	}

	return v.pages[len(v.pages)-1]
}

// numbers are the pages that are there, in order.
func (s *Store) numbers() ([]int, error) {
	names, err := s.disk.list(s.path(folder))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, explainRead(folder, err)
	}

	var numbers []int
	for _, name := range names {
		n, err := strconv.Atoi(strings.TrimSuffix(name, ".toml"))
		if err == nil && n > 0 && folder+"/"+name == pageName(n) {
			numbers = append(numbers, n)
		}
	}
	slices.Sort(numbers)

	return numbers, nil
}

// read reads the pages that how, until and the corrections in them ask for.
func (s *Store) read(how reach, until *time.Time) (view, error) {
	numbers, err := s.numbers()
	if err != nil || len(numbers) == 0 {
		return view{}, err
	}

	first := len(numbers) - 1
	if how == fromStart {
		first = 0
	}
	for {
		v, err := s.readFrom(numbers, first)
		if err != nil || first == 0 {
			return v, err
		}
		switch {
		case v.correctsEarlier() || v.beginsAfter(until):
			first = 0
		case v.pages[0].carry == 0:
			first--
		default:
			return v, nil
		}
	}
}

// readFrom reads the pages numbers[first:].
func (s *Store) readFrom(numbers []int, first int) (view, error) {
	before, err := s.linkBefore(numbers, first)
	if err != nil {
		return view{}, err
	}

	v := view{faults: missing(numbers)}
	for i, n := range numbers[first:] {
		if i > 0 && numbers[first+i-1] != n-1 {
			before = link{}
		}
		p, err := s.readPage(n, before)
		if err == nil {
			err = p.unknown
		}
		if err != nil {
			return view{}, err
		}
		before = p.after
		if first+i < len(numbers)-1 {
			p.release()
		}
		v.pages = append(v.pages, p)
	}
	s.newest = v.newest()

	return v, nil
}

// readPage reads a page; of one that it knows already only what came since.
func (s *Store) readPage(number int, before link) (*page, error) {
	raw, err := s.disk.read(s.path(pageName(number)))
	if err != nil {
		return nil, explainRead(pageName(number), err)
	}
	if s.newest != nil && s.newest.number == number {
		if p, ok := s.newest.extended(raw, before); ok {
			return p, nil
		}
	}

	return parsePage(number, raw, before)
}

// linkBefore is where the chain stands before page numbers[first].
func (s *Store) linkBefore(numbers []int, first int) (link, error) {
	for i := first; i >= 0; i-- {
		if numbers[i] == 1 {
			return chainStart(), nil
		}
		if i == 0 || numbers[i-1] != numbers[i]-1 {
			return link{}, nil
		}
		name := pageName(numbers[i-1])
		raw, err := s.disk.read(s.path(name))
		if err != nil {
			return link{}, explainRead(name, err)
		}
		if s.previous.number != numbers[i-1] || !bytes.Equal(s.previous.raw, raw) {
			s.previous = pageEnd{number: numbers[i-1], raw: raw}
			s.previous.after, s.previous.ok = linkAfter(raw)
		}
		if s.previous.ok {
			return s.previous.after, nil
		}
	}

	return chainStart(), nil
}

// missing tells of the pages that are not there.
func missing(numbers []int) []Fault {
	var faults []Fault
	want := 1
	for _, n := range numbers {
		switch {
		case n == want+1:
			faults = append(faults, Fault{Page: pageName(want), Problem: "this page is missing"})
		case n > want:
			faults = append(faults, Fault{Page: pageName(want), Problem: "this page is missing, and all to " + pageName(n-1)})
		}
		want = n + 1
	}

	return faults
}

// correctsEarlier tells whether an entry takes back one from before the pages that were read, or their carry: then all
// that the carry stands for is needed, and the carry is not.
func (v view) correctsEarlier() bool {
	first := v.pages[0].first()
	for _, p := range v.pages {
		for _, e := range p.entries {
			if c, is := e.Act.(checklist.Correct); is && c.Of <= first {
				return true
			}
		}
	}

	return false
}

// first is the number of the page's first entry; 0: it holds none.
func (p *page) first() int {
	if len(p.entries) == 0 {
		return 0
	}

	return p.entries[0].Seq
}

// beginsAfter tells whether the carry, or anything in it, is later than the moment that is asked for.
func (v view) beginsAfter(until *time.Time) bool {
	if until == nil || len(v.pages[0].entries) == 0 {
		return false
	}
	first := v.pages[0].entries[0]
	carry, _ := first.Act.(checklist.Carry)

	return first.At.After(*until) || carry.Trusted.After(*until) ||
		slices.ContainsFunc(carry.Kept, func(e checklist.Entry) bool { return e.At.After(*until) }) ||
		slices.ContainsFunc(carry.Defects, func(d checklist.CarriedDefect) bool { return d.At.After(*until) })
}

// loaded is the view as the rest of the program wants it.
func (v view) loaded(until *time.Time) Loaded {
	l := Loaded{Entries: v.entries(), Damage: slices.Clone(v.faults)}
	if until != nil {
		l.Entries = slices.DeleteFunc(l.Entries, func(e checklist.Entry) bool { return e.At.After(*until) })
	}
	for i, p := range v.pages {
		l.Damage = append(l.Damage, p.faults...)
		switch torn := p.torn(); {
		case len(torn) == 0:
		case i < len(v.pages)-1:
			l.Damage = append(l.Damage, p.cutShort())
		default:
			l.Notices = append(l.Notices, fmt.Sprintf("The last entry in %s was cut short: the power went, or the program was stopped, "+
				"while it was written. It does not count. Look whether that act must be made again.", pageName(p.number)))
		}
	}
	if n := len(l.Damage); n > 0 {
		l.Notices = append(l.Notices, damageNotice(l.Damage[0], n))
	}

	return l
}

// cutShort is the fault of a page that ends in half an entry.
func (p *page) cutShort() Fault {
	return Fault{Page: pageName(p.number), Seq: p.after.next(), Problem: fmt.Sprintf("it was cut short: %d bytes of it are there; it does not count", len(p.torn()))}
}

func damageNotice(first Fault, n int) string {
	more := ""
	if n > 1 {
		more = fmt.Sprintf(" and %d more", n-1)
	}

	return fmt.Sprintf("The record is damaged (%s%s). Nothing was thrown away. `hoveshort verify` shows all of it; "+
		"compare with a copy or the paper log, and sound, count and check anew what it touches.", first, more)
}

// entries are all entries of the view. Only the first page's carry is among them, or one after a page that is missing:
// what the others stand for is there.
func (v view) entries() []checklist.Entry {
	n := 0
	for _, p := range v.pages {
		n += len(p.entries)
	}
	all := slices.Grow([]checklist.Entry(nil), n) // years of them are many: no copies on the way
	for i, p := range v.pages {
		for j, e := range p.entries {
			follows := i > 0 && v.pages[i-1].number == p.number-1
			if j == 0 && p.carry > 0 && follows {
				continue
			}
			all = append(all, e)
		}
	}

	return all
}
