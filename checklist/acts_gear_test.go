package checklist

import (
	"math"
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// meterLog has the meter read at 1002 h two days ago and at 1003 h an hour ago.
func meterLog() log {
	var l log
	l.add(evening.Add(-48*time.Hour), meterRead(1002))
	l.add(evening.Add(-time.Hour), meterRead(1003))
	return l
}

func TestServiceDoneIsCompleted(t *testing.T) {
	box, aft := "bow / box 1", "aft / box 2"
	took := func(place string, n int, old string) PartTaken {
		return PartTaken{Spare: "impeller", Place: place, Count: n, Old: old}
	}
	for _, test := range []struct {
		name string
		in   ServiceInput
		want ServiceDone
	}{
		{"today, at the meter's last reading, with what it uses from where it counts", ServiceInput{},
			ServiceDone{Date: june(11), Hours: 1003, Parts: []PartTaken{took(box, 1, "")}}},
		{"as told", ServiceInput{Date: june(10), Hours: 1002.5, Minutes: 50, Old: "BOX 2", Note: " stiff "},
			ServiceDone{Date: june(10), Hours: 1002.5, Minutes: 50, Note: "stiff", Parts: []PartTaken{took(box, 1, aft)}}},
		{"a day gone by: the meter as it was read by then", ServiceInput{Date: june(9), NoParts: true}, ServiceDone{Date: june(9), Hours: 1002}},
		{"from another place", ServiceInput{Parts: []PartTaken{{Spare: "impeller", Place: "box 2", Count: 1, Old: "gone"}}},
			ServiceDone{Date: june(11), Hours: 1003, Parts: []PartTaken{took(aft, 1, "")}}},
		{"more than one place has", ServiceInput{Parts: []PartTaken{{Spare: "impeller", Count: 3}}},
			ServiceDone{Date: june(11), Hours: 1003, Parts: []PartTaken{took(box, 2, ""), took(aft, 1, "")}}},
		{"the old one, from its own place", ServiceInput{Parts: []PartTaken{{Spare: "impeller", Place: "box 1", Count: 3}}},
			ServiceDone{Date: june(11), Hours: 1003, Parts: []PartTaken{took(box, 3, "")}}},
		{"a part more; the usual one comes by itself", ServiceInput{Parts: []PartTaken{{Spare: "belt", Count: 1}}},
			ServiceDone{Date: june(11), Hours: 1003, Parts: []PartTaken{{Spare: "belt", Place: aft, Count: 1}, took(box, 1, "")}}},
		{"the usual one was not taken", ServiceInput{Parts: []PartTaken{{Spare: "impeller"}}}, ServiceDone{Date: june(11), Hours: 1003}},
	} {
		test.in.Service, test.want.Service, test.want.Planned = "change impeller", "change impeller", 45
		got, err := geared().NewServiceDone(Fold(meterLog()), test.in, evening)
		require.NoError(t, err, test.name)
		assert.Equal(t, test.want, got, test.name)
	}
}

func TestServicesThatCannotBeAreRefused(t *testing.T) {
	for _, test := range []struct {
		in   ServiceInput
		want string
	}{
		{ServiceInput{Service: "change impellr"}, `no service is called "change impellr"; did you mean "change impeller"?`},
		{ServiceInput{Service: "paint"}, `no service is called "paint"; one of: change impeller, scrub`},
		{ServiceInput{Date: june(12)}, "2026-06-12 is in the future: today is 2026-06-11; write the day on which it was done"},
		{ServiceInput{Date: quantity.Date{Year: 2026, Month: 5, Day: 31}}, "change impeller was done last on 2026-06-01, after 2026-05-31; its `last` in upkeep.toml says so: mend it there if it is wrong"},
		{ServiceInput{Minutes: -1}, "it cannot have taken -1 minutes; write 0 to 10000"},
		{ServiceInput{Minutes: 10001}, "it cannot have taken 10001 minutes; write 0 to 10000"},
		{ServiceInput{Minutes: math.NaN()}, "it cannot have taken NaN minutes; write 0 to 10000"},
		{ServiceInput{Hours: math.NaN()}, "the hour-meter cannot show NaN h; read it again"},
		{ServiceInput{Hours: -3}, "the hour-meter cannot show -3 h; read it again"},
		{ServiceInput{Hours: 1002.9}, "the hour-meter cannot go backward to 1002.9 h: 1003 h was read on 2026-06-11; read it again; of a new meter write the old one's hours and its own together"},
		{ServiceInput{Hours: 1300}, "the hour-meter cannot show 1300 h: 1003 h was read on 2026-06-11, and no engine runs so long in the time since; read it again"},
		{ServiceInput{Date: june(8), Hours: 1002.5}, "the hour-meter did not show 1002.5 h by then: 1002 h was read on 2026-06-09; read it again, or write the day on which it was done"},
		{ServiceInput{Date: june(8), Hours: 989}, "the hour-meter cannot go backward to 989 h: change impeller was done last at 990 h; read it again; of a new meter write the old one's hours and its own together"},
		{ServiceInput{Date: june(8)}, "the hour-meter was not read on 2026-06-08 or before; write what it showed then (--hours)"},
		{ServiceInput{NoParts: true, Parts: []PartTaken{{Spare: "belt", Count: 1}}}, "parts are named, and none was taken; say one of the two"},
		{ServiceInput{Parts: []PartTaken{{Spare: "blt", Count: 1}}}, `no spare is called "blt"; did you mean "belt"?`},
		{ServiceInput{Parts: []PartTaken{{Spare: "belt", Count: -1}}}, "-1 is no number of pieces of belt; write 1 to 100000"},
		{ServiceInput{Parts: []PartTaken{{Spare: "impeller", Count: 4}}},
			"change impeller takes 4 x impeller, and 3 aboard count (aboard: 1 used in bow / box 1, 2 new in bow / box 1, 1 new in aft / box 2); say from where it was taken, or that none was"},
		{ServiceInput{Parts: []PartTaken{{Spare: "impeller", Place: "box 2", Count: 2}}},
			"aft / box 2 holds 1 impeller, not 2; aboard: 1 used in bow / box 1, 2 new in bow / box 1, 1 new in aft / box 2"},
		{ServiceInput{Parts: []PartTaken{{Spare: "belt", Place: "mast", Count: 1}}}, `no belt lies in "mast"; aboard: 3 new in aft / box 2`},
		{ServiceInput{Parts: []PartTaken{{Spare: "belt", Place: "aft\x07", Count: 1}}}, "the place holds a control character; leave it out"},
		{ServiceInput{Old: " / "}, `" / " is no place; write it as a path, like "fore cabin / box 3"`},
		{ServiceInput{Note: "bell\a"}, "the note holds a control character; leave it out"},
	} {
		if test.in.Service == "" {
			test.in.Service = "change impeller"
		}
		_, err := geared().NewServiceDone(Fold(meterLog()), test.in, evening)
		refused(t, err, test.want)
	}
}

func TestServiceStandsOnWhatTheRecordTells(t *testing.T) {
	d, l := geared(), meterLog()
	l.add(evening, ServiceDone{Service: "change impeller", Date: june(10), Hours: 1002.5})
	_, err := d.NewServiceDone(Fold(l), ServiceInput{Service: "change impeller", Date: june(9)}, evening)
	refused(t, err, "change impeller was done last on 2026-06-10, after 2026-06-09; entry 3 says so: `hoveshort correct 3` if it is wrong")

	l.add(evening, Stow{Spare: "impeller", Did: UsedUp, Count: 3})
	_, err = d.NewServiceDone(Fold(l), ServiceInput{Service: "change impeller"}, evening)
	refused(t, err, "change impeller takes 1 impeller, and none aboard counts (aboard: 1 used in bow / box 1); say from where it was taken, or that none was")
	done, err := d.NewServiceDone(Fold(l), ServiceInput{Service: "change impeller", NoParts: true}, evening)
	require.NoError(t, err)
	assert.Empty(t, done.Parts)

	// No reading at all: the opening hours of boat.toml are today's, and no other day's.
	done, err = d.NewServiceDone(Fold(nil), ServiceInput{Service: "change impeller"}, evening)
	require.NoError(t, err)
	assert.InDelta(t, 1000, done.Hours, 0)
	_, err = d.NewServiceDone(Fold(nil), ServiceInput{Service: "change impeller", Hours: 999.9}, evening)
	refused(t, err, "the hour-meter cannot go backward to 999.9 h: 1000 h is its opening in boat.toml; read it again; of a new meter write the old one's hours and its own together")
	scrub, err := d.NewServiceDone(Fold(nil), ServiceInput{Service: "scrub", Date: june(2)}, evening)
	require.NoError(t, err, "what is not due by hours needs none")
	assert.Equal(t, ServiceDone{Service: "scrub", Date: june(2)}, scrub)

	d.Services = nil
	_, err = d.NewServiceDone(Fold(nil), ServiceInput{Service: "scrub"}, evening)
	refused(t, err, "upkeep.toml holds no service; write one there: name, every_hours or every_months")
}

func TestStowingIsCompleted(t *testing.T) {
	box, aft, whole := "bow / box 1", "aft / box 2", []string{"gasket"}
	lent := Stow{Spare: "impeller", Did: Lent, Count: 1, From: aft, Condition: machinery.New, Fit: machinery.Proved, Has: whole, Note: "next door"}
	for _, test := range []struct {
		name      string
		of        string
		how, want Stow
	}{
		{"bought: new, of unknown fit, without its parts", "impeller", Stow{Did: Bought, Count: 2, To: "stern/locker"},
			Stow{Spare: "impeller", Did: Bought, Count: 2, To: "stern / locker", Condition: machinery.New, Fit: machinery.Unknown}},
		{"bought whole", "impeller", Stow{Did: Bought, Count: 1, To: "box 2", Fit: machinery.Measured, Has: []string{"all"}},
			Stow{Spare: "impeller", Did: Bought, Count: 1, To: aft, Condition: machinery.New, Fit: machinery.Measured, Has: whole}},
		{"used: from the first place in which so many count", "impeller", Stow{Did: UsedUp, Count: 1, Old: "box 2"},
			Stow{Spare: "impeller", Did: UsedUp, Count: 1, From: box, Old: aft}},
		{"used, the used one", "impeller", Stow{Did: UsedUp, Count: 1, Condition: machinery.Used}, Stow{Spare: "impeller", Did: UsedUp, Count: 1, From: box, Condition: machinery.Used}},
		{"moved", "impeller", Stow{Did: Moved, Count: 3, From: "box 1", To: "box 2"}, Stow{Spare: "impeller", Did: Moved, Count: 3, From: box, To: aft}},
		{"moved from the only place", "belt", Stow{Did: Moved, Count: 1, To: "mast"}, Stow{Spare: "belt", Did: Moved, Count: 1, From: aft, To: "mast"}},
		{"lent: as it is", "impeller", Stow{Did: Lent, Count: 1, From: "box 2", Note: "next door"}, lent},
		{"back as it was lent", "impeller", Stow{Did: Back, Count: 1}, Stow{Spare: "impeller", Did: Back, Count: 1, To: aft, Condition: machinery.New, Fit: machinery.Proved, Has: whole}},
		{"back, and used", "impeller", Stow{Did: Back, Count: 1, Condition: machinery.Used}, Stow{Spare: "impeller", Did: Back, Count: 1, To: aft, Condition: machinery.Used, Fit: machinery.Unknown}},
		{"found as known, but fewer", "impeller", Stow{Did: Found, Count: 1, To: "box 2"}, Stow{Spare: "impeller", Did: Found, Count: 1, To: aft, Condition: machinery.New, Fit: machinery.Proved, Has: whole}},
		{"found without its gasket", "impeller", Stow{Did: Found, Count: 1, To: "box 2", Has: []string{"none"}}, Stow{Spare: "impeller", Did: Found, Count: 1, To: aft, Condition: machinery.New, Fit: machinery.Proved}},
		{"found of another condition: nothing of what was known holds", "impeller", Stow{Did: Found, Count: 1, To: "box 2", Condition: machinery.Used},
			Stow{Spare: "impeller", Did: Found, Count: 1, To: aft, Condition: machinery.Used, Fit: machinery.Unknown}},
		{"found none", "impeller", Stow{Did: Found, To: "box 2", Fit: machinery.Proved}, Stow{Spare: "impeller", Did: Found, To: aft}},
		{"a tool moved", "puller", Stow{Did: Moved, To: "box 2"}, Stow{Tool: "puller", Did: Moved, From: "bow / roll", To: aft}},
		{"a tool found stiff", "puller", Stow{Did: Found, State: machinery.Stiff}, Stow{Tool: "puller", Did: Found, To: "bow / roll", State: machinery.Stiff}},
		{"a tool found elsewhere", "puller", Stow{Did: Found, Count: 1, To: "mast"}, Stow{Tool: "puller", Did: Found, To: "mast", State: machinery.Good}},
		{"a tool lent", "puller", Stow{Did: Lent, Note: "next door"}, Stow{Tool: "puller", Did: Lent, From: "bow / roll", Note: "next door"}},
	} {
		var l log
		l.add(evening, lent)
		if test.how.Did != Back {
			l = nil
		}
		got, err := geared().NewStow(Fold(l), test.of, test.how)
		require.NoError(t, err, test.name)
		assert.Equal(t, test.want, got, test.name)
	}

	var l log
	l.add(evening, Stow{Tool: "puller", Did: Lent, From: "bow / roll", Note: "next door"})
	got, err := geared().NewStow(Fold(l), "puller", Stow{Did: Back})
	require.NoError(t, err)
	assert.Equal(t, Stow{Tool: "puller", Did: Back, To: "bow / roll", State: machinery.Good}, got, "back to where it was")
}

func TestStowingThatCannotBeIsRefused(t *testing.T) {
	const all = "aboard: 1 used in bow / box 1, 2 new in bow / box 1, 1 new in aft / box 2"
	for _, test := range []struct {
		of   string
		how  Stow
		want string
	}{
		{"impellr", Stow{Did: Bought, Count: 1, To: "bow"}, `no spare or tool is called "impellr"; did you mean "impeller"?`},
		{"saw", Stow{Did: Bought, Count: 1, To: "bow"}, `no spare or tool is called "saw"; one of: belt, impeller, puller`},
		{"impeller", Stow{Did: "sold", Count: 1}, `"sold" is nothing done with gear; bought, used, moved, lent, back or found`},
		{"impeller", Stow{Did: Bought, To: "bow"}, "0 is no number of pieces of impeller; write 1 to 100000"},
		{"impeller", Stow{Did: Bought, Count: 1}, `where it was stowed is not known; say the place, like "fore cabin / box 3"`},
		{"impeller", Stow{Did: Bought, Count: 1, To: "bow", Condition: "shiny"}, `"shiny" is no condition of a spare; new, used, doubtful or wrong`},
		{"impeller", Stow{Did: Bought, Count: 1, To: "bow", Fit: "sure"}, `"sure" is no fit; proved, measured or unknown`},
		{"impeller", Stow{Did: Bought, Count: 1, To: "bow", Has: []string{"gaskt"}}, `no part of impeller is called "gaskt"; did you mean "gasket"?`},
		{"belt", Stow{Did: Bought, Count: 1, To: "bow", Has: []string{"gasket"}}, "belt is no kit: nothing belongs to it; leave its parts out"},
		{"impeller", Stow{Did: Bought, Count: 1, To: "bow", State: machinery.Good}, "impeller is a spare, and has a condition; new, used, doubtful or wrong"},
		{"impeller", Stow{Did: Moved, Count: 4, From: "box 1", To: "mast"}, "bow / box 1 holds 3 x impeller, not 4; " + all},
		{"impeller", Stow{Did: Moved, Count: 2, From: "box 1", To: "mast", Condition: machinery.Used}, "bow / box 1 holds 1 used impeller, not 2; " + all},
		{"impeller", Stow{Did: Moved, Count: 1, From: "mast", To: "bow"}, `no impeller lies in "mast"; ` + all},
		{"impeller", Stow{Did: Moved, Count: 1, To: "mast"}, "from where impeller was moved is not known; " + all},
		{"impeller", Stow{Did: Moved, Count: 1, From: "box 1"}, `where it was moved to is not known; say the place, like "fore cabin / box 3"`},
		{"impeller", Stow{Did: Moved, Count: 1, From: "box 1", To: "Bow/box 1"}, "impeller lies in bow / box 1 already; say where it lies now"},
		{"impeller", Stow{Did: UsedUp, Count: 9}, "from where impeller was used is not known; " + all},
		{"impeller", Stow{Did: UsedUp, Count: 9, From: "aft / box 2"}, "aft / box 2 holds 1 impeller, not 9; " + all},
		{"impeller", Stow{Did: Lent, Count: 1}, "it was lent, and nobody knows to whom; say it in the note"},
		{"impeller", Stow{Did: Back, Count: 1}, "what impeller is like is not known: it was never lent by the record; say whether it is new, used, doubtful or wrong"},
		{"impeller", Stow{Did: Found, Count: -1, To: "bow"}, "-1 is no number of pieces of impeller; write 0 to 100000"},
		{"impeller", Stow{Did: Found, Count: 1}, `which place was looked into is not known; say it, like "fore cabin / box 3"`},
		{"impeller", Stow{Did: Found, Count: 1, To: "box 1"}, "what impeller in bow / box 1 is like is not known; say whether it is new, used, doubtful or wrong"},
		{"impeller", Stow{Did: Found, To: "box 1", Beside: true}, "beside what else lies there; say which were looked at: new, used, doubtful or wrong"},
		{"impeller", Stow{Did: Found, Count: 1, To: "bow\u202e"}, "the place holds a control character; leave it out"},
		{"puller", Stow{Did: UsedUp}, "puller is a tool, and is not used up; say in which state it was found: good, stiff, seized or missing"},
		{"puller", Stow{Did: Moved, To: "mast", Condition: machinery.New}, "puller is a tool, and has a state; good, stiff, seized or missing"},
		{"puller", Stow{Did: Found, State: "bent"}, `"bent" is no state of a tool; good, stiff, seized or missing`},
		{"puller", Stow{Did: Found}, "what was found is not known; say where it is, or its state: good, stiff, seized or missing"},
		{"puller", Stow{Did: Moved, Count: 2, To: "mast"}, "there is one puller; leave the number out"},
		{"puller", Stow{Did: Bought}, `where it was stowed is not known; say the place, like "fore cabin / box 3"`},
		{"puller", Stow{Did: Moved, To: "Bow / Roll"}, "puller lies in bow / roll already; say where it lies now"},
	} {
		_, err := geared().NewStow(Fold(nil), test.of, test.how)
		refused(t, err, test.want)
	}
	d := geared()
	d.Spares[1].Stowed = append(d.Spares[1].Stowed, lot("mast / box 2", 1, machinery.New))
	_, err := d.NewStow(Fold(nil), "belt", Stow{Did: UsedUp, Count: 1, From: "box 2"})
	refused(t, err, `"box 2" may be aft / box 2 or mast / box 2; write the whole place`)
	_, err = d.NewStow(Fold(nil), "impeller", Stow{Did: Bought, Count: 1, To: "box 2"})
	refused(t, err, `"box 2" may be aft / box 2 or mast / box 2; write the whole place`)
}

func TestServicesAndGearAreToldInASentence(t *testing.T) {
	for want, act := range map[string]Act{
		"oil done on 2026-06-11 at 1482.5 h, took 50 min (planned 45); took 2 x filter from bow / box 1, the old kept in aft: seized": ServiceDone{
			Service: "oil", Date: june(11), Hours: 1482.5, Minutes: 50, Planned: 45, Note: "seized", Parts: []PartTaken{{"filter", "bow / box 1", 2, "aft"}},
		},
		"oil done": ServiceDone{Service: "oil"},
		"2 x impeller bought: new, fit unknown, without gasket, in bow":  Stow{Spare: "impeller", Did: Bought, Count: 2, To: "bow", Condition: machinery.New, Fit: machinery.Unknown},
		"1 impeller back: used, fit proved, with gasket, in bow":         Stow{Spare: "impeller", Did: Back, Count: 1, To: "bow", Condition: machinery.Used, Fit: machinery.Proved, Has: []string{"gasket"}},
		"1 impeller used from bow, the old kept in aft":                  Stow{Spare: "impeller", Did: UsedUp, Count: 1, From: "bow", Old: "aft"},
		"1 impeller moved from bow to aft":                               Stow{Spare: "impeller", Did: Moved, Count: 1, From: "bow", To: "aft"},
		"1 impeller lent from bow: next door":                            Stow{Spare: "impeller", Did: Lent, Count: 1, From: "bow", Note: "next door"},
		"found 1 belt in bow: new, fit measured, and nothing else of it": Stow{Spare: "belt", Did: Found, Count: 1, To: "bow", Condition: machinery.New, Fit: machinery.Measured},
		"found 1 belt in bow: used, beside what else lies there":         Stow{Spare: "belt", Did: Found, Count: 1, To: "bow", Condition: machinery.Used, Beside: true},
		"found no belt in bow":                                           Stow{Spare: "belt", Did: Found, To: "bow"},
		"found no belt in bow, of those that are used":                   Stow{Spare: "belt", Did: Found, To: "bow", Condition: machinery.Used, Beside: true},
		"puller moved to aft":                                            Stow{Tool: "puller", Did: Moved, From: "bow", To: "aft"},
		"puller lent: next door":                                         Stow{Tool: "puller", Did: Lent, Note: "next door"},
		"puller found: stiff, in bow":                                    Stow{Tool: "puller", Did: Found, To: "bow", State: machinery.Stiff},
		"puller found seized":                                            Stow{Tool: "puller", Did: Found, State: machinery.Seized},
	} {
		assert.Equal(t, want, geared().Words(act))
	}
}

func TestCureNamesTheCommandThatTellsIt(t *testing.T) {
	d, l := geared(), walked()
	d.Services[0].Last = machinery.Done{Date: june(1), Hours: 500}
	d.Spares[0].Need[d.Plan.Kind] = 9
	clears := map[string]string{}
	for _, b := range l.assess(d, evening).Blockers {
		clears[b.Name] = b.Clears
	}
	assert.Equal(t, `do it, then: hoveshort service "change impeller"`, clears["change impeller"])
	assert.Equal(t, `a new one that fits, whole with its parts; then: hoveshort stow "impeller"`, clears["impeller"])
}

// What comes back is what is out: more than that would make pieces of nothing.
func TestNoMoreComesBackThanWasLent(t *testing.T) {
	d := geared()
	var l log
	lent, err := d.NewStow(Fold(l), "impeller", Stow{Did: Lent, Count: 1, Note: "to a neighbour"})
	require.NoError(t, err)
	l.add(evening, lent)
	_, err = d.NewStow(Fold(l), "impeller", Stow{Did: Back, Count: 2})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "1 impeller is out on loan")
	back, err := d.NewStow(Fold(l), "impeller", Stow{Did: Back, Count: 1})
	require.NoError(t, err)
	l.add(evening, back)
	_, err = d.NewStow(Fold(l), "impeller", Stow{Did: Back, Count: 1})
	assert.Error(t, err, "it is back already")
}
