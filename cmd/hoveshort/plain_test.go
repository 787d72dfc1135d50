package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"
	"boat/hoveshort/config/record"
)

func TestALineIsPartedIntoWordsAsItWasMeant(t *testing.T) {
	for _, row := range []struct {
		line string
		want []string
	}{
		{"", nil},
		{"  ready  ", []string{"ready"}},
		{"sound port water 62 %", []string{"sound", "port", "water", "62", "%"}},
		{`sound "port water" 62%`, []string{"sound", "port water", "62%"}},
		{`stow impeller bought 2 --to "box 3" --has=all`, []string{"stow", "impeller", "bought", "2", "--to", "box 3", "--has=all"}},
		{`--to="box 3" x`, []string{"--to=box 3", "x"}},
		{`depart --unsigned the anchor didn't hold`, []string{"depart", "--unsigned", "the", "anchor", "didn't", "hold"}},
		{`accept x 'it holds, I think'`, []string{"accept", "x", "it holds, I think"}},
		{`stow tube 6' 2" long`, []string{"stow", "tube", "6'", `2"`, "long"}},
		{`a "b`, []string{"a", `"b`}},
		{`a "" b`, []string{"a", "", "b"}},
		{"sound “port water” full", []string{"sound", "port water", "full"}}, // a phone's quotes
		{`reading rpm=2400 coolant=82C`, []string{"reading", "rpm=2400", "coolant=82C"}},
		{`noon note="wind's up" 340 nm`, []string{"noon", "note=wind's up", "340", "nm"}},
	} {
		assert.Equal(t, row.want, parted(row.line), "%q", row.line)
	}
}

func TestAnAnswerIsOneOfTheScreensKeysOrItsWord(t *testing.T) {
	for _, row := range []struct {
		line   string
		answer checklist.AnswerWord
		said   string
		ok     bool
	}{
		{"y", checklist.Right, "", true},
		{"Y", checklist.Right, "", true},
		{"y upper mark", checklist.Right, "upper mark", true},
		{"right: upper mark", checklist.Right, "upper mark", true},
		{"n", checklist.NotRight, "", true},
		{"n lid weeps", checklist.NotRight, "lid weeps", true},
		{"not right, lid weeps", checklist.NotRight, "lid weeps", true},
		{"not-right lid weeps", checklist.NotRight, "lid weeps", true},
		{"c too dark", checklist.CouldNotLook, "too dark", true},
		{"could not look", checklist.CouldNotLook, "", true},
		{"x", checklist.NotAboard, "", true},
		{"not aboard", checklist.NotAboard, "", true},
		{"", "", "", false},
		{"yes", "", "", false}, // no word of a check: the question is not of yes and no
		{"no", "", "", false},
		{"not", "", "", false},
		{"yy", "", "", false},
		{"12.7 V", "", "", false},
		{"engine-oil y", "", "", false},
		{"ok", "", "", false},
	} {
		answer, said, ok := answerIn(row.line)
		assert.Equal(t, row.answer, answer, "%q", row.line)
		assert.Equal(t, row.said, said, "%q", row.line)
		assert.Equal(t, row.ok, ok, "%q", row.line)
	}
}

func TestWordsOfTheLineMode(t *testing.T) {
	for _, row := range []struct {
		line string
		word plainWord
		rest string
	}{
		{"help", sayHelp, ""}, {"?", sayHelp, ""}, {"help noon", sayHelp, "noon"}, {"Walk Weighing", sayWalk, "Weighing"}, {"walk", sayWalk, ""},
		{"q", sayLeave, ""}, {"leave", sayLeave, ""}, {"d", sayDone, ""}, {"done", sayDone, ""},
		{"leave the anchor", "", "leave the anchor"}, // no word of one's own is half a line
		{"d 3", "", "d 3"}, {"list all", "", "list all"}, {"", "", ""}, {"ready", "", "ready"},
	} {
		word, rest := plainWordOf(row.line)
		assert.Equal(t, row.word, word, "%q", row.line)
		if word != "" {
			assert.Equal(t, row.rest, rest, "%q", row.line)
		}
	}
}

