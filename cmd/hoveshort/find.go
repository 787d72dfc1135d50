package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

func newFindCommand(c *call) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "find WORDS",
		Short: "Find anything: gear, food, tanks, checks, services, defects, legs, the record",
		Long: "Find anything: spares, tools, dated gear, food and where they lie; tanks, checks, services,\ndefects, fault cards, legs and stops, what stands in the way, and the entries of the record.\n\n" +
			"Every word must be found: whole, begun, or as a part; letters in a wrong place are forgiven,\nand what was found so is told as \"perhaps\". The name of a place lists what lies there." +
			exits(map[int]string{exitRefused: "nothing found"}, exitDone, exitRefused, exitUnreadable, exitUsage),
		Example: "  hoveshort find impeller\n  hoveshort find box 3\n  hoveshort find cockpit / port locker\n  hoveshort find seacock",
		Args:    atLeast(1),
		RunE:    do(func(args []string) error { return runFind(c, asJSON, strings.Join(args, " ")) }),
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print what is found as JSON")
	return cmd
}

func runFind(c *call, asJSON bool, question string) error {
	if strings.TrimSpace(question) == "" {
		return usage("for example: hoveshort find impeller", "what is looked for?")
	}
	m, entries, err := c.lookThrough()
	if err != nil {
		return err
	}
	finder := checklist.NewFinder(m.definitions, m.state, m.assess(), entries)
	found := finder.Find(question, "")
	if asJSON {
		if len(found) == 0 {
			c.code = exitRefused
		}
		return c.encode(foundOf(m, question, found))
	}
	if len(found) == 0 {
		return nothingFound(question)
	}
	c.text.WriteString(foundText(finder, question, found))
	return nil
}

// lookThrough is look, with the whole record; where an earlier page cannot be read, the open one serves, and that is told.
func (c *call) lookThrough() (moment, []checklist.Entry, error) {
	a, err := c.aboard()
	if err != nil {
		return moment{}, nil, err
	}
	m, err := a.load()
	if err != nil {
		return moment{}, nil, err
	}
	c.tell(m.notices)
	all, err := a.screens().History()
	if err != nil {
		c.tell([]string{"only the open page of the record is looked through: " + err.Error()})
		return m, m.entries, nil //nolint:nilerr // it is told, and the open page serves
	}
	return m, all, nil
}

func nothingFound(question string) error {
	return coded(exitRefused, "try one word of it, another word for it, or a place, as in: hoveshort find box 3; `hoveshort stow` lists all that is aboard by place",
		fmt.Errorf("no list knows of %q, nor does the record", cut(question, longestEcho)))
}

// longestEcho is how many characters of what was typed are said again.
const longestEcho = 200

// foundJSON is what was found, for other programs.
type foundJSON struct {
	Format   int             `json:"format"`
	Now      time.Time       `json:"now"`
	Question string          `json:"question"`
	Found    []foundItemJSON `json:"found"`
}

type thingJSON struct {
	Name    string `json:"name"`
	Kind    string `json:"kind"`
	Place   string `json:"place"`
	Note    string `json:"note"`
	Warning string `json:"warning"`
	Perhaps bool   `json:"perhaps"`
	InPlace bool   `json:"in_place"`
}

type foundItemJSON struct {
	thingJSON
	Told string `json:"told"` // the screen: ready, passage, stores, rounds, engine, gear, record
	Key  string `json:"key"`  // what it is called by there: the id of a check, the number of an entry or a defect
}

func foundOf(m moment, question string, found []checklist.FoundThing) foundJSON {
	j := foundJSON{Format: 1, Now: m.now, Question: question, Found: []foundItemJSON{}}
	for _, f := range found {
		told := lyingJSON(f.Thing)
		told.Perhaps, told.InPlace = f.Guess, f.InHere
		j.Found = append(j.Found, foundItemJSON{told, string(f.Told), f.Key})
	}
	return j
}

func lyingJSON(t machinery.Thing) thingJSON {
	return thingJSON{Name: t.Name, Kind: t.Kind, Place: t.Place, Note: t.Note, Warning: t.Warning}
}

// mostFound is how many things are told before the question is asked to be closer.
const mostFound = 30

// foundText tells what was found, best first. Of a question that is a place it tells what lies there, then what
// is called so.
func foundText(finder checklist.Finder, question string, found []checklist.FoundThing) string {
	var r report
	if !isPlace(question, found) {
		r.foundAll(found)
		return r.String()
	}
	r.byPlace(lyingThere(finder, question, found))
	if called := calledSo(question, found); len(called) > 0 {
		r.head("ALSO CALLED SO")
		r.foundAll(called)
	}
	return r.String()
}

// lyingThere is what lies in the place that is asked for, or in one that is nearly called so.
func lyingThere(finder checklist.Finder, question string, found []checklist.FoundThing) []machinery.Thing {
	there := finder.In(question)
	if len(there) > 0 {
		return there
	}
	for _, f := range found {
		if f.InHere && f.IsGear() {
			there = append(there, f.Thing)
		}
	}
	return there
}

