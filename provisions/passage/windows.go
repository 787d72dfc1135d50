package passage

import "time"

// Interval is from one moment to another, both included.
type Interval struct {
	From, To time.Time
}

// ByDay is when it is by day at p, from an hour after sunrise to two hours before
// sunset as in ArrivalAt, between two moments: in order, with nights between them. The
// midnight sun makes one interval of many days, the polar night none. There is none where p
// is no place on the earth, nor where from is not before to.
func ByDay(p Position, from, to time.Time) []Interval {
	if !p.Known() || !from.Before(to) {
		return nil
	}

	var list []Interval
	for at := noon(p, from); at.Add(-wholeDay).Before(to); at = noon(p, at.Add(wholeDay)) {
		if light := daylightAround(p, at); light.up {
			list = appendLight(list, Interval{light.start, light.end}.within(from, to))
		}
	}
	return list
}

// appendLight adds the daylight of the next noon. The midnight sun's goes on from one
// lower culmination, which is found twice and to a second, to the next.
func appendLight(list []Interval, next Interval) []Interval {
	if !next.From.Before(next.To) {
		return list
	}
	if n := len(list); n > 0 && next.From.Sub(list[n-1].To) < time.Second {
		list[n-1].To = next.To
		return list
	}
	return append(list, next)
}

// LeaveForDay is when to leave, between two moments, so as to be at p by day (see ByDay)
// whichever of the given times the way there takes: in order. It is exact, since a time
// on the way only moves the daylight. There is none for no time given.
func LeaveForDay(p Position, from, to time.Time, takes ...time.Duration) []Interval {
	var open []Interval
	for i, d := range takes {
		day := ByDay(p, from.Add(d), to.Add(d))
		for j := range day {
			day[j] = Interval{day[j].From.Add(-d), day[j].To.Add(-d)}
		}
		if i == 0 {
			open = day
			continue
		}
		open = inBoth(open, day)
	}
	return open
}

// inBoth are the moments that lie in an interval of each list. Both are in order.
func inBoth(a, b []Interval) []Interval {
	var list []Interval
	for len(a) > 0 && len(b) > 0 {
		if both := a[0].within(b[0].From, b[0].To); both.From.Before(both.To) {
			list = append(list, both)
		}
		if a[0].To.Before(b[0].To) {
			a = a[1:]
		} else {
			b = b[1:]
		}
	}
	return list
}

// within is what of i lies between two moments; where nothing does it ends before it begins.
func (i Interval) within(from, to time.Time) Interval {
	if i.From.Before(from) {
		i.From = from
	}
	if i.To.After(to) {
		i.To = to
	}
	return i
}

// Light is how light it is outside.
type Light string

// The lights: the sun is up (its centre not below -0.833 degrees), it is down but not
// below -6 degrees, it is lower.
const (
	SunUp         Light = "sun up"
	CivilTwilight Light = "civil twilight"
	Night         Light = "night"
)

// LightAt is the light at p at a moment; "" where p is no place on the earth.
func LightAt(p Position, at time.Time) Light {
	if !p.Known() {
		return ""
	}
	altitude := altitudeAt(p, at)
	switch {
	case altitude >= riseAltitude:
		return SunUp
	case altitude >= civilAltitude:
		return CivilTwilight
	}
	return Night
}

// LightAlong is the light at p in the middle of each of n equal steps from a moment on,
// for drawing a day in so many columns. It is empty where p is no place on the earth.
func LightAlong(p Position, from time.Time, step time.Duration, n int) []Light {
	if !p.Known() || n <= 0 {
		return nil
	}
	lights := make([]Light, n)
	for i := range lights {
		lights[i] = LightAt(p, from.Add(time.Duration(i)*step+step/2))
	}
	return lights
}
