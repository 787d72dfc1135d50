package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

func (g gear) view(f facts, s size) string {
	if g.stowing.isOpen() {
		return g.stowing.view(f, s)
	}
	lines := slices.Concat(g.head(f, s), g.sheet(f, s).view(f.look, g.room(f, s)))
	return strings.Join(lines[:min(len(lines), max(1, s.h))], "\n")
}

// room is what the head leaves to the list.
func (g gear) room(f facts, s size) size { return size{s.w, max(0, s.h-len(g.head(f, s)))} }

// head tells which view it is and what it comes to.
func (g gear) head(f facts, s size) []string {
	l := f.look
	lines := []string{viewTitles(l, gearViewNames, int(g.shown), s.w)}
	if f.waiting > 0 {
		lines = append(lines, l.caution.Render(l.clip("not the newest: "+count(f.waiting, "entry is", "entries are")+" not on the disk yet", s.w)))
	}
	if s.h < 8 {
		return lines
	}
	style, answer := g.answer(f)
	return append(lines, short(para(style, "", l.clean(answer), s.w), max(2, s.h/5), l)...)
}

// answer is what the view that is shown comes to.
func (g gear) answer(f facts) (lipgloss.Style, string) {
	switch g.shown {
	case sparesView:
		return sparesAnswer(f)
	case lockersView:
		return f.look.title, lockersAnswer(f)
	case toolsView:
		return toolsAnswer(f)
	case datedView:
		return datedAnswer(f)
	}
	return wantedAnswer(f)
}

// sheet is the list that is shown.
func (g gear) sheet(f facts, s size) sheet {
	w, _, _ := columns(s.w)
	list := sheet{cursor: g.cursors[g.shown], scroll: g.scroll}
	var none string // what stands where there is no row
	switch g.shown {
	case sparesView:
		list.head, list.rows = spareRows(f, w-2)
		none = "No spare is written in spares.toml."
	case lockersView:
		list.rows = lockerSheet(f, w-2)
		none = "Nothing that has a place is written in the boat's files."
	case toolsView:
		list.rows = toolRows(f, w-2)
		none = "No tool is written in tools.toml, and no service needs one."
	case datedView:
		list.rows = datedRows(f, w-2)
		none = "No gear with an end is written in dated.toml."
	default:
		list.rows = wantedRows(f)
		none = "Nothing is wanted: what counts is enough, for the passage and for the services on it."
	}
	if len(list.rows) == 0 {
		list.head, list.rows = "", []sheetRow{{line: none, style: f.look.keys}}
	}
	return list
}

// ofPassage names a kind of passage.
func ofPassage(k passage.Kind) string {
	named := map[passage.Kind]string{passage.Shift: "a shift of berth", passage.Coastal: "a coastal passage", passage.Offshore: "an offshore passage"}[k]
	return or(named, "this passage")
}

func sparesAnswer(f facts) (lipgloss.Style, string) {
	l, kind := f.look, f.definitions.Plan.Kind
	lacks, critical := 0, 0
	for _, s := range f.gear.aboard.Spares {
		if s.Lacks(kind) > 0 {
			lacks++
			if s.Critical {
				critical++
			}
		}
	}
	switch text := fmt.Sprintf("For %s, %s", ofPassage(kind), count(lacks, "spare LACKS", "spares LACK")); {
	case critical > 0:
		return l.blocked, fmt.Sprintf("%s; %s critical.", text, count(critical, "is", "are"))
	case lacks > 0:
		return l.caution, text + "; none is critical."
	}
	return l.good, fmt.Sprintf("For %s no spare lacks.", ofPassage(kind))
}

// The columns of the spares.
const (
	gearColumn   = 24
	figureColumn = 6
	stateColumn  = 10
)

