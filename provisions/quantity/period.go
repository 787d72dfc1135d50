package quantity

import (
	"strconv"
	"strings"
	"time"
)

// maxMonths is the longest period in months, a hundred years.
const maxMonths = 1200

// Period is a span of the calendar: whole months, then a duration. "12 months" after 29 February is 28 February.
type Period struct {
	Months int
	Rest   time.Duration
}

// ParsePeriod reads "18 months", "1 month", any text of ParseDuration, or both, months first: "1 month 5 days".
// At most 1200 months and 36500 days. The error is an *Error.
func ParsePeriod(text string) (Period, error) {
	number, name, problem := split(OfDuration, text)
	if problem != nil {
		return Period{}, problem
	}

	word, rest, _ := strings.Cut(name, " ")
	if !strings.EqualFold(word, "months") && !strings.EqualFold(word, "month") {
		rest, err := ParseDuration(text)
		return Period{Rest: rest}, err
	}
	if word != strings.ToLower(word) {
		return Period{}, refuse(text, " has its unit spelt "+quote(word), "write "+quote(shortest(number)+" "+strings.ToLower(word)))
	}

	months, problem := wholeMonths(text, number)
	if problem != nil {
		return Period{}, problem
	}
	if rest == "" {
		return Period{Months: months}, nil
	}

	after, err := ParseDuration(rest)
	if err != nil {
		return Period{}, err
	}

	return Period{Months: months, Rest: after}, nil
}

func wholeMonths(text, number string) (int, *Error) {
	if strings.Contains(number, ".") {
		return 0, refuse(text, " is not a whole number of months", "write whole months, or days")
	}

	months, err := strconv.Atoi(number)
	if err != nil || months > maxMonths {
		return 0, refuse(text, " is too long", "write at most "+strconv.Itoa(maxMonths)+" months")
	}

	return months, nil
}

// String is the exact period; parsing it gives p again.
func (p Period) String() string {
	months := strconv.Itoa(p.Months) + " months"
	if p.Months == 1 {
		months = "1 month"
	}

	switch {
	case p.Months == 0:
		return FormatDuration(p.Rest)
	case p.Rest == 0:
		return months
	}

	return months + " " + FormatDuration(p.Rest)
}

// MarshalText is String, with an error for a period that could not be read back (below zero, or over a hundred years).
func (p Period) MarshalText() ([]byte, error) {
	text := p.String()
	if _, err := ParsePeriod(text); err != nil {
		return nil, err
	}

	return []byte(text), nil
}

// UnmarshalText is ParsePeriod; on an error p stays as it was.
func (p *Period) UnmarshalText(text []byte) error {
	parsed, err := ParsePeriod(string(text))
	if err != nil {
		return err
	}

	*p = parsed
	return nil
}

// IsZero tells whether p is no time at all.
func (p Period) IsZero() bool { return p == Period{} }

// After is the moment p after t: the months first, on the clock and in the location of t and clamped to the month's last
// day, then the rest as time that passes.
func (p Period) After(t time.Time) time.Time {
	date := DateOf(t).AddMonths(p.Months)
	hour, minute, second := t.Clock()
	moved := time.Date(date.Year, date.Month, date.Day, hour, minute, second, t.Nanosecond(), t.Location())

	return moved.Add(p.Rest)
}

// AfterDate is the date p after d: the months first, clamped to the month's last day, then the whole days of the rest, rounded down.
func (p Period) AfterDate(d Date) Date {
	days := int(p.Rest / day)
	if p.Rest%day < 0 {
		days--
	}

	return d.AddMonths(p.Months).AddDays(days)
}
