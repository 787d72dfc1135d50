package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// walking is a round that is walked by question and answer.
type walking struct {
	round   string
	step    string   // key of the step; "": what remains
	again   []string // ids that are asked again, since the walk was broken off
	told    string   // the section whose head was told
	touched time.Time
	over    bool
}

// walk walks a round: the one that is named, or the one that is due; check is where it begins, "" where it stopped.
func (p *plain) walk(name, check string) {
	m, ok := p.stand()
	if !ok {
		return
	}
	a := m.assess()
	round, ok := p.roundFor(a, name)
	if !ok {
		return
	}
	w := &walking{round: round, step: "check " + check, touched: m.now}
	if check == "" {
		p.resume(w, a, m.now)
	}
	p.say("The round %s. Answer each check; again repeats it, next passes it, back goes back, leave ends the walk.", round)
	for !w.over && !p.ended && p.out.err == nil {
		p.stepOn(w)
	}
	if m, ok := p.stand(); ok && !p.ended {
		a := m.assess()
		p.say("%s", verdict(a))
		p.say("%s", nextAct(a, matters(a)))
		p.list = matters(a)
		p.say("list tells what is left.")
	}
}

// roundFor is the round of that name, however it is typed; without a name the one that is due.
func (p *plain) roundFor(a checklist.Assessment, name string) (string, bool) {
	var names []string
	for _, r := range a.RoundsInOrder() {
		if strings.EqualFold(r.Name, name) || name == "" && r.For == due(a) {
			return r.Name, true
		}
		names = append(names, r.Name)
	}
	if near := checklist.Nearest(name, names); near != "" {
		p.say("There is no round %q. Did you mean %s?", cut(name, 40), near)
		return "", false
	}
	p.say("Which round? Type walk and one of these.")
	for _, name := range names {
		p.say("%s", name)
	}
	return "", false
}

// due is what a walk is for at this stage of the passage.
func due(a checklist.Assessment) checklist.Purpose {
	switch {
	case a.Way != nil:
		return checklist.ForUnderWay
	case a.Stage == checklist.StageArrived:
		return checklist.ForArrival
	case a.SignOff.InForce:
		return checklist.ForWeigh
	}
	return checklist.ForSign
}

// resume goes on where the walk was broken off.
func (p *plain) resume(w *walking, a checklist.Assessment, now time.Time) {
	from := a.Resume(w.round, now)
	w.step, w.again, w.told, w.touched = from.Step, from.Again, "", now
	if from.Why != "" {
		p.say("%s", from.Why)
	}
}

// stepOn asks one step and takes one line.
func (p *plain) stepOn(w *walking) {
	m, ok := p.stand()
	if !ok {
		w.over = true
		return
	}
	a := m.assess()
	steps := a.Round(w.round).Steps()
	i := slices.IndexFunc(steps, func(s checklist.Step) bool { return s.Key() == w.step })
	if i < 0 {
		p.remains(w, a)
		return
	}
	w.touched = m.now
	p.askStep(w, m, a, steps[i])
	for !w.over && !p.ended && p.out.err == nil && p.takeLine(w, steps, i) {
	}
}

// remains is the end of a walk.
func (p *plain) remains(w *walking, a checklist.Assessment) {
	w.over = true
	left := a.Round(w.round).Remains()
	if len(left) == 0 {
		p.say("Walked to its end: every check is right and every section closed.")
		return
	}
	p.say("Walked to its end. What remains: %s.", count(len(left), "thing"))
	for _, s := range left {
		if s.Check == nil {
			p.say("Not closed: %s", s.Section.Name)
			continue
		}
		p.say("%s, %s: %s", s.Check.ID, s.Check.Ask, statusWords(*s.Check))
	}
}

// modeWords say how a section is walked.
var modeWords = map[checklist.Mode]string{
	checklist.DoThenTick: "Do each, then answer it.", checklist.LookThenConfirm: "Done already: look, then answer.",
}

// askStep tells a step: the cautions first, then what is asked and what is right.
func (p *plain) askStep(w *walking, m moment, a checklist.Assessment, s checklist.Step) {
	if w.told != s.Section.Name {
		w.told = s.Section.Name
		r := a.Round(w.round)
		p.say("Section %d of %d: %s. %s %s.", s.Number, len(r.Sections), s.Section.Name, modeWords[s.Section.Mode], stillLeft(r))
		if s.Section.Caution != "" {
			p.say("CAUTION: %s", s.Section.Caution)
		}
	}
	if s.Check == nil {
		p.say("The section ends with: %s", s.Section.Done)
		return
	}
	p.askCheck(w, m, a, *s.Check)
}