// spareRows are the spares, in the files' order, with how many count and how many are asked for.
func spareRows(f facts, w int) (head string, rows []sheetRow) {
	l, kind := f.look, f.definitions.Plan.Kind
	cells := func(name, counts, asked, state, where string) string {
		if w < gearColumn+2*figureColumn+stateColumn+4 {
			return l.clean(fmt.Sprintf("%s: %s of %s, %s", name, counts, asked, state))
		}
		line := l.pad(l.clean(name), gearColumn) + " " + l.pad(counts, figureColumn) + " " + l.pad(asked, figureColumn) + " " + l.pad(state, stateColumn)
		return line + " " + l.clean(where)
	}
	for _, s := range f.gear.aboard.Spares {
		asked, state, style := fmt.Sprint(s.Need[kind]), "enough", l.keys
		switch lack := s.Lacks(kind); {
		case lack > 0:
			state, style = fmt.Sprintf("LACKS %d", lack), l.caution
			if s.Critical {
				style = l.blocked
			}
		case s.Need[kind] == 0:
			asked, state = l.dash, "not asked"
		}
		rows = append(rows, sheetRow{
			line:  l.clip(cells(s.Name, fmt.Sprint(s.Counts()), asked, state, whereWords(s)), w),
			brief: strings.TrimRight(cells(s.Name, fmt.Sprint(s.Counts()), asked, state, ""), " "), style: style,
			more: func(width int) []string { return spareLines(f, s, width) },
		})
	}
	if w < gearColumn+2*figureColumn+stateColumn+4 {
		return "  spare: how many count of how many asked for", rows
	}
	return "  " + cells("spare", "counts", "asked", "", "where"), rows
}

// whereWords are the places of a spare, those whose pieces count first.
func whereWords(s machinery.Spare) string {
	var places []string
	for _, lot := range lots(s) {
		if !slices.Contains(places, lot.Place) {
			places = append(places, lot.Place)
		}
	}
	return or(strings.Join(places, "; "), "none aboard")
}

// lot is some of a spare, and why it does not count.
type lot struct {
	machinery.Stowed
	warning string // "": it counts
}

// lots are what lies aboard of a spare, what counts before what does not.
func lots(s machinery.Spare) []lot {
	there := slices.DeleteFunc(slices.Clone(s.Stowed), func(st machinery.Stowed) bool { return st.Count <= 0 })
	var list []lot
	for i, thing := range machinery.SpareThings([]machinery.Spare{s}) {
		if i < len(there) {
			list = append(list, lot{there[i], thing.Warning})
		}
	}
	slices.SortStableFunc(list, func(a, b lot) int { return min(1, len(a.warning)) - min(1, len(b.warning)) })
	return list
}

// spareLines are the details of the selected spare: what lies where before what it is.
func spareLines(f facts, s machinery.Spare, w int) []string {
	l, kind := f.look, f.definitions.Plan.Kind
	var lines []string
	for _, b := range f.assessment.Blockers {
		if b.Matter == checklist.MatterSpare && b.Name == s.Name {
			text := fmt.Sprintf("%s asks for %d, %s", ofPassage(kind), s.Need[kind], howManyCount(s.Counts()))
			lines = append(lines, para(l.blocked, "In the way: ", text, w)...)
		}
	}
	lines = append(lines, lotLines(l, s, w)...)
	lines = append(lines, lentLines(f, s.Name, w)...)
	for _, want := range f.gear.wants {
		if want.Name == s.Name && !want.IsTool {
			lines = append(lines, para(l.caution, "To buy: ", l.clean(buyWords(want)), w)...)
		}
	}
	lines = append(lines, wrap(l.clean(likeWords(s, kind)), w, 2)...)
	return append(lines, usedBy(f, s.Name, func(sv machinery.Service) []string { return sv.Uses }, "used by: ", w)...)
}

func howManyCount(n int) string {
	if n == 0 {
		return "none counts"
	}
	return count(n, "counts", "count")
}

