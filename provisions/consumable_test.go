package provisions

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
)

// used is a consumable as it is in the passage worked by hand at TestPassageWorkedByHand:
// slow 8 days, 48 h under engine and 1.5 h of charging on each of the other six days.
func used(t *testing.T, c Consumable, a Aboard) ConsumableFigures {
	t.Helper()
	b := cruiser()
	b.Consumables = []Consumable{c}
	s := situation(b, outAndOn())
	s.Aboard = a
	list := s.Consumables(reckoned(b, outAndOn(), a, handVoyages(), galley{}))
	require.Len(t, list, 1)
	return list[0]
}

// No published table; the arithmetic stands beside each row.
func TestConsumablesWorkedByHand(t *testing.T) {
	for _, row := range []struct {
		name                     string
		c                        Consumable
		need, left, short, lasts float64
		packs                    int
		price                    float64
	}{
		{"by the day: 8 x 0.25", Consumable{Day: 0.25, Aboard: 3, Reserve: 0.5}, 2, 1, 0, 10, 0, 0},
		{"by the person and day: 3 x 8 x 0.125", Consumable{Person: 0.125, Aboard: 2, Pack: 4, Price: 3}, 3, 0, 1, 2 / 0.375, 1, 3},
		{"by the engine hour: 24 + 24 + 6 x 1.5 = 57 h x 0.1", Consumable{EngineHour: 0.1, Aboard: 5, Reserve: 1, Pack: 1, Price: 9}, 5.7, 0, 1.7, -1, 2, 18},
		{"a sum: 2 + 3 + 5.7", Consumable{Day: 0.25, Person: 0.125, EngineHour: 0.1, Aboard: 20}, 10.7, 9.3, 0, -1, 0, 0},
		{"one by one without a pack", Consumable{Day: 1, Aboard: 5.5}, 8, 0, 2.5, 5.5, 3, 0},
		{"nothing aboard", Consumable{Day: 1, Pack: 100}, 8, 0, 8, 0, 1, 0},
		{"less than the reserve", Consumable{Day: 0.5, Aboard: 1, Reserve: 2, Pack: 0.5}, 4, 0, 5, 0, 10, 0},
	} {
		f := used(t, row.c, Aboard{})
		assert.Equal(t, passage.Slow, f.Hard, row.name)
		assert.InDelta(t, row.need, f.Need, 1e-9, row.name)
		assert.InDelta(t, row.left, f.Left, 1e-9, row.name)
		assert.InDelta(t, row.short, f.Short, 1e-9, row.name)
		assert.Equal(t, row.packs, f.Packs, row.name)
		assert.InDelta(t, row.price, f.Price, 1e-9, row.name)
		if row.lasts >= 0 {
			assert.InDelta(t, row.lasts, f.Lasts.Days, 1e-9, row.name)
		}
	}
	assert.True(t, used(t, Consumable{Aboard: 1}, Aboard{}).Lasts.Never, "nothing of it is used")
}

// Counted 36 h before she leaves: 1.5 days of three persons at 0.125 and of 0.25 a day are
// 0.9375; the meter ran 2 h from the count to 12 h before, then it charges 0.75 h: 0.275.
func TestCountedConsumableIsUsedUntilTheDeparture(t *testing.T) {
	a := Aboard{
		Consumables: map[string]Counted{"oil": {Amount: 5, At: hoursBefore(36)}},
		Meter:       []Meter{{At: hoursBefore(40), Hours: 1490}, {At: hoursBefore(12), Hours: 1492}},
	}
	c := Consumable{Name: "oil", Day: 0.25, Person: 0.125, EngineHour: 0.1, Aboard: 99}
	f := used(t, c, a)
	assert.InDelta(t, 5-0.9375-0.275, f.Available, 1e-9)
	assert.Equal(t, hoursBefore(36), f.Counted)

	a.Meter = nil
	assert.InDelta(t, 5-0.9375-0.1*1.5*1.5, used(t, c, a).Available, 1e-9, "never read: by charging")
	a.Consumables["oil"] = Counted{Amount: 0.1, At: hoursBefore(360)}
	assert.Zero(t, used(t, c, a).Available, "not below nothing")
}

func TestConsumablesOfAPassageThatIsNotMade(t *testing.T) {
	b := cruiser()
	b.Consumables = []Consumable{{Day: 1}}
	s := situation(b, one(1))
	assert.Empty(t, s.Consumables(reckoned(b, one(1), Aboard{}, []passage.Voyage{unmade(passage.Slow, 0)}, galley{})))
}

// What is bought is enough, and one pack less is not.
func TestConsumablesPacksAreJustEnough(t *testing.T) {
	bought := 0
	untilMet(t, func() bool { return bought > 0 }, func(t *rapid.T) {
		s := anySituation(t)
		rate := func(name string) float64 { return float64(rapid.IntRange(0, 20).Draw(t, name)) / 10 }
		c := Consumable{Name: "it", Day: rate("day"), Person: rate("person"), EngineHour: rate("engine hour"),
			Aboard: 5 * rate("aboard"), Reserve: rate("reserve"), Pack: 0.1 + rate("pack")}
		s.Boat.Consumables = []Consumable{c}
		r := s.Reckon()
		f := s.Consumables(r)[0]
		for _, name := range passage.CaseNames {
			p := c.along(newHousehold(s.Boat, s.Plan).follow(r.Cases[name].Voyage), float64(s.Plan.Crew))
			need, _ := p.need(likeGas)
			require.LessOrEqual(t, need, f.Need+1e-6)
		}
		s.Boat.Consumables[0].Aboard = c.Aboard + float64(f.Packs)*c.Pack
		require.Zero(t, s.Consumables(r)[0].Short)
		if f.Packs > 0 {
			bought++
			s.Boat.Consumables[0].Aboard -= c.Pack
			require.Positive(t, s.Consumables(r)[0].Short)
		} else {
			require.LessOrEqual(t, f.Need+c.Reserve, f.Available+1e-6)
		}
		s.Aboard.Consumables = map[string]Counted{"it": {Amount: c.Aboard, At: sails.Add(-24 * time.Hour)}}
		require.LessOrEqual(t, s.Consumables(r)[0].Available, c.Aboard)
	})
}
