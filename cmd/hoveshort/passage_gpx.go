package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config/gpx"
	"boat/hoveshort/provisions/passage"
)

// gpxHelp is the part of the help of `passage` that tells of --gpx.
const gpxHelp = "\n\nLegs out of a chart plotter: --gpx prints the [[leg]] tables of a GPX 1.1 file, to be pasted\n" +
	"into passage.toml, and writes nothing. Each route is one leg, from its first point to its\nlast; the points between are the way. Where the route calls somewhere, name that point with\n" +
	"--stop: the route is cut there, and what can be had there can be written in. A file with\nseveral routes gives several legs where each begins where the one before ends; else pick\n" +
	"with --route, in order. A track is taken only where there is no route, thinned to 0.1 nm;\nwaypoints alone have no order and are refused.\n"

const (
	// joinWithin is how near to the end of a route the next must begin, in miles, to go on from
	// it: a plotter's points for one anchorage are seldom the same to the metre. Ours, no source.
	joinWithin = 1.0
	// thinWithin is how far a point of a track may be off what is kept of it, in miles.
	thinWithin = 0.1
	// mostLegs is how many bytes of legs are printed: passage.toml may have 1 MB.
	mostLegs = 500_000
	// longestName of a place, in characters.
	longestName = 80
)

// gpxOptions are what is asked of a GPX file.
type gpxOptions struct {
	file   string
	routes []string
	stops  []string
}

func (o gpxOptions) asked() bool { return o.file != "" || len(o.routes)+len(o.stops) > 0 }

// gpxPlace is a point of a route with its name as it may stand in a file.
type gpxPlace struct {
	name string
	at   passage.Position
}

// gpxLine is a route, or what is left of a track.
type gpxLine struct {
	kind, name string // "route" or "track"
	places     []gpxPlace
}

func (l gpxLine) first() gpxPlace { return l.places[0] }
func (l gpxLine) last() gpxPlace  { return l.places[len(l.places)-1] }

// String names the line for a message.
func (l gpxLine) String() string {
	return fmt.Sprintf("%s %q (%s to %s)", l.kind, l.name, l.first().shown(), l.last().shown())
}

// shown is the place's name; of one without, where it is.
func (p gpxPlace) shown() string {
	if p.name != "" {
		return p.name
	}
	return p.at.String()
}

// gpxLegs prints the legs of a GPX file.
func (c *call) gpxLegs(opts gpxOptions, asJSON bool) error {
	if opts.file == "" {
		return usage("for example: hoveshort passage --gpx route.gpx --stop NAME", "--route and --stop belong to --gpx")
	}
	file, err := c.readGPX(opts.file)
	if err != nil {
		return err
	}
	lines, notices, err := linesOf(file)
	if err == nil {
		lines, err = pickLines(lines, opts.routes)
	}
	if err == nil {
		lines, err = cutAtStops(lines, opts.stops)
	}
	if err == nil {
		var joined []string
		joined, err = joinLines(lines)
		notices = append(notices, joined...)
	}
	if err != nil {
		return err
	}
	if file.Version != "1.1" {
		notices = append(notices, "the file is GPX "+file.Version+"; its routes are written as in 1.1 and were read")
	}
	c.tell(notices)
	if asJSON {
		return c.encode(gpxJSONOf(file.Version, lines))
	}
	text := legsText(gpxSource(opts.file), file.Version, lines)
	if len(text) > mostLegs {
		return coded(exitRefused, "pick one with --route, or thin it in the plotter", errors.New("the legs hold more points than passage.toml takes"))
	}
	c.text.WriteString(text)
	c.tellUnshown()
	return nil
}

func gpxSource(file string) string {
	if file == "-" {
		return "the standard input"
	}
	return oneLineOf(file)
}

// readGPX reads the file; of what is wrong with it the place and the cure are told.
func (c *call) readGPX(name string) (gpx.File, error) {
	from := c.stdin
	if name != "-" {
		f, err := os.Open(c.path(name))
		if err != nil {
			return gpx.File{}, coded(exitUnreadable, "name the file that the plotter exported; - is the standard input", fmt.Errorf("reading the GPX file: %w", err))
		}
		defer func() { _ = f.Close() }() // it was only read
		from = f
	} else if c.stdinIsTerminal {
		return gpx.File{}, usage("for example: hoveshort passage --gpx - < route.gpx", "nothing comes from the standard input")
	}
	file, err := gpx.Read(from)
	var wrong *gpx.Error
	if errors.As(err, &wrong) {
		return file, coded(exitRefused, wrong.Cure, fmt.Errorf("%s %w", gpxSource(name), withPlace(wrong)))
	}
	return file, coded(exitUnreadable, "", err)
}

// withPlace puts what is wrong so that it follows the file's name.
func withPlace(e *gpx.Error) error {
	if e.Line > 0 {
		return fmt.Errorf("(line %d) %s", e.Line, e.Problem)
	}
	return errors.New(e.Problem)
}

