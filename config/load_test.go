package config

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// frozen is a folder of format 1 that is never changed, and must always load.
const frozen = "../testdata/boats/format1"

// copyOf is a folder's files in memory, to be changed.
func copyOf(t testing.TB, folder fs.FS) fstest.MapFS {
	files := fstest.MapFS{}
	require.NoError(t, fs.WalkDir(folder, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := fs.ReadFile(folder, name)
		files[name] = &fstest.MapFile{Data: text}
		return err
	}))
	return files
}

func mistakesOf(t testing.TB, folder fs.FS) []string {
	_, err := Load(folder)
	if err == nil {
		return nil
	}
	var mistakes Mistakes
	require.ErrorAs(t, err, &mistakes)
	return strings.Split(mistakes.Error(), "\n")
}

func TestDemoAndStarterHoldNoMistake(t *testing.T) {
	for name, files := range map[string]fs.FS{"demo": Demo(), "starter": Starter()} {
		folder, err := Load(files)
		require.NoError(t, err, name)
		assert.Empty(t, folder.Notes, name)
		assert.NotEmpty(t, folder.Definitions.Boat.Name, name)
		assert.NotEmpty(t, folder.Definitions.Rounds, name)
	}
}

func TestDemoBeginsOnTheEveningBeforeDeparture(t *testing.T) {
	folder, err := Load(Demo())
	require.NoError(t, err)
	ahead := folder.Definitions.Plan.Depart.Sub(DemoMoment)
	assert.Positive(t, ahead)
	assert.Less(t, ahead, 24*time.Hour)
}

// TestFrozenFolderUsesEveryKey: every key of the design's example files (which the tests of lines keep) stands in it.
func TestFrozenFolderUsesEveryKey(t *testing.T) {
	keys := regexp.MustCompile(`(?m)^\[?\[?([\w.]+)|[{,] *(\w+) =|(?:and|also) (\w+) = "`)
	of := func(folder fs.FS) map[string]bool {
		all := map[string]bool{}
		for _, file := range copyOf(t, folder) {
			for _, m := range keys.FindAllStringSubmatch(string(file.Data), -1) {
				all[m[1]+m[2]+m[3]] = true
			}
		}
		return all
	}
	here := of(os.DirFS(frozen))
	wanted := of(os.DirFS("testdata/lines"))
	for _, more := range []string{"mmsi", "registration", "beacon_id", "hull", "sails", "raft", "none", "use_by", "bought", "normal", "position", "route"} {
		wanted[more] = true
	}
	assert.Greater(t, len(wanted), 120)
	for _, key := range slices.Sorted(maps.Keys(wanted)) {
		assert.True(t, here[key], key)
	}
}

func pointTo[T any](v T) *T { return &v }

func onDate(year int, month time.Month, day int) quantity.Date {
	return quantity.Date{Year: year, Month: month, Day: day}
}

// Units of the frozen folder. Sources: NIST SP 811, appendix B.8, and Handbook 44, appendix C, all exact.
const (
	litresPerUSGallon       = 3.785411784
	litresPerImperialGallon = 4.54609
	kilogramsPerPound       = 0.45359237
	metresPerInch           = 0.0254
	kilowattsPerHorsepower  = 0.745699871582270
	barPerPSI               = 0.0689475729316836
)

