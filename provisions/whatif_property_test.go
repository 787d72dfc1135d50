package provisions

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// anyContingent is anyWorld with all that what-ifs look at: stops that may give
// something, alternates, currents, revs, a watermaker, a fridge, a stove, cans.
func anyContingent(t *rapid.T) Situation {
	w := anyWorld(t, free)
	number := func(name string, low, high int) float64 { return float64(rapid.IntRange(low, high).Draw(t, name)) }
	flip := func(name string) bool { return rapid.Bool().Draw(t, name) }

	for i := range w.plan.Legs {
		leg := &w.plan.Legs[i]
		leg.Current = quantity.Speed(number("current", -20, 10) / 10)
		leg.RPM = rapid.SampledFrom([]int{0, 1800, 2300, 2400}).Draw(t, "rpm")
		for range rapid.IntRange(0, 2).Draw(t, "alternates") {
			leg.Alternates = append(leg.Alternates, passage.Alternate{
				Name:  rapid.SampledFrom([]string{"Cove", "Inlet", "Ria"}).Draw(t, "alternate"),
				After: quantity.Distance(number("after", 0, 500)), Distance: quantity.Distance(number("off", 0, 300)),
			})
		}
	}
	for _, thing := range passage.Things {
		if flip("gives at departure") {
			w.plan.Fill = append(w.plan.Fill, passage.Giving{Thing: thing, Sure: true})
		}
	}
	for _, name := range passage.CaseNames {
		c := w.plan.Cases[name]
		c.Power = quantity.Share(number("power of "+string(name), 0, 10) / 10)
		w.plan.Cases[name] = c
	}

	scale := Amount(number("tanks", 3, 30) / 10)
	w.boat.Tanks = slices.Clone(w.boat.Tanks)
	for i := range w.boat.Tanks {
		w.boat.Tanks[i].Capacity *= scale
	}
	w.boat.Tanks = append(w.boat.Tanks, Tank{
		Name: "can", Holds: passage.Water, Capacity: 15, Can: true, Level: Level{Kind: Brim},
	})
	if flip("watermaker") {
		w.boat.Watermaker = &Watermaker{Output: quantity.Flow(number("output", 0, 10)), Run: 2 * time.Hour, NeedsEngine: flip("driven")}
	}
	if flip("heater") {
		w.boat.Heater = &Heater{Burn: 0.25, Run: 6 * time.Hour}
	}
	w.boat.Rates.Gas.Boat = quantity.Mass(number("gas a day", 0, 30) / 100)
	w.boat.Foods[0].Chilled, w.boat.Foods[0].Cook = flip("chilled"), flip("cook")
	if flip("biscuits") {
		w.boat.Foods = append(w.boat.Foods, plain("biscuits"))
		w.boat.Rates.Rations = append(slices.Clone(w.boat.Rates.Rations), Ration{"biscuits", 0.1})
		w.boat.Rates.Energy = 200
		w.boat.Lots = []Lot{packs("biscuits", number("biscuits", 0, 99), 0)}
	}
	w.plan.Uses = anyUses(t, w.plan)
	return Situation{Boat: w.boat, Plan: w.plan, Aboard: w.aboard, Trim: clean, Now: sails}
}

// fair is a level of each tank above what gauge and pick-up take, sounded at departure:
// the plan then often holds, and there is something to lose.
func (s *Situation) fair(t *rapid.T) {
	s.Aboard = Aboard{Tanks: map[string]Held{}, Stock: map[string]Stock{}}
	for _, tank := range s.Boat.Tanks {
		share := quantity.Share(rapid.IntRange(30, 100).Draw(t, "level of "+tank.Name)) / 100
		s.Aboard.Tanks[tank.Name] = Held{Level: Level{Kind: ByShare, Share: share}}
	}
	s.Boat.Lots = []Lot{packs("it", float64(rapid.IntRange(50, 900).Draw(t, "packs")), 0), packs("biscuits", 200, 0)}
	s.Boat.Rates.Reserve = maps.Clone(s.Boat.Rates.Reserve)
	s.Boat.Rates.Reserve[passage.Fuel] = Reserve{Amount: 10}
}

