package checklist

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// freshReading is how old a reading may be and still be what was seen with a defect.
const freshReading = time.Hour

// DefectInput is what was typed of a defect.
type DefectInput struct {
	What  string
	Grade machinery.Grade
	RPM   int    // a limit on the revs; 0: none
	Card  string // the sign of its fault card; "": none
	Seen  bool   // the latest reading belongs to it; with a card or a limit on the revs it does anyway
}

// NewDefect opens a defect. Nothing is taken for granted: the grade is the skipper's.
func (d Definitions) NewDefect(s State, in DefectInput, now time.Time) (DefectAct, error) {
	a := DefectAct{What: strings.TrimSpace(in.What), Grade: in.Grade, RPM: in.RPM, Card: strings.TrimSpace(in.Card)}
	if a.What == "" {
		return DefectAct{}, refuse("what is wrong was not said", `say it in a few words, like "coolant a little high"`)
	}
	if err := checkText("defect", a.What); err != nil {
		return DefectAct{}, err
	}
	if i := slices.IndexFunc(s.Defects, func(o Defect) bool { return strings.EqualFold(o.What, a.What) }); i >= 0 {
		return DefectAct{}, refuse(fmt.Sprintf("defect %d is that already, open since %s", s.Defects[i].Seq, d.moment(s.Defects[i].At)),
			fmt.Sprintf("see it: hoveshort defect %d", s.Defects[i].Seq))
	}
	if err := d.checkGrade(a.Grade, a.RPM); err != nil {
		return DefectAct{}, err
	}
	if err := d.checkCard(a.Card); err != nil {
		return DefectAct{}, err
	}
	if in.Seen || a.Card != "" || a.RPM > 0 {
		a.Seen = s.seenNow(now)
	}
	if in.Seen && len(a.Seen) == 0 {
		return DefectAct{}, refuse("no reading of the last hour is kept", "write it down first: hoveshort reading rpm=… coolant=…")
	}
	return a, nil
}

// seenNow are the gauges as read in the last hour.
func (s State) seenNow(now time.Time) []ReadingValue {
	i := s.latestReading(now)
	if i < 0 || now.Sub(s.Readings[i].At) > freshReading {
		return nil
	}
	return slices.Clone(s.Readings[i].Values)
}

// leastCap is as low as an engine is held under load. Common practice, no source.
const leastCap = 600

func (d Definitions) checkGrade(grade machinery.Grade, rpm int) error {
	if !slices.Contains([]machinery.Grade{machinery.Stop, machinery.Limit, machinery.Note}, grade) {
		said := "how far it stops her was not said"
		if grade != "" {
			said = fmt.Sprintf("%q is no grade", clip(string(grade)))
		}
		return refuse(said, "stop: she does not go; limit: she goes, with a reason, and maybe less revs; note: it is only kept in mind")
	}
	if rpm == 0 {
		return nil
	}
	if grade == machinery.Note {
		return refuse("what caps the revs is more than a note", "grade limit, or stop")
	}
	if most := d.Boat.Engine.RatedRPM; rpm < leastCap || most > 0 && rpm > most {
		return refuse(fmt.Sprintf("%d rpm is no limit for this engine", rpm), fmt.Sprintf("write %d to %d", leastCap, most))
	}
	return nil
}

func (d Definitions) checkCard(sign string) error {
	if sign == "" {
		return nil
	}
	if _, known := d.card(sign); known {
		return nil
	}
	signs := d.CardSigns()
	if len(signs) == 0 {
		return refuse("the boat folder has no fault cards", "write one in faults/, or leave the card out")
	}
	return unknown("fault card", sign, signs)
}

// CardSigns are the signs of the fault cards, in the files' order.
func (d Definitions) CardSigns() []string {
	signs := make([]string, len(d.Cards))
	for i, c := range d.Cards {
		signs[i] = c.Sign
	}
	return signs
}

