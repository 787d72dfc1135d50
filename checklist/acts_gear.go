package checklist

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

// mostMinutes is how long a job may take: a week.
const mostMinutes = 10000

// ServiceInput is what was typed of a service that was done.
type ServiceInput struct {
	Service string
	Date    quantity.Date // zero: today
	Hours   float64       // of the hour-meter then, over all meters she has had; 0: as it was last read
	Minutes float64       // 0: not timed
	// What was taken. A part that the service uses and that is not named is taken by itself from
	// where it counts; Count 0 says that none was. Without a place it is taken from where it counts.
	Parts   []PartTaken
	NoParts bool   // nothing was taken, whatever the service uses
	Old     string // the place in which old parts are kept, where a part does not say it; "gone" or "": nowhere
	Note    string
}

// NewServiceDone is a service that was done; d is the files' definitions, before Now. Its date is not in the
// future nor before its last time, its hours not below those read before; the parts taken must be aboard.
func (d Definitions) NewServiceDone(s State, in ServiceInput, now time.Time) (ServiceDone, error) {
	now = now.In(d.Plan.Depart.Location())
	aboard := d.Now(s)
	service, err := aboard.serviceNamed(in.Service)
	if err != nil {
		return ServiceDone{}, err
	}
	done := ServiceDone{
		Service: service.Name, Date: in.Date, Hours: in.Hours, Minutes: in.Minutes, Planned: service.Takes.Minutes(), Note: strings.TrimSpace(in.Note),
	}
	if done.Date.IsZero() {
		done.Date = quantity.DateOf(now)
	}
	if done.Minutes == 0 {
		done.Minutes = 0 // minus nothing is nothing
	}
	if err := checkDone(s, service, done, now); err != nil {
		return ServiceDone{}, err
	}
	if done.Hours, err = d.hoursDone(s, service, done, now); err != nil {
		return ServiceDone{}, err
	}
	if done.Parts, err = aboard.partsTaken(service, in); err != nil {
		return ServiceDone{}, err
	}
	return done, checkText("note", done.Note)
}

func (d Definitions) serviceNamed(name string) (machinery.Service, error) {
	name = strings.TrimSpace(name)
	names := make([]string, len(d.Services))
	for i, s := range d.Services {
		if s.Name == name {
			return s, nil
		}
		names[i] = s.Name
	}
	if len(names) == 0 {
		return machinery.Service{}, refuse("upkeep.toml holds no service", "write one there: name, every_hours or every_months")
	}
	return machinery.Service{}, unknown("service", name, names)
}

// checkDone refuses a date and a time taken that cannot be.
func checkDone(s State, service machinery.Service, done ServiceDone, now time.Time) error {
	last := service.Last.Date
	switch {
	case done.Date.After(quantity.DateOf(now)):
		return refuse(fmt.Sprintf("%s is in the future: today is %s", done.Date, quantity.DateOf(now)), "write the day on which it was done")
	case done.Date.Before(last):
		cure := "its `last` in upkeep.toml says so: mend it there if it is wrong"
		if told, known := s.Services[service.Name]; known && told.Date == last {
			cure = fmt.Sprintf("entry %d says so: `hoveshort correct %d` if it is wrong", told.Seq, told.Seq)
		}
		return refuse(fmt.Sprintf("%s was done last on %s, after %s", service.Name, last, done.Date), cure)
	case !(done.Minutes >= 0 && done.Minutes <= mostMinutes):
		return refuse(fmt.Sprintf("it cannot have taken %g minutes", done.Minutes), fmt.Sprintf("write 0 to %d", mostMinutes))
	}
	return nil
}

// meterSlack and meterAhead are how much more than the clock an hour-meter may run, in hours and by
// share: meters and clocks are read to the tenth and to the minute. Common practice, no source.
const (
	meterSlack = 1
	meterAhead = 1.02
)

