package checklist

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Use is a rate that was learnt, what it does to the margin, and the lines that would plan
// with it.
type Use struct {
	provisions.Learnt
	Margin *provisions.Days // with the rate learnt instead of the planned one; nil: not above the plan, or not reckoned
	Lines  []string         // for the skipper's files; none where the plan holds, or too little was seen
}

// tanked are the things that tanks hold.
var tanked = []passage.Thing{passage.Water, passage.Fuel, passage.Gas}

// Learnt are the rates as they were really used, at sea before at anchor, thing by thing; and
// the last interval in which dip and hours of the engine disagree, nil where none does.
func Learnt(d Definitions, s State, a Assessment) (uses []Use, doubt *provisions.Doubt) {
	for _, t := range tanked {
		intervals := d.intervals(s, t)
		for _, atSea := range []bool{true, false} {
			if l, ok := d.Boat.Learn(d.Plan, t, intervals, atSea); ok && (t != passage.Fuel || atSea) {
				uses = append(uses, d.use(l, a))
			}
		}
		if t != passage.Fuel {
			continue
		}
		if last, doubted := d.Boat.FuelDoubted(d.Plan, intervals); doubted {
			doubt = &last
		}
	}
	return uses, doubt
}

func (d Definitions) use(l provisions.Learnt, a Assessment) Use {
	u := Use{Learnt: l}
	if !l.Enough() || math.Abs(l.Factor()-1) <= 0.1 {
		return u
	}
	u.Lines = d.usedLines(l)
	if !l.IsAbove() || !l.AtSea {
		return u
	}
	as := a.situation
	as.Boat = as.Boat.Used(l)
	if s, reckoned := as.Reckon().Resources[l.Thing].First(); reckoned {
		u.Margin = &s.Margin
	}
	return u
}

// usedLines are the lines that would plan with a rate learnt. Of water nobody knows what the
// difference was for: it goes to the washing, where there is most of it to be saved.
func (d Definitions) usedLines(l provisions.Learnt) []string {
	switch {
	case l.Thing == passage.Water && l.AtSea:
		washing := float64(d.Boat.Rates.Water.Washing) + l.Median - l.Planned
		if washing < 0 {
			return nil
		}
		return []string{"# rates.toml, [water]", fmt.Sprintf(`washing = "%s"`, written(provisions.Amount(math.Ceil(washing*10)/10), passage.Water))}
	case l.Thing == passage.Gas:
		boat := float64(d.Boat.Rates.Gas.Boat) + l.Median - l.Planned
		if boat < 0 {
			return nil
		}
		return []string{"# rates.toml, [gas]", fmt.Sprintf(`boat = "%.2f kg"`, math.Ceil(boat*100)/100)}
	case l.Thing == passage.Fuel:
		var lines []string
		for i, row := range d.Boat.Engine.Curve {
			lines = append(lines, fmt.Sprintf(`burn = "%.1f L/h"  # engine.curve[%d], %d rpm`, math.Ceil(float64(row.Burn)*l.Factor()*10)/10, i, row.RPM))
		}
		if lines != nil {
			lines = slices.Insert(lines, 0, "# boat.toml")
		}
		return lines
	}
	return nil
}

// together is within what time the tanks of a thing are sounded to tell what is aboard.
const together = 6 * time.Hour

// shortest is the shortest interval that tells a rate: gauges are too coarse for less.
const shortest = 18 * time.Hour

// soundedRound is a time at which all tanks of a thing were sounded: of each the place in its history.
type soundedRound struct {
	at time.Time
	in []int
}

// intervals are those between one such time and the next, oldest first. One in which a tank
// was filled to the brim, or that lies partly at sea and partly at anchor, tells nothing.
func (d Definitions) intervals(s State, t passage.Thing) []provisions.Interval {
	tanks := d.planned(t)
	var list []provisions.Interval
	rounds := s.soundedRounds(tanks)
	for i := 1; i < len(rounds); i++ {
		if interval, ok := d.interval(s, tanks, rounds[i-1], rounds[i]); ok {
			list = append(list, interval)
		}
	}
	return list
}

// soundedRounds are the times at which all of the tanks were sounded within a few hours.
func (s State) soundedRounds(tanks []provisions.Tank) []soundedRound {
	type sounding struct{ tank, place int }
	var all []sounding
	at := func(x sounding) time.Time { return s.Tanks[tanks[x.tank].Name].History[x.place].At }
	for i, tank := range tanks {
		for place, h := range s.Tanks[tank.Name].History {
			if h.Level != "" && !h.Doubtful {
				all = append(all, sounding{i, place})
			}
		}
	}
	slices.SortStableFunc(all, func(x, y sounding) int { return cmp.Or(at(x).Compare(at(y)), cmp.Compare(x.place, y.place)) })

	var rounds []soundedRound
	for len(all) > 0 {
		n := 1
		for n < len(all) && at(all[n]).Sub(at(all[0])) <= together {
			n++
		}
		r := soundedRound{at: at(all[n-1]), in: slices.Repeat([]int{-1}, len(tanks))}
		for _, x := range all[:n] {
			r.in[x.tank] = x.place
		}
		if !slices.Contains(r.in, -1) {
			rounds = append(rounds, r)
		}
		all = all[n:]
	}
	return rounds
}

func (d Definitions) interval(s State, tanks []provisions.Tank, from, to soundedRound) (provisions.Interval, bool) {
	i := provisions.Interval{From: from.at, To: to.at, Crew: d.Plan.Crew, Hours: s.ranBetween(from.at, to.at)}
	if to.at.Sub(from.at) < shortest {
		return i, false
	}
	for n, tank := range tanks {
		used, known := usedBetween(tank, s.Tanks[tank.Name].History[from.in[n]:to.in[n]+1])
		if !known {
			return i, false
		}
		i.Used += provisions.Amount(used)
	}
	var whole bool
	i.AtSea, whole = s.atSea(from.at, to.at)
	if i.AtSea {
		i.Crew = cmp.Or(s.crewAt(from.at, to.at), i.Crew)
	}
	return i, whole
}

