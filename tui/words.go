package tui

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"boat/hoveshort/checklist"
)

// momentLayout is how a moment is shown: the day, and the time as it is written aboard.
const momentLayout = "2 Jan 15:04"

// longMoment is the same where the year and the offset matter.
const longMoment = "Mon 2 Jan 2006 15:04 -07:00"

// count is a number with its word: "1 entry", "3 entries".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// packs is a number of packs: "1 pack", "2.5 packs", rounded down to a tenth, but for
// the crumbs that a few minutes take.
func packs(n float64) string {
	const crumb = 0.05 // tenths
	n = math.Floor(n*10+crumb) / 10
	if n == 1 {
		return "1 pack"
	}
	return strconv.FormatFloat(n, 'f', -1, 64) + " packs"
}

// ago is how long since, in words; a moment that is still to come is told as such.
func ago(now, then time.Time) string { return checklist.Ago(now, then) }

// ordinal is "third" and so on, in figures from the tenth.
func ordinal(n int) string {
	words := []string{"", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth"}
	if n > 0 && n < len(words) {
		return words[n]
	}
	suffix := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			suffix = "st"
		case 2:
			suffix = "nd"
		case 3:
			suffix = "rd"
		}
	}
	return strconv.Itoa(n) + suffix
}
