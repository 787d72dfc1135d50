package checklist

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// sheetOf is the sheet of a boat as she stands in the evening.
func sheetOf(d Definitions, s State) Sheet { return NewSheet(d, s, Assess(d, s, evening)) }

// told is all that the sheet says, a row or a line each.
func (s Sheet) told() string {
	var b strings.Builder
	for _, part := range s.Parts {
		for _, row := range part.Rows {
			b.WriteString(row.Name + ": " + row.Text + "\n")
		}
		b.WriteString(strings.Join(part.Lines, "\n") + "\n")
	}
	return b.String()
}

func ashoreBoat() Definitions {
	d := fitBoat()
	d.Plan.Ashore = passage.Ashore{Name: "The harbour office (invented)", Reports: 12 * time.Hour, Overdue: 36 * time.Hour, Then: "Call her,\nthen the rescue centre"}
	return d
}

// Worked by hand: 120 nm at half the time under sail at 5*0.7 kn and half under engine at
// 5.25 kn (the curve at 2000 rpm) is 4.375 kn, so 27 h 25 min 42.9 s; she leaves on 12 June at
// 06:00 +12:00 and is in at 09:25:43 on the 13th, told as 09:26; 36 h later it is 21:26 on the
// 14th, and 09:26 in UTC.
func TestWorryBeginsAfterTheSlowArrival(t *testing.T) {
	sheet := sheetOf(ashoreBoat(), State{})
	assert.Equal(t, time.Date(2026, 6, 13, 9, 26, 0, 0, aboardZone), sheet.Latest)
	assert.Equal(t, time.Date(2026, 6, 14, 21, 26, 0, 0, aboardZone), sheet.Worry)
	require.NotEmpty(t, sheet.Parts)
	assert.True(t, sheet.Parts[0].Leads)
	told := sheet.told()
	for _, line := range []string{
		"Leaves: Here, Fri 12 Jun 2026 06:00 (UTC+12:00) = Thu 11 Jun 2026 18:00 UTC",
		"Latest expected: There, Sat 13 Jun 2026 09:26 (UTC+12:00) = Fri 12 Jun 2026 21:26 UTC",
		"Worry from: Sun 14 Jun 2026 21:26 (UTC+12:00) = Sun 14 Jun 2026 09:26 UTC; 36 h after the latest she is expected",
		"She reports: every 12 h", "Then: Call her, then the rescue centre", "Aboard: 2",
		"Sign-off: NOT SIGNED OFF: this is a plan that the skipper has not confirmed",
	} {
		assert.Contains(t, told, line+"\n")
	}
}

func TestNoTimeToWorryIsMadeUp(t *testing.T) {
	d := ashoreBoat()
	d.Plan.Ashore.Overdue = 0
	sheet := sheetOf(d, State{})
	assert.True(t, sheet.Worry.IsZero())
	assert.Contains(t, sheet.told(), "Worry from: no time is written (overdue under [ashore] in passage.toml). Agree on one and write it here: ___")

	d = ashoreBoat()
	d.Plan.Legs[0].Current = -4 // slow: 0.375 kn made good, which is no way (design 4.1)
	sheet = sheetOf(d, State{})
	assert.True(t, sheet.Latest.IsZero())
	assert.True(t, sheet.Worry.IsZero())
	assert.Contains(t, sheet.told(), "Latest expected: cannot be told: in the slow case she does not make every leg")
	assert.Contains(t, sheet.told(), "slow does not get there")
}

