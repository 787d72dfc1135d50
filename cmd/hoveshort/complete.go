package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/config"
	"boat/hoveshort/config/record"
	"boat/hoveshort/provisions"
)

// The shell's completion knows the boat: her tanks, foods, checks, gear, defects, passages. Names hold blanks and need
// no quotes, so that they are completed word by word, each word from the names that begin with those before it. It
// writes nothing, and where the boat cannot be read it offers nothing and says nothing.

// completes gives the commands what they are completed with, where the shell asks, and lets its scripts and answers
// out as they are: a tab means something in them.
func (c *call) completes(root *cobra.Command, args []string) {
	if len(args) == 0 {
		return
	}
	switch args[0] {
	case "completion":
		root.SetOut(c.stdout)
		if len(args) > 1 && args[1] == "bash" && !slices.ContainsFunc(args, isHelp) {
			c.text.WriteString(partsTheLine) // which comes behind the library's script
		}
	case cobra.ShellCompRequestCmd, cobra.ShellCompNoDescRequestCmd:
		root.SetOut(c.stdout)
		c.offerTo(root)
	}
}

func isHelp(arg string) bool { return arg == "-h" || arg == "--help" }

// partsTheLine takes the place of what the script asks of the package bash-completion, where that is not installed:
// the words up to the cursor, parted at blanks alone, which stand in quotes or behind a backslash where they part nothing.
const partsTheLine = `
if ! declare -F _init_completion >/dev/null 2>&1 && ! declare -F _get_comp_words_by_ref >/dev/null 2>&1; then
    __hoveshort_init_completion()
    {
        local line="${COMP_LINE:0:COMP_POINT}" quote="" word="" begun="" char i
        words=()
        for ((i = 0; i < ${#line}; i++)); do
            char="${line:i:1}"
            if [[ -z $quote && $char == [[:blank:]] ]]; then
                [[ -n $begun ]] && words+=("$word")
                word="" begun=""
                continue
            fi
            begun=1 word+="$char"
            if [[ $char == \\ && $quote != \' ]]; then
                ((i++))
                word+="${line:i:1}"
            elif [[ $char == "$quote" ]]; then
                quote=""
            elif [[ -z $quote && $char == [\"\'] ]]; then
                quote="$char"
            fi
        done
        words+=("$word")
        cword=$((${#words[@]} - 1))
        cur="$word" prev=""
        ((cword > 0)) && prev="${words[cword - 1]}"
        return 0
    }
fi
`

// An offer is what may stand next: the words before it, and how far it is typed. A description follows behind a tab.
type offer func(b *offered, words []string, typed string) []string

// offered is the boat as the completion knows her.
type offered struct {
	checklist.Definitions
	dir    string  // "": the demo boat, of which nothing is kept
	whole  bool    // her files have no mistakes
	closes bool    // check --done: a section is closed
	clock  *aboard // of dir
	isRead bool    // moment is
	moment moment
}

// offerTo hooks the offers in. A command that is not listed takes no names.
func (c *call) offerTo(root *cobra.Command) {
	for _, cmd := range allCommands(root) {
		path := strings.TrimPrefix(cmd.CommandPath(), root.Name()+" ")
		if next, known := wordOffers[path]; known {
			cmd.ValidArgsFunction = c.completion(cmd, next)
		} else if !takesFiles[path] {
			cmd.ValidArgsFunction = cobra.NoFileCompletions
		}
		cmd.Flags().VisitAll(func(f *pflag.Flag) {
			list, known := flagOffers[path+" --"+f.Name]
			if !known {
				list, known = flagOffers[f.Name]
			}
			if known && f.Value.Type() != "bool" {
				value := func(b *offered, _ []string, _ string) []string { return list(b) }
				_ = cmd.RegisterFlagCompletionFunc(f.Name, c.completion(cmd, value)) // it is there
			}
		})
	}
	for _, name := range []string{"at", "by"} {
		_ = root.RegisterFlagCompletionFunc(name, cobra.NoFileCompletions) // they are there
	}
}

// allCommands are those below root, at any depth.
func allCommands(root *cobra.Command) []*cobra.Command {
	var list []*cobra.Command
	for _, cmd := range root.Commands() {
		list = append(list, cmd)
		list = append(list, allCommands(cmd)...)
	}
	return list
}

// takesFiles are the commands that are given a file or a folder.
var takesFiles = map[string]bool{"init": true, "signalk": true}

