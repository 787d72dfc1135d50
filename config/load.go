// Package config turns a boat folder into definitions: TOML in, strict. It
// reports every mistake of every file at once, as file:line: key: what is wrong;
// what would be right. It also holds the commented starter and the demo boat.
//
//	folder, err := config.Load(os.DirFS(dir))
//	var mistakes config.Mistakes
//	if errors.As(err, &mistakes) { … }
package config

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"boat/hoveshort/checklist"
)

// The files of a boat folder, in the order in which they are read and told.
const (
	boatFile    = "boat.toml"
	ratesFile   = "rates.toml"
	passageFile = "passage.toml"
	storesFile  = "stores.toml"
	sparesFile  = "spares.toml"
	toolsFile   = "tools.toml"
	datedFile   = "dated.toml"
	upkeepFile  = "upkeep.toml"
	roundsDir   = "rounds"
	faultsDir   = "faults"
)

var topFiles = []string{boatFile, ratesFile, passageFile, storesFile, sparesFile, toolsFile, datedFile, upkeepFile}

// Folder is a boat folder as it was read.
type Folder struct {
	Definitions checklist.Definitions
	Notes       []Note // worth telling, no mistakes
	files       []textFile
}

// textFile is one file's name, relative to the folder, and its bytes.
type textFile struct {
	name string
	text []byte
}

// Load reads every definition file of a boat folder. The error is Mistakes where
// the files were read and are wrong (the definitions are then not to be used),
// else what kept the folder from being read.
func Load(folder fs.FS) (Folder, error) {
	if _, err := fs.ReadDir(folder, "."); err != nil {
		return Folder{}, fmt.Errorf("reading the boat folder: %w", err)
	}
	files, unread := readFiles(folder)
	return read(files, unread, strangers(folder))
}

// read makes definitions of the files' texts.
func read(files []textFile, unread Mistakes, notes []Note) (Folder, error) {
	r := &reader{tables: map[string]*table{}, mistakes: unread}
	for _, one := range unread {
		r.tables[one.File] = nil
		r.order = append(r.order, one.File)
	}
	r.open(files)
	f := Folder{Definitions: r.definitions(), files: files, Notes: append(notes, r.allNotes()...)}
	f.Definitions.Sum = sumOf(f.Bundle())
	return f, r.allMistakes().orNil()
}

// readFiles reads what belongs to the folder. A missing file is told where its
// tables are needed.
func readFiles(folder fs.FS) (files []textFile, unread Mistakes) {
	names := slices.Clone(topFiles)
	for _, dir := range []string{roundsDir, faultsDir} {
		inside, err := namesWithin(folder, dir)
		if err != nil {
			unread = append(unread, Mistake{File: dir, Problem: "cannot be read: " + plainError(err), Cure: "make it a readable folder"})
		}
		names = append(names, inside...)
	}
	for _, name := range names {
		text, err := readText(folder, name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			unread = append(unread, Mistake{File: name, Problem: "cannot be read: " + plainError(err), Cure: "make it a readable file"})
		default:
			files = append(files, textFile{name, text})
		}
	}
	return files, unread
}

// namesWithin are the TOML files of a sub-folder, by name; none where there is no
// such folder. Names that begin with a dot are ignored.
func namesWithin(folder fs.FS, dir string) ([]string, error) {
	entries, err := fs.ReadDir(folder, dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var names []string
	for _, entry := range entries {
		if name := entry.Name(); path.Ext(name) == ".toml" && !strings.HasPrefix(name, ".") {
			names = append(names, dir+"/"+name)
		}
	}
	return names, err
}

// readText reads a file, and no more of it than shows that it is too large. What
// is no regular file is not opened: a pipe would wait for ever.
func readText(folder fs.FS, name string) ([]byte, error) {
	info, err := fs.Stat(folder, name)
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, errors.New("it is no regular file")
	case info.Size() <= fileMost:
		return fs.ReadFile(folder, name)
	}
	f, err := folder.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }() // only read from
	return io.ReadAll(io.LimitReader(f, fileMost+1))
}

func plainError(err error) string {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err.Error()
	}
	return err.Error()
}

// strangers are TOML files at the top that nobody reads, most likely misnamed.
func strangers(folder fs.FS) []Note {
	var notes []Note
	names, _ := fs.Glob(folder, "*.toml")
	for _, name := range names {
		if slices.Contains(topFiles, name) || strings.HasPrefix(name, ".") {
			continue
		}
		cure := "the files are " + strings.Join(topFiles, ", ") + ", rounds/*.toml and faults/*.toml"
		if near := checklist.Nearest(name, topFiles); near != "" {
			cure = "did you mean " + near + "?"
		}
		notes = append(notes, Note{File: name, Problem: "not a file this program reads", Cure: cure})
	}
	return notes
}

