package passage

import (
	"math"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// leastWay is the slowest speed made good that still counts as making a leg, in
// knots. Common practice, no source: below it wind, sea and a little more current
// decide.
const leastWay = 0.5

// rounding is how far binary fractions may fall short of leastWay when the sum
// written in tenths is exactly on it.
const rounding = 1e-9

// longest is the longest voyage that is reckoned, in hours: a hundred years. What
// takes longer is not made.
const longest = 100 * 366 * 24

// Run is the plan in case c from depart on: how long each leg takes, what the
// stays and waits between add, and when she arrives.
//
// On a leg V = p*m*Vp + (1-p)*k*Vs + current and T = D/V, with the case's share
// of power p and its factors m (under engine) and k (under sail). A leg with V
// below 0.5 kn, or for which no V can be found (revs outside the curve, no speed
// under engine, a case the plan does not name), is unmade. Then the voyage has only its
// case, departure and Unmade. Spans of no length are left out; the last leg's
// stay does not count.
func Run(p Plan, e Engine, c CaseName, depart time.Time, t Trim) Voyage {
	v := Voyage{Case: c, Depart: depart}
	bent, named := p.Cases[c]
	speeds := make([]MadeGood, len(p.Legs))
	for i, leg := range p.Legs {
		made, ok := leg.MadeGood(e, bent, t)
		if !ok || !named {
			v.Unmade = append(v.Unmade, i)
		}
		speeds[i] = made
	}
	if !v.Made() {
		return v
	}

	for i, leg := range p.Legs {
		if i > 0 {
			v.add(Span{Kind: Stay, Leg: i - 1, Hours: p.Legs[i-1].Stay.Hours()})
			v.add(Span{Kind: Wait, Leg: i - 1, Hours: bent.Wait.Hours()})
		}
		made := speeds[i]
		v.add(Span{Kind: AtSea, Leg: i, Hours: float64(leg.Distance) / float64(made.Speed),
			Power: made.Power, RPM: made.RPM, Speed: float64(made.Speed)})
		v.Arrivals = append(v.Arrivals, v.clock())
	}
	return v
}

// add appends a span that begins where the last one ended.
func (v *Voyage) add(s Span) {
	if !(s.Hours > 0) {
		return
	}
	s.Start = v.clock()
	v.Spans = append(v.Spans, s)
	v.Hours += s.Hours
}

// clock is the moment v.Hours after departure.
func (v Voyage) clock() time.Time { return v.Depart.Add(hours(v.Hours)) }

// End is the moment at which the span is over.
func (s Span) End() time.Time { return s.Start.Add(hours(s.Hours)) }

// hours turns hours into a duration, to the nearest nanosecond; more than a
// duration can hold is its longest.
func hours(h float64) time.Duration {
	ns := math.Round(h * float64(time.Hour))
	if ns >= math.MaxInt64 {
		return math.MaxInt64
	}
	return time.Duration(ns)
}

// MadeGood is how a leg is sailed in one case.
type MadeGood struct {
	Speed quantity.Speed // along the track, current included, 0.5 kn or more
	Power float64        // share of the time under engine, 0 to 1
	RPM   int            // under engine, after the cap; 0 where Power is 0
}

// MadeGood is the leg's V in a case (see Run). It is not ok where she cannot make
// the leg, nor where the distance, the case's factors or the revs make no sense.
func (l Leg) MadeGood(e Engine, c Case, t Trim) (MadeGood, bool) {
	made := MadeGood{Power: float64(c.Power)}
	if !c.makesSense() || !(l.Distance >= 0) {
		return MadeGood{}, false
	}

	speed := (1-made.Power)*c.Speed*float64(l.sailing(t)) + float64(l.Current)
	if made.Power > 0 {
		motoring, rpm, ok := l.motoring(e, t)
		if !ok {
			return MadeGood{}, false
		}
		made.RPM = rpm
		speed += made.Power * c.Motor * float64(motoring)
	}
	if !(speed >= leastWay-rounding) || !(float64(l.Distance)/speed <= longest) {
		return MadeGood{}, false
	}

	made.Speed = quantity.Speed(speed)
	return made, true
}

func (c Case) makesSense() bool {
	return c.Power >= 0 && c.Power <= 1 && c.Speed >= 0 && c.Motor >= 0
}

// sailing is Vs: the leg's speed under sail, less the fouling unless it is as is.
func (l Leg) sailing(t Trim) quantity.Speed {
	if l.AsIs {
		return l.Sail
	}
	return l.Sail * quantity.Speed(t.fouling())
}

// motoring is Vp, at the revs that a defect allows, less the fouling: of the
// curve, or without one the leg's own speed under engine.
//
// Below the curve's first row, where only a cap can bring her, and below the revs
// of a leg's own speed, it falls in proportion to the revs: a screw advances at
// most so far a turn. The burn does not fall with it (BurnUnderWay): both are on
// the safe side.
func (l Leg) motoring(e Engine, t Trim) (v quantity.Speed, rpm int, ok bool) {
	planned := l.RPM
	if planned == 0 {
		planned = e.CruiseRPM
	}
	rpm = t.capped(planned)

	if e.HasCurve() {
		v, ok = e.cappedSpeed(planned, rpm)
	} else {
		v, ok = l.Power*slowed(rpm, planned), l.Power > 0
	}
	return v * quantity.Speed(t.fouling()), rpm, ok
}

// cappedSpeed is the curve's speed at rpm, to which a cap brought her from planned.
func (e Engine) cappedSpeed(planned, rpm int) (quantity.Speed, bool) {
	if _, inside := e.SpeedAt(planned); !inside {
		return 0, false
	}
	if first := e.Curve[0]; rpm < first.RPM {
		return first.Speed * slowed(rpm, first.RPM), true
	}
	return e.SpeedAt(rpm)
}

// slowed is rpm over full, 1 where the latter is not known or not over rpm.
func slowed(rpm, full int) quantity.Speed {
	if rpm >= full {
		return 1
	}
	return quantity.Speed(rpm) / quantity.Speed(full)
}

func (t Trim) capped(rpm int) int {
	if t.RPMCap > 0 && t.RPMCap < rpm {
		return t.RPMCap
	}
	return rpm
}

// fouling is the factor that counts: what is not over 0 and at most 1 is taken as 1.
func (t Trim) fouling() float64 {
	if t.Fouling > 0 && t.Fouling <= 1 {
		return t.Fouling
	}
	return 1
}
