package provisions

import (
	"time"

	"boat/hoveshort/provisions/passage"
)

// Window tells for one leg's end when to leave for arriving by day.
type Window struct {
	Leg   int
	Open  []Opening // of departure, within a day of it and not before now, for which expected and slow both arrive by day; in order
	Cases int       // of expected and slow, how many make every leg; 0: no window can be told
}

// Opening is from one moment to another.
type Opening struct {
	From, To time.Time
}

// aroundDeparture is how far from the departure a window is looked for.
const aroundDeparture = 24 * time.Hour

// windows are when to leave for being at each leg's end by day, one a leg of which the end
// is known. How long the way there takes does not hang on the departure, so that the
// daylight is only moved by it. Under way there are none.
func (s Situation) windows(r Reckoning) []Window {
	if s.UnderWay {
		return nil // she has left
	}
	from, to := r.Depart.Add(-aroundDeparture), r.Depart.Add(aroundDeparture)
	if from.Before(s.Now) {
		from = s.Now.In(r.Depart.Location())
	}

	var list []Window
	for leg := range s.Plan.Legs {
		end, ok := s.Plan.Legs[leg].End()
		if !ok || !end.Known() {
			continue
		}
		takes := r.toEndOf(leg)
		list = append(list, Window{
			Leg:   leg,
			Open:  openings(passage.LeaveForDay(end, from, to, takes...)),
			Cases: len(takes),
		})
	}
	return list
}

// toEndOf is how long it takes to the end of a leg in the expected and the slow case, of
// those that make every leg.
func (r Reckoning) toEndOf(leg int) []time.Duration {
	var takes []time.Duration
	for _, name := range []passage.CaseName{passage.Expected, passage.Slow} {
		if v := r.Cases[name].Voyage; leg < len(v.Arrivals) {
			takes = append(takes, v.Arrivals[leg].Sub(v.Depart))
		}
	}
	return takes
}

func openings(list []passage.Interval) []Opening {
	var open []Opening
	for _, i := range list {
		open = append(open, Opening(i))
	}
	return open
}
