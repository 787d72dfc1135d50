package provisions

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

var quito = passage.Position{Lat: -0.18, Lon: -78.47}

// toQuito is 50 nm under sail, ten hours in the expected case and twelve and a half in the slow one.
func toQuito(depart string) passage.Plan {
	plan := outAndHome(50, 5, 5, 0)
	plan.Legs[0].Position = &quito
	plan.Depart = utc(depart)
	plan.Cases = map[passage.CaseName]passage.Case{
		passage.Slow: {Speed: 0.8}, passage.Expected: {Speed: 1}, passage.Quick: {Speed: 2},
	}
	return plan
}

func utc(text string) time.Time {
	at, err := time.Parse("2006-01-02 15:04", text)
	if err != nil {
		panic(err)
	}
	return at
}

func assertOpen(t *testing.T, want [][2]string, got []Opening, name string) {
	t.Helper()
	require.Len(t, got, len(want), "%s: %v", name, got)
	for i, w := range want {
		assert.WithinDuration(t, utc(w[0]), got[i].From, 2*time.Minute, "%s, from %d", name, i)
		assert.WithinDuration(t, utc(w[1]), got[i].To, 2*time.Minute, "%s, to %d", name, i)
	}
}

func TestWindowOfDeparture(t *testing.T) {
	// Source of the light: US Naval Observatory, Quito 2026-03-20 UT: rise 11:18, set 23:25, a minute
	// less or none on the days beside it: by day from 12:18 to 21:25. Expected 10 h, slow 12.5 h: leave from
	// 02:18 (12:18 less 10 h) to 08:55 (21:25 less 12.5 h).
	rows := []struct {
		name        string
		depart, now string
		want        [][2]string
	}{
		{"within a day of it", "2026-03-20 06:00", "2026-03-01 00:00",
			[][2]string{{"2026-03-19 06:00", "2026-03-19 08:55"}, {"2026-03-20 02:18", "2026-03-20 08:55"}, {"2026-03-21 02:18", "2026-03-21 06:00"}}},
		{"not before now", "2026-03-20 06:00", "2026-03-20 03:00",
			[][2]string{{"2026-03-20 03:00", "2026-03-20 08:55"}, {"2026-03-21 02:18", "2026-03-21 06:00"}}},
		{"a departure that is past is now", "2026-03-18 06:00", "2026-03-20 03:00",
			[][2]string{{"2026-03-20 03:00", "2026-03-20 08:55"}, {"2026-03-21 02:18", "2026-03-21 03:00"}}},
	}
	for _, r := range rows {
		s := Situation{Boat: gasBoat(100), Plan: toQuito(r.depart), Now: utc(r.now)}
		got := s.windows(s.Reckon())
		require.Len(t, got, 1, r.name)
		assert.Equal(t, 0, got[0].Leg)
		assert.Equal(t, 2, got[0].Cases, r.name)
		assertOpen(t, r.want, got[0].Open, r.name)
	}
}

func TestOnlyTheCasesThatAreMadeCount(t *testing.T) {
	s := Situation{Boat: gasBoat(100), Plan: toQuito("2026-03-20 06:00"), Now: utc("2026-03-20 00:00")}
	s.Plan.Cases[passage.Slow] = passage.Case{Speed: 0.05}
	got := s.windows(s.Reckon())
	require.Len(t, got, 1)
	assert.Equal(t, 1, got[0].Cases)
	assertOpen(t, [][2]string{{"2026-03-20 02:18", "2026-03-20 11:25"}, {"2026-03-21 02:18", "2026-03-21 06:00"}}, got[0].Open, "expected alone")

	s.Plan.Cases[passage.Expected] = passage.Case{Speed: 0.05}
	got = s.windows(s.Reckon())
	require.Len(t, got, 1)
	assert.Equal(t, Window{Leg: 0}, got[0], "quick alone tells nothing")
}

