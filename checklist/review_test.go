package checklist

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// The passage of these tests is invented, and its figures are worked by hand beside them; no source outside the
// project has one like it.

func nineDays(n int, hour int) time.Time { return time.Date(2026, 6, n, hour, 0, 0, 0, aboardZone) }

// oceanBoat is the fit boat with 400 L of water in a tank read to 2 %, and a leg of 1,000 miles.
func oceanBoat() Definitions {
	d := fitBoat()
	d.Boat.Tanks[0].Capacity, d.Boat.Tanks[0].GaugeError = 400, 0.02
	d.Boat.Tanks[1].GaugeError = 0.05
	d.Boat.Rates.Water = provisions.WaterRates{Drinking: 3, Cooking: 1, Washing: 1, HotWeather: 1}
	d.Plan.Depart = nineDays(2, 6)
	d.Plan.Legs = []passage.Leg{{From: "Here", To: "There", Distance: 1000, Sail: 5, Position: &passage.Position{Lat: -20, Lon: 170}}}
	return d
}

// frozenNine is what was frozen at the departure on 2 June 06:00. Water 10 L, gas 0.2 kg a day.
func frozenNine() Depart {
	at := nineDays(1, 18)
	return Depart{
		Passage: "across the bight", PassageKind: passage.Offshore, From: "Here", To: "There", Sign: 50, Definitions: "files as they are", Crew: 2, Hours: 1000,
		Cases: []SignedCase{
			{Case: "slow", Made: true, Hours: 288, EngineHours: 54, Fuel: 108, Water: 120, Gas: 2.4, Arrive: nineDays(14, 6)},
			{Case: "expected", Made: true, Hours: 192, EngineHours: 30, Fuel: 60, Water: 80, Gas: 1.6, Arrive: nineDays(10, 6)},
			{Case: "quick", Made: true, Hours: 168, EngineHours: 20, Fuel: 40, Water: 70, Gas: 1.4, Arrive: nineDays(9, 6)},
		},
		Resources: []SignedResource{
			{What: "water", From: "Here", To: "There", Available: 390, Need: 120, Reserve: 60}, {What: "fuel", From: "Here", To: "There", Available: 144, Need: 108, Reserve: 30},
			{What: "food", From: "Here", To: "There", Available: 60, Need: 24}, {What: "gas", From: "Here", To: "There", Available: 4.9, Need: 2.4, Reserve: 0.6},
		},
		Tanks: []SignedTank{{"water", "full", at}, {"diesel", "140 L + 10 L", at}, {"gas", "5 kg", at}},
	}
}

// arrivedNine is the arrival nine days later, told four hours after it.
func arrivedNine() Arrive {
	return Arrive{
		Place: "There", Close: true, Miles: 1040, Hours: 1040, When: nineDays(11, 6), Note: "much washing of sails",
		Levels: []TankLevel{{"water", "210 L"}, {"diesel", "60 L"}, {"gas", "3.1 kg"}},
	}
}

// nineLog is the whole passage. Numbers go by tens, so that something can be put between.
func nineLog(depart Depart, arrive Arrive, exceptions ...SignedException) []Entry {
	volt := Sign{Name: "A Skipper", Passage: "across the bight", Depart: nineDays(2, 6), Definitions: "files as they are", Fouling: 1, Exceptions: exceptions}
	return []Entry{
		{Seq: 10, At: nineDays(1, 17), Act: Answer{Check: "seacock", Answer: NotRight, Why: "stiff", Grade: "stop"}},
		{Seq: 20, At: nineDays(1, 18), Act: Answer{Check: "belts", Answer: NotRight, Why: "a crack", Grade: "note"}},
		{Seq: 30, At: nineDays(1, 18), Act: Answer{Check: "seacock", Answer: Right}},
		{Seq: 40, At: nineDays(1, 18), Act: Count{Food: "biscuit", Packs: 20}},
		{Seq: 50, At: nineDays(1, 19), Act: volt},
		{Seq: 60, At: nineDays(2, 6), Act: depart},
		{Seq: 70, At: nineDays(4, 12), Act: DefectAct{What: "the belt squeals", Grade: "limit"}},
		{Seq: 80, At: nineDays(5, 9), Act: ServiceDone{Service: "anode", Minutes: 30}},
		{Seq: 90, At: nineDays(11, 10), Act: arrive},
	}
}

