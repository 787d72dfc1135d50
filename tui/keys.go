package tui

import (
	"github.com/charmbracelet/bubbles/key"
)

// keys is every key there is. Matching, the foot, the help page and the handbook's
// table all read it.
var keys = struct {
	Up, Down, First, Last, PageUp, PageDown     key.Binding
	Enter, Open, Back, Leave                    key.Binding
	Help, Reload, Repaint, Suspend, Quit, Write key.Binding
	Lose, Theme, Undo                           key.Binding
	Ready, Passage, Stores, Rounds, Record      key.Binding
	Engine, TakeReading                         key.Binding
	NewDefect, Mended, TakeCard, NotYet         key.Binding
	WriteOut                                    key.Binding
	Gear, Find                                  key.Binding
	Bought, UsedUp, Stowed, FoundIt             key.Binding
	LentIt, CameBack                            key.Binding
	Accept                                      key.Binding
	NextView, LastView, Working                 key.Binding
	Try, TakeBack, Keep, Drop                   key.Binding
	Sound, Fill, Take, Count, CountAll, Thrown  key.Binding
	Right, NotRight, CouldNotLook, NotAboard    key.Binding
	Value, Done, Walk, OutOf, Before, Event     key.Binding
	GradeStop, GradeLimit, GradeNote            key.Binding
	Sign, Move, Strike, Yes                     key.Binding
	Depart, Unsigned, Reason                    key.Binding
	Noon, ChangePlan, ComeIn, ClosePage         key.Binding
}{
	Up:       bind("up/k", "up", "up", "k"),
	Down:     bind("down/j", "down", "down", "j"),
	First:    bind("g", "to the first", "g", "home"),
	Last:     bind("G", "to the last", "G", "end"),
	PageUp:   bind("pgup", "a page up", "pgup", "ctrl+u", "ctrl+b"),
	PageDown: bind("pgdn", "a page down", "pgdown", "ctrl+d", "ctrl+f", " "),

	Enter: bind("enter", "go there", "enter"),
	Open:  bind("o", "list them", "o", "right", "l"),
	Back:  bind("esc", "back", "h", "left", "backspace", "esc"),
	Leave: bind("q", "leave", "q"),

	Help:    bind("?", "help", "?"),
	Reload:  bind("r", "read the files and the record again", "r"),
	Repaint: bind("ctrl+l", "paint the screen again", "ctrl+l"),
	Suspend: bind("ctrl+z", "suspend; fg comes back", "ctrl+z"),
	Quit:    bind("ctrl+c", "leave at once, when all is on the disk", "ctrl+c"),
	Write:   bind("w", "write again", "w"),
	Lose:    bind("L", "leave without it: it is lost", "L"),
	Undo:    bind("Z", "take the last act back", "Z"),
	Theme:   bind("T", "the next theme: day, night, none", "T"),

	Ready:   bind("1", "Ready", "1"),
	Passage: bind("2", "Passage", "2"),
	Stores:  bind("3", "Stores", "3"),
	Rounds:  bind("4", "Rounds", "4"),
	Engine:  bind("5", "Engine", "5"),
	Gear:    bind("6", "Gear", "6"),
	Record:  bind("7", "Record", "7"),

	Find:     bind("/", "find", "/"),
	Bought:   bind("b", "bought", "b"),
	UsedUp:   bind("u", "used", "u"),
	Stowed:   bind("m", "moved", "m"),
	FoundIt:  bind("f", "found", "f"),
	LentIt:   bind("e", "lent", "e"),
	CameBack: bind("B", "came back", "B"),

	Accept: bind("a", "accept", "a"),

	NextView: bind("right/l", "next view", "right", "l", "tab"),
	LastView: bind("left/h", "the view before", "left", "h", "shift+tab"),
	Working:  bind("enter", "where it comes from", "enter"),

	Try:      bind("t", "try a change", "t"),
	TakeBack: bind("x", "take it back", "x"),
	Keep:     bind("K", "the lines to keep it", "K"),
	Drop:     bind("X", "drop what is tried", "X"),

	Sound:    bind("s", "sound", "s"),
	Fill:     bind("f", "fill", "f"),
	Take:     bind("t", "fill from another tank", "t"),
	Count:    bind("c", "count", "c"),
	CountAll: bind("C", "count all lots together", "C"),
	Thrown:   bind("x", "thrown away", "x"),

	TakeReading: bind("a", "take a reading", "a"),

	NewDefect: bind("n", "a new defect", "n"),
	Mended:    bind("m", "repaired", "m"),
	TakeCard:  bind("f", "choose its fault card", "f"),
	NotYet:    bind("x", "not yet", "x"),
	WriteOut:  bind("tab", "write it out, to change it", "tab"),

	Right:        bind("y", "right", "y"),
	NotRight:     bind("n", "not right", "n"),
	CouldNotLook: bind("c", "could not look", "c"),
	NotAboard:    bind("x", "not aboard", "x"),
	Value:        bind("v", "value", "v"),
	Done:         bind("d", "say that it is done", "d"),
	Walk:         bind("enter", "walk it", "enter", "right"),
	OutOf:        bind("esc", "back to the rounds", "esc", "left", "backspace"),
	Before:       bind("up/k", "the one before", "up", "k"),
	Event:        bind("e", "something happened", "e"),

	GradeStop:  bind("s", "stop", "s"),
	GradeLimit: bind("l", "limit", "l"),
	GradeNote:  bind("n", "note", "n"),

	Sign:   bind("s", "sign", "s"),
	Move:   bind("m", "move the departure", "m"),
	Strike: bind("x", "take as never written", "x"),
	Yes:    bind("y", "yes", "y"),

	Depart:     bind("d", "leave", "d"),
	Unsigned:   bind("U", "leave all the same, unsigned", "U"),
	Reason:     bind("e", "why she left unsigned", "e"),
	Noon:       bind("n", "noon", "n"),
	ChangePlan: bind("c", "change of plan", "c"),
	ComeIn:     bind("a", "come in", "a"),
	ClosePage:  bind("C", "close the passage", "C"),
}

