package passage_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
)

func assertIntervals(t *testing.T, want [][2]string, got []passage.Interval, within time.Duration, name string) {
	t.Helper()
	require.Len(t, got, len(want), "%s: %v", name, got)
	for i, w := range want {
		assert.WithinDuration(t, utc(t, w[0]), got[i].From, within, "%s, from %d", name, i)
		assert.WithinDuration(t, utc(t, w[1]), got[i].To, within, "%s, to %d", name, i)
	}
}

func TestByDay(t *testing.T) {
	// Source of rise and set: US Naval Observatory, 2026, UT: Quito 20 March 11:18 and 23:25; Sydney 20
	// March 19:59 and 08:07; Reykjavik 21 June 02:55 and, as on the day before, about 00:04; Tromso 21
	// June up, 21 December down. By day is an hour after the one to two hours before the other. The days
	// beside the printed ones move by less than 2 minutes, in Reykjavik and Sydney by less than that.
	rows := []struct {
		name     string
		p        passage.Position
		from, to string
		want     [][2]string
	}{
		{"one day", quito, "2026-03-20 06:00:00", "2026-03-21 06:00:00", [][2]string{{"2026-03-20 12:18:00", "2026-03-20 21:25:00"}}},
		{"begins and ends in it", quito, "2026-03-20 13:00:00", "2026-03-20 20:00:00", [][2]string{{"2026-03-20 13:00:00", "2026-03-20 20:00:00"}}},
		{"in the night", quito, "2026-03-20 21:27:00", "2026-03-21 12:16:00", nil},
		{"two days", quito, "2026-03-20 00:00:00", "2026-03-21 23:59:00",
			[][2]string{{"2026-03-20 12:18:00", "2026-03-20 21:25:00"}, {"2026-03-21 12:18:00", "2026-03-21 21:25:00"}}},
		{"over the UT day", sydney, "2026-03-20 12:00:00", "2026-03-21 12:00:00", [][2]string{{"2026-03-20 20:59:00", "2026-03-21 06:07:00"}}},
		{"sets after midnight", reykjavik, "2026-06-21 01:00:00", "2026-06-22 01:00:00", [][2]string{{"2026-06-21 03:55:00", "2026-06-21 22:04:00"}}},
		{"midnight sun", tromso, "2026-06-18 01:00:00", "2026-06-25 17:00:00", [][2]string{{"2026-06-18 01:00:00", "2026-06-25 17:00:00"}}},
		{"polar night", tromso, "2026-12-18 00:00:00", "2026-12-25 00:00:00", nil},
		{"the pole in summer", passage.Position{Lat: 90}, "2026-06-01 00:00:00", "2026-06-20 00:00:00", [][2]string{{"2026-06-01 00:00:00", "2026-06-20 00:00:00"}}},
		{"the pole in winter", passage.Position{Lat: 90}, "2026-12-01 00:00:00", "2026-12-20 00:00:00", nil},
		{"no time at all", quito, "2026-03-20 17:00:00", "2026-03-20 17:00:00", nil},
		{"turned round", quito, "2026-03-20 18:00:00", "2026-03-20 17:00:00", nil},
		{"nowhere", passage.Position{Lat: nan}, "2026-03-20 06:00:00", "2026-03-21 06:00:00", nil},
	}
	for _, r := range rows {
		assertIntervals(t, r.want, passage.ByDay(r.p, utc(t, r.from), utc(t, r.to)), 2*time.Minute, r.name)
	}
}

func TestTheMidnightSunEndsInOneEvening(t *testing.T) {
	// At Tromso the midnight sun ends in the last days of July (common knowledge, no source for the
	// minute): before it one interval, after it one a day.
	got := passage.ByDay(tromso, utc(t, "2026-07-01 00:00:00"), utc(t, "2026-08-10 00:00:00"))
	require.NotEmpty(t, got)
	assert.Greater(t, got[0].To.Sub(got[0].From), 20*24*time.Hour)
	require.Greater(t, len(got), 10)
	for i := 1; i < len(got); i++ {
		assert.Less(t, got[i].To.Sub(got[i].From), 24*time.Hour)
		assert.GreaterOrEqual(t, got[i].From.Sub(got[i-1].To), 3*time.Hour, "an hour after sunrise, two before sunset")
	}
}

