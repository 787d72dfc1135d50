package machinery

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
)

func impellers(stowed ...Stowed) Spare {
	return Spare{
		Name: "raw-water impeller", Size: "six vanes, 51 x 22 mm", With: []string{"gasket", "O-ring"}, Critical: true, Stowed: stowed,
		Need: map[passage.Kind]int{passage.Coastal: 1, passage.Offshore: 3},
	}
}

func fits(count int, has ...string) Stowed {
	return Stowed{Place: "box", Count: count, Condition: New, Fit: Proved, Has: has}
}

// Rows of the reference, checks 7.11, and their like; that a used one counts as nothing is
// common practice, no source.
func TestWantedAgreesWithThePublishedRows(t *testing.T) {
	kit := []string{"gasket", "O-ring"}
	used := Stowed{Place: "tin", Count: 1, Condition: Used, Fit: Proved, Has: kit}
	untried := Stowed{Place: "tin", Count: 4, Condition: New, Fit: Unknown}
	for _, row := range []struct {
		name   string
		stowed []Stowed
		buy    []Part
		aloud  []string
	}{
		{"three whole", []Stowed{fits(3, kit...)}, nil, nil},
		{"none", nil, []Part{{"raw-water impeller", 3}, {"gasket", 3}, {"O-ring", 3}},
			[]string{"raw-water impeller, six vanes, 51 x 22 mm, with gasket and O-ring: three"}},
		{"two new and one gasket: short 2; to buy gaskets 2, impeller 1", []Stowed{fits(1, kit...), fits(1, "O-ring")},
			[]Part{{"raw-water impeller", 1}, {"gasket", 2}, {"O-ring", 1}},
			[]string{"raw-water impeller, six vanes, 51 x 22 mm, with gasket and O-ring: one", "gasket for the raw-water impeller, six vanes, 51 x 22 mm: one"}},
		{"of the incomplete that which lacks least", []Stowed{fits(2, kit...), fits(5), fits(1, "gasket")}, []Part{{"O-ring", 1}},
			[]string{"O-ring for the raw-water impeller, six vanes, 51 x 22 mm: one"}},
		{"two used besides", []Stowed{fits(2, kit...), used}, []Part{{"raw-water impeller", 1}, {"gasket", 1}, {"O-ring", 1}},
			[]string{"raw-water impeller, six vanes, 51 x 22 mm, with gasket and O-ring: one"}},
		{"those of unknown fit are not made whole", []Stowed{fits(2, kit...), untried}, []Part{{"raw-water impeller", 1}, {"gasket", 1}, {"O-ring", 1}},
			[]string{"raw-water impeller, six vanes, 51 x 22 mm, with gasket and O-ring: one"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			wants := Wanted(passage.Offshore, []Spare{impellers(row.stowed...)}, nil)
			if row.buy == nil {
				assert.Empty(t, wants)
				return
			}
			require.Len(t, wants, 1)
			assert.Equal(t, row.buy, wants[0].ToBuy())
			assert.Equal(t, row.aloud, wants[0].Aloud())
		})
	}
	assert.Empty(t, Wanted(passage.Shift, []Spare{impellers()}, nil), "a shift asks for none")
	assert.Equal(t, []string{"one used in tin"}, Wanted(passage.Offshore, []Spare{impellers(used)}, nil)[0].Aboard)
}

// One used on passage: the count falls at once, and it is wanted again (reference, checks 7.11).
func TestOneUsedIsWantedAgain(t *testing.T) {
	kit := []string{"gasket", "O-ring"}
	assert.Empty(t, Wanted(passage.Coastal, []Spare{impellers(fits(1, kit...))}, nil))
	assert.Equal(t, 1, Wanted(passage.Coastal, []Spare{impellers(fits(0, kit...))}, nil)[0].Count)
}

func TestWhatTheServicesUseIsWantedOnTopOfWhatThePassageAsksFor(t *testing.T) {
	depart := at(2026, 6, 12, 5, 30)
	a := underEngine(depart, depart, 1000, 10*24, 0.5) // 120 h
	done := Done{Date: day(2026, 1, 1), Hours: 1000}
	services := []Service{
		{Name: "change filter", EveryHours: 50, Last: done, UnderWay: true, Uses: []string{"filter"}, Tools: []string{"wrench"}},
		{Name: "change impeller", EveryHours: 70, Last: done, Uses: []string{"raw-water impeller"}, Tools: []string{"puller", "wrench"}, Critical: true},
		{Name: "renew belts", EveryMonths: 5, Last: done, Uses: []string{"belt", "belt"}},
		{Name: "far off", EveryHours: 500, Last: done, Uses: []string{"filter", "anode"}, Tools: []string{"lost"}},
	}
	spares := []Spare{
		{Name: "filter", Need: map[passage.Kind]int{passage.Offshore: 4}, Stowed: []Stowed{fits(4)}},
		impellers(fits(3, "gasket", "O-ring")), {Name: "belt"}, {Name: "anode"},
	}
	tools := []Tool{{Name: "wrench", State: Stiff}, {Name: "puller", State: Missing}}
	wants := Wanted(passage.Offshore, spares, Forecasts(services, spares, tools, a))

	var said []string
	for _, w := range wants {
		said = append(said, w.Aloud()...)
	}
	assert.Equal(t, []string{"raw-water impeller, six vanes, 51 x 22 mm, with gasket and O-ring: one", "puller: one", "filter: two", "belt: two"}, said, "critical ones first")
	assert.Equal(t, []string{"offshore asks for 3, aboard count 3", "change impeller takes 1, due on day 6"}, wants[0].Why)
	assert.Equal(t, []string{"the one aboard is missing", "change impeller needs it, due on day 6"}, wants[1].Why)
	assert.True(t, wants[1].IsTool)
	assert.Equal(t, []string{"offshore asks for 4, aboard count 4", "change filter takes 2, due on day 5"}, wants[2].Why)
	assert.Equal(t, []string{"renew belts takes 2, due now"}, wants[3].Why)
}

