package tui

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

func TestMain(m *testing.M) {
	lipgloss.SetColorProfile(termenv.Ascii)
	lipgloss.SetHasDarkBackground(true)
	os.Exit(m.Run())
}

// evening is when the tests begin; she leaves the next morning. All invented.
var evening = time.Date(2026, 6, 1, 18, 0, 0, 0, time.UTC)

func date(y int, m time.Month, d int) quantity.Date { return quantity.Date{Year: y, Month: m, Day: d} }

func anyValue(text string) *quantity.Any {
	v, err := quantity.ParseAny(text)
	if err != nil {
		panic(err)
	}
	return &v
}

// fit is a boat to which nothing is wanting but soundings and answers.
func fitBoat() checklist.Definitions {
	return checklist.Definitions{
		Sum:  strings.Repeat("ab12", 16),
		Boat: checklist.Boat{Boat: larder(), Name: "Grey Plover", Units: quantity.Metric},
		Plan: passage.Plan{
			Name: "Alder Quay - Birch Sound", Depart: evening.Add(12 * time.Hour), Crew: 2, Climate: passage.Temperate, Kind: passage.Coastal,
			Fill: []passage.Giving{{Thing: passage.Water, Sure: true}},
			Cases: map[passage.CaseName]passage.Case{
				passage.Slow:     {Speed: 0.7, Motor: 0.85, Power: 0.3},
				passage.Expected: {Speed: 1, Motor: 1, Power: 0.2},
				passage.Quick:    {Speed: 1.15, Motor: 1, Power: 0.1},
			},
			Legs: []passage.Leg{{
				From: "Alder Quay", To: "Birch Sound", Distance: 300, Sail: 5, RPM: 2000, Position: &passage.Position{Lat: 50, Lon: -4},
			}},
		},
		Rounds: []checklist.Round{beforeLeaving(), {
			File: "rounds/weigh.toml", Name: "Weighing", For: checklist.ForWeigh,
			Sections: []checklist.Section{{Name: "Foredeck", Checks: []checklist.Check{{ID: "windlass", Ask: "Windlass", Right: "clutch out"}}}},
		}},
	}
}

func larder() provisions.Boat {
	return provisions.Boat{
		Engine: passage.Engine{
			RatedRPM: 3000, CruiseRPM: 2000, CoolantMax: 95, OilMinIdle: 1, ChargingBurn: 1.2, Charging: time.Hour,
			Curve: []passage.CurveRow{{RPM: 1500, Speed: 4.6, Burn: 1.2, Coolant: 78}, {RPM: 2500, Speed: 6.2, Burn: 3, Coolant: 84}},
		},
		Tanks: []provisions.Tank{
			{Name: "forward water", Holds: passage.Water, Capacity: 200, Unusable: 5, Level: level("40 %"), GaugeError: 0.05,
				Dip: []provisions.DipRow{{Depth: 0, Amount: 0}, {Depth: 0.4, Amount: 200}}},
			{Name: "after water", Holds: passage.Water, Capacity: 100, Unusable: 2, Level: level("50 L"), GaugeError: 0.05},
			{Name: "raft cans", Holds: passage.Water, Capacity: 20, Level: level("20 L"), Sealed: true},
			{Name: "diesel", Holds: passage.Fuel, Capacity: 150, Unusable: 6, Level: level("90 %"), GaugeError: 0.05},
			{Name: "gas bottle", Holds: passage.Gas, Capacity: 3, Level: level("2.5 kg"), GaugeError: 0.04},
		},
		Rates: provisions.Rates{
			Water:   provisions.WaterRates{Drinking: 3, Cooking: 1, Washing: 1, Boat: 2},
			Gas:     provisions.GasRates{Boat: 0.1},
			Energy:  2000,
			Rations: []provisions.Ration{{Food: "rice", Each: 0.4}, {Food: "sugar", Each: 0.15}},
			Reserve: map[passage.Thing]provisions.Reserve{
				passage.Water: {Days: 5}, passage.Fuel: {ShareOfNeed: 0.3}, passage.Food: {Days: 3}, passage.Gas: {ShareOfNeed: 0.25},
			},
		},
		Foods: []provisions.Food{
			{Name: "rice", Pack: 1, Kcal: 365, Cook: true}, {Name: "sugar", Pack: 1, Kcal: 387}, {Name: "bread", Pack: 0.5, Kcal: 266, Keeps: days(3)},
		},
		Lots: []provisions.Lot{
			{Food: "rice", Packs: 10, BestBefore: date(2028, 2, 1), Place: "saloon / port locker"},
			{Food: "sugar", Packs: 5},
			{Food: "bread", Packs: 2, Bought: date(2026, 6, 1), Place: "galley"},
		},
	}
}

