package checklist

import (
	"slices"
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// geared is the fit boat with impellers in two places, one of them a used one, belts, a puller, and a
// service that uses an impeller.
func geared() Definitions {
	d := fitBoat()
	d.Spares = []machinery.Spare{
		{
			Name: "impeller", With: []string{"gasket"}, Need: map[passage.Kind]int{passage.Offshore: 1}, Critical: true,
			Stowed: []machinery.Stowed{lot("bow / box 1", 1, machinery.Used), lot("bow / box 1", 2, machinery.New, "gasket"), lot("aft / box 2", 1, machinery.New, "gasket")},
		},
		{Name: "belt", Stowed: []machinery.Stowed{lot("aft / box 2", 3, machinery.New)}},
	}
	d.Tools = []machinery.Tool{{Name: "puller", Place: "bow / roll", State: machinery.Good}}
	d.Services = []machinery.Service{
		{
			Name: "change impeller", EveryHours: 300, EveryMonths: 12, Critical: true, Uses: []string{"impeller"}, Takes: 45 * time.Minute,
			Last: machinery.Done{Date: june(1), Hours: 990},
		},
		{Name: "scrub", Resets: "fouling"},
	}
	return d
}

func june(day int) quantity.Date { return quantity.Date{Year: 2026, Month: 6, Day: day} }

func lot(place string, n int, condition machinery.Condition, has ...string) machinery.Stowed {
	return machinery.Stowed{Place: place, Count: n, Condition: condition, Fit: machinery.Proved, Has: has}
}

// impellers are those aboard after some acts, without what is empty.
func impellers(d Definitions, acts ...Act) []machinery.Stowed {
	var l log
	l.add(evening, acts...)
	return slices.DeleteFunc(slices.Clone(d.Now(Fold(l)).Spares[0].Stowed), func(s machinery.Stowed) bool { return s.Count == 0 })
}

func TestRecordIsLaidOverTheSpares(t *testing.T) {
	used, boxed, aft := lot("bow / box 1", 1, machinery.Used), lot("bow / box 1", 2, machinery.New, "gasket"), lot("aft / box 2", 1, machinery.New, "gasket")
	n := func(s machinery.Stowed, n int) machinery.Stowed { s.Count = n; return s }
	for _, test := range []struct {
		name string
		acts []Act
		want []machinery.Stowed
	}{
		{"nothing", nil, []machinery.Stowed{used, boxed, aft}},
		{"bought, of the same kind in the same place", []Act{Stow{Spare: "impeller", Did: Bought, Count: 2, To: "Aft/box 2", Condition: machinery.New, Fit: machinery.Proved, Has: []string{"gasket"}}},
			[]machinery.Stowed{used, boxed, n(aft, 3)}},
		{"bought, of another fit", []Act{Stow{Spare: "impeller", Did: Bought, Count: 2, To: "aft / box 2", Condition: machinery.New}},
			[]machinery.Stowed{used, boxed, aft, {Place: "aft / box 2", Count: 2, Condition: machinery.New, Fit: machinery.Unknown}}},
		{"used from a place: those that count first", []Act{Stow{Spare: "impeller", Did: UsedUp, Count: 2, From: "bow / box 1"}}, []machinery.Stowed{used, aft}},
		{"used, more than there are", []Act{Stow{Spare: "impeller", Did: UsedUp, Count: 9, From: "bow / box 1"}}, []machinery.Stowed{aft}},
		{"used of a condition", []Act{Stow{Spare: "impeller", Did: UsedUp, Count: 1, From: "bow / box 1", Condition: machinery.Used}}, []machinery.Stowed{boxed, aft}},
		{"used, no place named: where they count, in the files' order", []Act{Stow{Spare: "impeller", Did: UsedUp, Count: 3}}, []machinery.Stowed{used}},
		{"used from a place that the files no longer name", []Act{Stow{Spare: "impeller", Did: UsedUp, Count: 1, From: "stern"}}, []machinery.Stowed{used, n(boxed, 1), aft}},
		{"a service's parts", []Act{ServiceDone{Service: "change impeller", Parts: []PartTaken{{Spare: "impeller", Place: "aft / box 2", Count: 1, Old: "bow / box 1"}}}},
			[]machinery.Stowed{n(used, 2), boxed}},
		{"moved as they are", []Act{Stow{Spare: "impeller", Did: Moved, Count: 2, From: "bow / box 1", To: "aft / box 2"}}, []machinery.Stowed{used, n(aft, 3)}},
		{"lent", []Act{Stow{Spare: "impeller", Did: Lent, Count: 1, From: "aft / box 2", Note: "next door"}}, []machinery.Stowed{used, boxed}},
		{"and back, used", []Act{Stow{Spare: "impeller", Did: Lent, Count: 1, From: "aft / box 2"}, Stow{Spare: "impeller", Did: Back, Count: 1, To: "bow / box 1", Condition: machinery.Used, Fit: machinery.Proved}},
			[]machinery.Stowed{n(used, 2), boxed}},
		{"found: that, and nothing else of it there", []Act{Stow{Spare: "impeller", Did: Found, Count: 5, To: "bow / box 1", Condition: machinery.Doubtful, Fit: machinery.Measured}},
			[]machinery.Stowed{{Place: "bow / box 1", Count: 5, Condition: machinery.Doubtful, Fit: machinery.Measured}, aft}},
		{"found beside: the others stay", []Act{Stow{Spare: "impeller", Did: Found, Beside: true, Count: 1, To: "bow / box 1", Condition: machinery.New, Fit: machinery.Proved}},
			[]machinery.Stowed{used, lot("bow / box 1", 1, machinery.New), aft}},
		{"found none", []Act{Stow{Spare: "impeller", Did: Found, To: "bow / box 1"}}, []machinery.Stowed{aft}},
		{"found where none was known", []Act{Stow{Spare: "impeller", Did: Found, Count: 1, To: "mast", Condition: machinery.New, Fit: machinery.Proved}},
			[]machinery.Stowed{used, boxed, aft, lot("mast", 1, machinery.New)}},
		{"words that are none count for nothing", []Act{Stow{Spare: "impeller", Did: Found, Count: 1, To: "bow / box 1", Condition: "brand-new", Fit: "sure", Has: []string{"gasket"}}},
			[]machinery.Stowed{{Place: "bow / box 1", Count: 1, Condition: machinery.Doubtful, Fit: machinery.Unknown, Has: []string{"gasket"}}, aft}},
		{"a thing that is no longer in the files", []Act{Stow{Spare: "gasket set", Did: Bought, Count: 1, To: "bow"}, Stow{Tool: "saw", Did: Moved, To: "bow"}}, []machinery.Stowed{used, boxed, aft}},
		{"one that was corrected", []Act{Stow{Spare: "impeller", Did: UsedUp, Count: 3}, Correct{Of: 1, Why: "slip"}}, []machinery.Stowed{used, boxed, aft}},
	} {
		assert.Equal(t, test.want, impellers(geared(), test.acts...), test.name)
	}
}

func TestWhatCountsIsNeverMadeOfOldParts(t *testing.T) {
	d := geared()
	before := d.Spares[0].Counts()
	var l log
	l.add(evening, Stow{Spare: "impeller", Did: UsedUp, Count: 1, From: "aft / box 2", Old: "aft / box 2"})
	now := d.Now(Fold(l)).Spares[0]
	assert.Equal(t, before-1, now.Counts())
	assert.Equal(t, []string{"one used in bow / box 1", "one used in aft / box 2"}, now.WhyNot())
}

func TestRecordIsLaidOverTheTools(t *testing.T) {
	tool := func(place string, state machinery.ToolState) machinery.Tool {
		return machinery.Tool{Name: "puller", Place: place, State: state}
	}
	for _, test := range []struct {
		name string
		acts []Act
		want machinery.Tool
	}{
		{"moved", []Act{Stow{Tool: "puller", Did: Moved, To: "aft"}}, tool("aft", machinery.Good)},
		{"found stiff", []Act{Stow{Tool: "puller", Did: Found, State: machinery.Stiff}}, tool("bow / roll", machinery.Stiff)},
		{"lent: no job can count on it", []Act{Stow{Tool: "puller", Did: Lent, Note: "next door"}}, tool("lent: next door", machinery.Missing)},
		{"and back", []Act{Stow{Tool: "puller", Did: Lent, Note: "next door"}, Stow{Tool: "puller", Did: Back, To: "bow / roll"}}, tool("bow / roll", machinery.Good)},
		{"a new one", []Act{Stow{Tool: "puller", Did: Found, State: machinery.Missing}, Stow{Tool: "puller", Did: Bought, To: "aft"}}, tool("aft", machinery.Good)},
		{"no tool is used up", []Act{Stow{Tool: "puller", Did: UsedUp, State: machinery.Missing, To: "aft"}}, tool("bow / roll", machinery.Good)},
	} {
		var l log
		l.add(evening, test.acts...)
		assert.Equal(t, test.want, geared().Now(Fold(l)).Tools[0], test.name)
	}
}

func TestLastTimeIsTheLaterOfFileAndRecord(t *testing.T) {
	file := machinery.Done{Date: june(5), Hours: 990}
	for _, test := range []struct {
		name string
		file machinery.Done
		act  ServiceDone
		want machinery.Done
	}{
		{"the record's is later", file, ServiceDone{Date: june(10), Hours: 1001}, machinery.Done{Date: june(10), Hours: 1001}},
		{"the file's is later, whatever the meter", file, ServiceDone{Date: june(4), Hours: 2000}, file},
		{"the same day: the later hours", file, ServiceDone{Date: june(5), Hours: 989}, file},
		{"the same day, the record's hours are later", file, ServiceDone{Date: june(5), Hours: 991}, machinery.Done{Date: june(5), Hours: 991}},
		{"the file tells hours alone, and fewer", machinery.Done{Hours: 990}, ServiceDone{Date: june(5), Hours: 991}, machinery.Done{Date: june(5), Hours: 991}},
		{"never done by the file", machinery.Done{}, ServiceDone{Date: june(5), Hours: 991}, machinery.Done{Date: june(5), Hours: 991}},
		{"no day told: the entry's", file, ServiceDone{Hours: 991}, machinery.Done{Date: june(11), Hours: 991}},
		{"no hours told: those read last by then", file, ServiceDone{}, machinery.Done{Date: june(11), Hours: 1003}},
		{"none told, none read by then: those of its time before", file, ServiceDone{Date: june(8)}, machinery.Done{Date: june(8), Hours: 990}},
	} {
		d := geared()
		d.Services[0].Last = test.file
		test.act.Service = "change impeller"
		var l log
		l.add(evening.Add(-time.Hour), meterRead(1003))
		l.add(evening, test.act)
		l.add(evening.Add(time.Hour), meterRead(1004))
		assert.Equal(t, test.want, d.Now(Fold(l)).Services[0].Last, test.name)
	}
}

func meterRead(hours float64) Reading {
	return Reading{Values: []ReadingValue{{"hours", counted(hours)}}}
}

func TestServiceInTheRecordIsNoLongerInTheWay(t *testing.T) {
	d, l := geared(), walked()
	d.Services[0].Last = machinery.Done{Date: june(1), Hours: 500}
	assert.Contains(t, inTheWay(Assess(d.Now(Fold(l)), Fold(l), evening)), "service change impeller")
	l.add(evening, ServiceDone{Service: "change impeller", Date: june(11), Hours: 1000})
	assert.NotContains(t, inTheWay(Assess(d.Now(Fold(l)), Fold(l), evening)), "service change impeller")
}

// An entry from a doubtful span keeps its effect, as levels do: what was taken is taken.
func TestDoubtfulEntriesKeepTheirEffect(t *testing.T) {
	d := geared()
	var l log
	l.add(evening, Event{"anchored"})
	l.add(evening.Add(-time.Hour), Stow{Spare: "impeller", Did: UsedUp, Count: 3})
	s := Fold(l)
	require.True(t, s.Stows[0].Doubtful)
	assert.Zero(t, d.Now(s).Spares[0].Counts())
}

// Whatever a record holds, no count is below zero, and the files' definitions stay as they were.
func TestNothingIsEverBelowZero(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, untouched := geared(), geared()
		now := d.Now(Fold(someEntries(t)))
		require.Equal(t, untouched, d)
		for _, s := range now.Spares {
			for _, lot := range s.Stowed {
				require.GreaterOrEqual(t, lot.Count, 0)
				require.LessOrEqual(t, lot.Count, mostPieces)
			}
		}
	})
}

