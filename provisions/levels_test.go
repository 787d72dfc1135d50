package provisions

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

func TestLevelIsToldAsAmountShareDipOrFull(t *testing.T) {
	for _, c := range []struct {
		text  string
		holds passage.Thing
		want  Level
	}{
		{"40 L", passage.Water, Level{Kind: ByAmount, Amount: 40, Text: "40 L"}},
		{"10 US gal", passage.Fuel, Level{Kind: ByAmount, Amount: 37.85411784, Text: "10 US gal"}}, // NIST SP 811, B.8
		{"4.5 kg", passage.Gas, Level{Kind: ByAmount, Amount: 4.5, Text: "4.5 kg"}},
		{"62 %", passage.Water, Level{Kind: ByShare, Share: 0.62, Text: "62 %"}},
		{" 62% ", passage.Gas, Level{Kind: ByShare, Share: 0.62, Text: "62%"}},
		{"120 mm", passage.Water, Level{Kind: ByDip, Dip: 0.12, Text: "120 mm"}},
		{"full", passage.Fuel, Level{Kind: Brim, Text: "full"}},
		{"Full", passage.Gas, Level{Kind: Brim, Text: "Full"}},
		{"0 L", passage.Water, Level{Kind: ByAmount, Text: "0 L"}},
	} {
		got, err := ParseLevel(c.text, c.holds)
		require.NoError(t, err, c.text)
		assert.InDelta(t, float64(c.want.Amount), float64(got.Amount), 1e-9, c.text)
		got.Amount = c.want.Amount
		assert.Equal(t, c.want, got, c.text)
	}
}

func TestLevelErrorsSayWhatWouldBeRight(t *testing.T) {
	for _, c := range []struct {
		text  string
		holds passage.Thing
		want  string
	}{
		{"58 gal", passage.Water, `"58 gal" could be US or imperial; write "58 US gal" or "58 imp gal"`},
		{"62", passage.Water, `"62" has no unit; write "62 L", a share as "62 %", a dip depth as "62 mm", or "full"`},
		{"3", passage.Gas, `"3" has no unit; write "3 kg", a share as "3 %", a dip depth as "3 mm", or "full"`},
		{"0.62", passage.Water, `"0.62" has no unit; write "0.62 L", a share as "62 %", a dip depth as "0.62 mm", or "full"`},
		{"1", passage.Water, `"1" has no unit; write "1 L", a share as "100 %", a dip depth as "1 mm", or "full"`},
		{"0", passage.Water, `"0" has no unit; write "0 L", a share as "0 %", a dip depth as "0 mm", or "full"`},
		{"12345678901234.567890", passage.Water, `"12345678901234.567890" has too many digits; write "40 L", a share as "62 %", a dip depth as "120 mm", or "full"`},
		{"0.00000000000000000001", passage.Gas, `"0.00000000000000000001" has no unit; write "0.00000000000000000001 kg"`},
		{"-3", passage.Water, `"-3" is below zero; write 0 or more, as "5 L"`},
		{"12 L x", passage.Fuel, `"12 L x" has an unknown unit, "L x"; write "40 L", a share as "62 %", a dip depth as "120 mm", or "full"`},
		{"12,5 L", passage.Fuel, `"12,5 L" has a decimal comma; write "12.5 L"`},
		{"half", passage.Fuel, `"half" does not begin with a number; write "40 L", a share as "62 %", a dip depth as "120 mm", or "full"`},
		{"", passage.Fuel, `"" is empty; write "40 L", a share as "62 %", a dip depth as "120 mm", or "full"`},
		{"4 kg", passage.Water, `"4 kg" is a mass, not a volume; write litres, as "5 L"`},
		{"4 L", passage.Gas, `"4 L" is a volume, not a mass; write kilograms, as "2 kg"`},
		{"120 %", passage.Water, `"120 %" is more than the whole; write 0 % to 100 %`},
		{"-5 L", passage.Water, `"-5 L" is below zero; write 0 or more, as "5 L"`},
		{"nan", passage.Water, `"nan" does not begin with a number; write "40 L", a share as "62 %", a dip depth as "120 mm", or "full"`},
	} {
		_, err := ParseLevel(c.text, c.holds)
		require.Error(t, err, c.text)
		assert.Equal(t, c.want, err.Error(), c.text)
		var refusal *quantity.Error
		assert.ErrorAs(t, err, &refusal, c.text)
	}
}

