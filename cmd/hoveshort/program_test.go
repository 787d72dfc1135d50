package main

import (
	"bytes"
	"encoding/json"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/creack/pty"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTheReportHoldsTheFieldsOfTheDesign(t *testing.T) {
	w := world{boat: demo(t)}
	r := w.call("--at", evening, "ready", "--json")
	require.Equal(t, exitRefused, r.code)
	var told map[string]any
	require.NoError(t, json.Unmarshal([]byte(r.stdout), &told))

	// What other programs rely on; fields are added, never renamed.
	fields := func(v any) []string { return slices.Sorted(maps.Keys(v.(map[string]any))) }
	first := func(v any) any { return v.([]any)[0] }
	assert.Equal(t, []string{
		"blockers", "boat", "cases", "cautions", "format", "fouling", "load", "not_looked", "now", "passage", "ready", "resources", "sign_off",
		"stage", "uncovered", "verdict", "way", "weighing", "what_if",
	}, fields(told))
	assert.Equal(t, []string{"clears", "kind", "name", "title", "where", "why"}, fields(first(told["blockers"])))
	assert.Equal(t, []string{"accepted", "id", "kind", "name", "running", "title", "why"}, fields(first(told["cautions"])))
	assert.Equal(t, []string{"expected", "quick", "slow"}, fields(told["cases"]))
	assert.Equal(t, []string{"arrive", "days", "engine_hours", "fuel_l", "gas_kg", "hours", "water_l"}, fields(told["cases"].(map[string]any)["slow"]))
	resources := told["resources"].(map[string]any)
	assert.Equal(t, []string{"food", "fuel", "gas", "water"}, fields(resources))
	assert.Equal(t, []string{
		"available", "endurance_days", "hard_case", "last_drop_days", "margin_days", "need", "reserve", "short", "stretches", "unit",
	}, fields(resources["water"]))
	assert.Subset(t, fields(first(resources["water"].(map[string]any)["stretches"])),
		[]string{"available", "from", "margin_days", "need", "reserve", "short", "to"})
	assert.Equal(t, 1.0, told["format"])
	assert.Equal(t, "2026-10-18T17:30:00+13:00", told["now"])
	assert.Equal(t, false, told["ready"])
	assert.Equal(t, "into the reserve", told["verdict"])
	assert.Nil(t, told["sign_off"])
}

func TestEveryReportIsJSONToo(t *testing.T) {
	w := world{boat: demo(t)}
	w.mustDo(t, "--at", evening, "sound", "port water", "62 %")
	for _, args := range [][]string{
		{"ready"}, {"passage"}, {"passage", "--try", "crew=3"}, {"load"}, {"check"}, {"check", "engine-oil"}, {"defect"}, {"review"}, {"review", "--entries"}, {"verify"}, {"lint"}, {},
		{"service"}, {"wanted"}, {"stow"}, {"stow", "raw-water", "impeller"}, {"stow", "oil", "pump"}, {"find", "impeler"}, {"find", "box 3"}, {"sheet"}, {"calendar"},
	} {
		r := w.call(append(args, "--at", evening, "--json")...)
		assert.True(t, json.Valid([]byte(r.stdout)), "%q: %s", args, r.stdout)
		assert.Empty(t, r.stderr, "%q", args)
	}
}

