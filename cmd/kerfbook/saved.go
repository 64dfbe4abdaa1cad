package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"kerfbook/wasm/border"
)

// savedLimit is the largest saved job that is read, in bytes; a drawing may be
// part of one.
const savedLimit = 4 << 20

// saved is a job that was kept, with the name of its file.
type saved struct {
	border.Saved
	Name string
}

// readSaved reads a saved job: a JSON object of texts, or the same names and
// texts as lines with a tab between; border.ReadSaved says which names. A value
// that is no text and a line without a tab are refused.
func readSaved(name string, data []byte) (saved, error) {
	fail := func(err error) (saved, error) { return saved{Name: name}, fmt.Errorf("%s: %w", name, err) }
	if len(data) > savedLimit {
		return fail(fmt.Errorf("a saved job has at most %d MB, this one has %.1f MB", savedLimit>>20, float64(len(data))/(1<<20)))
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !utf8.Valid(data) {
		return fail(errors.New("this is not UTF-8 text; a saved job is JSON or lines of name, tab, value"))
	}
	var pairs []border.Pair
	var err error
	switch text := bytes.TrimSpace(data); {
	case len(text) == 0:
		err = errors.New("the file is empty; a saved job is JSON or lines of name, tab, value")
	case text[0] == '{':
		pairs, err = pairsOfJSON(text)
	case text[0] == '[':
		err = errors.New("this is a JSON list; a saved job is one JSON object of names and texts")
	default:
		pairs, err = pairsOfLines(string(data))
	}
	if err != nil {
		return fail(err)
	}
	s, err := border.ReadSaved(pairs)
	if err != nil {
		return fail(err)
	}
	return saved{s, name}, nil
}

// pairsOfJSON reads one object of texts and keeps its order; a map would lose
// that and a name that stands twice.
func pairsOfJSON(text []byte) ([]border.Pair, error) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	broken := func(err error) error {
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return errors.New("the JSON ends too early; the file was cut off")
		}
		return fmt.Errorf("this is not JSON at byte %d: %w", d.InputOffset(), err)
	}
	if _, err := d.Token(); err != nil { // the brace
		return nil, broken(err)
	}
	var out []border.Pair
	for d.More() {
		t, err := d.Token()
		if err != nil {
			return nil, broken(err)
		}
		name, ok := t.(string)
		if !ok {
			return nil, fmt.Errorf("this is not JSON at byte %d: a name in quotes is wanted", d.InputOffset())
		}
		if t, err = d.Token(); err != nil {
			return nil, broken(err)
		}
		value, ok := t.(string)
		if !ok {
			return nil, fmt.Errorf("%q is %s; every value of a saved job is a text in quotes, for example \"0.06 mm\"", name, kindOfJSON(t))
		}
		out = append(out, border.Pair{Name: name, Value: value})
	}
	if _, err := d.Token(); err != nil {
		return nil, broken(err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("something follows the JSON object at byte %d; a saved job is one object", d.InputOffset())
	}
	return out, nil
}

func kindOfJSON(t json.Token) string {
	switch t := t.(type) {
	case json.Number:
		return "the number " + t.String()
	case bool:
		return fmt.Sprintf("the word %t", t)
	case json.Delim:
		if t == '[' {
			return "a list"
		}
		return "an object"
	}
	return "null"
}

func pairsOfLines(text string) ([]border.Pair, error) {
	var clean strings.Builder
	n := 0
	for line := range strings.Lines(text) {
		n++
		line = strings.TrimSuffix(strings.TrimSuffix(line, "\n"), "\r")
		if strings.TrimSpace(line) == "" {
			continue
		}
		if !strings.Contains(line, "\t") {
			return nil, fmt.Errorf("line %d has no tab; a line of a saved job is name, tab, value", n)
		}
		clean.WriteString(line + "\n")
	}
	return border.Decode(clean.String()), nil
}
