package checklist

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Sheet is what the person ashore holds while she is away: who she is, where she means to
// go, when to worry and what to do then. It is put together of the definitions and the
// assessment; no figure is reckoned here that is not one of theirs, or two of them added.
//
// What it holds follows the groups of the float plan of the United States Coast Guard
// Auxiliary (vessel, survival gear, people, contacts, itinerary, instructions to the
// holder). It tells of people only what the skipper wrote.
type Sheet struct {
	Boat, Passage string
	Made          time.Time
	Depart        time.Time
	HasLeft       bool // Depart and Latest are those of the departure in the record
	Crew          int
	Latest        time.Time // the slow arrival, up to the minute; zero: she cannot make the passage in the slow case
	Worry         time.Time // the slow arrival and what the skipper allows after it; zero: it cannot be told
	InForce       bool      // a sign-off stands
	Digits        string    // the first eight of the sign-off's sum; "": never signed off
	Parts         []SheetPart
}

// SheetPart is a part of the sheet under its title.
type SheetPart struct {
	Title string
	Leads bool // it is what the sheet is for, and stands out
	Rows  []SheetRow
	Lines []string // after the rows
}

// SheetRow is a thing that is told and its name. Marked: it is to be found at a glance.
type SheetRow struct {
	Name, Text string
	Marked     bool
}

func (p *SheetPart) row(name, format string, args ...any) {
	p.Rows = append(p.Rows, SheetRow{Name: oneLine(name), Text: oneLine(fmt.Sprintf(format, args...))})
}

func (p *SheetPart) mark(name, format string, args ...any) {
	p.row(name, format, args...)
	p.Rows[len(p.Rows)-1].Marked = true
}

func (p *SheetPart) line(format string, args ...any) {
	p.Lines = append(p.Lines, oneLine(fmt.Sprintf(format, args...)))
}

// blank is where something is to be written by hand.
const blank = "______________________________"

// NewSheet puts the sheet together. The definitions are those that the assessment was made of.
func NewSheet(d Definitions, s State, a Assessment) Sheet {
	d = d.Whole() // the person ashore wants the whole route
	w := sheetWriter{definitions: d, state: s, assessment: a, zone: a.Reckoning.Depart.Location()}
	w.Sheet = Sheet{
		Boat: oneLine(a.Boat), Passage: oneLine(a.Passage), Made: a.Now, Depart: a.Reckoning.Depart, Crew: d.Plan.Crew,
		Latest: minuteUp(a.Reckoning.Cases[passage.Slow].Voyage.Arrive()), InForce: a.SignOff.InForce,
	}
	if signed := a.SignOff.Signed; signed != nil {
		w.Digits = firstDigits(signed.Sum)
	}
	w.hasLeft()
	if after := d.Plan.Ashore.Overdue; !w.Latest.IsZero() && after > 0 {
		w.Worry = minuteUp(w.Latest.Add(after))
	}
	for _, part := range []func() SheetPart{w.worry, w.boat, w.people, w.route, w.arrivals, w.lasting, w.signals, w.signOff, w.mind} {
		if told := part(); len(told.Rows)+len(told.Lines) > 0 {
			w.Parts = append(w.Parts, told)
		}
	}
	return w.Sheet
}

// sheetWriter is a sheet in the making.
type sheetWriter struct {
	Sheet

	definitions Definitions
	state       State
	assessment  Assessment
	zone        *time.Location // the departure's, which is kept aboard
}

// firstDigits are what stands for a sum on paper. Design, section 3.
func firstDigits(sum string) string {
	const digits = 8
	return sum[:min(len(sum), digits)]
}

// minuteUp is the first whole minute that is not before t; zero stays zero.
func minuteUp(t time.Time) time.Time {
	if down := t.Truncate(time.Minute); !down.Equal(t) {
		return down.Add(time.Minute)
	}
	return t
}

// hasLeft takes the times of a passage that has begun from its departure in the record: an
// assessment under way reckons from where she was last, and a time to worry that was left
// ashore must not wander on with every sheet that is made.
func (w *sheetWriter) hasLeft() {
	v := w.state.Voyage
	if v == nil || v.Depart.Passage != w.assessment.Passage {
		return
	}
	if in := v.Arrived; in != nil && w.definitions.Plan.Depart.After(in.Moment()) {
		return // another passage of the same name is planned
	}
	w.HasLeft, w.Depart, w.Latest, w.Crew = true, v.Depart.At.In(w.zone), time.Time{}, cmp.Or(v.Depart.Crew, w.Crew)
	for _, c := range v.Depart.Cases {
		if c.Case == string(passage.Slow) && c.Made {
			w.Latest = minuteUp(c.Arrive.In(w.zone))
		}
	}
}

// worry is when to worry, and what to do then.
func (w *sheetWriter) worry() SheetPart {
	p := SheetPart{Title: "When to worry", Leads: true}
	w.leaving(&p)
	if w.HasLeft && w.state.Voyage.Arrived != nil {
		in := w.state.Voyage.Arrived
		p.mark("Arrived", "%s, %s, by her record", in.Place, w.moment(in.Moment()))
	}
	w.expected(&p)
	ashore := w.definitions.Plan.Ashore
	if ashore.Name != "" {
		p.row("Ashore", "%s", ashore.Name)
	}
	if ashore.Reports > 0 {
		p.row("She reports", "every %s", hoursOrDays(ashore.Reports))
	} else {
		p.row("She reports", "not written (reports under [ashore] in passage.toml). Agree on it and write it here: %s", blank)
	}
	if ashore.Then != "" {
		p.mark("Then", "%s", ashore.Then)
	} else {
		p.row("Then", "not written (then under [ashore] in passage.toml). Agree on whom to call and write it here: %s", blank)
	}
	return p
}

