// Package checklist decides whether she may go: from the skipper's definitions
// and the record's entries it makes one Assessment, and the gate is part of it.
//
// Words: a round is a walk through the boat; a check asks, and says what is
// right; an answer is good for a time and until an event voids it; what stands
// in the way blocks the sign-off; a caution wants a reason; an exception is a
// caution accepted.
//
//	state := checklist.Fold(entries)
//	assessment := checklist.Assess(definitions, state, now)
//	if assessment.Ready { … }
package checklist

import (
	"slices"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Definitions are the skipper's files, read and found free of mistakes.
type Definitions struct {
	Boat     Boat
	Plan     passage.Plan
	Rounds   []Round
	Spares   []machinery.Spare
	Tools    []machinery.Tool
	Dated    []machinery.Dated
	Services []machinery.Service
	Cards    []machinery.Card
	Sum      string // SHA-256 (hex) of the files as they were read
	Moved    bool   // the departure is not the files', but one that was asked for

	sailed   *passage.Plan // the whole plan, where Plan is what is left of it, see AsSailed
	underWay bool          // and she is on it
}

// Whole is the definitions with the whole plan, what was sailed of it included.
func (d Definitions) Whole() Definitions {
	if d.sailed != nil {
		d.Plan, d.sailed, d.underWay = *d.sailed, nil, false
	}
	return d
}

// Boat is what boat.toml, rates.toml and stores.toml say of her.
type Boat struct {
	provisions.Boat

	Name      string
	Waterline quantity.Length // 0: not given
	Units     quantity.System
	Identity  []Identity
	Sensors   Sensors
}

// Identity is one line of who she is, for the sheet ashore.
type Identity struct {
	Key, Text string
}

// Purpose is what a round is walked for; only Sign and Weigh gate.
type Purpose string

// The purposes of a round.
const (
	ForSign     Purpose = "sign"
	ForWeigh    Purpose = "weigh"
	ForUnderWay Purpose = "under way"
	ForArrival  Purpose = "arrival"
	ForAny      Purpose = "any"
)

// Mode is how a section is walked.
type Mode string

// The modes of a section: the list leads, or the list is a second look.
const (
	DoThenTick      Mode = "do then tick"
	LookThenConfirm Mode = "look then confirm"
)

// Condition is a circumstance under which a check applies or is critical.
type Condition string

// The conditions. Night is any hour of darkness from departure to the slow arrival.
const (
	SingleHanded Condition = "single-handed"
	Night        Condition = "night"
	OffshoreLeg  Condition = "offshore"
)

// Round is a walk through the boat.
type Round struct {
	File     string // rounds/….toml
	Name     string
	For      Purpose
	Kinds    []passage.Kind // empty: all
	Sections []Section
}

// Section is a part of a round that belongs to one place.
type Section struct {
	Name    string
	Mode    Mode
	Done    string // the sentence that closes it
	Caution string
	Checks  []Check
}

// Check is one thing to look at.
type Check struct {
	ID        string
	Ask       string
	Right     string // what right looks like
	Critical  bool
	CritWhen  []Condition // critical under any of these
	Covers    string
	GoodFor   quantity.Period // zero: an answer stays good
	VoidBy    []string        // events that void the answer at once
	Only      []Condition     // applies under any of these; empty: always
	After     []string        // ids that must be right first
	Say       string          // a word of evidence is asked for
	Caution   string
	Source    string
	Reading   *Range     // instead of a tick: a value, judged
	Automatic *Automatic // instead of a tick: answered by the program
}

// Range is what a reading must lie within, limits included.
type Range struct {
	Of       string
	Min, Max *quantity.Any // nil: no limit on this side
	Normal   bool          // the engine's curve gives the limit
}

// Automatic is what the program itself answers.
type Automatic struct {
	Of   string // endurance, service, spares, dated, defects, daylight, soundings, season
	Name string // the thing, the service, the spare …; "all"; "" where there is nothing to name
}

// Topics are what a check may cover; the sign-off names those that nothing covers.
var Topics = []string{
	"cooling", "oil", "fuel", "steering", "flooding", "fire", "gas",
	"lifejackets", "anchor", "forecast", "lights", "radio",
}

// IsKind says whether the round belongs to a passage of this kind.
func (r Round) IsKind(k passage.Kind) bool {
	return len(r.Kinds) == 0 || slices.Contains(r.Kinds, k)
}

// Tank finds a tank by its name.
func (d Definitions) Tank(name string) (provisions.Tank, bool) {
	for _, t := range d.Boat.Tanks {
		if t.Name == name {
			return t, true
		}
	}
	return provisions.Tank{}, false
}

// Food finds a food by its name.
func (d Definitions) Food(name string) (provisions.Food, bool) {
	for _, f := range d.Boat.Foods {
		if f.Name == name {
			return f, true
		}
	}
	return provisions.Food{}, false
}

// At is the same definitions for another departure. Days stay those of the offset that
// passage.toml keeps, however the new moment was written: another offset would move every
// date that is a limit.
// Under way she has left, and nothing moves that.
func (d Definitions) At(depart time.Time) Definitions {
	if d.underWay {
		return d
	}
	d.Plan.Depart, d.Moved = depart.In(d.Plan.Depart.Location()), true
	return d
}