func days(n int) quantity.Period { return quantity.Period{Rest: time.Duration(n) * 24 * time.Hour} }

func level(text string) provisions.Level {
	l, err := provisions.ParseLevel(text, passage.Water)
	if err != nil {
		l, err = provisions.ParseLevel(text, passage.Gas)
	}
	if err != nil {
		panic(err)
	}
	return l
}

func beforeLeaving() checklist.Round {
	day := days(1)
	return checklist.Round{
		File: "rounds/leave.toml", Name: "Before leaving", For: checklist.ForSign,
		Sections: []checklist.Section{
			{
				Name: "Engine", Mode: checklist.DoThenTick, Done: "Engine done: key on its hook",
				Caution: "Engine stopped and key out before a hand goes near a belt.",
				Checks: []checklist.Check{
					{ID: "seacock", Ask: "Raw-water seacock", Right: "open, moved once", Critical: true, Covers: "cooling", GoodFor: day,
						Caution: "Run shut, the pump tears itself to pieces.", VoidBy: []string{"seacock moved"}},
					{ID: "oil", Ask: "Engine oil", Right: "between the marks", Critical: true, Covers: "oil", GoodFor: day, Say: "mark on the stick"},
					{ID: "exhaust", Ask: "Water at the exhaust", Right: "steady pulses", Critical: true, GoodFor: day, After: []string{"seacock"},
						Caution: "No water: stop the engine now."},
					{ID: "volts", Ask: "Starting battery", Right: "rested", Critical: true, GoodFor: day,
						Reading: &checklist.Range{Of: "volts", Min: anyValue("12.4 V"), Max: anyValue("13 V")}},
				},
			},
			{
				Name: "Deck", Mode: checklist.LookThenConfirm, Done: "Deck walked bow to stern",
				Checks: []checklist.Check{
					{ID: "hatches", Ask: "Hatches", Right: "shut and dogged", Critical: true},
					{ID: "rails", Ask: "Guard rails", Right: "no broken wire"},
					{ID: "water-lasts", Ask: "Water", Right: "lasts the slow passage", Automatic: &checklist.Automatic{Of: "endurance", Name: "water"}},
				},
			},
		},
	}
}

// wanting is the same boat with things in the way that only a shop clears.
func wanting() checklist.Definitions {
	d := fitBoat()
	d.Spares = []machinery.Spare{{Name: "impeller", Need: map[passage.Kind]int{passage.Coastal: 1}, Critical: true,
		Stowed: []machinery.Stowed{{Place: "fore peak", Count: 1, Condition: machinery.Used, Fit: machinery.Proved}}}}
	d.Dated = []machinery.Dated{{Name: "beacon battery", Until: date(2026, 5, 1), Place: "companionway", Critical: true}}
	d.Services = []machinery.Service{{Name: "anode", EveryMonths: 6, Last: machinery.Done{Date: date(2025, 6, 1)}}}
	d.Boat.Rates.Reserve[passage.Water] = provisions.Reserve{Days: 20}
	return d
}

// bench drives the model as the library would: a message, then the commands it gave,
// in order. The record is a slice; times pass only when a test says so.
type bench struct {
	t       *testing.T
	m       Model
	d       checklist.Definitions
	now     time.Time
	entries []checklist.Entry
	fails   error     // of the disk
	slow    bool      // commands wait until land
	later   []tea.Cmd // those that wait
	waits   []wait    // timers asked for
	quit    bool
	calls   int // of Append
}

func newBench(t *testing.T, d checklist.Definitions, acts ...checklist.Act) *bench {
	t.Helper()
	b := &bench{t: t, d: d, now: evening}
	for _, act := range acts {
		b.add(act)
	}
	return b.restart()
}

// restart is the program ended and begun again on the same record.
func (b *bench) restart() *bench {
	b.m = New(Settings{
		Definitions: b.d, Entries: b.entries, Clock: func() time.Time { return b.now }, Theme: Plain,
		Append:  b.append,
		Reload:  func() (checklist.Definitions, []checklist.Entry, error) { return b.d, b.entries, nil },
		History: func() ([]checklist.Entry, error) { return b.entries, nil },
		Review:  b.review,
	})
	b.m.timer = func(w wait) tea.Cmd {
		b.waits = append(b.waits, w)
		return nil
	}
	b.quit, b.later = false, nil
	return b
}