func (w *sheetWriter) leaving(p *SheetPart) {
	from := ""
	if legs := w.definitions.Plan.Legs; len(legs) > 0 {
		from = legs[0].From + ", "
	}
	planned := w.definitions.Plan.Depart
	switch {
	case w.HasLeft:
		if place := w.state.Voyage.Depart.From; place != "" {
			from = place + ", "
		}
		p.row("Left", "%s%s", from, w.moment(w.Depart))
	case !w.assessment.Moved && planned.Before(w.Depart):
		p.row("Leaves", "%s%s", from, w.moment(w.Depart))
		p.line("The planned departure, %s, is past: all times here are as if she left when this sheet was made. Ask for a new sheet when she leaves.", w.moment(planned))
	default:
		p.row("Leaves", "%s%s", from, w.moment(w.Depart))
	}
}

// expected is the latest time she is expected, and from when on it is time to worry.
func (w *sheetWriter) expected(p *SheetPart) {
	if w.Latest.IsZero() {
		p.mark("Latest expected", "cannot be told: in the slow case she does not make every leg of this plan")
		p.mark("Worry from", "cannot be told. Agree on a time and write it here: %s", blank)
		return
	}
	to := ""
	if legs := w.definitions.Plan.Legs; len(legs) > 0 {
		to = legs[len(legs)-1].To + ", "
	}
	p.mark("Latest expected", "%s%s", to, w.moment(w.Latest))
	if w.Worry.IsZero() {
		p.mark("Worry from", "no time is written (overdue under [ashore] in passage.toml). Agree on one and write it here: %s", blank)
		return
	}
	p.mark("Worry from", "%s; %s after the latest she is expected", w.moment(w.Worry), hoursOrDays(w.definitions.Plan.Ashore.Overdue))
}

// moment is a time in the offset kept aboard and in UTC: the person ashore may live by another.
func (w *sheetWriter) moment(t time.Time) string {
	const layout = "Mon 2 Jan 2006 15:04"
	local := t.In(w.zone)
	if _, offset := local.Zone(); offset == 0 {
		return local.Format(layout) + " UTC"
	}
	return local.Format(layout+" (UTC-07:00)") + " = " + t.UTC().Format(layout) + " UTC"
}

// hoursOrDays tells a time that the skipper wrote.
func hoursOrDays(d time.Duration) string {
	const day = 24 * time.Hour
	switch {
	case d > day && d%day == 0:
		return fmt.Sprintf("%d days", d/day)
	case d%time.Hour == 0:
		return fmt.Sprintf("%d h", d/time.Hour)
	}
	return quantity.RoughUp(d)
}

// identityWords are the keys of [identity] for people.
var identityWords = map[string]string{
	"call_sign": "Call sign", "mmsi": "MMSI", "registration": "Registration", "beacon_id": "Beacon identity",
	"hull": "Hull", "sails": "Sails", "raft": "Raft",
}

// boat is who she is, in the skipper's words.
func (w *sheetWriter) boat() SheetPart {
	p := SheetPart{Title: "The boat"}
	p.row("Name", "%s", w.Boat)
	for _, id := range w.definitions.Boat.Identity {
		p.row(orElse(identityWords[id.Key], id.Key), "%s", id.Text)
	}
	return p
}

// people are a number: names are the skipper's to add.
func (w *sheetWriter) people() SheetPart {
	p := SheetPart{Title: "People"}
	aboard := fmt.Sprintf("%d", w.Crew)
	if w.Crew == 1 {
		aboard = "1, alone"
	}
	p.row("Aboard", "%s", aboard)
	p.row("By hand", "names, health, telephones, if the skipper wants them here: %s", blank)
	return p
}

// signalWords are what makes dated gear a matter for whoever comes to look for her.
var signalWords = []string{
	"beacon", "epirb", "plb", "raft", "flare", "rocket", "smoke", "signal", "distress", "transponder", "sart", "lifejacket", "life jacket",
	"life-jacket", "immersion suit", "survival suit", "lifebuoy",
}

func isSignal(gear machinery.Dated) bool {
	name := strings.ToLower(gear.Name)
	for _, word := range signalWords {
		if strings.Contains(name, word) {
			return true
		}
	}
	return false
}

// signals are the dated gear that matters to a rescuer, and until when it is good.
func (w *sheetWriter) signals() SheetPart {
	p := SheetPart{Title: "To be found"}
	var good []string
	for _, gear := range w.definitions.Dated {
		if !isSignal(gear) {
			continue
		}
		switch {
		case gear.Until.IsZero():
			p.row(gear.Name, "no date is written: do not count on it")
		case !w.Latest.IsZero() && gear.Ends(w.Latest):
			p.mark(gear.Name, "until %s: THAT IS BEFORE THE LATEST SHE IS EXPECTED", gear.Until)
		default:
			good = append(good, fmt.Sprintf("%s %s", gear.Name, gear.Until))
		}
	}
	if len(good) > 0 {
		p.row("Good until", "%s", strings.Join(good, "; "))
	}
	return p
}