func reviewed(d Definitions, entries []Entry) PassageReview {
	all := Passages(entries)
	return ReviewPassage(d, all[len(all)-1])
}

func TestANineDayPassageIsHeldAgainstItsPlan(t *testing.T) {
	r := reviewed(oceanBoat(), nineLog(frozenNine(), arrivedNine()))
	assert.InDelta(t, 9.0, *r.Time.Days, 1e-9, "2 June 06:00 to 11 June 06:00")
	assert.InDelta(t, 40, *r.Time.Engine, 1e-9)
	assert.Equal(t, "between expected and slow", r.Time.CameTrue)
	assert.InDelta(t, 1000, *r.Time.Planned, 1e-9)

	// 216 h lie a quarter of the way from 192 to 288: water 80 + 40/4 = 90 L. The soundings of 1 June 18:00 and
	// 11 June 10:00 are 9.6667 days apart, 0.6667 of them at anchor: 6.667 L more.
	water := r.Thing(passage.Water)
	assert.InDelta(t, 9+16.0/24, *water.Span, 1e-9)
	assert.InDelta(t, 90+10*16.0/24, *water.Planned, 1e-9)
	assert.InDelta(t, 400-210, *water.Used, 1e-9)
	assert.InDelta(t, 190/(9+16.0/24), *water.PerDay, 1e-9)
	assert.InDelta(t, 190/(9+16.0/24)/2, *water.PerPerson, 1e-9)
	assert.InDelta(t, 8, water.Error, 1e-9, "full to the brim has none, 210 L may be out by 2 % of 400 L")

	// Fuel: 140 + 10 L is the brim of 150 L. 60 + 48/4 = 72 L planned, and 1 L a day of charging at anchor.
	fuel := r.Thing(passage.Fuel)
	assert.InDelta(t, 90, *fuel.Used, 1e-9)
	assert.InDelta(t, 72+16.0/24, *fuel.Planned, 1e-9)
	assert.InDelta(t, 7.5, fuel.Error, 1e-9)
	// Gas: 1.6 + 0.8/4 = 1.8 kg and 0.133 at anchor; used 1.9.
	assert.InDelta(t, 1.9, *r.Thing(passage.Gas).Used, 1e-9)
	assert.InDelta(t, 1.8+0.2*16.0/24, *r.Thing(passage.Gas).Planned, 1e-9)

	assert.Equal(t, []string{
		"1.0 days longer than expected: between expected and slow",
		"10 engine hours more than expected: 40, not 30",
		"9.7 L more water a day than planned (93 L in 9.7 days): washing; the gauges may be out by 8.0 L",
		"17 L more fuel than planned for 9.7 days (40 engine hours at 2.2 L/h, planned 2.0 L/h); the gauges may be out by 7.5 L",
	}, texts(r.Differences))
	require.Len(t, r.Refused, 1, "the belts were never right")
	assert.Equal(t, RefusedCheck{Check: "seacock", Ask: "Raw-water seacock", Answer: NotRight, Why: "stiff", At: nineDays(1, 17), Times: 1}, r.Refused[0])
	require.Len(t, r.Defects, 1)
	assert.Equal(t, "the belt squeals", r.Defects[0].What)
	require.Len(t, r.Services, 1)
}

func texts(list []Difference) []string {
	words := []string{}
	for _, d := range list {
		words = append(words, d.Text)
	}
	return words
}

