package record

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// A power cut at every byte of an append loses at most that entry.
func TestAPowerCutAtEveryByteLosesAtMostThatEntry(t *testing.T) {
	d := newMemDisk()
	add(t, memStore(d), 1, 3)
	before := mustRead(t, d, 1)
	add(t, memStore(d), 4, 4)
	after := mustRead(t, d, 1)

	for length := len(before); length <= len(after); length++ {
		cut := newMemDisk()
		putPage(t, cut, 1, after[:length])
		checkCut(t, cut, length == len(after), length == len(before), fmt.Sprintf("cut at byte %d", length))
	}
}

// The same where the append opens a page: its carry and its first entry are one write.
func TestAPowerCutAtEveryByteOfANewPageLosesAtMostThatEntry(t *testing.T) {
	d := newMemDisk()
	add(t, memStore(d), 1, 3)
	old := slices.Concat(mustRead(t, d, 1), arrival(t, 4, mustRead(t, d, 1)))
	putPage(t, d, 1, old)
	_, err := memStore(d).Append(minute(6), "", act(event(4)))
	require.NoError(t, err)
	after := mustRead(t, d, 2)

	for length := 0; length <= len(after); length++ {
		cut := newMemDisk()
		putPage(t, cut, 1, old)
		putPage(t, cut, 2, after[:length])
		carried := bytes.HasSuffix(after[:length], []byte("\"\n")) && bytes.Count(after[:length], []byte("\nsum = ")) == 1
		clean := length == 0 || length == len(pageHead) || carried
		checkCut(t, cut, length == len(after), clean, fmt.Sprintf("cut at byte %d", length))
	}
}

// checkCut loads what a cut left, adds to it, and verifies.
func checkCut(t *testing.T, d *memDisk, hasLast, clean bool, what string) {
	t.Helper()
	want := events(1, 3)
	if hasLast {
		want = events(1, 4)
	}
	l, err := memStore(d).Load()
	require.NoError(t, err, what)
	require.Empty(t, l.Damage, what)
	require.Equal(t, want, happened(l.Entries), what)
	if !hasLast && !clean {
		require.Len(t, l.Notices, 1, what)
		require.Contains(t, l.Notices[0], "cut short", what)
	}

	l, err = memStore(d).Append(minute(9), "", act(event(5)))
	require.NoError(t, err, what)
	require.Equal(t, append(want, "event 5"), happened(l.Entries), what)
	r, err := memStore(d).verify()
	require.NoError(t, err, what)
	require.Empty(t, r.Faults, what)
}

func mustRead(t *testing.T, d *memDisk, number int) []byte {
	t.Helper()
	text, err := d.read(memBoat + "/" + pageName(number))
	require.NoError(t, err)

	return text
}

func putPage(t *testing.T, d *memDisk, number int, text []byte) {
	t.Helper()
	require.NoError(t, d.mkdir(memBoat+"/"+folder))
	f, err := d.open(memBoat+"/"+pageName(number), toReplace)
	require.NoError(t, err)
	_, err = f.Write(text)
	require.NoError(t, err)
	require.NoError(t, f.Sync())
	require.NoError(t, d.syncDir(memBoat+"/"+folder))
	require.NoError(t, d.syncDir(memBoat))
}

// arrival is the entry that closes a passage, sealed to follow a page.
func arrival(t *testing.T, seq int, page []byte) []byte {
	t.Helper()
	after, ok := linkAfter(page)
	require.True(t, ok)
	body := fmt.Sprintf("%sseq = %d\nat = 2026-06-12T05:34:00+13:00\nkind = \"arrive\"\nclose = true\n", entryLine, seq)
	text, _ := sealed(after.sum(), []byte(body))

	return text
}

func TestTheTornBytesAreSetAsideAndNeverOverwritten(t *testing.T) {
	d := newMemDisk()
	add(t, memStore(d), 1, 2)
	whole := mustRead(t, d, 1)
	for i, torn := range []string{"\n[[entry]]\nseq = 3\nat = 20", "\n[[ent", "\n[[ent"} {
		putPage(t, d, 1, slices.Concat(whole, []byte(torn)))
		l, err := memStore(d).Append(minute(i), "", act(event(3)))
		require.NoError(t, err)
		require.Contains(t, l.Notices[0], fmt.Sprintf("its %d bytes are now in record/torn-0001-3", len(torn)))
		putPage(t, d, 1, whole)
	}

	names, err := d.list(memBoat + "/" + folder)
	require.NoError(t, err)
	assert.Equal(t, []string{"0001.toml", "torn-0001-3-2.toml", "torn-0001-3.toml"}, names, "the same bytes are kept once")
	for name, want := range map[string]string{"torn-0001-3.toml": "\n[[entry]]\nseq = 3\nat = 20", "torn-0001-3-2.toml": "\n[[ent"} {
		got, err := d.read(memBoat + "/" + folder + "/" + name)
		require.NoError(t, err)
		assert.Equal(t, want, string(got))
	}
}

