package machinery

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/quantity"
)

var plus13 = time.FixedZone("", 13*60*60)

func at(year int, month time.Month, d, hour, minute int) time.Time {
	return time.Date(year, month, d, hour, minute, 0, 0, plus13)
}

// underEngine is a voyage of one stint at sea from a departure on.
func underEngine(now, depart time.Time, meter, hours, engine float64) Ahead {
	return Ahead{Now: now, Meter: meter, Depart: depart, Stints: []Stint{{Start: depart, Hours: hours, Engine: engine, AtSea: true}}}
}

// The rows "service due" of the reference, checks 7.9 (recomputed there by hand).
func TestForecastAgreesWithThePublishedRows(t *testing.T) {
	oil := Service{Name: "oil", EveryHours: 150, EveryMonths: 12, Last: Done{Date: day(2025, 8, 31), Hours: 1250}, Takes: 90 * time.Minute}
	march := at(2026, 3, 1, 8, 0)
	tests := []struct {
		name  string
		now   time.Time
		meter float64
		run   float64 // engine hours on a passage of 40 h from now on
		falls Falls
		words string
	}{
		{"7.5 h left, not due", march, 1392.5, 0, Later, "not on this passage: at 1400 h or on 2026-08-31, whichever is first"},
		{"7.4 h of motoring", march, 1392.5, 7.4, Later, "not on this passage: at 1400 h or on 2026-08-31, whichever is first"},
		{"7.5 h of motoring", march, 1392.5, 7.5, OnPassage, "before leaving: 1 h 30; else due on day 2"},
		{"20 h of motoring", march, 1392.5, 20, OnPassage, "before leaving: 1 h 30; else due on day 1"},
		{"0.0 h left", march, 1400, 0, Overdue, "due now, at 1400 h: 1 h 30"},
		{"on the day itself", at(2026, 8, 31, 0, 0), 1392.5, 0, Overdue, "due today: 1 h 30"},
		{"on the day before", at(2026, 8, 29, 0, 0), 1392.5, 0, Later, "not on this passage: at 1400 h or on 2026-08-31, whichever is first"},
		{"a new meter, 1392.5 h on the old and 8.0 on it", march, 1392.5 + 8, 0, Overdue, "overdue since 1400 h by the meter, 0.5 h ago: 1 h 30"},
		{"past both", at(2026, 9, 2, 0, 0), 1424, 0, Overdue, "overdue since 2026-08-31 and 1400 h by the meter, 24 h ago: 1 h 30"},
		{"past the day", at(2026, 9, 2, 0, 0), 1399, 0, Overdue, "overdue since 2026-08-31: 1 h 30"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			f := oil.Forecast(underEngine(test.now, test.now, test.meter, 40, test.run/40))
			assert.Equal(t, test.falls, f.Falls)
			assert.Equal(t, test.words, f.Words())
			left, by := f.HoursLeft()
			assert.True(t, by)
			assert.InDelta(t, 1400-test.meter, left, 1e-9)
		})
	}
}

// It agrees with the gate's question, which adds the passage's hours to the meter.
func TestForecastAndDueSayTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, a := anyService(t), anyAhead(t)
		f, total, end := s.Forecast(a), a.Meter, a.Depart
		for _, stint := range a.Stints {
			total += stint.Engine * stint.Hours
			end = stint.end()
		}
		if f.Due == (Due{}) {
			assert.Equal(t, ByNeed, f.Falls)
			return
		}
		assert.Equal(t, f.Due.By(a.Meter, quantity.DateOf(a.Now)), f.Falls == Overdue)
		if f.Due.Hours == 0 || math.Abs(total-f.Due.Hours) > 1e-6 {
			assert.Equal(t, f.Due.By(total, quantity.DateOf(end)), f.IsDue(), "%v %v", f, a)
		}
	})
}

// Month ends are clamped, and a leap day has no twin in the next year: rows of the reference, checks 7.9.
func TestForecastClampsMonthEnds(t *testing.T) {
	for _, row := range []struct {
		last   quantity.Date
		months int
		want   quantity.Date
	}{
		{day(2019, 10, 31), 1, day(2019, 11, 30)},
		{day(2023, 1, 31), 1, day(2023, 2, 28)},
		{day(2024, 1, 31), 1, day(2024, 2, 29)},
		{day(2024, 2, 29), 12, day(2025, 2, 28)},
		{day(2024, 2, 29), 48, day(2028, 2, 29)},
		{day(2025, 8, 31), 6, day(2026, 2, 28)},
	} {
		s := Service{EveryMonths: row.months, Last: Done{Date: row.last}}
		depart := row.want.AddDays(-3).In(plus13).Add(6 * time.Hour)
		f := s.Forecast(underEngine(depart, depart, 0, 10*24, 0))
		assert.Equal(t, OnPassage, f.Falls)
		assert.Equal(t, row.want, quantity.DateOf(f.First.At), "%v and %d months", row.last, row.months)
		assert.Equal(t, 3, f.First.Day, "day 3 begins at 06:00 on the day before")
		assert.Equal(t, Later, s.Forecast(underEngine(depart, depart, 0, 2*24, 0)).Falls)
	}
}

