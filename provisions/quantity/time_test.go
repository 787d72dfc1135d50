package quantity_test

import (
	"math"
	"testing"
	"time"
	_ "time/tzdata" // the zones, where the machine has none

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/quantity"
)

const (
	day         = 24 * time.Hour
	longest     = 36500 * day
	schema      = "reference/checks.md 7.9: W3C XML Schema part 2, appendix E"
	clampedRule = "reference/checks.md 7.9: the clamped rule"
)

func date(t require.TestingT, text string) quantity.Date {
	d, err := quantity.ParseDate(text)
	require.NoError(t, err)
	return d
}

func TestMonthsAreClampedToTheirLastDay(t *testing.T) {
	rows := []struct {
		from   string
		period quantity.Period
		want   string
		source string
	}{
		{"2019-10-31", quantity.Period{Months: 1}, "2019-11-30", clampedRule},
		{"2023-01-31", quantity.Period{Months: 1}, "2023-02-28", clampedRule},
		{"2024-02-29", quantity.Period{Months: 12}, "2025-02-28", clampedRule},
		{"2025-08-31", quantity.Period{Months: 6}, "2026-02-28", clampedRule},
		{"2025-08-31", quantity.Period{Months: 12}, "2026-08-31", "reference/checks.md 7.9: service due"},
		{"2000-01-31", quantity.Period{Months: -3}, "1999-10-31", schema},
		{"2000-01-12", quantity.Period{Rest: 33 * time.Hour}, "2000-01-13", schema},
		{"2000-04-30", quantity.Period{Months: 1, Rest: day}, "2000-05-31", "arithmetic: months first"},
		{"2024-01-31", quantity.Period{Months: 1}, "2024-02-29", "arithmetic: leap year"},
		{"2024-01-31", quantity.Period{Months: 13}, "2025-02-28", "arithmetic"},
		{"2023-12-15", quantity.Period{Months: 1}, "2024-01-15", "arithmetic: year's end"},
		{"2024-03-01", quantity.Period{Rest: -1}, "2024-02-29", "a begun day back is a whole one: rounded down"},
		{"2024-03-01", quantity.Period{Rest: day - 1}, "2024-03-01", "the rest in whole days, rounded down"},
		{"2024-03-01", quantity.Period{}, "2024-03-01", "no period, no change"},
	}

	for _, row := range rows {
		assert.Equal(t, row.want, row.period.AfterDate(date(t, row.from)).String(), "%s + %s: %s", row.from, row.period, row.source)
	}

	// reference/checks.md 7.9: the order matters (W3C XML Schema part 2, appendix E).
	assert.Equal(t, "2000-04-30", date(t, "2000-03-30").AddDays(1).AddMonths(1).String(), schema)
	assert.Equal(t, "2000-05-01", date(t, "2000-03-30").AddMonths(1).AddDays(1).String(), schema)
}

func TestPeriodsAddToMoments(t *testing.T) {
	moment := func(text string) time.Time {
		parsed, err := time.Parse(time.RFC3339Nano, text)
		require.NoError(t, err)
		return parsed
	}
	rows := []struct {
		from   string
		period quantity.Period
		want   string
		source string
	}{
		{"2000-01-12T12:13:14Z", quantity.Period{Months: 15, Rest: 5*day + 7*time.Hour + 10*time.Minute + 3300*time.Millisecond}, "2001-04-17T19:23:17.3Z", schema},
		{"2023-01-31T23:30:00+13:00", quantity.Period{Months: 1}, "2023-02-28T23:30:00+13:00", clampedRule + ", on the clock of its own offset"},
		{"2023-01-31T23:30:00Z", quantity.Period{Months: 1, Rest: time.Hour}, "2023-03-01T00:30:00Z", "arithmetic"},
		{"2019-10-31T06:00:00Z", quantity.Period{Months: 1}, "2019-11-30T06:00:00Z", clampedRule},
		{"2024-02-29T06:00:00Z", quantity.Period{Months: 12}, "2025-02-28T06:00:00Z", clampedRule},
	}

	for _, row := range rows {
		got := row.period.After(moment(row.from))
		assert.Equal(t, row.want, got.Format(time.RFC3339Nano), "%s + %s: %s", row.from, row.period, row.source)
	}
}

func drawDate(t *rapid.T, name string) quantity.Date {
	return quantity.Date{Year: 2000, Month: time.January, Day: 1}.AddDays(rapid.IntRange(-100_000, 100_000).Draw(t, name))
}