// tornBytes are what the story finds at the end of its page.
const tornBytes = "\n[[entry]]\nseq = 3\nat = 1999"

// deed is what a story has done and was told to be safe.
type deed struct {
	events int
	kept   []string // definitions
	torn   bool     // the torn bytes were there
}

var someDefinitions = []string{"name = \"before\"\n", "name = \"after\"\n"}

// A story is a life in small: definitions kept, before the first entry or not; entries; a torn one; a page's turn;
// definitions kept again.
type story struct{ keepsFirst bool }

var stories = []story{{keepsFirst: true}, {keepsFirst: false}}

func (s story) happen(d *memDisk) (done deed, err error) {
	keep := func(text string) error {
		err := memStore(d).KeepDefinitions(sumOf("", []byte(text)), []byte(text))
		if err == nil {
			done.kept = append(done.kept, text)
		}
		return err
	}
	if s.keepsFirst {
		if err := keep(someDefinitions[0]); err != nil {
			return done, err
		}
	}
	for n := 1; n <= 6; n++ {
		if _, err := memStore(d).Append(minute(n), "", act(event(n))); err != nil {
			return done, err
		}
		done.events = n
		switch n {
		case 2:
			d.appendSafely(pageName(1), []byte(tornBytes))
			done.torn = true
		case 4:
			d.appendArrival(1)
		}
	}

	return done, keep(someDefinitions[1])
}

// appendSafely is what an earlier program left on the disk.
func (d *memDisk) appendSafely(name string, text []byte) {
	f := d.dirs[memBoat+"/"+folder].live[name[len(folder)+1:]].(*memFile)
	f.live = slices.Concat(f.live, text)
	f.safe = slices.Clone(f.live)
}

func (d *memDisk) appendArrival(number int) {
	f := d.dirs[memBoat+"/"+folder].live[pageName(number)[len(folder)+1:]].(*memFile)
	after, _ := linkAfter(f.live)
	body := fmt.Sprintf("%sseq = %d\nat = 2026-06-12T05:34:30+13:00\nkind = \"arrive\"\nclose = true\n", entryLine, after.next())
	text, _ := sealed(after.sum(), []byte(body))
	d.appendSafely(pageName(number), text)
}

func TestAfterEveryOperationAPowerCutLosesNothingAcknowledged(t *testing.T) {
	cuts := 0
	for _, story := range stories {
		trace := wholeTrace(t, story)
		for n := 1; n <= len(trace); n++ {
			for left := nothing; left <= someZeros; left++ {
				for seed := range tries(left) {
					d := newMemDisk()
					d.cutAfter = n
					done, _ := story.happen(d)
					what := fmt.Sprintf("power cut after operation %d (%s), survival %d, seed %d", n, trace[n-1], left, seed)
					checkSurvivor(t, d.afterCut(left, rand.New(rand.NewPCG(seed, uint64(n)))), done, what)
					cuts++
				}
			}
		}
	}
	t.Logf("%d power cuts", cuts)
	require.Greater(t, cuts, 2000)
}

// tries is how often a survival is drawn.
func tries(left survival) uint64 {
	if left == nothing || left == everything {
		return 1
	}

	return 8
}

// wholeTrace are the operations of a story that nothing disturbs.
func wholeTrace(t *testing.T, s story) []string {
	t.Helper()
	d := newMemDisk()
	_, err := s.happen(d)
	require.NoError(t, err)
	require.Greater(t, d.ops, 50)

	return d.trace
}

// checkSurvivor finds everything that was acknowledged, at most one act more, and can go on.
func checkSurvivor(t *testing.T, d *memDisk, done deed, what string) {
	t.Helper()
	for _, text := range done.kept {
		got, err := memStore(d).Definitions(sumOf("", []byte(text)))
		require.NoError(t, err, what)
		require.Equal(t, text, string(got), what)
	}
	if done.torn {
		require.Contains(t, string(everyByte(t, d)), tornBytes, what)
	}
	l, err := memStore(d).LoadAll()
	require.NoError(t, err, what)
	require.Empty(t, l.Damage, what)
	found := happened(l.Entries)
	require.Equal(t, events(1, len(found)), found, what)
	require.GreaterOrEqual(t, len(found), done.events, what)
	require.LessOrEqual(t, len(found), done.events+1, what)

	l, err = memStore(d).Append(minute(60), "", act(event(len(found)+1)))
	require.NoError(t, err, what)
	require.Equal(t, events(1, len(found)+1), happened(l.Entries), what)
	r, err := memStore(d).verify()
	require.NoError(t, err, what)
	require.Empty(t, r.Faults, what)
}

func TestEveryOperationThatFailsIsToldAndLosesNothing(t *testing.T) {
	tried := 0
	for _, story := range stories {
		trace := wholeTrace(t, story)
		for n := 1; n <= len(trace); n++ {
			for _, cause := range failures {
				for _, short := range []bool{false, true} {
					d := newMemDisk()
					d.failAt, d.failWith, d.short = n, cause, short
					done, err := story.happen(d)
					what := fmt.Sprintf("operation %d (%s) fails with %v, short write %v", n, trace[n-1], cause, short)
					require.ErrorIs(t, err, cause, what)
					d.failAt = 0
					checkTornFiles(t, d, what)
					checkSurvivor(t, d.afterCut(everything, nil), done, what)
					checkSurvivor(t, d.afterCut(nothing, nil), done, what)
					tried++
				}
			}
		}
	}
	t.Logf("%d failures tried", tried)
	require.Greater(t, tried, 600)
}

