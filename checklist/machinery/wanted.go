package machinery

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions/passage"
)

// Want is a part or a tool that is not aboard and should be.
type Want struct {
	Name     string
	Size     string
	With     []string // what belongs to one
	Count    int      // whole ones
	Loose    []Part   // parts that make whole again what lies aboard
	Critical bool
	IsTool   bool
	Why      []string
	Aboard   []string // what lies aboard and does not count, and where
}

// Wanted are the parts that are missing for this kind of passage and for the services that
// fall due before the slow arrival, critical ones first. What a service uses is counted on top of what
// the passage asks for: that is to be aboard against what breaks. An incomplete kit is made whole rather than bought
// anew. A tool is wanted where one of those services needs it and it is missing or seized.
func Wanted(kind passage.Kind, spares []Spare, forecasts []Forecast) []Want {
	var list []Want
	for _, s := range spares {
		if want, is := s.wanted(kind, forecasts); is {
			list = append(list, want)
		}
	}
	list = append(list, wantedTools(forecasts)...)
	slices.SortStableFunc(list, func(a, b Want) int { return cmp.Compare(asInt(b.Critical), asInt(a.Critical)) })
	return list
}

func (s Spare) wanted(kind passage.Kind, forecasts []Forecast) (w Want, is bool) {
	uses, why := usesOf(s.Name, forecasts)
	lack := s.Need[kind] + uses - s.Counts()
	if lack <= 0 {
		return Want{}, false
	}
	w = Want{Name: s.Name, Size: s.Size, With: s.With, Critical: s.Critical, Why: why, Aboard: s.WhyNot()}
	if need := s.Need[kind]; need > 0 {
		w.Why = append([]string{fmt.Sprintf("%s asks for %d, aboard count %d", kind, need, s.Counts())}, why...)
	}
	for _, stowed := range s.incomplete() {
		mended := min(lack, stowed.Count)
		lack -= mended
		for _, part := range s.lacksOf(stowed) {
			if mended > 0 {
				w.Loose = addPart(w.Loose, part, mended)
			}
		}
	}
	w.Count = lack
	return w, true
}

// usesOf is how many the services use before the slow arrival.
func usesOf(part string, forecasts []Forecast) (n int, why []string) {
	for _, f := range forecasts {
		uses := f.Times() * countOf(f.Service.Uses, part)
		n += uses
		if uses > 0 {
			why = append(why, fmt.Sprintf("%s takes %d, %s", f.Service.Name, uses, f.soon()))
		}
	}
	return n, why
}

func countOf(list []string, name string) int {
	n := 0
	for _, one := range list {
		if one == name {
			n++
		}
	}
	return n
}

// soon is when it falls due, in a word or two.
func (f Forecast) soon() string {
	if f.Falls == OnPassage {
		return fmt.Sprintf("due on day %d", f.First.Day)
	}
	if f.Falls == BeforeLeaving {
		return "due before leaving"
	}
	return "due now"
}

// incomplete are the new ones that would count if their kit were whole, those that lack least first.
func (s Spare) incomplete() []Stowed {
	list := slices.DeleteFunc(slices.Clone(s.Stowed), func(stowed Stowed) bool {
		whole := stowed
		whole.Has = s.With
		return s.counts(stowed) || !s.counts(whole)
	})
	slices.SortStableFunc(list, func(a, b Stowed) int { return cmp.Compare(len(s.lacksOf(a)), len(s.lacksOf(b))) })
	return list
}

func wantedTools(forecasts []Forecast) []Want {
	var list []Want
	for _, f := range forecasts {
		for _, tool := range f.Tools {
			if !f.IsDue() || !tool.stops() {
				continue
			}
			why := fmt.Sprintf("%s needs it, %s", f.Service.Name, f.soon())
			if i := slices.IndexFunc(list, func(w Want) bool { return w.Name == tool.Name }); i >= 0 {
				list[i].Why = append(list[i].Why, why)
				list[i].Critical = list[i].Critical || f.Service.Critical
				continue
			}
			list = append(list, Want{
				Name: tool.Name, Count: 1, IsTool: true, Critical: f.Service.Critical, Why: []string{"the one aboard is " + string(tool.State), why},
			})
		}
	}
	return list
}

