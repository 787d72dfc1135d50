//go:build unix

package tui

import (
	"os"

	"golang.org/x/sys/unix"
)

// restOfKey is how long the rest of a cut key is waited for, in ms: longer than the
// pause between two packets of a slow line, too short to be felt after the escape key.
const restOfKey = 50

// isMore says that more bytes have come, or come soon.
func isMore(f *os.File) bool {
	fds := []unix.PollFd{{Fd: int32(f.Fd()), Events: unix.POLLIN}}
	n, err := unix.Poll(fds, restOfKey)
	return err == nil && n > 0 && fds[0].Revents&unix.POLLIN != 0
}
