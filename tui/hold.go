package tui

import (
	"time"
)

// A key that answered does not answer again while it is held down. Terminals tell no
// release: a held key comes again after a pause, and from then on quickly. So it is
// let go when that pause is over and nothing came for a while.
const (
	// firstRepeat is the longest that keyboards usually wait before they repeat:
	// 250 ms on the Linux console, 500 to 660 under X, up to 1 s elsewhere. From memory.
	firstRepeat = time.Second

	// nextRepeat is longer than between two repeats, also over a slow line.
	nextRepeat = 300 * time.Millisecond
)

// held is the key that answered last, until it is let go.
type held struct {
	key       string // "": none
	answers   int    // counts the answers, so that an old message tells nothing
	repeats   int    // counts what came since, likewise
	pausing   bool   // the first repeat may still be to come
	repeating bool   // the last repeat is not long ago
}

func (h held) answered(key string) (held, wait) {
	h = held{key: key, answers: h.answers + 1, pausing: true}
	return h, wait{firstRepeat, keySettledMsg{answers: h.answers}}
}

// words are what is said while it is held.
func (h held) words() string {
	what := "each check is answered by itself"
	if h.key == keys.Undo.Help().Key {
		what = "each act is taken back by itself"
	}
	return "let go of the key, look, then press again: " + what
}

// holds says that the key has not been let go since it answered.
func (h held) holds(key string) bool { return h.key != "" && h.key == key }

func (h held) repeated() (held, wait) {
	h.repeats++
	h.repeating = true
	return h, wait{nextRepeat, keySettledMsg{answers: h.answers, repeats: h.repeats}}
}

// settled takes note that a time is over.
func (h held) settled(msg keySettledMsg) held {
	switch {
	case msg.answers != h.answers:
		return h
	case msg.repeats == 0:
		h.pausing = false
	case msg.repeats == h.repeats:
		h.repeating = false
	}
	if !h.pausing && !h.repeating {
		h.key = ""
	}
	return h
}
