package checklist

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Proposal is a change to the skipper's files that the record speaks for. The program never makes it.
type Proposal struct {
	File     string   // rates.toml | passage.toml | boat.toml
	Lines    []string // as they are to stand; none: what speaks for it is told, and no line is proposed yet
	Why      string
	Passages int  // how many speak for it
	Eases    bool // it asks for less than today's files
}

// enoughToEase is how many passages must agree before less is planned than today: one good passage is no reason to
// carry less. Ours, no source.
const enoughToEase = 3

// Proposals are what a passage, with others that agree, speaks for; today are the files as they are now. Where a level
// is not known nothing is proposed for that thing.
func Proposals(today Definitions, r PassageReview, others []PassageReview) []Proposal {
	w := weighing{today, r, others}
	var list []Proposal
	for _, p := range []*Proposal{w.water(), w.gas(), w.burn(), w.expected(), w.slow()} {
		if p != nil {
			list = append(list, *p)
		}
	}
	return append(list, w.reserves()...)
}

// weighing is a passage, and those it is weighed with.
type weighing struct {
	today  Definitions
	r      PassageReview
	others []PassageReview
}

// agreeing are the figures of the passages that go the same way as this one, this one's first; none where it has none.
func (w weighing) agreeing(figure func(PassageReview) *float64) []float64 {
	mine := figure(w.r)
	if mine == nil || *mine == 0 {
		return nil
	}
	all := []float64{*mine}
	for _, o := range w.others {
		if f := figure(o); f != nil && *f**mine > 0 && o.Depart.Seq != w.r.Depart.Seq {
			all = append(all, *f)
		}
	}
	return all
}

func mean(all []float64) float64 {
	sum := 0.0
	for _, x := range all {
		sum += x
	}
	return sum / float64(len(all))
}

// propose is a proposal, without its lines where too few passages speak for less.
func (w weighing) propose(file, why string, agree []float64, eases bool, lines ...string) *Proposal {
	p := Proposal{File: file, Why: why, Passages: len(agree), Eases: eases, Lines: lines}
	switch {
	case eases && len(agree) < enoughToEase:
		p.Lines = nil
		p.Why += fmt.Sprintf("; %s so far: wait for %d before planning on less", passagesText(len(agree)), enoughToEase)
	case len(agree) == 1:
		p.Why += "; one passage is one passage"
	default:
		p.Why += fmt.Sprintf("; %d passages agree", len(agree))
	}
	return &p
}

func passagesText(n int) string { return fmt.Sprintf("%d %s", n, plural(n, "passage")) }

// beyond is what was used a day beyond today's rates, of a passage whose gauges can tell; nil: they cannot.
func (w weighing) beyond(r PassageReview, what passage.Thing) *float64 {
	t := r.Thing(what)
	if t.PerDay == nil || t.Difference() == nil || t.IsWithinError() || r.Climate == "" {
		return nil
	}
	then := w.today
	then.Plan.Climate = r.Climate
	more := *t.PerDay - then.Boat.DayAtAnchor(then.Plan, r.Depart.Crew, what)
	if math.Abs(more)**t.Span <= t.Error {
		return nil // the rates were changed since
	}
	return &more
}

// water puts the difference where the record has a word for it, else on washing.
func (w weighing) water() *Proposal {
	if w.r.Makes || w.today.Boat.Watermaker != nil {
		return w.madeAboard()
	}
	key := w.r.rateToldOf()
	if key == "" {
		return nil
	}
	agree := w.agreeing(func(r PassageReview) *float64 {
		more := w.beyond(r, passage.Water)
		if more == nil || r.rateToldOf() == "" || r.Depart.Crew < 1 {
			return nil
		}
		person := *more / float64(r.Depart.Crew)
		return &person
	})
	if agree == nil {
		return nil
	}
	rates := w.today.Boat.Rates.Water
	now := map[string]float64{"drinking": float64(rates.Drinking), "cooking": float64(rates.Cooking), "washing": float64(rates.Washing)}[key]
	then := w.today
	then.Plan.Climate = w.r.Climate
	more := mean(agree)
	if key == "drinking" {
		more /= then.hot()
	}
	rate := ceil(now+more, 10)
	if rate == now {
		return nil
	}
	why := fmt.Sprintf("%s %s water a person and day than rates.toml has", Near(math.Abs(mean(agree)), passage.Water, w.r.Units), moreOrLess(more > 0))
	if told := w.r.told(passage.Water); told != "" {
		why += ", told as " + told
	} else {
		why += "; the record does not say what for, so it stands on washing: put it where it belongs"
	}
	return w.propose("rates.toml", why, agree, more < 0, "[water]", fmt.Sprintf(`%s = "%s"`, key, litres(rate)))
}

