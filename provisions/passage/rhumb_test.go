package passage_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
)

const metresPerMile = 1852 // exact, NIST SP 811 B.8

func TestRhumb(t *testing.T) {
	lax, jfk := at(33, 57, -118, -24), at(40, 38, -73, -47)
	rows := []struct {
		a, b             passage.Position
		miles, within    float64
		course, courseTo float64
		source           string
	}{
		{at(32, 14.7, -66, -28.9), at(36, 58.7, -75, -42.2), 538.7, 2.5, 301.8, 0.2,
			"NGA Pub. 9, 2024, art. 910, Mercator sailing, example 1"},
		{at(32, 14.7, -66, -28.9), at(36, 58.7, -75, -42.2), 536.5, 0.05, 301.96, 0.005, "the same on the sphere; arithmetic"},
		{at(75, 31.7, -79, -8.7), at(71, 32.9, -72, -34.1), 263.5, 0.6, 155, 0.2,
			"NGA Pub. 9, 2024, art. 910, Mercator sailing, example 2, the other way about"},
		{at(4, 9.6, -111, -34), at(19, 30, -154, -45), 2690.1, 0.05, 290, 0.05,
			"navigators' mailing list, 2001: 290.0, 2690.1 (recomputed 290.01, 2690.07)"},
		{lax, jfk, 2164.6, 0.05, 79.32, 0.005, "E. Williams, Aviation Formulary, rhumb lines: Los Angeles to New York, 2164.6 nm, 79.32"},
		{passage.Position{Lat: 51.127, Lon: 1.338}, passage.Position{Lat: 50.964, Lon: 1.853}, 40.3078e3 / 6371e3 * 10800 / math.Pi, 0.001, 116.722, 0.001,
			"tests of two public geodesy libraries, on a sphere of 6371 km: 40307.8 m, 116.722"},
		{at(40, 38+23.0/60, -73, -(46 + 44.0/60)), at(1, 21+33.0/60, 103, 59+22.0/60), 18523563.0 / metresPerMile, 40, 103.5828, 0.15,
			"GeographicLib, RhumbSolve, New York to Singapore, on the ellipsoid: 18523563 m, 103.5828"},
		{passage.Position{Lat: 33.3, Lon: 44.4}, passage.Position{Lat: 12.34, Lon: 56.78}, 2641839.724 / metresPerMile, 7, 151.4832, 0.15,
			"GeographicLib, tests of rhumb lines, on the ellipsoid: 2641839.724 m, 151.4832"},
		{at(-18, 0, 179, 30), at(-18, 0, -179, -30), 57.06, 0.01, 90, 1e-9, "arithmetic: 60*cos 18, across the date line"},
		{at(-18, 0, -179, -30), at(-18, 0, 179, 30), 57.06, 0.01, 270, 1e-9, "and back"},
		{at(1, 0, -179, 0), at(1, 0, 179, 0), 120 * math.Cos(math.Pi/180), 1e-9, 270, 1e-9, "a public geodesy library's test: 270 across the date line"},
		{at(80, 0, 10, 0), at(80, 0, 70, 0), 3600 * math.Cos(80*math.Pi/180), 1e-9, 90, 1e-9, "parallel sailing: DLo*cos L, high up"},
		{at(80, 0, 10, 0), at(80, 0.0000001, 70, 0), 3600 * math.Cos(80*math.Pi/180), 1e-5, 90, 1e-6, "and all but along a parallel"},
		{at(0, 0, 10, 0), at(0, 0, -170, 0), 10800, 1e-9, 270, 1e-9, "half round the equator, as it is written"},
		{at(50, 0, 10, 0), at(60, 0, 10, 0), 600, 1e-9, 0, 1e-9, "due north"},
		{at(50, 0, 10, 0), at(40, 0, 10, 0), 600, 1e-9, 180, 1e-9, "due south"},
		{at(90, 0, 10, 0), at(60, 0, 70, 0), 1800, 1e-9, 180, 1e-9, "from the pole by a meridian"},
		{at(60, 0, 70, 0), at(90, 0, 10, 0), 1800, 1e-9, 0, 1e-9, "to the pole"},
		{at(-60, 0, 70, 0), at(-90, 0, 10, 0), 1800, 1e-9, 180, 1e-9, "to the other"},
		{at(90, 0, 10, 0), at(-90, 0, -70, 0), 10800, 1e-9, 180, 1e-9, "pole to pole"},
		{at(90, 0, 10, 0), at(90, 0, 70, 0), 0, 0, 0, 0, "a pole has no longitude"},
		{at(40, 1, 3, 2), at(40, 1, 3, 2), 0, 0, 0, 0, "the same place"},
		{at(40, 1, 3, 2), at(40, 1, 363, 2), 0, 0, 0, 0, "the same place a turn on"},
	}
	for _, r := range rows {
		way, course := passage.Rhumb(r.a, r.b)
		assert.InDelta(t, r.miles, float64(way), r.within, r.source)
		assert.InDelta(t, 0, math.Remainder(r.course-float64(course), 360), r.courseTo, "%s: %v", r.source, course)
	}
}