func TestAmountIsAVolumeOrOfGasAMass(t *testing.T) {
	water, err := ParseAmount("40 L", passage.Water)
	require.NoError(t, err)
	assert.Equal(t, Amount(40), water)

	gas, err := ParseAmount("500 g", passage.Gas)
	require.NoError(t, err)
	assert.Equal(t, Amount(0.5), gas)

	_, err = ParseAmount("40 L", passage.Gas)
	assert.Error(t, err)
	_, err = ParseAmount("2 kg", passage.Fuel)
	assert.Error(t, err)
}

// dippedTank has the sounding table of the reference's row T5.
func dippedTank() Tank {
	return Tank{
		Name: "port water", Holds: passage.Water, Capacity: 220, GaugeError: 0.05, DipError: 0.02,
		Dip: []DipRow{{Depth: 0, Amount: 0}, {Depth: 0.12, Amount: 60}, {Depth: 0.3, Amount: 220}},
	}
}

func TestDipIsReadLinearBetweenRows(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       float64
	}{
		{"row T5 of the reference: 60 + 160*80/180", "200 mm", 131.1},
		{"the first row", "0 mm", 0},
		{"a row in the middle", "120 mm", 60},
		{"just below it", "119 mm", 59.5},
		{"just above it", "121 mm", 60 + 160.0/180},
		{"the last row", "300 mm", 220},
		{"the last row in other units", "30 cm", 220},
	} {
		level, err := ParseLevel(c.text, passage.Water)
		require.NoError(t, err, c.name)
		got, err := dippedTank().AmountAt(level)
		require.NoError(t, err, c.name)
		assert.InDelta(t, c.want, float64(got), 0.02, c.name)
	}
}

func TestAmountThatTheTankCannotHoldIsRefused(t *testing.T) {
	noTable := Tank{Name: "bow", Holds: passage.Water, Capacity: 220}
	bottle := Tank{Name: "bottle", Holds: passage.Gas, Capacity: 4.5}
	for _, c := range []struct {
		name string
		tank Tank
		at   Level
		want string
	}{
		{"row T5: below the table's end", dippedTank(), Level{Kind: ByDip, Dip: 0.31}, `310 mm is outside the dip table of "port water"; its rows go from 0 mm to 300 mm`},
		{"just below the table's end", dippedTank(), Level{Kind: ByDip, Dip: 0.3001}, `300.1 mm is outside the dip table of "port water"; its rows go from 0 mm to 300 mm`},
		{"over the first row", Tank{Name: "a", Dip: dippedTank().Dip[1:], Capacity: 220}, Level{Kind: ByDip, Dip: 0.11}, `110 mm is outside the dip table of "a"; its rows go from 120 mm to 300 mm`},
		{"no table", noTable, Level{Kind: ByDip, Dip: 0.2}, `"bow" has no dip table; write an amount or a share`},
		{"over the capacity", noTable, amount(220.1), `220.1 L is more than "bow" can hold; it holds 220 L`},
		{"gas over the capacity", bottle, amount(5), `5 kg is more than "bottle" can hold; it holds 4.5 kg`},
		{"below nothing", noTable, amount(-1), `-1 L is no amount for "bow"; write 0 L to 220 L`},
		{"not a number", noTable, amount(Amount(math.NaN())), `NaN L is no amount for "bow"; write 0 L to 220 L`},
		{"infinite", noTable, amount(Amount(math.Inf(1))), `+Inf L is no amount for "bow"; write 0 L to 220 L`},
	} {
		_, err := c.tank.AmountAt(c.at)
		require.Error(t, err, c.name)
		assert.Equal(t, c.want, err.Error(), c.name)
		var refusal *quantity.Error
		assert.ErrorAs(t, err, &refusal, c.name)
	}
}

func TestAmountAtTheCapacityIsTaken(t *testing.T) {
	tank := Tank{Name: "bow", Holds: passage.Water, Capacity: 220}
	for _, c := range []struct {
		at   Level
		want Amount
	}{
		{amount(220), 220},
		{amount(220 + 1e-9), 220},
		{amount(0), 0},
		{Level{Kind: ByShare, Share: 1}, 220},
		{Level{Kind: ByShare, Share: 0.5}, 110},
		{Level{Kind: Brim}, 220},
	} {
		got, err := tank.AmountAt(c.at)
		require.NoError(t, err)
		assert.Equal(t, c.want, got)
	}
}