// hoursDone is the hour-meter at the service: as told, if it lies between what was read before and after;
// else as it was last read by then.
func (d Definitions) hoursDone(s State, service machinery.Service, done ServiceDone, now time.Time) (float64, error) {
	if !(done.Hours >= 0 && done.Hours <= math.MaxInt32) {
		return 0, refuse(fmt.Sprintf("the hour-meter cannot show %g h", done.Hours), "read it again")
	}
	seen := s.meterAround(done.Date, now)
	today := done.Date == quantity.DateOf(now)
	if seen.by.At.IsZero() && today {
		seen.before.Hours, seen.by.Hours = d.Boat.Engine.Hours, d.Boat.Engine.Hours
	}
	switch {
	case done.Hours > 0:
		return done.Hours, seen.check(service, done, now)
	case today || !seen.by.At.IsZero():
		return max(seen.by.Hours, service.Last.Hours), nil
	case service.EveryHours == 0:
		return 0, nil
	}
	return 0, refuse(fmt.Sprintf("the hour-meter was not read on %s or before", done.Date), "write what it showed then (--hours)")
}

// meterSeen is the hour-meter as it was read round a day. Of today all readings are before; those of a
// day gone by may be from before or after the service, and bound nothing.
type meterSeen struct {
	before, after provisions.Meter // before the service, after its day; zero: none
	by            provisions.Meter // the last of all by the end of the day
}

func (s State) meterAround(day quantity.Date, now time.Time) meterSeen {
	var seen meterSeen
	for _, m := range s.meter() {
		read := quantity.DateOf(m.At.In(now.Location()))
		if m.At.After(now) {
			continue
		}
		if !read.After(day) {
			seen.by = m
		}
		if read.Before(day) || read == day && day == quantity.DateOf(now) {
			seen.before = m
		}
		if read.After(day) && seen.after.At.IsZero() {
			seen.after = m
		}
	}
	return seen
}

// check refuses hours that the meter cannot have shown then.
func (m meterSeen) check(service machinery.Service, done ServiceDone, now time.Time) error {
	const cure = "read it again; of a new meter write the old one's hours and its own together"
	told := func(read provisions.Meter) string {
		if read.At.IsZero() {
			return hoursText(read.Hours) + " is its opening in boat.toml"
		}
		return hoursText(read.Hours) + " was read on " + quantity.DateOf(read.At.In(now.Location())).String()
	}
	switch last := service.Last; {
	case done.Hours < m.before.Hours:
		return refuse(fmt.Sprintf("the hour-meter cannot go backward to %s: %s", hoursText(done.Hours), told(m.before)), cure)
	case done.Hours < last.Hours:
		return refuse(fmt.Sprintf("the hour-meter cannot go backward to %s: %s was done last at %s", hoursText(done.Hours), service.Name, hoursText(last.Hours)), cure)
	case !m.after.At.IsZero() && done.Hours > m.after.Hours:
		return refuse(fmt.Sprintf("the hour-meter did not show %s by then: %s", hoursText(done.Hours), told(m.after)), "read it again, or write the day on which it was done")
	case m.before.At.IsZero():
		return nil
	}
	until := done.Date.End(now.Location())
	if until.After(now) {
		until = now
	}
	if ran := done.Hours - m.before.Hours; ran > until.Sub(m.before.At).Hours()*meterAhead+meterSlack {
		return refuse(fmt.Sprintf("the hour-meter cannot show %s: %s, and no engine runs so long in the time since", hoursText(done.Hours), told(m.before)), "read it again")
	}
	return nil
}

// hoursText shows engine hours as they were told.
func hoursText(hours float64) string { return strconv.FormatFloat(hours, 'f', -1, 64) + " h" }

// partsTaken are the parts that a service took, and from where; d is what is aboard, and its spares are taken
// from as they are found.
func (d Definitions) partsTaken(service machinery.Service, in ServiceInput) ([]PartTaken, error) {
	if in.NoParts {
		if len(in.Parts) > 0 {
			return nil, refuse("parts are named, and none was taken", "say one of the two")
		}
		return nil, nil
	}
	return d.takeParts(partsOf(service, in.Parts), in.Old, service.Name)
}

