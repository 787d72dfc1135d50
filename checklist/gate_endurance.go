package checklist

import (
	"fmt"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// short says whether a thing is short on any stretch, and where.
func (g *gate) short(t passage.Thing) (provisions.Stretch, bool) {
	for _, s := range g.assessment.Reckoning.Resources[t].Stretches {
		if s.Short > 0 {
			return s, true
		}
	}
	return provisions.Stretch{}, false
}

func (g *gate) endurance() {
	if !g.assessment.Stretches {
		return
	}
	for _, t := range passage.Things {
		for i, s := range g.assessment.Reckoning.Resources[t].Stretches {
			if s.Short > 0 {
				g.blockShort(t, s, i == 0)
			}
		}
	}
}

func (g *gate) blockShort(t passage.Thing, s provisions.Stretch, first bool) {
	units := g.definitions.Boat.Units
	clears, where, takes := fmt.Sprintf("%s more aboard", s.Short.Up(t, units)), "wherever it can be had", takesShop
	switch {
	case !first:
		clears, where = "full tanks do not reach: cans, a stop on the way, or a slower use", "before departure"
	case g.definitions.Plan.Gives(t):
		where, takes = "here, before departure", takesLoading
	}
	g.block(Blocker{
		Matter: MatterEndurance, Name: string(t), Takes: takes,
		Why: fmt.Sprintf("%s short from %s to %s: %s case needs %s, the reserve is %s, %s can be counted on", s.Short.Up(t, units),
			s.From, s.To, s.Hard, s.Need.Up(t, units), s.Reserve.Up(t, units), s.Available.Down(t, units)),
		Clears: clears, Where: where,
	})
}

// watermakerDead: the passage must be possible without it, at the rationed use.
func (g *gate) watermakerDead() {
	if g.definitions.Boat.Watermaker == nil || !g.assessment.Stretches {
		return
	}
	dead := g.assessment.situation.AsUsed()
	dead.Boat = dead.Boat.WithoutWatermaker()
	dead.Boat.Rates.Rations, dead.Boat.Rates.Reserve = nil, withoutFood(dead.Boat.Rates.Reserve)
	units := g.definitions.Boat.Units
	for _, s := range dead.Reckon().Resources[passage.Water].Stretches {
		if s.Need <= s.Available {
			continue
		}
		g.block(Blocker{
			Matter: MatterEndurance, Name: "water without the watermaker", Takes: takesLoading,
			Why: fmt.Sprintf("with the watermaker dead from the first day the water runs out from %s to %s: %s needed, %s can be counted on",
				s.From, s.To, s.Need.Up(passage.Water, units), s.Available.Down(passage.Water, units)),
			Clears: fmt.Sprintf("%s more water aboard, or a smaller rationed use in rates.toml", (s.Need-s.Available).Up(passage.Water, units)),
			Where:  "wherever water can be had",
		})
		return
	}
}

// whatIfs are what wants a reason: a contingency in which something runs out that holds,
// or only goes into its reserve, as planned. The dead watermaker stands in the way itself.
func (g *gate) whatIfs() {
	if !g.assessment.Stretches {
		return
	}
	units, zone := g.definitions.Boat.Units, g.definitions.Plan.Depart.Location()
	for _, w := range g.assessment.WhatIfs.List {
		if w.Verdict != provisions.RunsOut || !w.Worse || w.Kind == provisions.WatermakerDead {
			continue
		}
		why := w.Words(units, zone)
		if len(w.Cures) > 0 {
			why += "; it holds with " + w.Cures[0].Words(units)
		}
		bad := badly{Of: string(w.Thing), Day: w.Day}
		g.caution(Caution{Matter: MatterWhatIf, Name: w.Name(), Title: "what if: " + w.Name(), Why: why, bad: bad})
	}
}

func withoutFood(reserve map[passage.Thing]provisions.Reserve) map[passage.Thing]provisions.Reserve {
	rest := make(map[passage.Thing]provisions.Reserve, len(reserve))
	for t, r := range reserve {
		rest[t] = r
	}
	rest[passage.Food] = provisions.Reserve{None: true}
	return rest
}
