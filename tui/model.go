package tui

import (
	"fmt"
	"maps"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
)

// Model is the only model there is: it owns the facts, the screens and the entries on
// their way, and makes every command.
type Model struct {
	settings Settings
	facts    facts
	files    checklist.Definitions // as they were read
	moved    time.Time             // the departure to reckon with instead of theirs; zero: theirs
	trial    checklist.Trial       // told on screen 2 alone
	terminal size
	screens  map[screenName]screen // never changed in place
	current  screenName
	help     helpPage
	finder   finder
	theme    Theme
	kept     Theme // the one that is remembered, or that need not be
	keeping  bool  // one is on its way to be

	timer   func(wait) tea.Cmd
	writer  *writer
	queue   []pending // in the order in which they were asked for; the first may be in flight
	nextID  int
	flying  bool
	failed  string // why the first of the queue is not on the disk; nothing is written until asked
	reading bool
	read    time.Time // when the files were last read without a mistake

	said    []string // told until a key
	problem string   // told until a key, as an error
	held    held
	named   int // the entry of another person that Z named, and would take back when pressed again
	leaving leaving
}

// leaving is how far the skipper has got with going.
type leaving int

const (
	staying   leaving = iota
	asked             // really?
	finishing         // as soon as everything is on the disk
)

// New is the screens at their beginning. A panic of the caller's apart, it takes
// anything for Settings that it will never use.
func New(s Settings) Model {
	if s.Clock == nil {
		panic("tui: no clock")
	}
	now := s.Clock()
	m := Model{
		settings: s, terminal: size{80, 24}, current: readyScreen, timer: waitFor, writer: newWriter(s.Append), read: now,
		screens: map[screenName]screen{readyScreen: ready{}, passageScreen: ahead{}, storesScreen: stores{}, roundsScreen: rounds{}, engineScreen: engine{}, gearScreen: gear{}, recordScreen: record{}},
		said:    slices.Clone(s.Notices), theme: s.Theme, kept: s.Theme,
	}
	m.facts = facts{now: now, by: s.By, look: look{stylesFor(s.Theme, s.Colours), newGlyphs(s.Glyphs)}}
	return m.refold(s.Definitions, s.Entries).laidOut()
}

// Init starts the clock.
func (m Model) Init() tea.Cmd { return m.timer(untilMinute(m.facts.now)) }

// Update takes one message.
func (m Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	m.facts.now = m.settings.Clock()
	m, cmd := m.take(msg)
	m = m.laidOut()
	if m.leaving == finishing && len(m.queue) == 0 {
		return m, tea.Quit
	}
	return m, cmd
}

func (m Model) take(msg tea.Msg) (Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		return m.keys(msg)
	case tea.MouseMsg:
		return m.wheel(msg)
	case tea.WindowSizeMsg:
		return m.resized(size{msg.Width, msg.Height})
	case tea.ResumeMsg:
		m, cmd := m.looked().startReading()
		return m, tea.Batch(tea.ClearScreen, cmd)
	case minutePassedMsg:
		m, cmd := m.looked().startReading()
		return m, tea.Batch(m.timer(untilMinute(m.facts.now)), cmd)
	case entryWrittenMsg:
		return m.written(msg)
	case entryRefusedMsg:
		return m.refused(msg)
	case entryFailedMsg:
		return m.failedToWrite(msg), nil
	case filesReadMsg:
		return m.filesRead(msg), nil
	case historyReadMsg:
		return m.historyRead(msg), nil
	case reviewReadMsg:
		return m.reviewRead(msg), nil
	case themeKeptMsg:
		return m.themeKept(msg)
	case keySettledMsg:
		m.held = m.held.settled(msg)
	case commandPanickedMsg:
		m.reading = false
		m.problem = "a fault of the program, nothing of yours is lost: " + msg.what
	}
	return m, nil
}

func (m Model) resized(to size) (Model, tea.Cmd) {
	shrunk := to.w < m.terminal.w || to.h < m.terminal.h
	m.terminal = to
	if shrunk {
		return m, tea.ClearScreen // what no longer fits may stand there still
	}
	return m, nil
}

// refold makes the facts anew.
func (m Model) refold(d checklist.Definitions, entries []checklist.Entry) Model {
	m.files = d
	d = m.departing(d.AsSailed(checklist.Fold(entries)))
	k := learn(d, entries, m.facts.now)
	m.facts.definitions, m.facts.entries, m.facts.state, m.facts.assessment = d, entries, k.state, k.assessment
	return m.looksAhead().looksAtEngine().looksAtGear().looksAtStores().tellScreens()
}

