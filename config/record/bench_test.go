package record

import (
	"testing"

	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

var soundings = checklist.Sound{Tank: "starboard water", Level: "62 %"}

// BenchmarkAppend is an entry on the disk, file and folder synced.
func BenchmarkAppend(b *testing.B) {
	s := Open(b.TempDir())
	for n := 0; b.Loop(); n++ {
		_, err := s.Append(minute(n), "", act(soundings))
		require.NoError(b, err)
	}
}

// BenchmarkAppendToAFullPage is the same at the end of a page of almost a megabyte.
func BenchmarkAppendToAFullPage(b *testing.B) {
	s := Open(b.TempDir())
	fillPage(b, s)
	for n := 0; b.Loop(); n++ {
		_, err := s.Append(minute(n), "", act(soundings))
		require.NoError(b, err)
	}
}

// fillPage writes a page of almost a megabyte of short entries, without syncing each.
func fillPage(b *testing.B, s *Store) {
	b.Helper()
	require.NoError(b, s.disk.mkdir(s.path(folder)))
	f, err := s.disk.open(s.path(pageName(1)), toAppend)
	require.NoError(b, err)
	page, previous := []byte(pageHead), firstLink
	for seq := 1; len(page) < fullPage-2000; seq++ {
		body, err := encodeEntry(checklist.Entry{Seq: seq, At: minute(seq), Act: soundings})
		require.NoError(b, err)
		var text []byte
		text, previous = sealed(previous, body)
		page = append(page, text...)
	}
	require.NoError(b, writeAll(f, page))
	require.NoError(b, f.Close())
}

// BenchmarkLoadFullPage is the start of the program with the largest page there is.
func BenchmarkLoadFullPage(b *testing.B) {
	boat := b.TempDir()
	fillPage(b, Open(boat))
	for b.Loop() {
		l, err := Open(boat).Load()
		require.NoError(b, err)
		require.Empty(b, l.Notices)
		b.SetBytes(int64(fullPage))
		b.ReportMetric(float64(len(l.Entries)), "entries")
	}
}

func BenchmarkVerify(b *testing.B) {
	boat := b.TempDir()
	fillPage(b, Open(boat))
	for b.Loop() {
		r, err := Verify(boat)
		require.NoError(b, err)
		require.Empty(b, r.Faults)
		b.SetBytes(r.Bytes)
	}
}
