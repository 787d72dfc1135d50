package checklist

import (
	"fmt"
	"strconv"
	"strings"

	"boat/hoveshort/provisions/quantity"
)

// ParseTaken is how long a job took, in minutes: "45 min", "2 h", or "1 h 10" as reports have it; 0: not told.
func ParseTaken(text string) (minutes float64, err error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0, nil
	}
	if d, err := quantity.ParseDuration(text); err == nil {
		return d.Minutes(), nil
	}
	hours, rest, _ := strings.Cut(text, "h")
	whole, err := quantity.ParseDuration(hours + "h")
	part, partErr := quantity.ParseDuration(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "min")) + " min")
	if err != nil || partErr != nil {
		return 0, refuse(fmt.Sprintf("%q is no time taken", clip(text)), `write it like "45 min", "2 h" or "1 h 10"`)
	}
	return (whole + part).Minutes(), nil
}

// ParsePart reads a part taken as SPARE, SPARE=N, SPARE@PLACE or SPARE@PLACE=N.
func ParsePart(text string) (PartTaken, error) {
	part := PartTaken{Count: 1}
	rest := text
	const cure = `write it like "raw-water impeller@box 3=1"; place and number may be left out`
	if i := strings.LastIndex(text, "="); i >= 0 {
		n, err := strconv.Atoi(strings.TrimSpace(text[i+1:]))
		if err != nil || n < 0 {
			return part, refuse(fmt.Sprintf("%q is no number of pieces", clip(text[i+1:])), cure)
		}
		part.Count, rest = n, text[:i]
	}
	spare, place, hasPlace := strings.Cut(rest, "@")
	part.Spare, part.Place = strings.TrimSpace(spare), strings.TrimSpace(place)
	if part.Spare == "" || hasPlace && part.Place == "" {
		return part, refuse(fmt.Sprintf("%q names no spare, or no place", clip(text)), cure)
	}
	return part, nil
}

// ParseParts reads several, with commas between them.
func ParseParts(text string) ([]PartTaken, error) {
	var parts []PartTaken
	for one := range strings.SplitSeq(text, ",") {
		if strings.TrimSpace(one) == "" {
			continue
		}
		part, err := ParsePart(strings.TrimSpace(one))
		if err != nil {
			return nil, err
		}
		parts = append(parts, part)
	}
	return parts, nil
}
