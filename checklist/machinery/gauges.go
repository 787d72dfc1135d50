package machinery

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Gauge is what is read at the engine, by the name it has in a reading.
type Gauge string

// The gauges.
const (
	GaugeRPM     Gauge = "rpm"
	GaugeSpeed   Gauge = "speed"
	GaugeCoolant Gauge = "coolant"
	GaugeOil     Gauge = "oil"
	GaugeVolts   Gauge = "volts"
	GaugeSea     Gauge = "sea"
	GaugeRawOut  Gauge = "raw_out"
	GaugeHours   Gauge = "hours"
	GaugeMinutes Gauge = "minutes"
	GaugeWater   Gauge = "water"
	GaugeSmoke   Gauge = "smoke"
)

// Sails is what was set; "" where it was not told.
type Sails string

// What may be set.
const (
	SailsUp   Sails = "up"
	SailsDown Sails = "down"
)

// Water is the water at the exhaust as it was seen; "" where nobody looked.
type Water string

// What the water may be like.
const (
	WaterUsual  Water = "usual"
	WaterLittle Water = "little"
	WaterNone   Water = "none"
	WaterSteam  Water = "steam"
)

// ParseWater reads one of the words for the water at the exhaust. The error is a *quantity.Error.
func ParseWater(text string) (Water, error) {
	switch w := Water(text); w {
	case WaterUsual, WaterLittle, WaterNone, WaterSteam:
		return w, nil
	}
	return "", saidWrong("water", text, "usual, little, none or steam")
}

// Smoke is the smoke at the exhaust as it was seen; "" where nobody looked.
type Smoke string

// What the smoke may be like.
const (
	SmokeNone  Smoke = "none"
	SmokeBlack Smoke = "black"
	SmokeWhite Smoke = "white"
	SmokeBlue  Smoke = "blue"
)

// ParseSmoke reads one of the words for the smoke. The error is a *quantity.Error.
func ParseSmoke(text string) (Smoke, error) {
	switch s := Smoke(text); s {
	case SmokeNone, SmokeBlack, SmokeWhite, SmokeBlue:
		return s, nil
	}
	return "", saidWrong("smoke", text, "none, black, white or blue")
}

func saidWrong(of, text, cure string) error {
	if runes := []rune(text); len(runes) > 60 {
		text = string(runes[:59]) + "…"
	}
	return &quantity.Error{Problem: fmt.Sprintf("%s=%q is no word for it", of, text), Cure: "write " + cure}
}

// Gauges is one reading as the engine tells it. Whatever was not read is nil,
// "" or 0, and nothing is made of it.
type Gauges struct {
	At      time.Time
	RPM     *int // 0: the engine stood
	Speed   *quantity.Speed
	Coolant *quantity.Temperature
	Oil     *quantity.Pressure
	Volts   *quantity.Voltage
	Sea     *quantity.Temperature
	RawOut  *quantity.Temperature // raw water after the exchanger, at the marked spot
	Hours   *float64              // of the hour-meter
	AtRevs  time.Duration         // how long at these revs; 0: not told
	Moored  bool                  // not under way
	Sails   Sails
	Water   Water
	Smoke   Smoke
	Note    string // the skipper's words; never judged
}

// Degrees is a difference of temperatures in °C, of either sign.
type Degrees float64

// In is d for people: "4 °C", "2.5 °C", "7 °F"; °C to one decimal where it is not
// whole, the smaller °F whole.
func (d Degrees) In(units quantity.System) string {
	if units == quantity.US {
		return roundedText(float64(d)*1.8, 1) + " °F"
	}
	return roundedText(float64(d), 10) + " °C"
}

// isNought says that d shows as nothing.
func (d Degrees) isNought(units quantity.System) bool { return d.In(units) == Degrees(0).In(units) }

