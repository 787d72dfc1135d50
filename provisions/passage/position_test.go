package passage

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The forms are those of ISO 6709 annex D and of chart tables; the values are arithmetic.
func TestPositionsAreReadAsAChartTableHasThem(t *testing.T) {
	want := Position{Lat: -20.1075, Lon: -174.9}
	for _, text := range []string{
		"20°06.45'S 174°54'W", "20 06.45 S, 174 54 W", "20-06.45S 174-54W", "20 06 27 S 174 54 00 W", "20.1075S 174.9W", "20.1075s,174.9w", "-20.1075, -174.9", "-20.1075 -174.9",
		`20°06'27"S 174°54'00"W`, " 20°06.45′S 174°54.0′W ",
	} {
		got, err := ParsePosition(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want.Lat, got.Lat, 1e-9, text)
		assert.InDelta(t, want.Lon, got.Lon, 1e-9, text)
	}
	for _, text := range []string{"", "20", "91N 10E", "20S 181W", "20 60 S 174 54 W", "-20S 174W", "20E 174S", "north, west", "20S", "1,2,3"} {
		_, err := ParsePosition(text)
		assert.Error(t, err, text)
	}
	south, err := ParsePosition("16 S 175 W")
	require.NoError(t, err)
	assert.Equal(t, Position{Lat: -16, Lon: -175}, south)
	assert.Equal(t, "20-06.5S 174-54.0W", want.String())
	assert.Equal(t, "0-00.0N 180-00.0E", Position{Lon: 179.99999}.String(), "minutes never show as 60")
}

func TestAPositionPrintedIsReadAsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Position{rapid.Float64Range(-90, 90).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon")}
		got, err := ParsePosition(p.String())
		require.NoError(t, err)
		assert.InDelta(t, p.Lat, got.Lat, 0.05/60+1e-9)
		assert.InDelta(t, p.Lon, got.Lon, 0.05/60+1e-9)
	})
}

func FuzzPositionNeverPanics(f *testing.F) {
	f.Add("20°06.45'S 174°54'W")
	f.Fuzz(func(t *testing.T, text string) {
		if p, err := ParsePosition(text); err == nil {
			assert.LessOrEqual(t, p.Lat, 90.0)
			assert.LessOrEqual(t, p.Lon, 180.0)
		}
	})
}
