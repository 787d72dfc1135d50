package tui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// trying asks what is to be changed of the passage, to see what would come of it.
type trying struct {
	open   bool
	cursor int
	asked  question
}

// askTry is the question for a new value.
const askTry = "try"

func (trying) begin() trying { return trying{open: true} }

func (t trying) isOpen() bool { return t.open }

func (t trying) update(f facts, p press) (trying, []action) {
	if t.asked.isOpen() {
		return t.answer(f, p)
	}
	if cursor, did := moved(p, t.cursor, len(checklist.TrialKeys), f.page.h); did {
		t.cursor = cursor
		return t, nil
	}
	key := t.key()
	switch {
	case p.is(keys.Leave), p.is(keys.Back):
		return trying{}, nil
	case p.is(keys.TakeBack) && isTried(f, key):
		return t, []action{tryOut{key + " ="}}
	case !p.is(keys.Enter) || whyNotTried(f, key) != "":
		return t, nil
	case key == watermakerKey:
		return trying{}, []action{tryOut{key + " = off"}}
	}
	t.asked = ask(askTry, t.question(f)...)
	return t, nil
}

// takeBackLast takes back the last change of those that are tried. Stops are only taken
// back all at once: from the first on, all but the last change are made again.
func takeBackLast(words []string) []action {
	n := len(words) - 1
	last := words[n]
	name, _, _ := strings.Cut(last, " = ")
	actions := []action{tryOut{name + " ="}}
	if name == stopKey {
		for _, change := range words[slices.IndexFunc(words, isStop):n] {
			actions = append(actions, tryOut{change})
		}
	}
	return append(actions, say{"no longer tried: " + last})
}

// stopKey is the one key of which several changes may be tried at once.
const stopKey = "stop"

func isStop(words string) bool { return keyOf(words) == stopKey }

// watermakerKey is the one key that has one value alone, so that none is asked for.
const watermakerKey = "watermaker"

func (t trying) key() string {
	return checklist.TrialKeys[within(t.cursor, len(checklist.TrialKeys))].Key
}

func (t trying) question(f facts) []string {
	k := checklist.TrialKeys[within(t.cursor, len(checklist.TrialKeys))]
	lines := []string{fmt.Sprintf("%s: %s. As planned: %s.", k.Key, k.Means, plannedWords(f, k.Key))}
	write := fmt.Sprintf("Write it like %q.", k.Value)
	if legs := len(f.definitions.Plan.Legs); isPerLeg(k.Key) && legs > 1 {
		write = fmt.Sprintf("Write it like %q; for one leg, as planned 1 to %d, like %q.", k.Value, legs, k.Key+".2 = "+k.Value)
	}
	return append(lines, write)
}

func isPerLeg(key string) bool { return key == "sail" || key == "rpm" || key == "current" }

// answer takes the value that is typed; a whole change, "sail.2 = 4 kn", is taken as it is.
func (t trying) answer(f facts, p press) (trying, []action) {
	next, text, sent := t.asked.update(p)
	if !sent {
		t.asked = next
		return t, nil
	}
	change := text
	if !strings.Contains(text, "=") {
		change = t.key() + " = " + text
	}
	if _, err := f.prospect.trial.With(change, f.definitions, f.now); err != nil {
		t.asked = next.refused(err)
		return t, nil
	}
	return trying{}, []action{tryOut{change}}
}

func isTried(f facts, key string) bool {
	return slices.ContainsFunc(f.prospect.trial.Words(), func(words string) bool { return keyOf(words) == key })
}

// keyOf is the key of a change in words, without its leg.
func keyOf(words string) string {
	key, _, _ := strings.Cut(words, " ")
	key, _, _ = strings.Cut(key, ".")
	return key
}

var errNoWatermaker = errors.New("there is no watermaker to put off")

// whyNotTried is why a key cannot be changed; "" if it can.
func whyNotTried(f facts, key string) string {
	if key == watermakerKey && f.definitions.Boat.Watermaker == nil {
		return errNoWatermaker.Error()
	}
	return ""
}

