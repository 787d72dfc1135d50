package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// stowKey is a key and what it tells was done.
type stowKey struct {
	key.Binding
	did checklist.StowWord
}

// stowing is where it is told what was done with a spare or a tool, one short question
// after the other. Nothing is written before the last is answered.
type stowing struct {
	on    handled
	how   checklist.Stow
	step  stowStep
	asked question
	back  []answered // the questions before, the last one last
}

// answered is a question and what was known when it was asked.
type answered struct {
	step stowStep
	how  checklist.Stow
}

// stowStep is one of the questions.
type stowStep string

// The questions. Which are asked hangs on what was done, and on what is known.
const (
	askWhich     stowStep = "which"     // of what lies aboard
	askLocker    stowStep = "locker"    // the place that was looked into
	askCondition stowStep = "condition" // new, used, doubtful, wrong
	askPieces    stowStep = "pieces"
	askFit       stowStep = "fit"
	askKit       stowStep = "kit"
	askRest      stowStep = "rest" // whether the others that should lie there do
	askTo        stowStep = "to"
	askOld       stowStep = "old" // where the part that came out went
	askWhom      stowStep = "whom"
	askState     stowStep = "state" // of a tool
)

// stowSteps are the questions of an act, in order.
func stowSteps(on handled, did checklist.StowWord) []stowStep {
	if on.kind == kindTool {
		return map[checklist.StowWord][]stowStep{
			checklist.Bought: {askTo}, checklist.Moved: {askTo}, checklist.Lent: {askWhom}, checklist.Back: {askState, askTo}, checklist.Found: {askState, askTo},
		}[did]
	}
	return map[checklist.StowWord][]stowStep{
		checklist.Bought: {askPieces, askFit, askKit, askTo},
		checklist.UsedUp: {askWhich, askPieces, askOld},
		checklist.Moved:  {askWhich, askPieces, askTo},
		checklist.Lent:   {askWhich, askPieces, askWhom},
		checklist.Back:   {askPieces, askCondition, askFit, askKit, askTo},
		checklist.Found:  {askLocker, askCondition, askPieces, askFit, askKit, askRest},
	}[did]
}

// whyNot is why an act cannot be told of what is selected; "" if it can.
func (on handled) whyNot(f facts, did checklist.StowWord) string {
	_, away := lentNow(f, on.name)
	switch on.kind {
	case kindDated:
		return "dated gear renewed: hoveshort stow NAME until DATE"
	case kindFood:
		return "food is counted on 3 Stores"
	case kindTool:
		tool, listed := f.gear.tool(on.name)
		switch {
		case !listed:
			return "tools.toml does not list it: write it there, then r"
		case did == checklist.UsedUp:
			return "a tool is not used up: f tells in which state it was found"
		case did == checklist.Back && away == 0:
			return "it is not lent, by the record"
		case (did == checklist.Moved || did == checklist.Lent) && tool.State == machinery.Missing:
			return "it is missing, by the record: f if it was found"
		}
		return ""
	case kindSpare:
	default:
		return "no spare and no tool is selected"
	}
	spare, _ := f.gear.spare(on.name)
	switch takes := did == checklist.UsedUp || did == checklist.Moved || did == checklist.Lent; {
	case takes && len(heaps(spare, on.place)) == 0:
		return "none of it is aboard, by the record: f if one was found"
	case did == checklist.Back && away == 0:
		return "none of it is lent, by the record"
	}
	return ""
}

// A heap is what lies in one place in one condition: as finely as it is told apart when
// something is taken.
type heap struct {
	place     string
	condition machinery.Condition
	count     int
	whole     machinery.Stowed // the first of it
}

// heaps are what lies aboard of a spare; of one place, if it is named.
func heaps(s machinery.Spare, place string) []heap {
	var list []heap
	for _, lot := range lots(s) {
		if place != "" && !samePlace(lot.Place, place) {
			continue
		}
		i := slices.IndexFunc(list, func(h heap) bool { return samePlace(h.place, lot.Place) && h.condition == lot.Condition })
		if i < 0 {
			list = append(list, heap{lot.Place, lot.Condition, lot.Count, lot.Stowed})
			continue
		}
		list[i].count += lot.Count
		list[i].whole = machinery.Stowed{} // not all alike
	}
	return list
}

