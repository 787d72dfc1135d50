package quantity

import (
	"math"
	"strconv"
	"strings"
)

// What is taken as a number. Texts come from files and keyboards: strconv alone would also take nan, inf, hexadecimal,
// underscores and exponents.
const (
	largest    = 1e12 // in the canonical unit, either sign
	mostDigits = 15   // a float64 keeps any number of 15 digits; more are refused unless they are exactly how a float64 prints
	longest    = 400  // characters of a number; the shortest print of any float64 is shorter

	blanks = " \t"
)

// anything stands for "whichever dimension the unit says".
const anything Dimension = 0

// parse reads text as an amount of the dimension want and gives it in the canonical unit.
func parse(want Dimension, text string) (float64, error) {
	_, value, err := parseAs(want, text)
	return value, err
}

// parseAs is parse for a dimension that may be anything; it tells which it was.
func parseAs(want Dimension, text string) (Dimension, float64, error) {
	number, name, problem := split(want, text)
	if problem != nil {
		return 0, 0, problem
	}

	found, u, problem := findUnit(want, text, number, name)
	if problem != nil {
		return 0, 0, problem
	}

	value, problem := convert(want, text, number, u)
	if problem != nil {
		return 0, 0, problem
	}

	return found, value, nil
}

// split cuts text into a plain number and the name of a unit, which may be empty.
func split(want Dimension, text string) (number, name string, problem *Error) {
	trimmed := strings.Trim(text, blanks)
	if trimmed == "" {
		return "", "", refuse(text, " is empty", howTo(want))
	}

	end := numberEnd(trimmed)
	number, rest := trimmed[:end], trimmed[end:]
	name = strings.Trim(rest, blanks)

	if number == "" || number == "+" || number == "-" {
		return "", "", refuse(text, " does not begin with a number", howTo(want))
	}
	if hasComma(number, rest) {
		return "", "", commaRefused(want, text, number, rest)
	}
	if isLooselyPointed(number) {
		return "", "", refuse(text, " has a point without a digit on each side", howTo(want))
	}
	if !isPlain(rest) {
		return "", "", refuse(text, " is not a plain number with a unit", "write digits with at most one point, as "+quote(exampleOf(want)))
	}
	if number[0] == '-' && !allowsNegative(want) && strings.Trim(number, "-0.") != "" {
		return "", "", refuse(text, " is below zero", "write 0 or more, as "+quote(exampleOf(want)))
	}

	return strings.TrimPrefix(number, "+"), name, nil
}

