package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config/signalk"
	"boat/hoveshort/provisions/quantity"
)

// signalKOptions are what is asked of the sensors.
type signalKOptions struct {
	source string
	write  bool
	json   bool
	with   []string // more of the reading, which a hand alone can tell
}

func newSignalKCommand(c *call) *cobra.Command {
	var opts signalKOptions
	cmd := &cobra.Command{
		Use:   "signalk [SOURCE]",
		Short: "Tank levels and gauges from the boat's own sensors, shown, and written with --write",
		Long: "What the boat's sensors say of tanks and gauges, in the Signal K format (specification 1.7).\n" +
			"SOURCE is a file, - for the standard input, or the http address of the boat's server; left\nout it is the url under [signalk] in boat.toml. Which sensor tells what stands there too:\n\n" +
			"  [signalk]\n  url = \"http://192.0.2.10:3000/signalk/v1/api/vessels/self\"\n  max_age = \"10 min\"\n  rpm = \"propulsion.main.revolutions\"   # also hours, speed, coolant, oil, volts, sea, raw_out\n\n" +
			"  [[tank]]\n  signalk = \"tanks.freshWater.0.currentLevel\"\n\n" +
			"Each value is judged: its age, whether it can be, whether a hand was there later. Without\n--write nothing is written. With it, what is taken becomes soundings and one reading, as if\ntyped; a sensor that sticks still tells a lie in good form, so look at what is shown first." +
			exits(map[int]string{exitUnreadable: "files with mistakes, or the source cannot be read"}, exitDone, exitRefused, exitUnreadable, exitNotWritten, exitUsage),
		Example: "  hoveshort signalk vessel.json\n  hoveshort signalk vessel.json --write --reading minutes=20 --reading sails=down",
		Args:    atMost(1),
		RunE: do(func(args []string) error {
			if len(args) > 0 {
				opts.source = args[0]
			}
			return runSignalK(c, opts)
		}),
	}
	flags := cmd.Flags()
	flags.BoolVar(&opts.write, "write", false, "write what is taken into the record")
	flags.BoolVar(&opts.json, "json", false, "print it as JSON")
	flags.StringArrayVar(&opts.with, "reading", nil, "with --write: more of the reading, `KEY=VALUE`, such as minutes=20, sails=down, under_way=no")
	return cmd
}

func runSignalK(c *call, opts signalKOptions) error {
	if len(opts.with) > 0 && !opts.write {
		return usage("for example: hoveshort signalk vessel.json --write --reading minutes=20", "--reading belongs to --write")
	}
	if isAddress(opts.source) {
		if _, err := serverAddress(opts.source); err != nil { // before anything is opened
			return err
		}
	}
	a, err := c.aboard()
	if err != nil {
		return err
	}
	if opts.source == "" {
		opts.source = a.definitions().Boat.Sensors.URL
	}
	if opts.source == "" {
		return usage("name one, or write its url under [signalk] in boat.toml", "no source is named")
	}
	model, err := c.sensorModel(opts.source, a.definitions())
	if err != nil {
		return err
	}
	m, err := a.load()
	if err != nil {
		return err
	}
	c.tell(m.notices)
	s := sensing{source: sourceName(opts.source), model: model, moment: m, values: m.definitions.JudgeSensed(m.state, m.now, saidBy(model))}
	if opts.write {
		err = c.writeSensed(a, &s, opts.with)
		if err != nil {
			return err
		}
		if len(s.entries) == 0 {
			c.code = exitRefused
		}
	}
	if opts.json {
		return c.encode(s.forPrograms(opts.write))
	}
	c.text.WriteString(s.text(opts.write))
	return nil
}

func sourceName(source string) string {
	if source == "-" {
		return "the standard input"
	}
	return source
}

// sensorModel reads the own vessel's values out of the source.
func (c *call) sensorModel(source string, d checklist.Definitions) (signalk.Model, error) {
	text, err := c.signalKSource(source)
	if err != nil {
		return signalk.Model{}, err
	}
	own := signalk.Own{Self: d.Boat.Sensors.Self}
	for _, id := range d.Boat.Identity {
		if id.Key == "mmsi" {
			own.MMSI = strings.ReplaceAll(id.Text, " ", "")
		}
	}
	model, err := signalk.Read(text, own)
	var wrong *signalk.Error
	if errors.As(err, &wrong) {
		return model, coded(exitRefused, wrong.Cure, fmt.Errorf("%s %w", sourceName(source), wrong))
	}
	return model, err
}

