//go:build !wasip1

package book

import (
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/spell"
)

// The most that a shop's table may hold; more is no table but a slip.
const (
	longestCell = 10_000 // bytes
	mostCells   = 200    // in a row, empty ones at its end not counted
	mostRows    = 100_000
)

// shopTable is a shop's table while it is laid over the handbook's.
type shopTable struct {
	reader
	base         *Table         // the handbook's; nil for a table of the shop's own
	table        *Table         // the shop's
	index        map[string]int // column to its place in the file
	records      []record
	exact, alike map[string]int // keys of the handbook's rows, as written and with numbers alike
	point, comma bool           // some number of the file has this decimal sign for sure
	changes      []Change
}

// record is one row of the file.
type record struct {
	cells    []token
	at, line int
}

// open reports whether the file can be read, and steps over what a spreadsheet
// puts before the table.
func (s *shopTable) open() bool {
	text := s.file.Text
	if strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff") {
		s.fault(0, 2, "this is UTF-16 text: save as CSV UTF-8")
		return false
	}
	if !s.readable() {
		return false
	}
	if i := strings.IndexByte(text, 0); i >= 0 {
		s.fault(i, 1, "a table holds no zero byte: save as CSV UTF-8")
		return false
	}
	if strings.HasPrefix(text, "\ufeff") {
		s.from = len("\ufeff")
	}
	return true
}

// begin reads the head and the names of the columns, and takes in all records.
func (s *shopTable) begin(b *Book, name string) bool {
	at, hint := s.hint(s.blank(s.from))
	at = s.blank(at)
	heads, at := s.head(at)
	at = s.blank(at)
	s.base, s.table = b.Table(name), &Table{Name: name}
	if s.base == nil {
		if len(heads) == 0 {
			var names []string
			for _, t := range b.Tables() {
				names = append(names, t.Name)
			}
			s.fault(s.from, 0, "the handbook has no table "+spell.Quote(name)+", and a table of your own begins with \"# title: …\" and \"# key: column …\""+meant(name, names))
			return false
		}
		s.title(s.table, heads)
	} else {
		*s.table = *s.base
		s.table.Rows = slices.Clone(s.base.Rows)
		s.stays(heads)
	}
	if !s.separate(at, hint) {
		return false
	}
	s.at, s.line = at, s.lineAt(at)
	cells, next := s.record(at)
	cells = bare(cells)
	if !s.fits(cells, at) || !s.names(cells, at) {
		return false
	}
	s.exact, s.alike = map[string]int{}, map[string]int{}
	if s.base != nil {
		for i, r := range s.base.Rows {
			s.exact[r.Key] = i
			like := s.like(r.cells, anyColumn)
			if _, two := s.alike[like]; two {
				i = -1 // of two rows neither is meant for sure
			}
			s.alike[like] = i
		}
	}
	s.take(next)
	return true
}

// blank steps over lines that hold nothing but separators.
func (s *shopTable) blank(at int) int {
	for at < len(s.file.Text) {
		stop := s.stop(at, '\n')
		if strings.Trim(s.file.Text[at:stop], ",;\t ") != "" {
			break
		}
		at = s.next(stop)
	}
	return at
}

// hint steps over a line "sep=;", by which some spreadsheets name the separator.
func (s *shopTable) hint(at int) (next int, sep byte) {
	stop := s.stop(at, '\n')
	line := strings.Trim(s.file.Text[at:stop], "\"")
	if len(line) == 5 && strings.EqualFold(line[:4], "sep=") {
		return s.next(stop), line[4]
	}
	return at, 0
}

// stays holds head lines against the handbook's table, which keeps its own.
func (s *shopTable) stays(heads []headLine) {
	var t Table
	for _, h := range heads {
		t = Table{Title: s.base.Title, Keys: s.base.Keys, Note: s.base.Note}
		s.title(&t, []headLine{h})
		if t.Title != s.base.Title || t.Note != s.base.Note || !slices.Equal(t.Keys, s.base.Keys) {
			s.fault(h.at, h.len, "the handbook's table "+spell.Quote(s.base.Name)+" keeps its "+h.word+": leave this line out")
		}
	}
}

// known returns the names that the columns of this file may have.
func (s *shopTable) known() []string {
	if s.base != nil {
		return append(slices.Clone(s.base.Columns), "delete", "since")
	}
	return append(slices.Clone(s.table.Keys), "source", "place", "provenance", "delete", "since")
}

// separate finds what stands between the cells: that which splits the line of
// columns into the most names that are known. The line "sep=" decides a tie.
func (s *shopTable) separate(at int, hint byte) bool {
	faults := s.faults
	s.faults = &Faults{} // a wrong separator finds faults of its own
	var best []byte
	most, parts := 1, 0
	for _, sep := range []byte{',', ';', '\t'} {
		s.sep = sep
		cells, _ := s.record(at)
		n := 0
		for _, c := range cells {
			if slices.Contains(s.known(), c.text) {
				n++
			}
		}
		if n > most {
			most, best = n, nil
		}
		if n == most {
			best = append(best, sep)
		}
		parts = max(parts, len(cells))
	}
	s.faults = faults
	switch {
	case slices.Contains(best, hint):
		s.sep = hint
		return true
	case len(best) == 1, len(best) > 0 && parts == 1: // one column has no separator
		s.sep = best[0]
		return true
	}
	end := s.stop(at, '\n')
	s.fault(at, end-at, "the first line names the columns, with a comma, a semicolon or a tab between them; none of the three splits this one for sure; looked for "+strings.Join(s.known(), ", "))
	return false
}