func TestLeaveForDay(t *testing.T) {
	// Source of the light as in TestByDay; the rest is arithmetic. By day at Quito is 12:18 to 21:25.
	rows := []struct {
		name     string
		from, to string
		takes    []time.Duration
		want     [][2]string
	}{
		{"a time of none", "2026-03-20 00:00:00", "2026-03-21 00:00:00", nil, nil},
		{"at once", "2026-03-20 00:00:00", "2026-03-21 00:00:00", []time.Duration{0}, [][2]string{{"2026-03-20 12:18:00", "2026-03-20 21:25:00"}}},
		{"ten hours before", "2026-03-20 00:00:00", "2026-03-21 00:00:00", []time.Duration{10 * time.Hour}, [][2]string{{"2026-03-20 02:18:00", "2026-03-20 11:25:00"}}},
		{"the later of two begins, the earlier ends", "2026-03-20 00:00:00", "2026-03-20 14:00:00",
			[]time.Duration{10 * time.Hour, 12 * time.Hour}, [][2]string{{"2026-03-20 02:18:00", "2026-03-20 09:25:00"}}},
		{"one day apart is the same", "2026-03-20 00:00:00", "2026-03-20 14:00:00",
			[]time.Duration{10 * time.Hour, 34 * time.Hour}, [][2]string{{"2026-03-20 02:18:00", "2026-03-20 11:25:00"}}},
		{"half a day apart is never", "2026-03-20 00:00:00", "2026-03-21 00:00:00", []time.Duration{10 * time.Hour, 22 * time.Hour}, nil},
		{"not before the first moment", "2026-03-20 05:00:00", "2026-03-20 11:00:00", []time.Duration{10 * time.Hour}, [][2]string{{"2026-03-20 05:00:00", "2026-03-20 11:00:00"}}},
		{"on two days", "2026-03-19 12:00:00", "2026-03-21 12:00:00", []time.Duration{10 * time.Hour, 11 * time.Hour},
			[][2]string{{"2026-03-20 02:18:00", "2026-03-20 10:25:00"}, {"2026-03-21 02:18:00", "2026-03-21 10:25:00"}}},
	}
	for _, r := range rows {
		assertIntervals(t, r.want, passage.LeaveForDay(quito, utc(t, r.from), utc(t, r.to), r.takes...), 2*time.Minute, r.name)
	}
}

func holding(list []passage.Interval, at time.Time) bool {
	return slices.ContainsFunc(list, func(i passage.Interval) bool { return !at.Before(i.From) && !at.After(i.To) })
}

func TestLeavingInsideArrivesByDayAndOutsideDoesNot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := aPosition("p").Draw(t, "p")
		leg := endingAt(p)
		from := time.Date(2026, 1, 1, 0, rapid.IntRange(0, 366*24*60).Draw(t, "minute"), 0, 0, time.UTC)
		to := from.Add(time.Duration(rapid.IntRange(1, 48*60).Draw(t, "span")) * time.Minute)
		takes := []time.Duration{
			time.Duration(rapid.Int64Range(0, int64(900*time.Hour)).Draw(t, "expected")),
			time.Duration(rapid.Int64Range(0, int64(900*time.Hour)).Draw(t, "slow")),
		}
		open := passage.LeaveForDay(p, from, to, takes...)

		arrives := func(at time.Time) bool {
			return passage.ArrivalAt(leg, at.Add(takes[0])).ByDay && passage.ArrivalAt(leg, at.Add(takes[1])).ByDay
		}
		for i, o := range open {
			require.True(t, o.From.Before(o.To))
			require.False(t, o.From.Before(from) || o.To.After(to))
			require.True(t, i == 0 || open[i-1].To.Before(o.From), "in order")
			for _, inside := range []time.Time{o.From, o.To, o.From.Add(o.To.Sub(o.From) / 3)} {
				require.True(t, arrives(inside), "%v inside %v", inside, o)
			}
			if before := o.From.Add(-time.Second); !before.Before(from) && !holding(open, before) {
				require.False(t, arrives(before), "just before %v", o)
			}
			if after := o.To.Add(time.Second); !after.After(to) && !holding(open, after) {
				require.False(t, arrives(after), "just after %v", o)
			}
		}
		at := from.Add(time.Duration(rapid.Int64Range(0, int64(to.Sub(from))).Draw(t, "at")))
		require.Equal(t, arrives(at), holding(open, at), "%v of %v", at, open)
	})
}

