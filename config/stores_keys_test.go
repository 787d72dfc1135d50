package config

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// dieselDip is the dip table of the frozen folder's diesel tank, whose level is a dip of 10 in.
const dieselDip = "dip = [\n    [\"0 mm\", \"0 L\"],\n    [\"400 mm\", \"180 L\"],\n]"

// The last lines of two files, to which more is added.
const (
	endOfRates   = "[reserve.gas]\nnone = true\n"
	endOfPassage = "as_is = true\nfill = []\n"
)

const (
	laundry = "\n[[use]]\nwhat = \"water\"\namount = \"40 L\"\n"
	oil     = "\n[[consumable]]\nname = \"engine oil\"\nunit = \"L\"\nengine_hour = 0.02\naboard = 4\n"
)

func TestStoresKeysAreRead(t *testing.T) {
	files := frozenFiles(t)
	plant(t, files, boatFile, dieselDip, `shape = { form = "horizontal cylinder", depth = "20 in" }`)
	plant(t, files, ratesFile, endOfRates, endOfRates+oil+"pack = 1\nprice = 9.5\nreserve = 1\ncritical = true\n"+
		"\n[[consumable]]\nname = \"paper\"\nunit = \"roll\"\nday = 0\nperson_day = 0.125\naboard = 6\n")
	plant(t, files, passageFile, endOfPassage, endOfPassage+laundry+"on = 2026-06-13\nwhy = \"laundry\"\n"+
		"\n[[use]]\nwhat = \"gas\"\namount = \"8 oz\"\nat = \"Two Fathom Cay\"\n")
	plant(t, files, storesFile, "name = \"rice\"\n", "name = \"rice\"\nprotein = 7\nfruit_veg = true\n")
	folder, err := Load(files)
	require.NoError(t, err)
	assert.Empty(t, folder.Notes)

	d := folder.Definitions
	diesel := d.Boat.Tanks[2]
	assert.Equal(t, provisions.HorizontalCylinder, diesel.Shape.Form)
	assert.InDelta(t, 0.508, float64(diesel.Shape.Depth), 1e-12)
	amount, err := diesel.AmountAt(diesel.Level)
	require.NoError(t, err)
	assert.InDelta(t, float64(diesel.Capacity)/2, float64(amount), 1e-9, "10 in of 20 in are half")

	assert.Equal(t, []provisions.Consumable{
		{Name: "engine oil", Unit: "L", EngineHour: 0.02, Aboard: 4, Reserve: 1, Pack: 1, Price: 9.5, Priced: true, Critical: true},
		{Name: "paper", Unit: "roll", Person: 0.125, Aboard: 6, Pack: 1},
	}, d.Boat.Consumables)
	require.Len(t, d.Plan.Uses, 2)
	assert.Equal(t, passage.Use{What: passage.Water, Amount: 40, On: d.Plan.Uses[0].On, Why: "laundry"}, d.Plan.Uses[0])
	assert.Equal(t, "2026-06-13", d.Plan.Uses[0].On.String())
	assert.Equal(t, "Two Fathom Cay", d.Plan.Uses[1].At)
	assert.InDelta(t, 7, *d.Boat.Foods[0].Protein, 0)
	assert.True(t, d.Boat.Foods[0].FruitVeg)
	assert.Nil(t, d.Boat.Foods[1].Protein)
}

