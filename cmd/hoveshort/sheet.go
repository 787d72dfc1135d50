package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

// sheetOptions are in which form the sheet is wanted.
type sheetOptions struct {
	json     bool
	markdown bool
	pdf      string // the file; "-": stdout; "": no PDF
	paper    string
	force    bool
}

func newSheetCommand(c *call) *cobra.Command {
	var opts sheetOptions
	cmd := &cobra.Command{
		Use:   "sheet",
		Short: "The passage sheet for the person ashore: when to worry, and what to do then",
		Long: "The passage sheet for the person ashore: the boat, how many are aboard, the route, the latest\ntime she is expected and when to worry, what to do then, how long they can hold out, and the\n" +
			"first eight digits of the sign-off. As text, as Markdown, or as a PDF to be printed; it sends\nnothing. It tells of people only what you wrote in boat.toml and passage.toml: look it through\n" +
			"before you give it away." +
			exits(map[int]string{exitRefused: "refused: the file is there already"}, exitDone, exitRefused, exitUnreadable, exitNotWritten, exitUsage),
		Example: "  hoveshort sheet\n  hoveshort sheet --pdf sheet.pdf\n  hoveshort sheet --pdf sheet.pdf --paper letter --force\n  hoveshort sheet --markdown",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runSheet(c, opts) }),
	}
	flags := cmd.Flags()
	flags.BoolVar(&opts.json, "json", false, "print it as JSON")
	flags.BoolVar(&opts.markdown, "markdown", false, "print it as Markdown")
	flags.StringVar(&opts.pdf, "pdf", "", "write it as a PDF to this `FILE`; - is the standard output")
	flags.StringVar(&opts.paper, "paper", paperA4, "of the PDF: `a4|letter`")
	flags.BoolVar(&opts.force, "force", false, "with --pdf: write over a file that is there")
	return cmd
}

// check refuses what cannot be meant together.
func (o sheetOptions) check(c *call) error {
	forms := 0
	for _, asked := range []bool{o.json, o.markdown, o.pdf != ""} {
		if asked {
			forms++
		}
	}
	switch {
	case forms > 1:
		return usage("ask for one of them at a time", "--json, --markdown and --pdf each give another form of the sheet")
	case !slices.Contains(papers, o.paper):
		return usage("write --paper a4 or --paper letter", "there is no paper %q", o.paper)
	case o.pdf == "" && (o.force || o.paper != paperA4):
		return usage("for example: hoveshort sheet --pdf sheet.pdf --paper letter", "--paper and --force belong to --pdf")
	case o.pdf == "-" && c.stdoutIsTerminal:
		return usage("name a file: hoveshort sheet --pdf sheet.pdf", "a PDF is nothing for a terminal")
	}
	return nil
}

func runSheet(c *call, opts sheetOptions) error {
	if err := opts.check(c); err != nil {
		return err
	}
	m, err := c.look()
	if err != nil {
		return err
	}
	sheet := checklist.NewSheet(m.definitions, m.state, m.assess())
	switch {
	case opts.json:
		return c.encode(sheetOf(sheet))
	case opts.pdf != "":
		return c.sheetPDF(sheet, opts)
	case opts.markdown:
		c.text.WriteString(sheetMarkdown(sheet))
	default:
		c.text.WriteString(sheetText(sheet))
	}
	c.tellUnshown()
	return nil
}

// tellUnshown says on stderr what this terminal's letters cannot show: it must not go
// unseen from a sheet that is given away.
func (c *call) tellUnshown() {
	if c.isUTF8() {
		return
	}
	lost := 0
	for _, r := range c.text.String() {
		if r > 127 && !drivesTerminal(r) && nearestASCII(r) == "?" {
			lost++
		}
	}
	if lost > 0 {
		c.say("hoveshort: %s on this sheet cannot be shown here and stand as ?", plural(lost, "letter", "letters"))
		c.say("hint: set LC_ALL=C.UTF-8, or make a PDF: hoveshort sheet --pdf sheet.pdf")
	}
}

// sheetPDF makes the PDF and puts it where it is wanted, whole or not at all.
func (c *call) sheetPDF(sheet checklist.Sheet, opts sheetOptions) error {
	name := c.path(opts.pdf)
	if opts.pdf != "-" {
		if err := refuseToOverwrite(name, opts); err != nil { // before the work
			return err
		}
	}
	made, err := makePDF(sheet, opts.paper)
	if err != nil {
		return coded(exitFault, "make the text instead: hoveshort sheet", fmt.Errorf("making the PDF: %w", err))
	}
	if made.unshown != "" {
		c.tell([]string{"letters that the PDF cannot show are named on it: " + made.unshown})
	}
	if opts.pdf == "-" {
		_, err := c.stdout.Write(made.bytes)
		if err == nil || errors.Is(err, syscall.EPIPE) {
			return nil
		}
		return coded(exitNotWritten, "", fmt.Errorf("writing the PDF: %w", err))
	}
	if err := writeWhole(name, made.bytes); err != nil {
		return coded(exitNotWritten, "nothing was written; name a file in a folder that can be written", err)
	}
	fmt.Fprintf(&c.text, "%s: the passage sheet of %s, %s\n", opts.pdf, sheet.Boat, plural(made.pages, "page", "pages"))
	return nil
}