// takeParts takes parts for a job; old is where the old ones are kept, of those that do not say it.
func (d Definitions) takeParts(parts []PartTaken, old, job string) ([]PartTaken, error) {
	left := slices.Clone(d.Spares)
	for i := range left {
		left[i].Stowed = slices.Clone(left[i].Stowed)
	}
	var taken []PartTaken
	for _, part := range parts {
		if part.Count == 0 {
			continue
		}
		if part.Old == "" {
			part.Old = old
		}
		list, err := takePart(left, part, job)
		if err != nil {
			return nil, err
		}
		taken = append(taken, list...)
	}
	return taken, nil
}

// partsOf are the parts as they were told, and of what the service uses those that were not.
func partsOf(service machinery.Service, told []PartTaken) []PartTaken {
	parts := slices.Clone(told)
	for _, name := range service.Uses {
		if slices.ContainsFunc(told, func(p PartTaken) bool { return p.Spare == name }) {
			continue
		}
		if i := slices.IndexFunc(parts, func(p PartTaken) bool { return p.Spare == name }); i >= 0 {
			parts[i].Count++
			continue
		}
		parts = append(parts, PartTaken{Spare: name, Count: 1})
	}
	return parts
}

// takePart takes one part from what is left, from several places where no one is named and one has not enough.
func takePart(left []machinery.Spare, part PartTaken, job string) ([]PartTaken, error) {
	i := slices.IndexFunc(left, func(s machinery.Spare) bool { return s.Name == part.Spare })
	if i < 0 {
		return nil, unknown("spare", part.Spare, spareNames(left))
	}
	spare := &left[i]
	old, err := keptAt(part.Old, left)
	if err != nil {
		return nil, err
	}
	act := Stow{Spare: spare.Name, Did: UsedUp, Count: part.Count}
	if part.Place != "" {
		if act.From, err = fromPlace(*spare, part.Place); err != nil {
			return nil, err
		}
	} else if n := spare.Counts(); n < part.Count {
		return nil, refuse(
			fmt.Sprintf("%s takes %s, and %s (%s)", job, pieces(part.Count, spare.Name), countWords(n), lies(*spare)),
			"say from where it was taken, or that none was")
	}
	picked, err := pickAll(*spare, act)
	if err != nil {
		return nil, err
	}
	var taken []PartTaken
	for _, lot := range picked {
		spare.Stowed[lot.at].Count -= lot.n
		taken = addTaken(taken, PartTaken{Spare: spare.Name, Place: spare.Stowed[lot.at].Place, Count: lot.n, Old: old})
	}
	return taken, nil
}

// addTaken puts together what was taken from one place.
func addTaken(list []PartTaken, p PartTaken) []PartTaken {
	for i := range list {
		if placeKey(list[i].Place) == placeKey(p.Place) {
			list[i].Count += p.Count
			return list
		}
	}
	return append(list, p)
}

// pickAll is pick, refused where there is less, with what lies where; of a condition, if one is told.
func pickAll(s machinery.Spare, a Stow) ([]picked, error) {
	if err := checkPieces(s, a.Count); err != nil {
		return nil, err
	}
	from, there := pick(s, a, a.Count), 0
	if a.Condition != "" {
		from = slices.DeleteFunc(from, func(lot picked) bool { return s.Stowed[lot.at].Condition != a.Condition })
	}
	for _, lot := range from {
		there += lot.n
	}
	if there == a.Count {
		return from, nil
	}
	what := s.Name
	if a.Condition != "" {
		what = string(a.Condition) + " " + s.Name
	}
	return nil, refuse(fmt.Sprintf("%s holds %s, not %d", a.From, pieces(there, what), a.Count), lies(s))
}

