package tui

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/exp/golden"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/tui/chart"
)

// islands is a boat with two legs before her, and a reef between that gives a little. She
// is well found but for the water. All invented.
func islands() checklist.Definitions {
	d := fitBoat()
	d.Boat.Rates.Water.Rationed = 2
	d.Boat.Watermaker = &provisions.Watermaker{Output: 6, Run: time.Hour, NeedsEngine: true}
	d.Plan.Name, d.Plan.Daylight, d.Plan.Before = "Alder Quay - Kelp Reef - Birch Sound", true, date(2026, 6, 25)
	d.Plan.Limits.Wind = 25
	d.Plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}, {Thing: passage.Fuel, Sure: true}, {Thing: passage.Food, Sure: true}}
	d.Plan.Price = map[passage.Thing]float64{passage.Fuel: 1.8}
	d.Plan.Legs = []passage.Leg{
		{
			From: "Alder Quay", To: "Kelp Reef", Distance: 300, Sail: 5, RPM: 2000, Stay: 36 * time.Hour,
			Home: &passage.Home{Sail: 3, Power: 0.5}, Position: &passage.Position{Lat: 47, Lon: -9},
			Fill:    []passage.Giving{{Thing: passage.Fuel, Sure: true}, {Thing: passage.Water}},
			Price:   map[passage.Thing]float64{passage.Fuel: 2.1},
			Dangers: "The reef carries no light.", Window: "North-westerly under 20 kn for three days.",
			Alternates: []passage.Alternate{{Name: "Otter Haven", After: 180, Distance: 60}},
			Decisions:  []passage.Decision{{At: 120, GoOnIf: "the pass is reached by day", Else: "stand off for the night"}},
		},
		{
			From: "Kelp Reef", To: "Birch Sound", Distance: 500, Sail: 5, Current: -0.2,
			Position: &passage.Position{Lat: 43, Lon: -9}, Fill: []passage.Giving{{Thing: passage.Water, Sure: true}},
		},
	}
	return d
}

// fullTanks are the soundings of islands' tanks, all to the brim.
func fullTanks() []checklist.Act {
	return []checklist.Act{
		checklist.Sound{Tank: "forward water", Level: "full"}, checklist.Sound{Tank: "after water", Level: "full"},
		checklist.Sound{Tank: "diesel", Level: "full"}, checklist.Sound{Tank: "gas bottle", Level: "2.5 kg"},
	}
}

// turned is the key that turns to a view, pressed as often as it takes.
func turned(v view) []string {
	var list []string
	for range v {
		list = append(list, "right")
	}
	return list
}

// passageBench is screen 2 with a view turned to.
func passageBench(t *testing.T, v view, keys ...string) *bench {
	return newBench(t, islands(), fullTanks()...).keys("2").keys(turned(v)...).keys(keys...)
}

// TestPassageLooksAsReviewed compares every view with the picture that was looked at.
func TestPassageLooksAsReviewed(t *testing.T) {
	screens := []struct {
		name string
		make func(*testing.T) *bench
	}{
		{"legs", func(t *testing.T) *bench { return passageBench(t, legsView) }},
		{"legs-second", func(t *testing.T) *bench { return passageBench(t, legsView, "j") }},
		{"left", func(t *testing.T) *bench { return passageBench(t, leftView) }},
		{"left-food", func(t *testing.T) *bench { return passageBench(t, leftView, "j", "j") }},
		{"whatif", func(t *testing.T) *bench { return passageBench(t, whatIfView) }},
		{"turning", func(t *testing.T) *bench { return passageBench(t, turningView) }},
		{"turning-guess", func(t *testing.T) *bench { return passageBench(t, turningView, "G") }},
		{"range", func(t *testing.T) *bench { return passageBench(t, rangeView) }},
		{"trying", func(t *testing.T) *bench { return passageBench(t, legsView, "t") }},
		{"trying-asked", func(t *testing.T) *bench { return passageBench(t, legsView, "t", "enter").types("21").keys("enter") }},
		{"tried", func(t *testing.T) *bench {
			return passageBench(t, whatIfView, "t", "enter").types("4").keys("enter", "t", "j", "j", "j", "enter").types("1500").keys("enter")
		}},
		{"kept", func(t *testing.T) *bench {
			return passageBench(t, legsView, "t", "enter").types("4").keys("enter", "K")
		}},
		{"cannot", func(t *testing.T) *bench {
			d := islands()
			d.Plan.Legs[1].Current = -9
			return newBench(t, d).keys("2", "j")
		}},
		{"cannot-left", func(t *testing.T) *bench {
			d := islands()
			d.Plan.Legs[1].Current = -9
			return newBench(t, d).keys("2", "right")
		}},
		{"stores-load", func(t *testing.T) *bench { return newBench(t, islands()).keys("3", "j", "j", "j", "j", "j") }},
		{"stores-shopping", func(t *testing.T) *bench {
			d := islands()
			d.Boat.Lots = d.Boat.Lots[1:]
			return newBench(t, d).keys("3", "right", "right", "right")
		}},
	}
	for _, s := range screens {
		for _, z := range []size{{80, 24}, {60, 20}, {200, 60}} {
			for name, glyphs := range map[string]Glyphs{"": Unicode, "-ascii": ASCII} {
				t.Run(fmt.Sprintf("%s-%dx%d%s", s.name, z.w, z.h, name), func(t *testing.T) {
					b := s.make(t)
					b.m.facts.look.glyphs = newGlyphs(glyphs)
					golden.RequireEqual(t, b.size(z.w, z.h).view())
				})
			}
		}
	}
}

