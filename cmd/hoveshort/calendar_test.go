package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

// readBack reads a calendar with another library than the one that wrote it.
func readBack(t *testing.T, text string) map[string]ical.Event {
	t.Helper()
	cal, err := ical.NewDecoder(strings.NewReader(text)).Decode()
	require.NoError(t, err)
	require.NoError(t, ical.NewEncoder(&bytes.Buffer{}).Encode(cal), "it holds what a calendar must")
	events := map[string]ical.Event{}
	for _, e := range cal.Events() {
		uid, err := e.Props.Text(ical.PropUID)
		require.NoError(t, err)
		require.NotContains(t, events, uid)
		events[uid] = e
	}
	return events
}

// followsTheRules looks at the lines. Source: RFC 5545, 3.1 (CRLF, no line over 75 octets, no
// control characters), 3.6 (VERSION and PRODID), 3.6.1 (UID and DTSTAMP, in UTC).
func followsTheRules(t *testing.T, text string) {
	t.Helper()
	require.True(t, strings.HasPrefix(text, "BEGIN:VCALENDAR\r\n") && strings.HasSuffix(text, "END:VCALENDAR\r\n"))
	require.Equal(t, strings.Count(text, "\n"), strings.Count(text, "\r\n"))
	for line := range strings.SplitSeq(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		require.LessOrEqual(t, len(line), 75, line)
		require.NotEmpty(t, line)
		require.True(t, utf8.ValidString(line), "no letter is cut: %q", line)
		require.NotRegexp(t, `[\x00-\x08\x0a-\x1f\x7f]`, line)
	}
	require.Contains(t, text, "VERSION:2.0\r\n")
	require.Contains(t, text, "PRODID:-//hoveshort//calendar//EN\r\n")
	stamps := regexp.MustCompile(`(?m)^DTSTAMP:\d{8}T\d{6}Z\r$`).FindAllString(text, -1)
	require.Len(t, stamps, strings.Count(text, "BEGIN:VEVENT\r\n"))
	require.Equal(t, len(stamps), strings.Count(text, "\r\nUID:"))
}

func TestTheCalendarHasTheDatesOfTheReports(t *testing.T) {
	w := world{boat: demo(t)}
	r := w.call("--at", evening, "calendar")
	require.Equal(t, exitDone, r.code, r.stderr)
	followsTheRules(t, r.stdout)
	events := readBack(t, r.stdout)

	var told agendaJSON
	require.NoError(t, json.Unmarshal([]byte(w.call("--at", evening, "calendar", "--json").stdout), &told))
	require.Len(t, events, len(told.Dates))
	kinds := map[checklist.AgendaKind]int{}
	for _, date := range told.Dates {
		kinds[date.Kind]++
		e, there := events[date.UID]
		require.True(t, there, date.Name)
		summary, err := e.Props.Text(ical.PropSummary)
		require.NoError(t, err)
		assert.Equal(t, date.What, summary)
		description, err := e.Props.Text(ical.PropDescription)
		require.NoError(t, err)
		assert.Equal(t, strings.Join(date.Told, "\n"), description)
		start := e.Props.Get(ical.PropDateTimeStart)
		if date.Day != nil {
			assert.Equal(t, ical.ValueDate, start.ValueType())
			assert.Equal(t, strings.ReplaceAll(*date.Day, "-", ""), start.Value)
			assert.Empty(t, e.Children, "a day has no alarm")
			continue
		}
		at, err := e.DateTimeStart(time.UTC)
		require.NoError(t, err)
		assert.True(t, date.At.Equal(at))
		require.Len(t, e.Children, 1)
		assert.Equal(t, ical.CompAlarm, e.Children[0].Name)
		assert.Equal(t, "DISPLAY", e.Children[0].Props.Get(ical.PropAction).Value)
		assert.Equal(t, "PT0S", e.Children[0].Props.Get(ical.PropTrigger).Value)
	}
	assert.Equal(t, 1, kinds[checklist.AgendaWorry])
	assert.Positive(t, kinds[checklist.AgendaService])

	var sheet sheetJSON
	require.NoError(t, json.Unmarshal([]byte(w.call("--at", evening, "sheet", "--json").stdout), &sheet))
	assert.True(t, sheet.Worry.Equal(*told.Dates[len(told.Dates)-1].At), "the worry time is the sheet's")
	dated, err := os.ReadFile(filepath.Join(w.boat, "dated.toml"))
	require.NoError(t, err)
	assert.Equal(t, strings.Count(string(dated), "\nuntil = "), kinds[checklist.AgendaDated], "each of the gear with a date")
}

