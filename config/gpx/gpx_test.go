package gpx

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const head = `<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">`

func point(attrs, inner string) string { return "<rtept " + attrs + ">" + inner + "</rtept>" }

func route(points ...string) string {
	return head + "<rte><name>r</name>" + strings.Join(points, "") + "</rte></gpx>"
}

const here, there = `lat="1.5" lon="-2.25"`, `lat="-90" lon="180"`

// Elements and attributes after GPX 1.1 Schema (gpx.xsd): gpxType, rteType, trkType, wptType.
func TestRoutesAndTracksAreReadInOrder(t *testing.T) {
	file, err := Read(strings.NewReader("\ufeff" + `<?xml version="1.0" encoding="UTF-8"?>` + head +
		`<metadata><name>not a route</name></metadata><wpt lat="1" lon="1"><name>alone</name></wpt>` +
		"<rte><name>one</name><number>1</number>" + point(here, "<ele>0</ele><name>A &amp; B</name>") + point(there, "") + "</rte>" +
		"<rte>" + point(here, "") + "</rte>" +
		`<trk><name>t</name><trkseg><trkpt lat="1" lon="2"/><trkpt lat="3" lon="4"/></trkseg><trkseg><trkpt lat="5" lon="6"/></trkseg></trk></gpx>`))
	require.NoError(t, err)
	assert.Equal(t, File{
		Version: "1.1", Waypoints: 1,
		Routes: []Line{{"one", []Point{{"A & B", 1.5, -2.25}, {"", -90, 180}}}, {"", []Point{{"", 1.5, -2.25}}}},
		Tracks: []Line{{"t", []Point{{"", 1, 2}, {"", 3, 4}}}, {"t", []Point{{"", 5, 6}}}},
	}, file)
}

// A namespace of its own is what the schema gives to extensions.
func TestForeignElementsArePassedOver(t *testing.T) {
	file, err := Read(strings.NewReader(`<g:gpx version="1.1" xmlns:g="http://www.topografix.com/GPX/1/1" xmlns:x="urn:x">` +
		`<x:rte><x:rtept lat="99" lon="x"/></x:rte><g:rte><x:name>no</x:name><g:rtept lat="1" lon="2" x:lat="99"><g:extensions><g:name>no</g:name></g:extensions>` +
		`<g:name>ye<x:b>no</x:b>s</g:name></g:rtept></g:rte></g:gpx>`))
	require.NoError(t, err)
	assert.Equal(t, []Line{{"", []Point{{"yes", 1, 2}}}}, file.Routes)
}

func TestTheOlderVersionIsRead(t *testing.T) {
	for text, version := range map[string]string{
		`<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0"><rte><rtept lat="1" lon="2"/></rte></gpx>`: "1.0",
		`<gpx version="1.0"><rte><rtept lat="1" lon="2"/></rte></gpx>`:                                           "1.0",
		`<gpx version="1.1"><rte><rtept lat="1" lon="2"/></rte></gpx>`:                                           "1.1",
	} {
		file, err := Read(strings.NewReader(text))
		require.NoError(t, err, text)
		assert.Equal(t, version, file.Version)
		assert.Len(t, file.Routes, 1, text)
	}
}

