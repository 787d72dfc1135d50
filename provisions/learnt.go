package provisions

import (
	"math"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Interval is what was used of a thing between two times at which all its tanks were sounded.
type Interval struct {
	From, To time.Time
	Used     Amount  // fills in between counted; below 0 where the gauges say it became more
	Crew     int     // aboard then
	AtSea    bool    // else at anchor
	Hours    float64 // the engine ran; below 0: not known
}

// Days are the interval's days of 24 h.
func (i Interval) Days() float64 { return i.To.Sub(i.From).Hours() / dayHours }

// Learnt is a rate as it was really used, beside the one that is planned with. The median and
// the quartiles let one bad reading do no harm.
type Learnt struct {
	Thing     passage.Thing
	AtSea     bool
	N         int     // intervals
	Median    float64 // of water L per person and day; of gas kg a day; of fuel L per engine hour
	Low, High float64 // the first and the third quartile
	Planned   float64 // the same by the rates; 0: none is planned
	Days      float64 // of all intervals together
}

// What a caution about a rate takes: so many intervals, so far above the plan. Design of the
// rates learnt; common practice, no source.
const (
	enoughIntervals = 3
	aboveBy         = 0.10
)

// Enough says that there are intervals enough to say something.
func (l Learnt) Enough() bool { return l.N >= enoughIntervals }

// IsAbove says that more is used than is planned, by more than a tenth, over enough intervals.
func (l Learnt) IsAbove() bool {
	return l.Enough() && l.Planned > 0 && l.Median > l.Planned*(1+aboveBy)+crumb
}

// Factor is the use seen over the use planned; 1 where either is not known.
func (l Learnt) Factor() float64 {
	if l.Planned <= 0 || l.N == 0 {
		return 1
	}
	return l.Median / l.Planned
}

// Learn is the rate of a thing from intervals, at sea or at anchor; ok is false where none
// tells it. Of fuel those count in which the hour-meter ran.
func (b Boat) Learn(plan passage.Plan, t passage.Thing, intervals []Interval, atSea bool) (l Learnt, ok bool) {
	l = Learnt{Thing: t, AtSea: atSea, Planned: b.plannedRate(plan, t, atSea)}
	var rates []float64
	for _, i := range intervals {
		rate, known := i.rate(t)
		if i.AtSea != atSea || !known {
			continue
		}
		rates = append(rates, rate)
		l.Days += i.Days()
	}
	if len(rates) == 0 {
		return Learnt{}, false
	}
	l.N = len(rates)
	l.Low, l.Median, l.High = Quartiles(rates)
	return l, true
}

// leastRun is the least that the engine must have run in an interval for its burn to say
// anything, in hours: gauges are too coarse for less. Common practice, no source.
const leastRun = 2

func (i Interval) rate(t passage.Thing) (float64, bool) {
	days := i.Days()
	switch {
	case days <= 0:
		return 0, false
	case t == passage.Water:
		return float64(i.Used) / days / float64(i.Crew), i.Crew > 0
	case t == passage.Fuel:
		return float64(i.Used) / i.Hours, i.Hours >= leastRun
	}
	return float64(i.Used) / days, true
}

// plannedRate is the rate that is planned with, in the unit of a Learnt.
func (b Boat) plannedRate(plan passage.Plan, t passage.Thing, atSea bool) float64 {
	h := newHousehold(b, plan)
	power := 0.0
	if atSea {
		power = float64(plan.Cases[passage.Expected].Power)
	}
	u := h.without(power)
	switch t {
	case passage.Water:
		return u.water * dayHours / max(1, h.crew)
	case passage.Gas:
		return u.gas * dayHours
	}
	burn, _, ok := b.Engine.BurnAt(b.Engine.CruiseRPM)
	if !ok {
		return 0
	}
	return float64(burn)
}

// Quartiles are the first quartile, the median and the third quartile, linear between the
// values: definition 7 of Hyndman and Fan, Sample Quantiles in Statistical Packages, The
// American Statistician 50 (1996), 361-365. No value, no quartile: NaN.
func Quartiles(values []float64) (low, median, high float64) {
	sorted := slices.Sorted(slices.Values(values))
	at := func(p float64) float64 {
		if len(sorted) == 0 {
			return math.NaN()
		}
		place := p * float64(len(sorted)-1)
		i := int(place)
		if i+1 >= len(sorted) {
			return sorted[len(sorted)-1]
		}
		return sorted[i] + (sorted[i+1]-sorted[i])*(place-float64(i))
	}
	return at(0.25), at(0.5), at(0.75)
}

// Doubt is an interval in which more fuel is gone than the hours explain, or less.
type Doubt struct {
	Interval
	Explained Amount // hours at the burn of the cruise revs
}

// doubtedBy is how far the dip and the hours may disagree, as a share of what the hours
// explain, and how much at the least. Common practice, no source.
const (
	doubtedBy = 0.25
	doubtedAt = Amount(5)
)

// FuelDoubted is the last interval of known hours, where dip and hours disagree: gauge, leak or
// burn? A boat with a heater that runs is not doubted: what it burnt is not known.
func (b Boat) FuelDoubted(plan passage.Plan, intervals []Interval) (d Doubt, doubted bool) {
	burn, _, ok := b.Engine.BurnAt(b.Engine.CruiseRPM)
	if !ok || newHousehold(b, plan).heater > 0 {
		return Doubt{}, false
	}
	for _, i := range slices.Backward(intervals) {
		if i.Hours < 0 {
			continue
		}
		explained := Amount(i.Hours * float64(burn))
		out := Amount(math.Abs(float64(i.Used - explained)))
		return Doubt{i, explained}, out > max(doubtedAt, explained*doubtedBy)
	}
	return Doubt{}, false
}

// Used is the boat with a rate as it was learnt in place of the planned one: all of the water
// but the ration, the gas, or the burn at all revs.
func (b Boat) Used(l Learnt) Boat {
	f := l.Factor()
	switch l.Thing {
	case passage.Water:
		w := &b.Rates.Water
		for _, v := range []*quantity.Volume{&w.Drinking, &w.Cooking, &w.Washing, &w.Boat} {
			*v = quantity.Volume(float64(*v) * f)
		}
	case passage.Gas:
		b.Rates.Gas.Boat = quantity.Mass(float64(b.Rates.Gas.Boat) * f)
		b.Rates.Gas.Person = quantity.Mass(float64(b.Rates.Gas.Person) * f)
	case passage.Fuel:
		b.Engine.Curve = slices.Clone(b.Engine.Curve)
		for i := range b.Engine.Curve {
			b.Engine.Curve[i].Burn = quantity.Flow(float64(b.Engine.Curve[i].Burn) * f)
		}
	}
	return b
}