// samePlace says that two paths name one place.
func samePlace(a, b string) bool {
	return strings.EqualFold(strings.Join(parts(a), "/"), strings.Join(parts(b), "/"))
}

func beginStowing(f facts, on handled, did checklist.StowWord) stowing {
	n := stowing{on: on, how: checklist.Stow{Did: did}}
	if did == checklist.Found && on.kind == kindSpare {
		n.how.To = on.place
	}
	n, _ = n.goOn(f, stowSteps(on, did))
	return n
}

func (n stowing) isOpen() bool { return n.asked.isOpen() }

func (n stowing) unsaved() bool { return n.isOpen() && (len(n.back) > 0 || n.asked.unsaved()) }

// goOn asks the first of the steps that has to be asked; ended: there is none.
func (n stowing) goOn(f facts, steps []stowStep) (next stowing, ended bool) {
	for _, step := range steps {
		if n.isAsked(f, step) {
			n.step, n.asked = step, ask(string(step), n.words(f, step)...)
			return n, false
		}
		n = n.passedOver(f, step)
	}
	return n, true
}

// isAsked says that the answer is not known without asking.
func (n stowing) isAsked(f facts, step stowStep) bool {
	spare, _ := f.gear.spare(n.on.name)
	looked := n.how.Did == checklist.Found
	switch step {
	case askWhich:
		return len(heaps(spare, n.on.place)) > 1
	case askLocker:
		return n.how.To == ""
	case askPieces:
		_, away := lentNow(f, n.on.name)
		return looked || n.how.Did == checklist.Bought || n.how.Did == checklist.Back && away > 1 || n.how.From != "" && n.chosen(f).count > 1
	case askFit, askKit:
		told := !looked && n.how.Condition != "" || looked && n.how.Count > 0 || n.how.Did == checklist.Bought
		return told && (step == askFit || len(spare.With) > 0)
	case askRest:
		return len(n.others(f)) > 0
	case askTo:
		return n.on.kind == kindSpare || n.how.State != machinery.Missing
	}
	return true
}

// passedOver takes the only answer there is to a question that is not asked.
func (n stowing) passedOver(f facts, step stowStep) stowing {
	spare, _ := f.gear.spare(n.on.name)
	switch list := heaps(spare, n.on.place); {
	case step == askWhich && len(list) == 1:
		n.how.From, n.how.Condition = list[0].place, list[0].condition
	case step == askPieces:
		n.how.Count = 1
	}
	return n
}

// chosen is the heap from which is taken; zero: none is named, or the path as it was
// typed is for the domain to find.
func (n stowing) chosen(f facts) heap {
	spare, _ := f.gear.spare(n.on.name)
	for _, h := range heaps(spare, n.how.From) {
		if n.how.Condition == "" || h.condition == n.how.Condition {
			return h
		}
	}
	return heap{count: 2} // so that it is asked how many
}

// known is what should lie in the place that was looked into, in the condition told.
func (n stowing) known(f facts) (h heap, is bool) {
	spare, _ := f.gear.spare(n.on.name)
	for _, there := range heaps(spare, n.how.To) {
		if n.how.Condition != "" && there.condition != n.how.Condition {
			continue
		}
		if is {
			return heap{}, false
		}
		h, is = there, true
	}
	return h, is
}

// others are what else of it should lie in the place that was looked into.
func (n stowing) others(f facts) []heap {
	spare, _ := f.gear.spare(n.on.name)
	return slices.DeleteFunc(heaps(spare, n.how.To), func(h heap) bool { return h.condition == n.how.Condition })
}

// knownPlaces are the places in which it lies, or lay.
func (n stowing) knownPlaces(f facts) []string {
	spare, _ := f.gear.spare(n.on.name)
	var places []string
	for _, stowed := range spare.Stowed {
		if !slices.ContainsFunc(places, func(p string) bool { return samePlace(p, stowed.Place) }) {
			places = append(places, stowed.Place)
		}
	}
	return places
}

