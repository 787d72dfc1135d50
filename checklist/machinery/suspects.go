package machinery

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// Seen is what came of one look.
type Seen string

// What may come of it. NotYet takes an earlier one back.
const (
	FoundClean   Seen = "clean"
	FoundBad     Seen = "bad"
	CouldNotLook Seen = "could not look"
	NotYet       Seen = "not yet"
)

// Step is a look that was taken, kept with its defect.
type Step struct {
	Seq  int    // of its entry; the order in which things were said
	Look string // as Card.Names has it
	Seen Seen
	At   time.Time
	Note string
}

// MergeSteps makes one walk of several of the same card, the earliest first: of each look
// the last that was said of it, in the order of Seq, whatever the clock said.
func MergeSteps(walks ...[]Step) []Step {
	all := slices.Concat(walks...)
	slices.SortStableFunc(all, func(a, b Step) int { return cmp.Compare(a.Seq, b.Seq) })
	var merged []Step
	for i, s := range all {
		saidAgain := slices.ContainsFunc(all[i+1:], func(later Step) bool { return later.Look == s.Look })
		if !saidAgain {
			merged = append(merged, s)
		}
	}
	return merged
}

// Names are the names of the card's looks, in order: what they look at, with a number where
// two look at the same.
func (c Card) Names() []string {
	names := make([]string, len(c.Looks))
	for i, look := range c.Looks {
		names[i] = look.At
		for n := 2; slices.Contains(names[:i], names[i]); n++ {
			names[i] = fmt.Sprintf("%s (%d)", look.At, n)
		}
	}
	return names
}

// Around is what a walk hangs on besides the card.
type Around struct {
	Now      time.Time
	Opened   time.Time     // the defect; zero: what was seen before is not told as old for it
	Reopened bool          // Opened is that of a repair which did not hold
	Fresh    time.Duration // for how long an outcome tells; 0: for good
	AtSea    bool
	Spares   []Spare
	Tools    []Tool
}

// Walk is a fault card with what came of its looks so far.
type Walk struct {
	Card     Card
	Suspects []Suspect // in the card's order: the quickest and likeliest first
	AtSea    bool
}

// Suspect is one look and how it stands.
type Suspect struct {
	Look
	Name  string
	Seen  Seen   // that counts
	Said  Step   // the last, whether it counts or not
	Old   string // why what was said does not count any more; "": it does
	Short []Part // what it uses and is not aboard
	Wants []Tool // what it needs and is not good
}

// Walk is the card with what was seen.
func (c Card) Walk(steps []Step, a Around) Walk {
	w := Walk{Card: c, AtSea: a.AtSea}
	said := map[string]Step{}
	for _, s := range MergeSteps(steps) {
		said[s.Look] = s
	}
	aboard := map[string]int{}
	for _, s := range a.Spares {
		aboard[s.Name] += s.Counts()
	}
	for i, name := range c.Names() {
		look := c.Looks[i]
		s := Suspect{Look: look, Name: name, Seen: NotYet, Said: said[name], Short: missing(look.Uses, aboard), Wants: notGood(look.Tools, a.Tools)}
		s.Old = a.old(s.Said)
		if s.Old == "" && s.Said.Seen.isKnown() {
			s.Seen = s.Said.Seen
		}
		w.Suspects = append(w.Suspects, s)
	}
	return w
}

func (o Seen) isKnown() bool { return o == FoundClean || o == FoundBad || o == CouldNotLook }

// old is why a step does not count; "" if it does.
func (a Around) old(s Step) string {
	switch {
	case !s.Seen.isKnown():
		return ""
	case s.At.After(a.Now):
		return "it is dated later than now: the clock is in doubt"
	case s.At.Before(a.Opened) && a.Reopened:
		return quantity.Rough(a.Now.Sub(s.At)) + " ago, before the repair that did not hold"
	case s.At.Before(a.Opened):
		return quantity.Rough(a.Now.Sub(s.At)) + " ago, before this defect was opened"
	case a.Fresh > 0 && a.Now.Sub(s.At) > a.Fresh:
		return quantity.Rough(a.Now.Sub(s.At)) + " ago, too long"
	}
	return ""
}

// Found are the suspects that were bad.
func (w Walk) Found() []Suspect {
	return w.which(func(s Suspect) bool { return s.Seen == FoundBad })
}

// Remaining are the suspects that are neither cleared nor found.
func (w Walk) Remaining() []Suspect {
	return w.which(func(s Suspect) bool { return s.Seen != FoundClean && s.Seen != FoundBad })
}

// Cleared are the suspects that were clean.
func (w Walk) Cleared() []Suspect {
	return w.which(func(s Suspect) bool { return s.Seen == FoundClean })
}

// RuledOut is what the clean ones rule out.
func (w Walk) RuledOut() []string {
	var out []string
	for _, s := range w.Cleared() {
		if s.RulesOut != "" && !slices.Contains(out, s.RulesOut) {
			out = append(out, s.RulesOut)
		}
	}
	return out
}

// ForBase are the suspects that wait for a base: those that cannot be looked at at sea, that
// could not be looked at, or whose tools or parts are not there.
func (w Walk) ForBase() []Suspect {
	return slices.DeleteFunc(w.Remaining(), func(s Suspect) bool {
		return s.AtSea && !s.HauledOut && s.Seen != CouldNotLook && s.hasAll()
	})
}

