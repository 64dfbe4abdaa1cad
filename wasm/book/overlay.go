//go:build !wasip1

package book

import (
	"slices"
	"strconv"
	"strings"

	"kerfbook/wasm/spell"
)

// Change is one thing that a shop's table does to the handbook's.
type Change struct {
	Table, Key string
	Kind       string // "added", "replaced", "deleted"
	Was, Is    *Row   // nil where there is none
	File       string // "data/gaps.csv" in the shop's folder
	Line       int
}

// Overlay lays a shop's tables over the handbook's and returns the shop's book
// and what changed, by table and line; b is left as it was. A file's name is that
// in the shop's folder, "data/gaps.csv". The error is Faults.
//
// A table of the handbook's name holds some of its columns, the key's always. A
// row with the key of a handbook's row replaces it, and a column that the file
// lacks keeps the handbook's cell; another row is added. The columns delete and
// since are of the shop's tables alone: delete takes a row away, since is the
// digest of the handbook's row that was replaced, and when that row has moved,
// somebody must look. A table of another name is the shop's own.
func (b *Book) Overlay(files []File) (*Book, []Change, error) {
	var faults Faults
	var changes []Change
	out := &Book{tables: slices.Clone(b.tables)}
	read := map[string]bool{}
	for _, f := range files {
		s := &shopTable{reader: reader{file: f, faults: &faults, sep: ',', line: 1, shop: true}}
		name, ok := s.name()
		if !ok || !s.open() {
			continue
		}
		if read[name] {
			s.fault(0, 0, "the table "+spell.Quote(name)+" is read twice")
			continue
		}
		read[name] = true
		if !s.begin(b, name) {
			continue
		}
		s.rows()
		changes = append(changes, s.changes...)
		if s.base == nil {
			out.add(s.table)
		} else {
			out.tables[slices.Index(out.tables, s.base)] = s.table
		}
	}
	if len(faults) > 0 {
		return nil, nil, faults
	}
	slices.SortStableFunc(changes, func(a, b Change) int { return strings.Compare(a.Table, b.Table) })
	return out, changes, nil
}

// rows lays every row of the file over the table.
func (s *shopTable) rows() {
	seen, gone := map[string]int{}, map[int]bool{}
	for _, rec := range s.records {
		s.at, s.line, s.beside = rec.at, rec.line, nil
		s.row(rec, seen, gone)
	}
	s.beside = nil
	kept := s.table.Rows[:0]
	for i, r := range s.table.Rows {
		if !gone[i] {
			kept = append(kept, r)
		}
	}
	s.table.Rows = kept
}

// row lays one row over the table; the rows of the handbook keep their places
// until all is read.
func (s *shopTable) row(rec record, seen map[string]int, gone map[int]bool) {
	sound := len(*s.faults)
	own := map[string]string{}
	for _, k := range s.table.Keys {
		own[k] = s.cell(rec, k)
	}
	i := s.find(own)
	var was *Row
	key := s.newRow(s.table, own).Key
	if i >= 0 {
		r := s.base.Rows[i]
		was, s.beside, key = &r, &Place{r.File, r.Line}, r.Key
	}
	if len(*s.faults) > sound || !s.once(seen, key, key, rec.cells[0].len) || was == nil && !s.once(seen, "like "+s.like(own, numeric), key, rec.cells[0].len) {
		return
	}
	drop, ok := s.deletes(rec)
	if !ok {
		return
	}
	since := strings.ToLower(s.plain(rec, "since"))
	switch {
	case was == nil && drop:
		k := rec.cells[0]
		s.fault(k.at, k.len, "the handbook's table "+spell.Quote(s.table.Name)+" has no row "+spell.Quote(key)+" to delete"+s.near(key))
		return
	case was == nil && since != "":
		k := s.where(rec, "since")
		s.fault(k.at, k.len, "since is "+spell.Quote(since)+", but the handbook's table "+spell.Quote(s.table.Name)+" has no row "+spell.Quote(key)+
			": it is gone or its key is another now, and a row that adds has no since"+s.near(key))
		return
	}
	cells := own
	if !drop {
		cells = s.merge(rec, was, own)
	}
	if len(*s.faults) > sound {
		return
	}
	if since != "" && !s.unmoved(rec, *was, cells, since, drop) {
		return
	}
	if drop {
		gone[i] = true
		s.changes = append(s.changes, Change{s.table.Name, key, "deleted", was, nil, s.file.Name, s.line})
		return
	}
	if was != nil && len(s.apart(*was, cells)) == 0 {
		return
	}
	for _, k := range s.table.Keys {
		if was == nil && cells[k] == "" {
			c := s.where(rec, k)
			s.fault(c.at, c.len, "the column "+spell.Quote(k)+" is a key and is empty")
		}
	}
	if len(*s.faults) > sound {
		return
	}
	row := s.newRow(s.table, cells)
	row.Ours, row.stands = true, &spots{columns: s.table.Columns, start: rec.at}
	for _, column := range s.table.Columns {
		row.stands.cells = append(row.stands.cells, s.where(rec, column))
	}
	s.check(s.table, &row, func(column string) token { return s.where(rec, column) })
	c := Change{s.table.Name, key, "replaced", was, &row, s.file.Name, s.line}
	if was == nil {
		c.Kind = "added"
		s.table.Rows = append(s.table.Rows, row)
	} else {
		s.table.Rows[i] = row
	}
	s.changes = append(s.changes, c)
}

