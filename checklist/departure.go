package checklist

import (
	"errors"
	"strings"
	"time"
)

var (
	errNoMoment = errors.New(`that is no time; write it like "09:00", "20 Oct 09:00", "2026-10-20 09:00", or "as planned"`)
	errPast     = errors.New("that is past already; write a time still to come")
)

// ParseDeparture reads a departure in the time kept aboard, which now tells; zero: as
// planned. A time without a day is the next such time, a day without a year the nearest
// such day. What is past is refused.
func ParseDeparture(text string, now time.Time) (time.Time, error) {
	text = strings.TrimSpace(text)
	if text == "as planned" {
		return time.Time{}, nil
	}
	t, err := departureFrom(text, now)
	switch {
	case err != nil:
		return time.Time{}, err
	case t.Before(now):
		return time.Time{}, errPast
	}
	return t, nil
}

func departureFrom(text string, now time.Time) (time.Time, error) {
	for _, layout := range []string{time.RFC3339, "2006-01-02T15:04Z07:00", "2006-01-02 15:04", "2006-01-02T15:04"} {
		if t, err := time.ParseInLocation(layout, text, now.Location()); err == nil {
			return t, nil
		}
	}
	for _, layout := range []string{"2 Jan 15:04", "Mon 2 Jan 15:04"} {
		if t, err := time.ParseInLocation(layout, text, now.Location()); err == nil {
			near, ok := nearestYear(t, now)
			if !ok {
				return time.Time{}, errNoMoment
			}
			return near, nil
		}
	}
	t, err := time.ParseInLocation("15:04", text, now.Location())
	if err != nil {
		return time.Time{}, errNoMoment
	}
	next := time.Date(now.Year(), now.Month(), now.Day(), t.Hour(), t.Minute(), 0, 0, now.Location())
	if next.Before(now) {
		next = next.AddDate(0, 0, 1)
	}
	return next, nil
}

// nearestYear puts a day into the year in which it is nearest to now; ok is false where
// that year has no such day.
func nearestYear(t, now time.Time) (near time.Time, ok bool) {
	const halfYear = 183 * 24 * time.Hour
	for year := now.Year() - 1; year <= now.Year()+1; year++ {
		near = time.Date(year, t.Month(), t.Day(), t.Hour(), t.Minute(), 0, 0, now.Location())
		if near.Sub(now).Abs() <= halfYear {
			break
		}
	}
	return near, near.Day() == t.Day()
}