// usedBetween is what left a tank from the first sounding of a history to its last.
func usedBetween(tank provisions.Tank, history []Gauging) (used float64, known bool) {
	level, known := levelIn(tank, history[0].Level)
	if !known {
		return 0, false
	}
	for i, h := range history[1:] {
		last := i == len(history)-2
		switch {
		case h.Level == "":
			level += movedIn(tank, h)
		case h.Level == Full:
			return 0, false // how much went in is not known
		case last:
			now, fits := levelIn(tank, h.Level)
			return level - now, fits
		}
	}
	return 0, false
}

// meterNear is how far from a sounding the hour-meter may have been read.
const meterNear = 6 * time.Hour

// ranBetween is how long the engine ran between two moments, by the hour-meter read near
// them; -1: it is not known.
func (s State) ranBetween(from, to time.Time) float64 {
	begin, known := s.meterAt(from)
	end, alsoKnown := s.meterAt(to)
	if !known || !alsoKnown || end < begin {
		return -1
	}
	return end - begin
}

// meterAt is the reading nearest to a moment, if it is near.
func (s State) meterAt(at time.Time) (hours float64, known bool) {
	nearest := meterNear
	for _, m := range s.meter() {
		if off := m.At.Sub(at).Abs(); off <= nearest {
			nearest, hours, known = off, m.Hours, true
		}
	}
	return hours, known
}

// mostly is the share of an interval that must lie at sea, or at anchor, for it to tell of that.
const mostly = 0.9

// atSea says whether the time between two moments was spent at sea; whole is false where
// it was some of both.
func (s State) atSea(from, to time.Time) (sea, whole bool) {
	out := 0.0
	for _, sailing := range s.Sailings {
		begin, end := sailing.Depart.At, to
		if sailing.Arrive != nil {
			end = sailing.Arrive.Moment()
		}
		begin, end = latest(begin, from), earliest(end, to)
		out += max(0, end.Sub(begin).Hours())
	}
	share := out / to.Sub(from).Hours()
	return share >= mostly, share >= mostly || share <= 1-mostly
}

// crewAt is who was aboard on the passage in which the interval lies; 0: not told.
func (s State) crewAt(from, to time.Time) int {
	for _, sailing := range slices.Backward(s.Sailings) {
		if sailing.Depart.At.Before(to) && (sailing.Arrive == nil || sailing.Arrive.Moment().After(from)) {
			return sailing.Depart.Crew
		}
	}
	return 0
}

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func earliest(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

// usesAbove wants a reason where more is used at sea than is planned with.
func (g *gate) usesAbove() {
	uses, _ := Learnt(g.definitions, g.state, *g.assessment)
	for _, u := range uses {
		if !u.IsAbove() || !u.AtSea {
			continue
		}
		why := u.Words(g.definitions.Boat.Units)
		if u.Margin != nil {
			why += fmt.Sprintf("; with it the margin is %s", u.Margin)
		}
		g.caution(Caution{Matter: MatterUse, Name: string(u.Thing), Title: string(u.Thing) + " used", Why: why})
	}
}

// Words are the rate as seen against the plan: "4.6 L per person and day at sea (middle half
// 4.2 to 5.1, 5 times), planned 4.0".
func (u Use) Words(units quantity.System) string {
	where := "at anchor"
	if u.AtSea {
		where = "at sea"
	}
	show := func(v float64) string { return amountIn(u.Thing, v, units) }
	per := map[passage.Thing]string{passage.Water: "per person and day " + where, passage.Gas: "a day " + where, passage.Fuel: "per engine hour"}[u.Thing]
	times := fmt.Sprintf("%d times", u.N)
	if u.N == 1 {
		times = "once"
	}
	return fmt.Sprintf("%s %s (middle half %s to %s, seen %s), planned %s", show(u.Median), per, strings.Fields(show(u.Low))[0], show(u.High), times, show(u.Planned))
}

// Verdict is what a rate learnt means for the plan.
func (u Use) Verdict() string {
	switch {
	case !u.Enough():
		return "too little was seen to go by it"
	case u.IsAbove() && u.Margin != nil:
		return "MORE THAN PLANNED; with it the margin is " + u.Margin.String()
	case u.IsAbove():
		return "MORE THAN PLANNED"
	case len(u.Lines) > 0:
		return "less than planned"
	}
	return "as planned"
}

// amountIn is a rate's amount, to the tenth, of gas to the hundredth.
func amountIn(t passage.Thing, v float64, units quantity.System) string {
	switch {
	case t == passage.Gas && units == quantity.US:
		return fmt.Sprintf("%.2f lb", v/float64(quantity.Pound))
	case t == passage.Gas:
		return fmt.Sprintf("%.2f kg", v)
	case units == quantity.US:
		return fmt.Sprintf("%.2f US gal", v/float64(quantity.USGallon))
	}
	return fmt.Sprintf("%.1f L", v)
}

// DoubtWords tell of an interval in which dip and hours disagree.
func DoubtWords(d provisions.Doubt, units quantity.System) string {
	said := fmt.Sprintf("%s gone in %.1f engine hours that explain %s", amountIn(passage.Fuel, float64(d.Used), units), d.Hours, amountIn(passage.Fuel, float64(d.Explained), units))
	if d.Used < d.Explained {
		return said + ": gauge, hour-meter or burn?"
	}
	return said + ": gauge, leak or burn?"
}
