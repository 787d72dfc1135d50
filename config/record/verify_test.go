package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// Source: FIPS 180-4 and NIST's "Descriptions of SHA-1, SHA-256, SHA-384 and SHA-512" with the examples of FIPS 180-2.
func TestTheSumIsSHA256OfFIPS180(t *testing.T) {
	for message, digest := range map[string]string{
		"":    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
		"abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
		"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq":                                                         "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
		"abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmnopqrstnopqrstu": "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1",
		strings.Repeat("a", 1_000_000): "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
	} {
		assert.Equal(t, digest, sumOf("", []byte(message)))
		assert.Equal(t, digest, sumOf(message[:len(message)/2], []byte(message[len(message)/2:])), "the sum before comes first")
	}
}

// Each kind of tampering and what must be reported: reference rows "a chain of our own", constructed for this record.
func TestTamperingIsFoundAsFarAsAChainCan(t *testing.T) {
	whole := pageOf(t, 3)
	parts := bytes.SplitAfter(whole, []byte("\"\n\n"))
	require.Len(t, parts, 3)
	parts[2] = append(parts[2], '\n')
	head, one := parts[0][:len(pageHead)+1], parts[0][len(pageHead)+1:]
	two, three := parts[1], parts[2]
	join := func(parts ...[]byte) []byte { return bytes.TrimSuffix(slices.Concat(parts...), []byte("\n")) }
	require.Equal(t, whole, join(head, one, two, three))
	resealed := reseal(t, bytes.ReplaceAll(one, []byte("event 1"), []byte("event 9")), firstLink)

	for name, c := range map[string]struct {
		page []byte
		want []int // the entries that are named
	}{
		"untouched":                          {whole, nil},
		"entry 1 changed":                    {join(head, bytes.ReplaceAll(one, []byte("event 1"), []byte("event 9")), two, three), []int{1}},
		"entry 1 changed with its sum":       {join(head, resealed, two, three), []int{2}},
		"entry 2 removed":                    {join(head, one, three), []int{2, 2}},
		"entries 2 and 3 swapped":            {join(head, one, three, two), []int{2, 2, 3, 3}},
		"entry 3 removed: only a copy tells": {join(head, one, two), nil},
		"half an entry":                      {join(head, one, two, three[:40]), []int{3}},
		"a blank last line":                  {append(bytes.Clone(whole), '\n'), []int{4}},
	} {
		boat := t.TempDir()
		writePageFile(t, boat, 1, c.page)
		r, err := Verify(boat)
		require.NoError(t, err)
		assert.Equal(t, c.want, seqs(r.Faults), "%s:\n%s", name, lines(r.Faults))
	}
}

// pageOf is a page with n entries.
func pageOf(t testing.TB, n int) []byte {
	t.Helper()
	boat := t.TempDir()
	add(t, Open(boat), 1, n)

	return readPageFile(t, boat, 1)
}

func reseal(t *testing.T, entry []byte, previous string) []byte {
	t.Helper()
	body, _, found := bytes.Cut(entry, []byte("sum = "))
	require.True(t, found)

	return slices.Concat(body, []byte("sum = \""+sumOf(previous, body)+"\"\n\n"))
}

// A changed byte, wherever it is, is found; the page is named, and the entry in which it is.
func TestAChangedByteAtEveryPositionIsFound(t *testing.T) {
	boat := t.TempDir()
	s := Open(boat)
	acts := []checklist.Act{
		checklist.Sound{Tank: "port water", Level: "62 %"}, checklist.Event{What: "wind \"over\" 20 kn\n"},
		checklist.Correct{Of: 2, Why: "misread"}, checklist.Reading{Values: []checklist.ReadingValue{{Of: "rpm"}, {Of: "speed"}}},
	}
	for i, a := range acts {
		_, err := s.Append(minute(i), "Mara", act(a))
		require.NoError(t, err)
	}
	page := readPageFile(t, boat, 1)
	ends := sumEnds(page)
	require.Len(t, ends, len(acts))
	borders := append([]int{len(pageHead)}, ends...)

	for at := range page {
		want := 1 + slices.IndexFunc(ends, func(end int) bool { return at < end })
		if at < len(pageHead) {
			want = 0
		}
		for _, flip := range []byte{0x01, 0x02, 0x08, 0x20, 0x40, 0x80, 0xff, page[at], page[at] ^ '\n', page[at] ^ '\r'} {
			if flip == 0 {
				continue
			}
			changed := bytes.Clone(page)
			changed[at] ^= flip
			d := newMemDisk()
			putPage(t, d, 1, changed)
			r, err := memStore(d).verify()
			require.NoError(t, err)
			require.NotEmpty(t, r.Faults, "byte %d: %q for %q", at, changed[at], page[at])
			require.True(t, names(r.Faults, want) || names(r.Faults, want+1) && (slices.Contains(borders, at+1) || changed[at] == '\n'), "byte %d: %q for %q:\n%s", at, changed[at], page[at], lines(r.Faults))
			for _, f := range r.Faults {
				require.Equal(t, "record/0001.toml", f.Page)
				require.True(t, f.Seq == 0 || f.Seq == want || f.Seq == want+1 && (slices.Contains(borders, at+1) || changed[at] == '\n'), "byte %d blames entry %d:\n%s", at, f.Seq, lines(r.Faults))
			}
			checkOthersAreThere(t, d, want, len(acts), at)
		}
	}
}