// A sheet made under way tells the times of the departure in the record, however late it is
// made: a time to worry that is reckoned anew wanders on for ever.
func TestTimeToWorryDoesNotWanderUnderWay(t *testing.T) {
	d := ashoreBoat()
	left := d.Plan.Depart.Add(20 * time.Minute)
	arrive := left.Add(27 * time.Hour)
	s := State{Voyage: &Voyage{Depart: DepartState{Stamp{Seq: 3, At: left}, Depart{
		Passage: d.Plan.Name, Crew: 3, Cases: []SignedCase{{Case: "slow", Made: true, Arrive: arrive}, {Case: "expected"}},
	}}}}
	for _, later := range []time.Duration{time.Hour, 20 * time.Hour, 90 * time.Hour} {
		now := left.Add(later)
		sheet := NewSheet(d, s, Assess(d, s, now))
		assert.True(t, sheet.HasLeft)
		assert.Equal(t, left, sheet.Depart)
		assert.Equal(t, arrive, sheet.Latest)
		assert.Equal(t, arrive.Add(36*time.Hour), sheet.Worry)
		assert.Equal(t, 3, sheet.Crew)
		assert.Contains(t, sheet.told(), "Left: Here, Fri 12 Jun 2026 06:20 (UTC+12:00)")
		assert.Contains(t, sheet.told(), "There: expected does not get there; slow Sat 13 Jun 09:20")
	}
	in := left.Add(25 * time.Hour)
	s.Voyage.Arrived = &ArriveState{Stamp{Seq: 4, At: in}, Arrive{Place: "There"}}
	assert.Contains(t, NewSheet(d, s, Assess(d, s, in.Add(time.Hour))).told(), "Arrived: There, Sat 13 Jun 2026 07:20 (UTC+12:00) = Fri 12 Jun 2026 19:20 UTC, by her record")

	again := d // the same passage, planned anew for another year
	again.Plan.Depart = d.Plan.Depart.AddDate(1, 0, 0)
	assert.False(t, NewSheet(again, s, Assess(again, s, again.Plan.Depart.Add(-time.Hour))).HasLeft)
	s.Voyage.Arrived = nil
	s.Voyage.Depart.Passage = "another"
	assert.False(t, sheetOf(d, s).HasLeft)

	// Not told to the record: then it says that the times are not those of a departure.
	now := d.Plan.Depart.Add(5 * time.Hour)
	assert.Contains(t, NewSheet(d, State{}, Assess(d, State{}, now)).told(), "is past: all times here are as if she left when this sheet was made")
}

func TestSheetTellsNoMoreOfPeopleThanTheSkipperWrote(t *testing.T) {
	told := sheetOf(fitBoat(), State{}).told()
	for _, name := range append([]string{"Ashore", "By way of", "Her limit", "Signed off", "First digits", "Sealed water"}, "Call sign", "MMSI", "Registration", "Beacon identity", "Hull", "Sails", "Raft") {
		assert.NotContains(t, told, "\n"+name+": ")
	}
	assert.Contains(t, told, "She reports: not written")
	assert.Contains(t, told, "Then: not written")
	assert.Contains(t, told, "\nName: Test Petrel\n")

	d := fitBoat()
	d.Boat.Identity = []Identity{{"call_sign", "(invented) TP1"}, {"raft", "6 persons"}}
	told = sheetOf(d, State{}).told()
	assert.Contains(t, told, "\nCall sign: (invented) TP1\nRaft: 6 persons\n")
	assert.NotContains(t, told, "MMSI")
}

func TestOnlyGearForBeingFoundIsOnTheSheet(t *testing.T) {
	d := fitBoat()
	d.Dated = []machinery.Dated{
		{Name: "EPIRB battery", Until: quantity.Date{Year: 2026, Month: 6, Day: 12}},
		{Name: "liferaft service", Until: quantity.Date{Year: 2026, Month: 6, Day: 13}}, // counts on its last day, the day of the slow arrival
		{Name: "hand flares"}, {Name: "medicines", Until: quantity.Date{Year: 2027, Month: 1, Day: 1}},
	}
	told := sheetOf(d, State{}).told()
	assert.Contains(t, told, "EPIRB battery: until 2026-06-12: THAT IS BEFORE THE LATEST SHE IS EXPECTED\n")
	assert.Contains(t, told, "Good until: liferaft service 2026-06-13\n")
	assert.Contains(t, told, "hand flares: no date is written: do not count on it\n")
	assert.NotContains(t, told, "medicines")
}

