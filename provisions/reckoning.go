package provisions

import (
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Boat is what provisions need to know of her.
type Boat struct {
	Engine     passage.Engine
	Tanks      []Tank
	Watermaker *Watermaker // nil: none
	Heater     *Heater     // nil: none
	Rates      Rates
	Foods      []Food
	Lots       []Lot // opening stock

	Consumables []Consumable // what else is used up, in file order
}

// Aboard is what soundings, fills, counts and the hour-meter have told.
type Aboard struct {
	Tanks map[string]Held  // by tank; one that is missing stands at its opening level
	Stock map[string]Stock // by food; one that is missing stands at its opening lots
	Meter []Meter          // hour-meter readings, oldest first

	Consumables map[string]Counted // by name; one that is missing stands at its opening amount

	// spent is what is used of what tanks hold from the soundings to the departure, where
	// it is told; nil: by those who live aboard. A what-if begins with the departure.
	spent map[passage.Thing]Amount
}

// Held is what is known of a tank's content.
type Held struct {
	Level Level
	At    time.Time // of the sounding, or of the filling to the brim; zero: the opening level
	Added Amount    // filled in less taken out since At
}

// Stock is the lots of one food as last counted.
type Stock struct {
	Lots    []Lot
	Counted time.Time // zero: the opening stock
}

// Meter is a reading of the engine's hour-meter.
type Meter struct {
	At    time.Time
	Hours float64
}

// Verdict is how it ends.
type Verdict string

// The verdicts, from best to worst.
const (
	Holds       Verdict = "holds"
	IntoReserve Verdict = "into the reserve"
	RunsOut     Verdict = "runs out"
)

// Reckoning is the whole answer for a plan: times, use, endurance.
type Reckoning struct {
	Depart    time.Time // the plan's, or now if that is past
	Cases     map[passage.CaseName]CaseFigures
	Resources map[passage.Thing]Resource // food is absent where it is not computed
	Verdict   Verdict                    // of the plan itself; "" where no case makes every leg
	Tanks     []TankFigures              // in file order
	Stock     []LotFigures               // in file order of the foods, soonest date first
	FoodDays  []FoodDay                  // the first stretch, until the food is gone
	Estimated bool                       // the engine's burn is estimated from its power

	meals meals // eating is the dear part: what-ifs that change nothing of it take it from here
}

// CaseFigures are totals from departure to the last arrival, stays and waits included.
type CaseFigures struct {
	Voyage      passage.Voyage
	EngineHours float64
	Fuel, Water Amount // litres
	Gas         Amount // kilograms
}

// Resource is one thing against the passage. The figures beside Stretches are
// those of the first stretch; they are zero where there is no stretch.
type Resource struct {
	Thing     passage.Thing
	Stretches []Stretch
}

// First is the first stretch; ok is false where no case makes every leg.
func (r Resource) First() (s Stretch, ok bool) {
	if len(r.Stretches) == 0 {
		return Stretch{}, false
	}
	return r.Stretches[0], true
}

// Days is a time in days of 24 h; Never says that it does not end.
type Days struct {
	Days  float64
	Never bool
}

// Stretch is a thing between two places that surely give it.
type Stretch struct {
	From, To  string
	Start     time.Time        // in the hard case
	Hard      passage.CaseName // the case that needs most of it
	Length    float64          // days, in the hard case
	Need      Amount
	Reserve   Amount
	Available Amount
	Endurance Days // until the reserve is touched
	LastDrop  Days // until there is nothing
	Margin    Days // endurance less length
	Short     Amount
	Bought    bool // food bought on the way: only need and reserve are told, Short is 0
}

// TankFigures is one tank as it stands now.
type TankFigures struct {
	Tank    Tank
	Held    Held
	Level   Amount // as told, fills added
	Counted Amount // what may be planned on, before use since the sounding
	Error   Amount // what the gauge or the dip may be out by, taken off
	Problem error  // why the tank cannot be at this level; it then counts as empty
}

// LotFigures is one lot and what becomes of it.
type LotFigures struct {
	Lot     Lot
	Packs   float64 // left, after what the rations took since the count
	Ends    DateEnd
	NoDate  bool
	Wasted  float64 // packs that go off before they are eaten, in the first stretch's eating
	Counted time.Time
}

// DateEnd is the day after which a lot no longer counts, and the written date before it.
type DateEnd struct {
	Written quantity.Date // best before, or use by; zero: no date
	Last    quantity.Date // the last day on which it counts; zero: no end
	Safety  bool          // use by: never after
}

// FoodDay is one day's eating.
type FoodDay struct {
	Date   quantity.Date   // the local date on which the day begins, in the departure's offset
	Eaten  quantity.Energy // by all
	Wanted quantity.Energy // by all
	Enough bool            // at least 90 % of Wanted
}
