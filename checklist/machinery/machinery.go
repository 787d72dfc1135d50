// Package machinery knows the engine's upkeep and the gear: services and when
// they fall due, spares and which of them count, tools, dated gear, defects.
package machinery

import (
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Spare is a part that is carried, and how many the kind of passage asks for.
type Spare struct {
	Name     string
	Size     string
	With     []string // a kit counts only whole: these belong to it
	Need     map[passage.Kind]int
	Critical bool
	Stowed   []Stowed
}

// Condition is what a stowed spare is like; only a new one counts.
type Condition string

// The conditions of a spare.
const (
	New      Condition = "new"
	Used     Condition = "used"
	Doubtful Condition = "doubtful"
	Wrong    Condition = "wrong"
)

// Fit is how it is known that a spare fits; of a critical spare Unknown does not count.
type Fit string

// The ways in which a fit is known.
const (
	Proved   Fit = "proved"
	Measured Fit = "measured"
	Unknown  Fit = "unknown"
)

// Stowed is where some of a spare lies.
type Stowed struct {
	Place     string
	Count     int
	Condition Condition
	Fit       Fit
	Has       []string // the parts of the kit that are there
}

// Tool is what a job needs.
type Tool struct {
	Name, Place string
	State       ToolState
}

// ToolState is what a tool is like.
type ToolState string

// The states of a tool.
const (
	Good    ToolState = "good"
	Stiff   ToolState = "stiff"
	Seized  ToolState = "seized"
	Missing ToolState = "missing"
)

// Dated is gear with an end: beacon battery, raft service, flares, gas hose, medicines.
type Dated struct {
	Name     string
	Until    quantity.Date // the last day on which it counts
	Place    string
	Critical bool
	Only     []string // conditions; it matters under any of these; empty: always
}

// Service is work that comes back by hours, by calendar, or by whichever is first.
type Service struct {
	Name        string
	EveryHours  float64 // 0: not by hours
	EveryMonths int     // 0: not by calendar
	Last        Done
	Critical    bool
	UnderWay    bool // can be done at sea
	Uses        []string
	Tools       []string
	Takes       time.Duration
	Resets      string // "fouling": readings from before no longer count
}

// Done is when a service was last done.
type Done struct {
	Date  quantity.Date
	Hours float64 // of the hour-meter
}

// Card is a fault-finding card: looks in the order in which they are worth taking.
type Card struct {
	File           string
	Sign           string
	First, Caution string
	Looks          []Look
}

// Look is one step of a fault-finding card.
type Look struct {
	At, How   string
	Takes     time.Duration
	AtSea     bool
	HauledOut bool // only out of the water
	Tools     []string
	Uses      []string
	RulesOut  string
	Means     string
}

// Grade is how far a defect stops her.
type Grade string

// The grades of a defect: stop keeps her here, limit lets her go with a limit, note only notes.
const (
	Stop  Grade = "stop"
	Limit Grade = "limit"
	Note  Grade = "note"
)
