package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
)

func newLoadCommand(c *call) *cobra.Command {
	var (
		asJSON bool
		list   string
	)
	cmd := &cobra.Command{
		Use:   "load",
		Short: "What to load where, and the shopping list",
		Long: "What to load at each place that surely gives it: the least that brings her to the next\nplace that does, in the slow case and with the reserve whole; and the shopping list." +
			exits(nil, exitDone, exitUnreadable, exitUsage),
		Example: "  hoveshort load\n  hoveshort load --list text\n  hoveshort load --list csv\n  hoveshort load --json\n  hoveshort passage --explain load",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runLoad(c, asJSON, list) }),
	}
	cmd.Flags().StringVar(&list, "list", "", "the shopping list alone, to take along: `text`, markdown or csv")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func runLoad(c *call, asJSON bool, list string) error {
	if asJSON && list != "" {
		return usage("hoveshort load --list csv, or hoveshort load --json", "--json and --list are two forms of it")
	}
	m, err := c.look()
	if err != nil {
		return err
	}
	assessment := m.assess()
	if list != "" {
		return c.list(shoppingListed(assessment, list), list)
	}
	if asJSON {
		return c.encode(loadOf(assessment))
	}
	c.text.WriteString(loadText(assessment))
	return nil
}

// loadJSON is what to load for other programs; units as in `ready --json`.
type loadJSON struct {
	Format   int                    `json:"format"`
	Boat     string                 `json:"boat"`
	Passage  string                 `json:"passage"`
	Now      time.Time              `json:"now"`
	Load     []checklist.ReportLoad `json:"load"`
	Shopping *shoppingJSON          `json:"shopping"` // null: the departure gives no food, or none is reckoned
	Others   []consumableJSON       `json:"consumables"`
}

// consumableJSON is another thing that is used up, in its own unit.
type consumableJSON struct {
	Name      string   `json:"name"`
	Unit      string   `json:"unit"`
	Available float64  `json:"available"`
	Need      float64  `json:"need"`
	Reserve   float64  `json:"reserve"`
	Short     float64  `json:"short"`
	Lasts     *float64 `json:"endurance_days"` // null: it does not end
	Buy       int      `json:"buy"`            // packs
}

type shoppingJSON struct {
	Days      int            `json:"days"`
	Short     int            `json:"days_short"`
	Purchases []purchaseJSON `json:"purchases"`
	Weight    float64        `json:"weight_kg"`
	Price     float64        `json:"price"`
	Unpriced  []string       `json:"unpriced"`
	Energy    float64        `json:"kcal"`
	Daily     float64        `json:"rations_kcal"` // a person and day
	Wanted    float64        `json:"wanted_kcal"`  // a person and day
}

type purchaseJSON struct {
	Food   string   `json:"food"`
	Packs  int      `json:"packs"`
	Weight float64  `json:"weight_kg"`
	Price  *float64 `json:"price"`
	Until  string   `json:"keeps_until,omitempty"`
	Warm   string   `json:"keeps_without_fridge_until,omitempty"` // of chilled food
	Place  string   `json:"stow_in,omitempty"`
	Energy float64  `json:"kcal"`
}

func loadOf(a checklist.Assessment) loadJSON {
	j := loadJSON{Format: 1, Boat: a.Boat, Passage: a.Passage, Now: a.Now, Load: a.Report().Load}
	j.Others = []consumableJSON{}
	for _, f := range a.Consumables() {
		one := consumableJSON{f.Consumable.Name, f.Consumable.Unit, f.Available, f.Need, f.Consumable.Reserve, f.Short, nil, f.Packs}
		if !f.Lasts.Never {
			one.Lasts = &f.Lasts.Days
		}
		j.Others = append(j.Others, one)
	}
	if list, ok := a.Shopping(); ok {
		told := shoppingOf(list)
		j.Shopping = &told
	}
	return j
}

func shoppingOf(list provisions.Shopping) shoppingJSON {
	j := shoppingJSON{
		Days: list.Days, Short: list.Short, Purchases: []purchaseJSON{}, Weight: float64(list.Weight), Price: list.Price,
		Unpriced: append([]string{}, list.Unpriced...), Energy: float64(list.Energy), Daily: float64(list.Daily), Wanted: float64(list.Wanted),
	}
	for _, p := range list.Purchases {
		told := purchaseJSON{Food: p.Food, Packs: p.Packs, Weight: float64(p.Weight), Place: p.Place, Energy: float64(p.Energy)}
		if p.Priced {
			told.Price = &p.Price
		}
		if !p.Until.IsZero() {
			told.Until = p.Until.String()
		}
		if !p.Warm.IsZero() {
			told.Warm = p.Warm.String()
		}
		j.Purchases = append(j.Purchases, told)
	}
	return j
}

