package checklist

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// A proof is typed, and told, as: anchor 2300 rpm 15 min 84 C, or
// sea 2300 rpm 45 min 84 C within 2 h else "turn back".

// How long a proof may hold the revs, and how little. Common practice, no source.
const (
	leastProof = 5 * time.Minute
	mostProof  = 24 * time.Hour
)

// proof is what the record holds as the judge takes it.
func (w ProofWanted) proof() (machinery.Proof, error) {
	p := machinery.Proof{At: w.At, RPM: w.RPM, Else: w.Else}
	var err error
	if w.Within != "" {
		if p.Within, err = quantity.ParseDuration(w.Within); err != nil {
			return p, err
		}
	}
	if p.For, err = quantity.ParseDuration(w.For); err != nil {
		return p, err
	}
	if w.CoolantMax != "" {
		coolant, err := quantity.ParseTemperature(w.CoolantMax)
		if err != nil {
			return p, err
		}
		p.CoolantMax = &coolant
	}
	return p, nil
}

// Text is the proof as it is typed.
func (w ProofWanted) Text() string {
	text := fmt.Sprintf("%s %d rpm %s", w.At, w.RPM, w.For)
	if w.CoolantMax != "" {
		text += " " + strings.Replace(w.CoolantMax, "°", "", 1)
	}
	if w.Within != "" {
		text += " within " + w.Within
	}
	if w.Else != "" {
		text += fmt.Sprintf(" else %q", w.Else)
	}
	return text
}

// ParseProof reads a proof as it is typed: where, revs, how long, the coolant that it must not pass, by when, and what
// is done else. It is refused where it could prove nothing.
func (d Definitions) ParseProof(text string) (ProofWanted, error) {
	if err := checkText("proof", text); err != nil {
		return ProofWanted{}, err
	}
	head, otherwise, _ := strings.Cut(text, " else ")
	w := ProofWanted{Else: strings.Trim(strings.TrimSpace(otherwise), `"'`)}
	words := strings.Fields(strings.ReplaceAll(head, ",", " "))
	if len(words) == 0 {
		return ProofWanted{}, refuse("a proof that asks for nothing", d.proofCure())
	}
	w.At = machinery.ProofAt(strings.ToLower(words[0]))
	if w.At != machinery.ProofAtAnchor && w.At != machinery.ProofAtSea {
		return ProofWanted{}, refuse(fmt.Sprintf("%q is no place to prove it", clip(words[0])), "begin with anchor or sea; "+d.proofCure())
	}
	for rest := words[1:]; len(rest) > 0; {
		used, err := w.take(rest)
		if err != nil {
			return ProofWanted{}, refuse(err.Error(), d.proofCure())
		}
		rest = rest[used:]
	}
	return w, d.checkProof(w)
}

// take reads the next amount of a proof, and says how many words it was.
func (w *ProofWanted) take(words []string) (used int, err error) {
	within := strings.EqualFold(words[0], "within")
	if within {
		words, used = words[1:], 1
	}
	if len(words) == 0 {
		return 0, fmt.Errorf("within how long of leaving was not said")
	}
	if !within && takeRevs(w, words) {
		return 2, nil
	}
	amount, n, err := amountOf(words)
	if err != nil {
		return 0, err
	}
	used += n
	text := strings.Join(words[:n], " ")
	switch {
	case amount.Dimension == quantity.OfDuration && within && w.Within == "":
		w.Within = text
	case amount.Dimension == quantity.OfDuration && !within && w.For == "":
		w.For = text
	case amount.Dimension == quantity.OfTemperature && !within && w.CoolantMax == "":
		w.CoolantMax = asRead(text, quantity.Temperature(amount.Value))
	default:
		return 0, fmt.Errorf("%q is too much, or no part of a proof", clip(text))
	}
	return used, nil
}

// asRead is a temperature in the unit in which it was typed: that of the gauge, without the digits of a conversion.
func asRead(text string, t quantity.Temperature) string {
	if number, is := strings.CutSuffix(text, "F"); is {
		return strings.TrimRight(number, "° ") + " °F"
	}
	return t.String()
}

// takeRevs reads "2300 rpm".
func takeRevs(w *ProofWanted, words []string) bool {
	n, err := strconv.Atoi(words[0])
	if err != nil || len(words) < 2 || !strings.EqualFold(words[1], "rpm") || w.RPM != 0 {
		return false
	}
	w.RPM = n
	return true
}

// amountOf reads "84 C" or "84C" from the beginning of the words.
func amountOf(words []string) (amount quantity.Any, n int, err error) {
	if len(words) > 1 {
		if amount, err = quantity.ParseAny(words[0] + " " + words[1]); err == nil {
			return amount, 2, nil
		}
	}
	if amount, err = quantity.ParseAny(words[0]); err != nil || amount.Dimension == quantity.OfCount {
		return amount, 0, fmt.Errorf("%q is no part of a proof", clip(words[0]))
	}
	return amount, 1, nil
}

// checkProof refuses a proof that could prove nothing.
func (d Definitions) checkProof(w ProofWanted) error {
	engine := d.Boat.Engine
	least := leastCap
	if engine.HasCurve() {
		least = engine.Curve[0].RPM
	}
	if w.RPM < least || engine.RatedRPM > 0 && w.RPM > engine.RatedRPM {
		return refuse(fmt.Sprintf("%d rpm is no load for a proof", w.RPM), fmt.Sprintf("%d to %d rpm; %s", least, engine.RatedRPM, d.proofCure()))
	}
	p, err := w.proof()
	if err != nil {
		return refuse("how long the revs are held was not said", d.proofCure())
	}
	switch {
	case p.For < leastProof || p.For > mostProof:
		return refuse(fmt.Sprintf("%s at the revs proves nothing", w.For), fmt.Sprintf("at least %.0f min, at most %.0f h", leastProof.Minutes(), mostProof.Hours()))
	case w.Within != "" && p.Within < p.For:
		return refuse(fmt.Sprintf("%s is over before %s at the revs are", w.Within, w.For), "give it longer, or leave `within` out")
	case p.CoolantMax == nil:
		return nil
	case engine.CoolantMax > 0 && *p.CoolantMax >= engine.CoolantMax:
		return refuse(fmt.Sprintf("at %s she is stopped (coolant_max)", p.CoolantMax.In(d.Boat.Units)), "what is normal at these revs, and a little more; "+d.proofCure())
	case *p.CoolantMax < machinery.ColdestProof:
		return refuse(fmt.Sprintf("no engine under load is at %s", p.CoolantMax.In(d.Boat.Units)), d.proofCure())
	}
	return nil
}
