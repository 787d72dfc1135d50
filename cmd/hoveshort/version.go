package main

import (
	"fmt"
	"runtime/debug"
	"strings"
)

// version is the program's, with the commit it was built from, and the format of the files it knows.
func version() string {
	built := "unknown"
	if info, ok := debug.ReadBuildInfo(); ok {
		built = versionOf(info)
	}
	return built + " (files and record: format 1)"
}

// versionOf is what the build tells: the version where there is a tagged one, and the commit where it was built from a
// checkout, "v1.2.0, commit 0123456789ab of 2026-11-26, changed".
func versionOf(info *debug.BuildInfo) string {
	told := map[string]string{}
	for _, s := range info.Settings {
		told[s.Key] = s.Value
	}
	const short = 12
	var parts []string
	isTagged := info.Main.Version != "" && !strings.Contains(info.Main.Version, "-0.2") && !strings.HasPrefix(info.Main.Version, "v0.0.0-")
	if commit := told["vcs.revision"]; commit == "" || isTagged {
		parts = append(parts, strings.TrimSuffix(info.Main.Version, "+dirty"))
	}
	if commit := told["vcs.revision"]; commit != "" {
		day, _, _ := strings.Cut(told["vcs.time"], "T")
		parts = append(parts, fmt.Sprintf("commit %s of %s", commit[:min(short, len(commit))], day))
	}
	if told["vcs.modified"] == "true" {
		parts = append(parts, "changed")
	}
	return strings.Join(parts, ", ")
}
