package tui

import (
	"fmt"
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// stores is screen 3, the tanks and the food, in views of which one is shown: what can be counted
// on, what to eat first, the stock-taking, what to buy, and what was really used.
type stores struct {
	shown   storesView
	doubted string // a level that was asked back: typed again it is right
	cursor  int
	first   int // the cursor among what is to be eaten first
	used    int // among the tanks whose past is told
	scroll  int // lines read of a view of text
	asked   question
	about   storesItem // what the question is about
	amount  string     // what is moved, while the tank it comes from is asked for
	page    reader
	taking  taking
}

// storesView is one of the views of the stores.
type storesView int

// The views, in the order in which they are turned.
const (
	aboardView storesView = iota
	firstView
	takingView
	buyView
	usedView
	storesViews
)

var storesViewNames = []string{"Aboard", "Eat first", "Take stock", "To buy", "As used"}

// The questions of this screen.
const (
	askSound  = "sound"
	askFill   = "fill"
	askMove   = "move"
	askFrom   = "from"
	askCount  = "count"
	askCounts = "count all"
	askBought = "bought"
	askUsed   = "used"
	askThrown = "thrown away"
)

// storesItem is a tank, something to load, a lot of a food, or a food of which nothing
// is aboard.
type storesItem struct {
	tank *provisions.TankFigures
	load *provisions.Load
	lot  *provisions.LotFigures
	food string
}

func (i storesItem) name() string {
	if i.tank != nil {
		return i.tank.Tank.Name
	}
	return i.food
}

func (i storesItem) isFood() bool { return i.tank == nil && i.load == nil }

func (s stores) items(f facts) []storesItem {
	var items []storesItem
	for _, t := range f.assessment.Reckoning.Tanks {
		items = append(items, storesItem{tank: &t})
	}
	for _, load := range f.assessment.Loads {
		items = append(items, storesItem{load: &load})
	}
	stock := f.assessment.Reckoning.Stock
	for _, food := range f.definitions.Boat.Foods {
		none := true
		for _, l := range stock {
			if l.Lot.Food == food.Name {
				none = false
				items = append(items, storesItem{lot: &l, food: food.Name})
			}
		}
		if none {
			items = append(items, storesItem{food: food.Name})
		}
	}
	return items
}

func (s stores) selected(f facts) (storesItem, bool) {
	items := s.items(f)
	if len(items) == 0 {
		return storesItem{}, false
	}
	return items[within(s.cursor, len(items))], true
}

func (s stores) update(f facts, p press) (screen, []action) {
	switch {
	case s.taking.isOpen():
		next, actions := s.taking.update(f, p)
		s.taking = next
		return s, actions
	case s.asked.isOpen():
		return s.answer(f, p)
	case s.page.isOpen():
		s.page = s.page.update(p, len(s.pageLines(f, f.page.w)), f.page)
		return s, nil
	}
	if shown, did := turnedView(p, s.shown, storesViews); did {
		s.shown, s.scroll = shown, 0
		return s, nil
	}
	if p.is(keys.Leave) {
		return s, []action{closeScreen{}}
	}
	switch s.shown {
	case firstView:
		return s.updateFirst(f, p)
	case takingView:
		return s.updateTaking(f, p)
	case buyView:
		lines := len(s.buyLines(f, f.page.w))
		s.scroll = reader{what: "buy", scroll: s.scroll}.update(p, lines, s.room(f.page)).scroll
		return s, nil
	case usedView:
		if cursor, did := moved(p, s.used, len(f.stores.tanks), f.page.h); did {
			s.used = cursor
		}
		return s, nil
	}
	return s.updateAboard(f, p)
}

func (s stores) updateAboard(f facts, p press) (screen, []action) {
	if cursor, did := moved(p, s.cursor, len(s.items(f)), s.room(f.page).h); did {
		s.cursor = cursor
		return s, nil
	}
	item, is := s.selected(f)
	if !is {
		return s, nil
	}
	s.about = item
	switch {
	case item.tank != nil && p.is(keys.Sound):
		s.asked = askHowMuch(askSound, *item.tank, f.assessment.Units)
	case item.tank != nil && p.is(keys.Fill):
		s.asked = askHowMuch(askFill, *item.tank, f.assessment.Units)
	case item.tank != nil && p.is(keys.Take) && len(sources(f, item.tank.Tank)) > 0:
		s.asked = askHowMuch(askMove, *item.tank, f.assessment.Units)
	case item.load != nil && p.is(keys.Working):
		s.page = reader{what: pageWorking}
	case item.isFood():
		s.asked = s.stockQuestion(f, p, item)
	}
	return s, nil
}

// room is what the titles leave to a view.
func (s stores) room(z size) size { return size{z.w, max(0, z.h-1)} }

// stockQuestion is what a key asks about packs of a food; none where it is another key.
func (s stores) stockQuestion(f facts, p press, item storesItem) question {
	switch {
	case p.is(keys.Count):
		return ask(askCount, s.countQuestion(f, item))
	case p.is(keys.CountAll):
		return ask(askCounts, wholeQuestion(f, item.food))
	case p.is(keys.Bought):
		return ask(askBought, fmt.Sprintf("How many packs of %s were bought? (a pack is %s) Write it like \"4\", or \"4 2027-03-01 in galley / locker\": the date is best-before; or \"use by\" and a date.", item.food, packSize(f, item.food)))
	case p.is(keys.UsedUp) && item.lot != nil:
		return ask(askUsed, fmt.Sprintf("How many packs of %s were used beside the rations, of this lot, %s? What the rations eat is taken off by itself.", item.food, lotWords(*item.lot)))
	case p.is(keys.Thrown) && item.lot != nil:
		return ask(askThrown, fmt.Sprintf("How many packs of %s were thrown away, of this lot, %s?", item.food, lotWords(*item.lot)))
	}
	return question{}
}

// askHowMuch asks for a level or an amount, with ways of telling it that serve this tank.
func askHowMuch(what string, t provisions.TankFigures, units quantity.System) question {
	amount := anAmount(t.Tank.Holds, units)
	switch what {
	case askSound:
		ways := []string{strconv.Quote(amount), `"62 %"`}
		if t.Tank.CanBeDipped() {
			ways = append(ways, `"120 mm" on the dipstick`)
		}
		return ask(what, fmt.Sprintf("%s: what does it stand at? Write it like %s, or \"full\":", t.Tank.Name, strings.Join(ways, ", ")))
	case askMove:
		return ask(what, fmt.Sprintf("%s: how much went in from another tank of %s? Write it like %q:", t.Tank.Name, t.Tank.Holds, amount))
	}
	return ask(what, fmt.Sprintf("%s: how much went in, from ashore? Write it like %q, or \"full\":", t.Tank.Name, amount))
}

// anAmount is how an amount is written, in the units of the screens.
func anAmount(thing passage.Thing, units quantity.System) string {
	switch {
	case thing == passage.Gas && units == quantity.US:
		return "3 lb"
	case thing == passage.Gas:
		return "1.5 kg"
	case units == quantity.US:
		return "20 US gal"
	}
	return "40 L"
}

// sources are the other tanks of the same thing.
func sources(f facts, to provisions.Tank) []string {
	var names []string
	for _, t := range f.definitions.Boat.Tanks {
		if t.Holds == to.Holds && t.Name != to.Name {
			names = append(names, t.Name)
		}
	}
	return names
}

func (s stores) countQuestion(f facts, item storesItem) string {
	if item.lot == nil || isWhole(item.lot.Lot) {
		return wholeQuestion(f, item.food)
	}
	return fmt.Sprintf("How many packs of %s are there of this lot, %s? (a pack is %s)",
		item.food, lotWords(*item.lot), packSize(f, item.food))
}

func wholeQuestion(f facts, food string) string {
	return fmt.Sprintf("How many packs of %s are there, all lots together? (a pack is %s)", food, packSize(f, food))
}

func isWhole(l provisions.Lot) bool {
	return checklist.Count{BestBefore: l.BestBefore, UseBy: l.UseBy, Bought: l.Bought, Place: l.Place}.IsWhole()
}

func packSize(f facts, food string) string {
	def, _ := f.definitions.Food(food)
	return def.Pack.String()
}

// lotWords is a lot by its date and place.
func lotWords(l provisions.LotFigures) string {
	words := dateWords(l)
	if l.Lot.Place != "" {
		words += ", in " + l.Lot.Place
	}
	return words
}

func dateWords(l provisions.LotFigures) string {
	switch {
	case !l.Lot.UseBy.IsZero():
		return "use by " + l.Lot.UseBy.String()
	case !l.Lot.BestBefore.IsZero():
		return "best before " + l.Lot.BestBefore.String()
	case !l.Lot.Bought.IsZero():
		return "bought " + l.Lot.Bought.String()
	}
	return "no date"
}

func (s stores) answer(f facts, p press) (screen, []action) {
	next, text, sent := s.asked.update(p)
	if !sent {
		s.asked = next
		return s, nil
	}
	w, err := s.wishFor(text)
	if sound, is := w.(wishSound); is && s.doubted == text {
		w = wishSureSound{sound}
	}
	if err == nil && w == nil {
		s.amount = text
		names := sources(f, s.about.tank.Tank)
		s.asked = ask(askFrom, fmt.Sprintf("%s into %s, from which tank? One of: %s", text, s.about.name(), strings.Join(names, ", ")))
		return s, nil
	}
	if err == nil {
		err = f.try(w)
	}
	if err != nil {
		s.asked = next.refused(err)
		s.asked.note = strings.ReplaceAll(s.asked.note, "say so with --sure", "enter says so")
		s.doubted = text
		return s, nil
	}
	s.asked, s.doubted = question{}, ""
	return s, []action{recordEntry{w}}
}

// wishFor is what was typed as a wish; none and no error: more must be asked.
func (s stores) wishFor(text string) (wish, error) {
	name := s.about.name()
	switch s.asked.what {
	case askSound:
		return wishSound{name, text}, nil
	case askFill:
		return wishFill{tank: name, amount: text}, nil
	case askMove:
		_, err := provisions.ParseAmount(text, s.about.tank.Tank.Holds)
		return nil, err
	case askFrom:
		return wishFill{tank: name, amount: s.amount, from: text}, nil
	}
	c, err := checklist.ParsePacks(text)
	if err != nil {
		return nil, err
	}
	c.Food = name
	if s.asked.what != askCounts && s.asked.what != askBought && s.about.lot != nil {
		l := s.about.lot.Lot
		c.BestBefore, c.UseBy, c.Bought, c.Place = l.BestBefore, l.UseBy, l.Bought, l.Place
	}
	c.Did = map[string]checklist.CountWord{askBought: checklist.PacksBought, askUsed: checklist.PacksUsed, askThrown: checklist.PacksThrown}[s.asked.what]
	return wishCount{c}, nil
}

func (s stores) bindings(f facts) []bound {
	switch {
	case s.taking.isOpen():
		return s.taking.bindings()
	case s.asked.isOpen():
		return s.asked.bindings()
	case s.page.isOpen():
		return s.page.bindings()
	}
	var list []bound
	switch s.shown {
	case aboardView:
		list = s.aboardBindings(f)
	case firstView:
		list = s.firstBindings(f)
	case takingView:
		list = []bound{can(as(keys.Enter, "count the lockers"), whyNoStock(f))}
	}
	return append(append(append(list, can(keys.NextView, "")), quietly(keys.LastView)...), moving()...)
}

func (s stores) aboardBindings(f facts) []bound {
	item, is := s.selected(f)
	noTank, noLoad, noFood, noLot, noSource := "no tank is selected", "nothing to load is selected", "no food is selected", "no lot is selected", "no tank is selected"
	switch {
	case !is:
	case item.load != nil:
		noLoad = ""
	case item.tank == nil:
		noFood = ""
		if item.lot != nil {
			noLot = ""
		}
	case len(sources(f, item.tank.Tank)) == 0:
		noTank, noSource = "", "no other tank holds the same"
	default:
		noTank, noSource = "", ""
	}
	return []bound{
		can(keys.Sound, noTank), can(keys.Fill, noTank), can(keys.Take, noSource), can(keys.Working, noLoad), can(keys.Count, noFood),
		can(keys.CountAll, noFood), can(keys.Bought, noFood), can(keys.UsedUp, noLot), can(keys.Thrown, noLot),
	}
}

func (s stores) refreshed(f facts) screen {
	s.cursor = within(s.cursor, len(s.items(f)))
	if f.stores.isKnown {
		s.first, s.used = within(s.first, len(f.stores.first)), within(s.used, len(f.stores.tanks))
	}
	return s
}

func (s stores) aim(f facts, at target) screen {
	if s.asked.isOpen() || s.taking.isOpen() {
		return s
	}
	s.page, s.shown = reader{}, aboardView
	found := false
	for i, item := range s.items(f) {
		if at.tank != "" && item.tank != nil && item.name() == at.tank {
			s.cursor = i
			return s
		}
		isFood := at.food != "" && item.isFood() && item.food == at.food
		if isFood && (!found || item.lot != nil && item.lot.Lot.Place == at.place && at.place != "") {
			s.cursor, found = i, true
		}
	}
	return s
}

func (s stores) isTyping() bool { return s.asked.isOpen() || s.taking.isOpen() }

func (s stores) unsaved() bool { return s.asked.unsaved() || s.taking.asked.unsaved() }

func (s stores) isInside() bool { return s.page.isOpen() }