func TestMistakesInTheStoresKeys(t *testing.T) {
	stop := endOfPassage
	for _, row := range []struct{ name, file, old, new, want string }{
		{"a shape and a table", boatFile, dieselDip, dieselDip + "\nshape = { form = \"wedge\", depth = \"400 mm\" }",
			`boat.toml:75: tank[2].shape: a shape, and a dip table beside it; write one of the two: the table, where it was measured`},
		{"a form that is none", boatFile, dieselDip, `shape = { form = "cylinder", depth = "400 mm" }`,
			`boat.toml:71: tank[2].shape.form: "cylinder" is not known here; write one of "rectangular", "horizontal cylinder", "wedge"`},
		{"a form left out", boatFile, dieselDip, `shape = { depth = "400 mm" }`,
			`boat.toml:71: tank[2].shape.form: missing; write one of "rectangular", "horizontal cylinder", "wedge"`},
		{"a depth left out", boatFile, dieselDip, `shape = { form = "wedge" }`,
			`boat.toml:71: tank[2].shape.depth: missing; write a text with a unit, such as "420 mm"`},
		{"a depth of nothing", boatFile, dieselDip, `shape = { form = "wedge", depth = "0 mm" }`,
			`boat.toml:71: tank[2].shape.depth: "0 mm" is not above zero; write more than zero`},
		{"a depth without a unit", boatFile, dieselDip, `shape = { form = "wedge", depth = 400 }`,
			`boat.toml:71: tank[2].shape.depth: 400 has no unit; write a text with a unit, such as "420 mm"`},
		{"a width beside it", boatFile, dieselDip, `shape = { form = "wedge", depth = "400 mm", width = "1 m" }`,
			`boat.toml:71: tank[2].shape.width: not a key of this table`},
		{"a shape that is a text", boatFile, dieselDip, `shape = "wedge"`,
			`boat.toml:71: tank[2].shape: "wedge" is a text; write the table [tank.shape]`},
		{"a level deeper than the shape", boatFile, dieselDip, `shape = { form = "rectangular", depth = "200 mm" }`,
			`boat.toml:66: tank[2].level: 254 mm is not in a tank that is 200 mm deep; write 0 mm to 200 mm`},
		{"a shape for gas", boatFile, `level = "2.7 kg"`, "level = \"2.7 kg\"\nshape = { form = \"wedge\", depth = \"400 mm\" }",
			`boat.toml:91: tank[4].shape: gas is told by weight, not by depth; leave the shape out`},

		{"a consumable of which nothing says how much is used", ratesFile, endOfRates, endOfRates + "\n[[consumable]]\nname = \"oil\"\nunit = \"L\"\naboard = 4\n",
			`rates.toml:78: consumable[0]: nothing says how much is used; write day, person_day or engine_hour, or more than one of them: they are added up`},
		{"a consumable without a unit", ratesFile, endOfRates, endOfRates + "\n[[consumable]]\nname = \"oil\"\nday = 1\naboard = 4\n",
			`rates.toml:78: consumable[0].unit: missing; write a text in quotes`},
		{"a consumable without what is aboard", ratesFile, endOfRates, endOfRates + "\n[[consumable]]\nname = \"oil\"\nunit = \"L\"\nday = 1\n",
			`rates.toml:78: consumable[0].aboard: missing; write a number from 0 to 1000000`},
		{"an amount with its unit", ratesFile, endOfRates, endOfRates + "\n[[consumable]]\nname = \"oil\"\nunit = \"L\"\nday = 1\naboard = \"4 L\"\n",
			`rates.toml:82: consumable[0].aboard: "4 L" is a text; write a number from 0 to 1000000`},
		{"a rate below zero", ratesFile, endOfRates, endOfRates + "\n[[consumable]]\nname = \"oil\"\nunit = \"L\"\nday = -1\naboard = 4\n",
			`rates.toml:81: consumable[0].day: -1 is out of range; write a number from 0 to 1000000`},
		{"a pack of nothing", ratesFile, endOfRates, endOfRates + oil + "pack = 0\n",
			`rates.toml:83: consumable[0].pack: 0 is not above zero; write how much is in a pack, in its unit`},
		{"two consumables of one name", ratesFile, endOfRates, endOfRates + oil + oil,
			`rates.toml:85: consumable[1].name: two of the name "engine oil", the first on line 79; give each a name of its own`},
		{"a consumable of a food's name", ratesFile, endOfRates, endOfRates + "\n[[consumable]]\nname = \"rice\"\nunit = \"kg\"\nday = 1\naboard = 4\n",
			`rates.toml:79: consumable[0].name: a food is called "rice" too, in stores.toml:4; give it a name of its own: a count goes by the name`},
		{"a price below zero", ratesFile, endOfRates, endOfRates + oil + "price = -2\n",
			`rates.toml:83: consumable[0].price: -2 is out of range; write a number of 0 or more`},

		{"food used once", passageFile, stop, stop + "\n[[use]]\nwhat = \"food\"\namount = \"4 kg\"\non = 2026-06-14\n",
			`passage.toml:61: use[0].what: "food" is not known here; write one of "water", "fuel", "gas"`},
		{"water by weight", passageFile, stop, stop + "\n[[use]]\nwhat = \"water\"\namount = \"4 kg\"\non = 2026-06-14\n",
			`passage.toml:62: use[0].amount: "4 kg" is a mass, not a volume; write litres, as "5 L"`},
		{"nothing used", passageFile, stop, stop + "\n[[use]]\nwhat = \"water\"\namount = \"0 L\"\non = 2026-06-14\n",
			`passage.toml:62: use[0].amount: "0 L" is not above zero; write more than zero`},
		{"an amount left out", passageFile, stop, stop + "\n[[use]]\nwhat = \"gas\"\non = 2026-06-14\n",
			`passage.toml:60: use[0].amount: missing; write a text with a unit, such as "0.5 kg"`},
		{"neither day nor stop", passageFile, stop, stop + laundry,
			`passage.toml:60: use[0].on: missing; write the day, such as on = 2026-06-14, or the stop, such as at = "PLACE"`},
		{"day and stop", passageFile, stop, stop + laundry + "at = \"Two Fathom Cay\"\non = 2026-06-14\n",
			`passage.toml:63: use[0].at: a stop, beside the day on line 64; write one of on and at`},
		{"an empty stop", passageFile, stop, stop + laundry + "at = \" \"\n",
			`passage.toml:63: use[0].at: is empty; write a text in quotes`},
		{"a day with a time", passageFile, stop, stop + laundry + "on = 2026-06-14T08:00:00+13:00\n",
			`passage.toml:63: use[0].on: 2026-06-14T08:00:00+13:00 is a date and time; write the date alone: 2026-06-14`},
		{"the day before the departure", passageFile, stop, stop + laundry + "on = 2026-06-11\n",
			`passage.toml:63: use[0].on: 2026-06-11 is before the departure, 2026-06-12; write a day of the passage; what is used before it shows in the soundings`},
		{"where she ends", passageFile, stop, stop + laundry + "at = \"Long Sound\"\n",
			`passage.toml:63: use[0].at: no stop between two legs is called "Long Sound"; write "Two Fathom Cay", or the day`},
		{"a key nobody knows", passageFile, stop, stop + laundry + "on = 2026-06-14\npeople = 2\n",
			`passage.toml:64: use[0].people: not a key of this table`},

		{"more protein than there is food", storesFile, "name = \"rice\"\n", "name = \"rice\"\nprotein = 101\n",
			`stores.toml:5: food[0].protein: 101 is out of range; write a number from 0 to 100`},
		{"fruit by a word", storesFile, "name = \"rice\"\n", "name = \"rice\"\nfruit_veg = \"yes\"\n",
			`stores.toml:5: food[0].fruit_veg: "yes" is a text; write true or false`},
	} {
		files := frozenFiles(t)
		plant(t, files, row.file, row.old, row.new)
		assert.Equal(t, []string{row.want}, mistakesOf(t, files), row.name)
	}
}

