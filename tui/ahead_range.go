package tui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// rangeTitles stand above the columns; the fourth is cut to its last word where there is
// little room.
var rangeTitles = [...]string{"revs", "speed", "burn", "reserve whole", "last drop", "further", "passage", "in hand"}

// rangeCells are one row of the curve.
func rangeCells(row provisions.RangeRow, p prospect) [len(rangeTitles)]string {
	units, hand := p.assessment.Units, ""
	if row.Made && !row.InHand.Never {
		hand = row.InHand.String()
	}
	return [...]string{
		fmt.Sprintf("%d rpm", row.RPM), row.Speed.In(units), row.Burn.In(units), row.Whole.Down(units), row.LastDrop.Down(units),
		furtherWords(row), laterWords(row, p), hand,
	}
}

// rangeTable is the curve in columns, its title first; nothing where they do not fit.
func rangeTable(f facts, w int) []string {
	titles := rangeTitles
	rows := [][len(rangeTitles)]string{titles}
	for _, row := range f.prospect.outlook.Range {
		rows = append(rows, rangeCells(row, f.prospect))
	}
	if lines := inColumns(f.look, rows, w); lines != nil {
		return lines
	}
	rows[0][3] = "whole"
	return inColumns(f.look, rows, w)
}

// inColumns are rows as wide as their widest cells, two blanks between them.
func inColumns(l look, rows [][len(rangeTitles)]string, w int) []string {
	var widths [len(rangeTitles)]int
	sum := -2
	for i := range widths {
		for _, row := range rows {
			widths[i] = max(widths[i], lipgloss.Width(l.clean(row[i])))
		}
		sum += widths[i] + 2
	}
	if sum > w {
		return nil
	}
	var lines []string
	for _, row := range rows {
		var cells []string
		for i, cell := range row {
			cell = l.clean(cell)
			cells = append(cells, blanks(widths[i]-lipgloss.Width(cell))+cell)
		}
		lines = append(lines, strings.Join(cells, "  "))
	}
	return lines
}

// rangeSheet are the rows of the engine's curve, and what stands above them.
func rangeSheet(f facts, w int) (head string, rows []sheetRow) {
	l, p := f.look, f.prospect
	if len(p.outlook.Range) == 0 && p.assessment.Reckoning.Verdict != "" {
		return "", []sheetRow{{line: "No curve is given in boat.toml: how far the engine takes her is not known.", style: l.keys}}
	}
	table := rangeTable(f, w)
	for i, row := range p.outlook.Range {
		line := l.clean(rangeWords(row, p))
		if table != nil {
			line = table[i+1]
		}
		rows = append(rows, sheetRow{
			line: line, style: l.keys,
			more: func(width int) []string { return wrap(l.clean(rangeSentence(f, row)), width, 0) },
		})
	}
	switch {
	case len(rows) == 0:
		return "", nil
	case table == nil:
		return "Miles with the reserve whole, and against cruise", rows
	}
	return "  " + table[0], rows
}

// rangeWords are a row where there is no room for columns.
func rangeWords(row provisions.RangeRow, p prospect) string {
	return fmt.Sprintf("%d rpm: %s, %s, %s", row.RPM, row.Whole.Down(p.assessment.Units), furtherWords(row), laterWords(row, p))
}

// furtherWords is how much further than at cruise revs.
func furtherWords(row provisions.RangeRow) string {
	if row.Cruise {
		return "cruise"
	}
	return fmt.Sprintf("%+.0f %%", row.Further*100)
}

// laterWords is how the slow passage changes at these revs. Where it is not made as it
// stands there is nothing to be later than.
func laterWords(row provisions.RangeRow, p prospect) string {
	switch {
	case !row.Made:
		return "not made"
	case !p.assessment.Reckoning.Cases[passage.Slow].Voyage.Made():
		return "slow made"
	}
	hours := row.Later.Round(time.Hour).Hours()
	switch {
	case hours > 0:
		return fmt.Sprintf("%.0f h later", hours)
	case hours < 0:
		return fmt.Sprintf("%.0f h sooner", -hours)
	}
	if !p.trial.IsEmpty() {
		return "as tried"
	}
	return "as planned"
}

// rangeSentence is a row in words.
func rangeSentence(f facts, row provisions.RangeRow) string {
	p := f.prospect
	units := p.assessment.Units
	words := fmt.Sprintf("With the fuel that can be counted on: %s with the reserve whole, %s to the last drop, in smooth water.",
		row.Whole.Down(units), row.LastDrop.Down(units))
	if !row.Made {
		return words + " The passage is not made at these revs in the slow case."
	}
	words += fmt.Sprintf(" The whole passage at these revs, slow case: arrives %s, %s of fuel used.", row.Arrive.In(f.zone()).Format("Mon 2 Jan 15:04"),
		row.Fuel.Up(passage.Fuel, units))
	if !row.InHand.Never {
		words += " That is " + inHandWords(row, p) + "."
	}
	return words
}

// inHandWords are the days left before the season's end, or by how many it is missed. To
// come on its first moment is to miss it.
func inHandWords(row provisions.RangeRow, p prospect) string {
	if row.InHand.Days <= 0 {
		return fmt.Sprintf("%s TOO LATE: she must be in before %s", provisions.DaysUp(-row.InHand.Days), p.definitions.Plan.Before)
	}
	return fmt.Sprintf("%s in hand before %s", row.InHand, p.definitions.Plan.Before)
}

// rangeAnswer is the row that takes her furthest, and what it costs.
func rangeAnswer(p prospect) string {
	var best *provisions.RangeRow
	for _, row := range p.outlook.Range {
		if row.Made && !row.Cruise && row.Further > 0 && (best == nil || row.Further > best.Further) {
			best = &row
		}
	}
	cruise := p.definitions.Boat.Engine.CruiseRPM
	switch {
	case len(p.outlook.Range) == 0:
		return ""
	case best == nil && slices.ContainsFunc(p.outlook.Range, func(row provisions.RangeRow) bool { return !row.Made && row.Further > 0 }):
		return fmt.Sprintf("No revs at which the slow case is made take her further than the %d rpm she cruises at", cruise)
	case best == nil:
		return fmt.Sprintf("No revs take her further than the %d rpm she cruises at", cruise)
	}
	words := fmt.Sprintf("%d rpm: %.0f %% further than at %d, %s", best.RPM, best.Further*100, cruise, laterWords(*best, p))
	if !best.InHand.Never {
		words += ", " + inHandWords(*best, p)
	}
	return words
}
