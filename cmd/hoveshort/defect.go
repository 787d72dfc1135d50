package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

type defectOptions struct {
	actOptions
	grade, card string
	rpm         int
	seen        bool
}

func (o *defectOptions) input(what string) checklist.DefectInput {
	return checklist.DefectInput{What: what, Grade: machinery.Grade(o.grade), RPM: o.rpm, Card: o.card, Seen: o.seen}
}

// telling are the flags by which a defect is told.
func (o *defectOptions) telling(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.grade, "grade", "", "how far it stops her: stop, limit or note")
	f.IntVar(&o.rpm, "rpm", 0, "the `revs` above which she is not run with it")
	f.StringVar(&o.card, "card", "", "the `sign` of the fault card that is walked for it")
	o.flags(f)
}

func newDefectCommand(c *call) *cobra.Command {
	var opts defectOptions
	cmd := &cobra.Command{
		Use:   "defect [WHAT | N]",
		Short: "List the defects, show one, or open one; repaired, more and close go on with it",
		Long: "Without words: the defects that are not closed, oldest first. With a number: that one in\nfull, with what was looked at and what proves its repair. With words: open one, with\n" +
			"--grade stop (she does not go), limit (she goes, with a reason) or note. A check that is\nnot right opens one too. One that gauges, revs or a fault card tell of is closed once its\n" +
			"repair is proved by readings; others with what was done." + actExits(),
		Example: "  hoveshort defect\n  hoveshort defect 12\n  hoveshort defect engine reads a little warm --grade limit --rpm 1800 --card \"coolant a little high\"\n" +
			"  hoveshort defect masthead light dark --grade note",
		Args: atLeast(0),
		RunE: do(func(args []string) error { return runDefect(c, opts, args) }),
	}
	opts.telling(cmd)
	cmd.Flags().BoolVar(&opts.seen, "seen", false, "the latest reading, of the last hour, belongs to it")
	cmd.AddCommand(newDefectMoreCommand(c), newDefectRepairedCommand(c), newDefectCloseCommand(c))
	return cmd
}

func runDefect(c *call, opts defectOptions, words []string) error {
	tells := opts.grade+opts.card != "" || opts.rpm != 0 || opts.seen
	if n, err := strconv.Atoi(strings.Join(words, " ")); err == nil && !tells {
		return runOneDefect(c, opts.actOptions, n)
	}
	if len(words) == 0 && !tells {
		return runDefects(c, opts.json)
	}
	return c.tellDefect(opts.actOptions, func(m moment) (checklist.Act, error) {
		return m.definitions.NewDefect(m.state, opts.input(strings.Join(words, " ")), m.now)
	})
}

// tellDefect writes an act about a defect, and tells what is to be done next about it.
func (c *call) tellDefect(opts actOptions, decide decision) error {
	a, err := c.aboard()
	if err != nil {
		return err
	}
	w, err := a.append(decide)
	if err != nil {
		return helped("defect", err)
	}
	c.tell(w.notices)
	if err := c.wrote(w, opts.json); err != nil || opts.json {
		return err
	}
	var r report
	_, isLook := w.entry.Act.(checklist.StepTaken)
	for _, v := range w.assess().Defects {
		if v.Seq == numberOfDefect(w.entry) {
			r.nextOf(v, !isLook)
		}
	}
	c.text.WriteString(r.String())
	return nil
}

// numberOfDefect is the number of the defect that an entry is about.
func numberOfDefect(e checklist.Entry) int {
	switch a := e.Act.(type) {
	case checklist.DefectAct:
		if a.Of > 0 {
			return a.Of
		}
		return e.Seq
	case checklist.StepTaken:
		return a.Defect
	}
	return 0
}

// nextOf is what is to be done about a defect now; what is looked at next comes after its caution, and at first after
// what makes her safe.
func (r *report) nextOf(v checklist.DefectView, atFirst bool) {
	if v.State != checklist.DefectOpen || !v.HasCard() {
		r.hang("next: ", "  ", v.Clears)
		return
	}
	if atFirst && v.Walk.Card.First != "" {
		r.hang("FIRST: ", "  ", v.Walk.Card.First)
	}
	r.nextLook(v)
}

// nextLook is the stage of the walk, and how the next look is taken, after its caution.
func (r *report) nextLook(v checklist.DefectView) {
	next, more := v.Walk.Next()
	isLooking := v.Walk.Stage() == machinery.Looking && more
	if isLooking && v.Walk.Card.Caution != "" {
		r.hang("CAUTION: ", "  ", v.Walk.Card.Caution)
	}
	r.hang("", "  ", v.Walk.Words())
	if !isLooking {
		r.hang("next: ", "  ", v.Clears)
		return
	}
	r.hang("  how: ", "    ", next.How)
	if len(next.Tools) > 0 {
		r.hang("  tools: ", "    ", strings.Join(next.Tools, ", "))
	}
	if len(next.Uses) > 0 {
		r.hang("  parts: ", "    ", strings.Join(next.Uses, ", "))
	}
	r.hang("  then: ", "    ", fmt.Sprintf("hoveshort step %d %d clean, or: bad, or: could not look", v.Seq, lookNumber(*v.Walk, next.Name)))
}

