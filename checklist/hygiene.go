package checklist

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// Rethink is a check or a caution that the record shows to have become a habit: worth rethinking, nothing more.
type Rethink struct {
	Kind  string // quick | never | excepted
	Name  string // the check's id, or the caution's
	Ask   string // how the check is asked; "" where these files do not know it
	Times int    // answers, passages, or sign-offs that it was so
	Of    int    // of how many
	Text  string
}

// From which numbers on something is told. Ours, no source: fewer tell a habit from chance badly.
const (
	quickWithin  = 2 * time.Second
	leastAnswers = 5  // of a check answered quickly
	leastQuiet   = 20 // passages of a check that was never not right
	leastExcepts = 3  // sign-offs that accepted the same
)

// WorthRethinking is what the rounds' record has become a habit of, over all its passages: checks always answered
// within two seconds of the one before, checks never otherwise than right in twenty passages or more, and cautions
// accepted in every sign-off.
func WorthRethinking(d Definitions, entries []Entry) []Rethink {
	h := habits{definitions: d, struck: Struck(entries), checks: map[string]*habit{}, accepted: map[string]int{}}
	for _, e := range entries {
		if _, brought := e.Act.(Carry); !brought && !h.struck[e.Seq] {
			h.take(e)
		}
	}
	h.endPassage()
	return h.worth()
}

// habits are counted over the record.
type habits struct {
	definitions Definitions
	struck      map[int]bool
	checks      map[string]*habit
	order       []string // of the checks as they were first answered
	last        time.Time
	left        bool           // she has left since the last passage ended
	signs       int            // sign-offs
	accepted    map[string]int // sign-offs that accepted a caution
}

// habit is what is known of one check.
type habit struct {
	answers, quick int
	passages       int  // in which it was answered, and she left
	notRight       bool // once, in any of them
	answered       bool // in the passage that is going on
}

func (h *habits) take(e Entry) {
	switch a := e.Act.(type) {
	case Answer:
		if a.Answer != SectionDone {
			h.answer(e.At, a)
		}
	case Sign:
		h.signs++
		for _, x := range a.Exceptions {
			h.accepted[x.ID]++
		}
	case Depart:
		if a.Of == 0 {
			h.endPassage()
			h.left = true
		}
	case Arrive:
		if a.Close {
			h.endPassage()
			h.left = false
		}
	}
}

func (h *habits) answer(at time.Time, a Answer) {
	check := h.checks[a.Check]
	if check == nil {
		check = &habit{}
		h.checks[a.Check] = check
		h.order = append(h.order, a.Check)
	}
	check.answers++
	if since := at.Sub(h.last); !h.last.IsZero() && since >= 0 && since <= quickWithin {
		check.quick++
	}
	h.last = at
	check.notRight = check.notRight || a.Answer != Right
	check.answered = true
}

// endPassage counts the passage, if she left, for every check that was answered since the one before it. A departure
// before a closing ends one too.
func (h *habits) endPassage() {
	for _, check := range h.checks {
		if check.answered && h.left {
			check.passages++
			check.answered = false
		}
	}
}

func (h *habits) worth() []Rethink {
	list := []Rethink{}
	for _, id := range h.order {
		check, ask := h.checks[id], h.definitions.askOf(id)
		if check.answers >= leastAnswers && check.quick == check.answers {
			list = append(list, Rethink{"quick", id, ask, check.quick, check.answers, fmt.Sprintf(
				"%s: all %d answers came within 2 s of the answer before. Is it looked at where it stands in the walk? It may belong elsewhere, or want a word of evidence (say)", id, check.answers)})
		}
		if check.passages >= leastQuiet && !check.notRight {
			list = append(list, Rethink{"never", id, ask, check.passages, check.passages, fmt.Sprintf(
				"%s: never otherwise than right in %d passages%s", id, check.passages, h.neverWords(id))})
		}
	}
	return append(list, h.alwaysAccepted()...)
}

// neverWords keeps what is critical: what it guards against may be rare, and that is no reason to drop it.
func (h *habits) neverWords(id string) string {
	for _, r := range h.definitions.Rounds {
		for _, s := range r.Sections {
			for _, c := range s.Checks {
				if c.ID == id && (c.Critical || len(c.CritWhen) > 0) {
					return ". It is critical: keep it if what it guards against would be grave, and ask whether it is asked so that it could fail"
				}
			}
		}
	}
	return ". Could it be looked at less often, or be asked so that it could fail?"
}

// alwaysAccepted are the cautions that every sign-off accepted.
func (h *habits) alwaysAccepted() []Rethink {
	var list []Rethink
	for id, n := range h.accepted {
		if n == h.signs && n >= leastExcepts {
			list = append(list, Rethink{"excepted", id, "", n, h.signs, fmt.Sprintf(
				"%s: accepted as an exception in all %d sign-offs. What would make it right for good, or should the plan allow for it?", id, n)})
		}
	}
	slices.SortFunc(list, func(a, b Rethink) int { return cmp.Compare(a.Name, b.Name) })
	return list
}
