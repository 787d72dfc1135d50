package provisions

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

const (
	// full is the word for a tank filled to the brim.
	full = "full"

	// onRow is how near to a row of a sounding table a depth is on it, in
	// metres: feet and millimetres do not convert without a crumb.
	onRow = 1e-9

	// longestEcho is how many characters of a number a cure repeats.
	longestEcho = 20
)

// ParseLevel reads the level of a tank that holds water, fuel or gas: a volume
// (of gas a mass), a share "62 %", a dip depth "120 mm", or "full". The error
// is a *quantity.Error. Whether the tank can be at that level is for AmountAt.
func ParseLevel(text string, holds passage.Thing) (Level, error) {
	level := Level{Text: strings.TrimSpace(text)}
	if strings.EqualFold(level.Text, full) {
		level.Kind = Brim
		return level, nil
	}

	told, err := quantity.ParseAny(text)
	switch {
	case err != nil:
		return Level{}, levelError(err, holds)
	case told.Dimension == quantity.OfCount:
		return Level{}, bareLevel(text, told.Value, holds)
	case told.Dimension == quantity.OfShare:
		level.Kind = ByShare
		level.Share, err = quantity.ParseShare(text)
	case told.Dimension == quantity.OfLength:
		level.Kind = ByDip
		level.Dip, err = quantity.ParseLength(text)
	default:
		level.Kind = ByAmount
		level.Amount, err = ParseAmount(text, holds)
	}
	if err != nil {
		return Level{}, err
	}
	return level, nil
}

// ParseAmount reads an amount of water or fuel as a volume, of gas as a mass.
// The error is a *quantity.Error.
func ParseAmount(text string, holds passage.Thing) (Amount, error) {
	if holds == passage.Gas {
		mass, err := quantity.ParseMass(text)
		return Amount(mass), err
	}
	volume, err := quantity.ParseVolume(text)
	return Amount(volume), err
}

// levelError is why a text is no quantity at all. A cure that tells exactly what
// to write is kept, the others name what a level may be.
func levelError(err error, holds passage.Thing) error {
	var refused *quantity.Error
	if !errors.As(err, &refused) || strings.HasPrefix(refused.Cure, `write "`) {
		return err
	}
	return &quantity.Error{Problem: refused.Problem, Cure: howToTell("40", "62", "120", holds)}
}

// bareLevel refuses a number without a unit. "0.62" of a tank is hardly 0.62 %.
func bareLevel(text string, value float64, holds passage.Thing) error {
	bare := strings.TrimSpace(text)
	if value < 0 || len(bare) > longestEcho {
		_, err := ParseAmount(text, holds)
		return err
	}
	share := bare
	if 0 < value && value <= 1 {
		share = hundredths(value * 100)
	}
	return &quantity.Error{Problem: strconv.Quote(bare) + " has no unit", Cure: howToTell(bare, share, bare, holds)}
}

func howToTell(amount, share, depth string, holds passage.Thing) string {
	unit := "L"
	if holds == passage.Gas {
		unit = "kg"
	}
	return fmt.Sprintf(`write "%s %s", a share as "%s %%", a dip depth as "%s mm", or "%s"`, amount, unit, share, depth, full)
}

// AmountAt is what the tank holds at l: litres, of gas kilograms, 0 to its
// capacity. A dip is read off the sounding table, linear between its rows, or told by the shape. The
// error is a *quantity.Error: over the capacity, a depth outside the table or the
// shape, or neither of them.
func (t Tank) AmountAt(l Level) (Amount, error) {
	amount, err := t.told(l)
	if err != nil {
		return 0, err
	}
	switch {
	case !(amount >= 0) || math.IsInf(float64(amount), 0):
		return 0, &quantity.Error{
			Problem: t.text(amount) + " is no amount for " + strconv.Quote(t.Name),
			Cure:    "write 0 " + t.unit() + " to " + t.text(t.Capacity),
		}
	case amount > t.Capacity*(1+fullWithin):
		return 0, &quantity.Error{
			Problem: t.text(amount) + " is more than " + strconv.Quote(t.Name) + " can hold",
			Cure:    "it holds " + t.text(t.Capacity),
		}
	}
	return min(amount, t.Capacity), nil
}

func (t Tank) told(l Level) (Amount, error) {
	switch l.Kind {
	case Brim:
		return t.Capacity, nil
	case ByShare:
		return Amount(l.Share) * t.Capacity, nil
	case ByDip:
		return t.dipped(l.Dip)
	}
	return l.Amount, nil
}

// dipped goes by the shape, or reads the sounding table: exact on a row, linear between rows, refused
// outside. Row T5 of the reference.
func (t Tank) dipped(depth quantity.Length) (Amount, error) {
	if !t.Shape.IsZero() {
		return t.byShape(depth)
	}
	if len(t.Dip) == 0 {
		return 0, &quantity.Error{
			Problem: strconv.Quote(t.Name) + " has no dip table",
			Cure:    "write an amount or a share",
		}
	}
	for i, row := range t.Dip {
		if math.Abs(float64(row.Depth-depth)) <= onRow {
			return row.Amount, nil
		}
		if i > 0 && t.Dip[i-1].Depth < depth && depth < row.Depth {
			low := t.Dip[i-1]
			share := Amount((depth - low.Depth) / (row.Depth - low.Depth))
			return low.Amount + (row.Amount-low.Amount)*share, nil
		}
	}
	return 0, &quantity.Error{
		Problem: millimetres(depth) + " is outside the dip table of " + strconv.Quote(t.Name),
		Cure:    fmt.Sprintf("its rows go from %s to %s", millimetres(t.Dip[0].Depth), millimetres(t.Dip[len(t.Dip)-1].Depth)),
	}
}

// text is an amount for a message, to the hundredth.
func (t Tank) text(a Amount) string {
	return hundredths(float64(a)) + " " + t.unit()
}

func (t Tank) unit() string {
	if t.Holds == passage.Gas {
		return "kg"
	}
	return "L"
}

func millimetres(l quantity.Length) string {
	return hundredths(float64(l)*1000) + " mm"
}

// hundredths is a number to the hundredth, for a message.
func hundredths(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}
