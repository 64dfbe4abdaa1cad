// Package book holds the handbook's data tables as values read from text. The
// tables come as CSV files natively and as one canonical text in the browser;
// both ways go through the same strict reader, so that a message names the same
// file, line and column.
//
// It may import the standard library's text and number packages and unit.
package book

import (
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/unit"
)

// File is one table's CSV text; Name ends in ".csv" and names the table.
type File struct{ Name, Text string }

// Row is one line of a table and where it came from.
type Row struct {
	Table      string // "gaps"
	Key        string // key columns joined by "/": "0.25/water/rough"
	Source     string // bibliography key; "" for common practice
	Place      string // table, page or section in the source, or "place not seen"
	Provenance string // cited, common practice, from memory, our estimate, measured, definition, invented
	File       string
	Line       int
	Ours       bool // the shop's own row, or the handbook's row as the shop replaced it
	cells      map[string]string
	nums       map[string]float64 // of the columns that hold numbers
	stands     *spots
}

// spots is where a row and its cells stand in the file.
type spots struct {
	columns []string
	cells   []token
	start   int
}

// cell is where the cell of a column stands.
func (s *spots) cell(column string) (token, bool) {
	i := slices.Index(s.columns, column)
	if i < 0 || i >= len(s.cells) {
		return token{}, false
	}
	return s.cells[i], true
}

// Fault is something to say about a column, at its name.
func (t *Table) Fault(column, text string) Fault {
	f := Fault{File: t.file, Line: t.line, Col: 1, Text: text}
	if t.stands != nil {
		k, _ := t.stands.cell(column)
		f.Offset, f.Len, f.Col = k.at, k.len, 1+k.at-t.stands.start
	}
	return f
}

// Fault is something wrong in a cell of a row, at a word of it if one is given.
func (r *Row) Fault(column, word, text string) Fault {
	f := Fault{File: r.File, Line: r.Line, Col: 1, Text: text}
	if r.stands == nil {
		return f
	}
	f.Offset = r.stands.start
	s, ok := r.stands.cell(column)
	if !ok {
		return f
	}
	at, n := 0, s.len
	if word != "" {
		if at = strings.Index(s.text, word); at < 0 {
			at = 0
		} else if n = len(word); s.len > len(s.text) {
			at++ // the quotation mark before it
		}
	}
	f.Offset, f.Len = s.at+at, n
	f.Col = 1 + f.Offset - r.stands.start
	return f
}

// Cell returns the text of a column; "" when it is empty. A column that the table
// does not have is a slip of ours and panics: no answer is made from it. A row that
// was not found has no table and is empty everywhere.
func (r *Row) Cell(column string) string {
	text, ok := r.cells[column]
	if !ok && r.cells != nil {
		panic("the table " + r.Table + " has no column " + column)
	}
	return text
}

// Optional is Cell for a column that a table may lack.
func (r *Row) Optional(column string) string { return r.cells[column] }

// Num returns a column's number, zero when the cell is empty. As with Cell, the
// column must be there, and its name end in a unit.
func (r *Row) Num(column string) float64 {
	v, ok := r.nums[column]
	if !ok && (r.Cell(column) != "" || r.cells != nil) && !numeric(column) {
		panic("the column " + column + " of the table " + r.Table + " holds no numbers")
	}
	return v
}

// Range returns the low, likely and high columns with the given stem:
// Range("gap", "um", 1e-3) reads gap_low_um, gap_likely_um, gap_high_um and
// multiplies by scale.
func (r *Row) Range(stem, suffix string, scale float64) unit.Range {
	at := func(end string) float64 { return scaled(r.Num(stem+"_"+end+"_"+suffix), scale) }
	return unit.Range{Low: at("low"), Likely: at("likely"), High: at("high")}
}

// scaled divides instead of multiplying by the usual decimal fractions, so that
// 35 µm is the double nearest to 0.035 mm.
func scaled(v, scale float64) float64 {
	switch scale {
	case 1e-3:
		return v / 1000
	case 1e-2:
		return v / 100
	}
	return v * scale
}

// Table is one table: its columns, its key columns and its rows in file order.
type Table struct {
	Name    string
	Title   string
	Note    string
	Keys    []string
	Columns []string
	Rows    []Row
	stands  *spots // of the names of the columns
	file    string
	line    int
}

// Column reports whether the table has a column.
func (t *Table) Column(name string) bool { return slices.Contains(t.Columns, name) }

// Book is all tables of an edition.
type Book struct {
	tables []*Table
	kept   kept
}

// Tables returns the tables in order of name.
func (b *Book) Tables() []*Table { return b.tables }

// Table returns a table by name; nil when there is none.
func (b *Book) Table(name string) *Table {
	for _, t := range b.tables {
		if t.Name == name {
			return t
		}
	}
	return nil
}

// Find returns the row of a table with the given key parts.
func (b *Book) Find(table string, key ...string) (Row, bool) {
	t := b.Table(table)
	if t == nil {
		return Row{}, false
	}
	want := strings.Join(key, "/")
	for _, r := range t.Rows {
		if r.Key == want {
			return r, true
		}
	}
	return Row{}, false
}

// Canonical writes the whole book as one text: the same tables give the same
// bytes whatever order, spacing or quoting their files had.
func (b *Book) Canonical() string {
	var s strings.Builder
	for _, t := range b.tables {
		s.WriteString("=== " + t.Name + ".csv\n")
		s.WriteString("# title: " + t.Title + "\n# key: " + strings.Join(t.Keys, " ") + "\n")
		if t.Note != "" {
			s.WriteString("# note: " + t.Note + "\n")
		}
		ours := ""
		for i, r := range t.Rows {
			if r.Ours {
				ours += " " + strconv.Itoa(i+1)
			}
		}
		if ours != "" {
			s.WriteString("# ours:" + ours + "\n")
		}
		writeCSV(&s, t.Columns)
		for _, r := range t.Rows {
			cells := make([]string, len(t.Columns))
			for i, c := range t.Columns {
				cells[i] = r.cells[c]
			}
			writeCSV(&s, cells)
		}
	}
	return s.String()
}

// Parse reads a canonical text back.
func Parse(text string) (*Book, error) {
	var files []File
	for len(text) > 0 {
		head, rest, _ := strings.Cut(text, "\n")
		name, ok := strings.CutPrefix(head, "=== ")
		if !ok {
			return nil, Faults{{File: "book", Line: 1, Col: 1, Len: len(head), Text: "a table's line \"=== name.csv\" is wanted here"}}
		}
		end := strings.Index("\n"+rest, "\n=== ")
		if end < 0 {
			end = len(rest)
		}
		files = append(files, File{Name: name, Text: rest[:end]})
		text = rest[end:]
	}
	return read(files, true)
}

func writeCSV(s *strings.Builder, cells []string) {
	for i, c := range cells {
		if i > 0 {
			s.WriteByte(',')
		}
		if strings.ContainsAny(c, ",\"\r\n") || strings.HasPrefix(c, "=== ") || c != strings.TrimSpace(c) {
			c = "\"" + strings.ReplaceAll(c, "\"", "\"\"") + "\""
		}
		s.WriteString(c)
	}
	s.WriteByte('\n')
}