func roundedText(value, parts float64) string {
	rounded := math.Round(value*parts) / parts
	if rounded == 0 {
		rounded = 0 // not "-0"
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// What a gauge can say at all; beyond it somebody mistyped or a gauge is broken.
// Common practice, no source, but for sea water's freezing at about -2 °C.
const (
	coldestCoolant, hottestCoolant = quantity.Temperature(-30), quantity.Temperature(150)
	coldestSea, warmestSea         = quantity.Temperature(-3), quantity.Temperature(40)
	coldestRawOut, hottestRawOut   = quantity.Temperature(-3), quantity.Temperature(120)
	mostOil                        = quantity.Pressure(15)
	mostVolts                      = quantity.Voltage(70) // of a 48 V system
	mostSpeed                      = quantity.Speed(25)
	mostRevs                       = 8000
	overRated                      = 1.3 // no engine turns so many times its rated revs
	mostAtRevs                     = 100000 * time.Minute
	thermometers                   = quantity.Temperature(2) // two of them may differ so much

	// An hour-meter driven by the revs may run a little ahead of the clock.
	meterAhead = 1.1
	meterSlack = 1.0 // h
)

// mistake is one thing about a reading that cannot be right.
type mistake struct {
	of  Gauge
	err *quantity.Error
}

// Mistakes tells what about a reading cannot be right: values no gauge shows, an
// hour-meter that went backward or ran ahead of the clock, raw water colder than the
// sea or hotter than the coolant. past may be in any order; what is not earlier than
// the reading is left out. Each error is a *quantity.Error, with its cure.
func Mistakes(engine passage.Engine, g Gauges, past []Gauges, units quantity.System) []error {
	var all []error
	for _, m := range mistakesIn(engine, g, past, units) {
		all = append(all, m.err)
	}
	return all
}

func mistakesIn(engine passage.Engine, g Gauges, past []Gauges, units quantity.System) []mistake {
	all := g.beyond(units)
	all = append(all, g.revsWrong(engine)...)
	all = append(all, g.watersWrong(units)...)
	return append(all, g.meterWrong(engine, earlier(past, g.At))...)
}

// beyond is what no gauge shows.
func (g Gauges) beyond(units quantity.System) []mistake {
	const other = "read it again; a value in the other unit wants its letter, like 180F or 82C"
	var all []mistake
	add := func(of Gauge, told, low, high, cure string) {
		problem := fmt.Sprintf("%s %s cannot be (%s to %s)", of, told, low, high)
		all = append(all, mistake{of, &quantity.Error{Problem: problem, Cure: cure}})
	}

	temperature := func(of Gauge, t *quantity.Temperature, low, high quantity.Temperature) {
		if t != nil && !possible(*t, low, high) {
			add(of, t.In(units), low.In(units), high.In(units), other)
		}
	}
	temperature(GaugeCoolant, g.Coolant, coldestCoolant, hottestCoolant)
	temperature(GaugeSea, g.Sea, coldestSea, warmestSea)
	temperature(GaugeRawOut, g.RawOut, coldestRawOut, hottestRawOut)
	if g.Oil != nil && !possible(*g.Oil, 0, mostOil) {
		add(GaugeOil, g.Oil.In(units), quantity.Pressure(0).In(units), mostOil.In(units), "read it again; psi and bar want their letters, like 45psi or 3.1bar")
	}
	if g.Volts != nil && !possible(*g.Volts, 0, mostVolts) {
		add(GaugeVolts, g.Volts.In(units), "0 V", mostVolts.In(units), "read it again")
	}
	if g.Speed != nil && !possible(*g.Speed, 0, mostSpeed) {
		add(GaugeSpeed, g.Speed.In(units), "0 kn", mostSpeed.In(units), "write the speed through the water, like 5.9kn")
	}
	return all
}

// possible is false for what is no number.
func possible[T ~float64](v, low, high T) bool { return v >= low && v <= high }

func (g Gauges) revsWrong(engine passage.Engine) []mistake {
	var all []mistake
	most := mostRevs
	if engine.RatedRPM > 0 {
		most = int(overRated * float64(engine.RatedRPM))
	}
	if g.RPM != nil && (*g.RPM < 0 || *g.RPM > most) {
		problem := fmt.Sprintf("rpm %d is nothing this engine turns (0 to %d)", *g.RPM, most)
		all = append(all, mistake{GaugeRPM, &quantity.Error{Problem: problem, Cure: "read it again"}})
	}
	if g.AtRevs < 0 || g.AtRevs > mostAtRevs {
		problem := "so many minutes at the same revs cannot be"
		all = append(all, mistake{GaugeMinutes, &quantity.Error{Problem: problem, Cure: "write how long at these revs, like minutes=20"}})
	}
	return all
}

// watersWrong compares the thermometers: raw water only warms on its way, and never
// above the coolant that warms it.
func (g Gauges) watersWrong(units quantity.System) []mistake {
	if g.RawOut == nil {
		return nil
	}
	const cure = "read both again; one thermometer is wrong, or the two are swapped"
	var all []mistake
	if g.Sea != nil && *g.RawOut < *g.Sea-thermometers {
		problem := fmt.Sprintf("raw water leaves at %s, colder than the sea at %s", g.RawOut.In(units), g.Sea.In(units))
		all = append(all, mistake{GaugeRawOut, &quantity.Error{Problem: problem, Cure: cure}})
	}
	if g.Coolant != nil && *g.RawOut > *g.Coolant+thermometers {
		problem := fmt.Sprintf("raw water leaves at %s, hotter than the coolant at %s", g.RawOut.In(units), g.Coolant.In(units))
		all = append(all, mistake{GaugeRawOut, &quantity.Error{Problem: problem, Cure: cure}})
	}
	return all
}

// meterWrong compares the hour-meter with what it showed before, and with the clock.
func (g Gauges) meterWrong(engine passage.Engine, past []Gauges) []mistake {
	if g.Hours == nil {
		return nil
	}
	wrong := func(problem, cure string) []mistake {
		return []mistake{{GaugeHours, &quantity.Error{Problem: problem, Cure: cure}}}
	}

	last, at := lastHours(past)
	if at.IsZero() {
		last = engine.Hours
	}
	const cure = "read it again; of a new meter write the old one's hours and its own together; a wrong earlier entry can be corrected"
	if !(*g.Hours >= last) || math.IsInf(*g.Hours, 0) {
		return wrong(fmt.Sprintf("the hour-meter shows %s h and showed %s h before: it cannot go backward", hoursText(*g.Hours), hoursText(last)), cure)
	}
	if at.IsZero() {
		return nil
	}
	if passed := g.At.Sub(at).Hours(); *g.Hours-last > passed*meterAhead+meterSlack {
		return wrong(fmt.Sprintf("the hour-meter ran %s h in %s", hoursText(*g.Hours-last), quantity.Rough(g.At.Sub(at))), cure)
	}
	return nil
}

// lastHours is what the hour-meter showed last, and when; the zero time where it
// was never read.
func lastHours(past []Gauges) (hours float64, at time.Time) {
	for _, g := range past {
		if g.Hours == nil || math.IsNaN(*g.Hours) {
			continue
		}
		if at.IsZero() || g.At.After(at) || g.At.Equal(at) && *g.Hours > hours {
			hours, at = *g.Hours, g.At
		}
	}
	return hours, at
}

func hoursText(h float64) string { return strconv.FormatFloat(h, 'f', 1, 64) }

// earlier is what was read before a moment.
func earlier(readings []Gauges, at time.Time) []Gauges {
	var before []Gauges
	for _, g := range readings {
		if g.At.Before(at) {
			before = append(before, g)
		}
	}
	return before
}

// credible is the reading without the values that cannot be. A coolant that is
// impossibly hot stays: it is judged like any other that is too hot.
func (g Gauges) credible(units quantity.System) Gauges {
	for _, m := range g.beyond(units) {
		switch m.of {
		case GaugeCoolant:
			if !(*g.Coolant > hottestCoolant) {
				g.Coolant = nil
			}
		case GaugeSea:
			g.Sea = nil
		case GaugeRawOut:
			g.RawOut = nil
		case GaugeOil:
			g.Oil = nil
		case GaugeVolts:
			g.Volts = nil
		case GaugeSpeed:
			g.Speed = nil
		}
	}
	return g
}

// comparable is the reading without any value that cannot be, the hot ones too: for
// what is made of many readings.
func (g Gauges) comparable() Gauges {
	g = g.credible(quantity.Metric)
	if g.Coolant != nil && *g.Coolant > hottestCoolant {
		g.Coolant = nil
	}
	return g
}

// stands says that the engine was read as not turning.
func (g Gauges) stands() bool { return g.RPM != nil && *g.RPM == 0 }