// ceil rounds up to a part of the unit, against the skipper; never below 0.
func ceil(v, parts float64) float64 {
	const crumb = 1e-9
	return max(0, math.Ceil(v*parts-crumb)/parts) + 0
}

// madeAboard proposes no rate: what a watermaker made and what was used cannot be told apart.
func (w weighing) madeAboard() *Proposal {
	t := w.r.Thing(passage.Water)
	more := t.Difference()
	if more == nil || t.IsWithinError() {
		return nil
	}
	return &Proposal{File: "rates.toml", Passages: 1, Eases: *more < 0, Why: "the tanks alone cannot tell what was used from what the watermaker made: no rate is proposed; write down what it makes"}
}

// litres is a rate as it is written in a file: to the tenth.
func litres(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) + " L" }

// telling are the words by which the record tells what water was used for; a leak is no rate.
var telling = []struct {
	words []string
	key   string
}{
	{[]string{"leak", "lost", "spilt", "spilled", "burst", "drained"}, ""},
	{[]string{"wash", "shower", "laundry", "rins"}, "washing"},
	{[]string{"drink", "drank", "thirst", "hot day", "heat"}, "drinking"},
	{[]string{"cook", "galley", "dishes"}, "cooking"},
}

// rateToldOf is the rate that the difference belongs to: as the skipper's own words tell, else washing. "": it was a
// leak, and no rate.
func (r PassageReview) rateToldOf() string {
	if key, word := r.waterWord(); word != "" {
		return key
	}
	return "washing"
}

func (r PassageReview) waterWord() (key, word string) {
	for _, t := range telling {
		for _, note := range r.notes() {
			low := strings.ToLower(note)
			if !strings.Contains(low, "water") && !strings.Contains(low, "tank") && t.key == "" {
				continue
			}
			for _, w := range t.words {
				if strings.Contains(low, w) {
					return t.key, w
				}
			}
		}
	}
	return "", ""
}

// told is what the record says a difference in water was for; "": it does not say.
func (r PassageReview) told(what passage.Thing) string {
	if what != passage.Water {
		return ""
	}
	key, word := r.waterWord()
	switch {
	case word == "":
		return ""
	case key == "":
		return "a leak or a loss, by the record"
	}
	return key
}

// notes are the skipper's own words of the passage.
func (r PassageReview) notes() []string {
	var notes []string
	if !r.HasLeft() {
		return nil
	}
	for _, e := range r.since(r.Depart.Seq) {
		switch a := e.Act.(type) {
		case Noon:
			notes = append(notes, a.Note)
		case Arrive:
			notes = append(append(notes, a.Note), a.Failed...)
		case Change:
			notes = append(notes, a.What, a.Why)
		case DefectAct:
			notes = append(notes, a.What)
		}
	}
	return notes
}

// gas puts the difference on the rate that there is: the boat's, or a person's.
func (w weighing) gas() *Proposal {
	agree := w.agreeing(func(r PassageReview) *float64 { return w.beyond(r, passage.Gas) })
	if agree == nil {
		return nil
	}
	rates, more := w.today.Boat.Rates.Gas, mean(agree)
	key, now, per := "boat", float64(rates.Boat), 1.0
	if rates.Boat == 0 && w.r.Depart.Crew > 0 {
		key, now, per = "person", float64(rates.Person), float64(w.r.Depart.Crew)
	}
	rate := ceil(now+more/per, 100)
	if rate == now {
		return nil
	}
	why := fmt.Sprintf("%.2f kg %s gas a day than rates.toml has", math.Abs(more), moreOrLess(more > 0))
	return w.propose("rates.toml", why, agree, more < 0, "[gas]", fmt.Sprintf(`%s = "%s kg"`, key, strconv.FormatFloat(rate, 'f', -1, 64)))
}

