package checklist

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Sensors says which sensor tells what: paths of the Signal K data model, whose values are in
// SI units. A value of a sensor becomes a sounding or a reading like any other, after it was
// judged; nothing is taken by itself.
type Sensors struct {
	URL    string        // where a server has the vessel; "": none is written
	Self   string        // how the server names her; "": it says so itself
	MaxAge time.Duration // how old a value may be; 0: usualMaxAge
	Tanks  map[string]string
	Gauges map[string]string // rpm, hours, speed, coolant, oil, volts, sea, raw_out
}

// SensorGauges are the gauges of a reading that a sensor may tell, in the order in which they are told.
var SensorGauges = []string{"rpm", "hours", "speed", "coolant", "oil", "volts", "sea", "raw_out"}

// The two ways in which a tank is told, by the last part of its path: a share from 0 to 1, or m³.
const (
	TankRatio  = "currentLevel"
	TankVolume = "currentVolume"
)

// Sensed is what a sensor said.
type Sensed struct {
	Value   float64   // in SI units
	At      time.Time // zero: it did not say when
	Missing string    // why there is no number; "": there is one
}

// SensedValue is what a sensor said of one tank or gauge, and what is made of it.
type SensedValue struct {
	Kind Kind   // KindSound or KindReading
	Of   string // the tank, or the gauge
	Path string
	Sensed
	Text string // as it would be typed: "62.4 %", "84.2C"
	Why  string // it is left out; "": it is taken
	Cure string
}

// IsTaken says that it may be written.
func (v SensedValue) IsTaken() bool { return v.Why == "" }

func (v *SensedValue) leaveOut(err error) {
	v.Why, v.Cure = err.Error(), ""
	var refusal *quantity.Error
	if errors.As(err, &refusal) {
		v.Why, v.Cure = refusal.Problem, refusal.Cure
	}
}

// usualMaxAge is how old a value may be where nothing is written. Ours, no source.
const usualMaxAge = 10 * time.Minute

// sensorAhead is how far a sensor's clock may run before the boat's. Ours, no source: two computers
// aboard seldom keep the same second.
const sensorAhead = 30 * time.Second

// brimShare is the share of its capacity from which on a sensor says full. A level at the
// capacity counts as filled to the brim, without any error, and that no sensor can tell: many
// say full before the tank is. Common practice, no source.
const brimShare = 0.999

// JudgeSensed judges what the sensors say now, tank by tank and gauge by gauge; said looks a path
// up. What is old, undated, of the future, impossible, or older than a sounding or a reading that
// is there, is left out, with the reason.
func (d Definitions) JudgeSensed(s State, now time.Time, said func(path string) Sensed) []SensedValue {
	var all []SensedValue
	for _, tank := range d.Boat.Tanks {
		if path := d.Boat.Sensors.Tanks[tank.Name]; path != "" {
			all = append(all, d.judgeLevel(s, now, SensedValue{Kind: KindSound, Of: tank.Name, Path: path, Sensed: said(path)}))
		}
	}
	first := len(all)
	for _, gauge := range SensorGauges {
		if path := d.Boat.Sensors.Gauges[gauge]; path != "" {
			all = append(all, d.judgeGauge(s, now, SensedValue{Kind: KindReading, Of: gauge, Path: path, Sensed: said(path)}))
		}
	}
	d.judgeTogether(s, all[first:])
	return all
}

// fresh is why a value cannot be told for now; nil: it can.
func (d Definitions) fresh(now time.Time, v Sensed) error {
	age, most := now.Sub(v.At), cmp.Or(d.Boat.Sensors.MaxAge, usualMaxAge)
	switch {
	case v.Missing != "":
		return refuse(v.Missing, "look at the sensor, or at its path in boat.toml")
	case math.IsNaN(v.Value) || math.IsInf(v.Value, 0):
		return refuse("it is no number", "look at the sensor")
	case v.At.IsZero():
		return refuse("it does not say when it was measured", "a value without a timestamp is not taken; read it by hand")
	case age < -sensorAhead:
		return refuse(fmt.Sprintf("it was measured %s from now", roughly(-age)), "one of the two clocks is wrong: set it, then ask again")
	case age > most:
		return refuse(fmt.Sprintf("it is %s old, and max_age is %s", roughly(age), roughly(most)), "switch the sensor on, or read it by hand")
	}
	return nil
}

