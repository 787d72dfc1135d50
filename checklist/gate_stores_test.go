package checklist

import (
	"testing"

	"boat/hoveshort/provisions"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// 120 nm in the slow case at 4.375 kn take 27.43 h, half of it under engine, and an hour a day
// of charging on the other half: the oil of 0.1 L an engine hour is worked out from the same
// engine hours that the report tells.
func TestAConsumableThatIsShortStandsInTheWayWhereItIsCritical(t *testing.T) {
	d := fitBoat()
	oil := provisions.Consumable{Name: "engine oil", Unit: "L", EngineHour: 0.1, Aboard: 1, Reserve: 1, Pack: 1, Critical: true}
	paper := provisions.Consumable{Name: "paper", Unit: "roll", Person: 0.2, Aboard: 20}
	d.Boat.Consumables = []provisions.Consumable{oil, paper}
	l := walked()
	a := l.assess(d, evening)
	require.Len(t, a.Blockers, 1)
	b := a.Blockers[0]
	assert.Equal(t, MatterEndurance, b.Matter)
	assert.Equal(t, "engine oil", b.Name)
	f := a.Consumables()[0]
	assert.InDelta(t, 0.1*a.Reckoning.Cases["slow"].EngineHours, f.Need, 1e-9)
	assert.InDelta(t, f.Need, f.Short, 1e-9, "what is aboard is the reserve")
	assert.Contains(t, b.Clears, `2 more, then: hoveshort count "engine oil" AMOUNT`)

	count, err := d.NewCount(Count{Food: "engine oil", Packs: 4})
	require.NoError(t, err)
	l.add(evening, count)
	a = l.assess(d, evening)
	assert.Empty(t, a.Blockers, "counted anew")
	assert.InDelta(t, 4, a.Consumables()[0].Available, 0.2)
	assert.Equal(t, "engine oil: 4 L", d.Words(count))

	d.Boat.Consumables[0].Critical, d.Boat.Consumables[0].Reserve = false, 9
	a = l.assess(d, evening)
	assert.Empty(t, a.Blockers)
	assert.Contains(t, a.Notes[len(a.Notes)-1], "engine oil: ")

	_, err = d.NewCount(Count{Food: "engine oil", Packs: 4, Place: "bilge"})
	refused(t, err, "engine oil is counted as a whole; leave date and place out")
	_, err = d.NewCount(Count{Food: "engin oil", Packs: 4})
	require.ErrorContains(t, err, `did you mean "engine oil"?`)
}
