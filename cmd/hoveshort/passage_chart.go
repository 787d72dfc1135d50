package main

import (
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/tui/chart"
)

// chartHeight is how many lines a printed chart has at most.
const chartHeight = 18

// chart draws what is left of a thing day by day; the words above it say the same.
func (c *call) chart(m moment, name string) error {
	thing, known := thingOf(name)
	if !known {
		return usage("write one of water, fuel, food, gas", "--chart does not know %q", name)
	}
	a := m.assess()
	var r report
	r.line("%s: %s", a.Boat, a.Passage)
	for _, s := range a.Reckoning.Resources[thing].Stretches {
		r.line("%s", chartWords(thing, s))
	}
	options := chart.Options{Width: width, Height: chartHeight, Glyphs: chart.Unicode, Units: a.Units, Depart: a.Reckoning.Depart}
	if !c.isUTF8() {
		options.Glyphs = chart.ASCII
	}
	left := a.Outlook().Left
	if way, underWay := a.WayChart(thing, left); underWay {
		left, options.Planned, options.Facts, options.Depart = way.Left, way.Planned, way.Facts, way.Depart
	}
	r.WriteByte('\n')
	for _, line := range chart.Draw(left, thing, options) {
		r.WriteString(line + "\n")
	}
	c.text.WriteString(r.String())
	return nil
}

func chartWords(t passage.Thing, s provisions.Stretch) string {
	if s.Bought {
		return string(t) + ", " + s.From + " to " + s.To + ": bought there"
	}
	return string(t) + ", " + s.From + " to " + s.To + ": " + lasting(s) + "; the " + string(s.Hard) + " case takes " + provisions.DaysUp(s.Length)
}