// reader reads the files into definitions, and keeps what is wrong with them.
type reader struct {
	tables   map[string]*table // by file name; nil: it could not be read at all
	order    []string
	mistakes Mistakes
	later    Mistakes // of a missing file or folder

	// What other files point to.
	spares, tools, dated, services *names
	noOil                          bool // boat.toml says nothing of a normal oil pressure
}

// open parses the files, all at once: that is most of the work of loading.
func (r *reader) open(files []textFile) {
	tables, wrong := make([]*table, len(files)), make([]Mistakes, len(files))
	var all sync.WaitGroup
	for i, f := range files {
		all.Go(func() { tables[i], wrong[i] = parse(f.name, f.text) })
	}
	all.Wait()
	for i, f := range files {
		t := tables[i]
		r.order = append(r.order, f.name)
		r.mistakes = append(r.mistakes, wrong[i]...)
		if t != nil && !checkFormat(t) {
			r.mistakes = append(r.mistakes, t.found()...)
			t = nil
		}
		r.tables[f.name] = t
	}
}

// unreadable says that a file (or folder) is there, but nothing of it could be
// read: then nothing is held against what points into it.
func (r *reader) unreadable(name string) bool {
	t, there := r.tables[name]
	return there && t == nil
}

// file is the top table of a file. A needed file that is not there is a mistake;
// one that could not be read was told already.
func (r *reader) file(name string, need need, cure string) *table {
	t, there := r.tables[name]
	if !there && need == required {
		r.later = append(r.later, Mistake{File: name, Problem: "missing", Cure: cure})
	}
	return t
}

// within are the files of a sub-folder, in the order of their names.
func (r *reader) within(dir string) []string {
	var names []string
	for _, name := range r.order {
		if path.Dir(name) == dir {
			names = append(names, name)
		}
	}
	return names
}

func (r *reader) allMistakes() Mistakes {
	all := slices.Clone(r.mistakes)
	for _, name := range r.order {
		all = append(all, r.tables[name].found()...)
	}
	all = append(all, r.later...)
	return all.inOrder(slices.Concat(topFiles, r.order))
}

func (r *reader) allNotes() []Note {
	var all []Note
	for _, name := range r.order {
		all = append(all, r.tables[name].notes()...)
	}
	return all
}

// definitions reads every file; what points from one to another is looked at last.
func (r *reader) definitions() checklist.Definitions {
	var d checklist.Definitions
	r.readBoat(&d)
	r.readRates(&d)
	r.readPassage(&d)
	r.readStores(&d)
	r.readSpares(&d)
	r.readTools(&d)
	r.readDated(&d)
	r.readUpkeep(&d)
	r.readRounds(&d)
	r.readFaults(&d)
	for _, name := range r.order {
		r.tables[name].unknown()
	}
	return d
}

// names keeps the things of one kind by name, to find two of one name and a name
// that points nowhere.
type names struct {
	what   string
	line   map[string]int
	list   []string
	hidden bool // they could not be read: any name may be one of them
}

func newNames(what string) *names { return &names{what: what, line: map[string]int{}} }

// namesOf is newNames for the things of one file.
func (r *reader) namesOf(file, what string) *names {
	n := newNames(what)
	n.hidden = r.unreadable(file)
	return n
}

func (n *names) known(name string) bool {
	_, known := n.line[name]
	return known || n.hidden
}

// add tells a name that is taken already, at the later one, with the line of the first.
func (n *names) add(t *table, key, name string) {
	if name == "" {
		return
	}
	if first, taken := n.line[name]; taken {
		t.mistake(key, fmt.Sprintf("two of the name %s, the first on line %d", quote(name), first), "give each a name of its own")
		return
	}
	n.line[name] = t.line(key)
	n.list = append(n.list, name)
}

// check tells a name that points nowhere.
func (n *names) check(t *table, key, name string) {
	if name != "" && !n.known(name) {
		t.mistake(key, n.nowhere(name), n.meant(name))
	}
}

func (n *names) checkIn(t *table, key string, list []string) {
	for i, name := range list {
		if !n.known(name) {
			t.mistakeIn(key, i, n.nowhere(name), n.meant(name))
		}
	}
}

func (n *names) nowhere(name string) string {
	return fmt.Sprintf("no %s is called %s", n.what, quote(name))
}

func (n *names) meant(name string) string {
	if near := checklist.Nearest(name, n.list); near != "" {
		return "did you mean " + quote(near) + "?"
	}
	return "write the name of one, or add it"
}
