package config

import (
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"boat/hoveshort/checklist/machinery"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shippedCards are the cards of the starter, by the file's name without its folder and ending.
func shippedCards(t *testing.T) map[string]machinery.Card {
	t.Helper()
	folder, err := Load(Starter())
	require.NoError(t, err)
	cards := map[string]machinery.Card{}
	for _, card := range folder.Definitions.Cards {
		cards[strings.TrimSuffix(path.Base(card.File), ".toml")] = card
	}
	return cards
}

// TestTheStarterHasACardForEachUsualSign: the trees A to H of reference/checks.md section 3.4, smoke by its colour, and two signs that are
// common practice, no source (water in the bilge, vibration).
func TestTheStarterHasACardForEachUsualSign(t *testing.T) {
	signs := map[string]string{}
	for name, card := range shippedCards(t) {
		signs[name] = card.Sign
	}
	assert.Equal(t, map[string]string{
		"coolant-high":     "coolant a little high",             // A
		"no-raw-water":     "no or little water at the exhaust", // B
		"oil-pressure-low": "oil pressure low",                  // C
		"black-smoke":      "black smoke",                       // D
		"white-smoke":      "white smoke",                       // D
		"blue-smoke":       "blue smoke",                        // D
		"less-speed":       "less speed at the usual revs",      // E
		"dies-under-load":  "engine dies under load",            // F
		"no-charge":        "no charge",                         // G
		"will-not-start":   "engine will not start",             // H
		"bilge-water":      "water in the bilge",
		"vibration":        "vibration",
	}, signs)
}

func TestEachShippedCardCanBeWalked(t *testing.T) {
	for name, card := range shippedCards(t) {
		assert.NotEmpty(t, card.First, name)
		assert.NotEmpty(t, card.Caution, name)
		assert.GreaterOrEqual(t, len(card.Looks), 4, name)
		for _, look := range card.Looks {
			assert.Positive(t, look.Takes, "%s: %s", name, look.At)
			assert.NotEmpty(t, look.RulesOut, "%s: %s", name, look.At)
			assert.NotEmpty(t, look.Means, "%s: %s", name, look.At)
		}
	}
}

// TestShippedCardsBeginWithTheQuickLooks: the first two looks take five minutes at most, can be taken at sea and spoil no spare; the first
// half of a card takes no longer than the second; and what waits for the next base stands last.
func TestShippedCardsBeginWithTheQuickLooks(t *testing.T) {
	for name, card := range shippedCards(t) {
		for _, look := range card.Looks[:2] {
			assert.LessOrEqual(t, look.Takes, 5*time.Minute, "%s: %s", name, look.At)
			assert.True(t, look.AtSea, "%s: %s", name, look.At)
			assert.Empty(t, look.Uses, "%s: %s", name, look.At)
		}
		half := len(card.Looks) / 2
		assert.LessOrEqual(t, together(card.Looks[:half]), together(card.Looks[half:]), name)
		base := slices.IndexFunc(card.Looks, func(l machinery.Look) bool { return !l.AtSea })
		if base >= 0 {
			assert.False(t, slices.ContainsFunc(card.Looks[base:], func(l machinery.Look) bool { return l.AtSea }), name)
		}
	}
}

func together(looks []machinery.Look) (all time.Duration) {
	for _, look := range looks {
		all += look.Takes
	}
	return all
}

// TestWhatIsLookedAtAtSeaWantsNoBrokenTool: in both folders the tools of such looks are there and good, so that a card can be walked as it stands.
func TestWhatIsLookedAtAtSeaWantsNoBrokenTool(t *testing.T) {
	for name, files := range map[string]fs.FS{"demo": Demo(), "starter": Starter()} {
		folder, err := Load(files)
		require.NoError(t, err)
		good := map[string]bool{}
		for _, tool := range folder.Definitions.Tools {
			good[tool.Name] = tool.State == machinery.Good
		}
		for _, card := range folder.Definitions.Cards {
			for _, look := range card.Looks {
				for _, tool := range look.Tools {
					assert.True(t, !look.AtSea || good[tool], "%s: %s: %s: %s", name, card.Sign, look.At, tool)
				}
			}
		}
	}
}

// rowsOf is how many lines a text takes, broken between words.
func rowsOf(text string, width int) int {
	rows, used := 1, 0
	for _, word := range strings.Fields(text) {
		if used > 0 && used+1+len([]rune(word)) > width {
			rows, used = rows+1, 0
		}
		if used > 0 {
			used++
		}
		used += len([]rune(word))
	}
	return rows
}

// TestEachLookOfAShippedCardFitsAScreen: of 80 x 24, with 6 lines left to head and keys and 4 columns to the margins, one look stands whole
// under the sign, what is done first and the caution.
func TestEachLookOfAShippedCardFitsAScreen(t *testing.T) {
	const width, height = 80 - 4, 24 - 6
	most := func(limit int, text, where string) {
		t.Helper()
		assert.LessOrEqual(t, len([]rune(text)), limit, "%s: %s", where, text)
		assert.Equal(t, strings.Join(strings.Fields(text), " "), text, "one line, single blanks: %s", where)
	}
	for name, card := range shippedCards(t) {
		most(40, card.Sign, name)
		most(180, card.First, name)
		most(300, card.Caution, name)
		for _, look := range card.Looks {
			most(40, look.At, name)
			most(220, look.How, name)
			most(100, look.RulesOut, name)
			most(100, look.Means, name)
			rows := 0
			for _, text := range []string{card.Sign, card.First, card.Caution, look.At, look.How, "clean rules out: " + look.RulesOut, "bad means: " + look.Means} {
				rows += rowsOf(text, width)
			}
			wants := "5 min, at sea, tools: " + strings.Join(look.Tools, ", ") + " uses: " + strings.Join(look.Uses, ", ")
			assert.LessOrEqual(t, rows+rowsOf(wants, width), height, "%s: %s", name, look.At)
		}
	}
}

// said are the cautions that must be shown, each with its source in reference/checks.md. Every word must stand there, whatever its case: in what
// is done first and the caution of the card where no look is named; else in how that look is taken, or, after "means: ", in what a bad finding means.
var said = []struct {
	card, look string
	words      []string
	source     string
}{
	{"coolant-high", "", []string{"cap stays on until she is cold", "steam", "scalds"}, "4, hot coolant"},
	{"coolant-high", "", []string{"key out", "belts"}, "4, belts"},
	{"coolant-high", "", []string{"carbon monoxide", "no smell"}, "4, carbon monoxide"},
	{"coolant-high", "", []string{"ease her", "alarm", "stop her"}, "3.4 general rules: slow down before stopping; RYA: stop on the alarm"},
	{"coolant-high", "the gauge, by a second thermometer", []string{"key out"}, "4, belts"},
	{"coolant-high", "raw-water strainer", []string{"seacock shut", "key hung on it", "lid off", "lid tight", "seacock open"}, "4, opening the strainer; 3.4 A4"},
	{"coolant-high", "belts", []string{"stopped", "key out"}, "4, belts; 3.4 A6"},
	{"coolant-high", "pump impeller", []string{"key out", "seacock shut", "every missing piece", "seacock open before starting"}, "4, opening the strainer; 3.4 A7"},
	{"coolant-high", "coolant level and cap, cold only", []string{"only when the engine is cold"}, "4, hot coolant; 3.4 A8"},
	{"coolant-high", "signs of a blown head gasket", []string{"cap on", "means: stop using the engine"}, "4, hot coolant; 3.4 A12"},
	{"coolant-high", "heat exchanger", []string{"cold", "seacock shut", "seacock open before starting"}, "4, opening the strainer; 3.4 A10"},
	{"coolant-high", "exhaust elbow, inside", []string{"hot elbow burns"}, "4, overheated exhaust; 3.4 A11"},
	{"no-raw-water", "", []string{"stop the engine now"}, "3.4 B: stop first"},
	{"no-raw-water", "", []string{"under a minute", "burn through", "never run a pump dry"}, "4, starting with it shut"},
	{"no-raw-water", "", []string{"seacock shut before strainer", "open again before starting"}, "4, opening the strainer"},
	{"no-raw-water", "", []string{"carbon monoxide", "air and out"}, "4, carbon monoxide"},
	{"no-raw-water", "raw-water seacock", []string{"leave it open"}, "4, starting with it shut; 3.4 B1"},
	{"no-raw-water", "raw-water strainer", []string{"seacock shut", "key hung on it", "lid off", "lid tight", "seacock open"}, "4, opening the strainer; 3.4 B2"},
	{"no-raw-water", "water standing in the strainer", []string{"seacock shut", "lid tight", "seacock open"}, "4, opening the strainer; 3.4 B4"},
	{"no-raw-water", "intake, from outside", []string{"key in your pocket", "ladder down", "tether", "not alone in a sea"}, "4, going over the side; 3.4 B3"},
	{"no-raw-water", "pump belt or drive", []string{"stopped", "key out"}, "4, belts; 3.4 B5"},
	{"no-raw-water", "pump impeller", []string{"seacock shut", "every missing piece", "seacock open before starting", "means: half a minute"}, "3.4 A7, B5"},
	{"oil-pressure-low", "", []string{"stop the engine at once"}, "3.4 C"},
	{"oil-pressure-low", "", []string{"hot oil", "key out", "belts", "slippery"}, "4, belts"},
	{"less-speed", "", []string{"engine stopped, key out", "ladder down", "tether", "not alone in a sea"}, "4, going over the side"},
	{"less-speed", "gearbox and shaft coupling", []string{"stopped", "key out"}, "4, belts, shaft; 3.4 E"},
	{"black-smoke", "", []string{"carbon monoxide", "no smell", "key out"}, "4, carbon monoxide; belts"},
	{"black-smoke", "exhaust elbow, inside", []string{"cold", "seacock shut", "seacock open before starting"}, "4, overheated exhaust; 3.4 D"},
	{"white-smoke", "", []string{"cap stays on until she is cold", "stop the engine", "carbon monoxide"}, "4, hot coolant; 3.4 D: steam is A or B"},
	{"white-smoke", "coolant level, cold only", []string{"only when the engine is cold"}, "4, hot coolant"},
	{"blue-smoke", "", []string{"stop at once", "carbon monoxide", "key out"}, "3.4 C; 4, carbon monoxide"},
	{"blue-smoke", "breather", []string{"torch only", "sleeves out"}, "4, belts: nothing loose, look with a torch only"},
	{"will-not-start", "", []string{"5 to 10 s", "15 s"}, "3.1, start"},
	{"will-not-start", "", []string{"long cranking", "waterlock", "cylinders", "seacock shut", "drain it", "seacock open the moment she fires"}, "4, long cranking; 3.4 H"},
	{"will-not-start", "", []string{"gas or petrol smell", "no spark"}, "4, cooking gas; petrol"},
	{"will-not-start", "battery switch, volts, terminals", []string{"aired", "no flame", "rings off"}, "4, lead-acid"},
	{"will-not-start", "water in the cylinders", []string{"key out", "seacock shut", "means: do not crank", "means: seacock open"}, "4, long cranking"},
	{"dies-under-load", "", []string{"mop up before starting", "no flame", "key out"}, "4, belts; starter round, fuel-bowl"},
	{"dies-under-load", "", []string{"long cranking", "seacock shut until she fires", "then open"}, "4, long cranking"},
	{"dies-under-load", "vacuum at the primary filter", []string{"3 to 4 inhg", "hands clear of belts"}, "3.4 F3; 4, belts"},
	{"dies-under-load", "tank, inside", []string{"no flame", "aired", "never put your head into a tank"}, "4, enclosed space"},
	{"no-charge", "", []string{"hydrogen", "no spark or flame", "eyes covered", "rings off", "lithium"}, "4, lead-acid; lithium"},
	{"no-charge", "", []string{"never off while she runs", "key out"}, "3.4 G; 4, belts"},
	{"no-charge", "volts at alternator and battery", []string{"clear of belts"}, "4, belts; 3.4 G"},
	{"no-charge", "alternator belt", []string{"stopped", "key out"}, "4, belts; 3.4 G"},
	{"bilge-water", "", []string{"gas smell", "no switches", "gas off"}, "4, cooking gas"},
	{"bilge-water", "", []string{"batteries", "no sparks"}, "4, lead-acid"},
	{"bilge-water", "", []string{"engine's only with the engine stopped", "open before starting"}, "4, starting with it shut"},
	{"bilge-water", "how fast it rises", []string{"25 mm", "half a metre", "55 l a minute"}, "7.8: 25 mm, 0.5 m, 55.3 L/min"},
	{"bilge-water", "raw-water hoses, strainer, pump", []string{"key out", "shut the seacock", "open it again before starting"}, "4, starting with it shut; 3.2"},
	{"bilge-water", "siphon: vented loops, bilge pump outlet", []string{"stuck", "means: open it before starting"}, "4, siphon when stopped; 3.2 row 7"},
	{"vibration", "", []string{"out of gear at once", "key out", "torch only"}, "4, belts, shaft"},
	{"vibration", "", []string{"over the side", "ladder down", "tether", "not alone in a sea"}, "4, going over the side"},
	{"vibration", "shaft coupling", []string{"stopped", "key out"}, "4, belts, shaft"},
}

func TestShippedCardsSayTheCautionsThatMustBeShown(t *testing.T) {
	cards := shippedCards(t)
	for _, row := range said {
		card := cards[row.card]
		text, means := card.First+" "+card.Caution, ""
		if row.look != "" {
			at := slices.IndexFunc(card.Looks, func(l machinery.Look) bool { return l.At == row.look })
			require.GreaterOrEqual(t, at, 0, "%s: %s", row.card, row.look)
			text, means = card.Looks[at].How, card.Looks[at].Means
		}
		for _, words := range row.words {
			within := text
			if of, found := strings.CutPrefix(words, "means: "); found {
				words, within = of, means
			}
			assert.Contains(t, strings.ToLower(within), words, "%s: %s: checks.md %s", row.card, row.look, row.source)
		}
	}
}

func TestACardThatAShippedCardSendsToIsThere(t *testing.T) {
	cards := shippedCards(t)
	sent := 0
	for name, card := range cards {
		for _, look := range card.Looks {
			if _, sign, sends := strings.Cut(look.Means, "card: "); sends {
				sent++
				there := false
				for other, to := range cards {
					there = there || other != name && strings.HasPrefix(sign, to.Sign)
				}
				assert.True(t, there, "%s: %s: %s", name, look.At, look.Means)
			}
		}
	}
	assert.Positive(t, sent)
}

// TestEachShippedCardDefersToTheMaker: checks.md, its head: nothing replaces the engine's handbook.
func TestEachShippedCardDefersToTheMaker(t *testing.T) {
	for name, card := range shippedCards(t) {
		assert.Contains(t, card.Caution, "The maker's manual comes first; in doubt a licensed mechanic.", name)
	}
}

// TestNoShippedCardLeavesTheSeacockShut: whatever says to shut one says afterwards when it is opened (checks.md section 4, opening the strainer and
// starting with it shut); and what opens the raw-water side says in the same breath to shut it first and to open it in the end.
func TestNoShippedCardLeavesTheSeacockShut(t *testing.T) {
	shut := regexp.MustCompile(`(?i)seacock shut|shut the seacock`)
	open := regexp.MustCompile(`(?i)\bopen\b`)
	opening := regexp.MustCompile(`(?i)lid off|cover off|caps off|hose off, look`)
	shuts, opens := 0, 0
	reopened := func(where, text string) {
		if places := shut.FindAllStringIndex(text, -1); len(places) > 0 {
			shuts++
			assert.Regexp(t, open, text[places[len(places)-1][1]:], "%s: %s", where, text)
		}
	}
	for name, card := range shippedCards(t) {
		reopened(name, card.Caution)
		for _, look := range card.Looks {
			where := name + ": " + look.At
			reopened(where, look.How+" "+look.Means)
			if at := opening.FindStringIndex(look.How); at != nil {
				opens++
				assert.Regexp(t, shut, look.How[:at[0]], where)
				assert.Regexp(t, open, look.How[at[1]:], where)
			}
		}
	}
	assert.GreaterOrEqual(t, shuts, 15)
	assert.GreaterOrEqual(t, opens, 8)
}

// TestTheDemoBoatBorrowsTheStartersCards, byte for byte, and is a folder like any other.
func TestTheDemoBoatBorrowsTheStartersCards(t *testing.T) {
	starter, demo := copyOf(t, Starter()), copyOf(t, Demo())
	cards, err := fs.Glob(Starter(), faultsDir+"/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, cards)
	for _, name := range cards {
		require.Contains(t, demo, name)
		assert.Equal(t, string(starter[name].Data), string(demo[name].Data), name)
	}
	assert.NotEqual(t, string(starter["boat.toml"].Data), string(demo["boat.toml"].Data))
	require.NoError(t, fstest.TestFS(Demo(), append(cards, "boat.toml", "rounds/before-departure.toml")...))
	_, err = Demo().Open("none.toml")
	require.ErrorIs(t, err, fs.ErrNotExist)
}

func TestInitWritesTheFaultCards(t *testing.T) {
	for name, files := range map[string]fs.FS{"demo": Demo(), "starter": Starter()} {
		dir := path.Join(t.TempDir(), name)
		require.NoError(t, Init(dir, files))
		there, err := Load(os.DirFS(dir))
		require.NoError(t, err)
		here, err := Load(files)
		require.NoError(t, err)
		assert.Len(t, there.Definitions.Cards, 12, name)
		assert.Equal(t, here.Definitions, there.Definitions, name)
	}
}
