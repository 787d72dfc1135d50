package machinery

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"boat/hoveshort/provisions/quantity"
)

// Thing is anything aboard that can be looked for.
type Thing struct {
	Name    string
	Kind    string   // "spare", "tool", "dated", "food" …
	Words   []string // others it may be asked for by: its size, the parts of its kit
	Place   string   // a path: "fore cabin / under the berth / box 3"
	Note    string   // "2 new", "best before 2027-02-01"
	Warning string   // why it may not serve; "": it does
	More    string   // looked through like the note, and not shown
}

// Found is a thing that was found.
type Found struct {
	Thing
	Guess  bool // found only with mistakes forgiven
	InHere bool // the question named its place
	At     int  // which of the things it is, as NewIndex was given them
	Rank   int  // 0 for the best; the same for what serves the question equally well
}

// Index is a list of things made ready to be searched.
type Index struct {
	things []indexed
	words  []word // each once
	places []place
}

type indexed struct {
	Thing
	at    int
	name  string // folded, one blank between words
	terms []term
	run   string // all its words without blanks, a field a line
	place int
}

// term is a word of a thing and in which of its fields it stands.
type term struct {
	word  int
	field field
}

type field int

// The fields, in the order in which a hit in them is worth.
const (
	inName field = iota
	inWords
	inPlace
	inNote // nothing is forgiven in it: "belt" is not "best before"
)

type word struct {
	text    string
	runes   []rune
	letters uint64
}

type place struct {
	path []string // folded segments
}

// NewIndex makes things ready to be searched.
func NewIndex(things []Thing) Index {
	x := Index{things: make([]indexed, len(things))}
	known, places := map[string]int{}, map[string]int{}
	for i, t := range things {
		x.things[i] = x.index(t, known, places)
		x.things[i].at = i
	}
	return x
}

func (x *Index) index(t Thing, known, places map[string]int) indexed {
	item := indexed{Thing: t, name: strings.Join(terms(t.Name), " ")}
	var run strings.Builder
	for at, text := range []string{t.Name, strings.Join(t.Words, " "), t.Place, t.Kind + " " + t.Note + " " + t.Warning + " " + t.More} {
		for _, w := range terms(text) {
			id, is := known[w]
			if !is {
				id = len(x.words)
				known[w] = id
				x.words = append(x.words, newWord(w))
			}
			item.terms = append(item.terms, term{id, field(at)})
			run.WriteString(w)
		}
		run.WriteByte('\n')
	}
	item.run = run.String()

	path := segments(t.Place)
	key := strings.Join(path, "/")
	id, is := places[key]
	if !is {
		id = len(x.places)
		places[key] = id
		x.places = append(x.places, place{path})
	}
	item.place = id
	return item
}

func newWord(text string) word {
	w := word{text: text, runes: []rune(text)}
	for _, r := range w.runes {
		w.letters |= 1 << (r % 64)
	}
	return w
}

// Find is what the words of a question may mean, best first: every word must be found in the
// thing, as a whole word, its beginning or a part of it, in any case, with or without accents,
// and with one letter wrong, missing, too many or changed about (two in a word of five letters and more).
// What needed forgiving comes last, two mistakes only where nothing is found outright. A question that names a place, by its path or a part of it, finds what lies there first;
// where nothing else is found, also the place that is nearly called so.
func (x Index) Find(question string) []Found {
	asked := terms(question)
	found := x.find(question, asked)
	if len(found) > 0 && !found[0].Guess {
		return found
	}
	if better := x.plainly(asked); len(better) > 0 {
		return better
	}
	if len(found) == 0 {
		return x.nearlyIn(segments(question))
	}
	return found
}

// plainly asks without the words that name nothing; none where there are none of them.
func (x Index) plainly(asked []string) []Found {
	plain := slices.DeleteFunc(slices.Clone(asked), isFiller)
	if len(plain) == 0 || len(plain) == len(asked) {
		return nil
	}
	return x.find(strings.Join(plain, " "), plain)
}

// nearlyIn is what lies in the places that are nearly called so: "bx 3" is box 3, and never box 30.
func (x Index) nearlyIn(asked []string) []Found {
	if len(asked) == 0 {
		return nil
	}
	here := x.placesThat(asked, isNearly)
	var found []Found
	for _, item := range x.things {
		if here[item.place] {
			found = append(found, Found{Thing: item.Thing, Guess: true, InHere: true, At: item.at})
		}
	}
	slices.SortStableFunc(found, func(a, b Found) int {
		return cmp.Or(cmp.Compare(a.Place, b.Place), cmp.Compare(a.Name, b.Name))
	})
	return found
}

