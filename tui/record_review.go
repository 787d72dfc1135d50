package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
)

// voyages are the passages of the record as screen 7 lists them, and the one that was read last.
type voyages struct {
	sailed []checklist.Sailed // that she left on, oldest first
	last   int                // entry up to which the record was looked through
	pages  int                // entries that it then had

	number    int // of the passage that is held against what came of it; 0: none was read
	review    checklist.PassageReview
	proposals []checklist.Proposal
	wrong     string // why it cannot be read
}

// of looks through the record anew where it has grown; while another screen is shown nothing is looked through.
func (v voyages) of(f facts, isShown bool) voyages {
	pages := f.pages()
	if !isShown || v.pages == len(pages) && v.last == lastSeq(pages) {
		return v
	}
	v.pages, v.last, v.sailed = len(pages), lastSeq(pages), nil
	for _, p := range checklist.Passages(pages) {
		if p.HasLeft() {
			v.sailed = append(v.sailed, p)
		}
	}
	return v
}

// reads asks for a passage; without a reader nothing can be held against it.
func (m Model) reads(number int) (Model, tea.Cmd) {
	m.facts.voyages.number = 0
	if m.settings.Review == nil {
		return m, nil
	}
	return m, readReviewOf(m.settings.Review, number)
}

func (m Model) reviewRead(msg reviewReadMsg) Model {
	v := &m.facts.voyages
	v.number, v.review, v.proposals, v.wrong = msg.number, msg.review, msg.proposals, ""
	if msg.err != nil {
		v.wrong = msg.err.Error()
	}
	return m
}

// passageItems are the passages that she left on, the latest first.
func passageItems(f facts) []recordItem {
	var items []recordItem
	for _, p := range slices.Backward(f.voyages.sailed) {
		d := p.Depart
		entry := checklist.Entry{Seq: d.Seq, At: d.At, By: d.By, Sum: d.Sum, Act: d.Depart}
		items = append(items, recordItem{entry: entry, passage: &p})
	}
	return items
}

// passageLine is a passage in one line.
func passageLine(p checklist.Sailed) string {
	text := p.Depart.At.Format("2 Jan 2006") + ": " + p.Name()
	if p.Arrived == nil {
		text += ", not in yet"
	} else {
		text += ", in " + p.Arrived.Moment().Format(momentLayout)
		if p.Arrived.Place != "" {
			text += " at " + p.Arrived.Place
		}
	}
	if p.Depart.Sign == 0 {
		text += ", LEFT UNSIGNED"
	}
	return text
}

// openSide opens a passage and asks for it to be read.
func (r record) openSide(item recordItem) (screen, []action) {
	r.side, r.scroll = item.passage.Number(), 0
	return r, []action{readReview{r.side}}
}

func (r record) readSide(f facts, p press) record {
	lines := r.sideLines(f, f.page.w)
	most := max(0, len(lines)-f.page.h)
	if scroll, did := moved(p, min(r.scroll, most), most+1, f.page.h*2); did {
		r.scroll = scroll
		return r
	}
	if p.is(keys.Back) || p.is(keys.Leave) || p.is(keys.Enter) {
		r.side = 0
	}
	return r
}

// besideFrom is from which width on planned and actual stand beside each other.
const besideFrom = 72

// sideLines are a passage as it was signed beside as it went, and what the record makes of it.
func (r record) sideLines(f facts, w int) []string {
	v, l := f.voyages, f.look
	switch {
	case v.number != r.side:
		return para(l.keys, "", "the passage is being read", w)
	case v.wrong != "" && !v.review.HasLeft():
		return para(l.blocked, "", l.clean("it cannot be read: "+v.wrong), w)
	}
	lines := para(l.title, "", l.clean(v.review.Name()+": signed against actual"), w)
	if v.wrong != "" {
		lines = append(lines, para(l.caution, "  ", l.clean("The files it was reckoned with are not known any more ("+v.wrong+"): today's tanks serve."), w)...)
	}
	if w >= besideFrom {
		lines = append(lines, beside(l, checklist.SideRow{Planned: "as it was signed", Actual: "as it went"}, w)...)
	}
	for _, row := range v.review.Rows() {
		if w >= besideFrom {
			lines = append(lines, beside(l, row, w)...)
		} else {
			lines = append(lines, under(l, row, w)...)
		}
	}
	for _, part := range v.review.Parts(v.proposals) {
		lines = append(lines, "")
		lines = append(lines, para(l.title, "", l.clean(part.Title), w)...)
		for _, line := range part.Lines {
			lines = append(lines, partLine(l, line, w)...)
		}
	}
	return lines
}

// partLine keeps a line that is to be put into a file as it stands.
func partLine(l look, line string, w int) []string {
	if asIs, is := strings.CutPrefix(line, "    "); is {
		return []string{"    " + l.keys.Render(l.clip(l.clean(asIs), w-4))}
	}
	return para(l.keys, "  ", l.clean(line), w)
}

// beside draws a row in two columns: planned and actual.
func beside(l look, row checklist.SideRow, w int) []string {
	const name = 9
	each := (w - name - 2) / 2
	planned, actual := wrap(l.clean(row.Planned), each, 0), wrap(l.clean(row.Actual), each, 0)
	var lines []string
	for i := range max(len(planned), len(actual)) {
		label := ""
		if i == 0 {
			label = row.Name
		}
		lines = append(lines, strings.TrimRight(l.title.Render(l.pad(l.clip(label, name-1), name))+l.pad(lineAt(planned, i), each+2)+lineAt(actual, i), " "))
	}
	return lines
}

// under draws a row in one column.
func under(l look, row checklist.SideRow, w int) []string {
	lines := para(l.title, "", l.clean(row.Name), w)
	lines = append(lines, para(l.keys, "  ", l.clean(fmt.Sprintf("planned %s", row.Planned)), w)...)
	return append(lines, para(l.keys, "  ", l.clean("actual "+row.Actual), w)...)
}

func lineAt(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}