// What a later look settled tells nothing: without it the same lies aboard.
func TestWhatIsDroppedFromTheStateTellsNothing(t *testing.T) {
	d := geared()
	for i := range d.Spares {
		for _, place := range []string{"bow / box 1", "aft"} { // every place that acts name is known
			d.Spares[i].Stowed = append(d.Spares[i].Stowed, lot(place, 1, machinery.New))
		}
	}
	dropped := 0
	untilMet(t, func() bool { return dropped > 0 }, func(t *rapid.T) {
		var all []StowState
		for range rapid.IntRange(0, 25).Draw(t, "acts") {
			all = append(all, StowState{Stow: someStow(t)})
		}
		s := State{Stows: slices.Clone(all)}
		s.pruneStows()
		dropped += len(all) - len(s.Stows)
		whole, kept := d.Now(State{Stows: all}), d.Now(s)
		require.Equal(t, whole.Tools, kept.Tools)
		for i := range whole.Spares {
			require.ElementsMatch(t, there(whole.Spares[i]), there(kept.Spares[i]))
		}
	})
}

// there is what lies where, without what is empty; lots of a kind in a place are one.
func there(s machinery.Spare) []machinery.Stowed {
	sum := machinery.Spare{}
	for _, lot := range s.Stowed {
		lot.Place = placeKey(lot.Place)
		addPieces(&sum, lot)
	}
	return sum.Stowed
}

