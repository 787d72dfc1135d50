package main

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"boat/hoveshort/checklist"
)

// The words behind an answer are the reason, or the evidence; the answer itself may be
// written with hyphens or blanks.
func TestWordsBehindAnAnswer(t *testing.T) {
	a := checklist.Assessment{Rounds: []checklist.RoundView{{Sections: []checklist.SectionView{{Checks: []checklist.CheckView{
		{Check: checklist.Check{ID: "oil", Ask: "Engine oil"}},
	}}}}}}
	for _, row := range []struct {
		typed []string
		opts  checkOptions
		want  checklist.AnswerInput
	}{
		{[]string{"right"}, checkOptions{}, checklist.AnswerInput{Word: "right"}},
		{[]string{"right", "upper", "mark"}, checkOptions{}, checklist.AnswerInput{Word: "right", Say: "upper mark"}},
		{[]string{"not", "right", "milky"}, checkOptions{}, checklist.AnswerInput{Word: "not right", Why: "milky"}},
		{[]string{"not-right", "milky", "and", "high"}, checkOptions{}, checklist.AnswerInput{Word: "not right", Why: "milky and high"}},
		{[]string{"not-right"}, checkOptions{}, checklist.AnswerInput{Word: "not right", Why: "Engine oil: not right"}},
		{[]string{"not-right"}, checkOptions{why: "milky"}, checklist.AnswerInput{Word: "not right", Why: "milky"}},
		{[]string{"could-not-look", "no", "light"}, checkOptions{}, checklist.AnswerInput{Word: "could not look", Why: "no light"}},
		{[]string{"not", "aboard"}, checkOptions{}, checklist.AnswerInput{Word: "not aboard"}},
		{[]string{"12.7", "V"}, checkOptions{}, checklist.AnswerInput{Word: "12.7 V"}},
		{[]string{"rightly"}, checkOptions{}, checklist.AnswerInput{Word: "rightly"}},
		{[]string{"right", "upper"}, checkOptions{say: "lower"}, checklist.AnswerInput{Word: "right upper", Say: "lower"}},
	} {
		row.want.Check = "oil"
		assert.Equal(t, row.want, answerOf(a, row.opts, "oil", row.typed), "%q", row.typed)
	}
}
