package provisions

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// longWay is an invented boat and passage of so many times ten legs and 200 lots:
// nine stops that surely give water and food, some of them fuel, two of them perhaps
// more, three alternates, each leg in three cases. As planned it holds; tight: so narrowly
// that most contingencies end badly, and cures are looked for.
func longWay(times int, tight bool) Situation {
	const rations = 11
	b, _, a := biggest(1, rations, 200*times)
	b.Foods[0].Chilled, b.Foods[0].KeepsWarm = true, quantity.Period{Rest: 72 * time.Hour}
	b.Foods[1].Cook = true
	b.Tanks[3].Capacity, b.Tanks[3].Level = 900, Level{Kind: Brim}
	b.Tanks[4] = Tank{Name: "gas", Holds: passage.Gas, Capacity: Amount(1000 * times), Level: Level{Kind: Brim}}
	b.Tanks = append(b.Tanks, Tank{Name: "deck cans", Holds: passage.Water, Capacity: 20, Level: Level{Kind: Brim}, Can: true})
	b.Rates.Reserve[passage.Food] = Reserve{Days: 2}
	b.Engine.Curve = []passage.CurveRow{
		{RPM: 1500, Speed: 4.4, Burn: 1.1},
		{RPM: 1800, Speed: 5.2, Burn: 1.7},
		{RPM: 2400, Speed: 6.0, Burn: 3.1},
	}
	a.Tanks = nil
	miles := quantity.Distance(150)
	if tight {
		miles = 300
		b.Tanks[0].Capacity, b.Tanks[1].Capacity, b.Tanks[0].Level = 60, 30, Level{Kind: Brim}
	}

	plan := outAndOn()
	plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}, {Thing: passage.Fuel, Sure: true}, {Thing: passage.Food, Sure: true}}
	plan.Legs = nil
	for i := range 10 * times {
		leg := passage.Leg{From: fmt.Sprint("place ", i), To: fmt.Sprint("place ", i+1), Distance: miles, Sail: 5, Stay: 48 * time.Hour}
		leg.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
		switch i % 5 {
		case 1:
			leg.Fill = append(leg.Fill, passage.Giving{Thing: passage.Fuel, Sure: true}, passage.Giving{Thing: passage.Gas})
		case 3:
			leg.Fill = append(leg.Fill, passage.Giving{Thing: passage.Food, Sure: true})
		}
		if i%10 < 3 {
			leg.Alternates = []passage.Alternate{{Name: fmt.Sprint("refuge ", i), After: 100, Distance: 60}}
		}
		plan.Legs = append(plan.Legs, leg)
	}
	return Situation{Boat: b, Plan: plan, Aboard: a, Trim: clean, Now: sails}
}

func BenchmarkWhatIfs(b *testing.B) {
	for _, tight := range []bool{false, true} {
		for _, times := range []int{1, 10, 100} {
			s := longWay(times, tight)
			name := fmt.Sprintf("tight_%t/%d_legs_%d_lots", tight, 10*times, 200*times)
			b.Run(name+"/what-ifs", func(b *testing.B) {
				r := s.Reckon()
				w := s.WhatIfs(r)
				cures := 0
				for _, w := range w.List {
					cures += len(w.Cures)
				}
				require.Equal(b, tight, cures > 0)
				b.ReportMetric(float64(len(w.List)), "asked")
				b.ReportMetric(float64(cures), "cures")
				b.ReportAllocs()
				for b.Loop() {
					s.WhatIfs(r)
				}
			})
			b.Run(name+"/all", func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					s.WhatIfs(s.Reckon())
				}
			})
		}
	}
}
