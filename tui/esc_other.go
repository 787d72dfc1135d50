//go:build !unix

package tui

import "os"

// isMore waits for nothing where a file cannot be asked.
func isMore(*os.File) bool { return false }
