package checklist

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// State is what the record's entries add up to.
type State struct {
	Last     Stamp // of the last entry; zero: none yet
	Clock    Clock
	Tanks    map[string]TankState     // by tank
	Counts   map[string][]CountState  // by food, as they came: those that still tell something, see standing
	Answers  map[string]AnswerState   // by check
	Closed   map[string]Stamp         // sections closed, by SectionKey
	Events   map[string]Stamp         // by what happened, the latest
	Readings []ReadingState           // oldest first; those of the last 90 days, 200 at the most
	Defects  []Defect                 // open ones, oldest first
	Services map[string]ServiceState  // by service, the latest done
	Jobs     []JobState               // services done, oldest first; 50 at the most
	Stows    []StowState              // what was done with spares and tools, oldest first, but for what a later look settled
	Accepted map[string]AcceptedState // by caution, since the last sign-off
	Signed   *SignState               // the latest sign-off
	Steps    map[StepKey]StepState    // looks taken, the last of each look of a card, whichever defect it was for
	Voyage   *Voyage                  // the passage she is on, or was on last; nil: none was told
	Sailings []Sailing                // departures and arrivals, oldest first; the last few
}

// Stamp is which entry it was, and when. Doubtful: its time cannot be trusted.
type Stamp struct {
	Seq      int
	At       time.Time
	By       string
	Sum      string // of the record over it, hex; its first eight digits stand for it on paper
	Doubtful bool
}

func (e Entry) stamp() Stamp { return Stamp{Seq: e.Seq, At: e.At, By: e.By, Sum: e.Sum} }

// Clock is what the entries say of the boat's clock.
type Clock struct {
	Trusted time.Time // of the last entry whose time was not in doubt, or of the settling
	Doubt   string    // why entries since are in doubt; "": they are not
}

// TankState is the last sounding of a tank and what was filled since.
type TankState struct {
	Stamp // of the sounding or of the filling to the brim; zero: none, the opening level stands
	Level string
	Moves []Move

	History []Gauging // soundings and what was moved, oldest first; the last 24 soundings
}

// Move is an amount that went in, or out to another tank.
type Move struct {
	Stamp
	Amount string // as typed
	Out    bool
}

// CountState is a count that still stands.
type CountState struct {
	Stamp
	Count
}

// AnswerState is the last answer to a check.
type AnswerState struct {
	Stamp
	Answer
}

// ReadingState is a reading that was kept.
type ReadingState struct {
	Stamp
	Reading
}

// ServiceState is a service as it was last done. Its date is that of the entry where none was told.
type ServiceState struct {
	Stamp
	ServiceDone
}

// JobState is a job that was done, with the time planned and the time it took.
type JobState struct {
	Stamp
	machinery.Job
}

// StowState is what was done with a spare or a tool; a part that a service took is one used.
type StowState struct {
	Stamp
	Stow
}

// AcceptedState is a caution accepted and why.
type AcceptedState struct {
	Stamp
	Why  string
	Said string // of something loosened: how it was told
}

// SignState is a sign-off and when it was made.
type SignState struct {
	Stamp
	Sign
}

// Defect is something that is not right and not closed.
type Defect struct {
	Stamp        // of the entry that opened it; Seq is its number
	Check string // the check that found it; "": none
	What  string
	Grade machinery.Grade
	RPM   int            // a limit on the revs; 0: none
	Card  string         // the sign of the fault card that is walked for it; "": none
	Seen  []ReadingValue // what the gauges said when it was seen

	Repair *RepairState // the last; nil: not mended yet
}

// RepairState is a repair and when it was told.
type RepairState struct {
	Stamp
	Cause  string
	Why    string // what was done
	Proofs []ProofWanted
	Parts  []PartTaken
}

// StepKey names a look of a card.
type StepKey struct{ Card, Look string }

// StepState is the last that was said of a look.
type StepState struct {
	Stamp
	StepTaken
}

// keepReadings is how long readings stay in the state; more than the 60 days that
// the fouling factor looks back, so that a page's carry loses nothing it needs.
const (
	keepReadings = 90 * 24 * time.Hour
	mostReadings = 200
)

