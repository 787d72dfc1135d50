package checklist

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Trial is the passage changed for trying, change by change. Nothing of it is written
// anywhere: Definitions.Try gives the definitions as they would be, and Lines tells
// what to put into passage.toml to keep it.
type Trial struct {
	changes []change
}

// change is one thing that is tried.
type change struct {
	key   string
	leg   int    // from 0; everyLeg: all
	text  string // as typed, the key left out
	apply func(*Definitions)
	stop  extraStop // instead of apply
}

const (
	everyLeg = -1
	stopKey  = "stop"
)

// mostKnots is more than a small yacht sails or a stream runs; it finds a slip of the finger.
const mostKnots = 30

// TrialKeys are what can be changed for trying, each with how its value is written.
var TrialKeys = []struct{ Key, Value, Means string }{
	{"crew", "3", "so many aboard"},
	{"depart", "20 Oct 09:00", "leave then"},
	{"sail", "4.8 kn", "the speed under sail, of every leg; sail.2 of leg 2 alone"},
	{"rpm", "1800", "the revs under engine, of every leg; rpm.2 of leg 2 alone"},
	{"current", "-0.5 kn", "the current along the track, of every leg; current.2 of leg 2 alone"},
	{stopKey, "Reef Bay, leg 1, 120 nm, water, 2 days", "one more stop: on which leg, how far along it, what can be had there, how long she stays"},
	{"watermaker", "off", "no water is made"},
}

// IsEmpty says that nothing is changed.
func (t Trial) IsEmpty() bool { return len(t.changes) == 0 }

// Words are the changes as they were typed.
func (t Trial) Words() []string {
	var words []string
	for _, c := range t.changes {
		words = append(words, c.name()+" = "+c.text)
	}
	return words
}

func (c change) name() string {
	if c.leg == everyLeg || c.key == stopKey {
		return c.key
	}
	return fmt.Sprintf("%s.%d", c.key, c.leg+1)
}

// With is the trial with one more change, written as "crew = 3"; it takes the place of
// an earlier change of the same thing, and "crew =" takes that back. A time without its
// day is the next such time after now. The error says what would be right.
func (t Trial) With(text string, d Definitions, now time.Time) (Trial, error) {
	key, value, found := strings.Cut(text, "=")
	if !found {
		return t, &quantity.Error{Problem: fmt.Sprintf("%.60q changes nothing", text), Cure: `write it like "crew = 3"`}
	}
	c, err := parseKey(strings.TrimSpace(key), d)
	if err != nil {
		return t, err
	}
	c.text = strings.TrimSpace(value)
	if c.text == "" {
		return t.without(c), nil
	}
	if err := c.parse(d, now); err != nil {
		return t, err
	}
	return Trial{append(t.without(c).changes, c)}, nil
}

// without leaves out the change that c takes the place of. Stops are told apart by
// their names; a stop without any takes back all of them.
func (t Trial) without(c change) Trial {
	rest := slices.DeleteFunc(slices.Clone(t.changes), func(o change) bool {
		if o.key != c.key {
			return false
		}
		if c.key == stopKey {
			return c.text == "" || firstPart(o.text) == firstPart(c.text)
		}
		return o.leg == c.leg || c.leg == everyLeg
	})
	return Trial{rest}
}

// parseKey reads "crew", "sail" or "sail.2".
func parseKey(text string, d Definitions) (change, error) {
	key, number, numbered := strings.Cut(text, ".")
	known := make([]string, len(TrialKeys))
	for i, k := range TrialKeys {
		known[i] = k.Key
	}
	if !slices.Contains(known, key) {
		cure := "write one of " + strings.Join(known, ", ")
		if near := Nearest(key, known); near != "" {
			cure = fmt.Sprintf("did you mean %q?", near)
		}
		return change{}, &quantity.Error{Problem: fmt.Sprintf("%.60q cannot be tried", key), Cure: cure}
	}
	if !numbered {
		return change{key: key, leg: everyLeg}, nil
	}
	leg, err := strconv.Atoi(number)
	perLeg := key == "sail" || key == "rpm" || key == "current"
	if err != nil || !perLeg || leg < 1 || leg > len(d.Plan.Legs) {
		return change{}, &quantity.Error{
			Problem: fmt.Sprintf("%.60q names no leg", text),
			Cure:    fmt.Sprintf("write sail, rpm or current, and a leg from 1 to %d behind the point", len(d.Plan.Legs)),
		}
	}
	return change{key: key, leg: leg - 1}, nil
}