func bind(shown, help string, names ...string) key.Binding {
	return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, help))
}

// bound is a key that a screen listens to now, or why it does not.
type bound struct {
	key.Binding
	whyNot string // "": it can be used
	quiet  bool   // only on the help page
}

// can is a key that can be used, if there is no reason against it.
func can(b key.Binding, whyNot string) bound { return bound{Binding: b, whyNot: whyNot} }

// as is the same key under another word.
func as(b key.Binding, help string) key.Binding {
	b.SetHelp(b.Help().Key, help)
	return b
}

func quietly(list ...key.Binding) []bound {
	var bounds []bound
	for _, b := range list {
		bounds = append(bounds, bound{Binding: b, quiet: true})
	}
	return bounds
}

// moving are the keys that go through a list.
func moving() []bound {
	return quietly(keys.Up, keys.Down, keys.First, keys.Last, keys.PageUp, keys.PageDown)
}

func (p press) is(b key.Binding) bool { return key.Matches(p.KeyMsg, b) }

// moved is where a cursor over n items goes, and whether the key was one that moves it.
func moved(p press, cursor, n, page int) (int, bool) {
	switch {
	case p.is(keys.Up):
		cursor--
	case p.is(keys.Down):
		cursor++
	case p.is(keys.First):
		cursor = 0
	case p.is(keys.Last):
		cursor = n - 1
	case p.is(keys.PageUp):
		cursor -= max(1, page/2)
	case p.is(keys.PageDown):
		cursor += max(1, page/2)
	default:
		return cursor, false
	}
	return within(cursor, n), true
}

// turnedView is the view after one of n, or before it, and whether the key was one that turns.
func turnedView[V ~int](p press, shown V, n V) (V, bool) {
	switch {
	case p.is(keys.NextView):
		return (shown + 1) % n, true
	case p.is(keys.LastView):
		return (shown + n - 1) % n, true
	}
	return shown, false
}

// within holds a cursor inside a list of n; 0 for an empty one.
func within(cursor, n int) int { return max(0, min(cursor, n-1)) }