// mostJobs is how many jobs done make the skipper's pace: the last year or so of them.
const mostJobs = 50

// farAhead is how far the clock may run on between two entries before it is told.
const farAhead = 30 * 24 * time.Hour

// SectionKey names a section of a round in State.Closed.
func SectionKey(round, section string) string { return round + " / " + section }

// Fold adds the entries up. A Carry stands for all before it; an entry that a
// later Correct names counts as never written. The order is that of Seq.
func Fold(entries []Entry) State {
	s := newState()
	struck := Struck(entries)
	for _, e := range entries {
		_, brought := e.Act.(Carry)
		if brought || !struck[e.Seq] { // what a page brought forward cannot be struck
			s.add(e)
		}
	}
	s.pruneReadings()
	s.pruneStows()
	if len(s.Defects) == 0 {
		s.Defects = nil // the same state is the same value
	}
	return s
}

func newState() State {
	return State{
		Tanks:    map[string]TankState{},
		Counts:   map[string][]CountState{},
		Answers:  map[string]AnswerState{},
		Closed:   map[string]Stamp{},
		Events:   map[string]Stamp{},
		Services: map[string]ServiceState{},
		Accepted: map[string]AcceptedState{},
		Steps:    map[StepKey]StepState{},
	}
}

// Struck finds the entries taken as never written. It goes backward, so that a
// correction that was itself corrected strikes nothing.
func Struck(entries []Entry) map[int]bool {
	struck := map[int]bool{}
	for _, e := range slices.Backward(entries) {
		if c, is := e.Act.(Correct); is && !struck[e.Seq] {
			struck[c.Of] = true
		}
	}
	return struck
}

func (s *State) add(e Entry) {
	if carry, is := e.Act.(Carry); is {
		s.carry(e, carry)
		return
	}
	stamp := e.stamp()
	stamp.Doubtful = s.judgeClock(e)
	s.Last = stamp
	s.apply(stamp, e.Act)
}

// carry starts the state anew from what a page brought forward.
func (s *State) carry(e Entry, c Carry) {
	*s = newState()
	for _, kept := range c.Kept {
		stamp := kept.stamp()
		stamp.Doubtful = slices.Contains(c.Doubtful, kept.Seq)
		s.apply(stamp, kept.Act)
	}
	s.Defects = nil // those that the answers opened may be closed: the open ones are told
	for _, d := range c.Defects {
		stamp := Stamp{Seq: d.Seq, At: d.At, By: d.By, Sum: d.Sum, Doubtful: slices.Contains(c.Doubtful, d.Seq)}
		s.Defects = append(s.Defects, Defect{Stamp: stamp, Check: d.Check, What: d.What, Grade: d.Grade, RPM: d.RPM, Card: d.Card, Seen: d.Seen})
	}
	for _, kept := range c.Kept { // repairs are told by their own entries, not with the defect
		stamp := kept.stamp()
		stamp.Doubtful = slices.Contains(c.Doubtful, kept.Seq)
		if a, is := kept.Act.(DefectAct); is && a.Of > 0 {
			s.repaired(stamp, a)
		}
	}
	s.Clock = Clock{Trusted: c.Trusted, Doubt: c.Doubt}
	s.Last = e.stamp()
	s.Last.Doubtful = c.Doubt != ""
}

// judgeClock says whether the entry's time is in doubt: it lies before the one
// trusted last, or more than 30 days after it. The doubt lasts until it is settled.
func (s *State) judgeClock(e Entry) bool {
	if _, settles := e.Act.(ClockSettled); settles {
		s.Clock = Clock{Trusted: e.At}
		return false
	}
	if s.Clock.Doubt == "" {
		s.Clock.Doubt = s.Clock.doubts(e.At)
	}
	if s.Clock.Doubt != "" {
		return true
	}
	s.Clock.Trusted = e.At
	return false
}

