package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

type storesOptions struct {
	json  bool
	first bool
	sheet string
}

func newStoresCommand(c *call) *cobra.Command {
	var opts storesOptions
	cmd := &cobra.Command{
		Use:   "stores",
		Short: "What is aboard, locker by locker, and what to eat first",
		Long: "What is aboard, locker by locker: packs as counted, less what the rations ate since; and\nwhat is to be eaten or looked at within the week. --sheet is a list with room for a pen, to\n" +
			"walk the lockers with; `count` writes down what was found." +
			exits(nil, exitDone, exitUnreadable, exitUsage),
		Example: "  hoveshort stores\n  hoveshort stores --first\n  hoveshort stores --sheet text\n  hoveshort stores --json",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runStores(c, opts) }),
	}
	cmd.Flags().BoolVar(&opts.json, "json", false, "print it as JSON")
	cmd.Flags().BoolVar(&opts.first, "first", false, "only what to eat first")
	cmd.Flags().StringVar(&opts.sheet, "sheet", "", "a sheet to count on: `text`, markdown or csv")
	return cmd
}

func runStores(c *call, opts storesOptions) error {
	if opts.json && opts.sheet != "" {
		return usage("hoveshort stores --sheet csv, or hoveshort stores --json", "--json and --sheet are two forms of it")
	}
	m, err := c.look()
	if err != nil {
		return err
	}
	assessment := m.assess()
	stock := checklist.Stock(m.definitions, m.state, assessment)
	switch {
	case opts.json:
		return c.encode(storesOf(assessment, stock))
	case opts.sheet != "":
		return c.list(countingSheet(assessment, stock), opts.sheet)
	}
	var r report
	r.line("%s, as of %s", assessment.Boat, assessment.Now.Format(longMoment))
	r.eatFirst(checklist.EatFirst(stock), opts.first)
	if !opts.first {
		r.lockers(stock)
	}
	c.text.WriteString(r.String())
	return nil
}

// storesJSON is what is aboard, for other programs.
type storesJSON struct {
	Format int             `json:"format"`
	Boat   string          `json:"boat"`
	Now    time.Time       `json:"now"`
	Stock  []stockLineJSON `json:"stock"`
	First  []stockLineJSON `json:"eat_first"`
}

type stockLineJSON struct {
	Name       string              `json:"name"`
	Packs      float64             `json:"packs"`
	Unit       string              `json:"unit,omitempty"` // of a consumable; left out: packs
	Place      string              `json:"place"`
	BestBefore string              `json:"best_before,omitempty"`
	UseBy      string              `json:"use_by,omitempty"`
	Bought     string              `json:"bought,omitempty"`
	Fresh      checklist.Freshness `json:"fresh"`
	Until      string              `json:"counts_until,omitempty"`
	Wasted     float64             `json:"packs_wasted"`
	Counted    *time.Time          `json:"counted"` // null: never
}

func storesOf(a checklist.Assessment, stock []checklist.StockLine) storesJSON {
	return storesJSON{1, a.Boat, a.Now, stockJSON(stock), stockJSON(checklist.EatFirst(stock))}
}

func stockJSON(stock []checklist.StockLine) []stockLineJSON {
	list := []stockLineJSON{}
	for _, l := range stock {
		one := stockLineJSON{
			Name: l.Lot.Food, Packs: l.Lot.Packs, Unit: l.Unit, Place: l.Lot.Place, Fresh: l.Fresh, Wasted: l.Wasted,
			BestBefore: l.Lot.BestBefore.String(), UseBy: l.Lot.UseBy.String(), Bought: l.Lot.Bought.String(), Until: l.Ends.Last.String(),
		}
		if !l.Counted.IsZero() {
			one.Counted = &l.Counted
		}
		list = append(list, one)
	}
	return list
}

// eatFirst is what the week wants eaten or looked at; alone: nothing else is told.
func (r *report) eatFirst(list []checklist.StockLine, alone bool) {
	r.head("EAT THESE FIRST")
	if len(list) == 0 {
		r.line("nothing ends within the week")
		return
	}
	var rows [][]string
	for _, l := range list {
		cells := stockCells(l)
		if l.Wasted >= 0.1 {
			cells = append(cells, packsDown(l.Wasted)+" go off on the passage")
		}
		rows = append(rows, cells)
	}
	r.table(false, rows)
	if slices.ContainsFunc(list, func(l checklist.StockLine) bool { return l.Fresh == checklist.GoneOff }) {
		r.line("What has gone off does not count. Throw it away: hoveshort count FOOD thrown-away PACKS")
	}
	if !alone {
		r.line("A date is no proof: look, smell, and when in doubt leave it.")
	}
}

// lockers is all that is aboard, place by place.
func (r *report) lockers(stock []checklist.StockLine) {
	for _, place := range checklist.StockTaking(stock) {
		r.head("%s", placeOr(place.Place))
		var rows [][]string
		for _, l := range place.Lines {
			counted := "never counted"
			if !l.Counted.IsZero() {
				counted = "counted " + l.Counted.Format("2 Jan")
			}
			rows = append(rows, append(stockCells(l)[:4], counted))
		}
		r.table(false, rows)
	}
}

func placeOr(place string) string {
	if place == "" {
		return "no place written"
	}
	return place
}

// stockCells are the name, how much there is, the date, what that says, and the place.
func stockCells(l checklist.StockLine) []string {
	return []string{l.Lot.Food, howMuch(l), dated(l), string(l.Fresh), placeOr(l.Lot.Place)}
}

func howMuch(l checklist.StockLine) string {
	if l.Consumable {
		return strconv.FormatFloat(math.Floor(l.Lot.Packs*10+1e-6)/10, 'f', -1, 64) + " " + l.Unit
	}
	return packsDown(l.Lot.Packs)
}

func dated(l checklist.StockLine) string {
	switch {
	case !l.Lot.UseBy.IsZero():
		return "use by " + l.Lot.UseBy.String()
	case !l.Lot.BestBefore.IsZero():
		return "best before " + l.Lot.BestBefore.String()
	case !l.Ends.Last.IsZero():
		return "use by " + l.Ends.Last.String()
	case !l.Lot.Bought.IsZero():
		return "bought " + l.Lot.Bought.String()
	}
	return ""
}

// countingSheet is a list with room for a pen.
func countingSheet(a checklist.Assessment, stock []checklist.StockLine) listed {
	l := listed{title: fmt.Sprintf("%s: stores, %s", a.Boat, quantity.DateOf(a.Now)), heads: []string{"place", "what", "date", "should be", "there are"}, pen: true}
	for _, place := range checklist.StockTaking(stock) {
		for _, line := range place.Lines {
			l.rows = append(l.rows, []string{placeOr(place.Place), line.Lot.Food, dated(line), howMuch(line), ""})
		}
	}
	return l
}
