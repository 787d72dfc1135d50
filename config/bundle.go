package config

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
)

// Bundle is all the files in one text, as it is kept at each sign-off: TOML with one
// [[file]] a file. The same files always give the same bytes.
func (f Folder) Bundle() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "format = %d\n", formatKnown)
	for _, file := range f.files {
		fmt.Fprintf(&b, "\n[[file]]\nname = %s\ntext = %s\n", tomlText(file.name), tomlText(string(file.text)))
	}
	return b.Bytes()
}

// sumOf is the SHA-256 (FIPS 180-4) of a text, in hex.
func sumOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// tomlText is a basic string on one line.
func tomlText(s string) string {
	var b strings.Builder
	b.Grow(len(s) + len(s)/16 + 2)
	b.WriteByte('"')
	done := 0
	for i := range len(s) {
		if c := s[i]; c < 0x20 || c == '"' || c == '\\' || c == 0x7f {
			b.WriteString(s[done:i])
			b.WriteString(escapeOf(c))
			done = i + 1
		}
	}
	b.WriteString(s[done:])
	b.WriteByte('"')
	return b.String()
}

// escapeOf is how a basic string writes a byte that may not stand in it.
func escapeOf(c byte) string {
	switch c {
	case '"', '\\':
		return `\` + string(c)
	case '\n':
		return `\n`
	case '\t':
		return `\t`
	case '\r':
		return `\r`
	}
	return fmt.Sprintf(`\u%04X`, c)
}

// LoadBundle reads definitions that were kept at a sign-off. Its errors are those of
// Load, and one where the text is no bundle. A folder whose files are not UTF-8 makes
// none that can be read; but such a folder does not load, and is never signed.
func LoadBundle(text []byte) (Folder, error) {
	files, err := unbundle(string(text))
	if err != nil {
		return Folder{}, fmt.Errorf("reading the kept definitions: %w", err)
	}
	return read(files, nil, nil)
}

func unbundle(text string) ([]textFile, error) {
	kept, err := decode(text)
	if err != nil {
		return nil, err
	}
	format, _ := kept["format"].(int64)
	if format > formatKnown {
		return nil, fmt.Errorf("written for format %d, this program knows %d", format, formatKnown)
	}
	list, _ := kept["file"].([]map[string]any)
	if format < 1 || len(list) == 0 {
		return nil, errors.New("no definitions stand in it")
	}
	var files []textFile
	seen := map[string]bool{}
	for _, one := range list {
		name, named := one["name"].(string)
		inside, is := one["text"].(string)
		if !named || !is || seen[name] {
			return nil, fmt.Errorf("its file %d is not whole", len(files)+1)
		}
		seen[name] = true
		files = append(files, textFile{name, []byte(inside)})
	}
	return files, nil
}
