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
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

type stowOptions struct {
	actOptions
	how                   checklist.Stow
	condition, fit, state string
}

func newStowCommand(c *call) *cobra.Command {
	var opts stowOptions
	cmd := &cobra.Command{
		Use:   "stow [NAME [bought|used|moved|lent|back|found [N]|until DATE]]",
		Short: "Write down where spares and tools are and what they are like; without words: what lies where",
		Long: "Write down what was done with a spare or a tool. Without words: what lies where, place by\nplace; a name alone tells how it stands.\n\n" +
			"  bought N --to PLACE    new, unless said; a critical one counts once its fit is known\n  used N                 taken from where it counts, or --from PLACE\n" +
			"  moved N --to PLACE     from where it lies, or --from PLACE\n  lent N --note WHOM     gone; back N brings it back\n" +
			"  found N --to PLACE     a look into a place: so many are there, and no other; 0 is none\n\n" +
			"  until DATE             dated gear that was renewed: the last day on which the new one counts\n\n" +
			"N left out is 1. Of a place its last parts are enough: \"box 3\". A kit counts only whole:\n--has PART for each that is there, or --has all." + actExits(),
		Example: "  hoveshort stow\n  hoveshort stow raw-water impeller\n" +
			"  hoveshort stow raw-water impeller bought 2 --to \"box 3\" --fit measured --has all\n" +
			"  hoveshort stow engine belt moved 1 --from \"box 3\" --to \"engine space / hook\"\n  hoveshort stow oil filter lent 1 --note \"to the blue ketch astern\"\n" +
			"  hoveshort stow bolt croppers found --state good\n  hoveshort stow parachute flares until 2029-05-01",
		Args: atLeast(0),
		RunE: do(func(args []string) error { return runStow(c, opts, args) }),
	}
	f := cmd.Flags()
	f.StringVar(&opts.how.From, "from", "", "the `place` it was taken from")
	f.StringVar(&opts.how.To, "to", "", "the `place` it lies in now")
	f.StringVar(&opts.condition, "condition", "", "what a spare is `like`: new, used, doubtful or wrong")
	f.StringVar(&opts.fit, "fit", "", "`how` it is known that it fits: proved, measured or unknown")
	f.StringArrayVar(&opts.how.Has, "has", nil, "a `part` of the kit that is there; all or none of them")
	f.BoolVar(&opts.how.Beside, "beside", false, "found: those of another condition that lie there stay as they are")
	f.StringVar(&opts.state, "state", "", "what a tool is `like`: good, stiff, seized or missing")
	f.StringVar(&opts.how.Old, "old", "", "used: the `place` in which the old part is kept")
	f.StringVar(&opts.how.Note, "note", "", "a `text` of your own; lent: to whom")
	opts.flags(f)
	return cmd
}

func runStow(c *call, opts stowOptions, words []string) error {
	if len(words) == 0 {
		return runStowed(c, opts)
	}
	a, err := c.aboard()
	if err != nil {
		return err
	}
	if i := slices.Index(words, untilWord); i > 0 {
		return runRenewed(c, a, opts, strings.Join(words[:i], " "), words[i+1:])
	}
	name, rest, err := gearTyped(a.definitions(), words)
	if err != nil {
		return err
	}
	if len(rest) == 0 {
		return runGear(c, a, opts, name)
	}
	how, err := opts.stow(a.definitions(), name, rest)
	if err != nil {
		return err
	}
	w, err := a.append(func(m moment) (checklist.Act, error) { return m.definitions.NewStow(m.state, name, how) })
	if err != nil {
		return helped("stow", err)
	}
	c.tell(w.notices)
	if err := c.wrote(w, opts.json); err != nil || opts.json {
		return err
	}
	c.text.WriteString(gearText(w.moment, name))
	return nil
}

// untilWord stands before the new end of dated gear.
const untilWord = "until"

// runRenewed writes dated gear down as renewed.
func runRenewed(c *call, a *aboard, opts stowOptions, name string, rest []string) error {
	noted := opts
	noted.how.Note = ""
	if noted.isAct() {
		return usage("for example: hoveshort stow parachute flares until 2029-05-01", "of dated gear only its new end is told, and a --note")
	}
	until, err := quantity.ParseDate(strings.Join(rest, " "))
	if err != nil {
		return coded(exitUsage, "for example: hoveshort stow parachute flares until 2029-05-01", err)
	}
	err = c.actOn(a, opts.actOptions, func(m moment) (checklist.Act, error) {
		return m.definitions.NewRenewal(m.state, name, until, opts.how.Note, m.now)
	})
	return helped("stow", err)
}

// isAct says that a flag was given which only an act has.
func (o stowOptions) isAct() bool {
	how := o.how
	return how.From+how.To+how.Old+how.Note+o.condition+o.fit+o.state != "" || len(how.Has) > 0 || how.Beside
}

func errNoDeed() error {
	return usage("for example: hoveshort stow raw-water impeller bought 2 --to \"box 3\"", "what was done with it: bought, used, moved, lent, back or found?")
}

