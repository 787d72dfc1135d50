package passage_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
)

func endingAt(p passage.Position) passage.Leg { return passage.Leg{Position: &p} }

func TestAnArrivalInTwilightIsNotByDay(t *testing.T) {
	// Source: US Naval Observatory, Quito 2026-03-20 UT: rise 11:18, set 23:25, civil end 23:45.
	// Arriving 23:30 is after sunset, within civil twilight. An hour after the one is 12:18, two
	// hours before the other 21:25; tolerance 1 min.
	a := passage.ArrivalAt(endingAt(quito), utc(t, "2026-03-20 23:30:00"))
	assert.True(t, a.Known)
	assert.False(t, a.ByDay)
	assert.WithinDuration(t, utc(t, "2026-03-20 12:18:00"), a.FirstLight, time.Minute)
	assert.WithinDuration(t, utc(t, "2026-03-20 21:25:00"), a.LastLight, time.Minute)
}

func TestByDayHasBothItsEnds(t *testing.T) {
	noon := utc(t, "2026-03-20 17:00:00")
	a := passage.ArrivalAt(endingAt(quito), noon)
	require.True(t, a.ByDay)
	assert.Equal(t, noon, a.At)

	rows := []struct {
		at   time.Time
		want bool
	}{
		{a.FirstLight, true}, {a.FirstLight.Add(-time.Second), false},
		{a.LastLight, true}, {a.LastLight.Add(time.Second), false},
		{a.FirstLight.Add(-time.Hour), false}, {a.LastLight.Add(2 * time.Hour), false},
	}
	for _, r := range rows {
		got := passage.ArrivalAt(endingAt(quito), r.at)
		assert.Equal(t, r.want, got.ByDay, r.at)
		assert.Equal(t, a.FirstLight, got.FirstLight, "the same whenever it is asked")
		assert.Equal(t, a.LastLight, got.LastLight)
	}
}

func TestByDayWhereTheSunSetsAfterMidnight(t *testing.T) {
	// Source: US Naval Observatory, Reykjavik 2026-06-21: rises 02:55 and, as on the day before,
	// sets about 00:04 of the next day. By day is from 03:55 to about 22:04.
	rows := []struct {
		at   string
		want bool
	}{
		{"2026-06-21 00:02:00", false}, {"2026-06-21 02:00:00", false}, {"2026-06-21 03:50:00", false},
		{"2026-06-21 04:00:00", true}, {"2026-06-21 12:00:00", true}, {"2026-06-21 22:00:00", true},
		{"2026-06-21 22:10:00", false}, {"2026-06-21 23:59:00", false},
	}
	for _, r := range rows {
		a := passage.ArrivalAt(endingAt(reykjavik), utc(t, r.at))
		assert.Equal(t, r.want, a.ByDay, r.at)
		assert.WithinDuration(t, utc(t, "2026-06-21 03:55:00"), a.FirstLight, time.Minute, r.at)
		assert.WithinDuration(t, utc(t, "2026-06-21 22:04:00"), a.LastLight, 2*time.Minute, r.at)
	}
}

func TestPolarDayIsByDayAndPolarNightIsNot(t *testing.T) {
	// Source: US Naval Observatory, Tromso 2026-06-21 and 2026-12-21.
	for hour := range 24 {
		summer := utc(t, "2026-06-21 00:00:00").Add(time.Duration(hour) * time.Hour)
		assert.Equal(t, passage.Arrival{At: summer, ByDay: true, Known: true}, passage.ArrivalAt(endingAt(tromso), summer))
		winter := utc(t, "2026-12-21 00:00:00").Add(time.Duration(hour) * time.Hour)
		assert.Equal(t, passage.Arrival{At: winter, Known: true}, passage.ArrivalAt(endingAt(tromso), winter))
	}
}

func TestTheOffsetDoesNotMakeTheDay(t *testing.T) {
	// Source: US Naval Observatory, Sydney: rises 2026-06-21 21:00 UT, sets about 06:54 UT on the
	// 22nd. At 23:00 UT on the 21st it is nine in the morning there, whatever clock the boat keeps.
	at := utc(t, "2026-06-21 23:00:00")
	for _, offset := range []int{-12, 0, 10, 14} {
		a := passage.ArrivalAt(endingAt(sydney), at.In(time.FixedZone("", offset*3600)))
		assert.True(t, a.ByDay, offset)
		assert.WithinDuration(t, utc(t, "2026-06-21 22:00:00"), a.FirstLight, time.Minute, offset)
		assert.WithinDuration(t, utc(t, "2026-06-22 04:54:00"), a.LastLight, 2*time.Minute, offset)
	}
}