func stillLeft(r checklist.RoundView) string {
	if n := r.Left(); n > 0 {
		return count(n, "check") + " of the round left"
	}
	return "Every check of the round is answered"
}

func (p *plain) askCheck(w *walking, m moment, a checklist.Assessment, c checklist.CheckView) {
	if c.Caution != "" {
		p.say("CAUTION: %s", c.Caution)
	}
	weight := ""
	if c.IsCritical {
		weight = "Critical. "
	}
	p.say("%s%s", weight, c.Ask)
	right := c.Right
	if c.Reading != nil {
		right = strings.TrimSuffix(m.definitions.Limits(*c.Reading)+"; "+right, "; ")
	}
	p.say("Right is: %s", right)
	if c.Say != "" {
		p.say("Evidence with it: %s", c.Say)
	}
	if before, held := a.HeldBy(c); held {
		p.say("It waits: %s must be right first.", before.ID)
	}
	switch {
	case c.Automatic != nil:
		p.say("The program answers it: %s", statusWords(c))
	case slices.Contains(w.again, c.ID):
		p.say("It is asked again; it was: %s", statusWords(c))
	case c.Answer != nil:
		p.say("Now: %s", statusWords(c))
	}
}

// takeLine takes a line at a step; asks says that the step is still to be answered, and its prompt comes again.
func (p *plain) takeLine(w *walking, steps []checklist.Step, i int) (asks bool) {
	s := steps[i]
	asked := p.lines.clock()
	line, ok := p.prompt(placeOf(w, s), promptOf(s))
	if !ok {
		return true
	}
	word, rest := plainWordOf(line.text)
	switch {
	case line.text == "":
		p.say("Nothing was typed: not answered.")
		return true
	case word == sayLeave:
		w.over = true
		p.say("The walk stops here; it goes on here.")
		return false
	case word == sayBack || word == sayNext || word == sayAgain:
		p.move(w, steps, i, word)
		return false
	case word == sayHelp:
		p.help(rest)
		return true
	case word == sayList || word == sayWalk:
		p.say("Type leave first: it ends the walk.")
		return true
	}
	return p.takeAnswer(w, steps, i, line, p.lines.answers(line, asked))
}

// isLate says that a line came after a long pause, in which she may have changed: it answers nothing, and the walk goes on
// as after being broken off.
func (p *plain) isLate(w *walking) bool {
	m, ok := p.stand()
	if !ok {
		return true
	}
	away := m.now.Sub(w.touched)
	if away >= 0 && away <= checklist.LongPause {
		return false
	}
	p.say("You were away: that line answers nothing.")
	p.resume(w, m.assess(), m.now)
	return true
}

// move goes on or back without an answer.
func (p *plain) move(w *walking, steps []checklist.Step, i int, word plainWord) {
	switch word {
	case sayAgain:
		w.told = ""
	case sayBack:
		if i == 0 {
			p.say("This is the first.")
		}
		w.step = steps[max(0, i-1)].Key()
	case sayNext:
		w.step = ""
		if i+1 < len(steps) {
			w.step = steps[i+1].Key()
		}
	}
}

// takeAnswer takes what may be an answer, or else a command. One that stands alone counts only if it was typed for this
// question; one that names its check counts always.
func (p *plain) takeAnswer(w *walking, steps []checklist.Step, i int, line typedLine, fresh bool) (asks bool) {
	s := steps[i]
	alone := p.isAlone(s, line.text)
	switch {
	case !alone:
		p.command(line.text)
		return !p.goesOn(w, s, i)
	case !fresh:
		p.say("Not taken: that line was there before the question. Answer now, or name it: %s", howNamed(w, s, line.text))
		return true
	case p.isLate(w):
		return false
	case s.Check == nil:
		p.do("check", "--done", "--", w.round, s.Section.Name)
	default:
		p.answer(*s.Check, line.text)
	}
	return !p.goesOn(w, s, i)
}

