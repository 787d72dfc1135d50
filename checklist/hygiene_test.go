package checklist

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// walks is a record of passages, each with a walk of checks that are answered some seconds apart.
func walks(passages int, gaps map[string]time.Duration, answer func(passage int, check string) AnswerWord, exceptions ...string) []Entry {
	var l log
	at := evening
	for n := range passages {
		at = at.Add(30 * 24 * time.Hour)
		for _, id := range []string{"seacock", "exhaust", "gear"} {
			at = at.Add(gaps[id])
			l.add(at, Answer{Check: id, Answer: answer(n, id)})
		}
		sign := Sign{Passage: "p"}
		for _, id := range exceptions {
			if !strings.HasPrefix(id, "not first") || n > 0 {
				sign.Exceptions = append(sign.Exceptions, SignedException{ID: id})
			}
		}
		l.add(at, sign, Depart{Sign: len(l) + 1}, Arrive{Close: true})
	}
	return l
}

func rethought(list []Rethink) []string {
	told := []string{}
	for _, r := range list {
		told = append(told, r.Kind+" "+r.Name)
	}
	return told
}

func TestHabitsAreToldFromTheirNumbersOn(t *testing.T) {
	slow := map[string]time.Duration{"seacock": time.Minute, "exhaust": 3 * time.Second, "gear": 3 * time.Second}
	quick := map[string]time.Duration{"seacock": time.Minute, "exhaust": 2 * time.Second, "gear": 3 * time.Second}
	right := func(int, string) AnswerWord { return Right }
	once := func(n int, id string) AnswerWord {
		if n == 3 && id == "seacock" {
			return NotRight
		}
		return Right
	}
	for name, c := range map[string]struct {
		entries []Entry
		want    []string
	}{
		"nothing yet":                    {nil, []string{}},
		"two seconds, five times":        {walks(5, quick, right), []string{"quick exhaust"}},
		"two seconds, four times":        {walks(4, quick, right), []string{}},
		"three seconds":                  {walks(19, slow, right), []string{}},
		"twenty passages":                {walks(20, slow, right), []string{"never seacock", "never exhaust", "never gear"}},
		"twenty, one of them not right":  {walks(20, slow, once), []string{"never exhaust", "never gear"}},
		"accepted three times":           {walks(3, slow, right, "check:belts"), []string{"excepted check:belts"}},
		"accepted twice":                 {walks(2, slow, right, "check:belts"), []string{}},
		"accepted in all but the first":  {walks(9, slow, right, "not first:belts"), []string{}},
		"one walk of many quick answers": {walks(1, quick, right), []string{}},
	} {
		assert.Equal(t, c.want, rethought(WorthRethinking(fitBoat(), c.entries)), name)
	}
}

// A walk before a departure and a look under way are the same passage.
func TestAPassageCountsOnceForACheck(t *testing.T) {
	var l log
	at := evening
	for range 19 {
		at = at.Add(30 * 24 * time.Hour)
		l.add(at, Answer{Check: "gear", Answer: Right}, Depart{}, Answer{Check: "gear", Answer: Right}, Arrive{Close: true})
	}
	at = at.Add(time.Hour)
	l.add(at, Answer{Check: "gear", Answer: Right}) // of a passage that she has not left on
	for _, r := range WorthRethinking(fitBoat(), l) {
		assert.NotEqual(t, "never", r.Kind)
	}
}

func TestWhatIsCriticalIsNeverToBeDropped(t *testing.T) {
	gaps := map[string]time.Duration{"seacock": time.Minute, "exhaust": time.Minute, "gear": time.Minute}
	for _, r := range WorthRethinking(fitBoat(), walks(20, gaps, func(int, string) AnswerWord { return Right })) {
		assert.Equal(t, r.Name != "gear", strings.Contains(r.Text, "It is critical: keep it"), r.Text)
	}
}
