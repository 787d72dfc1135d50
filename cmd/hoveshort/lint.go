package main

import (
	"errors"
	"os"

	"github.com/spf13/cobra"

	"boat/hoveshort/config"
)

type lintOptions struct{ json bool }

func newLintCommand(c *call) *cobra.Command {
	var opts lintOptions
	cmd := &cobra.Command{
		Use:   "lint",
		Short: "Tell every mistake in the boat folder, file:line: key: what is wrong; what would be right",
		Long: "Tell every mistake in the boat folder, one a line on stdout. What is worth telling and\nno mistake is told as a note on stderr." +
			exits(map[int]string{exitDone: "no mistake (notes allowed)", exitRefused: "mistakes", exitUnreadable: "the folder cannot be read"}, exitDone, exitRefused, exitUnreadable, exitUsage),
		Example: "  hoveshort lint\n  hoveshort --boat heron lint --json",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runLint(c, opts) }),
	}
	cmd.Flags().BoolVar(&opts.json, "json", false, "print the mistakes as JSON")
	return cmd
}

// mistakeJSON is a mistake or a note for other programs.
type mistakeJSON struct {
	File    string `json:"file"`
	Line    int    `json:"line"` // 0: none
	Key     string `json:"key"`
	Problem string `json:"problem"`
	Cure    string `json:"cure"`
}

func runLint(c *call, opts lintOptions) error {
	p, err := c.place()
	if err != nil {
		return err
	}
	folder, err := config.Load(os.DirFS(p.dir))
	var mistakes config.Mistakes
	if err != nil && !errors.As(err, &mistakes) {
		return coded(exitUnreadable, "", err)
	}
	if len(mistakes) > 0 {
		c.code = exitRefused
	}
	if opts.json {
		return c.encode(lintJSON(mistakes, folder.Notes))
	}
	for _, m := range mistakes {
		c.text.WriteString(m.Error() + "\n")
	}
	for _, n := range folder.Notes {
		c.say("note: %s", n)
	}
	if len(mistakes) == 0 {
		c.say("no mistakes")
	} else {
		c.say("%s", count(len(mistakes), "mistake"))
	}
	return nil
}

func lintJSON(mistakes config.Mistakes, notes []config.Note) any {
	told := struct {
		Format   int           `json:"format"`
		Mistakes []mistakeJSON `json:"mistakes"`
		Notes    []mistakeJSON `json:"notes"`
	}{1, []mistakeJSON{}, []mistakeJSON{}}
	for _, m := range mistakes {
		told.Mistakes = append(told.Mistakes, mistakeJSON{m.File, m.Line, m.Key, m.Problem, m.Cure})
	}
	for _, n := range notes {
		told.Notes = append(told.Notes, mistakeJSON{n.File, n.Line, n.Key, n.Problem, n.Cure})
	}
	return told
}
