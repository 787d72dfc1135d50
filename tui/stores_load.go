package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/provisions"
)

const loadTitle = "What to load: the least to the next place that gives it, the reserve whole"

// loadRow is what to load of one thing at one place.
func loadRow(f facts, l provisions.Load) string {
	return fmt.Sprintf("%s, %s: %s", l.At, l.Thing, l.Words(f.assessment.Units))
}

// loadWords are what is told of it besides.
func loadWords(f facts, l provisions.Load) []string {
	units := f.assessment.Units
	var lines []string
	if l.Left > 0 {
		lines = append(lines, fmt.Sprintf("Before that there are %s that can be counted on.", l.Left.Down(l.Thing, units)))
	}
	if l.Amount > 0 {
		words := fmt.Sprintf("The least is %s", l.Amount.Up(l.Thing, units))
		if l.Priced {
			words += fmt.Sprintf(", at %.2f", l.Price)
		}
		lines = append(lines, words+".")
	}
	for _, c := range l.Cures {
		lines = append(lines, "It would hold with "+c.Words(units)+".")
	}
	return lines
}

// pageLines are the page that lies over the list.
func (s stores) pageLines(f facts, w int) []string {
	item, is := s.selected(f)
	if !is || item.load == nil {
		return wrap("Nothing to load is selected any more.", w, 0)
	}
	return workingLines(f.look, []provisions.Working{f.assessment.ExplainLoad(*item.load)}, w)
}

// buyLines are the view of what to buy.
func (s stores) buyLines(f facts, w int) []string { return shoppingLines(f, w) }

// shoppingLines are the food to buy, in whole packs.
func shoppingLines(f facts, w int) []string {
	l := f.look
	list, ok := f.assessment.Shopping()
	if !ok {
		return append(wrap("There is no shopping list: the departure gives no food, or food is not reckoned.", w, 0), otherLines(f, w)...)
	}
	lines := para(l.title, "", fmt.Sprintf("Shopping list: food for %s, the reserve included", count(list.Days, "day", "days")), w)
	if list.Daily > 0 {
		lines = append(lines, wrap(fmt.Sprintf("The rations are %.0f kcal a person and day, %.0f are wanted.", float64(list.Daily), float64(list.Wanted)), w, 0)...)
	}
	if len(list.Purchases) == 0 {
		lines = append(lines, wrap("Nothing: what is aboard feeds them.", w, 0)...)
	}
	name := 0
	for _, p := range list.Purchases {
		name = max(name, lipgloss.Width(l.clean(p.Food)))
	}
	for _, p := range list.Purchases {
		lines = append(lines, "  "+l.clip(purchaseLine(f, p, min(name, w/3)), w-2))
	}
	return append(append(lines, billLines(f, list, w)...), otherLines(f, w)...)
}

// otherLines are the other things that are used up, and how many to buy.
func otherLines(f facts, w int) []string {
	l := f.look
	var lines []string
	if n, ok := f.assessment.Nourishment(); ok {
		units := f.assessment.Units
		lines = append(lines, wrap(l.clean(fmt.Sprintf("A person and day: %s of protein, %s of fruit and vegetables.", n.Protein.Down(units), n.FruitVeg.Down(units))), w, 0)...)
	}
	list := f.assessment.Consumables()
	if len(list) > 0 {
		lines = append(lines, l.title.Render(l.clip("Other things, for the whole passage", w)))
	}
	for _, c := range list {
		style, buy := l.keys, "enough"
		if c.Packs > 0 {
			style, buy = l.caution, fmt.Sprintf("buy %d", c.Packs)
		}
		text := fmt.Sprintf("%s: %s; %.1f %s there, %.1f needed, %.1f held back", c.Consumable.Name, buy, c.Available, c.Consumable.Unit, c.Need, c.Consumable.Reserve)
		lines = append(lines, para(style, "  ", l.clean(text), w)...)
	}
	return lines
}

func purchaseLine(f facts, p provisions.Purchase, name int) string {
	l := f.look
	line := fmt.Sprintf("%3d x  %s  %9s", p.Packs, l.pad(l.clean(p.Food), name), l.clean(p.Weight.Up(f.assessment.Units)))
	price := ""
	if p.Priced {
		price = fmt.Sprintf("%.2f", p.Price)
	}
	line += fmt.Sprintf("  %8s", price)
	if !p.Until.IsZero() {
		line += "  until " + p.Until.String()
	}
	if !p.Warm.IsZero() {
		line += ", no fridge " + p.Warm.String()
	}
	if p.Place != "" {
		line += "  to " + l.clean(p.Place)
	}
	return strings.TrimRight(line, " ")
}

// billLines are the sums, and what is still missing.
func billLines(f facts, list provisions.Shopping, w int) []string {
	l := f.look
	var lines []string
	if len(list.Purchases) > 0 {
		sum := "Together " + list.Weight.Up(f.assessment.Units)
		if list.Price > 0 {
			sum += fmt.Sprintf(", %.2f by the prices in stores.toml", list.Price)
		}
		lines = append(lines, para(l.title, "", l.clean(sum+"."), w)...)
	}
	if len(list.Unpriced) > 0 {
		lines = append(lines, wrap(l.clean("Without a price: "+strings.Join(list.Unpriced, ", ")+"."), w, 0)...)
	}
	if list.Short > 0 {
		lines = append(lines, para(l.blocked, "", fmt.Sprintf("%s still not fed: nothing on the list keeps so long.", count(list.Short, "day is", "days are")), w)...)
	}
	return lines
}
