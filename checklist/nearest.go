package checklist

import "strings"

// nearest is the name that a mistyped one most likely meant; "" if none is near.
func nearest(name string, names []string) string {
	best, far := "", len([]rune(name))/3+1
	for _, n := range names {
		if d := distance(strings.ToLower(name), strings.ToLower(n)); d < far {
			best, far = n, d
		}
	}
	return best
}

// distance is how many single letters differ between a and b (Levenshtein 1966).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j := range y {
			cost := diagonal
			if x[i] != y[j] {
				cost = 1 + min(diagonal, row[j], row[j+1])
			}
			diagonal, row[j+1] = row[j+1], cost
		}
	}
	return row[len(y)]
}
