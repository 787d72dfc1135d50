package config

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Own is what makes the starter a boat of one's own. What is left out stays the example's.
type Own struct {
	Name  string
	Hours *float64  // on the hour-meter
	Water []string  // the capacity of each water tank, as it was typed: a volume
	Fuel  string    // of the diesel tank
	Crew  int       // people aboard; 0: left out
	Begun time.Time // when the folder is begun: the example's dates are moved to it
}

// starterBegun is the day on which the starter's dates fit: it leaves the next morning.
var starterBegun = time.Date(2026, 12, 11, 0, 0, 0, 0, time.UTC)

// starterHours is the starter's hour-meter.
const starterHours = 1210.0

// InitOwn writes the starter into dir as Init does, with one's own figures in its lines; the comments stay. Its dates are
// moved so that they fit the day on which it is begun, and its services by as many hours as the hour-meter: an example that
// is overdue on the first day would stand in the way, and tell nothing.
func InitOwn(dir string, own Own) error { return initWith(dir, Starter(), own.edited) }

func (o Own) edited(name, text string) string {
	switch {
	case strings.Contains(name, "/"): // rounds and fault cards hold nothing of one boat
		return text
	case name == boatFile:
		text = o.boat(text)
	case name == passageFile:
		text = o.passage(text)
	case name == upkeepFile && o.Hours != nil:
		text = o.services(text)
	}
	return o.moved(text)
}

func (o Own) boat(text string) string {
	if o.Name != "" {
		text = withValue(text, "", "name", tomlText(o.Name))
	}
	if o.Hours != nil {
		text = withValue(text, "[engine]", "hours", hoursText(*o.Hours))
	}
	if o.Fuel != "" {
		text = withTank(text, "diesel tank", o.Fuel)
	}
	if len(o.Water) > 0 {
		text = withTank(text, "water tank", o.Water[0])
		text = regexp.MustCompile(`(?m)^dip = `).ReplaceAllString(text, "# dip = ") // it is another tank's
		var more strings.Builder
		for i, capacity := range o.Water[1:] {
			fmt.Fprintf(&more, "[[tank]]\nname = \"water tank %d\"\nholds = \"water\"\ncapacity = %q\nunusable = \"6 L\"\nlevel = \"50 %%\"\ngauge_error = \"5 %%\"\ndip_error = \"2 %%\"\n\n", i+2, capacity)
		}
		const next = "[[tank]]\nname = \"water can\""
		text = strings.Replace(text, next, more.String()+next, 1)
	}
	const head = "# How to write:\n"
	return strings.Replace(text, head, "# What was asked when this folder was written stands in it; all the rest is still the example's.\n#\n"+head, 1)
}

// withTank is the text with another capacity for a tank. Its level is a guess: it is sounded before she is signed off.
func withTank(text, tank string, capacity string) string {
	after := `name = "` + tank + `"`
	text = withValue(text, after, "capacity", tomlText(capacity))
	return withValue(text, after, "level", `"50 %"`)
}

func (o Own) passage(text string) string {
	if o.Crew > 0 {
		text = withValue(text, "", "crew", strconv.Itoa(o.Crew))
	}
	if o.Begun.IsZero() {
		return text
	}
	day := o.Begun.AddDate(0, 0, 1)
	depart := time.Date(day.Year(), day.Month(), day.Day(), 5, 0, 0, 0, o.Begun.Location())
	text = withValue(text, "", "depart", depart.Format("2006-01-02T15:04:05-07:00"))
	_, offset := depart.Zone()
	return strings.Replace(text, "position = [-36.90, 175.20]", fmt.Sprintf("position = [-36.90, %.2f]", spotIn(offset)), 1)
}

// spotIn is a longitude at which the sun stands to a clock of this offset as it does at the starter's invented spot.
func spotIn(offset int) float64 {
	const degreesAnHour, starterOffset, starterSpot = 15, 13, 175.2
	spot := starterSpot + (float64(offset)/3600-starterOffset)*degreesAnHour
	switch {
	case spot < -180:
		return spot + 360
	case spot > 180:
		return spot - 360
	}
	return spot
}

var lastHours = regexp.MustCompile(`(?m)^(last = \{.*hours = )([0-9.]+)`)

// services leaves as many hours since each service as the starter has.
func (o Own) services(text string) string {
	return lastHours.ReplaceAllStringFunc(text, func(line string) string {
		parts := lastHours.FindStringSubmatch(line)
		hours, _ := strconv.ParseFloat(parts[2], 64) // digits and points: the test of the starter reads them all
		return parts[1] + hoursText(math.Max(0, *o.Hours-(starterHours-hours)))
	})
}

// hoursText is an hour-meter with its point, as TOML writes a float.
func hoursText(hours float64) string {
	text := strconv.FormatFloat(hours, 'f', -1, 64)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	return text
}

var isoDate = regexp.MustCompile(`\b20\d\d-\d\d-\d\d\b`)

// moved is the text with the example's dates moved; depart is its own already, and behind its T.
func (o Own) moved(text string) string {
	if o.Begun.IsZero() {
		return text
	}
	begun := time.Date(o.Begun.Year(), o.Begun.Month(), o.Begun.Day(), 0, 0, 0, 0, time.UTC)
	by := begun.Sub(starterBegun)
	lines := strings.SplitAfter(text, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, "depart = ") {
			continue
		}
		lines[i] = isoDate.ReplaceAllStringFunc(line, func(date string) string {
			day, err := time.Parse(time.DateOnly, date)
			if err != nil {
				return date
			}
			return day.Add(by).Format(time.DateOnly)
		})
	}
	return strings.Join(lines, "")
}

// withValue gives the first key behind a line another value; the comment behind it stays where it is, if there is room.
func withValue(text, after, key, value string) string {
	lines := strings.SplitAfter(text, "\n")
	behind := after == ""
	for i, line := range lines {
		if !behind {
			behind = strings.HasPrefix(line, after)
			continue
		}
		if !strings.HasPrefix(line, key+" = ") {
			continue
		}
		_, comment, _ := strings.Cut(line, " #")
		line = key + " = " + value
		if comment = strings.TrimSpace(comment); comment != "" {
			line = fmt.Sprintf("%-32s # %s", line, comment)
		}
		lines[i] = line + "\n"
		return strings.Join(lines, "")
	}
	return text
}