func TestProposalsAreTheLinesForTheFiles(t *testing.T) {
	d := oceanBoat()
	r := reviewed(d, nineLog(frozenNine(), arrivedNine()))
	byFile := map[string]Proposal{}
	for _, p := range Proposals(d, r, nil) {
		byFile[p.File] = p
		assert.Equal(t, 1, p.Passages)
	}
	// (190/9.6667 - 10)/2 = 4.83 L a person and day: 1 + 4.83, rounded up.
	assert.Equal(t, []string{"[water]", `washing = "5.9 L"`}, byFile["rates.toml"].Lines)
	assert.Contains(t, byFile["rates.toml"].Why, "told as washing; one passage is one passage")
	// (90 - 0.667)/40 = 2.233 L/h against 72/36 = 2.0: 11.7 % more. 1.2 and 3 L/h become 1.34 and 3.35, rounded up.
	assert.Equal(t, []string{"[[engine.curve]]", "rpm = 1500", `burn = "1.4 L/h"`, "[[engine.curve]]", "rpm = 2500", `burn = "3.4 L/h"`}, byFile["boat.toml"].Lines)

	// 40 h of 216 under engine, an hour a day of it charging: (0.18519 - 0.04167)/0.95833 = 0.15.
	require.NotNil(t, r.Time.Made)
	assert.InDelta(t, 0.14976, float64(r.Time.Made.Power), 1e-4)
	d.Plan.Cases = map[passage.CaseName]passage.Case{passage.Expected: *r.Time.Made}
	v := passage.Run(d.Plan, d.Boat.Engine, passage.Expected, nineDays(2, 6), passage.Trim{Fouling: 1})
	assert.InDelta(t, 216, v.Hours, 1e-6, "with it the plan gives the time that she took")
}

func TestLessIsOnlyProposedOnceThreePassagesAgree(t *testing.T) {
	d, arrive := oceanBoat(), arrivedNine()
	arrive.Levels[0].Level = "340 L" // 60 L in 9.67 days, planned 96.7
	r := reviewed(d, nineLog(frozenNine(), arrive))
	earlier := func(n int) []PassageReview {
		var list []PassageReview
		for i := range n {
			o := r
			o.Depart.Seq = 1 + i
			list = append(list, o)
		}
		return list
	}
	find := func(list []Proposal) Proposal {
		for _, p := range list {
			if p.File == "rates.toml" {
				return p
			}
		}
		return Proposal{}
	}
	for n, lines := range [][]string{nil, nil, {"[water]", `washing = "0 L"`}} {
		p := find(Proposals(d, r, earlier(n)))
		assert.True(t, p.Eases)
		assert.Equal(t, n+1, p.Passages)
		assert.Equal(t, lines, p.Lines, "%d passages", n+1)
	}
	assert.Contains(t, find(Proposals(d, r, nil)).Why, "1 passage so far: wait for 3")
}

func TestDifferencesInWords(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Depart, *Arrive, *Definitions)
		want   string // "": none of that beginning
		not    string
	}{
		"within the gauge's error": {func(_ *Depart, a *Arrive, _ *Definitions) { a.Levels[0].Level = "298 L" }, "", "water"},
		"less water":               {func(_ *Depart, a *Arrive, _ *Definitions) { a.Levels[0].Level = "330 L" }, "2.8 L less water a day than planned (27 L in 9.7 days)", ""},
		"a leak is no rate": {func(_ *Depart, a *Arrive, _ *Definitions) { a.Failed, a.Note = []string{"water tank leaks"}, "" },
			"9.7 L more water a day than planned (93 L in 9.7 days): a leak or a loss, by the record", ""},
		"the record does not say": {func(_ *Depart, a *Arrive, _ *Definitions) { a.Note = "" }, "9.7 L more water a day than planned (93 L in 9.7 days); the gauges", ""},
		"the reserve was used":    {func(_ *Depart, a *Arrive, _ *Definitions) { a.Levels[1].Level = "15 L" }, "21 L of the reserve of fuel (30 L) was used", ""},
		"slower than slow":        {func(_ *Depart, a *Arrive, _ *Definitions) { a.When = nineDays(20, 6) }, "10.0 days longer than expected: slower than slow", ""},
		"quick":                   {func(_ *Depart, a *Arrive, _ *Definitions) { a.When = nineDays(9, 6) }, "1.0 days shorter than expected: the quick case", ""},
		"elsewhere":               {func(_ *Depart, a *Arrive, _ *Definitions) { a.Place = "Elsewhere" }, "came in at Elsewhere (not in the plan), the passage ends at There", "days longer"},
		"US units":                {func(_ *Depart, _ *Arrive, d *Definitions) { d.Boat.Units = quantity.US }, "2.6 US gal more water a day than planned (25 US gal in 9.7 days)", ""},
	} {
		depart, arrive, d := frozenNine(), arrivedNine(), oceanBoat()
		c.change(&depart, &arrive, &d)
		all := strings.Join(texts(reviewed(d, nineLog(depart, arrive)).Differences), "\n")
		assert.Contains(t, all, c.want, name)
		if c.not != "" {
			assert.NotContains(t, all, c.not, name)
		}
	}
}

