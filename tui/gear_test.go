package tui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/exp/golden"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
)

// carrying is a boat with spares, tools and dated gear in every state. All invented.
func carrying() checklist.Definitions {
	d := fitBoat()
	const box1, box3 = "fore cabin / under the berth / box 1", "fore cabin / under the berth / box 3"
	asks := func(n int) map[passage.Kind]int { return map[passage.Kind]int{passage.Coastal: n} }
	d.Spares = []machinery.Spare{
		{Name: "raw-water impeller", Size: "six vanes, 51 x 22 mm", With: []string{"gasket"}, Need: asks(2), Critical: true, Stowed: []machinery.Stowed{
			{Place: box3, Count: 1, Condition: machinery.New, Fit: machinery.Unknown, Has: []string{"gasket"}},
			{Place: box3, Count: 1, Condition: machinery.Used, Fit: machinery.Proved},
			{Place: "engine space / tin on the bulkhead", Count: 1, Condition: machinery.New, Fit: machinery.Proved},
		}},
		{Name: "primary fuel filter", Size: "PF-20", With: []string{"lid seal", "bowl seal"}, Need: asks(2), Critical: true, Stowed: []machinery.Stowed{
			{Place: box1, Count: 5, Condition: machinery.New, Fit: machinery.Proved, Has: []string{"lid seal", "bowl seal"}},
		}},
		{Name: "engine belt", Size: "10 x 1050 mm", Need: asks(1), Stowed: []machinery.Stowed{
			{Place: box3, Count: 2, Condition: machinery.Wrong, Fit: machinery.Measured},
		}},
		{Name: "fuses", Need: map[passage.Kind]int{}, Stowed: []machinery.Stowed{{Place: "chart table / drawer", Count: 3, Condition: machinery.New, Fit: machinery.Proved}}},
	}
	d.Tools = []machinery.Tool{
		{Name: "impeller puller", Place: "saloon / tool drawer", State: machinery.Good},
		{Name: "pipe wrench", Place: "cockpit / port locker", State: machinery.Stiff},
		{Name: "filter wrench", Place: "saloon / tool drawer", State: machinery.Seized},
	}
	d.Dated = []machinery.Dated{
		{Name: "hand flares", Until: date(2026, 6, 3), Place: "companionway / orange box", Critical: true},
		{Name: "gas hose", Until: date(2029, 1, 1), Place: "gas locker", Critical: true},
		{Name: "medicines", Until: date(2026, 5, 20), Place: "heads / upper locker"},
		{Name: "parachute flares", Until: date(2026, 1, 1), Place: "companionway / orange box", Only: []string{"offshore"}},
		{Name: "smoke alarm", Place: "saloon"},
	}
	d.Services = []machinery.Service{
		{Name: "change raw-water impeller", EveryMonths: 12, Last: machinery.Done{Date: date(2025, 5, 20)},
			Uses: []string{"raw-water impeller"}, Tools: []string{"impeller puller", "torque wrench"}, Takes: 45 * time.Minute},
		{Name: "change primary fuel filter", EveryHours: 200, Last: machinery.Done{Date: date(2026, 3, 1), Hours: 1}, UnderWay: true,
			Uses: []string{"primary fuel filter"}, Tools: []string{"filter wrench"}},
	}
	return d
}

func gearBench(t *testing.T, keys ...string) *bench {
	return newBench(t, carrying()).keys("6").keys(keys...)
}