func drawPeriod(t *rapid.T, name string) quantity.Period {
	return quantity.Period{
		Months: rapid.IntRange(0, 1200).Draw(t, name+" months"),
		Rest:   time.Duration(rapid.Int64Range(0, int64(longest)).Draw(t, name+" rest")),
	}
}

func TestALaterStartNeverEndsEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first, later := drawDate(t, "first"), drawDate(t, "later")
		if later.Before(first) {
			first, later = later, first
		}
		p := drawPeriod(t, "period")
		clock := time.Duration(rapid.Int64Range(0, int64(day)-1).Draw(t, "clock"))

		require.False(t, p.AfterDate(later).Before(p.AfterDate(first)))
		require.False(t, p.After(later.In(time.UTC).Add(clock)).Before(p.After(first.In(time.UTC).Add(clock))))

		longer := quantity.Period{Months: p.Months + 1, Rest: p.Rest}
		require.True(t, longer.AfterDate(first).After(p.AfterDate(first)), "a month more is later")
	})
}

func TestMonthsKeepTheDayOrEndTheMonth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, months := drawDate(t, "from"), rapid.IntRange(-2000, 2000).Draw(t, "months")
		got := from.AddMonths(months)

		require.Equal(t, from.Year*12+int(from.Month)+months, got.Year*12+int(got.Month), "the month counted on")
		if got.Day != from.Day {
			require.Less(t, got.Day, from.Day)
			require.Equal(t, 1, got.AddDays(1).Day, "the month's last day")
		}
	})
}

func TestPeriodTextIsItsInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := drawPeriod(t, "period")
		if rapid.Bool().Draw(t, "months only") {
			want.Rest = 0
		}
		text, err := want.MarshalText()
		require.NoError(t, err)
		var got quantity.Period
		require.NoError(t, got.UnmarshalText(text))
		require.Equal(t, want, got)
	})
}

func TestPeriodsRead(t *testing.T) {
	rows := []struct {
		text  string
		want  quantity.Period
		print string
	}{
		{"18 months", quantity.Period{Months: 18}, "18 months"},
		{"1 month", quantity.Period{Months: 1}, "1 month"},
		{"2 month", quantity.Period{Months: 2}, "2 months"},
		{"0 months", quantity.Period{}, "0 days"},
		{"3 days", quantity.Period{Rest: 3 * day}, "3 days"},
		{"36 h", quantity.Period{Rest: 36 * time.Hour}, "36 h"},
		{"1 month 5 days", quantity.Period{Months: 1, Rest: 5 * day}, "1 month 5 days"},
	}

	for _, row := range rows {
		got, err := quantity.ParsePeriod(row.text)
		require.NoError(t, err, row.text)
		assert.Equal(t, row.want, got)
		assert.Equal(t, row.print, got.String())
		assert.Equal(t, row.want == quantity.Period{}, got.IsZero())
	}
}

func TestPeriodsRefused(t *testing.T) {
	rows := []struct{ text, want string }{
		{"", `"" is empty; write hours, as "36 h"`},
		{"1.5 months", `"1.5 months" is not a whole number of months; write whole months, or days`},
		{"1201 months", `"1201 months" is too long; write at most 1200 months`},
		{"99999999999999999999 months", `"99999999999999999999 months" is too long; write at most 1200 months`},
		{"-1 months", `"-1 months" is below zero; write 0 or more, as "36 h"`},
		{"18 Months", `"18 Months" has its unit spelt "Months"; write "18 months"`},
		{"18", `"18" has no unit; write "18 h"`},
		{"2 years", `"2 years" has an unknown unit, "years"; write hours, as "36 h" (also min, days, s)`},
		{"1 month 5 L", `"5 L" is a volume, not a duration; write hours, as "36 h"`},
	}

	for _, row := range rows {
		_, err := quantity.ParsePeriod(row.text)
		assert.EqualError(t, err, row.want)
	}
}

func TestDurationsRead(t *testing.T) {
	rows := []struct {
		text  string
		want  time.Duration
		print string
	}{
		{"90 min", 90 * time.Minute, "90 min"},
		{"36 h", 36 * time.Hour, "36 h"},
		{"5 days", 5 * day, "5 days"},
		{"1 day", day, "1 day"},
		{"1 days", day, "1 day"},
		{"45 s", 45 * time.Second, "45 s"},
		{"48 h", 2 * day, "2 days"},
		{"1.5 days", 36 * time.Hour, "36 h"},
		{"1.5 h", 90 * time.Minute, "90 min"},
		{"90min", 90 * time.Minute, "90 min"},
		{"0 min", 0, "0 days"},
		{"0.1 s", 100 * time.Millisecond, "0.1 s"},
		{"0.0000000005 s", 1, "0.000000001 s"}, // halves go up
		{"0.0000000004 s", 0, "0 days"},
		{"36500 days", longest, "36500 days"},
		{"3153599999.999999999 s", longest - 1, "3153599999.999999999 s"}, // nineteen digits, exact
	}

	for _, row := range rows {
		got, err := quantity.ParseDuration(row.text)
		require.NoError(t, err, row.text)
		assert.Equal(t, row.want, got, row.text)
		assert.Equal(t, row.print, quantity.FormatDuration(got))
	}
	assert.Equal(t, "-1.5 s", quantity.FormatDuration(-1500*time.Millisecond))
	assert.Equal(t, "-2 days", quantity.FormatDuration(-2*day))
}