// lotLines are what lies in each place, and whether it counts.
func lotLines(l look, s machinery.Spare, w int) []string {
	var lines []string
	for _, lot := range lots(s) {
		style, ends := l.good, "counts"
		if lot.warning != "" {
			style, ends = l.caution, "DOES NOT COUNT"
		}
		if _, without := partsWithAndWithout(s, lot.Has); lot.warning != "" && (len(without) == 0 || lot.Condition != machinery.New) {
			ends += ", " + lot.warning // what is without a part says so already
		}
		text := fmt.Sprintf("%d %s in %s; fit %s%s: %s", lot.Count, lot.Condition, or(lot.Place, "no place"), or(string(lot.Fit), string(machinery.Unknown)), kitWords(s, lot), ends)
		lines = append(lines, para(style, "", l.clean(text), w)...)
	}
	if len(lines) == 0 {
		lines = append(lines, para(l.caution, "", "None is aboard, by the files and the record.", w)...)
	}
	return lines
}

// kitWords are what of its kit is with it, and what is not.
func kitWords(s machinery.Spare, lot lot) string {
	with, without := partsWithAndWithout(s, lot.Has)
	words := ""
	if len(with) > 0 {
		words += "; with " + strings.Join(with, ", ")
	}
	if len(without) > 0 {
		words += "; WITHOUT " + strings.Join(without, ", ")
	}
	return words
}

func partsWithAndWithout(s machinery.Spare, has []string) (with, without []string) {
	for _, part := range s.With {
		if slices.Contains(has, part) {
			with = append(with, part)
			continue
		}
		without = append(without, part)
	}
	return with, without
}

// lentLines are to whom it was lent, as long as it is away.
func lentLines(f facts, name string, w int) []string {
	acts, _ := lentNow(f, name)
	var lines []string
	for _, act := range acts {
		text := fmt.Sprintf("lent, entry %d, %s: %s", act.Seq, act.At.In(f.zone()).Format(momentLayout), act.Note)
		lines = append(lines, para(f.look.caution, "", f.look.clean(text), w)...)
	}
	return lines
}

// likeWords are what a spare is and how many are asked for.
func likeWords(s machinery.Spare, kind passage.Kind) string {
	words := "Size: " + or(s.Size, "not written") + "."
	if len(s.With) > 0 {
		words += " A kit, counted only whole: with " + strings.Join(s.With, ", ") + "."
	}
	if n := s.Need[kind]; n > 0 {
		words += fmt.Sprintf(" %s asks for %d.", capital(ofPassage(kind)), n)
	}
	if s.Critical {
		words += " Critical: lacking, it stands in the way; of unknown fit it does not count."
	}
	return words
}

