package record

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
)

func TestNothingIsMadeBeforeTheFirstAppend(t *testing.T) {
	boat := t.TempDir()
	for _, load := range []func() (Loaded, error){Open(boat).Load, Open(boat).LoadAll} {
		l, err := load()
		require.NoError(t, err)
		assert.Empty(t, l.Entries)
		assert.Empty(t, l.Notices)
	}
	r, err := Verify(boat)
	require.NoError(t, err)
	assert.Equal(t, Report{}, r)
	found, err := os.ReadDir(boat)
	require.NoError(t, err)
	assert.Empty(t, found)

	_, err = Open(filepath.Join(boat, "none")).Append(start, "", act(event(1)))
	require.ErrorContains(t, err, "there is no such boat folder; make one with `hoveshort init`")
}

// The page to the byte, as the design has it: other programs may read it.
func TestThePageIsWrittenAsTheDesignSays(t *testing.T) {
	boat := t.TempDir()
	_, err := Open(boat).Append(start.Add(400*time.Millisecond), "Mara", act(checklist.Sound{Tank: "port \"water\"", Level: "62 %"}))
	require.NoError(t, err)
	_, err = Open(boat).Append(minute(1), "", act(checklist.Reading{Values: []checklist.ReadingValue{{Of: "rpm"}}, Minutes: 15, Moored: true}))
	require.NoError(t, err)

	assert.Equal(t, `# hoveshort's own record: one entry an act, only ever added to. Do not edit it; `+"`hoveshort verify`"+` finds a change.
format = 1

[[entry]]
seq = 1
at = 2026-06-12T05:30:00+13:00
kind = "sound"
tank = "port \"water\""
level = "62 %"
by = "Mara"
sum = "`+firstSum+`"

[[entry]]
seq = 2
at = 2026-06-12T05:31:00+13:00
kind = "reading"
values = [
  { of = "rpm" },
]
minutes = 15.0
moored = true
sum = "`+secondSum+`"
`, string(readPageFile(t, boat, 1)))
}

func TestAppendGivesTheStateAfterIt(t *testing.T) {
	s := Open(t.TempDir())
	for n := 1; n <= 5; n++ {
		l := add(t, s, n, n)
		assert.Equal(t, events(1, n), happened(l.Entries))
		again, err := s.Load()
		require.NoError(t, err)
		assert.Equal(t, again, l)
		assert.Equal(t, n, l.Entries[n-1].Seq)
	}
}

func TestAStoreSeesWhatAnotherOneAdds(t *testing.T) {
	boat := t.TempDir()
	one, two := Open(boat), Open(boat)
	for n := 1; n <= 6; n += 2 {
		add(t, one, n, n)
		_, err := two.Append(minute(n+1), "", func(entries []checklist.Entry) (checklist.Act, error) {
			assert.Equal(t, events(1, n), happened(entries))
			return event(n + 1), nil
		})
		require.NoError(t, err)
	}
	assert.Equal(t, 6, verifyClean(t, boat).Entries)
}

// What a load gave is the caller's: a later one does not change it.
func TestALoadIsNotChangedByALaterOne(t *testing.T) {
	s := Open(t.TempDir())
	first := add(t, s, 1, 3)
	mine := slices.Concat(first.Entries, []checklist.Entry{{Seq: 99}})
	add(t, s, 4, 5)
	assert.Equal(t, 99, mine[3].Seq)
	assert.Len(t, first.Entries, 3)
}

func TestAPageEndsWithTheClosingOfAPassage(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 3)
	closePage(t, boat, 1)
	l := add(t, Open(boat), 4, 4)
	require.Len(t, l.Entries, 2)
	assert.IsType(t, checklist.Carry{}, l.Entries[0].Act)
	assert.Equal(t, []int{5, 6}, []int{l.Entries[0].Seq, l.Entries[1].Seq})
	add(t, Open(boat), 5, 6)

	assert.Equal(t, 2, verifyClean(t, boat).Pages)
	all, err := Open(boat).LoadAll()
	require.NoError(t, err)
	assert.Equal(t, events(1, 6), happened(all.Entries))
	for _, e := range all.Entries {
		assert.NotEqual(t, checklist.KindCarry, e.Act.Kind())
	}
}

func TestAPageEndsAtOneMegabyte(t *testing.T) {
	d := newMemDisk()
	s := memStore(d)
	long := strings.Repeat("sail ho ", 8000)
	for n := 1; ; n++ {
		_, err := s.Append(minute(n), "", act(checklist.Event{What: "one of a few"}))
		require.NoError(t, err)
		_, err = s.Append(minute(n), "", act(checklist.Correct{Of: 1, Why: long}))
		require.NoError(t, err)
		if numbers, _ := s.numbers(); len(numbers) == 2 {
			break
		}
		require.Less(t, n, 100)
	}
	first := mustRead(t, d, 1)
	assert.GreaterOrEqual(t, len(first), 1<<20)
	assert.Less(t, len(first), 1<<20+len(long)+1000)
	r, err := memStore(d).verify()
	require.NoError(t, err)
	assert.Empty(t, r.Faults)
}

