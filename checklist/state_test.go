package checklist

import (
	"slices"
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCorrectedEntryCountsAsNeverWritten(t *testing.T) {
	var l log
	l.add(evening, Sound{"water", "100 L"}, Sound{"water", "10 L"}, Correct{Of: 2, Why: "read the wrong stick"})
	assert.Equal(t, "100 L", Fold(l).Tanks["water"].Level)
	l.add(evening, Correct{Of: 3, Why: "it was right after all"})
	assert.Equal(t, "10 L", Fold(l).Tanks["water"].Level, "a correction can be corrected")
}

func TestFillsAddToTheLastSounding(t *testing.T) {
	d := fitBoat()
	d.Boat.Tanks = append(d.Boat.Tanks, provisions.Tank{Name: "can", Holds: passage.Water, Capacity: 20, Can: true})
	var l log
	l.add(evening, Sound{"water", "50 %"}, Sound{"can", "full"}, Fill{Tank: "water", Amount: "30 L"}, Fill{Tank: "water", Amount: "15 L", From: "can"})
	held, err := Fold(l).Held(d.Boat.Tanks[0])
	require.NoError(t, err)
	assert.InDelta(t, 45, float64(held.Added), 1e-9)
	held, err = Fold(l).Held(d.Boat.Tanks[3])
	require.NoError(t, err)
	assert.InDelta(t, -15, float64(held.Added), 1e-9)

	l.add(evening, Fill{Tank: "water", Amount: Full})
	s := Fold(l)
	brim := s.Tanks["water"]
	brim.History = nil
	assert.Equal(t, TankState{Stamp: Stamp{Seq: 5, At: evening}, Level: Full}, brim, "a tank filled to the brim is as good as sounded")
	l.add(evening, Sound{"water", "120 L"})
	assert.Empty(t, Fold(l).Tanks["water"].Moves, "a sounding starts anew")
}

func TestWhatIsFilledInOverTheBrimCannotBeTakenOut(t *testing.T) {
	d := fitBoat()
	d.Boat.Tanks = append(d.Boat.Tanks, provisions.Tank{Name: "can", Holds: passage.Water, Capacity: 20, Can: true})
	var l log
	l.add(evening, Sound{"water", "50 %"}, Sound{"can", "15 L"}, Fill{Tank: "can", Amount: "18 L"}, Fill{Tank: "water", Amount: "12 L", From: "can"})
	held, err := Fold(l).Held(d.Boat.Tanks[3])
	require.NoError(t, err)
	assert.InDelta(t, 20-12-15, float64(held.Added), 1e-9, "15 L and 18 L are 20 L in a can of 20 L; 12 L leave 8")

	_, err = d.NewFill(Fold(l), "water", "9 L", "can")
	refused(t, err, "can holds 8.0 L by its last sounding; sound it first, or move less")
}

func TestCountsWork(t *testing.T) {
	day := func(n int) quantity.Date { return quantity.Date{Year: 2026, Month: 7, Day: n} }
	d := fitBoat()
	d.Boat.Lots = []provisions.Lot{{Food: "biscuit", Packs: 3, BestBefore: day(1)}, {Food: "biscuit", Packs: 3, BestBefore: day(9)}}
	packs := func(l log) []float64 {
		var list []float64
		for _, lot := range d.stock("biscuit", Fold(l).Counts["biscuit"]).Lots {
			list = append(list, lot.Packs)
		}
		return list
	}
	var l log
	l.add(evening, Count{Food: "biscuit", Packs: 4})
	assert.Equal(t, []float64{1, 3}, packs(l), "what is missing was the soonest to go off")
	l.add(evening, Count{Food: "biscuit", Packs: 6})
	assert.Equal(t, []float64{3, 3}, packs(l), "the latest count of all lots holds alone")
	l.add(evening, Count{Food: "biscuit", Packs: 8})
	assert.Equal(t, []float64{3, 3, 2}, packs(l), "more than was known has no date")
	l.add(evening, Count{Food: "biscuit", Packs: 1, BestBefore: day(9)})
	assert.Equal(t, []float64{3, 1, 2}, packs(l), "one lot alone")

	// Two eat 1 kg a day; a lot counted two days later is not eaten from before it was there.
	l = nil
	l.add(evening, Count{Food: "biscuit", Packs: 2, BestBefore: day(1), Place: "bow"})
	l.add(evening.Add(48*time.Hour), Count{Food: "biscuit", Packs: 5, BestBefore: day(1), Place: "aft"})
	d.Boat.Lots = nil
	assert.Equal(t, []float64{0, 5}, packs(l))

	// A lot that was gone before the other was counted is gone still when it is looked for again: the other was eaten.
	d.Boat.Lots = []provisions.Lot{{Food: "biscuit", Packs: 9, BestBefore: day(8)}, {Food: "biscuit", Packs: 9, BestBefore: day(9)}}
	l = nil
	l.add(evening, Count{Food: "biscuit", Packs: 0, BestBefore: day(8)}, Count{Food: "biscuit", Packs: 5, BestBefore: day(9)})
	l.add(evening.Add(48*time.Hour), Count{Food: "biscuit", Packs: 0, BestBefore: day(8)})
	assert.Equal(t, []float64{0, 3}, packs(l))
}

func TestCountsStandAsLongAsTheyTellSomething(t *testing.T) {
	count := func(packs float64, place string) Count { return Count{Food: "biscuit", Packs: packs, Place: place} }
	for _, test := range []struct {
		name   string
		counts []Count
		want   []int // which stand
	}{
		{"each lot once", []Count{count(3, "bow"), count(4, "aft")}, []int{0, 1}},
		{"one lot again and again: the last", []Count{count(3, "bow"), count(2, "bow"), count(1, "bow")}, []int{2}},
		{"the other lot was counted between: all", []Count{count(3, "bow"), count(4, "aft"), count(2, "bow"), count(1, "bow")}, []int{0, 1, 2, 3}},
		{"then it was counted too: all since the bow's last", []Count{count(3, "bow"), count(4, "aft"), count(2, "bow"), count(3, "aft")}, []int{1, 2, 3}},
		{"a lot that is gone needs no others", []Count{count(0, "bow"), count(4, "aft"), count(3, "aft")}, []int{0, 2}},
		{"all are gone", []Count{count(0, "bow"), count(0, "aft"), count(0, "bow")}, []int{1, 2}},
		{"all lots together: what was known before, and what came after", []Count{
			count(3, "bow"), count(2, "bow"), count(9, ""), count(5, ""), count(4, "aft"), count(3, "aft"),
		}, []int{1, 3, 4, 5}},
	} {
		var l log
		for i, c := range test.counts {
			l.add(evening.Add(time.Duration(i)*time.Hour), c)
		}
		var stand []int
		for _, c := range Fold(l).Counts["biscuit"] {
			stand = append(stand, c.Seq-1)
		}
		assert.Equal(t, test.want, stand, test.name)
	}

	var l log
	l.add(evening, count(3, "bow"))
	for range 3 * mostCounts {
		l.add(evening, count(2, "aft"))
	}
	assert.LessOrEqual(t, len(Fold(l).Counts["biscuit"]), mostCounts+1, "they do not grow for ever")
}

// The state that a page brings forward is the state of all entries before it.
func TestCarryStandsForAllBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := someEntries(t)
		whole := Fold(entries)
		carry := Compact(entries)
		last := len(entries)
		page := []Entry{{Seq: last + 1, At: evening, Act: carry}}
		brought := Fold(page)
		brought.Last = whole.Last
		if len(whole.Counts) == 0 {
			whole.Counts = brought.Counts
		}
		require.Equal(t, whole, brought)

		// Going on after the carry and going on without it come to the same.
		more := moreEntries(t, last+1)
		require.Equal(t, withoutLast(Fold(slices.Concat(entries, more))), withoutLast(Fold(slices.Concat(page, more))))
		// And a carry of a carry is no less.
		again := Fold([]Entry{{Seq: last + 2, At: evening, Act: Compact(page)}})
		again.Last = whole.Last
		require.Equal(t, whole, again)
	})
}

