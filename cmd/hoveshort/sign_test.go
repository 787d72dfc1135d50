package main

import (
	"bufio"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config/record"
)

const evening = "2026-10-18T17:30+13:00"

// ready is a copy of the demo boat on which all was done but the signing: the same acts
// as in testdata/story.txtar.
func ready(t *testing.T) string {
	t.Helper()
	dir := demo(t)
	for _, name := range []string{"spares.toml", "dated.toml"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(readyFile(t, "mended/"+name)), 0o644))
	}
	w := world{boat: dir}
	for _, script := range []string{"tanks.sh", "answers.sh"} {
		for line := range strings.Lines(readyFile(t, script)) {
			w.mustDo(t, words(strings.ReplaceAll(strings.TrimSpace(line), "$1", evening))[1:]...)
		}
	}
	for _, tank := range []string{"port water", "starboard water"} {
		w.mustDo(t, "--at", evening, "fill", tank, "full")
	}
	for _, id := range []string{"service:look at exchanger anode", "daylight:Opua", "daylight:North Minerva Reef"} {
		w.mustDo(t, "--at", evening, "accept", id, "for the test")
	}
	return dir
}

func (w world) mustDo(t *testing.T, args ...string) {
	t.Helper()
	r := w.call(args...)
	require.Equal(t, exitDone, r.code, "%q: %s", args, r.stderr)
}

// readyFile is one of the files that make the demo boat ready.
func readyFile(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "ready", name))
	require.NoError(t, err)
	return string(text)
}

// words parts a line of a script at its blanks, but for those in double quotes.
func words(line string) []string {
	var list []string
	quoted := false
	for part := range strings.SplitSeq(line, `"`) {
		if quoted {
			list = append(list, part)
		} else {
			list = append(list, strings.Fields(part)...)
		}
		quoted = !quoted
	}
	return list
}

func signed(t *testing.T, boat string) int {
	t.Helper()
	var list struct{ Signed []any }
	require.NoError(t, json.Unmarshal([]byte(world{boat: boat}.call("review", "--json").stdout), &list))
	return len(list.Signed)
}

func TestASignOffAsksOnceAndTakesSilenceForNo(t *testing.T) {
	dir := ready(t)
	for _, typed := range []string{"", "n\n", "\n", "y", "yess\n", "N\n"} {
		r := world{boat: dir, isTTY: true, stdin: typed}.call("--at", evening, "sign", "Mara", "Testskipper")
		assert.Equal(t, exitRefused, r.code, "%q", typed)
		assert.Contains(t, r.stderr, "Sign off as Mara Testskipper?")
		assert.Contains(t, r.stderr, "because: for the test", "what will be frozen is shown")
		assert.Contains(t, r.stderr, "to be signed off by Mara Testskipper", "nothing is signed yet")
		assert.NotContains(t, r.stderr, "critical were", "the question must not push the exceptions off the screen")
		assert.Contains(t, r.stderr, "nothing was written")
		assert.Empty(t, r.stdout)
	}
	require.Zero(t, signed(t, dir))

	r := world{boat: dir, isTTY: true, stdin: "y\n"}.call("--at", evening, "sign", "Mara", "Testskipper")
	assert.Equal(t, exitDone, r.code, r.stderr)
	assert.Contains(t, r.stdout, "signed off by Mara Testskipper")
	assert.Equal(t, 1, signed(t, dir))
}

func TestASignalAtTheQuestionSignsNothing(t *testing.T) {
	dir := ready(t)
	for signal, code := range map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143} {
		signals := make(chan os.Signal, 1)
		keyboard, hand := io.Pipe()
		talk, screen := io.Pipe()
		asked := make(chan struct{})
		go func() {
			lines := bufio.NewReader(talk)
			seen := ""
			for !strings.Contains(seen, "[y/N]: ") {
				b, err := lines.ReadByte()
				if err != nil {
					return
				}
				seen += string(b)
			}
			close(asked)
			_, _ = io.Copy(io.Discard, lines)
		}()
		done := make(chan int, 1)
		go func() {
			w := world{boat: dir, isTTY: true, edit: func(e *env) { e.stdin, e.stderr, e.signals = keyboard, screen, signals }}
			done <- w.call("--at", evening, "sign", "Mara").code
		}()

		select {
		case <-asked:
		case <-time.After(10 * time.Second):
			t.Fatal("it never asked")
		}
		signals <- signal
		select {
		case got := <-done:
			assert.Equal(t, code, got)
		case <-time.After(10 * time.Second):
			t.Fatal("a signal did not end it")
		}
		require.NoError(t, hand.Close())
	}
	assert.Zero(t, signed(t, dir))
}

