package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"boat/hoveshort/config"
	"boat/hoveshort/provisions/quantity"
)

// The exit codes. Machines act on them: add, never change.
const (
	exitDone        = 0
	exitRefused     = 1  // an act not done; ready: not ready; lint, verify, review: something is wrong
	exitUnreadable  = 2  // files with mistakes, or a record that cannot be read: nothing can be computed
	exitNotWritten  = 4  // disk full, read-only, held by another program
	exitUsage       = 64 // EX_USAGE of sysexits.h
	exitFault       = 70 // EX_SOFTWARE of sysexits.h: a fault of ours
	exitSignalFirst = 128
)

// exitWords are the codes for the help.
var exitWords = map[int]string{
	exitDone: "done", exitRefused: "refused, nothing written", exitUnreadable: "files with mistakes, or the record unreadable",
	exitNotWritten: "could not write (disk full, read-only)", exitUsage: "wrong usage",
}

// exits is the part of a command's help that tells its exit codes; words replace the
// usual ones.
func exits(words map[int]string, codes ...int) string {
	var b strings.Builder
	b.WriteString("\n\nExit codes:")
	for _, code := range codes {
		word, own := words[code]
		if !own {
			word = exitWords[code]
		}
		fmt.Fprintf(&b, "\n  %2d  %s", code, word)
	}
	return b.String()
}

// actExits are those of every command that writes an entry.
func actExits() string {
	return exits(nil, exitDone, exitRefused, exitUnreadable, exitNotWritten, exitUsage)
}

// problem is an error with its exit code and, where there is one, what to do.
type problem struct {
	code int
	says string
	hint string
	err  error
}

func (p *problem) Error() string { return p.says }
func (p *problem) Unwrap() error { return p.err }

// usage is a command that was typed wrongly. What was typed is quoted, but not at any length.
func usage(hint, format string, args ...any) error {
	const longest = 200
	for i, arg := range args {
		if text, is := arg.(string); is {
			args[i] = cut(text, longest)
		}
	}
	return &problem{code: exitUsage, says: fmt.Sprintf(format, args...), hint: hint}
}

// coded gives an error its exit code, unless it has one.
func coded(code int, hint string, err error) error {
	var p *problem
	if err == nil || errors.As(err, &p) {
		return err
	}
	return &problem{code: code, says: err.Error(), hint: hint, err: err}
}

// verdictOn is how an error ends the program: its code, what is said, and a hint.
func verdictOn(err error) (code int, says, hint string) {
	var p *problem
	var refusal *quantity.Error
	var mistakes config.Mistakes
	switch {
	case errors.As(err, &p):
		return p.code, p.says, p.hint
	case errors.As(err, &mistakes):
		return exitUnreadable, fmt.Sprintf("the boat folder has %s\n%s", count(len(mistakes), "mistake"), mistakes.Error()), "mend them; `hoveshort lint` lists them"
	case errors.As(err, &refusal):
		return exitRefused, refusal.Problem, refusal.Cure
	}
	return exitUnreadable, err.Error(), ""
}

// isDisk says that an error comes from the disk.
func isDisk(err error) bool {
	var at *fs.PathError
	return errors.As(err, &at)
}
