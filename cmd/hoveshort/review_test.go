package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config/record"
)

// put writes an act as it stands, at a moment.
func put(t *testing.T, dir string, at time.Time, act checklist.Act) int {
	t.Helper()
	l, err := record.Open(dir).Append(at, "", func([]checklist.Entry) (checklist.Act, error) { return act, nil })
	require.NoError(t, err)
	return l.Entries[len(l.Entries)-1].Seq
}

// sailed is the demo boat, signed off and gone, in at Opua nine and a half days after it; what was sounded there is
// invented.
func sailed(t *testing.T) (dir string, signed, depart int) {
	t.Helper()
	dir = ready(t)
	world{boat: dir}.mustDo(t, "--at", evening, "sign", "Mara", "--yes")
	l, err := record.Open(dir).Load()
	require.NoError(t, err)
	last := l.Entries[len(l.Entries)-1]
	s, is := last.Act.(checklist.Sign)
	require.True(t, is)
	signed = last.Seq
	left := s.Depart
	depart = put(t, dir, left, checklist.Depart{
		Passage: s.Passage, PassageKind: s.PassageKind, From: "Nuku'alofa", To: "North Minerva Reef", Sign: signed, Definitions: s.Definitions,
		Crew: s.Crew, Hours: 1482, Cases: s.Cases, Resources: s.Resources, Tanks: s.Tanks,
	})
	put(t, dir, left.Add(50*time.Hour), checklist.Noon{To: "Opua", ToGo: 700, Note: "the watch washes in fresh water"})
	put(t, dir, left.Add(60*time.Hour), checklist.DefectAct{What: "the bilge pump hums", Grade: "note"})
	put(t, dir, left.Add(228*time.Hour), checklist.Arrive{
		Place: "Opua", Close: true, Miles: 1090, Hours: 1532, Levels: []checklist.TankLevel{
			{Tank: "port water", Level: "20 L"}, {Tank: "starboard water", Level: "30 L"}, {Tank: "main diesel", Level: "90 L"},
		},
	})
	return dir, signed, depart
}

func TestAPastPassageIsReadBackAndHeldAgainstWhatCameOfIt(t *testing.T) {
	dir, signed, depart := sailed(t)
	w := world{boat: dir}
	r := w.call("review", "last")
	require.Equal(t, exitDone, r.code, r.stdout+r.stderr)
	for _, text := range []string{
		"signed off by Mara: ", "computed again from the definitions that were kept: the same", "SIGNED AGAINST ACTUAL: ", "actual 9.5 days", "DIFFERENCES",
		"more water a day than planned", "the bilge pump hums; open", "EXCEPTIONS ACCEPTED",
	} {
		assert.Contains(t, r.stdout, text)
	}
	if os.Getenv("SHOW") != "" {
		t.Log("\n" + r.stdout)
	}
	assert.Equal(t, r.stdout, w.call("review", itoa(signed)).stdout)
	assert.Equal(t, r.stdout, w.call("review", itoa(depart)).stdout, "the departure is the same passage")
	for line := range strings.Lines(r.stdout) {
		assert.LessOrEqual(t, len([]rune(strings.TrimRight(line, "\n"))), width+9, line) // a file's name of 64 digits stands alone
	}

	var told struct {
		Same   bool `json:"same"`
		Review struct {
			Days   float64 `json:"days"`
			Things []struct {
				What string   `json:"what"`
				Used *float64 `json:"used"`
			} `json:"things"`
		} `json:"review"`
	}
	require.NoError(t, json.Unmarshal([]byte(w.call("review", "last", "--json").stdout), &told))
	assert.True(t, told.Same)
	assert.InDelta(t, 9.5, told.Review.Days, 1e-9)
	require.Len(t, told.Review.Things, 3)
	assert.NotNil(t, told.Review.Things[0].Used)
	assert.Nil(t, told.Review.Things[2].Used, "nobody weighed the gas")
}

func itoa(n int) string {
	text, _ := json.Marshal(n)
	return string(text)
}

func TestPassagesAreFoundByPlaceDateAndWord(t *testing.T) {
	dir, signed, _ := sailed(t)
	w := world{boat: dir}
	for _, args := range [][]string{{}, {"--find", "opua"}, {"--find", "2026-10"}, {"--find", "bilge hums"}, {"--find", "bilge", "hums"}, {"--year", "2026"}, {"--year", "2026", "--find", "Minerva"}} {
		r := w.call(append([]string{"review"}, args...)...)
		assert.Equal(t, exitDone, r.code)
		assert.Contains(t, r.stdout, "entry "+itoa(signed)+", ", "%q", args)
		assert.Contains(t, strings.Join(strings.Fields(r.stdout), " "), "in at Opua ", "%q", args)
	}
	for _, args := range [][]string{{"--find", "whale"}, {"--year", "2025"}, {"--find", "definitions"}} {
		r := w.call(append([]string{"review"}, args...)...)
		assert.Equal(t, exitDone, r.code)
		assert.Contains(t, r.stdout, "no passage was found", "%q", args)
	}
	assert.Contains(t, w.call("--at", evening, "review").stdout, "did not leave on it", "as of then she lay at anchor")
}

