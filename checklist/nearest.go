package checklist

import (
	"strings"

	"boat/hoveshort/checklist/machinery"
)

// Nearest is the word a little different from s, "" when none is: by case, or by one letter (two where both have
// more than four) wrong, missing, too many or changed about.
func Nearest(s string, words []string) string {
	best, bestDistance := "", 3
	for _, word := range words {
		most := 1
		if min(len(s), len(word)) > 4 {
			most = 2
		}
		d := machinery.Distance(strings.ToLower(s), strings.ToLower(word), most)
		if d <= most && d < bestDistance {
			best, bestDistance = word, d
		}
	}
	return best
}