// siUnits are those that the specification gives to the paths that can be asked for; what a
// value's own meta data say must be the same.
var siUnits = map[string]string{
	"currentlevel": "ratio", "currentvolume": "m3", "revolutions": "Hz", "runtime": "s", "speedthroughwater": "m/s",
	"temperature": "K", "oilpressure": "Pa", "voltage": "V",
}

// saidBy looks up what a model says.
func saidBy(model signalk.Model) func(string) checklist.Sensed {
	return func(path string) checklist.Sensed {
		v, there := model.Values[path]
		said := checklist.Sensed{Value: v.Number, At: v.At}
		unit := unitOf(path)
		switch {
		case !there:
			said.Missing = "the message says nothing of it"
		case v.IsNull:
			said.Missing = "the sensor has nothing to say"
		case !v.IsNumber:
			said.Missing = "what is sent is no number"
		case v.Unit != "" && unit != "" && v.Unit != unit:
			said.Missing = fmt.Sprintf("it is told in %s, and the specification has %s", oneLineOf(v.Unit), unit)
		}
		return said
	}
}

func unitOf(path string) string {
	last := strings.ToLower(path[strings.LastIndex(path, ".")+1:])
	for ends, unit := range siUnits {
		if strings.HasSuffix(last, ends) {
			return unit
		}
	}
	return ""
}

// sensing is what the sensors said, and what came of it.
type sensing struct {
	source string
	model  signalk.Model
	moment
	values  []checklist.SensedValue
	entries []entryJSON
	judged  string // what was made of the reading
}

// writeSensed writes the soundings, one by one, and the reading; each is judged again under the
// record's lock.
func (c *call) writeSensed(a *aboard, s *sensing, with []string) error {
	for i := range s.values {
		v := &s.values[i]
		if v.Kind != checklist.KindSound || !v.IsTaken() {
			continue
		}
		w, err := a.append(func(m moment) (checklist.Act, error) {
			return m.definitions.NewSensedSounding(m.state, m.now, v.Of, v.Sensed)
		})
		if err := c.wroteSensed(s, w, err, v); err != nil {
			return err
		}
	}
	if len(checklist.Pairs(s.values)) == 0 {
		return nil
	}
	w, err := a.append(func(m moment) (checklist.Act, error) {
		judged := m.definitions.JudgeSensed(m.state, m.now, saidBy(s.model))
		pairs := checklist.Pairs(judged)
		if len(pairs) == 0 {
			return nil, &quantity.Error{Problem: "what was to be read was read meanwhile", Cure: "the later reading stands"}
		}
		return m.state.NewReading(m.definitions, append(pairs, with...))
	})
	var readings []*checklist.SensedValue
	for i := range s.values {
		if s.values[i].Kind == checklist.KindReading && s.values[i].IsTaken() {
			readings = append(readings, &s.values[i])
		}
	}
	return c.wroteSensed(s, w, err, readings...)
}

// wroteSensed keeps what was written; a refusal leaves those values out, another error ends it.
func (c *call) wroteSensed(s *sensing, w written, err error, values ...*checklist.SensedValue) error {
	var refusal *quantity.Error
	switch {
	case errors.As(err, &refusal):
		for _, v := range values {
			v.Why, v.Cure = refusal.Problem, refusal.Cure
		}
		return nil
	case err != nil:
		return err
	}
	c.tell(w.notices)
	s.moment = w.moment
	s.entries = append(s.entries, entryJSON{w.entry.Seq, w.entry.At, w.entry.Act.Kind(), w.entry.By, w.definitions.Words(w.entry.Act), false})
	if _, reads := w.entry.Act.(checklist.Reading); reads {
		s.judged = judgedText(w) + offerText(w)
	}
	return nil
}

