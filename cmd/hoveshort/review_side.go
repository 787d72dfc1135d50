package main

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config/record"
	"boat/hoveshort/provisions/quantity"
)

// readBackOf is a passage that is read back: its sign-off, and what came of it.
type readBackOf struct {
	heading record.Heading
	today   checklist.Definitions

	signed  *checklist.Entry // nil: left unsigned, or not in the record as it was read
	frozen  checklist.Sign
	units   quantity.System
	differs []string
	err     error // why it cannot be computed again

	side      *checklist.PassageReview // nil: she has not left
	proposals []checklist.Proposal
	notKept   error // the files it was reckoned with are not known
}

// sign finds the sign-off among the entries and computes it again from those before it.
func (b *readBackOf) sign(store *record.Store, entries []checklist.Entry) error {
	for i, e := range entries {
		sign, is := e.Act.(checklist.Sign)
		if !is || e.Seq != b.heading.Sign {
			continue
		}
		b.signed, b.frozen = &e, sign
		b.units, b.differs, b.err = again(store, entries[:i], e, sign)
		return b.err
	}
	return nil
}

// teaching is how many passages before one are read to see whether they agree with it.
const teaching = 5

// review holds the passage against what came of it.
func (c *call) review(store *record.Store, p place, index record.Index, told *readBackOf) {
	side, proposals, err := held(store, p.until, index, told.heading, told.today)
	if !side.HasLeft() {
		c.say("hoveshort: %s", err)
		return
	}
	told.side, told.proposals, told.notKept = &side, proposals, err
}

func (b readBackOf) text(r *report) {
	if b.signed != nil {
		r.line("entry %d, %s, digits %.8s", b.signed.Seq, b.signed.At.Format(longMoment), b.signed.Sum)
		r.signed(b.frozen, b.units)
		switch {
		case b.err != nil:
			r.line("it cannot be computed again: %s", b.err)
		case len(b.differs) > 0:
			r.line("COMPUTED AGAIN IT DIFFERS in: %s", strings.Join(b.differs, ", "))
		default:
			r.line("computed again from the definitions that were kept: the same")
		}
	}
	if b.side == nil {
		return
	}
	if b.signed == nil {
		r.line("%s", headingWords(b.heading))
	}
	r.head("SIGNED AGAINST ACTUAL: %s", b.side.Name())
	if b.notKept != nil {
		r.line("the files it was reckoned with are not known any more (%s): today's tanks serve", b.notKept)
	}
	for _, row := range b.side.Rows() {
		r.item(row.Name+": planned "+row.Planned, "actual "+row.Actual)
	}
	for _, part := range b.side.Parts(b.proposals) {
		r.head("%s", strings.ToUpper(part.Title))
		for _, line := range part.Lines {
			if under, is := strings.CutPrefix(line, "    "); is {
				r.WriteString("    " + under + "\n")
				continue
			}
			r.item(line)
		}
	}
}

// json is the passage for other programs. What is not known is null.
func (b readBackOf) json() any {
	var signed *signedJSON
	var frozen any
	if b.signed != nil {
		s := signedOf(*b.signed, b.frozen)
		signed, frozen = &s, asKept(reflect.ValueOf(b.frozen))
	}
	told := struct {
		Format int         `json:"format"`
		Signed *signedJSON `json:"signed"` // null: left unsigned
		Frozen any         `json:"frozen"` // by the names in the record
		Same   bool        `json:"same"`   // computed again it gives the same
		Differ []string    `json:"differ"`
		Review any         `json:"review"` // null: she has not left
	}{1, signed, frozen, b.signed != nil && b.err == nil && len(b.differs) == 0, append([]string{}, b.differs...), nil}
	if b.side != nil {
		told.Review = reviewJSON(*b.side, b.proposals)
	}
	return told
}

type usedJSON struct {
	What       string   `json:"what"`
	Unit       string   `json:"unit"`
	Available  *float64 `json:"available"`
	Reserve    *float64 `json:"reserve"`
	Slow       *float64 `json:"slow"`
	Expected   *float64 `json:"expected"`
	Quick      *float64 `json:"quick"`
	Planned    *float64 `json:"planned"` // for the time it took
	Used       *float64 `json:"used"`
	Difference *float64 `json:"difference"`
	Filled     float64  `json:"filled"`
	Left       *float64 `json:"left"`
	Days       *float64 `json:"days"`
	PerDay     *float64 `json:"per_day"`
	PerPerson  *float64 `json:"per_person_day"`
	Error      float64  `json:"gauge_error"`
	Within     bool     `json:"within_gauge_error"`
	Unknown    string   `json:"unknown"`
}