func TestALineThatCannotBeMeantIsNotTaken(t *testing.T) {
	l := &lineReader{clock: time.Now}
	for line, bad := range map[string]string{
		"ready\n": "", "ready\r\n": "", "\ufeffready\n": "", "sound\tx 3\n": "",
		"\x1b[A\n": "the line holds a key that is no letter, such as an arrow", "\xff\xfe\n": "the line is no text (not UTF-8)", "y\x00\n": "the line holds a key that is no letter, such as an arrow",
		strings.Repeat("y ", longestTyped) + "\n": "the line is too long",
	} {
		typed := l.typed(line)
		assert.Equal(t, bad, typed.bad, "%.20q", line)
		if bad != "" {
			assert.Empty(t, typed.text)
		}
	}
}

// entriesOf is the record of a boat.
func entriesOf(t testing.TB, dir string) []checklist.Entry {
	t.Helper()
	loaded, err := record.Open(dir).LoadAll()
	require.NoError(t, err)
	return loaded.Entries
}

// talk is a session that somebody sits at: each line is typed once the prompt before it is there.
type talk struct {
	t     *testing.T
	to    *io.PipeWriter
	heard *heard
	ended chan int
	now   time.Time // the boat's clock
	mu    sync.Mutex
}

// heard is what was said, and how much of it was listened to.
type heard struct {
	mu   sync.Mutex
	text bytes.Buffer
	more chan struct{}
}

func (h *heard) Write(text []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	select {
	case h.more <- struct{}{}:
	default:
	}
	return h.text.Write(text)
}

func (h *heard) all() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.text.String()
}

// begin opens a session on a boat folder, at the demo boat's evening.
func begin(t *testing.T, dir string) *talk {
	t.Helper()
	in, to := io.Pipe()
	s := &talk{t: t, to: to, heard: &heard{more: make(chan struct{}, 1)}, ended: make(chan int, 1), now: config.DemoMoment}
	e := env{
		stdin: in, stdout: s.heard, stderr: s.heard, dir: "/", stdinIsTerminal: true,
		getenv: func(name string) string { return map[string]string{"HOVESHORT_BOAT": dir, "LANG": "C.UTF-8"}[name] },
		now: func() time.Time {
			s.mu.Lock()
			defer s.mu.Unlock()
			return s.now
		},
	}
	c := &call{env: e, ctx: context.Background()}
	go func() {
		p := &plain{c: c, out: &plainOut{to: c.stdout}, lines: readLines(c.stdin, time.Now, 0)}
		code := 0
		if err := p.run(); err != nil {
			code, _, _ = verdictOn(err)
		}
		s.ended <- max(code, c.code)
	}()
	s.listen()
	return s
}

// listen waits for a prompt, and gives what was said since the last one.
func (s *talk) listen() string {
	s.t.Helper()
	late := time.After(20 * time.Second)
	for {
		said := s.heard.all()
		if strings.HasSuffix(said, "? ") || strings.HasSuffix(said, ": ") {
			s.heard.mu.Lock()
			s.heard.text.Reset()
			s.heard.mu.Unlock()
			return said
		}
		select {
		case <-s.heard.more:
		case <-late:
			s.t.Fatalf("no prompt came: %s", said)
		}
	}
}

// types types a line and gives what is said to it, up to the next prompt.
func (s *talk) types(line string) string {
	s.t.Helper()
	_, err := io.WriteString(s.to, line+"\n")
	require.NoError(s.t, err)
	return s.listen()
}

// leaves ends the input, and gives the exit code and the last words.
func (s *talk) leaves() (code int, said string) {
	s.t.Helper()
	require.NoError(s.t, s.to.Close())
	code = <-s.ended
	return code, s.heard.all()
}

func (s *talk) passes(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.now = s.now.Add(d)
}