// names takes the names of the columns.
func (s *shopTable) names(cells []token, at int) bool {
	sound := len(*s.faults)
	s.index = map[string]int{}
	var own Table
	s.columns(&own, cells)
	for i, c := range own.Columns {
		if _, two := s.index[c]; !two {
			s.index[c] = i
		}
		if s.base != nil && c != "" && !slices.Contains(s.known(), c) {
			s.fault(cells[i].at, cells[i].len, "the table "+spell.Quote(s.base.Name)+" has no column "+spell.Quote(c)+meant(c, s.known()))
		}
	}
	if s.base == nil {
		s.table.Columns = slices.DeleteFunc(own.Columns, func(c string) bool { return c == "delete" || c == "since" })
		return s.whole(s.table, cells) && len(*s.faults) == sound
	}
	for _, k := range s.base.Keys {
		if _, has := s.index[k]; !has {
			s.fault(at, 0, "the column "+spell.Quote(k)+" is missing: by it a row is found")
		}
	}
	return len(*s.faults) == sound
}

// bare leaves out the empty cells at the end of a row.
func bare(cells []token) []token {
	for len(cells) > 0 && strings.TrimSpace(cells[len(cells)-1].text) == "" {
		cells = cells[:len(cells)-1]
	}
	return cells
}

// fits holds a row against the most that a table may hold.
func (s *shopTable) fits(cells []token, at int) bool {
	if len(cells) > mostCells {
		s.fault(at, 0, "this row has "+strconv.Itoa(len(cells))+" cells: a row has "+strconv.Itoa(mostCells)+" at most")
		return false
	}
	for _, c := range cells {
		if strings.ContainsFunc(c.text, spoils) {
			s.fault(c.at, c.len, "this cell holds a character that cannot be seen: delete it")
			return false
		}
		if len(c.text) > longestCell {
			s.fault(c.at, 0, "this cell has "+strconv.Itoa(len(c.text))+" bytes: a cell has "+strconv.Itoa(longestCell)+" at most; is a quotation mark left open?")
			return false
		}
	}
	return true
}

// spoils reports a character that drives a terminal, or that makes a line read as
// another one (the controls of direction).
func spoils(r rune) bool {
	switch r {
	case '\n', '\r', '\t':
		return false
	}
	return r < ' ' || r >= 0x7f && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069
}

// take reads the records and looks which decimal signs they use.
func (s *shopTable) take(at int) {
	for at < len(s.file.Text) {
		s.at, s.line = at, s.lineAt(at)
		sound, start := len(*s.faults), at
		var all []token
		all, at = s.record(at)
		cells := bare(all)
		if len(*s.faults) > sound || len(cells) == 0 {
			continue
		}
		if len(s.records) == mostRows {
			s.fault(start, 0, "a table has "+strconv.Itoa(mostRows)+" rows at most")
			return
		}
		if !s.fits(cells, start) {
			continue
		}
		if n := len(s.index); len(cells) > n {
			last := cells[len(cells)-1]
			s.fault(cells[n].at, last.at+last.len-cells[n].at, "this row has "+strconv.Itoa(len(cells))+" cells, the first line names "+strconv.Itoa(n)+" columns")
			continue
		}
		for c, i := range s.index {
			if i < len(cells) && numeric(c) && !readsTwice(strings.TrimSpace(cells[i].text)) {
				s.point = s.point || strings.Contains(cells[i].text, ".")
				s.comma = s.comma || strings.Contains(cells[i].text, ",")
			}
		}
		s.records = append(s.records, record{all[:min(len(all), len(s.index))], start, s.line})
	}
}

// where says where a cell stands. What the file lacks is shown at its likely or
// high value, or at the start of the row.
func (s *shopTable) where(rec record, column string) token {
	try := []string{column}
	if low, ok := strings.CutSuffix(stem(column), "_low"); ok {
		suffix := column[len(stem(column)):]
		try = append(try, low+"_likely"+suffix, low+"_high"+suffix)
	}
	for _, c := range try {
		if i, has := s.index[c]; has && i < len(rec.cells) {
			return rec.cells[i]
		}
	}
	return rec.cells[0]
}

// plain returns a cell's text with plain line ends.
func (s *shopTable) plain(rec record, column string) string {
	i, has := s.index[column]
	if !has || i >= len(rec.cells) {
		return ""
	}
	text := rec.cells[i].text
	if strings.Contains(text, "\r") {
		text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	}
	return strings.TrimSpace(text)
}

// cell returns a cell's text as the canonical text has it: numbers with a point.
func (s *shopTable) cell(rec record, column string) string {
	text := s.plain(rec, column)
	if numeric(column) {
		out, want := s.decimal(text)
		if want != "" {
			k := s.where(rec, column)
			s.fault(k.at, k.len, "the column "+spell.Quote(column)+" wants a number "+want+", this is "+spell.Quote(text))
		}
		return out
	}
	if slices.Contains(s.table.Keys, column) && s.sep != ',' && strings.Count(text, ",") == 1 && strings.Trim(text, "0123456789,") == "" {
		return strings.Replace(text, ",", ".", 1) // a key such as the wire 0,25
	}
	return text
}