func TestSheetHoldsTheFirstEightDigitsOfTheSignOff(t *testing.T) {
	d := ashoreBoat()
	s := State{Signed: &SignState{Stamp{Seq: 9, At: evening.Add(-time.Hour), Sum: "0123abcd" + strings.Repeat("f", 56)}, Sign{Name: "Mara", Definitions: d.Sum, Depart: d.Plan.Depart}}}
	a := Assess(d, s, evening)
	a.SignOff.InForce, a.SignOff.Lapsed = true, ""
	sheet := NewSheet(d, s, a)
	assert.Equal(t, "0123abcd", sheet.Digits)
	assert.Contains(t, sheet.told(), "First digits: 0123abcd\n")
	assert.Contains(t, sheet.told(), "Signed off: by Mara, Thu 11 Jun 2026 17:00 (UTC+12:00)")
	assert.NotContains(t, sheet.told(), "NOT SIGNED OFF")

	a.SignOff.InForce, a.SignOff.Lapsed = false, "the boat's files were changed since"
	told := NewSheet(d, s, a).told()
	assert.Contains(t, told, "NOT SIGNED OFF: what Mara signed on")
	assert.Contains(t, told, "no longer holds: the boat's files were changed since")
}

// Worked by hand: two drink and cook 4 L each a day, and 27.43 h of the slow case need 9.2 L;
// 20 L are held back and 5 L lie below the pick-up. Of 35 L 30 can be had, of 30 L 25, of 10 L 5.
func TestWhatDoesNotLastIsMarked(t *testing.T) {
	for litres, want := range map[float64]string{
		35: "held back: 20 L\n", 30: "held back: 20 L. SHORT: the reserve is needed\n", 10: "held back: 20 L. SHORT: gone before the passage is over\n",
	} {
		d := fitBoat()
		d.Boat.Tanks[0].Level.Amount = provisions.Amount(litres)
		_, water, _ := strings.Cut(sheetOf(d, State{}).told(), "\nWater: ")
		assert.True(t, strings.HasSuffix(water[:strings.Index(water, "\n")+1], want), "%v L: %s", litres, water)
	}
}

// Degrees and minutes worked by hand; a minute that rounds up to 60 is the next degree.
func TestPositionsAreToldInDegreesAndMinutes(t *testing.T) {
	for _, row := range []struct {
		at   passage.Position
		want string
	}{
		{passage.Position{Lat: -23.63, Lon: -178.90}, "23-37.8S 178-54.0W"},
		{passage.Position{Lat: 0, Lon: 5.1}, "0-00.0N 5-06.0E"},
		{passage.Position{Lat: 35.99999, Lon: 179.99999}, "36-00.0N 180-00.0E"},
	} {
		assert.Equal(t, row.want, row.at.String())
	}
}

// Whatever the plan: the times on the sheet are the assessment's, and the order holds.
func TestSheetTakesItsTimesFromTheAssessment(t *testing.T) {
	met := false
	rapid.Check(t, func(t *rapid.T) {
		d := ashoreBoat()
		d.Plan.Crew = rapid.IntRange(1, 20).Draw(t, "crew")
		d.Plan.Depart = evening.Add(time.Duration(rapid.IntRange(-48, 480).Draw(t, "h")) * time.Hour)
		d.Plan.Ashore.Overdue = time.Duration(rapid.IntRange(0, 5000).Draw(t, "minutes")) * time.Minute
		d.Plan.Legs[0].Current = quantity.Speed(rapid.Float64Range(-5, 2).Draw(t, "current"))
		a := Assess(d, State{}, evening)
		sheet := NewSheet(d, State{}, a)
		arrive := a.Reckoning.Cases[passage.Slow].Voyage.Arrive()
		if sheet.Depart != a.Reckoning.Depart || sheet.Latest.IsZero() != arrive.IsZero() || sheet.Latest.Sub(arrive) < 0 || sheet.Latest.Sub(arrive) >= time.Minute {
			t.Fatalf("latest %s, slow arrival %s", sheet.Latest, arrive)
		}
		if known := !arrive.IsZero() && d.Plan.Ashore.Overdue > 0; known != !sheet.Worry.IsZero() || known && sheet.Worry.Sub(arrive) < d.Plan.Ashore.Overdue {
			t.Fatalf("worry %s, slow arrival %s, after %s", sheet.Worry, arrive, d.Plan.Ashore.Overdue)
		}
		if !strings.Contains(sheet.told(), fmt.Sprintf("Aboard: %d", d.Plan.Crew)) {
			t.Fatal("crew")
		}
		met = met || !sheet.Worry.IsZero()
	})
	assert.True(t, met)
}