// Find is the name of the look that is meant: by its number on the card, from 1, by its name, or by a part of it that
// no other look has. None is guessed by a near spelling; it is offered.
func (w Walk) Find(typed string) (string, error) {
	typed = strings.ToLower(strings.TrimSpace(typed))
	if n, err := strconv.Atoi(typed); err == nil && n >= 1 && n <= len(w.Suspects) {
		return w.Suspects[n-1].Name, nil
	}
	var has []string
	near, nearest := "", mostMisspelt+1
	for _, s := range w.Suspects {
		name := strings.ToLower(s.Name)
		if name == typed {
			return s.Name, nil
		}
		if typed != "" && strings.Contains(name, typed) {
			has = append(has, s.Name)
		}
		for _, word := range append(strings.Fields(name), name) {
			if d := Distance(typed, word, mostMisspelt); d < nearest && 3*d <= len(typed) {
				near, nearest = s.Name, d
			}
		}
	}
	switch {
	case len(has) == 1:
		return has[0], nil
	case len(has) > 1:
		return "", &quantity.Error{Problem: fmt.Sprintf("%q may be %s", cutTyped(typed), strings.Join(has, " or ")), Cure: "write more of it, or its number"}
	case near != "":
		return "", &quantity.Error{Problem: fmt.Sprintf("no look of this card is called %q", cutTyped(typed)), Cure: fmt.Sprintf("did you mean %q?", near)}
	}
	var list []string
	for i, s := range w.Suspects {
		list = append(list, fmt.Sprintf("%d %s", i+1, s.Name))
	}
	return "", &quantity.Error{Problem: fmt.Sprintf("no look of this card is called %q", cutTyped(typed)), Cure: "its number or name: " + strings.Join(list, "; ")}
}

// mostMisspelt is by how many letters a name, or one word of it, may be off and still be offered; of short ones by a third.
const mostMisspelt = 2

func cutTyped(text string) string {
	if runes := []rune(text); len(runes) > 60 {
		return string(runes[:60]) + "…"
	}
	return text
}

func (w Walk) which(is func(Suspect) bool) []Suspect {
	var list []Suspect
	for _, s := range w.Suspects {
		if is(s) {
			list = append(list, s)
		}
	}
	return list
}

// Next is the next look to take: the first of the card that was not taken and can be taken
// here; one whose tools or parts are not there only when no other is left. ok is false
// where none is.
func (w Walk) Next() (next Suspect, ok bool) {
	open := w.which(func(s Suspect) bool { return s.Seen == NotYet && (s.AtSea || !w.AtSea) && !s.HauledOut })
	if i := slices.IndexFunc(open, Suspect.hasAll); i >= 0 {
		return open[i], true
	}
	if len(open) > 0 {
		return open[0], true
	}
	return Suspect{}, false
}

func (s Suspect) hasAll() bool { return len(s.Short) == 0 && !slices.ContainsFunc(s.Wants, Tool.stops) }

// Stage is how far a walk has come.
type Stage string

// The stages. None of them closes the defect: that takes a repair and its proof.
const (
	Looking     Stage = "looking"
	CauseFound  Stage = "found"
	LeftForBase Stage = "left for the base" // nothing found in what can be looked at here
	NoCause     Stage = "no cause found"    // all looked at, all clean
)

// Stage is how far the walk has come. A cause once found, the rest may still be looked at.
func (w Walk) Stage() Stage {
	if len(w.Found()) > 0 {
		return CauseFound
	}
	if _, more := w.Next(); more {
		return Looking
	}
	if len(w.Remaining()) > 0 {
		return LeftForBase
	}
	return NoCause
}

// Words tells the stage and what it means.
func (w Walk) Words() string {
	switch w.Stage() {
	case CauseFound:
		var found []string
		for _, s := range w.Found() {
			found = append(found, s.finding())
		}
		return "found: " + strings.Join(found, "; ") + ". Found is not mended: repair it, then prove it"
	case Looking:
		next, _ := w.Next()
		return fmt.Sprintf("%d of %d cleared; next: %s", len(w.Cleared()), len(w.Suspects), next.Words())
	case LeftForBase:
		return "nothing found in what can be looked at here. It is not closed; left for the base: " + strings.Join(namesOf(w.Remaining()), ", ")
	}
	return "no cause found: it is not closed; it goes on the list of the base"
}

func (s Suspect) finding() string {
	if s.Means == "" {
		return s.Name
	}
	return s.Name + ": " + s.Means
}

func namesOf(suspects []Suspect) []string {
	names := make([]string, len(suspects))
	for i, s := range suspects {
		names[i] = s.Name
	}
	return names
}

// Where is where the look can be taken: at sea and at anchor, at the next base, or out of the water.
func (l Look) Where() string {
	switch {
	case l.HauledOut:
		return HauledOutWord
	case l.AtSea:
		return "here"
	}
	return "next base"
}

// Words is one line of the look: what, how long, what is in its way, what was said of it before.
func (s Suspect) Words() string {
	said := s.Name
	if s.Takes > 0 {
		said += ", " + quantity.RoughUp(s.Takes)
	}
	for _, more := range append(s.inTheWay(), s.before()) {
		if more != "" {
			said += "; " + more
		}
	}
	return said
}

// inTheWay is what lacks for the look; once open, what has no new gasket may not close.
func (s Suspect) inTheWay() []string {
	var way []string
	for _, tool := range s.Wants {
		way = append(way, fmt.Sprintf("%s is %s", tool.Name, tool.State))
	}
	if len(s.Short) > 0 {
		way = append(way, "not aboard to close it with: "+strings.Join(partWords(s.Short), ", "))
	}
	return way
}

// before is an earlier outcome that does not count.
func (s Suspect) before() string {
	if s.Old == "" {
		return ""
	}
	return fmt.Sprintf("%s, but %s: look again", s.Said.Seen, s.Old)
}