func TestRhumbToNowhereIsNoNumber(t *testing.T) {
	for _, nowhere := range []passage.Position{{Lat: nan}, {Lon: nan}, {Lat: 10, Lon: inf}} {
		way, course := passage.Rhumb(passage.Position{Lat: 40, Lon: 3}, nowhere)
		assert.True(t, math.IsNaN(float64(way)), nowhere)
		assert.True(t, math.IsNaN(float64(course)), nowhere)
	}
}

func TestBowditchsSecondExampleArrives(t *testing.T) {
	// NGA Pub. 9, 2024, art. 910, example 2: from 75 31.7 N 79 08.7 W on 155 for 263.5 nm she comes to
	// 71 32.9 N (within 0.1') 72 34.1 W (within 0.5'; on the sphere 72 33.8 W). The place for which that
	// course and distance come out is looked for by trial.
	from, to := at(75, 31.7, -79, -8.7), at(72, 0, -73, 0)
	for range 50 {
		way, course := passage.Rhumb(from, to)
		to.Lat += (263.5*math.Cos(155*math.Pi/180) - float64(way)*math.Cos(float64(course)*math.Pi/180)) / 60
		to.Lon += (263.5*math.Sin(155*math.Pi/180) - float64(way)*math.Sin(float64(course)*math.Pi/180)) / 60 / math.Cos(to.Lat*math.Pi/180)
	}
	assert.InDelta(t, 71+32.9/60, to.Lat, 0.1/60)
	assert.InDelta(t, -(72 + 34.1/60), to.Lon, 0.5/60)
	assert.InDelta(t, -(72 + 33.8/60), to.Lon, 0.1/60, "on the sphere")
}

func TestInitialCourse(t *testing.T) {
	rows := []struct {
		a, b         passage.Position
		want, within float64
		source       string
	}{
		{at(12, 45.2, 124, 20.1), at(33, 48.8, -120, -7.1), 50.3, 0.1, "NGA Pub. 9, The Sailings, Manila to Los Angeles (from memory; recomputed 050.32)"},
		{at(32, 14.7, -66, -28.9), at(36, 58.7, -75, -42.2), 304.5, 0.05, "NGA Pub. 9, 2024, art. 910, the two places of example 1; great circle by arithmetic"},
		{at(33, 57, -118, -24), at(40, 38, -73, -47), 65.9, 0.05, "E. Williams, Aviation Formulary, worked examples: Los Angeles to New York, 66 (1.150035 rad, 65.9)"},
		{passage.Position{Lat: 52.205, Lon: 0.119}, passage.Position{Lat: 48.857, Lon: 2.351}, 156.2, 0.05, "a public geodesy library's test"},
		{at(-18, 0, 179, 30), at(-18, 0, -179, -30), 90.155, 0.001, "across the date line; arithmetic: 90 + half of DLo*sin L"},
		{at(0, 0, 10, 0), at(0, 0, 30, 0), 90, 1e-9, "along the equator"},
		{at(0, 0, 10, 0), at(0, 0, -30, 0), 270, 1e-9, "and back"},
		{at(10, 0, 10, 0), at(60, 0, 10, 0), 0, 1e-9, "a meridian"},
		{at(60, 0, 10, 0), at(50, 0, -170, 0), 0, 1e-9, "over the pole"},
		{at(90, 0, 10, 0), at(50, 0, 10, 0), 180, 1e-9, "from the pole, down the meridian it names"},
		{at(50, 0, 10, 0), at(90, 0, 99, 0), 0, 1e-9, "to the pole"},
		{at(50, 0, 10, 0), at(-90, 0, 99, 0), 180, 1e-9, "to the other"},
	}
	for _, r := range rows {
		got, ok := passage.InitialCourse(r.a, r.b)
		require.True(t, ok, r.source)
		assert.InDelta(t, 0, math.Remainder(r.want-float64(got), 360), r.within, "%s: %v", r.source, float64(got))
	}
}

