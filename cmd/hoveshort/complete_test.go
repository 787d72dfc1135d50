package main

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// offers is what the shell is told for a line that is parted into words, without the descriptions.
func (w world) offers(t *testing.T, line ...string) []string {
	t.Helper()
	r := w.call(append([]string{cobra.ShellCompNoDescRequestCmd}, line...)...)
	require.Equal(t, exitDone, r.code, r.stderr)
	lines := strings.Split(strings.TrimSuffix(r.stdout, "\n"), "\n")
	return lines[:len(lines)-1] // the last is for the script
}

func TestNamesAreCompletedWordByWord(t *testing.T) {
	w := world{boat: demo(t)}
	for _, row := range []struct {
		line string // words parted by |, the last is being typed
		want string // the words offered; "…": others may be there
	}{
		{"sound|p", "port"},
		{"sound|port|", "water"},
		{"sound|port|wa", "water"},
		{"sound|port|water|", "full"},
		{"sound|port|wine|", ""},
		{"sound|diesel|", "jerry"},
		{"fill|main|diesel|20|L|--from|diesel", "diesel jerry can"},
		{"count|olive|", "oil"},
		{"count|olive|oil|", "bought used thrown-away"},
		{"count|olive|oil|thr", "thrown-away"},
		{"count|olive|oil|bought|", ""},
		{"stores|--sheet|", "text markdown csv"},
		{"load|--list|", "text markdown csv"},
		{"rates|", ""},
		{"correct|", "last"},
		{"correct|last|", ""},
		{"find|raw-water|", "impeller hose pump"},
		{"passage|--gpx|legs.gpx|--route|", ""},
		{"passage|--gpx|legs.gpx|--stop|", ""},
		{"check|engine-", "engine-oil engine-space"},
		{"check|engine-oil|", "right not-right could-not-look not-aboard"},
		{"check|start-battery|", ""}, // a value is measured, not chosen
		{"check|--done|Before|departure|Rig|and|", "deck"},
		{"event|engine|", "stopped …"},
		{"stow|raw-water|", "impeller hose pump"},
		{"stow|raw-water|impeller|", "bought used moved lent back found"},
		{"stow|parachute|flares|", "until"},
		{"stow|raw-water|impeller|used|1|--from|engine", "…"},
		{"service|change|primary|", "fuel …"},
		{"accept|service:look|", "at"},
		{"noon|340|nm|port|", "water="},
		{"noon|340|nm|port|water=62|%|st", "starboard"},
		{"reading|rpm=2000|coolant=80C|rp", ""},
		{"reading|sails=", "sails=up sails=down"},
		{"change|--to|North", "North Minerva Reef"},
		{"review|", ""},
		{"ready|", ""},
		{"sheet|--paper|", "a4 letter"},
	} {
		got := w.offers(t, strings.Split(row.line, "|")...)
		for _, want := range strings.Fields(strings.TrimSuffix(row.want, "…")) {
			if strings.Contains(strings.Join(got, "|"), row.want) {
				break // a name with blanks, as a whole
			}
			assert.Contains(t, got, want, row.line)
		}
		if row.want == "" {
			assert.Empty(t, got, row.line)
		} else {
			assert.NotEmpty(t, got, row.line)
		}
		if want := strings.Fields(row.want); !strings.HasSuffix(row.want, "…") && strings.Join(got, " ") != row.want {
			assert.Len(t, got, len(want), row.line)
		}
	}
}

func TestDefectsAndPassagesAreCompletedByNumber(t *testing.T) {
	w := world{boat: demo(t)}
	w.mustDo(t, "--at", evening, "defect", "runs", "warm", "--grade", "stop", "--card", "coolant a little high")
	assert.Contains(t, w.call(cobra.ShellCompRequestCmd, "step", "").stdout, "1\truns warm\n")
	for _, command := range []string{"more", "repaired", "close"} {
		assert.Equal(t, []string{"1"}, w.offers(t, "defect", command, ""))
	}
	assert.Contains(t, w.offers(t, "defect", ""), "1")
	looks := w.offers(t, "step", "1", "")
	require.NotEmpty(t, looks)
	line := []string{"step", "1"}
	for range 6 { // a look, word by word, until what came of it is asked for
		if next := w.offers(t, append(line, "")...); assert.NotEmpty(t, next, line) {
			if strings.Join(next, " ") == "clean bad could not" {
				return
			}
			line = append(line, next[0])
		}
	}
	t.Fatalf("nothing was offered for what came of the look: %q", line)
}

func TestCompletionWritesNothingAndNeverFailsLoudly(t *testing.T) {
	whole, broken, empty, bare := demo(t), demo(t), t.TempDir(), demo(t)
	require.NoError(t, os.WriteFile(filepath.Join(broken, "boat.toml"), []byte("name = \"x\nformat ="), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(broken, "spares.toml"), []byte{0xff, 0}, 0o644))
	require.NoError(t, os.Mkdir(filepath.Join(bare, "record"), 0o755)) // a record without its lock
	temporary := t.TempDir()
	t.Setenv("TMPDIR", temporary)
	for name, w := range map[string]world{
		"whole": {boat: whole}, "broken": {boat: broken}, "empty": {boat: empty}, "bare": {boat: bare}, "not there": {boat: "/no/such/boat"}, "none": {},
	} {
		before := everythingIn(t, w.boat)
		for path := range wordOffers {
			for _, typed := range [][]string{{""}, {"1", ""}, {"-3", "p"}, {"--at", "nonsense", ""}, {"\x1b[2J", ""}} {
				r := w.call(append(append([]string{cobra.ShellCompRequestCmd}, strings.Fields(path)...), typed...)...)
				assert.Equal(t, exitDone, r.code, "%s: %s %q", name, path, typed)
				assert.NotContains(t, r.stdout, "\x1b")
				assert.NotContains(t, r.stderr, "hoveshort: ")
			}
		}
		assert.Equal(t, before, everythingIn(t, w.boat), name)
	}
	assert.Empty(t, everythingIn(t, temporary), "no throw-away boat is made")
	assert.Equal(t, []string{"water"}, world{}.offers(t, "sound", "port", ""), "without a boat, the demo's names")
}

