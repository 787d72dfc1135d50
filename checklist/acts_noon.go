package checklist

import (
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

// NoonTold is what a skipper told at noon, as typed; any of it may be "".
type NoonTold struct {
	To       string // the place she makes for; "": as before
	ToGo     string // to there, "340 nm"
	Position string // "20 06.5 S, 174 54.2 W"; without ToGo the miles are reckoned from it
	Run      string // by the log since the last noon, "112 nm"
	Hours    string // of the hour-meter
	Levels   []TankLevel
	Wind     string // "18 kn", "18 kn NE"
	Pressure string // "1013 hPa"
	Sleep    string // hours in the last 24, "5 h"
	Decided  []DecisionAnswered
	Note     string
	Sure     bool // what looks wrong was looked at again
}

// fastest is more than any boat of this kind makes good for hours on end, in knots. Common
// practice, no source: beyond it a number was mistyped.
const fastest = 20

// NewNoon is how she stands under way. What looks wrong is asked back, and taken with Sure:
// more miles to go than before, more miles made good than a boat makes, a tank that rose.
func NewNoon(d Definitions, s State, now time.Time, told NoonTold) (Noon, error) {
	if !s.Voyage.UnderWay() {
		return Noon{}, refuse("she is not under way", "she leaves with: hoveshort depart")
	}
	n := Noon{Wind: strings.TrimSpace(told.Wind), Note: strings.TrimSpace(told.Note), Decided: told.Decided}
	for _, step := range []func() error{
		func() error { return n.where(d, s, now, told) },
		func() (err error) { n.Hours, err = s.hoursTold(d, now, told.Hours, told.Sure); return err },
		func() (err error) { n.Levels, err = d.levelsTold(s, now, told.Levels, told.Sure); return err },
		func() error { return n.weather(told) },
		func() (err error) { n.Sleep, err = sleepTold(told.Sleep); return err },
		n.check,
	} {
		if err := step(); err != nil {
			return Noon{}, err
		}
	}
	if n.isEmpty() {
		return Noon{}, refuse("nothing was told", `tell the miles to go or the position, as "340 nm"`)
	}
	return n, nil
}

func (n Noon) isEmpty() bool {
	return n.ToGo == 0 && n.Position == nil && n.Run == 0 && n.Hours == 0 && len(n.Levels) == 0 && n.Wind == "" &&
		n.Pressure == "" && n.Sleep == nil && n.Note == "" && len(n.Decided) == 0
}

// where is how far it is to go, as told, or along the great circle from the position.
func (n *Noon) where(d Definitions, s State, now time.Time, told NoonTold) error {
	whole := d.Whole()
	last := s.fix(whole)
	n.To = last.To
	if to := strings.TrimSpace(told.To); to != "" {
		place, err := d.place(to)
		if err != nil {
			return err
		}
		if place != last.To && legTo(whole.Plan.Legs, place, 0) < 0 {
			return refuse(place+" is the end of no leg", "another destination is a change of plan: hoveshort change")
		}
		n.To = place
	}
	if strings.TrimSpace(told.Run) != "" {
		run, err := parseMiles(told.Run)
		if err != nil {
			return err
		}
		n.Run = run
	}
	if strings.TrimSpace(told.Position) != "" {
		p, err := passage.ParsePosition(told.Position)
		if err != nil {
			return err
		}
		n.Position = &p
	}
	if err := n.miles(whole, told); err != nil {
		return err
	}
	if told.Sure || n.ToGo == 0 {
		return nil
	}
	return n.doubted(last, now)
}

// miles are those to go.
func (n *Noon) miles(whole Definitions, told NoonTold) (err error) {
	if strings.TrimSpace(told.ToGo) != "" {
		n.ToGo, err = parseMiles(told.ToGo)
		return err
	}
	if n.Position == nil {
		return nil
	}
	i := legTo(whole.Plan.Legs, n.To, 0)
	if i < 0 {
		return refuse("where "+n.To+" lies is not known", "tell the miles to go too")
	}
	leg := whole.Plan.Legs[i]
	end, known := leg.End()
	switch {
	case !known:
		return refuse("where "+n.To+" lies is not known", "tell the miles to go too, or write its position in passage.toml")
	case len(leg.Route) > 2:
		return refuse("the way to "+n.To+" is not straight", "tell the miles to go too")
	}
	n.ToGo = math.Max(float64(passage.GreatCircle(*n.Position, end)), 0.1)
	return nil
}

// doubted asks back what cannot well be.
func (n *Noon) doubted(last Fix, now time.Time) error {
	if n.To != last.To {
		return nil
	}
	gone := float64(last.ToGo) - n.ToGo
	hours := now.Sub(last.At).Hours()
	switch {
	case gone < 0:
		return refuse(fmt.Sprintf("%.0f nm to go is more than the %.0f nm before", n.ToGo, float64(last.ToGo)),
			"look again; if she was set back, say so with --sure")
	case gone > fastest*max(hours, 1):
		return refuse(fmt.Sprintf("%.0f nm in %.0f h is faster than she sails", gone, hours), "look again; if it is right, say so with --sure")
	}
	return nil
}

// weather is the wind and the pressure as typed; each must begin with a quantity.
func (n *Noon) weather(told NoonTold) error {
	if n.Wind != "" {
		if _, known := windIn(n.Wind); !known {
			return refuse(fmt.Sprintf("%q is no wind", clip(n.Wind)), `write it like "18 kn" or "18 kn NE"`)
		}
	}
	if text := strings.TrimSpace(told.Pressure); text != "" {
		p, err := quantity.ParseAny(text)
		if err != nil {
			return err
		}
		if p.Dimension != quantity.OfPressure {
			return refuse(fmt.Sprintf("%q is no pressure", clip(text)), `write it like "1013 hPa"`)
		}
		n.Pressure = text
	}
	return nil
}

// windIn is the speed at the beginning of a wind.
func windIn(text string) (quantity.Speed, bool) {
	words := strings.Fields(text)
	for n := min(2, len(words)); n > 0; n-- {
		if v, err := quantity.ParseSpeed(strings.Join(words[:n], " ")); err == nil {
			return v, true
		}
	}
	return 0, false
}

// sleepTold are hours of sleep in the last 24.
func sleepTold(text string) (*float64, error) {
	if text = strings.TrimSpace(text); text == "" {
		return nil, nil
	}
	hours, err := strconv.ParseFloat(text, 64)
	if err != nil {
		d, err := quantity.ParseDuration(text)
		if err != nil {
			return nil, refuse(fmt.Sprintf("%q is no time of sleep", clip(text)), `write the hours of the last 24, as "5 h"`)
		}
		hours = d.Hours()
	}
	if !(hours >= 0 && hours <= 24) {
		return nil, refuse(fmt.Sprintf("%g h of sleep are not in 24", hours), "write the hours of the last 24")
	}
	return &hours, nil
}

func (n *Noon) check() error {
	texts := []string{n.To, n.Wind, n.Pressure, n.Note}
	for _, d := range n.Decided {
		if strings.TrimSpace(d.Why) == "" {
			return refuse("a decision has a reason: "+d.Point, "say why, in your own words")
		}
		texts = append(texts, d.Point, d.Why)
	}
	for _, text := range texts {
		if err := checkText("text", text); err != nil {
			return err
		}
	}
	return nil
}

// NoonQuestions is what a noon asks the skipper: decision points that came up with it, a last
// moment for turning back before the next noon, and limits of the skipper's own that it passes. Each wants whether she goes on, and why.
func NoonQuestions(d Definitions, entries []Entry, n Noon, now time.Time) []DecisionPoint {
	seq := 1
	if len(entries) > 0 {
		seq = entries[len(entries)-1].Seq + 1
	}
	s := Fold(append(slices.Clip(entries), Entry{Seq: seq, At: now, Act: n}))
	var asked []DecisionPoint
	if a := Assess(d.Whole(), s, now); a.Way != nil {
		for _, p := range a.Way.Points {
			if p.ToGo <= 0 {
				asked = append(asked, p)
			}
		}
	}
	return asked
}

// hoursTold is the hour-meter as typed: never behind what it was, and no farther on than the
// time that passed.
func (s State) hoursTold(d Definitions, now time.Time, text string, sure bool) (float64, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	r, err := s.NewReading(d, []string{"hours=" + text})
	if err != nil {
		return 0, err
	}
	hours, _ := r.value("hours", quantity.OfCount)
	if sure {
		return hours, nil
	}
	last := provisions.Meter{At: s.Voyage.Depart.At, Hours: s.Voyage.Depart.Hours}
	if meter := s.meter(); len(meter) > 0 && meter[len(meter)-1].At.After(last.At) {
		last = meter[len(meter)-1]
	}
	if ran, passed := hours-last.Hours, now.Sub(last.At).Hours(); ran > passed+1 {
		return 0, refuse(fmt.Sprintf("the hour-meter would have run %.1f h in the %.1f h since it was last read", ran, passed), "read it again; if it is right, say so with --sure")
	}
	return hours, nil
}

// untouched is the level of a tank that nobody drew from.
const untouched = "same"

// levelsTold are soundings as typed; "same" is a tank that nobody drew from. Of a thing all
// tanks that are planned on are told together: what was drawn from one that is left out would
// be counted twice or not at all.
func (d Definitions) levelsTold(s State, now time.Time, told []TankLevel, sure bool) ([]TankLevel, error) {
	var levels []TankLevel
	things := map[passage.Thing]bool{}
	for _, l := range told {
		level, err := d.levelTold(s, l, sure)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(levels, func(o TankLevel) bool { return o.Tank == level.Tank }) {
			return nil, refuse(level.Tank+" is told twice", "tell it once")
		}
		tank, _ := d.Tank(level.Tank)
		things[tank.Holds] = true
		levels = append(levels, level)
	}
	for _, t := range d.Boat.Tanks {
		isTold := slices.ContainsFunc(levels, func(l TankLevel) bool { return l.Tank == t.Name })
		soundedNow := now.Sub(s.Tanks[t.Name].At) < time.Hour
		if things[t.Holds] && !isTold && !t.Sealed && !soundedNow {
			return nil, refuse(fmt.Sprintf("%s is not told, and another tank of %s is", t.Name, t.Holds),
				fmt.Sprintf(`sound it too, or say that nobody drew from it: "%s=%s"`, t.Name, untouched))
		}
	}
	return levels, nil
}

func (d Definitions) levelTold(s State, l TankLevel, sure bool) (TankLevel, error) {
	tank, err := d.tank(l.Tank)
	if err != nil {
		return l, err
	}
	held, heldErr := s.Held(tank)
	if strings.EqualFold(strings.TrimSpace(l.Level), untouched) {
		if heldErr != nil || held.At.IsZero() {
			return l, refuse(tank.Name+" was not sounded yet: same as what?", "sound it")
		}
		if held.Added == 0 && held.Level.Kind != provisions.Brim { // the brim is what a filling tells
			return TankLevel{tank.Name, held.Level.Text}, nil
		}
		there, err := tank.AmountAt(held.Level)
		return TankLevel{tank.Name, written(there+held.Added, tank.Holds)}, err
	}
	sound, err := d.NewSounding(s, l.Tank, l.Level, sure)
	return TankLevel(sound), err
}

// written is an amount as it is written into the record, rounded down to the thousandth.
func written(a provisions.Amount, holds passage.Thing) string {
	unit := "L"
	if holds == passage.Gas {
		unit = "kg"
	}
	return strconv.FormatFloat(math.Floor(float64(a)*1000+1e-6)/1000, 'f', -1, 64) + " " + unit
}

// risen is by how much a sounding is above what the tank was known to hold, beyond what two
// readings may be out by; 0: it is not, or it was not known.
func (d Definitions) risen(s State, sound Sound) provisions.Amount {
	tank, known := d.Tank(sound.Tank)
	held, err := s.Held(tank)
	if !known || err != nil || held.At.IsZero() {
		return 0
	}
	level, err := provisions.ParseLevel(sound.Level, tank.Holds)
	if err != nil || level.Kind == provisions.Brim { // full is what a filling is told as
		return 0
	}
	now, err := tank.AmountAt(level)
	if err != nil {
		return 0
	}
	before, err := tank.AmountAt(held.Level)
	if err != nil {
		return 0
	}
	out := max(tank.ErrorOf(level.Kind), tank.ErrorOf(held.Level.Kind), leastOut)
	rise := now - (before + held.Added)
	if rise <= 2*provisions.Amount(out)*tank.Capacity {
		return 0
	}
	return rise
}

// leastOut is the share of its capacity by which any reading of a tank may be out. Common
// practice, no source.
const leastOut = 0.02
