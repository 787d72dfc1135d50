package config

import (
	"math"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// readRates reads rates.toml. Its rations are looked up once stores.toml is read.
func (r *reader) readRates(d *checklist.Definitions) {
	t := r.file(ratesFile, required, "write what is used and what is held back; `hoveshort init` makes one to begin with")
	rates := &d.Boat.Rates
	rates.Water = readWater(t.sub("water", required))
	gas := t.sub("gas", required)
	rates.Gas.Boat, _ = optionalValue(gas, "boat", "0.25 kg", quantity.ParseMass)
	rates.Gas.Person, _ = optionalValue(gas, "person", "0.05 kg", quantity.ParseMass)
	rates.Energy = value(t.sub("food", required), "energy", "2500 kcal", above(quantity.ParseEnergy), required)
	names := newNames("ration")
	for _, row := range t.tables("ration", optional) {
		ration := provisions.Ration{
			Food: row.text("food", required),
			Each: value(row, "each", "80 g", above(quantity.ParseMass), required),
		}
		names.add(row, "food", ration.Food)
		rates.Rations = append(rates.Rations, ration)
	}
	d.Boat.Consumables = readConsumables(t)
	reserve := t.sub("reserve", required)
	rates.Reserve = readReserves(reserve)
	if t.empty("ration") && reserve.has("food") && !rates.Reserve[passage.Food].None {
		t.mistake("ration", "missing", "write what each eats a day in [[ration]], or [reserve.food] none = true where food is not reckoned")
	}
}

func readWater(t *table) provisions.WaterRates {
	w := provisions.WaterRates{
		Drinking:   value(t, "drinking", "3 L", quantity.ParseVolume, required),
		HotWeather: 1,
	}
	w.Cooking, _ = optionalValue(t, "cooking", "1 L", quantity.ParseVolume)
	w.Washing, _ = optionalValue(t, "washing", "1.5 L", quantity.ParseVolume)
	w.Boat, _ = optionalValue(t, "boat", "2 L", quantity.ParseVolume)
	w.Rationed, _ = optionalValue(t, "rationed", "2.5 L", quantity.ParseVolume)
	if t.has("hot_weather") {
		w.HotWeather = t.number("hot_weather", 1, 3, optional)
	}
	return w
}

func readReserves(t *table) map[passage.Thing]provisions.Reserve {
	reserves := map[passage.Thing]provisions.Reserve{}
	for _, thing := range passage.Things {
		reserves[thing] = readReserve(t.sub(string(thing), required), thing)
	}
	return reserves
}

func readReserve(t *table, thing passage.Thing) provisions.Reserve {
	var reserve provisions.Reserve
	if t == nil {
		return reserve
	}
	reserve.None = t.flag("none")
	reserve.Days = t.number("days", 0, 3650, optional)
	if thing != passage.Food {
		reserve.ShareOfNeed = share(t, "share_of_need", optional)
		reserve.ShareOfCapacity = share(t, "share_of_capacity", optional)
		reserve.Amount, _ = optionalValue(t, "amount", amountSample(thing), func(text string) (provisions.Amount, error) {
			return provisions.ParseAmount(text, thing)
		})
	} else {
		refuseFoodReserve(t)
	}
	held := t.has("days") || t.hasAny("share_of_need", "share_of_capacity", "amount")
	switch {
	case reserve.None && held:
		t.mistake("none", "none, and a reserve beside it", "write one of the two")
	case !reserve.None && !held:
		t.mistake("", "holds nothing back", "write days, share_of_need, share_of_capacity or amount, or none = true on purpose")
	}
	return reserve
}

// refuseFoodReserve: of food days are the only reserve.
func refuseFoodReserve(t *table) {
	for _, key := range []string{"share_of_need", "share_of_capacity", "amount"} {
		if t.has(key) {
			t.mistake(key, "food is held back in days only", "write days = 5")
		}
	}
}

func (t *table) hasAny(keys ...string) bool {
	for _, key := range keys {
		if _, there := t.values[key]; there {
			return true
		}
	}
	return false
}

// most is more than anybody keeps or uses of a consumable; it finds a slip of the finger.
const most = 1e6

// readConsumables reads what else is used up; each in a unit of its own.
func readConsumables(t *table) []provisions.Consumable {
	var list []provisions.Consumable
	names := newNames("consumable")
	for _, row := range t.tables("consumable", optional) {
		c := provisions.Consumable{
			Name:       row.text("name", required),
			Unit:       row.text("unit", required),
			Day:        row.number("day", 0, most, optional),
			Person:     row.number("person_day", 0, most, optional),
			EngineHour: row.number("engine_hour", 0, most, optional),
			Aboard:     row.number("aboard", 0, most, required),
			Reserve:    row.number("reserve", 0, most, optional),
			Pack:       1,
			Price:      row.number("price", 0, math.Inf(1), optional),
			Priced:     row.has("price"),
			Critical:   row.flag("critical"),
		}
		names.add(row, "name", c.Name)
		if !row.hasAny("day", "person_day", "engine_hour") {
			row.mistake("", "nothing says how much is used", "write day, person_day or engine_hour, or more than one of them: they are added up")
		}
		if row.has("pack") {
			c.Pack = row.number("pack", 0, most, optional)
			checkPack(row)
		}
		list = append(list, c)
	}
	return list
}

// checkPack tells a pack in which there is nothing.
func checkPack(t *table) {
	if x, isNumber := floatOf(t.values["pack"]); isNumber && x == 0 {
		t.mistake("pack", "0 is not above zero", "write how much is in a pack, in its unit")
	}
}