type caseJSON struct {
	Case   string     `json:"case"`
	Hours  float64    `json:"hours"`
	Engine float64    `json:"engine_hours"`
	Arrive *time.Time `json:"arrive"`
}

type exceptionJSON struct {
	ID      string `json:"id"`
	Caution string `json:"caution"`
	Why     string `json:"why"`
	Became  string `json:"became"`
	Came    *bool  `json:"came"` // null: the record does not tell
}

type differenceJSON struct {
	What string `json:"what"`
	Text string `json:"text"`
	More bool   `json:"more"`
}

type proposalJSON struct {
	File     string   `json:"file"`
	Lines    []string `json:"lines"`
	Why      string   `json:"why"`
	Passages int      `json:"passages"`
	Eases    bool     `json:"eases"`
}

// reviewJSON is a review with every key there, null where it is not known.
func reviewJSON(r checklist.PassageReview, proposals []checklist.Proposal) any {
	told := struct {
		Passage     string           `json:"passage"`
		Depart      int              `json:"depart"`
		Departed    time.Time        `json:"departed"`
		Arrived     *time.Time       `json:"arrived"`
		Place       string           `json:"place"`
		Crew        int              `json:"crew"`
		Unsigned    bool             `json:"unsigned"`
		Days        *float64         `json:"days"`
		Miles       *float64         `json:"miles_nm"`
		Planned     *float64         `json:"planned_nm"`
		Engine      *float64         `json:"engine_hours"`
		CameTrue    string           `json:"came_true"`
		Cases       []caseJSON       `json:"cases"`
		Things      []usedJSON       `json:"things"`
		Differences []differenceJSON `json:"differences"`
		Exceptions  []exceptionJSON  `json:"exceptions"`
		Refused     []string         `json:"not_right_at_first"`
		Defects     []int            `json:"defects"`
		Services    []string         `json:"services"`
		Failed      []string         `json:"failed"`
		Proposals   []proposalJSON   `json:"proposals"`
	}{
		Passage: r.Name(), Depart: r.Depart.Seq, Departed: r.Depart.At, Arrived: orNone(r.Time.Arrive), Place: r.Time.Place, Crew: r.Crew,
		Unsigned: r.Depart.Sign == 0, Days: r.Time.Days, Miles: r.Time.Miles, Planned: r.Time.Planned, Engine: r.Time.Engine, CameTrue: r.Time.CameTrue,
		Cases: []caseJSON{}, Things: []usedJSON{}, Differences: []differenceJSON{}, Exceptions: []exceptionJSON{}, Refused: []string{}, Defects: []int{},
		Services: []string{}, Failed: append([]string{}, r.Failed...), Proposals: []proposalJSON{},
	}
	for _, c := range r.Time.Cases {
		told.Cases = append(told.Cases, caseJSON{c.Case, c.Hours, c.EngineHours, orNone(c.Arrive)})
	}
	for _, t := range r.Things {
		told.Things = append(told.Things, usedOf(t))
	}
	for _, d := range r.Differences {
		told.Differences = append(told.Differences, differenceJSON(d))
	}
	for _, e := range r.Exceptions {
		told.Exceptions = append(told.Exceptions, exceptionJSON{e.ID, e.Caution, e.Why, e.Became, e.Came})
	}
	for _, c := range r.Refused {
		told.Refused = append(told.Refused, c.Check)
	}
	for _, d := range r.Defects {
		told.Defects = append(told.Defects, d.Seq)
	}
	for _, s := range r.Services {
		told.Services = append(told.Services, s.Service)
	}
	for _, p := range proposals {
		told.Proposals = append(told.Proposals, proposalJSON{p.File, append([]string{}, p.Lines...), p.Why, p.Passages, p.Eases})
	}
	return told
}