func TestADepartureIsMovedAtSigning(t *testing.T) {
	dir := ready(t)
	w := world{boat: dir}
	r := w.call("--at", evening, "sign", "Mara", "--yes", "--depart", "2026-10-19T09:00+13:00")
	require.Equal(t, exitDone, r.code, r.stderr)
	for _, id := range cautions(t, w, "--at", evening, "--json") {
		w.mustDo(t, "--at", evening, "accept", id, "for the second")
	}
	r = w.call("--at", evening, "sign", "Mara", "--yes", "--depart", "2026-10-19T07:30+13:00")
	require.Equal(t, exitDone, r.code, r.stderr)
	r = w.call("--at", evening, "ready")
	assert.Contains(t, r.stdout, "departure 19 Oct 2026 07:30 +13:00")
	assert.Contains(t, r.stdout, "READY, and signed off by Mara; ")
	r = w.call("review", "last")
	assert.Equal(t, exitDone, r.code, r.stdout)
	assert.Contains(t, r.stdout, "(moved at signing)")
	assert.Contains(t, r.stdout, "computed again from the definitions that were kept: the same")
	for _, id := range cautions(t, w, "--at", evening, "--json") {
		w.mustDo(t, "--at", evening, "accept", id, "for the third")
	}
	w.mustDo(t, "--at", evening, "sign", "Mara", "--yes")
	assert.Contains(t, w.call("--at", evening, "ready").stdout, "departure 19 Oct 2026 07:30 +13:00", "it stays moved until the files change")
	assert.Equal(t, exitDone, w.call("review", "last").code)
	assert.Equal(t, 3, signed(t, dir))
	assert.Equal(t, exitUsage, w.call("--at", evening, "sign", "Mara", "--yes", "--depart", "tomorrow").code)
}

func cautions(t *testing.T, w world, args ...string) []string {
	t.Helper()
	var report struct{ Cautions []struct{ ID string } }
	require.NoError(t, json.Unmarshal([]byte(w.call(append([]string{"ready"}, args...)...).stdout), &report))
	var ids []string
	for _, c := range report.Cautions {
		ids = append(ids, c.ID)
	}
	return ids
}

func TestASignOffThatWasForgedDiffersWhenComputedAgain(t *testing.T) {
	dir := ready(t)
	w := world{boat: dir}
	w.mustDo(t, "--at", evening, "sign", "Mara", "--yes")
	kept, err := filepath.Glob(filepath.Join(dir, "record", "definitions", "*.toml"))
	require.NoError(t, err)
	require.Len(t, kept, 1)

	page := filepath.Join(dir, "record", "0001.toml")
	text, err := os.ReadFile(page)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(page, []byte(strings.Replace(string(text), "crew = 2", "crew = 1", 1)), 0o644))
	r := w.call("review", "last")
	assert.Equal(t, exitRefused, r.code)
	assert.Equal(t, exitRefused, w.call("verify").code)

	require.NoError(t, os.WriteFile(page, text, 0o644))
	require.NoError(t, os.Remove(kept[0]))
	r = w.call("review", "last")
	assert.Equal(t, exitRefused, r.code)
	assert.Contains(t, r.stdout, "it cannot be computed again")
	assert.Contains(t, r.stdout, "signed off by Mara", "what was signed is read back all the same")
}

func TestFilesChangedAtTheQuestionAreNotSigned(t *testing.T) {
	dir := ready(t)
	c := &call{env: env{getenv: func(string) string { return "" }, now: time.Now, dir: "/", stderr: io.Discard}, boat: dir, at: evening}
	a, err := c.aboard()
	require.NoError(t, err)
	m, err := a.load()
	require.NoError(t, err)
	sign, err := freeze(m, "Mara", time.Time{})
	require.NoError(t, err)

	tools := filepath.Join(dir, "tools.toml")
	text, err := os.ReadFile(tools)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(tools, append(text, '\n'), 0o644))
	err = c.actOn(a, actOptions{}, func(moment) (checklist.Act, error) { return sign, nil })
	code, says, _ := verdictOn(err)
	assert.Equal(t, exitRefused, code)
	assert.Contains(t, says, "changed meanwhile; nothing was signed")
	assert.Zero(t, signed(t, dir))
}

// The sign-off's first eight digits stand on the sheet ashore: they are the record's own
// sum over it and all before.
func TestTheListOfSignOffsGivesTheFirstEightDigits(t *testing.T) {
	dir := ready(t)
	w := world{boat: dir}
	w.mustDo(t, "--at", evening, "sign", "Mara", "--yes")
	found, err := record.Verify(dir)
	require.NoError(t, err)
	loaded, err := record.Open(dir).LoadAll()
	require.NoError(t, err)
	if loaded.Entries[0].Sum == "" {
		t.Skip("the record does not give the sums of its entries yet")
	}
	assert.Contains(t, w.call("review").stdout, "digits "+found.Last[:8])
	assert.Contains(t, w.call("review", "--json").stdout, found.Last[:8])
}

func TestWhoDoesItIsPlainText(t *testing.T) {
	w := world{boat: demo(t)}
	for _, by := range []string{"Ma\x1b[2Jra", "Ma\u202era", "\xff", strings.Repeat("x", 101)} {
		assert.Equal(t, exitUsage, w.call("--by", by, "sound", "port water", "62 %").code, "%q", by)
	}
	w.mustDo(t, "--by", "Zoë", "sound", "port water", "62 %")
}
