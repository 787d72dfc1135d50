package checklist

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// What was critical is kept at each sign-off as lines: "engine-oil", "timer when
// single-handed", "lights when night and offshore". A line is still kept to if the same
// thing is critical now under the same circumstances or fewer.

// loosened is what was strict at the last sign-off and is no longer.
func (g *gate) loosened() []Caution {
	signed := g.state.Signed
	if signed == nil {
		return nil
	}
	list := loosenedCritical(g.definitions, signed.Sign)
	for _, was := range signed.Reserves {
		is := g.definitions.Boat.Rates.Reserve[passage.Thing(was.What)]
		if smaller := smallerReserve(was, is); smaller != "" {
			list = append(list, Caution{Matter: MatterLoosened, Name: was.What + " reserve", Why: smaller})
		}
	}
	return list
}

// loosenedCritical is what was critical and is no longer. A check that was answered then
// must still be asked on that kind of passage.
func loosenedCritical(d Definitions, signed Sign) []Caution {
	anyKind, sameKind := criticality(d, ""), criticality(d, signed.PassageKind)
	var list []Caution
	for _, was := range signed.Critical {
		name, when := splitWhen(was)
		now := anyKind
		if slices.ContainsFunc(signed.Answers, func(a SignedAnswer) bool { return a.Check == name }) {
			now = sameKind
		}
		if slices.ContainsFunc(now, func(is string) bool { return isKept(was, is) }) {
			continue
		}
		if i := slices.IndexFunc(list, func(c Caution) bool { return c.Name == name }); i >= 0 {
			list[i].Why += "," + whenWords(when)
			continue
		}
		list = append(list, Caution{Matter: MatterLoosened, Name: name, Why: "was critical at the last sign-off" + whenWords(when)})
	}
	return list
}

func splitWhen(line string) (name, when string) {
	if i := strings.LastIndex(line, " when "); i >= 0 {
		return line[:i], line[i+len(" when "):]
	}
	return line, ""
}

func whenWords(when string) string {
	if when == "" {
		return ""
	}
	return " when " + when
}

// isKept says that what is critical now holds wherever it was before.
func isKept(was, is string) bool {
	name, when := splitWhen(was)
	nameNow, whenNow := splitWhen(is)
	if name != nameNow {
		return false
	}
	before := strings.Split(when, " and ")
	return whenNow == "" || !slices.ContainsFunc(strings.Split(whenNow, " and "), func(c string) bool { return !slices.Contains(before, c) })
}

// criticality lists what can be critical: checks by their id, gear and services as
// "spare:NAME". Of the rounds only those of a kind of passage; "": all.
func criticality(d Definitions, kind passage.Kind) []string {
	var list []string
	for _, r := range d.Rounds {
		if r.For != ForSign || kind != "" && !r.IsKind(kind) {
			continue
		}
		for _, s := range r.Sections {
			for _, c := range s.Checks {
				list = append(list, c.criticality()...)
			}
		}
	}
	for _, s := range d.Spares {
		if s.Critical {
			list = append(list, string(MatterSpare)+":"+s.Name)
		}
	}
	for _, s := range d.Services {
		if s.Critical {
			list = append(list, string(MatterService)+":"+s.Name)
		}
	}
	for _, gear := range d.Dated {
		if gear.Critical {
			list = append(list, narrowed(string(MatterDated)+":"+gear.Name, "", gear.Only)...)
		}
	}
	return list
}

func (c Check) criticality() []string {
	only := make([]string, len(c.Only))
	for i, o := range c.Only {
		only[i] = string(o)
	}
	if c.Critical {
		return narrowed(c.ID, "", only)
	}
	var list []string
	for _, when := range c.CritWhen {
		list = append(list, narrowed(c.ID, string(when), only)...)
	}
	return list
}

// narrowed is a line for each condition under which the thing applies at all.
func narrowed(name, when string, only []string) []string {
	if len(only) == 0 || slices.Contains(only, when) {
		return []string{name + whenWords(when)}
	}
	var list []string
	for _, o := range only {
		both := o
		if when != "" {
			both = when + " and " + o
		}
		list = append(list, name+whenWords(both))
	}
	return list
}

// smallerReserve tells every part of a reserve that was made smaller; "": none.
func smallerReserve(was SignedReserve, is provisions.Reserve) string {
	if is.None {
		is = provisions.Reserve{}
	}
	var smaller []string
	for _, part := range []struct {
		name    string
		was, is float64
	}{
		{"days", was.Days, is.Days},
		{"share of need", was.ShareOfNeed, float64(is.ShareOfNeed)},
		{"share of capacity", was.ShareOfCapacity, float64(is.ShareOfCapacity)},
		{"amount", was.Amount, float64(is.Amount)},
	} {
		if part.is < part.was {
			smaller = append(smaller, fmt.Sprintf("its %s was %g at the last sign-off and is %g", part.name, part.was, part.is))
		}
	}
	return strings.Join(smaller, "; ")
}
