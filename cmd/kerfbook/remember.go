package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"kerfbook/site"
)

// memoryHelp explains --memory.
const memoryHelp = "Folder that remembers answers from one command to the next; if none is named, one in your cache folder."

// remember opens the memory of answers in the folder, or in the user's cache
// folder. Where there is neither, or the program cannot be told from another, it
// remembers for this command alone.
func remember(dir string) *site.Memory {
	if dir == "" {
		if cache, err := os.UserCacheDir(); err == nil {
			dir = filepath.Join(cache, "kerfbook")
		}
	}
	code, err := programDigest()
	if err != nil {
		dir = ""
	}
	return site.OpenMemory(dir, code)
}

// programDigest is the digest of the running program's bytes: of all that computes,
// whoever compiled it.
func programDigest() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", err
	}
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// notKept says when the memory's folder could not be written.
func notKept(s *streams, m *site.Memory) {
	if m == nil {
		return
	}
	if err := m.Err(); err != nil {
		fmt.Fprintf(s.err, "the answers are not remembered for the next time: %v\n", err)
	}
}