// parse fills in what the change does.
func (c *change) parse(d Definitions, now time.Time) error {
	switch c.key {
	case "crew":
		return c.parseCrew()
	case "depart":
		return c.parseDepart(d, now)
	case "sail":
		return c.parseSpeed(false, func(leg *passage.Leg, v quantity.Speed) { leg.Sail = v })
	case "current":
		return c.parseSpeed(true, func(leg *passage.Leg, v quantity.Speed) { leg.Current = v })
	case "rpm":
		return c.parseRPM(d)
	case stopKey:
		return c.parseStop(d)
	}
	return c.parseWatermaker(d)
}

func (c *change) parseCrew() error {
	n, err := strconv.Atoi(c.text)
	if err != nil || n < 1 || n > 20 {
		return &quantity.Error{Problem: fmt.Sprintf("%.60q is no crew", c.text), Cure: "write a whole number from 1 to 20"}
	}
	c.apply = func(d *Definitions) { d.Plan.Crew = n }
	return nil
}

func (c *change) parseDepart(d Definitions, now time.Time) error {
	at, err := ParseDeparture(c.text, now.In(d.Plan.Depart.Location()))
	switch {
	case err != nil:
		return err
	case at.IsZero():
		at = d.Plan.Depart
	}
	c.text = at.In(d.Plan.Depart.Location()).Format("2006-01-02T15:04:05Z07:00")
	c.apply = func(d *Definitions) { *d = d.At(at) }
	return nil
}

// parseSpeed reads a speed; one through the water is not below zero.
func (c *change) parseSpeed(backward bool, set func(*passage.Leg, quantity.Speed)) error {
	v, err := quantity.ParseSpeed(c.text)
	switch {
	case err != nil:
		return err
	case v < 0 && !backward:
		return &quantity.Error{Problem: fmt.Sprintf("%.60q is below zero", c.text), Cure: "write a speed through the water"}
	case v > mostKnots || v < -mostKnots:
		return &quantity.Error{Problem: fmt.Sprintf("%.60q is no speed of a small yacht or a current", c.text), Cure: `write it like "5.2 kn"`}
	}
	c.apply = eachLeg(c.leg, func(leg *passage.Leg) { set(leg, v) })
	return nil
}

func (c *change) parseRPM(d Definitions) error {
	rpm, err := strconv.Atoi(c.text)
	if err != nil || rpm < 1 {
		return &quantity.Error{Problem: fmt.Sprintf("%.60q are no revs", c.text), Cure: `write them like "1800"`}
	}
	if rows := d.Boat.Engine.Curve; d.Boat.Engine.HasCurve() && (rpm < rows[0].RPM || rpm > rows[len(rows)-1].RPM) {
		return &quantity.Error{
			Problem: fmt.Sprintf("%d rpm is outside the engine's curve", rpm),
			Cure:    fmt.Sprintf("write revs from %d to %d", rows[0].RPM, rows[len(rows)-1].RPM),
		}
	}
	c.apply = eachLeg(c.leg, func(leg *passage.Leg) { leg.RPM = rpm })
	return nil
}

func (c *change) parseWatermaker(d Definitions) error {
	switch {
	case c.text != "off":
		return &quantity.Error{Problem: fmt.Sprintf("%.60q cannot be tried of a watermaker", c.text), Cure: `write "off"`}
	case d.Boat.Watermaker == nil:
		return &quantity.Error{Problem: "boat.toml has no watermaker", Cure: "there is nothing to put off"}
	}
	c.apply = func(d *Definitions) { d.Boat.Watermaker = nil }
	return nil
}

// eachLeg changes the leg that is meant, or every leg; they are the trial's own.
func eachLeg(meant int, set func(*passage.Leg)) func(*Definitions) {
	return func(d *Definitions) {
		for i := range d.Plan.Legs {
			if meant == everyLeg || meant == i {
				set(&d.Plan.Legs[i])
			}
		}
	}
}

// Try is the definitions as they would be with what is tried. Nothing of d is changed.
func (d Definitions) Try(t Trial) Definitions {
	d = d.change(t)
	var legs []passage.Leg
	for i, leg := range d.Plan.Legs {
		legs = append(legs, t.pieces(i, leg)...)
	}
	d.Plan.Legs = legs
	return d
}

// change is Try without the stops.
func (d Definitions) change(t Trial) Definitions {
	d.Plan.Legs = slices.Clone(d.Plan.Legs)
	for _, c := range t.changes {
		if c.apply != nil {
			c.apply(&d)
		}
	}
	return d
}