func TestLightAt(t *testing.T) {
	// Source: US Naval Observatory, 2026-03-20 UT, Quito: civil twilight begins 10:57, rise 11:18, set
	// 23:25, civil twilight ends 23:45; Tromso 2026-12-21: twilight 08:31 to 12:53, no sunrise.
	rows := []struct {
		p    passage.Position
		at   string
		want passage.Light
	}{
		{quito, "2026-03-20 10:55:00", passage.Night},
		{quito, "2026-03-20 10:59:00", passage.CivilTwilight},
		{quito, "2026-03-20 11:16:00", passage.CivilTwilight},
		{quito, "2026-03-20 11:20:00", passage.SunUp},
		{quito, "2026-03-20 23:23:00", passage.SunUp},
		{quito, "2026-03-20 23:27:00", passage.CivilTwilight},
		{quito, "2026-03-20 23:43:00", passage.CivilTwilight},
		{quito, "2026-03-20 23:47:00", passage.Night},
		{tromso, "2026-12-21 08:29:00", passage.Night},
		{tromso, "2026-12-21 10:42:00", passage.CivilTwilight},
		{tromso, "2026-12-21 12:55:00", passage.Night},
		{tromso, "2026-06-21 23:00:00", passage.SunUp},
		{passage.Position{Lat: nan}, "2026-03-20 12:00:00", ""},
	}
	for _, r := range rows {
		assert.Equal(t, r.want, passage.LightAt(r.p, utc(t, r.at)), "%v %s", r.p, r.at)
	}
}

func TestLightAlongTakesTheMiddleOfEachStep(t *testing.T) {
	// Source of the light as in TestLightAt: Quito 2026-03-20, twilight 10:57, rise 11:18, set 23:25,
	// dark 23:45. From 06:00 in 48 half hours: their middles are 06:15, 06:45, … 10:45 (the tenth), 11:15
	// in twilight, 11:45 … 23:15 by day, 23:45 is the edge of the dark.
	strip := passage.LightAlong(quito, utc(t, "2026-03-20 06:00:00"), 30*time.Minute, 48)
	require.Len(t, strip, 48)
	for i, light := range strip {
		switch {
		case i < 10:
			assert.Equal(t, passage.Night, light, i)
		case i == 10:
			assert.Equal(t, passage.CivilTwilight, light, i)
		case i < 35:
			assert.Equal(t, passage.SunUp, light, i)
		case i > 35:
			assert.Equal(t, passage.Night, light, i)
		}
	}

	// From 10:50, at night, an hour's middle is 11:20, after sunrise; that of the hour before 10:20.
	assert.Equal(t, []passage.Light{passage.Night, passage.SunUp},
		passage.LightAlong(quito, utc(t, "2026-03-20 09:50:00"), time.Hour, 2))

	assert.Empty(t, passage.LightAlong(quito, utc(t, "2026-03-20 06:00:00"), time.Hour, 0))
	assert.Empty(t, passage.LightAlong(quito, utc(t, "2026-03-20 06:00:00"), time.Hour, -1))
	assert.Empty(t, passage.LightAlong(passage.Position{Lat: 91}, utc(t, "2026-03-20 06:00:00"), time.Hour, 3))
}
