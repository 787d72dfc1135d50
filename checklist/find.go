package checklist

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/checklist/machinery"
)

// Telling is where all is told of a thing: one of the screens, and what stands for it among the commands.
type Telling string

// The places of telling.
const (
	TellReady   Telling = "ready"
	TellPassage Telling = "passage"
	TellStores  Telling = "stores"
	TellRounds  Telling = "rounds"
	TellEngine  Telling = "engine"
	TellGear    Telling = "gear"
	TellRecord  Telling = "record"
)

// The kinds of what can be found.
const (
	FoundSpare      = "spare"
	FoundTool       = "tool"
	FoundDated      = "dated"
	FoundPlace      = "place"
	FoundFood       = "food"
	FoundConsumable = "consumable"
	FoundTank       = "tank"
	FoundRound      = "round"
	FoundCheck      = "check"
	FoundService    = "service"
	FoundDefect     = "defect"
	FoundCard       = "fault card"
	FoundBlocker    = "blocker"
	FoundCaution    = "caution"
	FoundLeg        = "leg"
	FoundStop       = "stop"
	FoundAlternate  = "alternate"
	FoundPassage    = "passage"
	FoundEntry      = "entry"
)

// FoundKinds are all of them, what can be taken in the hand first, what was written down about it last.
var FoundKinds = []string{
	FoundSpare, FoundTool, FoundDated, FoundFood, FoundConsumable, FoundTank, FoundPlace, FoundCheck, FoundRound, FoundService,
	FoundDefect, FoundCard, FoundBlocker, FoundCaution, FoundLeg, FoundStop, FoundAlternate, FoundPassage, FoundEntry,
}

// KindWords is a kind as people read it.
func KindWords(kind string) string {
	switch kind {
	case FoundDated:
		return "dated gear"
	case FoundBlocker:
		return "stands in the way"
	case FoundAlternate:
		return "another place to make for"
	}
	return kind
}

// Findable is anything that can be looked for, and where it is told.
type Findable struct {
	machinery.Thing
	Told Telling
	Key  string // what it is called by there: the id of a check or a caution, a number; else its name
}

// Number is its key as a number: of an entry, a defect, a leg from 1; 0: it has none.
func (f Findable) Number() int {
	n, _ := strconv.Atoi(f.Key)
	return n
}

// entry puts what is no entry first, then the last entry.
func (f Findable) entry() int {
	if f.Kind != FoundEntry {
		return math.MinInt
	}
	return -f.Number()
}

// IsGear says that it is a thing that lies, or should lie, in a place aboard.
func (f Findable) IsGear() bool {
	return slices.Contains([]string{FoundSpare, FoundTool, FoundDated, FoundFood}, f.Kind)
}

// FoundThing is a thing that was found.
type FoundThing struct {
	Findable
	Guess  bool // found only with mistakes forgiven
	InHere bool // the question named its place
}

// Finder is all that can be looked for at a moment, made ready to be searched.
type Finder struct {
	list  []Findable
	index machinery.Index
}

// NewFinder gathers what can be found: d are the definitions as the files have them, or as she is under way; entries are
// as much of the record as is known.
func NewFinder(d Definitions, s State, a Assessment, entries []Entry) Finder {
	aboard := d.Now(s)
	var list []Findable
	for _, t := range ThingsAboard(d, s, a.Now) {
		list = append(list, Findable{Thing: t, Told: toldOfGear(t.Kind), Key: t.Name})
	}
	list = append(list, placesFound(list)...)
	list = append(list, d.consumablesFound(s)...)
	list = append(list, d.tanksFound(a)...)
	list = append(list, a.roundsFound()...)
	list = append(list, aboard.engineFound(a)...)
	list = append(list, a.inTheWayFound()...)
	list = append(list, d.legsFound()...)
	list = append(list, d.recordFound(entries)...)

	things := make([]machinery.Thing, len(list))
	for i := range list {
		things[i] = list[i].Thing
	}
	return Finder{list: list, index: machinery.NewIndex(things)}
}

// Find is what a question may mean, best first. Of what serves it equally well that which is told at own comes first,
// then entries the last first; of one name the thing itself comes before what is told of it.
func (x Finder) Find(question string, own Telling) []FoundThing {
	found := x.index.Find(question)
	slices.SortStableFunc(found, func(f, g machinery.Found) int {
		a, b := x.list[f.At], x.list[g.At]
		return cmp.Or(
			cmp.Compare(f.Rank, g.Rank), cmp.Compare(aside(a, own), aside(b, own)),
			cmp.Compare(a.entry(), b.entry()),
		)
	})
	told := make([]FoundThing, len(found))
	for i, f := range found {
		told[i] = FoundThing{Findable: x.list[f.At], Guess: f.Guess, InHere: f.InHere}
	}
	return told
}

func aside(f Findable, own Telling) int {
	if own != "" && f.Told == own {
		return 0
	}
	return 1
}

