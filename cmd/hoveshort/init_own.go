package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"
	"boat/hoveshort/provisions/quantity"
)

// ownFigures are the five answers that make the starter a boat of one's own, as they were typed.
type ownFigures struct {
	name, hours, fuel, crew string
	water                   []string
}

func (o ownFigures) isGiven() bool { return o.name+o.hours+o.fuel+o.crew != "" || len(o.water) > 0 }

// initQuestion is one of the five.
type initQuestion struct {
	flag, asks string
	take       func(own *config.Own, text string) error
}

// initQuestions are the five: without them every figure of the first day is another boat's.
var initQuestions = []initQuestion{
	{"--name", "What is the boat called? ", takeName},
	{"--hours", "What does the engine's hour-meter show, as 1482? ", takeHours},
	{"--water", "How much does each water tank hold, as 150 L, or 150 L + 80 L? ", takeWater},
	{"--fuel", "How much does the fuel tank hold, as 110 L or 30 US gal? ", takeFuel},
	{"--crew", "How many are aboard, you included? ", takeCrew},
}

// ownBoat is what the starter is given: from the flags, else asked for on a terminal; nil: neither, and it stays as it is.
func (c *call) ownBoat(opts initOptions) (own *config.Own, asked bool, err error) {
	switch {
	case opts.demo && opts.own.isGiven():
		return nil, false, usage("hoveshort init --demo DIR", "the demo boat has her own figures")
	case opts.own.isGiven():
		own, err = c.ownGiven(opts.own)
		return own, false, err
	case opts.demo || opts.json || !c.stdinIsTerminal:
		return nil, false, nil
	}
	own, err = c.ownAsked()
	return own, true, err
}

// begun is an Own of now, or of --at.
func (c *call) begun() (*config.Own, error) {
	at, err := c.moment()
	if err != nil {
		return nil, err
	}
	if at != nil {
		return &config.Own{Begun: *at}, nil
	}
	return &config.Own{Begun: c.now()}, nil
}

func (c *call) ownGiven(o ownFigures) (*config.Own, error) {
	own, err := c.begun()
	if err != nil {
		return nil, err
	}
	for i, text := range []string{o.name, o.hours, strings.Join(o.water, " + "), o.fuel, o.crew} {
		if text == "" {
			continue
		}
		if err := initQuestions[i].take(own, asTyped([]string{text})[0]); err != nil {
			_, says, hint := verdictOn(err)
			return nil, usage(hint, "%s: %s", initQuestions[i].flag, says)
		}
	}
	return own, nil
}

// mostSilences is after how many empty lines nothing more is asked: the end of the input looks like one.
const mostSilences = 3

func (c *call) ownAsked() (*config.Own, error) {
	own, err := c.begun()
	if err != nil {
		return nil, err
	}
	c.say("Five questions make it your boat. Nothing is written before the last.")
	for _, q := range initQuestions {
		if err := c.askOwn(q, own); err != nil {
			return nil, err
		}
	}
	return own, nil
}

// askOwn asks until an answer can be taken.
func (c *call) askOwn(q initQuestion, own *config.Own) error {
	for silences := 0; silences < mostSilences; {
		text, err := c.ask(q.asks)
		if err != nil {
			return err
		}
		if text == "" {
			silences++
			continue
		}
		silences = 0
		if err = q.take(own, text); err == nil {
			return nil
		}
		_, says, hint := verdictOn(err)
		c.say("%s", says)
		if hint != "" {
			c.say("%s", hint)
		}
	}
	return &problem{code: exitRefused, says: "nothing was written", hint: "answer the five questions, or give --name, --hours, --water, --fuel and --crew"}
}

func refusedFigure(cure, format string, args ...any) error {
	return coded(exitRefused, cure, fmt.Errorf(format, args...))
}

func takeName(own *config.Own, text string) error {
	const longest = 60
	text = strings.TrimSpace(text)
	if text == "" || len([]rune(text)) > longest || strings.ContainsFunc(text, checklist.Refused) || strings.ContainsFunc(text, drivesTerminal) {
		return refusedFigure("write it as it stands on her stern, at most 60 characters", "%q is no name", clean(cut(text, longest), true))
	}
	own.Name = text
	return nil
}

func takeHours(own *config.Own, text string) error {
	const most = 200000 // hours: 23 years without a pause
	hours, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "h")), 64)
	if err != nil || math.IsNaN(hours) || hours < 0 || hours > most {
		return refusedFigure("write what it shows, like 1482 or 1482.5; a new engine has 0", "%q is no reading of an hour-meter", cut(text, 60))
	}
	own.Hours = &hours
	return nil
}

// Capacities that a tank can have. The starter's pick-ups leave 6 L in each.
const (
	leastTank quantity.Volume = 12
	mostTank  quantity.Volume = 10000
	mostTanks                 = 6
)

// capacityIn is a capacity as it was typed, once it can be one.
func capacityIn(text string) (string, error) {
	text = strings.TrimSpace(text)
	v, err := quantity.ParseVolume(text)
	if err == nil && (v < leastTank || v > mostTank) {
		return "", refusedFigure("write what the tank holds when it is full, 12 L to 10,000 L; cans are written into boat.toml", "%s is no tank", text)
	}
	return text, err
}

func takeWater(own *config.Own, text string) error {
	var tanks []string
	for part := range strings.FieldsFuncSeq(text, func(c rune) bool { return c == '+' || c == ',' || c == ';' }) {
		v, err := capacityIn(part)
		if err != nil {
			return err
		}
		tanks = append(tanks, v)
	}
	if len(tanks) == 0 || len(tanks) > mostTanks {
		return refusedFigure("write one to six, like 150 L + 80 L; more are written into boat.toml", "that is %s", count(len(tanks), "tank"))
	}
	own.Water = tanks
	return nil
}

func takeFuel(own *config.Own, text string) error {
	v, err := capacityIn(text)
	own.Fuel = v
	return err
}

func takeCrew(own *config.Own, text string) error {
	const most = 20
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > most {
		return refusedFigure("write a number from 1 to 20; alone is 1", "%q is no number of people", cut(text, 60))
	}
	own.Crew = n
	return nil
}
