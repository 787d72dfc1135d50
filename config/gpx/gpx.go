// Package gpx reads the routes and tracks of a GPX file, the exchange format of
// chart plotters and planning programs.
//
// Source: GPX 1.1 Schema, http://www.topografix.com/GPX/1/1/gpx.xsd; of GPX 1.0, whose
// routes, tracks and points are written alike, the same is read. What stands in a
// namespace of its own, and everything under <extensions>, is passed over.
//
//	file, err := gpx.Read(reader)
//	for _, route := range file.Routes { … }
package gpx

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
)

// What a file may be. Ours: far above what a plotter writes, and soon read on a small computer.
const (
	MostBytes  = 16 << 20
	MostPoints = 200_000
	MostDepth  = 32
	mostName   = 1000 // bytes of a name; what follows is left out
)

// File is what a GPX file holds that a passage can be made of.
type File struct {
	Version   string // "1.1" or "1.0"
	Routes    []Line
	Tracks    []Line // a segment each
	Waypoints int    // that stand alone: they have no order
}

// Line is a route, or a segment of a track: its points in order.
type Line struct {
	Name   string // as it stands there; "": none
	Points []Point
}

// Point is a place, in degrees, north and east positive.
type Point struct {
	Name     string // as it stands there; "": none
	Lat, Lon float64
}

// Error is why a file is not taken, and what would help.
type Error struct {
	Line          int // counted from 1; 0: of no single line
	Problem, Cure string
}

func (e *Error) Error() string {
	if e.Line > 0 {
		return fmt.Sprintf("line %d: %s", e.Line, e.Problem)
	}
	return e.Problem
}

// The namespaces of the two versions.
const (
	namespace11 = "http://www.topografix.com/GPX/1/1"
	namespace10 = "http://www.topografix.com/GPX/1/0"
)

// Read reads a GPX file to its end. The error is an *Error, or of r.
func Read(r io.Reader) (File, error) {
	text, err := io.ReadAll(io.LimitReader(r, MostBytes+1))
	if err != nil {
		return File{}, err
	}
	if len(text) > MostBytes {
		return File{}, &Error{Problem: fmt.Sprintf("is larger than %d MB", MostBytes>>20), Cure: "export the route alone"}
	}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	p := parser{decoder: xml.NewDecoder(bytes.NewReader(text))}
	p.decoder.CharsetReader = func(label string, _ io.Reader) (io.Reader, error) {
		return nil, &Error{Problem: fmt.Sprintf("is written in %q", shorten(label)), Cure: "save it as UTF-8"}
	}
	err = p.read()
	return p.file, err
}

// parser goes through the file once, element by element; nothing of it is expanded.
type parser struct {
	decoder *xml.Decoder
	file    File
	space   string   // the namespace of the root
	path    []string // the elements that are open; "": one that is passed over
	line    *Line    // the route or segment that is being read
	track   string   // the name of the track that is being read
	point   *Point   // the point that is being read
	text    []byte   // of a name
	points  int
}

func (p *parser) read() error {
	for {
		token, err := p.decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return p.unreadable(err)
		}
		if err := p.take(token); err != nil {
			return err
		}
	}
	if p.file.Version == "" {
		return &Error{Problem: "holds no <gpx>", Cure: "export the route as GPX 1.1"}
	}
	return nil
}

func (p *parser) unreadable(err error) error {
	var own *Error
	if errors.As(err, &own) {
		return own
	}
	problem := err.Error()
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		problem = syntax.Msg
	}
	return p.wrong("is no XML that can be read: "+shorten(problem), "export the route again as GPX 1.1")
}

func (p *parser) take(token xml.Token) error {
	switch t := token.(type) {
	case xml.Directive:
		return p.wrong("has a <!DOCTYPE or the like, which GPX has not and which is not read", "export the route again as GPX 1.1")
	case xml.StartElement:
		return p.open(t)
	case xml.EndElement:
		return p.close()
	case xml.CharData:
		if p.inName() && len(p.text) < mostName {
			p.text = append(p.text, t...)
		}
	}
	return nil
}

