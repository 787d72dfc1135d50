package checklist

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// AgendaKind is what a date of the agenda is of.
type AgendaKind string

// The kinds of a date.
const (
	AgendaService AgendaKind = "service"
	AgendaDated   AgendaKind = "dated"
	AgendaWorry   AgendaKind = "worry"
)

// AgendaItem is one date for a calendar: of a day, or of a moment.
type AgendaItem struct {
	Kind AgendaKind
	Name string        // of the service or the gear; of the passage
	Day  quantity.Date // zero: it is of a moment
	At   time.Time     // of a moment
	What string        // in a line
	Told []string      // more of it, a sentence each
}

// Agenda is when services fall due, when gear ends, and when it is time to worry: the dates that
// the reports have, put together for a calendar. Notes are what has no date, and why.
func Agenda(d Definitions, s State, a Assessment) (items []AgendaItem, notes []string) {
	today := quantity.DateOf(a.Now.In(d.Plan.Depart.Location()))
	for _, f := range LookAtEngine(d, s, a).Forecasts {
		item, note := serviceItem(f, today)
		if note != "" {
			notes = append(notes, note)
			continue
		}
		items = append(items, item)
	}
	for _, gear := range d.Now(s).Dated {
		if gear.Until.IsZero() {
			notes = append(notes, gear.Name+": no date is written")
			continue
		}
		items = append(items, datedItem(gear, today))
	}
	slices.SortStableFunc(items, func(x, y AgendaItem) int { return x.Day.Compare(y.Day) })
	worry, note := worryItem(d, s, a)
	if note != "" {
		return items, append(notes, note)
	}
	return append(items, worry), notes
}

// serviceItem is the day on which a service falls due: by the calendar, or by the hour-meter where
// the slow passage brings it there. One that is overdue by hours alone stands on today.
func serviceItem(f machinery.Forecast, today quantity.Date) (item AgendaItem, note string) {
	name := f.Service.Name
	item = AgendaItem{Kind: AgendaService, Name: name, What: "Service: " + name, Told: []string{f.Words()}}
	switch {
	case f.Falls == machinery.ByNeed:
		return item, name + ": by need, no date"
	case f.Falls == machinery.Overdue:
		item.What = "Service overdue: " + name
		item.Day = today
		if date := f.Due.Date; !date.IsZero() && !date.After(today) {
			item.Day = date
		}
	case !f.First.At.IsZero() && f.First.By == machinery.ByHours:
		item.Day = quantity.DateOf(f.First.At)
		item.Told = append(item.Told, "Forecast from the hours under engine of the slow passage; it moves with every hour run.")
	case !f.Due.Date.IsZero():
		item.Day = f.Due.Date
	default:
		return item, fmt.Sprintf("%s: by the hour-meter, and not on this passage: no date", name)
	}
	if f.Service.Takes > 0 {
		item.Told = append(item.Told, "Takes "+quantity.RoughUp(f.Service.Takes)+".")
	}
	if f.Service.Critical {
		item.Told = append(item.Told, "Critical: overdue it stands in the way of the sign-off.")
	}
	return item, ""
}

func datedItem(gear machinery.Dated, today quantity.Date) AgendaItem {
	item := AgendaItem{Kind: AgendaDated, Name: gear.Name, Day: gear.Until, What: "Last day: " + gear.Name}
	if today.After(gear.Until) {
		item.What = "Ended: " + gear.Name
	}
	if gear.Place != "" {
		item.Told = append(item.Told, "Where: "+gear.Place+".")
	}
	if gear.Critical {
		item.Told = append(item.Told, "Critical: ended it stands in the way of the sign-off.")
	}
	return item
}

// worryItem is the moment from which the person ashore worries, as the passage sheet has it.
func worryItem(d Definitions, s State, a Assessment) (item AgendaItem, note string) {
	sheet := NewSheet(d, s, a)
	switch {
	case sheet.HasLeft && s.Voyage.Arrived != nil:
		return item, "she has arrived: no time to worry"
	case sheet.Worry.IsZero():
		return item, "no time to worry: it cannot be told, or no overdue is written under [ashore] in passage.toml"
	}
	item = AgendaItem{
		Kind: AgendaWorry, Name: sheet.Passage, At: sheet.Worry,
		What: fmt.Sprintf("Worry from now if %s has not been heard of", sheet.Boat),
		Told: []string{fmt.Sprintf("%s. Latest expected %s.", sheet.Passage, sheet.Latest.UTC().Format("Mon 2 Jan 2006 15:04 UTC"))},
	}
	if then := d.Plan.Ashore.Then; then != "" {
		item.Told = append(item.Told, "Then: "+strings.Join(strings.Fields(then), " "))
	}
	if !sheet.HasLeft {
		item.Told = append(item.Told, "As planned: she has not left. Ask for a new calendar and a new sheet when she leaves.")
	}
	item.Told = append(item.Told, "Read the rescue centre the passage sheet.")
	return item, ""
}
