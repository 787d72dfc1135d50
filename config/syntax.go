package config

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/BurntSushi/toml"
)

// plainSyntax says in plain words what the decoder means. The first whose pattern is in its message counts; %s is
// the text the pattern's group found. Patterns are those of BurntSushi/toml v1.6.0; a message none of them knows is
// told by its line alone.
var plainSyntax = []struct {
	pattern, problem, cure string
}{
	{`^expected a top-level item to end with .* but got '(,)' instead`,
		"a comma after the value", "use a point in a decimal number, and [ ] around a list"},
	{`^expected a top-level item to end with .* but got ('.*') instead`,
		"the value is followed by %s", "put a text or a quantity in quotes, a comment after #"},
	{`^expected '\.' or '=', but got ('.*') instead`,
		"no = after the key", `write key = value; a key with other than letters, digits, _ and - goes in quotes`},
	{`^unexpected '(=|\.)'`, "the key is not whole", "write key = value"},
	{`^(?:expected value but found ('\\n'|"") instead|unexpected EOF; expected value)`,
		"no value", "write one: a number, true or false, a date, or a text in quotes"},
	{`^expected value but found (["'].*["']) instead`,
		"%s is no value", "write a number, true or false, a date, or a text in quotes"},
	{`^invalid escape`,
		"an escape that does not exist", `write \\ for a backslash, or put the text between ' and '`},
	{`^expected (?:two|four|eight) hexadecimal digits|^Escaped character`,
		"an escape that is no character", `write \\ for a backslash, or put the text between ' and '`},
	{`^strings cannot contain newlines`,
		"a text is not closed on its line", `close it with its quote, or write """ before and after a text of several lines`},
	{`^unexpected EOF; expected ["'](.*)["']`,
		"a text is not closed before the end of the file", "close it with its quote"},
	{`^unexpected (?:'"|"')`, "too many quotes", "close the text with three"},
	{`^expected a comma \(','\) or array terminator`,
		"the list is not closed", "put commas between its values and ] at its end"},
	{`^expected a comma or an inline table terminator`,
		"the table in braces is not closed", "put commas between its keys and } at its end"},
	{`^unexpected comma`, "a comma too many", "write one between two values"},
	{`table name|table separator|table array name`,
		"the table header is not whole", "write [name] or [[name]]"},
	{`^invalid datetime: (".*")`,
		"%s is no date or time", "write 2026-06-12, or 2026-06-12T05:30:00+13:00"},
	{`^(.*) is out of range for`, "%s is too large a number", "write a smaller one"},
	{`^Invalid (?:integer|float)(?: value:)? (".*?"): cannot have leading zeroes`,
		"%s begins with a zero", "leave the zero out"},
	{`^floats must start with a digit`, "a number begins with its point", "write a digit before it, such as 0.5"},
	{`^Invalid float (".*?"): '\.'`, "%s has no digit after a point", "write one, such as 5.0"},
	{`^(?:Invalid (?:integer|float)(?: value:)? |invalid float: |cannot use sign|not an? |expected a digit)`,
		"not a number", "write digits with at most one point, such as 12.5"},
}

// alreadyThere are the decoder's messages for a key given twice.
var alreadyThere = []string{"has already been defined", "was already created", "is not a table"}

// syntaxMistake is the one mistake of a text the decoder refused.
func syntaxMistake(file, text string, o *outline, err error) Mistake {
	m := Mistake{File: file, Problem: "cannot be read as TOML", Cure: "look at this line and the one before"}
	var bad toml.ParseError
	if !errors.As(err, &bad) {
		m.Cure = "write it as the starter files are written"
		return m
	}
	m.Line = lineOfError(text, bad.Position)
	if slices.ContainsFunc(alreadyThere, func(said string) bool { return strings.Contains(bad.Message, said) }) {
		return repeatedAt(m, o.repeats)
	}
	m.Key = o.onlyKeyOf(m.Line)
	for _, plain := range plainSyntax {
		found := regexp.MustCompile(plain.pattern).FindStringSubmatch(bad.Message) // compiled when there is something wrong, not at every start
		if found == nil {
			continue
		}
		m.Problem, m.Cure = plain.problem, plain.cure
		if strings.Contains(m.Problem, "%s") {
			m.Problem = fmt.Sprintf(m.Problem, requote(found[1]))
		}
		return m
	}
	return m
}

// lineOfError is the decoder's line, set right where it stands at the line end it did not expect: there it counts the
// next line, and before the end of a text without a line end the one before.
func lineOfError(text string, at toml.Position) int {
	line := at.Line
	if end := at.Start + at.Len; end > 0 && end <= len(text) && text[end-1] == '\n' && line == strings.Count(text[:end], "\n")+1 {
		line--
	}
	return min(max(line, 1), strings.Count(text, "\n")+1)
}

// requote is text the decoder quoted, in our quotes.
func requote(s string) string {
	if plain, err := strconv.Unquote(s); err == nil {
		s = plain
	}
	return quote(s)
}

// repeatedAt is the mistake of a key given twice, which the decoder found on m's line.
func repeatedAt(m Mistake, repeats []repeat) Mistake {
	for _, r := range repeats {
		if r.line == m.Line {
			return repeatMistakes(m.File, []repeat{r})[0]
		}
	}
	m.Problem, m.Cure = "a key or table given twice", "keep one of the two"
	return m
}

// repeatMistakes names the later of two things of one name, with the line of the first.
func repeatMistakes(file string, repeats []repeat) Mistakes {
	all := make(Mistakes, len(repeats))
	for i, r := range repeats {
		all[i] = Mistake{File: file, Line: r.line, Key: r.key,
			Problem: fmt.Sprintf("given twice, first on line %d", r.first), Cure: "keep one of the two"}
	}
	return all
}

// onlyKeyOf is the one key that begins on a line, "" when none or several do.
func (o *outline) onlyKeyOf(line int) string {
	key := ""
	for _, one := range o.keys {
		if one.line != line {
			continue
		}
		if key != "" {
			return ""
		}
		key = one.key
	}
	return key
}
