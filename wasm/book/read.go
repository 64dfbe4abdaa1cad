package book

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Fault is one thing wrong in a table's text. Line and Col count from 1, Col in
// bytes; Offset is the byte in the file's text.
type Fault struct {
	File           string
	Line, Col, Len int
	Offset         int
	Text           string
}

// Faults is every fault found, as one error.
type Faults []Fault

func (f Faults) Error() string {
	var s strings.Builder
	for i, one := range f {
		if i > 0 {
			s.WriteString("\n")
		}
		s.WriteString(one.File + ":" + strconv.Itoa(one.Line) + ":" + strconv.Itoa(one.Col) + ": " + one.Text)
	}
	return s.String()
}

// Read reads all tables strictly. Each file starts with comment lines
// "# title: …", "# key: column column" and perhaps "# note: …", then a line of
// column names, then rows. Columns whose name ends in a unit (_mm, _um, _pct, …)
// hold numbers; low, likely and high columns must stand in order.
func Read(files []File) (*Book, error) {
	var faults Faults
	b := &Book{}
	for _, f := range files {
		r := &reader{file: f, faults: &faults}
		if t := r.table(); t != nil {
			if b.Table(t.Name) != nil {
				r.fault(0, 0, "the table "+quote(t.Name)+" is read twice")
			}
			b.tables = append(b.tables, t)
		}
	}
	for i := 1; i < len(b.tables); i++ { // a handful: no library sort in the browser
		for j := i; j > 0 && b.tables[j].Name < b.tables[j-1].Name; j-- {
			b.tables[j], b.tables[j-1] = b.tables[j-1], b.tables[j]
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return b, nil
}

type reader struct {
	file   File
	faults *Faults
}

// token is one CSV cell with its place in the text.
type token struct {
	text    string
	at, len int
}

func (r *reader) fault(at, n int, text string) {
	line := 1 + strings.Count(r.file.Text[:at], "\n")
	col := at - strings.LastIndexByte(r.file.Text[:at], '\n')
	*r.faults = append(*r.faults, Fault{File: r.file.Name, Line: line, Col: col, Len: n, Offset: at, Text: text})
}

func (r *reader) table() *Table {
	name, ok := strings.CutSuffix(r.file.Name, ".csv")
	if !ok || strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
		r.fault(0, 0, "a table's file is called letters-and-digits.csv")
		return nil
	}
	if !utf8.ValidString(r.file.Text) {
		at := 0
		for at < len(r.file.Text) {
			c, n := utf8.DecodeRuneInString(r.file.Text[at:])
			if c == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		r.fault(at, 1, "this is not UTF-8 text: save the table as CSV UTF-8")
		return nil
	}
	t := &Table{Name: name}
	at := r.head(t)
	cells, at := r.record(at)
	for _, c := range cells {
		if c.text == "" || slices.Contains(t.Columns, c.text) {
			r.fault(c.at, c.len, "a column name is empty or stands twice: "+quote(c.text))
		}
		t.Columns = append(t.Columns, c.text)
	}
	if t.Title == "" || len(t.Keys) == 0 {
		r.fault(0, 0, "the table starts with \"# title: …\" and \"# key: column …\"")
		return nil
	}
	for _, k := range append(slices.Clone(t.Keys), "source", "place", "provenance") {
		if !slices.Contains(t.Columns, k) {
			r.fault(0, 0, "the column "+quote(k)+" is missing")
			return nil
		}
	}
	seen := map[string]int{}
	for at < len(r.file.Text) {
		var rec []token
		start := at
		rec, at = r.record(at)
		if len(rec) == 1 && rec[0].text == "" {
			continue
		}
		r.row(t, rec, start, seen)
	}
	return t
}

func (r *reader) head(t *Table) int {
	at := 0
	for strings.HasPrefix(r.file.Text[at:], "#") {
		line, _, _ := strings.Cut(r.file.Text[at:], "\n")
		word, text, _ := strings.Cut(strings.TrimSpace(line[1:]), ":")
		text = strings.TrimSpace(text)
		switch word {
		case "title":
			t.Title = text
		case "key":
			t.Keys = strings.Fields(text)
		case "note":
			t.Note = text
		default:
			r.fault(at, len(line), "a line before the columns is \"# title:\", \"# key:\" or \"# note:\"")
		}
		at = min(at+len(line)+1, len(r.file.Text))
	}
	return at
}

// record reads one CSV record (RFC 4180, LF or CRLF) and where the next begins.
func (r *reader) record(at int) ([]token, int) {
	text := r.file.Text
	var out []token
	for {
		start := at
		if at < len(text) && text[at] == '"' {
			var s strings.Builder
			at++
			for {
				end := strings.IndexByte(text[at:], '"')
				if end < 0 {
					r.fault(start, 1, "this quotation mark is never closed")
					return append(out, token{s.String(), start, len(text) - start}), len(text)
				}
				s.WriteString(text[at : at+end])
				at += end + 1
				if at < len(text) && text[at] == '"' {
					s.WriteByte('"')
					at++
					continue
				}
				break
			}
			out = append(out, token{s.String(), start, at - start})
			if stop := strings.IndexAny(text[at:]+"\n", ",\r\n"); stop > 0 {
				r.fault(at, stop, "a comma or the end of the line is wanted after the closing quotation mark")
				at += stop
			}
		} else {
			end := strings.IndexAny(text[at:]+"\n", ",\r\n")
			out = append(out, token{strings.TrimSpace(text[at : at+end]), start, end})
			at += end
		}
		if at < len(text) && text[at] == ',' {
			at++
			continue
		}
		if at < len(text) && text[at] == '\r' {
			at++
		}
		if at < len(text) && text[at] == '\n' {
			at++
		}
		return out, at
	}
}

func (r *reader) row(t *Table, rec []token, start int, seen map[string]int) {
	if len(rec) != len(t.Columns) {
		r.fault(start, max(0, rec[len(rec)-1].at+rec[len(rec)-1].len-start),
			"this row has "+strconv.Itoa(len(rec))+" cells, the table has "+strconv.Itoa(len(t.Columns))+" columns")
		return
	}
	row := Row{Table: t.Name, File: r.file.Name, Line: 1 + strings.Count(r.file.Text[:start], "\n"), cells: map[string]string{}, nums: map[string]float64{}}
	sound := len(*r.faults)
	for i, c := range t.Columns {
		row.cells[c] = rec[i].text
		if !numeric(c) || rec[i].text == "" {
			continue
		}
		v, err := parseNumber(rec[i].text)
		row.nums[c] = v
		if err != nil {
			r.fault(rec[i].at, rec[i].len, "the column "+quote(c)+" wants a number, this is "+quote(rec[i].text))
		}
	}
	for i, c := range t.Columns {
		low, ok := strings.CutSuffix(stem(c), "_low")
		if !ok || rec[i].text == "" || len(*r.faults) > sound {
			continue
		}
		suffix := c[len(stem(c)):]
		lo, li, hi := row.Num(c), row.Num(low+"_likely"+suffix), row.Num(low+"_high"+suffix)
		if lo > li || li > hi {
			r.fault(rec[i].at, rec[i].len, "low, likely and high of "+quote(low)+" do not rise: "+
				row.cells[c]+", "+row.cells[low+"_likely"+suffix]+", "+row.cells[low+"_high"+suffix])
		}
	}
	var key []string
	for _, k := range t.Keys {
		key = append(key, row.cells[k])
	}
	row.Key = strings.Join(key, "/")
	row.Source, row.Place, row.Provenance = row.cells["source"], row.cells["place"], row.cells["provenance"]
	if !provenance(row.Provenance) {
		i := slices.Index(t.Columns, "provenance")
		r.fault(rec[i].at, rec[i].len, "provenance is cited, from memory, common practice, our estimate, measured, definition or invented, not "+quote(row.Provenance))
	}
	if (row.Provenance == "cited" || row.Provenance == "from memory") && row.Source == "" {
		i := slices.Index(t.Columns, "source")
		r.fault(rec[i].at, rec[i].len, "a row "+row.Provenance+" names its source")
	}
	if first, dup := seen[row.Key]; dup {
		r.fault(start, rec[0].len, "the key "+quote(row.Key)+" stands in line "+strconv.Itoa(first)+" already")
	}
	seen[row.Key] = row.Line
	t.Rows = append(t.Rows, row)
}

// quote puts a name between quotation marks. The library's own way of quoting
// brings tables of printable letters that the browser has no use for.
func quote(s string) string { return "“" + s + "”" }

func provenance(s string) bool {
	switch s {
	case "cited", "from memory", "common practice", "our estimate", "measured", "definition", "invented":
		return true
	}
	return false
}

// stem is the column name without its unit.
func stem(column string) string {
	if i := strings.LastIndexByte(column, '_'); i > 0 && numeric(column) {
		return column[:i]
	}
	return column
}

// numeric reports whether a column's name ends in a unit, and so holds numbers.
func numeric(column string) bool {
	i := strings.LastIndexByte(column, '_')
	if i < 0 {
		return false
	}
	switch column[i+1:] {
	case "mm", "um", "uin", "pct", "deg", "mm2min", "mmmin", "uscm", "degc", "v", "n", "mpa", "gpa", "gcm3", "kgm3", "n0", "npm", "wmk", "ppmk", "uohmm", "mpas", "mvm", "kjkgk", "mohmcm", "hv", "ohmm":
		return true
	}
	return false
}

func parseNumber(s string) (float64, error) {
	if strings.ContainsAny(s, "xXpP_iInN") {
		return 0, strconv.ErrSyntax
	}
	v, err := strconv.ParseFloat(s, 64)
	if err == nil && (math.IsInf(v, 0) || math.IsNaN(v)) {
		err = strconv.ErrRange
	}
	return v, err
}