// untold is what is taken where a question is answered by enter alone, and how that is
// said; "": it must be answered.
func (n stowing) untold(f facts, step stowStep) (how checklist.Stow, words string) {
	how = n.how
	known, is := n.known(f)
	is = is && n.how.Did == checklist.Found
	switch {
	case step == askCondition && n.how.Did == checklist.Back:
		return how, "as it was lent"
	case step == askCondition && is:
		how.Condition = known.condition
		return how, string(known.condition) + ", as it was known"
	case step == askFit && is && known.whole.Fit != "":
		how.Fit = known.whole.Fit
		return how, string(known.whole.Fit) + ", as it was known"
	case step == askKit && is && known.whole.Fit != "":
		how.Has = known.whole.Has
		return how, or(strings.Join(how.Has, ", "), "none") + ", as it was known"
	case step == askTo && n.how.Did == checklist.Back:
		return how, "where it was before"
	case step == askTo && n.how.Did == checklist.Found && n.how.State != "":
		return how, "where it is known to lie"
	case step == askState && n.how.Did == checklist.Back:
		how.State = machinery.Good
		return how, "good"
	}
	return how, ""
}

func (n stowing) update(f facts, p press) (stowing, []action) {
	if how, words := n.untold(f, n.step); words != "" && p.Type == tea.KeyEnter && strings.TrimSpace(n.asked.input.Value()) == "" {
		return n.take(f, how)
	}
	next, text, sent := n.asked.update(p)
	switch {
	case !next.isOpen() && len(n.back) == 0:
		return stowing{}, []action{say{"nothing was written"}}
	case !next.isOpen():
		last := n.back[len(n.back)-1]
		n.how, n.step, n.back = last.how, last.step, n.back[:len(n.back)-1]
		n.asked = ask(string(n.step), n.words(f, n.step)...)
		return n, nil
	}
	n.asked = next
	if !sent {
		return n, nil
	}
	how, err := n.read(f, text)
	if err != nil {
		n.asked = n.asked.refused(err)
		return n, nil
	}
	return n.take(f, how)
}

// take goes on with what was told, unless it would be refused; after the last question
// it is asked for.
func (n stowing) take(f facts, how checklist.Stow) (stowing, []action) {
	told := n
	told.how = how
	told.back = append(slices.Clone(n.back), answered{n.step, n.how})
	steps := stowSteps(n.on, how.Did)
	next, ended := told.goOn(f, steps[slices.Index(steps, n.step)+1:])
	w := wishStow{n.on.name, next.how}
	if !ended {
		w.how = next.supposed(f)
	}
	if err := f.try(w); err != nil {
		n.asked = n.asked.refused(err)
		return n, nil
	}
	if ended {
		return stowing{}, []action{recordEntry{w}}
	}
	return next, nil
}

// supposed is the act with something in place of what was not asked for yet, so that what
// was told is refused at once if it must be.
func (n stowing) supposed(f facts) checklist.Stow {
	how := n.how
	const notYet = "not asked for yet"
	spare, _ := f.gear.spare(n.on.name)
	if list := heaps(spare, n.on.place); how.From == "" && len(list) > 0 && slices.Contains([]checklist.StowWord{checklist.UsedUp, checklist.Moved, checklist.Lent}, how.Did) {
		how.From = list[0].place
	}
	if n.on.kind == kindSpare && how.Count == 0 && how.Did != checklist.Found {
		how.Count = 1
	}
	if how.Did == checklist.Found && n.on.kind == kindSpare && how.Condition == "" {
		how.Condition = machinery.New
	}
	if how.To == "" && how.Did != checklist.UsedUp && how.Did != checklist.Lent {
		how.To = notYet
	}
	if how.Did == checklist.Lent && how.Note == "" {
		how.Note = notYet
	}
	return how
}

