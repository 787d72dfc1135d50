package machinery

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// Stint is a part of the voyage in which the engine runs a steady share of the time.
type Stint struct {
	Start  time.Time
	Hours  float64 // of the clock; one that is not over 0 is passed over
	Engine float64 // engine hours an hour, charging included, 0 to 1
	AtSea  bool    // else at anchor, in a stay or a wait
}

// Ahead is what a forecast looks out on: where the hour-meter stands, and the slow voyage.
type Ahead struct {
	Now    time.Time
	Meter  float64   // engine hours now, over all meters she has had
	Depart time.Time // dates are those of its offset; it lies before Now only once she has left
	Stints []Stint   // in order of time, from Depart or from Now on
}

// Falls is where the moment at which a service is due lies.
type Falls string

// The places of that moment. Later is after the slow arrival; a service that is done by
// need alone never falls due.
const (
	Overdue       Falls = "overdue" // now, or before
	BeforeLeaving Falls = "before leaving"
	OnPassage     Falls = "on the passage"
	Later         Falls = "later"
	ByNeed        Falls = "by need"
)

// Reason is what makes a service due.
type Reason string

// The reasons; of two at one moment ByCalendar is told.
const (
	ByHours    Reason = "hours"
	ByCalendar Reason = "calendar"
)

// Moment is when a service comes due on the voyage.
type Moment struct {
	At    time.Time
	By    Reason
	Day   int // the n-th 24 h from departure; 0: before it
	AtSea bool
}

// Part is so many of one thing.
type Part struct {
	Name  string
	Count int
}

// Forecast is when a service falls due, and whether it can then be done.
type Forecast struct {
	Service Service
	Due     Due
	Falls   Falls
	First   Moment   // zero where it is Overdue, Later or ByNeed
	Again   []Moment // and again before the arrival, if done in time each time
	Meter   float64  // engine hours now
	Today   quantity.Date
	Left    bool   // she has left: nothing can be done before leaving
	Behind  bool   // the meter or the clock stands before its last time: the forecast cannot be trusted
	Short   []Part // what it uses and is not aboard, or goes to a service due earlier
	Tools   []Tool // what it needs and is not good
}

// Forecasts tells of each service when it falls due on the voyage; the most urgent first. The
// spares that count go to the services in the order in which they fall due, at one
// moment to the critical ones first.
func Forecasts(services []Service, spares []Spare, tools []Tool, a Ahead) []Forecast {
	list := make([]Forecast, len(services))
	for i, s := range services {
		list[i] = s.Forecast(a)
		list[i].Tools = notGood(s.Tools, tools)
	}
	slices.SortStableFunc(list, func(x, y Forecast) int {
		return cmp.Or(cmp.Compare(x.Falls.rank(), y.Falls.rank()), x.First.At.Compare(y.First.At))
	})
	share(list, spares, a)
	return list
}

func (f Falls) rank() int {
	return slices.Index([]Falls{Overdue, BeforeLeaving, OnPassage, Later, ByNeed}, f)
}

// Forecast tells when the service falls due on the voyage: by hours or by calendar, whichever
// comes first, and on the very hour or day it is due. What it needs is not looked at.
func (s Service) Forecast(a Ahead) Forecast {
	a = a.trimmed()
	f := Forecast{
		Service: s, Due: s.Due(), Meter: a.Meter, Today: quantity.DateOf(a.Now), Left: a.Now.After(a.Depart),
	}
	f.Behind = s.EveryHours > 0 && (a.Meter < s.Last.Hours || math.IsNaN(a.Meter)) || s.Last.Date.After(f.Today)
	if f.Due == (Due{}) {
		f.Falls = ByNeed
		return f
	}
	if f.Due.By(a.Meter, f.Today) {
		f.Falls = Overdue
		f.Again = a.again(s, a.doneInTime(f))
		return f
	}

	first, comes := a.comesDue(f.Due, time.Time{})
	switch {
	case !comes:
		f.Falls = Later
		return f
	case first.At.Before(a.Depart):
		f.Falls = BeforeLeaving
	default:
		f.Falls = OnPassage
	}
	f.First = first
	f.Again = a.again(s, a.doneInTime(f))
	return f
}

