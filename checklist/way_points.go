package checklist

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// comesUpWithin is how far ahead a decision point is told, in hours at the expected case's speed,
// and how long before it ends turning back is asked about.
const comesUpWithin = 24.0

// points are what the skipper promised to think again at: decision points of the leg she is on
// that are passed or near, turning back that ends, limits that are passed. What is decided is
// told no more.
func (g *gate) points(w *Way, legs []passage.Leg) []DecisionPoint {
	points := g.decisionPoints(w, legs)
	if p, ends := g.turningEnds(w.Turning); ends {
		points = append(points, p)
	}
	if p, over := g.overLimit(); over {
		points = append(points, p)
	}
	slices.SortStableFunc(points, func(a, b DecisionPoint) int { return int(math.Round(float64(a.ToGo - b.ToGo))) })
	return points
}

func (g *gate) decisionPoints(w *Way, legs []passage.Leg) []DecisionPoint {
	if w.Fix.Other || w.Fix.Leg >= len(legs) {
		return nil
	}
	leg := legs[w.Fix.Leg]
	done := leg.Distance - w.Fix.ToGo
	near := quantity.Distance(comesUpWithin * 6)
	if made, ok := leg.MadeGood(g.definitions.Boat.Engine, g.definitions.Plan.Cases[passage.Expected], passage.Trim{Fouling: g.assessment.Fouling}); ok {
		near = quantity.Distance(comesUpWithin * float64(made.Speed))
	}
	var points []DecisionPoint
	for _, d := range leg.Decisions {
		point := pointWords(leg, d)
		if g.state.isDecided(func(p string, _ NoonState) bool { return p == point }) || d.At-done > near {
			continue
		}
		points = append(points, DecisionPoint{Point: point, ToGo: max(0, d.At-done), GoOnIf: d.GoOnIf, Else: d.Else})
	}
	return points
}

func pointWords(leg passage.Leg, d passage.Decision) string {
	return fmt.Sprintf("%.0f nm from %s: go on if %s", float64(d.At), leg.From, d.GoOnIf)
}

// isDecided says that a noon told what was decided about a point.
func (s State) isDecided(about func(point string, told NoonState) bool) bool {
	return slices.ContainsFunc(s.Voyage.Noons, func(n NoonState) bool {
		return slices.ContainsFunc(n.Decided, func(a DecisionAnswered) bool { return about(a.Point, n) })
	})
}

// overLimit is the skipper's own limit that the wind told last is over.
func (g *gate) overLimit() (p DecisionPoint, over bool) {
	limit := g.definitions.Plan.Limits.Wind
	for _, n := range slices.Backward(g.state.Voyage.Noons) {
		if n.Wind == "" {
			continue
		}
		wind, known := windIn(n.Wind)
		if limit <= 0 || !known || wind <= limit {
			return p, false
		}
		p.Point = fmt.Sprintf("wind %s, over your limit of %s", n.Wind, limit.In(g.definitions.Boat.Units))
		return p, !g.state.isDecided(func(point string, told NoonState) bool { return told.Seq >= n.Seq && point == p.Point })
	}
	return p, false
}

// turning is the last moment for turning back on the leg she is on, thing by thing.
func (g *gate) turning() []provisions.Turning {
	all := g.assessment.situation.Turning(g.assessment.Reckoning)
	return slices.DeleteFunc(all, func(t provisions.Turning) bool { return t.Leg != 0 })
}

// turningEnds is the first last moment for turning back, where it is within a day and nothing
// was decided about it in the last one.
func (g *gate) turningEnds(turning []provisions.Turning) (p DecisionPoint, ends bool) {
	within := time.Duration(comesUpWithin * float64(time.Hour))
	first := firstTurning(turning)
	if first == nil || first.At.Before(g.now) || !first.At.Before(g.now.Add(within)) || !g.assessment.Stretches {
		return p, false
	}
	lead := fmt.Sprintf("turning back to %s ends ", first.To)
	decided := g.state.isDecided(func(point string, told NoonState) bool {
		return strings.HasPrefix(point, lead) && told.At.After(g.now.Add(-within))
	})
	return DecisionPoint{Point: fmt.Sprintf("%s%s: %s", lead, g.definitions.moment(first.At), first.Thing)}, !decided
}

// firstTurning is the last moment that comes first; nil: there is none on this leg.
func firstTurning(turning []provisions.Turning) *provisions.Turning {
	var first *provisions.Turning
	for i, t := range turning {
		if t.State == provisions.TurnOnLeg && (first == nil || t.At.Before(first.At)) {
			first = &turning[i]
		}
	}
	return first
}
