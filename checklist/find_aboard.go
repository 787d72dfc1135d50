package checklist

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

// ThingsAboard is all that has a place aboard, or should have one, as the files and the record have it: spares, tools,
// dated gear, and food lot by lot; d are the definitions as the files have them.
func ThingsAboard(d Definitions, s State, now time.Time) []machinery.Thing {
	d = d.Now(s)
	now = now.In(d.Plan.Depart.Location())
	list := machinery.SpareThings(d.Spares)
	list = append(list, machinery.ToolThings(d.Tools)...)
	list = append(list, machinery.DatedThings(d.Dated, now)...)
	for _, f := range d.Boat.Foods {
		list = append(list, foodThings(f, d.stock(f.Name, s.Counts[f.Name]), quantity.DateOf(now))...)
	}
	return list
}

// foodThings are the lots of a food as things to be found; a food of which nothing is left is found too.
func foodThings(f provisions.Food, stock provisions.Stock, today quantity.Date) []machinery.Thing {
	counted := "never counted"
	if !stock.Counted.IsZero() {
		counted = "counted " + stock.Counted.Format(dayLayout)
	}
	var list []machinery.Thing
	for _, lot := range stock.Lots {
		if lot.Packs <= 0 {
			continue
		}
		note, warning := lotNote(f, lot, today)
		list = append(list, machinery.Thing{
			Name: f.Name, Kind: FoundFood, Place: lot.Place, Warning: warning,
			Note: fmt.Sprintf("%s of %s, %s%s", PacksDown(lot.Packs), f.Pack, note, counted),
		})
	}
	if len(list) == 0 {
		list = append(list, machinery.Thing{Name: f.Name, Kind: FoundFood, Warning: "none aboard, " + counted})
	}
	return list
}

// lotNote are the date by which a lot is judged, and what is to be minded of it.
func lotNote(f provisions.Food, lot provisions.Lot, today quantity.Date) (note, warning string) {
	end := f.End(lot)
	word := "best before"
	if end.Safety {
		word = "use by"
	}
	switch {
	case end.Last.IsZero():
		return "no date, ", ""
	case end.Last.Before(today):
		return fmt.Sprintf("%s %s, ", word, end.Written), fmt.Sprintf("went off on %s and does not count", end.Last)
	case end.Written.Before(today):
		return fmt.Sprintf("%s %s, ", word, end.Written), "older than its date: look and smell"
	}
	return fmt.Sprintf("%s %s, ", word, end.Written), ""
}

// PacksDown is a number of packs to the tenth, rounded down: they are aboard.
func PacksDown(n float64) string {
	const crumb = 1e-9 // of a float's sum
	text := strconv.FormatFloat(math.Floor(n*10+crumb)/10, 'f', -1, 64)
	if text == "1" {
		return "1 pack"
	}
	return text + " packs"
}
