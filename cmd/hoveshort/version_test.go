package main

import (
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestVersionTellsTheCommit(t *testing.T) {
	const commit = "0123456789abcdef0123456789abcdef01234567"
	for _, row := range []struct {
		version  string
		settings []debug.BuildSetting
		want     string
	}{
		{"(devel)", nil, "(devel)"},
		{"v1.2.0", nil, "v1.2.0"}, // go install …@v1.2.0
		{"v0.0.0-20261126081500-0123456789ab+dirty", []debug.BuildSetting{{Key: "vcs.revision", Value: commit}, {Key: "vcs.time", Value: "2026-11-26T08:15:00Z"}, {Key: "vcs.modified", Value: "true"}}, "commit 0123456789ab of 2026-11-26, changed"},
		{"v1.2.1-0.20261126081500-0123456789ab", []debug.BuildSetting{{Key: "vcs.revision", Value: commit}, {Key: "vcs.time", Value: "2026-11-26T08:15:00Z"}, {Key: "vcs.modified", Value: "false"}}, "commit 0123456789ab of 2026-11-26"},
		{"v1.2.0", []debug.BuildSetting{{Key: "vcs.revision", Value: commit}, {Key: "vcs.time", Value: "2026-11-26T08:15:00Z"}}, "v1.2.0, commit 0123456789ab of 2026-11-26"},
	} {
		assert.Equal(t, row.want, versionOf(&debug.BuildInfo{Main: debug.Module{Version: row.version}, Settings: row.settings}))
	}
	assert.Contains(t, world{}.call("--version").stdout, "(files and record: format 1)")
}
