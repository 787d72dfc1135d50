package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
	"time"
)

// day is 24 h: of durations, not of the calendar.
const day = 24 * time.Hour

// The longest duration taken, near a hundred years; a time.Duration ends at 292.
const (
	maxDays  = 36500
	maxHours = maxDays * 24
)

// durationDigits: seconds up to maxDays with all nine decimals have 19.
const durationDigits = 19

// ParseDuration reads min, h, days (day) and s, 0 to 36500 days, exact to the nanosecond. Months are refused: a month has no
// fixed length. The error is an *Error.
func ParseDuration(text string) (time.Duration, error) {
	number, name, problem := split(OfDuration, text)
	if problem != nil {
		return 0, problem
	}

	_, u, problem := findUnit(OfDuration, text, number, name)
	if problem != nil {
		return 0, problem
	}

	return exactDuration(text, number, u)
}

// exactDuration is number times u without a float between: seconds with nine decimals have more digits than a float64.
func exactDuration(text, number string, u unit) (time.Duration, error) {
	if len(number) > longest || len(significant(number)) > durationDigits {
		return 0, refuse(text, " has too many digits", "write at most 15")
	}

	if whole, err := strconv.ParseInt(number, 10, 16); err == nil && whole >= 0 { // most durations: no need of big numbers
		return time.Duration(whole * int64(u.times) * int64(time.Hour) / int64(u.over)), nil
	}

	nanoseconds, _ := new(big.Rat).SetString(number)
	nanoseconds.Mul(nanoseconds, big.NewRat(int64(u.times)*int64(time.Hour), int64(u.over)))
	if nanoseconds.Cmp(big.NewRat(int64(maxDays*day), 1)) > 0 {
		return 0, refuse(text, " is too long", fmt.Sprintf("write at most %d days", maxDays))
	}

	nanoseconds.Add(nanoseconds, big.NewRat(1, 2))
	whole := new(big.Int).Div(nanoseconds.Num(), nanoseconds.Denom())

	return time.Duration(whole.Int64()), nil
}

// FormatDuration is d exactly, in the largest of days, h, min and s that divides it; ParseDuration reads it back (from 0 to
// 36500 days). What is left under a second prints as decimals of one.
func FormatDuration(d time.Duration) string {
	switch {
	case d%day == 0:
		return wholeDays(d)
	case d%time.Hour == 0:
		return strconv.FormatInt(int64(d/time.Hour), 10) + " h"
	case d%time.Minute == 0:
		return strconv.FormatInt(int64(d/time.Minute), 10) + " min"
	case d%time.Second == 0:
		return strconv.FormatInt(int64(d/time.Second), 10) + " s"
	}

	sign := ""
	if d < 0 {
		sign = "-"
	}
	whole, rest := abs(int64(d/time.Second)), abs(int64(d%time.Second))

	return sign + strings.TrimRight(fmt.Sprintf("%d.%09d", whole, rest), "0") + " s"
}

func abs(n int64) int64 { return max(n, -n) }

// Rough is d for people, rounded to the nearest: "45 min", "3 h 10", "2 days 4 h", from ten days on "17 days". Use RoughDown for what
// lasts and RoughUp for what is needed.
func Rough(d time.Duration) string { return rough(d, nearest) }

// RoughDown is Rough, rounded down: for how long something lasts.
func RoughDown(d time.Duration) string { return rough(d, down) }

// RoughUp is Rough, rounded up: for how long something takes.
func RoughUp(d time.Duration) string { return rough(d, up) }

func rough(d time.Duration, side rounding) string {
	if d == math.MinInt64 {
		d++ // its opposite is no duration
	}
	if d < 0 {
		return minus(rough(-d, opposite(side)))
	}

	d = roundDuration(d, side)
	switch {
	case d == 0:
		return "0 min"
	case d < time.Minute:
		return fmt.Sprintf("%d s", d/time.Second)
	case d < time.Hour:
		return fmt.Sprintf("%d min", d/time.Minute)
	case d < day:
		return withRest(fmt.Sprintf("%d h", d/time.Hour), " %02d", int64(d%time.Hour/time.Minute))
	case d < 10*day:
		return withRest(wholeDays(d), " %d h", int64(d%day/time.Hour))
	}

	return wholeDays(d)
}

func minus(text string) string {
	if text == "0 min" {
		return text
	}

	return "-" + text
}

func opposite(side rounding) rounding {
	switch side {
	case down:
		return up
	case up:
		return down
	}

	return nearest
}

// roundDuration rounds d, not below zero, to the step that Rough shows at its size.
func roundDuration(d time.Duration, side rounding) time.Duration {
	step := day
	switch {
	case d < time.Minute:
		step = time.Second
	case d < day:
		step = time.Minute
	case d < 10*day:
		step = time.Hour
	}

	lower := d - d%step
	isUp := side == up && d > lower || side == nearest && d-lower >= step-step/2
	if isUp && lower <= math.MaxInt64-step {
		return lower + step
	}

	return lower
}

func wholeDays(d time.Duration) string {
	if d/day == 1 {
		return "1 day"
	}

	return fmt.Sprintf("%d days", d/day)
}

func withRest(head, format string, rest int64) string {
	if rest == 0 {
		return head
	}

	return head + fmt.Sprintf(format, rest)
}
