package quantity

import (
	"strconv"
	"unicode/utf8"
)

// quotedRunes is how many characters of a refused text a message shows.
const quotedRunes = 60

// Error says why a text is refused and what to write instead. Both read as parts of one line and end without a full stop.
type Error struct {
	Problem string // what is wrong; quotes the text, escaped, at most 60 characters of it
	Cure    string // what would be right
}

// Error is the problem and the cure on one line.
func (e *Error) Error() string { return e.Problem + "; " + e.Cure }

// quote is text in quotation marks, control and direction characters escaped, cut to 60 characters.
func quote(text string) string {
	if utf8.RuneCountInString(text) <= quotedRunes {
		return strconv.Quote(text)
	}

	cut := 0
	for range quotedRunes - 1 {
		_, size := utf8.DecodeRuneInString(text[cut:])
		cut += size
	}

	return strconv.Quote(text[:cut] + "…")
}
