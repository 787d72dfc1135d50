package config

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// The lines that a trial gives are put into passage.toml as the skipper is told to: the
// files then say what was tried.
func TestLinesOfATrialMakeTheFilesSayWhatWasTried(t *testing.T) {
	files := frozenFiles(t)
	folder, err := Load(files)
	require.NoError(t, err)
	d := folder.Definitions
	now := d.Plan.Depart.Add(-24 * time.Hour)

	var trial checklist.Trial
	for _, text := range []string{"crew=4", "depart=" + d.Plan.Depart.Add(5*time.Hour).Format(time.RFC3339), "sail.1=4.7 kn", "stop=Reef \"Bay\", leg 1, 20.5 nm, water, food?, 36 h"} {
		trial, err = trial.With(text, d, now)
		require.NoError(t, err)
	}
	want := d.Try(trial)

	plan := string(files["passage.toml"].Data)
	legs := strings.Split(plan, "[[leg]]")
	var replaced []string
	for _, line := range trial.Lines(d) {
		key, _, isKey := strings.Cut(line, " = ")
		if len(replaced) == 0 && isKey && !strings.HasPrefix(line, "[[") {
			top := regexp.MustCompile(`(?m)^` + key + ` = .*$`)
			require.Regexp(t, top, legs[0])
			legs[0] = top.ReplaceAllLiteralString(legs[0], line)
			continue
		}
		replaced = append(replaced, line)
	}
	legs[1] = strings.TrimPrefix(strings.Join(replaced, "\n"), "# in the place of leg 1, ")
	written := legs[0] + "# " + legs[1] + "\n"
	if len(legs) > 2 {
		written += "[[leg]]" + strings.Join(legs[2:], "[[leg]]")
	}
	files["passage.toml"].Data = []byte(written)

	kept, err := Load(files)
	require.NoError(t, err, written)
	got := kept.Definitions.Plan
	want.Plan.Depart, got.Depart = want.Plan.Depart.UTC(), got.Depart.UTC()
	assert.Equal(t, want.Plan, got)
}
