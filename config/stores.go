package config

import (
	"fmt"
	"math"
	"slices"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// purest is the energy of pure fat, in kcal per 100 g, with a little room.
const purest = 905

// readStores reads stores.toml, and holds the rations against it.
func (r *reader) readStores(d *checklist.Definitions) {
	need := required
	rates := d.Boat.Rates
	if r.unreadable(ratesFile) || len(rates.Rations) == 0 && rates.Reserve[passage.Food].None {
		need = optional
	}
	t := r.file(storesFile, need, "write the foods and what is aboard; without rations and with [reserve.food] none = true it may be missing")
	foods := newNames("food")
	rows := map[string]*table{}
	for _, row := range t.tables("food", optional) {
		f := readFood(row)
		foods.add(row, "name", f.Name)
		if rows[f.Name] == nil {
			rows[f.Name] = row
		}
		d.Boat.Foods = append(d.Boat.Foods, f)
	}
	for i, row := range t.tables("food", optional) {
		checkInstead(row, d.Boat.Foods[i], foods)
	}
	for _, row := range t.tables("lot", optional) {
		l := readLot(row)
		foods.check(row, "food", l.Food)
		checkBought(row, l, rows[l.Food])
		d.Boat.Lots = append(d.Boat.Lots, l)
	}
	if t != nil {
		r.checkRations(d, foods, rows)
		r.checkConsumables(d, rows)
	}
}

func readFood(t *table) provisions.Food {
	f := provisions.Food{
		Name:    t.text("name", required),
		Pack:    value(t, "pack", "1 kg", above(quantity.ParseMass), required),
		Kcal:    t.number("kcal", 0, purest, required),
		Refuse:  percent(t, "refuse", optional),
		Chilled: t.flag("chilled"),
		Cook:    t.flag("cook"),
		Instead: t.text("instead", optional),
		Price:   t.number("price", 0, math.Inf(1), optional),
	}
	if t.has("protein") {
		protein := t.number("protein", 0, 100, optional)
		f.Protein = &protein
	}
	f.FruitVeg = t.flag("fruit_veg")
	f.Place = t.text("place", optional)
	f.Keeps, _ = optionalValue(t, "keeps", "18 months", quantity.ParsePeriod)
	f.KeepsWarm, _ = optionalValue(t, "keeps_warm", "3 days", quantity.ParsePeriod)
	f.Grace, _ = optionalValue(t, "grace", "6 months", quantity.ParsePeriod)
	return f
}

func checkInstead(t *table, f provisions.Food, foods *names) {
	switch f.Instead {
	case "":
	case f.Name:
		t.mistake("instead", "a food cannot stand in for itself", "write another food")
	default:
		foods.check(t, "instead", f.Instead)
	}
}

func readLot(t *table) provisions.Lot {
	l := provisions.Lot{
		Food:  t.text("food", required),
		Packs: t.number("packs", 0, 100000, required),
		Place: t.text("place", optional),
	}
	l.BestBefore, _ = t.date("best_before", optional)
	l.UseBy, _ = t.date("use_by", optional)
	l.Bought, _ = t.date("bought", optional)
	checkDates(t)
	return l
}

// checkDates tells a lot's second date.
func checkDates(t *table) {
	dates := []string{"best_before", "use_by", "bought"}
	dates = slices.DeleteFunc(dates, func(key string) bool { return !t.has(key) })
	slices.SortStableFunc(dates, func(a, b string) int { return t.line(a) - t.line(b) })
	if len(dates) > 1 {
		t.mistake(dates[1], fmt.Sprintf("a second date, beside %s on line %d", dates[0], t.line(dates[0])), "write one of best_before, use_by and bought")
	}
}

// checkBought: the day a food was bought says when it goes off only where it is
// known how long it keeps.
func checkBought(t *table, l provisions.Lot, food *table) {
	if l.Bought.IsZero() || food == nil || food.has("keeps") {
		return
	}
	t.mistake("bought", fmt.Sprintf("the food %s has no keeps", quote(l.Food)), "write keeps at the food, or best_before or use_by here")
}

const (
	// leastShare of the wanted energy is what the rations must add up to. Design, section 4.8.
	leastShare = 0.9

	// crumb is what binary fractions may lose in a sum that is exactly on leastShare.
	crumb = 1e-9
)

// checkRations: foods that exist, and enough of them.
func (r *reader) checkRations(d *checklist.Definitions, foods *names, food map[string]*table) {
	rates, t := d.Boat.Rates, r.tables[ratesFile]
	known := rates.Energy > 0 && len(rates.Rations) > 0
	for i, row := range t.tables("ration", optional) {
		ration := rates.Rations[i]
		foods.check(row, "food", ration.Food)
		known = known && ration.Each > 0 && food[ration.Food].hasNumber("kcal", 0, purest)
	}
	share := float64(rates.DailyEnergy(d.Boat.Foods)) / float64(rates.Energy)
	if !known || share >= leastShare-crumb {
		return
	}
	t.sub("food", optional).mistake("energy", fmt.Sprintf("the rations add up to %.1f %% of it", math.Floor(1000*share)/10),
		"write larger rations, at least 90 %, or a smaller energy")
}

// checkConsumables: a count goes by the name alone, so no food has the same.
func (r *reader) checkConsumables(d *checklist.Definitions, food map[string]*table) {
	for i, row := range r.tables[ratesFile].tables("consumable", optional) {
		name := d.Boat.Consumables[i].Name
		if same := food[name]; name != "" && same != nil {
			row.mistake("name", fmt.Sprintf("a food is called %s too, in %s:%d", quote(name), storesFile, same.line("name")), "give it a name of its own: a count goes by the name")
		}
	}
}

// hasNumber says that a number from lo to hi could be read there.
func (t *table) hasNumber(key string, lo, hi float64) bool {
	if t == nil {
		return false
	}
	x, isNumber := floatOf(t.values[key])
	return isNumber && x >= lo && x <= hi
}
