package checklist

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode"
)

// The functions New… of this package make acts out of what a skipper typed.
// Commands and screens both call them; what they refuse is never written.

// longestText is how many characters a text of the skipper's may have.
const longestText = 1000

// checkText refuses what a text may not hold: control and bidi characters, too much.
func checkText(what, text string) error {
	if len([]rune(text)) > longestText {
		return refuse(fmt.Sprintf("the %s is longer than %d characters", what, longestText), "say it shorter")
	}
	for _, r := range text {
		if Refused(r) || r == unicode.ReplacementChar {
			return refuse(fmt.Sprintf("the %s holds a control character", what), "leave it out")
		}
	}
	return nil
}

// Refused says that no text of a file or of the skipper may hold r: a control character
// (Unicode Cc), or one that turns the direction of writing, so that a line can show other
// than it is.
func Refused(r rune) bool {
	return unicode.IsControl(r) || r == 0x061C || r == 0x200E || r == 0x200F || 0x202A <= r && r <= 0x202E || 0x2066 <= r && r <= 0x2069
}

// unknown is a name that stands for nothing, with the nearest that does.
func unknown(what, name string, names []string) error {
	slices.Sort(names)
	if near := Nearest(name, names); near != "" {
		return refuse(fmt.Sprintf("no %s is called %q", what, clip(name)), fmt.Sprintf("did you mean %q?", near))
	}
	return refuse(fmt.Sprintf("no %s is called %q", what, clip(name)), "one of: "+strings.Join(names, ", "))
}

// NewEvent is something that happened. An event that voids no check is kept all the
// same; one that is nearly the name of one that does is asked back.
func (d Definitions) NewEvent(what string) (Event, error) {
	what = strings.TrimSpace(what)
	if what == "" {
		return Event{}, refuse("nothing was named", "say what happened: one of "+strings.Join(d.EventNames(), ", "))
	}
	if err := checkText("event", what); err != nil {
		return Event{}, err
	}
	names := d.EventNames()
	if slices.Contains(names, what) {
		return Event{What: what}, nil
	}
	if near := Nearest(what, names); near != "" {
		return Event{}, refuse(fmt.Sprintf("no check knows the event %q", what), fmt.Sprintf("did you mean %q?", near))
	}
	return Event{What: what}, nil
}

// EventNames are the events that void an answer somewhere.
func (d Definitions) EventNames() []string {
	names := map[string]bool{}
	for _, r := range d.Rounds {
		for _, s := range r.Sections {
			for _, c := range s.Checks {
				for _, what := range c.VoidBy {
					names[what] = true
				}
			}
		}
	}
	return slices.Sorted(maps.Keys(names))
}

// NewAccept is a caution accepted for the next sign-off; id may be its name alone
// where only one caution has it.
func (a Assessment) NewAccept(id, why string) (Accept, error) {
	why = strings.TrimSpace(why)
	var ids []string
	var found []Caution
	for _, c := range a.Cautions {
		ids = append(ids, c.ID())
		if c.ID() == id || c.Name == id {
			found = append(found, c)
		}
	}
	switch {
	case len(ids) == 0:
		return Accept{}, refuse("there is no caution to accept", "nothing needs a reason now")
	case len(found) == 0:
		return Accept{}, unknown("caution", id, ids)
	case len(found) > 1:
		return Accept{}, refuse(fmt.Sprintf("%q is the name of %d cautions", id, len(found)), "write the whole: "+found[0].ID())
	case why == "":
		return Accept{}, refuse("a caution is accepted with a reason", "say why, in your own words")
	}
	accept := Accept{Caution: found[0].ID(), Why: why, Said: found[0].told()}
	return accept, checkText("reason", why)
}

// NewCorrect takes an entry as never written. What a page brought forward and a
// sign-off stay as they are.
func NewCorrect(entries []Entry, of int, why string) (Correct, error) {
	why = strings.TrimSpace(why)
	target, found := find(entries, of)
	if !found {
		return Correct{}, refuse(fmt.Sprintf("there is no entry %d", of), "`hoveshort review --entries` lists them")
	}
	if why == "" {
		return Correct{}, refuse("a correction has a reason", "say why, in a few words")
	}
	switch target.Act.(type) {
	case Carry:
		return Correct{}, refuse(fmt.Sprintf("entry %d is what a page brought forward", of), "correct the entry itself")
	case Sign:
		return Correct{}, refuse(fmt.Sprintf("entry %d is a sign-off, which stands for ever", of), "sign again once she is ready")
	}
	return Correct{Of: of, Why: why}, checkText("reason", why)
}

// find is the entry of a number, be it brought forward by a page.
func find(entries []Entry, seq int) (Entry, bool) {
	for _, e := range entries {
		if e.Seq == seq {
			return e, true
		}
		if carry, is := e.Act.(Carry); is {
			if kept, found := find(carry.Kept, seq); found {
				return kept, true
			}
		}
	}
	return Entry{}, false
}

// NewClockSettled says that the clock is right from now on; it is refused while there
// is nothing to settle.
func (s State) NewClockSettled(now time.Time, why string) (ClockSettled, error) {
	if s.Clock.Doubt == "" && s.Clock.doubts(now) == "" {
		return ClockSettled{}, refuse("the clock is not in doubt", "nothing needs settling")
	}
	return ClockSettled{Why: strings.TrimSpace(why)}, checkText("reason", why)
}

// clip cuts what was typed for a message.
func clip(text string) string {
	if runes := []rune(text); len(runes) > 60 {
		return string(runes[:60]) + "…"
	}
	return text
}
