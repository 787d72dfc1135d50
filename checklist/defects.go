package checklist

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// A defect is open, then repaired and to be proved, then proved; closed, it is no longer in the state.
// A proof that was failed or missed opens it again. All is judged from readings, at each Assess anew.

// DefectState is how far a defect has come.
type DefectState string

// The states of a defect that is not closed.
const (
	DefectOpen    DefectState = "open"
	DefectToProve DefectState = "repaired, to be proved"
	DefectProved  DefectState = "proved"
)

// DefectView is a defect that is not closed, and how it stands.
type DefectView struct {
	Defect
	State   DefectState
	Engine  bool              // it is closed with a proof alone
	Proofs  []machinery.Proof // that the last repair asks for
	Proving machinery.Proving // of the last repair; zero: none, or its cause was not found
	Walk    *machinery.Walk   // its fault card; nil: none is walked, or the files have it no more
	Stops   bool              // she does not go with it
	Asks    bool              // she goes with it only for a reason
	Cap     int               // the revs that it allows now; 0: it caps none
	Why     string            // how it stands, in a sentence
	Clears  string            // what to do next
}

// HasCard says that the defect's card is in the files.
func (v DefectView) HasCard() bool { return v.Walk != nil }

// isEngine says that readings tell whether it is mended: it was seen on the gauges, caps the revs, is walked by a
// card, or asked for proofs once.
func (d Defect) isEngine() bool {
	return d.Card != "" || d.RPM > 0 || len(d.Seen) > 0 || d.Repair != nil && len(d.Repair.Proofs) > 0
}

// isRepaired says that something was found and mended. No cause found is no repair.
func (d Defect) isRepaired() bool { return d.Repair != nil && strings.TrimSpace(d.Repair.Cause) != "" }

// defectViews are the open defects, oldest first; d are the definitions as they are aboard.
func (d Definitions) defectViews(s State, now time.Time) []DefectView {
	views := make([]DefectView, 0, len(s.Defects))
	for _, defect := range s.Defects {
		v := DefectView{Defect: defect, State: DefectOpen, Engine: defect.isEngine()}
		if defect.isRepaired() {
			v.Proofs = defect.Repair.proofs()
			v.Proving = s.prove(*defect.Repair, v.Proofs, now, d.Boat.Units)
			v.State = stateOf(v.Proving.Standing)
		}
		v.Walk = d.walkOf(s, v, now)
		v.judge()
		v.Why, v.Clears = d.defectWhy(v), d.defectClears(v)
		views = append(views, v)
	}
	return views
}

func stateOf(standing machinery.Standing) DefectState {
	switch standing {
	case machinery.ProofPassed:
		return DefectProved
	case machinery.ProofWaiting:
		return DefectToProve
	}
	return DefectOpen
}

// judge says whether she goes with it. What is of no grade known stops her.
func (v *DefectView) judge() {
	if v.State == DefectProved {
		return
	}
	conditional := v.State == DefectToProve && v.Proving.Conditional
	v.Stops = v.Grade != machinery.Limit && v.Grade != machinery.Note && !conditional
	v.Asks = !v.Stops && (v.Grade != machinery.Note || v.isRepaired())
	if !conditional {
		v.Cap = v.RPM
	}
}

// isAgain says that it was repaired, and the proof failed or was missed.
func (v DefectView) isAgain() bool { return v.State == DefectOpen && v.isRepaired() }

// proofs are the proofs as they stand in the record; none, so that nothing proves it, where one cannot be read there.
func (r RepairState) proofs() []machinery.Proof {
	list := make([]machinery.Proof, 0, len(r.Proofs))
	for _, w := range r.Proofs {
		p, err := w.proof()
		if err != nil {
			return nil
		}
		list = append(list, p)
	}
	return list
}

// prove judges a repair by the readings that were written down after it. The first time out after it in which
// something was decided holds for good: what was passed, failed or missed then stays so.
func (s State) prove(r RepairState, proofs []machinery.Proof, now time.Time, units quantity.System) machinery.Proving {
	readings := s.readingsSince(r.Seq, now)
	for _, out := range s.sailingsSince(r.Seq) {
		departed, until := out.from, now
		if departed.Before(r.At) {
			departed = r.At // mended under way
		}
		if !out.to.IsZero() && out.to.Before(now) {
			until = out.to
		}
		proving := machinery.Prove(proofs, readings, r.At, departed, until, units)
		if proving.Standing != machinery.ProofWaiting || out.to.IsZero() {
			return proving
		}
	}
	return machinery.Prove(proofs, readings, r.At, time.Time{}, now, units)
}

