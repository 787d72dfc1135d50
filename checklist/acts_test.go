package checklist

import (
	"strings"
	"testing"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// refused checks that an act is refused in these words.
func refused(t *testing.T, err error, want string) {
	t.Helper()
	require.Error(t, err)
	assert.Equal(t, want, err.Error())
}

func TestSoundingsThatCannotBeAreRefused(t *testing.T) {
	d := fitBoat()
	act, err := d.NewSound("water", "62 %")
	require.NoError(t, err)
	assert.Equal(t, Sound{"water", "62 %"}, act)
	_, err = d.NewSound("wter", "62 %")
	refused(t, err, `no tank is called "wter"; did you mean "water"?`)
	_, err = d.NewSound("holding", "62 %")
	refused(t, err, `no tank is called "holding"; one of: diesel, gas, water`)
	_, err = d.NewSound("water", "240 L")
	assert.Error(t, err, "it holds 200 L")
	_, err = d.NewSound("water", "62")
	assert.Error(t, err, "a bare number")
	_, err = d.NewSound("water", "120 mm")
	assert.Error(t, err, "it has no dip table")
}

func TestFillsThatCannotBeAreRefused(t *testing.T) {
	d := fitBoat()
	d.Boat.Tanks = append(d.Boat.Tanks, provisions.Tank{Name: "can", Holds: passage.Fuel, Capacity: 20, Can: true})
	var l log
	l.add(evening, Sound{"diesel", "100 L"}, Sound{"can", "12 L"})
	s := Fold(l)
	for _, test := range []struct{ tank, amount, from, want string }{
		{"water", "40 L", "", ""},
		{"water", "full", "", ""},
		{"diesel", "12 L", "can", ""},
		{"water", "0 L", "", `nothing would be filled; write how much, as "40 L", or "full"`},
		{"water", "500 L", "", `500 L is more than water holds; write "full", or an amount up to 200 L`},
		{"diesel", "13 L", "can", "can holds 12 L by its last sounding; sound it first, or move less"},
		{"diesel", "full", "can", `how much was moved is not known; write the amount, as "20 L"`},
		{"diesel", "5 L", "water", "water holds water, and diesel holds fuel; name a tank of the same thing"},
		{"can", "5 L", "can", "a tank cannot be filled from itself; name the tank it came from"},
		{"diesel", "5 L", "cann", `no tank is called "cann"; did you mean "can"?`},
	} {
		_, err := d.NewFill(s, test.tank, test.amount, test.from)
		if test.want == "" {
			assert.NoError(t, err, test)
			continue
		}
		refused(t, err, test.want)
	}
}

func TestCountsThatCannotBeAreRefused(t *testing.T) {
	d := fitBoat()
	day := quantity.Date{Year: 2026, Month: 7, Day: 1}
	_, err := d.NewCount(Count{Food: "biscuit", Packs: 3})
	assert.NoError(t, err)
	_, err = d.NewCount(Count{Food: "biscuits", Packs: 3})
	refused(t, err, `no food is called "biscuits"; did you mean "biscuit"?`)
	_, err = d.NewCount(Count{Food: "biscuit", Packs: -1})
	refused(t, err, "-1 packs cannot be there; count again: none is 0")
	_, err = d.NewCount(Count{Food: "biscuit", Packs: 1, BestBefore: day, UseBy: day})
	refused(t, err, "a lot has one date; give best-before, use-by or the day bought")
	_, err = d.NewCount(Count{Food: "biscuit", Packs: 1, Place: "bow\x1b[2J"})
	refused(t, err, "the place holds a control character; leave it out")
}

func TestAnswers(t *testing.T) {
	d, l := ready(t)
	a := l.assess(d, evening)
	for _, test := range []struct {
		in   AnswerInput
		want string
	}{
		{AnswerInput{Check: "seacock", Word: "right"}, ""},
		{AnswerInput{Check: "seacock", Word: "could-not-look"}, ""},
		{AnswerInput{Check: "gear", Word: "not aboard"}, ""},
		{AnswerInput{Check: "volts", Word: "12.6 V"}, ""},
		{AnswerInput{Check: "volts", Word: "could-not-look"}, ""},
		{AnswerInput{Check: "belts", Word: "right", Say: "a thumb"}, ""},
		{AnswerInput{Check: "seacok", Word: "right"}, `no check is called "seacok"; did you mean "seacock"?`},
		{AnswerInput{Check: "alone", Word: "right"}, "alone does not apply to this passage; it needs no answer"},
		{AnswerInput{Check: "seacock", Word: "done"}, `"done" is no answer; right, not-right, could-not-look or not-aboard`},
		{AnswerInput{Check: "seacock", Word: "not-aboard"}, "seacock is critical: not aboard is no answer to it; not-right, could-not-look, or take the check out of the round"},
		{AnswerInput{Check: "seacock", Word: "not-right"}, "seacock: what is not right?; say it in a few words (--why)"},
		{AnswerInput{Check: "belts", Word: "right"}, "belts asks for a word of evidence: how firm; say what was seen (--say)"},
		{AnswerInput{Check: "gear", Word: "not-right", Why: "loose", Grade: "awful"}, `"awful" is no grade of a defect; stop, limit or note`},
		{AnswerInput{Check: "volts", Word: "right"}, `"right" is no value of volts; write a value within 12.4 V to 13 V`},
		{AnswerInput{Check: "volts", Word: "82 C"}, `"82 C" is no value of volts; write it like "12.4 V"`},
		{AnswerInput{Check: "seacock", Word: "right", Say: "a\x00b"}, "the word of evidence holds a control character; leave it out"},
		{AnswerInput{Check: "seacock", Word: "not-right", Why: strings.Repeat("x", 1001)}, "the reason is longer than 1000 characters; say it shorter"},
	} {
		_, err := d.NewAnswer(a, test.in)
		if test.want == "" {
			assert.NoError(t, err, "%+v", test.in)
			continue
		}
		refused(t, err, test.want)
	}

	outside, err := d.NewAnswer(a, AnswerInput{Check: "volts", Word: "12.1 V"})
	require.NoError(t, err)
	assert.Equal(t, NotRight, outside.Answer, "kept, and judged")
	assert.Empty(t, outside.Grade, "a reading out of its limits opens no defect")
	critical, err := d.NewAnswer(a, AnswerInput{Check: "seacock", Word: "not-right", Why: "stiff", Grade: machinery.Note})
	require.NoError(t, err)
	assert.Equal(t, machinery.Stop, critical.Grade, "a critical check's defect stops her, whatever was asked")
	minor, err := d.NewAnswer(a, AnswerInput{Check: "gear", Word: "not-right", Why: "loose"})
	require.NoError(t, err)
	assert.Equal(t, machinery.Note, minor.Grade)
}

func TestSectionIsClosedOnlyWhenAllIsAnswered(t *testing.T) {
	d, l := ready(t)
	act, err := l.assess(d, evening).NewClosing("Before departure", "Engine")
	require.NoError(t, err)
	l.add(evening, act)
	assert.NotNil(t, l.assess(d, evening).Rounds[0].Sections[0].Closed)
	l.add(evening, Answer{Check: "gear", Answer: Right})
	assert.Nil(t, l.assess(d, evening).Rounds[0].Sections[0].Closed, "an answer since then opens it again")
	l.add(evening, Event{"seacock moved"})
	_, err = l.assess(d, evening).NewClosing("Before departure", "Engine")
	refused(t, err, "Engine is not done: seacock is void; answer it first")
	_, err = l.assess(d, evening).NewClosing("Before departure", "Rig")
	assert.Error(t, err)
}

func TestEvents(t *testing.T) {
	d := fitBoat()
	act, err := d.NewEvent("seacock moved")
	require.NoError(t, err)
	assert.Equal(t, Event{"seacock moved"}, act)
	_, err = d.NewEvent("seacock movd")
	refused(t, err, `no check knows the event "seacock movd"; did you mean "seacock moved"?`)
	_, err = d.NewEvent("whale seen to port")
	assert.NoError(t, err, "kept, though it voids nothing")
	_, err = d.NewEvent(" ")
	assert.Error(t, err)
	_, err = d.NewEvent("bell\a")
	assert.Error(t, err)
}

func TestReadings(t *testing.T) {
	d := fitBoat()
	s := Fold(nil)
	r, err := s.NewReading(d, []string{"rpm=2400", "speed=5.9kn", "coolant=82C", "oil=45 psi", "volts=13.9V", "sea=75F", "raw_out=41C", "hours=1000.5 h", "minutes=20", "sails=down", "under_way=yes", "note=clear exhaust"})
	require.NoError(t, err)
	assert.Len(t, r.Values, 8)
	assert.Equal(t, ReadingValue{"coolant", celsius(82)}, r.Values[2])
	assert.Equal(t, counted(1000.5), r.Values[7].Value)
	assert.False(t, r.Moored)
	for pair, want := range map[string]string{
		"coolant":         `"coolant" is no reading; write it like "coolant=82C"`,
		"coolant=3bar":    `"3bar" is no value of coolant; write it like coolant=82C`,
		"coolnt=82C":      `no gauge is called "coolnt"; did you mean "coolant"?`,
		"sails=half":      `sails="half"; sails=up or sails=down`,
		"under_way=maybe": `under_way="maybe"; under_way=yes or under_way=no`,
		"minutes=-3":      `minutes="-3"; write how long at these revs, like minutes=20`,
		"minutes=NaN":     `minutes="NaN"; write how long at these revs, like minutes=20`,
		"oil=-1 bar":      "oil cannot be below zero; read it again",
		"hours=999":       "the hour-meter stood at 1000 already; read it again",
		"minutes=20":      `nothing was read; write at least one, like "coolant=82C"`,
		"note=\x1b]0;x":   "the note holds a control character; leave it out",
	} {
		_, err := s.NewReading(d, []string{pair})
		refused(t, err, want)
	}
	_, err = s.NewReading(d, []string{"rpm=1", "rpm=2"})
	refused(t, err, "rpm is given twice; give it once")
}

func TestAcceptingCautions(t *testing.T) {
	d, l := ready(t)
	_, err := l.assess(d, evening).NewAccept("check:gear", "known")
	refused(t, err, "there is no caution to accept; nothing needs a reason now")
	l.add(evening, Answer{Check: "gear", Answer: NotRight, Why: "loose"}, Answer{Check: "belts", Answer: NotRight, Why: "worn"})
	a := l.assess(d, evening)
	act, err := a.NewAccept("gear", " lashed twice ")
	require.NoError(t, err)
	assert.Equal(t, Accept{Caution: "check:gear", Why: "lashed twice"}, act)
	_, err = a.NewAccept("gear", "  ")
	refused(t, err, "a caution is accepted with a reason; say why, in your own words")
	_, err = a.NewAccept("check:geer", "x")
	refused(t, err, `no caution is called "check:geer"; did you mean "check:gear"?`)
}

func TestCorrections(t *testing.T) {
	_, l := ready(t)
	act, err := NewCorrect(l, 2, "wrong stick")
	require.NoError(t, err)
	assert.Equal(t, Correct{2, "wrong stick"}, act)
	_, err = NewCorrect(l, 99, "x")
	refused(t, err, "there is no entry 99; `hoveshort review --entries` lists them")
	_, err = NewCorrect(l, 2, "")
	refused(t, err, "a correction has a reason; say why, in a few words")
	l.add(evening, Sign{Name: "A Skipper"}, Carry{})
	_, err = NewCorrect(l, 10, "x")
	assert.ErrorContains(t, err, "stands for ever")
	_, err = NewCorrect(l, 11, "x")
	assert.ErrorContains(t, err, "brought forward")
}

func TestClosingDefects(t *testing.T) {
	s := Assess(fitBoat(), Fold(nil), evening)
	_, err := s.NewDefectClosing(3, "mended")
	refused(t, err, "no defect has the number 3; no defect is open")
	s = Assess(fitBoat(), Fold([]Entry{{Seq: 3, At: evening, Act: DefectAct{What: "weep at the pump", Grade: machinery.Stop}}}), evening)
	_, err = s.NewDefectClosing(4, "mended")
	refused(t, err, "no open defect has the number 4; open are 3 (weep at the pump)")
	_, err = s.NewDefectClosing(3, "")
	refused(t, err, "a defect is closed with what was done or found; say it in a few words")
}

// The curve's normal at the cruise revs, 80 °C, and the limit of 6 °C above it; common
// practice, no source.
func TestNormalTakesTheCurve(t *testing.T) {
	d, l := ready(t)
	d.Rounds[0].Sections[0].Checks[2].Reading = &Range{Of: "coolant", Normal: true}
	assert.Equal(t, "86 °C or less", d.Limits(Range{Of: "coolant", Normal: true}))
	assert.Equal(t, "1 bar or more", d.Limits(Range{Of: "oil", Normal: true}))
	hot := celsius(86.1)
	l.add(evening, Answer{Check: "volts", Answer: Right, Value: &hot})
	assert.Equal(t, "86.1 °C is above 86 °C", l.assess(d, evening).Blockers[0].Why)
	d.Boat.Engine.CoolantMax = 85
	assert.Equal(t, "85 °C or less", d.Limits(Range{Of: "coolant", Normal: true}), "never above the engine's own limit")
}

func TestWalkIsTimedWithoutItsPauses(t *testing.T) {
	d := fitBoat()
	var l log
	l.add(evening, Answer{Check: "seacock", Answer: Right})
	l.add(evening.Add(5*time.Second), Answer{Check: "exhaust", Answer: Right})
	l.add(evening.Add(time.Hour), Answer{Check: "volts", Answer: Right, Value: volts(12.6)})
	l.add(evening.Add(time.Hour+14*time.Second), Answer{Check: "lights", Answer: Right})
	assert.Equal(t, Walk{Critical: 4, Took: 19 * time.Second}, l.assess(d, evening.Add(2*time.Hour)).Walk)
	assert.Equal(t, "4 critical checks in 19 s", l.assess(d, evening.Add(2*time.Hour)).Walk.String())
}
