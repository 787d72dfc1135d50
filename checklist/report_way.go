package checklist

import (
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// ReportWay is how a passage goes that she is on, for other programs; null is not known, or never.
type ReportWay struct {
	Depart   time.Time            `json:"depart"`
	Unsigned bool                 `json:"unsigned"`
	Why      string               `json:"why"`
	Day      int                  `json:"day"`
	AsOf     time.Time            `json:"as_of"`
	To       string               `json:"to"`
	ToGo     float64              `json:"to_go_nm"`
	Position *passage.Position    `json:"position"`
	Done     float64              `json:"done_nm"`
	Planned  float64              `json:"planned_nm"`
	Pace     *float64             `json:"pace_kn"`
	LastPace *float64             `json:"last_pace_kn"`
	AtPace   *time.Time           `json:"arrive_at_pace"`
	Promised map[string]time.Time `json:"promised"`
	NoonDue  bool                 `json:"noon_due"`
	Ends     []ReportEnding       `json:"ends"`
	Proofs   []ReportDue          `json:"proofs"`
	Points   []ReportPoint        `json:"points"`
	Turning  []ReportTurning      `json:"turning"`
	Facts    []ReportFact         `json:"facts"`
	Warns    []string             `json:"warns"`
}

// ReportEnding is when a thing ends.
type ReportEnding struct {
	Thing       passage.Thing `json:"thing"`
	UsePlanned  float64       `json:"use_planned_a_day"`
	UseSeen     *float64      `json:"use_seen_a_day"`
	Planned     ReportEnds    `json:"planned"`
	Seen        *ReportEnds   `json:"seen"`
	OnRationing *ReportEnds   `json:"rationed"`
}

// ReportEnds are the moments at which the reserve is touched and nothing is left.
type ReportEnds struct {
	Reserve *time.Time `json:"reserve"`
	Nothing *time.Time `json:"nothing"`
}

// ReportDue is a repair that is to be proved under way.
type ReportDue struct {
	Defect   int        `json:"defect"`
	What     string     `json:"what"`
	Wants    string     `json:"wants"`
	Deadline *time.Time `json:"deadline"`
	Else     string     `json:"else"`
	Lost     bool       `json:"lost"` // missed or failed
}

// ReportPoint is a decision point; ToGo is 0 where it came up.
type ReportPoint struct {
	Point string  `json:"point"`
	ToGo  float64 `json:"to_go_nm"`
	Else  string  `json:"else"`
}

// ReportTurning is the last moment for turning back on the leg she is on; null where there is none.
type ReportTurning struct {
	What  passage.Thing        `json:"what"`
	Case  passage.CaseName     `json:"case"`
	Back  string               `json:"back_to"`
	State provisions.TurnState `json:"state"`
	After *float64             `json:"after_nm"` // on from where she was last
	At    *time.Time           `json:"at"`
	Hours *float64             `json:"back_hours"`
}

// ReportFact is what could be counted on of a thing when all of its tanks were sounded.
type ReportFact struct {
	Thing  passage.Thing `json:"thing"`
	Hours  float64       `json:"hours"` // from the departure
	Amount float64       `json:"amount"`
}

// WayReport is how she stands under way, for other programs; nil: she is not.
func (a Assessment) WayReport() *ReportWay {
	w := a.Way
	if w == nil {
		return nil
	}
	r := &ReportWay{
		Depart: w.Voyage.Depart.At, Unsigned: w.Voyage.IsUnsigned(), Why: orElse(w.Voyage.Depart.Why, w.Voyage.Reason.Why), Day: w.Day,
		AsOf: w.Fix.At, To: w.Fix.To, ToGo: float64(w.Fix.ToGo), Position: w.Fix.Position, Done: float64(w.Done), Planned: float64(w.Planned),
		Pace: knownOrNull(float64(w.Pace)), LastPace: knownOrNull(float64(w.LastPace)), AtPace: timeOrNull(w.AtPace), NoonDue: w.NoonDue,
		Promised: map[string]time.Time{}, Ends: []ReportEnding{}, Proofs: []ReportDue{}, Points: []ReportPoint{}, Turning: []ReportTurning{}, Facts: []ReportFact{}, Warns: append([]string{}, w.Warns...),
	}
	for name, at := range w.Signed {
		r.Promised[string(name)] = at
	}
	for _, e := range w.Ends {
		r.Ends = append(r.Ends, ReportEnding{e.Thing, e.UsePlan, knownOrNull(e.Use), e.Planned.report(), e.Seen.orNull(), e.Rations.orNull()})
	}
	for _, p := range w.Proofs {
		r.Proofs = append(r.Proofs, ReportDue{p.Defect, p.Title, p.Wants, timeOrNull(p.Deadline), p.Else, p.Missed})
	}
	for _, p := range w.Points {
		r.Points = append(r.Points, ReportPoint{p.Point, float64(p.ToGo), p.Else})
	}
	for _, t := range w.Turning {
		told := ReportTurning{What: t.Thing, Case: t.Case, Back: t.To, State: t.State}
		if t.State == provisions.TurnOnLeg {
			told.After, told.At, told.Hours = (*float64)(&t.After), timeOrNull(t.At), &t.Back
		}
		r.Turning = append(r.Turning, told)
	}
	for _, t := range tanked {
		for _, p := range w.Facts[t] {
			r.Facts = append(r.Facts, ReportFact{t, p.Hours, float64(p.Amount)})
		}
	}
	return r
}

func (e Ends) report() ReportEnds { return ReportEnds{timeOrNull(e.Reserve), timeOrNull(e.Nothing)} }

func (e *Ends) orNull() *ReportEnds {
	if e == nil {
		return nil
	}
	r := e.report()
	return &r
}

func knownOrNull(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return &v
}

func timeOrNull(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	t = t.Round(time.Second)
	return &t
}