func withoutLast(s State) State {
	s.Last = Stamp{}
	return s
}

func someEntries(t *rapid.T) []Entry {
	n := rapid.IntRange(0, 40).Draw(t, "entries")
	entries := make([]Entry, n)
	at := evening
	for i := range entries {
		at = at.Add(time.Duration(rapid.IntRange(-2, 50).Draw(t, "hours")) * time.Hour)
		entries[i] = Entry{Seq: i + 1, At: at, Act: someAct(t, i+1)}
	}
	return entries
}

func moreEntries(t *rapid.T, after int) []Entry {
	var more []Entry
	for i := range rapid.IntRange(0, 6).Draw(t, "more") {
		act := someAct(t, 0)
		for _, is := act.(Correct); is; _, is = act.(Correct) {
			act = someAct(t, 0) // a correction of an earlier page is folded from the whole record
		}
		more = append(more, Entry{Seq: after + i + 1, At: evening.Add(2000 * time.Hour), Act: act})
	}
	return more
}

func someAct(t *rapid.T, seq int) Act {
	one := rapid.IntRange(0, 2).Draw(t, "which")
	name := []string{"one", "two", "three"}[one]
	switch rapid.IntRange(0, 24).Draw(t, "act") {
	case 0:
		return Sound{name, "40 L"}
	case 1:
		return Fill{Tank: name, Amount: rapid.SampledFrom([]string{"5 L", Full}).Draw(t, "amount")}
	case 2:
		return Fill{Tank: name, Amount: "5 L", From: "other"}
	case 3:
		return Count{Food: name, Packs: float64(one), Place: rapid.SampledFrom([]string{"", "bow"}).Draw(t, "place")}
	case 4:
		return Answer{Check: name, Answer: Right}
	case 5:
		return Answer{Check: name, Answer: NotRight, Why: "worn", Grade: machinery.Stop}
	case 6:
		return Event{name}
	case 7:
		return Reading{Values: []ReadingValue{{"rpm", counted(2000)}}}
	case 8:
		return DefectAct{Close: rapid.IntRange(1, 40).Draw(t, "defect"), Why: "mended"}
	case 9:
		return Accept{Caution: name, Why: "known"}
	case 10:
		return Sign{Name: name}
	case 11:
		return ClockSettled{}
	case 12:
		return someService(t, name)
	case 13, 14, 15, 16:
		return someStow(t)
	case 17, 18, 19, 20, 21:
		return somePassageAct(t, name)
	case 22:
		return StepTaken{Defect: one, Card: "warm", Look: name, Seen: machinery.FoundClean}
	case 23:
		return someRepair(t)
	default:
		if seq > 1 {
			return Correct{Of: rapid.IntRange(1, seq-1).Draw(t, "of"), Why: "slip"}
		}
		return DefectAct{What: "drip", Grade: machinery.Note}
	}
}

