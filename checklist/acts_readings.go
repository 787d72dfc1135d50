package checklist

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// gauges are what a reading may hold, and of which dimension it is.
var gauges = map[string]quantity.Dimension{
	"rpm": quantity.OfCount, "hours": quantity.OfCount, "speed": quantity.OfSpeed, "coolant": quantity.OfTemperature,
	"oil": quantity.OfPressure, "volts": quantity.OfVoltage, "sea": quantity.OfTemperature, "raw_out": quantity.OfTemperature,
}

// NewReading is what the gauges said, as pairs "coolant=82C": rpm, hours, speed,
// coolant, oil, volts, sea, raw_out; minutes at these revs; under_way=yes|no,
// sails=up|down, water=usual|little|none|steam and smoke=none|black|white|blue at the
// exhaust, note.
func (s State) NewReading(d Definitions, pairs []string) (Reading, error) {
	r := Reading{}
	seen := map[string]bool{}
	for _, pair := range pairs {
		of, text, is := strings.Cut(pair, "=")
		if !is {
			return Reading{}, refuse(fmt.Sprintf("%q is no reading", clip(pair)), `write it like "coolant=82C"`)
		}
		if seen[of] {
			return Reading{}, refuse(fmt.Sprintf("%s is given twice", clip(of)), "give it once")
		}
		seen[of] = true
		if err := r.set(of, strings.TrimSpace(text)); err != nil {
			return Reading{}, err
		}
	}
	if len(r.Values) == 0 && r.Note == "" && r.Water == "" && r.Smoke == "" {
		return Reading{}, refuse("nothing was read", `write at least one, like "coolant=82C"`)
	}
	if hours, has := r.value("hours", quantity.OfCount); has && hours < s.hoursNow(d) {
		return Reading{}, refuse(fmt.Sprintf("the hour-meter stood at %g already", s.hoursNow(d)), "read it again"+s.meterEntry())
	}
	if wrong := machinery.Mistakes(d.Boat.Engine, r.gauges(), nil, d.Boat.Units); len(wrong) > 0 {
		return Reading{}, wrong[0]
	}
	return r, nil
}

// meterEntry tells how the entry is corrected that tells the most hours; "": there is none.
func (s State) meterEntry() string {
	most, entry := 0.0, 0
	for _, r := range s.Readings {
		if hours, has := r.value("hours", quantity.OfCount); has && hours >= most {
			most, entry = hours, r.Seq
		}
	}
	for _, done := range s.Services {
		if done.Hours > most {
			most, entry = done.Hours, done.Seq
		}
	}
	if entry == 0 {
		return ""
	}
	return fmt.Sprintf("; if entry %d is the one that is wrong: hoveshort correct %d REASON", entry, entry)
}

// ReadingPairs puts "coolant=82" "C" together again: what holds no sign belongs to the
// pair before it.
func ReadingPairs(words []string) []string {
	var list []string
	for _, word := range words {
		if n := len(list); n > 0 && !strings.Contains(word, "=") {
			list[n-1] += " " + word
			continue
		}
		list = append(list, word)
	}
	return list
}

func (r *Reading) set(of, text string) error {
	if err := checkText(of, text); err != nil {
		return err
	}
	switch of {
	case "note":
		r.Note = text
		return nil
	case "sails":
		if text != "up" && text != "down" {
			return refuse(fmt.Sprintf("sails=%q", clip(text)), "sails=up or sails=down")
		}
		r.Sails = text
		return nil
	case "water":
		_, err := machinery.ParseWater(text)
		r.Water = text
		return err
	case "smoke":
		_, err := machinery.ParseSmoke(text)
		r.Smoke = text
		return err
	case "under_way":
		if text != "yes" && text != "no" {
			return refuse(fmt.Sprintf("under_way=%q", clip(text)), "under_way=yes or under_way=no")
		}
		r.Moored = text == "no"
		return nil
	case "minutes":
		minutes, err := strconv.ParseFloat(text, 64)
		if err != nil || !(minutes >= 0 && minutes <= 100000) {
			return refuse(fmt.Sprintf("minutes=%q", clip(text)), "write how long at these revs, like minutes=20")
		}
		r.Minutes = minutes
		return nil
	}
	return r.setGauge(of, text)
}

func (r *Reading) setGauge(of, text string) error {
	dimension, known := gauges[of]
	if !known {
		names := slices.Sorted(maps.Keys(gauges))
		return unknown("gauge", of, append(names, "minutes", "note", "sails", "smoke", "under_way", "water"))
	}
	value, err := quantity.ParseAny(text)
	if err != nil {
		return err
	}
	if of == "hours" && value.Dimension == quantity.OfDuration {
		value.Dimension = quantity.OfCount
	}
	if value.Dimension != dimension {
		example := map[quantity.Dimension]string{
			quantity.OfCount: of + "=2300", quantity.OfSpeed: of + "=5.9kn", quantity.OfTemperature: of + "=82C",
			quantity.OfPressure: of + "=3.1bar", quantity.OfVoltage: of + "=13.9V",
		}
		return refuse(fmt.Sprintf("%q is no value of %s", clip(text), of), "write it like "+example[dimension])
	}
	if dimension != quantity.OfTemperature && value.Value < 0 {
		return refuse(fmt.Sprintf("%s cannot be below zero", of), "read it again")
	}
	r.Values = append(r.Values, ReadingValue{Of: of, Value: value})
	return nil
}