// Defect finds a defect that is not closed by its number, or says which there are.
func (a Assessment) Defect(number int) (DefectView, error) {
	i := slices.IndexFunc(a.Defects, func(v DefectView) bool { return v.Seq == number })
	if i >= 0 {
		return a.Defects[i], nil
	}
	if len(a.Defects) == 0 {
		return DefectView{}, refuse(fmt.Sprintf("no defect has the number %d", number), "no defect is open")
	}
	var open []string
	for _, v := range a.Defects {
		open = append(open, fmt.Sprintf("%d (%s)", v.Seq, v.Title()))
	}
	return DefectView{}, refuse(fmt.Sprintf("no open defect has the number %d", number), "open are "+strings.Join(open, ", "))
}

// gradeRank orders the grades: the more it stops her the higher.
var gradeRank = map[machinery.Grade]int{machinery.Note: 1, machinery.Limit: 2, machinery.Stop: 3}

// NewDefectMore tells more of a defect: a graver grade, another limit on the revs, its fault card. Nothing of it
// makes her readier: a defect gets less grave by its repair and its proof alone.
func (d Definitions) NewDefectMore(a Assessment, number int, in DefectInput, why string) (DefectAct, error) {
	v, err := a.Defect(number)
	if err != nil {
		return DefectAct{}, err
	}
	more := DefectAct{What: v.Title(), Of: number, Grade: in.Grade, RPM: in.RPM, Card: strings.TrimSpace(in.Card), Why: strings.TrimSpace(why)}
	if more.Grade == "" && more.RPM == 0 && more.Card == "" {
		return DefectAct{}, refuse("nothing new was said of it", "its grade, a limit on the revs, or its fault card")
	}
	grade := more.Grade
	if grade == "" {
		grade = v.Grade
	}
	if err := d.checkGrade(grade, more.RPM); err != nil {
		return DefectAct{}, err
	}
	switch {
	case gradeRank[grade] < gradeRank[v.Grade]:
		return DefectAct{}, refuse(fmt.Sprintf("defect %d is of grade %s, and is not graded down", number, v.Grade),
			fmt.Sprintf("repair it, then prove it; if it was graded wrongly: hoveshort correct %d REASON, and open it again", number))
	case v.RPM > 0 && more.RPM > v.RPM:
		return DefectAct{}, refuse(fmt.Sprintf("defect %d allows %d rpm, and no more before it is repaired", number, v.RPM), "repair it, then prove it")
	}
	if err := d.checkCard(more.Card); err != nil {
		return DefectAct{}, err
	}
	return more, checkText("reason", more.Why)
}

// RepairInput is what was typed of a repair.
type RepairInput struct {
	Number           int
	Cause            string // what it was
	Why              string // what was done
	Parts            []PartTaken
	Old              string   // the place in which old parts are kept, where a part does not say it
	Planned, Minutes float64  // 0: not told
	Proofs           []string // as ParseProof reads them; "usual": those that are proposed
}

// UsualWord takes the proofs that are proposed.
const UsualWord = "usual"

// NewRepair says that a defect is repaired, to be proved. It wants the cause: what was not found is not mended.
// What readings can tell of wants proofs; of grade stop one at anchor.
func (d Definitions) NewRepair(s State, a Assessment, in RepairInput) (DefectAct, error) {
	v, err := a.Defect(in.Number)
	if err != nil {
		return DefectAct{}, err
	}
	act := DefectAct{
		What: v.Title(), Of: v.Seq, Repaired: true, Cause: strings.TrimSpace(in.Cause), Why: strings.TrimSpace(in.Why), Planned: in.Planned, Minutes: in.Minutes,
	}
	if err := checkCause(act); err != nil {
		return DefectAct{}, err
	}
	if !isTimeTaken(act.Minutes) || !isTimeTaken(act.Planned) {
		return DefectAct{}, refuse("it cannot have taken that long", fmt.Sprintf("write 0 to %d minutes", mostMinutes))
	}
	if act.Proofs, err = d.proofsTyped(v, in.Proofs); err != nil {
		return DefectAct{}, err
	}
	if act.Parts, err = d.Now(s).takeParts(in.Parts, in.Old, act.What); err != nil {
		return DefectAct{}, err
	}
	return act, nil
}