func loadText(a checklist.Assessment) string {
	var r report
	r.line("%s: %s", a.Boat, a.Passage)
	r.line("as of %s; departure %s", a.Now.Format(longMoment), a.Reckoning.Depart.Format(longMoment))
	r.line("The least that lasts to the next place that surely gives it, in the hard case and with the reserve whole.")
	switch {
	case a.Reckoning.Verdict == "":
		r.head("nothing can be told: she cannot make the passage in any case")
	case len(a.Loads) == 0:
		r.head("no place of this passage surely gives anything (`fill` in passage.toml)")
	}
	r.loads(a)
	if list, ok := a.Shopping(); ok {
		r.shopping(list, a)
	}
	r.nourishment(a)
	r.consumables(a)
	return r.String()
}

// loads tells place by place what to load.
func (r *report) loads(a checklist.Assessment) {
	place := provisions.Load{Leg: -2}
	for _, l := range a.Loads {
		if l.Leg != place.Leg {
			r.head("AT %s", strings.ToUpper(l.At))
			place = l
		}
		r.hang("  "+string(l.Thing)+": ", "      ", l.Words(a.Units)+priceWords(l.Price, l.Priced && l.Amount > 0))
		for _, c := range l.Cures {
			r.hang("      it would do with ", "        ", c.Words(a.Units))
		}
	}
}

func priceWords(price float64, priced bool) string {
	if !priced {
		return ""
	}
	return fmt.Sprintf(", %.2f in your money for the least", price)
}

func inMoney(price float64) string {
	if price <= 0 {
		return ""
	}
	return fmt.Sprintf(", %.2f in your money", price)
}

// shopping is the list, in whole packs.
func (r *report) shopping(list provisions.Shopping, a checklist.Assessment) {
	r.head("SHOPPING LIST, for %d days, reserve included", list.Days)
	if list.Daily > 0 {
		r.line("the rations are %.0f kcal a person and day, %.0f are wanted", float64(list.Daily), float64(list.Wanted))
	}
	if len(list.Purchases) == 0 {
		r.line("nothing: what is aboard feeds them")
	}
	rows := [][]string{}
	for _, p := range list.Purchases {
		rows = append(rows, purchaseCells(p, a))
	}
	r.table(false, rows)
	if len(list.Purchases) > 0 {
		r.line("together %s%s", list.Weight.Up(a.Units), inMoney(list.Price))
	}
	if len(list.Unpriced) > 0 {
		r.line("without a price in stores.toml: %s", strings.Join(list.Unpriced, ", "))
	}
	if list.Short > 0 {
		r.line("%d days are not fed even so: what keeps long enough is not among the rations", list.Short)
	}
}

// nourishment is what the rations give beside energy, where foods tell it.
func (r *report) nourishment(a checklist.Assessment) {
	n, ok := a.Nourishment()
	if !ok {
		return
	}
	text := fmt.Sprintf("the rations give a person and day %s of protein, %s of fruit and vegetables", n.Protein.Down(a.Units), n.FruitVeg.Down(a.Units))
	if len(n.Untold) > 0 {
		text += "; no protein is told of " + strings.Join(n.Untold, ", ")
	}
	r.line("%s", text)
}

// consumables are the other things, with what to buy.
func (r *report) consumables(a checklist.Assessment) {
	list := a.Consumables()
	if len(list) == 0 {
		return
	}
	r.head("OTHER THINGS, for the whole passage in the hard case")
	for _, f := range list {
		text := fmt.Sprintf("%s: %.1f %s can be counted on, %.1f needed, %.1f held back: ", f.Consumable.Name, f.Available, f.Consumable.Unit, f.Need, f.Consumable.Reserve)
		switch {
		case f.Packs > 0:
			text += fmt.Sprintf("BUY %d%s", f.Packs, inMoney(f.Price))
		case f.Lasts.Never:
			text += "none is used"
		default:
			text += "lasts " + f.Lasts.String()
		}
		r.item(text)
	}
}

func purchaseCells(p provisions.Purchase, a checklist.Assessment) []string {
	cells := []string{fmt.Sprintf("%d x", p.Packs), p.Food, p.Weight.Up(a.Units), money(p.Price, p.Priced), "", ""}
	switch {
	case p.Until.IsZero():
	case p.Warm.IsZero():
		cells[4] = "until " + p.Until.String()
	default:
		cells[4] = fmt.Sprintf("until %s, no fridge %s", p.Until, p.Warm)
	}
	if p.Place != "" {
		cells[5] = "to " + p.Place
	}
	return cells
}

// list prints a list in a form. CSV is for programs: not a byte of it is changed on its way.
func (c *call) list(l listed, form string) error {
	text, err := l.in(form)
	if err != nil {
		return err
	}
	if form != asCSV {
		c.text.WriteString(text)
		return nil
	}
	if _, err := io.WriteString(c.stdout, text); err != nil && !errors.Is(err, syscall.EPIPE) {
		return coded(exitNotWritten, "", fmt.Errorf("writing the result: %w", err))
	}
	return nil
}