func someRepair(t *rapid.T) DefectAct {
	return DefectAct{
		Of: rapid.IntRange(1, 40).Draw(t, "defect"), What: "drip", Repaired: rapid.Bool().Draw(t, "repaired"), Cause: "worn",
		Grade: rapid.SampledFrom([]machinery.Grade{"", machinery.Stop, machinery.Limit}).Draw(t, "grade"), Card: "warm",
		Minutes: 120, Planned: 20, Parts: []PartTaken{{Spare: "impeller", Place: "bow / box 1", Count: 1}},
		Proofs: []ProofWanted{{At: machinery.ProofAtAnchor, RPM: 2300, For: "15 min"}},
	}
}

// somePassageAct leaves, stands at noon, changes the plan or comes in, in any order.
func somePassageAct(t *rapid.T, name string) Act {
	levels := []TankLevel{{name, "30 L"}}
	switch rapid.IntRange(0, 5).Draw(t, "of the passage") {
	case 0, 1:
		return Depart{Passage: name, Crew: 2}
	case 2:
		return Depart{Of: rapid.IntRange(1, 40).Draw(t, "of"), Why: "a gale"}
	case 3:
		return Noon{To: name, ToGo: 40, Hours: 1490, Levels: levels}
	case 4:
		return Change{What: "slower", Why: "head sea"}
	}
	return Arrive{Place: name, Close: rapid.Bool().Draw(t, "close"), Levels: levels}
}

func someService(t *rapid.T, name string) ServiceDone {
	done := ServiceDone{Service: name, Minutes: float64(rapid.IntRange(0, 90).Draw(t, "minutes")), Planned: 45}
	if rapid.Bool().Draw(t, "dated") {
		done.Date = quantity.Date{Year: 2026, Month: 6, Day: rapid.IntRange(1, 20).Draw(t, "day")}
	}
	for range rapid.IntRange(0, 2).Draw(t, "parts") {
		stow := someStow(t)
		done.Parts = append(done.Parts, PartTaken{Spare: "impeller", Place: stow.From, Count: stow.Count, Old: stow.Old})
	}
	return done
}