// read is what was known with the answer to the question that is asked.
func (n stowing) read(f facts, text string) (how checklist.Stow, err error) {
	how = n.how
	spare, _ := f.gear.spare(n.on.name)
	switch n.step {
	case askWhich:
		list := heaps(spare, n.on.place)
		if i, err := strconv.Atoi(text); err == nil && i >= 1 && i <= len(list) {
			how.From, how.Condition = list[i-1].place, list[i-1].condition
			return how, nil
		}
		how.From, how.Condition = text, ""
	case askLocker:
		how.To = text
		if i, err := strconv.Atoi(text); err == nil && i >= 1 && i <= len(n.knownPlaces(f)) {
			how.To = n.knownPlaces(f)[i-1]
			return how, nil
		}
		how.To = fullPlace(f.gear.places, text)
	case askCondition:
		how.Condition, err = wordOf(text, machinery.New, machinery.Used, machinery.Doubtful, machinery.Wrong)
	case askPieces:
		if how.Count, err = strconv.Atoi(text); err != nil {
			return how, fmt.Errorf(`%q is no number; write how many, like "2"`, text)
		}
	case askFit:
		how.Fit, err = wordOf(text, machinery.Proved, machinery.Measured, machinery.Unknown)
	case askKit:
		how.Has = kitParts(text, spare.With)
	case askRest:
		var still string
		still, err = wordOf(text, "yes", "no")
		how.Beside = still == "yes"
	case askTo:
		how.To = text
	case askOld:
		how.Old = text
	case askWhom:
		how.Note = text
	case askState:
		how.State, err = wordOf(text, machinery.Good, machinery.Stiff, machinery.Seized, machinery.Missing)
	}
	return how, err
}

// fullPlace is the known place that a text names by its end, where it is one alone; else
// the text.
func fullPlace(places []string, text string) string {
	asked := strings.ToLower(strings.Join(parts(text), " / "))
	found := ""
	for _, place := range places {
		known := strings.ToLower(place)
		switch {
		case known == asked:
			return place
		case strings.HasSuffix(known, " / "+asked) && found != "":
			return text
		case strings.HasSuffix(known, " / "+asked):
			found = place
		}
	}
	return or(found, text)
}

// wordOf is the one of the words that is typed or begun.
func wordOf[T ~string](text string, words ...T) (T, error) {
	typed, found := strings.ToLower(strings.TrimSpace(text)), T("")
	var all []string
	for _, w := range words {
		all = append(all, string(w))
		if string(w) == typed {
			return w, nil
		}
		if !isBegun(string(w), typed) {
			continue
		}
		if found != "" {
			return "", fmt.Errorf("%q may be %s or %s; write more of it", text, found, w)
		}
		found = w
	}
	if found == "" {
		return "", fmt.Errorf("%q is none of them; write one of: %s", text, strings.Join(all, ", "))
	}
	return found, nil
}

// kitParts are the parts that are named, with commas between them or, where each is one
// word, blanks.
func kitParts(text string, with []string) []string {
	var list []string
	for part := range strings.SplitSeq(strings.ReplaceAll(text, " and ", ","), ",") {
		part = strings.TrimSpace(part)
		words := strings.Fields(part)
		if !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(with, w) }) {
			list = append(list, words...)
			continue
		}
		list = append(list, part)
	}
	return list
}

func (n stowing) bindings(f facts) []bound {
	list := n.asked.bindings()
	if _, words := n.untold(f, n.step); words != "" {
		list[0] = can(as(keys.Enter, "take it; empty: "+words), "")
	}
	if len(n.back) > 0 {
		list[1] = can(bind("backspace", "the question before, if empty", "backspace"), "")
	}
	return list
}

type wishStow struct {
	name string
	how  checklist.Stow
}

func (w wishStow) act(k known) (checklist.Act, error) {
	return k.definitions.NewStow(k.state, w.name, w.how)
}

func (w wishStow) words() string {
	if w.how.Count > 1 {
		return fmt.Sprintf("%d x %s, %s", w.how.Count, w.name, didWords[w.how.Did])
	}
	return fmt.Sprintf("%s, %s", w.name, didWords[w.how.Did])
}
