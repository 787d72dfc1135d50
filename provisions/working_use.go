package provisions

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/provisions/passage"
)

// component is one part of a sum.
type component struct {
	what, how string
	amount    float64 // litres, kilograms or person-days
}

// use tells the rates at which a thing is used.
func (w *stretchSlate) use() {
	switch w.thing {
	case passage.Water:
		w.waterUse()
	case passage.Fuel:
		w.fuelUse()
	case passage.Gas:
		w.gasUse()
	case passage.Food:
		if w.first {
			w.rations()
		}
	}
}

// components are what adds up to the need.
func (w *stretchSlate) components() []component {
	if w.thing == passage.Fuel {
		return append(w.fuelComponents(), w.oneOffUses()...)
	}
	return append(w.byRate(), w.oneOffUses()...)
}

// oneOffUses are those that are counted on this stretch.
func (w *stretchSlate) oneOffUses() []component {
	var list []component
	for _, o := range w.course.occasions(w.cut) {
		if o.use.What == w.thing {
			list = append(list, component{"one-off use", o.use.Words(), o.use.Amount})
		}
	}
	return list
}

func (w *stretchSlate) waterUse() {
	rates, plan := w.situation.Boat.Rates.Water, w.situation.Plan
	hot := ""
	if plan.Climate == passage.Hot && rates.HotWeather > 1 {
		hot = " x " + number(rates.HotWeather, nearest) + " for the heat"
	}
	alone := rates
	alone.Boat = 0
	each := Amount(alone.daily(1, plan.Climate))
	w.putf("a person a day", w.exact(each), "drinking %s%s + cooking %s + washing %s",
		w.exact(Amount(rates.Drinking)), hot, w.exact(Amount(rates.Cooking)), w.exact(Amount(rates.Washing)))
	w.putf("all a day", w.exact(Amount(w.home.water)), "%s x %s + the boat %s", persons(plan.Crew), w.exact(each), w.exact(Amount(rates.Boat)))
	if w.home.maker != nil {
		w.watermaker()
	}
}

// watermaker tells what is made a day, at sea and at anchor.
func (w *stretchSlate) watermaker() {
	m := *w.home.maker
	run := m.Run.Hours()
	if !m.NeedsEngine {
		w.putf("watermaker", w.aDay(w.home.made(0)), "%s x %s%s", w.flow(float64(m.Output)), hoursText(run), w.stillUsed(0))
		return
	}
	charging := min(run, w.home.charging)
	for _, power := range w.powersAtSea() {
		w.putf("watermaker at sea", w.aDay(w.home.made(power)), "it needs the engine: %s x (%s x %s under engine + %s x %s while charging)%s",
			w.flow(float64(m.Output)), hoursText(run), percent(power), hoursText(charging), percent(1-power), w.stillUsed(power))
	}
	if w.part.hoursIn(passage.Stay)+w.part.hoursIn(passage.Wait) > 0 {
		w.putf("watermaker at anchor", w.aDay(w.home.made(0)), "%s x %s while charging%s", w.flow(float64(m.Output)), hoursText(charging), w.stillUsed(0))
	}
}

// stillUsed is what is used a day of what is aboard, the watermaker's taken off.
func (w *stretchSlate) stillUsed(power float64) string {
	used := w.home.without(power).water * dayHours
	return fmt.Sprintf("; %s - %s, not below nothing: %s of what is aboard", w.exact(Amount(w.home.water)), w.exact(Amount(w.home.made(power))), w.aDay(used))
}

func (w *stretchSlate) powersAtSea() []float64 {
	var list []float64
	for _, span := range w.part.spans {
		if span.Kind == passage.AtSea {
			list = addOnce(list, span.Power)
		}
	}
	return list
}

func (w *stretchSlate) gasUse() {
	rates, crew := w.situation.Boat.Rates.Gas, w.situation.Plan.Crew
	w.putf("all a day", w.exact(Amount(w.home.gas)), "the boat %s + %s x %s", w.exact(Amount(rates.Boat)), persons(crew), w.exact(Amount(rates.Person)))
}

// byRate are the days at each rate, what she does in them told apart.
func (w *stretchSlate) byRate() []component {
	var list []component
	for _, kind := range spanKinds {
		rates := w.ratesIn(kind)
		for _, rate := range rates {
			c := component{what: kindWord(kind)}
			hours := 0.0
			var legs []string
			for i, span := range w.part.spans {
				if span.Kind == kind && w.part.uses[i].of(w.thing) == rate {
					hours += span.Hours
					c.amount += rate * span.Hours
					legs = addOnce(legs, fmt.Sprint(span.Leg+1))
				}
			}
			if len(rates) > 1 {
				c.what += ", leg " + strings.Join(legs, ", ")
			}
			c.how = fmt.Sprintf("%s x %s", daysText(hours/dayHours), w.aDay(rate*dayHours))
			if w.thing == passage.Food {
				c.how = fmt.Sprintf("%s x %s", daysText(hours/dayHours), persons(w.situation.Plan.Crew))
			}
			list = append(list, c)
		}
	}
	return list
}