// burn scales the burn of every row of the curve. Without a curve nothing can be written down: the burn comes of the
// rated power.
func (w weighing) burn() *Proposal {
	agree := w.agreeing(func(r PassageReview) *float64 {
		b := r.burnt()
		fuel := r.Thing(passage.Fuel)
		if b == nil || math.Abs(b.burn-b.planned)*b.hours <= fuel.Error || !apart(b.burn, b.planned) || b.planned <= 0 {
			return nil
		}
		ratio := b.burn/b.planned - 1
		return &ratio
	})
	curve := w.today.Boat.Engine.Curve
	if agree == nil || len(curve) == 0 {
		return nil
	}
	more := mean(agree)
	var lines []string
	for _, row := range curve {
		lines = append(lines, "[[engine.curve]]", fmt.Sprintf("rpm = %d", row.RPM), fmt.Sprintf(`burn = "%.1f L/h"`, ceil(float64(row.Burn)*(1+more), 10)))
	}
	why := fmt.Sprintf("she burnt %.0f %% %s an engine hour than planned; the burn of every row in that measure, the rest of each row as it is; not if the curve was changed since", math.Abs(more)*100, moreOrLess(more > 0))
	return w.propose("boat.toml", why, agree, more < 0, lines...)
}

// made is the speed under sail, as a share of the plan's, and the share of the time under engine that would have given
// this passage's time on the plan's legs; by the hour-meter, charging taken off. nil where any of it is not known.
func (t TimeReview) made(d Definitions, p Sailed) *passage.Case {
	stop := len(d.Plan.Legs) - 1
	expected, named := d.Plan.Cases[passage.Expected]
	if t.Days == nil || !t.AsMeant || t.Case(passage.Expected) == nil || d.Sum != p.Definitions() || !named || stop < 0 {
		return nil
	}
	plan := d.Plan
	plan.Legs = legsFrom(plan.Legs, p.Depart.From)
	if stop = len(plan.Legs) - 1; t.Place != "" && t.Place != p.To() {
		stop = legTo(plan.Legs, t.Place, 0)
	}
	if stop < 0 {
		return nil
	}
	plan.Legs = plan.Legs[:stop+1]
	made := expected
	if t.Engine != nil {
		made.Power = quantity.Share(powerShare(*t.Engine/(*t.Days*dayHours), d.Boat.Engine.Charging.Hours()/dayHours))
	}
	fouling := 1.0
	if p.Sign != nil && p.Sign.Fouling > 0 {
		fouling = p.Sign.Fouling
	}
	takes := func(speed float64) float64 {
		c := made
		c.Speed = speed
		plan.Cases = map[passage.CaseName]passage.Case{passage.Expected: c}
		v := passage.Run(plan, d.Boat.Engine, passage.Expected, p.Depart.At, passage.Trim{Fouling: fouling})
		if !v.Made() {
			return math.Inf(1)
		}
		return v.Hours
	}
	speed, ok := solve(takes, *t.Days*dayHours)
	if !ok {
		return nil
	}
	made.Speed = speed
	return &made
}

// powerShare takes the charging off the hour-meter: E/T = p + c*(1-p), with c the share of a day that is charged.
func powerShare(ran, charging float64) float64 {
	if charging >= 1 {
		return 0
	}
	return min(1, max(0, (ran-charging)/(1-charging)))
}

// solve finds the speed at which a time is taken; the time falls as the speed rises.
func solve(takes func(float64) float64, hours float64) (speed float64, ok bool) {
	low, high := 0.1, 3.0 // beyond them the plan's own speed under sail was no plan
	if takes(low) < hours || takes(high) > hours {
		return 0, false
	}
	for range 60 {
		middle := (low + high) / 2
		if takes(middle) > hours {
			low = middle
		} else {
			high = middle
		}
	}
	return high, true
}