func TestGearLooksAsReviewed(t *testing.T) {
	screens := []struct {
		name string
		make func(*testing.T) *bench
	}{
		{"spares", func(t *testing.T) *bench { return gearBench(t) }},
		{"spares-second", func(t *testing.T) *bench { return gearBench(t, "j") }},
		{"lockers", func(t *testing.T) *bench { return gearBench(t, "right") }},
		{"lockers-thing", func(t *testing.T) *bench { return gearBench(t, "right", "j", "j", "j") }},
		{"tools", func(t *testing.T) *bench { return gearBench(t, "right", "right", "G") }},
		{"dated", func(t *testing.T) *bench { return gearBench(t, "left", "left", "j", "j") }},
		{"wanted", func(t *testing.T) *bench { return gearBench(t, "left") }},
		{"nothing", func(t *testing.T) *bench { return newBench(t, fitBoat()).keys("6") }},
		{"find", func(t *testing.T) *bench { return gearBench(t, "/").types("impelr") }},
		{"find-place", func(t *testing.T) *bench { return gearBench(t, "/").types("box 3").keys("down") }},
		{"find-none", func(t *testing.T) *bench { return gearBench(t, "/").types("zzzz") }},
		{"bought", func(t *testing.T) *bench { return gearBench(t, "b").types("2").keys("enter") }},
		{"moved-where", func(t *testing.T) *bench { return gearBench(t, "m").types("3").keys("enter").types("port") }},
		{"used-refused", func(t *testing.T) *bench { return gearBench(t, "j", "u").types("9").keys("enter") }},
		{"found-which", func(t *testing.T) *bench { return gearBench(t, "f") }},
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

// until presses a key until the screen shows a text.
func (b *bench) until(key, text string) *bench {
	b.t.Helper()
	for range 60 {
		if strings.Contains(b.view(), text) {
			return b
		}
		b.keys(key)
	}
	require.FailNow(b.t, "never on the screen: "+text, b.view())
	return b
}

// lastStow is the last act with gear in the record.
func lastStow(b *bench) checklist.Stow {
	b.t.Helper()
	require.NotEmpty(b.t, b.entries)
	stow, is := b.entries[len(b.entries)-1].Act.(checklist.Stow)
	require.True(b.t, is, "%T", b.entries[len(b.entries)-1].Act)
	return stow
}

func TestWhatIsBoughtAndFitsNoLongerStandsInTheWay(t *testing.T) {
	b := newBench(t, carrying()).sees("raw-water impeller")
	b.until("j", "> raw-water impeller")
	b.keys("enter").sees("[6 Gear]", "> raw-water impeller", "LACKS 2", "In the way:")
	b.keys("b").sees("How many came aboard").types("2").keys("enter")
	b.sees("Does it fit").types("m").keys("enter")
	b.sees("With which parts").types("all").keys("enter")
	b.sees("Where does it lie now").types("box 3").sees("Known places like that:", "fore cabin / under the berth / box 3").keys("enter")
	b.sees("On the disk, entry 1", "2 new in fore cabin / under the berth / box 3; fit measured; with gasket: counts", "enough").seesNot("In the way:")
	assert.Equal(t, checklist.Stow{
		Spare: "raw-water impeller", Did: checklist.Bought, Count: 2, To: "fore cabin / under the berth / box 3",
		Condition: machinery.New, Fit: machinery.Measured, Has: []string{"gasket"},
	}, lastStow(b))
	for _, blocker := range b.m.facts.assessment.Blockers {
		assert.NotEqual(t, "raw-water impeller", blocker.Name)
	}
}

func TestOfWhatWasUsedItIsAskedWhereTheOldOneWent(t *testing.T) {
	b := gearBench(t, "j", "u").sees("How many?").types("1").keys("enter")
	b.sees("Where did the old one go?").types("box 3").keys("enter")
	assert.Equal(t, checklist.Stow{
		Spare: "primary fuel filter", Did: checklist.UsedUp, Count: 1, From: "fore cabin / under the berth / box 1",
		Condition: machinery.New, Old: "fore cabin / under the berth / box 3",
	}, lastStow(b))
	b.sees("4 new in fore cabin / under the berth / box 1", "1 used in fore cabin / under the berth / box 3", "DOES NOT COUNT, used")

	gone := gearBench(t, "G", "u").types("1").keys("enter").types("gone").keys("enter")
	assert.Empty(t, lastStow(gone).Old)
	gone.sees("2 new in chart table / drawer")
}

func TestWhatTheKeysAskForIsWhatIsWritten(t *testing.T) {
	const box3, tin = "fore cabin / under the berth / box 3", "engine space / tin on the bulkhead"
	puller := []string{"right", "right"}
	for _, test := range []struct {
		name  string
		keys  []string // to what is selected
		typed []string // the key of the act, then the answers; "": enter alone
		want  checklist.Stow
	}{
		{"moved, of several by number", nil, []string{"m", "3", "saloon / new box"},
			checklist.Stow{Spare: "raw-water impeller", Did: checklist.Moved, Count: 1, From: tin, To: "saloon / new box", Condition: machinery.New}},
		{"lent, of several by place", nil, []string{"e", "tin on the bulkhead", "1", "the blue ketch, till Friday"},
			checklist.Stow{Spare: "raw-water impeller", Did: checklist.Lent, Count: 1, From: tin, Condition: machinery.New, Fit: machinery.Proved, Note: "the blue ketch, till Friday"}},
		{"found none of them", nil, []string{"f", "1", "used", "0", "yes"},
			checklist.Stow{Spare: "raw-water impeller", Did: checklist.Found, To: box3, Condition: machinery.Used, Beside: true}},
		{"found tried on, as it was known besides", nil, []string{"f", "box 3", "new", "1", "proved", "", "no"},
			checklist.Stow{Spare: "raw-water impeller", Did: checklist.Found, Count: 1, To: box3, Condition: machinery.New, Fit: machinery.Proved, Has: []string{"gasket"}}},
		{"found as it was known", nil, []string{"f", "2", "", "1", "", ""},
			checklist.Stow{Spare: "raw-water impeller", Did: checklist.Found, Count: 1, To: tin, Condition: machinery.New, Fit: machinery.Proved}},
		{"a tool moved", puller, []string{"m", "Cockpit/port locker"},
			checklist.Stow{Tool: "impeller puller", Did: checklist.Moved, From: "saloon / tool drawer", To: "cockpit / port locker"}},
		{"a tool found seized where it lies", puller, []string{"f", "se", ""},
			checklist.Stow{Tool: "impeller puller", Did: checklist.Found, To: "saloon / tool drawer", State: machinery.Seized}},
		{"a tool found to be missing", puller, []string{"f", "missing"},
			checklist.Stow{Tool: "impeller puller", Did: checklist.Found, To: "saloon / tool drawer", State: machinery.Missing}},
		{"a tool bought anew", append(puller, "j", "j"), []string{"b", "tool drawer"},
			checklist.Stow{Tool: "filter wrench", Did: checklist.Bought, To: "saloon / tool drawer", State: machinery.Good}},
		{"in the lockers, of that place alone", []string{"right"}, []string{"m", "box 3"},
			checklist.Stow{Spare: "raw-water impeller", Did: checklist.Moved, Count: 1, From: tin, To: box3, Condition: machinery.New}},
		{"bought from the list of what is wanted", []string{"left"}, []string{"b", "1", "proved", "gasket", "box 1"},
			checklist.Stow{Spare: "raw-water impeller", Did: checklist.Bought, Count: 1, To: "fore cabin / under the berth / box 1",
				Condition: machinery.New, Fit: machinery.Proved, Has: []string{"gasket"}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			b := gearBench(t, test.keys...)
			if strings.HasPrefix(test.name, "in the lockers") {
				b.keys("g").until("j", ">   raw-water impeller ! without its gasket, 1 new")
			}
			b.keys(test.typed[0])
			for _, text := range test.typed[1:] {
				require.Empty(t, b.entries, "nothing is written before the end:\n%s", b.view())
				b.types(text).keys("enter")
			}
			require.Len(t, b.entries, 1, "on the screen:\n%s", b.view())
			got := lastStow(b)
			if len(got.Has) == 0 {
				got.Has = nil
			}
			assert.Equal(t, test.want, got)
			b.sees("On the disk, entry 1")
		})
	}
}

func TestWhatIsLentComesBackAsItWas(t *testing.T) {
	b := gearBench(t, "G", "e").types("2").keys("enter").types("the blue ketch").keys("enter")
	b.sees("lent, entry 1", "the blue ketch", "1 new in chart table / drawer")
	b.keys("B").sees("How many came back? 2 lent").types("2").keys("enter")
	b.sees("Enter: as it was lent").keys("enter").sees("Enter: where it was before").keys("enter")
	b.sees("3 new in chart table / drawer").seesNot("lent, entry 1")
	b.keys("B").sees("none of it is lent, by the record")
}

func TestARefusalStandsInTheLineAndKeepsWhatWasTyped(t *testing.T) {
	b := gearBench(t, "j", "u").types("9").keys("enter").sees("box 1 holds 5 x new primary fuel filter, not 9", "> 9")
	b.keys("ctrl+u").types("many").keys("enter").sees(`"many" is no number`)
	require.Empty(t, b.entries)

	gearBench(t, "m").types("7").keys("enter").sees(`no raw-water impeller lies in "7"`)
	b = gearBench(t, "b").types("2").keys("enter").types("x").keys("enter").sees("is none of them; write one of: proved, measured, unknown")
	b.keys("ctrl+u").types("proved").keys("enter").types("spring").keys("enter").sees(`no part of raw-water impeller is called "spring"`)
	b.keys("ctrl+u", "backspace").sees("Does it fit").keys("backspace").sees("How many came aboard").keys("backspace").sees("nothing was written", "LACKS 2")
	require.Empty(t, b.entries)
}

func TestNothingIsShownAsDoneBeforeItIsOnTheDisk(t *testing.T) {
	b := gearBench(t, "G", "u").types("1").keys("enter").types("gone")
	b.slow = true
	b.keys("enter").sees("not the newest: 1 entry is not on the disk yet", "3 new in chart table / drawer")
	b.land().sees("2 new in chart table / drawer").seesNot("not the newest")

	b = gearBench(t, "G", "u").types("1").keys("enter").types("gone")
	b.fails = errDiskFull
	b.keys("enter").sees("NOT ON THE DISK", "3 new in chart table / drawer")
}

func TestAGearKeyThatCannotBeUsedSaysWhy(t *testing.T) {
	for _, test := range []struct {
		keys []string
		want string
	}{
		{[]string{"B"}, "none of it is lent, by the record"},
		{[]string{"right", "u"}, "no spare and no tool is selected"},
		{[]string{"right", "right", "u"}, "a tool is not used up: f tells in which state it was found"},
		{[]string{"right", "right", "G", "m"}, "tools.toml does not list it: write it there, then r"},
		{[]string{"left", "left", "b"}, "dated gear renewed: hoveshort stow NAME until DATE"},
		{[]string{"enter"}, "in Lockers and Wanted it goes to the selected thing"},
	} {
		gearBench(t, test.keys...).sees(test.want)
	}
	d := carrying()
	d.Spares[3].Stowed = nil
	newBench(t, d).keys("6", "G", "u").sees("none of it is aboard, by the record: f if one was found")
}

func TestAMisspeltWordFindsTheThingAndWarns(t *testing.T) {
	b := gearBench(t, "/").types("impelr").sees("Perhaps it was meant:", "> perhaps impeller puller", "perhaps raw-water impeller: 1 new six vanes",
		"in fore cabin / under the berth / box 3 ! nobody has tried or",
		"in fore cabin / under the berth / box 3 ! used: no spare", "! without its gasket")
	b.keys("ctrl+u").types("belt").sees("1 is called so", "> engine belt: 2 wrong", "! wrong: it does not fit").seesNot("perhaps")
	b.keys("enter").sees("[Spares]", "> engine belt").seesNot("Find:")
	b.keys("/").types("pipe").keys("enter").sees("[Tools]", "> pipe wrench")
	b.keys("/").types("flares").keys("down", "enter").sees("[Dated]", "> parachute flares")
	b.keys("/").types("rice").keys("enter").sees("[3 Stores]", "> rice")
}

func TestFindingEndsByBackspaceAndLosesNothing(t *testing.T) {
	b := gearBench(t, "/").types("q1").sees("Nothing aboard is called so").keys("backspace", "backspace", "backspace")
	b.sees("[Spares]").seesNot("Find:")
	b.keys("/", "enter").sees("nothing was typed")
}

func TestReadyLeadsToDatedGear(t *testing.T) {
	b := newBench(t, carrying())
	b.until("j", "> hand flares")
	b.keys("enter").sees("[6 Gear]", "[Dated]", "> hand flares", "In the way:", "dated.toml")
}

// The date holds through its last day: it ends the day after.
func TestDatedGearTellsHowItLiesToTheSlowArrival(t *testing.T) {
	d := carrying()
	arrive := newBench(t, d).keys("6").m.facts.gear.arrive
	day := date(arrive.Year(), arrive.Month(), arrive.Day())
	assert.Equal(t, date(2026, 6, 5), day, "by hand: 300 nm at 0.7*3.5 + 0.3*4.59 kn is 78.4 h")
	for _, test := range []struct {
		days int
		want string
	}{
		{-1, "ENDS BEFORE"}, {0, "holds"}, {1, "holds"},
	} {
		d.Dated = carrying().Dated[:1]
		d.Dated[0].Until = day.AddDays(test.days)
		newBench(t, d).keys("6", "left", "left").sees(test.want)
	}
	newBench(t, carrying()).keys("6", "left", "left").sees("smoke alarm · NO DATE", "parachute flares 2026-01-01 not asked for", "medicines 2026-05-20 OVER", "hand flares 2026-06-03 ENDS BEFORE", "gas hose 2029-01-01 holds")
}

func TestAPlaceIsOneHoweverItIsWritten(t *testing.T) {
	d := carrying()
	d.Spares[3].Stowed[0].Place = "Saloon/TOOL drawer"
	rows := newBench(t, d).keys("6").m.facts.gear.lockers
	drawers := 0
	for _, row := range rows {
		if row.thing == nil && strings.EqualFold(row.name, "tool drawer") {
			drawers++
			assert.Len(t, row.holds, 3)
		}
	}
	assert.Equal(t, 1, drawers)
}

func TestTheGearIsOnlyLookedAtWhileItIsShown(t *testing.T) {
	b := gearBench(t)
	assert.True(t, b.m.facts.gear.isKnown)
	assert.False(t, b.keys("1").m.facts.gear.isKnown)
}

func TestEveryGearViewFitsAnySize(t *testing.T) {
	boats := []func() checklist.Definitions{carrying, soiled, islands, func() checklist.Definitions { return checklist.Definitions{} }}
	acts := []string{"b", "u", "m", "f", "e", "B", "/", "enter", "left", "right", "up", "down", "backspace", "1", "2", "n", "new", "proved", "all", "yes", "box 3", "gone", "impelr", "pgdown", "ctrl+u", "G"}
	rapid.Check(t, func(rt *rapid.T) {
		b := &bench{t: t, d: rapid.SampledFrom(boats).Draw(rt, "boat")(), now: evening}
		b.restart().keys("6")
		b.m.facts.look.glyphs = newGlyphs(Glyphs(rapid.IntRange(0, 2).Draw(rt, "glyphs")))
		for range rapid.IntRange(0, 25).Draw(rt, "n") {
			w, h := rapid.IntRange(1, 200).Draw(rt, "w"), rapid.IntRange(1, 60).Draw(rt, "h")
			b.size(w, h)
			if key := rapid.SampledFrom(acts).Draw(rt, "key"); len(key) > 2 && len(keyMsg(key).Runes) > 0 {
				b.types(key)
			} else {
				b.keys(key)
			}
			requireFits(rt, b.m.View(), w, h)
		}
	})
}

func TestWhatGearIsTypedIsNotLostWithoutAsking(t *testing.T) {
	gearBench(t, "b").types("2").keys("ctrl+c").sees("Leave? What was typed is not taken yet")
}

// BenchmarkGear is what a key costs on screen 6 until it is drawn, with some hundred spares
// aboard and a year of readings: opening it, a key in each view, and one while looking.
func BenchmarkGear(b *testing.B) {
	now := evening
	d := carrying()
	for i := range 100 {
		s := d.Spares[i%4]
		s.Name = fmt.Sprintf("%s %d", s.Name, i)
		d.Spares = append(d.Spares, s)
	}
	var entries []checklist.Entry
	for i := range 200 {
		entries = append(entries, checklist.Entry{Seq: i + 1, At: evening.Add(time.Duration(i-200) * 8 * time.Hour), Act: read(motor(), usualLines()[i%11])})
	}
	m := New(Settings{Definitions: d, Entries: entries, Clock: func() time.Time { return now }, Theme: Plain})
	press := func(m Model, name string) Model {
		next, _ := m.Update(keyMsg(name))
		return next.(Model)
	}
	b.Run("opening it", func(b *testing.B) {
		for b.Loop() {
			_ = press(m, "6").View()
		}
	})
	shown := press(m, "6")
	for _, name := range gearViewNames {
		b.Run("a key in "+name, func(b *testing.B) {
			for b.Loop() {
				_ = press(shown, "j").View()
			}
		})
		shown = press(shown, "right")
	}
	looking := shown
	for _, key := range strings.Split("/impele", "") {
		looking = press(looking, key)
	}
	b.Run("a key while looking", func(b *testing.B) {
		for b.Loop() {
			_ = press(looking, "r").View()
		}
	})
}