func lookNumber(w machinery.Walk, name string) int {
	return slices.IndexFunc(w.Suspects, func(s machinery.Suspect) bool { return s.Name == name }) + 1
}

func newDefectMoreCommand(c *call) *cobra.Command {
	var opts defectOptions
	cmd := &cobra.Command{
		Use:     "more N [WHY]",
		Short:   "Tell more of a defect: a graver grade, a limit on the revs, its fault card",
		Long:    "Tell more of a defect: a graver grade, a lower limit on the revs, its fault card. It gets\nless grave by its repair and its proof alone." + actExits(),
		Example: "  hoveshort defect more 12 --card \"coolant a little high\"\n  hoveshort defect more 12 --grade stop it is worse",
		Args:    atLeast(1),
		RunE: do(func(args []string) error {
			n, err := number(args[0], "a defect")
			if err != nil {
				return err
			}
			return c.tellDefect(opts.actOptions, func(m moment) (checklist.Act, error) {
				return m.definitions.NewDefectMore(m.assess(), n, opts.input(""), strings.Join(args[1:], " "))
			})
		}),
	}
	opts.telling(cmd)
	return cmd
}

type repairOptions struct {
	actOptions
	did, old, took, planned string
	parts, proofs           []string
}

func newDefectRepairedCommand(c *call) *cobra.Command {
	var opts repairOptions
	cmd := &cobra.Command{
		Use:   "repaired N CAUSE",
		Short: "Say that a defect is repaired, what it was, and what is to prove it",
		Long: "Say that a defect is repaired: what it was (no cause found is not closed), what was done,\nthe parts taken, and what readings are to prove it. A proof is written as\n\n" +
			"  anchor 2300 rpm 15 min 84 C\n  sea 2300 rpm 45 min 84 C within 2 h else \"turn back\"\n\n" +
			"and --proof usual takes both stages at cruising revs, the coolant 2.5 °C above the clean\ncurve at most. Passed at anchor it no longer stops her; passed at sea too it can be closed.\nA gauge that was wrong is a cause like another, proved with the right one." + actExits(),
		Example: "  hoveshort defect repaired 12 two vanes gone --did \"new impeller, all pieces found\" --part \"raw-water impeller\" --took \"50 min\" --proof usual\n" +
			"  hoveshort defect repaired 12 slack belt --proof \"anchor 2000 rpm 15 min 82 C\" --proof \"sea 2000 rpm 45 min 82 C within 2 h\"",
		Args: atLeast(1),
		RunE: do(func(args []string) error { return runRepaired(c, opts, args) }),
	}
	f := cmd.Flags()
	f.StringVar(&opts.did, "did", "", "`what` was done")
	f.StringArrayVar(&opts.parts, "part", nil, "a `part` taken, as SPARE, SPARE=N or SPARE@PLACE=N")
	f.StringVar(&opts.old, "old", "", "the `place` in which the old parts are kept")
	f.StringVar(&opts.planned, "planned", "", "how `long` it was thought to take")
	f.StringVar(&opts.took, "took", "", "how `long` it took, as \"45 min\" or \"1 h 10\"")
	f.StringArrayVar(&opts.proofs, "proof", nil, "a `proof` that is asked for; usual: those that are proposed")
	opts.flags(f)
	return cmd
}

func runRepaired(c *call, opts repairOptions, args []string) error {
	n, err := number(args[0], "a defect")
	if err != nil {
		return err
	}
	in := checklist.RepairInput{Number: n, Cause: strings.Join(args[1:], " "), Why: opts.did, Old: opts.old, Proofs: opts.proofs}
	if in.Minutes, err = minutesTyped(opts.took); err != nil {
		return err
	}
	if in.Planned, err = minutesTyped(opts.planned); err != nil {
		return err
	}
	for _, typed := range opts.parts {
		part, err := partTyped(typed)
		if err != nil {
			return err
		}
		in.Parts = append(in.Parts, part)
	}
	return c.tellDefect(opts.actOptions, func(m moment) (checklist.Act, error) {
		return m.definitions.NewRepair(m.state, m.assess(), in)
	})
}

