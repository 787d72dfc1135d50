package record

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// small mounts a disk of 16 KB. Where that is not allowed, the disk in memory that fails at every operation
// (TestEveryOperationThatFailsIsToldAndLosesNothing) has to do.
func small(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=16k"); err != nil {
		t.Skipf("no small disk can be mounted here: %v", err)
	}
	t.Cleanup(func() { assert.NoError(t, syscall.Unmount(dir, syscall.MNT_DETACH)) })

	return dir
}

func TestAFullDiskIsToldAndLosesNothing(t *testing.T) {
	boat := small(t)
	s := Open(boat)
	var err error
	n := 0
	for err == nil {
		n++
		require.Less(t, n, 500)
		_, err = s.Append(minute(n), "", act(event(n)))
	}
	require.ErrorIs(t, err, syscall.ENOSPC)
	require.EqualError(t, err, "record/0001.toml: no room on the disk; nothing was written; free some space and try again")

	assert.Equal(t, n-1, verifyClean(t, boat).Entries)
	l, err := Open(boat).Load()
	require.NoError(t, err)
	assert.Empty(t, l.Notices)
	assert.Equal(t, events(1, n-1), happened(l.Entries))
	_, err = s.Append(minute(n), "", act(event(n)))
	require.ErrorIs(t, err, syscall.ENOSPC)
	text := make([]byte, 8000)
	err = s.KeepDefinitions(sumOf("", text), text)
	require.ErrorIs(t, err, syscall.ENOSPC)

	require.NoError(t, syscall.Mount("tmpfs", boat, "tmpfs", syscall.MS_REMOUNT, "size=64k"), "some space is freed")
	add(t, s, n, n+5)
	assert.Equal(t, n+5, verifyClean(t, boat).Entries)
	t.Logf("full after %d entries", n-1)
}

// A page that cannot be opened for want of room leaves the record as it was, to the entry.
func TestAFullDiskWhileAPageIsTurned(t *testing.T) {
	boat := small(t)
	for n := 1; n <= 20; n++ {
		_, err := Open(boat).Append(minute(n), "", act(checklist.Sound{Tank: fmt.Sprintf("tank %d", n), Level: "62 %"}))
		require.NoError(t, err)
	}
	closePage(t, boat, 1)
	filler := filepath.Join(boat, "charts")
	text := make([]byte, 16<<10)
	_ = os.WriteFile(filler, text, 0o644)

	_, err := Open(boat).Append(minute(30), "", act(event(30)))
	require.ErrorIs(t, err, syscall.ENOSPC)
	assert.Equal(t, 21, verifyClean(t, boat).Entries)
	require.NoError(t, os.Remove(filler))
	add(t, Open(boat), 30, 30)
	r := verifyClean(t, boat)
	assert.Equal(t, []int{2, 23}, []int{r.Pages, r.Entries})
}

func TestAReadOnlyFolderIsToldAndLosesNothing(t *testing.T) {
	for name, withLock := range map[string]bool{"with the lock file": true, "without it": false} {
		t.Run(name, func(t *testing.T) {
			boat := small(t)
			add(t, Open(boat), 1, 3)
			if !withLock {
				require.NoError(t, os.Remove(filepath.Join(boat, lockFile)))
			}
			require.NoError(t, syscall.Mount("tmpfs", boat, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))

			l, err := Open(boat).Load()
			require.NoError(t, err)
			assert.Equal(t, events(1, 3), happened(l.Entries))
			require.Len(t, l.Notices, 1)
			assert.Contains(t, l.Notices[0], "The record is read-only")
			_, err = Open(boat).Append(minute(4), "", act(event(4)))
			require.ErrorIs(t, err, syscall.EROFS)
			require.ErrorContains(t, err, "it is read-only; nothing was written; make the boat folder writable, or copy it to where it is")
			assert.Equal(t, 3, verifyClean(t, boat).Entries)
		})
	}

	boat := small(t)
	require.NoError(t, syscall.Mount("tmpfs", boat, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
	_, err := Open(boat).Append(minute(1), "", act(event(1)))
	require.ErrorIs(t, err, syscall.EROFS)
}

func TestWhatIsNoRegularFileIsNotWaitedFor(t *testing.T) {
	boat := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(boat, folder), 0o755))
	if err := syscall.Mkfifo(filepath.Join(boat, pageName(1)), 0o644); err != nil {
		t.Skip(err)
	}
	_, err := Open(boat).Load()
	require.ErrorContains(t, err, "it is no regular file")
	r, err := Verify(boat)
	require.NoError(t, err)
	assert.Contains(t, lines(r.Faults), "it is no regular file")
}