// wordOffers are what follows a command.
var wordOffers = map[string]offer{
	"sound":           tanksThen(checklist.Full),
	"fill":            tanksThen(checklist.Full),
	"noon":            levelsAnd("to", "position", "run", "hours", "wind", "pressure", "sleep", "note"),
	"arrive":          levelsAnd("miles", "hours", "note"),
	"count":           storesThenDeed,
	"correct":         lastFirst,
	"check":           checksThenAnswers,
	"event":           fromNames(eventNames),
	"service":         fromNames(serviceNames),
	"stow":            gearThenDeed,
	"find":            fromNames(findable),
	"defect":          openDefects,
	"defect more":     openDefects,
	"defect repaired": openDefects,
	"defect close":    openDefects,
	"step":            defectThenLook,
	"accept":          fromNames(cautionNames),
	"review":          passagesSigned,
	"reading":         gaugesRead,
}

// flagOffers are what follows a flag, which is one word of the shell; "fill --from" is that of one command alone.
var flagOffers = map[string]func(*offered) []string{
	"from":        placeNames,
	"fill --from": tankNames,
	"to":          placeNames,
	"change --to": harbours,
	"old":         placeNames,
	"place":       placeNames,
	"part":        spareNames,
	"card":        cardSigns,
	"grade":       always("stop", "limit", "note"),
	"condition":   always("new", "used", "doubtful", "wrong"),
	"fit":         always("proved", "measured", "unknown"),
	"state":       always("good", "stiff", "seized", "missing"),
	"paper":       always(papers...),
	"list":        always("text", "markdown", "csv"),
	"sheet":       always("text", "markdown", "csv"),
	"route":       always(), // of the GPX file: no file itself
	"stop":        always(),
	"export":      always("jsonl", "csv"),
	"chart":       always("water", "fuel", "food", "gas"),
	"explain":     explained,
	"proof":       always("usual"),
}

// completion makes of an offer what the library asks for. Nothing that is wrong with the boat may show on the line
// that is being typed, not even a fault of ours.
func (c *call) completion(cmd *cobra.Command, next offer) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) (found []string, directive cobra.ShellCompDirective) {
		directive = cobra.ShellCompDirectiveNoFileComp
		defer func() {
			if recover() != nil {
				found = nil
			}
		}()
		b := c.offered()
		b.closes, _ = cmd.Flags().GetBool("done") // only check has it
		for _, text := range next(b, asTyped(args), typed) {
			name, told, isTold := strings.Cut(text, "\t")
			if isTold {
				text = name + "\t" + clean(told, c.isUTF8())
			}
			if strings.HasPrefix(name, typed) && !strings.ContainsFunc(name, drivesTerminal) {
				found = append(found, text)
			}
		}
		if len(found) > 0 && !slices.ContainsFunc(found, func(text string) bool { return !strings.HasSuffix(text, "=") }) {
			directive |= cobra.ShellCompDirectiveNoSpace
		}
		return found, directive
	}
}

// offered looks the boat up as the commands do, but makes no demo boat: of her the names alone are known.
func (c *call) offered() *offered {
	dir, _ := c.named()
	if dir == "" {
		dir = c.dataFolder()
	} else {
		dir = c.path(dir)
	}
	if dir == "" {
		folder, err := config.Load(config.Demo())
		return &offered{Definitions: folder.Definitions, whole: err == nil}
	}
	folder, err := config.Load(os.DirFS(dir))
	b := &offered{Definitions: folder.Definitions, dir: dir, whole: err == nil}
	at, _ := c.moment() // what is no time is refused when it is used
	b.clock = &aboard{place: place{dir: dir, clock: c.now, until: at}, store: record.Open(dir), folder: folder}
	return b
}

// now is the moment, where there is one: the files have no mistakes and the record can be read. Reading makes the
// record's lock where it is missing, and so a record without one is left alone.
func (b *offered) now() (moment, bool) {
	if b.isRead {
		return b.moment, true
	}
	if !b.whole {
		return moment{}, false
	}
	if b.dir == "" {
		b.moment, b.isRead = moment{definitions: b.Definitions, state: checklist.Fold(nil), now: config.DemoMoment}, true
		return b.moment, true
	}
	if !b.isKept() {
		b.moment, b.isRead = b.clock.at(nil, b.clock.stamp()), true
		return b.moment, true
	}
	m, err := b.clock.load()
	b.moment, b.isRead = m, err == nil
	return m, err == nil
}

// isKept says that there is a record that can be read without making anything.
func (b *offered) isKept() bool {
	_, err := os.Stat(filepath.Join(b.dir, "record", ".lock"))
	return err == nil
}

// always offers what is the same for every boat.
func always(list ...string) func(*offered) []string { return func(*offered) []string { return list } }

// fromNames offers names, word by word.
func fromNames(names func(*offered) []string) offer {
	return func(b *offered, before []string, typed string) []string { return nextWords(names(b), before, typed) }
}

// nextWords are the words that may stand next: of each name that begins with those before, the one that follows. One
// that is being typed in quotes, with a blank in it, is completed as a whole.
func nextWords(names, before []string, typed string) []string {
	var list []string
	for _, name := range names {
		if len(before) == 0 && strings.Contains(typed, " ") {
			list = append(list, name)
			continue
		}
		parts := strings.Fields(name)
		if len(parts) > len(before) && slices.Equal(parts[:len(before)], before) && !slices.Contains(list, parts[len(before)]) {
			list = append(list, parts[len(before)])
		}
	}
	return list
}