func (b *bench) add(act checklist.Act) {
	n := len(b.entries) + 1
	b.entries = append(b.entries[:n-1:n-1], checklist.Entry{Seq: n, At: b.now, Act: act, Sum: fmt.Sprintf("%08x%056x", n*0x1234567, n)})
}

func (b *bench) append(decide func([]checklist.Entry) (checklist.Act, error)) ([]checklist.Entry, []string, error) {
	b.calls++
	act, err := decide(b.entries)
	if err == nil {
		err = b.fails
	}
	if err != nil {
		return nil, nil, err
	}
	b.add(act)
	return b.entries, nil, nil
}

func (b *bench) send(msg tea.Msg) *bench {
	next, cmd := b.m.Update(msg)
	b.m = next.(Model)
	b.run(cmd)
	return b
}

func (b *bench) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	if b.slow {
		b.later = append(b.later, cmd)
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			b.run(c)
		}
	case tea.QuitMsg:
		b.quit = true
	default:
		b.send(msg)
	}
}

// land lets the commands that wait come to their end, and those they lead to.
func (b *bench) land() *bench {
	b.slow = false
	for len(b.later) > 0 {
		cmd := b.later[0]
		b.later = b.later[1:]
		b.run(cmd)
	}
	return b
}

func (b *bench) size(w, h int) *bench { return b.send(tea.WindowSizeMsg{Width: w, Height: h}) }

// keys presses keys one after the other: names, or letters each by itself.
func (b *bench) keys(names ...string) *bench {
	for _, name := range names {
		b.send(keyMsg(name))
	}
	return b
}

// types types a text into a question.
func (b *bench) types(text string) *bench {
	for _, r := range text {
		b.keys(string(r))
	}
	return b
}

// settle lets every held key be let go.
func (b *bench) settle() *bench {
	waits := b.waits
	b.waits = nil
	for _, w := range waits {
		if _, is := w.msg.(keySettledMsg); is {
			b.send(w.msg)
		}
	}
	return b
}

func keyMsg(name string) tea.KeyMsg {
	types := map[string]tea.KeyType{
		"enter": tea.KeyEnter, "esc": tea.KeyEsc, "backspace": tea.KeyBackspace, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft,
		"right": tea.KeyRight, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd, "ctrl+c": tea.KeyCtrlC,
		"ctrl+l": tea.KeyCtrlL, "ctrl+z": tea.KeyCtrlZ, "ctrl+u": tea.KeyCtrlU, "ctrl+d": tea.KeyCtrlD, "tab": tea.KeyTab, "delete": tea.KeyDelete,
	}
	if kind, known := types[name]; known {
		return tea.KeyMsg{Type: kind}
	}
	if name == " " {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

func (b *bench) view() string { return ansi.Strip(b.m.View()) }

// acts are the acts of the record, last ones first dropped by a count.
func (b *bench) acts() []checklist.Act {
	var acts []checklist.Act
	for _, e := range b.entries {
		acts = append(acts, e.Act)
	}
	return acts
}

func (b *bench) sees(texts ...string) *bench {
	b.t.Helper()
	flat := strings.Join(strings.Fields(b.view()), " ")
	for _, text := range texts {
		require.Contains(b.t, flat, text, "on the screen:\n%s", b.view())
	}
	return b
}

func (b *bench) seesNot(text string) *bench {
	b.t.Helper()
	require.NotContains(b.t, strings.Join(strings.Fields(b.view()), " "), text, "on the screen:\n%s", b.view())
	return b
}

var errDiskFull = errors.New("no space left on the disk")

// allGood are the acts after which the fit boat is ready.
func allGood() []checklist.Act {
	right := func(id, say string) checklist.Act {
		return checklist.Answer{Check: id, Answer: checklist.Right, Say: say}
	}
	return []checklist.Act{
		checklist.Sound{Tank: "forward water", Level: "full"}, checklist.Sound{Tank: "after water", Level: "full"},
		checklist.Sound{Tank: "diesel", Level: "full"}, checklist.Sound{Tank: "gas bottle", Level: "2.5 kg"},
		right("seacock", ""), right("oil", "upper mark"), right("exhaust", ""),
		checklist.Answer{Check: "volts", Answer: checklist.Right, Value: anyValue("12.7 V")},
		checklist.Answer{Round: "Before leaving", Section: "Engine", Answer: checklist.SectionDone},
		right("hatches", ""), right("rails", ""),
		checklist.Answer{Round: "Before leaving", Section: "Deck", Answer: checklist.SectionDone},
	}
}