func frozenBoat() checklist.Boat {
	return checklist.Boat{
		Name: "Marsh Rail", Waterline: 32 * 12 * metresPerInch, Units: quantity.US,
		Identity: []checklist.Identity{
			{Key: "call_sign", Text: "(invented) MR1"}, {Key: "mmsi", Text: "000000000"},
			{Key: "registration", Text: "(invented) MR 1"}, {Key: "beacon_id", Text: "(invented) 0000"},
			{Key: "hull", Text: "grey sloop, two portholes a side"}, {Key: "sails", Text: "cream, brown storm jib"},
			{Key: "raft", Text: "4 persons, in the port locker"},
		},
		Boat: provisions.Boat{
			Engine: passage.Engine{
				RatedRPM: 3000, RatedPower: 38 * kilowattsPerHorsepower, CruiseRPM: 2300, CoolantMax: 95, OilMinIdle: 15 * barPerPSI,
				Hours: 1482.5, ChargingBurn: 0.4 * litresPerUSGallon, Charging: 90 * time.Minute,
				Curve: []passage.CurveRow{
					{RPM: 1800, Speed: 5.2, Burn: 1.7, Coolant: 80, Oil: pointTo(quantity.Pressure(3.4)),
						Sea: pointTo(quantity.Temperature(18)), RawOut: pointTo(quantity.Temperature(41))},
					{RPM: 2600, Speed: 6.4, Burn: 0.8 * litresPerImperialGallon, Coolant: 85},
				},
			},
			Tanks: []provisions.Tank{
				{Name: "port water", Holds: passage.Water, Capacity: 58 * litresPerUSGallon, Unusable: 8, GaugeError: 0.05, DipError: 0.02,
					Level: provisions.Level{Kind: provisions.ByShare, Share: 0.62, Text: "62 %"},
					Dip:   []provisions.DipRow{{Depth: 0, Amount: 0}, {Depth: 0.12, Amount: 60}, {Depth: 0.3, Amount: 219}}},
				{Name: "grab-bag cans", Holds: passage.Water, Capacity: 20, Sealed: true,
					Level: provisions.Level{Kind: provisions.ByAmount, Amount: 20, Text: "20 L"}},
				{Name: "main diesel", Holds: passage.Fuel, Capacity: 40 * litresPerImperialGallon, Unusable: 8, GaugeError: 0.05, DipError: 0.025,
					Level: provisions.Level{Kind: provisions.ByDip, Dip: 10 * metresPerInch, Text: "10 in"},
					Dip:   []provisions.DipRow{{Depth: 0, Amount: 0}, {Depth: 0.4, Amount: 180}}},
				{Name: "jerry can", Holds: passage.Fuel, Capacity: 20, Can: true,
					Level: provisions.Level{Kind: provisions.Brim, Text: "full"}},
				{Name: "gas bottle", Holds: passage.Gas, Capacity: 10 * kilogramsPerPound, Unusable: 0.1, GaugeError: 0.04,
					Level: provisions.Level{Kind: provisions.ByAmount, Amount: 2.7, Text: "2.7 kg"}},
			},
			Watermaker: &provisions.Watermaker{Output: 30, Run: time.Hour, NeedsEngine: true},
			Heater:     &provisions.Heater{Burn: 0.25, Run: 6 * time.Hour},
			Rates: provisions.Rates{
				Water:  provisions.WaterRates{Drinking: 3, Cooking: 1, Washing: 1.5, Boat: 2, HotWeather: 1.5, Rationed: 2.5},
				Gas:    provisions.GasRates{Boat: 0.25, Person: 0.02},
				Energy: 2500,
				Rations: []provisions.Ration{
					{Food: "rice", Each: 0.08}, {Food: "pasta", Each: 0.1}, {Food: "oats", Each: 0.06}, {Food: "peanut butter", Each: 0.03},
					{Food: "olive oil", Each: 0.025}, {Food: "sugar", Each: 0.04}, {Food: "milk", Each: 0.25}, {Food: "dark chocolate", Each: 0.03},
					{Food: "lentils", Each: 0.06}, {Food: "tuna in oil", Each: 0.06}, {Food: "bread", Each: 0.1},
				},
				Reserve: map[passage.Thing]provisions.Reserve{
					passage.Water: {Days: 4.5, ShareOfNeed: 0.5, ShareOfCapacity: 0.1, Amount: 5 * litresPerUSGallon},
					passage.Fuel:  {ShareOfCapacity: 0.3333},
					passage.Food:  {Days: 5},
					passage.Gas:   {None: true},
				},
			},
			Foods: []provisions.Food{
				{Name: "rice", Pack: 1, Kcal: 365, Keeps: quantity.Period{Months: 18}, Cook: true, Grace: quantity.Period{Months: 6}, Instead: "pasta", Price: 1.9},
				{Name: "pasta", Pack: 0.5, Kcal: 371, Cook: true},
				{Name: "oats", Pack: 0.5, Kcal: 379},
				{Name: "peanut butter", Pack: 12 * kilogramsPerPound / 16, Kcal: 598},
				{Name: "olive oil", Pack: 0.46, Kcal: 884},
				{Name: "sugar", Pack: 1, Kcal: 387},
				{Name: "milk", Pack: 1.03, Kcal: 61},
				{Name: "dark chocolate", Pack: 0.1, Kcal: 598},
				{Name: "lentils", Pack: 0.5, Kcal: 352, Cook: true},
				{Name: "tuna in oil", Pack: 0.12, Kcal: 198},
				{Name: "bread", Pack: 0.5, Kcal: 266, Keeps: quantity.Period{Rest: 4 * 24 * time.Hour}},
				{Name: "potatoes", Pack: 2, Kcal: 77, Refuse: 0.25, Keeps: quantity.Period{Rest: 15 * 24 * time.Hour}},
				{Name: "cheddar", Pack: kilogramsPerPound, Kcal: 404.5, Keeps: quantity.Period{Rest: 180 * 24 * time.Hour}, Chilled: true,
					KeepsWarm: quantity.Period{Rest: 3 * 24 * time.Hour}},
			},
			Lots: []provisions.Lot{
				{Food: "rice", Packs: 3, BestBefore: onDate(2027, 2, 1), Place: "saloon / port locker"},
				{Food: "bread", Packs: 1.5, Bought: onDate(2026, 6, 11), Place: "galley / bin"},
				{Food: "cheddar", Packs: 1, UseBy: onDate(2026, 9, 30)},
				{Food: "sugar", Packs: 2},
			},
		},
	}
}

