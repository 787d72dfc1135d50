// Package provisions computes whether what is aboard will last: water, fuel,
// food and gas against a passage in three cases, with a reserve nobody touches.
//
// Words: a tank's level is what a sounding says; available is what may be
// planned on (gauge error, pick-up and use since the sounding taken off); a
// stretch is the part of a passage between two places that surely give a thing;
// the hard case is the one that needs most of it on that stretch; endurance is
// the time until the reserve is touched, margin is endurance less the stretch.
package provisions

import (
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Amount is how much of a thing: litres of water and fuel, kilograms of gas,
// person-days of food. It is not rounded; rounding is for people.
type Amount float64

// Tank holds water, fuel or gas. Its amounts are litres, of gas kilograms.
type Tank struct {
	Name       string
	Holds      passage.Thing // Water, Fuel or Gas
	Capacity   Amount
	Unusable   Amount         // below the pick-up
	Level      Level          // opening level; never counts as a sounding
	GaugeError quantity.Share // of capacity; for a level read off the gauge, and for an opening share or amount
	DipError   quantity.Share // of capacity; for a dip
	Sealed     bool           // emergency water in its own cans: never planned on
	Can        bool           // portable; filled by hand
	Dip        []DipRow       // sounding table of rising depth and amount; empty: none
	Shape      Shape          // in place of a table; zero: none
}

// DipRow is one row of a sounding table.
type DipRow struct {
	Depth  quantity.Length
	Amount Amount
}

// LevelKind is how a level was told.
type LevelKind int

// A level is told as an amount, as a share of the capacity, as a dip depth, or
// as filled to the brim.
const (
	ByAmount LevelKind = iota
	ByShare
	ByDip
	Brim
)

// Level is what a tank holds, as it was told. Only a tank can turn it into an amount.
type Level struct {
	Kind   LevelKind
	Amount Amount // ByAmount: litres or kilograms
	Share  quantity.Share
	Dip    quantity.Length
	Text   string // as typed, for the record and for reading back
}

// Rates is what is used and what is held back.
type Rates struct {
	Water   WaterRates
	Gas     GasRates
	Energy  quantity.Energy // per person and day: what the rations must add up to
	Rations []Ration
	Reserve map[passage.Thing]Reserve
}

// WaterRates are per person and day, but Boat: a day for all. Volumes in litres.
type WaterRates struct {
	Drinking, Cooking, Washing, Boat quantity.Volume
	HotWeather                       float64         // 1 to 3; drinking times this when the climate is hot
	Rationed                         quantity.Volume // per person and day, all told; 0: not given
}

// GasRates are a day for all, and per person and day.
type GasRates struct {
	Boat, Person quantity.Mass
}

// Ration is what one person eats of a food each day, as eaten.
type Ration struct {
	Food string
	Each quantity.Mass
}

// Reserve is what is held back of a thing: the largest of those given holds.
type Reserve struct {
	None            bool // none on purpose
	Days            float64
	ShareOfNeed     quantity.Share
	ShareOfCapacity quantity.Share
	Amount          Amount
}

// Watermaker makes water; one that needs the engine makes none without it.
type Watermaker struct {
	Output      quantity.Flow
	Run         time.Duration // a day
	NeedsEngine bool
}

// Heater runs when the climate is cold.
type Heater struct {
	Burn quantity.Flow
	Run  time.Duration // a day
}

// Food is something that is eaten, and how it keeps.
type Food struct {
	Name      string
	Pack      quantity.Mass
	Kcal      float64         // per 100 g of the part that is eaten
	Refuse    quantity.Share  // of the pack: peel, shell, bone
	Keeps     quantity.Period // from the day bought; of chilled food: in the fridge; zero: not given
	Chilled   bool
	KeepsWarm quantity.Period // chilled food with the fridge dead; zero: the first day only
	Cook      bool            // needs the stove
	Grace     quantity.Period // how long past best-before it still counts
	Instead   string          // eaten in its place by equal energy, one step only
	Price     float64         // a pack
	Protein   *float64        // grams in 100 g of the part that is eaten; nil: not given
	FruitVeg  bool            // it counts as fruit or vegetables
	Place     string          // where what is bought of it is stowed; "": where most of it lies
}

// Lot is some packs of one food with one date, in one place.
type Lot struct {
	Food       string
	Packs      float64
	BestBefore quantity.Date // quality; with the food's grace it still counts
	UseBy      quantity.Date // safety: never counts after
	Bought     quantity.Date // with the food's Keeps it gives the use-by
	Place      string
}
