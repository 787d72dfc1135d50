package checklist_test

import (
	"testing"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"

	"github.com/stretchr/testify/require"
)

// BenchmarkAssess is one whole assessment of the demo boat, food day by day included.
func BenchmarkAssess(b *testing.B) {
	folder, err := config.Load(config.Demo())
	require.NoError(b, err)
	state := checklist.Fold(nil)
	b.ReportAllocs()
	for b.Loop() {
		checklist.Assess(folder.Definitions, state, config.DemoMoment)
	}
}
