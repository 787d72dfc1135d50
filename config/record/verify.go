package record

import (
	"cmp"
	"errors"
	"io/fs"
	"maps"
	"slices"
	"strings"

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
	for i, n := range numbers {
		if (i == 0 && n > 1) || (i > 0 && numbers[i-1] != n-1) {
			before = link{}
		}
		p, err := s.readPage(n, before)
		if err != nil {
			name := pageName(n)
			r.Faults = append(r.Faults, Fault{Page: name, Problem: strings.TrimPrefix(err.Error(), name+": ")})
			before = link{}
			continue
		}
		before = p.after
		r.add(p, i == len(numbers)-1)
		p.collectDefinitions(definitions)
	}
	for _, sum := range slices.Sorted(maps.Keys(definitions)) {
		if _, err := s.Definitions(sum); err != nil {
			name := definitionsName(sum)
			r.Faults = append(r.Faults, Fault{Page: name, Problem: strings.TrimPrefix(err.Error(), name+": ")})
		}
	}

	return r, nil
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

// collectDefinitions adds what the page's sign-offs were computed from.
func (p *page) collectDefinitions(sums map[string]bool) {
	for _, e := range p.entries {
		if sign, is := e.Act.(checklist.Sign); is && isSum.MatchString(sign.Definitions) {
			sums[sign.Definitions] = true
		}
	}
}
