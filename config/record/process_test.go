package record

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
)

// The test binary started again is another program on the same record: "BOAT NAME COUNT"; count 0: until it is killed.
const childKey = "HOVESHORT_RECORD_CHILD"

func TestMain(m *testing.M) {
	if task := os.Getenv(childKey); task != "" {
		os.Exit(appendAsChild(task))
	}
	os.Exit(m.Run())
}

// appendAsChild appends and says so on stdout, a line an entry that is on the disk.
func appendAsChild(task string) int {
	parts := strings.Split(task, "|")
	count, _ := strconv.Atoi(parts[2])
	s := Open(parts[0])
	s.wait = time.Minute
	for n := 1; count == 0 || n <= count; n++ {
		what := parts[1] + " " + strconv.Itoa(n)
		if _, err := s.Append(time.Now(), "", act(checklist.Event{What: what})); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		fmt.Println(what)
	}

	return 0
}

func child(boat, name string, count int) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), fmt.Sprintf("%s=%s|%s|%d", childKey, boat, name, count))
	cmd.Stderr = os.Stderr

	return cmd
}

// This shows that recovery is right, not that a power cut loses nothing: what the kernel has survives a kill.
func TestAKilledProgramLosesNothingThatWasAcknowledged(t *testing.T) {
	rounds := 200
	if testing.Short() {
		rounds = 20
	}
	boat := t.TempDir()
	acknowledged := 0
	torn := 0
	seen := map[string]bool{}
	for round := range rounds {
		for _, what := range killed(t, boat, fmt.Sprintf("round %d:", round)) {
			seen[what] = true
			acknowledged++
		}
		l, err := Open(boat).LoadAll()
		require.NoError(t, err)
		require.Empty(t, l.Damage)
		torn += len(l.Notices)
		there := map[string]bool{}
		for _, what := range happened(l.Entries) {
			there[what] = true
		}
		for what := range seen {
			require.True(t, there[what], "%s was acknowledged and is gone", what)
		}
		require.LessOrEqual(t, len(there), acknowledged+round+1, "one act more than acknowledged a kill at most")
	}
	add(t, Open(boat), 1, 1)
	r := verifyClean(t, boat)
	t.Logf("%d kills, %d entries acknowledged, none lost, %d in the record, %d torn", rounds, acknowledged, r.Entries, torn)
	require.Greater(t, acknowledged, rounds)
}

// killed starts a child, kills it at some moment, and gives what it acknowledged.
func killed(t *testing.T, boat, name string) []string {
	t.Helper()
	cmd := child(boat, name, 0)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	reader := bufio.NewReader(out)

	var acknowledged []string
	first, err := reader.ReadString('\n')
	require.NoError(t, err)
	acknowledged = append(acknowledged, strings.TrimSpace(first))
	time.AfterFunc(time.Duration(rand.IntN(15_000))*time.Microsecond, func() { _ = cmd.Process.Kill() })
	for {
		line, err := reader.ReadString('\n')
		if err != nil {
			break
		}
		acknowledged = append(acknowledged, strings.TrimSpace(line))
	}
	_ = cmd.Wait()

	return acknowledged
}

func TestTwoProgramsOnOneRecordBothWorkAndNeitherLoses(t *testing.T) {
	each := 1000
	if testing.Short() {
		each = 100
	}
	boat := t.TempDir()
	one, two := child(boat, "port", each), child(boat, "starboard", each)
	require.NoError(t, one.Start())
	require.NoError(t, two.Start())
	require.NoError(t, one.Wait())
	require.NoError(t, two.Wait())

	r := verifyClean(t, boat)
	assert.Equal(t, 2*each, r.Entries)
	l, err := Open(boat).LoadAll()
	require.NoError(t, err)
	next := map[string]int{"port": 1, "starboard": 1}
	turns, last := 0, ""
	for i, e := range l.Entries {
		require.Equal(t, i+1, e.Seq)
		who, n, _ := strings.Cut(e.Act.(checklist.Event).What, " ")
		require.Equal(t, strconv.Itoa(next[who]), n)
		next[who]++
		if who != last {
			turns, last = turns+1, who
		}
	}
	t.Logf("%d entries, the two took turns %d times", r.Entries, turns)
	left, err := filepath.Glob(filepath.Join(boat, folder, "torn-*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

// A reader beside a writer never takes a half-written entry for a torn one.
func TestAReaderBesideAWriterSeesWholeEntriesOnly(t *testing.T) {
	boat := t.TempDir()
	writer := child(boat, "writer", 200)
	require.NoError(t, writer.Start())
	done := make(chan error, 1)
	go func() { done <- writer.Wait() }()

	s, last, loads := Open(boat), 0, 0
	for running := true; running; loads++ {
		select {
		case err := <-done:
			require.NoError(t, err)
			running = false
		default:
		}
		l, err := s.Load()
		require.NoError(t, err)
		require.Empty(t, l.Notices)
		require.GreaterOrEqual(t, len(l.Entries), last)
		last = len(l.Entries)
	}
	assert.Equal(t, 200, last)
	t.Logf("%d loads", loads)
}
