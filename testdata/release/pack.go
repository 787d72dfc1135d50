// Pack packs each folder of one folder for giving away, the same bytes for the same files: in the order of their names,
// with the time SOURCE_DATE_EPOCH, nobody's. Windows gets a zip, the others a tar.gz. SHA256SUMS lists them.
//
//	SOURCE_DATE_EPOCH=… go run ./testdata/release FROM TO
package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) != 2 {
		return errors.New("write: go run ./testdata/release FROM TO")
	}
	seconds, err := strconv.ParseInt(os.Getenv("SOURCE_DATE_EPOCH"), 10, 64)
	if err != nil {
		return fmt.Errorf("SOURCE_DATE_EPOCH: %w", err)
	}
	made := time.Unix(seconds, 0).UTC()
	folders, err := os.ReadDir(args[0])
	if err != nil {
		return err
	}
	var sums strings.Builder
	for _, folder := range folders {
		name, pack := folder.Name()+".tar.gz", tarred
		if strings.Contains(folder.Name(), "-windows-") {
			name, pack = folder.Name()+".zip", zipped
		}
		var packed bytes.Buffer
		if err := pack(&packed, args[0], folder.Name(), made); err != nil {
			return fmt.Errorf("packing %s: %w", name, err)
		}
		if err := os.WriteFile(filepath.Join(args[1], name), packed.Bytes(), 0o644); err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(packed.Bytes()), name)
	}
	return os.WriteFile(filepath.Join(args[1], "SHA256SUMS"), []byte(sums.String()), 0o644)
}

// each gives the files of a folder in the order of their names, called as from the folder above.
func each(above, folder string, give func(name string, mode fs.FileMode, text []byte) error) error {
	return filepath.WalkDir(filepath.Join(above, folder), func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		mode := fs.FileMode(0o644)
		if strings.HasPrefix(e.Name(), "hoveshort") && filepath.Base(filepath.Dir(path)) == folder {
			mode = 0o755 // the program
		}
		name, err := filepath.Rel(above, path)
		if err != nil {
			return err
		}
		return give(filepath.ToSlash(name), mode, text)
	})
}

func tarred(to *bytes.Buffer, above, folder string, made time.Time) error {
	z, err := gzip.NewWriterLevel(to, gzip.BestCompression)
	if err != nil {
		return err
	}
	t := tar.NewWriter(z)
	err = each(above, folder, func(name string, mode fs.FileMode, text []byte) error {
		head := &tar.Header{Name: name, Mode: int64(mode), Size: int64(len(text)), ModTime: made, Format: tar.FormatUSTAR}
		if err := t.WriteHeader(head); err != nil {
			return err
		}
		_, err := t.Write(text)
		return err
	})
	return errors.Join(err, t.Close(), z.Close())
}

func zipped(to *bytes.Buffer, above, folder string, made time.Time) error {
	z := zip.NewWriter(to)
	err := each(above, folder, func(name string, mode fs.FileMode, text []byte) error {
		head := &zip.FileHeader{Name: name, Method: zip.Deflate, Modified: made}
		head.SetMode(mode)
		w, err := z.CreateHeader(head)
		if err != nil {
			return err
		}
		_, err = w.Write(text)
		return err
	})
	return errors.Join(err, z.Close())
}