func TestDurationsRefused(t *testing.T) {
	rows := []struct{ text, want string }{
		{"2 months", `"2 months": a month has no fixed length; write days`},
		{"1 month", `"1 month": a month has no fixed length; write days`},
		{"36", `"36" has no unit; write "36 h"`},
		{"", `"" is empty; write hours, as "36 h"`},
		{"-5 h", `"-5 h" is below zero; write 0 or more, as "36 h"`},
		{"5 L", `"5 L" is a volume, not a duration; write hours, as "36 h"`},
		{"36501 days", `"36501 days" is too long; write at most 36500 days`},
		{"36500.00001 days", `"36500.00001 days" is too long; write at most 36500 days`},
		{"3 H", `"3 H" has its unit spelt "H"; write "3 h"`},
		{"1h30", `"1h30" is not a plain number with a unit; write digits with at most one point, as "36 h"`},
		{"1 h 30 min", `"1 h 30 min" has an unknown unit, "h 30 min"; write hours, as "36 h" (also min, days, s)`},
		{"0.12345678901234567891 s", `"0.12345678901234567891 s" has too many digits; write at most 15`},
	}

	for _, row := range rows {
		_, err := quantity.ParseDuration(row.text)
		assert.EqualError(t, err, row.want)
	}
}

func TestDurationTextIsItsInverse(t *testing.T) {
	steps := []time.Duration{1, time.Millisecond, time.Second, time.Minute, time.Hour, day}
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.SampledFrom(steps).Draw(t, "step")
		want := step * time.Duration(rapid.Int64Range(0, int64(longest/step)).Draw(t, "steps"))
		got, err := quantity.ParseDuration(quantity.FormatDuration(want))
		require.NoError(t, err)
		require.Equal(t, want, got)
	})
}

func TestRoughDurations(t *testing.T) {
	rows := []struct {
		d                 time.Duration
		down, nearest, up string
	}{
		{0, "0 min", "0 min", "0 min"},
		{1, "0 min", "0 min", "1 s"},
		{45 * time.Second, "45 s", "45 s", "45 s"},
		{59*time.Second + 600*time.Millisecond, "59 s", "1 min", "1 min"},
		{45 * time.Minute, "45 min", "45 min", "45 min"},
		{45*time.Minute + 30*time.Second, "45 min", "46 min", "46 min"},
		{59*time.Minute + 40*time.Second, "59 min", "1 h", "1 h"},
		{3*time.Hour + 10*time.Minute, "3 h 10", "3 h 10", "3 h 10"},
		{3*time.Hour + 5*time.Minute + time.Second, "3 h 05", "3 h 05", "3 h 06"},
		{day - time.Second, "23 h 59", "1 day", "1 day"},
		{day, "1 day", "1 day", "1 day"},
		{2*day + 4*time.Hour, "2 days 4 h", "2 days 4 h", "2 days 4 h"},
		{2*day + 4*time.Hour + 29*time.Minute, "2 days 4 h", "2 days 4 h", "2 days 5 h"},
		{10*day - time.Minute, "9 days 23 h", "10 days", "10 days"},
		{16*day + 20*time.Hour, "16 days", "17 days", "17 days"},
		{17 * day, "17 days", "17 days", "17 days"},
		{-90 * time.Minute, "-1 h 30", "-1 h 30", "-1 h 30"},
		{-16*day - time.Hour, "-17 days", "-16 days", "-16 days"},
		{-1, "-1 s", "0 min", "0 min"},
		{math.MaxInt64, "106751 days", "106751 days", "106751 days"},
		{math.MinInt64, "-106751 days", "-106751 days", "-106751 days"},
	}

	for _, row := range rows {
		assert.Equal(t, row.down, quantity.RoughDown(row.d), "%v", row.d)
		assert.Equal(t, row.nearest, quantity.Rough(row.d), "%v", row.d)
		assert.Equal(t, row.up, quantity.RoughUp(row.d), "%v", row.d)
	}
}