func TestARoundIsWalkedByQuestionAndAnswer(t *testing.T) {
	dir := demo(t)
	s := begin(t, dir)
	said := s.types("walk")
	assert.Contains(t, said, "Section 1 of ")
	assert.Less(t, strings.Index(said, "CAUTION: "), strings.Index(said, "Right is: "), "cautions come before what is asked")
	assert.Contains(t, said, "strainer, y n c x? ")

	assert.Contains(t, s.types(""), "Nothing was typed: not answered.")
	assert.Contains(t, s.types("yes"), `there is no command "yes"`)
	assert.Empty(t, entriesOf(t, dir), "nothing of that is an answer")

	said = s.types("y")
	assert.Contains(t, said, "entry 1: strainer: right")
	assert.Contains(t, said, "Critical. ")
	assert.Contains(t, said, "raw-seacock, y n c? ")
	assert.Contains(t, s.types("x"), "raw-seacock is critical: not aboard is no answer to it")
	assert.Contains(t, s.types("y"), "entry 2: raw-seacock: right")

	assert.Contains(t, s.types("y"), "What was seen: mark on the stick? ")
	assert.Contains(t, s.types(""), "Nothing was typed: not answered.\n")
	s.types("y")
	assert.Contains(t, s.types("upper mark"), "entry 3: engine-oil: right; upper mark")

	assert.Contains(t, s.types("n"), "What is not right? ", "a critical check opens a defect of grade stop")
	said = s.types("below its mark")
	assert.Contains(t, said, "entry 4: coolant-cold: not right")
	assert.Contains(t, said, "start-battery, its value, or c x? ")
	assert.Contains(t, s.types("y"), "answered by its value")
	assert.Contains(t, s.types("warm"), `"warm" is no value of volts`)
	assert.Contains(t, s.types("12.7 V"), "entry 5: start-battery: 12.7 V")

	assert.Contains(t, s.types("n belt dusty"), "How far does it stop her: stop, limit or note? ")
	assert.Contains(t, s.types("perhaps"), "Not answered: it wants stop, limit or note.")
	s.types("n belt dusty")
	assert.Contains(t, s.types("limit"), "entry 6: belts-hoses: not right")

	assert.Contains(t, s.types("back"), "belts-hoses, y n c x? ")
	assert.Contains(t, s.types("next"), "fuel-bowl, y n c x? ")
	assert.Contains(t, s.types("again"), "CAUTION: ")
	assert.Contains(t, s.types("event engine stopped"), "entry 7: it happened: engine stopped")
	assert.Contains(t, s.types("leave"), "The walk stops here")
	code, said := s.leaves()
	assert.Equal(t, exitDone, code)
	assert.Contains(t, said, "The input ended at the prompt What next.")
	assert.Contains(t, said, "All that was told as written is on the disk; entry 7 is the last.")
	assert.Len(t, entriesOf(t, dir), 7)
}

func TestAWalkThatWasBrokenOffGoesOnAsOnTheScreens(t *testing.T) {
	dir := demo(t)
	s := begin(t, dir)
	s.types("walk")
	s.types("y")
	s.passes(9 * time.Minute)
	assert.Contains(t, s.types("y"), "entry 2: raw-seacock: right", "less than ten minutes is no pause")
	s.passes(11 * time.Minute)
	said := s.types("y upper mark")
	assert.Contains(t, said, "You were away: that line answers nothing.")
	assert.Contains(t, said, "You stopped here 11 min ago: it is asked again.")
	assert.Contains(t, said, "raw-seacock, y n c? ")
	assert.Len(t, entriesOf(t, dir), 2)
	s.types("leave")
	s.passes(12 * time.Minute)
	assert.Contains(t, s.types("walk"), "You stopped here 23 min ago: it is asked again.")
	s.types("leave")
	s.passes(8 * time.Minute)
	said = s.types("walk")
	assert.Contains(t, said, "You stopped in this section 31 min ago: it is walked again from its start.")
	assert.Contains(t, said, "strainer, y n c x? ")
	s.leaves()
}

