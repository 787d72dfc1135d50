package tui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// arrivalLines are the three arrivals at the end of a leg, each drawn on its own day from
// midnight to midnight of the time kept aboard, and told in words.
func arrivalLines(f facts, i int, leg passage.Leg, w int) []string {
	l := f.look
	layout, n := dayLayout(w)
	if _, isPlace := placeOf(leg); !isPlace || !isReached(f.prospect, i) {
		n = 0
	}
	var lines []string
	if n > 0 {
		lines = append(lines, blanks(nameColumn)+hourAxis(n))
	}
	for _, name := range quickFirst {
		at, reached := arrival(f.prospect, name, i)
		if !reached {
			why := notReached(f.prospect, name, i)
			lines = append(lines, para(l.blocked, l.pad(string(name), nameColumn), l.clean(why), w)...)
			continue
		}
		judged := passage.ArrivalAt(leg, at)
		line := l.pad(string(name), nameColumn)
		if n > 0 {
			line += l.dayOf(leg, at.In(f.zone()), n) + " "
		}
		style, words := byDayWords(l, judged)
		lines = append(lines, line+l.pad(at.In(f.zone()).Format(layout), len(layout)+1)+style.Render(words))
	}
	if n > 0 {
		lines = append(lines, l.clip(l.dayLegend(), w))
	}
	return lines
}

// isReached says that some case comes to the end of a leg.
func isReached(p prospect, leg int) bool {
	return slices.ContainsFunc(passage.CaseNames[:], func(name passage.CaseName) bool {
		_, reached := arrival(p, name, leg)
		return reached
	})
}

// quickFirst are the cases in the order in which they arrive.
var quickFirst = [...]passage.CaseName{passage.Quick, passage.Expected, passage.Slow}

// nameColumn is as wide as the longest name of a case and a blank.
const nameColumn = len(passage.Expected) + 1

// dayLayout is how the moment is told and how many columns a day has, in a width; 0: no
// room to draw it. The columns part the day evenly, none into less than a quarter of an hour.
func dayLayout(w int) (layout string, columns int) {
	layout = "Mon _2 Jan 15:04"
	if w < 76 {
		layout = "_2 Jan 15:04"
	}
	room := w - nameColumn - 1 - len(layout) - 1 - len("NOT BY DAY")
	for _, n := range []int{96, 72, 48, 36, 24, 18, 12} {
		if n <= room {
			return layout, n
		}
	}
	return layout, 0
}

func byDayWords(l look, a passage.Arrival) (lipgloss.Style, string) {
	switch {
	case !a.Known:
		return l.keys, "no position: daylight not known"
	case a.ByDay:
		return l.good, "by day"
	}
	return l.blocked, "NOT BY DAY"
}

// notReached is why a case does not come to the end of a leg.
func notReached(p prospect, name passage.CaseName, leg int) string {
	for _, unmade := range p.assessment.Reckoning.Cases[name].Voyage.Unmade {
		if unmade == leg {
			return "she cannot make this leg: less than 0.5 kn over the ground"
		}
	}
	return "not reckoned: she cannot make every leg in this case"
}

func placeOf(leg passage.Leg) (passage.Position, bool) {
	p, known := leg.End()
	return p, known && p.Known()
}

// hourAxis names hours of the day above n columns.
func hourAxis(n int) string {
	axis := []byte(blanks(n + 1))
	every := 6
	if n >= 48 {
		every = 3
	}
	for hour := 0; hour <= 24; hour += every {
		text := fmt.Sprint(hour)
		at := min(hour*n/24, n-len(text))
		copy(axis[at:], text)
	}
	return strings.TrimRight(string(axis), " ")
}

// dayOf draws the day of an arrival in n columns.
func (l look) dayOf(leg passage.Leg, at time.Time, n int) string {
	place, _ := placeOf(leg)
	year, month, date := at.Date()
	midnight := time.Date(year, month, date, 0, 0, 0, 0, at.Location())
	step := 24 * time.Hour / time.Duration(n)
	byDay := passage.ByDay(place, midnight, midnight.Add(24*time.Hour))
	arrives := int(at.Sub(midnight) / step)

	var b strings.Builder
	for i, light := range passage.LightAlong(place, midnight, step, n) {
		middle := midnight.Add(time.Duration(i)*step + step/2)
		switch {
		case i == arrives:
			b.WriteString(l.arrives)
		case holds(byDay, middle):
			b.WriteString(l.day)
		case light == passage.SunUp:
			b.WriteString(l.low)
		case light == passage.CivilTwilight:
			b.WriteString(l.dusk)
		default:
			b.WriteString(l.night)
		}
	}
	return b.String()
}

func holds(list []passage.Interval, t time.Time) bool {
	for _, i := range list {
		if !t.Before(i.From) && !t.After(i.To) {
			return true
		}
	}
	return false
}

func (l look) dayLegend() string {
	return fmt.Sprintf("%s arrives; %s by day, %s sun low, %s twilight, %s night", l.arrives, l.day, l.low, l.dusk, l.night)
}

// lightWords is the sun at the leg's end on the day of the slow arrival, or of the first
// case that arrives at all.
func lightWords(f facts, i int, leg passage.Leg) string {
	place, known := placeOf(leg)
	if !known {
		return ""
	}
	for _, name := range passage.CaseNames {
		at, reached := arrival(f.prospect, name, i)
		if !reached {
			continue
		}
		at = at.In(f.zone())
		return fmt.Sprintf("Sun on %s: %s.", at.Format("2 Jan"), sunWords(passage.SunOn(quantity.DateOf(at), at.Location(), place), passage.ArrivalAt(leg, at)))
	}
	return ""
}

// sunWords are from when to when the sun is up, from civil twilight to civil twilight, and
// from when to when it is by day.
func sunWords(s passage.Sun, a passage.Arrival) string {
	up := between("up", s.Rise, s.Set, a.At.Location())
	switch {
	case s.AlwaysUp:
		up = "up all day"
	case s.AlwaysDown:
		up = "not up at all"
	}
	twilight := between("twilight", s.Dawn, s.Dusk, a.At.Location())
	switch {
	case s.NeverDark:
		twilight = "never dark"
	case s.AlwaysDark:
		twilight = "no twilight"
	}
	byDay := between("by day", a.FirstLight, a.LastLight, a.At.Location())
	if a.LastLight.Before(a.FirstLight) && byDay != "" {
		byDay = "too short to be by day"
	}
	parts := slices.DeleteFunc([]string{up, twilight, byDay},
		func(part string) bool { return part == "" })
	return strings.Join(parts, ", ")
}

// between is "up 06:20-19:54", of the light the whole minutes alone; "" where one of both
// is not.
func between(what string, from, to time.Time, zone *time.Location) string {
	if from.IsZero() || to.IsZero() {
		return ""
	}
	from, to = inwards(from, to)
	return fmt.Sprintf("%s %s-%s", what, from.In(zone).Format("15:04"), to.In(zone).Format("15:04"))
}