func frozenPlan() passage.Plan {
	return passage.Plan{
		Name:   "Sandfly Cove - Two Fathom Cay - Long Sound",
		Depart: time.Date(2026, 6, 12, 5, 30, 0, 0, time.FixedZone("", 13*60*60)),
		Crew:   2, Climate: passage.Hot, Kind: passage.Offshore, Daylight: true, Before: onDate(2026, 11, 1),
		Fill: []passage.Giving{
			{Thing: passage.Water, Sure: true}, {Thing: passage.Fuel, Sure: true}, {Thing: passage.Food, Sure: true}, {Thing: passage.Gas},
		},
		Price: map[passage.Thing]float64{passage.Fuel: 1.52, passage.Water: 0, passage.Food: 9.5, passage.Gas: 4},
		Cases: map[passage.CaseName]passage.Case{
			passage.Quick:    {Speed: 1.15, Motor: 1, Power: 0.2},
			passage.Expected: {Speed: 1, Motor: 1, Power: 0.35},
			passage.Slow:     {Speed: 0.7, Motor: 0.85, Power: 0.6, Wait: 24 * time.Hour},
		},
		Limits: passage.Limits{Wind: 25},
		Ashore: passage.Ashore{Name: "A neighbour (invented)", Reports: 24 * time.Hour, Overdue: 12 * time.Hour,
			Then: "Call her for a day, then the rescue centre."},
		Legs: []passage.Leg{
			{From: "Sandfly Cove", To: "Two Fathom Cay", Distance: 142, Sail: 5.2, RPM: 2200, Power: 5.8, Current: -0.3,
				Home: &passage.Home{Sail: 2.5, Power: 0.8}, Stay: 48 * time.Hour,
				Fill:     []passage.Giving{{Thing: passage.Water}, {Thing: passage.Food, Sure: true}},
				Price:    map[passage.Thing]float64{passage.Fuel: 1.45},
				Position: &passage.Position{Lat: -23.65, Lon: -178.9}, Dangers: "a bar that breaks", Window: "the hour before high water",
				Alternates: []passage.Alternate{{Name: "Heron Bight", After: 80, Distance: 60}},
				Decisions:  []passage.Decision{{At: 80, GoOnIf: "the wind is under 20 kn", Else: "bear away for Heron Bight"}}},
			{From: "Two Fathom Cay", To: "Long Sound", Sail: 5, AsIs: true,
				Route: []passage.Position{{Lat: -23.65, Lon: -178.9}, {Lat: -24.65, Lon: -178.9}, {Lat: -25, Lon: -179.5}}},
		},
	}
}

