package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

// checkJSON is a check as it stands, for other programs.
type checkJSON struct {
	ID        string           `json:"id"`
	Round     string           `json:"round"`
	Section   string           `json:"section"`
	Ask       string           `json:"ask"`
	Right     string           `json:"right"`
	Applies   bool             `json:"applies"`
	Critical  bool             `json:"critical"`
	Automatic bool             `json:"automatic"`
	Status    checklist.Status `json:"status"`
	Why       string           `json:"why"`
	Say       string           `json:"say"`
	Value     *quantity.Any    `json:"value"`
	Limits    string           `json:"limits"`
	Answered  *time.Time       `json:"answered"`
	GoodUntil *time.Time       `json:"good_until"`
	Source    string           `json:"source"`
}

// runCheckList lists the checks as they stand, or reads one out.
func runCheckList(c *call, opts checkOptions, words []string) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	assessment := m.assess()
	if len(words) == 1 {
		return c.readOut(m, assessment, words[0], opts.json)
	}
	if opts.json {
		return c.encode(struct {
			Format int         `json:"format"`
			Now    time.Time   `json:"now"`
			Checks []checkJSON `json:"checks"`
		}{1, m.now, checksJSON(m.definitions, assessment)})
	}
	c.text.WriteString(checksText(assessment))
	return nil
}

func (c *call) readOut(m moment, a checklist.Assessment, id string, asJSON bool) error {
	view, known := a.Check(id)
	if !known {
		_, err := m.definitions.NewAnswer(a, checklist.AnswerInput{Check: id}) // says what is meant
		return err
	}
	if asJSON {
		return c.encode(checkOf(m.definitions, view))
	}
	c.text.WriteString(checkText(m.definitions, view))
	return nil
}

func checksJSON(d checklist.Definitions, a checklist.Assessment) []checkJSON {
	list := []checkJSON{}
	for _, r := range a.Rounds {
		for _, s := range r.Sections {
			for _, view := range s.Checks {
				list = append(list, checkOf(d, view))
			}
		}
	}
	return list
}

func checkOf(d checklist.Definitions, v checklist.CheckView) checkJSON {
	told := checkJSON{
		ID: v.ID, Round: v.Round, Section: v.Section, Ask: v.Ask, Right: v.Right, Applies: v.Applies, Critical: v.IsCritical,
		Automatic: v.Automatic != nil, Status: v.Status, Why: v.Why, Source: v.Source,
	}
	if v.Reading != nil {
		told.Limits = d.Limits(*v.Reading)
	}
	if v.Answer != nil {
		told.Say, told.Value, told.Answered = v.Answer.Say, v.Answer.Value, &v.Answer.At
	}
	if !v.GoodUntil.IsZero() {
		told.GoodUntil = &v.GoodUntil
	}
	return told
}

// purposes say what a round is walked for.
var purposes = map[checklist.Purpose]string{
	checklist.ForSign: "before signing", checklist.ForWeigh: "at weighing", checklist.ForUnderWay: "under way",
	checklist.ForArrival: "on arrival", checklist.ForAny: "at any time",
}

func checksText(a checklist.Assessment) string {
	var r report
	for i, round := range a.Rounds {
		if i > 0 {
			r.WriteByte('\n')
		}
		r.line("%s, %s", strings.ToUpper(round.Name), purposes[round.For])
		for _, section := range round.Sections {
			closed := ""
			if section.Closed != nil {
				closed = ", done"
			}
			r.line("%s (%s)%s", section.Name, section.Mode, closed)
			r.table(false, cutLast(checkRows(section.Checks)))
		}
	}
	r.line("A check is read out with: hoveshort check ID")
	return r.String()
}

func checkRows(checks []checklist.CheckView) [][]string {
	var rows [][]string
	for _, v := range checks {
		if v.Applies {
			rows = append(rows, []string{v.ID, weight(v), v.Status.Words(), v.Ask})
		}
	}
	return rows
}

func weight(v checklist.CheckView) string {
	switch {
	case v.Automatic != nil && v.IsCritical:
		return "critical, by itself"
	case v.Automatic != nil:
		return "by itself"
	case v.IsCritical:
		return "critical"
	}
	return ""
}

// cutLast shortens the last column to what the line has left for it.
func cutLast(rows [][]string) [][]string {
	taken := 2
	for i := range 3 {
		widest := 0
		for _, row := range rows {
			widest = max(widest, ansi.StringWidth(row[i]))
		}
		taken += widest + 2
	}
	for _, row := range rows {
		row[3] = cut(row[3], max(8, width-taken))
	}
	return rows
}

// cut shortens a text to n characters.
func cut(text string, n int) string {
	if runes := []rune(text); len(runes) > n {
		return strings.TrimRight(string(runes[:n-3]), " ,") + "..."
	}
	return text
}

// checkText is one check read out.
func checkText(d checklist.Definitions, v checklist.CheckView) string {
	var r report
	r.line("%s: %s", v.ID, v.Ask)
	r.hang("  right: ", "    ", v.Right)
	for _, part := range []struct{ name, text string }{
		{"caution", v.Caution}, {"say what was seen", v.Say}, {"comes after", strings.Join(v.After, ", ")},
		{"asked again after", strings.Join(v.VoidBy, ", ")},
		{"good for", v.GoodFor.String()}, {"source", v.Source},
	} {
		if part.text != "" {
			r.hang("  "+part.name+": ", "    ", part.text)
		}
	}
	if v.Reading != nil {
		r.line("  a reading of %s: %s", v.Reading.Of, d.Limits(*v.Reading))
	}
	if kind := weight(v); kind != "" {
		r.hang("  ", "    ", kind)
	}
	r.hang("  in ", "    ", fmt.Sprintf("%s, %s", v.Section, v.Round))
	r.hang("  now: ", "    ", statusWords(v))
	return r.String()
}

func statusWords(v checklist.CheckView) string {
	text := v.Status.Words()
	if v.Why != "" && v.Why != text {
		text += ": " + v.Why
	}
	if v.Answer != nil {
		text += ", answered " + v.Answer.At.Format(longMoment)
	}
	if !v.GoodUntil.IsZero() {
		text += ", good until " + v.GoodUntil.Format(shortMoment)
	}
	return text
}
