package config

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// readUses reads the one-off uses of passage.toml, once its legs are read.
func readUses(t *table, p *passage.Plan) {
	for _, row := range t.tables("use", optional) {
		u := passage.Use{
			What: passage.Thing(row.oneOf("what", required, string(passage.Water), string(passage.Fuel), string(passage.Gas))),
			Why:  row.text("why", optional),
		}
		if row.has("at") {
			u.At = row.text("at", required)
		}
		u.Amount = float64(value(row, "amount", useSample(u.What), above(func(text string) (provisions.Amount, error) {
			return provisions.ParseAmount(text, heldIn(text, u.What))
		}), required))
		u.On, _ = row.date("on", optional)
		checkWhen(row, u, *p)
		p.Uses = append(p.Uses, u)
	}
}

// useSample is a one-off use as it is written.
func useSample(thing passage.Thing) string {
	if thing == passage.Gas {
		return "0.5 kg"
	}
	return "40 L"
}

// checkWhen: a day or a stop, of the passage.
func checkWhen(t *table, u passage.Use, p passage.Plan) {
	switch {
	case t.has("on") && t.has("at"):
		t.mistake("at", fmt.Sprintf("a stop, beside the day on line %d", t.line("on")), "write one of on and at")
	case !t.has("on") && !t.has("at"):
		t.mistake("on", "missing", `write the day, such as on = 2026-06-14, or the stop, such as at = "PLACE"`)
	case strings.TrimSpace(u.At) != "":
		checkStop(t, u.At, p)
	case !u.On.IsZero() && !p.Depart.IsZero() && u.On.Before(quantity.DateOf(p.Depart)):
		t.mistake("on", fmt.Sprintf("%s is before the departure, %s", u.On, quantity.DateOf(p.Depart)),
			"write a day of the passage; what is used before it shows in the soundings")
	}
}

// checkStop tells a place at which she does not stop between two legs, or stops twice.
func checkStop(t *table, name string, p passage.Plan) {
	var stops []string
	for i, leg := range p.Legs {
		if leg.To == "" {
			return // that was told when it was read
		}
		if i < len(p.Legs)-1 {
			stops = append(stops, leg.To)
		}
	}
	slices.Sort(stops)
	at, there := slices.BinarySearch(stops, name)
	switch {
	case len(p.Legs) == 0:
	case len(stops) == 0:
		t.mistake("at", "the passage has no stop between two legs", "write the day, such as on = 2026-06-14")
	case !there:
		t.mistake("at", fmt.Sprintf("no stop between two legs is called %s", quote(name)), "write "+strings.Join(quoted(slices.Compact(stops)), " or ")+", or the day")
	case at+1 < len(stops) && stops[at+1] == name:
		t.mistake("at", fmt.Sprintf("she stops at %s more than once", quote(name)), "write the day, such as on = 2026-06-14")
	}
}

func quoted(words []string) []string {
	list := make([]string, len(words))
	for i, word := range words {
		list[i] = quote(word)
	}
	return list
}

// noteUses tells one-off uses that count nowhere.
func noteUses(t *table, d *checklist.Definitions) {
	var last quantity.Date // on which she is in, in the longest of the cases
	for _, name := range passage.CaseNames {
		v := passage.Run(d.Plan, d.Boat.Engine, name, d.Plan.Depart, passage.Trim{Fouling: 1})
		if day := quantity.DateOf(v.Arrive()); v.Made() && day.After(last) {
			last = day
		}
	}
	for i, row := range t.tables("use", optional) {
		u := d.Plan.Uses[i]
		leg, stops := d.Plan.Stop(u.At)
		switch {
		case stops && d.Plan.Legs[leg].Gives(u.What):
			row.note("at", fmt.Sprintf("%s gives %s: none is used of what is aboard", quote(u.At), u.What), "")
		case !u.On.IsZero() && !last.IsZero() && u.On.After(last):
			row.note("on", fmt.Sprintf("%s is after the last arrival, in the slowest case on %s: it counts nowhere", u.On, last), "is it a slip of the finger?")
		}
	}
}
