package provisions

import (
	"fmt"
	"strings"
	"time"

	"boat/hoveshort/provisions/passage"
)

// available tells what can be counted on at the stretch's beginning.
func (w *stretchSlate) available() {
	switch {
	case w.thing == passage.Food:
		w.fed()
	case !w.first:
		w.fullTanks()
	default:
		w.tanks()
	}
}

// fullTanks are what could be aboard on leaving a place that gives it.
func (w *stretchSlate) fullTanks() {
	for _, tank := range w.situation.Boat.Tanks {
		if tank.Holds == w.thing && !tank.Sealed {
			w.putf(tank.Name, w.exact(max(0, tank.Capacity-tank.Unusable)), "full: %s - %s below the pick-up", w.exact(tank.Capacity), w.exact(tank.Unusable))
		}
	}
	w.putf("available", w.stretch.Available.Down(w.thing, w.units), "the sum: all tanks filled at %s", w.stretch.From)
}

// tanks are what the soundings say, less what was used since.
func (w *stretchSlate) tanks() {
	for _, f := range w.reckoning.Tanks {
		if f.Tank.Holds == w.thing {
			w.put(f.Tank.Name, w.exact(f.Counted), w.counted(f))
		}
	}
	how := "the sum"
	if used, told, ok := w.usedSince(); ok {
		w.put("used since sounding", w.exact(used), told)
		how = "the sum of the tanks less what was used since, not below nothing"
	}
	w.put("available", w.stretch.Available.Down(w.thing, w.units), how)
}

// counted is how a tank comes to what it counts for.
func (w *stretchSlate) counted(f TankFigures) string {
	switch {
	case f.Tank.Sealed:
		return "sealed: kept for an emergency, never planned on"
	case f.Problem != nil:
		return "it cannot be at that level: " + f.Problem.Error()
	}
	words := []string{w.level(f)}
	if f.Error > 0 {
		words = append(words, fmt.Sprintf("%s that %s may be out by", w.exact(f.Error), w.instrument(f)))
	}
	if f.Tank.Unusable > 0 {
		words = append(words, w.exact(f.Tank.Unusable)+" below the pick-up")
	}
	how := strings.Join(words, " - ")
	if f.Level < f.Error+f.Tank.Unusable {
		how += ", not below nothing"
	}
	return how
}

// level is what the tank holds as it was told, with what was filled and taken since.
func (w *stretchSlate) level(f TankFigures) string {
	text := f.Held.Level.Text
	if text == "" {
		text = w.exact(f.Level)
	}
	told := "told as " + text
	if f.Held.At.IsZero() {
		told += ", not sounded"
	}
	if added := f.Held.Added; added > 0 {
		told += ", then " + w.exact(added) + " filled"
	} else if added < 0 {
		told += ", then " + w.exact(-added) + " taken"
	}
	if f.Level >= f.Tank.Capacity*(1-fullWithin) {
		told += ", to the brim"
	}
	return fmt.Sprintf("%s (%s)", w.exact(f.Level), told)
}

func (w *stretchSlate) instrument(f TankFigures) string {
	if f.Held.Level.Kind == ByDip {
		return "the dip"
	}
	return "the gauge"
}

// usedSince is what was used from the earliest sounding to the departure; not ok
// where no tank was sounded.
func (w *stretchSlate) usedSince() (used Amount, how string, ok bool) {
	if w.situation.Aboard.spent != nil {
		used = w.home.usedSinceSounding(w.thing, w.reckoning.Tanks, w.situation.Aboard, w.reckoning.Depart)
		return used, "as planned: it goes wrong at the departure", used > 0
	}
	earliest := earliestSounding(w.thing, w.reckoning.Tanks)
	if earliest.IsZero() {
		return 0, "", false
	}
	used = w.home.usedBetween(w.thing, w.situation.Aboard.Meter, earliest, w.reckoning.Depart)
	hours := hoursBetween(earliest, w.reckoning.Depart)
	since := fmt.Sprintf("%s from %s to departure", hoursText(hours), earliest.In(w.reckoning.Depart.Location()).Format(moment))
	if w.thing == passage.Fuel {
		return used, since + ": " + w.burntSince(earliest), true
	}
	return used, fmt.Sprintf("%s x %s at anchor", since, w.aDay(w.home.atAnchor().of(w.thing)*dayHours)), true
}

// burntSince is how the fuel since a sounding comes about.
func (w *stretchSlate) burntSince(from time.Time) string {
	h, depart := w.home, w.reckoning.Depart
	charging := h.chargingBurn * h.charging
	ran, until, known := h.meterBetween(w.situation.Aboard.Meter, from, depart)
	burn, _, ok := h.engine.BurnAt(h.engine.CruiseRPM)

	var words []string
	rest := hoursBetween(from, depart)
	if known && ok {
		words = append(words, fmt.Sprintf("the hour-meter ran %s, x %s at cruise revs", hoursText(ran), w.flow(float64(burn))))
		rest = hoursBetween(until, depart)
	}
	words = append(words, fmt.Sprintf("%s of charging at %s", hoursText(rest), w.aDay(charging)))
	if h.heater > 0 {
		words = append(words, fmt.Sprintf("the heater at %s", w.aDay(h.heater)))
	}
	return strings.Join(words, " + ")
}