// Stops and diversions are not reckoned in full: that must be seen nowhere.
func TestShortWayIsTheFullOne(t *testing.T) {
	short := 0
	untilMet(t, func() bool { return short > 0 }, func(t *rapid.T) {
		s := anyContingent(t)
		if rapid.Bool().Draw(t, "fair") {
			s.fair(t)
		}
		r := s.Reckon()
		if r.Verdict == "" {
			return
		}
		b := newBasis(s, &r)
		questions, _ := b.questions()
		for _, q := range questions {
			var quick, full WhatIf
			o := b.ask(q)
			if o.kept != nil {
				short++
			}
			o.tell(&quick)

			c := b.change(q, b.meals().larder.feed)
			whole := reckon(c.Boat, c.Plan, c.Aboard, c.voyages, c.meals)
			f := &outcome{change: &c, reckoning: &whole, closed: -1, last: len(c.Plan.Legs) - 1, unmade: unmadeSince(b.planned, &whole)}
			for _, thing := range passage.Things {
				if thing != c.ignored {
					f.failing = appendFailures(f.failing, &whole, thing, sections(c.Plan, thing))
				}
			}
			f.tell(&full)
			if fmt.Sprintf("%+v", quick) != fmt.Sprintf("%+v", full) {
				t.Fatalf("%s %s: short way\n%+v, in full\n%+v", q.kind, q.place, quick, full)
			}
			for _, thing := range passage.Things {
				if !slices.Equal(o.sections(thing), f.sections(thing)) {
					t.Fatalf("%s %s: sections of %s %v, in full %v", q.kind, q.place, thing, o.sections(thing), f.sections(thing))
				}
			}
		}
	})
}

func TestWhatIfIsReckonedAnewForItsWorking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyContingent(t)
		r := s.Reckon()
		for _, w := range s.WhatIfs(r).List {
			changed, reckoned, ok := s.reckonWhatIf(r, w)
			if !ok {
				t.Fatalf("%s is none of hers", w.Name())
			}
			if len(changed.Plan.Legs) == 0 || reckoned.Depart != r.Depart {
				t.Fatalf("%s: no passage", w.Name())
			}
			if w.Verdict == RunsOut || w.Kind == NoWind || w.Kind == NoEngine || w.Kind == GasGone {
				continue // a thing is not judged, or a leg is not made
			}
			if reckoned.Verdict != w.Verdict {
				t.Fatalf("%s: %s, anew %s", w.Name(), w.Verdict, reckoned.Verdict)
			}
		}
		_, _, ok := s.reckonWhatIf(r, WhatIf{Kind: "a whale"})
		assert.False(t, ok)
	})
	_, _, ok := threePlaces().reckonWhatIf(Reckoning{}, WhatIf{Kind: NoWind, Leg: -1})
	assert.False(t, ok)
}

