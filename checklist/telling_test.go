package checklist

import (
	"testing"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
)

// Commands and screens tell an entry in the same words.
func TestEveryActIsToldInASentence(t *testing.T) {
	d := fitBoat()
	day := quantity.Date{Year: 2027, Month: 2, Day: 1}
	for want, act := range map[string]Act{
		"water sounded: 50 % (100 L)":                      Sound{"water", "50 %"},
		"water sounded: full (200 L)":                      Sound{"water", Full},
		"water sounded: 40 L":                              Sound{"water", "40 L"},
		"water sounded: 120 mm":                            Sound{"water", "120 mm"}, // she has no dip table any more
		"bow sounded: 50 %":                                Sound{"bow", "50 %"},     // nor that tank
		"water filled to the brim":                         Fill{Tank: "water", Amount: Full},
		"40 L into water":                                  Fill{Tank: "water", Amount: "40 L"},
		"12 L from can into water":                         Fill{Tank: "water", Amount: "12 L", From: "can"},
		"rice: 1 pack, best before 2027-02-01, in bow":     Count{Food: "rice", Packs: 1, BestBefore: day, Place: "bow"},
		"rice: 2.5 packs":                                  Count{Food: "rice", Packs: 2.5},
		"seacock: right; worked":                           Answer{Check: "seacock", Answer: Right, Say: "worked"},
		"seacock: not right (defect of grade stop): stiff": Answer{Check: "seacock", Answer: NotRight, Why: "stiff", Grade: machinery.Stop},
		"volts: 12.6 V, right":                             Answer{Check: "volts", Answer: Right, Value: volts(12.6)},
		"section done: Engine (Before departure)":          Answer{Round: "Before departure", Section: "Engine", Answer: SectionDone},
		"it happened: seacock moved":                       Event{"seacock moved"},
		"reading: coolant 82 °C, after 20 min, not under way, sails down, steady": Reading{
			Values: []ReadingValue{{"coolant", celsius(82)}}, Minutes: 20, Moored: true, Sails: "down", Note: "steady",
		},
		"defect of grade limit: weep":                                DefectAct{What: "weep", Grade: machinery.Limit},
		"defect 7 closed: new seal":                                  DefectAct{Close: 7, Why: "new seal"},
		"caution check:gear accepted: lashed":                        Accept{Caution: "check:gear", Why: "lashed"},
		"the clock is right from here on":                            ClockSettled{},
		"entry 3 counts as never written: slip":                      Correct{Of: 3, Why: "slip"},
		"brought forward: 2 entries":                                 Carry{Kept: make([]Entry, 2)},
		"nothing":                                                    nil,
		"signed off by A: there, departure 11 Jun 2026 18:00 +12:00": Sign{Name: "A", Passage: "there", Depart: evening},
	} {
		assert.Equal(t, want, d.Words(act))
	}
	d.Boat.Units = quantity.US
	assert.Equal(t, "reading: coolant 180 °F", d.Words(Reading{Values: []ReadingValue{{"coolant", celsius(82)}}}))
}