func TestWhatBecameOfExceptionsIsOnlyWhatTheRecordTells(t *testing.T) {
	ids := []string{"daylight:There", "check:belts", "service:anode", "service:pump", "what if:a fifth slower", "what if:watermaker dead", "loosened:reserve"}
	var exceptions []SignedException
	for _, id := range ids {
		exceptions = append(exceptions, SignedException{ID: id, Caution: id, Why: "it is so"})
	}
	became := map[string]string{}
	for _, e := range reviewed(oceanBoat(), nineLog(frozenNine(), arrivedNine(), exceptions...)).Exceptions {
		became[e.ID] = e.Became
	}
	// At 20 S 170 E on 11 June the sun rises at about 06:45 at +12: NOAA's form, as in sun_test.go; 06:00 is before it.
	assert.Equal(t, "came: she came in Thu 11 Jun 06:00, not by day", became["daylight:There"])
	assert.Equal(t, "the record tells no more of it", became["check:belts"])
	assert.Equal(t, "done in entry 80", became["service:anode"])
	assert.Equal(t, "not done by the end of the passage", became["service:pump"])
	assert.Equal(t, "did not come: she took 9.0 days, expected were 8.0", became["what if:a fifth slower"], "a fifth slower takes a quarter longer: 10 days")
	assert.Equal(t, "nothing of it was told", became["what if:watermaker dead"])
	assert.Equal(t, "the record tells no more of it", became["loosened:reserve"])
}

func TestFoodIsTheDifferenceOfTwoCountsOfTheSameLots(t *testing.T) {
	entries := append(nineLog(frozenNine(), arrivedNine()), Entry{})
	last := entries[len(entries)-2]
	entries[len(entries)-2], entries[len(entries)-1] = Entry{Seq: 85, At: nineDays(11, 6), Act: Arrive{Place: "There"}}, last
	entries = slices.Insert(entries, len(entries)-1, Entry{Seq: 87, At: nineDays(11, 18), Act: Count{Food: "biscuit", Packs: 8}})
	r := reviewed(oceanBoat(), entries)
	require.Len(t, r.Food, 1)
	// 0.5 kg a person and day of packs of 1 kg, two aboard, ten days.
	assert.InDelta(t, 10, r.Food[0].Planned, 1e-9)
	assert.InDelta(t, 12, r.Food[0].Eaten, 1e-9)
	assert.Contains(t, texts(r.Differences), "2.0 packs of biscuit more than the rations in 10.0 days: 12.0, not 10.0")
}

func TestPassagesAreCutAtClosingsAndDepartures(t *testing.T) {
	sign := func(name string) Sign { return Sign{Name: "A Skipper", Passage: name} }
	var l log
	l.add(evening, Event{What: "moored"}, sign("one"), Depart{Passage: "one", Sign: 2}, Noon{}, Arrive{Place: "A", Close: true},
		Event{What: "moored"}, sign("never"), sign("two"), Depart{Passage: "two", Sign: 8}, Arrive{Place: "B"}, Event{What: "ashore"},
		Depart{Passage: "three"}, Depart{Of: 12, Why: "dragging"}, Arrive{Place: "C"}, Correct{Of: 14, Why: "not in yet"})
	var told []string
	for _, p := range Passages(l) {
		text := fmt.Sprintf("%s %d entries", p.Name(), len(p.Entries))
		if p.Arrived != nil {
			text += " in at " + p.Arrived.Place
		}
		if p.Reason.Seq > 0 {
			text += " because " + p.Reason.Why
		}
		told = append(told, text)
	}
	assert.Equal(t, []string{"one 5 entries in at A", "never 0 entries", "two 5 entries in at B", "three 4 entries because dragging"}, told)
}