// behind is what follows the longest name at the beginning of the words; ok: there is one.
func behind(names, before []string) (rest []string, ok bool) {
	for i := len(before); i > 0; i-- {
		if name := strings.Join(before[:i], " "); slices.Contains(names, name) {
			return before[i:], true
		}
	}
	return nil, false
}

// tanksThen offers the tanks, and once one is told what may stand for its level.
func tanksThen(level string) offer {
	return func(b *offered, before []string, typed string) []string {
		list := nextWords(tankNames(b), before, typed)
		if rest, ok := behind(tankNames(b), before); ok && len(rest) == 0 {
			list = append(list, level)
		}
		return list
	}
}

// levelsAnd offers the tanks of a noon or an arrival, and what else is told there, each as NAME=. Miles or a place may
// stand before them: a name begins where the last words begin one.
func levelsAnd(others ...string) offer {
	return func(b *offered, before []string, typed string) []string {
		names := append(tankNames(b), others...)
		for i := range names {
			names[i] += "="
		}
		for i := range before {
			if list := nextWords(names, before[i:], typed); len(list) > 0 {
				return list
			}
		}
		return nextWords(names, nil, typed)
	}
}

// checksThenAnswers offers the checks by id, with what they ask; then what is answered to one that is not a reading.
func checksThenAnswers(b *offered, before []string, typed string) []string {
	if b.closes {
		return nextWords(sectionNames(b), before, typed)
	}
	var list []string
	for _, r := range b.Rounds {
		for _, s := range r.Sections {
			for _, check := range s.Checks {
				switch {
				case check.Automatic != nil:
				case len(before) == 0:
					list = append(list, check.ID+"\t"+check.Ask)
				case len(before) == 1 && check.ID == before[0] && check.Reading == nil:
					return []string{"right", "not-right", "could-not-look", "not-aboard"}
				}
			}
		}
	}
	return list
}

// storesThenDeed offers foods and other things that are counted, then what was done with the packs.
func storesThenDeed(b *offered, before []string, typed string) []string {
	names := storeNames(b)
	list := nextWords(names, before, typed)
	if rest, ok := behind(names, before); ok && len(rest) == 0 {
		for _, word := range checklist.CountWords {
			list = append(list, strings.ReplaceAll(string(word), " ", "-"))
		}
	}
	return list
}

// lastFirst offers the last act to be taken back; older ones are looked up by number in the record.
func lastFirst(_ *offered, before []string, _ string) []string {
	if len(before) > 0 {
		return nil
	}
	return []string{"last"}
}

// gearThenDeed offers spares, tools and dated gear, then what is done with it.
func gearThenDeed(b *offered, before []string, typed string) []string {
	dated := datedNames(b)
	list := nextWords(slices.Concat(gearNames(b.Definitions), dated), before, typed)
	if rest, ok := behind(gearNames(b.Definitions), before); ok && len(rest) == 0 {
		for _, word := range checklist.StowWords {
			list = append(list, string(word))
		}
	}
	if rest, ok := behind(dated, before); ok && len(rest) == 0 {
		list = append(list, untilWord)
	}
	return list
}

// openDefects offers the defects by number.
func openDefects(b *offered, before []string, _ string) []string {
	m, ok := b.now()
	if !ok || len(before) > 0 {
		return nil
	}
	var list []string
	for _, d := range m.state.Defects {
		list = append(list, fmt.Sprintf("%d\t%s", d.Seq, d.What))
	}
	return list
}

// defectThenLook offers the defects that are walked, the looks of the card, and what may come of a look.
func defectThenLook(b *offered, before []string, typed string) []string {
	if len(before) == 0 {
		return openDefects(b, before, typed)
	}
	n, err := strconv.Atoi(before[0])
	m, ok := b.now()
	if err != nil || !ok {
		return nil
	}
	v, err := m.assess().Defect(n)
	if err != nil || !v.HasCard() {
		return nil
	}
	var looks, seen []string
	for _, s := range v.Walk.Suspects {
		looks = append(looks, s.Name)
	}
	for _, s := range checklist.SeenWords {
		seen = append(seen, string(s))
	}
	list := nextWords(looks, before[1:], typed)
	if rest, ok := behind(looks, before[1:]); ok {
		list = append(list, nextWords(seen, rest, typed)...)
	}
	return list
}