// IsDue says that the service is due before the slow arrival.
func (f Forecast) IsDue() bool {
	return f.Falls == Overdue || f.Falls == BeforeLeaving || f.Falls == OnPassage
}

// Times is how often it is to be done before the slow arrival; what cannot be done under
// way is done once, before leaving.
func (f Forecast) Times() int {
	switch {
	case !f.IsDue():
		return 0
	case !f.Service.UnderWay:
		return 1
	}
	return 1 + len(f.Again)
}

// CanBeDone says that its parts are aboard and no tool stops it; a stiff one does not.
func (f Forecast) CanBeDone() bool {
	return len(f.Short) == 0 && !slices.ContainsFunc(f.Tools, Tool.stops)
}

// HoursLeft is how many engine hours are left, below zero where they are over; ok is false
// where it is not due by hours.
func (f Forecast) HoursLeft() (left float64, ok bool) {
	return f.Due.Hours - f.Meter, f.Due.Hours > 0
}

// crumbHours is what float sums may be out by; the service counts as due.
const crumbHours = 1e-9

// mostAgain bounds how often one service is told to come due on one voyage.
const mostAgain = 99

// longestHours is as much of a stint as is looked at: a hundred years.
const longestHours = 100 * 365.25 * 24

// trimmed has every moment in the offset of departure, and only what of the voyage is still ahead.
func (a Ahead) trimmed() Ahead {
	loc := a.Depart.Location()
	a.Now = a.Now.In(loc)
	var ahead []Stint
	for _, s := range a.Stints {
		gone := max(0, a.Now.Sub(s.Start).Hours())
		s.Hours = min(s.Hours, longestHours) - gone
		s.Start = s.Start.In(loc).Add(hoursLong(gone))
		if math.IsNaN(s.Engine) || s.Engine < 0 {
			s.Engine = 0
		}
		if s.Hours > 0 { // false of what is not a number, too
			ahead = append(ahead, s)
		}
	}
	a.Stints = ahead
	return a
}

func (s Stint) end() time.Time { return s.Start.Add(hoursLong(s.Hours)) }

func hoursLong(hours float64) time.Duration { return time.Duration(hours * float64(time.Hour)) }

// arrive is the end of the voyage; of none departure.
func (a Ahead) arrive() time.Time {
	end := a.Depart
	for _, s := range a.Stints {
		if s.end().After(end) {
			end = s.end()
		}
	}
	return end
}

// comesDue is the first moment at which the service is due, later than after; ok is false
// where that is not before the arrival.
func (a Ahead) comesDue(d Due, after time.Time) (m Moment, ok bool) {
	at, by := time.Time{}, Reason("")
	if hit, reached := a.meterReaches(d.Hours); reached && d.Hours > 0 {
		at, by = hit, ByHours
	}
	if !d.Date.IsZero() && !d.Date.After(quantity.DateOf(a.arrive())) {
		day := d.Date.In(a.Depart.Location())
		if by == "" || !day.After(at) {
			at, by = day, ByCalendar
		}
	}
	if !at.After(after) {
		return Moment{}, false
	}
	return a.moment(at, by), true
}

func (a Ahead) moment(at time.Time, by Reason) Moment {
	m := Moment{At: at, By: by}
	if !at.Before(a.Depart) {
		m.Day = int(at.Sub(a.Depart)/(24*time.Hour)) + 1
	}
	under := slices.DeleteFunc(slices.Clone(a.Stints), func(s Stint) bool { return at.Before(s.Start) || at.After(s.end()) })
	atAnchor := func(s Stint) bool { return !s.AtSea }
	m.AtSea = len(under) > 0 && !slices.ContainsFunc(under, atAnchor) // on arriving and on leaving she is at anchor
	return m
}

// meterReaches is when the meter comes to so many hours on the voyage.
func (a Ahead) meterReaches(hours float64) (at time.Time, ok bool) {
	meter := a.Meter
	for _, s := range a.Stints {
		runs := s.Engine * s.Hours
		if meter+runs >= hours-crumbHours {
			return s.Start.Add(hoursLong(s.until(hours - meter))), true
		}
		meter += runs
	}
	return time.Time{}, false
}

