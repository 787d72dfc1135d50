package main

import (
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// passageJSON is the passage for other programs; units as in `ready --json`.
type passageJSON struct {
	Format     int                                 `json:"format"`
	Boat       string                              `json:"boat"`
	Passage    string                              `json:"passage"`
	Tried      []string                            `json:"tried"`
	Now        time.Time                           `json:"now"`
	Depart     time.Time                           `json:"depart"`
	Crew       int                                 `json:"crew"`
	Climate    passage.Climate                     `json:"climate"`
	Kind       passage.Kind                        `json:"kind"`
	Conditions []checklist.Condition               `json:"conditions"`
	Fouling    float64                             `json:"fouling"`
	Readings   int                                 `json:"fouling_readings"`
	Verdict    *provisions.Verdict                 `json:"verdict"`
	Legs       []legJSON                           `json:"legs"`
	Cases      map[string]checklist.ReportCase     `json:"cases"`
	Resources  map[string]checklist.ReportResource `json:"resources"`
	WhatIf     []checklist.ReportWhatIf            `json:"what_if"`
	LeftOut    []string                            `json:"what_if_left_out"`
	Load       []checklist.ReportLoad              `json:"load"`
	Turning    []turningJSON                       `json:"turning"`
	OnOrBack   []onOrBackJSON                      `json:"on_or_back"`
	Range      []rangeJSON                         `json:"range"`
	Windows    []windowJSON                        `json:"windows"`
	Left       []leftJSON                          `json:"left"`
}

// legJSON is one leg and its three arrivals.
type legJSON struct {
	From     string                 `json:"from"`
	To       string                 `json:"to"`
	Distance float64                `json:"distance_nm"`
	Sail     float64                `json:"sail_kn"`
	RPM      int                    `json:"rpm"`
	Current  float64                `json:"current_kn"`
	Stay     float64                `json:"stay_hours"`
	Arrivals map[string]arrivalJSON `json:"arrivals"`
}

// arrivalJSON is an arrival against the daylight; null where it is not known.
type arrivalJSON struct {
	At         time.Time  `json:"at"`
	ByDay      *bool      `json:"by_day"`
	FirstLight *time.Time `json:"first_light"`
	LastLight  *time.Time `json:"last_light"`
}

// turningJSON is the last moment for turning back; null where there is none on the leg.
type turningJSON struct {
	Leg   int                  `json:"leg"` // from 1
	What  passage.Thing        `json:"what"`
	Case  passage.CaseName     `json:"case"`
	Back  string               `json:"back_to"`
	State provisions.TurnState `json:"state"`
	After *float64             `json:"after_nm"`
	At    *time.Time           `json:"at"`
	Hours *float64             `json:"back_hours"`
}

// onOrBackJSON is the point from which on and back take the same time; null: she makes no way home.
type onOrBackJSON struct {
	Leg   int              `json:"leg"`
	Case  passage.CaseName `json:"case"`
	After *float64         `json:"after_nm"`
	At    *time.Time       `json:"at"`
	Out   *float64         `json:"out_kn"`
	Home  *float64         `json:"home_kn"`
	Guess bool             `json:"home_is_a_guess"`
}

// rangeJSON is a row of the engine's curve; the figures of the passage at these revs are
// null where it is not made.
type rangeJSON struct {
	RPM      int        `json:"rpm"`
	Speed    float64    `json:"speed_kn"`
	Burn     float64    `json:"burn_l_h"`
	Whole    float64    `json:"whole_nm"`
	LastDrop float64    `json:"last_drop_nm"`
	Further  float64    `json:"further"`
	Cruise   bool       `json:"cruise"`
	Later    *float64   `json:"later_hours"`
	Arrive   *time.Time `json:"arrive"`
	Fuel     *float64   `json:"fuel_l"`
	InHand   *float64   `json:"in_hand_days"`
}

// windowJSON is when to leave for arriving by day at the end of a leg.
type windowJSON struct {
	Leg  int        `json:"leg"`
	Open []openJSON `json:"open"`
}

type openJSON struct {
	From time.Time `json:"from"`
	To   time.Time `json:"to"`
}

// leftJSON is what is left of a thing along one case.
type leftJSON struct {
	What     passage.Thing    `json:"what"`
	Case     passage.CaseName `json:"case"`
	Points   []leftPointJSON  `json:"points"`
	Reserve  []floorJSON      `json:"reserve"`
	Arrivals []float64        `json:"arrival_hours"`
}

type leftPointJSON struct {
	Hours  float64 `json:"hours"`
	Amount float64 `json:"amount"`
}

type floorJSON struct {
	From   float64 `json:"from_hours"`
	To     float64 `json:"to_hours"`
	Amount float64 `json:"amount"`
}

func passageOf(d checklist.Definitions, trial checklist.Trial, a checklist.Assessment) passageJSON {
	told, outlook := a.Report(), a.Outlook()
	j := passageJSON{
		Format: 1, Boat: a.Boat, Passage: a.Passage, Tried: append([]string{}, trial.Words()...), Now: a.Now, Depart: a.Reckoning.Depart,
		Crew: d.Plan.Crew, Climate: d.Plan.Climate, Kind: d.Plan.Kind, Conditions: append([]checklist.Condition{}, a.Conditions...),
		Fouling: a.Fouling, Readings: a.FoulingSeen, Verdict: told.Verdict, Cases: told.Cases, Resources: told.Resources,
		WhatIf: told.WhatIf, LeftOut: append([]string{}, a.WhatIfs.LeftOut...), Load: told.Load,
		Turning: []turningJSON{}, OnOrBack: []onOrBackJSON{}, Range: []rangeJSON{}, Windows: []windowJSON{}, Left: []leftJSON{},
	}
	for i, leg := range d.Plan.Legs {
		j.Legs = append(j.Legs, legOf(d, a, i, leg))
	}
	for _, t := range outlook.Turning {
		j.Turning = append(j.Turning, turningOf(t))
	}
	for _, p := range outlook.OnOrBack {
		j.OnOrBack = append(j.OnOrBack, onOrBackOf(p))
	}
	for _, row := range outlook.Range {
		j.Range = append(j.Range, rangeOf(row))
	}
	for _, w := range outlook.Windows {
		j.Windows = append(j.Windows, windowOf(w))
	}
	for _, l := range outlook.Left {
		j.Left = append(j.Left, leftOf(l))
	}
	return j
}

func legOf(d checklist.Definitions, a checklist.Assessment, i int, leg passage.Leg) legJSON {
	j := legJSON{
		From: leg.From, To: leg.To, Distance: float64(leg.Distance), Sail: float64(leg.Sail), RPM: legRPM(d, leg),
		Current: float64(leg.Current), Stay: leg.Stay.Hours(), Arrivals: map[string]arrivalJSON{},
	}
	for _, name := range passage.CaseNames {
		arrivals := a.Reckoning.Cases[name].Voyage.Arrivals
		if i >= len(arrivals) {
			continue
		}
		at := passage.ArrivalAt(leg, arrivals[i])
		told := arrivalJSON{At: arrivals[i]}
		if at.Known {
			told.ByDay = &at.ByDay
		}
		if !at.FirstLight.IsZero() {
			told.FirstLight = &at.FirstLight
		}
		if !at.LastLight.IsZero() {
			told.LastLight = &at.LastLight
		}
		j.Arrivals[string(name)] = told
	}
	return j
}

func turningOf(t provisions.Turning) turningJSON {
	j := turningJSON{Leg: t.Leg + 1, What: t.Thing, Case: t.Case, Back: t.To, State: t.State}
	if t.State == provisions.TurnOnLeg {
		j.After, j.At, j.Hours = (*float64)(&t.After), &t.At, &t.Back
	}
	return j
}

func onOrBackOf(p provisions.OnOrBack) onOrBackJSON {
	j := onOrBackJSON{Leg: p.Leg + 1, Case: p.Case, Guess: p.Guess}
	if p.Known {
		j.After, j.At, j.Out, j.Home = (*float64)(&p.After), &p.At, (*float64)(&p.Out), (*float64)(&p.Home)
	}
	return j
}

func rangeOf(row provisions.RangeRow) rangeJSON {
	j := rangeJSON{
		RPM: row.RPM, Speed: float64(row.Speed), Burn: float64(row.Burn), Whole: float64(row.Whole),
		LastDrop: float64(row.LastDrop), Further: row.Further, Cruise: row.Cruise,
	}
	if !row.Made {
		return j
	}
	later := row.Later.Hours()
	j.Later, j.Arrive, j.Fuel = &later, &row.Arrive, (*float64)(&row.Fuel)
	if !row.InHand.Never {
		j.InHand = &row.InHand.Days
	}
	return j
}

func windowOf(w provisions.Window) windowJSON {
	j := windowJSON{Leg: w.Leg + 1, Open: []openJSON{}}
	for _, o := range w.Open {
		j.Open = append(j.Open, openJSON{o.From, o.To})
	}
	return j
}

func leftOf(l provisions.Left) leftJSON {
	j := leftJSON{What: l.Thing, Case: l.Case, Points: []leftPointJSON{}, Reserve: []floorJSON{}, Arrivals: append([]float64{}, l.Arrivals...)}
	for _, p := range l.Points {
		j.Points = append(j.Points, leftPointJSON{p.Hours, float64(p.Amount)})
	}
	for _, f := range l.Floor {
		j.Reserve = append(j.Reserve, floorJSON{f.From, f.To, float64(f.Amount)})
	}
	return j
}
