package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

func newWantedCommand(c *call) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "wanted",
		Short: "The parts that are missing, to be read out to a neighbour boat",
		Long: "The parts and tools that are not aboard and should be: for this kind of passage, and for\nthe services that fall due before the slow arrival. The numbered lines are to be read\n" +
			"out over the radio; why each is wanted stands under it." + exits(nil, exitDone, exitUnreadable, exitUsage),
		Example: "  hoveshort wanted\n  hoveshort wanted --json",
		Args:    atMost(0),
		RunE:    do(func([]string) error { return runWanted(c, asJSON) }),
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the parts as JSON")
	return cmd
}

func runWanted(c *call, asJSON bool) error {
	m, err := c.look()
	if err != nil {
		return err
	}
	a := m.assess()
	wants := wantsOf(m, a)
	if asJSON {
		return c.encode(wantedOf(m, a, wants))
	}
	c.text.WriteString(wantedText(m, a, wants))
	return nil
}

func wantsOf(m moment, a checklist.Assessment) []machinery.Want {
	forecasts := checklist.LookAtEngine(m.definitions, m.state, a).Forecasts
	return machinery.Wanted(m.definitions.Plan.Kind, m.definitions.Now(m.state).Spares, forecasts)
}

// wantedJSON is what is wanted, for other programs.
type wantedJSON struct {
	Format int        `json:"format"`
	Boat   string     `json:"boat"`
	Engine string     `json:"engine"`
	Kind   string     `json:"kind"`
	Now    time.Time  `json:"now"`
	Wanted []wantJSON `json:"wanted"`
}

type wantJSON struct {
	Name     string     `json:"name"`
	Size     string     `json:"size"`
	Count    int        `json:"count"`
	With     []string   `json:"with"`
	Loose    []partJSON `json:"loose"` // parts that make whole again what lies aboard
	Critical bool       `json:"critical"`
	Tool     bool       `json:"tool"`
	Aloud    []string   `json:"aloud"`
	Why      []string   `json:"why"`
	Aboard   []string   `json:"not_counted"`
}

type partJSON struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
}

func wantedOf(m moment, a checklist.Assessment, wants []machinery.Want) wantedJSON {
	j := wantedJSON{Format: 1, Boat: a.Boat, Engine: engineWords(m.definitions), Kind: string(m.definitions.Plan.Kind), Now: a.Now, Wanted: []wantJSON{}}
	for _, w := range wants {
		j.Wanted = append(j.Wanted, wantJSON{
			Name: w.Name, Size: w.Size, Count: w.Count, With: list(w.With), Loose: partsOf(w.Loose), Critical: w.Critical, Tool: w.IsTool,
			Aloud: list(w.Aloud()), Why: list(w.Why), Aboard: list(w.Aboard),
		})
	}
	return j
}

// list is a list that is never null in JSON.
func list(texts []string) []string { return append([]string{}, texts...) }

func partsOf(parts []machinery.Part) []partJSON {
	told := []partJSON{}
	for _, p := range parts {
		told = append(told, partJSON(p))
	}
	return told
}

// engineWords is the engine as one names it to a stranger.
func engineWords(d checklist.Definitions) string {
	e := d.Boat.Engine
	if e.RatedPower > 0 {
		return fmt.Sprintf("engine of %s at %d rpm", e.RatedPower.In(d.Boat.Units), e.RatedRPM)
	}
	return fmt.Sprintf("engine rated at %d rpm", e.RatedRPM)
}

func wantedText(m moment, a checklist.Assessment, wants []machinery.Want) string {
	var r report
	r.line("%s, %s%s", a.Boat, engineWords(m.definitions), callSign(m.definitions))
	slow := a.Reckoning.Cases[passage.Slow].Voyage.Arrive()
	until := "the slow arrival"
	if !slow.IsZero() {
		until += ", " + quantity.DateOf(slow.In(m.definitions.Plan.Depart.Location())).String()
	}
	if len(wants) == 0 {
		r.line("Nothing is wanted for %s, nor for the services due until %s.", kindText(m.definitions.Plan.Kind), until)
		return r.String()
	}
	r.line("Wanted for %s and the services due until %s:", kindText(m.definitions.Plan.Kind), until)
	r.wants(wants)
	r.head("%s", "Ask for the size, not the name; measure or try what is offered against what is in use before it is stowed as one that fits.")
	return r.String()
}

// wants numbers the lines to be read out; what is under them is for the skipper.
func (r *report) wants(wants []machinery.Want) {
	n := 0
	for i, w := range wants {
		if i == 0 || w.Critical != wants[i-1].Critical {
			r.head("%s", map[bool]string{true: "CRITICAL", false: "NOT CRITICAL"}[w.Critical])
		}
		for _, line := range w.Aloud() {
			n++
			r.hang(fmt.Sprintf("%d. ", n), "   ", line)
		}
		r.hang("   why: ", "     ", strings.Join(w.Why, "; "))
		if len(w.Aboard) > 0 {
			r.hang("   not counted: ", "     ", strings.Join(w.Aboard, ", "))
		}
	}
}

func callSign(d checklist.Definitions) string {
	i := slices.IndexFunc(d.Boat.Identity, func(id checklist.Identity) bool { return id.Key == "call_sign" })
	if i < 0 {
		return ""
	}
	return "; call sign " + d.Boat.Identity[i].Text
}

// kindText is the kind of a passage in a sentence.
func kindText(k passage.Kind) string {
	if k == passage.Shift {
		return "a shift of berth"
	}
	return map[passage.Kind]string{passage.Coastal: "a coastal passage", passage.Offshore: "an offshore passage"}[k]
}