// doubts is why a moment cannot follow the one trusted last; "" if it can.
func (c Clock) doubts(at time.Time) string {
	switch {
	case c.Trusted.IsZero():
		return ""
	case at.Before(c.Trusted.Truncate(time.Second)):
		return fmt.Sprintf("the clock is %s behind the last entry", quantity.Rough(c.Trusted.Sub(at)))
	case at.Sub(c.Trusted) > farAhead:
		return fmt.Sprintf("the clock is %s ahead of the last entry", quantity.Rough(at.Sub(c.Trusted)))
	}
	return ""
}

func (s *State) apply(stamp Stamp, act Act) {
	switch a := act.(type) {
	case Sound:
		s.sound(stamp, TankLevel(a))
	case Fill:
		s.fill(stamp, a)
	case Count:
		s.count(stamp, a)
	case Answer:
		s.answer(stamp, a)
	case Event:
		s.Events[a.What] = stamp
	case Reading:
		s.Readings = append(s.Readings, ReadingState{stamp, a})
	case DefectAct:
		s.defect(stamp, a)
	case ServiceDone:
		s.service(stamp, a)
	case Stow:
		s.Stows = append(s.Stows, StowState{stamp, a})
	case Accept:
		s.Accepted[a.Caution] = AcceptedState{stamp, a.Why, a.Said}
	case Sign:
		s.Signed = &SignState{stamp, a}
		s.Accepted = map[string]AcceptedState{}
	case StepTaken:
		s.Steps[StepKey{a.Card, a.Look}] = StepState{stamp, a}
	default:
		s.applyPassage(stamp, act)
	}
}

// Full is the level, and the amount of a fill, of a tank filled to the brim.
const Full = "full"

// sound begins a tank anew with a level.
func (s *State) sound(stamp Stamp, l TankLevel) {
	s.gauge(l.Tank, Gauging{Stamp: stamp, Level: l.Level})
	s.Tanks[l.Tank] = TankState{Stamp: stamp, Level: l.Level, History: s.Tanks[l.Tank].History}
}

func (s *State) fill(stamp Stamp, f Fill) {
	if f.From != "" {
		s.gauge(f.From, Gauging{Stamp: stamp, Amount: f.Amount, Out: true})
		from := s.Tanks[f.From]
		from.Moves = append(slices.Clip(from.Moves), Move{stamp, f.Amount, true})
		s.Tanks[f.From] = from
	}
	if f.Amount == Full {
		s.sound(stamp, TankLevel{f.Tank, Full})
		return
	}
	s.gauge(f.Tank, Gauging{Stamp: stamp, Amount: f.Amount})
	to := s.Tanks[f.Tank]
	to.Moves = append(slices.Clip(to.Moves), Move{stamp, f.Amount, false})
	s.Tanks[f.Tank] = to
}

// IsWhole says that the count is of all lots of the food together.
func (c Count) IsWhole() bool {
	return c.BestBefore.IsZero() && c.UseBy.IsZero() && c.Bought.IsZero() && c.Place == ""
}

// SameLot says that both count the same lot.
func (c Count) SameLot(o Count) bool {
	return c.BestBefore == o.BestBefore && c.UseBy == o.UseBy && c.Bought == o.Bought && c.Place == o.Place
}

func (s *State) count(stamp Stamp, c Count) {
	s.Counts[c.Food] = standing(append(slices.Clip(s.Counts[c.Food]), CountState{stamp, c}))
}

// mostCounts is how many counts of a food stand at the most, but for the last of each lot.
const mostCounts = 100

// standing are the counts of a food that still tell something. How much was eaten of a
// lot since its count hangs on what the others held then: so all counts stand from the
// oldest on by which a lot is still known, and from before it what each lot held then.
// Of the counts of all lots together only the last one stands.
func standing(counts []CountState) []CountState {
	last := len(counts) - 1
	since := oldestKnown(counts)
	if last-since >= mostCounts {
		since = last
	}
	kept := make([]CountState, 0, len(counts))
	for i, c := range counts {
		until := max(i, since)
		if c.IsWhole() {
			until = last
		}
		if !countedAgain(counts, i, until) {
			kept = append(kept, c)
		}
	}
	return kept
}

