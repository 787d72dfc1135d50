package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

func (e engine) view(f facts, s size) string {
	if e.entry.isOpen() {
		return e.entry.view(f, s)
	}
	if e.form.isOpen() {
		return e.form.view(f, s)
	}
	if e.opened.isOpen() {
		return e.opened.view(f, s)
	}
	room := e.room(f, s)
	var lines []string
	switch e.shown {
	case readingView:
		lines = f.look.part(readingLines(f, room), e.scroll, room.h)
	case trendView:
		lines = e.trendLines(f, room)
	case defectsView:
		lines = e.defects(f).view(f.look, room)
	default:
		lines = e.services(f).view(f.look, room)
	}
	lines = append([]string{viewTitles(f.look, engineViewNames, int(e.shown), s.w)}, filled(lines, room.h)...)
	return strings.Join(append(lines, underAll(f, s)...), "\n")
}

// room is what the titles and the lines under all views leave.
func (e engine) room(f facts, s size) size { return size{s.w, max(0, s.h-1-len(underAll(f, s)))} }

// underAll is what holds whatever view is shown: what the bottom costs, and defects that
// cap the revs.
func underAll(f facts, s size) []string {
	l := f.look
	most := 1
	if s.h >= 16 {
		most = 2
	}
	style := l.keys
	if f.engine.bottom.isFoul {
		style = l.caution
	}
	var lines []string
	if f.engine.bottom.words != "" {
		lines = append(lines, short(para(style, "", l.clean(f.engine.bottom.words), s.w), most, l)...)
	}
	for i, text := range f.engine.caps {
		if more := len(f.engine.caps) - i; i >= most && more > 0 {
			return append(lines, l.caution.Render(fmt.Sprintf("and %d more that cap the revs: see 1 Ready", more)))
		}
		lines = append(lines, short(para(l.caution, "", l.clean(text), s.w), most, l)...)
	}
	return lines
}

// readingLines are the latest reading: what it is worth, each gauge beside what is normal,
// and what to know before what to look at. With room for two columns that stands beside.
func readingLines(f facts, s size) []string {
	list, more, beside := columns(s.w)
	if f.engine.Latest == nil {
		return noReading(f, s.w)
	}
	if !beside {
		amiss, usual := amissFirst(f.engine)
		if len(usual) == 0 || len(amiss) == 0 {
			return slices.Concat(readingWorth(f, s.w), gaugeTable(f, f.engine.gauges, s.w), stopLines(f, s.w), readingAdvice(f, s.w))
		}
		return slices.Concat(readingWorth(f, s.w), gaugeTable(f, amiss, s.w), readingAdvice(f, s.w), gaugeTable(f, usual, s.w), stopLines(f, s.w))
	}
	left, right := slices.Concat(readingWorth(f, list), gaugeTable(f, f.engine.gauges, list), stopLines(f, list)), readingAdvice(f, more)
	var lines []string
	for i := range max(len(left), len(right)) {
		line, beside := "", ""
		if i < len(left) {
			line = left[i]
		}
		if i < len(right) {
			beside = right[i]
		}
		lines = append(lines, f.look.pad(line, list)+" "+f.look.side+" "+beside)
	}
	return lines
}

// noReading is what stands where nothing was read yet.
func noReading(f facts, w int) []string {
	l := f.look
	lines := para(l.title, "", "No reading is kept yet.", w)
	lines = append(lines, wrap("a: write down what the gauges say. Any of them serves; with the revs, and how long at them, it is judged at once.", w, 0)...)
	if curve := f.definitions.Boat.Engine.Curve; len(curve) > 0 {
		text := fmt.Sprintf("What is normal is known from %d to %d rpm.", curve[0].RPM, curve[len(curve)-1].RPM)
		lines = append(lines, wrap(text, w, 0)...)
	} else {
		lines = append(lines, wrap("What is normal is not known: boat.toml has no curve. Measure it once, clean and in smooth water.", w, 0)...)
	}
	for _, text := range []string{f.engine.notJudged, f.engine.stops} {
		if text != "" {
			lines = append(lines, wrap(l.clean(text), w, 0)...)
		}
	}
	return append(lines, wrap(deference, w, 0)...)
}

// readingWorth is how bad it is, what it points at, and what must be done at once.
func readingWorth(f facts, w int) []string {
	l, e := f.look, f.engine
	j := e.Judgement
	said := strings.ToUpper(j.Level.String())
	switch j.Signature {
	case "":
	case machinery.SignatureUnclear:
		said += "; where it comes from, the gauges read do not tell"
	default:
		said += "; it points at: " + string(j.Signature)
	}
	lines := para(levelStyle(l, j.Level), "", l.clean(said), w)
	if e.atOnce != "" {
		lines = append(lines, para(levelStyle(l, j.Level), "NOW: ", l.clean(e.atOnce), w)...)
	}
	if f.waiting > 0 {
		lines = append(lines, para(l.caution, "", "not the newest: "+count(f.waiting, "entry is", "entries are")+" not on the disk yet", w)...)
	}
	if e.offered != "" {
		text := fmt.Sprintf("%s: open a defect; the fault card %q fits", keys.NewDefect.Help().Key, e.offered)
		lines = append(lines, para(l.keys, "", l.clean(text), w)...)
	}
	if e.notJudged != "" {
		lines = append(lines, para(l.caution, "", l.clean(e.notJudged), w)...)
	}
	return append(lines, wrap(l.clean(whenRead(f, *e.Latest)), w, 2)...)
}

