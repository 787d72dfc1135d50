package checklist

import (
	"fmt"
	"slices"
	"strings"
)

// noonKeys are what a noon may be told with, as "wind=18 kn"; each tank is another.
var noonKeys = []string{"to", "position", "run", "hours", "wind", "pressure", "sleep", "note"}

// arrivalKeys are what an arrival may be told with; each tank is another.
var arrivalKeys = []string{"miles", "hours", "note"}

// ParseNoon parts "340 nm port water=62 % hours=1490.5 wind=18 kn NE": what stands before the
// first name is the miles to go, or the position; names are those of noonKeys and of tanks.
func (d Definitions) ParseNoon(text string) (NoonTold, error) {
	first, pairs, err := d.parts(text, noonKeys)
	if err != nil {
		return NoonTold{}, err
	}
	told := NoonTold{}
	switch {
	case strings.ContainsAny(first, "NSns,°") && !strings.HasSuffix(first, "nm"):
		told.Position = first
	default:
		told.ToGo = first
	}
	fields := map[string]*string{
		"to": &told.To, "position": &told.Position, "run": &told.Run, "hours": &told.Hours, "wind": &told.Wind,
		"pressure": &told.Pressure, "sleep": &told.Sleep, "note": &told.Note,
	}
	for _, p := range pairs {
		if field, is := fields[p.name]; is {
			*field = p.value
			continue
		}
		told.Levels = append(told.Levels, TankLevel{p.name, p.value})
	}
	return told, nil
}

// ParseArrival parts "Port Name port water=62 % hours=1490.5 miles=412 nm": what stands before
// the first name is the place.
func (d Definitions) ParseArrival(text string) (ArrivalTold, error) {
	first, pairs, err := d.parts(text, arrivalKeys)
	if err != nil {
		return ArrivalTold{}, err
	}
	told := ArrivalTold{Place: first}
	for _, p := range pairs {
		switch p.name {
		case "miles":
			told.Miles = p.value
		case "hours":
			told.Hours = p.value
		case "note":
			told.Note = p.value
		default:
			told.Levels = append(told.Levels, TankLevel{p.name, p.value})
		}
	}
	return told, nil
}

// toldPair is a name and what was told of it.
type toldPair struct{ name, value string }

// parts finds the names in a text, each with its sign of equality. The longest name wins, and
// a name begins a word.
func (d Definitions) parts(text string, keys []string) (first string, pairs []toldPair, err error) {
	names := slices.Clone(keys)
	for _, t := range d.Boat.Tanks {
		names = append(names, t.Name)
	}
	slices.SortStableFunc(names, func(a, b string) int { return len(b) - len(a) })

	type place struct {
		at, value int
		name      string
	}
	var places []place
	for at := 0; at < len(text); at++ {
		if at > 0 && text[at-1] != ' ' {
			continue
		}
		for _, name := range names {
			if len(text) > at+len(name) && strings.EqualFold(text[at:at+len(name)], name) && text[at+len(name)] == '=' {
				places = append(places, place{at, at + len(name) + 1, name})
				at += len(name)
				break
			}
		}
	}
	end := len(text)
	if len(places) > 0 {
		end = places[0].at
	}
	first = strings.TrimSpace(text[:end])
	if i := strings.IndexByte(first, '='); i >= 0 {
		return "", nil, unknownBefore(strings.Fields(first[:i]), names)
	}
	for i, p := range places {
		end := len(text)
		if i+1 < len(places) {
			end = places[i+1].at
		}
		value := strings.TrimSpace(text[p.value:end])
		if value == "" {
			return "", nil, refuse(p.name+" is told without a value", fmt.Sprintf("write it like %q, or leave it out", p.name+"=…"))
		}
		if slices.ContainsFunc(pairs, func(o toldPair) bool { return o.name == p.name }) {
			return "", nil, refuse(p.name+" is told twice", "tell it once")
		}
		pairs = append(pairs, toldPair{p.name, value})
	}
	return first, pairs, nil
}

// unknownBefore is what stands before a sign of equality and is no name: the nearest one is
// looked for among its last words.
func unknownBefore(words, names []string) error {
	for i := range words {
		if tail := strings.Join(words[i:], " "); Nearest(tail, names) != "" {
			return unknown("name before a =", tail, names)
		}
	}
	return unknown("name before a =", strings.Join(words, " "), names)
}

// ParseDecision reads what was typed about a point: why she goes on, or "no," and why not;
// given is false where nothing was.
func ParseDecision(point, text string) (answer DecisionAnswered, given bool) {
	why := strings.TrimSpace(text)
	const no = "no,"
	goOn := len(why) < len(no) || !strings.EqualFold(why[:len(no)], no)
	if !goOn {
		why = strings.TrimSpace(why[len(no):])
	}
	return DecisionAnswered{Point: point, GoOn: goOn, Why: why}, text != "" && why != ""
}
