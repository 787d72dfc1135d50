package tui

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
)

// voyaging asks for what happens to a passage, one short question after the other. Nothing is
// written before the last is answered; an empty answer leaves that part out.
type voyaging struct {
	kind    voyageKind // "": nothing is asked
	answers []string
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
	return v
}

func (v voyaging) update(f facts, p press) (voyaging, []action) {
	step := v.steps(f)[len(v.answers)]
	empty := strings.TrimSpace(v.asked.input.Value()) == ""
	if p.Type == tea.KeyEnter && empty && !step.needed {
		return v.take(f, "")
	}
	next, text, sent := v.asked.update(p)
	switch {
	case !next.isOpen() && len(v.answers) == 0:
		return voyaging{}, []action{say{"nothing was written"}}
	case !next.isOpen():
		v.answers = v.answers[:len(v.answers)-1]
		return v.ask(f), nil
	}
	v.asked = next
	if !sent {
		return v, nil
	}
	return v.take(f, text)
}

// take goes on with an answer. What looks wrong is asked back once; typed again it is taken.
func (v voyaging) take(f facts, text string) (voyaging, []action) {
	next := v
	next.answers = append(slices.Clone(v.answers), text)
	next.sure = v.sure || text != "" && v.doubted == text
	more := len(next.answers) < len(next.steps(f))
	w, worth := next.wish(f)
	var err error
	if worth || !more {
		err = f.try(w)
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
	return voyaging{}, []action{recordEntry{w}}
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
	told := voyaging{kind: v.kind, answers: v.answers[:len(steps)], sure: v.sure}
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
	noon, err := checklist.NewNoon(f.definitions, f.state, f.now, v.noonTold(f, said))
	if err != nil {
		noon = checklist.Noon{Note: "nothing"} // decisions that wait are asked all the same
	}
	return checklist.NoonQuestions(f.definitions, f.entries, noon, f.now)
}

// levelSteps ask for the tanks, a thing at a time.
func levelSteps(f facts) []voyageStep {
	var steps []voyageStep
	for _, t := range []passage.Thing{passage.Water, passage.Fuel, passage.Gas} {
		var last, typed []string
		for _, fig := range f.assessment.Reckoning.Tanks {
			if fig.Tank.Holds != t || fig.Tank.Sealed {
				continue
			}
			last = append(last, fig.Tank.Name+" "+fig.Level.Down(t, f.assessment.Units))
			typed = append(typed, fig.Tank.Name+"=same")
		}
		if len(last) == 0 {
			continue
		}
		steps = append(steps, voyageStep{of: string(t), lines: []string{
			strings.ToUpper(string(t)[:1]) + string(t)[1:] + ", last " + strings.Join(last, ", ") + ".",
			"All of its tanks, with what each holds or `same`, like: " + strings.Join(typed, " "),
		}})
	}
	return steps
}

// wayTo is the place that she makes for.
func (f facts) wayTo() string {
	if w := f.assessment.Way; w != nil {
		return w.Fix.To
	}
	return "the end of the leg"
}

func (f facts) levelsTyped(said map[string]string) string {
	var all []string
	for _, t := range []string{"water", "fuel", "gas"} {
		if text := said[t]; text != "" {
			all = append(all, text)
		}
	}
	return strings.Join(all, " ")
}

// noonTold is a noon of the answers. What cannot be read stands as it was typed, and is refused.
func (v voyaging) noonTold(f facts, said map[string]string) checklist.NoonTold {
	told, err := f.definitions.ParseNoon(said["where"] + " " + f.levelsTyped(said))
	if err != nil {
		told = checklist.NoonTold{ToGo: said["where"], Levels: []checklist.TankLevel{{Tank: f.levelsTyped(said)}}}
	}
	told.Hours, told.Wind, told.Pressure, told.Sleep, told.Note = said["hours"], said["wind"], said["pressure"], said["sleep"], said["note"]
	told.Sure = v.sure
	for of, why := range said {
		point, is := strings.CutPrefix(of, "decide ")
		if !is || why == "" {
			continue
		}
		not, isNot := strings.CutPrefix(why, "no,")
		told.Decided = append(told.Decided, checklist.DecisionAnswered{Point: point, GoOn: !isNot, Why: strings.TrimSpace(not)})
	}
	slices.SortFunc(told.Decided, func(a, b checklist.DecisionAnswered) int { return strings.Compare(a.Point, b.Point) })
	return told
}

// wish is the act of the answers so far; worth says that it can be tried before the last.
func (v voyaging) wish(f facts) (w wish, worth bool) {
	said := v.said(f)
	switch v.kind {
	case tellNoon:
		told := v.noonTold(f, said)
		last := v.answers[len(v.answers)-1]
		return wishNoon{told}, last != ""
	case tellChange:
		return wishChange{said["what"], said["why"], said["to"], said["miles"]}, false
	case tellReason:
		return wishReason{said["why"]}, false
	}
	told, err := f.definitions.ParseArrival(said["place"] + " " + f.levelsTyped(said))
	if err != nil {
		told = checklist.ArrivalTold{Place: said["place"], Levels: []checklist.TankLevel{{Tank: f.levelsTyped(said)}}}
	}
	told.Miles, told.Hours, told.Note, told.Sure, told.Close = said["miles"], said["hours"], said["note"], v.sure, v.kind == tellClose
	for thing := range strings.SplitSeq(said["failed"], ",") {
		if thing = strings.TrimSpace(thing); thing != "" {
			told.Failed = append(told.Failed, thing)
		}
	}
	return wishArrive{told}, true
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