// linesOf are the routes of a file; where it has none, its tracks, thinned.
func linesOf(file gpx.File) (lines []gpxLine, notices []string, err error) {
	kind, found := "route", file.Routes
	if !slices.ContainsFunc(found, func(l gpx.Line) bool { return len(l.Points) > 0 }) {
		kind, found = "track", file.Tracks
	}
	for i, l := range found {
		if kind == "track" {
			thin, ok := l.Thinned(thinWithin)
			if !ok {
				return nil, nil, coded(exitRefused, "cut it in the plotter, or export a route", fmt.Errorf("track %d has too many points to make a leg of", i+1))
			}
			notices = append(notices, fmt.Sprintf("there is no route in it; track %d was taken, and of its %d points %d kept, none of the others more than %g nm off",
				i+1, len(l.Points), len(thin.Points), thinWithin))
			l = thin
		}
		line := lineOf(kind, l)
		if line.name == "" {
			line.name = strconv.Itoa(i + 1)
		}
		switch {
		case len(line.places) >= 2:
			lines = append(lines, line)
		case kind == "route":
			notices = append(notices, fmt.Sprintf("route %q is left out: it holds fewer than two places", line.name))
		}
	}
	if len(lines) > 0 {
		return lines, notices, nil
	}
	if file.Waypoints > 0 {
		return nil, nil, coded(exitRefused, "join them to a route in the plotter, in the order in which she goes, and export that",
			fmt.Errorf("the file holds %s and no route: they have no order", count(file.Waypoints, "waypoint")))
	}
	return nil, nil, coded(exitRefused, "make a route in the plotter and export it as GPX 1.1", errors.New("the file holds no route of two places or more"))
}

// lineOf rounds the points to five decimals, about a metre, and leaves out those that are then
// where the one before is.
func lineOf(kind string, l gpx.Line) gpxLine {
	line := gpxLine{kind: kind, name: oneLineOf(l.Name)}
	for _, p := range l.Points {
		place := gpxPlace{oneLineOf(p.Name), passage.Position{Lat: rounded(p.Lat), Lon: rounded(p.Lon)}}
		if n := len(line.places); n > 0 && line.places[n-1].at == place.at {
			if line.places[n-1].name == "" {
				line.places[n-1].name = place.name
			}
			continue
		}
		line.places = append(line.places, place)
	}
	return line
}

// rounded is v to five decimals; nought has no sign.
func rounded(v float64) float64 {
	const parts = 1e5
	return math.Round(v*parts)/parts + 0
}

// oneLineOf is a text of somebody else's as it may stand in a file of the skipper's: one line,
// without characters that no file may hold, and not long.
func oneLineOf(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case unicode.IsSpace(r):
			b.WriteByte(' ')
		case r == unicode.ReplacementChar || checklist.Refused(r) || unicode.Is(unicode.Cf, r):
		default:
			b.WriteRune(r)
		}
	}
	line := strings.Join(strings.Fields(b.String()), " ")
	if runes := []rune(line); len(runes) > longestName {
		return strings.TrimSpace(string(runes[:longestName-1])) + "…"
	}
	return line
}

// pickLines are those of these names, in this order; all where none is named.
func pickLines(lines []gpxLine, names []string) ([]gpxLine, error) {
	if len(names) == 0 {
		return lines, nil
	}
	var picked []gpxLine
	for _, name := range names {
		found := false
		for _, l := range lines {
			if strings.EqualFold(l.name, oneLineOf(name)) {
				picked, found = append(picked, l), true
			}
		}
		if !found {
			return nil, coded(exitRefused, "one of: "+lineNames(lines), fmt.Errorf("the file holds no route called %q", cut(name, longestName)))
		}
	}
	return picked, nil
}

func lineNames(lines []gpxLine) string {
	const most = 12
	var names []string
	for i, l := range lines {
		if i == most {
			names = append(names, "…")
			break
		}
		names = append(names, l.String())
	}
	return strings.Join(names, ", ")
}

// cutAtStops cuts the routes at the points of these names.
func cutAtStops(lines []gpxLine, stops []string) ([]gpxLine, error) {
	for _, stop := range stops {
		var cutLines []gpxLine
		for _, l := range lines {
			cutLines = append(cutLines, l.cutAt(oneLineOf(stop))...)
		}
		if len(cutLines) == len(lines) {
			return nil, coded(exitRefused, namedBetween(lines), fmt.Errorf("no point between the ends of a route is called %q", cut(stop, longestName)))
		}
		lines = cutLines
	}
	return lines, nil
}

