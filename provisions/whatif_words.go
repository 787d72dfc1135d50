package provisions

import (
	"fmt"
	"strconv"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Words say what to do: "38 L more water at Near Bay", "3 cans of 20 L water (2 trips
// ashore)", "1800 rpm instead of 2300". Amounts are rounded up.
func (c Cure) Words(units quantity.System) string {
	switch c.Kind {
	case CureLoad:
		return c.Amount.Up(c.Thing, units) + " more " + c.cargo() + " at " + c.Place
	case CureSlower:
		return c.revs()
	case CureRation:
		return fmt.Sprintf("water rationed to %s a person, all told, from day %d", c.Each.Down(c.Thing, units), c.From)
	case CureStop:
		return fmt.Sprintf("a stop at %s that gives %s (not sure)", c.Place, c.Thing)
	case CureCans:
		return c.cans(units)
	}
	return ""
}

func (c Cure) cargo() string {
	if c.Keeps == "" {
		return string(c.Thing)
	}
	return string(c.Thing) + " " + c.Keeps
}

func (c Cure) revs() string {
	if c.Instead > 0 {
		return fmt.Sprintf("%d rpm instead of %d", c.RPM, c.Instead)
	}
	return fmt.Sprintf("%d rpm on every leg", c.RPM)
}

func (c Cure) cans(units quantity.System) string {
	text := counted(c.Cans, "can") + " of " + c.Can.nearest(c.Thing, units) + " " + string(c.Thing)
	if c.Full {
		text = "full tanks and " + text
	}
	if c.Place != "" {
		text += " at " + c.Place
	}
	return text + " (" + counted(c.Trips, "trip") + " ashore)"
}

func counted(n int, of string) string {
	if n == 1 {
		return "1 " + of
	}
	return strconv.Itoa(n) + " " + of + "s"
}

// Words say how it ends: "holds", "runs out of water on day 12, 140 nm short; then
// 20 L sealed", "cannot make leg 2 (Near Bay to Far Harbour) in the slow case". With a
// zone the day's date stands beside it. What the verdict takes for granted is told.
func (w WhatIf) Words(units quantity.System, zone *time.Location) string {
	return w.ends(units, zone) + w.granted(units)
}

// granted is what the verdict takes for granted.
func (w WhatIf) granted(units quantity.System) string {
	switch {
	case w.Rationed > 0:
		return ", on " + w.Rationed.Down(passage.Water, units) + " of water a person from the departure"
	case w.Verdict == Holds && (w.Kind == NoWind || w.Kind == NoEngine):
		return "; fuel is not judged"
	}
	return ""
}

func (w WhatIf) ends(units quantity.System, zone *time.Location) string {
	switch {
	case len(w.Unmade) > 0:
		return w.unmade()
	case w.Verdict == RunsOut:
		return w.runsOut(units, zone)
	case w.Verdict == IntoReserve:
		return fmt.Sprintf("into the %s reserve on %s, %s missing", w.Thing, w.day(zone), w.Missing.Up(w.Thing, units))
	}
	return string(w.Verdict)
}

func (w WhatIf) runsOut(units quantity.System, zone *time.Location) string {
	text := fmt.Sprintf("runs out of %s on %s", w.Thing, w.day(zone))
	if w.Miles > 0 {
		text += ", " + w.Miles.Up(units) + " short"
	}
	if w.Sealed > 0 {
		text += "; then " + w.Sealed.Down(w.Thing, units) + " sealed"
	}
	return text
}

func (w WhatIf) day(zone *time.Location) string {
	text := "day " + strconv.Itoa(w.Day)
	if zone == nil {
		return text
	}
	return text + " (" + w.At.In(zone).Format("2 Jan") + ")"
}

func (w WhatIf) unmade() string {
	legs := "leg " + strconv.Itoa(w.Unmade[0]+1) + " (" + w.From + " to " + w.To + ")"
	for _, leg := range w.Unmade[1:] {
		legs += ", nor leg " + strconv.Itoa(leg+1)
	}
	if len(w.Unmade) > 1 {
		legs += ","
	}
	return "cannot make " + legs + " in the " + string(w.Case) + " case"
}