func checkPieces(s machinery.Spare, n int) error {
	if n < 1 || n > mostPieces {
		return refuse(fmt.Sprintf("%d is no number of pieces of %s", n, s.Name), fmt.Sprintf("write 1 to %d", mostPieces))
	}
	return nil
}

// pieces is "1 impeller", "2 x impeller", "no impeller".
func pieces(n int, what string) string {
	switch n {
	case 0:
		return "no " + what
	case 1:
		return "1 " + what
	}
	return fmt.Sprintf("%d x %s", n, what)
}

// lies tells what is there of a spare and where.
func lies(s machinery.Spare) string {
	var list []string
	for _, lot := range s.Stowed {
		if lot.Count > 0 {
			list = append(list, fmt.Sprintf("%d %s in %s", lot.Count, lot.Condition, lot.Place))
		}
	}
	if len(list) == 0 {
		return "none is aboard by the record; look into the locker and tell what is found"
	}
	return "aboard: " + strings.Join(list, ", ")
}

func spareNames(spares []machinery.Spare) []string {
	names := make([]string, len(spares))
	for i, s := range spares {
		names[i] = s.Name
	}
	return names
}

// fromPlace is the place of a spare that was meant: its path, or how its path ends.
func fromPlace(s machinery.Spare, typed string) (string, error) {
	if err := checkPlace(typed); err != nil {
		return "", err
	}
	found := placesLike(typed, placesOf(s))
	if len(found) == 0 {
		return "", refuse(fmt.Sprintf("no %s lies in %q", s.Name, clip(typed)), lies(s))
	}
	return onlyPlace(typed, found)
}

// toPlace is a place aboard: one known by the end of its path, or a new one as it was typed.
func toPlace(typed string, known []string) (string, error) {
	if err := checkPlace(typed); err != nil {
		return "", err
	}
	found := placesLike(typed, known)
	if len(found) == 0 {
		return placePath(typed), nil
	}
	return onlyPlace(typed, found)
}

func onlyPlace(typed string, found []string) (string, error) {
	if len(found) > 1 {
		return "", refuse(fmt.Sprintf("%q may be %s", clip(typed), strings.Join(found, " or ")), "write the whole place")
	}
	return found[0], nil
}

func checkPlace(typed string) error {
	if err := checkText("place", typed); err != nil {
		return err
	}
	if placePath(typed) == "" {
		return refuse(fmt.Sprintf("%q is no place", clip(typed)), `write it as a path, like "fore cabin / box 3"`)
	}
	return nil
}

// keptAt is where an old part is kept; "": it is not.
func keptAt(typed string, spares []machinery.Spare) (string, error) {
	if slices.Contains([]string{"", "gone", "none"}, strings.ToLower(strings.TrimSpace(typed))) {
		return "", nil
	}
	var known []string
	for _, s := range spares {
		known = append(known, placesOf(s)...)
	}
	return toPlace(typed, known)
}

// placesOf are the places of a spare, also those of which nothing is left.
func placesOf(s machinery.Spare) []string {
	var places []string
	for _, lot := range s.Stowed {
		places = append(places, lot.Place)
	}
	return places
}

// gearPlaces are the places of all gear and stores.
func (d Definitions) gearPlaces() []string {
	var places []string
	for _, s := range d.Spares {
		places = append(places, placesOf(s)...)
	}
	for _, t := range d.Tools {
		if t.State != machinery.Missing {
			places = append(places, t.Place)
		}
	}
	for _, gear := range d.Dated {
		places = append(places, gear.Place)
	}
	for _, lot := range d.Boat.Lots {
		places = append(places, lot.Place)
	}
	return places
}

// placesLike are the places, each once, that are the one typed; where none is, those whose path ends like it.
func placesLike(typed string, known []string) []string {
	var ending []string
	seen := map[string]bool{"": true}
	asked := placeKey(typed)
	for _, place := range known {
		key := placeKey(place)
		if key == asked {
			return []string{placePath(place)}
		}
		if !seen[key] && strings.HasSuffix(key, " / "+asked) {
			ending = append(ending, placePath(place))
		}
		seen[key] = true
	}
	return ending
}

