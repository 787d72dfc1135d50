// Bench measures the program as the skipper has it before her: as a process of its own, in a pseudo-terminal, beside the
// least that the screen library can do (./bare), both built the same way. It prints a table with the goals beside.
//
//	go run ./testdata/bench            all, half a minute and more
//	go run ./testdata/bench -n 5       fewer runs
//
// The boat is the demo with a record of ten years. Times hold for a machine that does nothing else: the load is told.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

// evening is the moment that the demo's files fit.
const evening = "2026-10-18T17:30+13:00"

func main() {
	n := flag.Int("n", 25, "how often each start is measured; keys four times as often")
	flag.Parse()
	if err := run(*n); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// bench is what is measured, and what came of it.
type bench struct {
	n                   int
	program, bare, boat string
	rows                [][3]string
}

func run(n int) error {
	work, err := os.MkdirTemp("", "hoveshort-bench-")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(work) }() // it is in the temporary folder
	b := &bench{n: n, program: filepath.Join(work, "hoveshort"), bare: filepath.Join(work, "bare"), boat: filepath.Join(work, "boat")}
	if err := b.prepare(); err != nil {
		return err
	}
	before := load()
	for _, measure := range []func() error{b.starts, b.keys, b.idle, b.screens, b.plain, b.size} {
		if err := measure(); err != nil {
			return err
		}
	}
	b.print(before)
	return nil
}

// prepare builds both, and makes the boat.
func (b *bench) prepare() error {
	for _, args := range [][]string{
		{"go", "build", "-trimpath", "-ldflags=-s -w", "-o", b.program, "./cmd/hoveshort"},
		{"go", "build", "-trimpath", "-ldflags=-s -w", "-o", b.bare, "./testdata/bench/bare"},
		{b.program, "init", "--demo", b.boat},
		{"go", "test", "./config/record", "-run", "TestTenYearsAreLeftForTheBenchmarks", "-count", "1", "-years", b.boat},
	} {
		cmd := exec.Command(args[0], args[1:]...)
		cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
		if out, err := cmd.CombinedOutput(); err != nil {
			return fmt.Errorf("%s: %w\n%s", strings.Join(args, " "), err, out)
		}
	}
	return nil
}

func (b *bench) row(what, goal, format string, args ...any) {
	b.rows = append(b.rows, [3]string{what, fmt.Sprintf(format, args...), goal})
}

func (b *bench) print(before string) {
	fmt.Printf("%s/%s, %d processors, %s; load %s before, %s after; ten years of record; 80x24\n\n", runtime.GOOS, runtime.GOARCH, runtime.NumCPU(), runtime.Version(), before, load())
	fmt.Println("| what | measured | goal |\n|---|---|---|")
	for _, row := range b.rows {
		fmt.Printf("| %s | %s | %s |\n", row[0], row[1], row[2])
	}
}

// load is the machine's, of the last minute.
func load() string {
	text, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return "unknown"
	}
	return strings.Fields(string(text))[0]
}

// open starts the screens, of the demo's evening.
func (b *bench) open(more ...string) (*terminal, time.Duration, error) {
	t, err := start(b.program, append([]string{"--boat", b.boat, "--at", evening}, more...)...)
	if err != nil {
		return nil, 0, err
	}
	first, err := t.until("READY")
	if err != nil {
		t.end()
		return nil, 0, err
	}
	return t, first, nil
}

func (b *bench) openBare() (*terminal, time.Duration, error) {
	t, err := start(b.bare)
	if err != nil {
		return nil, 0, err
	}
	first, err := t.until("bare, key 0")
	if err != nil {
		t.end()
		return nil, 0, err
	}
	return t, first, nil
}

// starts are the times to the first frame, of both by turns.
func (b *bench) starts() error {
	var ours, bare []time.Duration
	for i := range b.n + 1 {
		t, first, err := b.open()
		if err != nil {
			return err
		}
		t.end()
		u, least, err := b.openBare()
		if err != nil {
			return err
		}
		u.end()
		if i > 0 { // the first reads the disk
			ours, bare = append(ours, first), append(bare, least)
		}
	}
	b.row("first frame, median, beside the bare one", "1.1 times", "%s and %s, %s", ms(median(ours)), ms(median(bare)), times(median(ours), median(bare)))
	b.row("first frame, the terminal answers nothing: median, slowest", "under 60 ms", "%s, %s", ms(median(ours)), ms(slices.Max(ours)))
	return nil
}