func frozenRounds() []checklist.Round {
	celsius := func(v float64) *quantity.Any { return &quantity.Any{Dimension: quantity.OfTemperature, Value: v} }
	return []checklist.Round{
		{File: "rounds/departure.toml", Name: "Before departure", For: checklist.ForSign, Kinds: []passage.Kind{passage.Coastal, passage.Offshore},
			Sections: []checklist.Section{
				{Name: "Engine space, cold", Mode: checklist.DoThenTick, Done: "Engine space complete",
					Caution: "Engine stopped and key out before a hand goes near a belt.",
					Checks: []checklist.Check{
						{ID: "engine-oil", Ask: "Engine oil", Right: "between the marks, not milky", Critical: true, Covers: "oil",
							GoodFor: quantity.Period{Rest: 24 * time.Hour}, VoidBy: []string{"engine stopped", "oil changed"},
							Only: []checklist.Condition{checklist.SingleHanded, checklist.Night, checklist.OffshoreLeg},
							Say:  "mark on the stick", Caution: "Hot oil burns: let it cool.", Source: "common practice, no source"},
						{ID: "coolant-warm", Ask: "Coolant, warm", CritWhen: []checklist.Condition{checklist.OffshoreLeg, checklist.Night},
							After: []string{"engine-oil"}, Reading: &checklist.Range{Of: "coolant", Min: celsius(70), Max: celsius(90)}},
						{ID: "bilge", Ask: "Strokes of the bilge pump",
							Reading: &checklist.Range{Of: "bilge", Max: &quantity.Any{Dimension: quantity.OfCount, Value: 8}}},
					}},
				{Name: "Papers", Mode: checklist.LookThenConfirm, Checks: []checklist.Check{
					{ID: "water-endurance", Ask: "Water against the slow passage", Critical: true, Automatic: &checklist.Automatic{Of: "endurance", Name: "water"}},
					{ID: "impeller-service", Ask: "Impeller", Automatic: &checklist.Automatic{Of: "service", Name: "change raw-water impeller"}},
					{ID: "impeller-spare", Ask: "Spare impeller", Automatic: &checklist.Automatic{Of: "spares", Name: "raw-water impeller"}},
					{ID: "flares", Ask: "Flares", Automatic: &checklist.Automatic{Of: "dated", Name: "parachute flares"}},
					{ID: "all-spares", Ask: "Every spare", Automatic: &checklist.Automatic{Of: "spares", Name: "all"}},
					{ID: "season", Ask: "The season", Automatic: &checklist.Automatic{Of: "season"}},
				}},
			}},
		{File: "rounds/weighing.toml", Name: "Weighing", For: checklist.ForWeigh, Sections: []checklist.Section{
			{Name: "Cable short", Mode: checklist.LookThenConfirm, Checks: []checklist.Check{
				{ID: "run-coolant", Ask: "Coolant", GoodFor: quantity.Period{Rest: 48 * time.Hour}, Reading: &checklist.Range{Of: "coolant", Normal: true}},
			}},
		}},
	}
}

