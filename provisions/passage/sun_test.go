package passage_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

var (
	tromso    = passage.Position{Lat: 69.65, Lon: 18.96}
	reykjavik = passage.Position{Lat: 64.15, Lon: -21.94}
	sydney    = passage.Position{Lat: -33.87, Lon: 151.21}
	quito     = passage.Position{Lat: -0.18, Lon: -78.47}
)

func date(t *testing.T, text string) quantity.Date {
	t.Helper()
	d, err := quantity.ParseDate(text)
	require.NoError(t, err)
	return d
}

func utc(t *testing.T, text string) time.Time {
	t.Helper()
	when, err := time.Parse("2006-01-02 15:04:05", text)
	require.NoError(t, err)
	return when
}

func TestSunAgainstTheAlmanac(t *testing.T) {
	// Source: US Naval Observatory, Complete Sun and Moon Data for One Day, 30 days of 2026, UT;
	// tolerance 1 min.
	file, err := os.Open("testdata/sun.csv")
	require.NoError(t, err)
	defer func() { assert.NoError(t, file.Close()) }()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	require.NoError(t, err)

	days, events, none := 0, 0, 0
	for _, row := range rows[1:] {
		lat, errLat := strconv.ParseFloat(row[1], 64)
		lon, errLon := strconv.ParseFloat(row[2], 64)
		require.NoError(t, errLat)
		require.NoError(t, errLon)
		sun := passage.SunOn(date(t, row[3]), time.UTC, passage.Position{Lat: lat, Lon: lon})
		days++

		got := []time.Time{sun.Dawn, sun.Rise, sun.Set, sun.Dusk}
		always := []map[string]bool{
			{"up": sun.NeverDark}, {"up": sun.AlwaysUp, "down": sun.AlwaysDown},
			{"up": sun.AlwaysUp, "down": sun.AlwaysDown}, {"up": sun.NeverDark},
		}
		for i, printed := range row[4:] {
			if printed == "up" || printed == "down" {
				assert.True(t, got[i].IsZero(), "%v: %d", row, i)
				assert.True(t, always[i][printed], "%v: %d", row, i)
				none++
				continue
			}
			assert.WithinDuration(t, utc(t, row[3]+" "+printed+":00"), got[i], time.Minute, "%v: %d", row, i)
			events++
		}
	}
	assert.Equal(t, 30, days, "days checked")
	assert.Equal(t, 110, events, "events checked")
	assert.Equal(t, 10, none, "events that do not happen")
}

func TestSunAgainstTheSolarPositionAlgorithm(t *testing.T) {
	// Source: NREL/TP-560-34302 (Reda and Andreas), worked example 2003-10-17, 39.742476 N
	// 105.1786 W, UT-7: rise 06:12:43, set 17:20:19. The set is that of the UT day, which is the
	// local evening of the 16th; the evening of the 17th has 17:18:51 (recomputed). Tolerance 10 s.
	golden := passage.Position{Lat: 39.742476, Lon: -105.1786}
	local := time.FixedZone("", -7*3600)
	day := passage.SunOn(date(t, "2003-10-17"), local, golden)
	before := passage.SunOn(date(t, "2003-10-16"), local, golden)

	assert.WithinDuration(t, utc(t, "2003-10-17 13:12:43"), day.Rise, 10*time.Second)
	assert.WithinDuration(t, utc(t, "2003-10-17 00:20:19"), before.Set, 10*time.Second)
	assert.WithinDuration(t, utc(t, "2003-10-18 00:18:51"), day.Set, 10*time.Second)
	assert.Equal(t, "2003-10-17", quantity.DateOf(day.Set).String(), "told in the local time asked for")
}

func TestPolarDays(t *testing.T) {
	// Source: US Naval Observatory, as above.
	summer := passage.SunOn(date(t, "2026-06-21"), time.UTC, tromso)
	assert.Equal(t, passage.Sun{AlwaysUp: true, NeverDark: true}, summer)

	winter := passage.SunOn(date(t, "2026-12-21"), time.UTC, tromso)
	assert.True(t, winter.AlwaysDown && !winter.AlwaysUp && !winter.NeverDark && !winter.AlwaysDark)
	assert.True(t, winter.Rise.IsZero() && winter.Set.IsZero())
	assert.WithinDuration(t, utc(t, "2026-12-21 08:31:00"), winter.Dawn, time.Minute)
	assert.WithinDuration(t, utc(t, "2026-12-21 12:53:00"), winter.Dusk, time.Minute)

	// Arithmetic: at the pole the sun stands at its declination, near -23.4 degrees.
	pole := passage.SunOn(date(t, "2026-12-21"), time.UTC, passage.Position{Lat: 90})
	assert.Equal(t, passage.Sun{AlwaysDown: true, AlwaysDark: true}, pole)
}

func TestAnEveningMayEndAfterMidnight(t *testing.T) {
	// Source: US Naval Observatory: Reykjavik 2026-06-21 UT sets 00:04, rises 02:55, twilight never ends.
	sun := passage.SunOn(date(t, "2026-06-21"), time.UTC, reykjavik)
	assert.WithinDuration(t, utc(t, "2026-06-21 00:04:00"), sun.Set, time.Minute)
	assert.WithinDuration(t, utc(t, "2026-06-21 02:55:00"), sun.Rise, time.Minute)
	assert.True(t, sun.NeverDark && sun.Dawn.IsZero() && sun.Dusk.IsZero())
	assert.False(t, sun.AlwaysUp || sun.AlwaysDown || sun.AlwaysDark)
}

func TestTheLocalDayIsTheOneThatCounts(t *testing.T) {
	// Source: US Naval Observatory: Sydney, sunrise 21:00 UT on 2026-06-21, which is 07:00 of the 22nd at UT+10.
	sun := passage.SunOn(date(t, "2026-06-22"), time.FixedZone("", 10*3600), sydney)
	assert.WithinDuration(t, utc(t, "2026-06-21 21:00:00"), sun.Rise, time.Minute)
	assert.True(t, sun.Dawn.Before(sun.Rise) && sun.Rise.Before(sun.Set) && sun.Set.Before(sun.Dusk))
}

func TestSunOfNoPlaceAndNoZone(t *testing.T) {
	assert.Equal(t, passage.Sun{}, passage.SunOn(date(t, "2026-06-21"), time.UTC, passage.Position{Lat: nan}))
	assert.Equal(t, passage.SunOn(date(t, "2026-03-20"), time.UTC, quito), passage.SunOn(date(t, "2026-03-20"), nil, quito))
}
