package provisions

import (
	"fmt"
	"math"
	"strconv"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Down shows an amount of a thing for people, rounded down: what is aboard.
func (a Amount) Down(t passage.Thing, s quantity.System) string {
	switch t {
	case passage.Gas:
		return quantity.Mass(a).Down(s)
	case passage.Food:
		return personDays(math.Floor(float64(a)*10+crumb) / 10)
	}
	return quantity.Volume(a).Down(s)
}

// Up shows an amount of a thing for people, rounded up: what is needed.
func (a Amount) Up(t passage.Thing, s quantity.System) string {
	switch t {
	case passage.Gas:
		return quantity.Mass(a).Up(s)
	case passage.Food:
		return personDays(math.Ceil(float64(a)*10-crumb) / 10)
	}
	return quantity.Volume(a).Up(s)
}

func personDays(n float64) string {
	text := strconv.FormatFloat(n, 'f', -1, 64)
	if n == 1 {
		return text + " person-day"
	}
	return text + " person-days"
}

// String is the time in days, rounded down to a tenth: "12.3 days".
func (d Days) String() string {
	if d.Never {
		return "never ends"
	}
	down := math.Floor(d.Days*10+crumb) / 10
	if down == 0 {
		down = 0 // never "-0.0"
	}
	return fmt.Sprintf("%.1f days", down)
}

// DaysUp shows how long something takes, in days and rounded up to a tenth: "13.9 days".
func DaysUp(days float64) string {
	return strconv.FormatFloat(math.Ceil(days*10-crumb)/10, 'f', 1, 64) + " days"
}
