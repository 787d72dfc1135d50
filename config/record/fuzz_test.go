package record

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// FuzzPage puts any bytes anywhere into a page. Nothing panics; the entries before the damage are all there; what can
// still be read can be added to; and nothing that was in the page is gone from the disk.
func FuzzPage(f *testing.F) {
	whole := pageOf(f, 4)
	ends := sumEnds(whole)
	f.Add(uint(len(whole)), uint(0), []byte("\n[[entry]]\nseq = 5\n"))
	f.Add(uint(200), uint(3), []byte("\r\n"))
	f.Add(uint(0), uint(len(whole)), []byte("format = 9\n"))
	f.Add(uint(0), uint(0), []byte("\xef\xbb\xbf"))
	f.Add(uint(ends[1]), uint(1), []byte("\n[[entry]]\nseq = 3\nat = 2026-06-12T05:33:00+13:00\nkind = \"event\"\nwhat = [[[[{a.b.c.d = '\n"))
	f.Add(uint(ends[0]), uint(ends[1]-ends[0]), []byte(nil))
	for _, a := range gearActs(f) {
		body, err := encodeEntry(checklist.Entry{Seq: 3, At: minute(3), Act: a})
		require.NoError(f, err)
		text, _ := sealed(strings.Repeat("0", 64), body)
		f.Add(uint(ends[1]), uint(1), text)
	}
	f.Fuzz(func(t *testing.T, at, gone uint, text []byte) {
		from := int(at % uint(len(whole)+1))
		to := min(len(whole), from+int(gone%uint(len(whole)+1)))
		damaged := bytes.Join([][]byte{whole[:from], text, whole[to:]}, nil)
		d := newMemDisk()
		putPage(t, d, 1, damaged)

		l, err := memStore(d).LoadAll()
		if err != nil {
			require.Contains(t, err.Error(), "record/0001.toml: ")
			return
		}
		untouched := 0
		for untouched < len(ends) && ends[untouched] <= from {
			untouched++
		}
		found := happened(l.Entries)
		require.GreaterOrEqual(t, len(found), untouched)
		require.Equal(t, append([]string{}, events(1, untouched)...), append([]string{}, found[:untouched]...))

		after, err := memStore(d).Append(minute(9), "", act(event(9)))
		require.NoError(t, err)
		require.Contains(t, happened(after.Entries), "event 9")
		kept := everyByte(t, d)
		for _, line := range bytes.SplitAfter(damaged, []byte("\n")) {
			require.True(t, bytes.Contains(kept, line), "%q is gone", line)
		}
		_, err = memStore(d).verify()
		require.NoError(t, err)
	})
}

// everyByte is all that is in the record's folder.
func everyByte(t testing.TB, d *memDisk) []byte {
	t.Helper()
	names, err := d.list(memBoat + "/" + folder)
	require.NoError(t, err)
	require.NotEmpty(t, names)
	var all []byte
	for _, name := range names {
		if text, err := d.read(memBoat + "/" + folder + "/" + name); err == nil { // or it is a folder
			all = append(all, text...)
		}
	}

	return all
}