// oldestKnown is the count of all lots together, without one the oldest that is the
// last of its lot; a lot that is gone is not eaten from and needs no others.
func oldestKnown(counts []CountState) int {
	last := len(counts) - 1
	for i := last; i >= 0; i-- {
		if counts[i].IsWhole() {
			return i
		}
	}
	for i, c := range counts {
		if c.Packs > 0 && !countedAgain(counts, i, last) {
			return i
		}
	}
	return last
}

// countedAgain says whether the lot of a count was counted again after it, until another.
func countedAgain(counts []CountState, i, until int) bool {
	return slices.ContainsFunc(counts[i+1:until+1], func(o CountState) bool { return o.SameLot(counts[i].Count) })
}

// answer keeps the last answer to a check. One that is not right opens a defect,
// unless one of the same check and grade is open already.
func (s *State) answer(stamp Stamp, a Answer) {
	if a.Answer == SectionDone {
		s.Closed[SectionKey(a.Round, a.Section)] = stamp
		return
	}
	s.Answers[a.Check] = AnswerState{stamp, a}
	if a.Answer != NotRight || a.Grade == "" {
		return
	}
	known := slices.ContainsFunc(s.Defects, func(d Defect) bool { return d.Check == a.Check && d.Grade == a.Grade })
	if !known {
		s.Defects = append(s.Defects, Defect{Stamp: stamp, Check: a.Check, What: a.Why, Grade: a.Grade})
	}
}

func (s *State) defect(stamp Stamp, a DefectAct) {
	switch {
	case a.Close > 0:
		s.Defects = slices.DeleteFunc(s.Defects, func(d Defect) bool { return d.Seq == a.Close })
	case a.Of > 0:
		s.tellMore(stamp, a)
		if !a.Repaired {
			return
		}
		s.took(stamp, machinery.Job{Name: a.What, Planned: minutesLong(a.Planned), Taken: minutesLong(a.Minutes)}, a.Parts)
	default:
		s.Defects = append(s.Defects, Defect{Stamp: stamp, What: a.What, Grade: a.Grade, RPM: a.RPM, Card: a.Card, Seen: a.Seen})
	}
}

// tellMore is what was told of an open defect after it was opened: what it is called, its
// grade, its card, or its repair.
func (s *State) tellMore(stamp Stamp, a DefectAct) {
	i := slices.IndexFunc(s.Defects, func(d Defect) bool { return d.Seq == a.Of })
	if i < 0 {
		return
	}
	d := &s.Defects[i]
	d.Grade, d.Card = cmp.Or(a.Grade, d.Grade), cmp.Or(a.Card, d.Card)
	d.RPM = cmp.Or(a.RPM, d.RPM)
	s.repaired(stamp, a)
}

// repaired keeps the repair of an open defect.
func (s *State) repaired(stamp Stamp, a DefectAct) {
	i := slices.IndexFunc(s.Defects, func(d Defect) bool { return d.Seq == a.Of })
	if i >= 0 && a.Repaired && s.Defects[i].Seq < stamp.Seq {
		s.Defects[i].Repair = &RepairState{Stamp: stamp, Cause: a.Cause, Why: a.Why, Proofs: a.Proofs, Parts: a.Parts}
	}
}

// service keeps the latest done of a service, by its date; the job; and the parts as used.
func (s *State) service(stamp Stamp, a ServiceDone) {
	if a.Date.IsZero() {
		a.Date = quantity.DateOf(stamp.At)
	}
	if last, done := s.Services[a.Service]; !done || !a.Date.Before(last.Date) {
		s.Services[a.Service] = ServiceState{stamp, a}
	}
	s.took(stamp, machinery.Job{Name: a.Service, Planned: minutesLong(a.Planned), Taken: minutesLong(a.Minutes)}, a.Parts)
}