// A carry that alone is over a megabyte must not open a page an entry.
func TestALargeCarryDoesNotOpenAPageAnEntry(t *testing.T) {
	p := &page{whole: fullPage + 100, carry: fullPage + 50}
	assert.False(t, p.isFull())
	p.whole = 2*p.carry + 1
	assert.True(t, p.isFull())
}

// lives draws acts as a boat makes them, with clocks that run forward.
func lives(t *rapid.T, n int) []checklist.Entry {
	tanks := []string{"port water", "starboard water", "diesel"}
	var entries []checklist.Entry
	for i := range n {
		e := checklist.Entry{At: minute(30 * i)}
		switch rapid.IntRange(0, 7).Draw(t, "act") {
		case 0:
			e.Act = checklist.Sound{Tank: rapid.SampledFrom(tanks).Draw(t, "tank"), Level: "62 %"}
		case 1:
			e.Act = checklist.Fill{Tank: rapid.SampledFrom(tanks).Draw(t, "tank"), Amount: "20 L", From: rapid.SampledFrom([]string{"", "diesel"}).Draw(t, "from")}
		case 2:
			e.Act = checklist.Count{Food: rapid.SampledFrom([]string{"rice", "oats"}).Draw(t, "food"), Packs: float64(rapid.IntRange(0, 9).Draw(t, "packs"))}
		case 3:
			e.Act = checklist.Answer{Check: rapid.SampledFrom([]string{"engine-oil", "bilge"}).Draw(t, "check"), Answer: rapid.SampledFrom([]checklist.AnswerWord{checklist.Right, checklist.NotRight}).Draw(t, "answer")}
		case 4:
			e.Act = checklist.Event{What: rapid.SampledFrom([]string{"engine stopped", "anchored"}).Draw(t, "what")}
		case 5:
			e.Act = checklist.Sign{Name: "Mara", Passage: "to the next bay"}
		case 6:
			e.Act = checklist.DefectAct{What: "weeping stern gland", Grade: "limit"}
		default:
			e.Act = checklist.Correct{Of: rapid.IntRange(1, i+1).Draw(t, "of"), Why: "misread"}
		}
		entries = append(entries, e)
	}

	return entries
}

// Starting from the newest page and from all of them is the same, wherever pages were turned.
func TestTheNewestPageGivesTheSameStateAsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := newMemDisk()
		for _, e := range lives(t, rapid.IntRange(1, 25).Draw(t, "acts")) {
			if _, err := memStore(d).Append(e.At, "", func([]checklist.Entry) (checklist.Act, error) { return e.Act, nil }); err != nil {
				t.Fatal(err)
			}
			if rapid.IntRange(0, 5).Draw(t, "turn") == 0 {
				numbers, _ := memStore(d).numbers()
				d.appendArrival(numbers[len(numbers)-1])
			}
		}
		newest, err := memStore(d).Load()
		require.NoError(t, err)
		all, err := memStore(d).LoadAll()
		require.NoError(t, err)
		require.Empty(t, all.Damage)
		require.Equal(t, checklist.Fold(all.Entries), checklist.Fold(newest.Entries))

		until := minute(30 * rapid.IntRange(-1, 26).Draw(t, "until"))
		then, err := memStore(d).LoadUntil(until)
		require.NoError(t, err)
		before := slices.DeleteFunc(slices.Clone(all.Entries), func(e checklist.Entry) bool { return e.At.After(until) })
		require.Equal(t, checklist.Fold(before), checklist.Fold(then.Entries))
	})
}

func TestACorrectionOfAnEarlierPageReadsThemAll(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 3)
	closePage(t, boat, 1)
	add(t, Open(boat), 4, 4)
	l, err := Open(boat).Append(minute(9), "", act(checklist.Correct{Of: 2, Why: "it was not so"}))
	require.NoError(t, err)
	assert.Equal(t, events(1, 4), happened(l.Entries), "all entries, without a carry")
	assert.NotEqual(t, checklist.KindCarry, l.Entries[0].Act.Kind())

	closePage(t, boat, 2)
	l = add(t, Open(boat), 5, 5)
	assert.Len(t, l.Entries, 2, "the next carry has it")
	assert.NotContains(t, happened(l.Entries), "event 2")
}

// A carry stands for entries, and is none that could be taken back.
func TestACorrectionOfACarryChangesNothing(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 3)
	closePage(t, boat, 1)
	l := add(t, Open(boat), 4, 4)
	carry := l.Entries[0]
	require.IsType(t, checklist.Carry{}, carry.Act)
	l, err := Open(boat).Append(minute(9), "", act(checklist.Correct{Of: carry.Seq, Why: "a wrong number"}))
	require.NoError(t, err)
	assert.Equal(t, events(1, 4), happened(l.Entries))
}

// The clock went back between two pages: what the carry brings forward is later than the carry.
func TestLoadUntilLooksIntoTheCarry(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 2)
	add(t, Open(boat), 50, 50)
	closePage(t, boat, 1)
	add(t, Open(boat), 40, 40)
	l, err := Open(boat).LoadUntil(minute(45))
	require.NoError(t, err)
	assert.Equal(t, []string{"event 1", "event 2", "event 40"}, happened(l.Entries))
}

