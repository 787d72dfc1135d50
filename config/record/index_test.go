package record

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

func listed(x Index) []string {
	told := []string{}
	for _, h := range x.Passages {
		if h.Found {
			told = append(told, fmt.Sprintf("%d %s %s", h.Number(), h.Passage, h.Place))
		}
	}

	return told
}

// What the list tells is what decoding and cutting the whole record tells.
func TestTheListAgreesWithTheWholeRecord(t *testing.T) {
	boat := t.TempDir()
	s := Open(boat)
	acts := []checklist.Act{
		checklist.Event{What: "moored"},
		checklist.Sign{Name: "Mara", Passage: "one", Depart: minute(9), Answers: []checklist.SignedAnswer{{Check: "oil", Answer: checklist.Right, At: minute(1)}}},
		checklist.Depart{Passage: "one", From: "A", To: "B", Sign: 2},
		checklist.Noon{Note: "a whale"}, checklist.Arrive{Place: "B", Close: true},
		checklist.Sign{Name: "Mara", Passage: "never", Depart: minute(9)},
		checklist.Sign{Name: "Mara", Passage: "struck", Depart: minute(9)}, checklist.Correct{Of: 8, Why: "the wrong plan"},
		checklist.Depart{Passage: "two", From: "B", To: "C"}, checklist.Depart{Of: 10, Why: "dragging"}, checklist.Arrive{Place: "C", When: minute(3)},
		checklist.Event{What: "ashore"}, checklist.Depart{Passage: "three", From: "C", To: "D"}, checklist.Event{What: "engine stopped"},
	}
	for i, a := range acts {
		_, err := s.Append(minute(i), "", act(a))
		require.NoError(t, err)
	}
	x, err := s.Passages(Wanted{})
	require.NoError(t, err)
	require.Empty(t, x.Faults)
	all, err := s.LoadAll()
	require.NoError(t, err)
	want := checklist.Passages(all.Entries)
	require.Len(t, want, 4, "one, never, two and three; the struck one is none")
	require.Len(t, x.Passages, len(want))
	for i, p := range want {
		h := x.Passages[i]
		assert.Equal(t, p.Number(), h.Number())
		assert.Equal(t, p.Name(), h.Passage)
		assert.Equal(t, len(p.Entries), h.Entries, h.Passage)
		assert.Equal(t, p.Depart.Seq, h.Depart, h.Passage)
		assert.Equal(t, p.Depart.At.Unix(), h.DepartAt.Unix(), h.Passage)
		assert.Equal(t, p.Closed != nil, h.Closed, h.Passage)
		if p.Arrived != nil {
			assert.Equal(t, p.Arrived.Moment().Unix(), h.ArrivedAt.Unix(), h.Passage)
			assert.Equal(t, p.Arrived.Place, h.Place)
		}
		if p.Sign != nil {
			assert.Equal(t, p.Sign.Sum, h.Sum)
		}
		read, err := s.Read(h.First, h.Last)
		require.NoError(t, err)
		found := false
		for _, again := range checklist.Passages(read.Entries) {
			found = found || again.Number() == p.Number() && len(again.Entries) == len(p.Entries)
		}
		assert.True(t, found, "%s is whole on its pages", h.Passage)
	}
	for name, c := range map[string]struct {
		wanted Wanted
		want   []string
	}{
		"a place":           {Wanted{Words: []string{"b"}}, nil},
		"a word of a note":  {Wanted{Words: []string{"WHALE"}}, []string{"2 one B"}},
		"two words":         {Wanted{Words: []string{"whale", "moored"}}, []string{"2 one B"}},
		"not both":          {Wanted{Words: []string{"whale", "dragging"}}, []string{}},
		"a date":            {Wanted{Words: []string{"2026-06-12"}}, nil},
		"the name of a key": {Wanted{Words: []string{"passage"}}, []string{}},
		"a kind of entry":   {Wanted{Words: []string{"depart"}}, []string{}},
		"another year":      {Wanted{Year: 2025}, []string{}},
		"up to then":        {Wanted{Until: new(minute(4))}, []string{"2 one B"}},
	} {
		x, err := s.Passages(c.wanted)
		require.NoError(t, err)
		if c.want != nil {
			assert.Equal(t, c.want, listed(x), name)
		} else {
			assert.NotEmpty(t, listed(x), name)
		}
	}
}

// threePages is a record of three passages, a page each.
func threePages(t *testing.T) string {
	t.Helper()
	boat := t.TempDir()
	yearsOfPages(t, boat, 3)

	return boat
}

func TestAMissingPageIsToldAndTheRestIsListed(t *testing.T) {
	boat := threePages(t)
	require.NoError(t, os.Remove(filepath.Join(boat, pageName(2))))
	x, err := Open(boat).Passages(Wanted{})
	require.NoError(t, err)
	assert.Equal(t, "record/0002.toml: this page is missing", lines(x.Faults))
	assert.Equal(t, []string{"42 passage 1 Anchorage 2", "643 passage 3 Anchorage 4"}, listed(x))
	r, err := Verify(boat)
	require.NoError(t, err)
	assert.Equal(t, "record/0002.toml: this page is missing", lines(r.Faults))
	_, err = Open(boat).Read(2, 2)
	assert.ErrorContains(t, err, "record/0002.toml: this page is missing")
}