// isNearly says that a part of a path has as many words as the one asked for, each with a letter wrong at most and
// begun with the right one; numbers are the same.
func isNearly(part, asked string) bool {
	have, want := strings.Fields(part), strings.Fields(asked)
	if len(have) != len(want) {
		return false
	}
	for i, w := range want {
		if have[i] != w && (isNumber(w) || isNumber(have[i]) || []rune(w)[0] != []rune(have[i])[0] || len(w) < 2 || Distance(w, have[i], 1) > 1) {
			return false
		}
	}
	return true
}

func isNumber(w string) bool {
	return w != "" && strings.TrimFunc(w, unicode.IsDigit) == ""
}

// In is what lies in a place, and in the places within it: "cockpit", "cockpit / port locker", or
// only "port locker"; the last word may be begun only. By place, then by name.
func (x Index) In(where string) []Thing {
	var list []Thing
	here, _ := x.placesNamed(segments(where))
	for _, item := range x.things {
		if here[item.place] {
			list = append(list, item.Thing)
		}
	}
	slices.SortStableFunc(list, func(a, b Thing) int {
		return cmp.Or(cmp.Compare(a.Place, b.Place), cmp.Compare(a.Name, b.Name))
	})
	return list
}

// fillers are words that a question may hold and that name nothing.
var fillers = strings.Fields("what where which is are lies lie in on at the a an of my our do does i we have one there any")

func isFiller(w string) bool { return slices.Contains(fillers, w) }

// hit is a thing found and what its order among the others hangs on.
type hit struct {
	Found
	whole bool // the question is its very name
	far   bool // two mistakes were forgiven in a word
	cost  int
	extra int // letters of its name beyond the question
}

func (x Index) find(question string, asked []string) []Found {
	if len(asked) == 0 {
		return nil
	}
	costs := make([][]cost, len(asked))
	for i, w := range asked {
		costs[i] = x.costs(newWord(w))
	}
	here, exact := x.placesNamed(segments(question))
	meansPlace := exact || strings.Contains(question, "/") // else a place only begun is not set before all names
	if exact {
		x.wholeNumbers(asked, costs)
	}
	whole := strings.Join(asked, " ")

	var hits []hit
	for i := range x.things {
		item := &x.things[i]
		total, worst := item.judge(asked, costs)
		switch {
		case meansPlace && here[item.place]:
			total, worst = 0, 0
		case worst == nowhere:
			continue
		}
		hits = append(hits, hit{
			Found: Found{Thing: item.Thing, Guess: worst >= forgiven, InHere: here[item.place], At: item.at},
			whole: item.name == whole, far: worst >= 2*forgiven, cost: total, extra: max(0, len(item.name)-len(whole)),
		})
	}
	slices.SortStableFunc(hits, compareHits)

	var found []Found
	rank := 0
	for i, h := range hits {
		if i > 0 && compareServing(hits[i-1], h) != 0 {
			rank++
		}
		if h.far && !hits[0].Guess {
			continue
		}
		h.Rank = rank
		found = append(found, h.Found)
	}
	return found
}

// wholeNumbers lets no number be taken for the beginning of another: who names box 3 does not mean box 30.
func (x Index) wholeNumbers(asked []string, costs [][]cost) {
	for i, w := range asked {
		for j := range costs[i] {
			if isNumber(w) && isNumber(x.words[j].text) && x.words[j].text != w {
				costs[i][j] = nowhere
			}
		}
	}
}

// compareServing is how well they serve the question, whatever they are called.
func compareServing(a, b hit) int {
	return cmp.Or(
		cmp.Compare(asInt(b.whole), asInt(a.whole)),
		cmp.Compare(asInt(a.Guess), asInt(b.Guess)),
		cmp.Compare(a.cost, b.cost),
	)
}

func compareHits(a, b hit) int {
	return cmp.Or(
		compareServing(a, b),
		cmp.Compare(a.extra, b.extra),
		cmp.Compare(a.Name, b.Name),
		cmp.Compare(asInt(a.Warning != ""), asInt(b.Warning != "")),
		cmp.Compare(a.Place, b.Place),
	)
}

// cost is how far a word is from the one asked for; 0 is the same.
type cost uint8

// The costs of a hit. Those from forgiven on needed a mistake to be forgiven. The field
// in which the word stands is added, so that the name comes before the place.
const (
	begins   cost = 10
	holds    cost = 20
	runsInto cost = 30 // it is there across a blank: "51x22" in "51 x 22 mm"
	forgiven cost = 40 // and as much for each mistake more
	aside    cost = 3  // for each field
	nowhere  cost = 255
)

