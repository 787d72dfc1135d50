package record

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// start is a moment at an anchorage that is nowhere.
var start = time.Date(2026, 6, 12, 5, 30, 0, 0, time.FixedZone("", 13*3600))

func act(a checklist.Act) func([]checklist.Entry) (checklist.Act, error) {
	return func([]checklist.Entry) (checklist.Act, error) { return a, nil }
}

func event(n int) checklist.Act { return checklist.Event{What: fmt.Sprintf("event %d", n)} }

// minute is a moment n minutes after the start.
func minute(n int) time.Time { return start.Add(time.Duration(n) * time.Minute) }

// add appends events from..to, one a minute.
func add(t testing.TB, s *Store, from, to int) Loaded {
	t.Helper()
	var l Loaded
	var err error
	for n := from; n <= to; n++ {
		l, err = s.Append(minute(n), "", act(event(n)))
		require.NoError(t, err)
	}

	return l
}

// happened are the events of a load, in order.
func happened(entries []checklist.Entry) []string {
	var all []string
	for _, e := range entries {
		switch a := e.Act.(type) {
		case checklist.Event:
			all = append(all, a.What)
		case checklist.Carry:
			all = append(all, happened(a.Kept)...)
		}
	}

	return all
}

func events(from, to int) []string {
	var all []string
	for n := from; n <= to; n++ {
		all = append(all, fmt.Sprintf("event %d", n))
	}

	return all
}

func memStore(d disk) *Store { return &Store{boat: memBoat, disk: d, wait: time.Second} }

func readPageFile(t testing.TB, boat string, number int) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(boat, pageName(number)))
	require.NoError(t, err)

	return text
}

func writePageFile(t testing.TB, boat string, number int, text []byte) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Join(boat, folder), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(boat, pageName(number)), text, 0o644))
}

func verifyClean(t testing.TB, boat string) Report {
	t.Helper()
	r, err := Verify(boat)
	require.NoError(t, err)
	require.Empty(t, r.Faults)

	return r
}

func lines(faults []Fault) string {
	var all []string
	for _, f := range faults {
		all = append(all, f.String())
	}

	return strings.Join(all, "\n")
}

// seqs are the numbers of the entries that faults name.
func seqs(faults []Fault) []int {
	var all []int
	for _, f := range faults {
		all = append(all, f.Seq)
	}

	return all
}
