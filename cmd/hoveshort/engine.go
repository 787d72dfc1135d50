package main

import (
	"fmt"
	"strings"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// engineReport prints how the engine stands: the latest reading against normal, the
// trends, and the services.
func (c *call) engineReport(asJSON bool) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	a := m.assess()
	e := checklist.LookAtEngine(m.definitions, m.state, a)
	if asJSON {
		return c.encode(engineOf(m.definitions, a, e))
	}
	c.text.WriteString(engineText(m, a, e))
	return nil
}

// engineJSON is the engine for other programs. Differences of temperature are in °C.
type engineJSON struct {
	Format    int            `json:"format"`
	Boat      string         `json:"boat"`
	Now       time.Time      `json:"now"`
	Fouling   float64        `json:"fouling"`
	Latest    *readingJSON   `json:"latest"`
	Trends    []trendJSON    `json:"trends"`
	Forecasts []forecastJSON `json:"services"`
}

type readingJSON struct {
	Entry     int           `json:"entry"`
	At        time.Time     `json:"at"`
	Text      string        `json:"text"`
	Level     string        `json:"level"`
	Signature string        `json:"signature"`
	Findings  []findingJSON `json:"findings"`
	First     []string      `json:"look_first"`
	Cautions  []string      `json:"cautions"`
	Rise      *float64      `json:"rise_c"`
	BySea     *float64      `json:"sea_explains_c"`
	Rest      *float64      `json:"unexplained_c"`
	Month     *float64      `json:"above_last_month_c"`
	Lift      *float64      `json:"lift_c"`
	SpeedLost *float64      `json:"speed_lost"`
	FuelMore  *float64      `json:"fuel_more_a_mile"`
}

type findingJSON struct {
	Gauge string `json:"gauge"`
	Level string `json:"level"`
	Words string `json:"words"`
}

type trendJSON struct {
	Of     string `json:"of"`
	Wanted int    `json:"readings_wanted"`
	Level  string `json:"level"`
	Words  string `json:"words"`
	Points int    `json:"points"`
}

type forecastJSON struct {
	Service string     `json:"service"`
	Falls   string     `json:"falls"`
	At      *time.Time `json:"at"`
	Day     *int       `json:"day"`
	Hours   *float64   `json:"hours_left"`
	Words   string     `json:"words"`
}

func engineOf(d checklist.Definitions, a checklist.Assessment, e checklist.Engine) engineJSON {
	j := engineJSON{Format: 1, Boat: a.Boat, Now: a.Now, Fouling: a.Fouling, Trends: []trendJSON{}, Forecasts: []forecastJSON{}}
	if e.Latest != nil {
		j.Latest = readingOf(d.Words(e.Latest.Reading), *e.Latest, e.Judgement)
	}
	for _, t := range e.Trends {
		j.Trends = append(j.Trends, trendJSON{string(t.Of), t.Wanted, t.Level.String(), t.Words, len(t.Points)})
	}
	for _, f := range e.Forecasts {
		j.Forecasts = append(j.Forecasts, forecastOf(f))
	}
	return j
}

func readingOf(text string, r checklist.ReadingState, judged machinery.Judgement) *readingJSON {
	f := judged.Figures
	j := &readingJSON{
		Entry: r.Seq, At: r.At, Text: text, Level: judged.Level.String(), Signature: string(judged.Signature),
		Findings: []findingJSON{}, First: append([]string{}, judged.First...), Cautions: append([]string{}, judged.Cautions...),
		Rise: (*float64)(f.Rise), BySea: (*float64)(f.SeaExplains), Rest: (*float64)(f.Unexplained), Month: (*float64)(f.AboveMonth),
		Lift: (*float64)(f.Lift), SpeedLost: (*float64)(f.SpeedLost), FuelMore: (*float64)(f.FuelMore),
	}
	for _, finding := range judged.Findings {
		j.Findings = append(j.Findings, findingJSON{string(finding.Gauge), finding.Level.String(), finding.Words})
	}
	return j
}

func forecastOf(f machinery.Forecast) forecastJSON {
	j := forecastJSON{Service: f.Service.Name, Falls: string(f.Falls), Words: f.Words()}
	if !f.First.At.IsZero() {
		j.At, j.Day = &f.First.At, &f.First.Day
	}
	if left, has := f.HoursLeft(); has {
		j.Hours = &left
	}
	return j
}

func engineText(m moment, a checklist.Assessment, e checklist.Engine) string {
	var r report
	r.line("%s: the engine, as of %s", a.Boat, a.Now.Format(longMoment))
	r.fouling(a)
	if e.Latest == nil {
		r.head("READINGS: none yet; write one down with: hoveshort reading rpm=2000 coolant=82C")
	} else {
		r.head("LATEST READING, entry %d, %s", e.Latest.Seq, e.Latest.At.Format(shortMoment))
		r.hang("  ", "  ", m.definitions.Words(e.Latest.Reading))
		r.judgement(e.Judgement)
	}
	if len(e.Trends) > 0 {
		r.head("TRENDS against the clean curve")
	}
	for _, t := range e.Trends {
		r.hang("- ", "  ", t.Words)
	}
	if len(e.Forecasts) > 0 {
		r.head("SERVICES over the slow passage, the most urgent first")
	}
	for _, f := range e.Forecasts {
		r.hang("- ", "  ", f.Service.Name+": "+f.Words())
	}
	r.head("%s", "Normal is the curve in boat.toml. The maker's manual and a licensed mechanic come before anything said here.")
	return r.String()
}

// judgement tells what a reading is worth, what to look at first, and the cautions.
func (r *report) judgement(j machinery.Judgement) {
	r.hang("  ", "  ", strings.ToUpper(j.Level.String())+signatureWords(j.Signature))
	for _, f := range j.Findings {
		r.hang("  "+string(f.Gauge)+": ", "    ", f.Words)
	}
	for _, caution := range j.Cautions {
		r.hang("  CAUTION: ", "    ", caution)
	}
	for i, look := range j.First {
		r.hang(fmt.Sprintf("  look %d: ", i+1), "    ", look)
	}
	for _, wrong := range j.Wrong {
		r.hang("  not right: ", "    ", wrong.Error())
	}
}

func signatureWords(s machinery.Signature) string {
	switch s {
	case "":
		return ""
	case machinery.SignatureUnclear:
		return "; the gauges that were read do not tell where it comes from"
	}
	return "; it points at: " + string(s)
}

// judgedText is what a reading that was just written is worth.
func judgedText(w written) string {
	for _, kept := range w.state.Readings {
		if kept.Seq == w.entry.Seq {
			var r report
			r.judgement(w.definitions.JudgeReading(w.state, kept, w.definitions.Boat.Units))
			return r.String()
		}
	}
	return ""
}
