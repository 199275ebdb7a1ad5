package main

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.org/readback/booking/page/sheet"
	"example.org/readback/cmd/internal/filekind"
)

// handedOver are files with their sizes and hashes, in this order. The second is the
// journal: an office book has none.
func handedOver(paths []string) (list []sheet.File, err error) {
	for i, path := range paths {
		f, err := handed(path)
		if i == 1 && errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, badInput(fmt.Errorf("cannot read what is handed over: %w", err))
		}
		list = append(list, f)
	}
	return list, nil
}

func handed(path string) (sheet.File, error) {
	f, err := os.Open(path)
	if err != nil {
		return sheet.File{}, err
	}
	defer f.Close()
	h, head := sha256.New(), make([]byte, 4096)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return sheet.File{}, err
	}
	h.Write(head[:n])
	more, err := io.Copy(h, f)
	return sheet.File{Name: filepath.Base(path), Holds: holds(path, string(head[:n])), Bytes: int64(n) + more, SHA256: fmt.Sprintf("%x", h.Sum(nil))}, err
}

// holds says in a few words what a file holds, by how it begins.
func holds(path, head string) string {
	switch kind, _ := filekind.Of(path); kind {
	case filekind.Book:
		return "the book"
	case filekind.Journal:
		return "its journal"
	case filekind.Readings:
		return "every reading"
	}
	for _, k := range []struct{ mark, what string }{
		{"setup,station,reference,target,direction", "directions"}, {"<LandXML", "LandXML"}, {"<!DOCTYPE html", "pages"}, {"<!doctype html", "pages"},
		{"name,E,N,H", "coordinates"}, {`{"setups":`, "reductions"}, {"-- Readback: tables", "tables for a database"},
	} {
		if strings.Contains(head, k.mark) {
			return k.what
		}
	}
	return ""
}
