package record

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

func amount(t testing.TB, text string) quantity.Any {
	t.Helper()
	a, err := quantity.ParseAny(text)
	require.NoError(t, err)

	return a
}

// fixtureActs are acts of every kind but the carry that had one when format1 was written.
func fixtureActs(t testing.TB) []checklist.Act {
	coolant := amount(t, "82 °C")
	date, err := quantity.ParseDate("2027-02-01")
	require.NoError(t, err)

	return []checklist.Act{
		checklist.Sound{Tank: "port water", Level: "62 %"},
		checklist.Fill{Tank: "port water", Amount: "40 L", From: "can one"},
		checklist.Count{Food: "rice", Packs: 2.5, BestBefore: date, Place: "saloon / port locker"},
		checklist.Answer{Check: "coolant-warm", Answer: checklist.NotRight, Value: &coolant, Say: "mark on the gauge", Why: "a little high\nsince noon", Grade: "limit"},
		checklist.Event{What: "engine stopped"},
		checklist.Reading{Values: []checklist.ReadingValue{{Of: "rpm", Value: amount(t, "2400")}, {Of: "coolant", Value: coolant}}, Minutes: 20, Sails: "down", Note: "sea \"calm\""},
		checklist.DefectAct{What: "stern gland drips", Grade: "limit", RPM: 2000},
		checklist.Accept{Caution: "arrival in the dark", Why: "the leads are lit"},
		checklist.Sign{
			Name: "Mara", Boat: "Petrel's Rest", Passage: "to the far bay", Depart: minute(60), Moved: true, Verdict: "holds", Crew: 2,
			Fouling: 0.93, Walk: "11 critical checks in 19 s",
			Cases:      []checklist.SignedCase{{Case: "slow", Made: true, Hours: 71.25, Fuel: 88.5, Arrive: minute(4335)}},
			Resources:  []checklist.SignedResource{{What: "water", From: "the cove", To: "the far bay", Available: 212.4, Need: 61.1, Endurance: -1}},
			Tanks:      []checklist.SignedTank{{Tank: "port water", Level: "62 %", At: start}},
			Readings:   []checklist.ReadingValue{{Of: "coolant", Value: coolant}},
			Exceptions: []checklist.SignedException{{ID: "dark", Caution: "arrival in the dark", Why: "the leads are lit", Running: 3}},
			Uncovered:  []string{"radio"},
			Critical:   []string{"engine-oil", "bilge"},
			Reserves:   []checklist.SignedReserve{{What: "food", Days: 5}, {What: "fuel", ShareOfCapacity: 1.0 / 3}},
			Answers:    []checklist.SignedAnswer{{Check: "coolant-warm", Answer: checklist.Right, Value: &coolant, At: start}},
			NotLooked:  []string{"spare \\ anode", ""},
		},
		checklist.ClockSettled{Why: "set by the radio pips"},
		checklist.Correct{Of: 2, Why: "it was the other can"},
	}
}

// gearActs are the kinds that came alive with the gear: services done, and what was done with spares and tools.
func gearActs(t testing.TB) []checklist.Act {
	date, err := quantity.ParseDate("2026-06-11")
	require.NoError(t, err)

	return []checklist.Act{
		checklist.Stow{Spare: "raw-water impeller", Did: checklist.Bought, Count: 2, To: "fore cabin / box 3", Condition: "new", Fit: "measured", Has: []string{"gasket", "O-ring"}, Note: "six vanes"},
		checklist.ServiceDone{
			Service: "change raw-water impeller", Date: date, Hours: 1482.5, Minutes: 50, Planned: 45, Note: "two vanes \"gone\"",
			Parts: []checklist.PartTaken{{Spare: "raw-water impeller", Place: "fore cabin / box 3", Count: 1, Old: "engine space / tin"}},
		},
		checklist.Stow{Spare: "engine belt", Did: checklist.Moved, Count: 1, From: "fore cabin / box 3", To: "engine space / hook"},
		checklist.Stow{Spare: "engine belt", Did: checklist.Found, Count: 2, To: "fore cabin / box 3", Condition: "used", Fit: "proved", Beside: true},
		checklist.Stow{Spare: "primary fuel filter", Did: checklist.UsedUp, Count: 1, From: "fore cabin / box 1", Old: "engine space / tin"},
		checklist.Stow{Tool: "impeller puller", Did: checklist.Lent, From: "tool roll", Note: "to the boat at the next buoy"},
		checklist.Stow{Tool: "impeller puller", Did: checklist.Back, To: "tool roll", State: "stiff"},
	}
}