func TestThereIsNoCourseWhereEveryCourseServes(t *testing.T) {
	for _, r := range [][2]passage.Position{
		{at(40, 1, 3, 2), at(40, 1, 3, 2)},
		{at(40, 1, 3, 2), at(40, 1, 363-360, 2)},
		{at(40, 0, 3, 0), at(-40, 0, -177, 0)},
		{at(0, 0, 0, 0), at(0, 0, 180, 0)},
		{at(90, 0, 0, 0), at(-90, 0, 40, 0)},
		{{Lat: nan}, {}},
		{{}, {Lon: inf}},
		{{Lat: 91}, {}},
	} {
		got, ok := passage.InitialCourse(r[0], r[1])
		assert.False(t, ok, r)
		assert.Zero(t, got, r)
	}
}

func TestCourseIsReadInThreeFigures(t *testing.T) {
	for c, want := range map[passage.Course]string{0: "000", 6.6: "007", 90: "090", 301.96: "302", 359.4: "359", 359.5: "000", 359.99: "000"} {
		assert.Equal(t, want, c.String())
	}
}

// geodesic is the shortest way between two places on the ellipsoid.
type geodesic struct {
	a, b          passage.Position
	course, miles float64
}

func geodesics(t *testing.T) []geodesic {
	t.Helper()
	file, err := os.Open("testdata/geodesics.csv")
	require.NoError(t, err)
	defer func() { assert.NoError(t, file.Close()) }()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	require.NoError(t, err)

	var list []geodesic
	for _, row := range rows[1:] {
		var v [6]float64
		for i := range v {
			v[i], err = strconv.ParseFloat(row[i+1], 64)
			require.NoError(t, err)
		}
		list = append(list, geodesic{
			a: passage.Position{Lat: v[0], Lon: v[1]}, b: passage.Position{Lat: v[3], Lon: v[4]},
			course: v[2], miles: v[5] / metresPerMile,
		})
	}
	return list
}

func TestWhatTheSphereCostsAgainstTheEllipsoid(t *testing.T) {
	// Source: GeographicLib's published geodesics, see testdata/geodesics.csv. The course is compared
	// up to 9000 nm: towards the antipodes the two surfaces part.
	list := geodesics(t)
	require.Len(t, list, 43, "a whole table")
	tooLong, tooShort, off := 0.0, 0.0, 0.0
	for _, r := range list {
		share := float64(passage.GreatCircle(r.a, r.b))/r.miles - 1
		tooLong, tooShort = max(tooLong, share), max(tooShort, -share)

		c, ok := passage.InitialCourse(r.a, r.b)
		require.True(t, ok, r)
		if r.miles < 9000 {
			off = max(off, math.Abs(math.Remainder(float64(c)-r.course, 360)))
		}
	}
	assert.InDelta(t, 0.0048, tooLong, 0.00005)
	assert.InDelta(t, 0.0046, tooShort, 0.00005)
	assert.InDelta(t, 0.20, off, 0.005, "degrees")
}

