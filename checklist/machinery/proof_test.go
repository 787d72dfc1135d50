package machinery

import (
	"math"
	"testing"
	"time"

	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The proof of an invented repair of a raw-water pump, done at repairedAt; she left at leftAt.
var (
	repairedAt = time.Date(2026, 6, 12, 8, 0, 0, 0, time.UTC)
	leftAt     = repairedAt.Add(4 * time.Hour)

	atAnchor = Proof{At: ProofAtAnchor, RPM: 2300, For: 15 * time.Minute, CoolantMax: new(quantity.Temperature(84))}
	atSea    = Proof{
		At: ProofAtSea, RPM: 2300, For: 45 * time.Minute, Within: 2 * time.Hour, CoolantMax: new(quantity.Temperature(84)),
		Else: "turn back to the anchorage",
	}
)

// ran is a reading after so long at revs, so long after a moment.
func ran(since time.Time, after, held time.Duration, rpm int, coolant quantity.Temperature, change ...func(*Gauges)) Gauges {
	g := Gauges{At: since.Add(after), RPM: &rpm, AtRevs: held, Coolant: &coolant}
	for _, c := range change {
		c(&g)
	}
	return g
}

const minute = time.Minute

func TestProofAtAnchorIsPassedByAReadingAlone(t *testing.T) {
	later := repairedAt.Add(3 * time.Hour)
	tests := []struct {
		name     string
		readings []Gauges
		want     Standing
		why      string
	}{
		{"nothing read", nil, ProofWaiting, "wants 15 min at 2300 rpm or more, coolant at or below 84 °C"},
		{"all as asked", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, 84, moored)}, ProofPassed, "15 min at 2300 rpm, coolant 84 °C"},
		{"more revs", []Gauges{ran(repairedAt, 30*minute, 20*minute, 2600, 83)}, ProofPassed, "20 min at 2600 rpm, coolant 83 °C"},
		{"a division of the counter less", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2250, 80)}, ProofPassed, "15 min at 2250 rpm"},
		{"too few revs", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2249, 80)}, ProofWaiting, "the last reading was at 2249 rpm; wants 15 min"},
		{"too short", []Gauges{ran(repairedAt, 20*minute, 15*minute-time.Second, 2300, 80)}, ProofWaiting, "the last reading held the revs for 14 min; wants"},
		{"begun before the repair", []Gauges{ran(repairedAt, 10*minute, 60*minute, 2300, 80)}, ProofWaiting, "held the revs for 10 min"},
		{"taken before the repair", []Gauges{ran(repairedAt, -minute, 15*minute, 2300, 80)}, ProofWaiting, "wants 15 min"},
		{"taken later than now", []Gauges{ran(later, minute, 15*minute, 2300, 80)}, ProofWaiting, "wants 15 min"},
		{"without its minutes", []Gauges{ran(repairedAt, 20*minute, 0, 2300, 80)}, ProofWaiting, "does not say how long"},
		{"without its revs", []Gauges{ran(repairedAt, 20*minute, 15*minute, 0, 80, noRevs)}, ProofWaiting, "does not say the revs"},
		{"without the coolant", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, 0, noCoolant)}, ProofWaiting, "does not say the coolant"},
		{"a coolant mistyped", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, 8)}, ProofWaiting, "coolant at 8 °C, which no engine under load has"},
		{"a coolant that is no number", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, quantity.Temperature(math.NaN()))}, ProofWaiting, "which no engine under load has"},
		{"too hot", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, 84.1)}, ProofFailed, "coolant 84 °C, 0.1 °C above the 84 °C that it must not pass"},
		{"too hot before the time is over", []Gauges{ran(repairedAt, 5*minute, 3*minute, 1800, 86)}, ProofFailed, "coolant 86 °C"},
		{"little water", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, 80, waterOf(WaterLittle))}, ProofFailed, "little water at the exhaust"},
		{"no water", []Gauges{ran(repairedAt, 2*minute, minute, 900, 40, waterOf(WaterNone))}, ProofFailed, "no water at the exhaust"},
		{"steam", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, 80, waterOf(WaterSteam))}, ProofFailed, "steam at the exhaust"},
		{"usual water", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, 80, waterOf(WaterUsual))}, ProofPassed, ""},
		{"no water from an engine that stands", []Gauges{ran(repairedAt, 20*minute, 0, 0, 60, waterOf(WaterNone))}, ProofWaiting, ""},
		{"good, then too hot", []Gauges{ran(repairedAt, 60*minute, 30*minute, 2300, 88), ran(repairedAt, 20*minute, 15*minute, 2300, 80)}, ProofFailed, "coolant 88 °C"},
		{"too hot, then good", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, 88), ran(repairedAt, 60*minute, 30*minute, 2300, 80)}, ProofFailed, "coolant 88 °C"},
		{"short, then long enough", []Gauges{ran(repairedAt, 5*minute, 5*minute, 2300, 80), ran(repairedAt, 20*minute, 15*minute, 2300, 80)}, ProofPassed, ""},
		{"long enough, then short", []Gauges{ran(repairedAt, 20*minute, 15*minute, 2300, 80), ran(repairedAt, 40*minute, 5*minute, 2300, 80)}, ProofPassed, "15 min at 2300 rpm"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := atAnchor.Outcome(test.readings, repairedAt, later, quantity.Metric)
			assert.Equal(t, test.want, got.Standing, got.Why)
			assert.Contains(t, got.Why, test.why)
			assert.Equal(t, test.want != ProofWaiting, got.By != nil)
		})
	}
}

