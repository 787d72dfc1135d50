package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The manual pages are made from the commands themselves, here and not in the program, which would carry the makers of
// them for good: go test ./cmd/hoveshort -run TestManPages -man DIR. Their date is SOURCE_DATE_EPOCH, else today.
var manDir = flag.String("man", "", "the folder for the manual pages, which stay there")

func TestManPagesTellOfEveryCommand(t *testing.T) {
	dir := t.TempDir()
	if *manDir != "" {
		dir = *manDir
		require.True(t, filepath.IsAbs(dir), "-man: write the whole path, the tests run in their own folder")
		require.NoError(t, os.MkdirAll(dir, 0o755))
	}
	root := newRootCommand(&call{})
	root.InitDefaultCompletionCmd("completion")
	root.DisableAutoGenTag = true
	commands := append(allCommands(root), root)
	var ours []*cobra.Command
	helps := map[*cobra.Command]string{}
	for _, cmd := range commands {
		if strings.Contains(cmd.CommandPath(), " completion") {
			continue // in the library's words
		}
		ours = append(ours, cmd)
		helps[cmd] = cmd.Long
		require.Contains(t, cmd.Long, exitHead, cmd.CommandPath())
		cmd.Long = manText(cmd.Long)
	}
	header := &doc.GenManHeader{Title: "HOVESHORT", Section: "1", Source: "hoveshort", Manual: "hoveshort"}
	require.NoError(t, doc.GenManTreeFromOpts(root, doc.GenManTreeOptions{Header: header, Path: dir, CommandSeparator: "-"}))

	for _, cmd := range commands {
		asTold(t, filepath.Join(dir, pageName(cmd)), cmd)
	}
	for _, cmd := range ours {
		page, err := os.ReadFile(filepath.Join(dir, pageName(cmd)))
		require.NoError(t, err)
		plain := rendered(string(page))
		tells := func(what string) {
			t.Helper()
			if !strings.Contains(plain, what) { // assert.Contains would print the page
				t.Errorf("%s does not tell %q", pageName(cmd), what)
			}
		}
		_, codes, _ := strings.Cut(helps[cmd], exitHead)
		tells(".SH EXIT STATUS\n")
		require.GreaterOrEqual(t, strings.Count(codes, "\n"), 2, pageName(cmd))
		for line := range strings.SplitSeq(codes, "\n") {
			code, meaning, _ := strings.Cut(strings.TrimSpace(line), "  ")
			tells("\n" + code + "\n\t" + meaning + "\n")
		}
		require.NotEmpty(t, cmd.Example, pageName(cmd))
		for line := range strings.Lines(cmd.Example) {
			tells(strings.TrimSpace(line) + "\n")
		}
		cmd.Flags().VisitAll(func(f *pflag.Flag) { tells("--" + f.Name) })
	}
}

// exitHead stands before the exit codes of a help.
const exitHead = "\n\nExit codes:\n"

func pageName(cmd *cobra.Command) string {
	return strings.ReplaceAll(cmd.CommandPath(), " ", "-") + ".1"
}

// asTold writes the flags of a page as the help has them, --from place, and not with what they are where they are not
// given.
func asTold(t *testing.T, page string, cmd *cobra.Command) {
	t.Helper()
	text, err := os.ReadFile(page)
	require.NoError(t, err)
	told := string(text)
	flags := func(f *pflag.Flag) {
		value, _ := pflag.UnquoteUsage(f)
		if value != "" {
			value = ` \fI` + value + `\fP`
		}
		told = regexp.MustCompile(`(\\fB--`+f.Name+`\\fP)(\[=[a-z]*\]|="[^"\n]*"|=\[\]|=[0-9]+)`).ReplaceAllString(told, "${1}"+value)
	}
	cmd.NonInheritedFlags().VisitAll(flags)
	cmd.InheritedFlags().VisitAll(flags)
	assert.False(t, strings.Contains(told, `\fP=`) || strings.Contains(told, `[=`), page)
	require.NoError(t, os.WriteFile(page, []byte(told), 0o644))
}

// manText makes Markdown of a command's help, which the pages are made from: what is indented stays in its lines, and
// the exit codes become a section.
func manText(long string) string {
	text, codes, _ := strings.Cut(long, exitHead)
	var b strings.Builder
	inLines := false
	for line := range strings.SplitSeq(text, "\n") {
		if isIndented := strings.HasPrefix(line, "  "); isIndented != inLines && (isIndented || line != "") {
			b.WriteString("\n```\n")
			inLines = isIndented
		}
		if !inLines {
			line = forMarkdown.Replace(line)
		}
		b.WriteString(line + "\n")
	}
	if inLines {
		b.WriteString("```\n")
	}
	b.WriteString("\n# EXIT STATUS\n")
	for line := range strings.SplitSeq(codes, "\n") {
		code, meaning, _ := strings.Cut(strings.TrimSpace(line), "  ")
		fmt.Fprintf(&b, "**%s**\n\t%s\n\n", code, forMarkdown.Replace(strings.TrimSpace(meaning)))
	}
	return b.String()
}

var forMarkdown = strings.NewReplacer("*", `\*`, "_", `\_`, "<", `\<`, "[", `\[`, "|", `\|`)

var (
	roffFonts  = regexp.MustCompile(`\\f[BIRP]`)
	roffEscape = strings.NewReplacer(`\-`, "-", `\&`, "", `\(aq`, "'", `\\`, `\`, `\e`, `\`, `\(rs`, `\`)
)

// rendered is a page without what makes letters bold.
func rendered(page string) string { return roffEscape.Replace(roffFonts.ReplaceAllString(page, "")) }