// NewStow is what was done with a spare or a tool of that name; d is the files' definitions, before Now. Of how Did
// says what, Count how many (of a spare; found: 0 is none), From and To where: paths, or how they end.
// Has may be "all" or "none". What is left out is taken so that nothing counts that was not said to: bought is new, of a fit that is
// unknown and without the parts of its kit; back as it was lent; found as it was known to lie there.
func (d Definitions) NewStow(s State, name string, how Stow) (Stow, error) {
	how.Spare, how.Tool, how.Note = "", "", strings.TrimSpace(how.Note)
	if err := checkText("note", how.Note); err != nil {
		return Stow{}, err
	}
	if !slices.Contains(StowWords, how.Did) {
		return Stow{}, refuse(fmt.Sprintf("%q is nothing done with gear", clip(string(how.Did))), "bought, used, moved, lent, back or found")
	}
	if how.Did == Lent && how.Note == "" {
		return Stow{}, refuse("it was lent, and nobody knows to whom", "say it in the note")
	}
	aboard, name := d.Now(s), strings.TrimSpace(name)
	names := spareNames(aboard.Spares)
	for _, spare := range aboard.Spares {
		if spare.Name == name {
			how.Spare = name
			return aboard.stowedSpare(s, spare, how)
		}
	}
	for _, tool := range aboard.Tools {
		if tool.Name == name {
			how.Tool = name
			return aboard.stowedTool(s, tool, how)
		}
		names = append(names, tool.Name)
	}
	return Stow{}, unknown("spare or tool", name, names)
}

// StowWords are what may be done with gear.
var StowWords = []StowWord{Bought, UsedUp, Moved, Lent, Back, Found}

// stowedSpare checks and completes what was done with a spare; d is what is aboard.
func (d Definitions) stowedSpare(s State, spare machinery.Spare, how Stow) (Stow, error) {
	if how.State != "" {
		return Stow{}, refuse(fmt.Sprintf("%s is a spare, and has a condition", spare.Name), "new, used, doubtful or wrong")
	}
	if err := checkLikeness(spare, &how); err != nil {
		return Stow{}, err
	}
	if how.Did == Found {
		return d.foundSpare(spare, how)
	}
	if err := checkPieces(spare, how.Count); err != nil {
		return Stow{}, err
	}
	if how.Did == Bought || how.Did == Back {
		return d.cameAboard(s, spare, how)
	}
	return d.wentFrom(spare, how)
}

// checkLikeness refuses what a spare cannot be like, and writes out "all" and "none" of its kit.
func checkLikeness(spare machinery.Spare, how *Stow) error {
	if how.Condition != "" && !slices.Contains(conditionWords, how.Condition) {
		return refuse(fmt.Sprintf("%q is no condition of a spare", clip(string(how.Condition))), "new, used, doubtful or wrong")
	}
	if how.Fit != "" && !slices.Contains(fitWords, how.Fit) {
		return refuse(fmt.Sprintf("%q is no fit", clip(string(how.Fit))), "proved, measured or unknown")
	}
	for _, part := range how.Has {
		if slices.Contains(spare.With, part) || len(how.Has) == 1 && (part == kitAll || part == kitNone) {
			continue
		}
		if len(spare.With) == 0 {
			return refuse(fmt.Sprintf("%s is no kit: nothing belongs to it", spare.Name), "leave its parts out")
		}
		return unknown("part of "+spare.Name, part, slices.Clone(spare.With))
	}
	return nil
}

// How a kit is told whole, or without any of its parts.
const (
	kitAll  = "all"
	kitNone = "none"
)