// someStow is anything that may stand in a record, sense or not.
func someStow(t *rapid.T) Stow {
	place := rapid.SampledFrom([]string{"bow / box 1", "bow/Box 1", "aft"})
	a := Stow{
		Did: rapid.SampledFrom(StowWords).Draw(t, "did"), From: place.Draw(t, "from"), To: place.Draw(t, "to"),
		Count: rapid.IntRange(-1, 4).Draw(t, "count"), Note: "next door", Beside: rapid.Bool().Draw(t, "beside"),
	}
	if rapid.IntRange(0, 5).Draw(t, "renewed") == 0 {
		return Stow{Dated: rapid.SampledFrom([]string{"flares", "raft"}).Draw(t, "dated"), Until: quantity.Date{Year: 2028, Month: 5, Day: rapid.IntRange(1, 9).Draw(t, "until")}}
	}
	if rapid.IntRange(0, 3).Draw(t, "of") == 0 {
		a.Tool = "puller"
		a.State = rapid.SampledFrom([]machinery.ToolState{"", machinery.Good, machinery.Seized}).Draw(t, "state")
		a.To = rapid.SampledFrom([]string{"", "bow", "aft"}).Draw(t, "tool's place")
		return a
	}
	a.Spare = rapid.SampledFrom([]string{"impeller", "impeller", "belt"}).Draw(t, "spare")
	a.Condition = rapid.SampledFrom([]machinery.Condition{machinery.New, machinery.Used, ""}).Draw(t, "condition")
	a.Fit = rapid.SampledFrom([]machinery.Fit{machinery.Proved, machinery.Unknown, ""}).Draw(t, "fit")
	a.Old = rapid.SampledFrom([]string{"", "", "aft"}).Draw(t, "old")
	if rapid.IntRange(0, 9).Draw(t, "no place") == 0 {
		a.From = ""
	}
	return a
}

func TestJobsAndServicesAreKept(t *testing.T) {
	var l log
	for n := range mostJobs + 5 {
		l.add(evening.Add(time.Duration(n)*time.Minute), ServiceDone{Service: "oil", Minutes: float64(n), Planned: 60})
	}
	s := Fold(l)
	require.Len(t, s.Jobs, mostJobs, "the last ones")
	assert.Equal(t, machinery.Job{Name: "oil", Planned: time.Hour, Taken: 5 * time.Minute}, s.JobsDone()[0])
	assert.Equal(t, mostJobs+5, s.Services["oil"].Seq)
	assert.Equal(t, quantity.DateOf(evening), s.Services["oil"].Date, "its day is the entry's")
	l.add(evening, ServiceDone{Service: "oil", Date: quantity.Date{Year: 2026, Month: 6, Day: 1}})
	assert.Equal(t, mostJobs+5, Fold(l).Services["oil"].Seq, "the latest by date, whenever it was told")
	l = nil
	l.add(evening, ServiceDone{Service: "oil", Minutes: 1e300, Planned: -5})
	assert.Equal(t, machinery.Job{Name: "oil", Taken: mostMinutes * time.Minute}, Fold(l).JobsDone()[0])
}

// Readings from before 90 days matter to no figure; of a very long page 200 are kept.
func TestReadingsGrowOld(t *testing.T) {
	var l log
	l.add(evening.Add(-91*24*time.Hour), Reading{Note: "old"})
	for range 210 {
		l.add(evening, Reading{Note: "new"})
	}
	s := Fold(l)
	require.Len(t, s.Readings, 200)
	assert.Equal(t, "new", s.Readings[0].Note)
}

// 1,900 rpm on the fit boat's curve is 5.1 kn clean; five readings under way set the
// factor, moored ones and those under sail do not.
func TestFoulingComesFromReadingsUnderWay(t *testing.T) {
	d, l := ready(t)
	read := func(speed float64, moored bool, sails string) Reading {
		return Reading{Values: []ReadingValue{{"rpm", counted(1900)}, {"speed", knots(speed)}}, Moored: moored, Sails: sails}
	}
	l.add(evening, read(4.59, false, "down"), read(2, true, "down"), read(2, false, "up"), read(2, false, ""))
	a := l.assess(d, evening)
	assert.InDelta(t, 0.9, a.Fouling, 1e-9)
	assert.Equal(t, 1, a.FoulingSeen)

	d.Services = []machinery.Service{{Name: "scrub", Resets: "fouling", Last: machinery.Done{Date: quantity.Date{Year: 2026, Month: 6, Day: 12}}}}
	assert.InDelta(t, 1, l.assess(d, evening).Fouling, 0, "a scrub since then resets it")
}

func TestDefectLimitsTheRevs(t *testing.T) {
	d, l := ready(t)
	free := l.assess(d, evening).Reckoning.Cases[passage.Slow].Voyage.Hours
	l.add(evening, DefectAct{What: "mount", Grade: machinery.Limit, RPM: 1600}, DefectAct{What: "belt", Grade: machinery.Limit, RPM: 1800})
	assert.Greater(t, l.assess(d, evening).Reckoning.Cases[passage.Slow].Voyage.Hours, free)
	assert.Equal(t, 1600, rpmCap(l.assess(d, evening).Defects))
}