// defectActs are the kinds that came alive with the defects: opened and told more of, looked at, repaired, renewed gear, closed.
func defectActs(t testing.TB) []checklist.Act {
	until, err := quantity.ParseDate("2029-05-01")
	require.NoError(t, err)
	seen := []checklist.ReadingValue{{Of: "rpm", Value: amount(t, "2000")}, {Of: "coolant", Value: amount(t, "84 °C")}}

	return []checklist.Act{
		checklist.DefectAct{What: "reads a little warm", Grade: "limit", RPM: 1800, Card: "coolant a little high", Seen: seen},
		checklist.DefectAct{What: "torch is flat", Grade: "note"},
		checklist.StepTaken{Defect: 1, Card: "coolant a little high", Look: "raw-water strainer", Seen: "clean", Note: "a few scales of \"weed\""},
		checklist.StepTaken{Defect: 1, Card: "coolant a little high", Look: "pump impeller", Seen: "bad"},
		checklist.StepTaken{Defect: 1, Card: "coolant a little high", Look: "heat exchanger", Seen: "could not look"},
		checklist.DefectAct{What: "reads a little warm", Of: 1, Grade: "stop", Why: "steam at noon"},
		checklist.DefectAct{
			What: "reads a little warm", Of: 1, Repaired: true, Cause: "two vanes gone", Why: "new impeller", Planned: 45, Minutes: 70,
			Parts: []checklist.PartTaken{{Spare: "raw-water impeller", Place: "fore cabin / box 3", Count: 1, Old: "engine space / tin"}},
			Proofs: []checklist.ProofWanted{
				{At: "anchor", RPM: 2300, For: "15 min", CoolantMax: "84 °C"},
				{At: "sea", Within: "2 h", RPM: 2300, For: "45 min", CoolantMax: "84 °C", Else: "stand back for the anchorage"},
			},
		},
		checklist.Stow{Dated: "parachute flares", Until: until, Note: "four"},
		checklist.DefectAct{What: "torch is flat", Close: 2, Why: "new cells"},
	}
}

// voyageActs are the kinds that came alive with the passage: leaving, noon, a change of plan, coming in.
func voyageActs(testing.TB) []checklist.Act {
	sleep := 4.5

	return []checklist.Act{
		checklist.Depart{Passage: "earlier", To: "Here", InTheWay: []string{"she is not signed off"}, Definitions: "ab12", Crew: 1},
		checklist.Depart{Of: 1, Why: "the anchor \"dragged\""},
		checklist.Arrive{Place: "Here"},
		checklist.Sign{Name: "Mara", Passage: "across", Depart: minute(5)},
		checklist.Depart{
			Passage: "across", PassageKind: "offshore", From: "Here", To: "There", Sign: 4, ToProve: []int{2}, Definitions: "ab12", Crew: 2, Hours: 1482.5,
			Cases:     []checklist.SignedCase{{Case: "slow", Made: true, Hours: 91.25, Arrive: minute(5475)}},
			Resources: []checklist.SignedResource{{What: "water", From: "Here", To: "There", Available: 195, Need: 30.5, Reserve: 20, Endurance: 21.875, Margin: 18}},
			Tanks:     []checklist.SignedTank{{Tank: "water", Level: "full", At: minute(4)}},
		},
		checklist.Noon{
			To: "There", ToGo: 290.5, Position: &passage.Position{Lat: -20.1075, Lon: -174.9}, Run: 110, Hours: 1490, Levels: []checklist.TankLevel{{Tank: "water", Level: "62 %"}},
			Wind: "18 kn NE", Pressure: "1013 hPa", Sleep: &sleep, Note: "a quiet night",
			Decided: []checklist.DecisionAnswered{{Point: "80 nm from Here", GoOn: true, Why: "steady"}},
		},
		checklist.Change{What: "another destination", Why: "crew ill", To: "Refuge", ToGo: 90},
		checklist.Arrive{Place: "Refuge", Miles: 312, Hours: 1496, Levels: []checklist.TankLevel{{Tank: "water", Level: "58 %"}}, Failed: []string{"log impeller"}, Note: "in at dusk", When: minute(8)},
	}
}