// An impeller that looks sound after a year is changed all the same: common practice, no source.
func TestImpellerIsDueAfterAYearHoweverFewItsHours(t *testing.T) {
	impeller := Service{Name: "change raw-water impeller", EveryHours: 300, EveryMonths: 12, Last: Done{Date: day(2025, 5, 24), Hours: 1702}, Takes: 45 * time.Minute}
	f := impeller.Forecast(underEngine(at(2026, 5, 20, 5, 0), at(2026, 5, 21, 5, 0), 1712, 10*24, 0.3))
	left, _ := f.HoursLeft()
	assert.Equal(t, 290.0, left)
	assert.Equal(t, Moment{At: at(2026, 5, 24, 0, 0), By: ByCalendar, Day: 3, AtSea: true}, f.First)
	assert.Equal(t, "before leaving: 45 min; else due on day 3", f.Words())
}

func TestForecastFollowsTheStepsOfTheVoyage(t *testing.T) {
	depart := at(2026, 10, 2, 5, 30)
	a := Ahead{Now: at(2026, 10, 1, 20, 0), Meter: 1000, Depart: depart, Stints: []Stint{
		{Start: depart, Hours: 10 * 24, Engine: 0.5, AtSea: true},                                // 120 h
		{Start: depart.Add(10 * 24 * time.Hour), Hours: 4 * 24, Engine: 0.0625},                  // 6 h of charging
		{Start: depart.Add(14 * 24 * time.Hour), Hours: 10 * 24, Engine: 0.25, AtSea: true},      // 60 h
		{Start: depart.Add(24 * 24 * time.Hour), Hours: math.NaN(), Engine: 0.25, AtSea: true},   // no stint at all
		{Start: depart.Add(24 * 24 * time.Hour), Hours: 24, Engine: math.Inf(-1), AtSea: true},   // none of its engine
		{Start: depart.Add(25 * 24 * time.Hour), Hours: math.Inf(-1), Engine: 0.25, AtSea: true}, // no stint
	}}
	for _, row := range []struct {
		hours float64
		want  string
	}{
		{60, "day 6, hove to, 45 min; again on day 11, 24"}, // at 60, 120 and 180 h
		{120, "day 11, at anchor, 45 min"},                  // on arriving
		{123, "day 13, at anchor, 45 min"},
		{126, "day 15, at anchor, 45 min"}, // on leaving
		{126.25, "day 15, hove to, 45 min"},
		{138, "day 17, hove to, 45 min"},
		{186, "day 25, hove to, 45 min"},
		{186.1, "not on this passage: at 1186.1 h"},
	} {
		s := Service{EveryHours: row.hours, Last: Done{Date: day(2026, 1, 1), Hours: 1000}, UnderWay: true, Takes: 45 * time.Minute}
		assert.Equal(t, row.want, s.Forecast(a).Words(), "every %v h", row.hours)
	}
}

func TestServiceDueBetweenNowAndDepartureIsDoneBeforeLeaving(t *testing.T) {
	s := Service{EveryMonths: 1, Last: Done{Date: day(2026, 5, 20)}, Takes: 45 * time.Minute, UnderWay: true}
	for _, row := range []struct {
		depart time.Time
		want   string
	}{
		{at(2026, 6, 19, 23, 59), "day 1, hove to, 45 min"},
		{at(2026, 6, 20, 0, 0), "day 1, hove to, 45 min"},
		{at(2026, 6, 20, 0, 1), "before leaving: 45 min; due on 2026-06-20"},
	} {
		assert.Equal(t, row.want, s.Forecast(underEngine(at(2026, 6, 18, 9, 0), row.depart, 0, 48, 0)).Words(), row.depart)
	}
}

// Dates are those of the departure's offset, whatever zone now is written in.
func TestForecastReckonsDatesInDeparturesOffset(t *testing.T) {
	s := Service{EveryMonths: 1, Last: Done{Date: day(2026, 5, 20)}}
	depart := at(2026, 6, 25, 5, 0)
	assert.Equal(t, Overdue, s.Forecast(underEngine(time.Date(2026, 6, 19, 11, 0, 0, 0, time.UTC), depart, 0, 48, 0)).Falls, "midnight aboard")
	assert.Equal(t, BeforeLeaving, s.Forecast(underEngine(time.Date(2026, 6, 19, 10, 59, 0, 0, time.UTC), depart, 0, 48, 0)).Falls)
}