// plannedWords is how a key stands as planned.
func plannedWords(f facts, key string) string {
	d, units := f.definitions, f.assessment.Units
	each := func(words func(passage.Leg) string) string {
		var list []string
		for _, leg := range d.Plan.Legs {
			list = append(list, words(leg))
		}
		return strings.Join(slices.Compact(list), ", ")
	}
	switch key {
	case "crew":
		return fmt.Sprint(d.Plan.Crew)
	case "depart":
		return f.assessment.Reckoning.Depart.In(f.zone()).Format("Mon 2 Jan 15:04")
	case "sail":
		return each(func(leg passage.Leg) string { return leg.Sail.In(units) })
	case "rpm":
		return each(func(leg passage.Leg) string { return fmt.Sprint(legRPM(prospect{definitions: d}, leg)) })
	case "current":
		return each(func(leg passage.Leg) string { return leg.Current.In(units) })
	case watermakerKey:
		return watermakerWords(d, units)
	}
	var stops []string
	for _, leg := range d.Plan.Legs[:max(0, len(d.Plan.Legs)-1)] {
		stops = append(stops, leg.To)
	}
	if len(stops) == 0 {
		return "none"
	}
	return strings.Join(stops, ", ")
}

func watermakerWords(d checklist.Definitions, units quantity.System) string {
	w := d.Boat.Watermaker
	if w == nil {
		return "none aboard"
	}
	return fmt.Sprintf("%s for %s a day", w.Output.In(units), quantity.Rough(w.Run))
}

func (t trying) view(f facts, s size) string {
	l := f.look
	head := para(l.title, "", "What is to be changed? It is for trying alone, and nothing is written.", s.w)
	lines, focus, end := t.list(f, s.w)
	if t.asked.isOpen() {
		return strings.Join(t.asked.under(f, append(head, lines[focus:end]...), s), "\n")
	}
	return strings.Join(append(head, l.window(lines, focus, end, max(0, s.h-len(head)))...), "\n")
}

func (t trying) list(f facts, w int) (lines []string, focus, end int) {
	l := f.look
	for i, k := range checklist.TrialKeys {
		from := len(lines)
		text := l.pad(k.Key, 12) + l.clean(standsAt(f, k.Key))
		if i != within(t.cursor, len(checklist.TrialKeys)) {
			lines = append(lines, "  "+l.clip(text, w-2))
			continue
		}
		lines = append(lines, selectedLine(l, text, w)...)
		lines = append(lines, para(l.keys, "    ", l.clean(k.Means), w)...)
		focus, end = from, len(lines)
	}
	return lines, focus, end
}

// standsAt is a key's value as planned, and what is tried instead.
func standsAt(f facts, key string) string {
	var tried []string
	for _, words := range f.prospect.trial.Words() {
		if keyOf(words) == key {
			tried = append(tried, words)
		}
	}
	words := plannedWords(f, key)
	if len(tried) > 0 {
		words += "; TRIED: " + strings.Join(tried, "; ")
	}
	return words
}

func (t trying) bindings(f facts) []bound {
	if t.asked.isOpen() {
		return t.asked.bindings()
	}
	key, nothing := t.key(), ""
	if !isTried(f, key) {
		nothing = "nothing of it is tried"
	}
	enter := as(keys.Enter, "change it")
	if key == watermakerKey {
		enter = as(keys.Enter, "put it off")
	}
	return append([]bound{can(enter, whyNotTried(f, key)), can(keys.TakeBack, nothing), can(as(keys.Back, "back"), "")}, moving()...)
}

// keepLines are what to put into the files to keep what is tried.
func keepLines(f facts, w int) []string {
	l, trial := f.look, f.prospect.trial
	if trial.IsEmpty() {
		return wrap("Nothing is tried.", w, 0)
	}
	lines := para(l.title, "", "To keep what is tried, put this into passage.toml", w)
	lines = append(lines, wrap("in the place of what stands there, with an editor; then press r. This program never rewrites passage.toml.", w, 0)...)
	lines = append(lines, "")
	changed := trial.Lines(f.definitions)
	if len(changed) == 0 {
		lines = append(lines, wrap("Nothing: what is tried is as the files have it.", w, 0)...)
	}
	for _, line := range changed {
		lines = append(lines, codeLine(l, line, w)...)
	}
	command := "hoveshort passage"
	for _, change := range trial.Words() {
		command += " --try " + inShell(change)
	}
	lines = append(lines, "")
	lines = append(lines, wrap("This command prints the same lines:", w, 0)...)
	return append(lines, codeLine(l, command+" --lines", w)...)
}

// inShell is a text as a shell takes it for one word.
func inShell(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

// codeLine is a line to copy: never cut, and broken only where it must be.
func codeLine(l look, line string, w int) []string {
	line = "    " + l.clean(line)
	if lipgloss.Width(line) <= w {
		return []string{l.keys.Render(line)}
	}
	return para(l.keys, "    ", strings.TrimSpace(line), w)
}
