package quantity

import (
	"math"
	"strconv"
	"strings"
)

// exact is value with the canonical unit of d, unrounded: the shortest digits that parse to the same value.
func exact(d Dimension, value float64) string {
	u := d.kind().canonical()
	return plain(value, -u.exponent) + " " + u.names[0]
}

// marshal is exact, with an error for what parse would refuse (not a number, infinite, below zero where that means nothing).
func marshal(d Dimension, value float64) ([]byte, error) {
	text := exact(d, value)
	if _, err := parse(d, text); err != nil {
		return nil, err
	}

	return []byte(text), nil
}

// unmarshal parses text into value, which stays as it was on an error.
func unmarshal[T ~float64](d Dimension, text []byte, value *T) error {
	parsed, err := parse(d, string(text))
	if err != nil {
		return err
	}

	*value = T(parsed)
	return nil
}

// plain is value*10^shift in the shortest digits that give value back, without an exponent. The point is moved in the
// text: 0.07*100 is not 7 in floating point.
func plain(value float64, shift int) string {
	if value == 0 {
		return "0" // not "-0"
	}

	text := strconv.FormatFloat(value, 'f', -1, 64)
	if shift <= 0 || math.IsNaN(value) || math.IsInf(value, 0) {
		return text
	}

	sign := ""
	if value < 0 {
		sign, text = "-", text[1:]
	}
	whole, fraction, _ := strings.Cut(text, ".")
	fraction += strings.Repeat("0", max(0, shift-len(fraction)))
	whole = strings.TrimLeft(whole+fraction[:shift], "0")
	if whole == "" {
		whole = "0"
	}
	if fraction = fraction[shift:]; fraction != "" {
		whole += "." + fraction
	}

	return sign + whole
}
