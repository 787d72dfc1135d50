package tui

import (
	"fmt"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
)

// viewUsed is what was really used against the plan, and the past of one tank.
func (s stores) viewUsed(f facts, z size) []string {
	lines := f.rateLines(z.w)
	if len(f.stores.tanks) == 0 {
		lines = append(lines, "")
		lines = append(lines, wrap("No tank was sounded yet: its past would stand here.", z.w, 0)...)
		return f.look.part(lines, 0, z.h)
	}
	tank := f.stores.tanks[within(s.used, len(f.stores.tanks))]
	past := f.pastLines(tank, z.w)
	// The past keeps at least half of the page; its newest lines are the last.
	room := max(z.h/2, z.h-len(lines)-1)
	if len(past) > room {
		past = append(past[:1:1], past[len(past)-room+1:]...)
	}
	rates := f.look.part(lines, 0, max(0, z.h-len(past)-1))
	return append(append(rates, ""), past...)
}

// rateLines are the rates as they were seen.
func (f facts) rateLines(w int) []string {
	l := f.look
	lines := para(l.title, "", "Used, from the soundings, against the plan", w)
	if len(f.stores.uses) == 0 {
		lines = append(lines, wrap("Nothing is learnt yet: sound all tanks of a thing, and again a day or more later. Where she was partly at sea and partly at anchor, or a tank was filled to the brim between, nothing is learnt.", w, 0)...)
	}
	for _, u := range f.stores.uses {
		style := l.keys
		if u.IsAbove() {
			style = l.caution
		}
		lines = append(lines, para(style, l.pad(string(u.Thing), 6), l.clean(u.Words(f.assessment.Units)+": "+u.Verdict()), w)...)
		for _, line := range u.Lines {
			lines = append(lines, blanks(6)+l.clip(l.clean(line), w-6))
		}
	}
	if f.stores.doubt != nil {
		lines = append(lines, para(l.caution, "", l.clean(checklist.DoubtWords(*f.stores.doubt, f.assessment.Units)), w)...)
	}
	return lines
}

// pastLines are a tank through its soundings, a bar each; the first line names it.
func (f facts) pastLines(tank provisions.Tank, w int) []string {
	l, units := f.look, f.assessment.Units
	lines := []string{l.title.Render(l.clip(fmt.Sprintf("%s: its soundings (up and down: another tank)", l.clean(tank.Name)), w))}
	bar := min(40, w-36)
	for _, then := range f.definitions.History(f.state, tank) {
		when := then.At.In(f.zone()).Format(momentLayout)
		if then.Moved != 0 {
			word := "in"
			if then.Moved < 0 {
				word = "out"
			}
			lines = append(lines, l.clip(fmt.Sprintf("  %s  %s %s", when, l.clean(then.Told), word), w))
			continue
		}
		line := fmt.Sprintf("  %s  %10s", when, then.Level.Down(tank.Holds, units))
		if bar > 4 {
			full := max(0, min(bar, int(then.Share*float64(bar)+0.5)))
			line += "  " + strings.Repeat(l.full, full) + strings.Repeat(l.rest, bar-full)
		}
		lines = append(lines, l.clip(line, w))
	}
	return lines
}
