package passage

import (
	"math"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// The sun by the long form of the NOAA solar calculator, after Meeus, Astronomical
// Algorithms, 2nd ed. (eq. 25.2, 25.3 and p. 163). The form is made to be iterated:
// the event of one round is the moment for which the next is computed. Here the
// same equations give the altitude of the sun at any moment, and an event is the
// root of it between two culminations. That is where the rounds come to rest, and
// it also holds for a night of a minute, and where a round would find no event.
//
// Right to half a minute against the almanac of the US Naval Observatory; near the
// horizon refraction may move the event by more than that.

const (
	// riseAltitude is the altitude of the sun's centre at rise and set in degrees:
	// 34' of refraction and 16' of radius. Source: NOAA solar calculator details.
	riseAltitude = -0.833

	// civilAltitude is that at the begin and end of civil twilight.
	civilAltitude = -6.0
)

const (
	halfDay  = 12 * time.Hour
	wholeDay = 24 * time.Hour
	halfTurn = 180.0
	turn     = 360.0
)

// Sun is what it does on one local day at one place. An event that the day does
// not have is zero. In high latitudes the event of an evening may fall after
// midnight, and a day may have two of a kind: then Dawn and Rise are its first,
// Dusk and Set its last.
type Sun struct {
	Dawn, Dusk time.Time // begin and end of civil twilight
	Rise, Set  time.Time

	AlwaysUp   bool // the sun does not set all day
	AlwaysDown bool // the sun does not rise all day
	NeverDark  bool // day or civil twilight all day
	AlwaysDark bool // not even civil twilight all day
}

// SunOn is the sun on the day of date in loc (nil: UTC) at p. All is zero where p is
// no place on the earth.
func SunOn(date quantity.Date, loc *time.Location, p Position) Sun {
	if !p.Known() {
		return Sun{}
	}
	if loc == nil {
		loc = time.UTC
	}
	from, to := date.In(loc), date.End(loc)
	rises := crossingsIn(p, from, to, riseAltitude)
	civil := crossingsIn(p, from, to, civilAltitude)

	return Sun{
		Dawn: first(civil.up), Dusk: last(civil.down),
		Rise: first(rises.up), Set: last(rises.down),
		AlwaysUp: rises.none() && rises.above, AlwaysDown: rises.none() && !rises.above,
		NeverDark: civil.none() && civil.above, AlwaysDark: civil.none() && !civil.above,
	}
}

// crossings are the moments at which the sun passes an altitude.
type crossings struct {
	up, down []time.Time
	above    bool // at the start
}

func (c crossings) none() bool { return len(c.up)+len(c.down) == 0 }

// crossingsIn finds them from from to to. Between two culminations the altitude only
// rises or only falls, so that there is at most one in each piece.
func crossingsIn(p Position, from, to time.Time, altitude float64) crossings {
	c := crossings{above: altitudeAt(p, from) >= altitude}
	above, start := c.above, from
	for _, end := range append(culminationsIn(p, from, to), to) {
		wasAbove := above
		above = altitudeAt(p, end) >= altitude
		switch {
		case above && !wasAbove:
			c.up = append(c.up, crossing(p, start, end, altitude))
		case wasAbove && !above:
			c.down = append(c.down, crossing(p, start, end, altitude))
		}
		start = end
	}
	return c
}

// crossing is the moment between low and high at which the sun passes altitude, to
// a tenth of a second. The sun must be on different sides of it at the two. Regula
// falsi with the Illinois halving (Dowell and Jarratt, BIT 11, 1971): it keeps the
// root between its ends as halving does, and needs a third of the steps.
func crossing(p Position, low, high time.Time, altitude float64) time.Time {
	const (
		near   = 100 * time.Millisecond
		enough = 1e-5 // degrees: within a tenth of a second, but where the sun hardly rises or sets
	)
	atLow, atHigh := altitudeAt(p, low)-altitude, altitudeAt(p, high)-altitude
	above, side := atLow >= 0, 0
	for high.Sub(low) > near {
		// never nearer to an end than half of near, so that both ends close in
		span := high.Sub(low)
		step := time.Duration(float64(span) * atLow / (atLow - atHigh))
		t := low.Add(min(max(step, near/2), span-near/2))
		at := altitudeAt(p, t) - altitude
		if math.Abs(at) < enough {
			return t
		}
		if (at >= 0) == above {
			low, atLow = t, at
			if side == 1 {
				atHigh /= 2
			}
			side = 1
			continue
		}
		high, atHigh = t, at
		if side == -1 {
			atLow /= 2
		}
		side = -1
	}
	return high
}

// culminationsIn are the sun's highest and lowest moments after from and before to.
func culminationsIn(p Position, from, to time.Time) []time.Time {
	var list []time.Time
	t := culmination(p, from, halfTurn)
	for range int(to.Sub(from)/halfDay) + 2 {
		if t.After(from) && t.Before(to) {
			list = append(list, t)
		}
		t = culmination(p, t.Add(halfDay), halfTurn)
	}
	return list
}

// noon is the upper culmination nearest to t. It is found from the mean noon of its day,
// so that it and what hangs on it are to the nanosecond the same for every t of that day.
func noon(p Position, t time.Time) time.Time {
	east := time.Duration(p.Lon / turn * float64(wholeDay))
	mean := culmination(p, t, turn).Add(east).Truncate(wholeDay).Add(halfDay)
	return culmination(p, mean.Add(-east), turn)
}

// culmination is the moment nearest to t at which the sun's hour angle is a
// multiple of every degrees.
func culmination(p Position, t time.Time, every float64) time.Time {
	for range 3 {
		off := math.Remainder(hourAngleAt(p, t), every)
		t = t.Add(-time.Duration(off / turn * float64(wholeDay)))
	}
	return t
}

// altitudeAt is the altitude of the sun's centre in degrees, without refraction.
func altitudeAt(p Position, t time.Time) float64 {
	declination, equation := sunAt(t)
	lat, angle := radians(p.Lat), radians(hourAngle(p, t, equation))
	sine := math.Sin(lat)*math.Sin(declination) + math.Cos(lat)*math.Cos(declination)*math.Cos(angle)
	return degrees(math.Asin(math.Max(-1, math.Min(1, sine))))
}

// hourAngleAt is how far the sun is west of the meridian of p in degrees, not
// brought into one turn.
func hourAngleAt(p Position, t time.Time) float64 {
	_, equation := sunAt(t)
	return hourAngle(p, t, equation)
}

// hourAngle is hourAngleAt for a known equation of time in minutes.
func hourAngle(p Position, t time.Time, equation float64) float64 {
	minutes := t.Sub(t.UTC().Truncate(wholeDay)).Minutes()
	return (minutes+equation)/4 + p.Lon - halfTurn
}

// sunAt is the sun's declination in radians and the equation of time in minutes.
// The names are those of the published form; L0, M, C and lambda are in degrees there.
// Sines of the multiples of an angle come from those of the angle itself: the sun is
// asked some hundred times for one assessment.
func sunAt(t time.Time) (declination, equation float64) {
	T := centuries(t)
	L0 := 280.46646 + T*(36000.76983+0.0003032*T)
	e := 0.016708634 - T*(0.000042037+0.0000001267*T)
	sinM, cosM := math.Sincos(radians(357.52911 + T*(35999.05029-0.0001537*T)))
	sin2M, sin3M := 2*sinM*cosM, sinM*(3-4*sinM*sinM)
	C := sinM*(1.914602-T*(0.004817+0.000014*T)) + sin2M*(0.019993-0.000101*T) + 0.000289*sin3M
	sinW, cosW := math.Sincos(radians(125.04 - 1934.136*T))
	lambda := radians(L0 + C - 0.00569 - 0.00478*sinW)
	eps := radians(23 + (26+(21.448-T*(46.815+T*(0.00059-0.001813*T)))/60)/60 + 0.00256*cosW)

	sinEps, cosEps := math.Sincos(eps)
	y := (1 - cosEps) / (1 + cosEps) // the square of tan(eps/2)
	sinL, cosL := math.Sincos(radians(L0))
	sin2L, cos2L := 2*sinL*cosL, 1-2*sinL*sinL
	equation = 4 * degrees(y*sin2L-2*e*sinM+4*e*y*sinM*cos2L-0.5*y*y*2*sin2L*cos2L-1.25*e*e*sin2M)
	return math.Asin(sinEps * math.Sin(lambda)), equation
}

// centuries are those of 36525 days since 2000-01-01 12:00, Julian date 2451545.
func centuries(t time.Time) float64 {
	const unixEpoch, j2000 = 2440587.5, 2451545.0
	seconds := float64(t.Unix()) + float64(t.Nanosecond())/1e9
	return (seconds/86400 + unixEpoch - j2000) / 36525
}

func first(list []time.Time) time.Time {
	if len(list) == 0 {
		return time.Time{}
	}
	return list[0]
}

func last(list []time.Time) time.Time {
	if len(list) == 0 {
		return time.Time{}
	}
	return list[len(list)-1]
}
