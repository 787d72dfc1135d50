package passage

import "time"

// How much of the day is left at both ends for an arrival that is by day: time to
// see the dangers on the way in, and time for a second try. Common practice, no source.
const (
	afterSunrise = time.Hour
	beforeSunset = 2 * time.Hour
)

// Arrival is an arrival against the daylight at the leg's end.
type Arrival struct {
	At    time.Time
	ByDay bool // never where the place is not known
	Known bool // the place is known

	// FirstLight is an hour after sunrise, LastLight two hours before sunset; by day is
	// from one to the other. Zero: the sun does not rise or set. On a day of less than
	// three hours LastLight is before FirstLight, and no moment is by day.
	FirstLight, LastLight time.Time
}

// ArrivalAt judges an arrival at the end of leg. The lights are those of the day that
// is at at's own offset; where at is by day they are that daylight's, whatever day the
// offset gives it. In the polar day every moment is by day, in the polar night none.
func ArrivalAt(leg Leg, at time.Time) Arrival {
	p, ok := leg.End()
	if !ok || !p.Known() {
		return Arrival{At: at}
	}

	light := daylightAround(p, noon(p, at))
	if light.holds(at) {
		return light.arrival(at, true)
	}
	return daylightAround(p, noon(p, middleOfDay(at))).arrival(at, false)
}

// middleOfDay is twelve o'clock of t's day; the noon nearest to it is of that day.
func middleOfDay(t time.Time) time.Time {
	year, month, day := t.Date()
	return time.Date(year, month, day, 12, 0, 0, 0, t.Location())
}

// daylight is the time by day around one noon.
type daylight struct {
	up         bool      // the sun rises at all
	start, end time.Time // by day, both included
	rises      bool      // start comes from a sunrise, not from the midnight sun
	sets       bool      // likewise end
}

// daylightAround cuts the day around noon into the time that is by day. Where the sun
// does not set, day goes on from one lower culmination to the next.
func daylightAround(p Position, noon time.Time) daylight {
	if altitudeAt(p, noon) < riseAltitude {
		return daylight{}
	}

	d := daylight{up: true}
	d.start = culmination(p, noon.Add(-halfDay), halfTurn)
	if altitudeAt(p, d.start) < riseAltitude {
		d.start, d.rises = crossing(p, d.start, noon, riseAltitude).Add(afterSunrise), true
	}
	d.end = culmination(p, noon.Add(halfDay), halfTurn)
	if altitudeAt(p, d.end) < riseAltitude {
		d.end, d.sets = crossing(p, noon, d.end, riseAltitude).Add(-beforeSunset), true
	}
	return d
}

func (d daylight) holds(t time.Time) bool {
	return d.up && !t.Before(d.start) && !t.After(d.end)
}

func (d daylight) arrival(at time.Time, byDay bool) Arrival {
	a := Arrival{At: at, Known: true, ByDay: byDay}
	if d.rises {
		a.FirstLight = d.start
	}
	if d.sets {
		a.LastLight = d.end
	}
	return a
}

// yearOfTime is longer than the sun stays up anywhere.
const yearOfTime = 366 * wholeDay

// Dark says whether the sun is down (its centre below -0.833 degrees) at any moment from
// from to to, both included. The sun is lowest at one of them or at a culmination, so
// that no night is too short to be found. It is dark where p is no place on the earth.
func Dark(p Position, from, to time.Time) bool {
	if to.Before(from) {
		from, to = to, from
	}
	if !p.Known() || to.Sub(from) > yearOfTime {
		return true
	}

	for _, t := range append(culminationsIn(p, from, to), from, to) {
		if altitudeAt(p, t) < riseAltitude {
			return true
		}
	}
	return false
}

// DarkOnVoyage says whether it is dark at any moment from departure to arrival, stays
// and waits included, at the places that she is between: of each span all its known
// places are asked for the whole of it, which errs on the side of night. A span of
// which no place is known takes the last known before it, or else the next after it.
// Where none is known at all, or the voyage is not made, known is false: take it as night.
func DarkOnVoyage(plan Plan, v Voyage) (dark, known bool) {
	places := placesOfSpans(plan, v)
	for i, s := range v.Spans {
		for _, p := range places[i] {
			known = true
			if Dark(p, s.Start, s.End()) {
				return true, true
			}
		}
	}
	return false, known
}

// placesOfSpans are the known places of each span, borrowed from its neighbours where
// it has none.
func placesOfSpans(plan Plan, v Voyage) [][]Position {
	places := make([][]Position, len(v.Spans))
	for i, s := range v.Spans {
		places[i] = placesOf(plan, s)
		if len(places[i]) == 0 && i > 0 {
			places[i] = lastOf(places[i-1])
		}
	}
	for i := len(places) - 2; i >= 0; i-- {
		if len(places[i]) == 0 && len(places[i+1]) > 0 {
			places[i] = places[i+1][:1]
		}
	}
	return places
}

func lastOf(list []Position) []Position {
	if len(list) == 0 {
		return nil
	}
	return list[len(list)-1:]
}

// placesOf are the known places of one span, in the order in which she passes them: at
// anchor the leg's end; at sea the end of the leg before, the route and the leg's end.
func placesOf(plan Plan, s Span) []Position {
	if s.Leg < 0 || s.Leg >= len(plan.Legs) {
		return nil
	}

	leg := plan.Legs[s.Leg]
	var list []Position
	if s.Kind == AtSea {
		if s.Leg > 0 {
			list = appendEnd(list, plan.Legs[s.Leg-1])
		}
		for _, p := range leg.Route {
			list = appendKnown(list, p)
		}
	}
	return appendEnd(list, leg)
}

func appendEnd(list []Position, leg Leg) []Position {
	if p, ok := leg.End(); ok {
		return appendKnown(list, p)
	}
	return list
}

func appendKnown(list []Position, p Position) []Position {
	if p.Known() {
		return append(list, p)
	}
	return list
}
