package passage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
)

func at(latDeg, latMin, lonDeg, lonMin float64) passage.Position {
	return passage.Position{Lat: latDeg + latMin/60, Lon: lonDeg + lonMin/60}
}

func TestGreatCircle(t *testing.T) {
	rows := []struct {
		a, b        passage.Position
		want, delta float64
		source      string
	}{
		{at(12, 45.2, 124, 20.1), at(33, 48.8, -120, -7.1), 6185.9, 0.1,
			"NGA Pub. 9, The Sailings, Manila to Los Angeles (from memory; recomputed 6185.88)"},
		{at(4, 9.6, -111, -34), at(19, 30, -154, -45), 2687.1, 0.5,
			"navigators' mailing list, 2001: 2687.4 (recomputed on the sphere 2687.1)"},
		{at(32, 14.7, -66, -28.9), at(36, 58.7, -75, -42.2), 536.28, 0.05,
			"NGA Pub. 9, 2024, art. 910, the two places of example 1; great circle by arithmetic"},
		{at(-18, 0, 179, 30), at(-18, 0, -179, -30), 57.06, 0.01, "arithmetic: 60*cos 18, across the date line"},
		{at(-18, 0, 179, 30), at(-18, 0, 180, 30), 57.06, 0.01, "the same, counted on past 180"},
		{at(0, 0, 10, 0), at(1, 0, 10, 0), 60, 1e-9, "a degree of a meridian"},
		{at(90, 0, 10, 0), at(-90, 0, -70, 0), 10800, 1e-6, "pole to pole"},
		{at(0, 0, 0, 0), at(0, 0, 180, 0), 10800, 1e-6, "antipodes"},
		{at(40, 1, 3, 2), at(40, 1, 3, 2), 0, 0, "the same place"},
	}
	for _, r := range rows {
		assert.InDelta(t, r.want, float64(passage.GreatCircle(r.a, r.b)), r.delta, r.source)
	}
}

func TestRouteLengthIsTheSumOfItsParts(t *testing.T) {
	assert.Zero(t, passage.RouteLength(nil))
	assert.Zero(t, passage.RouteLength([]passage.Position{at(1, 0, 1, 0)}))
	// Arithmetic: two degrees of a meridian, one of the equator.
	route := []passage.Position{at(2, 0, 0, 0), at(1, 0, 0, 0), at(0, 0, 0, 0), at(0, 0, 1, 0)}
	assert.InDelta(t, 180, float64(passage.RouteLength(route)), 1e-9)
}

func aPosition(name string) *rapid.Generator[passage.Position] {
	return rapid.Custom(func(t *rapid.T) passage.Position {
		return passage.Position{
			Lat: rapid.Float64Range(-90, 90).Draw(t, name+" lat"),
			Lon: rapid.Float64Range(-180, 180).Draw(t, name+" lon"),
		}
	})
}

func TestGreatCircleIsADistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := aPosition("a").Draw(t, "a"), aPosition("b").Draw(t, "b"), aPosition("c").Draw(t, "c")
		ab := float64(passage.GreatCircle(a, b))
		require.InDelta(t, ab, float64(passage.GreatCircle(b, a)), 1e-9, "symmetric")
		require.GreaterOrEqual(t, ab, 0.0)
		require.LessOrEqual(t, ab, 10800.0+1e-9, "half a turn is the most")
		around := float64(passage.RouteLength([]passage.Position{a, c, b}))
		require.LessOrEqual(t, ab, around+1e-3, "no way round is shorter")

		turned := b
		turned.Lon += 360
		require.InDelta(t, ab, float64(passage.GreatCircle(a, turned)), 1e-3, "a turn changes nothing")
	})
}

func TestKnownPositions(t *testing.T) {
	for _, p := range []passage.Position{{}, {Lat: 90, Lon: 180}, {Lat: -90, Lon: -360}} {
		assert.True(t, p.Known(), p)
	}
	for _, p := range []passage.Position{{Lat: 90.1}, {Lon: -361}, {Lat: nan}, {Lon: nan}, {Lon: inf}} {
		assert.False(t, p.Known(), p)
	}
}