// fixtureRecord writes two pages: acts, the arrival that ends a page, and the carry of them.
func fixtureRecord(t testing.TB, s *Store, acts []checklist.Act) {
	t.Helper()
	for i, a := range acts {
		_, err := s.Append(minute(i), "Mara", act(a))
		require.NoError(t, err)
	}
	page, err := s.disk.read(s.path(pageName(1)))
	require.NoError(t, err)
	after, _ := linkAfter(page)
	f, err := s.disk.open(s.path(pageName(1)), toAppend)
	require.NoError(t, err)
	arrival := fmt.Sprintf("seq = %d\nat = 2026-06-12T06:00:00+13:00\nkind = \"arrive\"\nclose = true\nby = \"Mara\"\n", len(acts)+1)
	text, _ := sealed(after.sum(), []byte(entryLine+arrival))
	_, err = f.Write(text)
	require.NoError(t, err)
	require.NoError(t, f.Close())
	_, err = s.Append(minute(40), "", act(checklist.Event{What: "anchored"}))
	require.NoError(t, err)
}

// storesActs are counts that say how they came about.
func storesActs(t testing.TB) []checklist.Act {
	date, err := quantity.ParseDate("2027-09-01")
	require.NoError(t, err)

	return []checklist.Act{
		checklist.Count{Food: "rice", Packs: 6, Of: 4, Did: checklist.PacksBought, BestBefore: date, Place: "saloon / port locker"},
		checklist.Count{Food: "rice", Packs: 5.5, Of: 0.5, Did: checklist.PacksUsed, BestBefore: date, Place: "saloon / port locker"},
		checklist.Count{Food: "cabbage", Packs: 0, Of: 1, Did: checklist.PacksThrown, Bought: date},
		checklist.Count{Food: "engine oil", Packs: 9, Of: 4, Did: checklist.PacksBought},
	}
}

// makeFixture writes a fixture that is not there yet, if it is asked for; what was once written is frozen.
func makeFixture(t testing.TB, boat string, acts []checklist.Act) {
	t.Helper()
	if os.Getenv("HOVESHORT_MAKE_FIXTURE") != boat {
		return
	}
	require.NoDirExists(t, boat, "a frozen fixture is not made anew")
	require.NoError(t, os.MkdirAll(boat, 0o755))
	fixtureRecord(t, Open(boat), acts)
	require.NoError(t, os.Remove(filepath.Join(boat, lockFile)))
}

// fixtureStore holds the two pages of a fixture.
func fixtureStore(t *testing.T, boat string) *Store {
	t.Helper()
	s := memStore(newMemDisk())
	for n := 1; n <= 2; n++ {
		putPage(t, s.disk.(*memDisk), n, readPageFile(t, boat, n))
	}

	return s
}

// testdata/format1 is never written again: what was once a record must always load.
func TestTheRecordOfFormat1StillLoads(t *testing.T) {
	boat := filepath.Join("testdata", "format1")
	makeFixture(t, boat, fixtureActs(t))
	s := fixtureStore(t, boat)
	r, err := s.verify()
	require.NoError(t, err)
	require.Empty(t, r.Faults)
	assert.Equal(t, 14, r.Entries)
	assert.Equal(t, fixtureLast, r.Last)

	all, err := s.LoadAll()
	require.NoError(t, err)
	require.Empty(t, all.Notices)
	require.Len(t, all.Entries, 13)
	for i, want := range fixtureActs(t) {
		got := all.Entries[i]
		assert.Len(t, got.Sum, 64, "every entry comes with its sum")
		got.Sum = ""
		assert.Equal(t, checklist.Entry{Seq: i + 1, At: plainTime(minute(i)), By: "Mara", Act: want}, got)
	}
	assert.Equal(t, checklist.KindArrive, all.Entries[11].Act.Kind())

	newest, err := s.Load()
	require.NoError(t, err)
	require.Len(t, newest.Entries, 2)
	kept := newest.Entries[0].Act.(checklist.Carry).Kept
	assert.NotEmpty(t, kept)
	for _, e := range kept {
		assert.Equal(t, all.Entries[e.Seq-1].Sum, e.Sum, "what is brought forward keeps its sum")
	}
	assert.NotEmpty(t, newest.Entries[0].Act.(checklist.Carry).Defects)
}