func TestServiceThatCannotBeDoneAtSeaSaysSo(t *testing.T) {
	depart := at(2026, 6, 12, 5, 30)
	anode := Service{EveryHours: 50, Last: Done{Date: day(2026, 6, 1), Hours: 1000}, Takes: 20 * time.Minute}
	a := underEngine(depart, depart, 1010, 10*24, 0.5)
	assert.Equal(t, "before leaving: 20 min; else due on day 4; done before leaving it is due again on day 5, and not to be done at sea", anode.Forecast(a).Words())
	assert.Equal(t, 1, anode.Forecast(a).Times())

	left := a
	left.Now, left.Meter = depart.Add(48*time.Hour), 1034
	left.Stints = []Stint{{Start: depart, Hours: 10 * 24, Engine: 0.5, AtSea: true}} // what is gone of it does not run the meter
	assert.Equal(t, "due on day 4, and not to be done at sea: 20 min", anode.Forecast(left).Words())
}

func TestWhatComesDueAgainIsReckonedFromWhenItIsDone(t *testing.T) {
	now := at(2026, 6, 1, 5, 30)
	s := Service{EveryMonths: 1, UnderWay: true, Last: Done{Date: day(2026, 4, 20)}}
	a := underEngine(now, now.Add(20*24*time.Hour), 0, 20*24, 0) // at sea from 21 June to 11 July
	assert.Equal(t, "overdue since 2026-05-20", s.Forecast(a).Words(), "done on leaving it is good for a month")
	a.Depart = now.Add(-time.Hour)
	a.Stints[0] = Stint{Start: a.Depart, Hours: 62 * 24, AtSea: true}
	assert.Equal(t, "overdue since 2026-05-20; again on day 30, 61", s.Forecast(a).Words(), "at sea it is done now, and each time it is due")
	s.Last.Date = day(2026, 5, 10)
	assert.Equal(t, "day 9, hove to; again on day 39", s.Forecast(a).Words())
}

func TestForecastTellsWhatIsWrongWithIt(t *testing.T) {
	now := at(2026, 6, 12, 5, 30)
	a := underEngine(now, now, 8, 24, 0.1)
	assert.Equal(t, "overdue: never done, or not written down", Service{EveryHours: 300}.Forecast(a).Words())
	assert.Equal(t, "by need", Service{Resets: "fouling"}.Forecast(a).Words())
	assert.Equal(t, "not on this passage: at 1400 h; the meter, 8 h, is behind the 1250 h of its last time: read it again",
		Service{EveryHours: 150, Last: Done{Date: day(2026, 1, 1), Hours: 1250}}.Forecast(a).Words())
	assert.Equal(t, "not on this passage: on 2026-09-14; its last time, 2026-06-14, lies ahead: that date or the clock is wrong",
		Service{EveryMonths: 3, Last: Done{Date: day(2026, 6, 14)}}.Forecast(a).Words())
	a.Meter = math.NaN()
	assert.True(t, Service{EveryHours: 150, Last: Done{Date: day(2026, 1, 1), Hours: 1250}}.Forecast(a).Behind)
	assert.Equal(t, Later, Service{EveryMonths: 3, Last: Done{Date: day(2026, 6, 1)}}.Forecast(Ahead{}).Falls, "no voyage at all")
}

func TestSparesGoToTheServicesInTheOrderInWhichTheyFallDue(t *testing.T) {
	depart := at(2026, 6, 12, 5, 30)
	a := underEngine(depart, depart, 1000, 10*24, 0.5) // 120 h
	service := func(name string, hours float64, critical bool, uses ...string) Service {
		return Service{
			Name: name, EveryHours: hours, Last: Done{Date: day(2026, 1, 1), Hours: 1000}, Critical: critical,
			UnderWay: true, Uses: uses, Tools: []string{"wrench", "puller"},
		}
	}
	spares := []Spare{{Name: "filter", Stowed: []Stowed{{Count: 2, Condition: New}, {Count: 5, Condition: Used}}}, {Name: "belt"}}
	tools := []Tool{{Name: "wrench", State: Stiff}, {Name: "puller", State: Seized}}
	list := Forecasts([]Service{
		service("far", 500, false, "filter", "filter", "filter"), service("later", 70, false, "filter"), service("often", 50, false, "filter"), service("with it", 70, true, "filter"),
	}, spares, tools, a)

	require.Len(t, list, 4)
	assert.Equal(t, []string{"often", "later", "with it", "far"}, []string{list[0].Service.Name, list[1].Service.Name, list[2].Service.Name, list[3].Service.Name})
	assert.Equal(t, []Part{{"filter", 1}}, list[0].Short, "the first of the two, the second time goes without")
	assert.Equal(t, []Part{{"filter", 1}}, list[1].Short)
	assert.Empty(t, list[2].Short, "at one moment the critical one comes first")
	assert.Equal(t, []Part{{"filter", 3}}, list[3].Short)
	assert.Equal(t, tools, list[0].Tools)
	assert.Equal(t, "day 5, hove to; again on day 9; not aboard: filter; wrench is stiff; puller is seized", list[0].Words())
	assert.False(t, list[2].CanBeDone(), "the puller is seized")
}

