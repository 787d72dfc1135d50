package checklist

import (
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Report is an Assessment as JSON: litres, kilograms, hours, days, nautical miles,
// times with their offset, null for never; food in person-days. Nothing is rounded.
type Report struct {
	Format    int                       `json:"format"`
	Boat      string                    `json:"boat"`
	Passage   string                    `json:"passage"`
	Now       time.Time                 `json:"now"`
	Ready     bool                      `json:"ready"`
	Verdict   *provisions.Verdict       `json:"verdict"`
	Blockers  []ReportBlocker           `json:"blockers"`
	Cautions  []ReportCaution           `json:"cautions"`
	NotLooked []string                  `json:"not_looked"`
	Uncovered []string                  `json:"uncovered"`
	Cases     map[string]ReportCase     `json:"cases"`
	Resources map[string]ReportResource `json:"resources"`
	WhatIf    []ReportWhatIf            `json:"what_if"`
	Load      []ReportLoad              `json:"load"`
	Fouling   float64                   `json:"fouling"`
	SignOff   *ReportSignOff            `json:"sign_off"`
	Stage     Stage                     `json:"stage"`
	Weighing  []ReportBlocker           `json:"weighing"` // of the rounds before weighing: against leaving
	Way       *ReportWay                `json:"way"`      // null: she is not under way
}

// ReportWhatIf is one contingency. What is the thing that fails, "leg" where a leg is no
// longer made, "" where it holds; Day is null where there is none, ShortNM where a leg is not made.
type ReportWhatIf struct {
	Name    string             `json:"name"`
	Verdict provisions.Verdict `json:"verdict"`
	What    string             `json:"what"`
	Day     *int               `json:"day"`
	ShortNM *float64           `json:"short_nm"`
	Missing float64            `json:"missing"` // of What: litres, kilograms, person-days
	Sealed  float64            `json:"sealed"`  // of What in sealed cans
	Worse   bool               `json:"worse"`   // than the plan's own verdict
	Cures   []string           `json:"cures"`   // cheapest first
}

// ReportLoad is what to load of one thing at one place.
type ReportLoad struct {
	At     string   `json:"at"`
	What   string   `json:"what"`
	Amount float64  `json:"amount"`
	Unit   string   `json:"unit"`
	Lacks  float64  `json:"lacks"` // what is needed and the tanks cannot hold
	Price  *float64 `json:"price"` // of the amount; null where no price is given
}

// ReportBlocker is one thing that stands in the way.
type ReportBlocker struct {
	Kind   Matter `json:"kind"`
	Name   string `json:"name"`
	Title  string `json:"title"`
	Why    string `json:"why"`
	Clears string `json:"clears"`
	Where  string `json:"where"`
}

// ReportCaution is one caution; Accepted is the reason, null where there is none yet.
type ReportCaution struct {
	ID       string  `json:"id"`
	Kind     Matter  `json:"kind"`
	Name     string  `json:"name"`
	Title    string  `json:"title"`
	Why      string  `json:"why"`
	Accepted *string `json:"accepted"`
	Running  int     `json:"running"`
}

// ReportCase is one case; its figures are null where she cannot make a leg.
type ReportCase struct {
	Hours       *float64   `json:"hours"`
	Days        *float64   `json:"days"`
	EngineHours *float64   `json:"engine_hours"`
	Fuel        *float64   `json:"fuel_l"`
	Water       *float64   `json:"water_l"`
	Gas         *float64   `json:"gas_kg"`
	Arrive      *time.Time `json:"arrive"`
}

// ReportResource is one thing; the figures beside Stretches are its first stretch's.
type ReportResource struct {
	Unit      string          `json:"unit"`
	Available *float64        `json:"available"`
	Reserve   *float64        `json:"reserve"`
	Need      *float64        `json:"need"`
	Endurance *float64        `json:"endurance_days"`
	LastDrop  *float64        `json:"last_drop_days"`
	Margin    *float64        `json:"margin_days"`
	Short     *float64        `json:"short"`
	HardCase  string          `json:"hard_case,omitempty"`
	Stretches []ReportStretch `json:"stretches"`
}

// ReportStretch is one stretch of one thing.
type ReportStretch struct {
	From      string   `json:"from"`
	To        string   `json:"to"`
	HardCase  string   `json:"hard_case"`
	Days      float64  `json:"days"`
	Need      float64  `json:"need"`
	Reserve   float64  `json:"reserve"`
	Available *float64 `json:"available"`
	Short     float64  `json:"short"`
	Endurance *float64 `json:"endurance_days"`
	LastDrop  *float64 `json:"last_drop_days"`
	Margin    *float64 `json:"margin_days"`
}

// ReportSignOff is how the latest sign-off stands.
type ReportSignOff struct {
	Entry   int       `json:"entry"`
	At      time.Time `json:"at"`
	Name    string    `json:"name"`
	Depart  time.Time `json:"depart"`
	InForce bool      `json:"in_force"`
	Until   time.Time `json:"until"`
	Lapsed  string    `json:"lapsed,omitempty"`
}

// Report renders the assessment for other programs.
func (a Assessment) Report() Report {
	r := Report{
		Format: 1, Boat: a.Boat, Passage: a.Passage, Now: a.Now, Ready: a.Ready, Fouling: a.Fouling,
		Blockers: []ReportBlocker{}, Cautions: []ReportCaution{}, NotLooked: []string{}, Uncovered: append([]string{}, a.Uncovered...),
		Cases: map[string]ReportCase{}, Resources: map[string]ReportResource{},
		WhatIf: []ReportWhatIf{}, Load: []ReportLoad{}, Stage: a.Stage, Weighing: []ReportBlocker{}, Way: a.WayReport(),
	}
	if v := a.Reckoning.Verdict; v != "" {
		r.Verdict = &v
	}
	for _, b := range a.Blockers {
		r.Blockers = append(r.Blockers, ReportBlocker{b.Matter, b.Name, b.Title, b.Why, b.Clears, b.Where})
	}
	for _, b := range a.Weighing {
		r.Weighing = append(r.Weighing, ReportBlocker{b.Matter, b.Name, b.Title, b.Why, b.Clears, b.Where})
	}
	for _, c := range a.Cautions {
		r.Cautions = append(r.Cautions, c.report())
	}
	for _, c := range a.NotLooked {
		r.NotLooked = append(r.NotLooked, c.ID)
	}
	for _, name := range passage.CaseNames {
		r.Cases[string(name)] = reportCase(a.Reckoning.Cases[name])
	}
	for _, w := range a.WhatIfs.List {
		r.WhatIf = append(r.WhatIf, reportWhatIf(w, a.Units))
	}
	for _, l := range a.Loads {
		r.Load = append(r.Load, reportLoad(l))
	}
	for t, resource := range a.Reckoning.Resources {
		r.Resources[string(t)] = reportResource(t, resource)
	}
	r.SignOff = a.SignOff.report()
	return r
}

func (c Caution) report() ReportCaution {
	r := ReportCaution{ID: c.ID(), Kind: c.Matter, Name: c.Name, Title: c.Title, Why: c.Why, Running: c.Running}
	if c.Accepted != nil {
		r.Accepted = &c.Accepted.Why
	}
	return r
}

func reportWhatIf(w provisions.WhatIf, units quantity.System) ReportWhatIf {
	r := ReportWhatIf{
		Name: w.Name(), Verdict: w.Verdict, What: string(w.Thing), ShortNM: (*float64)(&w.Miles),
		Missing: float64(w.Missing), Sealed: float64(w.Sealed), Worse: w.Worse, Cures: []string{},
	}
	if w.Day > 0 {
		r.Day = &w.Day
	}
	if len(w.Unmade) > 0 {
		r.What, r.ShortNM = "leg", nil
	}
	for _, c := range w.Cures {
		r.Cures = append(r.Cures, c.Words(units))
	}
	return r
}

func reportLoad(l provisions.Load) ReportLoad {
	r := ReportLoad{At: l.At, What: string(l.Thing), Amount: float64(l.Amount), Unit: units[l.Thing], Lacks: float64(l.Lacks)}
	if l.Priced {
		r.Price = &l.Price
	}
	return r
}

func reportCase(c provisions.CaseFigures) ReportCase {
	if !c.Voyage.Made() || len(c.Voyage.Arrivals) == 0 {
		return ReportCase{}
	}
	hours, days, arrive := c.Voyage.Hours, c.Voyage.Hours/24, c.Voyage.Arrive().Round(time.Second)
	return ReportCase{
		Hours: &hours, Days: &days, EngineHours: &c.EngineHours,
		Fuel: (*float64)(&c.Fuel), Water: (*float64)(&c.Water), Gas: (*float64)(&c.Gas), Arrive: &arrive,
	}
}

// units are what the amounts of a thing are told in.
var units = map[passage.Thing]string{
	passage.Water: "L", passage.Fuel: "L", passage.Gas: "kg", passage.Food: "person-days",
}

func reportResource(t passage.Thing, resource provisions.Resource) ReportResource {
	r := ReportResource{Unit: units[t], Stretches: []ReportStretch{}}
	for _, s := range resource.Stretches {
		r.Stretches = append(r.Stretches, reportStretch(s))
	}
	if len(r.Stretches) == 0 {
		return r
	}
	first := r.Stretches[0]
	r.Available, r.Reserve, r.Need, r.Short = first.Available, &first.Reserve, &first.Need, &first.Short
	r.Endurance, r.LastDrop, r.Margin, r.HardCase = first.Endurance, first.LastDrop, first.Margin, first.HardCase
	return r
}

func reportStretch(s provisions.Stretch) ReportStretch {
	r := ReportStretch{
		From: s.From, To: s.To, HardCase: string(s.Hard), Days: s.Length,
		Need: float64(s.Need), Reserve: float64(s.Reserve), Short: float64(s.Short),
	}
	if s.Bought {
		return r
	}
	r.Available = (*float64)(&s.Available)
	r.Endurance, r.LastDrop, r.Margin = orNull(s.Endurance), orNull(s.LastDrop), orNull(s.Margin)
	return r
}

// orNull is null for a time that does not end.
func orNull(d provisions.Days) *float64 {
	if d.Never {
		return nil
	}
	return &d.Days
}

func (s SignOff) report() *ReportSignOff {
	if s.Signed == nil {
		return nil
	}
	return &ReportSignOff{
		Entry: s.Signed.Seq, At: s.Signed.At, Name: s.Signed.Name, Depart: s.Signed.Depart,
		InForce: s.InForce, Until: s.Until, Lapsed: s.Lapsed,
	}
}