func newDefectCloseCommand(c *call) *cobra.Command {
	var opts actOptions
	cmd := &cobra.Command{
		Use:     "close N [REASON]",
		Short:   "Close a defect: one that is proved, or another with what was done",
		Long:    "Close a defect, with what was done. One that readings tell of is closed once its repair is\nproved, and then needs no reason. Its check is asked again." + actExits(),
		Example: "  hoveshort defect close 12 new float switch, pumped dry twice",
		Args:    atLeast(1),
		RunE: do(func(args []string) error {
			n, err := number(args[0], "a defect")
			if err != nil {
				return err
			}
			return c.act(opts, func(m moment) (checklist.Act, error) {
				return m.assess().NewDefectClosing(n, strings.Join(args[1:], " "))
			})
		}),
	}
	opts.flags(cmd.Flags())
	return cmd
}

// defectJSON is a defect that is not closed, for other programs.
type defectJSON struct {
	Number int             `json:"number"`
	Check  string          `json:"check"`
	What   string          `json:"what"`
	Grade  machinery.Grade `json:"grade"`
	Since  time.Time       `json:"since"`

	State    string      `json:"state"`
	Stops    bool        `json:"stops"`
	Reason   bool        `json:"wants_reason"`
	RPM      *int        `json:"rpm_limit"` // null: none now
	Why      string      `json:"why"`
	Clears   string      `json:"clears"`
	Seen     string      `json:"seen"`
	Card     string      `json:"card"`
	Stage    string      `json:"stage"` // of the card's walk
	Looks    []lookJSON  `json:"looks"`
	Repair   *repairJSON `json:"repair"`
	Deadline *time.Time  `json:"deadline"` // of the proof under way
}

type lookJSON struct {
	Name     string     `json:"name"`
	Where    string     `json:"where"`
	Takes    float64    `json:"takes_min"`
	Seen     string     `json:"seen"`
	Said     string     `json:"said_before"`
	At       *time.Time `json:"at"`
	Note     string     `json:"note"`
	RulesOut string     `json:"rules_out"`
}

type repairJSON struct {
	At      time.Time   `json:"at"`
	Cause   string      `json:"cause"`
	Did     string      `json:"did"`
	Proofs  []proofJSON `json:"proofs"`
	Decides string      `json:"proof"`
}

type proofJSON struct {
	Asks     string     `json:"asks"`
	Standing string     `json:"standing"`
	Why      string     `json:"why"`
	Deadline *time.Time `json:"deadline"`
}

func defectOf(m moment, v checklist.DefectView) defectJSON {
	j := defectJSON{
		Number: v.Seq, Check: v.Check, What: v.What, Grade: v.Grade, Since: v.At, State: string(v.State), Stops: v.Stops, Reason: v.Asks,
		Why: v.Why, Clears: v.Clears, Seen: checklist.GaugeWords(v.Seen, m.definitions.Boat.Units), Card: v.Card, Looks: []lookJSON{},
		Deadline: momentOrNull(v.Proving.Deadline),
	}
	if v.Cap > 0 {
		j.RPM = &v.Cap
	}
	if v.HasCard() {
		j.Stage = string(v.Walk.Stage())
		for _, s := range v.Walk.Suspects {
			j.Looks = append(j.Looks, lookJSON{s.Name, s.Where(), s.Takes.Minutes(), string(s.Seen), string(s.Said.Seen), momentOrNull(s.Said.At), s.Said.Note, s.RulesOut})
		}
	}
	if v.Repair != nil {
		j.Repair = &repairJSON{At: v.Repair.At, Cause: v.Repair.Cause, Did: v.Repair.Why, Proofs: []proofJSON{}, Decides: string(v.Proving.Standing)}
		for i, o := range v.Proving.Outcomes {
			asks := string(v.Proofs[i].At) + ": " + v.Proofs[i].Wants(m.definitions.Boat.Units)
			j.Repair.Proofs = append(j.Repair.Proofs, proofJSON{asks, string(o.Standing), o.Why, momentOrNull(o.Deadline)})
		}
	}
	return j
}

func runDefects(c *call, asJSON bool) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	defects := m.assess().Defects
	if asJSON {
		list := []defectJSON{}
		for _, v := range defects {
			list = append(list, defectOf(m, v))
		}
		return c.encode(struct {
			Format  int          `json:"format"`
			Defects []defectJSON `json:"defects"`
		}{1, list})
	}
	var r report
	if len(defects) == 0 {
		r.line("no open defects")
	}
	for _, v := range defects {
		r.item(fmt.Sprintf("defect %d, grade %s, %s: %s", v.Seq, v.Grade, v.State, v.Title()), defectUnder(v)...)
	}
	c.text.WriteString(r.String())
	return nil
}

func defectUnder(v checklist.DefectView) []string {
	since := "open since " + v.At.Format(longMoment)
	if v.Check != "" {
		since += ", found by the check " + v.Check
	}
	if v.Cap > 0 {
		since += fmt.Sprintf(", not above %d rpm", v.Cap)
	}
	under := []string{since}
	if v.Repair != nil {
		under = append(under, v.Why)
	}
	return append(under, "next: "+v.Clears)
}

