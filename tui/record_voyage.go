package tui

import (
	"maps"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// voyaging asks for what happens to a passage, one short question after the other. Nothing is
// written before the last is answered; an empty answer leaves that part out.
type voyaging struct {
	kind    voyageKind // "": nothing is asked
	answers []string
	kept    map[string]string // what was typed of a question that was gone back from, by what it is of; never changed in place
	asked   question
	doubted string // what was asked back: the same typed again says that it is right
	sure    bool
}

// voyageKind is what is being told.
type voyageKind string

// The kinds.
const (
	tellNoon   voyageKind = "noon"
	tellChange voyageKind = "change"
	tellArrive voyageKind = "arrive"
	tellClose  voyageKind = "close"
	tellReason voyageKind = "reason"
)

// voyageStep is one question; needed: an empty answer will not do.
type voyageStep struct {
	of     string
	lines  []string
	needed bool
}

func (v voyaging) isOpen() bool { return v.kind != "" }

func (v voyaging) unsaved() bool { return v.isOpen() && (len(v.answers) > 0 || v.asked.unsaved()) }

func beginVoyaging(f facts, kind voyageKind) voyaging { return voyaging{kind: kind}.ask(f) }

// ask puts the first question that is not answered.
func (v voyaging) ask(f facts) voyaging {
	step := v.steps(f)[len(v.answers)]
	lines := step.lines
	if !step.needed {
		lines = append(slices.Clone(lines), "enter alone: not told")
	}
	v.asked = ask(step.of, lines...)
	v.asked.input.SetValue(v.kept[step.of])
	v.asked.input.CursorEnd()
	return v
}

// back is the question before, with what was typed there; so is this one, once it is asked again.
func (v voyaging) back(f facts) (voyaging, []action) {
	if len(v.answers) == 0 {
		return voyaging{}, []action{say{"nothing was written"}}
	}
	kept := maps.Clone(v.kept)
	if kept == nil {
		kept = map[string]string{}
	}
	kept[v.asked.what] = v.asked.input.Value()
	last := len(v.answers) - 1
	kept[v.steps(f)[last].of] = v.answers[last]
	v.kept, v.answers, v.doubted = kept, v.answers[:last], ""
	return v.ask(f), nil
}

// bindings are those of the question; untouched says that escape goes back at once.
func (v voyaging) bindings(f facts) []bound {
	list := v.asked.bindings()
	if v.untouched(f) {
		list[1] = can(bind("esc", "back", "esc", "backspace"), "")
	}
	return list
}

// untouched says that nothing was typed since the question was asked, and that there is one before it.
func (v voyaging) untouched(f facts) bool {
	return len(v.answers) > 0 && v.asked.input.Value() == v.kept[v.steps(f)[len(v.answers)].of]
}

func (v voyaging) update(f facts, p press) (voyaging, []action) {
	step := v.steps(f)[len(v.answers)]
	empty := strings.TrimSpace(v.asked.input.Value()) == ""
	if p.Type == tea.KeyEnter && empty && !step.needed {
		return v.take(f, "")
	}
	if p.Type == tea.KeyEsc && v.untouched(f) {
		return v.back(f)
	}
	next, text, sent := v.asked.update(p)
	if !next.isOpen() {
		return v.back(f)
	}
	v.asked = next
	if !sent {
		return v, nil
	}
	return v.take(f, text)
}

// take goes on with an answer. What looks wrong is asked back once; typed again it is taken,
// and only it: what is told after it is doubted anew.
func (v voyaging) take(f facts, text string) (voyaging, []action) {
	next := v
	next.answers = append(slices.Clone(v.answers), text)
	sure := text != "" && v.doubted == text
	next.sure = v.sure || sure
	steps := next.steps(f)
	more := len(next.answers) < len(steps)
	var err error
	if text != "" && v.kind != tellChange { // of a change all is wanted before anything can be said
		of := steps[len(v.answers)].of
		err = f.try(next.wish(f, map[string]string{of: text}, sure))
	}
	whole := next.wish(f, next.said(f), next.sure)
	if err == nil && !more {
		err = f.try(whole)
	}
	if err != nil {
		v.asked = v.asked.refused(err)
		v.asked.note = strings.ReplaceAll(v.asked.note, "say so with --sure", "enter says so")
		v.doubted = text
		return v, nil
	}
	if more {
		next.doubted = ""
		return next.ask(f), nil
	}
	return voyaging{}, []action{recordEntry{whole}}
}

// said are the answers by what they are of.
func (v voyaging) said(f facts) map[string]string {
	said := map[string]string{}
	for i, step := range v.steps(f) {
		if i < len(v.answers) {
			said[step.of] = v.answers[i]
		}
	}
	return said
}

// steps are the questions in order; those about decisions hang on what was told before.
func (v voyaging) steps(f facts) []voyageStep {
	switch v.kind {
	case tellNoon:
		return v.noonSteps(f)
	case tellChange:
		return []voyageStep{
			{of: "what", lines: []string{"What is changed of the plan?"}, needed: true},
			{of: "why", lines: []string{"Why?"}, needed: true},
			{of: "to", lines: []string{"Is another place made for? Its name:"}},
			{of: "miles", lines: []string{`How far is it to there? Write it like "90 nm"; for the same place as before:`}},
		}
	case tellArrive:
		return []voyageStep{{of: "place", lines: []string{"Come in. Where? Nothing typed: at the end of the leg, " + f.wayTo() + ".", "Then sound the tanks, and close the passage (C)."}}}
	case tellClose:
		steps := []voyageStep{
			{of: "miles", lines: []string{"Close the passage: what was told so far stays on its page.", `Miles by the log since leaving, as "412 nm":`}},
			{of: "hours", lines: []string{"The hour-meter:"}},
		}
		steps = append(steps, levelSteps(f)...)
		return append(steps,
			voyageStep{of: "failed", lines: []string{"What failed on the way? With commas between:"}},
			voyageStep{of: "note", lines: []string{"A note of your own:"}})
	}
	return []voyageStep{{of: "why", lines: []string{"Why did she leave unsigned? In your own words; it stands for ever."}, needed: true}}
}

func (v voyaging) noonSteps(f facts) []voyageStep {
	steps := []voyageStep{
		{of: "where", lines: []string{"Noon. Miles to go to " + f.wayTo() + `, as "340 nm", or the position, as "23 30 S, 178 10 W":`}},
		{of: "hours", lines: []string{"The hour-meter:"}},
	}
	steps = append(steps, levelSteps(f)...)
	steps = append(steps,
		voyageStep{of: "wind", lines: []string{`The wind, as "18 kn NE":`}},
		voyageStep{of: "pressure", lines: []string{`The barometer, as "1013 hPa":`}},
		voyageStep{of: "sleep", lines: []string{"Hours of sleep in the last 24:"}},
		voyageStep{of: "note", lines: []string{"A note of your own:"}})
	if len(v.answers) < len(steps) {
		return append(steps, voyageStep{of: "end"}) // whether anything is to be decided is not known yet
	}
	told := voyaging{kind: v.kind, answers: v.answers[:len(steps)]}
	for _, p := range told.questions(f, steps) {
		lines := []string{"To be decided: " + p.Point}
		if p.Else != "" {
			lines = append(lines, "Else: "+p.Else)
		}
		steps = append(steps, voyageStep{of: "decide " + p.Point, lines: append(lines, `Going on: write why. Not going on: begin with "no,".`)})
	}
	return steps
}

// questions are what the noon as told so far asks.
func (v voyaging) questions(f facts, steps []voyageStep) []checklist.DecisionPoint {
	said := map[string]string{}
	for i, step := range steps {
		said[step.of] = v.answers[i]
	}
	noon, err := checklist.NewNoon(f.definitions, f.state, f.now, f.noonTold(said, true))
	if err != nil {
		noon = checklist.Noon{Note: "nothing"} // decisions that wait are asked all the same
	}
	return checklist.NoonQuestions(f.definitions, f.entries, noon, f.now)
}

// levelSteps ask for the tanks, a thing at a time.
func levelSteps(f facts) []voyageStep {
	var steps []voyageStep
	for _, t := range tankedThings {
		var last, typed []string
		for _, fig := range f.tanksOf(t) {
			last = append(last, fig.Tank.Name+" "+fig.Level.Down(t, f.assessment.Units))
			typed = append(typed, "same")
		}
		if len(last) == 0 {
			continue
		}
		lines := []string{strings.ToUpper(string(t)[:1]) + string(t)[1:] + ", last " + strings.Join(last, ", ") + "."}
		typed[0] = "62 %"
		if len(typed) == 1 {
			lines = append(lines, "What does it hold now? Like `62 %`; `same`: nobody drew from it.")
		} else {
			lines = append(lines, "What do they hold now, in this order? Like `"+strings.Join(typed, ", ")+"`; `same`: nobody drew from it; once: from none.")
		}
		steps = append(steps, voyageStep{of: string(t), lines: lines})
	}
	return steps
}

var tankedThings = []passage.Thing{passage.Water, passage.Fuel, passage.Gas}

// tanksOf are the tanks of a thing that are told at noon.
func (f facts) tanksOf(t passage.Thing) []provisions.TankFigures {
	return slices.DeleteFunc(slices.Clone(f.assessment.Reckoning.Tanks), func(fig provisions.TankFigures) bool {
		return fig.Tank.Holds != t || fig.Tank.Sealed
	})
}

// wayTo is the place that she makes for.
func (f facts) wayTo() string {
	if w := f.assessment.Way; w != nil {
		return w.Fix.To
	}
	return "the end of the leg"
}

// levels are the tanks as they were told: one value each in the order that was asked in, "same"
// for all of them, or with their names, as "port water=62 %". What is none of these is taken as
// a name, and refused.
func (f facts) levels(said map[string]string) []checklist.TankLevel {
	var levels []checklist.TankLevel
	for _, t := range tankedThings {
		text := said[string(t)]
		if text == "" {
			continue
		}
		tanks, values := f.tanksOf(t), strings.Split(text, ",")
		if one := strings.TrimSpace(text); strings.EqualFold(one, "same") {
			values = slices.Repeat([]string{one}, len(tanks))
		}
		told, err := f.definitions.ParseNoon(text)
		switch {
		case strings.Contains(text, "=") && err == nil && told.ToGo == "" && told.Position == "":
			levels = append(levels, told.Levels...)
		case strings.Contains(text, "=") || len(values) != len(tanks):
			levels = append(levels, checklist.TankLevel{Tank: text})
		default:
			for i, value := range values {
				levels = append(levels, checklist.TankLevel{Tank: tanks[i].Tank.Name, Level: strings.TrimSpace(value)})
			}
		}
	}
	return levels
}

// noonTold is a noon of the answers. What cannot be read stands as it was typed, and is refused.
func (f facts) noonTold(said map[string]string, sure bool) checklist.NoonTold {
	told, err := f.definitions.ParseNoon(said["where"])
	if err != nil {
		told = checklist.NoonTold{ToGo: said["where"]}
	}
	told.Levels = f.levels(said)
	told.Hours, told.Wind, told.Pressure, told.Sleep, told.Note = said["hours"], said["wind"], said["pressure"], said["sleep"], said["note"]
	told.Sure = sure
	for of, why := range said {
		point, is := strings.CutPrefix(of, "decide ")
		if !is || why == "" {
			continue
		}
		answer, _ := checklist.ParseDecision(point, why) // without a reason it is refused
		told.Decided = append(told.Decided, answer)
	}
	slices.SortFunc(told.Decided, func(a, b checklist.DecisionAnswered) int { return strings.Compare(a.Point, b.Point) })
	return told
}

// wish is the act of what was said; sure: what looks wrong in it was looked at again.
func (v voyaging) wish(f facts, said map[string]string, sure bool) wish {
	switch v.kind {
	case tellNoon:
		return wishNoon{f.noonTold(said, sure)}
	case tellChange:
		return wishChange{said["what"], said["why"], said["to"], said["miles"]}
	case tellReason:
		return wishReason{said["why"]}
	}
	told := checklist.ArrivalTold{Place: said["place"], Levels: f.levels(said)}
	told.Miles, told.Hours, told.Note, told.Sure, told.Close = said["miles"], said["hours"], said["note"], sure, v.kind == tellClose
	for thing := range strings.SplitSeq(said["failed"], ",") {
		if thing = strings.TrimSpace(thing); thing != "" {
			told.Failed = append(told.Failed, thing)
		}
	}
	return wishArrive{told}
}

type wishDepart struct{ unsigned bool }

func (w wishDepart) act(k known) (checklist.Act, error) {
	return checklist.NewDepart(k.definitions, k.state, k.assessment, w.unsigned, "")
}

func (w wishDepart) words() string {
	if w.unsigned {
		return "leaving, unsigned if anything is against it"
	}
	return "leaving"
}

type wishReason struct{ why string }

func (w wishReason) act(k known) (checklist.Act, error) { return k.state.NewDepartReason(k.now, w.why) }
func (w wishReason) words() string                      { return "why she left unsigned" }

type wishNoon struct{ told checklist.NoonTold }

func (w wishNoon) act(k known) (checklist.Act, error) {
	return checklist.NewNoon(k.definitions, k.state, k.now, w.told)
}
func (w wishNoon) words() string { return "noon" }

type wishChange struct{ what, why, to, miles string }

func (w wishChange) act(k known) (checklist.Act, error) {
	return checklist.NewChange(k.definitions, k.state, w.what, w.why, w.to, w.miles)
}
func (w wishChange) words() string { return "a change of plan" }

type wishArrive struct{ told checklist.ArrivalTold }

func (w wishArrive) act(k known) (checklist.Act, error) {
	return checklist.NewArrive(k.definitions, k.state, k.now, w.told)
}

func (w wishArrive) words() string {
	if w.told.Close {
		return "the closing of the passage"
	}
	return "coming in"
}