// One drip in 30 s after a pump job is not a pass, nor is any other word.
func TestNoteProvesNothing(t *testing.T) {
	notes := []Gauges{
		{At: repairedAt.Add(20 * minute), Note: "one drip in 30 s, all good"},
		{At: repairedAt.Add(30 * minute), Note: "2300 rpm for 15 min, coolant 80 °C: passed", Water: WaterUsual},
	}
	got := Prove([]Proof{atAnchor, atSea}, notes, repairedAt, time.Time{}, repairedAt.Add(time.Hour), quantity.Metric)
	assert.Equal(t, ProofWaiting, got.Standing)
	assert.True(t, got.Stops)

	rapid.Check(t, func(t *rapid.T) {
		g := anyGauges().Draw(t, "reading")
		from := g.At.Add(-time.Hour)
		silent := atAnchor.Outcome([]Gauges{g}, from, g.At, quantity.Metric)
		g.Note = rapid.String().Draw(t, "note")
		assert.Equal(t, silent.Standing, atAnchor.Outcome([]Gauges{g}, from, g.At, quantity.Metric).Standing)
	})
}

func TestProofAtSeaHasItsDeadline(t *testing.T) {
	good := ran(leftAt, 50*minute, 45*minute, 2300, 82)
	deadline := leftAt.Add(2 * time.Hour)
	tests := []struct {
		name     string
		readings []Gauges
		now      time.Time
		want     Standing
		why      string
	}{
		{"on the deadline", nil, deadline, ProofWaiting, "wants 45 min at 2300 rpm or more, coolant at or below 84 °C"},
		{"past the deadline", nil, deadline.Add(time.Second), ProofMissed, "not proved within 2 h: wanted 45 min at 2300 rpm or more"},
		{"in time", []Gauges{good}, deadline.Add(time.Hour), ProofPassed, "45 min at 2300 rpm, coolant 82 °C"},
		{"read on the deadline", []Gauges{ran(leftAt, 2*time.Hour, 45*minute, 2300, 82)}, deadline.Add(time.Hour), ProofPassed, ""},
		{"read after it", []Gauges{ran(leftAt, 2*time.Hour+time.Second, 45*minute, 2300, 82)}, deadline.Add(time.Hour), ProofMissed, ""},
		{"hot after it", []Gauges{ran(leftAt, 3*time.Hour, 45*minute, 2300, 92)}, deadline.Add(2 * time.Hour), ProofMissed, ""},
		{"moored again", []Gauges{ran(leftAt, 50*minute, 45*minute, 2300, 82, moored)}, deadline, ProofWaiting, ""},
		{"run counted from the departure", []Gauges{ran(leftAt, 30*minute, 3*time.Hour, 2300, 82)}, deadline, ProofWaiting, "held the revs for 30 min"},
		{"too hot", []Gauges{ran(leftAt, 20*minute, 20*minute, 2300, 85)}, deadline, ProofFailed, "coolant 85 °C"},
		{"too hot, then good", []Gauges{good, ran(leftAt, 20*minute, 20*minute, 2300, 85)}, deadline, ProofFailed, "coolant 85 °C"},
		{"good, then too hot: a new defect", []Gauges{ran(leftAt, 90*minute, 20*minute, 2300, 85), good}, deadline, ProofPassed, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := atSea.Outcome(test.readings, leftAt, test.now, quantity.Metric)
			assert.Equal(t, test.want, got.Standing, got.Why)
			assert.Contains(t, got.Why, test.why)
			assert.Equal(t, deadline, got.Deadline)
		})
	}
	waits := atSea.Outcome([]Gauges{good}, time.Time{}, deadline, quantity.US)
	assert.Equal(t, ProofWaiting, waits.Standing)
	assert.Equal(t, "not left yet; under way it wants 45 min at 2300 rpm or more, coolant at or below 183 °F", waits.Why)
	assert.Zero(t, waits.Deadline)
}

func TestProofWithoutCoolantAsksForRevsAndTimeAlone(t *testing.T) {
	p := Proof{At: ProofAtAnchor, RPM: 1500, For: 15 * minute}
	got := p.Outcome([]Gauges{ran(repairedAt, 20*minute, 15*minute, 1500, 0, noCoolant)}, repairedAt, leftAt, quantity.Metric)
	assert.Equal(t, ProofPassed, got.Standing)
	assert.Equal(t, "15 min at 1500 rpm", got.Why)
}

