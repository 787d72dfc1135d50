package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

// entering is where a reading is written down: in one line, or gauge by gauge.
type entering struct {
	asked question
	at    int                      // of askedGauges
	typed [len(askedGauges)]string // gauge by gauge; "": not read
	ended bool                     // all gauges are through: the reading is shown before it is written
	note  string                   // why it was not taken
	read  int                      // lines of it that are above the page
}

// The questions.
const (
	askReading = "reading"
	askGauge   = "gauge"
)

// askedGauges are the gauges in the order in which they are asked for.
var askedGauges = [...]struct {
	of, name string
	like     string // in metric units, or the words there are
	us       string // in US units; "": the same
	means    string
}{
	{of: "rpm", name: "revs", like: "2000"},
	{of: "minutes", name: "minutes at these revs", like: "20", means: "most is judged from 15 on"},
	{of: "coolant", name: "coolant", like: "82C", us: "180F"},
	{of: "oil", name: "oil pressure", like: "3.1bar", us: "45psi"},
	{of: "volts", name: "volts", like: "13.9V"},
	{of: "sea", name: "sea temperature", like: "24C", us: "75F"},
	{of: "raw_out", name: "raw water out", like: "41C", us: "106F", means: "after the exchanger, at the marked spot"},
	{of: "speed", name: "speed", like: "5.3kn", means: "through the water"},
	{of: "hours", name: "hour-meter", like: "1815.2"},
	{of: "sails", name: "sails", like: "up or down", means: "the speed is judged with the sails down alone"},
	{of: "under_way", name: "under way", like: "yes or no", means: "skipped: yes"},
	{of: "water", name: "exhaust water", like: "usual, little, none or steam", means: "look over the stern"},
	{of: "smoke", name: "smoke", like: "none, black, white or blue", means: "look over the stern"},
	{of: "note", name: "note", like: "anything else, in your own words"},
}

// What may be typed at a gauge besides its value.
const (
	noMore  = "."
	takeOut = "-"
)

func (n entering) isOpen() bool { return n.asked.isOpen() || n.ended }

func (n entering) unsaved() bool {
	return n.asked.unsaved() || len(n.pairs()) > 0
}

// begin asks for a line.
func (entering) begin(f facts) entering { return entering{asked: askLine(f)} }

func askLine(f facts) question {
	example := "rpm=2000 minutes=20 coolant=82C oil=3.1bar volts=13.9V sails=down"
	if f.assessment.Units == quantity.US {
		example = "rpm=2000 minutes=20 coolant=180F oil=45psi volts=13.9V sails=down"
	}
	return ask(askReading, "A reading: any of what was read, like", example,
		"Also sea, raw_out, speed, hours, under_way, water, smoke, note. Enter on the empty line: gauge by gauge.")
}

// pairs is what was typed gauge by gauge, as the reading takes it.
func (n entering) pairs() []string {
	var list []string
	for i, g := range askedGauges {
		if n.typed[i] != "" {
			list = append(list, g.of+"="+n.typed[i])
		}
	}
	return list
}

func (n entering) update(f facts, p press) (entering, []action) {
	switch {
	case n.ended:
		return n.confirm(f, p)
	case n.asked.what == askGauge:
		return n.gauge(f, p), nil
	}
	return n.line(f, p)
}

// isEmptied says that a key went to a line in which nothing stands.
func (n entering) isEmptied() bool { return strings.TrimSpace(n.asked.input.Value()) == "" }

func (n entering) line(f facts, p press) (entering, []action) {
	if p.Type == tea.KeyEnter && n.isEmptied() {
		return n.askFor(f, 0), nil
	}
	next, text, sent := n.asked.update(p)
	if !next.isOpen() {
		return entering{}, []action{say{"nothing was written"}}
	}
	n.asked = next
	if !sent {
		return n, nil
	}
	w := wishReading{checklist.ReadingPairs(strings.Fields(text))}
	if err := f.try(w); err != nil {
		n.asked = next.refused(err)
		return n, nil
	}
	return entering{}, []action{recordEntry{w}}
}