func TestEveryViewFitsAnySize(t *testing.T) {
	benches := map[string]*bench{}
	for v := range views {
		benches[v.title()] = passageBench(t, v)
		benches[v.title()+", tried"] = passageBench(t, v, "t", "enter").types("4").keys("enter")
		benches[v.title()+", working"] = passageBench(t, v, "enter")
	}
	benches["the keys to try"] = passageBench(t, legsView, "t")
	benches["a value"] = passageBench(t, legsView, "t", "enter").types("3")
	benches["the lines"] = passageBench(t, legsView, "t", "enter").types("4").keys("enter", "K")
	for v := range views {
		benches["soiled "+v.title()] = newBench(t, soiled()).keys("2").keys(turned(v)...)
	}
	names := slices.Sorted(maps.Keys(benches))
	rapid.Check(t, func(rt *rapid.T) {
		name := rapid.SampledFrom(names).Draw(rt, "page")
		b := &bench{t: t, m: benches[name].m}
		glyphs := Glyphs(rapid.IntRange(0, 2).Draw(rt, "glyphs"))
		b.m.facts.look.glyphs = newGlyphs(glyphs)
		for range 5 {
			w, h := rapid.IntRange(0, 220).Draw(rt, "w"), rapid.IntRange(0, 70).Draw(rt, "h")
			b.size(w, h).keys("j")
			requireFits(rt, b.m.View(), w, h)
			if glyphs != ASCII {
				continue
			}
			for _, r := range ansi.Strip(b.m.View()) {
				require.Less(rt, r, rune(128), "%s at %dx%d", name, w, h)
			}
		}
	})
}

