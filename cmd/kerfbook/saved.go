package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"kerfbook/wasm/border"
	"kerfbook/wasm/calc"
	"kerfbook/wasm/unit"
)

// savedLimit is the largest saved job that is read, in bytes; a drawing may be
// part of one.
const savedLimit = 4 << 20

// savedVersion is the version of saved jobs that is read and written.
const savedVersion = 1

// saved is a job as a reader kept it: a calculator and what was typed.
type saved struct {
	Name       string // of the file
	Calculator string
	System     unit.System
	Edition    string // digest of the edition it was saved with; "" when not said
	Inputs     []border.Pair
	// Unknown holds the lines that this handbook does not know, as they stood.
	Unknown []border.Pair
}

// readSaved reads a saved job: a JSON object of texts, or the same names and
// texts as lines with a tab between. The names:
//
//	kerfbook-job  "1", the version
//	calculator    which one
//	units         metric or inch; metric when it is not said
//	edition       digest of the edition it was saved with
//	in.FIELD      what was typed, with its unit
//
// It is strict: a name twice, a value that is no text, a line without a tab are
// refused. Names it does not know are kept in Unknown.
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
	s, err := savedOf(pairs)
	s.Name = name
	if err != nil {
		return fail(err)
	}
	return s, nil
}

func savedOf(pairs []border.Pair) (saved, error) {
	var s saved
	version := ""
	seen := map[string]bool{}
	for _, p := range pairs {
		if seen[p.Name] {
			return s, fmt.Errorf("the name %q stands twice", p.Name)
		}
		seen[p.Name] = true
		switch field, isInput := strings.CutPrefix(p.Name, "in."); {
		case p.Name == "":
			return s, errors.New("a value has no name")
		case p.Name == "kerfbook-job":
			version = p.Value
		case p.Name == "calculator":
			s.Calculator = p.Value
		case p.Name == "edition":
			s.Edition = p.Value
		case p.Name == "units" && p.Value == "inch":
			s.System = unit.Inch
		case p.Name == "units" && p.Value != "metric":
			return s, fmt.Errorf("units is %q; it is metric or inch", p.Value)
		case p.Name == "units":
		case isInput && field == "":
			return s, errors.New("the name \"in.\" names no field; an input is in.radius, for example")
		case isInput:
			s.Inputs = append(s.Inputs, border.Pair{Name: field, Value: p.Value})
		default:
			s.Unknown = append(s.Unknown, p)
		}
	}
	switch n, err := strconv.Atoi(version); {
	case !seen["kerfbook-job"]:
		return s, errors.New("this is no saved job: the name kerfbook-job with its version is missing")
	case err == nil && n > savedVersion:
		return s, fmt.Errorf("it was written by a newer handbook: it has version %d, this kerfbook reads version %d", n, savedVersion)
	case err != nil || n != savedVersion:
		return s, fmt.Errorf("kerfbook-job is %q; it is the version, \"%d\"", version, savedVersion)
	case s.Calculator == "":
		return s, errors.New("it names no calculator: the name calculator is missing or empty")
	}
	return s, nil
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

// pairs writes the job back, unknown names included.
func (s saved) pairs() []border.Pair {
	units := "metric"
	if s.System == unit.Inch {
		units = "inch"
	}
	out := []border.Pair{{Name: "kerfbook-job", Value: strconv.Itoa(savedVersion)}, {Name: "calculator", Value: s.Calculator}, {Name: "units", Value: units}}
	if s.Edition != "" {
		out = append(out, border.Pair{Name: "edition", Value: s.Edition})
	}
	for _, p := range s.Inputs {
		out = append(out, border.Pair{Name: "in." + p.Name, Value: p.Value})
	}
	return append(out, s.Unknown...)
}

// input is the job as a calculator takes it. A number without its unit is
// refused, as everywhere where nobody is there to be asked.
func (s saved) input() calc.Input {
	in := calc.Input{Values: map[string]string{}, System: s.System, Strict: true}
	for _, p := range s.Inputs {
		in.Values[p.Name] = p.Value
	}
	return in
}
