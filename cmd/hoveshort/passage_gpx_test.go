package main

import (
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"
	"boat/hoveshort/config/gpx"
	"boat/hoveshort/provisions/passage"
)

// pasted is the plan of the demo boat with these legs in the place of its own, each with a
// speed under sail written in.
func pasted(t require.TestingT, boat, legs string) passage.Plan {
	demo, err := os.ReadFile(filepath.Join(boat, "passage.toml"))
	require.NoError(t, err)
	before, _, found := strings.Cut(string(demo), "[[leg]]")
	require.True(t, found)
	text := before + strings.ReplaceAll(legs, "# sail = ", "sail = ")
	require.NoError(t, os.WriteFile(filepath.Join(boat, "passage.toml"), []byte(text), 0o600))
	folder, err := config.Load(os.DirFS(boat))
	require.NoError(t, err, "%s", legs)
	require.NoError(t, os.WriteFile(filepath.Join(boat, "passage.toml"), demo, 0o600))
	return folder.Definitions.Plan
}

func TestTheLegsOfAPlotterLoadAgain(t *testing.T) {
	w := world{boat: demo(t), edit: func(e *env) { e.dir = "testdata/examples" }}
	r := w.call("passage", "--gpx", "route.gpx", "--stop", "Reef Bay")
	require.Equal(t, exitDone, r.code, r.stderr)
	plan := pasted(t, w.boat, r.stdout)
	require.Len(t, plan.Legs, 2)
	assert.Equal(t, "Anchorage", plan.Legs[0].From)
	assert.Equal(t, "Reef Bay", plan.Legs[0].To)
	assert.Equal(t, "Reef Bay", plan.Legs[1].From)
	assert.Equal(t, `Harbour "East"`, plan.Legs[1].To)
	assert.Equal(t, []passage.Position{{Lat: -18.65123, Lon: -173.9801}, {Lat: -18.75, Lon: -174.05}, {Lat: -19.8, Lon: -174.35}}, plan.Legs[0].Route)
	assert.InDelta(t, 72.4, float64(plan.Legs[0].Distance), 0.05)
	assert.Empty(t, plan.Legs[0].Fill, "what can be had there is the skipper's to say")
}

func TestALegWithoutItsSpeedIsNotTaken(t *testing.T) {
	w := world{boat: demo(t), edit: func(e *env) { e.dir = "testdata/examples" }}
	r := w.call("passage", "--gpx", "route.gpx")
	demo, err := os.ReadFile(filepath.Join(w.boat, "passage.toml"))
	require.NoError(t, err)
	before, _, _ := strings.Cut(string(demo), "[[leg]]")
	require.NoError(t, os.WriteFile(filepath.Join(w.boat, "passage.toml"), []byte(before+r.stdout), 0o600))
	_, err = config.Load(os.DirFS(w.boat))
	assert.ErrorContains(t, err, "leg[0].sail: missing")
}

func gpxText(points ...string) string {
	return `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><rte>` + strings.Join(points, "") + `</rte></gpx>`
}

func gpxPoint(lat, lon float64, name string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(name)) // a builder takes all
	return fmt.Sprintf(`<rtept lat="%.7f" lon="%.7f"><name>%s</name></rtept>`, lat, lon, b.String())
}