// text tells it value by value.
func (s sensing) text(wrote bool) string {
	var r report
	r.line("SIGNAL K, from %s", s.source)
	taken := slices.DeleteFunc(slices.Clone(s.values), func(v checklist.SensedValue) bool { return !v.IsTaken() })
	left := slices.DeleteFunc(slices.Clone(s.values), checklist.SensedValue.IsTaken)
	switch {
	case len(s.values) == 0:
		s.unmapped(&r)
		return r.String()
	case wrote && len(taken) > 0:
		r.head("WRITTEN")
		for _, e := range s.entries {
			_, _ = fmt.Fprintf(&r, "entry %d: %s\n", e.Seq, e.Text)
		}
		r.WriteString(s.judged)
	case wrote:
		r.line("nothing was written")
	case len(taken) > 0:
		r.head("WOULD BE WRITTEN, with --write")
		for _, v := range taken {
			r.item(fmt.Sprintf("%s: %s (%s, %s)", v.Of, shownText(v), v.Path, ageText(s.now, v.At)))
		}
	default:
		r.line("nothing of it would be written")
	}
	if len(left) > 0 {
		r.head("LEFT OUT")
		for _, v := range left {
			r.item(fmt.Sprintf("%s: %s (%s)", v.Of, v.Why, v.Path), v.Cure)
		}
	}
	return r.String()
}

// shownText is a value with a space before its unit.
func shownText(v checklist.SensedValue) string {
	i := strings.LastIndexAny(v.Text, "0123456789")
	if i+1 >= len(v.Text) || v.Text[i+1] == ' ' {
		return v.Text
	}
	return v.Text[:i+1] + " " + v.Text[i+1:]
}

func ageText(now, at time.Time) string {
	age := max(0, now.Sub(at))
	if age < 2*time.Minute {
		return fmt.Sprintf("%d s old", age/time.Second)
	}
	return quantity.RoughUp(age) + " old"
}

// unmapped helps whoever begins: what the message holds that could be asked for.
func (s sensing) unmapped(r *report) {
	r.line("boat.toml names no sensor, so nothing is taken. Write which tells what: signalk = \"PATH\" in a [[tank]], and rpm, hours, speed, coolant, oil, volts, sea, raw_out under [signalk].")
	paths := s.model.Useful()
	if len(paths) == 0 {
		return
	}
	r.head("THE MESSAGE HOLDS")
	const most = 40
	for i, path := range paths {
		if i == most {
			r.line("… and %d more", len(paths)-most)
			break
		}
		r.item(fmt.Sprintf("%s = %s", oneLineOf(path), strconv.FormatFloat(s.model.Values[path].Number, 'f', -1, 64)))
	}
}

// signalKJSON is it for other programs.
type signalKJSON struct {
	Format  int          `json:"format"`
	Source  string       `json:"source"`
	Now     time.Time    `json:"now"`
	Write   bool         `json:"write"`
	Values  []sensedJSON `json:"values"`
	Entries []entryJSON  `json:"entries"`
	Paths   []string     `json:"paths"` // what the message holds that could be asked for
}

type sensedJSON struct {
	Kind  checklist.Kind `json:"kind"`
	Of    string         `json:"of"`
	Path  string         `json:"path"`
	Value *float64       `json:"value"` // in the SI unit of the path; null: there is none
	At    *time.Time     `json:"at"`
	Text  string         `json:"text"`
	Taken bool           `json:"taken"`
	Why   string         `json:"why"`
	Cure  string         `json:"cure"`
}

func (s sensing) forPrograms(write bool) signalKJSON {
	j := signalKJSON{Format: 1, Source: s.source, Now: s.now, Write: write, Values: []sensedJSON{}, Entries: append([]entryJSON{}, s.entries...), Paths: s.model.Useful()}
	for _, v := range s.values {
		one := sensedJSON{Kind: v.Kind, Of: v.Of, Path: v.Path, At: momentOrNull(v.At), Text: v.Text, Taken: v.IsTaken(), Why: v.Why, Cure: v.Cure}
		if v.Missing == "" {
			one.Value = &v.Value
		}
		j.Values = append(j.Values, one)
	}
	return j
}
