package main

import (
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// explainable is what --explain knows, for the help.
const explainable = `water, fuel, food, gas, "leg 1", a what-if by its name, turning, range, load, windows`

// explain prints where the numbers of a topic come from.
func (c *call) explain(m moment, topic string) error {
	workings, known := workingsOf(m.definitions, m.assess(), strings.ToLower(strings.TrimSpace(topic)))
	if !known {
		return usage("write one of "+explainable, "--explain does not know %q", topic)
	}
	var r report
	if len(workings) == 0 {
		r.line("nothing is reckoned of it for this passage")
	}
	for i, w := range workings {
		if i > 0 {
			r.WriteByte('\n')
		}
		r.working(w)
	}
	c.text.WriteString(r.String())
	return nil
}

// working is the steps of one number.
func (r *report) working(w provisions.Working) {
	r.line("%s", w.Title)
	for _, l := range w.Lines {
		text := l.Result
		if l.How != "" {
			text = l.How + " = " + l.Result
		}
		r.hang("  "+l.What+": ", "      ", text)
	}
}

func workingsOf(d checklist.Definitions, a checklist.Assessment, topic string) (list []provisions.Working, known bool) {
	if t, is := thingOf(topic); is {
		for i := range a.Reckoning.Resources[t].Stretches {
			list = append(list, a.ExplainStretch(t, i))
		}
		return list, true
	}
	if number, is := strings.CutPrefix(topic, "leg "); is {
		return legWorkings(d, a, number)
	}
	for _, w := range a.WhatIfs.List {
		if strings.EqualFold(w.Name(), topic) {
			return []provisions.Working{a.ExplainWhatIf(w)}, true
		}
	}
	return outlookWorkings(a, topic)
}

func legWorkings(d checklist.Definitions, a checklist.Assessment, number string) (list []provisions.Working, known bool) {
	leg, err := strconv.Atoi(strings.TrimSpace(number))
	if err != nil || leg < 1 || leg > len(d.Plan.Legs) {
		return nil, false
	}
	for _, name := range passage.CaseNames {
		list = append(list, a.ExplainLeg(leg-1, name))
	}
	return list, true
}

func outlookWorkings(a checklist.Assessment, topic string) (list []provisions.Working, known bool) {
	switch topic {
	case "turning":
		outlook := a.Outlook()
		for _, t := range outlook.Turning {
			list = append(list, a.ExplainTurning(t))
		}
		for _, p := range outlook.OnOrBack {
			list = append(list, a.ExplainOnOrBack(p))
		}
	case "range":
		for _, row := range a.Outlook().Range {
			list = append(list, a.ExplainRange(row))
		}
	case "windows":
		for _, w := range a.Outlook().Windows {
			list = append(list, a.ExplainWindow(w))
		}
	case "load":
		for _, l := range a.Loads {
			list = append(list, a.ExplainLoad(l))
		}
	default:
		return nil, false
	}
	return list, true
}