// Everything went as it was signed: nothing is to be told.
func TestAPassageThatWentAsSignedHasNoDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		depart, arrive, d := frozenNine(), arrivedNine(), oceanBoat()
		c := rapid.SampledFrom(depart.Cases).Draw(t, "case")
		if c.Case != "expected" {
			depart.Cases[1] = c // it was what was expected
			depart.Cases[1].Case = "expected"
		}
		at := nineDays(2, 6) // sounded as she left, and as she came in
		for i := range depart.Tanks {
			depart.Tanks[i].At = at
		}
		arrive.When, arrive.Hours = at.Add(time.Duration(c.Hours*float64(time.Hour))), 1000+c.EngineHours
		arrive.Levels = []TankLevel{
			{"water", fmt.Sprintf("%.9f L", 400-c.Water)}, {"diesel", fmt.Sprintf("%.9f L", 150-c.Fuel)}, {"gas", fmt.Sprintf("%.9f kg", 5-c.Gas)},
		}
		entries := nineLog(depart, arrive)
		entries[len(entries)-1].At = arrive.When
		r := reviewed(d, entries)
		if len(r.Differences) > 0 {
			t.Fatalf("%s: %v", c.Case, texts(r.Differences))
		}
		for _, p := range Proposals(d, r, nil) {
			if p.File != "passage.toml" { // the frozen hours are not those of this plan's legs
				t.Fatalf("%+v", p)
			}
		}
	})
}

// A level that nobody read proposes nothing.
func TestUnknownLevelsNeverGiveAProposal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		depart, arrive, d := frozenNine(), arrivedNine(), oceanBoat()
		arrive.Levels[0].Level = fmt.Sprintf("%d L", rapid.IntRange(0, 400).Draw(t, "water left"))
		tank := rapid.IntRange(0, 2).Draw(t, "tank")
		switch rapid.IntRange(0, 2).Draw(t, "what is not known") {
		case 0:
			depart.Tanks[tank].At = time.Time{}
		case 1:
			arrive.Levels = slices.Delete(arrive.Levels, tank, tank+1)
		default:
			depart.Tanks = slices.Delete(depart.Tanks, tank, tank+1)
		}
		r := reviewed(d, nineLog(depart, arrive))
		if what := r.Things[tank]; what.Used != nil || what.Difference() != nil || what.Unknown == "" {
			t.Fatalf("%+v", what)
		}
		for _, p := range Proposals(d, r, []PassageReview{r, r, r}) {
			text := strings.Join(p.Lines, " ") + p.Why
			for _, word := range [][]string{{"water"}, {"burn"}, {"gas"}}[tank] {
				if strings.Contains(text, word) {
					t.Fatalf("proposed without a level: %+v", p)
				}
			}
		}
	})
}

func TestAnUnrelatedEntryChangesNothing(t *testing.T) {
	unrelated := []Act{
		Event{What: "seacock moved"}, Stow{Spare: "impeller", Did: Bought, Count: 1}, Reading{Note: "all well"}, Accept{Caution: "x", Why: "y"},
		ClockSettled{Why: "pips"}, Count{Food: "flour", Packs: 3}, Sound{Tank: "no such tank", Level: "full"}, Fill{Tank: "no such tank", Amount: "10 L"},
	}
	want := reviewed(oceanBoat(), nineLog(frozenNine(), arrivedNine()))
	want.Sailed = Sailed{}
	rapid.Check(t, func(t *rapid.T) {
		entries := nineLog(frozenNine(), arrivedNine())
		i := rapid.IntRange(0, len(entries)-1).Draw(t, "before")
		e := Entry{Seq: entries[i].Seq - 5, At: entries[i].At, Act: rapid.SampledFrom(unrelated).Draw(t, "act")}
		got := reviewed(oceanBoat(), slices.Insert(entries, i, e))
		got.Sailed = Sailed{}
		if !assert.ObjectsAreEqual(want, got) {
			t.Fatalf("%T before entry %d: %v, want %v", e.Act, entries[i].Seq, texts(got.Differences), texts(want.Differences))
		}
	})
}