// departing are the definitions with the departure that is reckoned with.
func (m Model) departing(d checklist.Definitions) checklist.Definitions {
	if m.moved.IsZero() {
		return d
	}
	return d.At(m.moved)
}

// looksAhead makes the prospect anew. It is only told on screen 2, and not reckoned
// while another is shown: a small computer is slow.
func (m Model) looksAhead() Model {
	f := m.facts
	m.facts.prospect = prospect{trial: m.trial}
	if m.current != passageScreen {
		return m
	}
	p := prospect{trial: m.trial, definitions: f.definitions, assessment: f.assessment, isKnown: true}
	if !m.trial.IsEmpty() {
		p.definitions = f.definitions.Try(m.trial)
		p.assessment = checklist.Assess(p.definitions, f.state, f.now)
	}
	p.outlook = p.assessment.Outlook()
	m.facts.prospect = p
	return m
}

// looksAtEngine judges the engine anew, while screen 5 is shown: nothing else tells it.
func (m Model) looksAtEngine() Model {
	m.facts.engine = engineFacts{}
	if m.current == engineScreen {
		m.facts.engine = lookAtEngine(m.facts)
	}
	return m
}

// looksAtGear finds out what lies where anew, while screen 6 is shown: nothing else tells it.
func (m Model) looksAtGear() Model {
	m.facts.gear = gearFacts{}
	if m.current == gearScreen {
		m.facts.gear = lookAtGear(m.facts)
	}
	return m
}

// looksAtStores takes stock anew, while screen 3 is shown: nothing else tells it.
func (m Model) looksAtStores() Model {
	m.facts.stores = storesFacts{}
	if m.current == storesScreen {
		m.facts.stores = lookAtStores(m.facts)
	}
	return m
}

// tries makes one more change for trying; nothing is written anywhere.
func (m Model) tries(change string) Model {
	trial, err := m.trial.With(change, m.facts.definitions, m.facts.now)
	if err != nil {
		m.problem = err.Error()
		return m
	}
	m.trial = trial
	return m.looksAhead().tellScreens()
}

// retried is what is tried, read again for files that may have changed. What can be
// tried no longer is dropped, and that is said.
func (m Model) retried(d checklist.Definitions) Model {
	var kept checklist.Trial
	for _, change := range m.trial.Words() {
		next, err := kept.With(change, m.departing(d), m.facts.now)
		if err != nil {
			m.said = append(slices.Clone(m.said), fmt.Sprintf("no longer tried: %s: %v", change, err))
			continue
		}
		kept = next
	}
	m.trial = kept
	return m
}

// looked is the same facts at this moment.
func (m Model) looked() Model { return m.refold(m.files, m.facts.entries) }

func (m Model) tellScreens() Model {
	m.facts.voyages = m.facts.voyages.of(m.facts, m.current == recordScreen)
	m.facts.waiting = len(m.queue)
	m.screens = maps.Clone(m.screens)
	for name, s := range m.screens {
		m.screens[name] = s.refreshed(m.facts)
	}
	return m.looksThrough()
}

// isTyping says that a line is typed: single letters are text.
func (m Model) isTyping() bool { return m.finder.isOpen() || m.screen().isTyping() }

func (m Model) screen() screen { return m.screens[m.current] }

func (m Model) withScreen(s screen) Model {
	m.screens = maps.Clone(m.screens)
	m.screens[m.current] = s
	return m
}

