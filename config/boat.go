package config

import (
	"fmt"
	"slices"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// highestRPM is more than any auxiliary diesel turns; it finds a slip of the finger.
const highestRPM = 10000

// readBoat reads boat.toml.
func (r *reader) readBoat(d *checklist.Definitions) {
	t := r.file(boatFile, required, "write it; `hoveshort init` makes one to begin with")
	d.Boat.Name = t.text("name", required)
	d.Boat.Waterline, _ = optionalValue(t, "waterline", "9.8 m", quantity.ParseLength)
	if t.oneOf("units", optional, "metric", "us") == "us" {
		d.Boat.Units = quantity.US
	}
	d.Boat.Identity = readIdentity(t.sub("identity", optional))
	d.Boat.Engine = readEngine(t.sub("engine", required))
	r.noOil = saysNoOil(t.sub("engine", optional), d.Boat.Engine)
	d.Boat.Tanks = readTanks(t)
	d.Boat.Watermaker = readWatermaker(t.sub("watermaker", optional))
	d.Boat.Heater = readHeater(t.sub("heater", optional))
	d.Boat.Sensors = readSensors(t, d.Boat.Tanks)
	noteHullSpeed(t, d.Boat.Waterline, d.Boat.Engine.Curve)
}

func readIdentity(t *table) []checklist.Identity {
	var list []checklist.Identity
	for _, key := range []string{"call_sign", "mmsi", "registration", "beacon_id", "hull", "sails", "raft"} {
		if text := t.text(key, optional); text != "" {
			list = append(list, checklist.Identity{Key: key, Text: text})
		}
	}
	return list
}

func readEngine(t *table) passage.Engine {
	e := passage.Engine{
		RatedRPM:     t.whole("rated_rpm", 1, highestRPM, required),
		CruiseRPM:    t.whole("cruise_rpm", 1, highestRPM, required),
		CoolantMax:   value(t, "coolant_max", "95 °C", quantity.ParseTemperature, required),
		Hours:        t.number("hours", 0, 1e6, required),
		ChargingBurn: value(t, "charging_burn", "1.4 L/h", quantity.ParseFlow, required),
		Charging:     value(t, "charging", "1.5 h", parseOfDay, required),
	}
	e.RatedPower, _ = optionalValue(t, "rated_power", "28 kW", above(quantity.ParsePower))
	e.OilMinIdle, _ = optionalValue(t, "oil_min_idle", "1.0 bar", quantity.ParsePressure)
	e.Curve = readCurve(t)
	if t.empty("curve") && !t.has("rated_power") {
		t.mistake("", "neither a curve nor rated_power", `write at least two [[engine.curve]], or rated_power = "28 kW"`)
	}
	checkRevs(t, "cruise_rpm", e.CruiseRPM, e)
	return e
}

func saysNoOil(t *table, e passage.Engine) bool {
	return t != nil && !t.has("oil_min_idle") && !slices.ContainsFunc(e.Curve, func(row passage.CurveRow) bool { return row.Oil != nil })
}

// empty says that a list is left out, or that nothing is in it.
func (t *table) empty(key string) bool {
	if t == nil || !t.has(key) {
		return t != nil
	}
	items, isList := listOf(t.values[key])
	return isList && len(items) == 0
}

// parseOfDay reads a time of a day: no more than its 24 hours.
func parseOfDay(text string) (time.Duration, error) {
	d, err := quantity.ParseDuration(text)
	if err == nil && d > 24*time.Hour {
		return 0, &quantity.Error{Problem: quote(text) + " is more than the 24 hours of a day", Cure: `write hours a day, such as "1.5 h"`}
	}
	return d, err
}

// above makes of parse one that refuses zero and less: nothing can be reckoned with it.
func above[T ~float64](parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		v, err := parse(text)
		if err == nil && v <= 0 {
			return 0, &quantity.Error{Problem: quote(text) + " is not above zero", Cure: "write more than zero"}
		}
		return v, err
	}
}

// checkRevs tells revs above the rated ones, or outside the curve where there is one.
func checkRevs(t *table, key string, rpm int, e passage.Engine) {
	lo, hi, curved := revsOf(e.Curve)
	switch {
	case rpm == 0:
	case e.RatedRPM > 0 && rpm > e.RatedRPM:
		t.mistake(key, fmt.Sprintf("%d is above rated_rpm, %d", rpm, e.RatedRPM), "write revs she can keep up")
	case curved && (rpm < lo || rpm > hi):
		t.mistake(key, fmt.Sprintf("%d is outside the curve, which runs from %d to %d rpm", rpm, lo, hi), "write revs within it, or add a row to the curve")
	}
}

