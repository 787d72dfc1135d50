package record

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// yearsOfPages writes a record of passages, each a page of about 300 entries, as twenty years of sailing would: the
// invented boat leaves every five weeks or so, walks her round, sounds and reads under way, comes in and closes.
func yearsOfPages(tb testing.TB, boat string, pages int) {
	tb.Helper()
	s := Open(boat)
	require.NoError(tb, s.disk.mkdir(s.path(folder)))
	w := yearsWriter{tb: tb, at: time.Date(2006, 1, 2, 8, 0, 0, 0, time.UTC), previous: firstLink}
	for n := 1; n <= pages; n++ {
		w.page(n)
		f, err := s.disk.open(s.path(pageName(n)), toAppend)
		require.NoError(tb, err)
		require.NoError(tb, writeAll(f, w.text))
		require.NoError(tb, f.Close())
	}
}

type yearsWriter struct {
	tb       testing.TB
	at       time.Time
	seq      int
	previous string
	text     []byte
	carried  []checklist.Entry
	entries  []checklist.Entry // of the page
}

func (w *yearsWriter) add(after time.Duration, act checklist.Act) int {
	w.at = w.at.Add(after)
	w.seq++
	e := checklist.Entry{Seq: w.seq, At: w.at, Act: act}
	body, err := encodeEntry(e)
	require.NoError(w.tb, err)
	var text []byte
	text, w.previous = sealed(w.previous, body)
	e.Sum = w.previous
	w.entries = append(w.entries, e)
	w.text = append(w.text, text...)

	return w.seq
}

func (w *yearsWriter) page(n int) {
	w.text, w.entries = []byte(pageHead), nil
	if n > 1 {
		w.add(33*24*time.Hour, checklist.Compact(w.carried))
	}
	for i := range 40 {
		w.add(15*time.Second, checklist.Answer{Check: fmt.Sprintf("check-%d", i), Answer: checklist.Right, Say: "seen"})
	}
	w.add(time.Minute, checklist.Sound{Tank: "port water", Level: "full"})
	place := func(n int) string { return fmt.Sprintf("Anchorage %d", n) }
	sign := checklist.Sign{Name: "A Skipper", Boat: "Test Petrel", Passage: fmt.Sprintf("passage %d", n), Depart: w.at.Add(10 * time.Hour), Crew: 2, Verdict: "holds"}
	for i := range 40 {
		sign.Answers = append(sign.Answers, checklist.SignedAnswer{Check: fmt.Sprintf("check-%d", i), Answer: checklist.Right, Say: "seen", At: w.at})
	}
	cases := []checklist.SignedCase{{Case: "slow", Made: true, Hours: 60, Water: 50, Arrive: w.at.Add(70 * time.Hour)}, {Case: "expected", Made: true, Hours: 48, Water: 40}, {Case: "quick", Made: true, Hours: 40, Water: 33}}
	resources := []checklist.SignedResource{{What: "water", From: place(n), To: place(n + 1), Available: 150, Need: 50, Reserve: 30}}
	sign.Cases, sign.Resources = cases, resources
	signed := w.add(time.Minute, sign)
	w.add(10*time.Hour, checklist.Depart{
		Passage: sign.Passage, From: place(n), To: place(n + 1), Sign: signed, Crew: 2, Hours: 1000 + float64(n), Cases: cases, Resources: resources,
		Tanks: []checklist.SignedTank{{Tank: "port water", Level: "full", At: w.at}},
	})
	left := 300 - len(w.entries)
	for i := range left - 1 {
		w.add(10*time.Minute, checklist.Reading{Values: []checklist.ReadingValue{{Of: "rpm", Value: amount(w.tb, "2000")}, {Of: "coolant", Value: amount(w.tb, "81 °C")}}, Minutes: 20, Note: fmt.Sprintf("watch %d", i)})
	}
	w.add(time.Hour, checklist.Arrive{Place: place(n + 1), Close: true, Miles: 240, Hours: 1001 + float64(n), Levels: []checklist.TankLevel{{Tank: "port water", Level: "110 L"}}})
	w.carried = w.entries
}

// BenchmarkPassagesOfYears lists twenty years: 200 pages, 60,000 entries. The goal is under 0.3 s.
func BenchmarkPassagesOfYears(b *testing.B) {
	boat := b.TempDir()
	yearsOfPages(b, boat, 200)
	for b.Loop() {
		x, err := Open(boat).Passages(Wanted{})
		require.NoError(b, err)
		require.Len(b, x.Passages, 200)
		require.Empty(b, x.Faults)
		b.ReportMetric(float64(x.Entries), "entries")
	}
}

// BenchmarkFindingInYears looks for two words in all of it.
func BenchmarkFindingInYears(b *testing.B) {
	boat := b.TempDir()
	yearsOfPages(b, boat, 200)
	for b.Loop() {
		_, err := Open(boat).Passages(Wanted{Words: []string{"Anchorage", "117"}})
		require.NoError(b, err)
	}
}

// BenchmarkOpen is the start of the program with one page, with the eight after which a carry holds all that it ever
// holds, and with twenty years of them: the goal is 1.1 times of the eight. The one page alone has no carry to read.
func BenchmarkOpen(b *testing.B) {
	for _, pages := range []int{1, 8, 200} {
		b.Run(fmt.Sprintf("%d", pages), func(b *testing.B) {
			boat := b.TempDir()
			yearsOfPages(b, boat, pages)
			for b.Loop() {
				l, err := Open(boat).Load()
				require.NoError(b, err)
				require.Empty(b, l.Notices)
				checklist.Fold(l.Entries)
				b.ReportMetric(float64(len(l.Entries)), "entries")
			}
		})
	}
}

// BenchmarkVerifyYears is the whole chain over all pages.
func BenchmarkVerifyYears(b *testing.B) {
	boat := b.TempDir()
	yearsOfPages(b, boat, 200)
	for b.Loop() {
		r, err := Verify(boat)
		require.NoError(b, err)
		require.Empty(b, r.Faults)
		b.SetBytes(r.Bytes)
	}
}
