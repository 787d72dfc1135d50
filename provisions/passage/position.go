package passage

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"boat/hoveshort/provisions/quantity"
)

// coordinate is degrees, perhaps minutes, perhaps seconds, and the side it is on.
var coordinate = regexp.MustCompile(`^([+-]?\d+(?:\.\d+)?)(?:[° -] *(\d+(?:\.\d+)?)(?:['′ ] *(\d+(?:\.\d+)?))?)?[°'′"″ ]*([NSEWnsew])?$`)

// ParsePosition reads a position as a chart table has it: "20°06.5'S 174°54.2'W",
// "20 06.5 S, 174 54.2 W", "20-06.5S 174-54.2W", "20.108S 174.903W", or decimal degrees "-20.108, -174.903",
// north and east positive, latitude first. The error is a *quantity.Error.
func ParsePosition(text string) (Position, error) {
	lat, lon, ok := splitPosition(strings.TrimSpace(text))
	if !ok {
		return Position{}, positionError(text)
	}
	p := Position{}
	if p.Lat, ok = oneOf(lat, "NS", 90); !ok {
		return Position{}, positionError(text)
	}
	if p.Lon, ok = oneOf(lon, "EW", 180); !ok {
		return Position{}, positionError(text)
	}
	return p, nil
}

func positionError(text string) error {
	runes := []rune(text)
	return &quantity.Error{
		Problem: fmt.Sprintf("%q is no position", string(runes[:min(len(runes), 60)])),
		Cure:    `write latitude and longitude, as "20 06.5 S, 174 54.2 W" or "-20.108, -174.903"`,
	}
}

// splitPosition parts latitude from longitude: at the comma, behind the N or S, or where
// there are only two numbers between them.
func splitPosition(text string) (lat, lon string, ok bool) {
	if lat, lon, ok = strings.Cut(text, ","); ok {
		return strings.TrimSpace(lat), strings.TrimSpace(lon), true
	}
	if i := strings.IndexAny(text, "NSns"); i > 0 {
		return strings.TrimSpace(text[:i+1]), strings.TrimSpace(text[i+1:]), true
	}
	if parts := strings.Fields(text); len(parts) == 2 {
		return parts[0], parts[1], true
	}
	return "", "", false
}

// oneOf reads one coordinate; sides are the letters of plus and minus.
func oneOf(text, sides string, most float64) (float64, bool) {
	m := coordinate.FindStringSubmatch(text)
	if m == nil {
		return 0, false
	}
	side := strings.ToUpper(m[4])
	if side != "" && (!strings.Contains(sides, side) || strings.HasPrefix(m[1], "-") || strings.HasPrefix(m[1], "+")) {
		return 0, false
	}
	whole, minutes, seconds := number(m[1]), number(m[2]), number(m[3])
	if minutes >= 60 || seconds >= 60 {
		return 0, false
	}
	value := math.Abs(whole) + minutes/60 + seconds/3600
	if side == sides[1:] || strings.HasPrefix(m[1], "-") {
		value = -value
	}
	return value, math.Abs(value) <= most
}

// number is 0 for what is not there; the pattern lets nothing else by.
func number(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64)
	return v
}

// String is the position as navigational warnings write it: degrees, a dash, minutes to a
// tenth. It needs no sign beyond ASCII: where the degree sign is lost, 35°18' would read 3518'.
// Common practice, no source.
func (p Position) String() string {
	return inMinutes(p.Lat, "N", "S") + " " + inMinutes(p.Lon, "E", "W")
}

func inMinutes(v float64, plus, minus string) string {
	side := plus
	if v < 0 {
		side = minus
	}
	tenths := int(math.Round(math.Abs(v) * 600))
	return fmt.Sprintf("%d-%04.1f%s", tenths/600, float64(tenths%600)/10, side)
}