// readingsSince are the readings written down after an entry that say anything of how the engine runs.
func (s State) readingsSince(seq int, now time.Time) []machinery.Gauges {
	var list []machinery.Gauges
	for _, r := range s.Readings {
		g := r.gauges()
		tells := g.RPM != nil || g.Coolant != nil || g.Water != ""
		if r.Seq > seq && tells && !r.Doubtful && !r.At.After(now) {
			list = append(list, g)
		}
	}
	return list
}

// outing is a time at sea; to zero: she is still out.
type outing struct{ from, to time.Time }

// sailingsSince are the times at sea that ended after an entry, or last. One whose end was never told ended when she
// left again.
func (s State) sailingsSince(seq int) []outing {
	var list []outing
	for i, sailing := range s.Sailings {
		out, ended := outing{from: sailing.Depart.At}, 0
		switch last := i == len(s.Sailings)-1; {
		case sailing.Arrive != nil:
			out.to, ended = sailing.Arrive.Moment(), sailing.Arrive.Seq
		case !last:
			out.to, ended = s.Sailings[i+1].Depart.At, s.Sailings[i+1].Depart.Seq
		}
		if out.to.IsZero() || ended > seq {
			list = append(list, out)
		}
	}
	return list
}

// card is the fault card of a sign.
func (d Definitions) card(sign string) (machinery.Card, bool) {
	i := slices.IndexFunc(d.Cards, func(c machinery.Card) bool { return c.Sign == sign })
	if i < 0 {
		return machinery.Card{}, false
	}
	return d.Cards[i], true
}

// walkOf is the defect's card with what was seen. What was seen before the defect was opened, or before a repair
// that did not hold, is told and does not count.
func (d Definitions) walkOf(s State, v DefectView, now time.Time) *machinery.Walk {
	card, known := d.card(v.Card)
	if !known {
		return nil
	}
	around := machinery.Around{Now: now, Opened: v.At, AtSea: s.Voyage.UnderWay(), Spares: d.Spares, Tools: d.Tools}
	if v.isAgain() {
		around.Opened, around.Reopened = v.Repair.At, true
	}
	walk := card.Walk(s.stepsOf(card.Sign), around)
	return &walk
}

// stepsOf are the looks taken of a card, whichever defect they were for. Those in doubt do not count.
func (s State) stepsOf(sign string) []machinery.Step {
	var steps []machinery.Step
	for key, step := range s.Steps {
		if key.Card == sign && !step.Doubtful {
			steps = append(steps, machinery.Step{Seq: step.Seq, Look: step.Look, Seen: step.Seen, At: step.At, Note: step.Note})
		}
	}
	slices.SortFunc(steps, func(a, b machinery.Step) int { return cmp.Compare(a.Seq, b.Seq) })
	return steps
}

// defectWhy is how it stands, in a sentence.
func (d Definitions) defectWhy(v DefectView) string {
	said := fmt.Sprintf("defect %d of grade %s, open since %s", v.Seq, v.Grade, d.moment(v.At))
	switch {
	case v.Repair != nil && !v.isRepaired():
		said += "; no cause found: it is not closed"
	case v.isAgain():
		said = fmt.Sprintf("defect %d of grade %s, open again: repaired %s, and the proof was %s: %s%s",
			v.Seq, v.Grade, d.moment(v.Repair.At), v.Proving.Standing, v.Proving.Why, d.readAt(v.Proving.By))
	case v.State == DefectProved:
		said = fmt.Sprintf("defect %d of grade %s, proved: %s%s", v.Seq, v.Grade, v.proved().Why, d.readAt(v.proved().By))
	case v.State == DefectToProve && v.Proving.Conditional:
		said = "unproved repair: " + v.conditionWords() + d.until(v.Proving.Deadline)
	case v.State == DefectToProve:
		said = fmt.Sprintf("defect %d of grade %s, repaired, to be proved: %s", v.Seq, v.Grade, v.Proving.Why)
	}
	switch {
	case v.Cap > 0 && v.State == DefectToProve:
		said += fmt.Sprintf("; until then not above %d rpm, but for the proof", v.Cap)
	case v.Cap > 0:
		said += fmt.Sprintf(", not above %d rpm", v.Cap)
	}
	return said
}