func (p *parser) open(t xml.StartElement) error {
	if len(p.path) >= MostDepth {
		return p.wrong(fmt.Sprintf("is nested deeper than %d", MostDepth), "export the route again as GPX 1.1")
	}
	if len(p.path) == 0 {
		return p.root(t)
	}
	name := t.Name.Local
	if t.Name.Space != p.space || p.passedOver() || name == "extensions" {
		name = ""
	}
	p.path = append(p.path, name)
	if p.inName() {
		p.text = p.text[:0]
	}
	switch p.where() {
	case "gpx/rte":
		p.file.Routes = append(p.file.Routes, Line{})
		p.line = &p.file.Routes[len(p.file.Routes)-1]
	case "gpx/trk":
		p.track = ""
	case "gpx/trk/trkseg":
		p.file.Tracks = append(p.file.Tracks, Line{Name: p.track})
		p.line = &p.file.Tracks[len(p.file.Tracks)-1]
	case "gpx/wpt":
		p.file.Waypoints++
	case "gpx/rte/rtept", "gpx/trk/trkseg/trkpt":
		return p.openPoint(t)
	}
	return nil
}

func (p *parser) root(t xml.StartElement) error {
	if p.file.Version != "" {
		return p.wrong("goes on after the end of its <gpx>", "export the route again as GPX 1.1")
	}
	if t.Name.Local != "gpx" {
		return p.wrong(fmt.Sprintf("begins with <%s>, not with <gpx>", shorten(t.Name.Local)), "export the route as GPX 1.1")
	}
	version := ""
	for _, a := range t.Attr {
		if a.Name.Local == "version" && a.Name.Space == "" {
			version = a.Value
		}
	}
	switch {
	case t.Name.Space == namespace11, t.Name.Space == "" && version == "1.1":
		p.file.Version = "1.1"
	case t.Name.Space == namespace10, t.Name.Space == "" && version == "1.0":
		p.file.Version = "1.0"
	default:
		return p.wrong(fmt.Sprintf("is GPX of version %q, namespace %q", shorten(version), shorten(t.Name.Space)), "export the route as GPX 1.1")
	}
	p.space = t.Name.Space
	p.path = append(p.path, "gpx")
	return nil
}

func (p *parser) openPoint(t xml.StartElement) error {
	if p.points++; p.points > MostPoints {
		return p.wrong(fmt.Sprintf("holds more than %d points", MostPoints), "export the route alone")
	}
	var point Point
	var hasLat, hasLon bool
	for _, a := range t.Attr {
		var err error
		switch {
		case a.Name.Space != "":
		case a.Name.Local == "lat":
			hasLat = true
			point.Lat, err = p.degrees("lat", a.Value, 90)
		case a.Name.Local == "lon":
			hasLon = true
			point.Lon, err = p.degrees("lon", a.Value, 180)
		}
		if err != nil {
			return err
		}
	}
	if !hasLat || !hasLon {
		return p.wrong("has a point without lat or lon", "export the route again")
	}
	p.line.Points = append(p.line.Points, point)
	p.point = &p.line.Points[len(p.line.Points)-1]
	return nil
}

// decimal is a number as the schema's xsd:decimal has it: no exponent, no NaN, no INF.
var decimal = regexp.MustCompile(`^[+-]?(\d+(\.\d*)?|\.\d+)$`)

func (p *parser) degrees(name, text string, most float64) (float64, error) {
	text = strings.TrimSpace(text)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !decimal.MatchString(text) || !(v >= -most && v <= most) {
		return 0, p.wrong(fmt.Sprintf("%s=%q is no place", name, shorten(text)),
			fmt.Sprintf("%s is in degrees from -%g to %g, written like -18.65", name, most, most))
	}
	return v, nil
}

func (p *parser) close() error {
	if p.inName() {
		name := strings.ToValidUTF8(string(p.text), "")
		switch p.where() {
		case "gpx/rte/name":
			p.line.Name = name
		case "gpx/trk/name":
			p.track = name
		default:
			p.point.Name = name
		}
	}
	switch p.where() {
	case "gpx/rte", "gpx/trk/trkseg":
		p.line = nil
	case "gpx/rte/rtept", "gpx/trk/trkseg/trkpt":
		p.point = nil
	}
	p.path = p.path[:len(p.path)-1]
	return nil
}

// where is the path to the element that is open.
func (p *parser) where() string { return strings.Join(p.path, "/") }

func (p *parser) passedOver() bool { return len(p.path) > 0 && p.path[len(p.path)-1] == "" }

func (p *parser) inName() bool {
	switch p.where() {
	case "gpx/rte/name", "gpx/trk/name", "gpx/rte/rtept/name", "gpx/trk/trkseg/trkpt/name":
		return true
	}
	return false
}

func (p *parser) wrong(problem, cure string) error {
	line, _ := p.decoder.InputPos()
	return &Error{Line: line, Problem: problem, Cure: cure}
}

// shorten cuts what stood in the file for a message.
func shorten(text string) string {
	const most = 60
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