func TestAfterMidnightTheLightsAreThoseAhead(t *testing.T) {
	// Summer time in the far west of its zone: the sun's noon is near 14:00, so that at 00:30 the
	// noon before is the nearer one. The local day counts. Its date is what is checked; design 4.12.
	place := passage.Position{Lat: 42, Lon: -9}
	at := time.Date(2026, 7, 1, 0, 30, 0, 0, time.FixedZone("", 2*3600))
	a := passage.ArrivalAt(endingAt(place), at)
	assert.False(t, a.ByDay)
	assert.Equal(t, 1, a.FirstLight.Day())
	assert.Equal(t, 1, a.LastLight.Day())
	assert.True(t, a.FirstLight.After(at))
}

func TestAShortWinterDayHasNoTimeByDay(t *testing.T) {
	// Iceland's north in December has under three hours of sun: an hour after rise is later than two
	// before set. Arithmetic on the definition; 66.4 N has about two hours there.
	place := passage.Position{Lat: 66.4, Lon: -18}
	noon := utc(t, "2026-12-12 13:05:00")
	a := passage.ArrivalAt(endingAt(place), noon)
	assert.False(t, a.ByDay)
	assert.True(t, a.Known)
	require.False(t, a.FirstLight.IsZero() || a.LastLight.IsZero())
	assert.True(t, a.LastLight.Before(a.FirstLight))
}

func TestTheDaysAroundThePolarDayHaveNoGap(t *testing.T) {
	// Coming to the polar day the last sunrise is followed by no sunset. From then on every moment
	// is by day; before, each day has its night. No source: it follows from the definition.
	changes, byDay := 0, false
	start := utc(t, "2026-05-15 01:00:00")
	for minute := 0; minute < 10*24*60; minute += 5 {
		a := passage.ArrivalAt(endingAt(tromso), start.Add(time.Duration(minute)*time.Minute))
		if a.ByDay != byDay {
			changes++
			byDay = a.ByDay
		}
	}
	assert.True(t, byDay, "it ends in the polar day")
	assert.Less(t, changes, 20)
	assert.Greater(t, changes, 2)
	assert.Equal(t, 1, changes%2)
}

func TestAnUnknownPlaceIsNotKnown(t *testing.T) {
	at := utc(t, "2026-03-20 12:00:00")
	want := passage.Arrival{At: at}
	assert.Equal(t, want, passage.ArrivalAt(passage.Leg{}, at))
	assert.Equal(t, want, passage.ArrivalAt(endingAt(passage.Position{Lat: 91}), at))
	fromRoute := passage.Leg{Route: []passage.Position{sydney, quito}}
	assert.Equal(t, passage.ArrivalAt(endingAt(quito), at), passage.ArrivalAt(fromRoute, at), "the end of the route serves")
}

func TestDark(t *testing.T) {
	// Source: US Naval Observatory, Quito 2026-03-20 UT: rise 11:18, set 23:25; Tromso 2026-06-21 up all day.
	rows := []struct {
		name     string
		p        passage.Position
		from, to string
		want     bool
	}{
		{"a day's sail", quito, "2026-03-20 11:20:00", "2026-03-20 23:23:00", false},
		{"begins before sunrise", quito, "2026-03-20 11:16:00", "2026-03-20 20:00:00", true},
		{"ends after sunset", quito, "2026-03-20 12:00:00", "2026-03-20 23:28:00", true},
		{"turned round", quito, "2026-03-20 23:28:00", "2026-03-20 12:00:00", true},
		{"over a night", quito, "2026-03-20 20:00:00", "2026-03-21 20:00:00", true},
		{"polar day, a week", tromso, "2026-06-18 00:00:00", "2026-06-25 00:00:00", false},
		{"polar night at noon", tromso, "2026-12-21 10:40:00", "2026-12-21 10:45:00", true},
		{"a moment by day", quito, "2026-03-20 17:00:00", "2026-03-20 17:00:00", false},
		{"longer than any day", tromso, "2026-06-18 00:00:00", "2046-06-18 00:00:00", true},
		{"nowhere", passage.Position{Lat: nan}, "2026-03-20 17:00:00", "2026-03-20 17:00:00", true},
	}
	for _, r := range rows {
		assert.Equal(t, r.want, passage.Dark(r.p, utc(t, r.from), utc(t, r.to)), r.name)
	}
}