// passagesSigned offers the sign-offs by number, the latest first.
func passagesSigned(b *offered, before []string, _ string) []string {
	if b.dir == "" || !b.isKept() || len(before) > 1 {
		return nil
	}
	index, err := b.clock.store.Passages(record.Wanted{})
	if err != nil {
		return nil
	}
	list := []string{"last"}
	for _, h := range slices.Backward(index.Passages) {
		when := h.SignedAt
		if when.IsZero() {
			when = h.DepartAt
		}
		list = append(list, fmt.Sprintf("%d\t%s, %s", h.Number(), h.Passage, when.Format("2 Jan 2006")))
	}
	return list
}

// gauges are those of a reading, with the words of those that are not told in figures.
var gauges = []struct {
	name  string
	words []string
}{
	{"rpm", nil}, {"coolant", nil}, {"minutes", nil}, {"hours", nil}, {"oil", nil}, {"volts", nil}, {"sea", nil}, {"raw_out", nil}, {"speed", nil},
	{"under_way", []string{"yes", "no"}}, {"sails", []string{"up", "down"}}, {"water", []string{"usual", "little", "none", "steam"}},
	{"smoke", []string{"none", "black", "white", "blue"}}, {"note", nil},
}

// gaugesRead offers the gauges that were not told yet, each as GAUGE=, then its words.
func gaugesRead(_ *offered, before []string, typed string) []string {
	var list []string
	for _, gauge := range gauges {
		begins := gauge.name + "="
		switch {
		case strings.HasPrefix(typed, begins):
			for _, word := range gauge.words {
				list = append(list, begins+word)
			}
		case !slices.ContainsFunc(before, func(word string) bool { return strings.HasPrefix(word, begins) }):
			list = append(list, begins)
		}
	}
	return list
}

// namesOf are the names of a list.
func namesOf[T any](list []T, name func(T) string) []string {
	names := make([]string, len(list))
	for i, one := range list {
		names[i] = name(one)
	}
	return names
}

func tankNames(b *offered) []string {
	return namesOf(b.Boat.Tanks, func(t provisions.Tank) string { return t.Name })
}

// storeNames are what is counted: foods, and other things that are used up.
func storeNames(b *offered) []string {
	return append(foodNames(b), namesOf(b.Boat.Consumables, func(c provisions.Consumable) string { return c.Name })...)
}

func foodNames(b *offered) []string {
	return namesOf(b.Boat.Foods, func(f provisions.Food) string { return f.Name })
}

func serviceNames(b *offered) []string {
	return namesOf(b.Services, func(s machinery.Service) string { return s.Name })
}

func datedNames(b *offered) []string {
	return namesOf(b.Dated, func(d machinery.Dated) string { return d.Name })
}

func spareNames(b *offered) []string {
	return namesOf(b.Spares, func(s machinery.Spare) string { return s.Name })
}

func cardSigns(b *offered) []string {
	return namesOf(b.Cards, func(c machinery.Card) string { return c.Sign })
}

func eventNames(b *offered) []string { return b.EventNames() }

// findable is all that has a name, then the places.
func findable(b *offered) []string {
	return slices.Concat(gearNames(b.Definitions), datedNames(b), foodNames(b), placeNames(b))
}

// placeNames are the places in which something lies, each once.
func placeNames(b *offered) []string {
	var list []string
	for _, s := range b.Spares {
		for _, lot := range s.Stowed {
			list = append(list, lot.Place)
		}
	}
	for _, t := range b.Tools {
		list = append(list, t.Place)
	}
	for _, d := range b.Dated {
		list = append(list, d.Place)
	}
	for _, lot := range b.Boat.Lots {
		list = append(list, lot.Place)
	}
	slices.Sort(list)
	return slices.DeleteFunc(slices.Compact(list), func(place string) bool { return place == "" })
}

// harbours are where the legs of the plan begin and end.
func harbours(b *offered) []string {
	var list []string
	for _, leg := range b.Plan.Legs {
		for _, place := range []string{leg.From, leg.To} {
			if !slices.Contains(list, place) {
				list = append(list, place)
			}
		}
	}
	return list
}

// cautionNames are the ids that a reason is given to.
func cautionNames(b *offered) []string {
	m, ok := b.now()
	if !ok {
		return nil
	}
	return namesOf(m.assess().Cautions, checklist.Caution.ID)
}

// sectionNames are the sections, each behind its round.
func sectionNames(b *offered) []string {
	var list []string
	for _, r := range b.Rounds {
		for _, s := range r.Sections {
			list = append(list, r.Name+" "+s.Name)
		}
	}
	return list
}

// explained is what --explain knows.
func explained(b *offered) []string {
	list := []string{"water", "fuel", "food", "gas", "turning", "range", "load", "windows"}
	for i := range b.Plan.Legs {
		list = append(list, fmt.Sprintf("leg %d", i+1))
	}
	if m, ok := b.now(); ok {
		list = append(list, namesOf(m.assess().WhatIfs.List, provisions.WhatIf.Name)...)
	}
	return list
}
