package record

import (
	"cmp"
	"errors"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"

	"boat/hoveshort/checklist"
)

// Report is what Verify found.
type Report struct {
	Pages, Entries int
	Bytes          int64
	Last           string // the sum of the last entry: what stands on the sheet ashore proves up to there
	Faults         []Fault
}

// Verify looks at every page, entry by entry, and at the definitions that were kept. It finds damage and careless
// hands; not a forger who computes all sums anew, nor that the end was cut off: for that compare Last with a copy.
func Verify(boatDir string) (Report, error) { return Open(boatDir).verify() }

func (s *Store) verify() (Report, error) {
	if _, err := s.disk.list(s.path(folder)); errors.Is(err, fs.ErrNotExist) {
		return Report{}, nil
	}
	unlock, _ := s.lockToRead()
	report, err := s.verifyPages()

	return report, cmp.Or(err, unlock())
}

func (s *Store) verifyPages() (Report, error) {
	numbers, err := s.numbers()
	if err != nil {
		return Report{}, err
	}

	r := Report{Faults: missing(numbers)}
	definitions := map[string]bool{}
	before := chainStart()
	done := 0
	for some := range slices.Chunk(numbers, atOnce) {
		ahead := s.readAhead(some, before)
		for i, n := range some {
			if (done == 0 && n > 1) || (done > 0 && numbers[done-1] != n-1) {
				before = link{}
			}
			done++
			p, err := ahead[i].after(before)
			if err != nil {
				name := pageName(n)
				r.Faults = append(r.Faults, Fault{Page: name, Problem: strings.TrimPrefix(err.Error(), name+": ")})
				before = link{}
				continue
			}
			if p.isForeign() {
				r.Faults = append(r.Faults, Fault{Page: pageName(n), Problem: notFollowing})
			}
			before = p.after
			r.add(p, done == len(numbers))
			p.collectDefinitions(definitions)
		}
	}
	for _, sum := range slices.Sorted(maps.Keys(definitions)) {
		if _, err := s.Definitions(sum); err != nil {
			name := definitionsName(sum)
			r.Faults = append(r.Faults, Fault{Page: name, Problem: strings.TrimPrefix(err.Error(), name+": ")})
		}
	}

	return r, nil
}

// atOnce is how many pages are looked at side by side: enough for the cores of a small machine, and few enough that
// even full pages take little memory.
const atOnce = 8

// aheadPage is a page that was read as if it followed the one before it as that one's last entries tell.
type aheadPage struct {
	number int
	raw    []byte
	before link
	page   *page
	err    error
}

// readAhead reads pages side by side; before is where the chain stands before the first.
func (s *Store) readAhead(numbers []int, before link) []aheadPage {
	pages := make([]aheadPage, len(numbers))
	var all sync.WaitGroup
	for i, n := range numbers {
		p := &pages[i]
		p.number = n
		raw, err := s.disk.read(s.path(pageName(n)))
		if err != nil {
			p.err = explainRead(pageName(n), err)
			continue
		}
		p.raw = raw
		all.Go(func() {
			p.before = before
			if i > 0 {
				p.before, _ = linkAfter(pages[i-1].raw)
			}
			p.page, p.err = parsePage(n, raw, p.before)
		})
	}
	all.Wait()

	return pages
}

// after is the page as it follows the one before it; read again where the chain stands otherwise than was thought.
func (p aheadPage) after(before link) (*page, error) {
	same := slices.Equal(p.before.sums, before.sums) && slices.Equal(p.before.nexts, before.nexts)
	if p.raw == nil || same {
		return p.page, p.err
	}

	return parsePage(p.number, p.raw, before)
}

// isForeign says that the page's own entries follow one another, and the first does not follow the page before it,
// neither by its sum nor by its number. By its sum alone it may as well have been changed.
func (p *page) isForeign() bool {
	if len(p.entries) == 0 || len(p.before.sums) == 0 || len(p.faults) == 0 {
		return false
	}
	pieces, _ := split(p.raw, len(splitHead(p.raw)))
	if len(pieces) == 0 {
		return false
	}
	if seq, written := p.before.number(pieces[0]); written == seq {
		return false
	}
	for i, piece := range pieces {
		_, holds := link{sums: p.before.sums}.check(piece)
		if i > 0 {
			_, holds = link{sums: []string{pieces[i-1].sum}}.check(piece)
		}
		if holds == (i == 0) {
			return false
		}
	}

	return true
}

func (r *Report) add(p *page, isNewest bool) {
	r.Pages++
	r.Entries += p.pieces
	r.Bytes += int64(len(p.raw))
	if p.pieces > 0 {
		r.Last = p.after.sum()
	}
	r.Faults = append(r.Faults, p.faults...)
	if len(p.torn()) > 0 {
		r.Faults = append(r.Faults, p.cutShort())
	}
	if p.pieces == 0 && len(p.raw) == 0 && !isNewest {
		r.Faults = append(r.Faults, Fault{Page: pageName(p.number), Problem: "it is empty, and pages follow it"})
	}
}

// collectDefinitions adds what the page's sign-offs and departures were computed from.
func (p *page) collectDefinitions(sums map[string]bool) {
	for _, e := range p.entries {
		var sum string
		switch act := e.Act.(type) {
		case checklist.Sign:
			sum = act.Definitions
		case checklist.Depart:
			sum = act.Definitions
		}
		if isSum.MatchString(sum) {
			sums[sum] = true
		}
	}
}