func TestStiffToolStopsNoService(t *testing.T) {
	list := Forecasts([]Service{{Name: "packing", EveryMonths: 1, Tools: []string{"wrench"}}, {Name: "other", EveryMonths: 1, Tools: []string{"on no list"}}},
		nil, []Tool{{Name: "wrench", State: Stiff}}, Ahead{})
	assert.True(t, list[0].CanBeDone())
	assert.False(t, list[1].CanBeDone())
	assert.Equal(t, []Tool{{Name: "on no list", State: Missing}}, list[1].Tools)
}

func TestMoreEngineHoursNeverBringAServiceLater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, a := anyService(t), anyAhead(t)
		more := a
		more.Stints = nil
		for _, stint := range a.Stints {
			stint.Engine += rapid.Float64Range(0, 0.3).Draw(t, "more engine")
			more.Stints = append(more.Stints, stint)
		}
		more.Meter += rapid.Float64Range(0, 200).Draw(t, "more on the meter")

		less, then := s.Forecast(a), s.Forecast(more)
		assert.LessOrEqual(t, then.Falls.rank(), less.Falls.rank())
		if then.Falls == less.Falls {
			assert.False(t, then.First.At.After(less.First.At.Add(time.Second)), "%v after %v", then.First, less.First)
			assert.LessOrEqual(t, then.First.Day, less.First.Day+1)
		}
	})
}

func TestMomentsComeOneAfterTheOtherWithinTheVoyage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, a := anyService(t), anyAhead(t)
		f := s.Forecast(a)
		last := f.First.At
		for _, m := range f.Again {
			// Done on leaving with the meter where it was, it is due when it would have been.
			assert.True(t, m.At.After(last) || !s.UnderWay && m.At.Equal(last))
			assert.False(t, m.At.After(a.trimmed().arrive()))
			last = m.At
		}
		assert.NotEmpty(t, f.Words())
	})
}

func anyService(t *rapid.T) Service {
	return Service{
		EveryHours:  float64(rapid.IntRange(0, 40).Draw(t, "tens of hours") * 10),
		EveryMonths: rapid.IntRange(0, 4).Draw(t, "months"),
		Last:        Done{Date: day(2026, 3, 1).AddDays(rapid.IntRange(0, 103).Draw(t, "done on")), Hours: float64(rapid.IntRange(900, 1000).Draw(t, "done at"))},
		UnderWay:    rapid.Bool().Draw(t, "under way"),
		Takes:       time.Duration(rapid.IntRange(0, 90).Draw(t, "takes")) * time.Minute,
	}
}

func anyAhead(t *rapid.T) Ahead {
	now := at(2026, 6, 12, 5, 30).Add(time.Duration(rapid.IntRange(0, 10000).Draw(t, "minutes on")) * time.Minute)
	a := Ahead{Now: now, Meter: float64(rapid.IntRange(1000, 1300).Draw(t, "meter")), Depart: now.Add(time.Duration(rapid.IntRange(0, 3000).Draw(t, "leaves in")) * time.Minute)}
	start := a.Depart
	for range rapid.IntRange(0, 5).Draw(t, "stints") {
		s := Stint{Start: start, Hours: float64(rapid.IntRange(1, 400).Draw(t, "hours")), Engine: rapid.Float64Range(0, 1).Draw(t, "engine"), AtSea: rapid.Bool().Draw(t, "at sea")}
		a.Stints = append(a.Stints, s)
		start = s.end()
	}
	return a
}

func BenchmarkForecasts(b *testing.B) {
	depart := at(2026, 6, 12, 5, 30)
	a := Ahead{Now: depart, Meter: 1000, Depart: depart}
	for i := range 20 {
		a.Stints = append(a.Stints, Stint{Start: depart.Add(time.Duration(i) * 24 * time.Hour), Hours: 24, Engine: 0.5, AtSea: true})
	}
	services := make([]Service, 40)
	for i := range services {
		services[i] = Service{EveryHours: float64(20 + 10*i), EveryMonths: 12, Last: Done{Date: day(2026, 1, 1), Hours: 990}, UnderWay: true, Uses: []string{"filter"}}
	}
	for b.Loop() {
		Forecasts(services, []Spare{{Name: "filter"}}, nil, a)
	}
}
