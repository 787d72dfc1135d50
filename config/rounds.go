package config

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// mostChecks is how many checks of a section can be kept in the head. "Checklist
// for checklists" (Gawande and Brigham): fewer than ten items at a pause point.
const mostChecks = 9

// readRounds reads rounds/*.toml.
func (r *reader) readRounds(d *checklist.Definitions) {
	ids, roundNames := map[string]string{}, map[string]string{}
	signs := r.unreadable(roundsDir)
	for _, file := range r.within(roundsDir) {
		t := r.tables[file]
		if t == nil {
			signs = true // it may be the one
			continue
		}
		round := r.readRound(t, file, ids)
		if first, taken := roundNames[round.Name]; taken {
			t.mistake("name", fmt.Sprintf("two rounds of the name %s, the first in %s", quote(round.Name), first), "give each a name of its own")
		} else if round.Name != "" {
			roundNames[round.Name] = t.place("name")
		}
		signs = signs || mayGate(t, round)
		d.Rounds = append(d.Rounds, round)
	}
	if !signs {
		r.later = append(r.later, Mistake{
			File: roundsDir, Problem: `no round for = "sign" with a critical check`, Cure: "write one; `hoveshort init` makes one to begin with",
		})
	}
}

// mayGate says that the round is for the sign-off and has a critical check, or would
// be and have one if the keys that say so could be read.
func mayGate(t *table, round checklist.Round) bool {
	if round.For != checklist.ForSign && (round.For != "" || !t.has("for")) {
		return false
	}
	for _, section := range t.tables("section", optional) {
		for _, check := range section.tables("check", optional) {
			if check.values["critical"] != false && !check.empty("critical") {
				return true
			}
		}
	}
	return false
}

// readRound reads one round; ids are the check ids taken already over all rounds,
// with the place of each.
func (r *reader) readRound(t *table, file string, ids map[string]string) checklist.Round {
	round := checklist.Round{
		File: file,
		Name: t.text("name", required),
		For:  checklist.Purpose(t.oneOf("for", required, "sign", "weigh", "under way", "arrival", "any")),
	}
	for _, kind := range t.choices("kinds", kinds...) {
		round.Kinds = append(round.Kinds, passage.Kind(kind))
	}
	sections := newNames("section")
	var chain chain
	for _, row := range t.tables("section", required) {
		section := readSection(row)
		sections.add(row, "name", section.Name)
		for _, at := range row.tables("check", required) {
			c := r.readCheck(at)
			addID(at, ids, c.ID)
			chain.add(at, c)
			section.Checks = append(section.Checks, c)
		}
		if n := len(section.Checks); n > mostChecks {
			row.note("", fmt.Sprintf("%d checks in one section", n), "split it: more than nine are hard to keep in the head")
		}
		round.Sections = append(round.Sections, section)
	}
	chain.check()
	return round
}

func readSection(t *table) checklist.Section {
	section := checklist.Section{
		Name:    t.text("name", required),
		Mode:    checklist.Mode(t.oneOf("mode", optional, string(checklist.DoThenTick), string(checklist.LookThenConfirm))),
		Done:    t.text("done", optional),
		Caution: t.text("caution", optional),
	}
	if section.Mode == "" {
		section.Mode = checklist.LookThenConfirm
	}
	return section
}

func addID(t *table, ids map[string]string, id string) {
	if first, taken := ids[id]; taken {
		t.mistake("id", fmt.Sprintf("two checks of the id %s, the first in %s", quote(id), first), "give each an id of its own over all rounds")
	} else if id != "" {
		ids[id] = t.place("id")
	}
}

// chain is the checks of one round, each after others of it.
type chain struct {
	rows   []*table
	checks []checklist.Check
	at     map[string]int // of the first check of each id
	seen   map[int]bool   // each check looked at; true: it is on the path that is being looked at
	here   *names
}

func (c *chain) add(t *table, check checklist.Check) {
	if c.here == nil {
		c.here, c.at, c.seen = newNames("check of this round"), map[string]int{}, map[int]bool{}
	}
	if _, taken := c.at[check.ID]; check.ID != "" && !taken {
		c.here.add(t, "id", check.ID)
		c.at[check.ID] = len(c.checks)
	}
	c.rows, c.checks = append(c.rows, t), append(c.checks, check)
}

// check tells ids that are no checks of the round, and checks that wait for themselves.
func (c *chain) check() {
	for i, row := range c.rows {
		c.here.checkIn(row, "after", c.checks[i].After)
	}
	for i := range c.checks {
		c.follow(i)
	}
}

// follow looks at what check i waits for, and at what that waits for.
func (c *chain) follow(i int) {
	if _, seen := c.seen[i]; seen {
		return
	}
	c.seen[i] = true
	for k, id := range c.checks[i].After {
		next, known := c.at[id]
		if known && c.seen[next] {
			c.rows[i].mistakeIn("after", k, fmt.Sprintf("%s waits for this one already", quote(id)), "take one of the checks out of the circle")
		} else if known {
			c.follow(next)
		}
	}
	c.seen[i] = false
}

