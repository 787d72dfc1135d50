package main

import (
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"golang.org/x/term"
)

// env is the world around one call of the program; a test can be it.
type env struct {
	stdin            io.Reader
	stdout, stderr   io.Writer
	getenv           func(string) string
	now              func() time.Time
	stdinIsTerminal  bool
	stdoutIsTerminal bool
	dir              string           // the working folder
	signals          <-chan os.Signal // nil: none come
}

// osEnv is the world as it is. A closed pipe is told to the writer, not by a signal that
// would end the program with its throw-away folder left behind.
func osEnv() env {
	dir, err := os.Getwd()
	if err != nil {
		dir = "."
	}
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	signal.Notify(make(chan os.Signal, 1), syscall.SIGPIPE)
	return env{
		stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr,
		getenv: os.Getenv, now: time.Now, dir: dir, signals: signals,
		stdinIsTerminal:  term.IsTerminal(int(os.Stdin.Fd())),
		stdoutIsTerminal: term.IsTerminal(int(os.Stdout.Fd())),
	}
}

// isUTF8 says whether the terminal shows more than ASCII, by the first of the three
// variables that is set (POSIX.1-2017, XBD 8.2).
func (e env) isUTF8() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if value := strings.ToLower(e.getenv(name)); value != "" {
			return strings.Contains(value, "utf-8") || strings.Contains(value, "utf8")
		}
	}
	return false
}

// hasScreen says whether the screens can be shown at all.
func (e env) hasScreen() bool {
	return e.stdinIsTerminal && e.stdoutIsTerminal && e.getenv("TERM") != "dumb"
}