func TestDatesRead(t *testing.T) {
	got := date(t, "2027-02-01")
	assert.Equal(t, quantity.Date{Year: 2027, Month: time.February, Day: 1}, got)
	assert.Equal(t, "2027-02-01", got.String())
	assert.False(t, got.IsZero())
	assert.True(t, quantity.Date{}.IsZero())
	assert.Empty(t, quantity.Date{}.String())
	assert.Equal(t, "2024-02-29", date(t, "2024-02-29").String(), "a leap day")
	assert.Equal(t, "2000-02-29", date(t, "2000-02-29").String(), "so is that of 2000")

	const cure = `; write year-month-day, as "2027-02-01"`
	rows := []struct{ text, want string }{
		{"", `"" is not a date` + cure},
		{"2027-2-1", `"2027-2-1" is not a date` + cure},
		{"2027/02/01", `"2027/02/01" is not a date` + cure},
		{"01-02-2027", `"01-02-2027" is not a date` + cure},
		{"2027-13-01", `"2027-13-01" is not a date` + cure},
		{"2027-00-01", `"2027-00-01" is not a date` + cure},
		{"2027-01-00", `"2027-01-00" is not a date` + cure},
		{"0000-01-01", `"0000-01-01" is not a date` + cure},
		{"2027-02-01T06:00:00Z", `"2027-02-01T06:00:00Z" is not a date` + cure},
		{"2027-02-30", `"2027-02-30" is past its month's end; February 2027 has 28 days`},
		{"1900-02-29", `"1900-02-29" is past its month's end; February 1900 has 28 days`},
	}
	for _, row := range rows {
		_, err := quantity.ParseDate(row.text)
		assert.EqualError(t, err, row.want)
	}
}

func TestDatesCompareAndCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, n := drawDate(t, "from"), rapid.IntRange(-200_000, 200_000).Draw(t, "days")
		to := from.AddDays(n)

		require.Equal(t, n, from.DaysUntil(to))
		require.Equal(t, n < 0, to.Before(from))
		require.Equal(t, n > 0, to.After(from))
		require.Equal(t, n == 0, to.Compare(from) == 0)
		require.True(t, from.In(time.UTC).AddDate(0, 0, n).Equal(to.In(time.UTC)), "as the standard library counts")
	})

	// Known counts: arithmetic.
	assert.Equal(t, 366, date(t, "2024-01-01").DaysUntil(date(t, "2025-01-01")))
	assert.Equal(t, 365, date(t, "2025-01-01").DaysUntil(date(t, "2026-01-01")))
	assert.Equal(t, -1, date(t, "2024-03-01").DaysUntil(date(t, "2024-02-29")))
}

func TestDateTextIsItsInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := drawDate(t, "date")
		text, err := want.MarshalText()
		require.NoError(t, err)
		var got quantity.Date
		require.NoError(t, got.UnmarshalText(text))
		require.Equal(t, want, got)
	})
}

func TestADateBeginsAndEndsWhereItIs(t *testing.T) {
	east := time.FixedZone("", 13*60*60)
	d := date(t, "2026-06-12")

	assert.Equal(t, "2026-06-12T00:00:00+13:00", d.In(east).Format(time.RFC3339))
	assert.Equal(t, "2026-06-13T00:00:00+13:00", d.End(east).Format(time.RFC3339))
	assert.Equal(t, d, quantity.DateOf(d.In(east)))
	assert.Equal(t, d, quantity.DateOf(d.End(east).Add(-1)))
	assert.Equal(t, d.AddDays(-1), quantity.DateOf(d.In(east).UTC()), "the date is that of the moment's own location")
}

func TestADateWhoseMidnightIsSkippedBeginsWithTheJump(t *testing.T) {
	const source = "the IANA time zone database"
	rows := []struct {
		zone, date, want string
		lasts            time.Duration
	}{
		{"Africa/Cairo", "2023-04-28", "2023-04-28T01:00:00+03:00", 23 * time.Hour},
		{"America/Havana", "2023-03-12", "2023-03-12T01:00:00-04:00", 23 * time.Hour},
		{"Pacific/Apia", "2011-12-30", "2011-12-31T00:00:00+14:00", 0}, // a day that never was
	}

	for _, row := range rows {
		loc, err := time.LoadLocation(row.zone)
		require.NoError(t, err)
		d := date(t, row.date)

		assert.Equal(t, row.want, d.In(loc).Format(time.RFC3339), source)
		assert.Equal(t, row.lasts, d.End(loc).Sub(d.In(loc)), source)
	}
}
