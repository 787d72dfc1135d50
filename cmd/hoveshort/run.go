package main

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"regexp"
	"runtime/debug"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"github.com/spf13/cobra"
)

// call is one call of the program: its world, the flags that every command has, and
// what it prints. Results are collected and written at the end, when all is decided.
type call struct {
	env
	ctx     context.Context
	boat    string // --boat
	at      string // --at
	by      string // --by
	text    bytes.Buffer
	isJSON  bool // what is in text
	code    int  // how it ends where there is no error
	mu      sync.Mutex
	cleanup []func()      // when the program ends
	lines   *bufio.Reader // of stdin, once something was asked

	onScreen atomic.Bool // the screens have the terminal

	home  *home                                 // the boat of the session, where the call is a line of --plain
	asker func(question string) (string, error) // asks there
}

// run is the whole program. A signal ends what is under way, then the program.
func run(e env, args []string) int {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	c := &call{env: e, ctx: ctx}
	defer c.close()

	done := make(chan int, 1)
	go func() { done <- c.execute(args) }()
	select {
	case code := <-done:
		return code
	case s := <-e.signals:
		cancel()
		if code := c.waitFor(done); code == exitNotWritten || code == exitFault {
			return code
		}
		return exitSignalFirst + numberOf(s)
	}
}

// waitFor lets an entry that is being written come to its end. A second signal ends the
// program at once, but for the screens, which must give the terminal back.
func (c *call) waitFor(done <-chan int) (code int) {
	const patience = 10 * time.Second // more than a writer waits for the record's lock
	late := time.After(patience)
	for {
		select {
		case code = <-done:
			return code
		case <-late:
			return exitDone
		case <-c.signals:
			if !c.onScreen.Load() {
				return exitDone
			}
		}
	}
}

func numberOf(s os.Signal) int {
	if n, is := s.(syscall.Signal); is {
		return int(n)
	}
	return 0
}

// execute runs the command and writes what it printed. A panic is a fault of ours; what
// was said to be written is on the disk by then.
func (c *call) execute(args []string) (code int) {
	defer func() {
		if r := recover(); r != nil {
			c.say("hoveshort: a fault of this program: %v", r)
			c.say("hint: your record is safe: every entry that was said to be written is on the disk. Please tell the makers what stands below.")
			_, _ = fmt.Fprintf(c.stderr, "%s", debug.Stack())
			code = exitFault
		}
	}()
	c.collectGarbage(rarely)
	root := newRootCommand(c)
	c.completes(root, args)
	root.SetArgs(keepNegatives(args))
	err := root.ExecuteContext(c.ctx)
	if err == nil {
		err = c.flush()
	} else {
		err = errors.Join(err, c.flush())
	}
	if err == nil {
		return c.code
	}
	code, says, hint := verdictOn(err)
	c.say("hoveshort: %s", cutLines(says))
	if hint != "" {
		c.say("hint: %s", hint)
	}
	return cmp.Or(code, exitFault)
}

// cutLines shortens the lines of a message that quotes something very long, such as a
// name that the operating system refused.
func cutLines(text string) string {
	const longest = 2000
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = cut(line, longest)
	}
	return strings.Join(lines, "\n")
}

// How often garbage is collected: a plain command is over before it pays (1.4 of 11 ms of
// `ready`), the screens stay and shall be small.
const (
	rarely = 400
	often  = 100
)

// collectGarbage leaves it as it is where the user has set it.
func (c *call) collectGarbage(percent int) {
	if c.getenv("GOGC") == "" {
		debug.SetGCPercent(percent)
	}
}

// say is talk: to stderr, a line or more.
func (c *call) say(format string, args ...any) {
	_, _ = fmt.Fprintln(c.stderr, clean(fmt.Sprintf(format, args...), c.isUTF8())) // nobody is left to tell
}

// tell says what the record has to say of itself.
func (c *call) tell(notices []string) {
	for _, n := range notices {
		if c.home != nil && !c.home.isNews(n) {
			continue
		}
		c.say("hoveshort: %s", n)
	}
}

// flush writes what was printed. A reader that closed its end has read enough.
func (c *call) flush() error {
	text := c.text.String()
	c.text.Reset()
	if text == "" {
		return nil
	}
	if c.isJSON {
		text = cleanJSON(text)
	} else {
		text = clean(text, c.isUTF8())
	}
	_, err := c.stdout.Write([]byte(text))
	if err == nil || errors.Is(err, syscall.EPIPE) {
		return nil
	}
	return coded(exitNotWritten, "", fmt.Errorf("writing the result: %w", err))
}

// encode prints a value as JSON.
func (c *call) encode(value any) error {
	c.isJSON = true
	encoder := json.NewEncoder(&c.text)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(value)
}

// atEnd is done when the program ends, however it ends.
func (c *call) atEnd(f func()) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.cleanup = append(c.cleanup, f)
}

// close puts away what was made for this call alone.
func (c *call) close() {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, f := range c.cleanup {
		f()
	}
}

// minus stands for the sign of a negative value while the flags are read: "-3 hPa" is no
// flag. It is the mathematical minus, and text that keeps it reads the same.
const minus = "\u2212"

var isNegative = regexp.MustCompile(`^-[0-9.]`)

func keepNegatives(args []string) []string {
	kept := make([]string, len(args))
	for i, arg := range args {
		if isNegative.MatchString(arg) {
			arg = minus + arg[1:]
		}
		kept[i] = arg
	}
	return kept
}

// asTyped takes keepNegatives back.
func asTyped(args []string) []string {
	typed := make([]string, len(args))
	for i, arg := range args {
		if rest, is := strings.CutPrefix(arg, minus); is {
			arg = "-" + rest
		}
		typed[i] = arg
	}
	return typed
}

// action is what a command does with its arguments.
type action func(args []string) error

// do makes a cobra function of an action.
func do(f action) func(*cobra.Command, []string) error {
	return func(_ *cobra.Command, args []string) error { return f(asTyped(args)) }
}

// atLeast and exactly refuse a number of arguments that cannot be meant.
func atLeast(n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < n {
			return usage(example(cmd), "something is missing: %s", strings.TrimSuffix(cmd.UseLine(), " [flags]"))
		}
		return nil
	}
}

func atMost(n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > n {
			return usage(example(cmd), "%q is too much: %s", args[n], strings.TrimSuffix(cmd.UseLine(), " [flags]"))
		}
		return nil
	}
}

// example is the first line of a command's examples, as a hint.
func example(cmd *cobra.Command) string {
	first, _, _ := strings.Cut(strings.TrimSpace(cmd.Example), "\n")
	if first == "" {
		return "see `" + cmd.CommandPath() + " --help`"
	}
	return "for example: " + first
}
