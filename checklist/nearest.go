package checklist

import "strings"

// Nearest is the word a little different from s, "" when none is: by case, or by one letter (two where both have
// more than four) wrong, missing, too many or changed about.
func Nearest(s string, words []string) string {
	best, bestDistance := "", 3
	for _, word := range words {
		most := 1
		if min(len(s), len(word)) > 4 {
			most = 2
		}
		d := distance(strings.ToLower(s), strings.ToLower(word), most)
		if d <= most && d < bestDistance {
			best, bestDistance = word, d
		}
	}
	return best
}

// distance is the number of single letters wrong, missing, too many or changed about with their neighbour (the
// optimal string alignment distance). What is surely more than most is given as most+1.
func distance(a, b string, most int) int {
	from, to := []rune(a), []rune(b)
	if max(len(from), len(to))-min(len(from), len(to)) > most {
		return most + 1
	}
	rows := make([][]int, len(from)+1)
	for i := range rows {
		rows[i] = make([]int, len(to)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(from); i++ {
		for j := 1; j <= len(to); j++ {
			change := 1
			if from[i-1] == to[j-1] {
				change = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+change)
			if i > 1 && j > 1 && from[i-1] == to[j-2] && from[i-2] == to[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(from)][len(to)]
}