// What was filled on the way was used as well; filled to the brim, nobody knows how much went in.
func TestWhatWasFilledOnTheWayCounts(t *testing.T) {
	withFill := func(fill Fill) ThingReview {
		entries := nineLog(frozenNine(), arrivedNine())
		return reviewed(oceanBoat(), slices.Insert(entries, 6, Entry{Seq: 65, At: nineDays(3, 6), Act: fill})).Thing(passage.Water)
	}
	water := withFill(Fill{Tank: "water", Amount: "50 L"})
	assert.InDelta(t, 400+50-210, *water.Used, 1e-9)
	assert.InDelta(t, 50, water.Filled, 1e-9)
	assert.Zero(t, water.touched(), "nobody knows which litre it was")
	water = withFill(Fill{Tank: "can", Amount: "50 L", From: "water"})
	assert.InDelta(t, 400-50-210, *water.Used, 1e-9)
	water = withFill(Fill{Tank: "water", Amount: Full})
	assert.Nil(t, water.Used)
	assert.Equal(t, "water was filled to the brim on the way: how much went in was not told", water.Unknown)
}

// At a stop she came in earlier than the passage's end: the cases are told up to there, if the kept files still give
// the hours that were frozen.
func TestAStopIsHeldAgainstTheCasesUpToIt(t *testing.T) {
	d, depart, arrive := oceanBoat(), frozenNine(), arrivedNine()
	second := d.Plan.Legs[0]
	d.Plan.Legs[0].To, d.Plan.Legs[0].Distance = "Halfway", 400
	second.From, second.Distance = "Halfway", 600
	d.Plan.Legs = append(d.Plan.Legs, second)
	for i, c := range depart.Cases {
		depart.Cases[i].Hours = passage.Run(d.Plan, d.Boat.Engine, passage.CaseName(c.Case), depart60(), passage.Trim{Fouling: 1}).Hours
	}
	arrive.Place, arrive.When = "Halfway", nineDays(6, 6)
	times := reviewed(d, nineLog(depart, arrive)).Time
	require.NotNil(t, times.Case(passage.Expected))
	first := d.Plan
	first.Legs = first.Legs[:1]
	assert.InDelta(t, passage.Run(first, d.Boat.Engine, passage.Expected, depart60(), passage.Trim{Fouling: 1}).Hours, times.Case(passage.Expected).Hours, 1e-6)
	assert.InDelta(t, 400, *times.Planned, 1e-9)
	depart.Cases[1].Hours++ // these are not the files of then
	assert.Nil(t, reviewed(d, nineLog(depart, arrive)).Time.Case(passage.Expected))
}

func depart60() time.Time { return nineDays(2, 6) }

// A clock in doubt tells no time: what was used stands, how long it took does not, and nothing is proposed.
func TestAClockInDoubtTellsNoTime(t *testing.T) {
	d, arrive := oceanBoat(), arrivedNine()
	arrive.When = time.Time{}
	entries := nineLog(frozenNine(), arrive)
	entries[len(entries)-1].At = nineDays(1, 0) // behind the entry before it
	r := reviewed(d, entries)
	assert.True(t, r.Time.Doubt)
	assert.Nil(t, r.Time.Days)
	assert.Nil(t, r.Thing(passage.Water).PerDay)
	assert.Empty(t, Proposals(d, r, nil))
	assert.Contains(t, r.Rows()[2].Actual, "the clock was in doubt")
}
