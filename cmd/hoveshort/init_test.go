package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/config"
)

// begin1 is `init` typed at a terminal, with lines to answer it.
func begin1(t *testing.T, lines string, args ...string) (dir string, r result) {
	t.Helper()
	dir = t.TempDir()
	w := world{stdin: lines, isTTY: true, edit: func(e *env) { e.dir = dir }, env: map[string]string{"HOME": dir, "LANG": "C.UTF-8"}}
	return dir, w.call(append([]string{"init", "--at", evening}, args...)...)
}

func TestFiveQuestionsMakeTheStarterOnesOwn(t *testing.T) {
	dir, r := begin1(t, "Dunlin\n1482\n150 L + 80 L\n110 L\n2\n")
	require.Equal(t, exitDone, r.code, r.stderr)
	at := filepath.Join(dir, ".local", "share", "hoveshort")
	assert.Contains(t, strings.ReplaceAll(r.stdout, "\n", " "), "wrote 27 files to "+at)
	assert.Equal(t, 5, strings.Count(r.stderr, "? "), "five questions: %s", r.stderr)
	assert.Contains(t, r.stderr, "next 1: ")
	assert.Contains(t, r.stderr, "\nnext 3: hoveshort ready tells ")
	folder, err := config.Load(os.DirFS(at))
	require.NoError(t, err)
	assert.Equal(t, "Dunlin", folder.Definitions.Boat.Name)
	assert.Equal(t, 2, folder.Definitions.Plan.Crew)

	w := world{env: map[string]string{"HOME": dir}}
	assert.Contains(t, w.call("--at", evening, "ready").stdout, "Dunlin", "it is found without being named")
}

func TestAWrongAnswerIsToldAndAskedAgain(t *testing.T) {
	dir, r := begin1(t, "Dun\x1blin\nDunlin\nmany\n1482 h\n150 gal\n3 L\n150 L\nfull\n110 L\nnobody\n0\n1\n", "mine")
	require.Equal(t, exitDone, r.code, r.stderr)
	for _, says := range []string{
		`"Dunlin" is no name`, "as it stands on her stern", `"many" is no reading of an hour-meter`, "like 1482 or 1482.5", `"150 gal"`, `"150 US gal"`,
		"3 L is no tank", "when it is full", `"full"`, `"nobody" is no number of people`, `"0" is no number of people`, "from 1 to 20",
	} {
		assert.Contains(t, r.stderr, says)
	}
	_, err := config.Load(os.DirFS(filepath.Join(dir, "mine")))
	require.NoError(t, err)
}

func TestTheEndOfTheInputBeginsNoBoat(t *testing.T) {
	for _, lines := range []string{"", "Dunlin\n", "Dunlin\n1482\n150 L\n110 L\n2"} {
		dir, r := begin1(t, lines, "mine")
		assert.Equal(t, exitRefused, r.code, "%q", lines)
		assert.Contains(t, r.stderr, "nothing was written")
		_, err := os.Stat(filepath.Join(dir, "mine"))
		assert.ErrorIs(t, err, os.ErrNotExist, "half a boat is none")
	}
}

func TestNothingIsAskedForAFolderThatIsTaken(t *testing.T) {
	dir := demo(t)
	w := world{isTTY: true, stdin: "Dunlin\n"}
	r := w.call("init", dir)
	assert.Equal(t, exitRefused, r.code)
	assert.NotContains(t, r.stderr, "? ")
	assert.Contains(t, r.stderr, "is there already; nothing was written")
}

func TestFlagsAnswerTheQuestions(t *testing.T) {
	for _, row := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"mine", "--name", "Dunlin"}, exitDone, "next 1: "},
		{[]string{"--name", "Dunlin", "--crew", "4"}, exitDone, "next 1: "},
		{[]string{"mine", "--water", "150 L", "--water", "20 L"}, exitDone, "next 1: "},
		{[]string{"mine", "--hours", "-3"}, exitUsage, "--hours: \"-3\" is no reading"},
		{[]string{"mine", "--hours", "nan"}, exitUsage, "--hours: "},
		{[]string{"mine", "--hours", "inf"}, exitUsage, "--hours: "},
		{[]string{"mine", "--water", "20"}, exitUsage, "--water: "},
		{[]string{"mine", "--fuel", "11 L"}, exitUsage, "--fuel: 11 L is no tank"},
		{[]string{"mine", "--crew", "21"}, exitUsage, "--crew: "},
		{[]string{"mine", "--name", strings.Repeat("x", 61)}, exitUsage, "--name: "},
		{[]string{"mine", "--demo", "--crew", "2"}, exitUsage, "the demo boat has her own figures"},
		{[]string{"--demo"}, exitUsage, "no folder was named"},
	} {
		dir, r := begin1(t, "", row.args...)
		assert.Equal(t, row.code, r.code, "%q: %s", row.args, r.stderr)
		assert.Contains(t, r.stderr, row.says, "%q", row.args)
		if row.code != exitDone {
			names, err := os.ReadDir(dir)
			require.NoError(t, err)
			assert.Empty(t, names, "%q", row.args)
		}
	}
}

// Scripts that named nothing but a folder get the starter as it is.
func TestWithoutATerminalAndFlagsTheStarterIsWrittenAsItIs(t *testing.T) {
	dir := t.TempDir()
	w := world{stdin: "Dunlin\n", edit: func(e *env) { e.dir = dir }}
	r := w.call("init", "mine")
	require.Equal(t, exitDone, r.code)
	text, err := os.ReadFile(filepath.Join(dir, "mine", "boat.toml"))
	require.NoError(t, err)
	assert.Contains(t, string(text), "\nname = \"My boat\"\n")
	assert.Equal(t, exitUsage, w.call("init").code)
}
