package tui

import (
	"slices"
	"strings"
)

// lockerOf is the row of a place among the lockers. A place in which there is but one other stands in one row with it.
func lockerOf(f facts, path string) int {
	asked := strings.ToLower(strings.Join(parts(path), " / "))
	within := func(row lockerRow) bool {
		have := strings.ToLower(row.path)
		return row.thing == nil && (have == asked || strings.HasPrefix(have, asked+" / "))
	}
	return max(0, slices.IndexFunc(f.gear.lockers, within))
}
