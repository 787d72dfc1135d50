package config

import (
	"fmt"
	"math"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// readPassage reads passage.toml; the legs' revs are held against the engine's curve.
func (r *reader) readPassage(d *checklist.Definitions) {
	t := r.file(passageFile, required, "write the planned passage; `hoveshort init` makes one to begin with")
	p := &d.Plan
	p.Name = t.text("name", required)
	p.Depart = t.moment("depart")
	p.Crew = t.whole("crew", 1, 20, required)
	p.Climate = passage.Climate(t.oneOf("climate", required, "cold", "temperate", "hot"))
	p.Kind = passage.Kind(t.oneOf("kind", required, kinds...))
	p.Daylight = t.flag("arrive_in_daylight")
	p.Before, _ = t.date("before", optional)
	p.Fill = readFill(t)
	p.Price = readPrice(t.sub("price", optional))
	p.Cases = readCases(t.sub("cases", required))
	p.Limits.Wind, _ = optionalValue(t.sub("limits", optional), "wind", "25 kn", notBackward)
	p.Ashore = readAshore(t.sub("ashore", optional))
	var before passage.Leg
	for i, row := range t.tables("leg", required) {
		leg := readLeg(row)
		if i > 0 && leg.From != "" && before.To != "" && leg.From != before.To {
			row.mistake("from", fmt.Sprintf("%s is not where the leg before ends", quote(leg.From)), "write "+quote(before.To))
		}
		checkRevs(row, "rpm", leg.RPM, d.Boat.Engine)
		r.checkPower(row, *p)
		p.Legs = append(p.Legs, leg)
		before = leg
	}
	readUses(t, p)
	if t != nil && len(t.found()) == 0 && len(r.tables[boatFile].found()) == 0 {
		noteUnmade(t, d)
		noteSpeeds(t, d)
		noteUses(t, d)
	}
}

var kinds = []string{string(passage.Shift), string(passage.Coastal), string(passage.Offshore)}

// readFill reads what can be had at a place; a question mark: not sure.
func readFill(t *table) []passage.Giving {
	const write = `write what can be had there, such as ["water", "food"]; [] is nothing`
	if t != nil && !t.has("fill") {
		t.mistake("fill", "missing", write)
	}
	var list []passage.Giving
	seen := map[string]bool{}
	for _, c := range t.list("fill", write) {
		name, unsure := strings.CutSuffix(c.oneOf(givings), "?")
		if seen[name] {
			c.mistake(quote(name)+" stands there twice", "write it once")
		} else if name != "" {
			seen[name] = true
			list = append(list, passage.Giving{Thing: passage.Thing(name), Sure: !unsure})
		}
	}
	return list
}

// givings are the words of a fill: each thing, sure and not sure.
var givings = []string{"water", "fuel", "food", "gas", "water?", "fuel?", "food?", "gas?"}

func readPrice(t *table) map[passage.Thing]float64 {
	if t == nil {
		return nil
	}
	price := map[passage.Thing]float64{}
	for _, thing := range passage.Things {
		if t.has(string(thing)) {
			price[thing] = t.number(string(thing), 0, math.Inf(1), optional)
		}
	}
	return price
}

// mostFactor is more than any case multiplies a speed by; it finds a slip of the finger.
const mostFactor = 5

func readCases(t *table) map[passage.CaseName]passage.Case {
	cases := map[passage.CaseName]passage.Case{}
	for _, name := range passage.CaseNames {
		row := t.sub(string(name), required)
		c := passage.Case{
			Speed: row.number("speed", 0, mostFactor, required),
			Motor: 1,
			Power: share(row, "power", required),
		}
		if row.has("motor") {
			c.Motor = row.number("motor", 0, mostFactor, optional)
		}
		c.Wait, _ = optionalValue(row, "wait", "1 day", quantity.ParseDuration)
		cases[name] = c
	}
	return cases
}

func readAshore(t *table) passage.Ashore {
	a := passage.Ashore{Name: t.text("name", optional), Then: t.text("then", optional)}
	a.Reports, _ = optionalValue(t, "reports", "24 h", quantity.ParseDuration)
	a.Overdue, _ = optionalValue(t, "overdue", "12 h", quantity.ParseDuration)
	return a
}

func readLeg(t *table) passage.Leg {
	leg := passage.Leg{
		From:    t.text("from", required),
		To:      t.text("to", required),
		Sail:    value(t, "sail", "5.2 kn", notBackward, required),
		AsIs:    t.flag("as_is"),
		RPM:     t.whole("rpm", 1, highestRPM, optional),
		Home:    readHome(t.sub("home", optional)),
		Fill:    readFill(t),
		Price:   readPrice(t.sub("price", optional)),
		Dangers: t.text("dangers", optional),
		Window:  t.text("window", optional),
	}
	leg.Power, _ = optionalValue(t, "power", "5.8 kn", notBackward)
	leg.Current, _ = optionalValue(t, "current", "-0.3 kn", quantity.ParseSpeed)
	leg.Stay, _ = optionalValue(t, "stay", "2 days", quantity.ParseDuration)
	leg.Route = readRoute(t)
	leg.Distance = readDistance(t, leg.Route)
	if at, there := t.position("position"); there {
		leg.Position = &passage.Position{Lat: at[0], Lon: at[1]}
	}
	readAlternates(t, &leg)
	readDecisions(t, &leg)
	return leg
}

// notBackward is a speed through the water, which is not below zero.
func notBackward(text string) (quantity.Speed, error) {
	v, err := quantity.ParseSpeed(text)
	if err == nil && v < 0 {
		return 0, &quantity.Error{Problem: fmt.Sprintf("%q is below zero", text), Cure: "write a speed through the water; foul current stands under current"}
	}
	return v, err
}

func readHome(t *table) *passage.Home {
	if t == nil {
		return nil
	}
	return &passage.Home{
		Sail:  value(t, "sail", "2.5 kn", notBackward, required),
		Power: share(t, "power", required),
	}
}

func readRoute(t *table) []passage.Position {
	var route []passage.Position
	for _, at := range t.positions("route") {
		route = append(route, passage.Position{Lat: at[0], Lon: at[1]})
	}
	if t == nil {
		return nil
	}
	points, isList := listOf(t.values["route"])
	switch {
	case !isList || len(points) != len(route): // left out, or told when it was read
	case len(route) < 2:
		t.mistake("route", "fewer than two points are no route", "write at least where the leg begins and where it ends")
	case passage.RouteLength(route) == 0:
		t.mistake("route", "leads nowhere", "write where the leg begins and where it ends")
	}
	return route
}

// readDistance is the leg's distance, as it is written or along its route.
func readDistance(t *table, route []passage.Position) quantity.Distance {
	if t == nil {
		return 0
	}
	switch there, routed := t.has("distance"), t.has("route"); {
	case there && routed:
		t.mistake("distance", "distance and route both", "write one of the two")
	case !there && !routed:
		t.mistake("distance", "missing", `write distance = "142 nm", or route = [[lat, lon], [lat, lon]]`)
	case routed:
		return passage.RouteLength(route)
	}
	if !t.has("distance") {
		return 0
	}
	return value(t, "distance", "142 nm", above(quantity.ParseDistance), required)
}

func readAlternates(t *table, leg *passage.Leg) {
	names := newNames("alternate")
	for _, row := range t.tables("alternate", optional) {
		a := passage.Alternate{
			Name:     row.text("name", required),
			After:    value(row, "after", "80 nm", quantity.ParseDistance, required),
			Distance: value(row, "distance", "60 nm", quantity.ParseDistance, required),
		}
		names.add(row, "name", a.Name)
		checkWithin(row, "after", a.After, leg.Distance)
		leg.Alternates = append(leg.Alternates, a)
	}
}

func readDecisions(t *table, leg *passage.Leg) {
	for _, row := range t.tables("decide", optional) {
		d := passage.Decision{
			At:     value(row, "at", "80 nm", quantity.ParseDistance, required),
			GoOnIf: row.text("go_on_if", required),
			Else:   row.text("else", required),
		}
		checkWithin(row, "at", d.At, leg.Distance)
		leg.Decisions = append(leg.Decisions, d)
	}
}

func checkWithin(t *table, key string, at, leg quantity.Distance) {
	if leg > 0 && at > leg {
		t.mistake(key, fmt.Sprintf("%s is beyond the leg, which is %s long", at, leg.In(quantity.Metric)), "write a point on the leg")
	}
}

// checkPower tells a leg without a speed under engine, where there is no curve to tell
// it and some case goes under engine.
func (r *reader) checkPower(t *table, p passage.Plan) {
	engine := r.tables[boatFile].sub("engine", optional)
	if !engine.empty("curve") || t.has("power") {
		return
	}
	for _, c := range p.Cases {
		if c.Power > 0 {
			t.mistake("power", "missing, and boat.toml has no curve to tell the speed under engine", `write power = "5.8 kn"`)
			return
		}
	}
}

// noteUnmade tells legs that she cannot make; the gate refuses them, lint only notes.
func noteUnmade(t *table, d *checklist.Definitions) {
	cases := map[int][]string{}
	for _, name := range passage.CaseNames {
		for _, leg := range passage.Run(d.Plan, d.Boat.Engine, name, d.Plan.Depart, passage.Trim{Fouling: 1}).Unmade {
			cases[leg] = append(cases[leg], string(name))
		}
	}
	for i, leg := range t.tables("leg", optional) {
		if names := cases[i]; len(names) > 0 {
			leg.note("", fmt.Sprintf("she cannot make this leg (%s): less than 0.5 kn over the ground", strings.Join(names, ", ")), "")
		}
	}
}

// farAbove is how many times her hull speed a speed under sail is hardly meant.
const farAbove = 1.5

// noteSpeeds tells speeds under sail that are hardly meant.
func noteSpeeds(t *table, d *checklist.Definitions) {
	hull := passage.HullSpeed(d.Boat.Waterline)
	for i, row := range t.tables("leg", optional) {
		if sail := d.Plan.Legs[i].Sail; hull > 0 && sail > farAbove*hull {
			row.note("sail", fmt.Sprintf("%s is far above her hull speed, %s", sail, hull.In(quantity.Metric)), "is it a slip of the finger?")
		}
	}
}