// isPlace says that a question means a place: it is one, or all that lies aboard and was found lies there
// and nothing is called so.
func isPlace(question string, found []checklist.FoundThing) bool {
	here := false
	for _, f := range found {
		if !f.IsGear() {
			continue
		}
		for segment := range strings.SplitSeq(f.Place, "/") {
			if f.InHere && strings.EqualFold(strings.TrimSpace(segment), strings.TrimSpace(question)) {
				return true
			}
		}
		if !f.InHere || isCalled(f.Name, question) {
			return false
		}
		here = true
	}
	return here && len(calledSo(question, found)) == 0
}

// isCalled says that the name holds what is asked for, without a mistake.
func isCalled(name, question string) bool {
	found := machinery.NewIndex([]machinery.Thing{{Name: name}}).Find(question)
	return len(found) > 0 && !found[0].Guess
}

// calledSo are those found elsewhere whose name is asked for, and not a word about them.
func calledSo(question string, found []checklist.FoundThing) []checklist.FoundThing {
	var called []checklist.FoundThing
	for _, f := range found {
		if !f.InHere && f.Kind != checklist.FoundPlace && isCalled(f.Name, question) {
			called = append(called, f)
		}
	}
	return called
}

func (r *report) foundAll(found []checklist.FoundThing) {
	for i, f := range found {
		if i == mostFound {
			r.line("and %d more: add a word to what is looked for", len(found)-i)
			return
		}
		r.found(f)
	}
}

func (r *report) found(f checklist.FoundThing) {
	head := fmt.Sprintf("%s (%s)", f.Name, checklist.KindWords(f.Kind))
	if f.Kind == checklist.FoundCheck || f.Kind == checklist.FoundCaution {
		head = fmt.Sprintf("%s (%s %s)", f.Name, f.Kind, f.Key) // what the commands call it by
	}
	switch {
	case strings.HasPrefix(f.Place, "lent"): // to whom, not where
		head += ", " + f.Place
	case f.Place != "":
		head += " in " + f.Place
	}
	if f.Guess {
		head = "perhaps " + head
	}
	r.item(head)
	if f.Note != "" {
		r.hang("  ", "    ", f.Note)
	}
	if f.Warning != "" {
		r.hang("  BEWARE: ", "    ", f.Warning)
	}
}

// byPlace lists things place by place; they come in the order of their places.
func (r *report) byPlace(things []machinery.Thing) {
	for i, t := range things {
		if i == 0 || t.Place != things[i-1].Place {
			if i > 0 {
				r.WriteByte('\n')
			}
			r.line("%s", placeHead(t.Place))
		}
		r.hang("- ", "  ", lyingWords(t))
	}
}

func placeHead(place string) string {
	if place == "" {
		return "NOWHERE"
	}
	return strings.ToUpper(place)
}

func lyingWords(t machinery.Thing) string {
	text := fmt.Sprintf("%s (%s)", t.Name, checklist.KindWords(t.Kind))
	if t.Note != "" {
		text += ": " + t.Note
	}
	if t.Warning != "" {
		text += "; BEWARE: " + t.Warning
	}
	return text
}

// packsDown is a number of packs to the tenth, rounded down: they are aboard.
func packsDown(n float64) string { return checklist.PacksDown(n) }

// helped adds to what refused an act where its flags are told.
func helped(command string, err error) error {
	var refusal *quantity.Error
	if !errors.As(err, &refusal) {
		return err
	}
	return &problem{
		code: exitRefused, says: refusal.Problem, err: err,
		hint: fmt.Sprintf("%s (see: hoveshort %s --help)", refusal.Cure, command),
	}
}

// unknownName refuses a name that stands for nothing, and says which may have been meant. None is
// taken in its place: what is written stays for ever. again is the command with the name put in.
func unknownName(what, typed string, names []string, again func(name string) string) error {
	says := fmt.Sprintf("no %s is called %q", what, cut(typed, longestEcho))
	if len(names) == 0 {
		return coded(exitRefused, "the boat folder lists none", errors.New(says))
	}
	near := meant(typed, names)
	if len(near) == 0 {
		return coded(exitRefused, "one of: "+strings.Join(names, ", "), errors.New(says))
	}
	for i, name := range near {
		near[i] = again(name)
	}
	return coded(exitRefused, "did you mean: "+strings.Join(near, "; or: "), errors.New(says))
}

// mostMeant is how many names are offered for one that is not known.
const mostMeant = 3

// meant are the names that what was typed may stand for, best first.
func meant(typed string, names []string) []string {
	things := make([]machinery.Thing, len(names))
	for i, name := range names {
		things[i].Name = name
	}
	var near []string
	for _, f := range machinery.NewIndex(things).Find(typed) {
		near = append(near, f.Name)
	}
	if len(near) == 0 {
		if name := checklist.Nearest(typed, names); name != "" {
			near = []string{name}
		}
	}
	return near[:min(len(near), mostMeant)]
}