// isAlone says that a line is an answer that does not say to which check.
func (p *plain) isAlone(s checklist.Step, text string) bool {
	word, _ := plainWordOf(text)
	if s.Check == nil || word == sayDone {
		return s.Check == nil && word == sayDone
	}
	if _, _, is := answerIn(text); is {
		return true
	}
	first := parted(text)[0]
	return s.Check.Reading != nil && !p.knows(first) && !p.isCheck(first) && first != "hoveshort"
}

// howNamed is how a line would name what it answers.
func howNamed(w *walking, s checklist.Step, text string) string {
	if s.Check == nil {
		return fmt.Sprintf("check --done %q %q", w.round, s.Section.Name)
	}
	return s.Check.ID + " " + cut(text, 40)
}

// goesOn goes to the next step if this one was answered.
func (p *plain) goesOn(w *walking, s checklist.Step, i int) bool {
	m, ok := p.stand()
	if !ok {
		return false
	}
	a := m.assess()
	w.touched = m.now
	for _, now := range a.Round(w.round).Steps() {
		if now.Key() == s.Key() && now.Seq() > s.Seq() {
			w.again = slices.DeleteFunc(slices.Clone(w.again), func(id string) bool { return "check "+id == s.Key() })
			w.step = a.NextStep(w.round, i, w.again)
			return true
		}
	}
	return false
}

// answer writes an answer, and asks first for what belongs to it: the evidence, what is not right, and how far it stops her.
func (p *plain) answer(c checklist.CheckView, text string) {
	answer, said, is := answerIn(text)
	words := []string{"check", c.ID}
	switch {
	case c.Automatic != nil:
		p.say("Not taken: the program answers this check itself.")
		return
	case !is:
		p.do(append(words, "--", text)...)
		return
	case c.Reading != nil && (answer == checklist.Right || answer == checklist.NotRight):
		p.say("Not taken: it is answered by its value, and the program says whether that is right.")
		return
	case answer == checklist.Right:
		if c.Say != "" && said == "" {
			if said = p.ask("the evidence for "+c.ID, "What was seen: "+c.Say+"? "); said == "" {
				return
			}
		}
		p.do(append(words, "right", "--say="+said)...)
	case answer == checklist.NotRight:
		p.notRight(c, said)
	default:
		p.do(append(words, strings.ReplaceAll(string(answer), " ", "-"), "--why="+said)...)
	}
}

// notRight asks what is not right, and of a check that is not critical how far it stops her; there is no grade unless one
// is chosen.
func (p *plain) notRight(c checklist.CheckView, why string) {
	at := "what is not right of " + c.ID
	if c.IsCritical {
		p.say("This opens a defect of grade stop, as the check is critical: she does not go before it is closed.")
	}
	if why == "" {
		if why = p.ask(at, "What is not right? "); why == "" {
			return
		}
	}
	words := []string{"check", c.ID, "not-right", "--why=" + why}
	if !c.IsCritical {
		grade := gradeIn(p.ask(at, "How far does it stop her: stop, limit or note? "))
		if grade == "" {
			p.say("Not answered: it wants stop, limit or note.")
			return
		}
		words = append(words, "--grade="+string(grade))
	}
	p.do(words...)
}

func gradeIn(text string) machinery.Grade {
	text = strings.ToLower(text)
	for _, grade := range []machinery.Grade{machinery.Stop, machinery.Limit, machinery.Note} {
		if text == string(grade) || text == string(grade)[:1] {
			return grade
		}
	}
	return ""
}

// promptOf is the prompt of a step: what it is, and what may be typed.
func promptOf(s checklist.Step) string {
	switch {
	case s.Check == nil:
		return "Is it so? Type done: "
	case s.Check.Automatic != nil:
		return s.Check.ID + ", next? "
	case s.Check.Reading != nil:
		return s.Check.ID + ", its value, or c x? "
	case s.Check.IsCritical:
		return s.Check.ID + ", y n c? "
	}
	return s.Check.ID + ", y n c x? "
}

// placeOf is where a walk stands, for where it stopped.
func placeOf(w *walking, s checklist.Step) string {
	if s.Check == nil {
		return fmt.Sprintf("the end of the section %s of the round %s", s.Section.Name, w.round)
	}
	return fmt.Sprintf("the check %s of the round %s", s.Check.ID, w.round)
}