// expected puts the expected case where these passages were.
func (w weighing) expected() *Proposal {
	now, named := w.today.Plan.Cases[passage.Expected]
	if !named || w.r.Time.Made == nil {
		return nil
	}
	agree := w.agreeing(func(r PassageReview) *float64 {
		if r.Time.Made == nil || !apart(r.Time.Made.Speed, now.Speed) {
			return nil
		}
		more := r.Time.Made.Speed - now.Speed
		return &more
	})
	if agree == nil {
		return nil
	}
	made := *w.r.Time.Made
	made.Speed = now.Speed + mean(agree)
	faster := mean(agree) > 0
	why := fmt.Sprintf("she made %.2f of the plan's speed under sail, the expected case has %.2f", made.Speed, now.Speed)
	return w.propose("passage.toml", why, agree, faster, "[cases]", "expected = "+caseLine(made))
}

// slow is made slower where she was slower than slow. It is never made faster.
func (w weighing) slow() *Proposal {
	now, named := w.today.Plan.Cases[passage.Slow]
	slow := w.r.Time.Case(passage.Slow)
	if !named || slow == nil || w.r.Time.Made == nil || w.r.Time.Days == nil || *w.r.Time.Days*dayHours <= slow.Hours*1.02 {
		return nil
	}
	made := *w.r.Time.Made
	if made.Speed >= now.Speed {
		return nil
	}
	made.Power, made.Motor, made.Wait = now.Power, now.Motor, now.Wait
	why := fmt.Sprintf("she took %s, the slow case was %s: slow must be slower than what was met", daysText(*w.r.Time.Days), daysText(slow.Hours/dayHours))
	return w.propose("passage.toml", why, []float64{1}, false, "[cases]", "slow = "+caseLine(made))
}

// caseLine is a case as passage.toml has it, the speed rounded down to the hundredth.
func caseLine(c passage.Case) string {
	text := fmt.Sprintf("{ speed = %.2f", math.Floor(c.Speed*100+1e-9)/100)
	if c.Motor != 1 && c.Motor != 0 {
		text += fmt.Sprintf(", motor = %.2f", c.Motor)
	}
	text += fmt.Sprintf(", power = %.2f", float64(c.Power))
	if c.Wait > 0 {
		text += fmt.Sprintf(`, wait = "%s"`, quantity.FormatDuration(c.Wait))
	}
	return text + " }"
}

// reserves holds back more of what was touched: as much again as was taken of it.
func (w weighing) reserves() []Proposal {
	var list []Proposal
	for _, t := range w.r.Things {
		touched := t.touched()
		if touched <= t.Error || touched == 0 || w.r.Time.CameTrue == "slower than slow" && t.What == passage.Fuel {
			continue
		}
		now := float64(w.today.Boat.Rates.Reserve[t.What].Amount)
		amount := math.Ceil(*t.Reserve + touched)
		if now >= amount {
			continue
		}
		unit := "L"
		if t.What == passage.Gas {
			unit = "kg"
		}
		why := fmt.Sprintf("%s of the reserve of %s were used: with this the same passage would have left it whole", Near(touched, t.What, w.r.Units), provisions.Amount(*t.Reserve).Up(t.What, w.r.Units))
		list = append(list, *w.propose("rates.toml", why, []float64{touched}, false, fmt.Sprintf("[reserve.%s]", t.What), fmt.Sprintf(`amount = "%.0f %s"`, amount, unit)))
	}
	return list
}

// Teaching are the passages to weigh one with: the closed ones before it, the last of them first.
func Teaching(all []Sailed, p Sailed, most int) []Sailed {
	var list []Sailed
	for _, o := range slices.Backward(all) {
		if o.Closed != nil && o.Depart.Seq < p.Depart.Seq && len(list) < most {
			list = append(list, o)
		}
	}
	return list
}