func TestASectionEndsWithItsSentence(t *testing.T) {
	dir := demo(t)
	w := world{boat: dir}
	s := begin(t, dir)
	s.types("walk")
	for range 12 {
		said := s.types("c too dark")
		if strings.Contains(said, "Type done: ") {
			assert.Contains(t, said, "The section ends with: Engine space complete")
			assert.Contains(t, s.types("y"), `there is no command "y"`, "the sentence is said by its own word")
			said = s.types("done")
			assert.Contains(t, said, "section done: Engine space, cold")
			assert.Contains(t, said, "Section 2 of ")
			s.leaves()
			assert.Contains(t, w.call("check").stdout, "Engine space, cold (do then tick), done")
			return
		}
	}
	t.Fatal("the section has no end")
}

// A pipe has all its lines there at once: what does not name its check answers none.
func TestALineThatWasThereBeforeItsQuestionIsNoAnswer(t *testing.T) {
	dir := demo(t)
	for input, says := range map[string]string{
		"walk\ny\nn\nc\nx\ndone\n":               "Not taken: that line was there before the question. Answer now, or name it:\nstrainer y\n",
		"walk\n" + strings.Repeat("y\n", 100):    "Not taken: that line was there before the question.",
		"walk\nengine-oil y\nupper mark\n":       "asks for a word of evidence",
		"1\nbought 2 --to \"box 3\"\n":           "That line was there before the question: it is no answer to it.",
		"4\n62 %\n":                              "That line was there before the question: it is no answer to it.",
		"17\nit will hold\n":                     "That line was there before the question: it is no answer to it.",
		"check start-battery\n12.7 V\nwalk\n3\n": `there is no command "12.7"`,
	} {
		for _, isTTY := range []bool{true, false} {
			r := world{boat: dir, stdin: input, isTTY: isTTY}.call("--at", evening, "--plain")
			assert.Equal(t, exitDone, r.code, "%q", input)
			assert.Contains(t, r.stdout, says)
			assert.Empty(t, entriesOf(t, dir), "%.40q", input)
		}
	}
	r := world{boat: dir, stdin: "walk\nstrainer y\nraw-seacock right\nengine-oil y upper mark\nstart-battery 12.7 V\ncoolant-cold n below its mark\nbelts-hoses c too dark\n"}.call("--at", evening, "--plain")
	assert.Equal(t, exitDone, r.code)
	assert.Len(t, entriesOf(t, dir), 6, "%s", r.stdout)
	assert.Contains(t, r.stdout, "The input ended at the check ")
}

func TestALineWithoutItsEndIsNotTaken(t *testing.T) {
	dir := demo(t)
	r := world{boat: dir, stdin: "sound port water 62 %\nsound starboard water 6"}.call("--at", evening, "--plain")
	assert.Equal(t, exitDone, r.code)
	assert.Contains(t, r.stdout, "The last line has no end and was not taken: sound starboard water 6\n")
	assert.Contains(t, r.stdout, "entry 1 is the last")
	assert.Len(t, entriesOf(t, dir), 1)
}

func TestAnEmptyInputWritesNothing(t *testing.T) {
	dir := demo(t)
	r := world{boat: dir}.call("--at", evening, "--plain")
	assert.Equal(t, exitDone, r.code)
	assert.True(t, strings.HasPrefix(r.stdout, "NOT READY: "), "the verdict comes first")
	assert.Contains(t, r.stdout, "\n1. ")
	assert.Contains(t, r.stdout, "Clears it: ")
	assert.Contains(t, r.stdout, "\nNext: ")
	assert.Contains(t, r.stdout, "Nothing was written; the record has no entry yet.")
	assert.Empty(t, r.stderr, "all is one conversation")
	_, err := os.Stat(filepath.Join(dir, "record"))
	assert.ErrorIs(t, err, os.ErrNotExist)
}