// polish is an act of a kind that is not in the list.
type polish struct{}

func (polish) Kind() checklist.Kind { return "polish" }

func TestWhatWouldNotReadBackIsNotWritten(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 1)
	before := readPageFile(t, boat, 1)
	_, err := Open(boat).Append(minute(2), "", act(polish{}))
	require.ErrorContains(t, err, `this act cannot be kept: it would not read back: it cannot be read: kind: "polish"`)
	assert.Equal(t, before, readPageFile(t, boat, 1))
}

func TestLoadUntilKnowsNothingOfLater(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 3)
	closePage(t, boat, 1)
	add(t, Open(boat), 4, 6)
	for n := range 7 {
		l, err := Open(boat).LoadUntil(minute(n))
		require.NoError(t, err)
		for _, e := range l.Entries {
			assert.False(t, e.At.After(minute(n)))
		}
		if n > 0 {
			assert.Equal(t, events(1, n), happened(l.Entries))
		}
	}
}

// An editor or a copy that made CRLF of it: everything is still read, it is told, and the page is left as it is.
func TestChangedLineEndsLoseNothing(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 3)
	changed := bytes.ReplaceAll(readPageFile(t, boat, 1), []byte("\n"), []byte("\r\n"))
	writePageFile(t, boat, 1, changed)
	l := add(t, Open(boat), 4, 5)
	assert.Equal(t, events(1, 5), happened(l.Entries))
	assert.Equal(t, changed, readPageFile(t, boat, 1))
	r, err := Verify(boat)
	require.NoError(t, err)
	assert.Equal(t, "record/0001.toml: its line ends were changed, by an editor or a copy; its entries are read all the same", lines(r.Faults))
}

// The carry of the newest page is damaged: the page before it is read as well.
func TestADamagedCarryIsMadeGoodByThePageBefore(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 3)
	closePage(t, boat, 1)
	add(t, Open(boat), 4, 5)
	page := bytes.Replace(readPageFile(t, boat, 2), []byte(`kind = "carry"`), []byte(`kind = "curry"`), 1)
	writePageFile(t, boat, 2, page)
	l, err := Open(boat).Load()
	require.NoError(t, err)
	assert.Equal(t, events(1, 5), happened(l.Entries))
	assert.Equal(t, []int{5, 5}, seqs(l.Damage))
	l = add(t, Open(boat), 6, 6)
	assert.Equal(t, events(1, 6), happened(l.Entries))
}

// Nothing is cut off a page but what a power cut can leave.
func TestDamageIsNeverCutOff(t *testing.T) {
	whole := pageOf(t, 3)
	for name, changed := range map[string][]byte{
		"the last sum":   bytes.Replace(whole, whole[len(whole)-10:], []byte("zzzzzzz\"\"\n"), 1),
		"the head":       bytes.Replace(whole, []byte("record"), []byte("rekord"), 1),
		"all sums":       bytes.ReplaceAll(whole, []byte("sum ="), []byte("sun =")),
		"the entry line": bytes.Replace(whole, []byte("[[entry]]\nseq = 3"), []byte("[[entry]}\nseq = 3"), 1),
	} {
		boat := t.TempDir()
		writePageFile(t, boat, 1, changed)
		l := add(t, Open(boat), 4, 5)
		assert.Subset(t, happened(l.Entries), []string{"event 1", "event 2", "event 4", "event 5"}, name)
		assert.True(t, bytes.HasPrefix(readPageFile(t, boat, 1), changed), name)
		found, err := os.ReadDir(filepath.Join(boat, folder))
		require.NoError(t, err)
		for _, f := range found {
			assert.NotContains(t, f.Name(), "torn", name)
		}
	}
}

func TestALinkThatPointsNowhereIsAnError(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 1)
	require.NoError(t, os.Symlink(filepath.Join(boat, "gone"), filepath.Join(boat, pageName(2))))
	_, err := Open(boat).Load()
	require.ErrorContains(t, err, "record/0002.toml: it cannot be read")
	_, err = Open(boat).Append(minute(2), "", act(event(2)))
	require.ErrorContains(t, err, "record/0002.toml: it cannot be read")
	assert.NoFileExists(t, filepath.Join(boat, "gone"))
}

func TestTheLockIsWaitedForAndThenTold(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 1)
	unlock, err := osDisk{}.lock(filepath.Join(boat, lockFile), toWrite, time.Second)
	require.NoError(t, err)

	s := Open(boat)
	s.wait = 50 * time.Millisecond
	_, err = s.Append(minute(2), "", act(event(2)))
	require.ErrorIs(t, err, errHeld)
	require.ErrorContains(t, err, "another program has been writing the record for 50ms; nothing was written; close it, or try again")
	l, err := s.Load()
	require.NoError(t, err)
	assert.Equal(t, events(1, 1), happened(l.Entries))
	assert.Contains(t, l.Notices[0], "Another program is writing the record")
	require.NoError(t, unlock())
	add(t, s, 2, 2)
}
