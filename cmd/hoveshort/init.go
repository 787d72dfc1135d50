package main

import (
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"boat/hoveshort/config"
)

type initOptions struct {
	dir        string
	demo, json bool
	own        ownFigures
}

func newInitCommand(c *call) *cobra.Command {
	var opts initOptions
	cmd := &cobra.Command{
		Use:   "init [DIR]",
		Short: "Write a commented starter folder for a boat of your own, or copy the demo boat",
		Long: "Write a commented starter folder for a boat of your own, or copy the demo boat. On a\nterminal five things are asked, so that it is your boat from the start; the flags answer them\n" +
			"beforehand, and then DIR may be left out: it is the place where the program looks by itself.\nAll the rest is an example, to be written over by you: the program never changes these files\n" +
			"later. What is there already is never written over." +
			exits(nil, exitDone, exitRefused, exitNotWritten, exitUsage),
		Example: "  hoveshort init my-boat\n  hoveshort init my-boat --name Dunlin --hours 1482 --water \"150 L\" --water \"80 L\" --fuel \"110 L\" --crew 2\n  hoveshort init --demo heron",
		Args:    atMost(1),
		RunE: do(func(args []string) error {
			if len(args) > 0 {
				opts.dir = args[0]
			}
			return runInit(c, opts)
		}),
	}
	cmd.Flags().BoolVar(&opts.demo, "demo", false, "copy the demo boat")
	cmd.Flags().BoolVar(&opts.json, "json", false, "print what was written as JSON")
	opts.own.flags(cmd.Flags())
	return cmd
}

func (o *ownFigures) flags(f *pflag.FlagSet) {
	f.StringVar(&o.name, "name", "", "the boat's `name`")
	f.StringVar(&o.hours, "hours", "", "what her hour-meter shows, in `hours`")
	f.StringArrayVar(&o.water, "water", nil, "how much a water tank `holds`, as \"150 L\"; again for each tank")
	f.StringVar(&o.fuel, "fuel", "", "how much her fuel tank `holds`")
	f.StringVar(&o.crew, "crew", "", "how `many` are aboard, you included")
}

func runInit(c *call, opts initOptions) error {
	at := opts.dir
	if opts.dir == "" {
		opts.dir = c.dataPlace()
		if opts.dir == "" || opts.demo || !opts.own.isGiven() && !c.stdinIsTerminal {
			return usage("hoveshort init DIR", "no folder was named")
		}
	}
	dir := c.path(opts.dir)
	if err := config.IsFree(dir, config.Starter()); err != nil { // before anything is asked
		return notBegun(err)
	}
	own, asked, err := c.ownBoat(opts)
	if err != nil {
		return err
	}
	files := config.Starter()
	switch {
	case opts.demo:
		files = config.Demo()
		err = config.Init(dir, files)
	case own != nil:
		err = config.InitOwn(dir, *own)
	default:
		err = config.Init(dir, files)
	}
	if err != nil {
		return notBegun(err)
	}
	return c.toldInit(opts, at, dir, files, asked)
}

// notBegun is why the folder could not be written.
func notBegun(err error) error {
	if isDisk(err) {
		return coded(exitNotWritten, "", err)
	}
	return coded(exitRefused, "", err)
}

// toldInit tells what was written, and what to do next. Where things were asked the files are not listed one by one: the
// three lines shall be seen.
func (c *call) toldInit(opts initOptions, at, dir string, files fs.FS, asked bool) error {
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
		if !asked {
			r.item(filepath.ToSlash(name))
		}
	}
	c.text.WriteString(r.String())
	if err := c.flush(); err != nil {
		return err
	}
	c.sayNext(opts.demo, at)
	return nil
}

// sayNext is what to do next, in three lines.
func (c *call) sayNext(demo bool, at string) {
	how := "hoveshort"
	if at != "" {
		how += " --boat " + quoted(at)
	}
	if demo {
		c.say("hint: next: %s ready", how)
		return
	}
	c.say("next 1: write your own figures, passage.toml first; %s lint finds slips", how)
	c.say("next 2: %s (or --plain, line by line): sound the tanks, walk, sign", how)
	c.say("next 3: %s ready tells what is in the way, and what clears it", how)
}

// quoted is a folder as it is typed to a shell.
func quoted(name string) string {
	for _, c := range name {
		if c == ' ' || c == '\'' || c == '"' {
			return "\"" + name + "\""
		}
	}
	return name
}

// dataPlace is where the program looks for a boat by itself; "": nowhere. A relative path in the
// variable is ignored (XDG Base Directory Specification 0.8).
func (c *call) dataPlace() string {
	data := c.getenv("XDG_DATA_HOME")
	if !filepath.IsAbs(data) {
		home := c.getenv("HOME")
		if !filepath.IsAbs(home) {
			return ""
		}
		data = filepath.Join(home, ".local", "share")
	}
	return filepath.Join(data, "hoveshort")
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