func TestAPageOfAnotherBoatIsToldAndNothingIsLost(t *testing.T) {
	boat, other := threePages(t), t.TempDir()
	s := Open(other)
	for n := range 20 {
		_, err := s.Append(minute(n), "", act(checklist.Event{What: "of the other boat"}))
		require.NoError(t, err)
	}
	foreign := readPageFile(t, other, 1)
	before := readPageFile(t, boat, 2)
	writePageFile(t, boat, 2, foreign)
	x, err := Open(boat).Passages(Wanted{})
	require.NoError(t, err)
	assert.Equal(t, "record/0002.toml: "+notFollowing+"\nrecord/0003.toml: "+notFollowing, lines(x.Faults))
	assert.Equal(t, []string{"42 passage 1 Anchorage 2", "643 passage 3 Anchorage 4"}, listed(x))
	r, err := Verify(boat)
	require.NoError(t, err)
	assert.Contains(t, lines(r.Faults), "record/0002.toml: "+notFollowing)
	l, err := Open(boat).LoadAll()
	require.NoError(t, err)
	assert.Contains(t, strings.Join(l.Notices, "\n"), "Nothing was thrown away")

	writePageFile(t, boat, 2, before)
	assert.Empty(t, verifyClean(t, boat).Faults, "what was put back is whole")
}

// Pages are looked at side by side; what is found is what one after the other finds.
func TestVerifyFindsTheSameHoweverManyPagesAreReadAtOnce(t *testing.T) {
	boat := t.TempDir()
	yearsOfPages(t, boat, atOnce+2)
	for _, n := range []int{2, atOnce, atOnce + 1} {
		page := readPageFile(t, boat, n)
		writePageFile(t, boat, n, bytes.Replace(page, []byte("watch 7"), []byte("watch 8"), 1))
	}
	r, err := Verify(boat)
	require.NoError(t, err)
	l, err := Open(boat).LoadAll()
	require.NoError(t, err)
	assert.Equal(t, lines(l.Damage), lines(r.Faults))
	assert.Len(t, r.Faults, 3)
	assert.Equal(t, (atOnce+2)*300, r.Entries)
}

// exported are all entries of a boat, in both formats.
func exported(t *testing.T, boat string) (jsonl, table []byte, entries []checklist.Entry) {
	t.Helper()
	var j, c bytes.Buffer
	rows := NewCSV(&c)
	require.NoError(t, rows.Write(CSVHeader))
	_, err := Open(boat).Each(func(e checklist.Entry) error {
		entries = append(entries, e)
		require.NoError(t, WriteJSONL(&j, e))

		return WriteCSV(rows, e, checklist.Definitions{}.Words(e.Act))
	})
	require.NoError(t, err)
	rows.Flush()
	require.NoError(t, rows.Error())

	return j.Bytes(), c.Bytes(), entries
}

// JSON Lines is read back by encoding/json, CSV by encoding/csv, which read RFC 8259 and RFC 4180.
func TestWhatIsExportedReadsBack(t *testing.T) {
	boat := t.TempDir()
	s := Open(boat)
	acts := append(fixtureActs(t), checklist.Event{What: "=1+1"}, checklist.Event{What: `a "quoted", comma; line`},
		checklist.Depart{Passage: "one", Cases: []checklist.SignedCase{{Case: "slow", Hours: 12.5}}}, checklist.Arrive{Close: true, Levels: []checklist.TankLevel{{Tank: "x", Level: "full"}}}, checklist.Event{What: "on page two"})
	for i, a := range acts {
		_, err := s.Append(minute(i), "@Mara", act(a))
		require.NoError(t, err)
	}
	jsonl, table, entries := exported(t, boat)
	require.Len(t, entries, len(acts)+1, "the carry of page two is one of them")
	decoder := json.NewDecoder(bytes.NewReader(jsonl))
	assert.Equal(t, len(entries), bytes.Count(jsonl, []byte("\n")))
	for _, e := range entries {
		var told map[string]any
		require.NoError(t, decoder.Decode(&told))
		assert.EqualValues(t, e.Seq, told["seq"])
		assert.Equal(t, string(e.Act.Kind()), told["kind"])
		assert.Equal(t, e.Sum, told["sum"])
		if d, is := e.Act.(checklist.Depart); is {
			assert.Equal(t, d.Cases[0].Hours, told["cases"].([]any)[0].(map[string]any)["hours"])
		}
	}
	assert.True(t, bytes.HasPrefix(jsonl, []byte(`{"seq":1,"at":"2026-06-12T05:30:00+13:00","kind":"sound","by":"@Mara","tank":"port water","level":"62 %","sum":"`)), "%.200s", jsonl)

	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, len(entries)+1)
	assert.Equal(t, CSVHeader, rows[0])
	for i, e := range entries {
		row := rows[i+1]
		assert.Equal(t, fmt.Sprint(e.Seq), row[0])
		at, err := time.Parse(time.RFC3339, row[1])
		require.NoError(t, err)
		assert.Equal(t, e.At.Unix(), at.Unix())
		if e.By != "" {
			assert.Equal(t, "'@Mara", row[3], "a spreadsheet would take it for a formula")
		}
		assert.Equal(t, e.Sum, row[5])
	}
	assert.Contains(t, string(table), "\r\n2,", "lines end in CR LF")
}

func TestATextThatBeginsLikeAFormulaIsNone(t *testing.T) {
	for text, want := range map[string]string{"": "", "moored": "moored", "=1+1": "'=1+1", "+1": "'+1", "-1": "'-1", "@x": "'@x", "\tx": "'\tx", "a=1": "a=1"} {
		assert.Equal(t, want, unformula(text))
	}
}