func runOneDefect(c *call, opts actOptions, n int) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	v, err := m.assess().Defect(n)
	if err != nil {
		return helped("defect", err)
	}
	if opts.json {
		return c.encode(struct {
			Format int        `json:"format"`
			Defect defectJSON `json:"defect"`
		}{1, defectOf(m, v)})
	}
	var r report
	r.defect(m, v)
	c.text.WriteString(r.String())
	return nil
}

// defect tells one in full.
func (r *report) defect(m moment, v checklist.DefectView) {
	r.line("defect %d, grade %s, %s: %s", v.Seq, v.Grade, v.State, v.Title())
	r.hang("", "  ", v.Why)
	if len(v.Seen) > 0 {
		r.hang("seen at: ", "  ", checklist.GaugeWords(v.Seen, m.definitions.Boat.Units))
	}
	if v.Repair != nil {
		r.repair(m, v)
	}
	if v.Card != "" {
		r.walk(v)
	}
	if v.Walk == nil || v.State != checklist.DefectOpen {
		r.head("NEXT")
		r.hang("", "  ", v.Clears)
	}
	if v.Engine {
		r.head("%s", "The maker's manual and a licensed mechanic come before anything said here.")
	}
}

// walk is the fault card with what was seen; what keeps hands and boat whole stands before the looks.
func (r *report) walk(v checklist.DefectView) {
	r.head("FAULT CARD: %s", v.Card)
	if !v.HasCard() {
		r.line("the boat folder has it no more")
		return
	}
	if card := v.Walk.Card; card.First != "" {
		r.hang("FIRST: ", "  ", card.First)
	}
	if card := v.Walk.Card; card.Caution != "" {
		r.hang("CAUTION: ", "  ", card.Caution)
	}
	for i, s := range v.Walk.Suspects {
		r.hang(fmt.Sprintf("%2d ", i+1), "   ", suspectWords(s))
	}
	if out := v.Walk.RuledOut(); len(out) > 0 {
		r.hang("ruled out: ", "  ", strings.Join(out, "; "))
	}
	if v.State == checklist.DefectOpen {
		r.hang("", "  ", v.Walk.Words())
		r.hang("next: ", "  ", v.Clears)
	}
}

func suspectWords(s machinery.Suspect) string {
	text := strings.ToUpper(string(s.Seen)) + ": " + s.Words() + " (" + s.Where() + ")"
	if s.Seen != machinery.NotYet {
		text = strings.ToUpper(string(s.Seen)) + ": " + s.Name + ", " + s.Said.At.Format(shortMoment)
	}
	if s.Said.Note != "" {
		text += ": " + s.Said.Note
	}
	return text
}

func (r *report) repair(m moment, v checklist.DefectView) {
	r.head("REPAIR, %s", v.Repair.At.Format(longMoment))
	r.hang("cause: ", "  ", v.Repair.Cause)
	if v.Repair.Why != "" {
		r.hang("done: ", "  ", v.Repair.Why)
	}
	for i, o := range v.Proving.Outcomes {
		r.hang("proof at "+string(v.Proofs[i].At)+": ", "  ", v.Proofs[i].Wants(m.definitions.Boat.Units))
		r.hang("  ", "  ", strings.ToUpper(string(o.Standing))+": "+o.Why)
	}
}

// defectChanges is what an act made of the defects, in sentences.
func defectChanges(before, after checklist.Assessment) []string {
	var told []string
	for _, v := range after.Defects {
		i := slices.IndexFunc(before.Defects, func(b checklist.DefectView) bool { return b.Seq == v.Seq })
		switch {
		case i < 0:
			told = append(told, fmt.Sprintf("defect %d of grade %s is open: %s", v.Seq, v.Grade, v.Title()))
		case v.State != before.Defects[i].State, v.Stops != before.Defects[i].Stops:
			told = append(told, v.Why)
		}
	}
	return told
}

// offerText is the command that opens a defect, after a reading at which something is to be looked at; "": there is none,
// or one with its card is open.
func offerText(w written) string {
	for _, kept := range w.state.Readings {
		if kept.Seq != w.entry.Seq {
			continue
		}
		d := w.definitions
		judged := d.JudgeReading(w.state, kept, d.Boat.Units)
		card := d.CardFor(judged)
		known := slices.ContainsFunc(w.state.Defects, func(o checklist.Defect) bool { return o.Card == card })
		if card == "" || known {
			return ""
		}
		return fmt.Sprintf("to open a defect with its fault card: hoveshort defect WHAT --grade GRADE --card %q\n", card)
	}
	return ""
}
