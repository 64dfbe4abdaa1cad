package book

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"kerfbook/wasm/spell"
)

// Fault is one thing wrong in a table's text. Line and Col count from 1, Col in
// bytes after a byte order mark; Offset is the byte in the file's text.
type Fault struct {
	File           string
	Line, Col, Len int
	Offset         int
	Text           string
	Beside         *Place // the handbook's row that the fault is about; nil when there is none
}

// Place is a line of a file, from 1.
type Place struct {
	File string
	Line int
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
		if one.Beside != nil {
			s.WriteString(" (the handbook's row: " + one.Beside.File + ":" + strconv.Itoa(one.Beside.Line) + ")")
		}
	}
	return s.String()
}

// Read reads all tables strictly. Each file starts with comment lines
// "# title: …", "# key: column column" and perhaps "# note: …", then a line of
// column names, then rows. Columns whose name ends in a unit (_mm, _um, _pct, …)
// hold numbers; low, likely and high columns must stand in order.
func Read(files []File) (*Book, error) { return read(files, false) }

// read reads tables; only a canonical text may say which rows are the shop's.
func read(files []File, canonical bool) (*Book, error) {
	var faults Faults
	b := &Book{}
	for _, f := range files {
		r := &reader{file: f, faults: &faults, sep: ',', line: 1, canonical: canonical}
		if t := r.table(); t != nil {
			if b.Table(t.Name) != nil {
				r.fault(0, 0, "the table "+spell.Quote(t.Name)+" is read twice")
			}
			b.add(t)
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return b, nil
}

// add puts a table in its place by name: a handful, so no library sort in the
// browser.
func (b *Book) add(t *Table) {
	b.tables = append(b.tables, t)
	for j := len(b.tables) - 1; j > 0 && b.tables[j].Name < b.tables[j-1].Name; j-- {
		b.tables[j], b.tables[j-1] = b.tables[j-1], b.tables[j]
	}
}

type reader struct {
	file      File
	faults    *Faults
	sep       byte   // between cells
	from      int    // bytes of a byte order mark at the start
	canonical bool   // the head may have a line "# ours:"
	shop      bool   // a shop's table, as a spreadsheet writes it
	at, line  int    // the start of a record and its line: lines are counted on from here
	beside    *Place // of the faults that come
}

// token is one CSV cell with its place in the text.
type token struct {
	text    string
	at, len int
}

func (r *reader) fault(at, n int, text string) {
	line, start := r.lineOf(at)
	if start == 0 {
		start = min(r.from, at)
	}
	*r.faults = append(*r.faults, Fault{File: r.file.Name, Line: line, Col: at - start + 1, Len: n, Offset: at, Text: text, Beside: r.beside})
}

// lineOf returns the line of a byte and where that line starts. A line ends with
// LF, CR LF or a lone CR.
func (r *reader) lineOf(at int) (line, start int) {
	text := r.file.Text
	i, line := r.at, r.line
	if at < i {
		i, line = 0, 1
	}
	for start = i; i < at; i++ {
		if text[i] == '\n' || text[i] == '\r' && (i+1 == len(text) || text[i+1] != '\n') {
			line, start = line+1, i+1
		}
	}
	return line, start
}

// name returns the table's name: the file's without its folder and ending.
func (r *reader) name() (string, bool) {
	name, ok := strings.CutSuffix(r.file.Name[strings.LastIndexByte(r.file.Name, '/')+1:], ".csv")
	if !ok || name == "" || strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
		r.fault(0, 0, "a table's file is called letters-and-digits.csv")
		return "", false
	}
	return name, true
}

// readable reports whether the file is UTF-8.
func (r *reader) readable() bool {
	if utf8.ValidString(r.file.Text) {
		return true
	}
	at := 0
	for at < len(r.file.Text) {
		c, n := utf8.DecodeRuneInString(r.file.Text[at:])
		if c == utf8.RuneError && n == 1 {
			break
		}
		at += n
	}
	r.fault(at, 1, "this is not UTF-8 text: save as CSV UTF-8")
	return false
}

func (r *reader) table() *Table {
	name, ok := r.name()
	if !ok || !r.readable() {
		return nil
	}
	t := &Table{Name: name}
	heads, at := r.head(0)
	r.title(t, heads)
	start := at
	cells, at := r.record(at)
	if r.columns(t, cells); !r.whole(t, cells) {
		return nil
	}
	t.file, t.line, t.stands = r.file.Name, r.lineAt(start), &spots{t.Columns, cells, start}
	seen := map[string]int{}
	for at < len(r.file.Text) {
		var rec []token
		r.at, r.line = at, r.lineAt(at)
		rec, at = r.record(at)
		if len(rec) == 1 && rec[0].text == "" {
			continue
		}
		r.row(t, rec, seen)
	}
	for _, h := range heads {
		if h.word != "ours" {
			continue
		}
		for _, w := range strings.Fields(h.text) {
			n, err := strconv.Atoi(w)
			if err != nil || n < 1 || n > len(t.Rows) {
				r.fault(h.at, h.len, "the table has no row "+spell.Quote(w))
				continue
			}
			t.Rows[n-1].Ours = true
		}
	}
	return t
}

func (r *reader) lineAt(at int) int {
	line, _ := r.lineOf(at)
	return line
}

// columns takes the names of the columns.
func (r *reader) columns(t *Table, cells []token) {
	for _, c := range cells {
		if c.text == "" || slices.Contains(t.Columns, c.text) {
			r.fault(c.at, c.len, "a column name is empty or stands twice: "+spell.Quote(c.text))
		}
		t.Columns = append(t.Columns, c.text)
	}
}

// whole reports whether a table has a title, a key, columns that can be named in
// a page, and those that every table has.
func (r *reader) whole(t *Table, cells []token) bool {
	for _, c := range cells {
		if strings.Trim(c.text, "abcdefghijklmnopqrstuvwxyz0123456789_") != "" {
			r.fault(c.at, c.len, "a column name is written with a to z, 0 to 9 and _, not "+spell.Quote(c.text))
		}
	}
	if t.Title == "" || len(t.Keys) == 0 {
		r.fault(0, 0, "the table starts with \"# title: …\" and \"# key: column …\"")
		return false
	}
	for _, k := range append(slices.Clone(t.Keys), "source", "place", "provenance") {
		if !slices.Contains(t.Columns, k) {
			r.fault(0, 0, "the column "+spell.Quote(k)+" is missing")
			return false
		}
	}
	return true
}

// headLine is a line "# word: text" before the columns.
type headLine struct {
	word, text string
	at, len    int
}

// head reads the lines before the columns. In a shop's table they may stand in
// quotation marks and have empty cells after them, as a spreadsheet writes them.
func (r *reader) head(at int) (out []headLine, end int) {
	text := r.file.Text
	for strings.HasPrefix(text[at:], "#") || r.shop && strings.HasPrefix(text[at:], "\"#") {
		stop := r.stop(at, '\n')
		line := text[at:stop]
		if text[at] == '"' {
			line, stop = r.quoted(at)
			line, stop = strings.Join(strings.Fields(line), " "), r.stop(stop, '\n')
		} else if r.shop {
			line = strings.TrimRight(line, ",;\t ")
		}
		if line != "" { // of a quotation mark never closed nothing is left
			word, words, _ := strings.Cut(strings.TrimSpace(line[1:]), ":")
			out = append(out, headLine{word, strings.TrimSpace(words), at, stop - at})
		}
		at = r.next(stop)
	}
	return out, at
}

func (r *reader) title(t *Table, heads []headLine) {
	for _, h := range heads {
		switch {
		case h.word == "title":
			t.Title = h.text
		case h.word == "key":
			t.Keys = strings.Fields(h.text)
		case h.word == "note":
			t.Note = h.text
		case h.word == "ours" && r.canonical:
		default:
			r.fault(h.at, h.len, "a line before the columns is \"# title:\", \"# key:\" or \"# note:\"")
		}
	}
}

// stop returns where the cell or, with a line feed for sep, the line ends.
func (r *reader) stop(at int, sep byte) int {
	text := r.file.Text
	for at < len(text) && text[at] != sep && text[at] != '\r' && text[at] != '\n' {
		at++
	}
	return at
}

// next steps over the end of a line.
func (r *reader) next(at int) int {
	if strings.HasPrefix(r.file.Text[at:], "\r\n") {
		return at + 2
	}
	return min(at+1, len(r.file.Text))
}

// quoted reads a cell in quotation marks and returns where it ends.
func (r *reader) quoted(start int) (string, int) {
	text := r.file.Text
	var s strings.Builder
	for at := start + 1; ; {
		end := strings.IndexByte(text[at:], '"')
		if end < 0 {
			r.fault(start, 1, "this quotation mark is never closed")
			return "", len(text)
		}
		s.WriteString(text[at : at+end])
		if at += end + 1; at == len(text) || text[at] != '"' {
			return s.String(), at
		}
		s.WriteByte('"')
		at++
	}
}

// record reads one CSV record (RFC 4180; lines end with LF, CR LF or CR) and
// where the next begins.
func (r *reader) record(at int) ([]token, int) {
	text := r.file.Text
	var out []token
	for {
		start := at
		if at < len(text) && text[at] == '"' {
			var cell string
			cell, at = r.quoted(at)
			out = append(out, token{cell, start, at - start})
			if stop := r.stop(at, r.sep); stop > at {
				r.fault(at, stop-at, "a "+separator(r.sep)+" or the end of the line is wanted after the closing quotation mark")
				at = stop
			}
		} else {
			at = r.stop(at, r.sep)
			out = append(out, token{strings.TrimSpace(text[start:at]), start, at - start})
		}
		if at < len(text) && text[at] == r.sep {
			at++
			continue
		}
		return out, r.next(at)
	}
}

func separator(sep byte) string {
	switch sep {
	case ';':
		return "semicolon"
	case '\t':
		return "tab"
	}
	return "comma"
}

func (r *reader) row(t *Table, rec []token, seen map[string]int) {
	if len(rec) != len(t.Columns) {
		r.fault(r.at, max(0, rec[len(rec)-1].at+rec[len(rec)-1].len-r.at),
			"this row has "+strconv.Itoa(len(rec))+" cells, the table has "+strconv.Itoa(len(t.Columns))+" columns")
		return
	}
	cells := map[string]string{}
	for i, c := range t.Columns {
		cells[c] = rec[i].text
	}
	row := r.newRow(t, cells)
	row.stands = &spots{t.Columns, rec, r.at}
	r.check(t, &row, func(column string) token { return rec[slices.Index(t.Columns, column)] })
	r.once(seen, row.Key, row.Key, rec[0].len)
	t.Rows = append(t.Rows, row)
}

// quote puts a name between quotation marks. The library's own way of quoting
// brings tables of printable letters that the browser has no use for.