func TestReportsStayWithinEightyColumns(t *testing.T) {
	w := world{boat: demo(t), env: map[string]string{"LANG": "C.UTF-8"}}
	w.mustDo(t, "--at", evening, "check", "strainer", "not-right", "--why", "lid weeps")
	signed := world{boat: ready(t)}
	signed.mustDo(t, "--at", evening, "sign", "Mara", "--yes")
	reports := 0
	for _, r := range []result{
		w.call("--at", evening, "ready"), w.call("--at", evening, "passage"), w.call("--at", evening, "check"), w.call("--at", evening, "defect"),
		w.call("review", "--entries"), w.call("verify"), w.call("check", "engine-oil"), signed.call("review", "last"), signed.call("review"),
		signed.call("--at", evening, "ready"), w.call("--at", evening, "load"), w.call("--at", evening, "passage", "--chart", "food"),
		w.call("--at", evening, "passage", "--explain", "water"), w.call("--at", evening, "passage", "--explain", "fuel"),
		w.call("--at", evening, "passage", "--explain", "no engine"), w.call("--at", evening, "passage", "--explain", "turning"),
		w.call("--at", evening, "passage", "--explain", "range"), w.call("--at", evening, "passage", "--explain", "load"),
		w.call("--at", evening, "passage", "--explain", "leg 2"), w.call("--at", evening, "passage", "--explain", "windows"),
		w.call("--at", evening, "service"), w.call("--at", evening, "wanted"), w.call("--at", evening, "stow"),
		w.call("--at", evening, "stow", "raw-water impeller"), w.call("--at", evening, "find", "impeler"), w.call("--at", evening, "find", "box 3"),
		w.call("--at", evening, "sheet"), signed.call("--at", evening, "sheet"),
	} {
		reports++
		require.NotEmpty(t, r.stdout)
		for line := range strings.Lines(r.stdout) {
			assert.LessOrEqual(t, ansi.StringWidth(strings.TrimSuffix(line, "\n")), width, line)
		}
	}
	assert.Equal(t, 28, reports)
}

// commands are all of them, the program itself first.
func commands(cmd *cobra.Command) []*cobra.Command {
	list := []*cobra.Command{cmd}
	for _, sub := range cmd.Commands() {
		list = append(list, commands(sub)...)
	}
	return list
}

func TestEveryCommandHasItsExampleAndItsExitCodes(t *testing.T) {
	signedBoat := ready(t)
	named := 0
	for _, cmd := range commands(newRootCommand(&call{env: env{stdout: io.Discard, stderr: io.Discard, stdin: strings.NewReader("")}})) {
		named++
		assert.NotEmpty(t, cmd.Short, cmd.CommandPath())
		assert.NotContains(t, cmd.Short, "\n", cmd.CommandPath())
		assert.Contains(t, cmd.Long, "Exit codes:", cmd.CommandPath())
		require.NotEmpty(t, cmd.Example, cmd.CommandPath())
		for line := range strings.Lines(cmd.Example) {
			assert.Contains(t, []int{exitDone, exitRefused}, example1(t, line, signedBoat), "%s", line)
		}
	}
	assert.Equal(t, 37, named)
}

// example1 runs an example on a demo boat that has a defect 12 and is not signed yet.
func example1(t *testing.T, line, boat string) int {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(dir, "heron"), os.DirFS(boat)))
	require.NoError(t, os.CopyFS(dir, os.DirFS("testdata/examples"))) // what the examples read
	args := words(strings.ReplaceAll(strings.TrimSpace(line), `\"`, `"`))
	require.Equal(t, "hoveshort", args[0])
	if args[1] == "init" {
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "heron")))
	}
	w := world{boat: filepath.Join(dir, "heron"), isTTY: true, stdin: "y\n", edit: func(e *env) { e.dir = dir }}
	r := w.call(args[1:]...)
	if r.code != exitDone && r.code != exitRefused {
		t.Logf("%s: %s", line, r.stderr)
	}
	return r.code
}

func TestAFaultOfOursSaysThatTheRecordIsSafe(t *testing.T) {
	w := world{boat: demo(t), edit: func(e *env) { e.now = func() time.Time { panic("no clock") } }}
	r := w.call("ready")
	assert.Equal(t, exitFault, r.code)
	assert.Contains(t, r.stderr, "a fault of this program: no clock")
	assert.Contains(t, r.stderr, "your record is safe")
	assert.Empty(t, r.stdout)
}