// Which key asks for what, as data.
func TestPassageKeysAskForActions(t *testing.T) {
	tried := func(f facts) facts {
		trial, err := f.prospect.trial.With("crew = 3", f.definitions, f.now)
		require.NoError(t, err)
		f.prospect.trial = trial
		return f
	}
	same := func(f facts) facts { return f }
	for _, c := range []struct {
		name  string
		start screen
		with  func(facts) facts
		keys  []string
		want  []action // of the last key
	}{
		{"a value is asked for and tried", ahead{}, same, []string{"t", "enter", "3", "enter"}, []action{tryOut{"crew = 3"}}},
		{"a whole change is taken as it is", ahead{}, same, append(append([]string{"t", "enter"}, strings.Split("rpm.2 = 1600", "")...), "enter"), []action{tryOut{"rpm.2 = 1600"}}},
		{"what cannot be is not tried", ahead{}, same, []string{"t", "enter", "0", "enter"}, nil},
		{"the watermaker is put off at once", ahead{}, same, []string{"t", "G", "enter"}, []action{tryOut{"watermaker = off"}}},
		{"one change is taken back", ahead{}, tried, []string{"t", "x"}, []action{tryOut{"crew ="}}},
		{"nothing is taken back that is not tried", ahead{}, same, []string{"t", "x"}, nil},
		{"all is dropped", ahead{}, tried, []string{"X"}, []action{dropTrial{}}},
		{"nothing is dropped where nothing is tried", ahead{}, same, []string{"X"}, nil},
		{"the lines to keep it ask for nothing", ahead{}, tried, []string{"K"}, nil},
		{"where it comes from asks for nothing", ahead{}, same, []string{"enter"}, nil},
		{"q leaves", ahead{}, same, []string{"q"}, []action{closeScreen{}}},
		{"q on a page closes it", ahead{}, same, []string{"enter", "q"}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := c.with(newBench(t, islands(), fullTanks()...).keys("2").m.facts)
			s := c.start
			var got []action
			for _, name := range c.keys {
				s, got = s.update(f, press{KeyMsg: keyMsg(name)})
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// What stands on Ready leads to where it is told in full.
func TestReadyLeadsToThePassage(t *testing.T) {
	d := islands()
	d.Plan.Depart, d.Plan.Before = d.Plan.Depart.Add(9*time.Hour), date(2026, 6, 12)
	d.Plan.Legs[1].Current = -0.5
	b := newBench(t, d, fullTanks()...)
	seen := map[checklist.Matter]bool{}
	for i, item := range (ready{}).items(b.m.facts) {
		var matter checklist.Matter
		want := openAt{name: passageScreen}
		switch {
		case item.caution != nil && item.caution.Matter == checklist.MatterWhatIf:
			matter, want.at.whatIf = item.caution.Matter, item.caution.Name
		case item.caution != nil && item.caution.Matter == checklist.MatterDaylight:
			matter, want.at.leg = item.caution.Matter, map[string]int{"Kelp Reef": 1, "Birch Sound": 2}[item.caution.Name]
		case item.blocker != nil && item.blocker.Matter == checklist.MatterSeason:
			matter, want.at.leg = item.blocker.Matter, 2
		default:
			continue
		}
		seen[matter] = true
		_, actions := ready{cursor: i}.update(b.m.facts, press{KeyMsg: keyMsg("enter")})
		assert.Equal(t, []action{want}, actions, item.title())
	}
	assert.Equal(t, map[checklist.Matter]bool{checklist.MatterWhatIf: true, checklist.MatterDaylight: true, checklist.MatterSeason: true}, seen)

	d.Plan.Legs[0].Current = -9
	b = newBench(t, d)
	i := slices.IndexFunc((ready{}).items(b.m.facts), func(i readyItem) bool { return i.blocker != nil && i.blocker.Matter == checklist.MatterPlan })
	_, actions := ready{cursor: i}.update(b.m.facts, press{KeyMsg: keyMsg("enter")})
	assert.Equal(t, []action{openAt{passageScreen, target{leg: 1}}}, actions)
}

func TestAWhatIfIsShownWhereReadySendsTo(t *testing.T) {
	b := newBench(t, islands(), fullTanks()...)
	last := b.m.facts.assessment.WhatIfs.List[2].Name()
	s := b.keys("2").m.screens[passageScreen].aim(b.m.facts, target{whatIf: last}).(ahead)
	assert.Equal(t, whatIfView, s.shown)
	assert.Equal(t, 2, s.cursor())
	s = s.aim(b.m.facts, target{leg: 2}).(ahead)
	assert.Equal(t, legsView, s.shown)
	assert.Equal(t, 1, s.cursor())
}

func TestViewsAreTurnedRoundAndBack(t *testing.T) {
	b := newBench(t, islands()).keys("2")
	for _, key := range []string{"right", "l", "tab", "right", "right"} {
		b.keys(key)
	}
	b.sees("[Legs]").keys("left").sees("[Under engine]", "5 of 5").keys("h", "h").sees("[What ifs]")
}

func TestTheOutlookIsOnlyReckonedForScreenTwo(t *testing.T) {
	b := newBench(t, islands(), fullTanks()...)
	assert.Empty(t, b.m.facts.prospect.outlook)
	b.keys("2")
	assert.NotEmpty(t, b.m.facts.prospect.outlook)
	b.keys("1")
	assert.Empty(t, b.m.facts.prospect.outlook)
}

func TestTryingWritesNothingAndTheAnswerFollowsAtOnce(t *testing.T) {
	b := newBench(t, islands(), fullTanks()...)
	n, calls := len(b.entries), b.calls
	b.keys("2").sees("2 aboard").keys("t", "enter").types("4").keys("enter")
	b.sees("TRYING, nothing is written: crew = 4", "as planned", "tried", "4 aboard")
	assert.Equal(t, 4, b.m.facts.prospect.definitions.Plan.Crew)
	assert.Equal(t, 2, b.m.facts.definitions.Plan.Crew, "every other screen shows the plan")
	b.keys("t", "j", "enter").types("09:00").keys("enter").sees("crew = 4; depart = 2026-06-02T09:00:00Z", "Leaving Tue 2 Jun 09:00")
	b.keys("t", "G", "enter").sees("watermaker = off").keys("1").seesNot("TRYING").keys("2").sees("TRYING")
	b.keys("t", "x").seesNot("crew = 4").keys("q", "X").sees("nothing is tried any more").seesNot("TRYING")
	assert.Len(t, b.entries, n, "no entry was written")
	assert.Equal(t, calls, b.calls, "nor was any asked for")
}

func TestWhatCannotBeTriedIsToldInTheQuestion(t *testing.T) {
	b := newBench(t, islands()).keys("2", "t", "enter").types("21").keys("enter").sees("write a whole number from 1 to 20", "> 21")
	assert.True(t, b.m.trial.IsEmpty())
	b.keys("ctrl+u", "backspace", "j", "j", "enter").types("sail.3 = 4 kn").keys("enter").sees("names no leg")
	b.keys("ctrl+u").types("sail.2 = 4 kn").keys("enter").sees("TRYING, nothing is written: sail.2 = 4 kn")
	assert.Equal(t, []string{"sail.2 = 4 kn"}, b.m.trial.Words())

	d := islands()
	d.Boat.Watermaker = nil
	newBench(t, d).keys("2", "t", "G", "enter").sees("there is no watermaker to put off").seesNot("TRYING")
}

func TestAHeldTrialSurvivesTheMinuteAndAnEntry(t *testing.T) {
	b := newBench(t, islands(), fullTanks()...).keys("2", "t", "enter").types("4").keys("enter")
	for range 3 {
		b.now = b.now.Add(time.Minute)
		b.send(minutePassedMsg{}).sees("TRYING, nothing is written: crew = 4", "4 aboard")
	}
	b.keys("3", "s").types("50 %").keys("enter", "2").sees("TRYING, nothing is written: crew = 4")
	b.now = b.now.Add(time.Minute)
	b.keys("j").sees("TRYING")
}

func TestATrialThatTheFilesNoLongerTakeIsDroppedAndTold(t *testing.T) {
	b := newBench(t, islands()).keys("2", "t", "enter").types("4").keys("enter", "t", "j", "j", "enter").types("sail.2 = 4 kn").keys("enter")
	b.sees("crew = 4; sail.2 = 4 kn")
	d := islands()
	d.Plan.Legs = d.Plan.Legs[:1]
	b.d = d
	b.now = b.now.Add(time.Minute)
	b.send(minutePassedMsg{}).sees("no longer tried: sail.2 = 4 kn", "names no leg", "TRYING, nothing is written: crew = 4")
	assert.Equal(t, []string{"crew = 4"}, b.m.trial.Words())
}

func TestATriedDepartureThatIsPastIsDroppedAndTold(t *testing.T) {
	b := newBench(t, islands()).keys("2", "t", "j", "enter").types("19:00").keys("enter").sees("Leaving Mon 1 Jun 19:00")
	b.now = b.now.Add(61 * time.Minute)
	b.send(minutePassedMsg{}).sees("no longer tried", "past already").seesNot("TRYING")
}

func TestTheLinesThatKeepATrialAreShownAndNothingIsRewritten(t *testing.T) {
	b := newBench(t, islands()).keys("2", "K").sees("nothing is tried").keys("t", "enter").types("4").keys("enter", "K")
	b.sees("crew = 4", "never rewrites passage.toml", "then press r", "hoveshort passage --try 'crew = 4' --lines")
	b.keys("backspace").sees("[Legs]")
	assert.Empty(t, b.entries)
}

func TestKeysPressedFasterThanAPersonCan(t *testing.T) {
	b := newBench(t, islands(), fullTanks()...)
	b.keys("2", "lllll").sees("[Legs]").keys("2tjjhq", "lljj")
	n := len(b.entries)
	b.keys("t").send(keyMsg("enter")).types("3").keys("enter").keys("XKXK", "ttt", "qqq")
	assert.Len(t, b.entries, n)
	assert.False(t, b.quit, "leaving is asked for, and q alone answers")
}

func TestEveryRowTellsWhereItComesFrom(t *testing.T) {
	for v := range views {
		b := passageBench(t, v)
		rows := b.m.screens[passageScreen].(ahead).rows(b.m.facts)
		require.NotZero(t, rows, v.title())
		if v == whatIfView {
			rows = len(b.m.facts.assessment.WhatIfs.List)
		}
		for i := range rows {
			s := b.m.screens[passageScreen].(ahead)
			s.cursors[v] = i
			for _, w := range s.workings(b.m.facts) {
				assert.NotEmpty(t, w.Title, "%s, row %d", v.title(), i)
				assert.NotEmpty(t, w.Lines, "%s, row %d", v.title(), i)
			}
		}
		title := b.m.screens[passageScreen].(ahead).workings(b.m.facts)[0].Title
		b.keys("enter").sees(strings.Join(strings.Fields(title), " ")).keys("esc").sees("[" + v.title() + "]")
	}
}

func TestAWorkingIsToldStepByStep(t *testing.T) {
	l := look{styles: stylesFor(Plain, Colours256), glyphs: newGlyphs(ASCII)}
	list := []provisions.Working{
		{Title: "Water, A to B", Lines: []provisions.WorkingLine{
			{What: "need", How: "10 days x 8 L", Result: "80 L"}, {What: "given", Result: "12 L"},
			{What: "something with a long name", How: "one thing and another", Result: "nothing at all"},
		}},
		{Title: "Food, A to B"},
	}
	var told []string
	for _, line := range workingLines(l, list, 40) {
		told = append(told, ansi.Strip(line))
	}
	assert.Equal(t, []string{
		"Water, A to B",
		"  need         10 days x 8 L = 80 L",
		"  given        12 L",
		"  something with a long name",
		"               one thing and another =",
		"               nothing at all",
		"",
		"Food, A to B",
	}, told)
}

func TestWhereTheLoadComesFromIsToldInStores(t *testing.T) {
	b := newBench(t, islands()).keys("3", "enter").sees("nothing to load is selected").keys("j", "j", "j", "j", "j", "enter").sees("Water to load at Alder Quay")
	b.keys("q").sees("> Alder Quay, water")
}

func TestTheShoppingListIsTheDeparturesAlone(t *testing.T) {
	newBench(t, islands()).keys("3", "right", "right", "right").sees("Shopping list: food for")

	d := islands()
	d.Plan.Fill = nil
	d.Plan.Legs[0].Fill = []passage.Giving{{Thing: passage.Food, Sure: true}}
	newBench(t, d).keys("3", "right", "right", "right").sees("the departure gives no food").seesNot("Shopping list")

	d = islands()
	d.Boat.Lots[0].Packs = 40
	newBench(t, d).keys("3", "right", "right", "right").sees("Nothing: what is aboard feeds them.")
}

func TestTheRevsThatTakeHerFurthestAreTheAdvice(t *testing.T) {
	p := prospect{outlook: provisions.Outlook{Range: []provisions.RangeRow{
		{RPM: 1500, Further: 0.3, Made: true, Later: 9 * time.Hour, InHand: provisions.Days{Never: true}},
		{RPM: 1800, Further: 0.41, Made: true, Later: 4 * time.Hour, InHand: provisions.Days{Never: true}},
		{RPM: 1200, Further: 0.9}, // no passage at these revs
		{RPM: 2000, Cruise: true, Made: true},
	}}}
	p.definitions.Boat.Engine.CruiseRPM = 2000
	assert.Equal(t, "1800 rpm: 41 % further than at 2000, 4 h later", rangeAnswer(p))
	p.outlook.Range = p.outlook.Range[2:]
	assert.Equal(t, "No revs at which the slow case is made take her further than the 2000 rpm she cruises at", rangeAnswer(p))
	p.outlook.Range = p.outlook.Range[1:]
	assert.Equal(t, "No revs take her further than the 2000 rpm she cruises at", rangeAnswer(p))
}

// On the equator at 0 degrees east the sun is up from 06:04 to 18:11 on 20 March: twelve
// hours and the refraction's seven minutes around a noon at 12:07, the equation of time
// being seven and a half minutes then (from memory; passage holds the sun to published
// tables). Civil twilight lasts 21 minutes more.
func TestTheDayOfAnArrivalIsDrawnAsItIs(t *testing.T) {
	l := look{glyphs: newGlyphs(ASCII)}
	leg := passage.Leg{Position: &passage.Position{Lat: 0, Lon: 0}}
	for _, c := range []struct {
		name string
		at   time.Time
		want string
	}{
		{"by day", time.Date(2026, 3, 20, 12, 30, 0, 0, time.UTC), "######-.....X...--=#####"},
		{"after sunset", time.Date(2026, 3, 20, 23, 59, 0, 0, time.UTC), "######-.........--=####X"},
		{"at midnight", time.Date(2026, 3, 20, 0, 0, 0, 0, time.UTC), "X#####-.........--=#####"},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, l.dayOf(leg, c.at, 24)) })
	}
	polar := passage.Leg{Position: &passage.Position{Lat: 80, Lon: 0}}
	assert.Equal(t, strings.Repeat(".", 12)+"X"+strings.Repeat(".", 11), l.dayOf(polar, time.Date(2026, 6, 20, 12, 30, 0, 0, time.UTC), 24))
	assert.Equal(t, strings.Repeat("#", 12)+"X"+strings.Repeat("#", 11), l.dayOf(polar, time.Date(2026, 12, 20, 12, 30, 0, 0, time.UTC), 24))
}

func TestTheTimesToLeaveAreRoundedInwards(t *testing.T) {
	at := func(h, m, s int) time.Time { return time.Date(2026, 6, 2, h, m, s, 0, time.UTC) }
	open := []provisions.Opening{{From: at(4, 10, 1), To: at(7, 35, 59)}, {From: at(22, 0, 0), To: at(25, 0, 0)}}
	both := []passage.CaseName{passage.Expected, passage.Slow}
	assert.Equal(t, "Leave between Tue 04:11 and 07:35, or Tue 22:00 and Wed 01:00 to arrive by day, expected and slow.",
		windowWords(provisions.Window{Open: open}, "Alder Quay", both, time.UTC))
	assert.Equal(t, "No time within a day of the departure arrives by day, expected and slow.",
		windowWords(provisions.Window{Open: []provisions.Opening{{From: at(4, 10, 1), To: at(4, 10, 59)}}}, "", both, time.UTC), "it holds no whole minute")
	assert.Contains(t, windowWords(provisions.Window{}, "", nil, time.UTC), "not known")
}

func TestTheLightsAreRoundedInwards(t *testing.T) {
	at := func(h, m, s int) time.Time { return time.Date(2026, 10, 21, h, m, s, 0, time.UTC) }
	sun := passage.Sun{Dawn: at(5, 50, 31), Dusk: at(19, 30, 59), Rise: at(6, 17, 1), Set: at(19, 3, 59)}
	assert.Equal(t, "up 06:18-19:03, twilight 05:51-19:30, by day 07:18-17:03",
		sunWords(sun, passage.Arrival{At: at(8, 20, 0), FirstLight: at(7, 17, 1), LastLight: at(17, 3, 59)}))
	assert.Equal(t, "up 06:18-19:03, twilight 05:51-19:30, by day 07:17-17:03",
		sunWords(sun, passage.Arrival{At: at(8, 20, 0), FirstLight: at(7, 17, 0), LastLight: at(17, 3, 0)}), "whole minutes stand")
	assert.Contains(t, sunWords(sun, passage.Arrival{At: at(8, 20, 0), FirstLight: at(12, 0, 0), LastLight: at(11, 59, 59)}), "too short to be by day")
}

// againstTheStream is islands with so much foul current on the second leg that the slow
// case does not make it, and the expected one does.
func againstTheStream() checklist.Definitions {
	d := islands()
	d.Plan.Legs[1].Current = -3.5
	return d
}

func TestATimeToLeaveIsToldForTheCasesThatAreMade(t *testing.T) {
	b := newBench(t, againstTheStream(), fullTanks()...).keys("2")
	require.Equal(t, []passage.CaseName{passage.Expected}, casesByDay(b.m.facts.prospect, 0))
	b.sees("By day everywhere, expected alone (slow is not made)").seesNot("expected and slow")
	assert.Equal(t, "Leave between Tue 04:00 and 05:00 to arrive by day, slow alone (expected is not made).", windowWords(provisions.Window{
		Open: []provisions.Opening{{From: date(2026, 6, 2).In(time.UTC).Add(4 * time.Hour), To: date(2026, 6, 2).In(time.UTC).Add(5 * time.Hour)}},
	}, "", []passage.CaseName{passage.Slow}, time.UTC))
	passageBench(t, legsView).sees("By day everywhere, expected and slow").seesNot("alone")
}

func TestTheWorstOfTheEndIsToldWhole(t *testing.T) {
	b := newBench(t, againstTheStream(), fullTanks()...).keys("2")
	require.Equal(t, "slow not made", howItEnds(b.m.facts, b.m.facts.assessment)[0])
	late := islands()
	late.Plan.Legs[1].Current = -3
	for name, b := range map[string]*bench{"not made": b, "late": newBench(t, late, fullTanks()...).keys("2")} {
		parts := howItEnds(b.m.facts, b.m.facts.assessment)
		require.Greater(t, len(parts), 3)
		for _, z := range []size{{80, 1}, {80, 2}, {68, 2}, {60, 2}} {
			lines := ending(b.m.facts, "as planned  ", b.m.facts.assessment, z)
			require.LessOrEqual(t, len(lines), z.h)
			var words []string
			for _, line := range lines {
				require.LessOrEqual(t, ansi.StringWidth(line), z.w)
				words = append(words, strings.Fields(ansi.Strip(line))...)
			}
			told := strings.Split(strings.TrimPrefix(strings.Join(words, " "), "as planned "), "; ")
			last := len(told) - 1
			if told[last] == b.m.facts.look.more {
				told = told[:last]
			}
			assert.Equal(t, len(told) < len(parts), len(told) == last, "it tells that more is left out")
			assert.GreaterOrEqual(t, len(told), z.h, "as much of it as there is room for")
			assert.Equal(t, parts[:len(told)], told, "%s in %v: each part whole, the worst first", name, z)
		}
	}
}

func TestWhatStandsInTheWayOfThePassageIsToldBeforeWhatDoesNot(t *testing.T) {
	d := islands()
	d.Plan.Legs[1].Current = -3
	b := newBench(t, d, fullTanks()...).keys("2")
	parts := howItEnds(b.m.facts, b.m.facts.assessment)
	season := slices.IndexFunc(parts, func(part string) bool { return strings.HasSuffix(part, "AFTER the season") })
	runOut := slices.IndexFunc(parts, func(part string) bool { return strings.Contains(part, "what ifs run out") })
	require.Positive(t, season)
	assert.Contains(t, parts[0], "RUNS OUT")
	assert.Greater(t, runOut, season)
}

func TestAWhatIfThatFailsBesideThePlanIsNotCalledNoWorse(t *testing.T) {
	b := passageBench(t, whatIfView)
	i := slices.IndexFunc(b.m.facts.assessment.WhatIfs.List, func(w provisions.WhatIf) bool { return w.Kind == provisions.FullestTankLost })
	w := b.m.facts.assessment.WhatIfs.List[i]
	require.Equal(t, passage.Water, w.Thing)
	require.False(t, w.Worse)
	require.Zero(t, b.m.facts.assessment.Reckoning.Resources[passage.Water].Stretches[0].Short, "the plan fails in food, this in water")
	for range i {
		b.keys("j")
	}
	b.sees("The plan does not hold either. What is left tells").seesNot("worse than")
	b.keys("t", "enter").types("4").keys("enter", "g").sees("The passage as it is tried does not hold either").seesNot("The plan does not hold")
}

func TestWhatIsTriedIsNoCautionYet(t *testing.T) {
	b := passageBench(t, whatIfView).sees("A caution: 1 Ready asks for your reason before signing.")
	b.keys("t", "j", "enter").types("20:00").keys("enter", "g").sees("TRYING", "would be a caution, were this the plan").seesNot("asks for your reason")
	assert.Equal(t, "It would stand in the way of signing, were this the plan.", standsAs(provisions.WhatIf{Kind: provisions.WatermakerDead, Verdict: provisions.RunsOut}, true))
	assert.Equal(t, "It stands in the way of signing.", standsAs(provisions.WhatIf{Kind: provisions.WatermakerDead, Verdict: provisions.RunsOut}, false))
}

func TestTriedRevsAreNotCalledPlanned(t *testing.T) {
	b := passageBench(t, rangeView, "t", "j", "j", "j", "enter").types("1500").keys("enter").sees("TRYING", "+49 % as tried")
	for _, line := range strings.Split(b.view(), "\n")[5:] {
		assert.NotContains(t, line, "as planned")
	}
	assert.Equal(t, "as planned", laterWords(provisions.RangeRow{Made: true}, prospect{}))

	b = newBench(t, againstTheStream(), fullTanks()...).keys("2").keys(turned(rangeView)...)
	made := slices.IndexFunc(b.m.facts.prospect.outlook.Range, func(row provisions.RangeRow) bool { return row.Made })
	require.GreaterOrEqual(t, made, 0, "at some revs the slow case is made")
	assert.Equal(t, "slow made", laterWords(b.m.facts.prospect.outlook.Range[made], b.m.facts.prospect), "there is nothing to be later than")
}

func TestASeasonThatIsMissedIsToldInPlainSentences(t *testing.T) {
	d := islands()
	d.Plan.Before = date(2026, 6, 12)
	b := newBench(t, d, fullTanks()...).keys("2").keys(turned(rangeView)...).size(110, 40)
	b.sees("1500 rpm: 49 % further than at 2000, 13 h later, 1.3 days TOO LATE: she must be in before 2026-06-12",
		"That is 1.3 days TOO LATE: she must be in before 2026-06-12.").seesNot(", That")
	p := prospect{}
	p.definitions.Plan.Before = date(2026, 6, 12)
	assert.Contains(t, inHandWords(provisions.RangeRow{}, p), "TOO LATE", "the season's end itself is too late")
}

func TestTheLastChangeIsTakenBackOnTheScreen(t *testing.T) {
	b := passageBench(t, legsView, "x").sees("nothing is tried").keys("?").sees("x take back the last change (not now: nothing is tried)").keys("q")
	b.keys("t", "enter").types("4").keys("enter", "t", "j", "j", "enter").types("sail.2 = 4 kn").keys("enter").sees("crew = 4; sail.2 = 4 kn")
	b.keys("x").sees("TRYING, nothing is written: crew = 4 (X", "no longer tried: sail.2 = 4 kn")
	b.keys("x").seesNot("TRYING").sees("no longer tried: crew = 4").keys("x").sees("nothing is tried")
	assert.Empty(t, b.m.trial.Words())

	for _, stop := range []string{"Reef Bay, leg 2, 200 nm", "Sand Cay, leg 2, 300 nm"} {
		b.keys("t", "j", "j", "j", "j", "j", "enter").types(stop).keys("enter", "t", "enter").types("3").keys("enter")
	}
	assert.Equal(t, []string{"stop = Reef Bay, leg 2, 200 nm", "stop = Sand Cay, leg 2, 300 nm", "crew = 3"}, b.m.trial.Words())
	b.keys("x", "x")
	assert.Equal(t, []string{"stop = Reef Bay, leg 2, 200 nm"}, b.m.trial.Words(), "the stop before stays")
}

func TestWhatIsNotUsedLastsWithoutEnd(t *testing.T) {
	d := islands()
	d.Boat.Watermaker = nil
	f := newBench(t, d, fullTanks()...).keys("2").m.facts
	f.prospect.assessment.Reckoning.Resources = map[passage.Thing]provisions.Resource{passage.Gas: {Stretches: []provisions.Stretch{
		{Available: 2.2, Endurance: provisions.Days{Never: true}, LastDrop: provisions.Days{Never: true}},
	}}}
	assert.Equal(t, "Need 0.0 kg, reserve 0.0 kg, 2.2 kg can be counted on; nothing is used of it: lasts without end.", enduranceWords(f, passage.Gas))
}

func TestOnAndBackTellsWhereBackIs(t *testing.T) {
	passageBench(t, turningView).sees("140 nm out, Wed 3 Jun 18:33: same time on/back to Alder Quay", "(a guess): same time on/back to Kelp Reef")
}

func TestALongWorkingIsReadToItsEnd(t *testing.T) {
	b := passageBench(t, legsView, "enter").size(60, 16)
	lines := b.m.screens[passageScreen].(ahead).pageText(b.m.facts, 60)
	require.Greater(t, len(lines), 2*b.m.facts.page.h)
	last := strings.Join(strings.Fields(ansi.Strip(lines[len(lines)-1])), " ")
	b.sees("more to read: pgdn").seesNot(last)
	for range lines {
		b.keys("pgdown")
	}
	b.sees(last).seesNot("more to read")
	b.keys("g").sees("more to read: pgdn").keys("G").sees(last)
}

func TestByDayEverywhereIsByDayAtEachPlace(t *testing.T) {
	at := func(h int) time.Time { return time.Date(2026, 6, 2, h, 0, 0, 0, time.UTC) }
	both := inBoth([]provisions.Opening{{From: at(1), To: at(5)}, {From: at(8), To: at(12)}}, []provisions.Opening{{From: at(4), To: at(9)}, {From: at(12), To: at(14)}})
	assert.Equal(t, []provisions.Opening{{From: at(4), To: at(5)}, {From: at(8), To: at(9)}}, both)
	assert.Empty(t, inBoth(both, nil))

	f := newBench(t, islands(), fullTanks()...).keys("2").m.facts
	require.Len(t, f.prospect.outlook.Windows, 2)
	for _, o := range inBoth(f.prospect.outlook.Windows[0].Open, f.prospect.outlook.Windows[1].Open) {
		for _, depart := range []time.Time{o.From.Add(time.Second), o.To.Add(-time.Second)} {
			moved := checklist.Assess(f.definitions.At(depart), f.state, f.now)
			for _, name := range []passage.CaseName{passage.Expected, passage.Slow} {
				for i, leg := range f.definitions.Plan.Legs {
					assert.True(t, passage.ArrivalAt(leg, moved.Reckoning.Cases[name].Voyage.Arrivals[i]).ByDay, "%s, leg %d, leaving %s", name, i+1, depart)
				}
			}
		}
	}
}

func TestByDayEverywhereIsNotSaidOfAPlaceThatIsNotKnown(t *testing.T) {
	b := passageBench(t, legsView).sees("By day everywhere")
	b.keys("t", "j", "j", "j", "j", "j", "enter").types("Reef Bay, leg 2, 200 nm").keys("enter")
	b.size(120, 40).sees("By day wherever the place is known").seesNot("everywhere").keys("j").sees("no position: daylight not known")
}

func TestWordsThatDoNotFitAreReadToTheirEnd(t *testing.T) {
	b := passageBench(t, leftView).size(40, 12).sees("more to read: pgdn").seesNot("can be counted on")
	b.keys("pgdown").sees("can be counted on").keys("pgup").sees("slow reserve whole")
	b = passageBench(t, legsView).size(60, 20).seesNot("Dangers").keys("pgdown").sees("Dangers: The reef carries no light.", "more below: down")
	b.keys("j").sees("Leg 2 of 2").keys("k").sees("> Leg 1 of 2")
}

func TestLeavingTellsThatWhatIsTriedIsDropped(t *testing.T) {
	b := newBench(t, islands()).keys("2", "t", "enter").types("4").keys("enter", "1", "q").sees("what is tried is dropped: crew = 4")
	b.keys("j").seesNot("Leave?")
	b.keys("q", "q")
	assert.True(t, b.quit)
}

func TestADoubtfulFillIsNotSure(t *testing.T) {
	assert.Equal(t, "fuel (2.10 a litre); water, not sure", havings(islands().Plan.Legs[0].Fill, islands().Plan.Legs[0].Price))
	assert.Equal(t, "nothing", havings(nil, nil))
}

func TestGlyphsOfTheChartAreThoseOfTheScreens(t *testing.T) {
	for ours, theirs := range map[Glyphs]chart.Glyphs{Unicode: chart.Unicode, Box: chart.Box, ASCII: chart.ASCII} {
		assert.Equal(t, theirs, chart.Glyphs(newGlyphs(ours).set))
	}
}