// conditionWords is what is proved, and what she goes to prove.
func (v DefectView) conditionWords() string {
	said := fmt.Sprintf("defect %d of grade %s", v.Seq, v.Grade)
	if v.asksAt(machinery.ProofAtAnchor) {
		said += ", proved at anchor"
	}
	if v.Proving.Deadline.IsZero() {
		return said + "; " + v.Proving.Why
	}
	return said + "; under way: " + v.Proving.Why
}

func (v DefectView) asksAt(at machinery.ProofAt) bool {
	return slices.ContainsFunc(v.Proofs, func(p machinery.Proof) bool { return p.At == at })
}

// proved is the proof that was passed last.
func (v DefectView) proved() machinery.ProofOutcome {
	for _, o := range slices.Backward(v.Proving.Outcomes) {
		if o.By != nil {
			return o
		}
	}
	return machinery.ProofOutcome{Why: v.Proving.Why}
}

func (d Definitions) readAt(g *machinery.Gauges) string {
	if g == nil {
		return ""
	}
	return ", read " + d.moment(g.At)
}

func (d Definitions) until(deadline time.Time) string {
	if deadline.IsZero() {
		return ""
	}
	return "; by " + d.moment(deadline)
}

// defectClears is what to do next about it, with the command where there is one.
func (d Definitions) defectClears(v DefectView) string {
	mended := fmt.Sprintf("hoveshort defect repaired %d CAUSE", v.Seq)
	switch {
	case v.State == DefectProved:
		return fmt.Sprintf("hoveshort defect close %d", v.Seq)
	case v.State == DefectToProve && len(v.Proofs) > 0:
		return d.proofClears(v)
	case v.State == DefectToProve:
		return fmt.Sprintf("try it, then: hoveshort defect close %d WHAT", v.Seq)
	case v.Walk != nil && v.Walk.Stage() == machinery.Looking:
		next, _ := v.Walk.Next()
		return fmt.Sprintf("look at: %s, then: hoveshort step %d; the cause mended, then: %s", next.Words(), v.Seq, mended)
	case v.Walk != nil && v.Walk.Stage() == machinery.CauseFound:
		return fmt.Sprintf("mend what was found, then: %s", mended)
	case v.Walk != nil:
		return fmt.Sprintf("%s; the cause mended, then: %s", v.Walk.Words(), mended)
	case v.Engine:
		return fmt.Sprintf("find the cause and mend it, then: %s", mended)
	}
	clears := fmt.Sprintf("mend it, then: hoveshort defect close %d WHAT", v.Seq)
	if v.Check != "" {
		clears += ", and answer its check again"
	}
	return clears
}

// proofClears is the run that the proof which is waited for wants.
func (d Definitions) proofClears(v DefectView) string {
	for i, o := range v.Proving.Outcomes {
		p := v.Proofs[i]
		decides := v.Proving.Conditional == (p.At == machinery.ProofAtSea)
		if o.Standing != machinery.ProofWaiting || !decides {
			continue
		}
		clears := "run " + p.Wants(d.Boat.Units) + d.where(p, o) + ", then: " + readingFor(p, d.Boat.Units)
		if p.Else != "" && p.At == machinery.ProofAtSea {
			clears += "; else: " + p.Else
		}
		return clears
	}
	return "run it under load, and write down what the gauges say"
}

func (d Definitions) where(p machinery.Proof, o machinery.ProofOutcome) string {
	switch {
	case p.At == machinery.ProofAtAnchor:
		return ", at anchor, in gear"
	case o.Deadline.IsZero() && p.Within > 0:
		return ", under way, within " + quantity.Rough(p.Within) + " of leaving"
	}
	return ", under way" + strings.Replace(d.until(o.Deadline), ";", ",", 1)
}