func TestAReadOnlyRecordCanBeReadAndIsNotWritten(t *testing.T) {
	binary := program(t)
	dir, err := os.MkdirTemp("", "hoveshort-readonly-")
	require.NoError(t, err)
	boat := filepath.Join(dir, "heron")
	t.Cleanup(func() {
		_ = filepath.WalkDir(dir, func(path string, _ os.DirEntry, _ error) error { return os.Chmod(path, 0o755) })
		_ = os.RemoveAll(dir)
	})
	require.NoError(t, os.CopyFS(boat, os.DirFS(demo(t))))
	world{boat: boat}.mustDo(t, "--at", evening, "sound", "port water", "62 %")
	for path, mode := range map[string]os.FileMode{
		dir: 0o755, filepath.Join(boat, "record", "0001.toml"): 0o444, filepath.Join(boat, "record", ".lock"): 0o444,
		filepath.Join(boat, "record"): 0o555, boat: 0o555,
	} {
		require.NoError(t, os.Chmod(path, mode))
	}

	asGuest := func(args ...string) (int, string, string) {
		cmd := exec.Command(binary, append([]string{"--boat", boat, "--at", evening}, args...)...)
		var out, talk bytes.Buffer
		cmd.Stdout, cmd.Stderr, cmd.Dir = &out, &talk, "/"
		if os.Getuid() == 0 { // root may write anything
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
		_ = cmd.Run() // the code is looked at
		return cmd.ProcessState.ExitCode(), out.String(), talk.String()
	}
	code, out, talk := asGuest("ready")
	assert.Equal(t, exitRefused, code, talk)
	assert.Contains(t, out, "NOT READY: 49 things stand in the way.")
	code, out, talk = asGuest("sound", "starboard", "water", "50", "%")
	assert.Equal(t, exitNotWritten, code, talk)
	assert.Empty(t, out)
	assert.Contains(t, talk, "nothing was written")
	code, _, talk = asGuest("init", filepath.Join(boat, "new"))
	assert.Equal(t, exitNotWritten, code, talk)
	assert.Equal(t, exitDone, world{boat: boat}.call("verify").code)
}

func TestNegativeValuesAreNoFlags(t *testing.T) {
	args := []string{"check", "barometer", "-1.5", "hPa", "--say", "x", "-.5", "-h", "--", "-"}
	kept := keepNegatives(args)
	assert.Equal(t, "-h", kept[7])
	assert.NotEqual(t, "-1.5", kept[2])
	assert.Equal(t, args, asTyped(kept))
}

func TestWhatIsPrintedCannotDriveTheTerminal(t *testing.T) {
	hostile := "a\x1b[2J\x07b\u009bc\u202ed\u200be\xfff\tg\nh"
	assert.Equal(t, "a[2Jbcde?f g\nh", clean(hostile, true))
	assert.Equal(t, "Zoe 82 C ... ?", clean("Zoë 82 °C … 漢", false))
	assert.Equal(t, "Zoë 82 °C … 漢", clean("Zoë 82 °C … 漢", true))
	assert.Contains(t, cleanJSON("{\"a\":\"\u009b\u202e\"}\n"), `\u009b\u202e`, "shown as escapes")
	var back map[string]string
	require.NoError(t, json.Unmarshal([]byte(cleanJSON("{\"a\":\"\U000e0041\u007f\"}")), &back))
	assert.Equal(t, "\U000e0041\u007f", back["a"], "what is escaped is the same text")
}

func TestLinesBreakAtEightyColumns(t *testing.T) {
	var r report
	r.hang("- ", "  ", strings.Repeat("word ", 30))
	lines := strings.Split(strings.TrimSuffix(r.String(), "\n"), "\n")
	require.Len(t, lines, 2)
	assert.Equal(t, "- "+strings.TrimSpace(strings.Repeat("word ", 15)), lines[0])
	assert.Len(t, lines[0], 76)
	assert.True(t, strings.HasPrefix(lines[1], "  word"))

	r.Reset()
	r.hang("", "  ", strings.Repeat("x", 200))
	assert.Equal(t, strings.Repeat("x", 200)+"\n", r.String(), "a word is never cut")
	r.Reset()
	r.hang("", "  ", strings.Repeat("y", 79)+" z "+strings.Repeat("w", 78))
	assert.Equal(t, strings.Repeat("y", 79)+"\n  z\n  "+strings.Repeat("w", 78)+"\n", r.String())
}

// screen collects what a pty shows.
type screen struct {
	mu   sync.Mutex
	text []byte
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.text = append(s.text, p...)
	return len(p), nil
}

func (s *screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return string(s.text)
}

// The screen library asks the terminal for its background in an init, and waits 5 s for
// one that says nothing; tui/quiet keeps it from it, as long as its path sorts first.
func TestASilentTerminalIsNotWaitedFor(t *testing.T) {
	const soon = 500 * time.Millisecond
	cmd := exec.Command(program(t), "--boat", demo(t), "--at", evening)
	cmd.Env = []string{"TERM=xterm", "LANG=C.UTF-8", "HOME=/no-home", "PATH=" + os.Getenv("PATH")}
	begun := time.Now()
	terminal, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	require.NoError(t, err)
	defer func() { _ = terminal.Close() }()
	var shown screen
	go func() { _, _ = io.Copy(&shown, terminal) }()

	require.Eventually(t, func() bool { return strings.Contains(shown.String(), "NOT READY") }, 10*time.Second, time.Millisecond)
	first := time.Since(begun)
	t.Logf("first frame after %s", first)
	assert.Less(t, first, soon)
	assert.NotContains(t, shown.String(), "\x1b]11;", "the background is not asked for")
	assert.NotContains(t, shown.String(), "\x1b[6n", "nor where the cursor is")

	_, err = terminal.WriteString("q")
	require.NoError(t, err)
	require.Eventually(t, func() bool { return strings.Contains(shown.String(), "Leave?") }, 10*time.Second, time.Millisecond)
	_, err = terminal.WriteString("q")
	require.NoError(t, err)
	done := make(chan error, 1)
	go func() { done <- cmd.Wait() }()
	select {
	case err := <-done:
		assert.NoError(t, err)
	case <-time.After(10 * time.Second):
		_ = cmd.Process.Kill()
		t.Fatal("q did not leave")
	}
	assert.Contains(t, shown.String(), "\x1b[?1049l", "the terminal is given back")
}

func TestASignalEndsTheScreens(t *testing.T) {
	for signal, code := range map[syscall.Signal]int{syscall.SIGTERM: 143, syscall.SIGINT: 130} {
		cmd := exec.Command(program(t), "--boat", demo(t), "--at", evening)
		cmd.Env = []string{"TERM=xterm", "LANG=C.UTF-8", "HOME=/no-home"}
		terminal, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
		require.NoError(t, err)
		var shown screen
		go func() { _, _ = io.Copy(&shown, terminal) }()
		require.Eventually(t, func() bool { return strings.Contains(shown.String(), "NOT READY") }, 10*time.Second, time.Millisecond)
		require.NoError(t, cmd.Process.Signal(signal))
		_ = cmd.Wait() // the code is looked at
		assert.Equal(t, code, cmd.ProcessState.ExitCode(), shown.String())
		assert.Contains(t, shown.String(), "\x1b[?1049l", "the terminal is given back")
		_ = terminal.Close()
	}
}

func TestADumbTerminalGetsTheReport(t *testing.T) {
	cmd := exec.Command(program(t), "--boat", demo(t), "--at", evening)
	cmd.Env = []string{"TERM=dumb", "HOME=/no-home"}
	terminal, err := pty.Start(cmd)
	require.NoError(t, err)
	defer func() { _ = terminal.Close() }()
	var shown screen
	_, _ = io.Copy(&shown, terminal) // ends with an error where the other end is closed
	_ = cmd.Wait()
	assert.Equal(t, exitRefused, cmd.ProcessState.ExitCode())
	assert.Contains(t, shown.String(), "NOT READY: 50 things stand in the way.")
	assert.NotContains(t, shown.String(), "\x1b")
}

// BenchmarkReadyAsAProcess is the whole program, from its start to its end.
func BenchmarkReadyAsAProcess(b *testing.B) {
	binary, dir := program(b), demo(b)
	for b.Loop() {
		cmd := exec.Command(binary, "--boat", dir, "--at", evening, "ready")
		if err := cmd.Run(); cmd.ProcessState.ExitCode() != exitRefused {
			b.Fatal(err)
		}
	}
}