// More crew, less speed, a foul current, a smaller tank never let a contingency end
// better. What is left out, since it is not so: a watermaker that the engine drives
// and cases of different power (a longer passage under engine makes more water, and the
// hard case may be another), a reserve of days of fuel, a share of the capacity with a
// smaller tank; and passages on which a case is no longer made as planned, which is then no
// hard case of anything. Levels are brims: else a smaller tank may make another the
// fullest, and the one that is left hold more at later stops. And no wind where
// something is given on the way: with less fuel she may drift on a stretch that lasts, and not on the next.
func TestWorseNeverLetsAContingencyEndBetter(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*rapid.T, *Situation)
	}{
		{"more crew", func(_ *rapid.T, s *Situation) { s.Plan.Crew++ }},
		{"less speed", func(_ *rapid.T, s *Situation) {
			s.Plan = bent(s.Plan, func(c passage.Case) passage.Case { c.Speed *= 0.9; c.Motor *= 0.9; return c })
		}},
		{"a foul current", func(t *rapid.T, s *Situation) {
			s.Plan.Legs = slices.Clone(s.Plan.Legs)
			s.Plan.Legs[rapid.IntRange(0, len(s.Plan.Legs)-1).Draw(t, "foul")].Current -= 0.4
		}},
		{"a smaller tank", func(t *rapid.T, s *Situation) {
			s.Boat.Tanks = slices.Clone(s.Boat.Tanks)
			tank := &s.Boat.Tanks[rapid.IntRange(0, len(s.Boat.Tanks)-1).Draw(t, "smaller")]
			tank.Capacity *= 0.7
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				s := anyContingent(t)
				s.level(t)
				before := s.Reckon()
				was := s.WhatIfs(before)
				c.change(t, &s)
				after := s.Reckon()
				for _, name := range passage.CaseNames {
					if before.Cases[name].Voyage.Made() != after.Cases[name].Voyage.Made() {
						return
					}
				}
				is := s.WhatIfs(after)
				require.Len(t, is.List, len(was.List))
				for _, w := range was.List {
					if w.Kind == NoWind && s.isGivenOnTheWay() {
						continue
					}
					at := slices.IndexFunc(is.List, func(o WhatIf) bool { return o.Kind == w.Kind && o.Leg == w.Leg && (w.Leg < 0 || o.Place == w.Place) })
					require.GreaterOrEqual(t, at, 0)
					if badness(is.List[at].Verdict) < badness(w.Verdict) {
						t.Fatalf("%s: %q, before %q\n%+v\n%+v", w.Name(), is.List[at].Verdict, w.Verdict, is.List[at], w)
					}
				}
			})
		})
	}
}

func (s Situation) isGivenOnTheWay() bool {
	return slices.ContainsFunc(passage.Things[:], func(t passage.Thing) bool { return len(sections(s.Plan, t)) > 1 })
}

// level leaves out what the property does not hold for.
func (s *Situation) level(t *rapid.T) {
	if s.Boat.Watermaker != nil {
		s.Boat.Watermaker.NeedsEngine = false
	}
	power := quantity.Share(rapid.IntRange(0, 10).Draw(t, "the one power")) / 10
	s.Plan = bent(s.Plan, func(c passage.Case) passage.Case { c.Power = power; return c })
	for i := range s.Plan.Legs {
		s.Plan.Legs[i].RPM = 2100
	}
	s.Aboard = Aboard{Tanks: map[string]Held{}, Stock: s.Aboard.Stock}
	for _, tank := range s.Boat.Tanks {
		s.Aboard.Tanks[tank.Name] = Held{Level: Level{Kind: Brim}}
	}
	s.Boat.Rates.Reserve = maps.Clone(s.Boat.Rates.Reserve)
	s.Boat.Rates.Reserve[passage.Fuel] = Reserve{Amount: 10}
}

func TestBoatWithoutLimitsHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyContingent(t)
		s.Aboard = Aboard{}
		for i := range s.Boat.Tanks {
			s.Boat.Tanks[i].Capacity, s.Boat.Tanks[i].Level = 1e7, Level{Kind: Brim}
		}
		s.Boat.Rates.Reserve = map[passage.Thing]Reserve{
			passage.Water: {Days: 5}, passage.Fuel: {ShareOfNeed: 0.5}, passage.Food: {Days: 5}, passage.Gas: {Amount: 3},
		}
		s.Boat.Foods = []Food{plain("it"), plain("biscuits")}
		s.Boat.Foods[0].Chilled, s.Boat.Foods[0].Cook = true, true
		s.Boat.Rates.Rations, s.Boat.Rates.Energy = []Ration{{"it", 0.1}, {"biscuits", 0.1}}, 200
		s.Boat.Lots = []Lot{packs("it", 1e6, 0), packs("biscuits", 1e6, 0)}
		for _, w := range s.WhatIfs(s.Reckon()).List {
			if len(w.Unmade) == 0 && w.Verdict != Holds {
				t.Fatalf("%s: %+v", w.Name(), w)
			}
		}
	})
}