func capital(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// usedBy are the services that use or need a thing, the most urgent first.
func usedBy(f facts, name string, of func(machinery.Service) []string, prefix string, w int) []string {
	l := f.look
	var lines []string
	for _, due := range f.gear.forecasts {
		if slices.Contains(of(due.Service), name) {
			lines = append(lines, para(dueStyle(l, due), prefix, l.clean(due.Service.Name+", "+due.Words()), w)...)
		}
	}
	return lines
}

func toolsAnswer(f facts) (lipgloss.Style, string) {
	by := map[machinery.ToolState]int{}
	for _, t := range f.gear.tools {
		by[t.State]++
	}
	text := count(len(f.gear.tools), "tool", "tools")
	bad := 0
	for _, state := range []machinery.ToolState{machinery.Missing, machinery.Seized, machinery.Stiff} {
		if by[state] > 0 {
			text += fmt.Sprintf(", %d %s", by[state], toolWord(state))
		}
		if state != machinery.Stiff {
			bad += by[state]
		}
	}
	if bad > 0 {
		return f.look.caution, text + "."
	}
	return f.look.title, text + "."
}

// toolWord is a state; in capitals where no work can be done with it.
func toolWord(s machinery.ToolState) string {
	switch s {
	case "":
		return string(machinery.Good)
	case machinery.Good, machinery.Stiff:
		return string(s)
	}
	return strings.ToUpper(string(s))
}

func toolRows(f facts, w int) []sheetRow {
	l := f.look
	var rows []sheetRow
	for _, t := range f.gear.tools {
		style := l.keys
		if word := toolWord(t.State); word == strings.ToUpper(word) {
			style = l.caution
		}
		line := l.pad(l.clean(t.Name), gearColumn) + " " + l.pad(toolWord(t.State), 8) + " " + l.clean(toolPlace(f, t))
		if w < gearColumn+figureColumn+stateColumn {
			line = l.clean(t.Name + ": " + toolWord(t.State) + ", " + toolPlace(f, t))
		}
		rows = append(rows, sheetRow{line: l.clip(line, w), style: style, more: func(width int) []string { return toolLines(f, t, width) }})
	}
	return rows
}

func toolPlace(f facts, t machinery.Tool) string {
	if _, listed := f.gear.tool(t.Name); !listed {
		return "not on the list of tools"
	}
	return or(t.Place, "no place is written")
}

func toolLines(f facts, t machinery.Tool, w int) []string {
	l := f.look
	place, style := toolPlace(f, t), l.keys
	if t.State != machinery.Good && t.State != "" {
		style = l.caution
	}
	text := toolWord(t.State) + ", " + place
	if t.State == machinery.Missing && t.Place != "" && !strings.HasPrefix(t.Place, "lent: ") {
		text = "MISSING; its place is " + place
	}
	lines := para(style, "", l.clean(text), w)
	needed := usedBy(f, t.Name, func(s machinery.Service) []string { return s.Tools }, "needed by: ", w)
	if len(needed) == 0 {
		needed = []string{"No service of upkeep.toml needs it."}
	}
	lines = append(lines, needed...)
	if _, listed := f.gear.tool(t.Name); !listed {
		lines = append(lines, wrap("A service needs it and tools.toml does not list it: write it there, then r.", w, 2)...)
	}
	return lines
}

func datedAnswer(f facts) (lipgloss.Style, string) {
	ended, before, critical := 0, 0, false
	for _, d := range f.gear.dated {
		switch {
		case !isAsked(f, d):
			continue
		case d.Ends(f.now.In(f.zone())):
			ended++
		case d.Ends(f.gear.arrive):
			before++
		default:
			continue
		}
		critical = critical || d.Critical
	}
	arrives := "The slow arrival is not known; told as of now"
	if f.gear.isMade {
		arrives = "The slow case arrives " + quantity.DateOf(f.gear.arrive).String()
	}
	style := f.look.good
	switch {
	case critical:
		style = f.look.blocked
	case ended+before > 0:
		style = f.look.caution
	}
	if ended+before == 0 {
		return style, arrives + "; all that is asked for holds until then."
	}
	var words []string
	if ended > 0 {
		words = append(words, count(ended, "is over or has no date", "are over or have no date"))
	}
	if before > 0 {
		words = append(words, count(before, "ends before that", "end before that"))
	}
	return style, arrives + ": " + strings.Join(words, ", ") + "."
}

// isAsked says that dated gear matters on this passage.
func isAsked(f facts, d machinery.Dated) bool {
	return len(d.Only) == 0 || slices.ContainsFunc(d.Only, func(c string) bool { return slices.Contains(f.assessment.Conditions, checklist.Condition(c)) })
}

// datedWord is how it stands, in a word or two.
func datedWord(f facts, d machinery.Dated) (lipgloss.Style, string) {
	l := f.look
	bad := l.caution
	if d.Critical {
		bad = l.blocked
	}
	switch ends := d.Ends(f.gear.arrive); {
	case !isAsked(f, d) && ends:
		return l.keys, "not asked for"
	case d.Until.IsZero():
		return bad, "NO DATE"
	case d.Ends(f.now.In(f.zone())):
		return bad, "OVER"
	case ends:
		return bad, "ENDS BEFORE"
	}
	return l.keys, "holds"
}

func datedRows(f facts, w int) []sheetRow {
	l := f.look
	var rows []sheetRow
	for _, d := range f.gear.dated {
		style, word := datedWord(f, d)
		until := or(d.Until.String(), l.dash)
		line := l.pad(l.clean(d.Name), gearColumn) + " " + l.pad(until, 10) + " " + l.pad(word, 13) + " " + l.clean(or(d.Place, "no place is written"))
		if w < gearColumn+28 {
			line = l.clean(fmt.Sprintf("%s: %s, %s", d.Name, until, word))
		}
		rows = append(rows, sheetRow{line: l.clip(line, w), style: style, more: func(width int) []string { return datedLines(f, d, width) }})
	}
	return rows
}

func datedLines(f facts, d machinery.Dated, w int) []string {
	l := f.look
	var lines []string
	for _, b := range f.assessment.Blockers {
		if b.Matter == checklist.MatterDated && b.Name == d.Name {
			lines = append(lines, para(l.blocked, "In the way: ", l.clean(b.Why), w)...)
		}
	}
	style, _ := datedWord(f, d)
	lines = append(lines, para(style, "", l.clean(untilWords(f, d)+" "+inPlace(d.Place)), w)...)
	asked := "Asked for on every passage."
	if len(d.Only) > 0 {
		asked = "Asked for when: " + strings.Join(d.Only, ", ") + "."
		if !isAsked(f, d) {
			asked += " Not on this passage."
		}
	}
	if d.Critical {
		asked += " Critical: over before the slow arrival, it stands in the way."
	}
	lines = append(lines, wrap(l.clean(asked), w, 2)...)
	return append(lines, wrap("Renewed? Write its new date in dated.toml, then r. The date stamped on it holds, and the maker's and your flag's rules.", w, 2)...)
}

func inPlace(place string) string {
	if place == "" {
		return "Its place is not written."
	}
	return "In " + place + "."
}

// untilWords are when it ends, and how that lies to the slow arrival.
func untilWords(f facts, d machinery.Dated) string {
	if d.Until.IsZero() {
		return "Missing, or its date is not written."
	}
	today := quantity.DateOf(f.now.In(f.zone()))
	if d.Ends(f.now.In(f.zone())) {
		return fmt.Sprintf("Its last day was %s, %s ago.", d.Until, count(d.Until.DaysUntil(today), "day", "days"))
	}
	words := fmt.Sprintf("Its last day is %s", d.Until)
	if !f.gear.isMade {
		return words + "."
	}
	switch n := quantity.DateOf(f.gear.arrive).DaysUntil(d.Until); {
	case n < 0:
		return words + ", " + count(-n, "day", "days") + " before the slow arrival."
	case n == 0:
		return words + ", the day of the slow arrival."
	default:
		return words + ", " + count(n, "day", "days") + " after the slow arrival."
	}
}

func wantedAnswer(f facts) (lipgloss.Style, string) {
	l, critical := f.look, 0
	for _, w := range f.gear.wants {
		if w.Critical {
			critical++
		}
	}
	text := fmt.Sprintf("To be read out, for %s and the services due on it: %s", ofPassage(f.definitions.Plan.Kind), count(len(f.gear.wants), "thing", "things"))
	switch {
	case critical > 0:
		return l.blocked, fmt.Sprintf("%s, %d critical.", text, critical)
	case len(f.gear.wants) > 0:
		return l.caution, text + "."
	}
	return l.good, fmt.Sprintf("For %s and the services due on it nothing is wanted.", ofPassage(f.definitions.Plan.Kind))
}

func wantedRows(f facts) []sheetRow {
	l := f.look
	var rows []sheetRow
	for _, want := range f.gear.wants {
		text, style := strings.Join(want.Aloud(), "; "), l.caution
		if want.Critical {
			text, style = "critical: "+text, l.blocked
		}
		rows = append(rows, sheetRow{line: l.clean(text), style: style, more: func(width int) []string { return wantLines(l, want, width) }})
	}
	return rows
}

func wantLines(l look, want machinery.Want, w int) []string {
	var lines []string
	for _, why := range want.Why {
		lines = append(lines, para(l.keys, "why: ", l.clean(why), w)...)
	}
	for _, aboard := range want.Aboard {
		lines = append(lines, para(l.keys, "aboard, not counted: ", l.clean(aboard), w)...)
	}
	if want.IsTool {
		return append(lines, "A tool: free it, borrow one or buy one.")
	}
	return append(lines, wrap(l.clean("To buy: "+buyWords(want)+". Take the old one along, or its size."), w, 2)...)
}

func buyWords(want machinery.Want) string {
	var list []string
	for _, part := range want.ToBuy() {
		list = append(list, partWords(part))
	}
	return strings.Join(list, ", ")
}
