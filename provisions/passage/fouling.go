package passage

import (
	"slices"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// What makes a reading of the speed tell something about the bottom. Common
// practice, no source.
const (
	foulingReadings = 5                   // the last so many count
	foulingAge      = 60 * 24 * time.Hour // older ones do not
	foulingRPM      = 1500                // below it wind and current drown the bottom
)

// SpeedSeen is a reading of the speed through the water at known revs.
type SpeedSeen struct {
	At        time.Time
	RPM       int
	Speed     quantity.Speed
	UnderWay  bool
	SailsDown bool
}

// Fouling is the median of seen speed over clean speed, over the last five
// readings taken under way at 1500 rpm or more with the sails down, not older than
// 60 days, not later than now and not before since, the last service that resets
// it (zero: none). n is how many counted. It is 1 where there are none, and never
// above 1: a good day does not make her faster than clean. Readings outside the
// curve say nothing and are skipped.
func Fouling(e Engine, seen []SpeedSeen, now, since time.Time) (f float64, n int) {
	ratios := lastRatios(e, seen, now, since)
	if len(ratios) == 0 {
		return 1, 0
	}
	return min(1, median(ratios)), len(ratios)
}

func lastRatios(e Engine, seen []SpeedSeen, now, since time.Time) []float64 {
	byTime := slices.Clone(seen)
	slices.SortStableFunc(byTime, func(a, b SpeedSeen) int { return b.At.Compare(a.At) })

	var ratios []float64
	for _, s := range byTime {
		if len(ratios) == foulingReadings {
			break
		}
		if !s.tells(now, since) {
			continue
		}
		if clean, ok := e.SpeedAt(s.RPM); ok && clean > 0 {
			ratios = append(ratios, float64(s.Speed/clean))
		}
	}
	return ratios
}

// tells says whether the reading may be compared with the clean curve.
func (s SpeedSeen) tells(now, since time.Time) bool {
	if !s.UnderWay || !s.SailsDown || s.RPM < foulingRPM || !(s.Speed > 0) {
		return false
	}
	if s.At.After(now) || now.Sub(s.At) > foulingAge {
		return false
	}
	return !s.At.Before(since)
}

// median is the middle one, or the mean of the two in the middle. It sorts values.
func median(values []float64) float64 {
	slices.Sort(values)
	middle := len(values) / 2
	if len(values)%2 == 1 {
		return values[middle]
	}
	return (values[middle-1] + values[middle]) / 2
}