// askFor asks for one gauge; after the last the reading is shown.
func (n entering) askFor(f facts, i int) entering {
	n.note = ""
	if i >= len(askedGauges) {
		n.at, n.ended, n.asked = len(askedGauges)-1, true, question{}
		return n
	}
	n.at, n.ended = i, false
	n.asked = ask(askGauge, n.words(f, i)...)
	return n
}

func (n entering) words(f facts, i int) []string {
	g := askedGauges[i]
	like := g.like
	switch us := f.assessment.Units == quantity.US; {
	case us && g.us != "":
		like = fmt.Sprintf("%q or %q", g.us, g.like)
	case g.us != "":
		like = fmt.Sprintf("%q or %q", g.like, g.us)
	}
	text := fmt.Sprintf("%d of %d, %s: %s", i+1, len(askedGauges), g.name, like)
	if g.means != "" {
		text += " (" + g.means + ")"
	}
	how := "enter: not read, the next one; " + noMore + " no more; backspace the one before"
	if n.typed[i] != "" {
		how = fmt.Sprintf("It was typed as %q. enter: keep it; %s take it out; %s no more; backspace the one before", n.typed[i], takeOut, noMore)
	}
	return []string{text, how}
}

// gauge takes what is typed for one gauge. Nothing typed before it is lost by going back.
func (n entering) gauge(f facts, p press) entering {
	back := p.Type == tea.KeyEsc || p.Type == tea.KeyBackspace || p.Type == tea.KeyLeft
	switch empty := n.asked.input.Value() == ""; {
	case p.Type == tea.KeyEnter && n.isEmptied():
		return n.askFor(f, n.at+1)
	case empty && back && n.at > 0:
		return n.askFor(f, n.at-1)
	case empty && back:
		return n.asLine(f)
	}
	next, text, sent := n.asked.update(p)
	n.asked = next
	if !sent {
		return n
	}
	return n.take(f, text)
}

func (n entering) take(f facts, text string) entering {
	g := askedGauges[n.at]
	switch text = strings.TrimSpace(strings.TrimPrefix(text, g.of+"=")); text {
	case noMore:
		return n.askFor(f, len(askedGauges))
	case takeOut:
		n.typed[n.at] = ""
		return n.askFor(f, n.at+1)
	}
	taken := n
	taken.typed[n.at] = text
	if err := taken.tried(f); err != nil {
		n.asked = n.asked.refused(err)
		return n
	}
	return taken.askFor(f, n.at+1)
}

// tried says what is wrong with the gauges so far. That nothing was read yet is no mistake.
func (n entering) tried(f facts) error {
	pairs := n.pairs()
	if n.typed[len(askedGauges)-1] == "" {
		pairs = append(pairs, "note=not asked for yet")
	}
	return f.try(wishReading{pairs})
}

// asLine is the same reading as the one line, where all of it can be changed.
func (n entering) asLine(f facts) entering {
	pairs := n.pairs()
	n = entering{asked: askLine(f)}
	n.asked.input.SetValue(strings.Join(pairs, " "))
	n.asked.input.CursorEnd()
	return n
}

// confirm writes the reading by a key that no held enter presses.
func (n entering) confirm(f facts, p press) (entering, []action) {
	head, lines := n.summary(f, f.page.w)
	most := max(0, len(head)+len(lines)-f.page.h)
	if read, did := moved(p, min(n.read, most), most+1, f.page.h); did {
		n.read = read
		return n, nil
	}
	switch {
	case p.is(keys.Yes) && !p.rest:
		w := wishReading{n.pairs()}
		if err := f.try(w); err != nil {
			n.note = err.Error()
			return n, nil
		}
		return entering{}, []action{recordEntry{w}}
	case p.is(keys.TakeReading):
		return n.asLine(f), nil
	case p.is(keys.Drop):
		return entering{}, []action{say{"nothing was written"}}
	case p.is(keys.Back), p.is(keys.Leave):
		return n.askFor(f, len(askedGauges)-1), nil
	}
	return n, nil
}