// In is the gear and the food in a place, and in the places within it.
func (x Finder) In(where string) []machinery.Thing {
	return slices.DeleteFunc(x.index.In(where), func(t machinery.Thing) bool { return t.Kind == FoundPlace })
}

func toldOfGear(kind string) Telling {
	if kind == FoundFood {
		return TellStores
	}
	return TellGear
}

// placesFound are the places in which something lies, each once, and the places that they lie in.
func placesFound(lying []Findable) []Findable {
	holds, paths := map[string]int{}, map[string]string{}
	var order []string
	for _, t := range lying {
		if strings.HasPrefix(t.Place, "lent") {
			continue // to whom, not where
		}
		path := ""
		for part := range strings.SplitSeq(placePath(t.Place), " / ") {
			if part == "" {
				break
			}
			path = strings.TrimPrefix(path+" / "+part, " / ")
			key := placeKey(path)
			if holds[key] == 0 {
				order, paths[key] = append(order, key), path
			}
			holds[key]++
		}
	}
	list := make([]Findable, len(order))
	for i, key := range order {
		path := paths[key]
		within, name := "", path
		if at := strings.LastIndex(path, " / "); at >= 0 {
			within, name = path[:at], path[at+len(" / "):]
		}
		things := "1 thing lies there"
		if n := holds[key]; n > 1 {
			things = fmt.Sprintf("%d things lie there", n)
		}
		list[i] = Findable{Thing: machinery.Thing{Name: name, Kind: FoundPlace, Place: within, Note: things}, Told: TellGear, Key: path}
	}
	return list
}

func (d Definitions) consumablesFound(s State) []Findable {
	var list []Findable
	for _, c := range d.Boat.Consumables {
		note := strings.TrimSpace(strconv.FormatFloat(c.Aboard, 'f', -1, 64)+" "+c.Unit) + ", never counted"
		if counts := s.Counts[c.Name]; len(counts) > 0 {
			last := counts[len(counts)-1]
			note = strings.TrimSpace(strconv.FormatFloat(last.Packs, 'f', -1, 64)+" "+c.Unit) + ", counted " + last.At.Format(dayLayout)
		}
		list = append(list, Findable{Thing: machinery.Thing{Name: c.Name, Kind: FoundConsumable, Note: note}, Told: TellStores, Key: c.Name})
	}
	return list
}

// dayLayout is a day as it is told beside a thing.
const dayLayout = "2 Jan 2006"

func (d Definitions) tanksFound(a Assessment) []Findable {
	var list []Findable
	for _, t := range a.Reckoning.Tanks {
		thing := machinery.Thing{Name: t.Tank.Name, Kind: FoundTank, Words: []string{string(t.Tank.Holds)}}
		thing.Note = fmt.Sprintf("%s of %s", t.Level.Down(t.Tank.Holds, a.Units), t.Tank.Capacity.Down(t.Tank.Holds, a.Units))
		switch {
		case t.Tank.Sealed:
			thing.Note += ", sealed"
		case t.Held.At.IsZero():
			thing.Note += ", never sounded"
		default:
			thing.Note += ", sounded " + d.moment(t.Held.At)
		}
		if t.Problem != nil {
			thing.Warning = t.Problem.Error()
		}
		list = append(list, Findable{Thing: thing, Told: TellStores, Key: thing.Name})
	}
	return list
}

func (a Assessment) roundsFound() []Findable {
	var list []Findable
	for _, r := range a.RoundsInOrder() {
		checks := r.Applying()
		var sections []string
		for _, s := range r.Sections {
			sections = append(sections, s.Name)
		}
		list = append(list, Findable{
			Thing: machinery.Thing{Name: r.Name, Kind: FoundRound, Note: several(len(checks), "check"), More: strings.Join(sections, " ")},
			Told:  TellRounds, Key: r.Name,
		})
		for _, c := range checks {
			list = append(list, Findable{
				Thing: machinery.Thing{
					Name: c.Ask, Kind: FoundCheck, Words: []string{c.ID, c.Covers}, Note: c.Status.Words() + "; " + c.Round + ", " + c.Section,
					More: c.Right + " " + c.Source + " " + c.Caution,
				},
				Told: TellRounds, Key: c.ID,
			})
		}
	}
	return list
}

// engineFound are the services, the open defects and the fault cards; d are the definitions as they are aboard.
func (d Definitions) engineFound(a Assessment) []Findable {
	var list []Findable
	for _, s := range d.Services {
		list = append(list, Findable{
			Thing: machinery.Thing{Name: s.Name, Kind: FoundService, Note: serviceNote(s), More: strings.Join(slices.Concat(s.Uses, s.Tools), " ")},
			Told:  TellEngine, Key: s.Name,
		})
	}
	for _, v := range a.Defects {
		number := strconv.Itoa(v.Seq)
		list = append(list, Findable{
			Thing: machinery.Thing{
				Name: v.What, Kind: FoundDefect, Words: []string{number, v.Check}, Note: fmt.Sprintf("defect %s, %s, %s", number, v.Grade, v.State), More: v.Card,
			},
			Told: TellEngine, Key: number,
		})
	}
	for _, c := range d.Cards {
		var looks []string
		for _, l := range c.Looks {
			looks = append(looks, l.At, l.How)
		}
		list = append(list, Findable{
			Thing: machinery.Thing{Name: c.Sign, Kind: FoundCard, Note: several(len(c.Looks), "look"), More: c.First + " " + strings.Join(looks, " ")},
			Told:  TellEngine, Key: c.Sign,
		})
	}
	return list
}