// A folder that may not be written stands for a disk that is full: the error is told, the prompt comes again, and at the end
// it is said what is not on the disk.
func TestADiskThatTakesNothingIsTold(t *testing.T) {
	binary := program(t)
	dir, err := os.MkdirTemp("", "hoveshort-full-")
	require.NoError(t, err)
	boat := filepath.Join(dir, "heron")
	t.Cleanup(func() {
		_ = filepath.WalkDir(dir, func(path string, _ os.DirEntry, _ error) error { return os.Chmod(path, 0o755) })
		_ = os.RemoveAll(dir)
	})
	require.NoError(t, os.CopyFS(boat, os.DirFS(demo(t))))
	world{boat: boat}.mustDo(t, "--at", evening, "sound", "port water", "62 %")
	for path, mode := range map[string]os.FileMode{
		dir: 0o755, filepath.Join(boat, "record", "0001.toml"): 0o444, filepath.Join(boat, "record", ".lock"): 0o444,
		filepath.Join(boat, "record"): 0o555, boat: 0o555,
	} {
		require.NoError(t, os.Chmod(path, mode))
	}
	cmd := exec.Command(binary, "--boat", boat, "--at", evening, "--plain")
	cmd.Stdin, cmd.Dir = strings.NewReader("sound starboard water 50 %\ncheck strainer\nleave\n"), "/"
	if os.Getuid() == 0 { // root may write anything
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	out, _ := cmd.Output() // the code is looked at
	said := string(out)
	assert.Equal(t, exitNotWritten, cmd.ProcessState.ExitCode())
	assert.NotContains(t, said, "entry 2")
	assert.Contains(t, said, "nothing was written")
	assert.Contains(t, said, "What next? check strainer\nstrainer: ", "the prompt came again")
	assert.Contains(t, said, "Nothing new was written; entry 1 is the last.\nNot on the disk: sound starboard water 50 %\n")
}

// brokenPipe is a reader that closed its end after the first words.
type brokenPipe struct{ left int }

func (b *brokenPipe) Write(text []byte) (int, error) {
	if b.left -= len(text); b.left < 0 {
		return 0, syscall.EPIPE
	}
	return len(text), nil
}

func TestNothingIsAskedOnceNobodyHears(t *testing.T) {
	dir := demo(t)
	w := world{boat: dir, stdin: strings.Repeat("sound port water 62 %\n", 50), edit: func(e *env) { e.stdout = &brokenPipe{left: 4000} }}
	assert.Equal(t, exitDone, w.call("--at", evening, "--plain").code)
	assert.Less(t, len(entriesOf(t, dir)), 50)

	w.edit = func(e *env) { e.stdout = failing{} }
	assert.Equal(t, exitNotWritten, w.call("--at", evening, "--plain").code)
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

func TestASignalEndsTheSessionAndSaysWhere(t *testing.T) {
	dir := demo(t)
	in, to := io.Pipe()
	defer func() { _ = to.Close() }()
	signals := make(chan os.Signal, 1)
	out := &heard{more: make(chan struct{}, 1)}
	w := world{boat: dir, edit: func(e *env) { e.stdin, e.signals, e.stdout = in, signals, out }}
	go func() {
		for !strings.HasSuffix(out.all(), "What next? ") {
			<-out.more
		}
		_, _ = io.WriteString(to, "sound port water 62 %\n")
		for strings.Count(out.all(), "What next? ") < 2 {
			<-out.more
		}
		signals <- syscall.SIGINT
	}()
	assert.Equal(t, exitSignalFirst+int(syscall.SIGINT), w.call("--at", evening, "--plain").code)
	assert.Contains(t, out.all(), "Stopped by a signal at the prompt What next.")
	assert.Contains(t, out.all(), "entry 1 is the last.")
	assert.Len(t, entriesOf(t, dir), 1)
}

// Everything that has a command can be typed, so everything the screens do can be done.
func TestEveryCommandIsALineOfTheSession(t *testing.T) {
	var lines []string
	for _, cmd := range commands(newRootCommand(&call{env: env{stdout: io.Discard, stderr: io.Discard, stdin: strings.NewReader("")}}))[1:] {
		for line := range strings.Lines(cmd.Example) {
			line = strings.TrimSpace(line)
			if !strings.Contains(line, "--boat") && !strings.Contains(line, "hoveshort init") {
				lines = append(lines, line)
			}
		}
	}
	assert.Greater(t, len(lines), 40)
	dir := ready(t)
	r := world{boat: dir, stdin: strings.Join(lines, "\n") + "\n", edit: func(e *env) { e.dir = t.TempDir() }}.call("--at", evening, "--plain")
	assert.Contains(t, []int{exitDone, exitNotWritten}, r.code)
	for _, line := range lines {
		assert.Contains(t, r.stdout, "What next? "+line+"\n")
	}
	assert.NotContains(t, r.stdout, "there is no command")
	assert.NotContains(t, r.stdout, "unknown flag")
	assert.NotContains(t, r.stdout, "a fault of this program")
}

func TestASessionStaysOnItsBoat(t *testing.T) {
	dir, other := demo(t), demo(t)
	r := world{boat: dir, stdin: "--boat " + other + " sound port water 62 %\nsound port water 62 % --boat " + other + "\n--plain\nhoveshort --plain\nhoveshort\nsound port water 62 % --by Tom\n"}.call(
		"--at", evening, "--by", "Mara", "--plain")
	assert.Equal(t, exitDone, r.code)
	assert.Empty(t, entriesOf(t, other))
	entries := entriesOf(t, dir)
	require.Len(t, entries, 1)
	assert.Equal(t, "Tom", entries[0].By)
	assert.Contains(t, r.stdout, "this session is on "+dir)
}

func TestTheDemoBoatOfASessionIsOneBoat(t *testing.T) {
	r := world{stdin: "sound port water 62 %\nreview --entries\n"}.call("--plain")
	assert.Equal(t, exitDone, r.code)
	assert.Contains(t, r.stdout, "yours: hoveshort init DIR")
	assert.Equal(t, 1, strings.Count(r.stdout, "demo boat, not kept"), "said once")
	assert.Equal(t, 2, strings.Count(r.stdout, "port water sounded: 62 %"), "what was written is found again")
}

// What is drawn is lines that were never meant, lines that are, and anything between.
func TestAnyInputIsSurvivedAndAnswersOnlyWhatItSays(t *testing.T) {
	dir := demo(t)
	said := rapid.SampledFrom([]string{
		"walk", "y", "n", "c", "x", "done", "next", "back", "again", "leave", "", "1", "2", "7", "99", "-1", "list", "strainer y", "raw-seacock y",
		"engine-oil y upper mark", "engine-oil y", "start-battery 12.7 V", "check strainer right", "hoveshort check strainer right", "strainer n", "upper mark",
		"limit", "sign Mara", "sign", "Mara", "sign Mara --yes", "depart --unsigned", "event engine stopped", "help", "help noon", "sound port water 62 %", "62 %",
		"walk Weighing", "accept x y", "\x1b[A", "\xff", "\"", "'", "--", "-- y", "hoveshort", "=", "check", "ready", "noon 300 nm",
	})
	line := rapid.OneOf(said, said, rapid.String())
	rapid.Check(t, func(t *rapid.T) {
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "record")))
		input := strings.Join(rapid.SliceOfN(line, 0, 6).Draw(t, "lines"), "\n")
		if rapid.Bool().Draw(t, "ended") {
			input += "\n"
		}
		r := world{boat: dir, stdin: input, isTTY: rapid.Bool().Draw(t, "terminal")}.call("--at", evening, "--plain")
		require.Contains(t, []int{exitDone, exitNotWritten}, r.code, r.stdout)
		require.NotContains(t, r.stdout, "\x1b")
		require.Empty(t, r.stderr)
		whole := strings.Split(input, "\n")
		whole = whole[:len(whole)-1] // the last has no end, or is empty
		loaded, err := record.Open(dir).LoadAll()
		require.NoError(t, err)
		require.LessOrEqual(t, len(loaded.Entries), len(whole), "a line writes one entry at most")
		for _, e := range loaded.Entries {
			answer, is := e.Act.(checklist.Answer)
			if !is {
				continue
			}
			named := false
			for _, line := range whole {
				named = named || strings.Contains(line, answer.Check+" ") || answer.Check == ""
			}
			require.True(t, named, "no line names %s: %q", answer.Check, input)
		}
	})
}