func usedOf(t checklist.ThingReview) usedJSON {
	unit := "L"
	if t.What == "gas" {
		unit = "kg"
	}
	return usedJSON{
		What: string(t.What), Unit: unit, Available: t.Available, Reserve: t.Reserve, Slow: t.Slow, Expected: t.Expected, Quick: t.Quick,
		Planned: t.Planned, Used: t.Used, Difference: t.Difference(), Filled: t.Filled, Left: t.Left, Days: t.Span, PerDay: t.PerDay,
		PerPerson: t.PerPerson, Error: t.Error, Within: t.IsWithinError(), Unknown: t.Unknown,
	}
}

// compare puts two passages side by side.
func (c *call) compare(store *record.Store, p place, which []string, asJSON bool) error {
	index, err := store.Passages(record.Wanted{Until: p.until})
	if err != nil {
		return coded(exitUnreadable, "", err)
	}
	c.tellFaults(index.Faults)
	var two [2]readBackOf
	for i, w := range which {
		h, err := findPassage(index, w)
		if err != nil {
			return err
		}
		if h.Depart == 0 {
			return &problem{code: exitRefused, says: fmt.Sprintf("she did not leave on entry %d: there is nothing to put beside it", h.Number()), hint: "`hoveshort review` lists the passages"}
		}
		two[i] = readBackOf{heading: h, today: c.today(p)}
		if c.review(store, p, index, &two[i]); two[i].side == nil {
			return coded(exitUnreadable, "", fmt.Errorf("entry %d cannot be read", h.Number()))
		}
	}
	if asJSON {
		return c.encode(struct {
			Format int `json:"format"`
			First  any `json:"first"`
			Second any `json:"second"`
		}{1, reviewJSON(*two[0].side, two[0].proposals), reviewJSON(*two[1].side, two[1].proposals)})
	}
	var r report
	rows := [][]string{{"", fmt.Sprintf("entry %s", which[0]), fmt.Sprintf("entry %s", which[1])}}
	for _, row := range checklist.Compare(*two[0].side, *two[1].side) {
		rows = append(rows, []string{row.Name, row.First, row.Second})
	}
	r.columns(rows)
	c.text.WriteString(r.String())
	return nil
}

// columns is a table of two columns beside their names, each broken within its width.
func (r *report) columns(rows [][]string) {
	const name, each = 20, 29
	for _, row := range rows {
		first, second := broken(row[1], each), broken(row[2], each)
		for i := range max(1, len(first), len(second)) {
			label := ""
			if i == 0 {
				label = row[0]
			}
			r.WriteString(strings.TrimRight(padded(label, name)+padded(at(first, i), each+1)+at(second, i), " ") + "\n")
		}
	}
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

// broken is a text in lines of a width; a word that is longer stands alone.
func broken(text string, width int) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(text) {
		if line != "" && ansi.StringWidth(line)+1+ansi.StringWidth(word) > width {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

func padded(text string, width int) string {
	return text + strings.Repeat(" ", max(1, width-ansi.StringWidth(text)))
}

// reviewOf is what the screens are given of a passage.
func (a *aboard) reviewOf(number int) (checklist.PassageReview, []checklist.Proposal, error) {
	index, err := a.store.Passages(record.Wanted{Until: a.until})
	if err != nil {
		return checklist.PassageReview{}, nil, err
	}
	h, err := findPassage(index, fmt.Sprint(number))
	if err != nil {
		return checklist.PassageReview{}, nil, err
	}
	return held(a.store, a.until, index, h, a.definitions())
}

// held is a passage held against what came of it, and weighed with those before it. An error beside a review that has
// left says that the files it was reckoned with are not known: today's tanks serve.
func held(store *record.Store, until *time.Time, index record.Index, h record.Heading, today checklist.Definitions) (checklist.PassageReview, []checklist.Proposal, error) {
	side, notKept := passageAt(store, h, until)
	if !side.HasLeft() {
		return side, nil, notKept
	}
	if notKept != nil {
		side = checklist.ReviewPassage(today, side.Sailed)
	}
	var others []checklist.PassageReview
	looked := 0
	for _, other := range slices.Backward(index.Passages) {
		if other.Depart == 0 || !other.Closed || other.Depart >= h.Depart {
			continue
		}
		if looked++; looked > teaching {
			break
		}
		if r, err := passageAt(store, other, until); err == nil {
			others = append(others, r)
		}
	}
	return side, checklist.Proposals(today, side, others), notKept
}