func isTimeTaken(minutes float64) bool { return minutes >= 0 && minutes <= mostMinutes }

// noCauses are the ways to say that nothing was found, without capitals and stops.
var noCauses = []string{
	"", "none", "nothing", "nothing found", "nothing was found", "found nothing", "not found", "not found yet", "unknown", "not known", "not known yet",
	"no cause", "no cause found", "no cause found yet", "no cause was found", "cause not found", "cause not found yet", "cause not known", "cause unknown", "unknown cause",
	"no idea", "do not know", "don't know", "i do not know", "i don't know", "not sure", "n/a", "na",
}

// isNoCause says that the words tell of no cause, however they are written: "No cause found." too.
func isNoCause(said string) bool {
	bare := strings.FieldsFunc(strings.ToLower(strings.ReplaceAll(said, "’", "'")), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\'' && r != '/'
	})
	return slices.Contains(noCauses, strings.Join(bare, " "))
}

func checkCause(act DefectAct) error {
	if isNoCause(act.Cause) {
		return refuse("no cause found is not closed: it stays open, and goes on the list of the base (hoveshort base)",
			"say what it was; of a gauge that was wrong say that, and prove it with the right one")
	}
	if err := checkText("cause", act.Cause); err != nil {
		return err
	}
	return checkText("repair", act.Why)
}

// proofsTyped are the proofs that were asked for.
func (d Definitions) proofsTyped(v DefectView, typed []string) ([]ProofWanted, error) {
	var list []ProofWanted
	for _, text := range typed {
		if strings.TrimSpace(text) == UsualWord {
			list = append(list, d.UsualProofs()...)
			continue
		}
		p, err := d.ParseProof(text)
		if err != nil {
			return nil, err
		}
		list = append(list, p)
	}
	atAnchor := slices.ContainsFunc(list, func(p ProofWanted) bool { return p.At == machinery.ProofAtAnchor })
	switch {
	case len(list) == 0 && v.Engine:
		return nil, refuse(fmt.Sprintf("how the repair of defect %d is to be proved was not said", v.Seq), d.proofCure())
	case len(list) > 0 && v.Grade == machinery.Stop && !atAnchor:
		return nil, refuse(fmt.Sprintf("defect %d is of grade stop: it wants a proof at anchor, before she leaves", v.Seq), d.proofCure())
	}
	return list, nil
}

// ProofExample is a proof as it is typed, in the unit of the boat's gauge.
func (d Definitions) ProofExample() string {
	if d.Boat.Units == quantity.US {
		return "anchor 2300 rpm 15 min 183 F"
	}
	return "anchor 2300 rpm 15 min 84 C"
}

// proofCure tells what may be typed.
func (d Definitions) proofCure() string {
	cure := fmt.Sprintf("write it like %q", d.ProofExample())
	if usual := d.UsualProofs(); len(usual) > 0 {
		var texts []string
		for _, p := range usual {
			texts = append(texts, p.Text())
		}
		cure += "; usual is: " + strings.Join(texts, ", and ")
	}
	return cure
}

// NewDefectClosing closes a defect. One that readings tell of is closed once it is proved; others with what was
// done or found.
func (a Assessment) NewDefectClosing(number int, why string) (DefectAct, error) {
	v, err := a.Defect(number)
	if err != nil {
		return DefectAct{}, err
	}
	why = strings.TrimSpace(why)
	if v.Engine && v.State != DefectProved {
		return DefectAct{}, v.notClosed()
	}
	if v.State == DefectProved && why == "" {
		why = v.Repair.Cause + because(v.Repair.Why)
	}
	if why == "" {
		return DefectAct{}, refuse("a defect is closed with what was done or found", "say it in a few words")
	}
	return DefectAct{What: v.What, Close: number, Why: why}, checkText("reason", why)
}

