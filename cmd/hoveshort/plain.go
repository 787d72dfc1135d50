package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

// The line mode: the whole program line by line, for a screen reader, a slow line or a pipe. It asks, and a line answers;
// everything goes through the commands, so that nothing is decided here. What it says all goes to stdout, in one order.
//
// No line answers what it cannot have been read for. The end of the input answers nothing; an empty line neither; and a line
// that was there before its question was asked only if it names what it answers ("engine-oil y").

// plain is one session.
type plain struct {
	c       *call
	out     *plainOut
	lines   *lineReader
	home    *home
	list    []matter // as it was told last; numbers are places in it
	names   []string // of the commands
	at      string   // what is asked now, for where it stopped
	ended   bool     // no line will come any more, or none is wanted
	left    bool     // by its own word
	lost    []string // what was asked for and could not be written
	written int      // entries at the beginning
}

func runPlain(c *call, opts rootOptions) error {
	if opts.json {
		return usage("hoveshort ready --json", "--plain is for people; --json for other programs")
	}
	p := &plain{c: c, out: &plainOut{to: c.stdout}, lines: readLines(c.stdin, time.Now, settleTime)}
	return p.run()
}

// run is the session, from the first look at her to the end of the input.
func (p *plain) run() error {
	p.c.stderr = p.out // talk and results are one conversation
	where, err := p.c.place()
	if err != nil {
		return err
	}
	where.banner = ""
	p.home = &home{place: where, by: p.c.by}
	m, err := p.look()
	if err != nil {
		return err
	}
	p.written = lastSeq(m)
	p.tellAll(m)
	p.say("Type a number to go there, walk, a command, help, or leave.")
	for !p.ended && p.out.err == nil {
		p.turn()
	}
	return p.end()
}

// turn is one prompt and what is typed to it.
func (p *plain) turn() {
	line, ok := p.prompt("the prompt What next", "What next? ")
	if !ok {
		return
	}
	word, rest := plainWordOf(line.text)
	number, isNumber := numberIn(line.text)
	switch {
	case line.text == "":
		p.say("Nothing was typed. help tells what can be.")
	case isNumber:
		p.goTo(number)
	case word == sayHelp:
		p.help(rest)
	case word == sayLeave:
		p.ended, p.left = true, true
		p.say("You left the program. It writes no departure: that is depart.")
	case word == sayList:
		p.relist()
	case word == sayWalk:
		p.walk(rest, "")
	case word == sayDone || word == sayAgain || word == sayNext || word == sayBack:
		p.say("%s belongs to a walk. Type walk first.", word)
	default:
		p.command(line.text)
	}
}

// prompt asks, and waits for a line; ok is false when none will come, or none that can be taken.
func (p *plain) prompt(at, question string) (typedLine, bool) {
	p.at = at
	var r report
	r.line("%s", question)
	_, _ = io.WriteString(p.out, clean(strings.TrimSuffix(r.String(), "\n")+" ", p.c.isUTF8())) // kept in out.err
	line, ok := p.lines.next(p.c.ctx)
	switch {
	case !ok:
		p.ended = true
		_, _ = io.WriteString(p.out, "\n")
	case !p.c.stdinIsTerminal:
		_, _ = io.WriteString(p.out, clean(line.text, p.c.isUTF8())+"\n") // no terminal showed it
	}
	if ok && line.bad != "" {
		p.say("Not taken: %s. Type it again.", line.bad)
		return line, false
	}
	return line, ok
}

// ask puts a question that only a line typed for it answers; "" is none, and nothing is done then. A line that was there
// before is no answer, and is taken for what it says by itself.
func (p *plain) ask(at, question string) (answer string) {
	asked := p.lines.clock()
	line, ok := p.prompt(at, question)
	switch {
	case !ok:
		return ""
	case line.text == "":
		p.say("Nothing was typed: not answered.")
	case !p.lines.answers(line, asked):
		p.say("That line was there before the question: it is no answer to it.")
		p.lines.giveBack(line)
		return ""
	}
	return line.text
}

// askFor is ask for the commands that ask by themselves, such as sign.
func (p *plain) askFor(question string) (string, error) {
	question = strings.TrimSpace(question)
	if !strings.HasSuffix(question, ":") && !strings.HasSuffix(question, "?") {
		question += " Your answer:"
	}
	answer := p.ask("the question: "+question, question+" ")
	if p.c.ctx.Err() != nil {
		return "", &problem{code: exitRefused, says: "stopped; nothing was written"}
	}
	return answer, nil
}

// command runs a line as a command of the command line; a line that begins with the id of a check answers it.
func (p *plain) command(line string) {
	words := parted(line)
	if len(words) > 1 && words[0] == "hoveshort" {
		words = words[1:]
	}
	switch {
	case p.knows(words[0]):
		p.do(words...)
	case p.isCheck(words[0]):
		p.do(append([]string{"check"}, answerNamed(words)...)...)
	case strings.HasPrefix(words[0], "-"):
		p.say("Not done: a line begins with a command, not with %s.", cut(words[0], 40))
	default:
		p.say("Not done: there is no command %q. help lists them.", cut(words[0], 40))
		if near := checklist.Nearest(words[0], p.commandNames()); near != "" {
			p.say("Did you mean %s?", near)
		}
	}
}