func TestTheSphereIsOutByNoMoreThanTheEllipsoidCurves(t *testing.T) {
	// Source: WGS84 (NIMA TR8350.2, from memory): a = 6378137 m, f = 1/298.257223563. A minute of the meridian is
	// shortest at the equator, where the radius of curvature is b*b/a, and longest at the pole, a*a/b.
	const a, f = 6378137.0, 1 / 298.257223563
	const b = a * (1 - f)
	minute := math.Pi / 180 / 60
	assert.InDelta(t, 0.0049, metresPerMile/(b*b/a*minute)-1, 0.00005)
	assert.InDelta(t, -0.0018, metresPerMile/(a*minute)-1, 0.00005, "along the equator")
	assert.InDelta(t, -0.0051, metresPerMile/(a*a/b*minute)-1, 0.00005)
}

func TestRhumbIsAWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := aPosition("a").Draw(t, "a"), aPosition("b").Draw(t, "b")
		way, course := passage.Rhumb(a, b)
		back, reverse := passage.Rhumb(b, a)
		require.GreaterOrEqual(t, float64(way), float64(passage.GreatCircle(a, b))-1e-3, "no way is shorter than the great circle")
		require.InDelta(t, float64(way), float64(back), 1e-6, "as far back")
		require.True(t, 0 <= course && course < 360, course)
		if way > 1e-3 {
			require.InDelta(t, 180, math.Abs(math.Remainder(float64(reverse-course), 360)), 1e-3, "the reverse course")
			require.InDelta(t, (b.Lat-a.Lat)*60, float64(way)*math.Cos(float64(course)*math.Pi/180), 1e-6, "D cos C is the difference of latitude")
		}
	})
}

func TestToAndFromAPoleItIsAMeridian(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pole := passage.Position{Lat: rapid.SampledFrom([]float64{90, -90}).Draw(t, "pole"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		p := aPosition("p").Draw(t, "p")
		away, course := passage.Rhumb(pole, p)
		require.InDelta(t, math.Abs(pole.Lat-p.Lat)*60, float64(away), 1e-9)
		require.InDelta(t, 0, math.Sin(float64(course)*math.Pi/180), 1e-12, "north or south")
		to, _ := passage.Rhumb(p, pole)
		require.InDelta(t, float64(away), float64(to), 1e-9)
	})
}

func TestAHairsBreadthFromThePoleItIsStillAWay(t *testing.T) {
	// A centimetre from both poles a float cannot tell them from the poles: within 20 cm.
	for _, lat := range []float64{math.Nextafter(90, 0), 90 - 1e-13, 90 - 1e-10, 90 - 1e-7} {
		for _, other := range []float64{-lat, -80, 0, 80, math.Nextafter(lat, 0), lat} {
			a, b := passage.Position{Lat: lat, Lon: 10}, passage.Position{Lat: other, Lon: 100}
			for _, pair := range [][2]passage.Position{{a, b}, {b, a}} {
				way, course := passage.Rhumb(pair[0], pair[1])
				assert.GreaterOrEqual(t, float64(way), float64(passage.GreatCircle(a, b))-1e-4, pair)
				assert.Less(t, float64(way), (lat-other)*60+120, pair)
				assert.True(t, 0 <= course && course < 360, pair)
			}
		}
	}
}

func TestCloseByTheTwoWaysAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := passage.Position{Lat: rapid.Float64Range(-85, 85).Draw(t, "lat"), Lon: rapid.Float64Range(-180, 180).Draw(t, "lon")}
		b := passage.Position{
			Lat: a.Lat + rapid.Float64Range(-0.01, 0.01).Draw(t, "north"),
			Lon: a.Lon + rapid.Float64Range(-0.01, 0.01).Draw(t, "east"),
		}
		way, course := passage.Rhumb(a, b)
		require.InEpsilon(t, 1+float64(passage.GreatCircle(a, b)), 1+float64(way), 1e-6)
		if initial, ok := passage.InitialCourse(a, b); ok && way > 1e-3 {
			require.InDelta(t, 0, math.Remainder(float64(initial-course), 360), 0.1)
		}
	})
}