func TestWhatIsWrongIsRefusedWithItsLine(t *testing.T) {
	billion := `<!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]>`
	rows := []struct{ text, problem string }{
		{"", "holds no <gpx>"},
		{"lat,lon\n1,2\n", "holds no <gpx>"},
		{"<kml/>", "begins with <kml>, not with <gpx>"},
		{head + "</gpx><gpx/>", "goes on after the end of its <gpx>"},
		{`<gpx version="2.0"/>`, `is GPX of version "2.0"`},
		{`<gpx version="1.1" xmlns="urn:other"/>`, `namespace "urn:other"`},
		{billion + route(point(here, "<name>&b;</name>")), "<!DOCTYPE"},
		{route(point(here, "<name>&b;</name>")), "is no XML that can be read: invalid character entity &b;"},
		{route(point(`lat="NaN" lon="1"`, "")), `lat="NaN" is no place`},
		{route(point(`lat="1" lon="-INF"`, "")), `lon="-INF" is no place`},
		{route(point(`lat="1e1" lon="1"`, "")), `lat="1e1" is no place`},
		{route(point(`lat="0x10" lon="1"`, "")), `lat="0x10" is no place`},
		{route(point(`lat="1,5" lon="1"`, "")), `lat="1,5" is no place`},
		{route(point(`lat="90.00001" lon="1"`, "")), `lat="90.00001" is no place`},
		{route(point(`lat="1" lon="180.1"`, "")), `lon="180.1" is no place`},
		{route(point(`lat="" lon="1"`, "")), `lat="" is no place`},
		{route(point(`lat="1"`, "")), "has a point without lat or lon"},
		{route(point(here, "<name>a\x01b</name>")), "is no XML that can be read"},
		{head + "<rte>", "is no XML that can be read"},
		{head + strings.Repeat("<a>", 40), "is nested deeper than 32"},
		{`<?xml version="1.0" encoding="ISO-8859-1"?>` + head + "</gpx>", `is written in "ISO-8859-1"`},
		{strings.Repeat(" ", MostBytes+1), "is larger than 16 MB"},
		{route(strings.Repeat("<rtept "+here+"/>", MostPoints+1)), "holds more than 200000 points"},
	}
	for _, row := range rows {
		_, err := Read(strings.NewReader(row.text))
		var wrong *Error
		if assert.ErrorAs(t, err, &wrong, "%.80q", row.text) {
			assert.Contains(t, wrong.Problem, row.problem)
			assert.NotEmpty(t, wrong.Cure, row.problem)
		}
	}
	_, err := Read(strings.NewReader(head + "\n<rte>\n" + point(`lat="91" lon="0"`, "") + "</rte></gpx>"))
	assert.ErrorContains(t, err, "line 3: ")
	assert.Len(t, rows, 23)
}

func FuzzRead(f *testing.F) {
	f.Add(route(point(here, "<name>A</name>"), point(there, "")))
	f.Add(head + `<trk><trkseg><trkpt lat="1" lon="2"/></trkseg></trk></gpx>`)
	f.Add("<!DOCTYPE a>")
	f.Add(`<gpx version="1.0"><rte><rte><rtept lat="1" lon="1"/></rte><rtept lat="1" lon="1"></rtept></rte></gpx>`)
	f.Fuzz(func(t *testing.T, text string) {
		file, err := Read(strings.NewReader(text))
		if err != nil {
			var wrong *Error
			require.ErrorAs(t, err, &wrong)
			return
		}
		require.NotEmpty(t, file.Version)
		for _, l := range append(file.Routes, file.Tracks...) {
			for _, p := range l.Points {
				require.True(t, math.Abs(p.Lat) <= 90 && math.Abs(p.Lon) <= 180)
			}
			thin, _ := l.Thinned(0.1)
			require.LessOrEqual(t, len(thin.Points), len(l.Points))
		}
	})
}

func TestAStraightTrackIsItsEnds(t *testing.T) {
	line := Line{Name: "n"}
	for i := range 1000 {
		line.Points = append(line.Points, Point{Lon: 179.5 + float64(i)/1000})
	}
	for i := range line.Points {
		line.Points[i].Lon = math.Remainder(line.Points[i].Lon, 360) // over the date line
	}
	line.Points[500].Lat = 0.5 / 60
	thin, ok := line.Thinned(0.1)
	require.True(t, ok)
	require.Len(t, thin.Points, 5, "the ends, the place half a mile off, and its neighbours: %v", thin.Points)
	assert.Equal(t, line.Points[500], thin.Points[2])
	assert.Equal(t, "n", thin.Name)
}

func TestNoPointIsFartherOffThanAsked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		steps := rapid.SliceOfN(rapid.Float64Range(-0.02, 0.02), 2, 120).Draw(t, "steps")
		var line Line
		at := Point{Lat: rapid.Float64Range(-60, 60).Draw(t, "lat")}
		for i, s := range steps {
			at.Lat += s
			at.Lon += 0.004 * float64(1+i%3)
			line.Points = append(line.Points, at)
		}
		const within = 0.1
		thin, ok := line.Thinned(within)
		require.True(t, ok)
		require.Equal(t, line.Points[0], thin.Points[0])
		require.Equal(t, line.Points[len(line.Points)-1], thin.Points[len(thin.Points)-1])
		for _, p := range line.Points {
			off := math.Inf(1)
			for i := 1; i < len(thin.Points); i++ {
				off = min(off, offWay(between(thin.Points[i-1], p), between(thin.Points[i-1], thin.Points[i])))
			}
			if off > within*1.26 { // a quarter more for what was left out as too near
				t.Fatal(fmt.Sprintf("%v is %.3f nm off", p, off))
			}
		}
	})
}