// everythingIn is the names in a folder and below, with their sizes.
func everythingIn(t *testing.T, dir string) []string {
	t.Helper()
	var names []string
	_ = filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error { // a folder that is not there has none
		if err == nil && path != dir {
			names = append(names, path)
		}
		return nil
	})
	return names
}

// The scripts are those of the library; what a real shell makes of them is seen in one, where it is installed. Bash is
// tried with its package bash-completion and without.
func TestARealShellCompletesTheBoatsNames(t *testing.T) {
	boat, home := demo(t), t.TempDir()
	said := filepath.Join(home, "said")
	// In the program's place: it completes, and of anything else it keeps the words, as the shell parted them.
	require.NoError(t, os.WriteFile(filepath.Join(home, "hoveshort"), []byte("#!/bin/sh\ncase $1 in complet*|__complete*) exec "+program(t)+" \"$@\" ;; esac\nprintf '%s|' \"$@\" >said.part; mv said.part said\n"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(home, "vessel.json"), nil, 0o644))
	installed := "/usr/share/bash-completion/bash_completion"
	load := "source <(hoveshort completion bash)\n"
	for name, shell := range map[string]struct {
		args, needs []string
		load        string
	}{
		"bash":                      {args: []string{"bash", "--norc", "--noprofile", "-i"}, load: load},
		"bash with bash-completion": {args: []string{"bash", "--norc", "--noprofile", "-i"}, needs: []string{installed}, load: "source " + installed + "\n" + load},
		"zsh":                       {args: []string{"zsh", "-f", "-i"}, load: "autoload -U compinit; compinit -u; source <(hoveshort completion zsh); compdef _hoveshort hoveshort\n"},
		"fish":                      {args: []string{"fish", "--no-config", "-i"}, load: "hoveshort completion fish | source\n"},
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := exec.LookPath(shell.args[0]); err != nil {
				t.Skip("not installed")
			}
			for _, file := range shell.needs {
				if _, err := os.Stat(file); err != nil {
					t.Skip("not installed")
				}
			}
			cmd := exec.Command(shell.args[0], shell.args[1:]...)
			cmd.Dir = home
			cmd.Env = []string{"TERM=xterm", "LANG=C.UTF-8", "HOME=" + home, "PATH=" + home + ":" + os.Getenv("PATH"), "HOVESHORT_BOAT=" + boat, "PS1=$ "}
			terminal, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 120})
			require.NoError(t, err)
			defer func() {
				_ = cmd.Process.Kill()
				_ = terminal.Close()
				_ = cmd.Wait()
			}()
			var shown screen
			go func() { _, _ = io.Copy(&shown, terminal) }()
			typed := func(text string) {
				_, err := terminal.WriteString(text)
				require.NoError(t, err)
			}
			typed(shell.load)
			typed("echo rea''dy\n")
			require.Eventually(t, func() bool { return strings.Contains(shown.String(), "ready") }, 20*time.Second, 10*time.Millisecond, "%q", shown.String())
			for _, row := range []struct{ typed, want string }{
				{"sound port wa\t62", "sound|port|water|62|"},
				{"sound sta\t\t62", "sound|starboard|water|62|"},
				{"accept service:lo\tx", "accept|service:look|x|"},
				{"fill main diesel 2 L --from diesel\tx", "fill|main|diesel|2|L|--from|diesel jerry can|x|"},
				{"noon 340 nm port wat\t5", "noon|340|nm|port|water=5|"},
				{"count olive oil thr\t1", "count|olive|oil|thrown-away|1|"},
				{"stores --sheet mark\t", "stores|--sheet|markdown|"},
				{"correct la\tx", "correct|last|x|"},
				{"signalk vess\t", "signalk|vessel.json|"},
				{"calendar --out vess\t", "calendar|--out|vessel.json|"},
				{"passage --gpx vess\t", "passage|--gpx|vessel.json|"},
			} {
				_ = os.Remove(said)
				for i, part := range strings.Split("hoveshort "+row.typed, "\t") {
					if i > 0 {
						typed("\t")
						shown.settle()
					}
					typed(part)
				}
				typed("\n")
				require.Eventually(t, func() bool { _, err := os.Stat(said); return err == nil }, 10*time.Second, 10*time.Millisecond, "%q", shown.String())
				text, err := os.ReadFile(said)
				require.NoError(t, err)
				assert.Equal(t, row.want, string(text), "%q", shown.String())
			}
		})
	}
}

// settle waits until nothing more is shown: a shell throws away what is typed while it completes.
func (s *screen) settle() {
	const quiet = 400 * time.Millisecond
	begun := time.Now()
	for last := ""; time.Since(begun) < 10*time.Second; time.Sleep(quiet) {
		now := s.String()
		if now == last {
			return
		}
		last = now
	}
}
