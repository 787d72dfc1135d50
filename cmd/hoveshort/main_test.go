package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/config"
)

func TestMain(m *testing.M) {
	testscript.Main(tidy{m}, map[string]func(){"hoveshort": main})
}

// tidy removes what the tests built.
type tidy struct{ *testing.M }

func (t tidy) Run() int {
	code := t.M.Run()
	if builtIn != "" {
		_ = os.RemoveAll(builtIn)
	}
	return code
}

// builtIn is the folder of the built program; "": no test wanted it.
var builtIn string

// TestStories runs the scripts in testdata: the program as a process of its own.
func TestStories(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("LC_ALL", "C.UTF-8")
			return os.CopyFS(e.WorkDir, os.DirFS("testdata/ready")) // what makes the demo boat ready
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exitsWith},
	})
}

// exitsWith runs a program and looks at its exit code: `exits 64 hoveshort foo`.
func exitsWith(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE program args…")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%s: %v", args[1], err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("%s: exit code %d, want %d", strings.Join(args[1:], " "), got, want)
	}
}

// built is the program as it is shipped: the test's own binary starts other packages first.
var built = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "hoveshort-test-")
	if err != nil {
		return "", err
	}
	builtIn = dir
	if err := os.Chmod(dir, 0o755); err != nil {
		return "", err
	}
	binary := filepath.Join(dir, "hoveshort")
	out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput()
	if err != nil {
		return "", &exec.Error{Name: string(out), Err: err}
	}
	return binary, nil
})

func program(t testing.TB) string {
	t.Helper()
	binary, err := built()
	require.NoError(t, err)
	return binary
}

// demo is a copy of the demo boat.
func demo(t testing.TB) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "heron")
	require.NoError(t, config.Init(dir, config.Demo()))
	return dir
}

// result is how a call of the program ended.
type result struct {
	code           int
	stdout, stderr string
}

// world is an env of a test: a boat folder, and nothing else of the machine.
type world struct {
	boat  string
	env   map[string]string
	stdin string
	isTTY bool
	edit  func(*env)
}

func (w world) call(args ...string) result {
	var out, talk bytes.Buffer
	e := env{
		stdin: strings.NewReader(w.stdin), stdout: &out, stderr: &talk, dir: "/",
		getenv: func(name string) string {
			if name == "HOVESHORT_BOAT" {
				return w.boat
			}
			return w.env[name]
		},
		now:             config.DemoMoment.Local,
		stdinIsTerminal: w.isTTY,
	}
	if w.edit != nil {
		w.edit(&e)
	}
	code := run(e, args)
	return result{code, out.String(), talk.String()}
}