// On a passage of one leg there is no stop; where she stops twice at one place only a day tells which.
func TestStopsOfOneOffUses(t *testing.T) {
	leg := func(from, to string) passage.Leg { return passage.Leg{From: from, To: to} }
	for want, legs := range map[string][]passage.Leg{
		`f:2: at: the passage has no stop between two legs; write the day, such as on = 2026-06-14`: {leg("A", "B")},
		`f:2: at: she stops at "B" more than once; write the day, such as on = 2026-06-14`:          {leg("A", "B"), leg("B", "C"), leg("C", "B"), leg("B", "A")},
		`f:2: at: no stop between two legs is called "B"; write "C" or "D", or the day`:             {leg("A", "D"), leg("D", "C"), leg("C", "E")},
		``: {leg("A", "B"), leg("B", "")},
	} {
		row, mistakes := parse("f", []byte("why = \"x\"\nat = \"B\"\n"))
		require.Empty(t, mistakes)
		checkStop(row, "B", passage.Plan{Legs: legs})
		got := ""
		for _, m := range row.found() {
			got += m.Error()
		}
		assert.Equal(t, want, got)
	}
}

func TestOneOffUsesThatCountNowhereAreNoted(t *testing.T) {
	for _, row := range []struct{ use, want string }{
		{"\n[[use]]\nwhat = \"water\"\namount = \"4 L\"\non = 2026-09-01\n", "on: 2026-09-01 is after the last arrival, in the slowest case on 2026-06-"},
		{"\n[[use]]\nwhat = \"water\"\namount = \"4 L\"\nat = \"Two Fathom Cay\"\n", `at: "Two Fathom Cay" gives water: none is used of what is aboard`},
	} {
		files := frozenFiles(t)
		plant(t, files, passageFile, `"water?", "food"`, `"water", "food"`)
		plant(t, files, passageFile, endOfPassage, endOfPassage+row.use)
		folder, err := Load(files)
		require.NoError(t, err)
		require.Len(t, folder.Notes, 1)
		assert.Contains(t, folder.Notes[0].String(), row.want)
		assert.Contains(t, folder.Notes[0].String(), "passage.toml:63: use[0].")
	}
}

// The starter ships some 60 common stores, each with its source beside the energy, and
// shows the keys that it does not use: they load once they are switched on.
func TestStarterShowsTheStoresKeys(t *testing.T) {
	starter, err := Load(Starter())
	require.NoError(t, err)
	assert.GreaterOrEqual(t, len(starter.Definitions.Boat.Foods), 60)
	text := string(copyOf(t, Starter())[storesFile].Data)
	assert.Equal(t, len(starter.Definitions.Boat.Foods), strings.Count(text, "# NDB "))
	assert.Len(t, regexp.MustCompile(`(?m)^keeps = .*# (FK \d+|from memory)`).FindAllString(text, -1), len(starter.Definitions.Boat.Foods))

	files := copyOf(t, Starter())
	on := regexp.MustCompile(`(?m)^# (\[\[(?:consumable|use)\]\]|(?:name|unit|engine_hour|person_day|day|aboard|reserve|pack|price|critical|what|amount|on|why|protein|shape) = )`)
	for _, name := range []string{boatFile, ratesFile, passageFile, storesFile} {
		files[name] = &fstest.MapFile{Data: on.ReplaceAll(files[name].Data, []byte("$1"))}
	}
	folder, err := Load(files)
	require.NoError(t, err)
	assert.Empty(t, folder.Notes)
	d := folder.Definitions
	assert.Len(t, d.Boat.Consumables, 3)
	assert.Len(t, d.Plan.Uses, 1)
	assert.NotNil(t, d.Boat.Foods[0].Protein)
	assert.True(t, slices.ContainsFunc(d.Boat.Tanks, func(tank provisions.Tank) bool { return tank.Shape.Form == provisions.Rectangular }))
}
