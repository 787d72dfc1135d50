package machinery

import (
	"testing"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
)

func day(year int, month time.Month, d int) quantity.Date {
	return quantity.Date{Year: year, Month: month, Day: d}
}

// Rows of the reference, checks 7.11; the rule is common practice, no source.
func TestOnlyWholeNewFittingSparesCount(t *testing.T) {
	kit := []string{"gasket", "lubricant"}
	box := func(count int, condition Condition, fit Fit, has ...string) Stowed {
		return Stowed{Place: "box", Count: count, Condition: condition, Fit: fit, Has: has}
	}
	tests := []struct {
		name     string
		critical bool
		stowed   []Stowed
		want     int
	}{
		{"a whole one, one without its gasket, a used one", true, []Stowed{
			box(1, New, Proved, "gasket", "lubricant"), box(1, New, Proved, "lubricant"), box(1, Used, Proved, "gasket", "lubricant"),
		}, 1},
		{"three whole ones", true, []Stowed{box(3, New, Measured, "gasket", "lubricant")}, 3},
		{"two without seals", true, []Stowed{box(2, New, Proved)}, 0},
		{"doubtful and wrong ones", true, []Stowed{box(2, Doubtful, Proved, kit...), box(2, Wrong, Proved, kit...)}, 0},
		{"critical, and of unknown fit", true, []Stowed{box(2, New, Unknown, kit...)}, 0},
		{"not critical, and of unknown fit", false, []Stowed{box(2, New, Unknown, kit...)}, 2},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := Spare{Name: "impeller", With: kit, Critical: test.critical, Stowed: test.stowed, Need: map[passage.Kind]int{passage.Offshore: 2}}
			assert.Equal(t, test.want, s.Counts())
			assert.Equal(t, max(0, 2-test.want), s.Lacks(passage.Offshore))
			assert.Zero(t, s.Lacks(passage.Shift))
		})
	}
}

func TestWhatDoesNotCountSaysWhy(t *testing.T) {
	s := Spare{With: []string{"gasket"}, Critical: true, Stowed: []Stowed{
		{Place: "bow", Count: 1, Condition: Used}, {Place: "aft", Count: 1, Condition: New, Fit: Proved},
		{Place: "bunk", Count: 1, Condition: New, Fit: Unknown, Has: []string{"gasket"}}, {Place: "gone", Condition: Used},
	}}
	assert.Equal(t, []string{"one used in bow", "one without its gasket in aft", "one of unknown fit in bunk"}, s.WhyNot())
}

// Rows of the reference, checks 7.9.
func TestServicesFallDueByHoursOrDateWhicheverIsFirst(t *testing.T) {
	oil := Service{EveryHours: 150, EveryMonths: 12, Last: Done{Date: day(2025, 8, 31), Hours: 1250}}
	assert.Equal(t, Due{Hours: 1400, Date: day(2026, 8, 31)}, oil.Due())
	assert.False(t, oil.Due().By(1392.5, day(2026, 3, 1)), "7.5 h left")
	assert.True(t, oil.Due().By(1392.5+20, day(2026, 3, 2)), "20 h of motoring planned")
	assert.True(t, oil.Due().By(1400, day(2026, 3, 1)), "due now, 0.0 left")
	assert.True(t, oil.Due().By(1392.5, day(2026, 8, 31)), "due today by date")
	assert.False(t, Service{Resets: "fouling"}.Due().By(1e6, day(2100, 1, 1)), "a scrub comes due by need alone")

	// Month ends are clamped; Go's own AddDate would make them days late.
	for _, row := range []struct {
		last   quantity.Date
		months int
		want   quantity.Date
	}{
		{day(2019, 10, 31), 1, day(2019, 11, 30)},
		{day(2023, 1, 31), 1, day(2023, 2, 28)},
		{day(2024, 2, 29), 12, day(2025, 2, 28)},
		{day(2025, 8, 31), 6, day(2026, 2, 28)},
	} {
		assert.Equal(t, row.want, Service{EveryMonths: row.months, Last: Done{Date: row.last}}.Due().Date)
	}
}

func TestDatedGearEndsAfterItsDay(t *testing.T) {
	zone := time.FixedZone("", 13*60*60)
	beacon := Dated{Until: day(2026, 10, 31)}
	assert.False(t, beacon.Ends(time.Date(2026, 10, 31, 23, 59, 59, 0, zone)))
	assert.True(t, beacon.Ends(time.Date(2026, 11, 1, 0, 0, 0, 0, zone)))
	assert.True(t, Dated{}.Ends(time.Date(2000, 1, 1, 0, 0, 0, 0, zone)), "without a date it is missing")
}

func TestServiceNeverDoneIsDueAtOnce(t *testing.T) {
	assert.True(t, Service{EveryHours: 300}.Due().By(0, day(2000, 1, 1)))
	assert.True(t, Service{EveryMonths: 12}.Due().By(0, day(2000, 1, 1)))
}