// numberEnd is where the sign, digits and at most one point at the head of text end.
func numberEnd(text string) int {
	at := 0
	if text[at] == '+' || text[at] == '-' {
		at++
	}

	pointed := false
	for at < len(text) && (isDigit(text[at]) || text[at] == '.' && !pointed) {
		pointed = pointed || text[at] == '.'
		at++
	}

	return at
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// isLooselyPointed finds ".5", "5." and ".": easily misread, and no TOML number either.
func isLooselyPointed(number string) bool {
	whole, fraction, pointed := strings.Cut(strings.TrimLeft(number, "+-"), ".")
	return whole == "" || pointed && fraction == ""
}

// isPlain tells whether what follows the number can only be a unit. Exponents, hexadecimal, underscores and a second
// number stick to the first; after a blank only a digit, a point or an underscore shows them.
func isPlain(rest string) bool {
	name := strings.TrimLeft(rest, blanks)
	if name == "" {
		return true
	}
	if strings.ContainsRune("0123456789._,+-", rune(name[0])) {
		return false
	}

	return name != rest || !strings.ContainsAny(name, "0123456789_")
}

func hasComma(number, rest string) bool {
	return !strings.Contains(number, ".") && len(rest) > 1 && rest[0] == ',' && isDigit(rest[1])
}

// commaRefused names the point as the cure. Three digits after the comma could be thousands: then both readings are given.
func commaRefused(want Dimension, text, number, rest string) *Error {
	digits := numberEnd(rest[1:])
	fraction, name := rest[1:1+digits], strings.Trim(rest[1+digits:], blanks)
	if strings.ContainsAny(fraction, ".") || strings.HasPrefix(name, ",") {
		return refuse(text, " has a comma", "write digits with at most one point, as "+quote(exampleOf(want)))
	}
	if name == "" && want != anything {
		name = want.kind().canonical().names[0]
	}

	pointed := strings.Trim(number+"."+fraction+" "+name, blanks)
	if len(fraction) != 3 {
		return refuse(text, " has a decimal comma", "write "+quote(pointed))
	}

	joined := strings.Trim(number+fraction+" "+name, blanks)
	return refuse(text, " has a comma", "write "+quote(pointed)+", or "+quote(joined)+" if thousands are meant")
}

// findUnit looks name up: in the wanted dimension, then in the others, then in both but for case.
func findUnit(want Dimension, text, number, name string) (Dimension, unit, *Error) {
	if name == "" {
		return bareNumber(want, text, number)
	}

	for _, folded := range []bool{false, true} {
		found, u := lookUp(want, name, folded)
		switch {
		case found == 0:
			continue
		case want != anything && found != want:
			problem := " is " + found.kind().article + " " + found.String() + ", not " + want.kind().article + " " + want.String()
			return 0, unit{}, refuse(text, problem, howTo(want))
		case u.refused():
			return 0, unit{}, refuse(text, u.whyNot(number), u.cure(shortest(number)))
		case folded:
			return 0, unit{}, refuse(text, " has its unit spelt "+quote(name), "write "+quote(shortest(number)+" "+u.names[0]))
		}

		return found, u, nil
	}

	return 0, unit{}, refuse(text, " has an unknown unit, "+quote(name), howToWithUnits(want))
}

// lookUp finds the unit called name, in the wanted dimension before any other; 0 where there is none.
func lookUp(want Dimension, name string, folded bool) (Dimension, unit) {
	for _, u := range want.kind().units {
		if u.is(name, folded) {
			return want, u
		}
	}
	for at := range kinds {
		for _, u := range kinds[at].units {
			if u.is(name, folded) {
				return Dimension(at), u
			}
		}
	}

	return 0, unit{}
}

// bareNumber is a count where anything is wanted, and refused elsewhere with the unit to add.
func bareNumber(want Dimension, text, number string) (Dimension, unit, *Error) {
	if want == anything {
		return OfCount, canonical(), nil
	}

	bare := shortest(number)
	with := func(number string) string { return quote(number + " " + want.kind().canonical().names[0]) }
	cure := "write " + with(bare)
	// "0.62" of a tank is hardly 0.62 %: give both readings.
	if value, _ := strconv.ParseFloat(bare, 64); want == OfShare && 0 < value && value <= 1 {
		cure = "write " + with(plain(value, 2)) + " or " + with(bare)
	}

	return 0, unit{}, refuse(text, " has no unit", cure)
}

// convert turns the number into the canonical unit and holds it to the limits.
func convert(want Dimension, text, number string, u unit) (float64, *Error) {
	if len(number) > longest {
		return 0, refuse(text, " has too many digits", "write at most 15")
	}

	// The number is checked to be plain, so the only error left is one of range, and its value is then infinite.
	shifted, _ := strconv.ParseFloat(number+"e"+strconv.Itoa(u.exponent), 64)
	if digits := significant(number); len(digits) > mostDigits && digits != significant(plain(shifted, 0)) {
		return 0, refuse(text, " has too many digits", "write at most 15")
	}

	value := u.toCanonical(shifted)
	if math.Abs(value) > largest {
		return 0, refuse(text, " is out of all measure", howTo(want))
	}
	if want == OfShare && value > 1 {
		return 0, refuse(text, " is more than the whole", "write 0 % to 100 %")
	}
	if value == 0 {
		return 0, nil // not minus zero
	}

	return value, nil
}

// significant is the digits of a plain number without the zeros at either end.
func significant(number string) string {
	return strings.Trim(strings.ReplaceAll(strings.TrimLeft(number, "+-"), ".", ""), "0")
}

// shortest is a plain number without needless zeros, for a cure.
func shortest(number string) string {
	value, _ := strconv.ParseFloat(number, 64)
	return plain(value, 0)
}

func allowsNegative(want Dimension) bool { return want == anything || want.kind().signed }

func refuse(text, problem, cure string) *Error {
	return &Error{Problem: quote(text) + problem, Cure: cure}
}

func exampleOf(want Dimension) string {
	if want == anything {
		return "82 °C"
	}

	return want.kind().example
}

// howTo is the cure that names the unit and gives an example.
func howTo(want Dimension) string {
	if want == anything {
		return `write a number and its unit, as "82 °C", "3.1 bar" or "12.6 V"`
	}

	return "write " + want.kind().words + ", as " + quote(want.kind().example)
}

// howToWithUnits is howTo with the other units that are taken.
func howToWithUnits(want Dimension) string {
	var others []string
	for _, u := range want.kind().units {
		if !u.refused() {
			others = append(others, u.names[0])
		}
	}
	if len(others) < 2 {
		return howTo(want)
	}

	return howTo(want) + " (also " + strings.Join(others[1:], ", ") + ")"
}
