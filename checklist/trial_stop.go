package checklist

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// extraStop is one more stop that is tried.
type extraStop struct {
	name  string
	leg   int
	after quantity.Distance
	fill  []passage.Giving
	stay  time.Duration
}

func firstPart(text string) string {
	name, _, _ := strings.Cut(text, ",")
	return strings.TrimSpace(name)
}

// stopCure is how a stop is written.
const stopCure = `write it like "Reef Bay, leg 1, 120 nm, water, 2 days"`

// parseStop reads the parts of a stop: its name first, the others in any order.
func (c *change) parseStop(d Definitions) error {
	stop := extraStop{name: firstPart(c.text), leg: -1}
	if stop.name == "" {
		return &quantity.Error{Problem: "the stop has no name", Cure: stopCure}
	}
	for _, part := range strings.Split(c.text, ",")[1:] {
		if err := stop.take(strings.TrimSpace(part)); err != nil {
			return err
		}
	}
	if stop.leg < 0 && len(d.Plan.Legs) == 1 {
		stop.leg = 0
	}
	switch {
	case stop.leg < 0 || stop.leg >= len(d.Plan.Legs):
		return &quantity.Error{Problem: "the stop is on no leg", Cure: fmt.Sprintf("name one of the %d legs, as \"leg 1\"", len(d.Plan.Legs))}
	case !(stop.after > 0 && stop.after < d.Plan.Legs[stop.leg].Distance):
		return &quantity.Error{
			Problem: "the stop is not along the leg",
			Cure:    fmt.Sprintf("write how far along it, over 0 and under %s, as \"120 nm\"", d.Plan.Legs[stop.leg].Distance.In(quantity.Metric)),
		}
	}
	c.leg, c.stop = stop.leg, stop
	return nil
}

// take reads one part by what it looks like.
func (s *extraStop) take(part string) error {
	if number, is := strings.CutPrefix(part, "leg "); is {
		leg, err := strconv.Atoi(strings.TrimSpace(number))
		if err != nil || leg < 1 {
			return &quantity.Error{Problem: fmt.Sprintf("%.60q is no leg", part), Cure: `write it like "leg 1"`}
		}
		s.leg = leg - 1
		return nil
	}
	for _, t := range passage.Things {
		if name, unsure := strings.CutSuffix(part, "?"); name == string(t) {
			s.fill = append(s.fill, passage.Giving{Thing: t, Sure: !unsure})
			return nil
		}
	}
	if after, err := quantity.ParseDistance(part); err == nil {
		s.after = after
		return nil
	}
	stay, err := quantity.ParseDuration(part)
	if err != nil {
		return &quantity.Error{Problem: fmt.Sprintf("%.60q is no part of a stop", part), Cure: stopCure}
	}
	s.stay = stay
	return nil
}

// stops are those that are tried, the last along the passage first: so the numbers and
// miles of those before it stay true while legs are cut.
func (t Trial) stops() []extraStop {
	var stops []extraStop
	for _, c := range t.changes {
		if c.key == stopKey {
			stops = append(stops, c.stop)
		}
	}
	slices.SortStableFunc(stops, func(a, b extraStop) int {
		return cmp.Or(cmp.Compare(b.leg, a.leg), cmp.Compare(b.after, a.after))
	})
	return stops
}

// pieces are what the stops on leg i make of it.
func (t Trial) pieces(i int, leg passage.Leg) []passage.Leg {
	pieces := []passage.Leg{leg}
	for _, s := range t.stops() {
		if s.leg == i {
			first, second := s.cut(pieces[0])
			pieces = append([]passage.Leg{first, second}, pieces[1:]...)
		}
	}
	return pieces
}

// cut makes two legs of the one that the stop is on. What belongs to a point of the leg
// stays with that point.
func (s extraStop) cut(leg passage.Leg) (first, second passage.Leg) {
	first, second = leg, leg
	first.To, second.From = s.name, s.name
	first.Distance, second.Distance = s.after, leg.Distance-s.after
	first.Route, second.Route = nil, nil
	first.Position = nil
	if end, known := leg.End(); known {
		second.Position = &end
	}
	first.Fill, first.Price, first.Stay = s.fill, nil, s.stay
	first.Alternates, second.Alternates, first.Decisions, second.Decisions = nil, nil, nil, nil
	for _, a := range leg.Alternates {
		if a.After <= s.after {
			first.Alternates = append(first.Alternates, a)
			continue
		}
		a.After -= s.after
		second.Alternates = append(second.Alternates, a)
	}
	for _, p := range leg.Decisions {
		if p.At <= s.after {
			first.Decisions = append(first.Decisions, p)
			continue
		}
		p.At -= s.after
		second.Decisions = append(second.Decisions, p)
	}
	return first, second
}
