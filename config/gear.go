package config

import (
	"fmt"
	"math"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// conditions are the circumstances under which a check or dated gear applies.
var conditions = []string{string(checklist.SingleHanded), string(checklist.Night), string(checklist.OffshoreLeg)}

// readSpares reads spares.toml.
func (r *reader) readSpares(d *checklist.Definitions) {
	t := r.file(sparesFile, optional, "")
	r.spares = r.namesOf(sparesFile, "spare")
	for _, row := range t.tables("spare", optional) {
		s := machinery.Spare{
			Name:     row.text("name", required),
			Size:     row.text("size", optional),
			With:     row.texts("with"),
			Need:     readSpareNeed(row.sub("need", optional)),
			Critical: row.flag("critical"),
		}
		r.spares.add(row, "name", s.Name)
		for _, stowed := range row.tables("stowed", optional) {
			s.Stowed = append(s.Stowed, readStowed(stowed, s))
		}
		d.Spares = append(d.Spares, s)
	}
}

func readSpareNeed(t *table) map[passage.Kind]int {
	need := map[passage.Kind]int{}
	for _, kind := range kinds {
		if t.has(kind) {
			need[passage.Kind(kind)] = t.whole(kind, 0, 1000, optional)
		}
	}
	return need
}

func readStowed(t *table, s machinery.Spare) machinery.Stowed {
	stowed := machinery.Stowed{
		Place:     t.text("place", required),
		Count:     t.whole("count", 0, 100000, required),
		Condition: machinery.Condition(t.oneOf("condition", required, "new", "used", "doubtful", "wrong")),
		Fit:       machinery.Fit(t.oneOf("fit", optional, "proved", "measured", "unknown")),
		Has:       t.texts("has"),
	}
	if stowed.Fit == "" {
		stowed.Fit = machinery.Unknown
	}
	kit := newNames("part of this kit")
	for _, part := range s.With {
		kit.line[part] = 1
		kit.list = append(kit.list, part)
	}
	kit.checkIn(t, "has", stowed.Has)
	return stowed
}

// readTools reads tools.toml.
func (r *reader) readTools(d *checklist.Definitions) {
	t := r.file(toolsFile, optional, "")
	r.tools = r.namesOf(toolsFile, "tool")
	for _, row := range t.tables("tool", optional) {
		tool := machinery.Tool{
			Name:  row.text("name", required),
			Place: row.text("place", optional),
			State: machinery.ToolState(row.oneOf("state", optional, "good", "stiff", "seized", "missing")),
		}
		if tool.State == "" {
			tool.State = machinery.Good
		}
		r.tools.add(row, "name", tool.Name)
		d.Tools = append(d.Tools, tool)
	}
}

// readDated reads dated.toml.
func (r *reader) readDated(d *checklist.Definitions) {
	t := r.file(datedFile, optional, "")
	r.dated = r.namesOf(datedFile, "dated gear")
	for _, row := range t.tables("dated", optional) {
		gear := machinery.Dated{
			Name:     row.text("name", required),
			Place:    row.text("place", optional),
			Critical: row.flag("critical"),
			Only:     row.choices("only", conditions...),
		}
		gear.Until, _ = row.date("until", optional)
		r.dated.add(row, "name", gear.Name)
		d.Dated = append(d.Dated, gear)
	}
}

// readUpkeep reads upkeep.toml.
func (r *reader) readUpkeep(d *checklist.Definitions) {
	t := r.file(upkeepFile, optional, "")
	r.services = r.namesOf(upkeepFile, "service")
	for _, row := range t.tables("service", optional) {
		s := machinery.Service{
			Name:        row.text("name", required),
			EveryHours:  row.number("every_hours", 1, 1e6, optional),
			EveryMonths: row.whole("every_months", 1, 1200, optional),
			Critical:    row.flag("critical"),
			UnderWay:    row.flag("under_way"),
			Uses:        row.texts("uses"),
			Tools:       row.texts("tools"),
			Resets:      row.oneOf("resets", optional, "fouling"),
		}
		s.Takes, _ = optionalValue(row, "takes", "45 min", quantity.ParseDuration)
		s.Last = readLast(row, s)
		r.services.add(row, "name", s.Name)
		r.spares.checkIn(row, "uses", s.Uses)
		r.tools.checkIn(row, "tools", s.Tools)
		d.Services = append(d.Services, s)
	}
}

func readLast(t *table, s machinery.Service) machinery.Done {
	if !t.has("every_hours") && !t.has("every_months") && !t.has("resets") {
		t.mistake("", "never comes due", "write every_hours, every_months or both")
	}
	last := t.sub("last", optional) // left out: never done, so overdue
	if last == nil {
		return machinery.Done{}
	}
	done := machinery.Done{Hours: last.number("hours", 0, math.MaxInt32, optional)}
	done.Date, _ = last.date("date", optional)
	if s.EveryMonths > 0 && !last.has("date") {
		last.mistake("date", "missing, and the service is due by calendar", "write last = { date = 2026-01-10, hours = 1410.0 }")
	}
	if s.EveryHours > 0 && !last.has("hours") {
		last.mistake("hours", "missing, and the service is due by hours", "write last = { date = 2026-01-10, hours = 1410.0 }")
	}
	return done
}

// readFaults reads the fault-finding cards.
func (r *reader) readFaults(d *checklist.Definitions) {
	signs := map[string]string{}
	for _, file := range r.within(faultsDir) {
		t := r.tables[file]
		if t == nil {
			continue
		}
		card := machinery.Card{
			File: file, Sign: t.text("sign", required), First: t.text("first", optional), Caution: t.text("caution", optional),
		}
		if first, taken := signs[card.Sign]; taken {
			t.mistake("sign", fmt.Sprintf("two cards of the sign %s, the first in %s", quote(card.Sign), first), "give each a sign of its own")
		} else if card.Sign != "" {
			signs[card.Sign] = t.place("sign")
		}
		looks := newNames("look of this card") // the record knows a look by what it looks at
		for _, row := range t.tables("look", required) {
			look := r.readLook(row)
			looks.add(row, "at", look.At)
			card.Looks = append(card.Looks, look)
		}
		d.Cards = append(d.Cards, card)
	}
}

func (r *reader) readLook(t *table) machinery.Look {
	look := machinery.Look{
		At: t.text("at", required), How: t.text("how", required), AtSea: t.flag("at_sea"), HauledOut: t.flag("hauled_out"),
		Tools: t.texts("tools"), Uses: t.texts("uses"), RulesOut: t.text("rules_out", optional), Means: t.text("means", optional),
	}
	look.Takes, _ = optionalValue(t, "takes", "5 min", quantity.ParseDuration)
	r.spares.checkIn(t, "uses", look.Uses)
	r.tools.checkIn(t, "tools", look.Tools)
	return look
}

// place is a key's file and line, to point to it from elsewhere.
func (t *table) place(key string) string { return fmt.Sprintf("%s:%d", t.doc.file, t.line(key)) }