// checkOthersAreThere looks that the entries before the damaged one are loaded, and those after it but the next.
func checkOthersAreThere(t *testing.T, d *memDisk, damaged, n, at int) {
	t.Helper()
	l, err := memStore(d).Load()
	if damaged == 0 && err != nil {
		require.ErrorContains(t, err, "this program knows 1")
		return
	}
	require.NoError(t, err)
	require.NotEmpty(t, l.Notices)
	var found []int
	for _, e := range l.Entries {
		found = append(found, e.Seq)
	}
	for seq := 1; seq <= n; seq++ {
		if seq != damaged {
			require.Contains(t, found, seq, "byte %d", at)
		}
	}
}

// names tells whether a fault names the entry. The line end between two entries may be blamed on either.
func names(faults []Fault, seq int) bool { return slices.Contains(seqs(faults), seq) }

func sumEnds(page []byte) []int {
	var ends []int
	for at := 0; at < len(page); at += lineLength(page[at:]) {
		if _, is := sumIn(page[at : at+lineLength(page[at:])]); is {
			ends = append(ends, at+lineLength(page[at:]))
		}
	}

	return ends
}

// The recipe of DEVELOPERS.md, with nothing but a shell and sha256sum.
const recipe = `prev=$(printf '%064d' 0)
for page in record/[0-9]*.toml; do
  body=
  while IFS= read -r line; do
    case $line in
      '[[entry]]') body="$line
" ;;
      'sum = "'*)
        sum=${line#'sum = "'}; sum=${sum%'"'}
        real=$(printf '%s%s' "$prev" "$body" | sha256sum | cut -c 1-64)
        [ "$real" = "$sum" ] || echo "$page: entry $seq: not as it was written"
        prev=$sum ;;
      'seq = '*) seq=${line#'seq = '}; body="$body$line
" ;;
      *) body="$body$line
" ;;
    esac
  done < "$page"
done
echo "last: $prev"
`

func TestAThirdPersonCanRepeatTheChain(t *testing.T) {
	for _, tool := range []string{"sh", "sha256sum", "cut"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not on this computer", tool)
		}
	}
	boat := t.TempDir()
	fixtureRecord(t, Open(boat), fixtureActs(t))
	r := verifyClean(t, boat)
	require.Equal(t, 2, r.Pages)
	require.Equal(t, "last: "+r.Last+"\n", runRecipe(t, boat))

	page := readPageFile(t, boat, 1)
	writePageFile(t, boat, 1, bytes.Replace(page, []byte("62 %"), []byte("92 %"), 1))
	assert.Equal(t, "record/0001.toml: entry 1: not as it was written\nlast: "+r.Last+"\n", runRecipe(t, boat))
}

func runRecipe(t *testing.T, boat string) string {
	t.Helper()
	sh := exec.Command("sh", "-c", recipe)
	sh.Dir = boat
	out, err := sh.CombinedOutput()
	require.NoError(t, err, "%s", out)

	return string(out)
}

func TestPagesThatAreMissingOrOfAnotherChainAreTold(t *testing.T) {
	build := func() string {
		boat := t.TempDir()
		s := Open(boat)
		for n := range 3 {
			add(t, s, 3*n+1, 3*n+3)
			closePage(t, boat, n+1)
		}
		verifyClean(t, boat)
		return boat
	}

	boat := build()
	require.NoError(t, os.Remove(filepath.Join(boat, pageName(2))))
	r, err := Verify(boat)
	require.NoError(t, err)
	assert.Equal(t, "record/0002.toml: this page is missing", lines(r.Faults))
	for _, load := range []func() (Loaded, error){Open(boat).Load, Open(boat).LoadAll} {
		l, err := load()
		require.NoError(t, err)
		assert.Equal(t, "record/0002.toml: this page is missing", lines(l.Damage))
		assert.Contains(t, l.Notices[0], "record/0002.toml: this page is missing")
		assert.Contains(t, happened(l.Entries), "event 9")
	}
	all, err := Open(boat).LoadAll()
	require.NoError(t, err)
	assert.IsType(t, checklist.Carry{}, all.Entries[4].Act, "the carry after the gap stands for what is missing")

	boat = build()
	require.NoError(t, os.Rename(filepath.Join(boat, pageName(1)), filepath.Join(boat, "0001.toml")))
	l, err := Open(boat).Load()
	require.NoError(t, err)
	assert.Contains(t, lines(l.Damage), "record/0001.toml: this page is missing")

	boat, other := build(), t.TempDir()
	add(t, Open(other), 20, 29)
	writePageFile(t, boat, 3, readPageFile(t, other, 1))
	l, err = Open(boat).Load()
	require.NoError(t, err)
	assert.Contains(t, lines(l.Damage), "record/0003.toml: entry 10: it is not as it was written: its sum does not match")
	assert.Contains(t, lines(l.Damage), "entry 1 stands where entry 10 should be")
}