// ToBuy is the want part by part: the thing itself, and all that belongs to it.
func (w Want) ToBuy() []Part {
	var list []Part
	if w.Count > 0 {
		list = append(list, Part{w.Name, w.Count})
		for _, part := range w.With {
			list = addPart(list, part, w.Count)
		}
	}
	for _, part := range w.Loose {
		list = addPart(list, part.Name, part.Count)
	}
	return list
}

// Aloud is the want to be read out over the radio, numbers as words: "raw-water impeller, six vanes,
// 51 x 22 mm, with gasket and O-ring: two".
func (w Want) Aloud() []string {
	name := w.Name
	if w.Size != "" {
		name += ", " + w.Size
	}
	var lines []string
	if w.Count > 0 {
		with := ""
		if len(w.With) > 0 {
			with = ", with " + andWords(w.With)
		}
		lines = append(lines, name+with+": "+numberWord(w.Count))
	}
	for _, part := range w.Loose {
		lines = append(lines, fmt.Sprintf("%s for the %s: %s", part.Name, name, numberWord(part.Count)))
	}
	return lines
}

func andWords(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	last := len(list) - 1
	return strings.Join(list[:last], ", ") + " and " + list[last]
}

// numberWord is a number as it is spoken, from thirteen on in figures.
func numberWord(n int) string {
	words := strings.Fields("none one two three four five six seven eight nine ten eleven twelve")
	if n < 0 || n >= len(words) {
		return fmt.Sprint(n)
	}
	return words[n]
}

// Errand is one thing to see to at a base.
type Errand struct {
	What   string
	Why    []string
	Takes  time.Duration // 0: not known
	Lacks  []string      // tools and parts that are not there for it
	Hauled bool          // only out of the water
}

// HauledOutWord is where the hull, the screw and what goes through the skin are looked at.
const HauledOutWord = "hauled out"

// BaseList is what waits for the next base.
type BaseList struct {
	Looks []Errand // suspects, and faults without a cause found
	Jobs  []Errand
	Parts []Want
}

// AtBase puts together what waits for the next base: of the walks of open defects the suspects that could not be
// cleared out there, unless a cause is found; the services due that are not done under way or lack something; the
// parts wanted; and the jobs that come from elsewhere, as those of defects. One look for two faults stands there once.
func AtBase(walks []Walk, forecasts []Forecast, wants []Want, more ...Errand) BaseList {
	list := BaseList{Parts: wants}
	for _, w := range walks {
		for _, look := range w.errands() {
			list.Looks = addErrand(list.Looks, look)
		}
	}
	for _, f := range forecasts {
		if f.IsDue() && (!f.Service.UnderWay || !f.CanBeDone()) {
			list.Jobs = append(list.Jobs, f.errand())
		}
	}
	list.Jobs = append(list.Jobs, more...)
	return list
}

func (w Walk) errands() []Errand {
	switch w.Stage() {
	case CauseFound:
		return nil
	case NoCause:
		return []Errand{{What: w.Card.Sign, Why: []string{fmt.Sprintf("no cause found: %s, all clean; it is not closed", counted(len(w.Suspects), "look"))}}}
	}
	var list []Errand
	for _, s := range w.ForBase() {
		why := w.Card.Sign
		if s.Seen == CouldNotLook {
			why += ": could not look"
		}
		if s.Seen == CouldNotLook && s.Said.Note != "" {
			why += ", " + s.Said.Note
		}
		list = append(list, Errand{What: s.Name, Why: []string{why}, Takes: s.Takes, Lacks: s.inTheWay(), Hauled: s.HauledOut})
	}
	return list
}

func addErrand(list []Errand, e Errand) []Errand {
	if i := slices.IndexFunc(list, func(o Errand) bool { return o.What == e.What }); i >= 0 {
		list[i].Why = append(list[i].Why, e.Why...)
		list[i].Takes = max(list[i].Takes, e.Takes)
		list[i].Hauled = list[i].Hauled || e.Hauled
		for _, lack := range e.Lacks {
			if !slices.Contains(list[i].Lacks, lack) {
				list[i].Lacks = append(list[i].Lacks, lack)
			}
		}
		return list
	}
	return append(list, e)
}

func (f Forecast) errand() Errand {
	e := Errand{What: f.Service.Name, Why: []string{f.when()}, Takes: f.Service.Takes, Lacks: partWords(f.Short)}
	for _, tool := range f.Tools {
		e.Lacks = append(e.Lacks, fmt.Sprintf("%s is %s", tool.Name, tool.State))
	}
	return e
}
