package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

// actOptions are the flags that every command has that writes an entry.
type actOptions struct{ json bool }

func (o *actOptions) flags(f *pflag.FlagSet) {
	f.BoolVar(&o.json, "json", false, "print what was written as JSON")
}

// act opens the boat, appends what decide makes of her, and tells what came of it.
func (c *call) act(opts actOptions, decide decision) error {
	a, err := c.aboard()
	if err != nil {
		return err
	}
	return c.actOn(a, opts, decide)
}

func (c *call) actOn(a *aboard, opts actOptions, decide decision) error {
	w, err := a.append(decide)
	if err != nil {
		return err
	}
	c.tell(w.notices)
	return c.wrote(w, opts.json)
}

// wroteJSON is what an act came to, for other programs.
type wroteJSON struct {
	Format   int       `json:"format"`
	Entry    entryJSON `json:"entry"`
	Ready    bool      `json:"ready"`
	Blockers int       `json:"blockers"`
	Before   int       `json:"blockers_before"`
}

// entryJSON is one entry of the record.
type entryJSON struct {
	Seq       int            `json:"seq"`
	At        time.Time      `json:"at"`
	Kind      checklist.Kind `json:"kind"`
	By        string         `json:"by,omitempty"`
	Text      string         `json:"text"`
	Corrected bool           `json:"corrected"`
}

// wrote tells the entry that was written, and what it changed.
func (c *call) wrote(w written, asJSON bool) error {
	before, after := w.before.assess(), w.assess()
	text := w.definitions.Words(w.entry.Act)
	if asJSON {
		return c.encode(wroteJSON{
			Format: 1, Entry: entryJSON{w.entry.Seq, w.entry.At, w.entry.Act.Kind(), w.entry.By, text, false},
			Ready: after.Ready, Blockers: len(after.Blockers), Before: len(before.Blockers),
		})
	}
	// A line each, however long: scripts look for them.
	_, _ = fmt.Fprintf(&c.text, "entry %d: %s\n", w.entry.Seq, text)
	if _, reads := w.entry.Act.(checklist.Reading); reads {
		c.text.WriteString(judgedText(w) + offerText(w))
	}
	switch w.entry.Act.(type) {
	case checklist.Depart, checklist.Change:
		c.text.WriteString(wayText(after))
	}
	for _, change := range changes(w.entry.Act, before, after) {
		c.text.WriteString(change + "\n")
	}
	if doubt := w.state.Clock.Doubt; doubt != "" {
		c.text.WriteString(doubt + ": this entry's time is in doubt; settle it with: hoveshort clock REASON\n")
	}
	return nil
}

// changes is what an act changed, in sentences.
func changes(act checklist.Act, before, after checklist.Assessment) []string {
	var told []string
	if answer, is := act.(checklist.Answer); is && answer.Value != nil {
		if view, known := after.Check(answer.Check); known && view.Why != "" {
			told = append(told, fmt.Sprintf("%s: %s", view.ID, view.Why))
		}
	}
	if event, is := act.(checklist.Event); is {
		told = append(told, askedAgain(event, before, after))
	}
	told = append(told, defectChanges(before, after)...)
	if after.Way != nil { // nothing is asked before leaving any more
		return told
	}
	for _, caution := range after.Cautions {
		if !slices.ContainsFunc(before.Cautions, func(b checklist.Caution) bool { return b.ID() == caution.ID() }) {
			told = append(told, fmt.Sprintf("a caution wants a reason: %s", caution.ID()))
		}
	}
	told = append(told, inTheWay(len(before.Blockers), len(after.Blockers)))
	if before.SignOff.InForce && !after.SignOff.InForce {
		told = append(told, "the sign-off lapsed: "+after.SignOff.Lapsed)
	}
	return told
}

// askedAgain is which answers an event voided.
func askedAgain(event checklist.Event, before, after checklist.Assessment) string {
	var ids []string
	for _, round := range after.Rounds {
		for _, section := range round.Sections {
			for _, v := range section.Checks {
				if was, known := before.Check(v.ID); known && v.Status == checklist.StatusVoid && was.Status != v.Status {
					ids = append(ids, v.ID)
				}
			}
		}
	}
	if len(ids) == 0 {
		return event.What + ": no answer is void by it"
	}
	return event.What + ": to be answered again: " + strings.Join(ids, ", ")
}

func inTheWay(before, after int) string {
	switch {
	case after == 0:
		return "nothing stands in the way"
	case before == after:
		return fmt.Sprintf("stands in the way: %d", after)
	}
	return fmt.Sprintf("stands in the way: %d (before: %d)", after, before)
}

// splitName parts words into a name that is known and the rest: "port water 62 %". The
// longest name that is known wins; ok is false where none is.
func splitName(words []string, known func(string) bool) (name, rest string, ok bool) {
	for i := len(words) - 1; i > 0; i-- {
		if head := strings.Join(words[:i], " "); known(head) {
			return head, strings.Join(words[i:], " "), true
		}
	}
	return "", "", false
}

// splitAmount parts words where no name is known: the amount is the longest tail that can
// be read as one.
func splitAmount(words []string) (name, amount string) {
	for i := 1; i < len(words); i++ {
		tail := strings.Join(words[i:], " ")
		if _, err := quantity.ParseAny(tail); err == nil || tail == checklist.Full {
			return strings.Join(words[:i], " "), tail
		}
	}
	return strings.Join(words[:len(words)-1], " "), words[len(words)-1]
}

// tankAndAmount parts "port water 62 %" into the tank and the level or amount.
func tankAndAmount(d checklist.Definitions, words []string) (tank, amount string) {
	isTank := func(name string) bool { _, known := d.Tank(name); return known }
	if tank, amount, ok := splitName(words, isTank); ok {
		return tank, amount
	}
	return splitAmount(words)
}