// hostileNames are what a plotter, or somebody who means ill, may call a place.
var hostileNames = []string{
	`"`, `\`, `\"`, `x"""`, "a\nsail = 1", "# no", "'", "]]", "\u0085", "\u202eevil", "\u2028", "\ufeff", "tab\there", `\u0041`, strings.Repeat("x", 300), "Nukuʻalofa", "",
}

func TestNoNameBreaksTheFile(t *testing.T) {
	w := world{boat: demo(t), env: map[string]string{"LANG": "C.UTF-8"}}
	var points []string
	for i, name := range hostileNames {
		points = append(points, gpxPoint(1+float64(i), 2, name))
	}
	args := []string{"passage", "--gpx", "-"}
	for _, name := range hostileNames[1 : len(hostileNames)-1] {
		if oneLineOf(name) != "" {
			args = append(args, "--stop", name)
		}
	}
	w.stdin = gpxText(points...)
	r := w.call(args...)
	require.Equal(t, exitDone, r.code, r.stderr)
	legs := pasted(t, w.boat, r.stdout).Legs
	require.Len(t, legs, 13)
	assert.Equal(t, `"`, legs[0].From)
	assert.Equal(t, `\`, legs[0].To)
	assert.Equal(t, "a sail = 1", legs[3].To)
	assert.Equal(t, `\u0041`, legs[10].From)
	assert.Equal(t, strings.Repeat("x", 79)+"…", legs[11].From)
	assert.Equal(t, "17-00.0N 2-00.0E", legs[12].To)
}

// Whatever stands in the names: what is printed is TOML, and says the same.
func TestLegsAreTOMLWhateverTheNames(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.OneOf(rapid.String(), rapid.SampledFrom(hostileNames))
		degrees := rapid.Float64Range(-90, 90)
		var line gpx.Line
		for range rapid.IntRange(2, 6).Draw(t, "points") {
			line.Points = append(line.Points, gpx.Point{Name: name.Draw(t, "name"), Lat: degrees.Draw(t, "lat"), Lon: 2 * degrees.Draw(t, "lon")})
		}
		line.Name = name.Draw(t, "route")
		lines, _, err := linesOf(gpx.File{Version: "1.1", Routes: []gpx.Line{line}})
		if err != nil {
			return // all in one place
		}
		var back struct {
			Leg []struct {
				From, To string
				Route    [][2]float64
			}
		}
		_, err = toml.Decode(legsText("a file", "1.1", lines), &back)
		require.NoError(t, err)
		require.Len(t, back.Leg, 1)
		require.Equal(t, lines[0].first().shown(), back.Leg[0].From)
		require.Equal(t, lines[0].last().shown(), back.Leg[0].To)
		for i, at := range lines[0].route() {
			require.Equal(t, [2]float64{at.Lat, at.Lon}, back.Leg[0].Route[i])
		}
		require.NotContains(t, back.Leg[0].From+back.Leg[0].To, "\n")
		require.False(t, strings.ContainsFunc(back.Leg[0].From+back.Leg[0].To, checklist.Refused))
	})
}

func TestWhatAPlotterWritesAndCannotBeTaken(t *testing.T) {
	far := gpxPoint(1, 2, "A") + gpxPoint(2, 3, "B") + `</rte><rte><name>two</name>` + gpxPoint(2.5, 3, "C") + gpxPoint(3, 4, "D")
	rows := []struct {
		name, stdin string
		args        []string
		code        int
		says        []string
	}{
		{"waypoints have no order", `<gpx version="1.1"><wpt lat="1" lon="2"/><wpt lat="1" lon="3"/></gpx>`, nil, exitRefused,
			[]string{"the file holds 2 waypoints and no route", "hint: join them to a route in the plotter"}},
		{"nothing in it", `<gpx version="1.1"/>`, nil, exitRefused, []string{"the file holds no route of two places or more"}},
		{"one place twice is no leg", gpxText(gpxPoint(1, 2, "A"), gpxPoint(1.000001, 2, "B")), nil, exitRefused, []string{"fewer than two places", "no route of two places"}[1:]},
		{"routes that do not join", gpxText(far), nil, exitRefused, []string{`route "two" (C to D) does not begin where route "1" (A to B) ends, but 30.0 nm away`, "--route"}},
		{"a route that is not there", gpxText(far), []string{"--route", "three"}, exitRefused, []string{`no route called "three"`, `one of: route "1" (A to B), route "two" (C to D)`}},
		{"a stop that is not there", gpxText(far), []string{"--stop", "A"}, exitRefused, []string{`no point between the ends of a route is called "A"`, "no point between them has a name"}},
		{"no XML", "garbage", nil, exitRefused, []string{"the standard input holds no <gpx>"}},
		{"a place that is none", gpxText(gpxPoint(91, 2, "A")), nil, exitRefused, []string{`the standard input (line 1) lat="91.0000000" is no place`, "from -90 to 90"}},
		{"of one planned already", gpxText(far), []string{"--chart", "water"}, exitUsage, []string{"--gpx prints legs"}},
	}
	for _, row := range rows {
		r := world{stdin: row.stdin}.call(append([]string{"passage", "--gpx", "-"}, row.args...)...)
		assert.Equal(t, row.code, r.code, "%s: %s", row.name, r.stderr)
		assert.Empty(t, r.stdout, row.name)
		for _, says := range row.says {
			assert.Contains(t, r.stderr, says, row.name)
		}
	}
	assert.Equal(t, exitUsage, world{}.call("passage", "--stop", "X").code)
	assert.Equal(t, exitUnreadable, world{}.call("passage", "--gpx", "not-there.gpx").code)
	assert.Equal(t, exitDone, world{stdin: gpxText(far)}.call("passage", "--gpx", "-", "--route", "two").code)
}

// Two points for one anchorage are one place; the older version is told.
func TestRoutesThatMeetAreLegsOfOnePassage(t *testing.T) {
	text := strings.Replace(gpxText(gpxPoint(1, 179.9, "A")+gpxPoint(2, -179.9, "B")+"</rte><rte>"+gpxPoint(2.01, -179.9, "B anchorage")+gpxPoint(3, -179, "C")),
		`version="1.1" xmlns="http://www.topografix.com/GPX/1/1"`, `version="1.0"`, 1)
	w := world{boat: demo(t), stdin: text}
	r := w.call("passage", "--gpx", "-")
	require.Equal(t, exitDone, r.code, r.stderr)
	assert.Contains(t, r.stderr, `"B" and "B anchorage" are one place: leg 2 begins where leg 1 ends`)
	assert.Contains(t, r.stderr, "the file is GPX 1.0")
	plan := pasted(t, w.boat, r.stdout)
	assert.Equal(t, "B", plan.Legs[1].From)
	assert.InDelta(t, 61.2, float64(plan.Legs[0].Distance), 0.1, "the short way over the date line")
}

func TestATrackIsTakenWhereThereIsNoRoute(t *testing.T) {
	var b strings.Builder
	for i := range 2000 {
		fmt.Fprintf(&b, `<trkpt lat="%.6f" lon="10"/>`, 50+float64(i)/1000)
	}
	w := world{boat: demo(t), stdin: `<gpx version="1.1"><trk><trkseg>` + b.String() + `</trkseg></trk></gpx>`}
	r := w.call("passage", "--gpx", "-")
	require.Equal(t, exitDone, r.code, r.stderr)
	assert.Contains(t, r.stderr, "there is no route in it; track 1 was taken, and of its 2000 points 2 kept")
	leg := pasted(t, w.boat, r.stdout).Legs[0]
	assert.Equal(t, "50-00.0N 10-00.0E", leg.From, "a point without a name is called by its place")
	assert.InDelta(t, 119.94, float64(leg.Distance), 0.01)
}