// kitOf are the parts that are there: as told, else as known.
func kitOf(spare machinery.Spare, told, known []string) []string {
	has := known
	if len(told) > 0 {
		has = told
	}
	if len(told) == 1 && !slices.Contains(spare.With, told[0]) {
		has = map[string][]string{kitAll: spare.With}[told[0]]
	}
	var there []string
	for _, part := range spare.With {
		if slices.Contains(has, part) {
			there = append(there, part)
		}
	}
	return there
}

// cameAboard is a spare bought, or one that was lent and is back.
func (d Definitions) cameAboard(s State, spare machinery.Spare, how Stow) (Stow, error) {
	known := Stow{Condition: machinery.New, Fit: machinery.Unknown}
	if how.Did == Back {
		known = lastLent(s, how)
		if out := outOnLoan(s, how); known.Did == Lent && how.Count > out {
			return Stow{}, refuse(fmt.Sprintf("%s out on loan, by the record, not %d", isAre(pieces(out, spare.Name), out), how.Count), "write what came back; more than that was bought, or found")
		}
	}
	how.From, how.Old, how.Beside = "", "", false
	if how.Condition == "" && known.Condition == "" {
		return Stow{}, refuse(fmt.Sprintf("what %s is like is not known: it was never lent by the record", spare.Name), "say whether it is new, used, doubtful or wrong")
	}
	if how.Condition != "" && how.Condition != known.Condition {
		known = Stow{From: known.From, Fit: machinery.Unknown}
	}
	how.Condition = machinery.Condition(orElse(string(how.Condition), string(known.Condition)))
	how.Fit = machinery.Fit(orElse(string(how.Fit), string(known.Fit)))
	how.Has = kitOf(spare, how.Has, known.Has)
	how.To = orElse(how.To, known.From)
	if how.To == "" {
		return Stow{}, refuse("where it was stowed is not known", `say the place, like "fore cabin / box 3"`)
	}
	var err error
	how.To, err = toPlace(how.To, d.gearPlaces())
	return how, err
}

// outOnLoan is how many of a spare were lent and are not back.
func outOnLoan(s State, how Stow) int {
	out := 0
	for _, act := range s.Stows {
		switch {
		case act.Spare != how.Spare:
		case act.Did == Lent:
			out += act.Count
		case act.Did == Back:
			out = max(0, out-act.Count)
		}
	}
	return out
}

func isAre(what string, n int) string {
	if n == 1 {
		return what + " is"
	}
	return what + " are"
}

// lastLent is how the thing was lent last; zero: it was not, by the record.
func lastLent(s State, how Stow) Stow {
	for _, act := range slices.Backward(s.Stows) {
		if act.Did == Lent && act.Spare == how.Spare && act.Tool == how.Tool {
			return act.Stow
		}
	}
	return Stow{}
}

// wentFrom is a spare that was used, moved or lent.
func (d Definitions) wentFrom(spare machinery.Spare, how Stow) (Stow, error) {
	var err error
	if how.From, err = d.leftPlace(spare, how); err != nil {
		return Stow{}, err
	}
	picked, err := pickAll(spare, how)
	if err != nil {
		return Stow{}, err
	}
	lot := spare.Stowed[picked[0].at]
	how.Fit, how.Has, how.Beside = "", nil, false
	if how.Did == Lent { // so that it comes back as what it was
		how.Condition, how.Fit, how.Has = lot.Condition, lot.Fit, kitOf(spare, lot.Has, nil)
	}
	if how.Did == UsedUp {
		how.To = ""
		how.Old, err = keptAt(how.Old, d.Spares)
		return how, err
	}
	how.Old = ""
	if how.Did == Lent {
		how.To = ""
		return how, nil
	}
	return d.movedTo(how, d.gearPlaces())
}