// revsOf is the lowest and the highest revs of a curve; not ok where its rows are no curve.
func revsOf(curve []passage.CurveRow) (lo, hi int, ok bool) {
	if len(curve) < 2 {
		return 0, 0, false
	}
	for i, row := range curve {
		if row.RPM == 0 || i > 0 && row.RPM <= curve[i-1].RPM {
			return 0, 0, false
		}
	}
	return curve[0].RPM, curve[len(curve)-1].RPM, true
}

func readCurve(t *table) []passage.CurveRow {
	rows := t.tables("curve", optional)
	if len(rows) == 1 {
		rows[0].mistake("", "one row is no curve", "write at least two [[engine.curve]], or none and rated_power")
	}
	var curve []passage.CurveRow
	for _, row := range rows {
		c := passage.CurveRow{
			RPM:     row.whole("rpm", 1, highestRPM, required),
			Speed:   value(row, "speed", "5.2 kn", above(quantity.ParseSpeed), required),
			Burn:    value(row, "burn", "1.7 L/h", above(quantity.ParseFlow), required),
			Coolant: value(row, "coolant", "80 °C", quantity.ParseTemperature, required),
			Oil:     pointer(row, "oil", "3.4 bar", quantity.ParsePressure),
			Sea:     pointer(row, "sea", "18 °C", quantity.ParseTemperature),
			RawOut:  pointer(row, "raw_out", "41 °C", quantity.ParseTemperature),
		}
		if n := len(curve); n > 0 && c.RPM > 0 && c.RPM <= curve[n-1].RPM {
			row.mistake("rpm", fmt.Sprintf("%d is not above the row before, %d", c.RPM, curve[n-1].RPM), "put the rows in order of rising rpm")
		}
		curve = append(curve, c)
	}
	return curve
}

// pointer is an optional quantity whose absence matters; nil: left out.
func pointer[T any](t *table, key, sample string, parse func(string) (T, error)) *T {
	v, there := optionalValue(t, key, sample, parse)
	if !there {
		return nil
	}
	return &v
}

func readTanks(t *table) []provisions.Tank {
	var tanks []provisions.Tank
	names := newNames("tank")
	holds := map[passage.Thing]bool{}
	for _, row := range t.tables("tank", required) {
		tank := readTank(row)
		names.add(row, "name", tank.Name)
		holds[tank.Holds] = true
		tanks = append(tanks, tank)
	}
	if len(tanks) == 0 || holds[""] {
		return tanks
	}
	for _, thing := range []passage.Thing{passage.Water, passage.Fuel} {
		if !holds[thing] {
			t.mistake("tank", fmt.Sprintf("no tank holds %s", thing), fmt.Sprintf("add a [[tank]] with holds = %q", thing))
		}
	}
	return tanks
}

func readTank(t *table) provisions.Tank {
	tank := provisions.Tank{
		Name:       t.text("name", required),
		Holds:      passage.Thing(t.oneOf("holds", required, string(passage.Water), string(passage.Fuel), string(passage.Gas))),
		GaugeError: percent(t, "gauge_error", required),
		DipError:   percent(t, "dip_error", optional),
		Sealed:     t.flag("sealed"),
		Can:        t.flag("can"),
	}
	sample := amountSample(tank.Holds)
	amount := func(text string) (provisions.Amount, error) {
		return provisions.ParseAmount(text, heldIn(text, tank.Holds))
	}
	tank.Capacity = value(t, "capacity", sample, above(amount), required)
	tank.Unusable = value(t, "unusable", sample, amount, required)
	for _, p := range pairs(t, "dip", [2]string{"120 mm", sample}, quantity.ParseLength, amount) {
		tank.Dip = append(tank.Dip, provisions.DipRow{Depth: p.first, Amount: p.second})
	}
	tank.Shape = readShape(t.sub("shape", optional))
	tank.Level = value(t, "level", sample, func(text string) (provisions.Level, error) {
		return provisions.ParseLevel(text, heldIn(text, tank.Holds))
	}, required)
	checkTank(t, tank)
	return tank
}

// readShape is the tank's form where its depth alone tells what is in it.
func readShape(t *table) provisions.Shape {
	if t == nil {
		return provisions.Shape{}
	}
	forms := make([]string, len(provisions.Forms))
	for i, form := range provisions.Forms {
		forms[i] = string(form)
	}
	return provisions.Shape{
		Form:  provisions.Form(t.oneOf("form", required, forms...)),
		Depth: value(t, "depth", "420 mm", above(quantity.ParseLength), required),
	}
}

