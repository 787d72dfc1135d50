package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// opened is a boat as the screens have it, at a clock that can be set.
func opened(t *testing.T, dir string, now *time.Time) *aboard {
	t.Helper()
	c := &call{env: env{getenv: func(string) string { return "" }, now: func() time.Time { return *now }, dir: "/", stderr: io.Discard}, boat: dir}
	a, err := c.aboard()
	require.NoError(t, err)
	return a
}

// The screens decide by their own clock, and the entry bears the lock's: a departure that
// is past is now, so that a sign-off of the one and an entry of the other would differ.
func TestASignOffOfTheScreensCanBeComputedAgain(t *testing.T) {
	dir := ready(t)
	passage := filepath.Join(dir, "passage.toml")
	text, err := os.ReadFile(passage)
	require.NoError(t, err)
	text = []byte(strings.Replace(string(text), "2026-10-19T07:00:00+13:00", "2026-10-18T17:00:00+13:00", 1))
	require.NoError(t, os.WriteFile(passage, text, 0o644))

	now, err := parseMoment(evening)
	require.NoError(t, err)
	before := now
	a := opened(t, dir, &now)
	settings := a.screens()
	for _, c := range must(a.load())(t).assess().Cautions {
		_, _, err := settings.Append(func([]checklist.Entry) (checklist.Act, error) {
			return checklist.Accept{Caution: c.ID(), Why: "for the test"}, nil
		})
		require.NoError(t, err)
	}
	now = now.Add(4 * time.Second) // while another program held the lock
	_, _, err = settings.Append(func(entries []checklist.Entry) (checklist.Act, error) {
		return freeze(a.at(entries, before), "Mara", time.Time{})
	})
	require.NoError(t, err)
	r := world{boat: dir}.call("review", "last")
	assert.Equal(t, exitDone, r.code, r.stdout)
}

func must[V any](v V, err error) func(*testing.T) V {
	return func(t *testing.T) V {
		t.Helper()
		require.NoError(t, err)
		return v
	}
}

// The files were read again while the screens still showed the earlier ones.
func TestTheScreensDoNotSignWhatIsNotKept(t *testing.T) {
	dir := ready(t)
	now, err := parseMoment(evening)
	require.NoError(t, err)
	a := opened(t, dir, &now)
	settings := a.screens()
	shown := must(a.load())(t)
	sign, err := freeze(shown, "Mara", time.Time{})
	require.NoError(t, err)

	tools := filepath.Join(dir, "tools.toml")
	text, err := os.ReadFile(tools)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(tools, append(text, '\n'), 0o644))
	_, _, err = settings.Reload()
	require.NoError(t, err)
	_, _, err = settings.Append(func([]checklist.Entry) (checklist.Act, error) { return sign, nil })
	code, says, _ := verdictOn(err)
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, says, "changed meanwhile; nothing was signed")

	_, err = a.append(func(moment) (checklist.Act, error) { return sign, nil })
	assert.ErrorContains(t, err, "changed meanwhile; nothing was signed", "what is kept is what is signed, whoever asks")
	assert.Zero(t, signed(t, dir))
}

func TestWhatWasTypedIsNotQuotedAtAnyLength(t *testing.T) {
	w := world{boat: demo(t)}
	long := strings.Repeat("x", 100_000)
	for _, args := range [][]string{
		{"check", long}, {"check", "--done", "Before departure", long}, {"accept", long, "why"}, {"correct", long}, {"defect", long},
		{"defect", "close", long}, {"review", long}, {"verify", long}, {"count", "rice", long}, {"init", long}, {long}, {"sound", long, "full"},
	} {
		r := w.call(args...)
		assert.NotEqual(t, exitDone, r.code, "%.40q", args)
		assert.Less(t, len(r.stderr), 6000, "%.40q", args)
		if r.code == exitUsage {
			assert.Less(t, len(r.stderr), 500, "%.40q", args)
		}
	}
}
