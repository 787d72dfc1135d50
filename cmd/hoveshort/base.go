package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

func newBaseCommand(c *call) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "base",
		Short: "What waits for the next base: looks, jobs and parts",
		Long: "What waits for the next base, by where it is done: hauled out, alongside or in a workshop,\nand from a shop. Suspects that could not be cleared out there, faults without a cause found,\n" +
			"services, what is found and not mended, and the parts wanted." + exits(nil, exitDone, exitUnreadable, exitUsage),
		Example: "  hoveshort base\n  hoveshort base --json",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runBase(c, asJSON) }),
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the list as JSON")
	return cmd
}

// baseJSON is what waits for the next base, for other programs.
type baseJSON struct {
	Format  int           `json:"format"`
	Boat    string        `json:"boat"`
	Hauled  []errandJSON  `json:"hauled_out"`
	Looks   []errandJSON  `json:"looks"`
	Jobs    []errandJSON  `json:"jobs"`
	Parts   []wantJSON    `json:"parts"`
	Pending []pendingJSON `json:"to_be_proved"`
}

type errandJSON struct {
	What  string   `json:"what"`
	Why   []string `json:"why"`
	Takes float64  `json:"takes_min"`
	Lacks []string `json:"lacks"`
}

type pendingJSON struct {
	Defect int    `json:"defect"`
	Clears string `json:"clears"`
}

func runBase(c *call, asJSON bool) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	a := m.assess()
	base := checklist.AtBase(m.definitions, m.state, a)
	if asJSON {
		return c.encode(baseOf(m, a, base))
	}
	var r report
	r.line("%s: what waits for the next base, as of %s", a.Boat, m.now.Format(longMoment))
	hauled, looks := partedErrands(base.Looks)
	r.errands("HAULED OUT", hauled)
	r.errands("ALONGSIDE OR IN A WORKSHOP: looks", looks)
	r.errands("ALONGSIDE OR IN A WORKSHOP: jobs", base.Jobs)
	if len(base.Parts) > 0 {
		r.head("FROM A SHOP (hoveshort wanted reads it out)")
	}
	for _, w := range base.Parts {
		for _, line := range w.Aloud() {
			r.hang("- ", "  ", line)
		}
	}
	for i, p := range pendingOf(a) {
		if i == 0 {
			r.head("REPAIRED, TO BE PROVED: no base is wanted for it")
		}
		r.item(fmt.Sprintf("defect %d", p.Defect), p.Clears)
	}
	if len(base.Looks)+len(base.Jobs)+len(base.Parts) == 0 {
		r.line("nothing waits for it")
	}
	c.text.WriteString(r.String())
	return nil
}

func partedErrands(list []machinery.Errand) (hauled, others []machinery.Errand) {
	for _, e := range list {
		if e.Hauled {
			hauled = append(hauled, e)
			continue
		}
		others = append(others, e)
	}
	return hauled, others
}

func (r *report) errands(head string, list []machinery.Errand) {
	if len(list) == 0 {
		return
	}
	r.head("%s", head)
	for _, e := range list {
		text := e.What
		if e.Takes > 0 {
			text += fmt.Sprintf(", %.0f min", e.Takes.Minutes())
		}
		under := []string{strings.Join(e.Why, "; ")}
		if len(e.Lacks) > 0 {
			under = append(under, "not there for it: "+strings.Join(e.Lacks, ", "))
		}
		r.item(text, under...)
	}
}

func baseOf(m moment, a checklist.Assessment, base machinery.BaseList) baseJSON {
	hauled, looks := partedErrands(base.Looks)
	j := baseJSON{Format: 1, Boat: a.Boat, Hauled: errandsOf(hauled), Looks: errandsOf(looks), Jobs: errandsOf(base.Jobs), Parts: wantedOf(m, a, base.Parts).Wanted, Pending: pendingOf(a)}
	return j
}

func errandsOf(list []machinery.Errand) []errandJSON {
	told := []errandJSON{}
	for _, e := range list {
		told = append(told, errandJSON{e.What, slices.Clone(e.Why), e.Takes.Minutes(), append([]string{}, e.Lacks...)})
	}
	return told
}

// pendingOf are the repairs that are still to be proved.
func pendingOf(a checklist.Assessment) []pendingJSON {
	list := []pendingJSON{}
	for _, v := range a.Defects {
		if v.State == checklist.DefectToProve {
			list = append(list, pendingJSON{v.Seq, v.Clears})
		}
	}
	return list
}