// checkTornFiles looks that what is set aside is all of it: no half of a file is left by a write that failed.
func checkTornFiles(t *testing.T, d *memDisk, what string) {
	t.Helper()
	names, _ := d.list(memBoat + "/" + folder)
	for _, name := range names {
		if strings.HasPrefix(name, "torn-") {
			text, err := d.read(memBoat + "/" + folder + "/" + name)
			require.NoError(t, err, what)
			require.Equal(t, tornBytes, string(text), what)
		}
	}
}

func TestAShortWriteWithoutAnErrorIsAnError(t *testing.T) {
	d := newMemDisk()
	add(t, memStore(d), 1, 1)
	before := mustRead(t, d, 1)
	_, err := memStore(shortDisk{d}).Append(minute(2), "", act(event(2)))
	require.ErrorContains(t, err, "nothing was written")
	assert.Equal(t, before, mustRead(t, d, 1))
}

// shortDisk writes half and says nothing of it.
type shortDisk struct{ *memDisk }

func (d shortDisk) open(name string, how opening) (file, error) {
	f, err := d.memDisk.open(name, how)

	return shortFile{f}, err
}

type shortFile struct{ file }

func (f shortFile) Write(text []byte) (int, error) { return f.file.Write(text[:len(text)/2]) }

// After a failed sync the computer may take the bytes for written: nothing more is written by this store.
func TestAfterAFailedSyncNothingMoreIsWrittenUntilOpenedAgain(t *testing.T) {
	d := newMemDisk()
	s := memStore(d)
	add(t, s, 1, 2)
	before := mustRead(t, d, 1)
	d.failWith, d.failAt = syscall.EIO, d.ops+nextOp(t, d, s, "sync")

	_, err := s.Append(minute(3), "", act(event(3)))
	require.ErrorIs(t, err, syscall.EIO)
	require.ErrorContains(t, err, "that act is not safe, and nothing more is written")
	d.failAt = 0
	ops := d.ops
	_, again := s.Append(minute(4), "", act(event(4)))
	require.Equal(t, err.Error(), again.Error())
	require.Error(t, s.KeepDefinitions(sumOf("", nil), nil))
	assert.Equal(t, ops, d.ops, "the disk was not touched")
	assert.Equal(t, before, mustRead(t, d, 1), "what is not safe is not left to be taken for safe")

	l := add(t, memStore(d), 3, 3)
	assert.Equal(t, events(1, 3), happened(l.Entries))
}

// nextOp is how many operations on the next one of a sort in an append is.
func nextOp(t *testing.T, d *memDisk, s *Store, sort string) int {
	t.Helper()
	probe := d.afterCut(everything, nil)
	other := memStore(probe)
	_, err := other.Append(minute(3), "", act(event(3)))
	require.NoError(t, err)
	for i, op := range probe.trace {
		if len(op) > len(sort) && op[:len(sort)] == sort {
			return i + 1
		}
	}
	t.Fatalf("no operation %q in %v", sort, probe.trace)

	return 0
}

func TestTheErrorsSayWhatToDo(t *testing.T) {
	for cause, says := range map[error]string{
		syscall.ENOSPC:      "record/0001.toml: no room on the disk; nothing was written; free some space and try again",
		syscall.EROFS:       "record/0001.toml: it is read-only; nothing was written; make the boat folder writable, or copy it to where it is",
		syscall.EIO:         "record/0001.toml: the disk reports an error; nothing was written; copy the boat folder to another disk and go on there",
		errors.New("a bug"): "record/0001.toml: a bug; nothing was written; mend that and try again",
	} {
		err := explainWrite(pageName(1), cause)
		assert.EqualError(t, err, says)
		assert.ErrorIs(t, err, cause)
	}
}

func TestAnErrorOfDecideIsReturnedAsItIsAndNothingIsWritten(t *testing.T) {
	d := newMemDisk()
	s := memStore(d)
	add(t, s, 1, 2)
	before := mustRead(t, d, 1)
	no := errors.New("there is no such tank")
	_, err := s.Append(minute(3), "", func(entries []checklist.Entry) (checklist.Act, error) {
		assert.Equal(t, events(1, 2), happened(entries))
		return nil, no
	})
	assert.Equal(t, no, err)
	assert.Equal(t, before, mustRead(t, d, 1))

	for _, bad := range []checklist.Act{checklist.Carry{}, nil, checklist.Event{What: "\xff"}} {
		_, err := s.Append(minute(3), "", act(bad))
		require.ErrorContains(t, err, "nothing was written")
	}
	assert.Equal(t, before, mustRead(t, d, 1))
}