func TestNumbersAreReadOutAsWords(t *testing.T) {
	for n, want := range map[int]string{0: "none", 1: "one", 2: "two", 12: "twelve", 13: "13", -1: "-1"} {
		assert.Equal(t, want, numberWord(n))
	}
	assert.Equal(t, "a", andWords([]string{"a"}))
	assert.Equal(t, "a, b and c", andWords([]string{"a", "b", "c"}))
}

// What can be made whole is, with as few loose parts as will do; the rest is bought whole.
func TestAsManyAsCanBeAreMadeWholeWithTheFewestParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var stowed []Stowed
		var lacks []int // of each single one that is new and fits
		for range rapid.IntRange(0, 4).Draw(t, "places") {
			one := Stowed{
				Count: rapid.IntRange(0, 3).Draw(t, "count"), Condition: rapid.SampledFrom([]Condition{New, New, Used, Doubtful, Wrong}).Draw(t, "condition"),
				Fit: rapid.SampledFrom([]Fit{Proved, Measured, Unknown}).Draw(t, "fit"),
				Has: rapid.SampledFrom([][]string{nil, {"gasket"}, {"O-ring"}, {"gasket", "O-ring"}}).Draw(t, "has"),
			}
			stowed = append(stowed, one)
			for range one.Count {
				if one.Condition == New && one.Fit != Unknown {
					lacks = append(lacks, 2-len(one.Has))
				}
			}
		}
		slices.Sort(lacks)
		kept := lacks[:min(3, len(lacks))] // three are asked for
		parts := 0
		for _, n := range kept {
			parts += n
		}

		var want Want
		if wants := Wanted(passage.Offshore, []Spare{impellers(stowed...)}, nil); len(wants) > 0 {
			want = wants[0]
			assert.NotEmpty(t, want.Aloud())
		}
		assert.Equal(t, 3, want.Count+len(kept))
		loose := 0
		for _, p := range want.Loose {
			loose += p.Count
		}
		assert.Equal(t, parts, loose)
	})
}

func TestTheBaseListHoldsWhatCouldNotBeDoneOutThere(t *testing.T) {
	around := aroundAtSea()
	open := coolantCard().Walk([]Step{
		{Look: "raw-water strainer", Seen: CouldNotLook, At: walked, Note: "too rough"}, step("second thermometer", FoundClean, 0), step("impeller, count the vanes", FoundClean, 0),
	}, around)
	other := Card{Sign: "slow at usual revs", Looks: []Look{{At: "exchanger tubes", Takes: 3 * time.Hour, Tools: []string{"brush"}}}}.Walk(
		[]Step{{Look: "exchanger tubes", Seen: CouldNotLook, At: walked.Add(-1000 * time.Hour), Note: "an old note"}}, around)
	clean := Card{Sign: "hunting", Looks: []Look{{At: "bowl"}}}.Walk([]Step{step("bowl", FoundClean, 0)}, around)
	foundOut := Card{Sign: "no water", Looks: []Look{{At: "seacock"}, {At: "outside"}}}.Walk([]Step{step("seacock", FoundBad, 0)}, around)

	depart := at(2026, 6, 20, 5, 30)
	spares := []Spare{{Name: "filter"}}
	forecasts := Forecasts([]Service{
		{Name: "filter", EveryHours: 50, Last: Done{Hours: 1000}, UnderWay: true, Uses: []string{"filter"}},
		{Name: "oil", EveryMonths: 1, Last: Done{Date: day(2026, 5, 25)}, Takes: time.Hour, Tools: []string{"pump"}},
		{Name: "bleed", EveryMonths: 1, Last: Done{Date: day(2026, 5, 25)}, UnderWay: true},
		{Name: "far off", EveryMonths: 10, Last: Done{Date: day(2026, 5, 25)}},
	}, spares, nil, underEngine(depart, depart, 1000, 10*24, 0.5))
	rudder := Errand{What: "rudder bearing", Why: []string{"play, defect 41"}}
	wants := Wanted(passage.Offshore, spares, forecasts)
	list := AtBase([]Walk{open, other, clean, foundOut}, forecasts, wants, rudder)

	assert.Equal(t, []Errand{
		{What: "raw-water strainer", Why: []string{"coolant a little high: could not look, too rough"}, Takes: 5 * time.Minute},
		{What: "exchanger tubes", Why: []string{"coolant a little high", "slow at usual revs"}, Takes: 3 * time.Hour, Lacks: []string{"brush is missing"}},
		{What: "hunting", Why: []string{"no cause found: 1 look, all clean; it is not closed"}},
	}, list.Looks)
	assert.Equal(t, []Errand{
		{What: "filter", Why: []string{"day 5, hove to"}, Lacks: []string{"2 x filter"}},
		{What: "oil", Why: []string{"before leaving: 1 h; else due on day 5"}, Takes: time.Hour, Lacks: []string{"pump is missing"}},
		rudder,
	}, list.Jobs)
	assert.Equal(t, wants, list.Parts)
	assert.Len(t, wants, 2)
}
