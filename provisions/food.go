package provisions

import (
	"cmp"
	"math"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

const (
	// enoughShare is the share of the wanted energy below which a day is not fed. Ours; the reference's row F2 tests it.
	enoughShare = 0.9

	// coldShare is the same where nothing can be cooked.
	coldShare = 0.5

	// longestEating is how many days are eaten at most, so that it ends where
	// rations have no energy or stocks are huge: ten years.
	longestEating = 3650

	// never is the day on which a lot without an end goes off.
	never = math.MaxInt
)

// galley is how food is kept and cooked from departure on: what-ifs change it.
type galley struct {
	fridgeDead bool // chilled food ends with its KeepsWarm
	gasGone    bool // only food that needs no stove, and half the energy is enough
}

func (g galley) enough() float64 {
	if g.gasGone {
		return coldShare
	}
	return enoughShare
}

// isCounted says whether food is reckoned at all: not where there are no
// rations and no reserve on purpose.
func (r Rates) isCounted() bool {
	return len(r.Rations) > 0 || !r.Reserve[passage.Food].None
}

// DailyEnergy is what the rations add up to, per person and day. A ration of a
// food that is not there adds nothing.
func (r Rates) DailyEnergy(foods []Food) quantity.Energy {
	var sum quantity.Energy
	for _, ration := range r.Rations {
		at := slices.IndexFunc(foods, func(f Food) bool { return f.Name == ration.Food })
		if at >= 0 {
			sum += quantity.Energy(grams(ration.Each) * foods[at].density())
		}
	}
	return sum
}

// PackEnergy is the energy of a pack as bought: pack*(1 - refuse)*kcal.
// Source: formula and refuse of the USDA National Nutrient Database, Release 28.
func (f Food) PackEnergy() quantity.Energy {
	return quantity.Energy(f.edible() * f.density())
}

// edible is the grams of a pack that are eaten.
func (f Food) edible() float64 {
	return grams(f.Pack) * (1 - float64(f.Refuse))
}

// density is kcal in a gram as eaten.
func (f Food) density() float64 { return f.Kcal / 100 }

func grams(m quantity.Mass) float64 { return float64(m) * 1000 }

// End is when a lot of this food no longer counts. The day itself still does.
// Of several dates the one that ends it first; all zero: it never goes off.
func (f Food) End(l Lot) DateEnd {
	var end DateEnd
	take := func(e DateEnd) {
		if end.Last.IsZero() || e.Last.Before(end.Last) {
			end = e
		}
	}
	if !l.UseBy.IsZero() {
		take(DateEnd{Written: l.UseBy, Last: l.UseBy, Safety: true})
	}
	if !l.Bought.IsZero() && !f.Keeps.IsZero() {
		by := f.Keeps.AfterDate(l.Bought)
		take(DateEnd{Written: by, Last: by, Safety: true})
	}
	if !l.BestBefore.IsZero() {
		take(DateEnd{Written: l.BestBefore, Last: f.Grace.AfterDate(l.BestBefore)})
	}
	return end
}

// batch is a lot as the eating sees it. Days are counted from the departure's date, which is 0.
type batch struct {
	lot     *Lot // as told; never changed
	end     DateEnd
	grams   float64 // as eaten, left
	written int     // day of the written date, by which lots are ordered; never: no date
	last    int     // last day on which it counts
}

func (b *batch) isGone(day int) bool { return b.grams <= 0 || b.last < day }

// shelf is one food with its batches, soonest written date first.
type shelf struct {
	density float64 // kcal in a gram
	edible  float64 // grams as eaten in a pack
	counted time.Time
	barred  bool // cannot be cooked
	batches []batch
	from    int     // batches before it are gone for good
	ration  float64 // grams a day for all: the most that may fill up a day
	extra   float64 // of it still left today
}

// take takes up to want grams of what is good on that day, and says how much it got.
func (s *shelf) take(want float64, day int) (got float64) {
	if s.barred {
		return 0
	}
	for s.from < len(s.batches) && s.batches[s.from].isGone(day) {
		s.from++
	}
	for i := s.from; i < len(s.batches) && got < want; i++ {
		b := &s.batches[i]
		if b.last < day {
			continue
		}
		piece := min(b.grams, want-got)
		b.grams -= piece
		got += piece
	}
	return got
}

// portion is a ration for all.
type portion struct {
	food    *shelf
	instead *shelf // nil: none
	grams   float64
}

// larder is what is aboard at departure: the lots as counted, less the rations that
// those who live aboard ate since. Every crew and every galley eats of a copy.
type larder struct {
	foods   []Food
	rates   Rates
	shelves []shelf // in file order of the foods
	byName  map[string]int
	lots    int
	depart  time.Time
}

// lay puts the lots on their shelves, as so many leave of them.
func lay(b Boat, a Aboard, crew int, depart time.Time) *larder {
	l := &larder{
		foods: b.Foods, rates: b.Rates, depart: depart,
		shelves: make([]shelf, len(b.Foods)), byName: make(map[string]int, len(b.Foods)),
	}
	for i, f := range b.Foods {
		l.byName[f.Name] = i
		l.shelves[i].density = f.density()
		l.shelves[i].edible = f.edible()
	}
	l.shelve(b, a, quantity.DateOf(depart))
	l.eatSinceCounts(float64(crew))
	return l
}

// shelve puts the lots on their shelves. Lots of a food that is not known do not count.
func (l *larder) shelve(b Boat, a Aboard, today quantity.Date) {
	l.makeRoom(b, a)
	for i := range b.Lots {
		at, known := l.byName[b.Lots[i].Food]
		if _, counted := a.Stock[b.Lots[i].Food]; known && !counted {
			l.shelves[at].put(&b.Foods[at], &b.Lots[i], today)
		}
	}
	for i := range b.Foods {
		s := &l.shelves[i]
		stock := a.Stock[b.Foods[i].Name]
		s.counted = stock.Counted
		for j := range stock.Lots {
			s.put(&b.Foods[i], &stock.Lots[j], today)
		}
		slices.SortStableFunc(s.batches, func(a, b batch) int { return cmp.Compare(a.written, b.written) })
		l.lots += len(s.batches)
	}
}

// makeRoom cuts every shelf out of one slice: this is run often.
func (l *larder) makeRoom(b Boat, a Aboard) {
	lots := make([]int, len(b.Foods))
	all := 0
	for i := range b.Lots {
		if at, known := l.byName[b.Lots[i].Food]; known {
			lots[at]++
			all++
		}
	}
	for i := range b.Foods {
		counted := len(a.Stock[b.Foods[i].Name].Lots)
		lots[i] += counted
		all += counted
	}
	room := make([]batch, all)
	for i, n := range lots {
		l.shelves[i].batches, room = room[:0:n], room[n:]
	}
}

// pantry is all food aboard at departure, and what is eaten of it.
type pantry struct {
	shelves  []shelf // in file order of the foods
	portions []portion
	filling  []fill // every batch that may fill up a day, in the order in which it does
	ordered  bool   // filling is made: it is only needed once a ration falls short
	fillFrom int
	planned  float64 // kcal a day for all: what the rations add up to
	wanted   float64 // kcal a day for all
	enough   float64 // kcal below which a day is not fed
}

// fill is a batch that may fill up a day.
type fill struct {
	food  *shelf
	batch *batch
}

// stock is the pantry as it is at departure: the lots as counted, less the rations
// since the count.
func stock(b Boat, a Aboard, crew int, depart time.Time, g galley) *pantry {
	return lay(b, a, crew, depart).pantry(crew, g)
}

// pantry is a copy of the larder for so many people, from the departure on.
func (l *larder) pantry(crew int, g galley) *pantry {
	p := &pantry{shelves: slices.Clone(l.shelves)}
	room := make([]batch, 0, l.lots)
	for i := range p.shelves {
		s := &p.shelves[i]
		from := len(room)
		room = append(room, s.batches...)
		s.batches = room[from:len(room):len(room)]
		s.barred = g.gasGone && l.foods[i].Cook
	}

	p.plan(l, float64(crew))
	if g.fridgeDead {
		p.warm(l.foods, quantity.DateOf(l.depart))
	}

	p.wanted = float64(l.rates.Energy) * float64(crew)
	p.enough = g.enough() * p.wanted
	return p
}

func (s *shelf) put(f *Food, lot *Lot, today quantity.Date) {
	b := batch{
		lot:     lot,
		end:     f.End(*lot),
		grams:   max(0, lot.Packs*s.edible),
		written: never,
		last:    never,
	}
	if !b.end.Last.IsZero() {
		b.written = today.DaysUntil(b.end.Written)
		b.last = today.DaysUntil(b.end.Last)
	}
	s.batches = append(s.batches, b)
}

// plan puts the rations beside their foods.
func (p *pantry) plan(l *larder, crew float64) {
	p.portions = make([]portion, 0, len(l.rates.Rations))
	for _, ration := range l.rates.Rations {
		at, known := l.byName[ration.Food]
		if !known {
			continue
		}
		food := &p.shelves[at]
		portion := portion{food: food, grams: grams(ration.Each) * crew}
		if other, ok := l.byName[l.foods[at].Instead]; ok {
			portion.instead = &p.shelves[other]
		}
		food.ration += portion.grams
		p.planned += portion.grams * food.density
		p.portions = append(p.portions, portion)
	}
}

// eatSinceCounts takes off what the rations took from each count to the departure.
func (l *larder) eatSinceCounts(crew float64) {
	for _, ration := range l.rates.Rations {
		if at, known := l.byName[ration.Food]; known {
			l.shelves[at].ration += grams(ration.Each) * crew
		}
	}
	for i := range l.shelves {
		s := &l.shelves[i]
		if s.ration > 0 && !s.counted.IsZero() {
			s.eatBetween(s.counted, l.depart)
		}
		s.ration = 0
	}
}

// eatBetween takes the ration continuously, soonest written date first, of each
// lot until the end of its last day.
func (s *shelf) eatBetween(at, depart time.Time) {
	perHour := s.ration / dayHours
	for i := range s.batches {
		b := &s.batches[i]
		b.grams, at = eatDown(b.grams, perHour, at, depart, b.end)
	}
}

// warm ends chilled food with its KeepsWarm, the departure's day counted from; none: with that day.
func (p *pantry) warm(foods []Food, today quantity.Date) {
	for i, food := range foods {
		if !food.Chilled {
			continue
		}
		warm := today.DaysUntil(food.KeepsWarm.AfterDate(today))
		for j := range p.shelves[i].batches {
			b := &p.shelves[i].batches[j]
			b.last = min(b.last, warm)
			b.written = min(b.written, warm)
		}
	}
}

// orderFilling lists what may fill up a day: the batches of every ration's
// food, soonest written date first, of equal dates in the order of the rations, then of the lots.
func (p *pantry) orderFilling() {
	count := 0
	for i := range p.shelves {
		count += len(p.shelves[i].batches)
	}
	p.filling = make([]fill, 0, count)
	for i, r := range p.portions {
		again := slices.ContainsFunc(p.portions[:i], func(o portion) bool { return o.food == r.food })
		if again || r.food.barred || r.food.density <= 0 {
			continue
		}
		for j := range r.food.batches {
			p.filling = append(p.filling, fill{r.food, &r.food.batches[j]})
		}
	}
	slices.SortStableFunc(p.filling, func(a, b fill) int { return cmp.Compare(a.batch.written, b.batch.written) })
	p.ordered = true
}

// eat eats one day and gives its energy in kcal.
func (p *pantry) eat(day int) (eaten float64) {
	for i := range p.portions {
		eaten += p.portions[i].eat(day)
	}
	if missing := p.planned - eaten; missing > nearly*p.planned {
		eaten += p.fillUp(missing, day)
	}
	return eaten
}

// eat eats the ration, and for what is missing of it the food instead, by equal
// energy (row F6 of the reference).
func (r *portion) eat(day int) (kcal float64) {
	got := r.food.take(r.grams, day)
	kcal = got * r.food.density

	missing := (r.grams - got) * r.food.density
	if missing <= 0 || r.instead == nil || r.instead.density <= 0 {
		return kcal
	}
	return kcal + r.instead.take(missing/r.instead.density, day)*r.instead.density
}

// fillUp eats what is missing of the day's planned energy from any ration's
// food, at most as much again of each as its ration.
func (p *pantry) fillUp(missing float64, day int) (kcal float64) {
	if !p.ordered {
		p.orderFilling()
	}
	for i := range p.portions {
		p.portions[i].food.extra = p.portions[i].food.ration
	}
	for p.fillFrom < len(p.filling) && p.filling[p.fillFrom].batch.isGone(day) {
		p.fillFrom++
	}
	for _, f := range p.filling[p.fillFrom:] {
		if kcal >= missing {
			break
		}
		if f.batch.isGone(day) {
			continue
		}
		piece := min(f.batch.grams, f.food.extra, (missing-kcal)/f.food.density)
		f.batch.grams -= piece
		f.food.extra -= piece
		kcal += piece * f.food.density
	}
	return kcal
}

// isFed says whether a day on which so many kcal were eaten is fed.
func (p *pantry) isFed(eaten float64) bool { return eaten >= p.enough*(1-nearly) }

// eatUp eats day after day until one is not fed, and lists the days, that one
// included. fed is how many days were fed.
func (p *pantry) eatUp(start quantity.Date) (fed int, days []FoodDay) {
	days = make([]FoodDay, 0, 64)
	date := start
	for fed < longestEating {
		eaten := p.eat(fed)
		enough := p.isFed(eaten)
		days = append(days, FoodDay{
			Date:   date,
			Eaten:  quantity.Energy(eaten),
			Wanted: quantity.Energy(p.wanted),
			Enough: enough,
		})
		if !enough {
			break
		}
		fed++
		date = date.AddDays(1)
	}
	return fed, days
}

// lots are the batches as figures, at departure.
func (p *pantry) lots() []LotFigures {
	count := 0
	for i := range p.shelves {
		count += len(p.shelves[i].batches)
	}
	list := make([]LotFigures, 0, count)
	for i := range p.shelves {
		s := &p.shelves[i]
		for j := range s.batches {
			b := &s.batches[j]
			list = append(list, LotFigures{
				Lot:     *b.lot,
				Packs:   s.packs(b),
				Ends:    b.end,
				NoDate:  b.end.Last.IsZero(),
				Counted: s.counted,
			})
		}
	}
	return list
}

// waste tells of each lot, in the order of lots, what is left of it when it goes off before that day.
func (p *pantry) waste(list []LotFigures, day int) {
	at := 0
	for i := range p.shelves {
		s := &p.shelves[i]
		for j := range s.batches {
			if s.batches[j].last < day {
				list[at].Wasted = s.packs(&s.batches[j])
			}
			at++
		}
	}
}

// packs is what is left of a batch, in packs.
func (s *shelf) packs(b *batch) float64 {
	if s.edible <= 0 {
		return b.lot.Packs
	}
	packs := b.grams / s.edible
	if packs < crumb {
		return 0
	}
	return packs
}

// meals is what is aboard to eat, and how long it feeds them. It hangs on the
// crew, the departure and the galley alone, not on the voyage.
type meals struct {
	counted bool // else food is not reckoned, and only stock is told
	larder  *larder
	stock   []LotFigures
	fed     int // days
	days    []FoodDay
}

// feed eats up what is aboard from the departure on.
func (b Boat) feed(a Aboard, crew int, depart time.Time, g galley) meals {
	return lay(b, a, crew, depart).feed(crew, g)
}

func (l *larder) feed(crew int, g galley) meals {
	p := l.pantry(crew, g)
	m := meals{counted: l.rates.isCounted(), larder: l, stock: p.lots()}
	if !m.counted {
		return m
	}
	m.fed, m.days = p.eatUp(quantity.DateOf(l.depart))
	p.waste(m.stock, m.fed)
	return m
}

// feedFor is feed where it only matters whether so many days are fed: nothing else is told.
func (l *larder) feedFor(days, crew int, g galley) meals {
	m := meals{counted: l.rates.isCounted(), larder: l}
	if !m.counted {
		return m
	}
	p := l.pantry(crew, g)
	for m.fed < min(days, longestEating) && p.isFed(p.eat(m.fed)) {
		m.fed++
	}
	return m
}

// foodStretches are the sections of food: the first lives on what is aboard, on
// the others it is bought where they begin. fed is how many days what is aboard feeds.
func (b Boat) foodStretches(plan passage.Plan, courses []course, fed int) []Stretch {
	cuts := sections(plan, passage.Food)
	list := make([]Stretch, 0, len(cuts))
	for i, s := range cuts {
		list = append(list, b.foodStretch(plan, courses, s, i == 0, fed))
	}
	return list
}

// foodStretch is food against one section; first says that they live on what is aboard.
func (b Boat) foodStretch(plan passage.Plan, courses []course, s section, first bool, fed int) Stretch {
	crew, days := float64(plan.Crew), b.Rates.Reserve[passage.Food].daysHeld()
	name, hard := hardest(courses, s, passage.Food)
	need, _ := hard.need(passage.Food)

	out := begin(plan, s, name, hard)
	out.Need = Amount(need)
	out.Reserve = Amount(crew * days)
	if !first {
		out.Bought = true
		return out
	}
	out.Available = Amount(crew * float64(fed))
	out.LastDrop = Days{Days: float64(fed)}
	out.Endurance = Days{Days: max(0, float64(fed)-days)}
	out.Margin = out.Endurance.less(out.Length)
	out.Short = short(out.Need, out.Reserve, out.Available)
	return out
}

// daysHeld is the reserve of food.
func (r Reserve) daysHeld() float64 {
	if r.None {
		return 0
	}
	return r.Days
}