// amountSample is an amount of a thing as it is written.
func amountSample(thing passage.Thing) string {
	if thing == passage.Gas {
		return "2.7 kg"
	}
	return "220 L"
}

// heldIn is what a tank holds; where that could not be read, what the amount looks like.
func heldIn(text string, holds passage.Thing) passage.Thing {
	if holds != "" {
		return holds
	}
	if _, err := quantity.ParseMass(text); err == nil {
		return passage.Gas
	}
	return passage.Water
}

// checkTank holds a tank's values against each other, as far as they could be read.
func checkTank(t *table, tank provisions.Tank) {
	if tank.Holds == "" || tank.Capacity == 0 {
		return
	}
	if tank.Unusable > tank.Capacity {
		t.mistake("unusable", "more than the capacity", "write what stays below the pick-up")
	}
	if checkDip(t, tank) && checkShape(t, tank) && tank.Level.Text != "" {
		checkLevel(t, tank)
	}
}

// checkShape is false where a level cannot be held against the shape.
func checkShape(t *table, tank provisions.Tank) bool {
	switch {
	case !t.has("shape"):
		return true
	case t.has("dip"):
		t.mistake("shape", "a shape, and a dip table beside it", "write one of the two: the table, where it was measured")
	case tank.Holds == passage.Gas:
		t.mistake("shape", "gas is told by weight, not by depth", "leave the shape out")
	default:
		return tank.Shape.Form != "" && tank.Shape.Depth > 0 // else it was told when it was read
	}
	return false
}

// checkDip is false where a level cannot be held against the sounding table.
func checkDip(t *table, tank provisions.Tank) bool {
	items, isList := listOf(t.values["dip"])
	if t.has("dip") && !isList || len(items) != len(tank.Dip) {
		return false // that was told when it was read
	}
	if len(tank.Dip) == 1 {
		t.mistake("dip", "one row is no table", "write at least two rows, from empty to full")
		return false
	}
	right := true
	for i, row := range tank.Dip {
		switch {
		case row.Amount > tank.Capacity:
			t.mistakeIn("dip", i, "more than the capacity", "the last row is the full tank")
		case i > 0 && (row.Depth <= tank.Dip[i-1].Depth || row.Amount < tank.Dip[i-1].Amount):
			t.mistakeIn("dip", i, "not above the row before", "put the rows in order of rising depth")
		default:
			continue
		}
		right = false
	}
	return right
}

func checkLevel(t *table, tank provisions.Tank) {
	tank.Name = shorten(tank.Name) // for the message alone
	_, err := tank.AmountAt(tank.Level)
	if err == nil {
		return
	}
	problem, cure := err.Error(), ""
	if e, is := asQuantityError(err); is {
		problem, cure = e.Problem, e.Cure
	}
	t.mistake("level", problem, cure)
}

// percent is a share with its sign: a bare number would not tell 5 from 0.05.
func percent(t *table, key string, need need) quantity.Share {
	return value(t, key, "5 %", quantity.ParseShare, need)
}

// share is a share from 0 to 1, written as a number.
func share(t *table, key string, need need) quantity.Share {
	return quantity.Share(t.number(key, 0, 1, need))
}

func readWatermaker(t *table) *provisions.Watermaker {
	if t == nil {
		return nil
	}
	return &provisions.Watermaker{
		Output:      value(t, "output", "30 L/h", above(quantity.ParseFlow), required),
		Run:         value(t, "run", "1 h", parseOfDay, required),
		NeedsEngine: t.flag("needs_engine"),
	}
}

func readHeater(t *table) *provisions.Heater {
	if t == nil {
		return nil
	}
	return &provisions.Heater{
		Burn: value(t, "burn", "0.25 L/h", above(quantity.ParseFlow), required),
		Run:  value(t, "run", "6 h", parseOfDay, required),
	}
}

// noteHullSpeed tells a curve that is faster than the waterline lets a displacement
// hull go.
func noteHullSpeed(t *table, waterline quantity.Length, curve []passage.CurveRow) {
	limit := passage.HullSpeed(waterline)
	var top quantity.Speed
	for _, row := range curve {
		top = max(top, row.Speed)
	}
	if limit > 0 && top > limit {
		t.note("waterline", fmt.Sprintf("the curve reaches %s, above the hull speed %s of %s", top, limit.In(quantity.Metric), waterline), "is the waterline or the speed a slip?")
	}
}