func TestFrozenFolderHoldsWhatIsWrittenInIt(t *testing.T) {
	folder, err := Load(os.DirFS(frozen))
	require.NoError(t, err)
	assert.Empty(t, folder.Notes)
	got := folder.Definitions

	// Float arithmetic of the test and of the reader may differ by a crumb; compared apart and then set equal.
	want := checklist.Definitions{Boat: frozenBoat(), Plan: frozenPlan(), Rounds: frozenRounds(), Sum: got.Sum}
	near := func(want, got *float64) {
		assert.InEpsilon(t, *want, *got, 1e-13)
		*want = *got
	}
	near((*float64)(&want.Boat.Waterline), (*float64)(&got.Boat.Waterline))
	near((*float64)(&want.Boat.Engine.RatedPower), (*float64)(&got.Boat.Engine.RatedPower))
	near((*float64)(&want.Boat.Engine.OilMinIdle), (*float64)(&got.Boat.Engine.OilMinIdle))
	near((*float64)(&want.Boat.Engine.ChargingBurn), (*float64)(&got.Boat.Engine.ChargingBurn))
	near((*float64)(&want.Boat.Engine.Curve[1].Burn), (*float64)(&got.Boat.Engine.Curve[1].Burn))
	for i := range want.Boat.Tanks {
		near((*float64)(&want.Boat.Tanks[i].Capacity), (*float64)(&got.Boat.Tanks[i].Capacity))
	}
	near((*float64)(&want.Boat.Foods[3].Pack), (*float64)(&got.Boat.Foods[3].Pack))
	// One degree of latitude is 60 nm on the sphere of 1' = 1 nm; the second part by the haversine, reckoned by hand:
	// 0.35 degrees south and 0.6*cos(24.825) = 0.5446 degrees west, 0.6473 degrees in all.
	assert.InDelta(t, 60+60*0.6473, float64(got.Plan.Legs[1].Distance), 0.02)
	want.Plan.Legs[1].Distance = got.Plan.Legs[1].Distance

	want.Spares = []machinery.Spare{
		{Name: "raw-water impeller", Size: "six vanes, 51 x 22 mm", With: []string{"gasket", "O-ring"}, Critical: true,
			Need: map[passage.Kind]int{passage.Shift: 0, passage.Coastal: 1, passage.Offshore: 2},
			Stowed: []machinery.Stowed{
				{Place: "fore cabin / under the berth / box 3", Count: 1, Condition: machinery.New, Fit: machinery.Proved, Has: []string{"gasket", "O-ring"}},
				{Place: "engine space / tin", Count: 2, Condition: machinery.Doubtful, Fit: machinery.Measured, Has: []string{"gasket"}},
			}},
		{Name: "engine belt", Need: map[passage.Kind]int{},
			Stowed: []machinery.Stowed{{Place: "engine space / hook", Count: 1, Condition: machinery.Wrong, Fit: machinery.Unknown}}},
	}
	want.Tools = []machinery.Tool{
		{Name: "impeller puller", Place: "saloon / tool drawer", State: machinery.Stiff}, {Name: "socket set", State: machinery.Good},
	}
	want.Dated = []machinery.Dated{
		{Name: "parachute flares", Until: onDate(2027, 5, 1), Place: "companionway", Critical: true, Only: []string{"offshore"}}, {Name: "medicines"},
	}
	want.Services = []machinery.Service{
		{Name: "change raw-water impeller", EveryHours: 300, EveryMonths: 12, Last: machinery.Done{Date: onDate(2026, 1, 10), Hours: 1410},
			Critical: true, Uses: []string{"raw-water impeller"}, Tools: []string{"impeller puller"}, Takes: 45 * time.Minute},
		{Name: "scrub the bottom", EveryMonths: 4, Last: machinery.Done{Date: onDate(2026, 4, 30)}, UnderWay: true, Resets: "fouling"},
	}
	want.Cards = []machinery.Card{
		{File: "faults/hot.toml", Sign: "coolant a little high", First: "Ease her to idle; if the exhaust runs dry stop the engine.",
			Caution: "Never open the cap on a hot engine: it scalds.",
			Looks: []machinery.Look{{At: "raw-water strainer", How: "Shut the seacock, lift the lid.", Takes: 5 * time.Minute, AtSea: true,
				Tools: []string{"socket set"}, Uses: []string{"raw-water impeller"}, RulesOut: "weed in the strainer",
				Means: "clean it and look at the exhaust again"}}},
		{File: "faults/smoke.toml", Sign: "black smoke",
			Looks: []machinery.Look{{At: "the propeller", How: "Engine stopped and key out; look from the dinghy."}}},
	}

	assert.Equal(t, want.Boat, got.Boat)
	assert.True(t, want.Plan.Depart.Equal(got.Plan.Depart))
	_, offset := got.Plan.Depart.Zone()
	assert.Equal(t, 13*60*60, offset)
	want.Plan.Depart = got.Plan.Depart
	assert.Equal(t, want.Plan, got.Plan)
	assert.Equal(t, want.Rounds, got.Rounds)
	assert.Equal(t, want, got)
	assert.Regexp(t, `^[0-9a-f]{64}$`, got.Sum)
}

func TestBundleGivesTheSameDefinitionsAndSum(t *testing.T) {
	for name, folder := range map[string]fs.FS{"frozen": os.DirFS(frozen), "demo": Demo(), "starter": Starter()} {
		read, err := Load(folder)
		require.NoError(t, err, name)
		text := read.Bundle()
		assert.Equal(t, read.Definitions.Sum, sumOf(text), name)
		again, err := Load(folder)
		require.NoError(t, err, name)
		assert.Equal(t, text, again.Bundle(), "the same files, the same bytes")

		kept, err := LoadBundle(text)
		require.NoError(t, err, name)
		assert.Equal(t, read.Definitions, kept.Definitions, name)
		assert.Equal(t, text, kept.Bundle(), name)
	}
}

