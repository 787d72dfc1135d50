package checklist

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/provisions/passage"
)

// Lines are what to put into passage.toml, in the place of what stands there, to keep
// what is tried: top keys first, then leg by leg. A leg with a new stop is told whole.
func (t Trial) Lines(d Definitions) []string {
	tried := d.Try(t)
	var lines []string
	if tried.Plan.Crew != d.Plan.Crew {
		lines = append(lines, fmt.Sprintf("crew = %d", tried.Plan.Crew))
	}
	if !tried.Plan.Depart.Equal(d.Plan.Depart) {
		lines = append(lines, "depart = "+tried.Plan.Depart.Format(time.RFC3339))
	}
	lines = append(lines, t.legLines(d.Plan.Legs)...)
	if d.Boat.Watermaker != nil && tried.Boat.Watermaker == nil {
		lines = append(lines, "# the watermaker stands in boat.toml: put a # before each line of [watermaker]")
	}
	return lines
}

// legLines are the changed legs.
func (t Trial) legLines(planned []passage.Leg) []string {
	changed := Definitions{Plan: passage.Plan{Legs: planned}}.change(t).Plan.Legs
	var lines []string
	for i, leg := range planned {
		pieces := t.pieces(i, changed[i])
		if len(pieces) == 1 {
			lines = append(lines, changedKeys(i, leg, changed[i])...)
			continue
		}
		lines = append(lines, fmt.Sprintf("# in the place of leg %d, %s to %s:", i+1, oneLine(leg.From), oneLine(leg.To)))
		for _, piece := range pieces {
			lines = append(lines, wholeLeg(piece)...)
		}
	}
	return lines
}

func changedKeys(i int, from, to passage.Leg) []string {
	var lines []string
	if from.Sail != to.Sail {
		lines = append(lines, "sail = "+quoted(to.Sail.String()))
	}
	if from.RPM != to.RPM {
		lines = append(lines, fmt.Sprintf("rpm = %d", to.RPM))
	}
	if from.Current != to.Current {
		lines = append(lines, "current = "+quoted(to.Current.String()))
	}
	if len(lines) == 0 {
		return nil
	}
	return append([]string{fmt.Sprintf("# in leg %d, %s to %s:", i+1, oneLine(from.From), oneLine(from.To))}, lines...)
}

// wholeLeg is a leg with all its keys.
func wholeLeg(l passage.Leg) []string {
	lines := []string{
		"[[leg]]", "from = " + quoted(l.From), "to = " + quoted(l.To),
		"distance = " + quoted(l.Distance.String()), "sail = " + quoted(l.Sail.String()),
	}
	add := func(is bool, format string, args ...any) {
		if is {
			lines = append(lines, fmt.Sprintf(format, args...))
		}
	}
	add(l.AsIs, "as_is = true")
	add(l.RPM > 0, "rpm = %d", l.RPM)
	add(l.Power > 0, "power = %s", quoted(l.Power.String()))
	add(l.Current != 0, "current = %s", quoted(l.Current.String()))
	if l.Home != nil {
		add(true, "home = { sail = %s, power = %s }", quoted(l.Home.Sail.String()), decimal(float64(l.Home.Power)))
	}
	add(l.Stay > 0, "stay = %s", quoted(decimal(l.Stay.Hours())+" h"))
	add(true, "fill = [%s]", strings.Join(givingWords(l.Fill), ", "))
	add(len(l.Price) > 0, "price = { %s }", strings.Join(priceWords(l.Price), ", "))
	if l.Position != nil {
		add(true, "position = [%s, %s]", decimal(l.Position.Lat), decimal(l.Position.Lon))
	}
	add(l.Dangers != "", "dangers = %s", quoted(l.Dangers))
	add(l.Window != "", "window = %s", quoted(l.Window))
	for _, a := range l.Alternates {
		lines = append(lines, "[[leg.alternate]]", "name = "+quoted(a.Name),
			"after = "+quoted(a.After.String()), "distance = "+quoted(a.Distance.String()))
	}
	for _, p := range l.Decisions {
		lines = append(lines, "[[leg.decide]]", "at = "+quoted(p.At.String()), "go_on_if = "+quoted(p.GoOnIf), "else = "+quoted(p.Else))
	}
	return lines
}

func givingWords(list []passage.Giving) []string {
	var words []string
	for _, g := range list {
		word := string(g.Thing)
		if !g.Sure {
			word += "?"
		}
		words = append(words, quoted(word))
	}
	return words
}

func priceWords(price map[passage.Thing]float64) []string {
	var words []string
	for _, t := range passage.Things {
		if p, priced := price[t]; priced {
			words = append(words, fmt.Sprintf("%s = %s", t, decimal(p)))
		}
	}
	return words
}

// quoted is a text as a TOML string of one line.
func quoted(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch r {
		case '"', '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case '\n':
			b.WriteString(`\n`)
		case '\t':
			b.WriteString(`\t`)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// oneLine is a name as it may stand in a comment.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// decimal is a number that TOML reads back as the same, and as one with a point.
func decimal(v float64) string {
	text := strconv.FormatFloat(v, 'f', -1, 64)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	return text
}