// took is a job: its time, and its parts as used.
func (s *State) took(stamp Stamp, job machinery.Job, parts []PartTaken) {
	s.Jobs = append(slices.Clip(s.Jobs), JobState{stamp, job})
	s.Jobs = s.Jobs[max(0, len(s.Jobs)-mostJobs):]
	for _, part := range parts {
		s.Stows = append(s.Stows, StowState{stamp, Stow{Spare: part.Spare, Did: UsedUp, Count: part.Count, From: part.Place, Old: part.Old}})
	}
}

// minutesLong bounds what a record may hold to what a job may take.
func minutesLong(minutes float64) time.Duration {
	return time.Duration(min(max(0, minutes), mostMinutes) * float64(time.Minute))
}

// gearKey is a spare in a place, of a tool where it is or what it is like, or the end of dated gear.
type gearKey struct{ spare, tool, dated, of string }

// pruneStows drops what a later look settled: where a place was looked into, all that came and went
// there before no longer tells anything, unless some of it was moved on from there.
func (s *State) pruneStows() {
	settled := map[gearKey]bool{}
	open := func(k gearKey) bool { return !settled[k] }
	var kept []StowState
	for _, act := range slices.Backward(s.Stows) {
		changes := act.changes()
		if !slices.ContainsFunc(changes, open) {
			continue
		}
		kept = append(kept, act)
		for _, k := range changes {
			settled[k] = settled[k] || act.settles()
		}
		act.unsettle(settled)
	}
	slices.Reverse(kept)
	s.Stows = kept
}

// changes is what the act makes otherwise; nothing: it tells nothing.
func (a Stow) changes() []gearKey {
	switch {
	case a.Dated != "":
		return []gearKey{{dated: a.Dated}}
	case a.Tool != "":
		return a.changesOfTool()
	}
	in := func(place string) gearKey { return gearKey{spare: a.Spare, of: placeKey(place)} }
	switch a.Did {
	case Found:
		if placeKey(a.To) == "" {
			return nil
		}
		return []gearKey{in(a.To)}
	case Bought, Back:
		return []gearKey{in(a.To)}
	case Moved:
		return []gearKey{in(a.From), in(a.To)}
	case Lent:
		return []gearKey{in(a.From)}
	case UsedUp:
		if a.Old != "" {
			return []gearKey{in(a.From), in(a.Old)}
		}
		return []gearKey{in(a.From)}
	}
	return nil
}

func (a Stow) changesOfTool() []gearKey {
	where, like := gearKey{tool: a.Tool, of: "place"}, gearKey{tool: a.Tool, of: "state"}
	var changes []gearKey
	if a.To != "" || a.Did == Lent {
		changes = append(changes, where)
	}
	if a.State != "" || slices.Contains([]StowWord{Bought, Back, Lent}, a.Did) {
		changes = append(changes, like)
	}
	switch a.Did {
	case Moved, Bought, Back, Lent, Found:
		return changes
	default:
		return nil
	}
}

// settles says that what was before no longer matters to what the act changes.
func (a Stow) settles() bool { return a.Tool != "" || a.Dated != "" || a.Did == Found && !a.Beside }

// unsettle opens again the places from which the act carried something on: what lay there tells what came of it.
func (a Stow) unsettle(settled map[gearKey]bool) {
	switch {
	case a.Tool != "" || a.Dated != "" || !slices.Contains([]StowWord{Moved, UsedUp, Lent}, a.Did):
	case placeKey(a.From) == "":
		maps.DeleteFunc(settled, func(k gearKey, _ bool) bool { return k.spare == a.Spare })
	case a.Did == Moved || a.Old != "": // an old part is kept where a new one was there to be taken
		delete(settled, gearKey{spare: a.Spare, of: placeKey(a.From)})
	}
}

// pruneReadings drops readings that are too old to matter to any figure.
func (s *State) pruneReadings() {
	var newest time.Time
	for _, r := range s.Readings {
		if r.At.After(newest) {
			newest = r.At
		}
	}
	s.Readings = slices.DeleteFunc(s.Readings, func(r ReadingState) bool { return newest.Sub(r.At) > keepReadings })
	if extra := len(s.Readings) - mostReadings; extra > 0 {
		s.Readings = slices.Clone(s.Readings[extra:])
	}
}

