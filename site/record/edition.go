// Package record is what a publication writes of itself as edition.json: its
// types, reading it again, check codes, and the comparison of two of them. It
// knows no page, no calculator and no rendering, and imports none of ours.
package record

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
)

// Edition is the record every publication writes last, as edition.json. Nothing
// reads HTML back: comparisons, check codes and counts read this.
type Edition struct {
	Kerfbook  int      `json:"kerfbook"` // version of this record, see Version
	Title     string   `json:"title"`
	Owner     string   `json:"owner"`
	Scheme    string   `json:"scheme"` // stands before every identification number
	Revision  string   `json:"revision"`
	Date      string   `json:"date"`
	Digest    string   `json:"digest"` // of content, book, calculators and theme
	Book      string   `json:"book"`
	Wasm      string   `json:"wasm"`
	Toolchain string   `json:"toolchain"`
	Pages     []Page   `json:"pages"`
	Tables    []Table  `json:"tables"`
	Rows      []Row    `json:"rows"`
	Answers   []Answer `json:"answers"`
	Counts    []Count  `json:"counts"`
	Files     []File   `json:"files"`
}

// Version is what a publication writes. Version 1 had no tables, no cells,
// no verdicts, and of a page only a check code that changed with every edition.
const Version = 2

// File is one published file.
type File struct {
	Name   string `json:"name"`
	Digest string `json:"digest"`
	Size   int    `json:"size"`
}

// Page is one page and its check code, which depends on everything that
// is printed on the sheet. Printed is the digest of the sheet without its title
// block, Text that of its words alone, every number taken out: the two tell a
// changed number from a changed sentence.
type Page struct {
	Address string `json:"address"`
	Number  string `json:"number"`
	Title   string `json:"title"`
	Check   string `json:"check"`
	Text    string `json:"text"`
	Printed string `json:"printed"`
}

// Table is one data table; Digest is of its columns and all its rows.
type Table struct {
	Name   string `json:"name"`
	Title  string `json:"title"`
	Digest string `json:"digest"`
	Count  int    `json:"count"`
}

// Code is the table's check code: a half for its name, a half for its rows.
func (t Table) Code() string {
	return Sum([]byte("table " + t.Name))[:codePart] + "-" + t.Digest[:min(codePart, len(t.Digest))]
}

// Row is one row of a data table with its cells; an empty cell is left out.
type Row struct {
	Table      string      `json:"table"`
	Key        string      `json:"key"`
	Digest     string      `json:"digest"`
	Source     string      `json:"source,omitempty"`
	Provenance string      `json:"provenance"`
	Cells      []NamedText `json:"cells"`
}

// Answer is one computed answer as printed, with the rows it used.
type Answer struct {
	ID         string      `json:"id"`
	Kind       string      `json:"kind"`
	Calculator string      `json:"calculator"`
	Inputs     []NamedText `json:"inputs"`
	Verdict    string      `json:"verdict,omitempty"`
	Values     []NamedText `json:"values"`
	Rows       []string    `json:"rows"`
}

// NamedText is a public name and its printed text.
type NamedText struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// Count is one line of what the handbook holds.
type Count struct {
	Name  string `json:"name"`
	Value int    `json:"value"`
}

// Encode writes the record; its first bytes mark a folder as ours.
func (e *Edition) Encode() ([]byte, error) {
	slices.SortFunc(e.Files, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	var out bytes.Buffer
	w := json.NewEncoder(&out)
	w.SetEscapeHTML(false)
	w.SetIndent("", " ")
	if err := w.Encode(e); err != nil {
		return nil, err
	}
	// The marker wants no space after the brace.
	return append([]byte(`{"kerfbook":`), bytes.TrimLeft(bytes.TrimPrefix(out.Bytes(), []byte("{\n \"kerfbook\":")), " ")...), nil
}
