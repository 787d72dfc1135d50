package main

import (
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

// The forms in which a list is given away. CSV is RFC 4180's.
const (
	asText     = "text"
	asMarkdown = "markdown"
	asCSV      = "csv"
)

var listForms = []string{asText, asMarkdown, asCSV}

// listed is a list to print and take along: with boxes to tick.
type listed struct {
	title string
	heads []string
	rows  [][]string
	foot  []string
	pen   bool // the last column is for a pen
}

// in is the list in one of its forms.
func (l listed) in(form string) (string, error) {
	switch form {
	case asText:
		return l.text(), nil
	case asMarkdown:
		return l.markdown(), nil
	case asCSV:
		return l.csv()
	}
	return "", usage("one of "+strings.Join(listForms, ", "), "there is no list as %q", form)
}

func (l listed) text() string {
	var r report
	l = l.narrowed()
	r.line("%s", l.title)
	var rows [][]string
	if len(l.rows) > 0 {
		rows = append(rows, append([]string{"   "}, l.heads...))
	}
	for _, row := range l.rows {
		rows = append(rows, append([]string{"[ ]"}, row...))
	}
	r.table(false, rows)
	for _, line := range l.foot {
		r.line("%s", line)
	}
	return r.String()
}

// narrowed leaves out the columns in which nothing stands, but for the last, which may be for a pen.
func (l listed) narrowed() listed {
	var keep []int
	for i := range l.heads {
		if i == len(l.heads)-1 && l.pen || slices.ContainsFunc(l.rows, func(row []string) bool { return row[i] != "" }) {
			keep = append(keep, i)
		}
	}
	pick := func(cells []string) (kept []string) {
		for _, i := range keep {
			kept = append(kept, cells[i])
		}
		return kept
	}
	narrow := l
	narrow.heads, narrow.rows = pick(l.heads), nil
	for _, row := range l.rows {
		narrow.rows = append(narrow.rows, pick(row))
	}
	return narrow
}

func (l listed) markdown() string {
	l = l.narrowed()
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n", markdownCell(l.title))
	row := func(cells []string) {
		for _, cell := range cells {
			b.WriteString("| " + markdownCell(cell) + " ")
		}
		b.WriteString("|\n")
	}
	if len(l.rows) > 0 {
		row(l.heads)
		b.WriteString(strings.Repeat("|---", len(l.heads)) + "|\n")
	}
	for _, cells := range l.rows {
		row(cells)
	}
	if len(l.foot) > 0 {
		b.WriteByte('\n')
	}
	for _, line := range l.foot {
		b.WriteString("- " + markdownCell(line) + "\n")
	}
	return b.String()
}

// markdownCell is a text that stays in its cell and means nothing to Markdown.
func markdownCell(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	return strings.NewReplacer(`\`, `\\`, "|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "&lt;", "[", `\[`).Replace(text)
}

// csv is the rows alone, with their heads: sums and words are for people.
func (l listed) csv() (string, error) {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	err := w.WriteAll(append([][]string{l.heads}, l.rows...))
	return b.String(), err
}

// shoppingListed is what to buy: the food, and the other things that are used up.
func shoppingListed(a checklist.Assessment, form string) listed {
	l := listed{title: fmt.Sprintf("%s: to buy for %s", a.Boat, a.Passage)}
	weight := "weight"
	if form == asCSV {
		weight = "weight kg"
	}
	l.heads = []string{"what", "packs", weight, "price", "keeps until", "without the fridge", "stow in"}
	list, food := a.Shopping()
	if food {
		for _, p := range list.Purchases {
			l.rows = append(l.rows, []string{p.Food, strconv.Itoa(p.Packs), weightIn(form, p.Weight, a.Units), money(p.Price, p.Priced), p.Until.String(), p.Warm.String(), p.Place})
		}
		if len(list.Purchases) > 0 {
			l.foot = append(l.foot, fmt.Sprintf("food for %d days, the reserve included: %s to carry%s", list.Days, list.Weight.Up(a.Units), inMoney(list.Price)))
		}
		if list.Short > 0 {
			l.foot = append(l.foot, fmt.Sprintf("%d days are not fed even so: what keeps long enough is not among the rations", list.Short))
		}
	}
	for _, f := range a.Consumables() {
		if f.Packs > 0 {
			l.rows = append(l.rows, []string{f.Consumable.Name, strconv.Itoa(f.Packs), "", money(f.Price, f.Consumable.Priced), "", "", ""})
		}
	}
	if len(l.rows) == 0 {
		l.foot = append(l.foot, "nothing is to be bought")
	}
	if !food {
		l.foot = append(l.foot, "no food: the departure gives none, or none is reckoned")
	}
	if len(list.Unpriced) > 0 {
		l.foot = append(l.foot, "without a price in stores.toml: "+strings.Join(list.Unpriced, ", "))
	}
	return l
}

// weightIn is a weight for people, in a table for programs in kilograms.
func weightIn(form string, m quantity.Mass, units quantity.System) string {
	if form == asCSV {
		return strconv.FormatFloat(float64(m), 'f', 3, 64)
	}
	return m.Up(units)
}

func money(price float64, priced bool) string {
	if !priced {
		return ""
	}
	return fmt.Sprintf("%.2f", price)
}