// deletes reads the column delete.
func (s *shopTable) deletes(rec record) (drop, ok bool) {
	switch text := s.plain(rec, "delete"); strings.ToLower(text) {
	case "yes", "x", "1":
		return true, true
	case "", "no", "0":
		return false, true
	default:
		k := s.where(rec, "delete")
		s.fault(k.at, k.len, "delete is yes, x or 1, or it is empty, no or 0, not "+spell.Quote(text))
		return false, false
	}
}

// merge returns the cells of the row as it will be: the handbook's, and over
// them those of the file. What says the same, such as 0.30 for 0.3, stays as the
// handbook writes it.
func (s *shopTable) merge(rec record, was *Row, own map[string]string) map[string]string {
	cells := map[string]string{}
	for _, c := range s.table.Columns {
		cells[c] = ""
		if was != nil {
			cells[c] = was.cells[c]
		}
		if slices.Contains(s.table.Keys, c) {
			if was == nil {
				cells[c] = own[c]
			}
			continue
		}
		if _, has := s.index[c]; !has {
			continue
		}
		if text := s.cell(rec, c); was == nil || !same(c, text, cells[c]) {
			cells[c] = text
		}
	}
	return cells
}

// same reports whether two cells of a column say the same.
func same(column, a, b string) bool {
	if a == b || strings.TrimSpace(b) == a {
		return true
	}
	if !numeric(column) || a == "" || b == "" {
		return false
	}
	x, err := parseNumber(a)
	y, bad := parseNumber(b)
	return err == nil && bad == nil && x == y
}

// apart names the columns in which the handbook's row and the shop's differ.
func (s *shopTable) apart(was Row, cells map[string]string) (out []string) {
	for _, c := range s.table.Columns {
		if was.cells[c] != cells[c] {
			out = append(out, c)
		}
	}
	return out
}

// unmoved holds the handbook's row against what the shop's row was written for.
func (s *shopTable) unmoved(rec record, was Row, cells map[string]string, since string, drop bool) bool {
	is, k := was.Digest(s.table.Columns), s.where(rec, "since")
	if since == is {
		return true
	}
	if len(since) != len(is) || strings.Trim(since, "0123456789abcdef") != "" {
		s.fault(k.at, k.len, "since is ten of the letters 0 to 9 and a to f, not "+spell.Quote(since)+
			": a spreadsheet takes some of them for a number unless the column is set to text; the handbook's row has "+is+" now")
		return false
	}
	var differ []string
	what := "yours deletes it"
	if !drop {
		for _, c := range s.apart(was, cells) {
			differ = append(differ, c+" is "+shown(was.cells[c])+" there and "+shown(cells[c])+" in yours")
		}
		if what = strings.Join(differ, ", "); what == "" {
			what = "it is as yours now, which you may leave out"
		}
	}
	s.fault(k.at, k.len, "the handbook's row has moved since yours was written, from "+since+" to "+is+": "+what+"; look at both, then write since = "+is)
	return false
}

func shown(text string) string {
	if text == "" {
		return "empty"
	}
	return text
}

// find returns the handbook's row with these key cells, or -1. A spreadsheet
// writes 0.3 for 0.30, so numbers are compared as numbers where the text finds
// no row.
func (s *shopTable) find(own map[string]string) int {
	if s.base == nil {
		return -1
	}
	if i, ok := s.exact[s.newRow(s.table, own).Key]; ok {
		return i
	}
	if i, ok := s.alike[s.like(own, anyColumn)]; ok {
		return i
	}
	return -1
}

func anyColumn(string) bool { return true }

// like writes the key with the numbers of some columns in one way.
func (s *shopTable) like(cells map[string]string, of func(column string) bool) string {
	var key []string
	for _, k := range s.table.Keys {
		text := cells[k]
		if v, err := parseNumber(text); err == nil && of(k) {
			text = strconv.FormatFloat(v, 'g', -1, 64)
		}
		key = append(key, text)
	}
	return strings.Join(key, "/")
}

// near names the row that was perhaps meant.
func (s *shopTable) near(key string) string {
	if s.base == nil {
		return ""
	}
	var keys []string
	for _, r := range s.base.Rows {
		keys = append(keys, r.Key)
	}
	return meant(key, keys)
}