// judge is what all the words asked for cost together, and the worst of them; that is nowhere where
// one is not in the thing.
func (t *indexed) judge(asked []string, costs [][]cost) (total int, worst cost) {
	for i, w := range asked {
		best := t.best(w, costs[i])
		total, worst = total+int(best), max(worst, best)
		if worst == nowhere {
			break
		}
	}
	return total, worst
}

func (t *indexed) best(asked string, costs []cost) cost {
	best := nowhere
	for _, term := range t.terms {
		if c := costs[term.word]; c < forgiven || c < nowhere && term.field != inNote {
			best = min(best, c+cost(term.field)*aside)
		}
	}
	if best >= forgiven && len(asked) > 3 && strings.Contains(t.run, asked) {
		return runsInto
	}
	return best
}

func (x Index) costs(asked word) []cost {
	costs := make([]cost, len(x.words))
	var d distancer
	for i, w := range x.words {
		costs[i] = asked.cost(w, &d)
	}
	return costs
}

func (w word) cost(of word, d *distancer) cost {
	switch {
	case w.text == of.text:
		return 0
	case strings.HasPrefix(of.text, w.text):
		return begins
	case len(w.runes) > 1 && strings.Contains(of.text, w.text):
		return holds
	}
	most := forgives(len(w.runes))
	// Each letter that the other has not is a mistake at least.
	if bits.OnesCount64(w.letters&^of.letters) > most || len(w.runes)-len(of.runes) > most {
		return nowhere
	}
	whole, begun := d.measure(w.runes, of.runes)
	switch {
	case whole <= forgives(min(len(w.runes), len(of.runes))):
		return forgiven * cost(whole)
	case len(w.runes) >= longWord && begun <= 1: // typed as far as here, one letter wrong
		return forgiven * 2
	}
	return nowhere
}

// longWord is a word of so many letters that two of them may be wrong.
const longWord = 5

// forgives is how many mistakes a word of so many letters may have.
func forgives(letters int) int {
	switch {
	case letters < 3:
		return 0
	case letters < longWord:
		return 1
	}
	return 2
}

// placesNamed are the places whose path holds the one asked for, from its beginning or from any part
// on. Where there is none, its last part is taken as only begun: "box 1" is not box 12 if there is a box 1.
func (x Index) placesNamed(asked []string) (here []bool, exact bool) {
	if len(asked) == 0 {
		return make([]bool, len(x.places)), false
	}
	here = x.placesThat(asked, func(part, last string) bool { return part == last })
	if slices.Contains(here, true) {
		return here, true
	}
	return x.placesThat(asked, strings.HasPrefix), false
}

func (x Index) placesThat(asked []string, ends func(part, last string) bool) []bool {
	here := make([]bool, len(x.places))
	last := len(asked) - 1
	for i, p := range x.places {
		for from := 0; from+last < len(p.path) && !here[i]; from++ {
			here[i] = slices.Equal(p.path[from:from+last], asked[:last]) && ends(p.path[from+last], asked[last])
		}
	}
	return here
}

// segments are the parts of a path, folded; parts without a letter are left out.
func segments(path string) []string {
	var list []string
	for part := range strings.SplitSeq(path, "/") {
		if words := terms(part); len(words) > 0 {
			list = append(list, strings.Join(words, " "))
		}
	}
	return list
}

// terms are the words of a text, folded. A text of signs alone is one word.
func terms(text string) []string {
	folded := fold(text)
	words := strings.FieldsFunc(folded, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) == 0 {
		return strings.Fields(folded)
	}
	return words
}

// fold puts a text into small letters without accents.
func fold(text string) string {
	var b strings.Builder
	b.Grow(len(text))
	for _, r := range text {
		r = unicode.ToLower(r)
		if r < utf8.RuneSelf {
			b.WriteByte(byte(r))
			continue
		}
		if plain, has := accents[r]; has {
			b.WriteString(plain)
		} else if !unicode.Is(unicode.Mn, r) { // an accent that stands by itself
			b.WriteRune(r)
		}
	}
	return b.String()
}

// accents are the letters with something to them, and what is typed for them in haste.
var accents = accentsOf(
	"aàáâãäåāăąǎ", "cçćĉċč", "dďđð", "eèéêëēĕėęě", "gĝğġģ", "hĥħ", "iìíîïĩīĭįı", "jĵ", "kķ", "lĺļľŀł", "nñńņňŉ",
	"oòóôõöøōŏőǒ", "rŕŗř", "sśŝşšșſ", "tţťŧț", "uùúûüũūŭůűųǔ", "wŵ", "yýÿŷ", "zźżž", "σς",
)