func TestTheShortestNightIsFound(t *testing.T) {
	// Towards the polar circle the night of the solstice shrinks to nothing. Property.
	// At 180 E the UT day has one night, about its middle.
	start := utc(t, "2026-06-21 00:00:00")
	nights, days, shortest := 0, 0, 24*time.Hour
	for lat := 65.6; lat < 65.9; lat += 0.0005 {
		p := passage.Position{Lat: lat, Lon: 180}
		sun := passage.SunOn(date(t, "2026-06-21"), time.UTC, p)
		assert.Equal(t, !sun.AlwaysUp, passage.Dark(p, start, start.Add(24*time.Hour)), lat)
		if sun.AlwaysUp {
			days++
			continue
		}
		nights++
		require.True(t, sun.Rise.After(sun.Set), lat)
		shortest = min(shortest, sun.Rise.Sub(sun.Set))
	}
	assert.Positive(t, nights)
	assert.Positive(t, days)
	assert.Less(t, shortest, 10*time.Minute)
}

func TestMoreThanADayBelowThePolarCirclesIsDark(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := passage.Position{Lat: rapid.Float64Range(-65.5, 65.5).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		from := time.Date(2026, 1, 1, 0, rapid.IntRange(0, 366*24*60).Draw(t, "minute"), 0, 0, time.UTC)
		require.True(t, passage.Dark(p, from, from.Add(24*time.Hour+2*time.Minute)))
	})
}

// dayTrip is six hours at sea, a stay, and six hours more, off the coast at Quito's latitude.
func dayTrip(stay time.Duration, ends ...*passage.Position) passage.Plan {
	p := passage.Plan{Cases: map[passage.CaseName]passage.Case{passage.Slow: {Speed: 1}}}
	for _, end := range ends {
		p.Legs = append(p.Legs, passage.Leg{Distance: 30, Sail: 5, Position: end, Stay: stay})
	}
	return p
}

func TestDarkOnVoyage(t *testing.T) {
	// Source of the light: US Naval Observatory, Quito 2026-03-20 UT: rise 11:18, set 23:25; Sydney: rise
	// 19:59, set 08:07; Tromso 2026-03-20: rise 04:44, set 17:01.
	nowhere := &passage.Position{Lat: nan}
	viaSydney := dayTrip(0, &quito)
	viaSydney.Legs[0].Route = []passage.Position{sydney, quito}
	short := dayTrip(0, nil, nil, &quito) // three hours
	for i := range short.Legs {
		short.Legs[i].Distance = 5
	}
	rows := []struct {
		name        string
		plan        passage.Plan
		depart      string
		dark, known bool
	}{
		{"by day", dayTrip(0, &quito), "2026-03-20 12:00:00", false, true},
		{"before sunrise", dayTrip(0, &quito), "2026-03-20 11:00:00", true, true},
		{"after sunset", dayTrip(0, &quito), "2026-03-20 17:40:00", true, true},
		{"the night in between counts", dayTrip(12*time.Hour, &quito, &quito), "2026-03-20 17:00:00", true, true},
		{"dark at the start of the route", viaSydney, "2026-03-20 12:00:00", true, true},
		{"dark where the leg before ended", dayTrip(0, &quito, &sydney), "2026-03-20 17:20:00", true, true},
		{"nothing known", dayTrip(0, nil), "2026-03-20 12:00:00", false, false},
		{"nonsense is not known", dayTrip(0, nowhere), "2026-03-20 12:00:00", false, false},
		{"the next known place serves", short, "2026-03-20 11:00:00", true, true},
		{"but it is light an hour later", short, "2026-03-20 11:20:00", false, true},
		{"the last known place serves", dayTrip(0, &quito, nil, nil), "2026-03-20 11:20:00", true, true},
		{"and by day it is by day", dayTrip(0, nil, &tromso), "2026-03-20 04:50:00", false, true},
	}
	for _, r := range rows {
		v := passage.Run(r.plan, passage.Engine{}, passage.Slow, utc(t, r.depart), passage.Trim{})
		require.True(t, v.Made(), r.name)
		dark, known := passage.DarkOnVoyage(r.plan, v)
		assert.Equal(t, []bool{r.dark, r.known}, []bool{dark, known}, r.name)
	}
}

func TestDarkOnAVoyageThatIsNotMadeIsNotKnown(t *testing.T) {
	plan := dayTrip(0, &quito)
	_, known := passage.DarkOnVoyage(plan, passage.Voyage{Unmade: []int{0}})
	assert.False(t, known)
	_, known = passage.DarkOnVoyage(passage.Plan{}, passage.Voyage{Spans: []passage.Span{{Leg: 3, Hours: 1}, {Leg: -1, Hours: 1}}})
	assert.False(t, known, "spans of another plan")
}
