package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

func newFindCommand(c *call) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "find WORDS",
		Short: "Where a spare, a tool, dated gear or food lies; of a place: what lies there",
		Long: "Where a spare, a tool, dated gear or food lies, and what it is like. Every word must be\nfound: whole, begun, or as a part; letters in a wrong place are forgiven, and what was\n" +
			"found so is told as \"perhaps\". The name of a place lists what lies there." +
			exits(map[int]string{exitRefused: "nothing found"}, exitDone, exitRefused, exitUnreadable, exitUsage),
		Example: "  hoveshort find impeller\n  hoveshort find box 3\n  hoveshort find cockpit / port locker",
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
	m, err := c.look()
	if err != nil {
		return err
	}
	index := machinery.NewIndex(thingsAboard(m))
	found := index.Find(question)
	if asJSON {
		if len(found) == 0 {
			c.code = exitRefused
		}
		return c.encode(foundOf(m, question, found))
	}
	if len(found) == 0 {
		return nothingFound(question)
	}
	c.text.WriteString(foundText(index, question, found))
	return nil
}

func nothingFound(question string) error {
	return coded(exitRefused, "try one word of it, another word for it, or a place, as in: hoveshort find box 3; `hoveshort stow` lists all that is aboard by place",
		fmt.Errorf("no list knows of %q: spares, tools, dated gear, food", cut(question, longestEcho)))
}

// longestEcho is how many characters of what was typed are said again.
const longestEcho = 200

// foundJSON is what was found, for other programs.
type foundJSON struct {
	Format   int         `json:"format"`
	Now      time.Time   `json:"now"`
	Question string      `json:"question"`
	Found    []thingJSON `json:"found"`
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

func foundOf(m moment, question string, found []machinery.Found) foundJSON {
	j := foundJSON{Format: 1, Now: m.now, Question: question, Found: []thingJSON{}}
	for _, f := range found {
		told := lyingJSON(f.Thing)
		told.Perhaps, told.InPlace = f.Guess, f.InHere
		j.Found = append(j.Found, told)
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
func foundText(index machinery.Index, question string, found []machinery.Found) string {
	var r report
	if !isPlace(question, found) {
		r.foundAll(found)
		return r.String()
	}
	r.byPlace(index.In(question))
	if called := calledSo(question, found); len(called) > 0 {
		r.head("ALSO CALLED SO")
		r.foundAll(called)
	}
	return r.String()
}

// isPlace says that a question means a place: it is one, or all that was found lies there
// and nothing is called so.
func isPlace(question string, found []machinery.Found) bool {
	if !found[0].InHere {
		return false
	}
	for segment := range strings.SplitSeq(found[0].Place, "/") {
		if strings.EqualFold(strings.TrimSpace(segment), strings.TrimSpace(question)) {
			return true
		}
	}
	return !slices.ContainsFunc(found, func(f machinery.Found) bool { return !f.InHere || isCalled(f.Name, question) })
}

// isCalled says that the name holds what is asked for, without a mistake.
func isCalled(name, question string) bool {
	found := machinery.NewIndex([]machinery.Thing{{Name: name}}).Find(question)
	return len(found) > 0 && !found[0].Guess
}

// calledSo are those found elsewhere whose name is asked for, and not a word about them.
func calledSo(question string, found []machinery.Found) []machinery.Found {
	var called []machinery.Found
	for _, f := range found {
		if !f.InHere && isCalled(f.Name, question) {
			called = append(called, f)
		}
	}
	return called
}

func (r *report) foundAll(found []machinery.Found) {
	for i, f := range found {
		if i == mostFound {
			r.line("and %d more: add a word to what is looked for", len(found)-i)
			return
		}
		r.found(f)
	}
}

func (r *report) found(f machinery.Found) {
	head := fmt.Sprintf("%s (%s)", f.Name, kindOfThing(f.Thing))
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

func kindOfThing(t machinery.Thing) string {
	if t.Kind == "dated" {
		return "dated gear"
	}
	return t.Kind
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
	text := fmt.Sprintf("%s (%s)", t.Name, kindOfThing(t))
	if t.Note != "" {
		text += ": " + t.Note
	}
	if t.Warning != "" {
		text += "; BEWARE: " + t.Warning
	}
	return text
}

// thingsAboard is all that can be looked for, as the files and the record have it.
func thingsAboard(m moment) []machinery.Thing {
	d := m.definitions.Now(m.state)
	zone := d.Plan.Depart.Location()
	list := machinery.SpareThings(d.Spares)
	list = append(list, machinery.ToolThings(d.Tools)...)
	list = append(list, machinery.DatedThings(d.Dated, m.now.In(zone))...)
	today := quantity.DateOf(m.now.In(zone))
	for _, f := range d.Boat.Foods {
		list = append(list, foodThings(f, stockOf(m, f), today)...)
	}
	return list
}

// stockOf is what is there of a food, as it was counted last, else as stores.toml has it.
func stockOf(m moment, f provisions.Food) provisions.Stock {
	var counts []provisions.Counting
	for _, c := range m.state.Counts[f.Name] {
		counts = append(counts, provisions.Counting{At: c.At, Whole: c.IsWhole(), Lot: provisions.Lot{
			Food: c.Food, Packs: c.Packs, BestBefore: c.BestBefore, UseBy: c.UseBy, Bought: c.Bought, Place: c.Place,
		}})
	}
	plan := m.definitions.Plan
	return m.definitions.Boat.StockOf(f.Name, plan.Crew, counts, plan.Depart.Location())
}

// foodThings are the lots of a food as things to be found; a food of which nothing is left is found too.
func foodThings(f provisions.Food, stock provisions.Stock, today quantity.Date) []machinery.Thing {
	counted := "never counted"
	if !stock.Counted.IsZero() {
		counted = "counted " + stock.Counted.Format("2 Jan 2006")
	}
	var list []machinery.Thing
	for _, lot := range stock.Lots {
		if lot.Packs <= 0 {
			continue
		}
		note, warning := lotWords(f, lot, today)
		list = append(list, machinery.Thing{
			Name: f.Name, Kind: "food", Place: lot.Place, Warning: warning,
			Note: fmt.Sprintf("%s of %s, %s%s", packsDown(lot.Packs), f.Pack, note, counted),
		})
	}
	if len(list) == 0 {
		list = append(list, machinery.Thing{Name: f.Name, Kind: "food", Warning: "none aboard, " + counted})
	}
	return list
}

// lotWords are the date by which a lot is judged, and what is to be minded of it.
func lotWords(f provisions.Food, lot provisions.Lot, today quantity.Date) (note, warning string) {
	end := f.End(lot)
	word := "best before"
	if end.Safety {
		word = "use by"
	}
	switch {
	case end.Last.IsZero():
		return "no date, ", ""
	case end.Last.Before(today):
		return fmt.Sprintf("%s %s, ", word, end.Written), fmt.Sprintf("went off on %s and does not count", end.Last)
	case end.Written.Before(today):
		return fmt.Sprintf("%s %s, ", word, end.Written), "older than its date: look and smell"
	}
	return fmt.Sprintf("%s %s, ", word, end.Written), ""
}

// packsDown is a number of packs to the tenth, rounded down: they are aboard.
func packsDown(n float64) string {
	const crumb = 1e-9 // of a float's sum
	text := strconv.FormatFloat(math.Floor(n*10+crumb)/10, 'f', -1, 64)
	if text == "1" {
		return "1 pack"
	}
	return text + " packs"
}

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
