package checklist

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// agenda is what the fit boat's agenda says of one name.
func agenda(d Definitions, l log, name string) (AgendaItem, []string) {
	items, notes := Agenda(d, Fold(l), l.assess(d, evening))
	for _, item := range items {
		if item.Name == name {
			return item, notes
		}
	}
	return AgendaItem{}, notes
}

// The meter stands at 1000 h, she leaves on 12 June at 06:00 and is under way 25.8 h in the slow
// case, half of it under engine: 1003 h come about six hours out, 1100 h do not. Arithmetic.
func TestEachServiceStandsOnItsDay(t *testing.T) {
	day := func(month time.Month, n int) quantity.Date { return quantity.Date{Year: 2026, Month: month, Day: n} }
	done := func(date quantity.Date, hours float64) machinery.Done {
		return machinery.Done{Date: date, Hours: hours}
	}
	rows := []struct {
		name    string
		service machinery.Service
		day     quantity.Date
		what    string
	}{
		{"by calendar", machinery.Service{EveryMonths: 12, Last: done(day(time.January, 31), 900)}, quantity.Date{Year: 2027, Month: 1, Day: 31}, "Service: by calendar"},
		{"by hours, on the passage", machinery.Service{EveryHours: 103, Last: done(day(time.May, 1), 900)}, day(time.June, 12), "Service: by hours, on the passage"},
		{"by hours before its day", machinery.Service{EveryHours: 103, EveryMonths: 12, Last: done(day(time.May, 1), 900)}, day(time.June, 12), "Service: by hours before its day"},
		{"by its day before the hours", machinery.Service{EveryHours: 500, EveryMonths: 2, Last: done(day(time.May, 1), 900)}, day(time.July, 1), "Service: by its day before the hours"},
		{"overdue by calendar", machinery.Service{EveryMonths: 1, Last: done(day(time.March, 31), 900)}, day(time.April, 30), "Service overdue: overdue by calendar"},
		{"overdue by hours", machinery.Service{EveryHours: 50, Last: done(day(time.May, 1), 900)}, day(time.June, 11), "Service overdue: overdue by hours"},
		{"never done", machinery.Service{EveryHours: 50}, day(time.June, 11), "Service overdue: never done"},
		{"by hours, later", machinery.Service{EveryHours: 200, Last: done(day(time.May, 1), 900)}, quantity.Date{}, ""},
		{"by need", machinery.Service{}, quantity.Date{}, ""},
	}
	for _, row := range rows {
		d := fitBoat()
		row.service.Name = row.name
		d.Services = []machinery.Service{row.service}
		item, notes := agenda(d, nil, row.name)
		assert.Equal(t, row.day, item.Day, row.name)
		assert.Equal(t, row.what, item.What, row.name)
		if row.what == "" {
			require.NotEmpty(t, notes)
			assert.Contains(t, notes[0], row.name+": ", "it is told why it has no day")
		}
	}
	assert.Len(t, rows, 9)
}

func TestGearStandsOnItsLastDay(t *testing.T) {
	d := fitBoat()
	d.Dated = []machinery.Dated{
		{Name: "flares", Until: quantity.Date{Year: 2027, Month: 5, Day: 31}, Place: "aft locker", Critical: true},
		{Name: "hose", Until: quantity.Date{Year: 2026, Month: 6, Day: 10}}, {Name: "today's", Until: quantity.Date{Year: 2026, Month: 6, Day: 11}}, {Name: "raft"},
	}
	item, notes := agenda(d, nil, "flares")
	assert.Equal(t, AgendaItem{
		Kind: AgendaDated, Name: "flares", Day: quantity.Date{Year: 2027, Month: 5, Day: 31}, What: "Last day: flares",
		Told: []string{"Where: aft locker.", "Critical: ended it stands in the way of the sign-off."},
	}, item)
	assert.Contains(t, notes, "raft: no date is written")
	item, _ = agenda(d, nil, "hose")
	assert.Equal(t, "Ended: hose", item.What)
	item, _ = agenda(d, nil, "today's")
	assert.Equal(t, "Last day: today's", item.What)

	var l log
	l.add(evening.Add(-time.Hour), Stow{Dated: "hose", Until: quantity.Date{Year: 2030, Month: 1, Day: 1}})
	item, _ = agenda(d, l, "hose")
	assert.Equal(t, 2030, item.Day.Year, "renewed, by the record")
}

func TestTheTimeToWorryIsTheSheets(t *testing.T) {
	d := fitBoat()
	_, notes := agenda(d, nil, d.Plan.Name)
	assert.Contains(t, notes[len(notes)-1], "no time to worry", "no overdue is written")
	d.Plan.Ashore.Overdue = 12 * time.Hour
	d.Plan.Ashore.Then = "Call\nthe rescue centre"
	item, notes := agenda(d, nil, d.Plan.Name)
	assert.Empty(t, notes)
	assert.Equal(t, NewSheet(d, Fold(nil), log(nil).assess(d, evening)).Worry, item.At)
	assert.True(t, item.Day.IsZero())
	assert.Contains(t, item.Told, "Then: Call the rescue centre")
	assert.Contains(t, item.Told, "As planned: she has not left. Ask for a new calendar and a new sheet when she leaves.")
}
