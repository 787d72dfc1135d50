package checklist

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestANoonIsReadFromOneLine(t *testing.T) {
	d := fitBoat()
	d.Boat.Tanks[0].Name = "port water"
	told, err := d.ParseNoon("340 nm port water=62 % diesel=118 L hours=1490.5 wind=18 kn NE pressure=1013 hPa sleep=5 h run=112 nm note=a quiet night, all = well")
	require.NoError(t, err)
	assert.Equal(t, NoonTold{
		ToGo: "340 nm", Run: "112 nm", Hours: "1490.5", Wind: "18 kn NE", Pressure: "1013 hPa", Sleep: "5 h", Note: "a quiet night, all = well",
		Levels: []TankLevel{{"port water", "62 %"}, {"diesel", "118 L"}},
	}, told)
	told, err = d.ParseNoon("20 06.5 S, 174 54 W sleep=4")
	require.NoError(t, err)
	assert.Equal(t, NoonTold{Position: "20 06.5 S, 174 54 W", Sleep: "4"}, told)
	told, err = d.ParseNoon("")
	require.NoError(t, err)
	assert.Equal(t, NoonTold{}, told)
	for text, says := range map[string]string{
		"winnd=18 kn": `did you mean "wind"?`, "340 nm portwater=62 %": `did you mean "port water"`,
		"340 nm sleep=": "sleep is told without a value", "sleep=4 sleep=5": "told twice",
	} {
		_, err := d.ParseNoon(text)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), says)
	}
	in, err := d.ParseArrival("Port Elsewhere port water=40 % miles=412 nm hours=1500")
	require.NoError(t, err)
	assert.Equal(t, ArrivalTold{Place: "Port Elsewhere", Miles: "412 nm", Hours: "1500", Levels: []TankLevel{{"port water", "40 %"}}}, in)
}

func TestNoLineOfANoonPanics(t *testing.T) {
	d := fitBoat()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-z =°é0-9%]{0,40}`).Draw(t, "text")
		_, _ = d.ParseNoon(text + " water=" + text)
		_, _ = d.ParseArrival(text)
	})
}
