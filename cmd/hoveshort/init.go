package main

import (
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"boat/hoveshort/config"
)

type initOptions struct {
	dir        string
	demo, json bool
}

func newInitCommand(c *call) *cobra.Command {
	var opts initOptions
	cmd := &cobra.Command{
		Use:     "init DIR",
		Short:   "Write a commented starter folder for a boat of your own, or copy the demo boat",
		Long:    "Write a commented starter folder for a boat of your own, or copy the demo boat.\nWhat is there already is never written over." + exits(nil, exitDone, exitRefused, exitNotWritten, exitUsage),
		Example: "  hoveshort init my-boat\n  hoveshort init --demo heron",
		Args:    both(atLeast(1), atMost(1)),
		RunE: do(func(args []string) error {
			opts.dir = args[0]
			return runInit(c, opts)
		}),
	}
	cmd.Flags().BoolVar(&opts.demo, "demo", false, "copy the demo boat")
	cmd.Flags().BoolVar(&opts.json, "json", false, "print what was written as JSON")
	return cmd
}

func both(first, second cobra.PositionalArgs) cobra.PositionalArgs {
	return cobra.MatchAll(first, second)
}

func runInit(c *call, opts initOptions) error {
	if opts.dir == "" {
		return usage("hoveshort init DIR", "no folder was named")
	}
	files := config.Starter()
	if opts.demo {
		files = config.Demo()
	}
	dir := c.path(opts.dir)
	if err := config.Init(dir, files); err != nil {
		code := exitRefused
		if isDisk(err) {
			code = exitNotWritten
		}
		return coded(code, "", err)
	}
	names, err := namesIn(files)
	if err != nil {
		return err
	}
	if opts.json {
		return c.encode(struct {
			Format int      `json:"format"`
			Folder string   `json:"folder"`
			Files  []string `json:"files"`
		}{1, dir, names})
	}
	var r report
	r.line("wrote %s to %s", count(len(names), "file"), dir)
	for _, name := range names {
		r.item(filepath.ToSlash(name))
	}
	c.text.WriteString(r.String())
	c.say("hint: next: hoveshort --boat %s ready", opts.dir)
	return nil
}

func namesIn(files fs.FS) (names []string, err error) {
	err = fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			names = append(names, name)
		}
		return err
	})
	return names, err
}
