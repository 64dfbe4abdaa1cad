package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"unicode/utf8"
)

// limit is the largest record that is read, in bytes. A handbook of a
// thousand pages writes some five megabytes.
const limit = 64 << 20

// Read reads a record, of this version or an older one. Every error says
// what is wrong and what would be right; no bytes make it panic.
func Read(data []byte) (*Edition, error) {
	switch {
	case len(data) > limit:
		return nil, fmt.Errorf("the record has %d bytes, more than the %d that a record may have", len(data), limit)
	case !bytes.HasPrefix(data, []byte(`{"kerfbook":`)):
		return nil, errors.New(`this is not the record of a handbook: edition.json of a published folder begins with {"kerfbook":`)
	case !utf8.Valid(data):
		return nil, errors.New("the record is not UTF-8 text; take edition.json from the published folder anew")
	}
	var head struct {
		Kerfbook json.RawMessage `json:"kerfbook"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return nil, brokenRecord(err)
	}
	version := 0
	if err := json.Unmarshal(head.Kerfbook, &version); err != nil || version < 1 {
		return nil, fmt.Errorf("the record says version %s; a version is a number from 1", head.Kerfbook)
	}
	if version > Version {
		return nil, fmt.Errorf("the record was written by a newer handbook: it has version %d, this kerfbook reads up to %d", version, Version)
	}
	e := &Edition{}
	if err := json.Unmarshal(data, e); err != nil {
		return nil, brokenRecord(err)
	}
	if err := e.sound(); err != nil {
		return nil, err
	}
	if version == 1 {
		e.Tables = tablesOf(e.Rows)
	}
	return e, nil
}

// brokenRecord says where JSON went wrong in words that need no Go.
func brokenRecord(err error) error {
	var kind *json.UnmarshalTypeError
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &kind):
		return fmt.Errorf("the record is broken: %s is a %s where it wants %s; take edition.json from the published folder anew", kind.Field, kind.Value, wanted(kind.Type.Kind().String()))
	case errors.As(err, &syntax):
		return fmt.Errorf("the record is broken at byte %d: %w; take edition.json from the published folder anew", syntax.Offset, err)
	}
	return fmt.Errorf("the record is broken: %w", err)
}

func wanted(kind string) string {
	switch kind {
	case "string":
		return "a text"
	case "int":
		return "a whole number"
	case "slice":
		return "a list"
	}
	return "a group of names"
}

// sound refuses what would make a comparison lie: names that are missing or
// stand twice, a file outside the folder.
func (e *Edition) sound() error {
	if e.Digest == "" || e.Wasm == "" || e.Book == "" {
		return errors.New("the record is broken: it lacks digest, book or wasm; take edition.json from the published folder anew")
	}
	seen := map[string]bool{}
	once := func(what, name string) error {
		if name == "" {
			return fmt.Errorf("the record is broken: a %s has no name", what)
		}
		if seen[what+name] {
			return fmt.Errorf("the record is broken: the %s %s stands twice", what, name)
		}
		seen[what+name] = true
		return nil
	}
	for _, p := range e.Pages {
		if err := once("page", p.Address); err != nil {
			return err
		}
		if p.Number == "" {
			continue
		}
		if err := once("page number", p.Number); err != nil {
			return err
		}
	}
	for _, t := range e.Tables {
		if err := once("table", t.Name); err != nil {
			return err
		}
	}
	for _, r := range e.Rows {
		if r.Table == "" || r.Key == "" {
			return fmt.Errorf("the record is broken: a row has no table or no key")
		}
		if err := once("row", r.Table+" "+r.Key); err != nil {
			return err
		}
		for _, c := range r.Cells {
			if err := once("cell", r.Table+" "+r.Key+" "+c.Name); err != nil {
				return err
			}
		}
		if e.Kerfbook > 1 && !seen["table"+r.Table] {
			return fmt.Errorf("the record is broken: the row %s %s is of no table", r.Table, r.Key)
		}
	}
	for _, a := range e.Answers {
		if err := once("answer", a.ID); err != nil {
			return err
		}
		for _, n := range a.Inputs {
			if err := once("input", a.ID+": "+n.Name); err != nil {
				return err
			}
		}
		for _, n := range a.Values {
			if err := once("value", a.ID+": "+n.Name); err != nil {
				return err
			}
		}
	}
	for _, f := range e.Files {
		if err := once("file", f.Name); err != nil {
			return err
		}
		if !fs.ValidPath(f.Name) || f.Name == "." || strings.ContainsAny(f.Name, "\\:") {
			return fmt.Errorf("the record is broken: the file %q does not lie in the folder", f.Name)
		}
	}
	return nil
}

// tablesOf names the tables of a record of version 1, which had none. The
// digest is not known then.
func tablesOf(rows []Row) []Table {
	var out []Table
	at := map[string]int{}
	for _, r := range rows {
		i, ok := at[r.Table]
		if !ok {
			i = len(out)
			at[r.Table] = i
			out = append(out, Table{Name: r.Table})
		}
		out[i].Count++
	}
	return out
}

// ReadFolder reads the record of a published folder and holds every file
// against it. Files that the record does not name are let be: copies for a web
// server may lie beside.
func ReadFolder(dir fs.FS) (*Edition, error) {
	data, err := fs.ReadFile(dir, "edition.json")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, errors.New("there is no edition.json in it; name a folder made by kerfbook publish, or the edition.json of one")
	}
	if err != nil {
		return nil, err
	}
	e, err := Read(data)
	if err != nil {
		return nil, fmt.Errorf("edition.json: %w", err)
	}
	var wrong []string
	for _, f := range e.Files {
		switch data, err := fs.ReadFile(dir, f.Name); {
		case errors.Is(err, fs.ErrNotExist):
			wrong = append(wrong, f.Name+" is missing")
		case err != nil:
			wrong = append(wrong, f.Name+" cannot be read")
		case len(data) != f.Size:
			wrong = append(wrong, fmt.Sprintf("%s has %d bytes, the record says %d", f.Name, len(data), f.Size))
		case Sum(data) != f.Digest:
			wrong = append(wrong, f.Name+" was changed after it was published")
		}
	}
	if len(wrong) > 0 {
		more := ""
		if n := len(wrong) - 3; n > 0 {
			wrong, more = wrong[:3], fmt.Sprintf("; and %d more", n)
		}
		return nil, fmt.Errorf("it is not whole: %s%s; publish it again or take a whole copy", strings.Join(wrong, "; "), more)
	}
	return e, nil
}

// BookFile is the name under which a published folder holds its tables.
func (e *Edition) BookFile() string { return "book-" + Short(e.Book) + ".txt" }

// NameOf is what an edition is called in a sentence.
func (e *Edition) NameOf() string { return fmt.Sprintf("revision %s of %s", e.Revision, e.Date) }
