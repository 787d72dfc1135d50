package main

import (
	"slices"
	"strings"

	"boat/hoveshort/checklist"
)

// parted parts a typed line into words at its blanks. Quotes keep blanks, as in --place "box 3": they open at the beginning
// of a word, or behind its =, and close before a blank. Any other quote is a sign like others: an apostrophe, or inches.
func parted(line string) []string {
	var words []string
	var word strings.Builder
	begun, opens := false, true
	runes := []rune(line)
	for i := 0; i < len(runes); i++ {
		end := -1
		if opens {
			end = closing(runes, i)
		}
		switch c := runes[i]; {
		case end > 0:
			word.WriteString(string(runes[i+1 : end]))
			i, begun, opens = end, true, false
		case c == ' ':
			if begun {
				words = append(words, word.String())
			}
			word.Reset()
			begun, opens = false, true
		default:
			word.WriteRune(c)
			begun, opens = true, c == '='
		}
	}
	if begun {
		words = append(words, word.String())
	}
	return words
}

// quotes are the signs that keep blanks together, with what closes them; phones type the curved ones.
var quotes = map[rune]rune{'"': '"', '\'': '\'', '“': '”', '‘': '’'}

// closing is where the quote that opens at i is closed; -1: it is no quote.
func closing(runes []rune, i int) int {
	closes, opens := quotes[runes[i]]
	if !opens {
		return -1
	}
	for j := i + 1; j < len(runes); j++ {
		if runes[j] == closes && (j+1 == len(runes) || runes[j+1] == ' ') {
			return j
		}
	}
	return -1
}

// answerWords are the words that answer a check, those of the screens' keys first.
var answerWords = map[string]checklist.AnswerWord{
	"y": checklist.Right, "right": checklist.Right,
	"n": checklist.NotRight, "not-right": checklist.NotRight, "not right": checklist.NotRight,
	"c": checklist.CouldNotLook, "could-not-look": checklist.CouldNotLook, "could not look": checklist.CouldNotLook,
	"x": checklist.NotAboard, "not-aboard": checklist.NotAboard, "not aboard": checklist.NotAboard,
}

// answerIn reads an answer and what was said behind it: "y upper mark", "not right, lid weeps". ok is false where the line
// begins with none of the words.
func answerIn(line string) (answer checklist.AnswerWord, said string, ok bool) {
	words := strings.Fields(line)
	for n := min(3, len(words)); n > 0; n-- {
		head := strings.TrimRight(strings.ToLower(strings.Join(words[:n], " ")), ",:;")
		if answer, ok := answerWords[head]; ok {
			return answer, strings.Join(words[n:], " "), true
		}
	}
	return "", "", false
}

// plainWord is a word that is of the line mode alone.
type plainWord string

// The words; each is the first of its line.
const (
	sayHelp  plainWord = "help"
	sayList  plainWord = "list"
	sayWalk  plainWord = "walk"
	sayLeave plainWord = "leave"
	sayBack  plainWord = "back"
	sayNext  plainWord = "next"
	sayAgain plainWord = "again"
	sayDone  plainWord = "done"
)

// shortWords are the screens' keys, and what people type.
var shortWords = map[string]plainWord{"?": sayHelp, "q": sayLeave, "quit": sayLeave, "d": sayDone}

// plainWordOf is the word of the line mode that a line begins with, and the rest; "": none.
func plainWordOf(line string) (word plainWord, rest string) {
	head, rest, _ := strings.Cut(line, " ")
	head = strings.ToLower(head)
	if word, short := shortWords[head]; short && rest == "" {
		return word, ""
	}
	word = plainWord(head)
	if !slices.Contains([]plainWord{sayHelp, sayList, sayWalk, sayLeave, sayBack, sayNext, sayAgain, sayDone}, word) {
		return "", line
	}
	rest = strings.TrimSpace(rest)
	if rest != "" && word != sayHelp && word != sayWalk {
		return "", line
	}
	return word, rest
}