func (l gpxLine) cutAt(stop string) []gpxLine {
	var parts []gpxLine
	from := 0
	for i := 1; i < len(l.places)-1; i++ {
		if strings.EqualFold(l.places[i].name, stop) {
			parts = append(parts, gpxLine{l.kind, l.name, l.places[from : i+1]})
			from = i
		}
	}
	return append(parts, gpxLine{l.kind, l.name, l.places[from:]})
}

// between are the names of the points on the way.
func (l gpxLine) between() []string {
	const most = 12
	var names []string
	for _, p := range l.places[1 : len(l.places)-1] {
		if p.name != "" && len(names) < most {
			names = append(names, p.name)
		}
	}
	return names
}

func namedBetween(lines []gpxLine) string {
	var names []string
	for _, l := range lines {
		names = append(names, l.between()...)
	}
	if len(names) == 0 {
		return "no point between them has a name: name the stop in the plotter"
	}
	return "one of: " + strings.Join(names, ", ")
}

// joinLines gives each line the name of the place at which the one before ends, where it begins
// there; a passage goes on from where it is.
func joinLines(lines []gpxLine) (notices []string, err error) {
	for i := 1; i < len(lines); i++ {
		before, next := lines[i-1].last(), lines[i].first()
		if miles := float64(passage.GreatCircle(before.at, next.at)); miles > joinWithin {
			return nil, coded(exitRefused, "pick those of this passage, in order, with --route: "+lineNames(lines),
				fmt.Errorf("%s does not begin where %s ends, but %.1f nm away", lines[i], lines[i-1], miles))
		}
		if before.shown() != next.shown() {
			notices = append(notices, fmt.Sprintf("%q and %q are one place: leg %d begins where leg %d ends", before.shown(), next.shown(), i+1, i))
			lines[i].places = slices.Clone(lines[i].places)
			lines[i].places[0].name = before.shown()
		}
	}
	return notices, nil
}

func (l gpxLine) route() []passage.Position {
	route := make([]passage.Position, len(l.places))
	for i, p := range l.places {
		route[i] = p.at
	}
	return route
}

// legsText is the [[leg]] tables. Only `sail` is missing in them: no file of a plotter knows it.
func legsText(source, version string, lines []gpxLine) string {
	var r report
	r.hang("# ", "# ", fmt.Sprintf("%s out of %s (GPX %s). Paste into passage.toml in the place of its [[leg]] tables, then take the # from each sail and write her speed.",
		count(len(lines), "leg"), source, version))
	r.hang("# ", "# ", "A route out of a plotter is no proof of safe water: lay it off on the chart, look along all of it, and go by the notices in force.")
	for _, l := range lines {
		r.WriteString("\n[[leg]]\n")
		r.hang("# ", "# ", fmt.Sprintf("%s %q, %s", l.kind, l.name, count(len(l.places), "point")))
		if on := l.between(); len(on) > 0 {
			r.hang("# ", "# ", "on the way: "+strings.Join(on, ", ")+"; where she calls at one of them: --stop NAME")
		}
		_, _ = fmt.Fprintf(&r, "from = %s\nto = %s\n", tomlText(l.first().shown()), tomlText(l.last().shown()))
		_, _ = fmt.Fprintf(&r, "route = [                        # %.1f nm\n", float64(passage.RouteLength(l.route())))
		for _, p := range l.places {
			_, _ = fmt.Fprintf(&r, "  [%s, %s],\n", degreesText(p.at.Lat), degreesText(p.at.Lon))
		}
		r.WriteString("]\n# sail = \"5.2 kn\"                # needed: the speed under sail, clean; write hers\n")
		r.WriteString("fill = []                        # what can be had at `to`, like [\"water?\", \"food\"]\n")
	}
	return r.String()
}

// degreesText is a coordinate with a point in it, and no more than five decimals.
func degreesText(v float64) string {
	text := strconv.FormatFloat(v, 'f', -1, 64)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	return text
}

// tomlText is a text of one line as a TOML basic string (TOML 1.0.0, String).
func tomlText(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

// gpxJSON is the legs for other programs.
type gpxJSON struct {
	Format int          `json:"format"`
	GPX    string       `json:"gpx"`
	Legs   []gpxLegJSON `json:"legs"`
}

type gpxLegJSON struct {
	From     string       `json:"from"`
	To       string       `json:"to"`
	Out      string       `json:"out_of"`
	Distance float64      `json:"distance_nm"`
	Route    [][2]float64 `json:"route"`
}

func gpxJSONOf(version string, lines []gpxLine) gpxJSON {
	j := gpxJSON{Format: 1, GPX: version, Legs: []gpxLegJSON{}}
	for _, l := range lines {
		leg := gpxLegJSON{From: l.first().shown(), To: l.last().shown(), Out: l.kind, Distance: float64(passage.RouteLength(l.route()))}
		for _, p := range l.places {
			leg.Route = append(leg.Route, [2]float64{p.at.Lat, p.at.Lon})
		}
		j.Legs = append(j.Legs, leg)
	}
	return j
}