// serviceNote is how often it comes back, and when it was last done.
func serviceNote(s machinery.Service) string {
	var every []string
	if s.EveryHours > 0 {
		every = append(every, fmt.Sprintf("every %g h", s.EveryHours))
	}
	if s.EveryMonths > 0 {
		every = append(every, "every "+several(s.EveryMonths, "month"))
	}
	if len(every) == 0 {
		every = append(every, "by need")
	}
	last := "never done"
	if !s.Last.Date.IsZero() {
		last = "last done " + s.Last.Date.String()
	}
	return strings.Join(append(every, last), ", ")
}

// inTheWayFound is what stands in the way, and the cautions.
func (a Assessment) inTheWayFound() []Findable {
	var list []Findable
	for _, b := range a.Blockers {
		list = append(list, Findable{
			Thing: machinery.Thing{Name: b.Title, Kind: FoundBlocker, Words: []string{b.Name}, Note: b.Why, More: string(b.Matter) + " " + b.Clears},
			Told:  TellReady, Key: b.ID(),
		})
	}
	for _, c := range a.Cautions {
		note := c.Why
		if c.Accepted != nil {
			note += "; accepted: " + c.Accepted.Why
		}
		list = append(list, Findable{
			Thing: machinery.Thing{Name: c.Title, Kind: FoundCaution, Words: []string{c.Name}, Note: note, More: string(c.Matter)},
			Told:  TellReady, Key: c.ID(),
		})
	}
	return list
}

// ID is what it is told apart from the others by.
func (b Blocker) ID() string { return string(b.Matter) + ":" + b.Name }

// legsFound are the legs of the plan, the places they end at, and the other places to make for on them.
func (d Definitions) legsFound() []Findable {
	var list []Findable
	for i, leg := range d.Plan.Legs {
		key := strconv.Itoa(i + 1)
		add := func(kind, name, note, more string) {
			list = append(list, Findable{Thing: machinery.Thing{Name: name, Kind: kind, Note: note, More: more}, Told: TellPassage, Key: key})
		}
		add(FoundLeg, leg.From+" to "+leg.To, fmt.Sprintf("leg %s, %.0f nm", key, float64(leg.Distance)), leg.Dangers+" "+leg.Window)
		add(FoundStop, leg.To, stopNote(leg.Stay, len(leg.Fill) > 0, i == len(d.Plan.Legs)-1), "")
		for _, other := range leg.Alternates {
			add(FoundAlternate, other.Name, fmt.Sprintf("leg %s, from %.0f nm on", key, float64(other.After)), "")
		}
	}
	return list
}

func stopNote(stay time.Duration, gives, last bool) string {
	note := "a stop"
	switch {
	case last:
		note = "the end of the passage"
	case stay > 0:
		note = fmt.Sprintf("a stay of %g h", stay.Hours())
	}
	if gives && !last {
		note += ", something can be had there"
	}
	return note
}

// recordFound are the passages that she left on, and the entries, each by the words it has in the record.
func (d Definitions) recordFound(entries []Entry) []Findable {
	var list []Findable
	for _, p := range Passages(entries) {
		if !p.HasLeft() {
			continue
		}
		note := "left " + p.Depart.At.Format(dayLayout)
		if p.Arrived != nil {
			note += ", in " + p.Arrived.Moment().Format(dayLayout)
		}
		list = append(list, Findable{Thing: machinery.Thing{Name: p.Name(), Kind: FoundPassage, Note: note}, Told: TellRecord, Key: strconv.Itoa(p.Depart.Seq)})
	}
	struck := Struck(entries)
	for _, e := range entries {
		if _, brought := e.Act.(Carry); brought {
			continue
		}
		note := d.Words(e.Act)
		if e.By != "" {
			note += " (" + e.By + ")"
		}
		warning := ""
		if struck[e.Seq] {
			warning = "counts as never written"
		}
		number := strconv.Itoa(e.Seq)
		list = append(list, Findable{
			Thing: machinery.Thing{Name: "entry " + number, Kind: FoundEntry, Note: e.At.Format("2 Jan 15:04") + ", " + note, Warning: warning, More: string(e.Act.Kind())},
			Told:  TellRecord, Key: number,
		})
	}
	return list
}

func several(n int, what string) string { return fmt.Sprintf("%d %s", n, plural(n, what)) }