// closePage adds the closing of a passage, which this program keeps and does not write yet.
func closePage(t *testing.T, boat string, number int) {
	t.Helper()
	page := readPageFile(t, boat, number)
	after, ok := linkAfter(page)
	require.True(t, ok)
	writePageFile(t, boat, number, slices.Concat(page, arrival(t, after.next(), page)))
}

func TestANewerFormatIsNotTouched(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 2)
	newer := bytes.Replace(pageOf(t, 1), []byte("format = 1\n"), []byte("format = 2\n"), 1)
	writePageFile(t, boat, 2, newer)

	const says = "record/0002.toml: written for format 2, this program knows 1"
	_, err := Open(boat).Load()
	require.EqualError(t, err, says)
	_, err = Open(boat).Append(minute(3), "", act(event(3)))
	require.EqualError(t, err, says)
	assert.Equal(t, newer, readPageFile(t, boat, 2))
	r, err := Verify(boat)
	require.NoError(t, err)
	assert.Equal(t, says, lines(r.Faults))
}

func TestAKindThatIsNotKnownIsAnErrorWithPageAndEntry(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 1)
	page := readPageFile(t, boat, 1)
	after, _ := linkAfter(page)
	text, _ := sealed(after.sum(), []byte(entryLine+"seq = 2\nat = 2026-06-12T05:34:00+13:00\nkind = \"polish\"\n"))
	writePageFile(t, boat, 1, slices.Concat(page, text))

	const says = `record/0001.toml: entry 2: kind: "polish": this program does not know it; a newer program wrote it: use that one`
	_, err := Open(boat).Load()
	require.EqualError(t, err, says)
	_, err = Open(boat).Append(minute(3), "", act(event(3)))
	require.EqualError(t, err, says)
	r, err := Verify(boat)
	require.NoError(t, err)
	assert.Equal(t, []int{2}, seqs(r.Faults))
}

func TestVerifyLooksAtTheDefinitionsOfEachSignOff(t *testing.T) {
	boat := t.TempDir()
	s := Open(boat)
	text := []byte("name = \"Petrel's Rest\"\n")
	hashed := sha256.Sum256(text)
	sum := hex.EncodeToString(hashed[:])
	require.NoError(t, s.KeepDefinitions(sum, text))
	require.NoError(t, s.KeepDefinitions(sum, text), "those that are there are left")
	_, err := s.Append(minute(1), "", act(checklist.Sign{Name: "Mara", Definitions: sum}))
	require.NoError(t, err)
	verifyClean(t, boat)
	got, err := s.Definitions(sum)
	require.NoError(t, err)
	assert.Equal(t, text, got)

	name := filepath.Join(boat, definitionsName(sum))
	require.NoError(t, os.WriteFile(name, []byte("other"), 0o644))
	_, err = s.Definitions(sum)
	require.ErrorContains(t, err, "it is not as it was kept")
	r, err := Verify(boat)
	require.NoError(t, err)
	assert.Contains(t, lines(r.Faults), definitionsName(sum)+": it is not as it was kept")
	require.NoError(t, os.Remove(name))
	r, err = Verify(boat)
	require.NoError(t, err)
	assert.Contains(t, lines(r.Faults), definitionsName(sum)+": it is missing")

	require.ErrorContains(t, s.KeepDefinitions(strings.Repeat("0", 64), text), "is not the SHA-256")
	_, err = s.Definitions("../../boat")
	require.ErrorContains(t, err, "is no SHA-256")
}

// What the TOML reader quotes of a damaged entry is cut.
func TestAFaultIsALineHoweverLongTheDamage(t *testing.T) {
	boat := t.TempDir()
	add(t, Open(boat), 1, 3)
	name := filepath.Join(boat, "record", "0001.toml")
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	text = bytes.Replace(text, []byte(`kind = "event"`), slices.Concat([]byte("kind = "), bytes.Repeat([]byte("x"), 5_000_000)), 1)
	require.NoError(t, os.WriteFile(name, text, 0o644))
	r, err := Verify(boat)
	require.NoError(t, err)
	require.NotEmpty(t, r.Faults)
	for _, f := range r.Faults {
		assert.Less(t, len(f.String()), 500)
	}
}
