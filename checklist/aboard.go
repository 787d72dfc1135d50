package checklist

import (
	"errors"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

// aboard turns soundings, fills and counts into what provisions reckons with. A tank
// whose level cannot be right is told in troubles and stands empty.
func (s State) aboard(d Definitions) (provisions.Aboard, map[string]string) {
	aboard := provisions.Aboard{
		Tanks: map[string]provisions.Held{}, Stock: map[string]provisions.Stock{}, Meter: s.meter(), Consumables: map[string]provisions.Counted{},
	}
	troubles := map[string]string{}
	for _, tank := range d.Boat.Tanks {
		state, told := s.Tanks[tank.Name]
		if !told {
			continue
		}
		held, err := heldIn(tank, state)
		if err != nil {
			troubles[tank.Name] = problemOf(err) + "; sound it again"
			held = provisions.Held{Level: provisions.Level{Kind: provisions.ByAmount}, At: state.At}
		}
		aboard.Tanks[tank.Name] = held
	}
	for name, counts := range s.Counts {
		if d.isConsumable(name) {
			last := counts[len(counts)-1]
			aboard.Consumables[name] = provisions.Counted{Amount: last.Packs, At: last.At}
			continue
		}
		aboard.Stock[name] = d.stock(name, counts)
	}
	return aboard, troubles
}

func heldIn(tank provisions.Tank, state TankState) (provisions.Held, error) {
	held := provisions.Held{Level: tank.Level}
	if state.Seq > 0 {
		level, err := provisions.ParseLevel(state.Level, tank.Holds)
		if err != nil {
			return held, err
		}
		held.Level, held.At = level, state.At
	}
	there, err := tank.AmountAt(held.Level)
	for _, m := range state.Moves {
		amount, err := provisions.ParseAmount(m.Amount, tank.Holds)
		if err != nil {
			return held, err
		}
		if m.Out {
			amount = -amount
		}
		// What goes in over the brim is over the side and cannot be taken out later.
		held.Added = min(held.Added+amount, tank.Capacity-there)
	}
	return held, err
}

func problemOf(err error) string {
	var e *quantity.Error
	if errors.As(err, &e) {
		return e.Problem
	}
	return err.Error()
}

// stock is what the counts of a food come to.
func (d Definitions) stock(food string, states []CountState) provisions.Stock {
	counts := make([]provisions.Counting, len(states))
	for i, c := range states {
		counts[i] = provisions.Counting{At: c.At, Whole: c.IsWhole(), Lot: provisions.Lot{
			Food: c.Food, Packs: c.Packs, BestBefore: c.BestBefore, UseBy: c.UseBy, Bought: c.Bought, Place: c.Place,
		}}
	}
	return d.Boat.StockOf(food, d.Plan.Crew, counts, d.Plan.Depart.Location())
}

// Held is what is known of a tank: its sounding and what was filled since.
func (s State) Held(t provisions.Tank) (provisions.Held, error) {
	state, told := s.Tanks[t.Name]
	if !told {
		return provisions.Held{Level: t.Level}, nil
	}
	return heldIn(t, state)
}