// leftPlace is from where it was taken. Where that is not told: for using and lending the first place in which so many count,
// for moving the only one.
func (d Definitions) leftPlace(spare machinery.Spare, how Stow) (string, error) {
	if how.From != "" {
		return fromPlace(spare, how.From)
	}
	var holds []string
	for _, lot := range spare.Stowed {
		if lot.Count == 0 || how.Condition != "" && lot.Condition != how.Condition {
			continue
		}
		if how.Did != Moved && lot.Count >= how.Count && countsOf(spare, lot) {
			return lot.Place, nil
		}
		if !slices.ContainsFunc(holds, func(place string) bool { return placeKey(place) == placeKey(lot.Place) }) {
			holds = append(holds, lot.Place)
		}
	}
	if len(holds) == 1 {
		return holds[0], nil
	}
	return "", refuse(fmt.Sprintf("from where %s was %s is not known", spare.Name, how.Did), lies(spare))
}

func (d Definitions) movedTo(how Stow, known []string) (Stow, error) {
	if how.To == "" {
		return Stow{}, refuse("where it was moved to is not known", `say the place, like "fore cabin / box 3"`)
	}
	to, err := toPlace(how.To, known)
	if err != nil {
		return Stow{}, err
	}
	if placeKey(to) == placeKey(how.From) {
		return Stow{}, refuse(fmt.Sprintf("%s lies in %s already", orElse(how.Spare, how.Tool), to), "say where it lies now")
	}
	how.To = to
	return how, nil
}

// foundSpare is a look into a place.
func (d Definitions) foundSpare(spare machinery.Spare, how Stow) (Stow, error) {
	how.From, how.Old = "", ""
	if how.Count < 0 || how.Count > mostPieces {
		return Stow{}, refuse(fmt.Sprintf("%d is no number of pieces of %s", how.Count, spare.Name), fmt.Sprintf("write 0 to %d", mostPieces))
	}
	if how.To == "" {
		return Stow{}, refuse("which place was looked into is not known", `say it, like "fore cabin / box 3"`)
	}
	var err error
	if how.To, err = toPlace(how.To, append(placesOf(spare), d.gearPlaces()...)); err != nil {
		return Stow{}, err
	}
	if how.Beside && how.Condition == "" {
		return Stow{}, refuse("beside what else lies there", "say which were looked at: new, used, doubtful or wrong")
	}
	if how.Count == 0 {
		how.Fit, how.Has = "", nil
		return how, nil
	}
	known, is := knownThere(spare, how)
	if !is && how.Condition == "" {
		return Stow{}, refuse(fmt.Sprintf("what %s in %s is like is not known", spare.Name, how.To), "say whether it is new, used, doubtful or wrong")
	}
	how.Condition = machinery.Condition(orElse(string(how.Condition), string(known.Condition)))
	how.Fit = machinery.Fit(orElse(orElse(string(how.Fit), string(known.Fit)), string(machinery.Unknown)))
	how.Has = kitOf(spare, how.Has, known.Has)
	return how, nil
}

// knownThere is what was known to lie in the place, of the condition told; is false where that is not one thing.
func knownThere(spare machinery.Spare, how Stow) (lot machinery.Stowed, is bool) {
	for _, there := range spare.Stowed {
		if there.Count == 0 || placeKey(there.Place) != placeKey(how.To) || how.Condition != "" && there.Condition != how.Condition {
			continue
		}
		if is {
			return machinery.Stowed{}, false
		}
		lot, is = there, true
	}
	return lot, is
}

// stowedTool checks and completes what was done with a tool; d is what is aboard.
func (d Definitions) stowedTool(s State, tool machinery.Tool, how Stow) (Stow, error) {
	switch {
	case how.Did == UsedUp:
		return Stow{}, refuse(fmt.Sprintf("%s is a tool, and is not used up", tool.Name), "say in which state it was found: good, stiff, seized or missing")
	case how.Condition != "" || how.Fit != "" || len(how.Has) > 0 || how.Old != "" || how.Beside:
		return Stow{}, refuse(fmt.Sprintf("%s is a tool, and has a state", tool.Name), "good, stiff, seized or missing")
	case how.State != "" && !slices.Contains(toolWords, how.State):
		return Stow{}, refuse(fmt.Sprintf("%q is no state of a tool", clip(string(how.State))), "good, stiff, seized or missing")
	case how.Count < 0 || how.Count > 1:
		return Stow{}, refuse(fmt.Sprintf("there is one %s", tool.Name), "leave the number out")
	}
	how.Count = 0
	known := d.gearPlaces()
	switch how.Did {
	case Lent:
		how.From, how.To, how.State = orElse(tool.Place, how.From), "", ""
		return how, nil
	case Moved:
		how.From, how.State = tool.Place, ""
		return d.movedTo(how, known)
	}
	how.From = ""
	how, err := completeTool(s, tool, how)
	if err != nil || how.To == "" {
		return how, err
	}
	how.To, err = toPlace(how.To, known)
	return how, err
}

