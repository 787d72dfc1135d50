package checklist

import (
	"cmp"
	"slices"
	"strings"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// Now is the definitions with what the record tells laid over the files: when services were last
// done, what lies where of the spares, where the tools are and what they are like, until when dated gear is good. The files' own
// are where it began, as opening levels are of tanks; what is no longer in the files is passed over.
// It is to be laid over the files alone: laid over twice, what was used is used twice.
func (d Definitions) Now(s State) Definitions {
	d.Services = d.servicesNow(s)
	if len(s.Stows) == 0 {
		return d
	}
	d.Spares, d.Tools, d.Dated = slices.Clone(d.Spares), slices.Clone(d.Tools), slices.Clone(d.Dated)
	for i := range d.Spares {
		d.Spares[i].Stowed = slices.Clone(d.Spares[i].Stowed)
	}
	for _, act := range s.Stows {
		d.stow(act.Stow)
	}
	return d
}

// JobsDone are the jobs that make the skipper's pace, oldest first.
func (s State) JobsDone() []machinery.Job {
	jobs := make([]machinery.Job, len(s.Jobs))
	for i, j := range s.Jobs {
		jobs[i] = j.Job
	}
	return jobs
}

func (d Definitions) servicesNow(s State) []machinery.Service {
	if len(s.Services) == 0 {
		return d.Services
	}
	services := slices.Clone(d.Services)
	for i := range services {
		if done, told := s.Services[services[i].Name]; told {
			services[i].Last = later(services[i].Last, d.doneOf(s, done))
		}
	}
	return services
}

// later is the one of the later date; of equal dates, and where the file tells no date, the one at
// more hours.
func later(file, record machinery.Done) machinery.Done {
	switch {
	case file.Date.After(record.Date):
		return file
	case file.Date.Before(record.Date) && !file.Date.IsZero():
		return record
	case file.Hours > record.Hours:
		return machinery.Done{Date: cmp.Or(file.Date, record.Date), Hours: file.Hours}
	}
	return record
}

// doneOf is when it was done; hours that were not told are those read last before the entry. Where
// none are known they are those of its time before, or none: it then falls due too early, never too late.
func (d Definitions) doneOf(s State, done ServiceState) machinery.Done {
	if done.Hours > 0 {
		return machinery.Done{Date: done.Date, Hours: done.Hours}
	}
	hours := 0.0
	for _, m := range s.meter() {
		if !m.At.After(done.At) && !quantity.DateOf(m.At.In(d.Plan.Depart.Location())).After(done.Date) {
			hours = max(hours, m.Hours)
		}
	}
	if i := slices.IndexFunc(d.Services, func(s machinery.Service) bool { return s.Name == done.Service }); hours == 0 && i >= 0 {
		hours = d.Services[i].Last.Hours
	}
	return machinery.Done{Date: done.Date, Hours: hours}
}

// stow does to the definitions what was done aboard; their slices must be their own.
func (d Definitions) stow(a Stow) {
	if a.Dated != "" {
		i := slices.IndexFunc(d.Dated, func(g machinery.Dated) bool { return g.Name == a.Dated })
		if i >= 0 && a.Until.After(d.Dated[i].Until) { // the file's, if it was written down there as well, or later
			d.Dated[i].Until = a.Until
		}
		return
	}
	if a.Tool != "" {
		if i := slices.IndexFunc(d.Tools, func(t machinery.Tool) bool { return t.Name == a.Tool }); i >= 0 {
			stowTool(&d.Tools[i], a)
		}
		return
	}
	if i := slices.IndexFunc(d.Spares, func(s machinery.Spare) bool { return s.Name == a.Spare }); i >= 0 {
		stowSpare(&d.Spares[i], a)
	}
}

func stowTool(t *machinery.Tool, a Stow) {
	if !slices.Contains([]StowWord{Bought, Moved, Lent, Back, Found}, a.Did) {
		return
	}
	if a.Did == Lent {
		t.Place, t.State = "lent: "+a.Note, machinery.Missing
		return
	}
	t.Place = orElse(a.To, t.Place)
	if a.State == "" && (a.Did == Bought || a.Did == Back) {
		a.State = machinery.Good
	}
	t.State = machinery.ToolState(orElse(string(a.State), string(t.State)))
}

// mostPieces is how many pieces of a spare one place may hold, as in spares.toml.
const mostPieces = 100000

func stowSpare(s *machinery.Spare, a Stow) {
	n := min(max(0, a.Count), mostPieces)
	switch a.Did {
	case Bought, Back:
		addPieces(s, a.like(a.To, n))
	case Lent:
		takePieces(s, a, n)
	case UsedUp:
		taken := takePieces(s, a, n)
		if a.Old != "" && taken > 0 {
			addPieces(s, oldOne(a.Old, taken))
		}
	case Moved:
		movePieces(s, a, n)
	case Found:
		foundPieces(s, a, n)
	}
}

// oldOne is a part that came out and is kept: it fitted, and no spare is made of it.
func oldOne(place string, n int) machinery.Stowed {
	return machinery.Stowed{Place: place, Count: n, Condition: machinery.Used, Fit: machinery.Proved}
}

// like is the pieces as the act tells them. What the record says in no word known counts for nothing.
func (a Stow) like(place string, n int) machinery.Stowed {
	lot := machinery.Stowed{Place: place, Count: n, Condition: a.Condition, Fit: a.Fit, Has: a.Has}
	if !slices.Contains(conditionWords, lot.Condition) {
		lot.Condition = machinery.Doubtful
	}
	if !slices.Contains(fitWords, lot.Fit) {
		lot.Fit = machinery.Unknown
	}
	return lot
}

var (
	conditionWords = []machinery.Condition{machinery.New, machinery.Used, machinery.Doubtful, machinery.Wrong}
	fitWords       = []machinery.Fit{machinery.Proved, machinery.Measured, machinery.Unknown}
)

// addPieces puts pieces to those of their kind in their place.
func addPieces(s *machinery.Spare, lot machinery.Stowed) {
	for i, there := range s.Stowed {
		if samePieces(there, lot) {
			s.Stowed[i].Count = min(there.Count+lot.Count, mostPieces)
			return
		}
	}
	if lot.Count > 0 {
		s.Stowed = append(s.Stowed, lot)
	}
}

func samePieces(a, b machinery.Stowed) bool {
	return placeKey(a.Place) == placeKey(b.Place) && a.Condition == b.Condition && a.Fit == b.Fit &&
		slices.Equal(slices.Sorted(slices.Values(a.Has)), slices.Sorted(slices.Values(b.Has)))
}

func takePieces(s *machinery.Spare, a Stow, n int) (taken int) {
	for _, lot := range pick(*s, a, n) {
		s.Stowed[lot.at].Count -= lot.n
		taken += lot.n
	}
	return taken
}

func movePieces(s *machinery.Spare, a Stow, n int) {
	for _, lot := range pick(*s, a, n) {
		s.Stowed[lot.at].Count -= lot.n
		moved := s.Stowed[lot.at]
		moved.Place, moved.Count = a.To, lot.n
		addPieces(s, moved)
	}
}

// picked is so many pieces of a lot.
type picked struct{ at, n int }

// pick finds the pieces to be taken, never more than there are: of the place named those of the condition
// told first, then those that count, then the others; where no place is named, or none of that name is
// known any more, those that count, in the files' order.
func pick(s machinery.Spare, a Stow, n int) []picked {
	named := placeKey(a.From) != "" && slices.ContainsFunc(s.Stowed, func(lot machinery.Stowed) bool { return placeKey(lot.Place) == placeKey(a.From) })
	var from []int
	for i, lot := range s.Stowed {
		if named && placeKey(lot.Place) == placeKey(a.From) || !named && countsOf(s, lot) {
			from = append(from, i)
		}
	}
	slices.SortStableFunc(from, func(i, j int) int { return cmp.Compare(turn(s, a, i), turn(s, a, j)) })
	var list []picked
	for _, i := range from {
		if take := min(n, s.Stowed[i].Count); take > 0 {
			list = append(list, picked{i, take})
			n -= take
		}
	}
	return list
}

// turn is in which turn a lot is taken from.
func turn(s machinery.Spare, a Stow, i int) int {
	lot := s.Stowed[i]
	switch {
	case a.Condition != "" && lot.Condition == a.Condition && (a.Fit == "" || a.Fit == lot.Fit):
		return 0
	case a.Condition != "" && lot.Condition == a.Condition:
		return 1
	case countsOf(s, lot):
		return 2
	}
	return 3
}

// countsOf says that a piece of the lot counts as aboard.
func countsOf(s machinery.Spare, lot machinery.Stowed) bool {
	lot.Count = 1
	s.Stowed = []machinery.Stowed{lot}
	return s.Counts() > 0
}

// foundPieces sets what a look into a place showed: that there, and nothing else of it; beside: nothing
// else of this condition.
func foundPieces(s *machinery.Spare, a Stow, n int) {
	lot := a.like(a.To, n)
	kept, at := make([]machinery.Stowed, 0, len(s.Stowed)+1), -1
	for _, there := range s.Stowed {
		if placeKey(there.Place) != placeKey(a.To) || a.Beside && there.Condition != lot.Condition {
			kept = append(kept, there)
		} else if at < 0 {
			at = len(kept)
		}
	}
	if at < 0 {
		at = len(kept)
	}
	s.Stowed = slices.Insert(kept, at, lot)
}

// placeKey is a place however it is written: its parts without the blanks round them, in small letters.
func placeKey(place string) string { return strings.ToLower(placePath(place)) }

// placePath is a place as a path: "fore cabin / box 3".
func placePath(place string) string {
	var parts []string
	for part := range strings.SplitSeq(place, "/") {
		if part = strings.Join(strings.Fields(part), " "); part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, " / ")
}