func levelStyle(l look, level machinery.Level) lipgloss.Style {
	switch {
	case level >= machinery.LevelLimit:
		return l.blocked
	case level == machinery.LevelLook:
		return l.caution
	case level == machinery.LevelNormal:
		return l.good
	}
	return l.keys
}

// whenRead is when, how, and what was noted.
func whenRead(f facts, r checklist.ReadingState) string {
	parts := []string{fmt.Sprintf("Entry %d, %s, %s", r.Seq, r.At.In(f.zone()).Format("Mon 2 Jan 15:04"), ago(f.now, r.At))}
	if revs := revsOf(r.Reading); revs > 0 {
		parts = append(parts, fmt.Sprintf("%d rpm", revs))
	}
	switch {
	case r.Minutes > 0:
		parts = append(parts, fmt.Sprintf("for %g min", r.Minutes))
	default:
		parts = append(parts, "not said for how long")
	}
	if r.Moored {
		parts = append(parts, "not under way")
	}
	if r.Sails != "" {
		parts = append(parts, "sails "+r.Sails)
	}
	if r.Note != "" {
		parts = append(parts, "note: "+r.Note)
	}
	return strings.Join(parts, ", ")
}

// amissFirst parts the gauges where something is to be looked at: those that are amiss
// stand before the advice, the others after it.
func amissFirst(e engineFacts) (amiss, usual []gaugeRow) {
	for _, row := range e.gauges {
		if row.level >= machinery.LevelLook {
			amiss = append(amiss, row)
			continue
		}
		usual = append(usual, row)
	}
	return amiss, usual
}

// gaugeTable is each gauge, what is normal beside it, and what it says: in full where it
// is not normal.
func gaugeTable(f facts, rows []gaugeRow, w int) []string {
	l, widths := f.look, [3]int{14, 10, 15}
	if w < 64 {
		widths = [3]int{13, 9, 10}
	}
	cells := func(name, read, normal string) string {
		return l.pad(l.clean(name), widths[0]) + " " + l.pad(l.clean(read), widths[1]) + " " + l.pad(l.clean(normal), widths[2]) + " "
	}
	title := "normal"
	if revs := revsOf(f.engine.Latest.Reading); revs > 0 && widths[2] >= 15 {
		title = fmt.Sprintf("normal at %d", revs)
	}
	lines := []string{l.title.Render(l.clip(strings.TrimRight(cells("", "read", title), " "), w))}
	for _, row := range rows {
		lines = append(lines, gaugeLines(l, row, cells(row.name, or(row.read, l.dash), or(row.normal, l.dash)), w)...)
	}
	return lines
}

// stopLines are what of the reading cannot be right, and where she must be stopped.
func stopLines(f facts, w int) []string {
	l := f.look
	var lines []string
	for _, wrong := range f.engine.Judgement.Wrong {
		lines = append(lines, para(l.blocked, "not right: ", l.clean(wrong.Error()), w)...)
	}
	if f.engine.stops != "" {
		lines = append(lines, wrap(l.clean(f.engine.stops), w, 2)...)
	}
	return lines
}

func or(text, instead string) string {
	if text == "" {
		return instead
	}
	return text
}

func gaugeLines(l look, row gaugeRow, cells string, w int) []string {
	if len(row.words) == 0 {
		return []string{l.clip(strings.TrimRight(cells, " "), w)}
	}
	style, words := levelStyle(l, row.level), l.clean(strings.Join(row.words, ". "))
	said := row.level.String()
	if row.level != machinery.LevelNormal {
		said = strings.ToUpper(said)
	} else if with := said + ": " + words; lipgloss.Width(cells)+lipgloss.Width(with) <= w {
		said = with
	}
	lines := []string{l.clip(cells+style.Render(said), w)}
	if row.level == machinery.LevelNormal {
		return lines
	}
	return append(lines, para(l.keys, "    ", words, w)...)
}

// readingAdvice is what to know before anything is touched, then what to look at.
func readingAdvice(f facts, w int) []string {
	l, e := f.look, f.engine
	lines := movedLines(f, w)
	if len(e.Judgement.Cautions) > 0 {
		lines = append(lines, l.title.Render(l.clip("Cautions, before any look", w)))
	}
	for _, text := range e.Judgement.Cautions {
		lines = append(lines, para(l.caution, "! ", l.clean(text), w)...)
	}
	if len(e.first) > 0 {
		lines = append(lines, l.title.Render(l.clip("Look first, the quickest and likeliest first", w)))
	}
	for i, text := range e.first {
		lines = append(lines, para(l.keys, fmt.Sprintf("%d ", i+1), l.clean(text), w)...)
	}
	if len(lines) == 0 {
		text := "Nothing to look at by this reading."
		if e.Judgement.Level != machinery.LevelNormal {
			text = "Read again before you rely on it."
		}
		lines = append(lines, para(l.keys, "", text, w)...)
	}
	return append(lines, wrap("Normal is the curve in boat.toml. The maker's manual and a licensed mechanic come before anything said here.", w, 0)...)
}

// movedLines name the gauges of which the trend is worth a look.
func movedLines(f facts, w int) []string {
	var names []string
	for _, t := range f.engine.Trends {
		if t.Level == machinery.LevelLook {
			names = append(names, trendNames[t.Of])
		}
	}
	if len(names) == 0 {
		return nil
	}
	return para(f.look.caution, "", "Moving, see Trend: "+strings.Join(names, ", "), w)
}
