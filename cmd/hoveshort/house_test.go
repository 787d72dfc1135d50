package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// house is the one way up: a package may import those that stand after it in its
// line, and nothing else of ours.
var house = map[string][]string{
	"provisions/quantity": {},
	"provisions/passage":  {"provisions/quantity"},
	"provisions":          {"provisions/passage", "provisions/quantity"},
	"checklist/machinery": {"provisions", "provisions/passage", "provisions/quantity"},
	"checklist":           {"checklist/machinery", "provisions", "provisions/passage", "provisions/quantity"},
	"config":              {"checklist", "checklist/machinery", "provisions", "provisions/passage", "provisions/quantity"},
	"config/record":       {"config", "checklist", "checklist/machinery", "provisions", "provisions/passage", "provisions/quantity"},
	"config/gpx":          {},
	"config/signalk":      {},
	"tui/quiet":           {},
	"tui/chart":           {"provisions", "provisions/passage", "provisions/quantity"},
	"tui":                 {"tui/chart", "checklist", "checklist/machinery", "provisions", "provisions/passage", "provisions/quantity"},
	"cmd/hoveshort": {
		"tui", "tui/chart", "tui/quiet", "config/record", "config", "config/gpx", "config/signalk", "checklist", "checklist/machinery", "provisions", "provisions/passage", "provisions/quantity",
	},
}

// pure are the domain packages, which know no file, no clock and no terminal.
var pure = []string{"provisions/quantity", "provisions/passage", "provisions", "checklist/machinery", "checklist"}

const module = "boat/hoveshort/"

type goPackage struct {
	ImportPath string
	Imports    []string
	Deps       []string
}

func packages(t *testing.T) []goPackage {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports,Deps", module+"...").Output()
	require.NoError(t, err)
	var list []goPackage
	for decoder := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p goPackage
		err := decoder.Decode(&p)
		if errors.Is(err, io.EOF) {
			return list
		}
		require.NoError(t, err)
		list = append(list, p)
	}
}

func TestImportsGoOneWayUp(t *testing.T) {
	found := 0
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, module)
		allowed, known := house[name]
		if !assert.True(t, known, "%s stands nowhere in the house: give it a place in this test and in DEVELOPERS.md", name) {
			continue
		}
		found++
		for _, imported := range p.Imports {
			if ours, is := strings.CutPrefix(imported, module); is {
				assert.Contains(t, allowed, ours, "%s must not import %s", name, ours)
			}
		}
	}
	assert.Equal(t, len(house), found, "every package of the house was looked at")
}

// The domain takes values and gives values.
func TestDomainKnowsNoFileAndNoTerminal(t *testing.T) {
	checked := 0
	for _, p := range packages(t) {
		if !slices.Contains(pure, strings.TrimPrefix(p.ImportPath, module)) {
			continue
		}
		checked++
		for _, imported := range p.Imports {
			assert.NotContains(t, []string{"os", "io/fs", "net", "net/http", "path/filepath", "os/exec", "syscall"}, imported, p.ImportPath)
			assert.NotContains(t, imported, "charmbracelet", p.ImportPath)
		}
	}
	assert.Equal(t, len(pure), checked)
}

// Nor does it ask the time: the moment comes in as an argument.
func TestDomainAsksNoClock(t *testing.T) {
	for _, name := range pure {
		out, err := exec.Command("go", "list", "-f", `{{$dir := .Dir}}{{range .GoFiles}}{{$dir}}/{{.}}{{"\n"}}{{end}}`, module+name).Output()
		require.NoError(t, err)
		for _, file := range strings.Fields(string(out)) {
			source, err := os.ReadFile(file)
			require.NoError(t, err)
			for _, asks := range []string{"time.Now(", "time.Since(", "time.Until(", "time.After(", "time.NewTimer("} {
				assert.NotContains(t, string(source), asks, file)
			}
		}
	}
}
