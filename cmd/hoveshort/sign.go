package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

type signOptions struct {
	actOptions
	depart string
	yes    bool
}

func newSignCommand(c *call) *cobra.Command {
	var opts signOptions
	cmd := &cobra.Command{
		Use:   "sign [NAME]",
		Short: "Sign off: freeze plan, levels, numbers, answers and exceptions",
		Long: "Sign off, with the name of who signs: it freezes plan, levels, numbers, answers, readings,\nexceptions and definitions. It is refused while anything stands in the way; there is no\n" +
			"override. It shows what will be frozen, asks for the name where none is given, and asks once\nwhether to sign; the end of input is a no." + actExits(),
		Example: "  hoveshort sign Mara Testskipper\n  hoveshort sign --depart 2026-10-19T09:00+13:00 Mara Testskipper",
		RunE:    do(func(args []string) error { return runSign(c, opts, strings.Join(args, " ")) }),
	}
	cmd.Flags().StringVar(&opts.depart, "depart", "", "move the departure to this `time`")
	cmd.Flags().BoolVar(&opts.yes, "yes", false, "sign without being asked")
	opts.flags(cmd.Flags())
	return cmd
}

func runSign(c *call, opts signOptions, name string) error {
	var depart time.Time
	if opts.depart != "" {
		var err error
		if depart, err = parseMoment(opts.depart); err != nil {
			return fmt.Errorf("--depart: %w", err)
		}
	}
	a, err := c.aboard()
	if err != nil {
		return err
	}
	m, err := a.load()
	if err != nil {
		return err
	}
	c.tell(m.notices)
	act, err := freeze(m, orUnknown(name), depart)
	if err != nil {
		return err
	}
	if name == "" { // asked for once nothing else is in the way
		if name, err = c.ask("Name of who signs: "); err != nil {
			return err
		}
		if act, err = freeze(m, name, depart); err != nil {
			return err
		}
	}
	if err := c.confirmSign(opts, m, act); err != nil {
		return err
	}
	return c.actOn(a, opts.actOptions, func(m moment) (checklist.Act, error) { return freeze(m, name, depart) })
}

// orUnknown stands for a name that will be asked for.
func orUnknown(name string) string { return cmp.Or(name, "?") }

// freeze makes the sign-off of a moment, for another departure where one is given.
func freeze(m moment, name string, depart time.Time) (checklist.Sign, error) {
	m = m.departing(depart)
	return checklist.Freeze(m.definitions, m.state, m.assess(), name)
}

// departing is the moment with another departure, where one is given.
func (m moment) departing(depart time.Time) moment {
	if !depart.IsZero() {
		m.definitions = m.definitions.At(depart)
	}
	return m
}

// confirmSign shows what will be frozen and asks once. The end of input is a no.
func (c *call) confirmSign(opts signOptions, m moment, sign checklist.Sign) error {
	if opts.yes {
		return nil
	}
	var r report
	r.toBeSigned(sign, m.definitions.Boat.Units)
	c.say("%s", r.String())
	question := fmt.Sprintf("Sign off as %s? She leaves %s, with %s. This stands for ever. [y/N]: ",
		sign.Name, sign.Depart.Format(longMoment), plural(len(sign.Exceptions), "exception", "exceptions"))
	answer, err := c.ask(question)
	if err != nil {
		return err
	}
	if answer = strings.ToLower(answer); answer != "y" && answer != "yes" {
		return &problem{code: exitRefused, says: "not signed; nothing was written", hint: "answer y, or add --yes"}
	}
	return nil
}

// ask asks on stderr and reads one line, or is ended by a signal. A line that the end of
// input cut off is no answer.
func (c *call) ask(question string) (string, error) {
	if c.asker != nil {
		return c.asker(question)
	}
	_, _ = fmt.Fprint(c.stderr, clean(question, c.isUTF8())) // nobody is left to ask
	if c.lines == nil {
		c.lines = bufio.NewReader(c.stdin)
	}
	read := make(chan error, 1)
	var text string
	go func() {
		var err error
		text, err = c.lines.ReadString('\n')
		if errors.Is(err, io.EOF) {
			text, err = "", nil
		}
		read <- err
	}()
	select {
	case <-c.ctx.Done():
		return "", &problem{code: exitRefused, says: "stopped; nothing was written"}
	case err := <-read:
		if err != nil {
			return "", fmt.Errorf("reading the answer: %w", err)
		}
		return strings.TrimSpace(text), nil
	}
}