// keys are the times from a key to the first byte of its frame, of both by turns.
func (b *bench) keys() error {
	t, _, err := b.open()
	if err != nil {
		return err
	}
	defer t.end()
	u, _, err := b.openBare()
	if err != nil {
		return err
	}
	defer u.end()
	var ours, bare []time.Duration
	for i := range 4 * b.n {
		key := []string{"\x1b[B", "\x1b[B", "\x1b[A"}[i%3] // down, down, up
		// Both draw sixty times a second: a wait of another length each time meets every moment between two frames.
		time.Sleep(time.Duration(i%17) * time.Millisecond)
		took, _, err := t.press(key)
		if err != nil {
			return err
		}
		time.Sleep(time.Duration(i%17) * time.Millisecond)
		least, _, err := u.press(key)
		if err != nil {
			return err
		}
		if took > 0 && least > 0 {
			ours, bare = append(ours, took), append(bare, least)
		}
	}
	if len(ours) < 2*b.n {
		return fmt.Errorf("only %d of %d keys drew something", len(ours), 4*b.n)
	}
	b.row(fmt.Sprintf("key to frame, %d keys: median", len(ours)), "1.2 times", "%s and %s, %s", ms(median(ours)), ms(median(bare)), times(median(ours), median(bare)))
	b.row("key to frame: 95 of 100 within", "1.2 times", "%s and %s, %s", ms(at(ours, 95)), ms(at(bare, 95)), times(at(ours, 95), at(bare, 95)))
	return nil
}

// idle is what they do while nobody does anything. The clock runs: the minute must not turn.
func (b *bench) idle() error {
	const span, settled = 10 * time.Second, 2 * time.Second
	t, err := start(b.program, "--boat", b.boat)
	if err != nil {
		return err
	}
	defer t.end()
	u, _, err := b.openBare()
	if err != nil {
		return err
	}
	defer u.end()
	if _, err := t.until("READY"); err != nil {
		return err
	}
	time.Sleep(settled)
	if rest := time.Until(time.Now().Truncate(time.Minute).Add(time.Minute)); rest < span+time.Second {
		time.Sleep(rest + time.Second)
	}
	shown, shownBare := t.settle(), u.settle()
	used, err := t.cpu()
	if err != nil {
		return nil // not Linux
	}
	least, err := u.cpu()
	if err != nil {
		return err
	}
	time.Sleep(span)
	after, _ := t.cpu() // it was there before
	afterBare, _ := u.cpu()
	b.row("idle for 10 s: bytes, beside the bare one", "0", "%d and %d", t.settle()-shown, u.settle()-shownBare)
	b.row("idle for 10 s: processor time, in steps of 10 ms", "as the bare one", "%s and %s", ms(after-used), ms(afterBare-least))
	return nil
}

// screenNames are those of the keys 1 to 7.
var screenNames = []string{"Ready", "Passage", "Stores", "Rounds", "Engine", "Gear", "Sign"}

// screens are the bytes of a key on each, and the memory once all were looked at.
func (b *bench) screens() error {
	t, _, err := b.open()
	if err != nil {
		return err
	}
	defer t.end()
	for i, name := range screenNames {
		_, opened, err := t.press(fmt.Sprint((i+1)%len(screenNames) + 1))
		if err != nil {
			return err
		}
		if _, opened, err = t.press(fmt.Sprint(i + 1)); err != nil {
			return err
		}
		var moved []int
		for _, key := range []string{"\x1b[B", "\x1b[B", "\x1b[B", "\x1b[A", "\x1b[B", "\x1b[A", "\x1b[A"} {
			_, shown, err := t.press(key)
			if err != nil {
				return err
			}
			moved = append(moved, shown)
		}
		slices.Sort(moved)
		b.row(fmt.Sprintf("bytes, screen %d %s: opening it; up or down, median and most", i+1, name), "", "%d; %d, %d", opened, moved[len(moved)/2], moved[len(moved)-1])
	}
	all, err := t.memory("VmRSS")
	if err != nil {
		return nil // not Linux
	}
	own, err := t.memory("RssAnon")
	b.row("memory after all screens: resident, of it its own (the rest is the program's file)", "16 MiB", "%.1f MiB, %.1f MiB", float64(all)/1024, float64(own)/1024)
	return err
}

// plain are commands without screens, from start to end.
func (b *bench) plain() error {
	for _, command := range []string{"--version", "ready", "passage"} {
		var took []time.Duration
		for range b.n {
			cmd := exec.Command(b.program, "--boat", b.boat, "--at", evening, command)
			begun := time.Now()
			_ = cmd.Run() // ready ends with 1
			took = append(took, time.Since(begun))
			if code := cmd.ProcessState.ExitCode(); code > 1 {
				return fmt.Errorf("%s: exit code %d", command, code)
			}
		}
		b.row("`hoveshort "+command+"`, median", "", "%s", ms(median(took)))
	}
	return nil
}

func (b *bench) size() error {
	ours, err := os.Stat(b.program)
	if err != nil {
		return err
	}
	bare, err := os.Stat(b.bare)
	if err != nil {
		return err
	}
	b.row("size of the program, beside the bare one", "8 MB", "%.1f MB and %.1f MB", float64(ours.Size())/1e6, float64(bare.Size())/1e6)
	return nil
}

func ms(d time.Duration) string { return fmt.Sprintf("%.1f ms", float64(d.Microseconds())/1000) }

func times(a, b time.Duration) string { return fmt.Sprintf("%.2f times", float64(a)/float64(b)) }

func median(list []time.Duration) time.Duration { return at(list, 50) }

// at is the value that so many of a hundred do not exceed.
func at(list []time.Duration, percent int) time.Duration {
	sorted := slices.Sorted(slices.Values(list))
	return sorted[min(len(sorted)*percent/100, len(sorted)-1)]
}