func TestSumChangesWithAnyFile(t *testing.T) {
	files := copyOf(t, os.DirFS(frozen))
	first, err := Load(files)
	require.NoError(t, err)
	for name, file := range files {
		good := file.Data
		file.Data = append(slices.Clone(good), "# a word\n"...)
		changed, err := Load(files)
		require.NoError(t, err, name)
		assert.NotEqual(t, first.Definitions.Sum, changed.Definitions.Sum, name)
		file.Data = good
	}
}

// TestBundleKeepsEveryText: whatever valid UTF-8 stands in a file comes back byte for byte, comments, line ends and control characters too.
// A file that is not UTF-8 does not load, so it is never kept.
func TestBundleKeepsEveryText(t *testing.T) {
	pieces := rapid.SampledFrom([]string{"\r\n", "\n", "\t", `"`, `\`, `"""`, `'`, "\x00", "\x1b[2J", "\x7f", "\u0085", "\u202e", "\ufeff", "é", "\U0001f6a2", "name = 1"})
	rapid.Check(t, func(t *rapid.T) {
		var folder Folder
		for i := range rapid.IntRange(1, 4).Draw(t, "files") {
			text := strings.Join(rapid.SliceOf(rapid.OneOf(pieces, rapid.String())).Draw(t, "text"), "")
			folder.files = append(folder.files, textFile{fmt.Sprintf("rounds/%d.toml", i), []byte(strings.ToValidUTF8(text, "?"))})
		}
		back, err := unbundle(string(folder.Bundle()))
		require.NoError(t, err)
		require.Equal(t, folder.files, back)
	})
}

func TestBundleOfAFileThatIsNotUTF8IsRefused(t *testing.T) {
	files := copyOf(t, os.DirFS(frozen))
	files["tools.toml"].Data = []byte("# \xff\n")
	read, err := Load(files)
	require.EqualError(t, err, "tools.toml:1: byte 0xff is not valid UTF-8; save the file as UTF-8")
	_, err = LoadBundle(read.Bundle())
	require.ErrorContains(t, err, "reading the kept definitions: ")
}

func TestWhatIsNoBundleIsRefused(t *testing.T) {
	for text, want := range map[string]string{
		"":             "no definitions stand in it",
		"format = 1":   "no definitions stand in it",
		"format = 2":   "written for format 2, this program knows 1",
		"format = ":    "toml: ",
		"file = 1":     "no definitions stand in it",
		"[[file]]":     "no definitions stand in it",
		"\xff\x00[[[a": "toml: ",
		"format = 1\n[[file]]\nname = 1\ntext = \"\"":                                            "its file 1 is not whole",
		"format = 1\n[[file]]\nname = \"a\"":                                                     "its file 1 is not whole",
		"format = 1\n[[file]]\nname = \"a\"\ntext = \"\"\n[[file]]\nname = \"a\"\ntext = \"\"\n": "its file 2 is not whole",
	} {
		_, err := LoadBundle([]byte(text))
		require.ErrorContains(t, err, "reading the kept definitions: "+want, "%q", text)
	}
	_, err := LoadBundle([]byte("format = 1\n[[file]]\nname = \"../x.toml\"\ntext = \"a = 1\"\n"))
	var mistakes Mistakes
	require.ErrorAs(t, err, &mistakes, "the mistakes of the folder itself")
	assert.Contains(t, err.Error(), "../x.toml:1: a: not a key of this table")
}

func TestInitWritesAFolderThatLoads(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "boat")
	require.NoError(t, Init(dir, Starter()))
	there, err := Load(os.DirFS(dir))
	require.NoError(t, err)
	here, err := Load(Starter())
	require.NoError(t, err)
	assert.Equal(t, here.Definitions, there.Definitions)
}

// listing is every path below a folder, with what the files hold.
func listing(t *testing.T, dir string) map[string]string {
	all := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			all[name] = "folder"
			return err
		}
		text, err := os.ReadFile(name)
		all[name] = string(text)
		return err
	}))
	return all
}

func TestInitOverwritesNothing(t *testing.T) {
	for _, there := range []string{"boat.toml", "upkeep.toml", "rounds/weighing.toml"} {
		dir := t.TempDir()
		require.NoError(t, os.MkdirAll(filepath.Join(dir, filepath.Dir(there)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, there), []byte("mine"), 0o644))
		before := listing(t, dir)
		require.EqualError(t, Init(dir, Starter()), filepath.Join(dir, there)+" is there already; nothing was written: name an empty or a new folder")
		assert.Equal(t, before, listing(t, dir))
	}
}

func TestInitOverADanglingLinkWritesNothing(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Symlink("nowhere", filepath.Join(dir, "tools.toml")))
	require.ErrorContains(t, Init(dir, Starter()), "tools.toml is there already; nothing was written")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 1)
}

func TestInitIntoAFileIsRefused(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, []byte("mine"), 0o644))
	require.ErrorContains(t, Init(file, Starter()), "looking into "+file)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(text))
}

func TestInitIntoAReadOnlyFolderIsTold(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Chmod(dir, 0o555))
	t.Cleanup(func() { _ = os.Chmod(dir, 0o755) })
	if f, err := os.Create(filepath.Join(dir, "probe")); err == nil {
		_ = f.Close()
		t.Skip("this user may write into a read-only folder")
	}
	require.ErrorContains(t, Init(dir, Starter()), "permission denied")
}

// TestInitTakesBackWhatItCouldNotFinish uses a name that no file system takes, which any user meets.
func TestInitTakesBackWhatItCouldNotFinish(t *testing.T) {
	dir := t.TempDir()
	long := strings.Repeat("x", 200)
	files := fstest.MapFS{"a.toml": {Data: []byte("a")}, "b.toml": {Data: []byte("b")}, "c/" + long + long[:60]: {Data: []byte("c")}}
	require.Error(t, Init(dir, files))
	for name, text := range listing(t, dir) {
		assert.Equal(t, "folder", text, name)
	}
}

func TestInitOfAFolderThatCannotBeRead(t *testing.T) {
	require.ErrorContains(t, Init(t.TempDir(), os.DirFS(filepath.Join(t.TempDir(), "none"))), "reading the starter: ")
}

// FuzzLoad changes one place of one file of the demo boat: it never panics, and every mistake names a file.
func FuzzLoad(f *testing.F) {
	files := copyOf(f, Demo())
	names := slices.Sorted(maps.Keys(files))
	for i := range names {
		f.Add(uint8(i), uint16(120), uint16(3), "= 1")
	}
	f.Add(uint8(0), uint16(0), uint16(0), "\xef\xbb\xbf")
	f.Add(uint8(1), uint16(500), uint16(60000), "[[ration]]\nfood = \"rice\"\neach = \"-1 g\"")
	f.Fuzz(func(t *testing.T, file uint8, at, cut uint16, put string) {
		name := names[int(file)%len(names)]
		good := files[name].Data
		from := int(at) % (len(good) + 1)
		to := min(len(good), from+int(cut))
		changed := maps.Clone(files)
		changed[name] = &fstest.MapFile{Data: slices.Concat(good[:from], []byte(put), good[to:])}
		folder, err := Load(changed)
		if err == nil {
			kept, err := LoadBundle(folder.Bundle())
			require.NoError(t, err)
			require.Equal(t, folder.Definitions.Sum, kept.Definitions.Sum)
			return
		}
		var mistakes Mistakes
		require.ErrorAs(t, err, &mistakes)
		require.NotEmpty(t, mistakes)
		for _, m := range mistakes {
			require.NotEmpty(t, m.File, m)
			require.NotEmpty(t, m.Problem, m)
			require.NotContains(t, m.Error(), "\n")
			if m.Line == 0 {
				continue
			}
			require.LessOrEqual(t, m.Line, strings.Count(string(changed[m.File].Data), "\n")+1, m)
		}
	})
}

func BenchmarkLoadDemo(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Load(Demo()); err != nil {
			b.Fatal(err)
		}
	}
}