func (w *stretchSlate) ratesIn(kind passage.SpanKind) []float64 {
	var list []float64
	for i, span := range w.part.spans {
		if span.Kind == kind {
			list = addOnce(list, w.part.uses[i].of(w.thing))
		}
	}
	return list
}

func (w *stretchSlate) fuelUse() {
	for _, span := range w.part.spans {
		if span.Power > 0 {
			w.burn(span.RPM)
		}
	}
	h := w.home
	if a := h.chargingBurn * h.charging; a > 0 {
		w.putf("charging a day", w.exact(Amount(a)), "%s x %s, on a day without other engine hours", hoursText(h.charging), w.flow(h.chargingBurn))
	}
	if h.heater > 0 {
		heater := w.situation.Boat.Heater
		w.putf("heater a day", w.exact(Amount(h.heater)), "%s x %s, in the cold", hoursText(heater.Run.Hours()), w.flow(float64(heater.Burn)))
	}
}

// burn tells where the burn at such revs comes from, each once.
func (w *stretchSlate) burn(rpm int) {
	burn, how, ok := w.burnOf(w.home.engine, rpm)
	what := fmt.Sprintf("burn at %d rpm", rpm)
	told := slices.ContainsFunc(w.lines, func(l WorkingLine) bool { return l.What == what })
	if ok && !told {
		w.put(what, burn, how)
	}
}

// burnOf is the burn of an engine at such revs, and where it comes from.
func (w slate) burnOf(e passage.Engine, rpm int) (burn, how string, ok bool) {
	flow, estimated, ok := e.BurnUnderWay(rpm)
	switch {
	case !ok:
		return "", "", false
	case estimated:
		how = fmt.Sprintf("estimated, there is no curve: %s kW x 0.30 L/kWh x (%d/%d)^3, not below 0.5 L/h", number(float64(e.RatedPower), nearest), rpm, e.RatedRPM)
	default:
		how = w.onCurve(e, rpm, func(r passage.CurveRow) string { return w.flow(float64(r.Burn)) })
	}
	return w.flow(float64(flow)), how, true
}

// onCurve says which rows of the curve a value comes from.
func (w slate) onCurve(e passage.Engine, rpm int, column func(passage.CurveRow) string) string {
	for i, row := range e.Curve {
		switch {
		case row.RPM == rpm:
			return "the curve's row"
		case i == 0 && rpm < row.RPM:
			return fmt.Sprintf("below the curve's first row, taken as there: %d rpm, %s", row.RPM, column(row))
		case i > 0 && e.Curve[i-1].RPM < rpm && rpm < row.RPM:
			low := e.Curve[i-1]
			return fmt.Sprintf("linear between the rows %d rpm, %s and %d rpm, %s", low.RPM, column(low), row.RPM, column(row))
		}
	}
	return "outside the curve"
}

// fuelComponents are the engine leg by leg, the charging and the heater.
func (w *stretchSlate) fuelComponents() []component {
	var (
		list             []component
		sailing, sea     float64 // days of charging at sea, and days at sea
		anchored, heated float64 // days
	)
	h := w.home
	from, to := w.cut.within(w.course.voyage.Spans) // whole: not cut where something is used at once
	for _, span := range w.course.voyage.Spans[from:max(from, to)] {
		days := span.Hours / dayHours
		heated += days
		if span.Kind != passage.AtSea {
			anchored += days
			continue
		}
		sea += days
		sailing += days * (1 - span.Power)
		if span.Power > 0 {
			list = append(list, w.underEngine(span))
		}
	}
	charging := h.chargingBurn * h.charging
	rate := w.aDay(charging)
	if charging*sailing > 0 {
		list = append(list, component{"charging at sea", fmt.Sprintf("%s of %s not under engine, x %s", daysText(sailing), daysText(sea), rate), charging * sailing})
	}
	if charging*anchored > 0 {
		list = append(list, component{"charging at anchor", fmt.Sprintf("%s x %s", daysText(anchored), rate), charging * anchored})
	}
	if h.heater*heated > 0 {
		list = append(list, component{"heater", fmt.Sprintf("%s x %s", daysText(heated), w.aDay(h.heater)), h.heater * heated})
	}
	return list
}

func (w *stretchSlate) underEngine(span passage.Span) component {
	burn, _, _ := w.home.engine.BurnUnderWay(span.RPM)
	hours := span.Power * span.Hours
	return component{
		what: fmt.Sprintf("leg %d under engine", span.Leg+1),
		how: fmt.Sprintf("%s of %s = %s, x %s at %d rpm", percent(span.Power), hoursText(span.Hours),
			hoursText(hours), w.flow(float64(burn)), span.RPM),
		amount: hours * float64(burn),
	}
}