// stillLoads holds a frozen page against the acts that were written, and the page after it against both; it gives
// what is brought forward.
func stillLoads(t *testing.T, name string, acts []checklist.Act, last string) checklist.State {
	t.Helper()
	boat := filepath.Join("testdata", name)
	makeFixture(t, boat, acts)
	s := fixtureStore(t, boat)
	r, err := s.verify()
	require.NoError(t, err)
	require.Empty(t, r.Faults)
	assert.Equal(t, last, r.Last)

	all, err := s.LoadAll()
	require.NoError(t, err)
	require.Empty(t, all.Notices)
	require.Len(t, all.Entries, len(acts)+2)
	for i, want := range acts {
		got := all.Entries[i]
		got.Sum = ""
		assert.Equal(t, checklist.Entry{Seq: i + 1, At: plainTime(minute(i)), By: "Mara", Act: want}, got)
	}

	newest, err := s.Load()
	require.NoError(t, err)
	require.Len(t, newest.Entries, 2, "the carry and what came since")
	whole, brought := checklist.Fold(all.Entries), checklist.Fold(newest.Entries)
	brought.Last = whole.Last
	assert.Equal(t, whole, brought, "the carry stands for all before it")

	return brought
}

// testdata/gear is the first page with services and stowing, and is never written again either.
func TestTheRecordOfServicesAndGearStillLoads(t *testing.T) {
	brought := stillLoads(t, "gear", gearActs(t), gearLast)
	assert.Len(t, brought.Stows, 6, "that the puller was lent is settled: it is back")
	assert.InDelta(t, 1482.5, brought.Services["change raw-water impeller"].Hours, 0)
}

// testdata/defects is the first page with looks, repairs and renewed gear, and is never written again either.
func TestTheRecordOfDefectsStillLoads(t *testing.T) {
	brought := stillLoads(t, "defects", defectActs(t), defectsLast)
	require.Len(t, brought.Defects, 1, "the torch is closed")
	require.NotNil(t, brought.Defects[0].Repair)
	assert.Len(t, brought.Defects[0].Repair.Proofs, 2)
	assert.Len(t, brought.Steps, 3)
}

// testdata/voyage is the first page with departures and noons, and is never written again either.
func TestTheRecordOfAVoyageStillLoads(t *testing.T) {
	brought := stillLoads(t, "voyage", voyageActs(t), voyageLast)
	require.NotNil(t, brought.Voyage)
	assert.Equal(t, "Refuge", brought.Voyage.Arrived.Place)
	assert.NotNil(t, brought.Voyage.Closed)
	assert.Equal(t, "58 %", brought.Tanks["water"].Level)
	assert.Len(t, brought.Sailings, 2)
}

// testdata/stores is the first page with what was bought, used and thrown away, and is never written again either.
func TestTheRecordOfStoresStillLoads(t *testing.T) {
	brought := stillLoads(t, "stores", storesActs(t), storesLast)
	assert.InDelta(t, 5.5, brought.Counts["rice"][len(brought.Counts["rice"])-1].Packs, 0)
}

// testdata/torn ends in the middle of entry 6; in testdata/changed the sounding of entry 1 was made 92 %.
func TestATornAndAChangedPageAreToldApart(t *testing.T) {
	for name, c := range map[string]struct {
		entries int
		damage  string
		notice  string
		fault   string
	}{
		"torn": {5, "", "The last entry in record/0001.toml was cut short", "record/0001.toml: entry 6: it was cut short: 70 bytes of it are there; it does not count"},
		"changed": {
			12, "record/0001.toml: entry 1: it is not as it was written: its sum does not match", "The record is damaged",
			"record/0001.toml: entry 1: it is not as it was written: its sum does not match",
		},
	} {
		d := newMemDisk()
		putPage(t, d, 1, readPageFile(t, filepath.Join("testdata", name), 1))
		l, err := memStore(d).Load()
		require.NoError(t, err)
		assert.Len(t, l.Entries, c.entries, name)
		assert.Equal(t, c.damage, lines(l.Damage), name)
		require.Len(t, l.Notices, 1, name)
		assert.Contains(t, l.Notices[0], c.notice, name)
		r, err := memStore(d).verify()
		require.NoError(t, err)
		assert.Equal(t, c.fault, lines(r.Faults), name)
	}
}
