package passage

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/quantity"
)

// published is the event as the NOAA long form gives it, in five rounds: UT minutes
// 720 - 4*(lon + HA) - EqT for rise, minus HA for set; ok where every round has an event.
func published(day time.Time, p Position, altitude float64, sign float64) (event time.Time, ok bool) {
	event = day.Add(halfDay)
	for range 5 {
		declination, equation := sunAt(event)
		lat := radians(p.Lat)
		cosine := (math.Sin(radians(altitude)) - math.Sin(lat)*math.Sin(declination)) / (math.Cos(lat) * math.Cos(declination))
		if math.Abs(cosine) > 1 {
			return time.Time{}, false
		}
		minutes := 720 - 4*(p.Lon+sign*degrees(math.Acos(cosine))) - equation
		event = day.Add(time.Duration(minutes * float64(time.Minute)))
	}
	return event, true
}

func TestTheSunOfTheBook(t *testing.T) {
	// Source: Meeus, Astronomical Algorithms, 2nd ed., example 25.a, 1992-10-13 0h: apparent declination
	// -7.78507 degrees; example 28.b, the same moment: equation of time 13 min 42.7 s, by the
	// formula that the long form uses (both quoted by several public test suites; book not seen).
	declination, equation := sunAt(time.Date(1992, 10, 13, 0, 0, 0, 0, time.UTC))
	require.InDelta(t, -7.78507, degrees(declination), 0.00001)
	require.InDelta(t, 13+42.7/60, equation, 0.1/60)
}

func TestADayOfTwoSunsetsKeepsTheLastAndOfTwoSunrisesTheFirst(t *testing.T) {
	// Property: where an event moves back over midnight, some day has it twice.
	rows := []struct {
		name string
		p    Position
		zone int // minutes east of UT
		from time.Time
		two  func(c crossings, s Sun) (list []time.Time, kept time.Time, which int)
	}{
		{"sunset, Reykjavik after midsummer", Position{Lat: 64.15, Lon: -21.94}, 0, time.Date(2026, 6, 15, 0, 0, 0, 0, time.UTC),
			func(c crossings, s Sun) ([]time.Time, time.Time, int) { return c.down, s.Set, 1 }},
		{"sunrise, Belgrade in spring by a strange clock", Position{Lat: 44.82, Lon: 20.46}, -282, time.Date(2026, 3, 10, 0, 0, 0, 0, time.UTC),
			func(c crossings, s Sun) ([]time.Time, time.Time, int) { return c.up, s.Rise, 0 }},
	}
	for _, r := range rows {
		found, zone := 0, time.FixedZone("", r.zone*60)
		for day := range 30 {
			date := quantity.DateOf(r.from.AddDate(0, 0, day))
			list, kept, which := r.two(crossingsIn(r.p, date.In(zone), date.End(zone), riseAltitude), SunOn(date, zone, r.p))
			if len(list) == 2 {
				found++
				require.Equal(t, list[which], kept, r.name)
			}
		}
		require.Equal(t, 1, found, r.name)
	}
}

func TestEventsAreWhereTheRoundsComeToRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Position{Lat: rapid.Float64Range(-60, 60).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		day := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 20000).Draw(t, "day"))
		// A zone whose noon is near the sun's, so that the rounds of the UT day and the local day are the same.
		zone := time.FixedZone("", int(math.Round(p.Lon/15))*3600)
		sun := SunOn(quantity.DateOf(day), zone, p)

		for _, e := range []struct {
			got            time.Time
			altitude, sign float64
		}{{sun.Dawn, civilAltitude, 1}, {sun.Rise, riseAltitude, 1}, {sun.Set, riseAltitude, -1}, {sun.Dusk, civilAltitude, -1}} {
			want, ok := published(day, p, e.altitude, e.sign)
			require.True(t, ok)
			require.WithinDuration(t, want, e.got, time.Second)
		}
	})
}

func TestEventsAreCrossings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Position{Lat: rapid.Float64Range(-90, 90).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		zone := time.FixedZone("", rapid.IntRange(-12, 14).Draw(t, "zone")*3600)
		day := quantity.DateOf(time.Date(2020, 1, 1+rapid.IntRange(0, 20000).Draw(t, "day"), 0, 0, 0, 0, time.UTC))
		sun := SunOn(day, zone, p)

		for _, event := range []time.Time{sun.Rise, sun.Set} {
			if !event.IsZero() {
				require.InDelta(t, riseAltitude, altitudeAt(p, event), 0.001)
				require.Equal(t, day, quantity.DateOf(event.Add(-time.Second)))
			}
		}
		if sun.AlwaysUp || sun.AlwaysDown {
			require.True(t, sun.Rise.IsZero() && sun.Set.IsZero())
			require.NotEqual(t, sun.AlwaysUp, sun.AlwaysDown)
		} else {
			require.False(t, sun.Rise.IsZero() && sun.Set.IsZero())
		}
	})
}

func TestDarkMissesNoMoment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Position{Lat: rapid.Float64Range(-89, 89).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		from := time.Date(2026, 1, 1, 0, rapid.IntRange(0, 366*24*60).Draw(t, "minute"), 0, 0, time.UTC)
		minutes := rapid.IntRange(0, 60*60).Draw(t, "minutes")

		lowest := 90.0
		for i := range minutes + 1 {
			lowest = min(lowest, altitudeAt(p, from.Add(time.Duration(i)*time.Minute)))
		}
		dark := Dark(p, from, from.Add(time.Duration(minutes)*time.Minute))
		if lowest < riseAltitude {
			require.True(t, dark, "lowest %v", lowest)
		}
		if dark { // at most half a minute from the lowest sample
			require.Less(t, lowest, riseAltitude+0.01)
		}
	})
}