func refuseToOverwrite(name string, opts sheetOptions) error {
	info, err := os.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return coded(exitNotWritten, "name another file", fmt.Errorf("looking at %s: %w", opts.pdf, err))
	case !info.Mode().IsRegular():
		return coded(exitRefused, "name a file that is not there yet", fmt.Errorf("%s is no file; nothing was written", opts.pdf))
	case !opts.force:
		return coded(exitRefused, "name another, or add --force to write over it", fmt.Errorf("%s is there already; nothing was written", opts.pdf))
	}
	return nil
}

// writeWhole writes a file beside its place and then puts it there: who looks finds the old
// one or the new one, never a half.
func writeWhole(name string, text []byte) (err error) {
	onItsWay := filepath.Join(filepath.Dir(name), fmt.Sprintf(".%s.%d", filepath.Base(name), os.Getpid()))
	f, err := os.OpenFile(onItsWay, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return fmt.Errorf("writing %s: %w", name, err)
	}
	_, err = f.Write(text)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(onItsWay, name)
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", name, errors.Join(err, os.Remove(onItsWay)))
	}
	return nil
}

// sheetText is the sheet at 80 columns.
func sheetText(s checklist.Sheet) string {
	var r report
	r.line("PASSAGE SHEET FOR THE PERSON ASHORE")
	r.line("%s: %s", s.Boat, s.Passage)
	r.line("made %s", s.Made.Format(longMoment))
	for _, part := range s.Parts {
		r.head("%s", strings.ToUpper(part.Title))
		for _, row := range part.Rows {
			name := row.Name
			if row.Marked {
				name = strings.ToUpper(name)
			}
			r.hang("  "+name+": ", "    ", row.Text)
		}
		for _, line := range part.Lines {
			r.hang("  ", "  ", line)
		}
	}
	return r.String()
}

// sheetMarkdown is the sheet as CommonMark. What the skipper typed stands there as typed: it
// makes no heading, no link and no HTML.
func sheetMarkdown(s checklist.Sheet) string {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Passage sheet for the person ashore\n\n**%s**: %s\n\nMade %s\n", markdownText(s.Boat), markdownText(s.Passage), s.Made.Format(longMoment))
	for _, part := range s.Parts {
		fmt.Fprintf(&b, "\n## %s\n", markdownText(part.Title))
		if len(part.Rows) > 0 {
			b.WriteByte('\n')
		}
		for _, row := range part.Rows {
			text := markdownText(row.Text)
			if row.Marked {
				text = "**" + text + "**"
			}
			fmt.Fprintf(&b, "- %s: %s\n", markdownText(row.Name), text)
		}
		for _, line := range part.Lines {
			fmt.Fprintf(&b, "\n%s\n", markdownText(line))
		}
	}
	return b.String()
}

// markdownText is text with a backslash before every character that could mean something
// (CommonMark 0.31.2, 2.4: any ASCII punctuation may have one), but for what means nothing
// within a line that begins with other text.
func markdownText(text string) string {
	var b strings.Builder
	for i, c := range text {
		switch {
		case c == '<':
			b.WriteString("&lt;") // not even a reader that knows no backslash takes it for HTML
			continue
		case c == '>':
			b.WriteString("&gt;")
			continue
		case c == '&':
			b.WriteString("&amp;")
			continue
		case strings.ContainsRune("\\`*_{}[]#|~!$^@", c):
			b.WriteByte('\\')
		case i == 0 && strings.ContainsRune("+-=", c):
			b.WriteByte('\\')
		}
		b.WriteRune(c)
	}
	return b.String()
}

// sheetJSON is the sheet for other programs.
type sheetJSON struct {
	Format  int             `json:"format"`
	Boat    string          `json:"boat"`
	Passage string          `json:"passage"`
	Now     time.Time       `json:"now"`
	Depart  time.Time       `json:"depart"`
	HasLeft bool            `json:"has_left"` // depart and latest_expected are those of the departure in the record
	Crew    int             `json:"crew"`
	Latest  *time.Time      `json:"latest_expected"` // null: it cannot be told
	Worry   *time.Time      `json:"worry_from"`      // null: it cannot be told
	InForce bool            `json:"sign_off_in_force"`
	Digits  *string         `json:"sign_off_digits"` // null: never signed off
	Parts   []sheetPartJSON `json:"parts"`
}

type sheetPartJSON struct {
	Title string         `json:"title"`
	Rows  []sheetRowJSON `json:"rows"`
	Lines []string       `json:"lines"`
}

type sheetRowJSON struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

func sheetOf(s checklist.Sheet) sheetJSON {
	j := sheetJSON{
		Format: 1, Boat: s.Boat, Passage: s.Passage, Now: s.Made, Depart: s.Depart, HasLeft: s.HasLeft, Crew: s.Crew,
		Latest: momentOrNull(s.Latest), Worry: momentOrNull(s.Worry), InForce: s.InForce,
	}
	if s.Digits != "" {
		j.Digits = &s.Digits
	}
	for _, part := range s.Parts {
		told := sheetPartJSON{Title: part.Title, Rows: []sheetRowJSON{}, Lines: append([]string{}, part.Lines...)}
		for _, row := range part.Rows {
			told.Rows = append(told.Rows, sheetRowJSON{row.Name, row.Text})
		}
		j.Parts = append(j.Parts, told)
	}
	return j
}

func momentOrNull(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}
