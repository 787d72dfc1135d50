package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
)

// words ask a question; short, with the answers there are.
func (n stowing) words(f facts, step stowStep) []string {
	spare, _ := f.gear.spare(n.on.name)
	var text string
	switch step {
	case askWhich:
		lines := []string{"Which? A number, or its place:"}
		for i, h := range heaps(spare, n.on.place) {
			lines = append(lines, fmt.Sprintf("%d: %d %s in %s", i+1, h.count, h.condition, h.place))
		}
		return lines
	case askLocker:
		lines := []string{`Which place was looked into? A number, a path, or how a known one ends, like "box 3":`}
		for i, place := range n.knownPlaces(f) {
			lines = append(lines, fmt.Sprintf("%d: %s", i+1, place))
		}
		return lines
	case askCondition:
		text = "What is it like: new, used, doubtful or wrong?"
	case askPieces:
		text = n.piecesWords(f)
	case askFit:
		text = "Does it fit: proved (it has been on), measured or unknown?"
		if spare.Critical {
			text += " Critical: of unknown fit it does not count."
		}
	case askKit:
		text = fmt.Sprintf("With which parts of its kit (%s)? all, none, or those that are there:", strings.Join(spare.With, ", "))
	case askRest:
		var others []string
		for _, h := range n.others(f) {
			others = append(others, fmt.Sprintf("%d %s", h.count, h.condition))
		}
		text = fmt.Sprintf("By the record %s lies there too. Is it still there: yes or no?", strings.Join(others, " and "))
	case askTo:
		text = `Where does it lie now? A path, or how a known one ends, like "box 3":`
	case askOld:
		text = `Where did the old one go? "gone", or the place in which it is kept, to get home on:`
	case askWhom:
		text = "Lent to whom, and until when? In your own words:"
	default:
		text = "In which state is it: good, stiff, seized or missing?"
	}
	if _, words := n.untold(f, step); words != "" {
		text += " Enter: " + words + "."
	}
	return []string{text}
}

func (n stowing) piecesWords(f facts) string {
	_, away := lentNow(f, n.on.name)
	switch n.how.Did {
	case checklist.Bought:
		return "How many came aboard, new? Count whole ones alike; tell others apart:"
	case checklist.Back:
		return fmt.Sprintf("How many came back? %d lent:", away)
	case checklist.Found:
		return fmt.Sprintf("How many that are %s lie there? 0 for none:", n.how.Condition)
	}
	return "How many?"
}

func (n stowing) view(f facts, s size) string {
	l := f.look
	page := para(l.title, "", l.clean(n.on.name+": "+didWords[n.how.Did]+"; nothing is written before the end"), s.w)
	if spare, is := f.gear.spare(n.on.name); is && n.on.kind == kindSpare {
		page = append(page, lotLines(l, spare, s.w)...)
	}
	if tool, _ := f.gear.tool(n.on.name); n.on.kind == kindTool {
		page = append(page, wrap(l.clean("Now: "+toolWord(tool.State)+", "+toolPlace(f, tool)), s.w, 2)...)
	}
	asked := n.asked.draw(l, size{s.w, max(1, s.h-1)})
	hints := n.hints(f, s.w)
	room := max(0, s.h-len(asked))
	page = l.part(page, 0, min(len(page), max(1, room-len(hints)-1)))
	lines := slices.Concat(page, []string{""}, hints)
	return strings.Join(append(lines[:min(len(lines), room)], asked...), "\n")
}

// didWords are what was done, as it is said of a thing.
var didWords = map[checklist.StowWord]string{
	checklist.Bought: "bought", checklist.UsedUp: "used", checklist.Moved: "moved", checklist.Lent: "lent", checklist.Back: "came back", checklist.Found: "found",
}

// mostHints is how many places are told while one is typed.
const mostHints = 5

// hints are the known places that what is typed may mean, so that no place gets two names
// by a slip.
func (n stowing) hints(f facts, w int) []string {
	typed := strings.TrimSpace(n.asked.input.Value())
	_, err := strconv.Atoi(typed)
	isPlace := n.step == askTo || n.step == askLocker && err != nil || n.step == askOld && !isBegun(gone, typed)
	if typed == "" || !isPlace {
		return nil
	}
	var like []string
	for _, place := range f.gear.places {
		if strings.Contains(strings.ToLower(place), strings.ToLower(strings.Join(parts(typed), " / "))) {
			like = append(like, place)
		}
	}
	l := f.look
	if len(like) == 0 {
		return para(l.caution, "", "No place of that name is known: it would be a new one.", w)
	}
	lines := []string{l.clip("Known places like that:", w)}
	for _, place := range like[:min(mostHints, len(like))] {
		lines = append(lines, "  "+l.clip(l.clean(place), w-2))
	}
	if more := len(like) - mostHints; more > 0 {
		lines = append(lines, fmt.Sprintf("  and %d more", more))
	}
	return lines
}

// gone is what is typed of an old part that is not kept.
const gone = "gone"

// isBegun says that a word is typed, or as far as it goes.
func isBegun(word, typed string) bool { return strings.HasPrefix(word, strings.ToLower(typed)) }
