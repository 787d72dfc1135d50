package checklist

import (
	"slices"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Engine is how the engine stands: the latest reading against normal, how its gauges
// move, and when its services fall due.
type Engine struct {
	Latest    *ReadingState // nil: none is kept
	Judgement machinery.Judgement
	Readings  []machinery.Gauges // those that are kept and not in doubt, oldest first
	Trends    []machinery.Trend
	Forecasts []machinery.Forecast // the most urgent first
}

// LookAtEngine judges what a was assessed from; d are the definitions as the files have
// them. It is asked for by what shows the engine alone.
func LookAtEngine(d Definitions, s State, a Assessment) Engine {
	d = d.Now(s)
	e := Engine{Forecasts: d.forecasts(s, a)}
	e.Readings = s.gauges(a.Now)
	for _, of := range machinery.Trended {
		charting := machinery.Charting{Since: d.trendSince(of, a.Now.Location())}
		if t := machinery.TrendOf(d.Boat.Engine, e.Readings, of, charting, a.Units); len(t.Points) > 0 {
			e.Trends = append(e.Trends, t)
		}
	}
	if i := s.latestReading(a.Now); i >= 0 {
		e.Latest = &s.Readings[i]
		e.Judgement = d.JudgeReading(s, *e.Latest, a.Units)
	}
	return e
}

// latestReading is the newest reading of a gauge that is not in doubt; -1: none.
func (s State) latestReading(now time.Time) int {
	for i := len(s.Readings) - 1; i >= 0; i-- {
		if r := s.Readings[i]; !r.Doubtful && !r.At.After(now) && r.isOfEngine() {
			return i
		}
	}
	return -1
}

// isOfEngine says that it tells how the engine runs; the hour-meter alone, as a noon has it,
// does not.
func (r Reading) isOfEngine() bool {
	gauge := func(v ReadingValue) bool { return v.Of != "hours" }
	return slices.ContainsFunc(r.Values, gauge) || r.Water != "" || r.Smoke != ""
}

// JudgeReading compares a reading with the engine's clean curve, and with those before it.
func (d Definitions) JudgeReading(s State, r ReadingState, units quantity.System) machinery.Judgement {
	var past []machinery.Gauges
	for _, before := range s.Readings {
		if !before.Doubtful && before.Seq < r.Seq {
			past = append(past, before.gauges())
		}
	}
	return machinery.Judge(d.Boat.Engine, r.gauges(), past, machinery.Limits{}, units)
}

// gauges are the readings that are not in doubt, oldest first.
func (s State) gauges(now time.Time) []machinery.Gauges {
	var list []machinery.Gauges
	for _, r := range s.Readings {
		if !r.Doubtful && !r.At.After(now) {
			list = append(list, r.gauges())
		}
	}
	return list
}

// gauges is the reading as the engine's judge takes it.
func (r ReadingState) gauges() machinery.Gauges {
	g := r.Reading.gauges()
	g.At = r.At
	return g
}

func (r Reading) gauges() machinery.Gauges {
	g := machinery.Gauges{
		AtRevs: time.Duration(r.Minutes * float64(time.Minute)), Moored: r.Moored, Sails: machinery.Sails(r.Sails),
		Water: machinery.Water(r.Water), Smoke: machinery.Smoke(r.Smoke), Note: r.Note,
	}
	if v, has := r.value("rpm", quantity.OfCount); has {
		rpm := int(v)
		g.RPM = &rpm
	}
	if v, has := r.value("hours", quantity.OfCount); has {
		g.Hours = &v
	}
	g.Speed = gauge[quantity.Speed](r, "speed", quantity.OfSpeed)
	g.Coolant = gauge[quantity.Temperature](r, "coolant", quantity.OfTemperature)
	g.Oil = gauge[quantity.Pressure](r, "oil", quantity.OfPressure)
	g.Volts = gauge[quantity.Voltage](r, "volts", quantity.OfVoltage)
	g.Sea = gauge[quantity.Temperature](r, "sea", quantity.OfTemperature)
	g.RawOut = gauge[quantity.Temperature](r, "raw_out", quantity.OfTemperature)
	return g
}

// gauge is a value of a reading; nil: it was not read.
func gauge[T ~float64](r Reading, of string, dimension quantity.Dimension) *T {
	v, has := r.value(of, dimension)
	if !has {
		return nil
	}
	value := T(v)
	return &value
}

// trendSince is when a new series of a gauge began: a scrub begins one of the speed.
func (d Definitions) trendSince(of machinery.Gauge, zone *time.Location) time.Time {
	if of == machinery.GaugeSpeed {
		return d.foulingReset(zone)
	}
	return time.Time{}
}

// forecasts is when each service falls due on the slow voyage.
func (d Definitions) forecasts(s State, a Assessment) []machinery.Forecast {
	slow := a.Reckoning.Cases[passage.Slow].Voyage
	ahead := machinery.Ahead{Now: a.Now, Meter: s.hoursNow(d), Depart: a.Reckoning.Depart}
	for i, hours := range a.situation.EngineHours(slow) {
		span := slow.Spans[i]
		ahead.Stints = append(ahead.Stints, machinery.Stint{
			Start: span.Start, Hours: span.Hours, Engine: hours, AtSea: span.Kind == passage.AtSea,
		})
	}
	return machinery.Forecasts(slices.Clone(d.Services), d.Spares, d.Tools, ahead)
}
