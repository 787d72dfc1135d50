package checklist

import (
	"fmt"
	"strconv"
	"strings"

	"boat/hoveshort/provisions/quantity"
)

// howPacks is how packs are told in one line.
const howPacks = `write it like "3", "2.5", or "4 2027-03-01 in galley / locker" (the date is best-before; or "use by" and a date)`

// ParsePacks reads packs told in one line, with what tells their lot: "3",
// "4 2027-03-01 in galley / locker", "2 use by 2026-12-01". A date alone is best-before.
func ParsePacks(text string) (Count, error) {
	number, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	n, err := strconv.ParseFloat(number, 64)
	if err != nil || !(n >= 0 && n <= 1e5) {
		return Count{}, refuse(fmt.Sprintf("%q is no number of packs", number), howPacks)
	}
	c := Count{Packs: n}
	rest = strings.TrimSpace(rest)
	for _, unit := range []string{"packs", "pack"} {
		if after, is := strings.CutPrefix(rest+" ", unit+" "); is {
			rest = strings.TrimSpace(after)
			break
		}
	}
	dated, place, placed := cutWord(rest, "in")
	if placed {
		if c.Place = place; place == "" {
			return Count{}, refuse("the place is missing", howPacks)
		}
	}
	return c, c.readDate(dated)
}

// readDate reads "2027-03-01", "best before 2027-03-01", "use-by 2027-03-01" or "bought 2026-10-01".
func (c *Count) readDate(text string) error {
	if text == "" {
		return nil
	}
	words := strings.Fields(strings.ReplaceAll(text, "-by", " by"))
	written, kind := words[len(words)-1], strings.ReplaceAll(strings.Join(words[:len(words)-1], " "), "-", " ")
	to := map[string]*quantity.Date{"": &c.BestBefore, "best before": &c.BestBefore, "use by": &c.UseBy, "bought": &c.Bought}[kind]
	if to == nil {
		return refuse(fmt.Sprintf("%q is no date", text), howPacks)
	}
	date, err := quantity.ParseDate(written)
	*to = date
	return err
}

// cutWord parts a text at a word of its own.
func cutWord(text, word string) (before, after string, found bool) {
	before, after, found = strings.Cut(" "+text+" ", " "+word+" ")
	return strings.TrimSpace(before), strings.TrimSpace(after), found
}

// ParseFound reads a lot that was found and is on no list: "rice 2 2027-03-01". The food comes
// first; its place is where one stands, unless the line says otherwise.
func (d Definitions) ParseFound(text, place string) (Count, error) {
	words := strings.Fields(text)
	for i := 1; i < len(words); i++ {
		if _, err := strconv.ParseFloat(words[i], 64); err != nil {
			continue
		}
		c, err := ParsePacks(strings.Join(words[i:], " "))
		c.Food = strings.Join(words[:i], " ")
		if c.Place == "" && !d.isConsumable(c.Food) {
			c.Place = place
		}
		if err == nil {
			c, err = d.NewCount(c)
		}
		return c, err
	}
	return Count{}, refuse(fmt.Sprintf("%q tells no number of packs", text), `write the food and how many, like "rice 2" or "rice 2 2027-03-01"`)
}
