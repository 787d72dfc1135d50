package main

import (
	"errors"
	"fmt"
	"strconv"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"
	"boat/hoveshort/config/record"
)

// headingJSON is a passage in the list, for other programs.
type headingJSON struct {
	Entry    int        `json:"entry"` // what `review` takes: of the sign-off, or of the departure
	Passage  string     `json:"passage"`
	From     string     `json:"from"`
	To       string     `json:"to"`
	Signed   *int       `json:"signed"`
	Name     string     `json:"name"`
	Departed *time.Time `json:"departed"` // null: signed, and never left
	Arrived  *time.Time `json:"arrived"`
	Place    string     `json:"place"`
	Unsigned bool       `json:"unsigned"`
	Closed   bool       `json:"closed"`
	Entries  int        `json:"entries"`
	Sum      string     `json:"sum"` // its first eight digits
}

func headingOf(h record.Heading) headingJSON {
	told := headingJSON{
		Entry: h.Number(), Passage: h.Passage, From: h.From, To: h.To, Name: h.Name, Place: h.Place, Unsigned: h.Unsigned, Closed: h.Closed,
		Entries: h.Entries, Sum: fmt.Sprintf("%.8s", h.Sum), Departed: orNone(h.DepartAt), Arrived: orNone(h.ArrivedAt),
	}
	if h.Sign > 0 {
		told.Signed = &h.Sign
	}
	return told
}

func orNone(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}

// listPassages lists the passages, and what was signed and never left, read lazily.
func (c *call) listPassages(store *record.Store, p place, opts reviewOptions) error {
	index, err := store.Passages(record.Wanted{Words: record.Words(opts.find), Year: opts.year, Until: p.until})
	if err != nil {
		return coded(exitUnreadable, "", err)
	}
	c.tellFaults(index.Faults)
	passages, signed := []headingJSON{}, []signedJSON{}
	var r report
	for _, h := range index.Passages {
		if !h.Found {
			continue
		}
		passages = append(passages, headingOf(h))
		if h.Sign > 0 {
			signed = append(signed, signedJSON{h.Sign, h.SignedAt, h.Name, h.Passage, h.Leaves, fmt.Sprintf("%.8s", h.Sum)})
		}
		r.hang("", "    ", headingWords(h))
	}
	if opts.json {
		return c.encode(struct {
			Format   int           `json:"format"`
			Signed   []signedJSON  `json:"signed"`
			Passages []headingJSON `json:"passages"`
			Entries  int           `json:"entries"`
		}{1, signed, passages, index.Entries})
	}
	if len(passages) == 0 {
		r.line("%s", noneListed(opts))
	}
	c.text.WriteString(r.String())
	return nil
}

func noneListed(opts reviewOptions) string {
	if opts.find != "" || opts.year != 0 {
		return "no passage was found; `hoveshort review` lists them all"
	}
	return "nothing was signed yet; `hoveshort review --entries` lists the entries"
}

// tellFaults says what is the matter with the record, one line a fault; of many only the first few.
func (c *call) tellFaults(faults []record.Fault) {
	const most = 5
	for i, f := range faults {
		if i == most {
			c.say("hoveshort: and %d more; `hoveshort verify` shows them", len(faults)-most)
			return
		}
		c.say("hoveshort: %s; the rest of the record is told", f)
	}
}

func headingWords(h record.Heading) string {
	text := fmt.Sprintf("entry %d, ", h.Number())
	if h.Sign > 0 {
		text += fmt.Sprintf("%s, by %s: %s, digits %.8s", h.SignedAt.Format(longMoment), h.Name, h.Passage, h.Sum)
	} else {
		text += fmt.Sprintf("%s, LEFT UNSIGNED: %s, digits %.8s", h.DepartAt.Format(longMoment), h.Passage, h.Sum)
	}
	switch {
	case h.Depart == 0:
		return text + "; did not leave on it"
	case h.ArrivedAt.IsZero():
		return text + fmt.Sprintf("; left %s, not in yet", h.DepartAt.Format(shortMoment))
	}
	text += fmt.Sprintf("; left %s, in at %s %s", h.DepartAt.Format(shortMoment), orDash(h.Place), h.ArrivedAt.Format(shortMoment))
	if !h.Closed {
		text += ", not closed"
	}
	return text
}

// findPassage is the passage that an entry's number, or `last`, means: its sign-off or its departure.
func findPassage(index record.Index, which string) (record.Heading, error) {
	if which == "last" {
		if len(index.Passages) == 0 {
			return record.Heading{}, &problem{code: exitRefused, says: "nothing was signed yet"}
		}
		return index.Passages[len(index.Passages)-1], nil
	}
	seq, err := strconv.Atoi(which)
	if err != nil {
		return record.Heading{}, usage("write its number, or last", "%q is no number of an entry", which)
	}
	for _, h := range index.Passages {
		if seq > 0 && (h.Sign == seq || h.Depart == seq) {
			return h, nil
		}
	}
	return record.Heading{}, &problem{code: exitRefused, says: fmt.Sprintf("entry %d is no sign-off and no departure", seq), hint: "`hoveshort review` lists them"}
}

// passageAt reads a passage and the files it was reckoned with. The files of another day serve for the tanks alone,
// and that they do is told.
func passageAt(store *record.Store, h record.Heading, until *time.Time) (checklist.PassageReview, error) {
	loaded, err := store.Read(h.First, h.Last)
	if err != nil {
		return checklist.PassageReview{}, err
	}
	entries := loaded.Entries
	if until != nil {
		entries = notAfter(entries, *until)
	}
	for _, p := range checklist.Passages(entries) {
		if p.Has(h.Number()) || h.Depart > 0 && p.Has(h.Depart) {
			d, err := keptDefinitions(store, p.Definitions())
			return checklist.ReviewPassage(d, p), err
		}
	}
	return checklist.PassageReview{}, fmt.Errorf("entry %d cannot be read; `hoveshort verify` shows why", h.Number())
}

var errNoneKept = errors.New("no definitions were kept with it")

// keptDefinitions are the files as they were kept at a sign-off or a departure. They bear the sum they were asked by.
func keptDefinitions(store *record.Store, sum string) (checklist.Definitions, error) {
	if sum == "" {
		return checklist.Definitions{}, errNoneKept
	}
	text, err := store.Definitions(sum)
	if err != nil {
		return checklist.Definitions{}, err
	}
	folder, err := config.LoadBundle(text)
	if err != nil {
		return checklist.Definitions{}, fmt.Errorf("the definitions that were kept: %w", err)
	}
	folder.Definitions.Sum = sum
	return folder.Definitions, nil
}

func notAfter(entries []checklist.Entry, until time.Time) []checklist.Entry {
	var list []checklist.Entry
	for _, e := range entries {
		if !e.At.After(until) {
			list = append(list, e)
		}
	}
	return list
}