// Loaded again a month later, the same things have the same names, and a higher number.
func TestTheSameDateKeepsItsName(t *testing.T) {
	w := world{boat: demo(t)}
	first := readBack(t, w.call("--at", evening, "calendar").stdout)
	w.mustDo(t, "--at", evening, "reading", "hours=1815", "rpm=2000", "coolant=80C")
	later := readBack(t, w.call("--at", "2026-10-18T18:30+13:00", "calendar").stdout)
	shared := 0
	for uid, e := range first {
		if l, there := later[uid]; there {
			shared++
			assert.Equal(t, "0", e.Props.Get(ical.PropSequence).Value)
			assert.Equal(t, "1", l.Props.Get(ical.PropSequence).Value)
		}
	}
	assert.GreaterOrEqual(t, shared, len(first)-1)
	again := w.call("--at", evening, "calendar").stdout
	assert.Equal(t, again, w.call("--at", evening, "calendar").stdout, "the same moment, the same bytes")
}

// Commas, semicolons, backslashes and line ends are escaped (RFC 5545, 3.3.11); long lines are
// folded between letters.
func TestWhatANameHoldsComesBack(t *testing.T) {
	m := moment{now: time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)}
	m.definitions.Boat.Name = `Tern; "Sea, \ Swallow"`
	what := `a;b,c\d\n"e":f ` + strings.Repeat("é漢🙂x", 60)
	text := calendarText(m, []checklist.AgendaItem{
		{Kind: checklist.AgendaDated, Name: "1", Day: quantity.Date{Year: 2028, Month: 2, Day: 29}, What: what, Told: []string{"one", "two\r\nBEGIN:VALARM"}},
	})
	followsTheRules(t, text)
	for _, e := range readBack(t, text) {
		summary, err := e.Props.Text(ical.PropSummary)
		require.NoError(t, err)
		assert.Equal(t, what, summary)
		description, err := e.Props.Text(ical.PropDescription)
		require.NoError(t, err)
		assert.Equal(t, "one\ntwo\nBEGIN:VALARM", description)
		assert.Equal(t, "20280229", e.Props.Get(ical.PropDateTimeStart).Value)
		assert.Equal(t, "20280301", e.Props.Get(ical.PropDateTimeEnd).Value)
		assert.Empty(t, e.Children)
	}
}

func TestTheCalendarIsWrittenWholeAndOverNothing(t *testing.T) {
	dir := t.TempDir()
	w := world{boat: demo(t), edit: func(e *env) { e.dir = dir }}
	r := w.call("--at", evening, "calendar", "--out", "heron.ics")
	require.Equal(t, exitDone, r.code, r.stderr)
	assert.Contains(t, r.stdout, "heron.ics: ")
	text, err := os.ReadFile(filepath.Join(dir, "heron.ics"))
	require.NoError(t, err)
	assert.Equal(t, w.call("--at", evening, "calendar").stdout, string(text))
	assert.Equal(t, exitRefused, w.call("--at", evening, "calendar", "--out", "heron.ics").code)
	assert.Equal(t, exitDone, w.call("--at", evening, "calendar", "--out", "heron.ics", "--force").code)
	assert.Equal(t, exitUsage, w.call("calendar", "--force").code)
	assert.Equal(t, exitUsage, w.call("calendar", "--json", "--out", "x.ics").code)
	assert.Equal(t, exitNotWritten, w.call("calendar", "--out", "not/there.ics").code)
}