func accentsOf(rows ...string) map[rune]string {
	plain := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'þ': "th", 'ĳ': "ij"}
	for _, row := range rows {
		letters := []rune(row)
		for _, r := range letters[1:] {
			plain[r] = string(letters[0])
		}
	}
	return plain
}

// Distance is the number of single letters wrong, missing, too many or changed about with their
// neighbour (the optimal string alignment distance, no part changed twice); case counts. What is surely more than
// most is given as most+1.
func Distance(a, b string, most int) int {
	from, to := []rune(a), []rune(b)
	if max(len(from), len(to))-min(len(from), len(to)) > most {
		return most + 1
	}
	var d distancer
	whole, _ := d.measure(from, to)
	return min(whole, most+1)
}

// distancer keeps the rows of its table from one word to the next.
type distancer struct{ before, last, row []int }

// measure is the distance of a from b, and from that beginning of b that is nearest.
func (d *distancer) measure(a, b []rune) (whole, begun int) {
	n := len(b) + 1
	if cap(d.row) < n {
		d.before, d.last, d.row = make([]int, n), make([]int, n), make([]int, n)
	}
	before, last, row := d.before[:n], d.last[:n], d.row[:n]
	for j := range last {
		last[j] = j
	}
	for i := range a {
		row[0] = i + 1
		for j := range b {
			change := last[j]
			if a[i] != b[j] {
				change++
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, change)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)], slices.Min(last)
}

// SpareThings are the spares as things to be found, one for each place; one that lies nowhere
// is found too, and says so.
func SpareThings(spares []Spare) []Thing {
	var list []Thing
	for _, s := range spares {
		before := len(list)
		for _, stowed := range s.Stowed {
			if stowed.Count > 0 {
				list = append(list, s.thing(stowed))
			}
		}
		if len(list) == before {
			list = append(list, Thing{Name: s.Name, Kind: "spare", Words: s.askedBy(), Warning: "none aboard"})
		}
	}
	return list
}

func (s Spare) askedBy() []string { return append([]string{s.Size}, s.With...) }

func (s Spare) thing(stowed Stowed) Thing {
	t := Thing{
		Name: s.Name, Kind: "spare", Words: s.askedBy(), Place: stowed.Place,
		Note: strings.Join(strings.Fields(fmt.Sprintf("%d %s %s", stowed.Count, stowed.Condition, s.Size)), " "),
	}
	switch lacks := s.lacksOf(stowed); {
	case stowed.Condition == Used:
		t.Warning = "used: no spare, to get home on only"
	case stowed.Condition == Doubtful:
		t.Warning = "doubtful: it does not count"
	case stowed.Condition == Wrong:
		t.Warning = "wrong: it does not fit"
	case len(lacks) > 0:
		t.Warning = "without its " + strings.Join(lacks, " and ")
	case stowed.Fit == Unknown && s.Critical:
		t.Warning = "nobody has tried or measured whether it fits"
	case !s.counts(stowed):
		t.Warning = "it does not count"
	}
	return t
}

// lacksOf are the parts of the kit that are not with it.
func (s Spare) lacksOf(stowed Stowed) []string {
	return slices.DeleteFunc(slices.Clone(s.With), func(part string) bool { return slices.Contains(stowed.Has, part) })
}

// ToolThings are the tools as things to be found.
func ToolThings(tools []Tool) []Thing {
	list := make([]Thing, len(tools))
	for i, t := range tools {
		list[i] = Thing{Name: t.Name, Kind: "tool", Place: t.Place}
		if t.State != Good && t.State != "" {
			list[i].Warning = string(t.State)
		}
	}
	return list
}

// DatedThings are the dated gear as things to be found, as of a moment in the boat's offset.
func DatedThings(gear []Dated, at time.Time) []Thing {
	list := make([]Thing, len(gear))
	for i, d := range gear {
		list[i] = Thing{Name: d.Name, Kind: "dated", Place: d.Place, Note: "good until " + d.Until.String()}
		if d.Until.IsZero() {
			list[i].Note, list[i].Warning = "", "its date is not written"
		} else if d.Ends(at) {
			list[i].Note, list[i].Warning = "", fmt.Sprintf("ended on %s, %s ago", d.Until, counted(d.Until.DaysUntil(quantity.DateOf(at)), "day"))
		}
	}
	return list
}
