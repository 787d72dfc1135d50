package config

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/quantity"
)

// The dates and hours of the starter are moved from these two.
func TestTheStarterBeginsTheDayBeforeItLeaves(t *testing.T) {
	folder, err := Load(Starter())
	require.NoError(t, err)
	depart := folder.Definitions.Plan.Depart
	assert.Equal(t, starterBegun.AddDate(0, 0, 1).Format(time.DateOnly), depart.Format(time.DateOnly))
	assert.InDelta(t, starterHours, folder.Definitions.Boat.Engine.Hours, 0)
	assert.Contains(t, string(copyOf(t, Starter())[passageFile].Data), "\nposition = [-36.90, 175.20]")
	_, offset := depart.Zone()
	assert.InDelta(t, 175.2, spotIn(offset), 0)
}

func TestOwnFiguresStandInTheirLinesWithTheirComments(t *testing.T) {
	hours := 1482.5
	dir := t.TempDir()
	require.NoError(t, InitOwn(dir, Own{Name: `Dunlin "B"`, Hours: &hours, Water: []string{"150 L", "58 US gal"}, Fuel: "30 imp gal", Crew: 3,
		Begun: time.Date(2028, 2, 28, 23, 0, 0, 0, time.FixedZone("", -3*3600-1800))}))
	folder, err := Load(os.DirFS(dir))
	require.NoError(t, err)
	d := folder.Definitions
	assert.Equal(t, `Dunlin "B"`, d.Boat.Name)
	assert.InDelta(t, 1482.5, d.Boat.Engine.Hours, 0)
	assert.Equal(t, 3, d.Plan.Crew)
	assert.Equal(t, "2028-02-29T05:00:00-03:30", d.Plan.Depart.Format(time.RFC3339), "the next morning, in the zone that is kept")
	for tank, want := range map[string]string{"water tank": "150 L", "water tank 2": "58 US gal", "diesel tank": "30 imp gal"} {
		tank, known := d.Tank(tank)
		require.True(t, known)
		capacity, err := quantity.ParseVolume(want)
		require.NoError(t, err)
		assert.InDelta(t, float64(capacity), float64(tank.Capacity), 1e-9)
	}
	oil := d.Services[0]
	assert.InDelta(t, 1482.5-(1210-1204), oil.Last.Hours, 0, "as long ago as the example's")
	assert.Equal(t, "2028-01-11", oil.Last.Date.String(), "48 days before it is begun, as the example's")

	for name, comments := range map[string]int{boatFile: -2, passageFile: 0, upkeepFile: 0, datedFile: 0, storesFile: 0} {
		text, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		was := strings.Count(string(copyOf(t, Starter())[name].Data), "# ")
		if comments < 0 {
			assert.Greater(t, strings.Count(string(text), "# "), was, "%s: the dip table of another tank is switched off, and the head tells more", name)
			continue
		}
		assert.Equal(t, was, strings.Count(string(text), "# "), name)
	}
}

func TestWithoutOwnFiguresTheStarterStaysAsItIs(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, InitOwn(dir, Own{}))
	for name, file := range copyOf(t, Starter()) {
		text, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		if name == boatFile {
			continue // its head tells more
		}
		assert.Equal(t, string(file.Data), string(text), name)
	}
}

// On the first day nothing invented is overdue or at its end, whenever and wherever that is. What is of the boat herself must
// be seen first: no check is answered, and no tank counts as sounded.
func TestTheExampleStandsInNobodysWayOnTheFirstDay(t *testing.T) {
	dir := t.TempDir()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		at := filepath.Join(dir, fmt.Sprint(n))
		hours := rapid.Float64Range(0, 200000).Draw(t, "hours")
		litres := rapid.Custom(func(t *rapid.T) string { return fmt.Sprintf("%d L", rapid.IntRange(12, 10000).Draw(t, "L")) })
		own := Own{
			Name: rapid.SampledFrom([]string{"Dunlin", `A "B" \ C`, "Ørn", "#1"}).Draw(t, "name"), Hours: &hours,
			Water: rapid.SliceOfN(litres, 1, 6).Draw(t, "water"), Fuel: litres.Draw(t, "fuel"), Crew: rapid.IntRange(1, 20).Draw(t, "crew"),
			Begun: time.Unix(rapid.Int64Range(1600000000, 3000000000).Draw(t, "at"), 0).In(time.FixedZone("", rapid.IntRange(-48, 56).Draw(t, "quarters")*900)),
		}
		require.NoError(t, InitOwn(at, own))
		folder, err := Load(os.DirFS(at))
		require.NoError(t, err)
		d := folder.Definitions
		require.Equal(t, own.Name, d.Boat.Name)
		require.Equal(t, own.Crew, d.Plan.Crew)
		a := checklist.Assess(d, checklist.Fold(nil), own.Begun)
		require.False(t, a.Ready)
		critical := 0
		for _, b := range a.Blockers {
			require.NotContains(t, []checklist.Matter{checklist.MatterService, checklist.MatterDated, checklist.MatterSpare, checklist.MatterSeason, checklist.MatterPlan}, b.Matter, b.Why)
			if b.Matter == checklist.MatterCheck {
				critical++
			}
		}
		require.Greater(t, critical, 20, "nothing critical is answered beforehand")
		require.NoError(t, os.RemoveAll(at))
	})
}

func TestIsFreeSaysWhatIsThereAlready(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, IsFree(filepath.Join(dir, "new"), Starter()))
	require.NoError(t, IsFree(dir, Starter()))
	require.NoError(t, os.WriteFile(filepath.Join(dir, upkeepFile), nil, 0o644))
	require.ErrorContains(t, IsFree(dir, Starter()), "upkeep.toml is there already; nothing was written")
	require.ErrorContains(t, InitOwn(dir, Own{Name: "Dunlin"}), "upkeep.toml is there already")
	names, err := fs.Glob(os.DirFS(dir), "*")
	require.NoError(t, err)
	assert.Equal(t, []string{upkeepFile}, names)
}