// notClosed is why a defect is not closed yet.
func (v DefectView) notClosed() error {
	switch {
	case v.Repair == nil:
		return refuse(fmt.Sprintf("defect %d is not repaired yet, so it is not closed", v.Seq), v.Clears)
	case !v.isRepaired():
		return refuse(fmt.Sprintf("no cause of defect %d was found: it is not closed, it goes on the list of the base", v.Seq), v.Clears)
	case v.isAgain():
		return refuse(fmt.Sprintf("defect %d is open again: %s", v.Seq, v.Proving.Why), v.Clears)
	}
	return refuse(fmt.Sprintf("the repair of defect %d is not proved yet: %s", v.Seq, v.Proving.Why), v.Clears)
}

// StepInput is what was typed of a look.
type StepInput struct {
	Number int
	Look   string // its number on the card, its name, or a part of it that no other has
	Seen   machinery.Seen
	Note   string
}

// SeenWords are what may come of a look.
var SeenWords = []machinery.Seen{machinery.FoundClean, machinery.FoundBad, machinery.CouldNotLook, machinery.NotYet}

// NewStep is one look of a defect's fault card, and what came of it.
func (a Assessment) NewStep(in StepInput) (StepTaken, error) {
	v, err := a.Defect(in.Number)
	switch {
	case err != nil:
		return StepTaken{}, err
	case v.Card == "":
		return StepTaken{}, refuse(fmt.Sprintf("no fault card is walked for defect %d", v.Seq), fmt.Sprintf("hoveshort defect more %d --card SIGN", v.Seq))
	case v.Walk == nil:
		return StepTaken{}, refuse(fmt.Sprintf("the boat folder has no fault card %q any more", clip(v.Card)), fmt.Sprintf("hoveshort defect more %d --card SIGN", v.Seq))
	case !slices.Contains(SeenWords, in.Seen):
		return StepTaken{}, refuse("what came of the look was not said", "clean, bad, could not look or not yet")
	}
	look, err := v.Walk.Find(in.Look)
	if err != nil {
		return StepTaken{}, err
	}
	step := StepTaken{Defect: v.Seq, Card: v.Card, Look: look, Seen: in.Seen, Note: strings.TrimSpace(in.Note)}
	return step, checkText("note", step.Note)
}

// The usual proof: at anchor at cruising revs, then under way soon after leaving. The degrees above the clean curve
// are those from which a reading is worth a look (design 4.13); minutes and hours are the design's example, common
// practice, no source.
const (
	usualAtAnchor = 15 * time.Minute
	usualAtSea    = 45 * time.Minute
	usualWithin   = "2 h"

	crumbOfDegree = 1e-9 // of floating point; the limit itself is rounded down to the degree that a gauge shows
)

// UsualProofs are the two stages that are proposed for a repair of this engine; none where it has no cruising revs.
func (d Definitions) UsualProofs() []ProofWanted {
	rpm := d.Boat.Engine.CruiseRPM
	if rpm <= 0 {
		return nil
	}
	coolant := ""
	if normal, known := d.Boat.Engine.CoolantAt(rpm); known {
		coolant = wholeDegrees(float64(normal)+float64(machinery.DefaultLimits().Look), d.Boat.Units)
	}
	return []ProofWanted{
		{At: machinery.ProofAtAnchor, RPM: rpm, For: minutesText(usualAtAnchor), CoolantMax: coolant},
		{At: machinery.ProofAtSea, Within: usualWithin, RPM: rpm, For: minutesText(usualAtSea), CoolantMax: coolant, Else: "turn back, or go on under sail, and look again"},
	}
}

// wholeDegrees is a limit given in °C, rounded down to a whole degree of the boat's gauge.
func wholeDegrees(celsius float64, units quantity.System) string {
	if units == quantity.US {
		return fmt.Sprintf("%.0f °F", math.Floor(celsius*9/5+32+crumbOfDegree))
	}
	return fmt.Sprintf("%.0f °C", math.Floor(celsius+crumbOfDegree))
}

func minutesText(d time.Duration) string { return fmt.Sprintf("%.0f min", d.Minutes()) }
