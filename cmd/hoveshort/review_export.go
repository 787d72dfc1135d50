package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"syscall"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config/record"
)

// export writes every entry of the record, to a file that is not there yet or to where results go.
func (c *call) export(store *record.Store, p place, format string, args []string) error {
	give, err := exporter(format)
	if err != nil {
		return err
	}
	named := "-"
	if len(args) == 1 {
		named = args[0]
	}
	written := 0
	write := func(w io.Writer) error {
		n, notices, err := give(w, store, p)
		c.tell(notices)
		written = n
		return err
	}
	if named == "-" {
		var text strings.Builder
		if err := write(&text); err != nil {
			return coded(exitUnreadable, "", err)
		}
		if _, err := io.WriteString(c.stdout, text.String()); err != nil && !errors.Is(err, syscall.EPIPE) {
			return coded(exitNotWritten, "", fmt.Errorf("writing the result: %w", err))
		}
		return nil
	}
	if err := c.exportTo(c.path(named), named, write); err != nil {
		return err
	}
	c.say("wrote %s to %s", plural(written, "entry", "entries"), named)
	return nil
}

// exportTo makes the file; what was begun and could not be ended is taken away again.
func (c *call) exportTo(path, named string, write func(io.Writer) error) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return &problem{code: exitRefused, says: fmt.Sprintf("%s is there already; nothing was written", named), hint: "name another file, or move that one"}
	}
	if err != nil {
		return coded(exitNotWritten, "name a file in a folder that can be written", err)
	}
	buffered := bufio.NewWriter(f)
	if err := errors.Join(write(buffered), buffered.Flush(), f.Close()); err != nil {
		_ = os.Remove(path)
		return coded(exitNotWritten, "", fmt.Errorf("writing %s: %w", named, err))
	}
	return nil
}

// giver writes entries in one format; it gives how many, and what the record has to say of itself.
type giver func(io.Writer, *record.Store, place) (int, []string, error)

func exporter(format string) (giver, error) {
	switch format {
	case "jsonl":
		return exportJSONL, nil
	case "csv":
		return exportCSV, nil
	}
	return nil, usage("--export jsonl, or --export csv", "there is no format %.40q", format)
}

// each gives the entries up to --at.
func each(store *record.Store, p place, give func(checklist.Entry) error) (n int, notices []string, err error) {
	notices, err = store.Each(func(e checklist.Entry) error {
		if p.until != nil && e.At.After(*p.until) {
			return nil
		}
		n++
		return give(e)
	})
	return n, notices, err
}

func exportJSONL(w io.Writer, store *record.Store, p place) (int, []string, error) {
	return each(store, p, func(e checklist.Entry) error {
		var line strings.Builder
		if err := record.WriteJSONL(&line, e); err != nil {
			return err
		}
		_, err := io.WriteString(w, cleanJSON(line.String()))
		return err
	})
}

func exportCSV(w io.Writer, store *record.Store, p place) (int, []string, error) {
	rows := record.NewCSV(w)
	if err := rows.Write(record.CSVHeader); err != nil {
		return 0, nil, err
	}
	n, notices, err := each(store, p, func(e checklist.Entry) error {
		e.By = clean(e.By, true)
		return record.WriteCSV(rows, e, clean(checklist.Definitions{}.Words(e.Act), true))
	})
	rows.Flush()
	return n, notices, errors.Join(err, rows.Error())
}

type rethinkJSON struct {
	Kind  string `json:"kind"` // quick | never | excepted
	Name  string `json:"name"`
	Ask   string `json:"ask"`
	Times int    `json:"times"`
	Of    int    `json:"of"`
	Text  string `json:"text"`
}

// rethink lists what the rounds have become a habit of.
func (c *call) rethink(entries []checklist.Entry, d checklist.Definitions, asJSON bool) error {
	list := checklist.WorthRethinking(d, entries)
	if asJSON {
		told := []rethinkJSON{}
		for _, r := range list {
			told = append(told, rethinkJSON(r))
		}
		return c.encode(struct {
			Format  int           `json:"format"`
			Rethink []rethinkJSON `json:"rethink"`
		}{1, told})
	}
	var r report
	if len(list) == 0 {
		r.line("nothing is worth rethinking, as far as the record tells")
	} else {
		r.line("worth rethinking; the rounds are yours:")
	}
	for _, item := range list {
		r.item(item.Text)
	}
	c.text.WriteString(r.String())
	return nil
}
