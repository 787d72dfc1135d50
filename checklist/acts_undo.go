package checklist

import (
	"fmt"
	"strings"
)

// TakenBack is the reason of a correction for which none was told.
const TakenBack = "taken back"

// LastAct is the entry that is taken back next: the last of the page that is open, corrections and what counts as never
// written left out. ok is false where there is none; what a page brought forward belongs to the page before.
func LastAct(entries []Entry) (last Entry, ok bool) {
	struck := Struck(entries)
	for i := len(entries) - 1; i >= 0; i-- {
		e := entries[i]
		switch e.Act.(type) {
		case Carry:
			return Entry{}, false
		case Correct:
			continue
		}
		if !struck[e.Seq] {
			return e, true
		}
	}
	return Entry{}, false
}

// NewTakingBack takes the last act back. by is who does it: another person's act is named, and taken back by its number
// alone. seq is the entry that was meant, where one was shown; 0: the last, whichever it is. It refuses what more
// hangs on than one key, or one word, should undo.
func NewTakingBack(d Definitions, entries []Entry, by string, seq int, why string) (Correct, error) {
	last, is := LastAct(entries)
	switch {
	case !is:
		return Correct{}, refuse("nothing of the open page of the record is left to be taken back", "`hoveshort review --entries` lists the entries; `hoveshort correct 12 REASON` corrects an earlier one")
	case seq > 0 && last.Seq != seq:
		return Correct{}, refuse("meanwhile another act became the last: "+d.ActNamed(last), "look at it; asked again, that one is taken back")
	case seq == 0 && by != last.By && last.By != "":
		return Correct{}, refuse("the last act is another's: "+d.ActNamed(last), fmt.Sprintf("if that is the one: hoveshort correct %d REASON", last.Seq))
	}
	if _, signs := last.Act.(Sign); signs {
		return Correct{}, refuse(d.ActNamed(last)+", stands for ever", "sign again once she is ready; an act before it goes by its number: hoveshort correct 12 REASON, or x on 7 Record")
	}
	if reason := staysFor(last); reason != "" {
		return Correct{}, refuse(d.ActNamed(last)+", "+reason, fmt.Sprintf("if it is wrong all the same: hoveshort correct %d REASON, or x on 7 Record", last.Seq))
	}
	if strings.TrimSpace(why) == "" {
		why = TakenBack
	}
	return NewCorrect(entries, last.Seq, why)
}

// staysFor is why an act is not taken back as the last one; "": it can be. Leaving, coming in and the clock are what
// all that comes after stands on.
func staysFor(e Entry) string {
	switch a := e.Act.(type) {
	case Depart:
		return "is no slip of a key: she would never have left"
	case Arrive:
		if a.Close {
			return "ended the passage"
		}
		return "is no slip of a key: she would be under way again"
	case ClockSettled:
		return "settled the clock: all times since would be in doubt again"
	}
	return ""
}

// ActNamed is an entry as it is named before it is taken back: its number, who wrote it, and its words.
func (d Definitions) ActNamed(e Entry) string {
	by := ""
	if e.By != "" {
		by = " (" + e.By + ")"
	}
	return fmt.Sprintf("entry %d%s, %s", e.Seq, by, d.Words(e.Act))
}