func roughly(d time.Duration) string {
	if d < 2*time.Minute {
		return fmt.Sprintf("%d s", d/time.Second)
	}
	return quantity.RoughUp(d)
}

// judgeLevel judges a tank, by the same rules as a sounding by hand.
func (d Definitions) judgeLevel(s State, now time.Time, v SensedValue) SensedValue {
	tank, known := d.Tank(v.Of)
	if !known {
		v.Why = "there is no such tank"
		return v
	}
	if err := d.fresh(now, v.Sensed); err != nil {
		v.leaveOut(err)
		return v
	}
	text, err := levelText(v.Path, v.Value, tank.Holds)
	if err != nil {
		v.leaveOut(err)
		return v
	}
	v.Text = text
	sound, err := d.NewSounding(s, v.Of, text, false)
	if err != nil {
		v.leaveOut(err)
		if _, possible := d.NewSound(v.Of, text); possible == nil { // it rose, and no fill was written
			v.Cure = fmt.Sprintf("write the fill first; if the level is right: hoveshort sound %q %q --sure", v.Of, text)
		}
		return v
	}
	if d.isBrim(sound) {
		v.leaveOut(refuse("it says full, and a level at the brim counts without any error, which no sensor can tell",
			fmt.Sprintf("filled to the brim: hoveshort fill %q full; else read it by hand", v.Of)))
	}
	if last := s.Tanks[v.Of].At; !last.IsZero() && !last.Before(v.At) {
		v.leaveOut(refuse("the tank was sounded since: "+s.Tanks[v.Of].Level, "the later sounding stands"))
	}
	return v
}

// isBrim says that the level is so near to the capacity that it may count as filled.
func (d Definitions) isBrim(sound Sound) bool {
	tank, _ := d.Tank(sound.Tank)
	level, err := provisions.ParseLevel(sound.Level, tank.Holds)
	if err != nil {
		return false
	}
	amount, err := tank.AmountAt(level)
	return err == nil && amount >= brimShare*tank.Capacity
}

// levelText is a tank's value as it would be typed, rounded down: what is aboard is never more.
func levelText(path string, v float64, holds passage.Thing) (string, error) {
	if !strings.HasSuffix(path, "."+TankVolume) {
		if !(v >= 0 && v <= 1) {
			return "", refuse(fmt.Sprintf("%s is no share from 0 to 1", plainNumber(v)), "look at the sensor: the specification gives a ratio")
		}
		return plainNumber(down(v*100, 10)) + " %", nil
	}
	if holds == passage.Gas {
		return "", refuse("gas is told by weight, not by volume", "read it by hand")
	}
	if v < 0 {
		return "", refuse(fmt.Sprintf("%s m3 is below nothing", plainNumber(v)), "look at the sensor")
	}
	return plainNumber(down(v*1000, 10)) + " L", nil
}

// down rounds down to a part; a crumb of float is no part.
func down(v, parts float64) float64 {
	const crumb = 1e-6
	return math.Floor(v*parts+crumb) / parts
}

func near(v, parts float64) float64 { return math.Round(v*parts)/parts + 0 }

