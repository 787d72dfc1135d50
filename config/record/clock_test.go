package record

import (
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// A program that waited for another one writes the time at which it writes: a time before
// the last entry's would put the clock in doubt.
func TestTimesFollowTheOrderOfWriting(t *testing.T) {
	const programs, each = 6, 10
	boat := t.TempDir()
	var told atomic.Int64
	clock := func() time.Time { return minute(int(told.Add(1))) }
	var all sync.WaitGroup
	for range programs {
		all.Go(func() {
			s := Open(boat)
			for range each {
				var given time.Time
				l, err := s.AppendNow(clock, "", func(at time.Time, _ []checklist.Entry) (checklist.Act, error) {
					given = at
					return event(1), nil
				})
				if assert.NoError(t, err) {
					assert.True(t, given.Equal(l.Entries[len(l.Entries)-1].At), "what was decided on is what is written")
				}
			}
		})
	}
	all.Wait()
	l, err := Open(boat).Load()
	require.NoError(t, err)
	require.Len(t, l.Entries, programs*each)
	assert.Empty(t, checklist.Fold(l.Entries).Clock.Doubt)
	for i := 1; i < len(l.Entries); i++ {
		assert.True(t, l.Entries[i].At.After(l.Entries[i-1].At), "entry %d", i+1)
	}
}