// readingFor is the command that writes down what a proof wants to see.
func readingFor(p machinery.Proof, units quantity.System) string {
	said := fmt.Sprintf("hoveshort reading rpm=%d minutes=%.0f", p.RPM, p.For.Minutes())
	if p.CoolantMax != nil {
		said += " coolant=" + map[bool]string{true: "…F", false: "…C"}[units == quantity.US]
	}
	if p.At == machinery.ProofAtAnchor {
		said += " under_way=no"
	}
	return said + " water=usual"
}

// rpmCap is the lowest limit on the revs that a defect asks for now; 0: none.
func rpmCap(views []DefectView) int {
	limit := 0
	for _, v := range views {
		if v.Cap > 0 && (limit == 0 || v.Cap < limit) {
			limit = v.Cap
		}
	}
	return limit
}

// stage is the repair and how its proof stands, as it is kept with a reason; "": it was not repaired.
func (v DefectView) stage() string {
	if v.Repair == nil {
		return ""
	}
	return fmt.Sprintf("repair %d %s", v.Repair.Seq, v.State)
}

// AtBase is what waits for the next base: looks of fault cards that are left, faults without a cause found, services,
// what is found and not mended, and parts; d are the definitions as the files have them.
func AtBase(d Definitions, s State, a Assessment) machinery.BaseList {
	forecasts := LookAtEngine(d, s, a).Forecasts
	wants := machinery.Wanted(d.Plan.Kind, d.Now(s).Spares, forecasts)
	var walks []machinery.Walk
	var more []machinery.Errand
	for _, v := range a.Defects {
		if v.State != DefectOpen {
			continue
		}
		if v.Walk != nil {
			walks = append(walks, *v.Walk)
		}
		if job, is := v.errand(); is {
			more = append(more, job)
		}
	}
	return machinery.AtBase(walks, forecasts, wants, more...)
}

// errand is what is to be mended of an open defect; is false where its cause is still looked for with a card.
func (v DefectView) errand() (e machinery.Errand, is bool) {
	why := fmt.Sprintf("defect %d of grade %s", v.Seq, v.Grade)
	if v.isAgain() {
		why += fmt.Sprintf(": the proof was %s: %s", v.Proving.Standing, v.Proving.Why)
	}
	if v.Repair != nil && !v.isRepaired() {
		why += ": no cause found"
	}
	if v.Walk == nil {
		return machinery.Errand{What: "mend: " + v.Title(), Why: []string{why}}, true
	}
	if v.Walk.Stage() != machinery.CauseFound {
		return machinery.Errand{}, false
	}
	return machinery.Errand{What: "mend: " + v.Title(), Why: []string{why + ", " + v.Walk.Words()}}, true
}

// CardFor is the sign of the fault card that fits what a reading was found to be worth; "": none does, or nothing is
// to be looked at. It is offered and never opened by itself.
func (d Definitions) CardFor(j machinery.Judgement) string {
	for _, f := range j.Findings {
		if f.Level < machinery.LevelLook {
			continue
		}
		best, most := "", 0
		for _, c := range d.Cards {
			if n := fits(c.Sign, wordsOf(f)); n > most {
				best, most = c.Sign, n
			}
		}
		if best != "" {
			return best
		}
	}
	return ""
}

// wordsOf are the words by which the card of a finding is known; of smoke its colour tells.
func wordsOf(f machinery.Finding) []string {
	if f.Gauge != machinery.GaugeSmoke {
		return signWords[f.Gauge]
	}
	for _, colour := range []machinery.Smoke{machinery.SmokeBlack, machinery.SmokeWhite, machinery.SmokeBlue} {
		if strings.Contains(f.Words, string(colour)) {
			return []string{string(colour) + " smoke"}
		}
	}
	return nil
}

// signWords are what the sign of a card says where it is about a gauge, the surest first.
var signWords = map[machinery.Gauge][]string{
	machinery.GaugeCoolant: {"coolant", "hot", "warm"},
	machinery.GaugeOil:     {"oil"},
	machinery.GaugeVolts:   {"charg", "volt", "batter"},
	machinery.GaugeRawOut:  {"raw water", "exhaust"},
	machinery.GaugeWater:   {"raw water", "exhaust", "water at"},
	machinery.GaugeSpeed:   {"speed"},
}

func fits(sign string, words []string) int {
	for i, word := range words {
		if strings.Contains(strings.ToLower(sign), word) {
			return len(words) - i
		}
	}
	return 0
}