var toolWords = []machinery.ToolState{machinery.Good, machinery.Stiff, machinery.Seized, machinery.Missing}

// completeTool says of a tool that came, or was found, where it is and what it is like.
func completeTool(s State, tool machinery.Tool, how Stow) (Stow, error) {
	place := tool.Place
	if lent := lastLent(s, how); lent.Did == Lent && tool.State == machinery.Missing {
		place = lent.From
	}
	switch {
	case how.Did == Found && how.To == "" && how.State == "":
		return Stow{}, refuse("what was found is not known", "say where it is, or its state: good, stiff, seized or missing")
	case how.Did == Found && how.State == "" && tool.State != machinery.Missing:
		how.State = tool.State
	case how.Did == Bought && how.To == "":
		return Stow{}, refuse("where it was stowed is not known", `say the place, like "fore cabin / box 3"`)
	}
	how.To = orElse(how.To, place)
	how.State = machinery.ToolState(orElse(string(how.State), string(machinery.Good)))
	return how, nil
}

// NewRenewal is dated gear that was renewed, with its new end; d is the files' definitions, before Now. The end is not in the
// past, and not before the one that is known.
func (d Definitions) NewRenewal(s State, name string, until quantity.Date, note string, now time.Time) (Stow, error) {
	name, aboard := strings.TrimSpace(name), d.Now(s)
	i := slices.IndexFunc(aboard.Dated, func(g machinery.Dated) bool { return g.Name == name })
	if i < 0 {
		if len(aboard.Dated) == 0 {
			return Stow{}, refuse("dated.toml lists no dated gear", "write it there: name, until, place")
		}
		return Stow{}, unknown("dated gear", name, datedNames(aboard.Dated))
	}
	today := quantity.DateOf(now.In(d.Plan.Depart.Location()))
	known := aboard.Dated[i].Until
	switch {
	case until.IsZero():
		return Stow{}, refuse(fmt.Sprintf("until when %s is good was not said", name), "read it off the new one, like 2029-05-01")
	case until.Before(today):
		return Stow{}, refuse(fmt.Sprintf("%s is past: today is %s", until, today), "write the last day on which the new one counts")
	case until == known:
		return Stow{}, refuse(fmt.Sprintf("%s is good until %s already", name, known), "nothing needs writing")
	case until.Before(known):
		cure := "its `until` in dated.toml says so: mend it there if it is wrong"
		if told := s.renewed(name); told > 0 {
			cure = fmt.Sprintf("entry %d says so: `hoveshort correct %d REASON` if it is wrong", told, told)
		}
		return Stow{}, refuse(fmt.Sprintf("%s is good until %s already, later than %s", name, known, until), cure)
	}
	act := Stow{Dated: name, Until: until, Note: strings.TrimSpace(note)}
	return act, checkText("note", act.Note)
}

// renewed is the entry that renewed the gear last; 0: none did.
func (s State) renewed(name string) int {
	for _, act := range slices.Backward(s.Stows) {
		if act.Dated == name {
			return act.Seq
		}
	}
	return 0
}

func datedNames(list []machinery.Dated) []string {
	names := make([]string, len(list))
	for i, g := range list {
		names[i] = g.Name
	}
	return names
}
