package config

import (
	"bufio"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// publishedFood is a row of testdata/published_foods.tsv, which names its sources; -1: not given.
type publishedFood struct {
	kcal, refuse, pantry, fridge float64
	record                       string
}

func publishedFoods(t *testing.T) map[string]publishedFood {
	t.Helper()
	f, err := os.Open("testdata/published_foods.tsv")
	require.NoError(t, err)
	defer f.Close() //nolint:errcheck // it was only read
	rows := map[string]publishedFood{}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		cells := strings.Split(lines.Text(), "\t")
		require.Len(t, cells, 7, lines.Text())
		number := func(text string) float64 {
			n, err := strconv.ParseFloat(text, 64)
			if err != nil {
				return -1
			}
			return n
		}
		rows[cells[0]] = publishedFood{number(cells[1]), number(cells[2]), number(cells[4]), number(cells[5]), cells[3]}
	}
	require.Len(t, rows, 77, "the table was cut")
	return rows
}

// The starter's foods have the published energy and refuse, and none is said to keep longer than
// the published low end (a month told in days may be a day or two longer: 24 months against 730 days).
func TestStarterFoodsAreAsPublished(t *testing.T) {
	published := publishedFoods(t)
	starter, err := Load(Starter())
	require.NoError(t, err)
	byName := map[string]provisions.Food{}
	for _, food := range starter.Definitions.Boat.Foods {
		byName[food.Name] = food
	}
	text := string(copyOf(t, Starter())[storesFile].Data)
	block := regexp.MustCompile(`(?s)name = "([^"]+)".*?# NDB (\d+).*?keeps = [^\n]*# (FK \d+|from memory)`)
	energies, times := 0, 0
	for _, part := range strings.Split(text, "[[food]]")[1:] {
		m := block.FindStringSubmatch(part)
		if m == nil {
			continue
		}
		food, row := byName[m[1]], published[m[2]]
		if row.kcal == 0 && row.record == "" {
			continue // not confirmed row by row
		}
		energies++
		assert.InDelta(t, row.kcal, food.Kcal, 0.5, "%s: NDB %s", food.Name, m[2])
		assert.InDelta(t, row.refuse/100, float64(food.Refuse), 0.005, "%s: refuse", food.Name)
		if m[3] != "FK "+row.record {
			continue
		}
		days := row.pantry
		if food.Chilled {
			days = row.fridge
		}
		if days >= 0 {
			times++
			bought := quantity.Date{Year: 2026, Month: 1, Day: 1}
			kept := float64(bought.DaysUntil(food.Keeps.AfterDate(bought)))
			assert.LessOrEqual(t, kept, days*1.02+1, "%s: FK %s", food.Name, row.record)
		}
	}
	assert.GreaterOrEqual(t, energies, 45)
	assert.GreaterOrEqual(t, times, 25)
}
