package checklist

import (
	"testing"
	"time"

	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPacksAreToldInOneLine(t *testing.T) {
	march := quantity.Date{Year: 2027, Month: time.March, Day: 1}
	for text, want := range map[string]Count{
		"3":                                     {Packs: 3},
		"2.5":                                   {Packs: 2.5},
		"0":                                     {},
		"1 pack":                                {Packs: 1},
		"4 packs 2027-03-01":                    {Packs: 4, BestBefore: march},
		"4 2027-03-01 in galley / locker":       {Packs: 4, BestBefore: march, Place: "galley / locker"},
		"4 best before 2027-03-01":              {Packs: 4, BestBefore: march},
		"4 best-before 2027-03-01 in a bin":     {Packs: 4, BestBefore: march, Place: "a bin"},
		"2 use by 2027-03-01":                   {Packs: 2, UseBy: march},
		"2 use-by 2027-03-01":                   {Packs: 2, UseBy: march},
		"2 bought 2027-03-01":                   {Packs: 2, Bought: march},
		"2 in cockpit / locker in the net, low": {Packs: 2, Place: "cockpit / locker in the net, low"},
	} {
		got, err := ParsePacks(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for text, says := range map[string]string{
		"":                   `"" is no number of packs; ` + howPacks,
		"-1":                 `"-1" is no number of packs; ` + howPacks,
		"nan":                `"nan" is no number of packs; ` + howPacks,
		"three":              `"three" is no number of packs; ` + howPacks,
		"3 tins":             `"tins" is not a date; write year-month-day, as "2027-02-01"`,
		"3 gone 2027-03-01":  `"gone 2027-03-01" is no date; ` + howPacks,
		"3 2027-02-30":       `"2027-02-30" is past its month's end; February 2027 has 28 days`,
		"3 2027-03-01 in":    "the place is missing; " + howPacks,
		"3 in":               "the place is missing; " + howPacks,
		"3 1 2027-03-01 bla": "",
	} {
		_, err := ParsePacks(text)
		require.Error(t, err, text)
		if says != "" {
			assert.Equal(t, says, err.Error(), text)
		}
	}
}

func TestALotThatIsOnNoListIsTold(t *testing.T) {
	d := lockers()
	got, err := d.ParseFound("biscuit 2 2027-03-01", "galley")
	require.NoError(t, err)
	assert.Equal(t, Count{Food: "biscuit", Packs: 2, Place: "galley", BestBefore: quantity.Date{Year: 2027, Month: time.March, Day: 1}}, got)
	got, err = d.ParseFound("biscuit 2 in bilge", "galley")
	require.NoError(t, err)
	assert.Equal(t, "bilge", got.Place)
	got, err = d.ParseFound("engine oil 4.5", "galley")
	require.NoError(t, err)
	assert.Equal(t, Count{Food: "engine oil", Packs: 4.5}, got, "a consumable has no lots")
	_, err = d.ParseFound("biscuit", "galley")
	refused(t, err, `"biscuit" tells no number of packs; write the food and how many, like "rice 2" or "rice 2 2027-03-01"`)
	_, err = d.ParseFound("biscit 3", "galley")
	require.ErrorContains(t, err, `did you mean "biscuit"?`)
}

func FuzzParsePacks(f *testing.F) {
	for _, text := range []string{"3", "4 2027-03-01 in galley", "2 use by 2027-01-01", "1e9", "in in in"} {
		f.Add(text)
	}
	d := lockers()
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParsePacks(text)
		if err == nil && !(c.Packs >= 0) {
			t.Fatalf("%q gives %v", text, c)
		}
		_, _ = d.ParseFound(text, "galley")
	})
}
