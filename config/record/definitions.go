package record

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
)

const definitionsFolder = folder + "/definitions"

var isSum = regexp.MustCompile(`^[0-9a-f]{64}$`)

func definitionsName(sum string) string { return definitionsFolder + "/" + sum + ".toml" }

// KeepDefinitions keeps the definitions of a sign-off; sum is the SHA-256 of text, in hex. Those that are there
// already are not written again.
func (s *Store) KeepDefinitions(sum string, text []byte) error {
	if hashed := sha256.Sum256(text); hex.EncodeToString(hashed[:]) != sum {
		return fmt.Errorf("definitions: %.70q is not the SHA-256 of their text; nothing was written", sum)
	}

	s.mu.Lock()
	defer s.mu.Unlock()
	unlock, err := s.lockToWrite()
	if err != nil {
		return err
	}

	return cmp.Or(s.keepDefinitions(definitionsName(sum), text), unlock())
}

// keepDefinitions is a replacing write, under the lock, which is why one name is enough for the file on its way.
func (s *Store) keepDefinitions(name string, text []byte) error {
	if err := s.disk.mkdir(s.path(definitionsFolder)); err != nil {
		return explainWrite(definitionsFolder, err)
	}
	there, err := s.disk.read(s.path(name))
	if err != nil || !bytes.Equal(there, text) {
		if err := s.replace(name, text); err != nil {
			return explainWrite(name, err)
		}
	}
	for _, dir := range []string{s.path(definitionsFolder), s.path(folder), s.boat} {
		if err := s.disk.syncDir(dir); err != nil {
			return s.breakOff(name, err)
		}
	}

	return nil
}

// replace writes a file beside the one that it replaces, and renames it once it is on the disk.
func (s *Store) replace(name string, text []byte) error {
	const onItsWay = definitionsFolder + "/.new.toml"
	f, err := s.disk.open(s.path(onItsWay), toReplace)
	if err != nil {
		return err
	}
	err = writeAll(f, text)
	if err == nil {
		err = f.Sync()
	}
	if err := errors.Join(err, f.Close()); err != nil {
		return errors.Join(err, s.disk.remove(s.path(onItsWay)))
	}

	return s.disk.rename(s.path(onItsWay), s.path(name))
}

// Definitions gives the definitions of a sign-off as they were kept, and not otherwise.
func (s *Store) Definitions(sum string) ([]byte, error) {
	if !isSum.MatchString(sum) {
		return nil, fmt.Errorf("definitions: %.70q is no SHA-256; it has 64 characters of 0-9 and a-f", sum)
	}
	name := definitionsName(sum)
	text, err := s.disk.read(s.path(name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &sentence{name + ": it is missing, so that sign-off cannot be computed again; look for it in a copy of the boat folder", err}
	}
	if err != nil {
		return nil, explainRead(name, err)
	}
	if hashed := sha256.Sum256(text); hex.EncodeToString(hashed[:]) != sum {
		return nil, errors.New(name + ": it is not as it was kept, so that sign-off cannot be computed again; look for it in a copy of the boat folder")
	}

	return text, nil
}
