package provisions

import (
	"testing"
	"time"

	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
)

// Two eat half a kilogram each of a food packed by the kilogram: a pack a day.
func TestCountsAreAppliedInTheirOrder(t *testing.T) {
	day := func(n int) quantity.Date { return quantity.Date{Year: 2026, Month: 7, Day: n} }
	noon := time.Date(2026, 6, 20, 12, 0, 0, 0, time.UTC)
	evening := time.Date(2026, 7, 2, 18, 0, 0, 0, time.UTC)
	b := Boat{
		Foods: []Food{{Name: "biscuit", Pack: 1, Kcal: 400, Keeps: quantity.Period{Months: 1}}},
		Rates: Rates{Rations: []Ration{{Food: "biscuit", Each: 0.5}}},
		Lots:  []Lot{{Food: "biscuit", Packs: 3, BestBefore: day(1)}, {Food: "biscuit", Packs: 3, BestBefore: day(9)}, {Food: "rice", Packs: 9}},
	}
	whole := func(at time.Time, packs float64) Counting {
		return Counting{At: at, Whole: true, Lot: Lot{Food: "biscuit", Packs: packs}}
	}
	lot := func(at time.Time, packs float64, of Lot) Counting {
		of.Food, of.Packs = "biscuit", packs
		return Counting{At: at, Lot: of}
	}
	tests := []struct {
		name   string
		counts []Counting
		want   []float64
	}{
		{"never counted", nil, []float64{3, 3}},
		{"two packs fewer: the soonest to go off were eaten", []Counting{whole(noon, 4)}, []float64{1, 3}},
		{"the first lot is gone", []Counting{whole(noon, 3)}, []float64{3}},
		{"more than was known: no date", []Counting{whole(noon, 8)}, []float64{3, 3, 2}},
		{"one lot alone", []Counting{lot(noon, 1, Lot{BestBefore: day(9)})}, []float64{3, 1}},
		{"a lot that was not known", []Counting{lot(noon, 5, Lot{Place: "bow"})}, []float64{3, 3, 5}},
		{"a day between two counts of lots eats a pack, soonest first", []Counting{
			lot(noon, 3, Lot{BestBefore: day(9)}), lot(noon.Add(24*time.Hour), 5, Lot{Place: "bow"}),
		}, []float64{2, 3, 5}},
		{"a lot that has gone off is not eaten between two counts: a day of the other", []Counting{
			lot(evening, 3, Lot{BestBefore: day(1)}), lot(evening.Add(24*time.Hour), 5, Lot{Place: "bow"}),
		}, []float64{3, 2, 5}},
		{"nor after the end of its last day: half a day of the first, half of the other", []Counting{
			lot(noon.AddDate(0, 0, 11), 3, Lot{BestBefore: day(1)}), lot(noon.AddDate(0, 0, 12), 5, Lot{Place: "bow"}),
		}, []float64{2.5, 2.5, 5}},
		{"a count of the date alone is of the lot that has it", []Counting{lot(noon, 5, Lot{Place: "bow", BestBefore: day(5)}), lot(noon, 2, Lot{BestBefore: day(5)})}, []float64{3, 3, 2}},
		{"and it stays that lot, with its date, when there is more of it", []Counting{lot(noon, 7, Lot{BestBefore: day(9)}), lot(noon, 2, Lot{Place: "bow", BestBefore: day(5)}), lot(noon, 8, Lot{BestBefore: day(5)})}, []float64{3, 7, 8}},
		{"a count of the place alone is of all lots there", []Counting{
			lot(noon, 5, Lot{Place: "bow", BestBefore: day(5)}), lot(noon, 4, Lot{Place: "bow", Bought: day(1)}), lot(noon, 6, Lot{Place: "bow"}),
		}, []float64{3, 3, 2, 4}},
		{"and what is more of them was not known", []Counting{
			lot(noon, 5, Lot{Place: "bow", BestBefore: day(5)}), lot(noon, 4, Lot{Place: "bow", Bought: day(1)}), lot(noon, 11, Lot{Place: "bow"}),
		}, []float64{3, 3, 5, 4, 2}},
		{"what has no date is eaten last", []Counting{
			lot(noon, 0, Lot{BestBefore: day(1)}), lot(noon, 0, Lot{BestBefore: day(9)}), lot(noon, 2, Lot{Place: "bow"}),
			lot(noon, 1, Lot{Bought: day(1)}), lot(noon.Add(24*time.Hour), 9, Lot{Place: "aft"}),
		}, []float64{0, 0, 2, 0, 9}},
		{"a whole count holds, whatever was eaten before", []Counting{
			lot(noon, 3, Lot{BestBefore: day(9)}), whole(noon.Add(72*time.Hour), 6),
		}, []float64{3, 3}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			stock := b.StockOf("biscuit", 2, test.counts, time.UTC)
			var packs []float64
			for _, l := range stock.Lots {
				packs = append(packs, l.Packs)
			}
			assert.Equal(t, test.want, packs)
			if n := len(test.counts); n > 0 {
				assert.Equal(t, test.counts[n-1].At, stock.Counted)
			}
		})
	}
	assert.Len(t, b.StockOf("rice", 2, nil, time.UTC).Lots, 1, "a food that is no longer defined keeps its lots")
	assert.InDelta(t, 3.0, b.Lots[0].Packs, 0, "the definitions stay as they are")
}
