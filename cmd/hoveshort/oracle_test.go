package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	// oracle holds boats with the numbers that a second reckoning came to. See its README.md.
	oracle = "../../testdata/oracle"

	// oracleBoats and oracleNumbers are how many there are at least, so that a cut folder fails;
	// moreBoats and moreNumbers of those with what to load, what ifs and turning back.
	oracleBoats, oracleNumbers = 20, 1555
	moreBoats, moreNumbers     = 20, 2734
)

func TestNumbersAgreeWithASecondReckoning(t *testing.T) {
	agree(t, oracle, oracleBoats, oracleNumbers)
}

func TestWhatIfsLoadsAndTurningAgreeWithASecondReckoning(t *testing.T) {
	agree(t, filepath.Join(oracle, "more"), moreBoats, moreNumbers)
}

// agree compares what the program tells of each boat in a folder with what was expected.
func agree(t *testing.T, folder string, boatsAtLeast, numbersAtLeast int) {
	boats, err := filepath.Glob(filepath.Join(folder, "[0-9][0-9]"))
	require.NoError(t, err)
	assert.Len(t, boats, boatsAtLeast)

	numbers := 0
	for _, boat := range boats {
		t.Run(filepath.Base(boat), func(t *testing.T) {
			want, acts := expected(t, boat)
			w := world{boat: filepath.Join(t.TempDir(), "boat")}
			require.NoError(t, os.CopyFS(w.boat, os.DirFS(boat)))
			for _, act := range acts {
				w.mustDo(t, append(act.Args, "--at", act.At)...)
			}
			c := &comparison{}
			for command, figures := range map[string]map[string]any{"ready": want.Figures, "passage": want.Passage} {
				r := w.call(command, "--json", "--at", want.At)
				require.Contains(t, []int{exitDone, exitRefused}, r.code, r.stderr)
				var told map[string]any
				require.NoError(t, json.Unmarshal([]byte(r.stdout), &told))
				c.compare(command, figures, told)
			}
			assert.Empty(t, c.differ)
			numbers += c.numbers
		})
	}
	assert.GreaterOrEqual(t, numbers, numbersAtLeast)
}

// oracleAct is one call of the program before the numbers are asked for.
type oracleAct struct {
	At   string
	Args []string
}

// oracleAnswer is the moment and what a report must tell at it.
type oracleAnswer struct {
	At      string
	Figures map[string]any // of ready
	Passage map[string]any
}

func expected(t *testing.T, boat string) (want oracleAnswer, acts []oracleAct) {
	t.Helper()
	for name, into := range map[string]any{"expected.json": &want, "acts.json": &acts} {
		text, err := os.ReadFile(filepath.Join(boat, name))
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(text, into))
	}
	return want, acts
}

// comparison finds where a report says something else than was expected.
type comparison struct {
	numbers int
	differ  []string
}

func (c *comparison) compare(path string, want, got any) {
	switch want := want.(type) {
	case map[string]any:
		for name, value := range want {
			c.compareField(path+"/"+name, value, got, name)
		}
	case []any:
		list, is := got.([]any)
		if !is || len(list) != len(want) {
			c.differs(path, want, got)
			return
		}
		for i := range want {
			c.compare(fmt.Sprint(path, "/", i), want[i], list[i])
		}
	case float64:
		c.numbers++
		number, is := got.(float64)
		if !is || !sameNumber(want, number) {
			c.differs(path, want, got)
		}
	default:
		if want != got {
			c.differs(path, want, got)
		}
	}
}

func (c *comparison) compareField(path string, want, got any, name string) {
	fields, is := got.(map[string]any)
	if !is {
		c.differs(path, want, got)
		return
	}
	field, told := fields[name]
	switch {
	case !told:
		c.differs(path, want, "nothing told")
	case name == "hard_case" && slices.Contains(want.([]any), field): // of equals any
	case (name == "arrive" || name == "at") && sameSecond(want, field):
		c.numbers++
	default:
		c.compare(path, want, field)
	}
}

func (c *comparison) differs(path string, want, got any) {
	c.differ = append(c.differ, fmt.Sprintf("%s: want %v, got %v", path, want, got))
}

// sameNumber allows a millionth part, and as much of a litre or a day.
func sameNumber(want, got float64) bool {
	return math.Abs(want-got) <= 1e-6*max(1, math.Abs(want))
}

// sameSecond allows the second by which an arrival may be rounded.
func sameSecond(want, got any) bool {
	var times [2]time.Time
	for i, v := range []any{want, got} {
		text, _ := v.(string)
		at, err := time.Parse(time.RFC3339, text)
		if err != nil {
			return false
		}
		times[i] = at
	}
	return times[0].Sub(times[1]).Abs() <= time.Second
}