func TestTwoPassagesSideBySide(t *testing.T) {
	dir, signed, _ := sailed(t)
	at := time.Date(2026, 11, 20, 8, 0, 0, 0, time.FixedZone("", 13*3600))
	second := put(t, dir, at, checklist.Depart{Passage: "round the headland", From: "Opua", To: "the next bay", Crew: 1})
	w := world{boat: dir}
	r := w.call("review", itoa(signed), itoa(second))
	require.Equal(t, exitDone, r.code, r.stderr)
	assert.Regexp(t, `(?m)^took +9\.5 days.*not known$`, r.stdout)
	assert.Regexp(t, `(?m)^crew +2 +1$`, r.stdout)
	assert.Equal(t, exitRefused, w.call("review", itoa(signed), "1").code)
	assert.Contains(t, w.call("review", itoa(second)).stdout, "LEFT UNSIGNED: round the headland")
	assert.Contains(t, w.call("review", itoa(second)).stdout, "the reason: none was given")
}

func TestTheRecordIsExportedWholeAndNothingIsWrittenOver(t *testing.T) {
	dir, _, _ := sailed(t)
	w := world{boat: dir}
	all, err := record.Open(dir).LoadAll()
	require.NoError(t, err)
	r := w.call("review", "--export", "jsonl")
	require.Equal(t, exitDone, r.code, r.stderr)
	lines := strings.Split(strings.TrimSuffix(r.stdout, "\n"), "\n")
	require.Len(t, lines, len(all.Entries))
	for i, line := range lines {
		var told map[string]any
		require.NoError(t, json.Unmarshal([]byte(line), &told))
		assert.EqualValues(t, all.Entries[i].Seq, told["seq"])
	}

	file := filepath.Join(t.TempDir(), "log.csv")
	r = w.call("review", "--export", "csv", file)
	require.Equal(t, exitDone, r.code, r.stderr)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	require.NoError(t, err)
	assert.Len(t, rows, len(all.Entries)+1)
	r = w.call("review", "--export", "csv", file)
	assert.Equal(t, exitRefused, r.code)
	assert.Contains(t, r.stderr, "is there already; nothing was written")
	again, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, text, again)
	assert.Equal(t, exitUsage, w.call("review", "--export", "xml").code)
	assert.Equal(t, exitNotWritten, w.call("review", "--export", "csv", filepath.Join(dir, "no", "such", "log.csv")).code)
}

func TestWhatDoesNotGoTogetherIsRefused(t *testing.T) {
	w := world{boat: ready(t)}
	for _, args := range [][]string{{"--entries", "--rethink"}, {"--year", "2026", "3"}, {"--export", "csv", "a", "b"}, {"--export", "csv", "--json"}, {"1", "2", "3"}, {"--year", "-1"}, {"--rethink", "--year", "2026"}} {
		assert.Equal(t, exitUsage, w.call(append([]string{"review"}, args...)...).code, "%q", args)
	}
	assert.Contains(t, w.call("review", "--rethink").stdout, "nothing is worth rethinking")
}

func TestVerifyTellsItsSpeedWhenAsked(t *testing.T) {
	w := world{boat: ready(t)}
	assert.NotContains(t, w.call("verify").stdout, "MB/s")
	assert.Regexp(t, `\d+\.\d MB in \d+\.\d\d s: \d+\.\d MB/s`, w.call("verify", "--verbose").stdout)
	assert.Contains(t, w.call("verify", "--verbose", "--json").stdout, `"mb_per_s"`)
}

// The files it was reckoned with are gone: today's tanks serve, and that they do is told.
func TestAPassageIsHeldAgainstItsPlanWithoutTheFilesOfThen(t *testing.T) {
	dir, _, _ := sailed(t)
	kept, err := filepath.Glob(filepath.Join(dir, "record", "definitions", "*.toml"))
	require.NoError(t, err)
	require.Len(t, kept, 1)
	require.NoError(t, os.Remove(kept[0]))
	r := world{boat: dir}.call("review", "last")
	assert.Equal(t, exitRefused, r.code)
	assert.Contains(t, r.stdout, "today's tanks serve")
	assert.Contains(t, r.stdout, "more water a day than planned")
	assert.NotContains(t, r.stdout, "[water]", "without the files of then no rate is proposed")
}
