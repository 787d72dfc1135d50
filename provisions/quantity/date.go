package quantity

import (
	"cmp"
	"fmt"
	"strconv"
	"time"
)

// Date is a civil date, without a time zone. The zero Date is none.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads year-month-day with all ten characters, as "2027-02-01"; years 0001 to 9999. The error is an *Error.
func ParseDate(text string) (Date, error) {
	const cure = `write year-month-day, as "2027-02-01"`
	if !isDateShaped(text) {
		return Date{}, refuse(text, " is not a date", cure)
	}

	year, _ := strconv.Atoi(text[:4])
	month, _ := strconv.Atoi(text[5:7])
	dayOfMonth, _ := strconv.Atoi(text[8:])
	if year < 1 || month < 1 || month > 12 || dayOfMonth < 1 {
		return Date{}, refuse(text, " is not a date", cure)
	}
	if last := lastDay(year, time.Month(month)); dayOfMonth > last {
		return Date{}, refuse(text, " is past its month's end", fmt.Sprintf("%s %d has %d days", time.Month(month), year, last))
	}

	return Date{Year: year, Month: time.Month(month), Day: dayOfMonth}, nil
}

func isDateShaped(text string) bool {
	const shape = "dddd-dd-dd"
	if len(text) != len(shape) {
		return false
	}
	for at := range len(shape) {
		if isDigit(text[at]) != (shape[at] == 'd') || shape[at] == '-' && text[at] != '-' {
			return false
		}
	}

	return true
}

// DateOf is the date of t in t's own location.
func DateOf(t time.Time) Date {
	year, month, dayOfMonth := t.Date()
	return Date{Year: year, Month: month, Day: dayOfMonth}
}

// String is the date as year-month-day (ISO 8601); "" for the zero Date.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}

	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// MarshalText is String, with an error for what could not be read back, the zero Date included: leave an empty one out.
func (d Date) MarshalText() ([]byte, error) {
	text := d.String()
	if _, err := ParseDate(text); err != nil {
		return nil, err
	}

	return []byte(text), nil
}

// UnmarshalText is ParseDate; on an error d stays as it was.
func (d *Date) UnmarshalText(text []byte) error {
	parsed, err := ParseDate(string(text))
	if err != nil {
		return err
	}

	*d = parsed
	return nil
}

// IsZero tells whether d is no date.
func (d Date) IsZero() bool { return d == Date{} }

// Compare is below 0 where d is before other, 0 where they are the same, above 0 where d is after.
func (d Date) Compare(other Date) int {
	return cmp.Or(cmp.Compare(d.Year, other.Year), cmp.Compare(d.Month, other.Month), cmp.Compare(d.Day, other.Day))
}

// Before tells whether d comes before other.
func (d Date) Before(other Date) bool { return d.Compare(other) < 0 }

// After tells whether d comes after other.
func (d Date) After(other Date) bool { return d.Compare(other) > 0 }

// AddDays is the date n days later, or earlier.
func (d Date) AddDays(n int) Date {
	return DateOf(time.Date(d.Year, d.Month, d.Day+n, 0, 0, 0, 0, time.UTC))
}

// AddMonths is the same day n months later, or earlier, or the month's last day where there is none: 31 January and a
// month is 28 February. time.Time.AddDate would go on to 3 March, and make services late.
func (d Date) AddMonths(n int) Date {
	first := time.Date(d.Year, d.Month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	return Date{Year: first.Year(), Month: first.Month(), Day: min(d.Day, lastDay(first.Year(), first.Month()))}
}

func lastDay(year int, month time.Month) int {
	return time.Date(year, month+1, 0, 0, 0, 0, 0, time.UTC).Day()
}

// DaysUntil is the number of days from d to other, below zero where other is before d.
func (d Date) DaysUntil(other Date) int {
	const secondsADay = 24 * 60 * 60
	return int((other.In(time.UTC).Unix() - d.In(time.UTC).Unix()) / secondsADay)
}

// In is the first moment of d in loc: midnight, or where the clocks skip it (some skip a whole day) the moment they do.
func (d Date) In(loc *time.Location) time.Time {
	t := time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, loc)
	// Of a skipped moment time.Date may give one before the jump, and so the day before.
	if _, jump := t.ZoneBounds(); !jump.IsZero() && DateOf(t).Before(d.AddDays(0)) {
		return jump
	}

	return t
}

// End is the moment d is over in loc: the following midnight.
func (d Date) End(loc *time.Location) time.Time { return d.AddDays(1).In(loc) }