// gearNames are the spares, then the tools.
func gearNames(d checklist.Definitions) []string {
	var names []string
	for _, s := range d.Spares {
		names = append(names, s.Name)
	}
	for _, t := range d.Tools {
		names = append(names, t.Name)
	}
	return names
}

// gearTyped parts what was typed into a spare or a tool that is known, and what was done with it.
func gearTyped(d checklist.Definitions, words []string) (name string, rest []string, err error) {
	names := gearNames(d)
	isGear := func(name string) bool { return slices.Contains(names, name) }
	if all := strings.Join(words, " "); isGear(all) {
		return all, nil, nil
	}
	if name, tail, ok := splitName(words, isGear); ok {
		return name, strings.Fields(tail), nil
	}
	typed := words
	if i := slices.IndexFunc(words, isStowWord); i > 0 {
		typed, rest = words[:i], words[i:]
	}
	return "", nil, unknownName("spare or tool", strings.Join(typed, " "), names, func(name string) string {
		return strings.Join(append([]string{"hoveshort stow", name}, rest...), " ")
	})
}

func isStowWord(word string) bool {
	return slices.Contains(checklist.StowWords, checklist.StowWord(word))
}

// stow is what was typed behind the name, with the flags: the deed, and how many.
func (o stowOptions) stow(d checklist.Definitions, name string, rest []string) (checklist.Stow, error) {
	how := o.how
	how.Did, how.Count = checklist.StowWord(rest[0]), 1
	how.Condition, how.Fit, how.State = machinery.Condition(o.condition), machinery.Fit(o.fit), machinery.ToolState(o.state)
	isTool := !slices.ContainsFunc(d.Spares, func(s machinery.Spare) bool { return s.Name == name })
	switch {
	case !isStowWord(rest[0]):
		return how, noSuchDeed(name, rest)
	case len(rest) > 2:
		return how, usage("for example: hoveshort stow "+name+" "+rest[0]+" "+rest[1], "%q is too much", strings.Join(rest[2:], " "))
	case len(rest) == 1 && how.Did == checklist.Found && !isTool:
		return how, usage(fmt.Sprintf("for example: hoveshort stow %s found 2 --to \"box 3\"; 0 is none", name), "how many were found?")
	case len(rest) == 1:
		return how, nil
	}
	n, err := strconv.Atoi(rest[1])
	if err != nil {
		return how, usage("write how many in figures, like 2; flags begin with --", "%q is no number of pieces", rest[1])
	}
	if n == 0 && isTool {
		return how, usage(fmt.Sprintf("hoveshort stow %s found --state missing", name), "a tool is told by its state")
	}
	how.Count = n
	return how, nil
}

func noSuchDeed(name string, rest []string) error {
	deeds := make([]string, len(checklist.StowWords))
	for i, word := range checklist.StowWords {
		deeds[i] = string(word)
	}
	hint := "one of: " + strings.Join(deeds, ", ")
	if near := checklist.Nearest(rest[0], deeds); near != "" {
		hint = strings.Join(append([]string{"did you mean: hoveshort stow", name, near}, rest[1:]...), " ")
	}
	return usage(hint, "%q is nothing done with gear", rest[0])
}

// stowedJSON is what lies where, for other programs.
type stowedJSON struct {
	Format int         `json:"format"`
	Boat   string      `json:"boat"`
	Now    time.Time   `json:"now"`
	Things []thingJSON `json:"things"`
}

// runStowed tells what lies where, place by place.
func runStowed(c *call, opts stowOptions) error {
	if opts.isAct() {
		return errNoDeed()
	}
	m, err := c.look()
	if err != nil {
		return err
	}
	things := checklist.ThingsAboard(m.definitions, m.state, m.now)
	slices.SortStableFunc(things, func(a, b machinery.Thing) int { return strings.Compare(placeOrder(a), placeOrder(b)) })
	if opts.json {
		j := stowedJSON{Format: 1, Boat: m.definitions.Boat.Name, Now: m.now, Things: []thingJSON{}}
		for _, t := range things {
			j.Things = append(j.Things, lyingJSON(t))
		}
		return c.encode(j)
	}
	var r report
	r.line("%s: what lies where, as of %s", m.definitions.Boat.Name, m.now.Format(longMoment))
	r.WriteByte('\n')
	r.byPlace(things)
	if len(things) == 0 {
		r.line("nothing: spares.toml, tools.toml, dated.toml and stores.toml list none")
	}
	c.text.WriteString(r.String())
	return nil
}

// placeOrder has what lies nowhere last.
func placeOrder(t machinery.Thing) string {
	if t.Place == "" {
		return "\U0010ffff"
	}
	return strings.ToLower(t.Place)
}

// gearJSON is how one spare or tool stands, for other programs.
type gearJSON struct {
	Format int         `json:"format"`
	Now    time.Time   `json:"now"`
	Name   string      `json:"name"`
	Tool   bool        `json:"tool"`
	Size   string      `json:"size"`
	With   []string    `json:"with"`
	Counts *int        `json:"counts"` // null: a tool, which is not counted
	Asked  *int        `json:"asked_for"`
	Stowed []thingJSON `json:"stowed"`
}