func (r *reader) readCheck(t *table) checklist.Check {
	c := checklist.Check{
		ID:      t.text("id", required),
		Ask:     t.text("ask", required),
		Covers:  t.oneOf("covers", optional, checklist.Topics...),
		VoidBy:  t.texts("void_by"),
		Only:    asConditions(t.choices("only", conditions...)),
		After:   t.texts("after"),
		Say:     t.text("say", optional),
		Caution: t.text("caution", optional),
		Source:  t.text("source", optional),
	}
	critical, when := t.flagOrChoices("critical", conditions...)
	c.Critical, c.CritWhen = critical, asConditions(when)
	c.GoodFor, _ = optionalValue(t, "good_for", "24 h", quantity.ParsePeriod)
	c.Reading = r.readRange(t.sub("reading", optional))
	c.Automatic = r.readAutomatic(t)
	ticked := required // what is ticked must say what right looks like
	if t.has("reading") || t.has("automatic") {
		ticked = optional
	}
	c.Right = t.text("right", ticked)
	if t.has("reading") && t.has("automatic") {
		t.mistake("automatic", "reading and automatic both", "write one of the two")
	}
	return c
}

func asConditions(words []string) []checklist.Condition {
	var list []checklist.Condition
	for _, w := range words {
		list = append(list, checklist.Condition(w))
	}
	return list
}

// limitMost is beyond every number that is counted aboard.
const limitMost = 1e9

// curveGauges are the readings of which the engine's curve knows the normal.
var curveGauges = []string{"coolant", "oil"}

// gaugeUnits are the readings whose sort of value is known.
var gaugeUnits = map[string]quantity.Dimension{
	"rpm": quantity.OfCount, "speed": quantity.OfSpeed, "coolant": quantity.OfTemperature, "oil": quantity.OfPressure,
	"volts": quantity.OfVoltage, "sea": quantity.OfTemperature, "raw_out": quantity.OfTemperature,
}

func (r *reader) readRange(t *table) *checklist.Range {
	if t == nil {
		return nil
	}
	limits := checklist.Range{
		Of: t.text("of", required), Min: limit(t, "min"), Max: limit(t, "max"), Normal: t.flag("normal"),
	}
	checkUnit(t, "min", limits.Of, limits.Min)
	checkUnit(t, "max", limits.Of, limits.Max)
	switch {
	case limits.Of == "":
	case limits.Normal && !slices.Contains(curveGauges, limits.Of):
		t.mistake("normal", "the curve has no normal of "+quote(limits.Of), "write min and max; the curve knows coolant and oil")
	case limits.Normal && limits.Of == "oil" && r.noOil:
		t.mistake("normal", "boat.toml says no normal oil pressure", "write oil in the curve, or oil_min_idle in [engine]")
	case !limits.Normal && !t.has("min") && !t.has("max"):
		t.mistake("", "no limits to judge by", "write min, max or both, or normal = true")
	case limits.Min == nil || limits.Max == nil:
	case limits.Min.Dimension != limits.Max.Dimension:
		t.mistake("max", "not the same sort of value as min", "write both in units of one sort")
	case limits.Min.Value > limits.Max.Value:
		t.mistake("max", "below min", "write the smaller one as min")
	}
	return &limits
}

// checkUnit tells a limit that no reading of the gauge can be held against.
func checkUnit(t *table, key, of string, limit *quantity.Any) {
	want, known := gaugeUnits[of]
	if known && limit != nil && limit.Dimension != want {
		t.mistake(key, fmt.Sprintf("%s is no %s", quote(fmt.Sprint(t.values[key])), want), "write it in a unit of "+want.String())
	}
}

// limit is one end of a range: a quantity with its unit, or a plain number where
// something is counted.
func limit(t *table, key string) *quantity.Any {
	if _, isNumber := floatOf(t.values[key]); isNumber {
		count := t.number(key, -limitMost, limitMost, optional)
		return &quantity.Any{Dimension: quantity.OfCount, Value: count}
	}
	return pointer(t, key, "12.4 V", quantity.ParseAny)
}

// automatics are what the program itself answers; true: it needs a name behind a colon.
var automatics = map[string]bool{
	"endurance": true, "service": true, "spares": true, "dated": true,
	"defects": false, "daylight": false, "soundings": false, "season": false,
}

const writeAutomatic = "write one of endurance:water|fuel|food|gas, service:NAME|all, spares:NAME|all, dated:NAME|all, defects, daylight, soundings, season"

func (r *reader) readAutomatic(t *table) *checklist.Automatic {
	text := t.text("automatic", optional)
	if _, isText := t.values["automatic"].(string); !isText {
		return nil
	}
	of, name, named := strings.Cut(text, ":")
	wants, known := automatics[of]
	if !known || wants != named || named && name == "" {
		t.mistake("automatic", quote(text)+" is nothing the program can answer", writeAutomatic)
		return nil
	}
	r.checkAutomatic(t, of, name)
	return &checklist.Automatic{Of: of, Name: name}
}

// checkAutomatic tells a name that points nowhere.
func (r *reader) checkAutomatic(t *table, of, name string) {
	switch {
	case of == "endurance":
		if !slices.Contains(passage.Things[:], passage.Thing(name)) {
			t.mistake("automatic", "no endurance is reckoned of "+quote(name), "write water, fuel, food or gas")
		}
	case name == checklist.All:
	case of == "service":
		r.services.check(t, "automatic", name)
	case of == "spares":
		r.spares.check(t, "automatic", name)
	case of == "dated":
		r.dated.check(t, "automatic", name)
	}
}