func TestRepairIsProvedInTwoStages(t *testing.T) {
	anchored := ran(repairedAt, 20*minute, 15*minute, 2300, 82, moored)
	hotAtAnchor := ran(repairedAt, 40*minute, 5*minute, 2300, 90, moored)
	sailed := ran(leftAt, 50*minute, 45*minute, 2300, 83)
	hotAtSea := ran(leftAt, 30*minute, 30*minute, 2300, 90)
	muchLater := ran(leftAt, 30*24*time.Hour, 30*minute, 2300, 94)
	over := leftAt.Add(3 * time.Hour)
	tests := []struct {
		name               string
		readings           []Gauges
		left, now          time.Time
		want               Standing
		stops, conditional bool
	}{
		{"just repaired", nil, time.Time{}, leftAt, ProofWaiting, true, false},
		{"passed at anchor", []Gauges{anchored}, time.Time{}, leftAt, ProofWaiting, false, true},
		{"failed at anchor", []Gauges{anchored, hotAtAnchor}, time.Time{}, leftAt, ProofFailed, true, false},
		{"under way, time left", []Gauges{anchored}, leftAt, leftAt.Add(time.Hour), ProofWaiting, false, true},
		{"passed both", []Gauges{anchored, sailed}, leftAt, over, ProofPassed, false, false},
		{"passed both, hot a month later", []Gauges{anchored, sailed, muchLater}, leftAt, muchLater.At, ProofPassed, false, false},
		{"missed at sea", []Gauges{anchored}, leftAt, over, ProofMissed, true, false},
		{"failed at sea", []Gauges{anchored, hotAtSea}, leftAt, over, ProofFailed, true, false},
		{"failed at sea after it passed at anchor, then good", []Gauges{anchored, hotAtSea, sailed}, leftAt, over, ProofFailed, true, false},
		{"left unproved", nil, leftAt, leftAt.Add(time.Hour), ProofWaiting, true, false},
		{"left unproved, passed at sea", []Gauges{sailed}, leftAt, over, ProofPassed, false, false},
		{"failed at anchor, left, good at sea", []Gauges{hotAtAnchor, sailed}, leftAt, over, ProofFailed, true, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := Prove([]Proof{atAnchor, atSea}, test.readings, repairedAt, test.left, test.now, quantity.Metric)
			assert.Equal(t, test.want, got.Standing, got.Why)
			assert.Equal(t, test.stops, got.Stops)
			assert.Equal(t, test.conditional, got.Conditional)
			require.Len(t, got.Outcomes, 2)
			isRunning := !test.left.IsZero() && got.Outcomes[1].Standing == ProofWaiting
			assert.Equal(t, isRunning, got.Deadline.Equal(leftAt.Add(2*time.Hour)))
			assert.Equal(t, test.want == ProofFailed, got.Standing == ProofFailed && got.By != nil)
		})
	}

	later := atSea
	later.Within = 3 * time.Hour
	two := Prove([]Proof{later, atSea, later}, []Gauges{anchored}, repairedAt, leftAt, leftAt.Add(time.Hour), quantity.Metric)
	assert.Equal(t, leftAt.Add(2*time.Hour), two.Deadline, "the first of the deadlines")

	none := Prove(nil, []Gauges{anchored, sailed}, repairedAt, leftAt, over, quantity.Metric)
	assert.Equal(t, ProofWaiting, none.Standing, "nothing asked for proves nothing")
	assert.True(t, none.Stops)
}

// A hotter engine proves nothing that a cooler one does not.
func TestHotterReadingNeverHelpsAProof(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		readings := rapid.SliceOfN(anyGauges(), 1, 8).Draw(t, "readings")
		p := rapid.SampledFrom([]Proof{atAnchor, atSea}).Draw(t, "proof")
		from := noonOfReading.Add(-70 * 24 * time.Hour)
		p.Within = rapid.SampledFrom([]time.Duration{0, 60 * 24 * time.Hour}).Draw(t, "within")
		before := p.Outcome(readings, from, noonOfReading, quantity.Metric)
		for i := range readings {
			readings[i].Coolant = new(max(ColdestProof, *readings[i].Coolant) + quantity.Temperature(rapid.Float64Range(55, 100).Draw(t, "hotter")))
		}
		after := p.Outcome(readings, from, noonOfReading, quantity.Metric)
		assert.NotEqual(t, ProofPassed, after.Standing)
		if before.Standing == ProofFailed {
			assert.Equal(t, ProofFailed, after.Standing)
		}
	})
}

func TestOrderOfTheReadingsDoesNotMatterToAProof(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		readings := rapid.SliceOfNDistinct(anyGauges(), 0, 8, func(g Gauges) int64 { return g.At.Unix() }).Draw(t, "readings")
		from := noonOfReading.Add(-30 * 24 * time.Hour)
		want := atSea.Outcome(readings, from, noonOfReading, quantity.Metric)
		got := atSea.Outcome(rapid.Permutation(readings).Draw(t, "shuffled"), from, noonOfReading, quantity.Metric)
		assert.Equal(t, want, got)
	})
}
