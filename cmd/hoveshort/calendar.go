package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"syscall"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
)

// calendarOptions are in which form the calendar is wanted.
type calendarOptions struct {
	out   string // the file; "", "-": stdout
	force bool
	json  bool
}

func newCalendarCommand(c *call) *cobra.Command {
	var opts calendarOptions
	cmd := &cobra.Command{
		Use:   "calendar",
		Short: "Services due, gear that ends, and the time to worry, for a calendar (iCalendar)",
		Long: "The dates of the boat as an iCalendar file (RFC 5545): services by the day on which they fall\ndue, those by the hour-meter where the slow passage brings them there; the last day of dated\n" +
			"gear; and the moment from which the person ashore worries, with an alarm. It sends nothing:\nload the file into a calendar, or hand it over with the passage sheet. Loaded anew, the same\n" +
			"dates are moved, not doubled. A calendar that was handed over knows nothing of later changes." +
			exits(map[int]string{exitRefused: "refused: the file is there already"}, exitDone, exitRefused, exitUnreadable, exitNotWritten, exitUsage),
		Example: "  hoveshort calendar\n  hoveshort calendar --out heron.ics",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runCalendar(c, opts) }),
	}
	flags := cmd.Flags()
	flags.StringVar(&opts.out, "out", "", "write it to this `FILE`; - is the standard output")
	flags.BoolVar(&opts.force, "force", false, "with --out: write over a file that is there")
	flags.BoolVar(&opts.json, "json", false, "print the dates as JSON")
	return cmd
}

func runCalendar(c *call, opts calendarOptions) error {
	toFile := opts.out != "" && opts.out != "-"
	switch {
	case opts.json && opts.out != "":
		return usage("ask for one of them at a time", "--json and --out each give another form")
	case opts.force && !toFile:
		return usage("for example: hoveshort calendar --out heron.ics --force", "--force belongs to --out FILE")
	}
	name := c.path(opts.out)
	if toFile {
		if err := refuseToOverwrite(name, sheetOptions{pdf: opts.out, force: opts.force}); err != nil {
			return err
		}
	}
	m, err := c.look()
	if err != nil {
		return err
	}
	items, notes := checklist.Agenda(m.definitions, m.state, m.assess())
	if opts.json {
		return c.encode(agendaOf(m, items, notes))
	}
	text := []byte(calendarText(m, items))
	for i, note := range notes {
		notes[i] = "left out: " + note
	}
	c.tell(notes)
	if !toFile {
		_, err := c.stdout.Write(text) // as the standard has it: UTF-8, lines that end in CR LF
		if err == nil || errors.Is(err, syscall.EPIPE) {
			return nil
		}
		return coded(exitNotWritten, "", fmt.Errorf("writing the calendar: %w", err))
	}
	if err := writeWhole(name, text); err != nil {
		return coded(exitNotWritten, "nothing was written; name a file in a folder that can be written", err)
	}
	fmt.Fprintf(&c.text, "%s: %s of %s\n", opts.out, count(len(items), "date"), m.definitions.Boat.Name)
	return nil
}

// calendarText is the dates as an iCalendar object. Source: RFC 5545; the calendar's name: RFC 7986, 5.1.
func calendarText(m moment, items []checklist.AgendaItem) string {
	cal := ics.NewCalendarFor("hoveshort")
	cal.SetProductId("-//hoveshort//calendar//EN")
	cal.SetCalscale("GREGORIAN")
	cal.SetName(oneLineOf(m.definitions.Boat.Name))
	for _, item := range items {
		addEvent(cal, m, item)
	}
	var b bytes.Buffer
	_ = cal.SerializeTo(&b, ics.WithNewLine("\r\n")) // a buffer takes all
	return b.String()
}

func addEvent(cal *ics.Calendar, m moment, item checklist.AgendaItem) {
	event := cal.AddEvent(eventID(m.definitions.Boat.Name, item))
	event.SetDtStampTime(m.now.UTC())
	event.SetSequence(m.state.Last.Seq) // it grows with the record: who loads a later one takes it for the later
	event.SetSummary(clean(item.What, true))
	event.SetDescription(clean(strings.Join(item.Told, "\n"), true))
	event.SetTimeTransparency(ics.TransparencyTransparent) // nobody is busy by it
	if item.At.IsZero() {
		day := item.Day.In(time.UTC) // a date alone is of no zone
		event.SetAllDayStartAt(day)
		event.SetAllDayEndAt(day.AddDate(0, 0, 1)) // the first day that is not of it: RFC 5545, 3.6.1
		return
	}
	event.SetStartAt(item.At.UTC())
	alarm := event.AddAlarm()
	alarm.SetAction(ics.ActionDisplay)
	alarm.SetTrigger("PT0S") // at its start
	alarm.SetDescription(clean(item.What, true))
}

// eventID is the same for the same service, gear or passage of the same boat, whenever it is made.
func eventID(boat string, item checklist.AgendaItem) string {
	sum := sha256.Sum256([]byte(boat + "\x00" + string(item.Kind) + "\x00" + item.Name))
	return fmt.Sprintf("%s-%s@hoveshort.invalid", item.Kind, hex.EncodeToString(sum[:8]))
}

// agendaJSON is the dates for other programs.
type agendaJSON struct {
	Format  int              `json:"format"`
	Boat    string           `json:"boat"`
	Now     time.Time        `json:"now"`
	Dates   []agendaItemJSON `json:"dates"`
	LeftOut []string         `json:"left_out"`
}

type agendaItemJSON struct {
	Kind checklist.AgendaKind `json:"kind"`
	Name string               `json:"name"`
	UID  string               `json:"uid"`
	Day  *string              `json:"day"` // null: it is of a moment
	At   *time.Time           `json:"at"`  // null: it is of a day
	What string               `json:"what"`
	Told []string             `json:"told"`
}

func agendaOf(m moment, items []checklist.AgendaItem, notes []string) agendaJSON {
	j := agendaJSON{Format: 1, Boat: m.definitions.Boat.Name, Now: m.now, Dates: []agendaItemJSON{}, LeftOut: append([]string{}, notes...)}
	for _, item := range items {
		one := agendaItemJSON{Kind: item.Kind, Name: item.Name, UID: eventID(j.Boat, item), At: momentOrNull(item.At), What: item.What, Told: append([]string{}, item.Told...)}
		if !item.Day.IsZero() {
			day := item.Day.String()
			one.Day = &day
		}
		j.Dates = append(j.Dates, one)
	}
	return j
}