// runGear tells how one spare or tool stands.
func runGear(c *call, a *aboard, opts stowOptions, name string) error {
	if opts.isAct() {
		return errNoDeed()
	}
	m, err := a.load()
	if err != nil {
		return err
	}
	c.tell(m.notices)
	if opts.json {
		return c.encode(gearOf(m, name))
	}
	c.text.WriteString(gearText(m, name))
	return nil
}

func gearOf(m moment, name string) gearJSON {
	j := gearJSON{Format: 1, Now: m.now, Name: name, With: []string{}, Stowed: []thingJSON{}}
	spare, tool := gearNamed(m, name)
	things := machinery.ToolThings(tool)
	if spare != nil {
		counts, asked := spare.Counts(), spare.Need[m.definitions.Plan.Kind]
		j.Size, j.With, j.Counts, j.Asked = spare.Size, list(spare.With), &counts, &asked
		things = machinery.SpareThings([]machinery.Spare{*spare})
	}
	j.Tool = spare == nil
	for _, t := range things {
		j.Stowed = append(j.Stowed, lyingJSON(t))
	}
	return j
}

// gearNamed is the spare of that name, else the tool, as they are now.
func gearNamed(m moment, name string) (*machinery.Spare, []machinery.Tool) {
	d := m.definitions.Now(m.state)
	if i := slices.IndexFunc(d.Spares, func(s machinery.Spare) bool { return s.Name == name }); i >= 0 {
		return &d.Spares[i], nil
	}
	i := slices.IndexFunc(d.Tools, func(t machinery.Tool) bool { return t.Name == name })
	if i < 0 {
		return nil, nil
	}
	return nil, d.Tools[i : i+1]
}

// gearText tells of one spare or tool where it lies, what it is like, and how many count.
func gearText(m moment, name string) string {
	var r report
	spare, tool := gearNamed(m, name)
	if spare != nil {
		r.spare(*spare, m.definitions.Plan.Kind)
	}
	for _, t := range tool {
		state := t.State
		if state == "" {
			state = machinery.Good
		}
		r.line("%s: %s, %s", t.Name, state, t.Place)
	}
	return r.String()
}

func (r *report) spare(s machinery.Spare, kind passage.Kind) {
	asked := fmt.Sprintf("%s asks for %d", kindText(kind), s.Need[kind])
	switch n := s.Counts(); n {
	case 0:
		r.line("%s: none aboard counts, %s", s.Name, asked)
	case 1:
		r.line("%s: 1 counts, %s", s.Name, asked)
	default:
		r.line("%s: %d count, %s", s.Name, n, asked)
	}
	if s.Size != "" || len(s.With) > 0 {
		r.hang("  each: ", "    ", strings.Join(append(list([]string{s.Size}), withWords(s)...), ", "))
	}
	s.Size = "" // said already
	for _, t := range machinery.SpareThings([]machinery.Spare{s}) {
		r.hang("  - ", "    ", lyingIn(t))
	}
	if lacks := s.Lacks(kind); lacks > 0 {
		r.howToCount(s, lacks)
	}
}

// howToCount says what to type once what is missing is there, or is known to fit.
func (r *report) howToCount(s machinery.Spare, lacks int) {
	like := ""
	if s.Critical {
		like += " --fit measured"
	}
	if len(s.With) > 0 {
		like += " --has all"
	}
	for _, lot := range ofUnknownFit(s) {
		r.hang("  tried on or measured, and whole: ", "    ", fmt.Sprintf("hoveshort stow %s found %d --to %q --condition new%s --beside", s.Name, lot.Count, lot.Place, like))
	}
	r.hang("  bought: ", "    ", fmt.Sprintf("hoveshort stow %s bought %d --to PLACE%s", s.Name, lacks, like))
}

// ofUnknownFit are the places in which new ones lie that nobody has tried, each with all the new ones there: what is
// found in a place is all of its condition.
func ofUnknownFit(s machinery.Spare) []machinery.Stowed {
	var places []machinery.Stowed
	for _, lot := range s.Stowed {
		if !s.Critical || lot.Condition != machinery.New || lot.Fit != machinery.Unknown || lot.Count == 0 {
			continue
		}
		if slices.ContainsFunc(places, func(p machinery.Stowed) bool { return p.Place == lot.Place }) {
			continue
		}
		lot.Count = 0
		for _, other := range s.Stowed {
			if other.Place == lot.Place && other.Condition == machinery.New {
				lot.Count += other.Count
			}
		}
		places = append(places, lot)
	}
	return places
}

func withWords(s machinery.Spare) []string {
	if len(s.With) == 0 {
		return nil
	}
	return []string{"whole with " + strings.Join(s.With, " and ")}
}

// lyingIn is where some of a spare lies: "box 3: 1 used; does not count: …".
func lyingIn(t machinery.Thing) string {
	if t.Place == "" {
		return t.Warning
	}
	text := t.Place + ": " + t.Note
	if t.Warning != "" {
		text += "; not counted: " + t.Warning
	}
	return text
}
