package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/creack/pty"
)

// terminal is a program that runs in a pseudo-terminal of 80x24, which says nothing: no question is answered.
type terminal struct {
	cmd   *exec.Cmd
	pty   *os.File
	begun time.Time

	mu    sync.Mutex
	shown []byte
	last  time.Time     // when something came last
	more  chan struct{} // something came
}

// start runs a program with nothing of the user's around it.
func start(program string, args ...string) (*terminal, error) {
	t := &terminal{cmd: exec.Command(program, args...), more: make(chan struct{}, 1)}
	t.cmd.Env = []string{"TERM=xterm-256color", "LANG=C.UTF-8", "HOME=/no-home", "PATH=/usr/bin:/bin"}
	t.begun = time.Now()
	var err error
	if t.pty, err = pty.StartWithSize(t.cmd, &pty.Winsize{Rows: 24, Cols: 80}); err != nil {
		return nil, err
	}
	go t.read()
	return t, nil
}

func (t *terminal) read() {
	buffer := make([]byte, 1<<16)
	for {
		n, err := t.pty.Read(buffer)
		now := time.Now()
		t.mu.Lock()
		t.shown, t.last = append(t.shown, buffer[:n]...), now
		t.mu.Unlock()
		select {
		case t.more <- struct{}{}:
		default:
		}
		if err != nil {
			return
		}
	}
}

// until waits for what is to be shown, and gives the time since the start.
func (t *terminal) until(text string) (time.Duration, error) {
	deadline := time.After(10 * time.Second)
	for {
		t.mu.Lock()
		found, last := bytes.Contains(t.shown, []byte(text)), t.last
		t.mu.Unlock()
		if found {
			return last.Sub(t.begun), nil
		}
		select {
		case <-t.more:
		case <-deadline:
			return 0, fmt.Errorf("%q was not shown within 10 s: %.200q", text, t.shown)
		}
	}
}

// settle waits until nothing has come for a while, and gives how many bytes came in all.
func (t *terminal) settle() int {
	const quiet = 120 * time.Millisecond
	for {
		time.Sleep(quiet / 4)
		t.mu.Lock()
		all, last := len(t.shown), t.last
		t.mu.Unlock()
		if time.Since(last) > quiet {
			return all
		}
	}
}

// press types a key, and gives the time to the first byte that came of it and the bytes in all.
func (t *terminal) press(key string) (first time.Duration, shown int, err error) {
	before := t.settle()
	select {
	case <-t.more: // old news
	default:
	}
	typed := time.Now()
	if _, err := t.pty.WriteString(key); err != nil {
		return 0, 0, err
	}
	select {
	case <-t.more:
		t.mu.Lock()
		first = t.last.Sub(typed)
		t.mu.Unlock()
	case <-time.After(2 * time.Second): // a key that changes nothing
	}
	return first, t.settle() - before, nil
}

// end kills it: how it leaves is the tests' business.
func (t *terminal) end() {
	_ = t.cmd.Process.Kill()
	_ = t.cmd.Wait() // killed
	_ = t.pty.Close()
}

// cpu is the time it used so far. Linux alone tells it.
func (t *terminal) cpu() (time.Duration, error) {
	const tick = 10 * time.Millisecond // USER_HZ is 100
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", t.cmd.Process.Pid))
	if err != nil {
		return 0, err
	}
	fields := strings.Fields(string(text[bytes.LastIndexByte(text, ')')+1:]))
	user, err := strconv.Atoi(fields[11])
	if err != nil {
		return 0, err
	}
	system, err := strconv.Atoi(fields[12])
	return time.Duration(user+system) * tick, err
}

// memory is a line of /proc/PID/status in KiB: VmRSS, RssAnon. Linux alone tells it.
func (t *terminal) memory(of string) (int, error) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", t.cmd.Process.Pid))
	if err != nil {
		return 0, err
	}
	for line := range strings.Lines(string(text)) {
		if value, is := strings.CutPrefix(line, of+":"); is {
			return strconv.Atoi(strings.Fields(value)[0])
		}
	}
	return 0, fmt.Errorf("no %s", of)
}
