package checklist

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

// NewSound is the level of a tank as it was read: an amount, a share, a dip, or full.
func (d Definitions) NewSound(tank, level string) (Sound, error) {
	t, err := d.tank(tank)
	if err != nil {
		return Sound{}, err
	}
	l, err := provisions.ParseLevel(level, t.Holds)
	if err != nil {
		return Sound{}, err
	}
	if _, err := t.AmountAt(l); err != nil {
		return Sound{}, err
	}
	return Sound{Tank: t.Name, Level: level}, nil
}

// NewSounding is NewSound, but for a level that rose although no fill was written: that is
// asked back, and taken with sure.
func (d Definitions) NewSounding(s State, tank, level string, sure bool) (Sound, error) {
	sound, err := d.NewSound(tank, level)
	if err != nil || sure {
		return sound, err
	}
	if rise := d.risen(s, sound); rise > 0 {
		t, _ := d.Tank(sound.Tank)
		return Sound{}, refuse(fmt.Sprintf("%s would hold %s more than at its last sounding, and no fill was written", t.Name, rise.Down(t.Holds, d.Boat.Units)),
			"write the fill first, or sound it again; if it is right, say so with --sure")
	}
	return sound, nil
}

// NewFill is an amount that went into a tank, or "full"; from another tank if from
// names one, and then never more than is there by what is known of it.
func (d Definitions) NewFill(s State, tank, amount, from string) (Fill, error) {
	t, err := d.tank(tank)
	if err != nil {
		return Fill{}, err
	}
	fill := Fill{Tank: t.Name, Amount: strings.TrimSpace(amount), From: from}
	if from != "" {
		return fill, d.checkMove(s, t, fill)
	}
	if fill.Amount == Full {
		return fill, nil
	}
	return fill, d.checkRoom(t, fill.Amount)
}

func (d Definitions) checkRoom(t provisions.Tank, amount string) error {
	a, err := provisions.ParseAmount(amount, t.Holds)
	if err != nil {
		return err
	}
	if a <= 0 {
		return refuse("nothing would be filled", `write how much, as "40 L", or "full"`)
	}
	if a > t.Capacity {
		return refuse(fmt.Sprintf("%s is more than %s holds", amount, t.Name),
			fmt.Sprintf(`write "full", or an amount up to %s`, t.Capacity.Down(t.Holds, d.Boat.Units)))
	}
	return nil
}

func (d Definitions) checkMove(s State, to provisions.Tank, f Fill) error {
	from, err := d.tank(f.From)
	if err != nil {
		return err
	}
	switch {
	case from.Name == to.Name:
		return refuse("a tank cannot be filled from itself", "name the tank it came from")
	case from.Holds != to.Holds:
		return refuse(fmt.Sprintf("%s holds %s, and %s holds %s", from.Name, from.Holds, to.Name, to.Holds), "name a tank of the same thing")
	case f.Amount == Full:
		return refuse("how much was moved is not known", `write the amount, as "20 L"`)
	}
	if err := d.checkRoom(to, f.Amount); err != nil {
		return err
	}
	moved, err := provisions.ParseAmount(f.Amount, to.Holds)
	if err != nil {
		return err
	}
	held, err := s.Held(from)
	if err != nil {
		return err
	}
	there, err := from.AmountAt(held.Level)
	if err != nil {
		return err
	}
	if there+held.Added < moved {
		return refuse(fmt.Sprintf("%s holds %s by its last sounding", from.Name, (there+held.Added).Down(from.Holds, d.Boat.Units)),
			"sound it first, or move less")
	}
	return nil
}

func (d Definitions) tank(name string) (provisions.Tank, error) {
	if t, known := d.Tank(name); known {
		return t, nil
	}
	var names []string
	for _, t := range d.Boat.Tanks {
		names = append(names, t.Name)
	}
	return provisions.Tank{}, unknown("tank", name, names)
}

// NewCount is the packs of a food that are there: of one lot where a date or a place
// is given, else of all together.
func (d Definitions) NewCount(c Count) (Count, error) {
	if err := d.checkCounted(c); err != nil {
		return Count{}, err
	}
	if c.Packs < 0 || c.Packs > 100000 {
		return Count{}, refuse(fmt.Sprintf("%g packs cannot be there", c.Packs), "count again: none is 0")
	}
	if c.Packs == 0 {
		c.Packs = 0 // minus nothing is nothing
	}
	if dates := given(c.BestBefore) + given(c.UseBy) + given(c.Bought); dates > 1 {
		return Count{}, refuse("a lot has one date", "give best-before, use-by or the day bought")
	}
	return c, checkText("place", c.Place)
}

// checkCounted says whether it is a food, or a consumable, which has no lots.
func (d Definitions) checkCounted(c Count) error {
	if _, known := d.Food(c.Food); known {
		return nil
	}
	if d.isConsumable(c.Food) {
		if !c.IsWhole() {
			return refuse(c.Food+" is counted as a whole", "leave date and place out")
		}
		return nil
	}
	var names []string
	for _, f := range d.Boat.Foods {
		names = append(names, f.Name)
	}
	for _, one := range d.Boat.Consumables {
		names = append(names, one.Name)
	}
	return unknown("food", c.Food, names)
}

func (d Definitions) isConsumable(name string) bool {
	return slices.ContainsFunc(d.Boat.Consumables, func(c provisions.Consumable) bool { return c.Name == name })
}

func given(d quantity.Date) int {
	if d.IsZero() {
		return 0
	}
	return 1
}