// answerNamed is a line that answers a check by its id, in the words of the command.
func answerNamed(words []string) []string {
	words = slices.Clone(words)
	if len(words) > 1 {
		if answer, known := answerWords[strings.ToLower(words[1])]; known {
			words[1] = strings.ReplaceAll(string(answer), " ", "-")
		}
	}
	return words
}

// do runs a command of the command line on this boat.
func (p *plain) do(words ...string) {
	sub := &call{env: p.c.env, ctx: p.c.ctx, home: p.home, asker: p.askFor}
	sub.stdout, sub.stderr = p.out, p.out
	code := sub.execute(words)
	sub.close()
	if code == exitNotWritten {
		p.lost = append(p.lost, strings.Join(words, " "))
	}
}

// look is how she stands now; what the record has to say of itself is told.
func (p *plain) look() (moment, error) {
	sub := &call{env: p.c.env, ctx: p.c.ctx, home: p.home}
	sub.stderr = p.out
	return sub.look()
}

// stand is look where a session goes on without it: the error is told.
func (p *plain) stand() (moment, bool) {
	m, err := p.look()
	if err != nil {
		_, says, hint := verdictOn(err)
		p.say("%s", says)
		if hint != "" {
			p.say("%s", hint)
		}
	}
	return m, err == nil
}

// say is one thing, on lines of at most 80 columns.
func (p *plain) say(format string, args ...any) {
	var r report
	r.line(format, args...)
	_, _ = io.WriteString(p.out, clean(r.String(), p.c.isUTF8())) // kept in out.err
}

// under is what belongs to the line before it.
func (p *plain) under(format string, args ...any) {
	var r report
	r.hang("   ", "   ", fmt.Sprintf(format, args...))
	_, _ = io.WriteString(p.out, clean(r.String(), p.c.isUTF8()))
}

// end says where it stopped, and what is on the disk.
func (p *plain) end() error {
	if p.out.err != nil {
		if errors.Is(p.out.err, syscall.EPIPE) {
			return nil // whoever read it has read enough
		}
		return coded(exitNotWritten, "", fmt.Errorf("writing: %w", p.out.err))
	}
	p.sayStopped()
	if m, ok := p.stand(); ok {
		p.say("%s", onDisk(p.written, lastSeq(m)))
	}
	for _, words := range p.lost {
		p.say("Not on the disk: %s", words)
	}
	if len(p.lost) > 0 {
		p.c.code = exitNotWritten
	}
	if !p.left && p.c.ctx.Err() == nil && p.lines.err != nil {
		return coded(exitUnreadable, "", fmt.Errorf("reading what is typed: %w", p.lines.err))
	}
	return nil
}

// sayStopped is where the session stopped, if it was not left.
func (p *plain) sayStopped() {
	switch {
	case p.left:
	case p.c.ctx.Err() != nil:
		p.say("Stopped by a signal at %s.", p.at)
		p.say("Nothing was answered there.")
	default:
		if p.lines.half != "" {
			p.say("The last line has no end and was not taken: %s", cut(p.lines.half, 60))
		}
		p.say("The input ended at %s.", p.at)
		p.say("Nothing was answered there.")
	}
}

func onDisk(before, last int) string {
	switch last {
	case 0:
		return "Nothing was written; the record has no entry yet."
	case before:
		return fmt.Sprintf("Nothing new was written; entry %d is the last.", last)
	}
	return fmt.Sprintf("All that was told as written is on the disk; entry %d is the last.", last)
}

// lastSeq is the number of the record's last entry.
func lastSeq(m moment) int {
	if len(m.entries) == 0 {
		return 0
	}
	return m.entries[len(m.entries)-1].Seq
}

// plainOut is where a session speaks. It leaves out the program's name, which whoever is spoken to knows, and keeps the
// first error: nobody hears what is said after it, so nothing more is asked.
type plainOut struct {
	to  io.Writer
	err error
}

var talkPrefixes = [][2]string{{"hoveshort: ", ""}, {"hint: ", "What to do: "}}

// Write writes it on.
func (o *plainOut) Write(text []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	said := text
	for _, prefix := range talkPrefixes {
		if rest, has := bytes.CutPrefix(text, []byte(prefix[0])); has {
			said = append([]byte(prefix[1]), rest...)
		}
	}
	_, o.err = o.to.Write(said)
	return len(text), o.err
}

// knows says that there is a command of that name.
func (p *plain) knows(name string) bool { return slices.Contains(p.commandNames(), name) }

func (p *plain) commandNames() []string {
	if p.names == nil {
		for _, cmd := range p.commands() {
			p.names = append(p.names, cmd.Name())
		}
	}
	return slices.Clone(p.names)
}

// commands are those of the command line that a session has.
func (p *plain) commands() []*cobra.Command {
	root := newRootCommand(&call{env: p.c.env, ctx: p.c.ctx})
	return slices.DeleteFunc(root.Commands(), func(cmd *cobra.Command) bool { return cmd.Hidden || !cmd.IsAvailableCommand() })
}

// isCheck says that some round has a check of that id, be it for another kind of passage.
func (p *plain) isCheck(id string) bool {
	m, err := p.look()
	if err != nil {
		return false
	}
	for _, round := range m.definitions.Rounds {
		for _, section := range round.Sections {
			if slices.ContainsFunc(section.Checks, func(c checklist.Check) bool { return c.ID == id }) {
				return true
			}
		}
	}
	return false
}