// until is how long into the stint the engine has run so many hours.
func (s Stint) until(hours float64) float64 {
	if hours <= 0 || s.Engine == 0 {
		return 0
	}
	return min(hours/s.Engine, s.Hours)
}

// meterAt is where the meter will stand.
func (a Ahead) meterAt(at time.Time) float64 {
	meter := a.Meter
	for _, s := range a.Stints {
		meter += s.Engine * min(max(0, at.Sub(s.Start).Hours()), s.Hours)
	}
	return meter
}

// doneInTime is when it will have been done if it is done in time: under way when it
// falls due, else before leaving. Zero where it cannot be done on the voyage.
func (a Ahead) doneInTime(f Forecast) time.Time {
	switch {
	case f.Left && !f.Service.UnderWay:
		return time.Time{}
	case f.Left && f.Falls == Overdue:
		return a.Now
	case f.Falls == OnPassage && f.Service.UnderWay:
		return f.First.At
	}
	return a.Depart
}

// again are the moments at which a service falls due once more, done at a moment and then
// each time at once.
func (a Ahead) again(s Service, done time.Time) []Moment {
	var list []Moment
	for !done.IsZero() && len(list) < mostAgain {
		s.Last = Done{Date: quantity.DateOf(done), Hours: a.meterAt(done)}
		next, comes := a.comesDue(s.Due(), done)
		if !comes {
			break
		}
		list = append(list, next)
		if !s.UnderWay {
			break // cannot be done out there: once is telling enough
		}
		done = next.At
	}
	return list
}

// share gives the spares that count to the services in order.
func share(list []Forecast, spares []Spare, a Ahead) {
	left := map[string]int{}
	for _, s := range spares {
		left[s.Name] += s.Counts()
	}
	for _, job := range inOrder(list, a) {
		f := &list[job.of]
		for _, part := range f.Service.Uses {
			if left[part]--; left[part] < 0 {
				f.Short = addPart(f.Short, part, 1)
			}
		}
	}
	for i, f := range list {
		if !f.IsDue() {
			list[i].Short = missing(f.Service.Uses, left)
		}
	}
}

// turn is one time that a service is to be done.
type turn struct {
	of       int // in the list
	at       time.Time
	critical bool
}

func inOrder(list []Forecast, a Ahead) []turn {
	var turns []turn
	for i, f := range list {
		if !f.IsDue() {
			continue
		}
		at := a.doneInTime(f)
		if at.IsZero() {
			at = f.First.At
		}
		turns = append(turns, turn{i, at, f.Service.Critical})
		for _, m := range f.Again[:f.Times()-1] {
			turns = append(turns, turn{i, m.At, f.Service.Critical})
		}
	}
	slices.SortStableFunc(turns, func(x, y turn) int {
		return cmp.Or(x.at.Compare(y.at), -cmp.Compare(asInt(x.critical), asInt(y.critical)))
	})
	return turns
}

func asInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// missing is what a later service would want beyond what is left by then; it takes nothing.
func missing(uses []string, left map[string]int) []Part {
	var short []Part
	taken := map[string]int{}
	for _, part := range uses {
		if taken[part]++; taken[part] > max(0, left[part]) {
			short = addPart(short, part, 1)
		}
	}
	return short
}

func addPart(list []Part, name string, n int) []Part {
	for i := range list {
		if list[i].Name == name {
			list[i].Count += n
			return list
		}
	}
	return append(list, Part{name, n})
}

// notGood are those of the tools needed that are not good; one that is on no list is missing.
func notGood(needed []string, tools []Tool) []Tool {
	var list []Tool
	for _, name := range needed {
		tool := Tool{Name: name, State: Missing}
		if i := slices.IndexFunc(tools, func(t Tool) bool { return t.Name == name }); i >= 0 {
			tool = tools[i]
		}
		if tool.State != Good && tool.State != "" {
			list = append(list, tool)
		}
	}
	return list
}

// stops says that no work can be done with it.
func (t Tool) stops() bool { return t.State != Good && t.State != Stiff && t.State != "" }

