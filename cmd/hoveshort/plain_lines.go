package main

import (
	"bufio"
	"context"
	"errors"
	"io"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// longestTyped is how many bytes a line may have; the domain takes no text of more than 1,000 characters.
const longestTyped = 4000

// settleTime is how long a question must have stood there before a line can be an answer to it. Nobody reads a check
// faster; lines that were pasted, or sent ahead over a slow link, come sooner. Common practice, no source.
const settleTime = 500 * time.Millisecond

// typedLine is one line as it came in.
type typedLine struct {
	text string
	at   time.Time // it was read, by a clock that only runs forward
	bad  string    // why it is not taken; "": it is
}

// lineReader reads the lines of a session as they come, so that it is known of each when it came. A last line that has no
// end is none: half of a level is another level.
type lineReader struct {
	came   chan typedLine
	back   *typedLine // read, and not used yet
	half   string     // what stood behind the last line; set before came is closed
	err    error      // why reading ended; io.EOF is left out
	clock  func() time.Time
	settle time.Duration
}

// aheadLines is how many lines are taken in before they are asked for.
const aheadLines = 64

// readLines begins to read. It goes on until the input ends, or the program does.
func readLines(in io.Reader, clock func() time.Time, settle time.Duration) *lineReader {
	l := &lineReader{came: make(chan typedLine, aheadLines), clock: clock, settle: settle}
	go l.read(bufio.NewReader(in))
	return l
}

func (l *lineReader) read(in *bufio.Reader) {
	defer close(l.came)
	var line []byte
	for {
		part, err := in.ReadSlice('\n')
		if len(line) <= longestTyped {
			line = append(line, part...)
		}
		switch {
		case err == nil:
			l.came <- l.typed(string(line))
			line = nil
		case errors.Is(err, bufio.ErrBufferFull): // the rest of a long line is still to come
		default:
			l.half = strings.TrimSpace(string(line))
			if !errors.Is(err, io.EOF) {
				l.err = err
			}
			return
		}
	}
}

// typed is a line without its end, and why it cannot be taken.
func (l *lineReader) typed(line string) typedLine {
	text := strings.TrimSpace(strings.ReplaceAll(strings.TrimPrefix(line, "\ufeff"), "\t", " "))
	typed := typedLine{text: text, at: l.clock()}
	switch {
	case len(line) > longestTyped:
		typed.text, typed.bad = "", "the line is too long"
	case !utf8.ValidString(text):
		typed.text, typed.bad = "", "the line is no text (not UTF-8)"
	case strings.ContainsFunc(text, unicode.IsControl):
		typed.text, typed.bad = "", "the line holds a key that is no letter, such as an arrow"
	}
	return typed
}

// next waits for a line; ok is false at the end of the input, and when ctx is done.
func (l *lineReader) next(ctx context.Context) (line typedLine, ok bool) {
	if l.back != nil {
		line, l.back = *l.back, nil
		return line, true
	}
	select {
	case <-ctx.Done():
		return typedLine{}, false
	case line, ok = <-l.came:
		return line, ok
	}
}

// giveBack lets a line be read again: it was no answer to what was asked.
func (l *lineReader) giveBack(line typedLine) { l.back = &line }

// answers says that a line came once its question had been there long enough to be read.
func (l *lineReader) answers(line typedLine, asked time.Time) bool {
	return line.at.Sub(asked) >= l.settle
}