func (n entering) bindings() []bound {
	switch {
	case n.ended:
		return []bound{
			can(as(keys.Yes, "write it"), ""), can(keys.Back, ""), can(as(keys.TakeReading, "change it in one line"), ""), can(as(keys.Drop, "drop it"), ""),
			can(keys.Enter, "y writes it; enter may still be held down"), {Binding: keys.Down, quiet: true}, {Binding: keys.Up, quiet: true},
		}
	case n.asked.what == askGauge:
		return []bound{
			can(as(keys.Enter, "take it, or skip it"), ""),
			can(bind("backspace", "back, if empty", "backspace"), ""),
			can(bind("ctrl+u", "empty the line", "ctrl+u"), ""),
		}
	}
	list := n.asked.bindings()
	return append([]bound{can(as(keys.Enter, "take it; empty: gauge by gauge"), "")}, list[1:]...)
}

func (n entering) view(f facts, s size) string {
	if n.ended {
		head, lines := n.summary(f, s.w)
		return strings.Join(append(head, f.look.part(lines, n.read, s.h-len(head))...), "\n")
	}
	if n.asked.what == askReading {
		page := para(f.look.title, "", "A reading in one line", s.w)
		return strings.Join(n.asked.under(f, page, s), "\n")
	}
	page := []string{f.look.title.Render(f.look.clip("A reading, gauge by gauge; nothing is written before the end", s.w))}
	room := s.h - len(n.asked.lines)*2 - 3
	page = append(page, f.look.window(n.list(f, s.w, n.at), n.at, n.at+1, max(0, min(room, len(askedGauges))))...)
	asked := n.asked.draw(f.look, size{s.w, max(1, s.h-min(len(page), s.h/2))})
	page = page[:max(0, min(len(page), s.h-len(asked)))]
	return strings.Join(append(filled(page, min(s.h-len(asked), len(page)+1)), asked...), "\n")
}

// list are the gauges and what was typed; at is the one that is asked for, -1: none.
func (n entering) list(f facts, w, at int) []string {
	l := f.look
	var lines []string
	for i, g := range askedGauges {
		read := n.typed[i]
		switch {
		case read == "" && i < at:
			read = "not read"
		case read == "":
			read = l.dash
		}
		mark, style := "  ", l.keys
		if i == at {
			mark, style = "> ", l.selected
		}
		lines = append(lines, mark+style.Render(l.clip(l.pad(g.name, 22)+" "+l.clean(read), w-2)))
	}
	return lines
}

// summary is the reading before it is written.
func (n entering) summary(f facts, w int) (head, lines []string) {
	l := f.look
	head = para(l.title, "", "Not written yet. y: write it", w)
	if n.note != "" {
		head = append(head, para(l.blocked, "", l.clean(n.note), w)...)
	}
	var left []string
	for i, g := range askedGauges {
		if n.typed[i] == "" {
			left = append(left, g.name)
			continue
		}
		lines = append(lines, para(l.keys, "  "+l.pad(g.name, min(22, w/2)), l.clean(n.typed[i]), w)...)
	}
	if len(lines) == 0 {
		lines = append(lines, "  nothing was read")
	}
	if len(left) > 0 {
		lines = append(lines, wrap("not read: "+strings.Join(left, ", "), w, 2)...)
	}
	return head, lines
}

type wishReading struct{ pairs []string }

func (w wishReading) act(k known) (checklist.Act, error) {
	return k.state.NewReading(k.definitions, w.pairs)
}

func (w wishReading) words() string { return "the reading " + strings.Join(w.pairs, " ") }