// Words tells the forecast in a line: "day 17, hove to, 45 min", "before leaving: 45 min; else due
// on day 17", "overdue since 2026-08-31: 90 min", and what is in its way.
func (f Forecast) Words() string {
	said := []string{f.when()}
	if f.Behind {
		said = append(said, f.behindWords())
	}
	if again := f.againWords(); again != "" {
		said = append(said, again)
	}
	if len(f.Short) > 0 {
		said = append(said, "not aboard: "+strings.Join(partWords(f.Short), ", "))
	}
	for _, tool := range f.Tools {
		said = append(said, fmt.Sprintf("%s is %s", tool.Name, tool.State))
	}
	return strings.Join(said, "; ")
}

func (f Forecast) behindWords() string {
	last := f.Service.Last
	if last.Date.After(f.Today) {
		return fmt.Sprintf("its last time, %s, lies ahead: that date or the clock is wrong", last.Date)
	}
	return fmt.Sprintf("the meter, %s, is behind the %s of its last time: read it again", hoursWords(f.Meter), hoursWords(last.Hours))
}

func (f Forecast) when() string {
	switch f.Falls {
	case Overdue:
		return f.overdueWords() + f.takes(": ")
	case BeforeLeaving:
		return "before leaving" + f.takes(": ") + "; due on " + quantity.DateOf(f.First.At).String()
	case OnPassage:
		return f.onPassageWords()
	case Later:
		return "not on this passage: " + f.dueWords()
	}
	return "by need"
}

// takes is how long it takes, rounded up; nothing where that is not known.
func (f Forecast) takes(before string) string {
	if f.Service.Takes <= 0 {
		return ""
	}
	return before + quantity.RoughUp(f.Service.Takes)
}

func (f Forecast) onPassageWords() string {
	day := fmt.Sprintf("day %d", f.First.Day)
	switch {
	case !f.Service.UnderWay && f.Left:
		return "due on " + day + ", and not to be done at sea" + f.takes(": ")
	case !f.Service.UnderWay:
		return "before leaving" + f.takes(": ") + "; else due on " + day
	case f.First.AtSea:
		return day + ", hove to" + f.takes(", ")
	}
	return day + ", at anchor" + f.takes(", ")
}

func (f Forecast) overdueWords() string {
	if f.Due.NeverDone {
		return "overdue: never done, or not written down"
	}
	if f.Due.Date == f.Today && !f.Due.By(f.Meter, f.Today.AddDays(-1)) {
		return "due today"
	}
	if f.Due.Hours == f.Meter && !(Due{Date: f.Due.Date}).By(0, f.Today) {
		return "due now, at " + hoursWords(f.Due.Hours)
	}
	var since []string
	if !f.Due.Date.IsZero() && !f.Due.Date.After(f.Today) {
		since = append(since, f.Due.Date.String())
	}
	if left, by := f.HoursLeft(); by && left <= 0 {
		since = append(since, fmt.Sprintf("%s by the meter, %s ago", hoursWords(f.Due.Hours), hoursWords(-left)))
	}
	return "overdue since " + strings.Join(since, " and ")
}

func (f Forecast) dueWords() string {
	var due []string
	if f.Due.Hours > 0 {
		due = append(due, "at "+hoursWords(f.Due.Hours))
	}
	if !f.Due.Date.IsZero() {
		due = append(due, "on "+f.Due.Date.String())
	}
	if len(due) == 2 {
		return strings.Join(due, " or ") + ", whichever is first"
	}
	return strings.Join(due, "")
}

func (f Forecast) againWords() string {
	switch {
	case len(f.Again) == 0:
		return ""
	case !f.Service.UnderWay:
		return fmt.Sprintf("done before leaving it is due again on day %d, and not to be done at sea", f.Again[0].Day)
	}
	days := make([]string, len(f.Again))
	for i, m := range f.Again {
		days[i] = strconv.Itoa(m.Day)
	}
	return "again on day " + strings.Join(days, ", ")
}

// hoursWords shows engine hours to the tenth that the meter has.
func hoursWords(hours float64) string {
	return strconv.FormatFloat(math.Round(hours*10)/10, 'f', -1, 64) + " h"
}

func partWords(parts []Part) []string {
	said := make([]string, len(parts))
	for i, p := range parts {
		said[i] = p.Name
		if p.Count > 1 {
			said[i] = fmt.Sprintf("%d x %s", p.Count, p.Name)
		}
	}
	return said
}