// Compact is the carry that stands for the entries: folding it and folding them
// give the same state.
func Compact(entries []Entry) Carry {
	s := Fold(entries)
	doubtful := s.keptStamps()
	carry := Carry{Trusted: s.Clock.Trusted, Doubt: s.Clock.Doubt}
	for _, d := range s.Defects {
		carry.Defects = append(carry.Defects, CarriedDefect{Seq: d.Seq, At: d.At, By: d.By, Sum: d.Sum, Check: d.Check, What: d.What, Grade: d.Grade, RPM: d.RPM, Card: d.Card, Seen: d.Seen})
		if d.Doubtful {
			carry.Doubtful = append(carry.Doubtful, d.Seq)
		}
	}
	for _, e := range flatten(entries) {
		inDoubt, kept := doubtful[e.Seq]
		if !kept {
			continue
		}
		carry.Kept = append(carry.Kept, e)
		if inDoubt && !slices.Contains(carry.Doubtful, e.Seq) {
			carry.Doubtful = append(carry.Doubtful, e.Seq)
		}
	}
	return carry
}

// flatten puts what carries kept in the place of the carries, once each.
func flatten(entries []Entry) []Entry {
	seen := map[int]bool{}
	var all []Entry
	add := func(e Entry) {
		if !seen[e.Seq] {
			seen[e.Seq] = true
			all = append(all, e)
		}
	}
	for _, e := range entries {
		if carry, is := e.Act.(Carry); is {
			for _, kept := range carry.Kept {
				add(kept)
			}
			continue
		}
		add(e)
	}
	return all
}

// keptStamps are the entries that the state stands on, and whether each is in doubt.
func (s State) keptStamps() map[int]bool {
	kept := map[int]bool{}
	for _, stamp := range slices.Concat(s.storeStamps(), s.roundStamps(), s.gearStamps(), s.voyageStamps()) {
		if stamp.Seq > 0 {
			kept[stamp.Seq] = stamp.Doubtful
		}
	}
	return kept
}

// storeStamps are the entries that tanks and stores stand on.
func (s State) storeStamps() []Stamp {
	var stamps []Stamp
	for _, t := range s.Tanks {
		stamps = append(stamps, t.Stamp)
		for _, g := range t.History {
			stamps = append(stamps, g.Stamp)
		}
		for _, m := range t.Moves {
			stamps = append(stamps, m.Stamp)
		}
	}
	for _, counts := range s.Counts {
		for _, c := range counts {
			stamps = append(stamps, c.Stamp)
		}
	}
	return stamps
}

// roundStamps are the entries that the rounds and the sign-off stand on.
func (s State) roundStamps() []Stamp {
	var stamps []Stamp
	for _, a := range s.Answers {
		stamps = append(stamps, a.Stamp)
	}
	stamps = slices.AppendSeq(stamps, maps.Values(s.Closed))
	stamps = slices.AppendSeq(stamps, maps.Values(s.Events))
	for _, a := range s.Accepted {
		stamps = append(stamps, a.Stamp)
	}
	if s.Signed != nil {
		stamps = append(stamps, s.Signed.Stamp)
	}
	return stamps
}

// gearStamps are the entries that the engine, its defects and the gear stand on.
func (s State) gearStamps() []Stamp {
	var stamps []Stamp
	for _, r := range s.Readings {
		stamps = append(stamps, r.Stamp)
	}
	for _, service := range s.Services {
		stamps = append(stamps, service.Stamp)
	}
	for _, job := range s.Jobs {
		stamps = append(stamps, job.Stamp)
	}
	for _, act := range s.Stows {
		stamps = append(stamps, act.Stamp)
	}
	for _, step := range s.Steps {
		stamps = append(stamps, step.Stamp)
	}
	for _, d := range s.Defects {
		if d.Repair != nil {
			stamps = append(stamps, d.Repair.Stamp)
		}
	}
	return stamps
}
