package tui

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"sync/atomic"
	"syscall"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
)

// ExitError is why the screens ended otherwise than by leaving them. Code is what the
// program should end with: 130 interrupted, 143 terminated, 129 the line was dropped,
// 4 something is not on the disk, 70 a fault of ours.
type ExitError struct {
	Code int
	Err  error
}

// Error is for the skipper: what happened, and how the record stands.
func (e *ExitError) Error() string { return e.Err.Error() }

// Unwrap is the cause.
func (e *ExitError) Unwrap() error { return e.Err }

// The codes an ExitError may have.
const (
	codeNotWritten  = 4
	codeFault       = 70
	codeHangUp      = 129
	codeInterrupted = 130
	codeTerminated  = 143
)

// Run shows the screens until they are left, or until a signal or ctx ends them. Both
// files must be terminals. What was asked for is on the disk when it returns, or the
// error names what is not. nil is code 0; anything else is an *ExitError.
func Run(ctx context.Context, s Settings, in, out *os.File) error {
	m := New(s)

	var last tea.Model = m // a fault loses the library's model, not this one
	keep := func(now tea.Model, msg tea.Msg) tea.Msg {
		last = now
		return msg
	}
	input := escReader{File: in, ended: make(chan struct{}, 1)}
	options := []tea.ProgramOption{tea.WithInput(input), tea.WithOutput(out), tea.WithAltScreen(), tea.WithoutSignalHandler(), tea.WithFilter(keep)}
	p := tea.NewProgram(m, append(options, mouse(s)...)...)

	code, stop := leaveOnSignal(ctx, p, input.ended)
	defer stop()
	final, err := p.Run()
	if final != nil {
		last = final
	}
	return ended(last.(Model), int(code.Load()), err)
}

// leaveOnSignal ends the program on a signal, on a closed line and with ctx, and keeps
// the code. Signals stay caught until stop, so that a second one spoils no writing.
func leaveOnSignal(ctx context.Context, p *tea.Program, lineEnded <-chan struct{}) (code *atomic.Int32, stop func()) {
	code = new(atomic.Int32)
	signals := make(chan os.Signal, 4)
	signal.Notify(signals, syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT)
	done := make(chan struct{})
	go func() {
		defer func() {
			if recover() != nil {
				p.Kill()
			}
		}()
		select {
		case s := <-signals:
			code.Store(int32(codeOf(s)))
		case <-lineEnded:
			code.Store(codeHangUp)
		case <-ctx.Done():
			code.Store(codeTerminated)
		case <-done:
			return
		}
		p.Quit()
	}()
	return code, func() {
		close(done)
		signal.Stop(signals)
	}
}

func codeOf(s os.Signal) int {
	switch s {
	case syscall.SIGINT:
		return codeInterrupted
	case syscall.SIGHUP:
		return codeHangUp
	}
	return codeTerminated
}

// ended writes what is still on its way, and says how it ended.
func ended(m Model, code int, err error) error {
	m.keepLast()
	lost, why := m.writer.drain(m.queue, m.facts.definitions, m.settings.Clock())
	switch {
	case len(lost) > 0:
		var names []string
		for _, p := range lost {
			names = append(names, p.wish.words())
		}
		return &ExitError{codeNotWritten, fmt.Errorf("not on the disk: %s: %w", strings.Join(names, "; "), why)}
	case errors.Is(err, tea.ErrProgramPanic):
		return &ExitError{codeFault, fmt.Errorf("a fault of the program ended the screens; what was said to be on the disk is there, entry %d was the last: %w",
			lastSeq(m.facts.entries), err)}
	case code != 0:
		return &ExitError{code, errors.New(endWord(code) + "; everything is on the disk")}
	case err != nil && isLineGone(err):
		return &ExitError{codeHangUp, errors.New(endWord(codeHangUp) + "; everything is on the disk")}
	case err != nil:
		return &ExitError{codeFault, fmt.Errorf("showing the screens: %w", err)}
	}
	return nil
}

func endWord(code int) string {
	return map[int]string{codeInterrupted: "interrupted", codeHangUp: "the terminal is gone", codeTerminated: "told to end"}[code]
}

// isLineGone says that the terminal went away: that is what reading it then gives.
func isLineGone(err error) bool { return errors.Is(err, syscall.EIO) || errors.Is(err, io.EOF) }

// escReader is the keyboard. A slow line can cut the bytes of one key apart; what would
// then look like the escape key and some letters is held until the rest has come.
// Embedding keeps it a file, so that raw mode and the cancelable reader still work.
type escReader struct {
	*os.File
	ended chan struct{} // the line is closed
}

// Read reads keys, whole.
func (r escReader) Read(buf []byte) (int, error) {
	n, err := r.File.Read(buf)
	if err == io.EOF {
		select {
		case r.ended <- struct{}{}:
		default:
		}
	}
	for err == nil && n < len(buf) && isCut(buf[:n]) && isMore(r.File) {
		var more int
		more, err = r.File.Read(buf[n:])
		if more == 0 {
			return n, nil
		}
		n += more
	}
	return n, onlyIfEmpty(n, err)
}

// onlyIfEmpty keeps an error for the next read while there are bytes to hand over.
func onlyIfEmpty(n int, err error) error {
	if n > 0 {
		return nil
	}
	return err
}

// isCut says that the bytes end within a letter, or within an escape sequence: a lone
// ESC, or one that was opened by [ or O and has not come to its last letter.
func isCut(bytes []byte) bool {
	if isCutRune(bytes) {
		return true
	}
	at := strings.LastIndexByte(string(bytes), 0x1b)
	if at < 0 {
		return false
	}
	rest := bytes[at+1:]
	if len(rest) == 0 {
		return true
	}
	if rest[0] != '[' && rest[0] != 'O' {
		return false
	}
	for _, b := range rest[1:] {
		if b >= 0x40 && b <= 0x7e {
			return false
		}
	}
	return true
}

// isCutRune says that the bytes end within a letter of several bytes.
func isCutRune(bytes []byte) bool {
	for n := 1; n <= min(utf8.UTFMax-1, len(bytes)); n++ {
		if tail := bytes[len(bytes)-n:]; utf8.RuneStart(tail[0]) {
			return !utf8.FullRune(tail)
		}
	}
	return false
}