func TestStowsDoNotGrowForEver(t *testing.T) {
	var l log
	for range 200 {
		l.add(evening, Stow{Spare: "impeller", Did: Bought, Count: 2, To: "bow / box 1", Condition: machinery.New}, Stow{Spare: "impeller", Did: UsedUp, Count: 1, From: "bow / box 1"},
			Stow{Spare: "impeller", Did: Found, Count: 1, To: "bow / box 1", Condition: machinery.New}, Stow{Tool: "puller", Did: Found, To: "aft", State: machinery.Stiff})
	}
	assert.Len(t, Fold(l).Stows, 2, "one look into the box, one at the tool")
}

// Pieces come by buying, by what comes back and by old parts that are kept; they go by using and lending; moving changes
// nothing. So says whatever acts are accepted, but for a look that finds it otherwise.
func TestPiecesAreNeitherMadeNorLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := geared()
		var l log
		want := total(d.Spares[0])
		for range rapid.IntRange(1, 12).Draw(t, "acts") {
			how := someStow(t)
			how.Tool, how.State = "", ""
			if how.Did == Found {
				continue
			}
			act, err := d.NewStow(Fold(l), "impeller", how)
			if err != nil {
				continue
			}
			l.add(evening, act)
			switch act.Did {
			case Bought, Back:
				want += act.Count
			case Lent:
				want -= act.Count
			case UsedUp:
				if act.Old == "" {
					want -= act.Count
				}
			}
			require.Equal(t, want, total(d.Now(Fold(l)).Spares[0]), "%+v", act)
		}
	})
}

func total(s machinery.Spare) int {
	n := 0
	for _, lot := range s.Stowed {
		n += lot.Count
	}
	return n
}