func plainNumber(v float64) string {
	if math.Abs(v) >= 1e9 {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Of one gauge: what its SI value is, as it would be typed. 1 kn is 1852 m/h, 0 °C is 273.15 K,
// 1 bar is 100 000 Pa (SI Brochure, 9th edition); revolutions are Hz, running time seconds (Signal
// K Specification 1.7, propulsion).
var gaugeText = map[string]func(v float64) string{
	"rpm":     func(v float64) string { return plainNumber(near(v*60, 1)) },
	"hours":   func(v float64) string { return plainNumber(down(v/3600, 100)) },
	"speed":   func(v float64) string { return plainNumber(near(v*3600/1852, 100)) + "kn" },
	"coolant": celsiusText, "sea": celsiusText, "raw_out": celsiusText,
	"oil":   func(v float64) string { return plainNumber(near(v/1e5, 100)) + "bar" },
	"volts": func(v float64) string { return plainNumber(near(v, 100)) + "V" },
}

func celsiusText(kelvin float64) string { return plainNumber(near(kelvin-273.15, 10)) + "C" }

// judgeGauge judges one gauge, by the same rules as a reading by hand.
func (d Definitions) judgeGauge(s State, now time.Time, v SensedValue) SensedValue {
	if err := d.fresh(now, v.Sensed); err != nil {
		v.leaveOut(err)
		return v
	}
	v.Text = gaugeText[v.Of](v.Value)
	if _, err := s.NewReading(d, []string{v.pair()}); err != nil {
		v.leaveOut(err)
		return v
	}
	for _, r := range slices.Backward(s.Readings) {
		tells := slices.ContainsFunc(r.Values, func(value ReadingValue) bool { return value.Of == v.Of })
		if tells && !r.At.Before(v.At) {
			v.leaveOut(refuse(fmt.Sprintf("it was read since, entry %d", r.Seq), "the later reading stands"))
			break
		}
	}
	return v
}

func (v SensedValue) pair() string { return v.Of + "=" + v.Text }

// oneMoment is how much older than the newest a gauge of one reading may be: the coolant of now
// says nothing at the revs of before. Ours, no source.
const oneMoment = 2 * time.Minute

// isSteady are the gauges that do not follow the revs within minutes.
func (v SensedValue) isSteady() bool { return v.Of == "hours" || v.Of == "sea" }

// judgeTogether leaves out what is of another moment than the rest, and all gauges that cannot
// be right beside each other: which of them is wrong is not for the program to say.
func (d Definitions) judgeTogether(s State, gauges []SensedValue) {
	var newest time.Time
	for _, v := range gauges {
		if v.IsTaken() && !v.isSteady() && v.At.After(newest) {
			newest = v.At
		}
	}
	for i := range gauges {
		v := &gauges[i]
		if older := newest.Sub(v.At); v.IsTaken() && !v.isSteady() && older > oneMoment {
			v.leaveOut(refuse(fmt.Sprintf("it is %s older than the newest gauge, and a reading is of one moment", roughly(older)), "ask again, or read it by hand"))
		}
	}
	pairs := Pairs(gauges)
	if len(pairs) == 0 {
		return
	}
	_, err := s.NewReading(d, pairs)
	if err == nil {
		return
	}
	for i := range gauges {
		if gauges[i].IsTaken() {
			gauges[i].leaveOut(err)
		}
	}
}

// Pairs are the gauges that are taken, as NewReading takes them.
func Pairs(all []SensedValue) []string {
	var pairs []string
	for _, v := range all {
		if v.Kind == KindReading && v.IsTaken() {
			pairs = append(pairs, v.pair())
		}
	}
	return pairs
}

// NewSensedSounding is the sounding that a sensor's value comes to, judged at this moment.
func (d Definitions) NewSensedSounding(s State, now time.Time, tank string, v Sensed) (Sound, error) {
	judged := d.judgeLevel(s, now, SensedValue{Kind: KindSound, Of: tank, Path: d.Boat.Sensors.Tanks[tank], Sensed: v})
	if !judged.IsTaken() {
		return Sound{}, refuse(judged.Why, judged.Cure)
	}
	return d.NewSounding(s, tank, judged.Text, false)
}