// Whatever is written, it is an answer and no panic.
func TestOddPlansAreAnswered(t *testing.T) {
	numbers := []float64{0, 1, -1, 0.5, 1e-9, 1e9, 1e300, -1e300, 100, 5}
	tankful := rapid.SampledFrom(numbers)
	odd := rapid.SampledFrom(append(numbers, math.NaN(), math.Inf(1), math.Inf(-1)))
	rapid.Check(t, func(t *rapid.T) {
		s := anyContingent(t)
		pick := func(name string) float64 { return odd.Draw(t, name) }
		flip := func(name string) bool { return rapid.IntRange(0, 5).Draw(t, name) == 0 }
		if flip("crew") {
			s.Plan.Crew = rapid.SampledFrom([]int{0, -3, 1, 9999999}).Draw(t, "people")
		}
		for i := range s.Plan.Legs {
			leg := &s.Plan.Legs[i]
			if flip("distance") {
				leg.Distance = quantity.Distance(pick("miles"))
			}
			if flip("sail") {
				leg.Sail, leg.Current = quantity.Speed(pick("sail")), quantity.Speed(pick("current"))
			}
			if flip("stay") {
				leg.Stay = time.Duration(rapid.Int64().Draw(t, "stays"))
			}
			if flip("alternate") {
				leg.Alternates = append(leg.Alternates, passage.Alternate{After: quantity.Distance(pick("after")), Distance: quantity.Distance(pick("off"))})
			}
		}
		if flip("no legs") {
			s.Plan.Legs = nil
		}
		if flip("a case") {
			name := rapid.SampledFrom(passage.CaseNames[:]).Draw(t, "odd case")
			s.Plan.Cases[name] = passage.Case{Speed: pick("k"), Motor: pick("m"), Power: quantity.Share(pick("p")), Wait: time.Duration(rapid.Int64().Draw(t, "wait"))}
		}
		if flip("no cases") {
			s.Plan.Cases = nil
		}
		for i := range s.Boat.Tanks {
			if flip("capacity") {
				s.Boat.Tanks[i].Capacity = Amount(tankful.Draw(t, "holds"))
			}
			if flip("unusable") {
				s.Boat.Tanks[i].Unusable = Amount(tankful.Draw(t, "is below the pick-up"))
			}
		}
		if flip("reserve") {
			s.Boat.Rates.Reserve = map[passage.Thing]Reserve{passage.Food: {Days: pick("days")}, passage.Water: {Days: pick("days"), Amount: Amount(pick("amount"))}}
		}
		if flip("engine") {
			s.Boat.Engine = passage.Engine{Charging: time.Duration(rapid.Int64().Draw(t, "charging")), ChargingBurn: quantity.Flow(pick("burn"))}
		}
		if flip("rates") {
			s.Boat.Rates.Water = WaterRates{Drinking: quantity.Volume(pick("drinking")), Rationed: quantity.Volume(pick("rationed"))}
			s.Boat.Rates.Energy = quantity.Energy(pick("energy"))
		}
		r := s.Reckon()
		for _, w := range s.WhatIfs(r).List {
			_ = w.Words(quantity.Metric, offset)
			for _, c := range w.Cures {
				_ = c.Words(quantity.US)
			}
			_, _, ok := s.reckonWhatIf(r, w)
			assert.True(t, ok)
		}
		for _, thing := range passage.Things {
			for i := range r.Resources[thing].Stretches {
				_ = s.curesFor(r, thing, i)
			}
		}
		assert.Nil(t, s.curesFor(r, passage.Water, -1))
	})
}