func TestALegWithoutAPlaceHasNoWindow(t *testing.T) {
	plan := toQuito("2026-03-20 06:00")
	nowhere := passage.Position{Lat: 95}
	plan.Legs = []passage.Leg{
		{Distance: 5, Sail: 5}, plan.Legs[0], {Distance: 5, Sail: 5, Position: &nowhere},
		{Distance: 5, Sail: 5, Route: []passage.Position{quito, {Lat: -0.2, Lon: -78.5}}},
	}
	s := Situation{Boat: gasBoat(100), Plan: plan, Now: utc("2026-03-20 00:00")}
	got := s.windows(s.Reckon())
	require.Len(t, got, 2)
	assert.Equal(t, []int{1, 3}, []int{got[0].Leg, got[1].Leg}, "the end of a route serves")
}

func TestWindowsKeepTheDeparturesOffset(t *testing.T) {
	s := Situation{Boat: gasBoat(100), Plan: toQuito("2026-03-20 06:00"), Now: utc("2026-03-20 03:00")}
	s.Plan.Depart = s.Plan.Depart.In(offset)
	for _, o := range s.windows(s.Reckon())[0].Open {
		assert.Equal(t, offset, o.From.Location())
		assert.Equal(t, offset, o.To.Location())
	}
}

func TestLeavingInTheWindowArrivesByDayInBothCases(t *testing.T) {
	// Reckoned anew from each departure, stays and waits included.
	opened, shut := 0, 0
	untilMet(t, func() bool { return opened > 0 && shut > 0 }, func(t *rapid.T) {
		plan := toQuito("2026-03-20 06:00")
		plan.Depart = plan.Depart.Add(time.Duration(rapid.IntRange(0, 365*24*60).Draw(t, "minutes")) * time.Minute)
		slow := plan.Cases[passage.Slow]
		slow.Wait = time.Duration(rapid.IntRange(0, 600).Draw(t, "wait")) * time.Minute
		plan.Cases[passage.Slow] = slow
		place := func() *passage.Position {
			return &passage.Position{Lat: rapid.Float64Range(-75, 75).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		}
		plan.Legs[0].Position, plan.Legs[0].Stay = place(), time.Duration(rapid.IntRange(0, 600).Draw(t, "stay"))*time.Minute
		plan.Legs = append(plan.Legs, passage.Leg{
			Sail: 5, Distance: quantity.Distance(rapid.Float64Range(5, 400).Draw(t, "miles")), Position: place(),
		})
		s := Situation{Boat: gasBoat(1e4), Plan: plan, Now: plan.Depart.Add(-time.Duration(rapid.IntRange(0, 72).Draw(t, "hours")) * time.Hour)}

		for _, w := range s.windows(s.Reckon()) {
			arrives := func(leave time.Time) bool {
				moved := s
				moved.Plan.Depart, moved.Now = leave, leave
				r := moved.Reckon()
				for _, name := range []passage.CaseName{passage.Slow, passage.Expected} {
					if !passage.ArrivalAt(s.Plan.Legs[w.Leg], r.Cases[name].Voyage.Arrivals[w.Leg]).ByDay {
						return false
					}
				}
				return true
			}
			for _, o := range w.Open {
				opened++
				require.False(t, o.From.Before(s.Now))
				require.LessOrEqual(t, o.From.Sub(plan.Depart).Abs(), 24*time.Hour)
				require.LessOrEqual(t, o.To.Sub(plan.Depart).Abs(), 24*time.Hour)
				require.True(t, arrives(o.From.Add(o.To.Sub(o.From)/2)))
			}
			leave := plan.Depart.Add(time.Duration(rapid.IntRange(-1440, 1440).Draw(t, "leave")) * time.Minute)
			if leave.Before(s.Now) {
				continue
			}
			inside := false
			for _, o := range w.Open {
				inside = inside || !leave.Before(o.From) && !leave.After(o.To)
			}
			if !inside {
				shut++
			}
			require.Equal(t, arrives(leave), inside, leave)
		}
	})
}
