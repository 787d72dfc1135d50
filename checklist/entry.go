package checklist

import (
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Kind is what an entry is; the list is closed.
type Kind string

// The kinds of an entry.
const (
	KindCarry   Kind = "carry"
	KindSound   Kind = "sound"
	KindFill    Kind = "fill"
	KindCount   Kind = "count"
	KindCheck   Kind = "check"
	KindEvent   Kind = "event"
	KindReading Kind = "reading"
	KindService Kind = "service"
	KindDefect  Kind = "defect"
	KindStep    Kind = "step"
	KindStow    Kind = "stow"
	KindAccept  Kind = "accept"
	KindSign    Kind = "sign"
	KindDepart  Kind = "depart"
	KindNoon    Kind = "noon"
	KindChange  Kind = "change"
	KindArrive  Kind = "arrive"
	KindClock   Kind = "clock"
	KindCorrect Kind = "correct"
)

// Kinds is the closed list.
var Kinds = []Kind{
	KindCarry, KindSound, KindFill, KindCount, KindCheck, KindEvent, KindReading, KindService, KindDefect, KindStep,
	KindStow, KindAccept, KindSign, KindDepart, KindNoon, KindChange, KindArrive, KindClock, KindCorrect,
}

// Entry is one act, as it stands in the record for ever.
type Entry struct {
	Seq int       // 1, 2, 3 … over all pages
	At  time.Time // to the second, with its offset
	By  string    // who, where more than one is aboard
	Act Act
	Sum string // the record's sum over it and all before, hex; "" until it is written
}

// Act is what was done. The field tags are the names in the record; a field
// left at its zero value is not written.
type Act interface {
	Kind() Kind
}

// Carry brings the state forward to a new page: the entries that still count, the
// defects that are open, and what their neighbours had told about the clock.
type Carry struct {
	Kept     []Entry         `toml:"kept"`
	Defects  []CarriedDefect `toml:"defects"`
	Doubtful []int           `toml:"doubtful"` // of both: their time is in doubt
	Trusted  time.Time       `toml:"trusted"`  // the last time that was not
	Doubt    string          `toml:"doubt"`    // why the clock is in doubt; "": it is not
}

// CarriedDefect is an open defect, with the number and the moment of its opening.
type CarriedDefect struct {
	Seq   int             `toml:"seq"`
	At    time.Time       `toml:"at"`
	By    string          `toml:"by"`
	Sum   string          `toml:"sum"`
	Check string          `toml:"check"`
	What  string          `toml:"what"`
	Grade machinery.Grade `toml:"grade"`
	RPM   int             `toml:"rpm"`
	Card  string          `toml:"card"`
	Seen  []ReadingValue  `toml:"seen"`
}

// Sound is the level of a tank as it was read.
type Sound struct {
	Tank  string `toml:"tank"`
	Level string `toml:"level"` // as typed: "62 %", "140 L", "120 mm", "full"
}

// Fill is what went into a tank: from ashore, or from another tank.
type Fill struct {
	Tank   string `toml:"tank"`
	Amount string `toml:"amount"` // as typed: "40 L", "5 kg"; "full" is filled to the brim
	From   string `toml:"from"`   // the tank it came from; "": from ashore
}

// Count is the packs of a food that are there. With a date or a place it is
// that lot alone; without, all lots of the food together.
type Count struct {
	Food       string        `toml:"food"`
	Packs      float64       `toml:"packs"`
	BestBefore quantity.Date `toml:"best_before"`
	UseBy      quantity.Date `toml:"use_by"`
	Bought     quantity.Date `toml:"bought"`
	Place      string        `toml:"place"`

	Did CountWord `toml:"did"` // how Packs came about; "": they were counted
	Of  float64   `toml:"of"`  // how many came or went; Packs is what is there since
}

// CountWord is what was done with packs of a food, or with some of a consumable.
type CountWord string

// What may be done. What the rations eat is taken off by itself and is no act.
const (
	PacksBought CountWord = "bought"
	PacksUsed   CountWord = "used" // beside the rations
	PacksThrown CountWord = "thrown away"
)

// CountWords are all of them.
var CountWords = []CountWord{PacksBought, PacksUsed, PacksThrown}

// AnswerWord is one of the four answers to a check, or the closing of a section.
type AnswerWord string

// The answers. Reading checks are right or not by their value.
const (
	Right        AnswerWord = "right"
	NotRight     AnswerWord = "not right"
	CouldNotLook AnswerWord = "could not look"
	NotAboard    AnswerWord = "not aboard"
	SectionDone  AnswerWord = "section done"
)

// Answer answers a check, or closes a section of a round.
type Answer struct {
	Check   string          `toml:"check"`
	Round   string          `toml:"round"`   // of a section's closing
	Section string          `toml:"section"` // of a section's closing
	Answer  AnswerWord      `toml:"answer"`
	Value   *quantity.Any   `toml:"value"` // of a reading
	Say     string          `toml:"say"`   // the word of evidence
	Why     string          `toml:"why"`   // the skipper's words where it is not right
	Grade   machinery.Grade `toml:"grade"` // of the defect that not right opens
}

// Event is something that happened and may void answers.
type Event struct {
	What string `toml:"what"`
}

// Reading is what the gauges said, any of them; it is kept as typed.
type Reading struct {
	Values  []ReadingValue `toml:"values"`
	Minutes float64        `toml:"minutes"` // at these revs
	Moored  bool           `toml:"moored"`  // not under way
	Sails   string         `toml:"sails"`   // up | down
	Water   string         `toml:"water"`   // at the exhaust: usual | little | none | steam
	Smoke   string         `toml:"smoke"`   // none | black | white | blue
	Note    string         `toml:"note"`
}

// ReadingValue is one gauge and what it said.
type ReadingValue struct {
	Of    string       `toml:"of"`
	Value quantity.Any `toml:"value"`
}

// DefectAct opens a defect, tells more of one, or closes it. Seq of the opening entry is
// its number.
type DefectAct struct {
	What  string          `toml:"what"`
	Grade machinery.Grade `toml:"grade"` // with Of: graded anew; "": as before
	RPM   int             `toml:"rpm"`   // a limit on the revs; 0: none
	Card  string          `toml:"card"`  // the sign of the fault card that is walked for it
	Seen  []ReadingValue  `toml:"seen"`  // what the gauges said when it was seen
	Of    int             `toml:"of"`    // the defect of which more is told; 0: it opens one, or closes one
	Close int             `toml:"close"`
	Why   string          `toml:"why"` // what was done or found

	Repaired bool          `toml:"repaired"` // with Of: mended, to be proved from here on
	Cause    string        `toml:"cause"`    // what it was
	Proofs   []ProofWanted `toml:"proof"`
	Parts    []PartTaken   `toml:"parts"`
	Planned  float64       `toml:"planned"` // minutes the repair was thought to take; 0: not told
	Minutes  float64       `toml:"minutes"` // that it took; 0: not told
}

// ProofWanted is what a repair must show in readings, as it stands in the record.
type ProofWanted struct {
	At         machinery.ProofAt `toml:"at"`
	Within     string            `toml:"within"` // of the departure: "2 h"; "": no deadline
	RPM        int               `toml:"rpm"`
	For        string            `toml:"for"`         // "15 min"
	CoolantMax string            `toml:"coolant_max"` // "84 °C"; "": none asked for
	Else       string            `toml:"else"`        // what is done when it is not passed
}

// StepTaken is one look of a fault card, and what came of it.
type StepTaken struct {
	Defect int            `toml:"defect"`
	Card   string         `toml:"card"` // its sign
	Look   string         `toml:"look"` // as machinery.Card.Names has it
	Seen   machinery.Seen `toml:"seen"`
	Note   string         `toml:"note"`
}

// ServiceDone is a service that was done.
type ServiceDone struct {
	Service string        `toml:"service"`
	Date    quantity.Date `toml:"date"`    // zero: the day of the entry
	Hours   float64       `toml:"hours"`   // of the hour-meter then; 0: as it was last read
	Minutes float64       `toml:"minutes"` // that it took; 0: not told
	Planned float64       `toml:"planned"` // minutes, as the files then had it; 0: not told
	Parts   []PartTaken   `toml:"parts"`
	Note    string        `toml:"note"`
}

// PartTaken is what was taken of a spare, and where the old one went.
type PartTaken struct {
	Spare string `toml:"spare"`
	Place string `toml:"place"`
	Count int    `toml:"count"`
	Old   string `toml:"old"` // the place in which it is kept; "": thrown away, or there was none
}

// Stow is a spare or a tool that came, went, was moved, or was found to be otherwise
// than was thought.
type Stow struct {
	Spare     string              `toml:"spare"` // one of the two
	Tool      string              `toml:"tool"`
	Did       StowWord            `toml:"did"`
	Count     int                 `toml:"count"`
	From      string              `toml:"from"` // a place; "": from ashore, or told by the rest
	To        string              `toml:"to"`
	Condition machinery.Condition `toml:"condition"`
	Fit       machinery.Fit       `toml:"fit"`
	Has       []string            `toml:"has"`    // the parts of the kit that are there
	Beside    bool                `toml:"beside"` // found: those of another condition that lie there stay as they are
	State     machinery.ToolState `toml:"state"`  // of a tool
	Old       string              `toml:"old"`    // the place in which the old part is kept; "": thrown away, or there was none
	Note      string              `toml:"note"`

	Dated string        `toml:"dated"` // dated gear, instead of a spare or a tool: renewed
	Until quantity.Date `toml:"until"` // its new end
}

// StowWord is what was done with it.
type StowWord string

// What may be done with a spare or a tool; a tool is not used up.
const (
	Bought StowWord = "bought" // Count of it came aboard, to To
	UsedUp StowWord = "used"   // Count of it was taken from From
	Moved  StowWord = "moved"  // Count of it went from From to To
	Lent   StowWord = "lent"   // Count of it left her from From, to whom the note says
	Back   StowWord = "back"   // Count of it came back, to To
	Found  StowWord = "found"  // at To there are Count of it, like this: a look into the locker
)

// Accept is a caution accepted for the next sign-off alone, in the skipper's words.
type Accept struct {
	Caution string `toml:"caution"` // its id
	Why     string `toml:"why"`
	Said    string `toml:"said"` // of what can become worse: how it was told; become worse, it wants another reason
}

// ClockSettled says that the clock is right from here on.
type ClockSettled struct {
	Why string `toml:"why"`
}

// Correct takes entry Of as never written.
type Correct struct {
	Of  int    `toml:"of"`
	Why string `toml:"why"`
}

// Sign is the sign-off: all that was known, frozen.
type Sign struct {
	Name        string            `toml:"name"`
	Boat        string            `toml:"boat"`
	Passage     string            `toml:"passage"`
	PassageKind passage.Kind      `toml:"passage_kind"`
	Depart      time.Time         `toml:"depart"`
	Moved       bool              `toml:"moved"` // the departure was moved at signing
	Definitions string            `toml:"definitions"`
	Verdict     string            `toml:"verdict"`
	Crew        int               `toml:"crew"`
	Fouling     float64           `toml:"fouling"`
	Walk        string            `toml:"walk"` // "11 critical checks in 19 s"
	Cases       []SignedCase      `toml:"cases"`
	Resources   []SignedResource  `toml:"resources"`
	Tanks       []SignedTank      `toml:"tanks"`
	Answers     []SignedAnswer    `toml:"answers"`
	Readings    []ReadingValue    `toml:"readings"`
	Exceptions  []SignedException `toml:"exceptions"`
	NotLooked   []string          `toml:"not_looked"`
	Uncovered   []string          `toml:"uncovered"`
	Critical    []string          `toml:"critical"` // what was critical, as criticality lists it
	Reserves    []SignedReserve   `toml:"reserves"`
}

// SignedCase is one case as it was promised.
type SignedCase struct {
	Case        string    `toml:"case"`
	Made        bool      `toml:"made"`
	Hours       float64   `toml:"hours"`
	EngineHours float64   `toml:"engine_hours"`
	Fuel        float64   `toml:"fuel_l"`
	Water       float64   `toml:"water_l"`
	Gas         float64   `toml:"gas_kg"`
	Arrive      time.Time `toml:"arrive"`
}

// SignedResource is one stretch of one thing as it was promised.
type SignedResource struct {
	What      string  `toml:"what"`
	From      string  `toml:"from"`
	To        string  `toml:"to"`
	Available float64 `toml:"available"`
	Need      float64 `toml:"need"`
	Reserve   float64 `toml:"reserve"`
	Short     float64 `toml:"short"`
	Endurance float64 `toml:"endurance_days"` // -1: never ends
	Margin    float64 `toml:"margin_days"`
	Bought    bool    `toml:"bought"`
}

// SignedTank is a tank as it stood.
type SignedTank struct {
	Tank  string    `toml:"tank"`
	Level string    `toml:"level"`
	At    time.Time `toml:"at"`
}

// SignedAnswer is an answer as it stood.
type SignedAnswer struct {
	Check  string        `toml:"check"`
	Answer AnswerWord    `toml:"answer"`
	Value  *quantity.Any `toml:"value"`
	Say    string        `toml:"say"`
	At     time.Time     `toml:"at"`
}

// SignedException is a caution that was accepted, and for how many sign-offs running.
type SignedException struct {
	ID      string `toml:"id"`
	Caution string `toml:"caution"`
	Why     string `toml:"why"`
	Running int    `toml:"running"`
}

// SignedReserve is a reserve as the definitions asked for it.
type SignedReserve struct {
	What            string  `toml:"what"`
	Days            float64 `toml:"days"`
	ShareOfNeed     float64 `toml:"share_of_need"`
	ShareOfCapacity float64 `toml:"share_of_capacity"`
	Amount          float64 `toml:"amount"`
}

// Kind is KindCarry.
func (Carry) Kind() Kind { return KindCarry }

// Kind is KindSound.
func (Sound) Kind() Kind { return KindSound }

// Kind is KindFill.
func (Fill) Kind() Kind { return KindFill }

// Kind is KindCount.
func (Count) Kind() Kind { return KindCount }

// Kind is KindCheck.
func (Answer) Kind() Kind { return KindCheck }

// Kind is KindEvent.
func (Event) Kind() Kind { return KindEvent }

// Kind is KindReading.
func (Reading) Kind() Kind { return KindReading }

// Kind is KindDefect.
func (DefectAct) Kind() Kind { return KindDefect }

// Kind is KindStep.
func (StepTaken) Kind() Kind { return KindStep }

// Kind is KindService.
func (ServiceDone) Kind() Kind { return KindService }

// Kind is KindStow.
func (Stow) Kind() Kind { return KindStow }

// Kind is KindAccept.
func (Accept) Kind() Kind { return KindAccept }

// Kind is KindSign.
func (Sign) Kind() Kind { return KindSign }

// Kind is KindClock.
func (ClockSettled) Kind() Kind { return KindClock }

// Kind is KindCorrect.
func (Correct) Kind() Kind { return KindCorrect }
