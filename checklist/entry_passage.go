package checklist

import (
	"time"

	"boat/hoveshort/provisions/passage"
)

// Depart is leaving: with the sign-off in force, or unsigned. It freezes what was known
// then, so that an arrival can be held against it either way.
type Depart struct {
	Passage     string           `toml:"passage"`
	PassageKind passage.Kind     `toml:"passage_kind"`
	From        string           `toml:"from"`
	To          string           `toml:"to"`   // of the first leg
	Sign        int              `toml:"sign"` // the entry of the sign-off; 0: left unsigned
	InTheWay    []string         `toml:"in_the_way"`
	ToProve     []int            `toml:"to_prove"` // defects whose repair is to be proved under way: she left on a condition
	Definitions string           `toml:"definitions"`
	Crew        int              `toml:"crew"`
	Hours       float64          `toml:"hours"` // of the hour-meter, as known; 0: not known
	Cases       []SignedCase     `toml:"cases"`
	Resources   []SignedResource `toml:"resources"`
	Tanks       []SignedTank     `toml:"tanks"`

	Of  int    `toml:"of"`  // the departure that was left unsigned, whose reason this is; 0: it is a departure
	Why string `toml:"why"` // the reason
}

// TankLevel is a tank as it was sounded at noon or on arrival.
type TankLevel struct {
	Tank  string `toml:"tank"`
	Level string `toml:"level"` // as typed
}

// Noon is how she stands under way: where, what is left, how the skipper is. Any part
// of it may be left out.
type Noon struct {
	To       string             `toml:"to"`       // the end of the leg she is on
	ToGo     float64            `toml:"to_go_nm"` // to there; 0: not told
	Position *passage.Position  `toml:"position"`
	Run      float64            `toml:"run_nm"` // by the log since the last noon; 0: not told
	Hours    float64            `toml:"hours"`  // of the hour-meter; 0: not told
	Levels   []TankLevel        `toml:"levels"`
	Wind     string             `toml:"wind"`     // as typed: "18 kn", "18 kn NE"
	Pressure string             `toml:"pressure"` // as typed: "1013 hPa"
	Sleep    *float64           `toml:"sleep_h"`  // hours in the last 24; nil: not told
	Decided  []DecisionAnswered `toml:"decided"`
	Note     string             `toml:"note"`
}

// DecisionAnswered is a decision point, or a limit of the skipper's own, that came up, and what was decided.
type DecisionAnswered struct {
	Point string `toml:"point"` // as it was put
	GoOn  bool   `toml:"go_on"`
	Why   string `toml:"why"`
}

// Change is a change of plan under way, with its reason.
type Change struct {
	What string  `toml:"what"`
	Why  string  `toml:"why"`
	To   string  `toml:"to"`       // another place that is made for; "": the same
	ToGo float64 `toml:"to_go_nm"` // miles to it; 0: not told
}

// Arrive is coming in, or, once she lies there, the closing of the passage.
type Arrive struct {
	Place  string      `toml:"place"`
	Close  bool        `toml:"close"`
	Miles  float64     `toml:"miles_nm"` // by the log since departure; 0: not told
	Hours  float64     `toml:"hours"`    // of the hour-meter; 0: not told
	Levels []TankLevel `toml:"levels"`
	Failed []string    `toml:"failed"` // what failed on the way
	Note   string      `toml:"note"`
	When   time.Time   `toml:"when"` // of an arrival that is told later; zero: the moment of the entry
}

// Kind is KindDepart.
func (Depart) Kind() Kind { return KindDepart }

// Kind is KindNoon.
func (Noon) Kind() Kind { return KindNoon }

// Kind is KindChange.
func (Change) Kind() Kind { return KindChange }

// Kind is KindArrive.
func (Arrive) Kind() Kind { return KindArrive }