// keys takes a message from the keyboard. Several keys that came in one read are taken
// one by one, but for the first as ones that no person pressed so quickly.
func (m Model) keys(msg tea.KeyMsg) (Model, tea.Cmd) {
	if msg.Type != tea.KeyRunes || len(msg.Runes) < 2 || msg.Paste {
		return m.key(press{KeyMsg: msg})
	}
	var cmds []tea.Cmd
	for i, r := range msg.Runes {
		var cmd tea.Cmd
		single := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: msg.Alt}
		if r == ' ' {
			single.Type = tea.KeySpace
		}
		m, cmd = m.key(press{KeyMsg: single, rest: i > 0})
		m = m.laidOut()
		cmds = append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

func (m Model) key(p press) (Model, tea.Cmd) {
	if m.facts.now.Sub(m.facts.assessment.Now).Abs() >= time.Minute {
		m = m.looked()
	}
	switch {
	case p.is(keys.Repaint):
		return m, tea.ClearScreen
	case p.is(keys.Suspend):
		return m, tea.Suspend
	case p.is(keys.Quit):
		return m.quit()
	case p.Paste && !m.isTyping():
		return m, nil // pasted text is no key
	case m.terminal.isTooSmall():
		return m, nil // what it would answer is not to be seen
	case m.leaving != staying:
		return m.reallyLeave(p)
	case m.finder.isOpen():
		m.said, m.problem = nil, ""
		return m.find(p)
	case m.screen().isTyping():
		m.said, m.problem = nil, ""
		return m.pass(p)
	case m.held.holds(p.String()):
		held, wait := m.held.repeated()
		m.held = held
		m.said = []string{m.held.words()}
		return m, m.timer(wait)
	}
	m.said, m.problem = nil, ""
	if p.is(keys.Theme) {
		return m.turnTheme()
	}
	if m.help.open {
		return m.turnHelp(p), nil
	}
	return m.global(p)
}

func (m Model) global(p press) (Model, tea.Cmd) {
	switch {
	case p.is(keys.Write) && m.failed != "":
		m.failed = ""
		return m.writeNext()
	case p.is(keys.Help):
		m.help = helpPage{open: true}
		return m, nil
	case p.is(keys.Find):
		return m.startFinding()
	case p.is(keys.Undo):
		return m.takeBack(p)
	case p.is(keys.Reload):
		m.said = []string{readingAgain}
		return m.startReading()
	}
	for _, name := range screenNames {
		if p.String() == string(name) {
			return m.opened(name)
		}
	}
	return m.pass(p)
}

// pass gives the key to the screen and does what it asks for.
func (m Model) pass(p press) (Model, tea.Cmd) {
	why := m.whyNot(p)
	s, actions := m.screen().update(m.facts, p)
	m = m.withScreen(s)
	if why != "" && len(actions) == 0 {
		actions = []action{say{why}}
	}
	var cmds []tea.Cmd
	for _, a := range actions {
		var cmd tea.Cmd
		m, cmd = m.do(a)
		cmds = append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

// whyNot is why the screen does not listen to a key that it knows; "" where it does, or
// does not know it.
func (m Model) whyNot(p press) string {
	if m.screen().isTyping() {
		return ""
	}
	why := ""
	for _, b := range m.screen().bindings(m.facts) {
		switch {
		case !p.is(b.Binding):
		case b.whyNot == "":
			return ""
		case why == "":
			why = b.whyNot
		}
	}
	return why
}

func (m Model) do(a action) (Model, tea.Cmd) {
	switch a := a.(type) {
	case recordEntry:
		return m.enqueue(a.wish)
	case openScreen:
		return m.opened(a.name)
	case openAt:
		m, cmd := m.opened(a.name)
		return m.withScreen(m.screen().aim(m.facts, a.at)), cmd
	case closeScreen:
		m.leaving = asked
	case say:
		m.said = append(m.said, a.text)
	case holdKey:
		held, wait := m.held.answered(a.key)
		m.held = held
		return m, m.timer(wait)
	case moveDepart:
		m.moved = a.to
		return m.looked(), nil
	case tryOut:
		return m.tries(a.change), nil
	case dropTrial:
		m.trial = checklist.Trial{}
		m.said = append(m.said, "nothing is tried any more: the passage as planned")
		return m.looksAhead().tellScreens(), nil
	case readFiles:
		return m.startReading()
	case readHistory:
		return m, readPages(m.settings.History)
	case readReview:
		return m.reads(a.number)
	}
	return m, nil
}

func (m Model) opened(name screenName) (Model, tea.Cmd) {
	m.current = name
	m = m.looksAhead().looksAtEngine().looksAtGear().looksAtStores().tellScreens()
	if name == recordScreen && m.facts.history == nil {
		return m, readPages(m.settings.History)
	}
	return m, nil
}

// enqueue puts a wish behind those that wait. Only one is written at a time, so that
// they reach the disk in the order in which they were asked for.
func (m Model) enqueue(w wish) (Model, tea.Cmd) {
	if _, signs := w.(wishSign); signs && m.facts.filesWrong != "" {
		m.problem = "refused: the boat's files cannot be read again (" + m.facts.filesWrong + "); mend them, press r, then sign"
		return m, nil
	}
	m.nextID++
	m.queue = append(slices.Clone(m.queue), pending{m.nextID, w})
	return m.tellScreens().writeNext()
}

func (m Model) writeNext() (Model, tea.Cmd) {
	if m.flying || m.failed != "" || len(m.queue) == 0 {
		return m, nil
	}
	m.flying = true
	return m, writeEntry(m.writer, m.queue[0], m.facts.definitions, m.facts.now)
}

// landed takes the first of the queue off it.
func (m Model) landed(id int) (Model, wish) {
	m.flying = false
	if len(m.queue) == 0 || m.queue[0].id != id {
		return m, nil
	}
	w := m.queue[0].wish
	m.queue = slices.Clone(m.queue[1:])
	return m, w
}

func (m Model) written(msg entryWrittenMsg) (Model, tea.Cmd) {
	m, w := m.landed(msg.id)
	if w != nil {
		m.said = append(slices.Clone(m.said), writtenWords(w, lastSeq(msg.entries)))
	}
	m.said = append(m.said, msg.notices...)
	m.facts.history = withNew(m.facts.history, msg.entries)
	return m.refold(m.files, newer(m.facts.entries, msg.entries)).writeNext()
}

// writtenWords are what is said of a wish that is on the disk as an entry.
func writtenWords(w wish, seq int) string {
	if told, is := w.(interface{ written(int) string }); is {
		return told.written(seq)
	}
	return fmt.Sprintf("%s. On the disk, entry %d", w.words(), seq)
}

func (m Model) refused(msg entryRefusedMsg) (Model, tea.Cmd) {
	m, w := m.landed(msg.id)
	if w != nil {
		m.problem = w.words() + " was not written. " + msg.err.Error()
	}
	m.leaving = staying // it must be seen
	m, cmd := m.tellScreens().writeNext()
	if _, takes := w.(wishTakeBack); takes { // it was decided on entries that are not shown yet
		m, read := m.startReading()
		return m, tea.Batch(cmd, read)
	}
	return m, cmd
}

func (m Model) failedToWrite(msg entryFailedMsg) Model {
	m.flying, m.leaving = false, staying
	m.failed = msg.err.Error()
	return m.tellScreens()
}

// lastSeq is the number of the last entry; 0: there is none.
func lastSeq(entries []checklist.Entry) int {
	if len(entries) == 0 {
		return 0
	}
	return entries[len(entries)-1].Seq
}

// newer is the later of two readings of the record: a slow one must not undo a quick one.
func newer(have, got []checklist.Entry) []checklist.Entry {
	if lastSeq(got) < lastSeq(have) {
		return have
	}
	return got
}

// withNew is the whole record with the entries that came since it was read.
func withNew(history, entries []checklist.Entry) []checklist.Entry {
	if history == nil {
		return nil
	}
	last := lastSeq(history)
	all := slices.Clone(history)
	for _, e := range entries {
		if e.Seq > last {
			all = append(all, e)
		}
	}
	return all
}

func (m Model) startReading() (Model, tea.Cmd) {
	if m.reading || m.settings.Reload == nil {
		return m, nil
	}
	m.reading = true
	return m, readAgain(m.settings.Reload)
}

// What is said when the files are read because a key asked for it.
const (
	readingAgain = "reading the files and the record again"
	wereRead     = "the files and the record were read again"
)

func (m Model) filesRead(msg filesReadMsg) Model {
	m.reading = false
	if i := slices.Index(m.said, readingAgain); i >= 0 {
		m.said = slices.Delete(slices.Clone(m.said), i, i+1)
		if msg.err == nil {
			m.said = append(m.said, wereRead)
		}
	}
	if msg.err != nil {
		m.facts.filesWrong = msg.err.Error()
		return m
	}
	m.facts.filesWrong, m.read = "", m.facts.now
	m.facts.history = withNew(m.facts.history, msg.entries)
	return m.retried(msg.definitions).refold(msg.definitions, newer(m.facts.entries, msg.entries))
}

func (m Model) historyRead(msg historyReadMsg) Model {
	if msg.err != nil {
		m.problem = "the past pages of the record cannot be read: " + msg.err.Error()
		return m
	}
	m.facts.history = withNew(append([]checklist.Entry{}, msg.entries...), m.facts.entries)
	return m.tellScreens()
}

// quit leaves as soon as everything is on the disk; it asks once where words were typed.
func (m Model) quit() (Model, tea.Cmd) {
	switch {
	case m.failed != "", m.screen().unsaved() && m.leaving == staying:
		m.leaving = asked
	default:
		m.leaving = finishing
	}
	return m, nil
}

// reallyLeave takes the answer to whether she, or he, really means it.
func (m Model) reallyLeave(p press) (Model, tea.Cmd) {
	switch {
	case m.leaving == finishing || p.rest:
		return m, nil
	case m.failed != "" && p.is(keys.Lose):
		m.queue, m.leaving = nil, finishing
	case m.failed == "" && p.is(keys.Leave):
		m.leaving = finishing
	default:
		m.leaving = staying
		if p.is(keys.Write) && m.failed != "" {
			m.failed = ""
			return m.writeNext()
		}
	}
	return m, nil
}
